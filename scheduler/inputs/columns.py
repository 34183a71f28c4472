"""How a table is declared: its columns, what each may hold, and what a blank means.

The declarations in ship_tables, crew_tables and week_tables are the single source: the reader, the empty tables of
`begin` and the README's reference all come from them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

MOST: Final = 1e9  # no figure of a ship's week is larger; a longer number is a slip of the hand


class Kind(StrEnum):
    """What a cell holds, as an officer would say it."""

    ID = "id"
    REFERENCE = "id of another table"
    REFERENCES = "list of ids of another table"
    NAMED = "name that may stand in another table"
    POINT = "space or named point"
    TEXT = "text"
    WORD = "one word of a list"
    WORDS = "list of words"
    NUMBER = "number"
    WHOLE = "whole number"
    TIME = "time"
    UTC_TIME = "time in UTC"
    DAY = "date"
    YES_NO = "yes or no"
    OFFSET = "offset from UTC"
    CAS = "CAS number"
    PEOPLE = "list of ability:count"
    SOLVENTS = "list of CAS:percent"
    SETS = "sets of ids"
    LIES_TO = "wind, tide, unknown or degrees"
    HOURS = "list of pairs hh:mm-hh:mm"
    BANDS = "list of pairs of numbers"
    REST_DAYS = "list of weekdays or dates"


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One column, or one key of a key-value table.

    `blank` None: may not be blank; else what a blank means. `of` names the tables whose ids it may hold.
    `least` and `most` bound a number, `above` excludes its own value.
    """

    name: str
    kind: Kind
    meaning: str
    blank: str | None = None
    words: tuple[str, ...] = ()
    of: tuple[str, ...] = ()
    least: float | None = None
    above: float | None = None
    most: float = MOST

    @property
    def may_be_blank(self) -> bool:
        """True where a blank has a meaning."""
        return self.blank is not None


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """One table. `key` are the columns that tell its rows apart; `key_value` tables are the TOML files.

    `digest` says which digest covers it: folder, forecast or seen.
    """

    name: str
    folder: str
    meaning: str
    columns: tuple[Column, ...]
    key: tuple[str, ...] = ()
    optional: bool = False
    key_value: bool = False
    digest: str = "folder"
    inside: str = ""
    """The key-value table in which its rows stand as `NAME.N.key`; '' for a table of its own."""

    @property
    def file(self) -> str:
        """The name of its file in the folder."""
        return f"{self.name}.toml" if self.key_value else f"{self.name}.csv"

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its columns, in the order in which they are written."""
        return tuple(column.name for column in self.columns)

    def column(self, name: str) -> Column:
        """A column by name; raises KeyError."""
        for column in self.columns:
            if column.name == name:
                return column
        raise KeyError(name)


def ident(name: str, meaning: str, blank: str | None = None) -> Column:
    """The id of the table's rows."""
    return Column(name=name, kind=Kind.ID, meaning=meaning, blank=blank)


def reference(name: str, of: str, meaning: str, *others: str) -> Column:
    """One id of another table, or of several others."""
    return Column(name=name, kind=Kind.REFERENCE, meaning=meaning, of=(of, *others))


def references(name: str, of: tuple[str, ...], meaning: str, blank: str | None = None) -> Column:
    """A list of ids of other tables."""
    return Column(name=name, kind=Kind.REFERENCES, meaning=meaning, of=of, blank=blank)


def named(name: str, of: str, meaning: str, blank: str | None = None) -> Column:
    """A name that another table may describe; without a row there the worst holds."""
    return Column(name=name, kind=Kind.NAMED, meaning=meaning, of=(of,), blank=blank)


def text(name: str, meaning: str, blank: str | None = None) -> Column:
    """Free text of one line."""
    return Column(name=name, kind=Kind.TEXT, meaning=meaning, blank=blank)


def word(name: str, words: tuple[str, ...], meaning: str, blank: str | None = None) -> Column:
    """One word of a closed list."""
    return Column(name=name, kind=Kind.WORD, meaning=meaning, words=words, blank=blank)


def words(name: str, of: tuple[str, ...], meaning: str, blank: str | None = None) -> Column:
    """Several words of a closed list."""
    return Column(name=name, kind=Kind.WORDS, meaning=meaning, words=of, blank=blank)


def yes_no(name: str, meaning: str, blank: str | None = None) -> Column:
    """Yes or no."""
    return Column(name=name, kind=Kind.YES_NO, meaning=meaning, blank=blank)


def time(name: str, meaning: str, blank: str | None = None) -> Column:
    """An instant, in ship's time or with an offset."""
    return Column(name=name, kind=Kind.TIME, meaning=meaning, blank=blank)


def day(name: str, meaning: str, blank: str | None = None) -> Column:
    """A ship's date."""
    return Column(name=name, kind=Kind.DAY, meaning=meaning, blank=blank)


def number(
    name: str,
    meaning: str,
    blank: str | None = None,
    *,
    least: float | None = None,
    above: float | None = None,
    most: float = MOST,
) -> Column:
    """A decimal number between bounds."""
    return Column(
        name=name, kind=Kind.NUMBER, meaning=meaning, blank=blank, least=least, above=above, most=most
    )  # fmt: skip


def whole(name: str, meaning: str, blank: str | None = None, *, least: float = 0, most: float = MOST) -> Column:
    """A whole number between bounds."""
    return Column(name=name, kind=Kind.WHOLE, meaning=meaning, blank=blank, least=least, most=most)


def special(
    name: str,
    kind: Kind,
    meaning: str,
    blank: str | None = None,
    *,
    of: tuple[str, ...] = (),
    allowed: tuple[str, ...] = (),
) -> Column:
    """A cell of a kind of its own: pairs, sets, offsets, points."""
    return Column(name=name, kind=kind, meaning=meaning, blank=blank, of=of, words=allowed)
