"""Answers of the places, and what is still to be asked."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from scheduler.check import check
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.plan import AskFor, Plan
from scheduler.domain.voyage import Permission
from tests.check.made import PLACES, at, the_good_week
from tests.faults.breaking import with_operation

FOLDER, PLAN = the_good_week()


def answered(answer: str | None, from_: datetime | None = None, until: datetime | None = None) -> VoyageFolder:
    """The folder with an answer of the roads about entries; E3 is open there from 14:00 on the 12th to 12:30."""
    given = Permission(place="Ruddock Roads", what="entries", answer=answer, from_=from_, until=until)
    return replace(FOLDER, permissions=(given,))


def found(folder: VoyageFolder, plan: Plan = PLAN) -> list[tuple[str, int | None]]:
    return [
        (breach.entry or breach.other, breach.by_min)
        for breach in check(folder, plan).breaches
        if breach.rule == "port"
    ]


@pytest.mark.parametrize(
    ("folder", "breaches"),
    [
        (answered("yes"), []),
        (answered("yes", at(12, "14:00"), at(13, "12:30")), []),
        (answered("yes", at(12, "14:10"), at(13, "12:30")), [("E3", 10)]),
        (answered("yes", at(12, "14:00"), at(13, "12:25")), [("E3", 5)]),
        (answered("no"), [("E3", 22 * 60 + 30)]),
        (answered("no", at(13, "12:00")), [("E3", 30)]),
        (answered("no", at(13, "12:30")), []),
        (answered(None), []),
    ],
)  # fmt: skip
def test_what_a_place_has_answered(folder: VoyageFolder, breaches: list[tuple[str, int]]) -> None:
    assert found(folder) == breaches


def test_a_place_is_asked_a_day_before() -> None:
    # E3 is opened at 14:00 on the 12th, so a day's notice ends at 14:00 on the 11th.
    late = replace(
        PLAN, permissions=(AskFor(place="Ruddock Roads", what="entries", ask_by=at(11, "14:07"), answer=""),)
    )
    assert found(FOLDER, late) == [("E3", 7)]


def test_a_place_may_want_more_notice() -> None:
    wanting = replace(FOLDER, places=tuple(replace(place, notice_h=48.0) for place in PLACES))
    # Two days before 14:00 on the 12th is 14:00 on the 10th; the plan would ask at midnight, ten hours later.
    assert found(wanting) == [("E3", 10 * 60)]


def a_movable(kind: str, vapour: str | None) -> Operation:
    return Operation(
        operation="X", kind=kind, earliest=at(14, "03:00"), latest=at(16, "00:00"), hours=1.0, vapour=vapour, lines=()
    )


@pytest.mark.parametrize(
    ("kind", "vapour", "barred"),
    [
        ("ballast out", "none", True), ("gas-free", None, True), ("tank wash", "to outlets", True),
        ("tank wash", "none", False), ("ballast in", "none", False),
    ],
)  # fmt: skip
def test_a_place_may_forbid_venting_and_pumping_out(kind: str, vapour: str | None, barred: bool) -> None:
    strict = replace(FOLDER, places=tuple(replace(p, venting="forbidden", ballast_out="forbidden") for p in PLACES))
    folder, plan = with_operation(strict, PLAN, a_movable(kind, vapour), at(14, "04:00"), at(14, "05:00"))
    assert (("X", 60) in found(folder, plan)) is barred


def test_a_fixed_operation_is_the_ports_own_affair() -> None:
    strict = replace(FOLDER, places=tuple(replace(p, ballast_out="forbidden") for p in PLACES))
    run = replace(a_movable("ballast out", "none"), start=at(14, "04:00"), end=at(14, "05:00"))
    folder, plan = with_operation(strict, PLAN, run, at(14, "04:00"), at(14, "05:00"))
    assert ("X", 60) not in found(folder, plan)


@pytest.mark.parametrize(("place", "what"), [("Ruddock Quay", "entries"), ("Ruddock Roads", "coating")])
def test_asking_elsewhere_or_for_something_else_is_not_asking(place: str, what: str) -> None:
    other = replace(PLAN, permissions=(AskFor(place=place, what=what, ask_by=at(8, "00:00"), answer=""),))
    assert [name for name, _ in found(FOLDER, other)] == ["E3"]
