"""What an inspection found: every breach in a plain sentence, and how many checks were made of each rule."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Final, TypeAlias

Json: TypeAlias = str | int | dict[str, "Json"] | list["Json"] | None

RULE_NAMES: Final[tuple[str, ...]] = (
    "vapour", "cargo work", "lines", "contents", "condition", "profile", "next space", "closures", "port",
    "ship handling", "motion", "spray", "daylight", "hours", "air", "coating", "fresh test", "people", "rest",
    "gear", "at once", "visitors", "after", "window", "permit",
)  # fmt: skip
PLAN_NAMES: Final[tuple[str, ...]] = ("counts", "speeds", "policy", "inputs", "week")


@dataclass(frozen=True, kw_only=True, slots=True)
class Breach:
    """One promise that the plan does not keep.

    `by_min` is how much is lacking or too much, in whole minutes rounded up; None where it is no matter of time.
    `text` is one plain sentence: which rule, who or what, when, by how much.
    """

    rule: str
    entry: str = ""
    person: str = ""
    other: str = ""
    start: datetime | None = None
    end: datetime | None = None
    by_min: int | None = None
    text: str

    def as_json(self) -> dict[str, Json]:
        """The keys of `check --json`; an empty entry, person or other is left away."""
        named: dict[str, Json] = {"rule": self.rule}
        named |= {key: getattr(self, key) for key in ("entry", "person", "other") if getattr(self, key)}
        return named | {
            "start": _instant(self.start),
            "end": _instant(self.end),
            "by_min": self.by_min,
            "text": self.text,
        }


@dataclass(frozen=True, kw_only=True, slots=True)
class Findings:
    """All breaches, in order of time, and the number of checks made by rule."""

    breaches: tuple[Breach, ...]
    checks: dict[str, int]

    def as_json(self) -> dict[str, Json]:
        """What `check --json` prints."""
        return {
            "breaches": [breach.as_json() for breach in self.breaches],
            "checks": dict(self.checks),
        }


@dataclass(slots=True)
class Ledger:
    """Where an inspection writes: it counts each check and keeps each breach."""

    breaches: list[Breach] = field(default_factory=list)
    checks: dict[str, int] = field(default_factory=lambda: dict.fromkeys((*RULE_NAMES, *PLAN_NAMES), 0))

    def count(self, rule: str, times: int = 1) -> None:
        """Say that a check of the rule was made."""
        self.checks[rule] = self.checks.get(rule, 0) + times

    def breach(
        self,
        rule: str,
        text: str,
        *,
        entry: str = "",
        person: str = "",
        other: str = "",
        start: datetime | None = None,
        end: datetime | None = None,
        by: timedelta | None = None,
    ) -> None:
        """Write down a promise that is not kept; `by` is how much."""
        self.breaches.append(
            Breach(
                rule=rule, entry=entry, person=person, other=other, start=start, end=end,
                by_min=None if by is None else whole_minutes(by), text=f"{rule}: {text}",
            )
        )  # fmt: skip

    def expect(
        self,
        rule: str,
        holds: bool,
        text: str,
        *,
        entry: str = "",
        person: str = "",
        other: str = "",
        start: datetime | None = None,
        end: datetime | None = None,
        by: timedelta | None = None,
    ) -> bool:
        """Count one check, and write a breach unless it holds; gives back whether it holds."""
        self.count(rule)
        if not holds:
            self.breach(rule, text, entry=entry, person=person, other=other, start=start, end=end, by=by)
        return holds

    def findings(self) -> Findings:
        """What was found, each breach once, earliest first."""
        ordered = sorted(set(self.breaches), key=_place_in_time)
        return Findings(breaches=tuple(ordered), checks=dict(self.checks))


def whole_minutes(length: timedelta) -> int:
    """Minutes of a length, rounded up."""
    return math.ceil(length / timedelta(minutes=1))


def _place_in_time(breach: Breach) -> tuple[bool, datetime, str, str, str, str]:
    start = breach.start or datetime.max.replace(tzinfo=UTC)
    return breach.start is None, start, breach.rule, breach.entry, breach.person, breach.text


def _instant(instant: datetime | None) -> str | None:
    return None if instant is None else instant.astimezone(UTC).isoformat().replace("+00:00", "Z")
