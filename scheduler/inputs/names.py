"""When two names are the same name, which known one lies nearest, and which only look alike."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable
from typing import Final

_LONGEST_SHOWN: Final = 60
_LEAST_LIKE: Final = 0.49  # two ids of two characters that share one are worth a hint
_LOOK_ALIKES: Final = str.maketrans(
    "\u0430\u0432\u0441\u0435\u043d\u0456\u0458\u043a\u043c\u043e\u0440\u0455\u0442\u0443\u0445\u0501"
    "\u03b1\u03b2\u03b5\u03b7\u03b9\u03ba\u03bc\u03bd\u03bf\u03c1\u03c4\u03c5\u03c7\u03b6",
    "abcehijkmopstyxd" + "abehikmnoptyxz",
)  # Cyrillic and Greek small letters (after case-folding) whose capital or small form looks like a Latin one


def spelled(text: str) -> str:
    """A name as it is kept: trimmed, NFKC."""
    return text.strip() if text.isascii() else unicodedata.normalize("NFKC", text.strip()).strip()


def normal(text: str) -> str:
    """What two spellings of one name share: trimmed, NFKC, case-folded."""
    return spelled(spelled(text).casefold())


def look(text: str) -> str:
    """What two names that look alike share, whatever script their letters are of."""
    bare = unicodedata.normalize("NFD", normal(text).translate(_LOOK_ALIKES))
    return "".join(letter for letter in bare if not unicodedata.combining(letter))


def nearest(value: str, known: Iterable[str]) -> str:
    """The known name nearest to a value, or '' when none is near."""
    wanted = look(value[:_LONGEST_SHOWN])
    matcher = difflib.SequenceMatcher(b=wanted)
    best, name_of_best = (_LEAST_LIKE, 0), ""
    for name in sorted(set(known)):
        matcher.set_seq1(look(name))
        alike = [one == other for one, other in zip(look(name), wanted, strict=False)]
        score = (matcher.ratio(), (*alike, False).index(False))  # of two as near, the one that begins alike for longer
        if score > best:
            best, name_of_best = score, name
    return name_of_best


def quoted(value: str) -> str:
    """A value as a message shows it: in quotes, not too long, with nothing invisible."""
    return repr(value if len(value) <= _LONGEST_SHOWN else value[:_LONGEST_SHOWN] + "…")


def shown(name: str) -> str:
    """The name of a file or sheet as a message shows it, with nothing invisible."""
    return repr(name)[1:-1] if hidden_characters(name) else name


def foreign_letters(value: str) -> str:
    """The first letter outside Latin, by its full name; '' when there is none."""
    for letter in value:
        name = unicodedata.name(letter, "")
        if letter.isalpha() and not name.startswith(("LATIN", "FULLWIDTH LATIN")):
            return name
    return ""


def hidden_characters(value: str) -> tuple[str, ...]:
    """Controls, line separators, direction marks and other invisible characters in a value, by code point."""
    if value.isascii() and value.isprintable():
        return ()
    found = {letter for letter in value if unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")}
    return tuple(f"U+{ord(letter):04X}" for letter in sorted(found))
