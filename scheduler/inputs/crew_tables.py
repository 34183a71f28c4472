"""The tables of crew/: who is aboard, what they do anyway, and what they have done."""

from __future__ import annotations

from typing import Final

from scheduler.inputs.columns import Table, day, ident, reference, text, time, word, words

ABILITIES: Final = (
    "entrant", "attendant", "officer in charge", "gas tester", "rescue", "rigging", "hot work", "mooring",
    "cargo watch",
)  # fmt: skip
DUTY_KINDS: Final = ("watch", "sole watch", "day work", "other")

PEOPLE: Final = Table(
    name="people", folder="crew", key=("person",), meaning="the crew",
    columns=(
        ident("person", "id of the person"),
        text("name", "full name"),
        text("rank", "rank"),
        word("department", ("deck", "engine", "catering"), "department"),
        words("able", ABILITIES, "what the person may be planned for", "no entry duty"),
        day("last_drill", "last entry drill on board this ship", "not assignable"),
        time("joins", "when the person comes aboard", "aboard before the week"),
        time("leaves", "when the person goes ashore", "stays to the week's end"),
        text("calendar_address", "address for the calendar", "none"),
    ),
)  # fmt: skip

DUTIES: Final = Table(
    name="duties", folder="crew", key=("person", "start"),
    meaning="fixed duties; entry work may replace day work, the others bar it",
    columns=(
        reference("person", "people", "who"),
        time("start", "first start; a daily one keeps its ship's time"),
        time("end", "first end"),
        word("kind", DUTY_KINDS, "what kind of duty"),
        word("repeat", ("once", "daily"), "whether it comes again each ship's date", "once"),
        time("until", "a daily duty begins no more from here on", "the week's end"),
    ),
)  # fmt: skip

PAST_HOURS: Final = Table(
    name="past_hours", folder="crew", key=("person", "start"),
    meaning="hours worked in the seven days before the week",
    columns=(
        reference("person", "people", "who"),
        time("start", "began"),
        time("end", "ended, not after the week's start"),
    ),
)  # fmt: skip

CREW_TABLES: Final = (PEOPLE, DUTIES, PAST_HOURS)
