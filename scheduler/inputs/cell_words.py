"""Cells that hold words: text, vocabularies, ids, and lists of them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

from scheduler.inputs.cells import Known, bad, pair_of, parts_of
from scheduler.inputs.columns import Column
from scheduler.inputs.names import foreign_letters, nearest, normal, quoted, spelled
from scheduler.inputs.ship_tables import POINTS


def read_text(text: str, _: Column, __: Known) -> str:
    """Free text, NFC."""
    return unicodedata.normalize("NFC", text)


def read_word(text: str, column: Column, _: Known) -> str:
    """One word of the column's list, as the list spells it."""
    for word in column.words:
        if normal(word) == normal(text):
            return word
    raise bad(text, column, "is not known here", nearest(text, column.words))


def read_words(text: str, column: Column, known: Known) -> tuple[str, ...]:
    """Several words of the column's list, sorted."""
    return tuple(sorted(read_word(part, column, known) for part in parts_of(text, column)))


def read_yes_no(text: str, column: Column, _: Known) -> bool:
    """Yes or no."""
    if normal(text) not in ("yes", "no"):
        raise bad(text, column, "is neither yes nor no")
    return normal(text) == "yes"


def read_id(text: str, column: Column, _: Known) -> str:
    """An id of the table's own."""
    if any(mark in spelled(text) for mark in ";:+|"):
        raise bad(text, column, "has a mark in it that separates lists")
    return spelled(text)


def read_reference(text: str, column: Column, known: Known) -> str:
    """An id of another table, as that table spells it."""
    ids = known.all_of(column.of)
    return spelled(text) if ids is None else _known_id(text, column, ids)


def _known_id(text: str, column: Column, ids: Mapping[str, str]) -> str:
    if normal(text) in ids:
        return ids[normal(text)]
    strange = foreign_letters(text)
    hint = f" (it has {strange} in it)" if strange else ""
    raise bad(text, column, f"is no id of {' or '.join(column.of)}{hint}", nearest(text, ids.values()))


def read_references(text: str, column: Column, known: Known) -> tuple[str, ...]:
    """Several ids of another table, sorted."""
    return tuple(sorted(read_reference(part, column, known) for part in parts_of(text, column)))


def read_named(text: str, column: Column, known: Known) -> str:
    """A name that another table may hold; as that table spells it when it does."""
    return (known.all_of(column.of) or {}).get(normal(text), spelled(text))


def read_sets(text: str, column: Column, known: Known) -> tuple[frozenset[str], ...]:
    """Sets of ids: `4P+4S; 5P+5S`, each set once, sorted."""
    sets = {_one_set(part, text, column, known) for part in parts_of(text, column)}
    if len(sets) < len(parts_of(text, column)):
        raise bad(text, column, "names one set twice")
    return tuple(sorted(sets, key=sorted))


def _one_set(part: str, text: str, column: Column, known: Known) -> frozenset[str]:
    names = [name.strip() for name in part.split("+")]
    if "" in names:
        raise bad(text, column, "has an empty place beside a +")
    found = frozenset(read_reference(name, column, known) for name in names)
    if len(found) < len(names):
        raise bad(text, column, f"names one space twice in {quoted(part)}")
    return found


def is_point_name(text: str) -> bool:
    """True for a name that begins as a named point does: `main: vapour`, `pipe 12`."""
    return any(re.match(rf"{begin}(?![^\W\d_])", normal(text)) for begin in POINTS)


def read_point(text: str, column: Column, known: Known) -> str:
    """A point of the piping: a space, or a named point, spelled the same wherever it comes."""
    spaces = known.ids.get("spaces", {})
    if "spaces" in known.ids and normal(text) not in spaces and not is_point_name(text):
        raise bad(text, column, "is neither a space nor a named point", nearest(text, [*spaces.values(), *POINTS]))
    return spaces.get(normal(text)) or known.ids.get("points", {}).get(normal(text), spelled(text))


def read_people(text: str, column: Column, known: Known) -> tuple[tuple[str, int], ...]:
    """Abilities and how many of each."""
    pairs: dict[str, int] = {}
    for part in parts_of(text, column):
        able, count = pair_of(part, ":", text, column)
        if not re.fullmatch(r"[1-9][0-9]?", count):
            raise bad(text, column, f"asks for {quoted(count)} people, which is no count from 1 to 99")
        able = read_word(able, column, known)
        if able in pairs:
            raise bad(text, column, f"names {able} twice")
        pairs[able] = int(count)
    return tuple(sorted(pairs.items()))
