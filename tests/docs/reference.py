"""The README's reference of tables, columns and policy keys, made from their declarations.

`python -m tests.docs.reference` writes it into README.md between its marks; a test holds the two together.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from scheduler.domain.policy import KEYS, Key, Value
from scheduler.inputs.columns import MOST, Column, Kind, Table
from scheduler.inputs.reference import TABLES

README: Final = Path(__file__).parents[2] / "README.md"
MARKS: Final = ("tables", "policy")


def block(mark: str) -> str:
    """The text that belongs between the marks of one name."""
    return _tables() if mark == "tables" else _policy()


def found(mark: str, readme: str) -> str:
    """What stands between the marks in a README."""
    return _between(mark).search(readme)[2]  # type: ignore[index] # without its marks the test must fail


def _between(mark: str) -> re.Pattern[str]:
    return re.compile(rf"(<!-- {mark}: begin -->\n)(.*?)(<!-- {mark}: end -->)", re.DOTALL)


def _tables() -> str:
    return "".join(_table(table) for table in TABLES if table.name != "policy")


def _table(table: Table) -> str:
    name = f"{table.folder}/{table.inside}.toml`, `[[{table.name}]]" if table.inside else f"{table.folder}/{table.file}"
    marks = ", optional" if table.optional else ""
    head = "key" if table.key_value or table.inside else "column"
    lines = [f"#### `{name}`{marks}", "", f"{_sentence(table.meaning)}.", ""]
    lines += [f"| {head} | holds | if blank |", "| --- | --- | --- |"]
    lines += [
        f"| `{c.name}` | {_cell(_holds(c))} | {_cell(c.blank) if c.blank is not None else 'may not be blank'} |"
        for c in table.columns
    ]
    return "\n".join(lines) + "\n\n"


def _holds(column: Column) -> str:
    return "; ".join(part for part in (column.meaning, _allowed(column)) if part)


def _allowed(column: Column) -> str:
    match column.kind:
        case Kind.WORD | Kind.WORDS:
            return ("list of " if column.kind is Kind.WORDS else "") + ", ".join(f"`{word}`" for word in column.words)
        case Kind.NUMBER | Kind.WHOLE:
            return _bounds(column)
        case Kind.YES_NO:
            return "`yes` or `no`"
        case Kind.TEXT | Kind.ID:
            return ""
        case Kind.REFERENCE | Kind.REFERENCES | Kind.NAMED:
            many = "list of ids of " if column.kind is Kind.REFERENCES else "id of "
            tables = [f"`{name}`" for name in column.of if " " not in name]  # place names are no table
            return many + " or ".join(tables) if tables else ""
        case Kind.CAS:
            return ""
        case _:
            return str(column.kind)


def _bounds(column: Column) -> str:
    low = f"{_figure(column.least)}" if column.least is not None else ""
    low = f"over {_figure(column.above)}" if column.above is not None else low
    high = f"to {_figure(column.most)}" if column.most < MOST else ""
    bounds = " ".join(part for part in (low, high) if part)
    return f"whole number {bounds}".strip() if column.kind is Kind.WHOLE else bounds


def _figure(value: float) -> str:
    return f"{value:.0f}" if value == round(value) else f"{value:g}"


def _policy() -> str:
    lines = ["| key | meaning | default | allowed | source |", "| --- | --- | --- | --- | --- |"]
    lines += [
        f"| `{k.name}` | {_cell(k.meaning)} | {_value(k.default)} | {_range(k)} | {_cell(str(k.source))} |"
        for k in KEYS
    ]
    return "\n".join(lines) + "\n"


def _value(value: Value) -> str:
    if isinstance(value, tuple):
        return ", ".join(part if isinstance(part, str) else "–".join(part) for part in value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _range(key: Key) -> str:
    if key.allowed:
        return ", ".join(key.allowed)
    if key.least is None or key.most is None:
        return "pairs of hours" if ":" in _value(key.default) else "weekdays or dates"
    looser = {"up": ", more is looser", "down": ", less is looser"}.get(key.looser, "")
    return f"{key.least:g} to {key.most:g}{looser}"


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def write(readme: Path = README, marks: Iterable[str] = MARKS) -> None:
    """Bring the README's reference up to date."""
    text = readme.read_text(encoding="utf-8")
    for mark in marks:
        text = _between(mark).sub(lambda match, mark=mark: match[1] + block(mark) + match[3], text)
    readme.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write()
