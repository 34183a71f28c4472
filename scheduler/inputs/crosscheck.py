"""All that must agree between cells, rows and tables. Each check yields its faults; none stops another."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from scheduler.errors import Fault
from scheduler.inputs.check_crew import check_duties, check_past_hours
from scheduler.inputs.check_ship import check_gear, check_lines, check_neighbours, check_particulars, check_policy
from scheduler.inputs.check_voyage import check_conditions, check_legs, check_weather, check_week
from scheduler.inputs.check_work import check_after, check_coatings, check_entries, check_one_id, check_operations
from scheduler.inputs.voyage_rows import VoyageRows

_SPANS: Final = (
    ("people", "joins", "leaves"),
    ("duties", "start", "end"),
    ("past_hours", "start", "end"),
    ("voyage", "start", "end"),
    ("permissions", "from", "until"),
    ("conditions", "start", "end"),
    ("operations", "start", "end"),
    ("operations", "earliest", "latest"),
    ("entries", "earliest", "due"),
    ("visitors", "from", "until"),
)


def check_spans(voyage: VoyageRows) -> Iterator[Fault]:
    """Nothing ends before it begins, nor as it begins."""
    if not voyage.clock_holds:
        return
    for table, start, end in _SPANS:
        for row in voyage.readable(table, start, end):
            if row.time(end) <= row.time(start):
                yield row.fault(end, f"{{}} is not after {start} ({row.texts[start]})", f"a time after {start}")


CHECKS: Final[tuple[Callable[[VoyageRows], Iterator[Fault]], ...]] = (
    check_spans,
    check_particulars,
    check_policy,
    check_neighbours,
    check_lines,
    check_gear,
    check_duties,
    check_past_hours,
    check_week,
    check_legs,
    check_conditions,
    check_weather,
    check_operations,
    check_entries,
    check_one_id,
    check_coatings,
    check_after,
)


def crosscheck(voyage: VoyageRows) -> list[Fault]:
    """Every fault that single cells do not show."""
    return [fault for check in CHECKS for fault in check(voyage)]
