"""What must agree within ship/: particulars, neighbours, piping, gear, policy."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from scheduler.domain.policy import KEY_BY_NAME
from scheduler.errors import Fault
from scheduler.inputs.cells import decimal_text
from scheduler.inputs.rows import Row
from scheduler.inputs.ship_tables import CONTACTS, INSTRUMENTS
from scheduler.inputs.voyage_rows import VoyageRows

_RISING_SPEEDS = ("hove_to_speed_kn", "least_speed_kn", "service_speed_kn", "greatest_speed_kn")
_RISING_LIMITS = (
    ("sea.heavy.free_m", "sea.heavy.eased_m", "sea.heavy.hove_to_m"),
    ("sea.light.free_m", "sea.light.eased_m", "sea.light.hove_to_m"),
    ("vapour.sector_deg", "vapour.sector_wide_deg"),
    ("vapour.calm_m_s", "vapour.calm_aft_m_s"),
    ("vapour.small_m", "vapour.reach_m", "vapour.toxic_m"),
    ("rescue.at_entrance", "rescue.people"),
    ("session.longest_h", "permit.longest_h", "permit.open_longest_h"),
)
"""Limits each of which may not be above the next."""


def check_particulars(voyage: VoyageRows) -> Iterator[Fault]:
    """Speeds rise from hove to, over the least, to service and greatest speed."""
    for ship in voyage.of("ship"):
        for low, high in pairwise(_RISING_SPEEDS):
            if ship.reads(low, high) and ship.must(low, float) > ship.must(high, float):
                yield ship.fault(high, f"{{}} is less than {low}", f"at least {decimal_text(ship.must(low, float))}")


def check_policy(voyage: VoyageRows) -> Iterator[Fault]:
    """Limits that hang together, in the values in force."""
    for policy in voyage.of("policy"):
        if policy.reads("grid_min") and 60 % policy.must("grid_min", int):
            yield policy.fault("grid_min", "{} minutes do not divide an hour", "5, 6, 10, 12, 15, 20 or 30")
        for chain in _RISING_LIMITS:
            for low, high in pairwise(chain):
                yield from _not_above(policy, low, high)


def _not_above(policy: Row, low: str, high: str) -> Iterator[Fault]:
    below, above = _in_force(policy, low), _in_force(policy, high)
    if below is not None and above is not None and below > above:
        given = high if policy.reads(high) else low
        found = f"{low} is {decimal_text(below)} and {high} is {decimal_text(above)}"
        yield policy.fault(given, found, f"{low} not above {high}")


def _in_force(policy: Row, key: str) -> float | None:
    if key in policy.bad:
        return None
    value = policy.values.get(key)
    given = KEY_BY_NAME[key].default if value is None else value
    return float(given) if isinstance(given, int | float) else None


def check_neighbours(voyage: VoyageRows) -> Iterator[Fault]:
    """No space touches itself; what is stated from both sides is stated alike."""
    stated: dict[tuple[str, str], set[str]] = {}
    rows = list(voyage.readable("neighbours", "space", "neighbour", "contact"))
    for row in rows:
        stated.setdefault((row.text("space"), row.text("neighbour")), set()).add(row.text("contact"))
    for row in rows:
        here, there = row.text("space"), row.text("neighbour")
        if here == there:
            yield row.fault("neighbour", "{} is the space itself", "another space")
        elif here > there and (there, here) in stated:
            mirror = _closest(stated[there, here])
            if mirror != _closest(stated[here, there]):
                found = f"{{}} stands here, and {mirror} from {there} to {here}"
                yield row.fault("contact", found, "the same contact both ways")


def _closest(contacts: set[str]) -> str:
    return min(contacts, key=CONTACTS.index)


def check_lines(voyage: VoyageRows) -> Iterator[Fault]:
    """Every device but a plain pipe has an id, and stands between two points."""
    for row in voyage.readable("lines", "device"):
        if row.text("device") != "pipe" and "device_id" not in row.bad and not row.reads("device_id"):
            yield row.fault("device_id", f"a {row.text('device')} has no id", "the id on its tag")
        if row.reads("point", "to_point") and row.text("point") == row.text("to_point"):
            yield row.fault("to_point", "{} is the point itself", "the point at the other side of the device")


def check_gear(voyage: VoyageRows) -> Iterator[Fault]:
    """Instruments and meters stand one a row, each with the last date of its calibration."""
    for row in voyage.readable("gear", "kind"):
        if row.text("kind") not in INSTRUMENTS:
            continue
        if row.reads("count") and row.must("count", int) != 1:
            yield row.fault("count", f"{{}} stand in one row of kind {row.text('kind')}", "one row for each, count 1")
        if "due" not in row.bad and not row.reads("due"):
            yield row.fault("due", f"a {row.text('kind')} has no date", "the last date on which it may be used")
