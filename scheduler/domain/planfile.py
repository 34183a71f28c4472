"""The plan as a file: `plan.json`, written so that the same plan gives the same bytes, and read strictly.

The keys are the names of the records' fields, with these exceptions: `week_start` and `week_end` stand as
`week: {start, end}`; what `ready` speaks of is named `operation` or `leg`; the phases of a keep-clear or a speed
limit stand as one word (`phase`: "open", "out of use", or phase names joined by "; "); a source is its text.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import datetime
from enum import Enum
from functools import cache
from types import UnionType
from typing import Final, TypeAlias, TypeVar, get_args, get_origin, get_type_hints

from scheduler.domain.plan import Plan, PlannedEntry, PlannedPhase, Ready, RestRow, Warned
from scheduler.domain.restrictions import (
    OPEN,
    OUT_OF_USE,
    KeepClear,
    KeepOrder,
    Phase,
    SpeedLimit,
)
from scheduler.domain.source import Source, SourceKind
from scheduler.errors import NotAPlan
from scheduler.times import zulu

FORMAT: Final = "lull plan"
VERSION: Final = 1
OUTCOMES: Final = ("planned", "left out", "broken off")
STANDINGS: Final = ("proven best", "best by one run", "best found")
VERDICTS: Final = ("kept", "broken", "unknown")

Json: TypeAlias = "str | int | float | bool | list[Json] | dict[str, Json] | None"
_Record = TypeVar("_Record")

_DECIMALS: Final = 6  # finer than any figure in a plan; keeps noise in the last bits out of the bytes
_UNLESS_EMPTY: Final[Mapping[type, frozenset[str]]] = {
    PlannedPhase: frozenset({"session", "entrance"}),
    Warned: frozenset({"table", "row", "entry"}),
    KeepOrder: frozenset({"either", "branch"}),
}
_WORDS: Final[Mapping[tuple[type, str], tuple[str, ...]]] = {
    (PlannedEntry, "outcome"): OUTCOMES,
    (PlannedPhase, "phase"): tuple(phase.value for phase in Phase if phase not in (Phase.RUN, Phase.EMPTIED)),
    (RestRow, "verdict"): VERDICTS,
    (Plan, "standing"): STANDINGS,
}
_RENAMED: Final[Mapping[type, Mapping[str, str]]] = {
    KeepClear: {"phase": "phases"},
    SpeedLimit: {"phase": "phases"},
    Ready: {"leg": "what", "operation": "what"},
}
_STRETCHES: Final = {"open": OPEN, "out of use": OUT_OF_USE}
_INSTANT: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z")
_MEND: Final = "Make the plan again with `lull plan`, or put the file back as it was written."


def plan_json(plan: Plan) -> str:
    """The text of `plan.json`; raises ValueError for a naive time or a figure that is no number."""
    return json.dumps(_whole(plan), ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def read_plan(text: str) -> Plan:
    """The plan that a text holds; raises NotAPlan with the first thing that is wrong and where it stands."""
    head = _object(_parsed(text), "the file")
    if head.get("format") != FORMAT:
        raise _fault("format", f"{head.get('format')!r} found", f'"{FORMAT}"')
    version = head.get("version")
    if version != VERSION or isinstance(version, bool | float):
        raise _fault("version", f"{version!r} found", f"{VERSION}, the only version known here")
    body = {key: value for key, value in head.items() if key not in ("format", "version")}
    week = _object(body.pop("week", None), "week")
    _same_keys(week, ("start", "end"), (), "week")
    body |= {"week_start": week["start"], "week_end": week["end"]}
    return _record(Plan, body, "")


# Writing


def _whole(plan: Plan) -> dict[str, Json]:
    """The top-level object, in the order of the file."""
    body = _written(plan)
    assert isinstance(body, dict)  # a record is always written as an object
    operations = {planned.operation for planned in plan.operations}
    whole: dict[str, Json] = {"format": FORMAT, "version": VERSION, "ship": body.pop("ship")}
    whole["week"] = {"start": body.pop("week_start"), "end": body.pop("week_end")}
    whole |= body
    whole["ready"] = [_ready(row, operations) for row in plan.ready]
    return whole


def _ready(row: Ready, operations: set[str]) -> Json:
    what = "operation" if row.what in operations else "leg"
    times: dict[str, Json] = {"all_closed_by": zulu(row.all_closed_by), "lines_back_by": zulu(row.lines_back_by)}
    return {what: row.what, **times, "margin_min": row.margin_min}


def _written(value: object) -> Json:
    match value:
        case Enum():
            return str(value.value)
        case None | bool() | int() | str():
            return value
        case float():
            return _figure(value)
        case datetime():
            return zulu(value)
        case Source():
            return str(value)
        case Mapping():
            return {str(key): _written(inner) for key, inner in value.items()}
        case tuple():
            return [_written(inner) for inner in value]
        case _:
            return _written_record(value)


def _figure(value: float) -> int | float:
    """Shortest form: a whole figure without a decimal point, so that 4 and 4.0 give the same bytes."""
    cut = round(value, _DECIMALS)
    return int(cut) if cut.is_integer() else cut


def _written_record(record: object) -> Json:
    optional = _UNLESS_EMPTY.get(type(record), frozenset())
    found: dict[str, Json] = {}
    for name in _names(type(record)):
        value = getattr(record, name)
        if name == "phases" and isinstance(record, KeepClear | SpeedLimit):
            found["phase"] = _phase_word(value)
        elif value or name not in optional:
            found[name] = _written(value)
    return found


def _phase_word(phases: tuple[Phase, ...]) -> str:
    named = (word for word, stretch in _STRETCHES.items() if stretch == phases)
    return next(named, "; ".join(phase.value for phase in phases))


# Reading


def _parsed(text: str) -> object:
    try:
        text.encode()
        return json.loads(text.removeprefix("\ufeff"), object_pairs_hook=_once, parse_constant=_no_number)
    except UnicodeEncodeError:
        raise _fault("the file", "half a character found", "UTF-8 text") from None
    except RecursionError:
        raise _fault("the file", "brackets nested too deep", "a plan") from None
    except ValueError as why:
        raise _fault("the file", f"no JSON ({why})", "a plan file of Lull") from None


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) != len(pairs):
        twice = sorted({key for key, _ in pairs if sum(key == other for other, _ in pairs) > 1})
        raise _fault(twice[0], "the key stands twice in one object", "each key once")
    return found


def _no_number(word: str) -> object:
    raise _fault("the file", f"{word} found", "a number")


def _record(kind: type[_Record], value: object, where: str) -> _Record:
    found = _renamed(kind, _object(value, where or "the file"), where)
    _same_keys(found, _names(kind), _UNLESS_EMPTY.get(kind, frozenset()), where or "the file")
    values = {name: _field(kind, name, inner, f"{where}.{name}".lstrip(".")) for name, inner in found.items()}
    make: Callable[..., _Record] = kind
    return make(**values)


def _renamed(kind: type, found: dict[str, object], where: str) -> dict[str, object]:
    """The keys of the file as fields of the record; a field's own name, where the file has another, is unknown."""
    names = _RENAMED.get(kind, {})
    shown = {names.get(key, key): value for key, value in found.items() if key not in names.values()}
    if len(shown) != len(found):
        raise _fault(where, f"keys {', '.join(sorted(found))} found", f"one of {', '.join(names)}")
    return shown


def _field(kind: type, name: str, value: object, where: str) -> object:
    if name == "phases" and kind in (KeepClear, SpeedLimit):
        return _phases(value, where.removesuffix("s"))
    allowed = _WORDS.get((kind, name))
    if allowed and value not in allowed:
        raise _fault(where, f"{value!r} found", "one of " + ", ".join(allowed))
    return _value(_hints(kind)[name], value, where)


def _phases(value: object, where: str) -> tuple[Phase, ...]:
    text = _text(value, where)
    if text in _STRETCHES:
        return _STRETCHES[text]
    return tuple(_phase(word, where) for word in text.split("; "))


def _phase(value: object, where: str) -> Phase:
    try:
        return Phase(_text(value, where))
    except ValueError:
        raise _fault(where, f"{value!r} found", "one of " + ", ".join(Phase)) from None


def _value(hint: object, value: object, where: str) -> object:
    """A value of the type that the record declares; raises NotAPlan."""
    inner = get_args(hint)
    if isinstance(hint, UnionType):
        return None if value is None else _value(inner[0], value, where)
    if get_origin(hint) is tuple:
        return tuple(_value(inner[0], row, f"{where}[{number}]") for number, row in enumerate(_list(value, where)))
    if get_origin(hint) is dict:
        return {key: _value(inner[1], row, f"{where}.{key}") for key, row in _object(value, where).items()}
    if isinstance(hint, type) and is_dataclass(hint) and hint is not Source:
        return _record(hint, value, where)
    return _PLAIN[hint](value, where)


def _text(value: object, where: str) -> str:
    if not isinstance(value, str):
        raise _fault(where, f"{value!r} found", "text")
    return value


def _whole_number(value: object, where: str) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise _fault(where, f"{value!r} found", "a whole number")
    return value


def _number(value: object, where: str) -> float:
    if not isinstance(value, int | float) or isinstance(value, bool) or not abs(value) < 1e15:
        raise _fault(where, f"{value!r} found", "a number")
    return float(value)


def _yes_or_no(value: object, where: str) -> bool:
    if not isinstance(value, bool):
        raise _fault(where, f"{value!r} found", "true or false")
    return value


def _instant(value: object, where: str) -> datetime:
    if not isinstance(value, str) or not _INSTANT.fullmatch(value):
        raise _fault(where, f"{value!r} is not a time", "UTC with Z, such as 2027-03-08T06:00:00Z")
    try:
        return datetime.fromisoformat(value)
    except ValueError:
        raise _fault(where, f"{value!r} is no time that exists", "one such as 2027-03-08T06:00:00Z") from None


def _source(value: object, where: str) -> Source:
    text = _text(value, where)
    for kind in SourceKind:
        if text == kind.value:
            return Source(kind=kind, text="")
        if text.endswith(f" ({kind.value})"):
            return Source(kind=kind, text=text.removesuffix(f" ({kind.value})"))
    raise _fault(where, f"{text!r} found", "a source that ends with how far it can be vouched for")


_PLAIN: Final[Mapping[object, Callable[[object, str], object]]] = {
    str: _text, int: _whole_number, float: _number, bool: _yes_or_no, datetime: _instant, Source: _source,
    Phase: _phase,
}  # fmt: skip


def _object(value: object, where: str) -> dict[str, object]:
    if not isinstance(value, dict):
        raise _fault(where, "no object found", "an object with keys")
    return value


def _list(value: object, where: str) -> list[object]:
    if not isinstance(value, list):
        raise _fault(where, "no list found", "a list")
    return value


def _same_keys(found: Mapping[str, object], known: Iterable[str], optional: Iterable[str], where: str) -> None:
    expected = set(known)
    missing = sorted(expected - set(optional) - set(found))
    if missing:
        raise _fault(where, f"key {missing[0]!r} is missing", "every key of the plan file")
    strange = sorted(set(found) - expected)
    if strange:
        raise _fault(where, f"unknown key {strange[0]!r}", "only keys of the plan file")


def _fault(where: str, found: str, expected: str) -> NotAPlan:
    return NotAPlan(f"{where}: {found}; expected {expected}. {_MEND}")


def _names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


@cache
def _hints(kind: Hashable) -> dict[str, object]:
    return get_type_hints(kind)
