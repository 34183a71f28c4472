"""Small changes that an officer makes from one day to the next, drawn by a seed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from tests.stories.edited import BULK, Row, few_entries, rewrite

Varying = Callable[[Path, Random], str]
ENTRIES = ("A1", "A2", "A3", "A5", "A6")


def later(text: str, minutes: int) -> str:
    """A written time so many minutes later; its Z, where it has one, stays."""
    shown = datetime.strptime(text.removesuffix("Z"), "%Y-%m-%dT%H:%M")  # noqa: DTZ007 - written, not an instant
    return f"{shown + timedelta(minutes=minutes):%Y-%m-%dT%H:%M}" + ("Z" if text.endswith("Z") else "")


def varied(to: Path, seed: int) -> tuple[Path, str]:
    """The bulk carrier's week with one to three entries and one to three changes, and what was changed."""
    random = Random(f"variation {seed}")
    few_entries(to, *random.sample(ENTRIES, random.randint(1, 3)), base=BULK)
    return to, "; ".join(random.choice(CHANGES)(to, random) for _ in range(random.randint(1, 3)))


def _one(folder: Path, random: Random, table: str, fits: Callable[[Row], bool], change: Callable[[Row], Row]) -> str:
    """Change one row that fits, and say which."""
    said: list[str] = []

    def rows(given: list[Row]) -> list[Row]:
        fitting = [row for row in given if fits(row)]
        if not fitting:
            return given
        chosen = random.choice(fitting)
        new = change(chosen)
        said.append(f"{table} {next(iter(chosen.values()))}: {dict(set(new.items()) - set(chosen.items()))}")
        return [new if row is chosen else row for row in given]

    rewrite(folder, table, rows)
    return "".join(said)


def entry_dropped(folder: Path, random: Random) -> str:
    """One entry less, while another is left."""

    def drop(rows: list[Row]) -> list[Row]:
        gone = random.choice(rows) if len(rows) > 1 else None
        return [row for row in rows if row is not gone]

    rewrite(folder, "entries", drop)
    return "an entry less"


def due_moved(folder: Path, random: Random) -> str:
    """Due some hours and minutes earlier or later."""
    by = random.choice([-1440, -613, -127, 59, 600])
    return _one(
        folder, random, "entries", lambda row: bool(row["due"]), lambda row: row | {"due": later(row["due"], by)}
    )


def fan_taken(folder: Path, random: Random) -> str:
    """Fewer fans."""
    left = str(random.choice([1, 2, 3]))
    return _one(folder, random, "gear", lambda row: row["kind"] == "fan", lambda row: row | {"count": left})


def operation_longer(folder: Path, random: Random) -> str:
    """A movable operation that takes longer, by minutes that no grid knows."""
    more = random.choice([0.29, 1.37, 3.0])
    return _one(
        folder, random, "operations", lambda row: bool(row["hours"]),
        lambda row: row | {"hours": f"{float(row['hours']) + more:.2f}"},
    )  # fmt: skip


def operation_moved(folder: Path, random: Random) -> str:
    """A fixed operation at another time."""
    by = random.choice([-97, -15, 22, 180, 1440])
    return _one(
        folder, random, "operations", lambda row: bool(row["start"] and row["end"]),
        lambda row: row | {"start": later(row["start"], by), "end": later(row["end"], by)},
    )  # fmt: skip


def end_unknown(folder: Path, random: Random) -> str:
    """A fixed operation of which nobody knows the end."""
    return _one(
        folder, random, "operations", lambda row: bool(row["start"] and row["end"]), lambda row: row | {"end": ""}
    )


def person_ashore(folder: Path, random: Random) -> str:
    """Somebody able leaves on the second day of the week."""
    return _one(
        folder, random, "people", lambda row: bool(row["able"]), lambda row: row | {"leaves": "2027-09-07T13:20"}
    )


def watch_changed(folder: Path, random: Random) -> str:
    """A duty half an hour later."""
    return _one(
        folder, random, "duties", lambda row: True,
        lambda row: row | {"start": later(row["start"], 30), "end": later(row["end"], 30)},
    )  # fmt: skip


CHANGES: tuple[Varying, ...] = (
    entry_dropped, due_moved, fan_taken, operation_longer, operation_moved, end_unknown, person_ashore, watch_changed,
)  # fmt: skip
