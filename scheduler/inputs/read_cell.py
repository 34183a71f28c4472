"""From the kind of a column to the reader of its cells, and from a value back to its one written form."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta
from typing import Final

from scheduler.inputs import cell_figures, cell_times, cell_words
from scheduler.inputs.cells import Known, decimal_text
from scheduler.inputs.columns import Column, Kind

_READERS: Final[Mapping[Kind, Callable[[str, Column, Known], object]]] = {
    Kind.ID: cell_words.read_id,
    Kind.REFERENCE: cell_words.read_reference,
    Kind.REFERENCES: cell_words.read_references,
    Kind.NAMED: cell_words.read_named,
    Kind.POINT: cell_words.read_point,
    Kind.TEXT: cell_words.read_text,
    Kind.WORD: cell_words.read_word,
    Kind.WORDS: cell_words.read_words,
    Kind.NUMBER: cell_figures.read_number,
    Kind.WHOLE: cell_figures.read_whole,
    Kind.TIME: cell_times.read_time,
    Kind.UTC_TIME: cell_times.read_utc_time,
    Kind.DAY: cell_times.read_day,
    Kind.YES_NO: cell_words.read_yes_no,
    Kind.OFFSET: cell_times.read_offset,
    Kind.CAS: cell_figures.read_cas,
    Kind.PEOPLE: cell_words.read_people,
    Kind.SOLVENTS: cell_figures.read_solvents,
    Kind.SETS: cell_words.read_sets,
    Kind.LIES_TO: cell_figures.read_lies_to,
    Kind.HOURS: cell_times.read_hours,
    Kind.BANDS: cell_figures.read_bands,
    Kind.REST_DAYS: cell_times.read_rest_days,
}


def read_cell(text: str, column: Column, known: Known) -> object:
    """The value of a cell that is not blank; raises Unreadable."""
    return _READERS[column.kind](text.strip(), column, known)


def written(value: object) -> str:
    """The one written form of a value, which the digest takes: numbers in decimal, instants in UTC, lists sorted."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float():
            return decimal_text(value)
        case datetime():
            return f"{value:%Y-%m-%dT%H:%MZ}"
        case date():
            return value.isoformat()
        case timedelta():
            minutes = abs(value) // timedelta(minutes=1)
            return f"{'-' if value < timedelta() else '+'}{minutes // 60:02d}:{minutes % 60:02d}"
        case frozenset():
            return "+".join(sorted(value))
        case tuple():
            return "; ".join(_part(part) for part in value) or "none"
        case _:
            return str(value)


def _part(part: object) -> str:
    if not isinstance(part, tuple):
        return written(part)
    mark = "-" if all(isinstance(side, str) and ":" in side for side in part) else ":"
    return mark.join(written(side) for side in part)
