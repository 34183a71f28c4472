"""Cells that hold figures: decimal point, no thousands separator, no exponent; CAS numbers; pairs."""

from __future__ import annotations

import re
from typing import Final

from scheduler.inputs.cells import Known, bad, decimal_text, pair_of, parts_of
from scheduler.inputs.columns import Column
from scheduler.inputs.names import normal, quoted

_NUMBER: Final = re.compile(r"[-\u2212]?[0-9]{1,12}(\.[0-9]{1,17})?")
_GROUPED: Final = re.compile(r"[-\u2212]?[0-9]{1,3}([,' \u00a0\u202f][0-9]{3})+(\.[0-9]+)?")
_DECIMAL_COMMA: Final = re.compile(r"[-\u2212]?[0-9]+,[0-9]+")
_CAS: Final = re.compile(r"([0-9]{2,7})-([0-9]{2})-([0-9])")
_ROUNDED_PERCENT: Final = 0.5  # shares that were rounded may add up to a little more than 100; our choice


def is_number(text: str) -> bool:
    """True for a plain number."""
    return _NUMBER.fullmatch(text) is not None


def _value(text: str, column: Column) -> float:
    if not is_number(text):
        why = "is not a number that can be read"
        if _GROUPED.fullmatch(text):
            why = "has thousands separators or a decimal comma"
        elif _DECIMAL_COMMA.fullmatch(text):
            why = "has a decimal comma"
        raise bad(text, column, why)
    return float(text.replace("\u2212", "-")) + 0.0


def read_number(text: str, column: Column, _: Known) -> float:
    """A number within the column's bounds."""
    value = _value(text, column)
    if not _within(value, column):
        raise bad(text, column, "is out of range")
    return value


def _within(value: float, column: Column) -> bool:
    if column.least is not None and value < column.least:
        return False
    return value <= column.most and (column.above is None or value > column.above)


def read_whole(text: str, column: Column, known: Known) -> int:
    """A whole number within the column's bounds."""
    value = _value(text, column)
    if value != int(value):
        raise bad(text, column, "is not a whole number")
    return int(read_number(text, column, known))


def read_cas(text: str, column: Column, _: Known) -> str:
    """A CAS number whose check digit is right.

    The last digit is the sum of the others, each times its place from the right, modulo 10 (CAS Registry).
    """
    found = _CAS.fullmatch(text)
    digits = found[1] + found[2] if found else ""
    if not found or sum(place * int(digit) for place, digit in enumerate(reversed(digits), 1)) % 10 != int(found[3]):
        raise bad(text, column, "is no CAS number: its form or its check digit is wrong")
    return text


def read_solvents(text: str, column: Column, known: Known) -> tuple[tuple[str, float], ...]:
    """CAS numbers and their share of the solvent's mass in percent."""
    pairs: dict[str, float] = {}
    for part in parts_of(text, column):
        cas, percent = pair_of(part, ":", text, column)
        if not is_number(percent) or not 0 < _value(percent, column) <= 100:
            raise bad(text, column, f"has {quoted(percent)}, which is no share in percent")
        if cas in pairs:
            raise bad(text, column, f"names {cas} twice")
        pairs[read_cas(cas, column, known)] = _value(percent, column)
    if sum(pairs.values()) > 100 + _ROUNDED_PERCENT:
        raise bad(text, column, "adds up to more than 100 percent")
    return tuple(sorted(pairs.items()))


def read_lies_to(text: str, column: Column, _: Known) -> str:
    """Wind, tide, unknown, or a heading in degrees as text."""
    if normal(text) in ("wind", "tide", "unknown"):
        return normal(text)
    if not is_number(text) or not 0 <= _value(text, column) <= 360:
        raise bad(text, column, "is neither a word that is known here nor a heading")
    return decimal_text(_value(text, column))


def read_bands(text: str, column: Column, _: Known) -> tuple[tuple[float, float], ...]:
    """Pairs of numbers, the lower first."""
    if normal(text) == "none":
        return ()
    pairs = []
    for part in parts_of(text, column):
        low, high = pair_of(part, ":", text, column)
        if not (is_number(low) and is_number(high) and 0 <= _value(low, column) < _value(high, column)):
            raise bad(text, column, f"has {quoted(part)}, which is no pair of numbers, lower first")
        pairs.append((_value(low, column), _value(high, column)))
    return tuple(sorted(pairs))
