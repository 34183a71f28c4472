"""What is not in the tables is never to anybody's advantage: a row less, a cell less, an end less frees no minute.

Some rows can be missed by nobody: a second neighbour, a second outlet of one tank. What `lull read` counts is there
for the officer to compare with the drawings; here stands what the tables themselves can show.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.ship import OutletTank
from tests.builders import (
    END,
    START,
    a_berth,
    a_cargo,
    a_condition,
    a_folder,
    a_forecast,
    a_leg,
    an_entry,
    an_operation,
    at,
    content,
    touching,
)
from tests.rules.freedom import Bound, freer

AT_BERTH = at(6, "00:00")
OPERATIONS = (
    an_operation("GF", "gas-free", spaces=("C3",), cargo="OIL", start=at(2, "10:00"), end=at(2, "16:00")),
    an_operation("BO", "ballast out", spaces=("3P", "3S"), start=at(3, "06:00"), end=at(3, "09:00")),
    an_operation("BI", "ballast in", spaces=("3P", "3S"), earliest=at(5, "06:00"), latest=at(5, "20:00"), hours=3.0),
    an_operation("LD", "load", spaces=("C3",), cargo="OIL", start=at(6, "12:00"), end=at(7, "06:00")),
    an_operation("DR", "drill", start=at(4, "10:00"), end=at(4, "11:00")),
)


def a_voyage(**over: Any) -> VoyageFolder:
    """At sea until Saturday, then at a berth; a cargo tank made gas-free and loaded, two ballast tanks emptied."""
    folder = a_folder(
        neighbours=touching("3P C3", "3S C3", "AV APK"),
        legs=(a_leg(end=AT_BERTH), a_berth(start=AT_BERTH, place="nowhere listed")),
        contents=(
            content("3P", "ballast"), content("3S", "ballast"), content("C3", "empty with vapour", "OIL"),
            content("AV"), content("APK"),
        ),
        cargoes=(a_cargo(),),
        conditions=(a_condition("3P", "3S"),),
        operations=OPERATIONS,
        entries=(
            an_entry("E1", "3P"), an_entry("E2", "AV"), an_entry("E3", "APK", effort="heavy"), an_entry("E4", "C3"),
        ),
        weather=a_forecast(every_h=6, wave_height_m=1.2, swell_height_m=1.6),
    )  # fmt: skip
    return replace(folder, **over)


BEFORE = Bound(a_voyage())
TABLES = ("neighbours", "outlet_tanks", "lines", "contents", "conditions", "cargoes", "legs", "weather")


def rows() -> list[tuple[str, int]]:
    """Every row of the tables, of the weather each seventh."""
    counts = {table: len(getattr(a_voyage(), table)) for table in TABLES}
    return [(t, row) for t, count in counts.items() for row in range(0, count, 7 if t == "weather" else 1)]


def freed(**over: Any) -> list[str]:
    return freer(BEFORE, Bound(a_voyage(**over)))


def test_most_of_the_week_is_bound_and_some_of_it_is_free() -> None:
    # or the tests below would compare nothing with nothing
    assert not BEFORE.refused - {"E4"}
    assert all(task.blocked for task in BEFORE.tasks.values())
    assert len(rows()) > 25


@pytest.mark.parametrize(("table", "row"), rows())
def test_a_row_that_is_missing_frees_nothing(table: str, row: int) -> None:
    there = getattr(a_voyage(), table)
    assert freed(**{table: (*there[:row], *there[row + 1 :])}) == []


@pytest.mark.parametrize("table", [*TABLES, "outlets", "openings"])
def test_a_table_that_is_missing_frees_nothing(table: str) -> None:
    assert freed(**{table: ()}) == []


@pytest.mark.parametrize(("table", "cell"), [
    ("outlets", "x_m"), ("outlets", "y_m"), ("openings", "x_m"), ("openings", "y_m"), ("spaces", "volume_m3"),
    ("spaces", "framing"), ("cargoes", "toxic"), ("weather", "wind_kn"), ("weather", "wind_from_deg"),
    ("weather", "wave_height_m"), ("weather", "swell_height_m"), ("legs", "heading_deg"), ("legs", "to_lat"),
    ("conditions", "sea_limit_m"), ("operations", "vapour"), ("operations", "lines"),
])  # fmt: skip
def test_a_cell_that_is_blank_frees_nothing(table: str, cell: str) -> None:
    column = next(f for f in fields(getattr(a_voyage(), table)[0]) if f.name == cell)
    blank = None if "None" in str(column.type) else ""
    assert freed(**{table: tuple(replace(row, **{cell: blank}) for row in getattr(a_voyage(), table))}) == []


def test_one_manhole_less_of_a_tank_that_wants_two_frees_nothing() -> None:
    openings = a_voyage().openings
    for gone in (o for o in openings if o.space == "3P"):
        assert freed(openings=tuple(o for o in openings if o is not gone)) == []


def test_a_second_outlet_of_a_tank_frees_nothing() -> None:
    # more outlets are more places that vapour comes out of
    outlets = a_voyage().outlets
    more = (*outlets, replace(outlets[0], outlet="O2", x_m=62.0))
    tanks = (*a_voyage().outlet_tanks, OutletTank(outlet="O2", space="C3"))
    assert freed(outlets=more, outlet_tanks=tanks) == []


# -- without an end ---------------------------------------------------------------------------------------------

KINDS = [
    "load", "discharge", "transfer", "slops", "tank wash", "gas-free", "purge", "inert", "nitrogen", "top up",
    "line blow", "gauging", "vent down", "ballast in", "ballast out", "ballast exchange", "bunkering", "stations",
    "pilotage", "canal", "restricted waters", "drill", "entry drill", "power test", "helicopter", "stores", "visit",
    "other",
]  # fmt: skip
WITH_SPACES = KINDS[: KINDS.index("stations")]


def with_one(operation: Operation) -> Bound:
    return Bound(a_voyage(operations=(*(o for o in OPERATIONS if o.operation in ("LD", "DR")), operation)))


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=2, deadline=None, derandomize=True)
@given(start=st.integers(0, 5 * 1440), length=st.integers(1, 3000), space=st.sampled_from(["C3", "3P", "AV"]))
def test_an_operation_without_its_end_frees_no_minute(kind: str, start: int, length: int, space: str) -> None:
    begin = START + start * (at(1, "00:01") - START)
    end = min(END, begin + length * (at(1, "00:01") - START))
    ended = an_operation(
        "X", kind, start=begin, end=end, spaces=(space,) if kind in WITH_SPACES else (), bars="entries"
    )
    assert freer(with_one(ended), with_one(replace(ended, end=None))) == []
