"""Where a number or a record comes from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class SourceKind(StrEnum):
    """How far a source can be vouched for."""

    PUBLISHED = "published"
    PRACTICE = "common practice, no source"
    OUR_CHOICE = "our choice"
    GIVEN = "given in the voyage folder"
    MEMORY = "published, from memory"


@dataclass(frozen=True, kw_only=True, order=True, slots=True)
class Source:
    """A text that a rule or number rests on, and how far it can be vouched for."""

    kind: SourceKind
    text: str

    def __str__(self) -> str:
        return f"{self.text} ({self.kind.value})" if self.text else self.kind.value


@dataclass(frozen=True, kw_only=True, order=True, slots=True)
class Origin:
    """The file (or sheet) and 1-based row that a record was read from; row 0 when it was built in code."""

    file: str = ""
    row: int = 0

    def __str__(self) -> str:
        return f"{self.file}, row {self.row}" if self.row else self.file
