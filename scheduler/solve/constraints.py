"""What binds the times of the week: one method for each kind of restriction; `add_all` lists them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise
from typing import cast

from ortools.sat.python import cp_model

from scheduler.solve.model import EntryVars, Expr, JobVars, Literal, PassageVars, Times
from scheduler.solve.problem import Apart, Cap, Order, Passage, Span, Stretch

NM_UNITS = 100  # hundredths of a nautical mile
_VARIABLE = (Stretch.VENTILATE, Stretch.OPEN, Stretch.OUT_OF_USE, Stretch.ENTER, Stretch.SESSION)


class WeekTimes(Times):
    """The times of the week with everything but names."""

    def add_all(self) -> None:
        """The table of contents."""
        for task in self.problem.tasks:
            self.add_entry(task)
        for job in self.problem.jobs:
            self.add_job(job)
        for job in self.problem.jobs:
            if self._empties(job.operation):
                self.add_emptied(job)
        self.add_keep_clear()
        self.add_keep_apart()
        self.add_keep_order()
        self.add_resources()
        self.add_fans()
        self.add_passages()
        self.add_speed_limits()
        self.add_easing_longest()

    def _empties(self, operation: str) -> bool:
        """True when something binds the time in which an operation leaves spaces empty."""
        if any(
            (a.a == operation and a.a_stretch is Stretch.EMPTIED)
            or (a.b == operation and a.b_stretch is Stretch.EMPTIED)
            for a in self.problem.aparts
        ):
            return True
        return any(j.operation == operation and j.blocked.get(Stretch.EMPTIED) for j in self.problem.jobs)

    def add_keep_clear(self) -> None:
        """Phases of no fixed length keep clear here; the others had their starts cut."""
        for name, entry in sorted(self.entries.items()):
            for stretch, spans in sorted(entry.task.blocked.items()):
                fixed_length = stretch is Stretch.ENTER and entry.task.most == 1
                if spans and not fixed_length and (stretch in _VARIABLE or stretch is Stretch.RESTORE):
                    self._clear_of(self._intervals_of(name, stretch), spans)

    def _intervals_of(self, name: str, stretch: Stretch) -> list[cp_model.IntervalVar]:
        found: EntryVars | JobVars | None = self.entries.get(name) or self.jobs.get(name)
        return found.intervals.get(stretch, []) if found else []

    def add_keep_apart(self) -> None:
        """Entries and a movable operation: one cumulative an operation; entry and entry: pair by pair."""
        grouped: dict[tuple[str, Stretch, Span | None, int, int], list[Apart]] = defaultdict(list)
        for apart in self.problem.aparts:
            grouped[apart.b, apart.b_stretch, apart.span, apart.before, apart.after].append(apart)
        for key, group in sorted(grouped.items(), key=lambda item: (item[0][:2], item[0][2] or (-1, -1), item[0][3:])):
            others = [self._extended(i, key[2], key[3], key[4]) for i in self._intervals_of(key[0], key[1])]
            mine = [
                i for a in sorted(group, key=lambda a: (a.a, a.a_stretch)) for i in self._intervals_of(a.a, a.a_stretch)
            ]
            self._apart(mine, others)

    def _apart(self, mine: list[cp_model.IntervalVar], others: list[cp_model.IntervalVar]) -> None:
        for other in others:
            if len(mine) == 1:
                self.model.add_no_overlap([mine[0], other])
            elif mine:
                self.model.add_cumulative([*mine, other], [1] * len(mine) + [len(mine)], len(mine))

    def _extended(
        self, interval: cp_model.IntervalVar, span: Span | None, before: int, after: int
    ) -> cp_model.IntervalVar:
        """The part of an interval inside a span, with the gaps kept around it."""
        m, steps = self.model, self.problem.steps
        start, end = cast(Expr, interval.start_expr()), cast(Expr, interval.end_expr())
        here = interval.presence_literals()
        if span is None:
            return self.interval(start - before, end + after, here[0] if here else True, "with gaps")
        first = m.new_int_var(span[0], max(span[1], steps), "part from")
        last = m.new_int_var(-steps, span[1], "part to")
        m.add_max_equality(first, [start, m.new_constant(span[0])])
        m.add_min_equality(last, [end, m.new_constant(span[1])])
        inside = m.new_bool_var("has a part")
        m.add(last > first).only_enforce_if(inside)
        m.add(last <= first).only_enforce_if(inside.negated())
        counts: Literal = inside
        if here:
            counts = m.new_bool_var("counts")
            m.add_bool_and([inside, here[0]]).only_enforce_if(counts)
            m.add_bool_or([inside.negated(), here[0].negated(), counts])
        return self.interval(first - before, last + after, counts, "part with gaps")

    def add_keep_order(self) -> None:
        """First over, then begun; of alternatives one branch at least."""
        m = self.model
        branches: dict[str, dict[int, Literal]] = defaultdict(dict)
        for order in self.problem.orders:
            conditions = self._presences(order)
            if order.either:
                branch = branches[order.either].setdefault(
                    order.branch, m.new_bool_var(f"{order.either} {order.branch}")
                )
                conditions.append(branch)
            if order.presence and order.first in self.entries and order.then in self.entries:
                m.add_implication(self.entries[order.then].present, self.entries[order.first].present)
            m.add(self._over(order.first) + order.gap <= self._begins(order.then)).only_enforce_if(*conditions)
        for either, choices in sorted(branches.items()):
            present = [c for o in self.problem.orders if o.either == either for c in self._presences(o)]
            m.add_bool_or([*choices.values(), *(p.negated() for p in dict.fromkeys(present))])

    def _presences(self, order: Order) -> list[Literal]:
        return [self.entries[name].present for name in (order.first, order.then) if name in self.entries]

    def _over(self, name: str) -> Expr:
        return self.entries[name].end if name in self.entries else self.jobs[name].end

    def _begins(self, name: str) -> Expr:
        return self.entries[name].start if name in self.entries else self.jobs[name].start

    def add_resources(self) -> None:
        """Counted resources: spaces manned and open at once, instruments, lifting gear."""
        held: dict[str, list[tuple[cp_model.IntervalVar, int]]] = defaultdict(list)
        for name, entry in sorted(self.entries.items()):
            for stretch, resource, count in entry.task.gear:
                held[resource] += [(interval, count) for interval in self._intervals_of(name, stretch)]
        for resource, uses in sorted(held.items()):
            self._within_stock(resource, uses)

    def _within_stock(self, resource: str, uses: Sequence[tuple[cp_model.IntervalVar, int]]) -> None:
        rows = self.problem.stocks.get(resource, ())
        profile = stock_profile(rows, self.problem.steps)
        most = max((count for _, count in profile), default=0)
        intervals, demands = [u[0] for u in uses], [u[1] for u in uses]
        for (a, b), count in profile:
            if count < most:
                intervals.append(self.model.new_fixed_size_interval_var(a, b - a, f"less {resource}"))
                demands.append(most - count)
        self.model.add_cumulative(intervals, demands, most)

    def add_fans(self) -> None:
        """Fans and ducting are held from opening to the last coming out (after coating, to the tail test's end)."""
        held: dict[str, list[tuple[cp_model.IntervalVar, int]]] = defaultdict(list)
        for name, entry in sorted(self.entries.items()):
            for way, chosen in zip(entry.task.ways, entry.ways, strict=True):
                interval = self.interval(entry.opened, entry.closing, chosen, f"{name} fans")
                for gear, count in way.fans:
                    held[gear].append((interval, count))
        for gear, uses in sorted(held.items()):
            self._within_stock(gear, uses)

    def add_passages(self) -> None:
        """Distance lost by easing is made good afterwards at up to the greatest speed; what is left is lateness."""
        for passage in self.problem.passages:
            vars_ = PassageVars(passage=passage)
            self.passages.append(vars_)
            limits = sorted({c.limit_kn for t in self.problem.tasks for c in t.caps if not c.hove_to_only})
            wanted = {c.hour for t in self.problem.tasks for c in t.caps}
            for hour in passage.hours:
                if hour.hour in wanted:
                    self._easable(vars_, hour.hour, limits)
            self._lateness(vars_)

    def _easable(self, vars_: PassageVars, hour: int, limits: Sequence[float]) -> None:
        m, passage = self.model, vars_.passage
        hove = m.new_bool_var(f"hove to in hour {hour}")
        if not passage.may_heave_to:
            m.add(hove == 0)
        vars_.hove_to[hour] = hove
        slower: Literal = hove
        levels: dict[float, Literal] = {}
        for limit in limits:  # ascending: at or below a lower limit is at or below each higher one
            eased = m.new_bool_var(f"at or below {limit} kn in hour {hour}")
            m.add_implication(slower, eased)
            if passage.eased_kn(limit) is None:
                m.add_implication(eased, slower)
            levels[limit] = slower = eased
        vars_.eased[hour] = levels
        vars_.any_eased[hour] = slower

    def _lateness(self, vars_: PassageVars) -> None:
        m, passage = self.model, vars_.passage
        far = round(passage.distance_nm * NM_UNITS) + 1
        behind: Expr = m.new_constant(-int(-passage.behind_nm * NM_UNITS // 1))
        for hour in passage.hours:
            length = (hour.span_min[1] - hour.span_min[0]) / 60.0
            gain = int((passage.greatest_kn - passage.planned_kn) * length * NM_UNITS)
            lost = self._lost(vars_, hour.hour, length)
            following = m.new_int_var(0, far, f"behind after hour {hour.hour}")
            if lost is None:
                m.add(following >= behind - gain)
            else:
                eased = vars_.any_eased[hour.hour]
                m.add(following >= behind + lost).only_enforce_if(eased)
                m.add(following >= behind - gain).only_enforce_if(eased.negated())
            behind = following
        self._arrive(vars_, behind)

    def _lost(self, vars_: PassageVars, hour: int, length: float) -> Expr | None:
        """Distance lost in an hour (hundredths of a mile, rounded up): step by step down the limits."""
        if hour not in vars_.any_eased:
            return None
        passage = vars_.passage
        lost: list[Expr] = []
        before = passage.planned_kn
        steps = [(limit, literal) for limit, literal in sorted(vars_.eased[hour].items(), reverse=True)]
        for speed, literal in [*((passage.eased_kn(limit), lit) for limit, lit in steps), (0.0, vars_.hove_to[hour])]:
            if speed is None:
                continue
            lost.append(literal * -int(-(before - speed) * length * NM_UNITS // 1))
            before = speed
        total = self.model.new_int_var(0, -int(-passage.planned_kn * length * NM_UNITS // 1) + 10, "lost")
        self.model.add(total == sum(lost))
        return total

    def _arrive(self, vars_: PassageVars, behind: Expr) -> None:
        m, passage = self.model, vars_.passage
        bears = max(0, passage.latest_min - passage.planned_min)
        late = m.new_int_var(0, max(0, passage.latest_min - passage.arrive_by_min), f"{passage.leg} minutes late")
        more = m.new_int_var(0, bears, f"{passage.leg} minutes after the planned arrival")
        m.add(more * round(passage.greatest_kn * NM_UNITS) >= behind * 60)
        m.add(late >= more + passage.planned_min - passage.arrive_by_min)
        vars_.late_min = late

    def add_speed_limits(self) -> None:
        """A phase may touch an hour of a limit only when the ship keeps that limit in it."""
        for name, entry in sorted(self.entries.items()):
            wanted: dict[tuple[Stretch, int, bool, float], Cap] = {
                (c.stretch, c.hour, c.hove_to_only, c.limit_kn): c for c in entry.task.caps
            }
            walls: dict[Stretch, list[cp_model.IntervalVar]] = defaultdict(list)
            for cap in (wanted[key] for key in sorted(wanted)):
                a, b = self.problem.hour_spans[cap.hour]
                allowed = self._kept(cap)
                if allowed is None:
                    walls[cap.stretch].append(self.model.new_fixed_size_interval_var(a, b - a, "no such speed"))
                elif allowed:
                    fast = [literal.negated() for literal in allowed]
                    for literal in fast:
                        walls[cap.stretch].append(
                            self.model.new_optional_fixed_size_interval_var(a, b - a, literal, "too fast")
                        )
            for stretch, wall in sorted(walls.items()):
                for interval in self._intervals_of(name, stretch):
                    for one in wall:
                        self.model.add_no_overlap([interval, one])

    def _kept(self, cap: Cap) -> list[Literal] | None:
        """The literals that keep a limit in an hour; [] when no passage makes way in it; None when none can."""
        found: list[Literal] = []
        for vars_ in self.passages:
            if cap.hour in vars_.any_eased:
                found.append(vars_.hove_to[cap.hour] if cap.hove_to_only else vars_.eased[cap.hour][cap.limit_kn])
            elif self._between_arrivals(vars_.passage, cap.hour):
                return None
        return found

    def _between_arrivals(self, passage: Passage, hour: int) -> bool:
        """True in an hour after the planned arrival in which a late ship may still be making way."""
        a, b = (step * self.problem.step_min for step in self.problem.hour_spans[hour])
        return a < passage.latest_min and b > passage.planned_min and passage.latest_min > passage.planned_min

    def add_easing_longest(self) -> None:
        """Hours of easing in any seven days."""
        eased = {hour: literal for v in self.passages for hour, literal in sorted(v.any_eased.items())}
        for first in sorted(eased):
            window = [literal for hour, literal in sorted(eased.items()) if first <= hour < first + 7 * 24]
            if len(window) > self.problem.easing_max:
                self.model.add(sum(window) <= self.problem.easing_max)


def stock_profile(rows: Sequence[tuple[Span, int]], steps: int) -> list[tuple[Span, int]]:
    """Pieces there by span over the whole week; rows of one resource add up (each its own stretch of time)."""
    cuts = sorted({0, steps, *(min(max(edge, 0), steps) for (a, b), _ in rows for edge in (a, b))})
    return [((a, b), sum(count for (start, end), count in rows if start <= a and b <= end)) for a, b in pairwise(cuts)]
