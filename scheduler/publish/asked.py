"""What is forced at once, and what the plan asks of the ship: easing, permissions, operations that it placed."""

from __future__ import annotations

from datetime import datetime, timedelta

from scheduler.domain.plan import Arrival, AskFor, Band, Easing, Plan
from scheduler.publish.page import heading, paragraph
from scheduler.publish.speech import Speech, full_stop, length, sentence
from scheduler.times import joined


def stop_lines(plan: Plan, say: Speech) -> list[str]:
    """What must stop at once; nothing where there is none."""
    if not plan.stop_now:
        return []
    lines = heading("Stop now")
    for stop in plan.stop_now:
        tags = f" Tags off: {', '.join(stop.tags_off)}." if stop.tags_off else ""
        tell = f" Tell: {', '.join(stop.tell)}." if stop.tell else ""
        lines += paragraph(
            f"{say.entry(stop.entry)}: people out by {say.moment(stop.people_out_by)}, closed by "
            f"{say.moment(stop.closed_by)}. {stop.because}{tags}{tell}",
            hang=2,
        )
    return lines


def asked_lines(plan: Plan, say: Speech) -> list[str]:
    """Easing with its cost, permissions, and operations whose time the plan chose."""
    lines = heading("Asked of the ship")
    lines += _easing(plan, say)
    for arrival in plan.arrivals:
        lines += paragraph(_arrival(arrival, say), indent=2, hang=2)
    for course in plan.courses:
        text = f"Instead of slowing, a heading from {course.from_deg:03.0f} to {course.to_deg:03.0f} degrees would do"
        lines += paragraph(f"{text}, {say.span(course.start, course.end)}: {course.because}", indent=2, hang=2)
    lines += _permissions(plan, say)
    return lines + _placed(plan, say)


def _easing(plan: Plan, say: Speech) -> list[str]:
    wanted = sorted(((e, entry.entry) for entry in plan.entries for e in entry.easing), key=_by_time)
    if not wanted:
        return ["No easing and no heaving to."]
    total = sum((end - start for start, end in joined((e.start, e.end) for e, _ in wanted)), timedelta())
    lines = [f"Easing, {length(total)} in all:"]
    for easing, entry in wanted:
        lines += paragraph(
            f"{say.span(easing.start, easing.end)}, {length(easing.end - easing.start)}: {_speed(easing)}, for "
            f"{say.entry(entry)}. {full_stop(easing.because)}",
            indent=2,
            hang=2,
        )
    return lines


def _by_time(pair: tuple[Easing, str]) -> tuple[datetime, datetime, str]:
    return pair[0].start, pair[0].end, pair[1]


def _speed(easing: Easing) -> str:
    return "heave to" if easing.heaving_to else f"{easing.speed_kn:g} kn or less"


def _arrival(arrival: Arrival, say: Speech) -> str:
    late = arrival.expected - arrival.planned
    word = (
        "as planned" if not late else f"{length(abs(late))} {'later' if late > timedelta() else 'earlier'} than planned"
    )
    text = f"Arrival {arrival.place} ({arrival.leg}): {say.moment(arrival.expected)}, {word}"
    if arrival.arrive_by:
        margin = arrival.arrive_by - arrival.expected
        state = f"{length(margin)} in hand" if margin >= timedelta() else f"{length(-margin)} late"
        text += f"; to be there by {say.moment(arrival.arrive_by)}, {state}"
    return f"{text}. {_fuel(arrival.fuel_t, arrival.fuel_t_without_easing)}"


def _fuel(eased: Band | None, plain: Band | None) -> str:
    if eased is None:
        return "Fuel: not given."
    text = f"Fuel {_band(eased)}"
    if plain is None or _band(plain) == _band(eased):
        return f"{text}."
    return f"{text}; without easing {_band(plain)}."


def _band(band: Band) -> str:
    low, high = f"{band.low:.1f}", f"{band.high:.1f}"
    return f"{low} t" if low == high else f"{low} to {high} t"


def _permissions(plan: Plan, say: Speech) -> list[str]:
    if not plan.permissions:
        return ["No permission to ask for."]
    lines = ["Permissions:"]
    for ask in sorted(plan.permissions, key=lambda row: (row.ask_by, row.place, row.what)):
        lines += paragraph(_ask(ask, say), indent=2, hang=2)
    return lines


def _ask(ask: AskFor, say: Speech) -> str:
    what = ask.what.replace("_", " ")
    if ask.answer in ("yes", "no"):
        return f"{ask.place}: {what}, answered {ask.answer}."
    return (
        f"Ask {ask.place} for {what} by {say.moment(ask.ask_by)}; until it is answered this is subject to permission."
    )


def _placed(plan: Plan, say: Speech) -> list[str]:
    chosen = sorted((row for row in plan.operations if row.moved), key=lambda row: (row.start, row.operation))
    if not chosen:
        return ["No operation is moved."]
    lines = ["Operations whose time the plan chose:"]
    for row in chosen:
        people = f" {sentence(say.by_duty(row.people))}." if row.people else ""
        lines += paragraph(f"{say.span(row.start, row.end)}: {say.operation(row.operation)}.{people}", indent=2, hang=2)
    return lines
