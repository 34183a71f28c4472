"""One TOML file as a raw table of keys and values, keys dotted: `sea.heavy.free_m`, `fuel.1.speed_kn`."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from datetime import date, datetime, time
from pathlib import Path
from typing import Final

from scheduler.errors import Fault
from scheduler.inputs.cells import decimal_text
from scheduler.inputs.csv_file import NoTable, text_of
from scheduler.inputs.raw import RawRow, RawTable

KEY_VALUE: Final = ("key", "value")
_SECTION: Final = re.compile(r"\s*(\[\[?)([^\[\]#]+)\]\]?")
_KEY: Final = re.compile(r"\s*([^=#\[\]]+?)\s*=")


def read_toml(path: Path, name: str) -> RawTable:
    """A TOML file as rows of key and value; raises NoTable."""
    text = text_of(path)
    try:
        values = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        found = re.search(r"at line (\d+)", str(error))
        fault = Fault(
            file=path.name, row=int(found[1]) if found else 0, found=f"it is not TOML ({error})",
            expected='lines such as length_m = 183.0 or name = "Larkspur Down"',
        )  # fmt: skip
        raise NoTable(fault) from None
    lines = _lines_of(text)
    rows = tuple(RawRow(_line(key, lines), (key, value)) for key, value in flat(values))
    return RawTable(name=name, place=path.name, header=KEY_VALUE, rows=rows, counted=len(rows), counted_blank=0)


def flat(values: Mapping[str, object], before: str = "") -> Iterator[tuple[str, str]]:
    """Keys with dots and the text of their values; tables in a list are numbered from 1."""
    for key, value in values.items():
        if isinstance(value, dict):
            yield from flat(value, f"{before}{key}.")
        elif isinstance(value, list) and any(isinstance(part, dict) for part in value):
            for number, part in enumerate(value, 1):
                yield from flat(part if isinstance(part, dict) else {"": part}, f"{before}{key}.{number}.")
        else:
            yield f"{before}{key}", value_text(value)


def value_text(value: object) -> str:
    """A TOML value as a cell's text: lists with `;`, pairs of hours with `-`, other pairs with `:`."""
    match value:
        case bool():
            return "yes" if value else "no"
        case float():
            return decimal_text(value) if abs(value) < float("inf") else str(value)
        case datetime() | date() | time():
            return value.isoformat()
        case list():
            return "; ".join(_pair(part) for part in value) or "none"
        case _:
            return str(value)


def _pair(part: object) -> str:
    if not isinstance(part, list):
        return value_text(part)
    sides = [value_text(side) for side in part]
    return ("-" if any(":" in side for side in sides) else ":").join(sides)


def _lines_of(text: str) -> dict[str, int]:
    """Where keys stand: an aid for messages, blind to strings over several lines."""
    lines: dict[str, int] = {}
    seen: dict[str, int] = {}
    section = ""
    for number, line in enumerate(text.split("\n"), 1):
        if begun := _SECTION.match(line):
            name = _plain(begun[2])
            seen[name] = seen.get(name, 0) + 1
            section = f"{name}.{seen[name]}." if begun[1] == "[[" else f"{name}."
        elif found := _KEY.match(line):
            lines.setdefault(section + _plain(found[1]), number)
    return lines


def _plain(key: str) -> str:
    return ".".join(part.strip().strip("\"'") for part in key.split("."))


def _line(key: str, lines: Mapping[str, int]) -> int:
    while key and key not in lines:
        key = key.rpartition(".")[0]
    return lines.get(key, 0)
