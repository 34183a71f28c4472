"""What a plan says of itself: exactly the words that were earned, whatever the solver says."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from itertools import product
from types import SimpleNamespace
from typing import cast

import pytest
from ortools.sat.python import cp_model

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.source import Origin
from scheduler.rules import restrictions
from scheduler.solve.child import Answer, confirmed, planned, solve
from scheduler.solve.outcome import LevelFound, Outcome, Timed
from scheduler.solve.pose import Posing
from scheduler.solve.search import LEVELS, Budget, NothingStands, best_times, run
from scheduler.solve.summary import CUT_SHORT, proof, standing
from scheduler.solve.witness import what_blocks
from tests.builders import START, a_condition, a_folder, an_operation, at, content
from tests.solve.made import a_problem, a_task

NOTHING = Timed(entries={}, operations={}, eased={})
COMFORT = LevelFound(name="comfort", value=7, bound=3)


def found(unmet: tuple[str, ...] = (), **value: float) -> tuple[LevelFound, ...]:
    """All levels with bounds that are met, except those named."""
    return tuple(LevelFound(name=n, value=value.get(n, 2), bound=value.get(n, 2) + (n in unmet)) for n in LEVELS)


def outcome(*levels: LevelFound, agreed: bool = False, cut: bool = False) -> Outcome:
    return Outcome(timed=NOTHING, people={}, short={}, levels=levels, effort=1.0, cut=cut, confirmed=agreed)


# -- words --------------------------------------------------------------------------------------------------------

EVERY = list(product([(), *((name,) for name in LEVELS)], (True, False), (True, False)))


@pytest.mark.parametrize(("unmet", "agreed", "cut"), EVERY)
def test_the_words_are_those_that_were_earned(unmet: tuple[str, ...], *, agreed: bool, cut: bool) -> None:
    # 6 × 2 × 2 = 24 ways: one bound not met, or a run cut short, and nothing better than 'best found' is said
    words = standing(outcome(*found(unmet), COMFORT, agreed=agreed, cut=cut))
    if unmet or cut:
        assert words == "best found"
    else:
        assert words == ("proven best" if agreed else "best by one run")


@pytest.mark.parametrize("agreed", [True, False])
def test_a_plan_cut_short_says_so_where_another_names_its_second_run(*, agreed: bool) -> None:
    said = proof(outcome(*found(), agreed=agreed, cut=True), seed=1)
    assert said.confirmed_by == CUT_SHORT
    assert bool(proof(outcome(*found(), agreed=agreed), seed=1).confirmed_by) is agreed


def test_comfort_is_no_part_of_the_standing() -> None:
    assert standing(outcome(*found(), COMFORT, agreed=True)) == "proven best"


# -- the second run -----------------------------------------------------------------------------------------------


def test_a_second_run_that_proves_the_same_values_confirms() -> None:
    assert confirmed(outcome(*found(), COMFORT), found()).confirmed


@pytest.mark.parametrize("level", LEVELS)
def test_a_second_run_that_proves_another_value_never_lets_it_be_called_proven(level: str) -> None:
    # both runs call their own value the best there is: one of them is wrong, and nobody knows which
    for other in (1.0, 3.0):
        answer = confirmed(outcome(*found()), found(**{level: other}))
        assert standing(answer) == "best by one run"


@pytest.mark.parametrize("level", LEVELS)
def test_a_second_run_that_does_not_prove_a_level_confirms_nothing(level: str) -> None:
    assert standing(confirmed(outcome(*found()), found((level,)))) == "best by one run"


@pytest.mark.parametrize("said", [0, 1, 4])
def test_a_second_run_that_ends_early_confirms_nothing(said: int) -> None:
    assert standing(confirmed(outcome(*found()), found()[:said])) == "best by one run"


@pytest.mark.parametrize("level", LEVELS)
def test_the_same_bound_on_both_sides_is_no_proof_of_a_value_that_does_not_meet_it(level: str) -> None:
    assert standing(confirmed(outcome(*found((level,))), found((level,)))) == "best found"


def test_a_plan_without_levels_is_never_confirmed() -> None:
    assert not confirmed(outcome(), ()).confirmed


# -- what the solver says of one stage ----------------------------------------------------------------------------


@dataclass
class Says:
    """In place of the solver: it says one status and finds nothing."""

    status: int

    def solve(self, *_: object) -> int:
        return self.status

    @property
    def response_proto(self) -> SimpleNamespace:
        return SimpleNamespace(deterministic_time=0.1, status=self.status)


class SaysOnly(Budget):
    """A budget whose every stage ends with one status."""

    says: int = cp_model.UNKNOWN

    def parameters(self, share: float) -> cp_model.CpSolver:
        del share
        return cast(cp_model.CpSolver, Says(self.says))


def a_budget(status: int, *, late: bool = False) -> SaysOnly:
    budget = SaysOnly(seconds=5, guard_until=time.monotonic() + (-1 if late else 60), seed=1)
    budget.says = status
    return budget


def stage(status: int, *, late: bool = False, stopped: bool = False) -> tuple[bool, bool]:
    """Whether a stage has an answer, and whether the whole run counts as cut short."""
    budget = a_budget(status, late=late)
    answered = run(budget.parameters(1), cp_model.CpModel(), "stage", budget, lambda _: None, lambda: stopped)
    return answered, budget.cut


@pytest.mark.parametrize(
    ("status", "answered"),
    [(cp_model.OPTIMAL, True), (cp_model.FEASIBLE, True), (cp_model.UNKNOWN, False), (cp_model.INFEASIBLE, False)],
)
def test_only_a_found_answer_is_an_answer(status: int, *, answered: bool) -> None:
    assert stage(status) == (answered, False)


@pytest.mark.parametrize("status", [cp_model.FEASIBLE, cp_model.UNKNOWN])
def test_a_stage_that_the_clock_ended_makes_the_plan_cut_short(status: int) -> None:
    assert stage(status, late=True)[1]
    assert stage(status, stopped=True)[1]


def test_a_model_that_the_solver_cannot_read_is_no_plan_but_our_own_fault() -> None:
    with pytest.raises(RuntimeError, match="stage"):
        stage(cp_model.MODEL_INVALID)


@pytest.mark.parametrize(("status", "proven"), [(cp_model.UNKNOWN, False), (cp_model.INFEASIBLE, True)])
def test_that_nothing_exists_is_kept_apart_from_that_nothing_was_found(status: int, *, proven: bool) -> None:
    with pytest.raises(NothingStands) as nothing:
        best_times(a_problem(a_task("A")), a_budget(status), lambda _: None, lambda: False)
    assert nothing.value.proven is proven


def test_a_level_that_could_not_be_looked_at_keeps_its_widest_bound() -> None:
    # a stop before the first musts are proven: what stands is told, and all that was asked stays the bound
    problem = a_problem(a_task("A", priority=1), a_task("B", priority=2), a_task("C", priority=3))
    budget = Budget(seconds=10, guard_until=time.monotonic() + 60, seed=1)
    asked: list[str] = []

    def after_the_first() -> bool:
        asked.append("")
        return len(asked) > 1

    _, levels = best_times(problem, budget, lambda _: None, after_the_first)
    bounds = {level.name: level.bound for level in levels}
    assert bounds["entries of priority 3"] == 1 and budget.cut


# -- no plan ------------------------------------------------------------------------------------------------------


def said_of_none(folder: VoyageFolder, answer: Answer) -> str:
    found = restrictions(folder)
    return what_blocks(folder, found, Posing(folder, found), answer)


def test_that_no_plan_exists_is_the_solvers_word_and_is_said_to_be() -> None:
    said = said_of_none(a_folder(), Answer(outcome=None, proven_empty=True))
    assert said.startswith("No plan. Do not use.\nThe solver reports that")


def test_a_pumping_out_that_no_condition_allows_beside_what_is_empty_already_is_named_with_the_cause() -> None:
    # 3S is empty as the week begins, and the after peak may be empty only alone
    folder = a_folder(
        operations=(an_operation("BO", "ballast out", hours=2.0, spaces=("APK",)),),
        contents=(content("3S"), *(content(name, "ballast") for name in ("3P", "APK")), content("C3"), content("AV")),
        conditions=(a_condition("3P", "3S", "APK", may_be_empty=(frozenset({"3S"}), frozenset({"APK"}))),),
    )
    said = said_of_none(folder, Answer(outcome=None, proven_empty=True))
    assert "BO has no time between earliest and latest: what is empty as the week begins with BO" in said
    assert ".." not in said and ".;" not in said


def test_what_stands_in_the_way_is_named_with_its_row() -> None:
    # the washes take two hours each and follow one another, and the second must be over when the first can be
    wash = [an_operation(f"W{i}", "tank wash", hours=2.0, spaces=("C3",), earliest=START, latest=at(1, "02:00"),
                         after=("W1",) if i == 2 else (), origin=Origin(file="operations", row=10 + i))
            for i in (1, 2)]  # fmt: skip
    folder = a_folder(operations=tuple(wash))
    found = restrictions(folder)
    budget = Budget(seconds=5, guard_until=time.monotonic() + 60, seed=1)
    answer = planned(Posing(folder, found).problem(), budget, lambda _: None, lambda: False)
    assert answer.proven_empty and answer.without == ("W1", "W2")
    assert "without any one of W1 (operations, row 11), W2 (operations, row 12)" in said_of_none(folder, answer)


def test_that_none_was_found_is_not_said_to_be_that_none_exists() -> None:
    said = said_of_none(a_folder(), Answer(outcome=None, trouble="the solver's process ended without an answer"))
    assert said.startswith("No plan. Do not use.\nNone was found in the effort given (the solver's process ended")
    assert "report" not in said and "cannot" not in said


def test_an_operation_without_a_time_is_named_from_our_own_table_whatever_the_solver_says() -> None:
    # three hours of work in a window of two
    short = an_operation("GF", "gas-free", hours=3.0, spaces=("C3",))
    assert short.earliest
    operation = replace(short, latest=short.earliest.replace(hour=2))
    for answer in (Answer(outcome=None, proven_empty=True), Answer(outcome=None)):
        said = said_of_none(a_folder(operations=(operation,)), answer)
        assert "GF has no time between earliest and latest" in said and "3 h" in said


@pytest.mark.filterwarnings("ignore")
def test_a_solver_that_dies_takes_only_its_process_with_it() -> None:
    # a length that is no number makes both processes fall over; the command goes on, without a plan
    broken = a_problem(a_task("A", test=None))
    answer = solve(broken, seconds=1.0, seed=1, say=lambda _: None)
    assert answer.outcome is None and not answer.proven_empty
    assert answer.trouble == "the solver's process ended without an answer"
