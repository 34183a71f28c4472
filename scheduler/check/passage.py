"""The ship's speed: every hour said and allowed, the distance made good, and what is eased for whom."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene
from scheduler.check.span import DAY, HOUR, NOTHING, Span, common, hours_of, length_within, less, stamp, union
from scheduler.check.track import TOLERANCE_KN, TOLERANCE_NM, Track
from scheduler.domain.plan import Arrival, PlannedSpeed
from scheduler.domain.voyage import Leg

RULE: Final = "speeds"


def look(scene: Scene, track: Track, ledger: Ledger) -> None:
    """Walk every passage at the speeds that the plan says."""
    for leg in scene.legs:
        if leg.kind == "passage" and common(Span(leg.start, leg.end), scene.week):
            _passage(scene, track, leg, ledger)
    for speed in scene.plan.speeds:
        inside = _leg_of(scene, speed)
        text = f"{speed.speed_kn:g} kn from {stamp(speed.start)} to {stamp(speed.end)} lies in no one passage."
        if ledger.expect(RULE, inside is not None, text, start=speed.start, end=speed.end) and inside is not None:
            _allowed(scene, inside, speed, ledger)
    _easing(scene, track, ledger)


def _leg_of(scene: Scene, speed: PlannedSpeed) -> Leg | None:
    fitting = [leg for leg in scene.legs if leg.kind == "passage" and leg.start <= speed.start and speed.end <= leg.end]
    return fitting[0] if fitting and speed.start < speed.end else None


def _passage(scene: Scene, track: Track, leg: Leg, ledger: Ledger) -> None:
    line, arrivals = track.line(leg), [arrival for arrival in scene.plan.arrivals if arrival.leg == leg.leg]
    text = f"leg {leg.leg} has an end without a position, so where she is cannot be said."
    if not ledger.expect(RULE, line is not None, text, other=leg.leg) or line is None:
        return
    text = f"the plan gives {len(arrivals)} arrivals for leg {leg.leg}; one is needed."
    if not ledger.expect(RULE, len(arrivals) == 1, text, other=leg.leg):
        return
    arrival = arrivals[0]
    under_way = Span(max(leg.start, scene.week.start), min(arrival.expected, scene.week.end))
    _covered(scene, track, leg, under_way, ledger)
    _never_ahead(scene, track, leg, under_way, ledger)
    if arrival.expected <= scene.week.end:
        made = track.made_good(leg, arrival.expected)
        by = stamp(arrival.expected)
        text = f"leg {leg.leg} is {line.length_nm:.1f} nm long; the speeds make {made:.1f} nm good by {by}."
        short = timedelta(hours=max(0.0, line.length_nm - made) / max(track.planned_speed(leg), 0.1))
        holds = made >= line.length_nm - TOLERANCE_NM
        ledger.expect(RULE, holds, text, other=leg.leg, start=under_way.start, end=under_way.end, by=short)
    _in_time(scene, leg, arrival, ledger)


def _in_time(scene: Scene, leg: Leg, arrival: Arrival, ledger: Ledger) -> None:
    limits: list[tuple[datetime, str]] = []
    if leg.arrive_by is not None:
        limits.append((leg.arrive_by + timedelta(hours=leg.late_allowed_h), "the latest allowed"))
    limits += [(other.start, f"the start of leg {other.leg}") for other in scene.legs if other.start >= leg.end][:1]
    for limit, words in limits:
        late = arrival.expected - limit
        text = f"she is expected at the end of leg {leg.leg} at {stamp(arrival.expected)}; {words} is {stamp(limit)}."
        ledger.expect(RULE, late <= NOTHING, text, other=leg.leg, start=limit, end=arrival.expected, by=late)


def _covered(scene: Scene, track: Track, leg: Leg, under_way: Span, ledger: Ledger) -> None:
    speeds = track.speeds_in(Span(under_way.start, min(leg.end, scene.week.end)))
    for hole in less(under_way, [Span(speed.start, speed.end) for speed in speeds]):
        text = f"no speed is said for {hole} on leg {leg.leg}."
        ledger.breach(RULE, text, other=leg.leg, start=hole.start, end=hole.end, by=hole.length)
    for one, then in pairwise(speeds):
        text = f"{one.speed_kn:g} and {then.speed_kn:g} kn are both said for {stamp(then.start)} on leg {leg.leg}."
        ledger.expect(RULE, one.end <= then.start, text, other=leg.leg, start=then.start, end=one.end)
    for hour in hours_of(under_way):
        piece = common(hour, under_way)
        found = {(s.speed_kn, s.heaving_to) for s in speeds if piece and common(piece, Span(s.start, s.end))}
        text = f"the speed changes within the hour from {stamp(hour.start)} on leg {leg.leg}."
        ledger.expect(RULE, len(found) <= 1, text, other=leg.leg, start=hour.start, end=hour.end)


def _never_ahead(scene: Scene, track: Track, leg: Leg, under_way: Span, ledger: Ledger) -> None:
    """Faster than planned only for time that was lost, or for what the planned speed leaves short by the leg's end."""
    planned, line = track.planned_speed(leg), track.line(leg)
    short = line.length_nm - planned * ((leg.end - leg.start) / HOUR) if line is not None else 0.0
    for speed in track.speeds_in(under_way):
        if speed.heaving_to or speed.speed_kn <= planned + TOLERANCE_KN:
            continue
        end = min(speed.end, under_way.end)
        ahead = track.made_good(leg, end) - planned * ((end - leg.start) / HOUR)
        text = (
            f"{speed.speed_kn:g} kn until {stamp(end)} on leg {leg.leg} puts her {ahead:.1f} nm ahead of the planned "
            f"{planned:g} kn; she goes faster only to make good time lost."
        )
        ledger.expect(RULE, ahead <= max(0.0, short) + TOLERANCE_NM, text, other=leg.leg, start=speed.start, end=end)


def _allowed(scene: Scene, leg: Leg, speed: PlannedSpeed, ledger: Ledger) -> None:
    ship, knots = scene.folder.ship, speed.speed_kn
    if speed.heaving_to:
        text = f"{knots:g} kn is said for heaving to from {stamp(speed.start)}; {ship.hove_to_speed_kn:g} kn is hers."
        _say(leg, speed, abs(knots - ship.hove_to_speed_kn) <= TOLERANCE_KN, text, ledger)
        text = f"she heaves to from {stamp(speed.start)} on leg {leg.leg}, where she may not."
        _say(leg, speed, leg.may_heave_to, text, ledger)
        return
    text = f"{knots:g} kn from {stamp(speed.start)} is more than her greatest speed of {ship.greatest_speed_kn:g} kn."
    _say(leg, speed, knots <= ship.greatest_speed_kn + TOLERANCE_KN, text, ledger)
    text = f"{knots:g} kn from {stamp(speed.start)} is under her least speed of {ship.least_speed_kn:g} kn."
    _say(leg, speed, knots >= ship.least_speed_kn - TOLERANCE_KN, text, ledger)
    for low, high in ship.barred_speeds_kn:
        text = f"{knots:g} kn from {stamp(speed.start)} lies in the barred range {low:g} to {high:g} kn."
        _say(leg, speed, not low + TOLERANCE_KN < knots < high - TOLERANCE_KN, text, ledger)


def _say(leg: Leg, speed: PlannedSpeed, holds: bool, text: str, ledger: Ledger) -> None:
    ledger.expect(RULE, holds, text, other=leg.leg, start=speed.start, end=speed.end)


def _easing(scene: Scene, track: Track, ledger: Ledger) -> None:
    """Who has the ship slow down, by how much, and how long in any seven days."""
    eased: list[tuple[Span, PlannedSpeed]] = []
    for speed in scene.plan.speeds:
        leg = _leg_of(scene, speed)
        if leg is not None and (speed.heaving_to or speed.speed_kn < track.planned_speed(leg) - TOLERANCE_KN):
            eased.append((Span(speed.start, speed.end), speed))
    _hours_of_easing(scene, [span for span, _ in eased], ledger)
    asked = _asked(scene, ledger)
    for span, speed in eased:
        fitting = [when for when, knots, hove_to in asked if _same(speed, knots, hove_to) and common(when, span)]
        for piece in less(span, fitting):
            text = f"she goes {speed.speed_kn:g} kn, {piece}, and no entry that may says that it is for it."
            ledger.breach(RULE, text, start=piece.start, end=piece.end, by=piece.length)
        ledger.count(RULE)


def _asked(scene: Scene, ledger: Ledger) -> list[tuple[Span, float, bool]]:
    """The easings of entries that may have one."""
    asked: list[tuple[Span, float, bool]] = []
    for stay in scene.stays:
        for easing in stay.planned.easing:
            span, most = Span(easing.start, easing.end), 1 if easing.heaving_to else 2
            words = "heave to" if easing.heaving_to else "ease"
            text = f"the ship is to {words} for {stay.name}, of priority {stay.entry.priority}, {span}."
            may = ledger.expect(
                RULE, stay.entry.priority <= most, text, entry=stay.name, start=span.start, end=span.end, by=span.length
            )
            speeds = [s for s in scene.plan.speeds if common(span, Span(s.start, s.end))]
            holes = less(span, [Span(s.start, s.end) for s in speeds if _same(s, easing.speed_kn, easing.heaving_to)])
            text = f"{stay.name} is eased to {easing.speed_kn:g} kn, {span}; the speeds of the plan say otherwise."
            ledger.expect(RULE, not holes, text, entry=stay.name, start=span.start, end=span.end)
            if may:
                asked.append((span, easing.speed_kn, easing.heaving_to))
    return asked


def _same(speed: PlannedSpeed, knots: float, hove_to: bool) -> bool:
    return speed.heaving_to == hove_to and abs(speed.speed_kn - knots) <= TOLERANCE_KN


def _hours_of_easing(scene: Scene, spans: list[Span], ledger: Ledger) -> None:
    allowed, eased = scene.length("easing.hours_max"), union(spans)
    ends = sorted({span.end for span in eased} | {span.start + 7 * DAY for span in eased})
    found = ((length_within(Span(end - 7 * DAY, end), eased), end) for end in ends)
    most, until = max(found, default=(NOTHING, scene.week.end))
    over = most - allowed
    text = f"she is eased for {most / HOUR:g} h in the seven days to {stamp(until)}; {allowed / HOUR:g} h is the most."
    ledger.expect(RULE, over <= NOTHING, text, start=until - 7 * DAY, end=until, by=over)
