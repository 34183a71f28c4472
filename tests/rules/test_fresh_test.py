"""How long the phases take and how the time inside is cut."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.restrictions import Length, Phase, Refusal, Sessions
from scheduler.domain.ship import Pipe
from scheduler.rules.fresh_test import fresh_test
from tests.builders import a_folder, a_space, an_entry, policy, two_valves


def lengths(**over: Any) -> dict[Phase, int]:
    return {each.phase: each.minutes for each in fresh_test(a_folder(**over)) if isinstance(each, Length)}


def sessions(**over: Any) -> Sessions:
    (found,) = [each for each in fresh_test(a_folder(**over)) if isinstance(each, Sessions)]
    return found


def refusals(**over: Any) -> list[Refusal]:
    return [each for each in fresh_test(a_folder(**over)) if isinstance(each, Refusal)]


def entered(**over: Any) -> dict[str, Any]:
    return {"entries": (an_entry(**over),)}


def test_the_common_lengths() -> None:
    # Two devices: 30 + 2 · 5 = 40, never under 45. Test: 10 min settled, 3 levels of 5 = 25, on the grid 30.
    assert lengths() == {Phase.BRIEF: 15, Phase.ISOLATE: 45, Phase.TEST: 30, Phase.RESTORE: 60}


@pytest.mark.parametrize(("branches", "minutes"), [(1, 45), (2, 60), (3, 60), (4, 75)])
def test_isolation_grows_with_the_devices(branches: int, minutes: int) -> None:
    # 30 + 5 · 2 · branches: 40, 50, 60, 70; at least 45 and on the grid.
    pipes = tuple(
        Pipe(
            point=pipe.point.replace("pipe", f"pipe {n}"), to_point=pipe.to_point.replace("pipe", f"pipe {n}"),
            device=pipe.device, device_id=f"{pipe.device_id}-{n}", lockable=True, worked_from="deck",
        )
        for n in range(branches)
        for pipe in two_valves("3P")
    )  # fmt: skip
    assert lengths(lines=pipes)[Phase.ISOLATE] == minutes


def test_the_fire_watch_is_part_of_closing_up_after_hot_work() -> None:
    assert lengths(**entered(work="hot work"))[Phase.RESTORE] == 60 + 60


def test_a_pump_room_tested_with_its_fans_running_does_not_settle() -> None:
    room = {"spaces": (a_space(kind="pump room"),)}
    assert lengths(**room)[Phase.TEST] == 30
    assert lengths(**room, policy=policy(pump_room__test="running"))[Phase.TEST] == 15


def test_a_job_that_may_not_be_divided_is_one_session() -> None:
    found = sessions(**entered(hours=2.0))
    assert (found.inside_min, found.least_min, found.greatest_min, found.most) == (120, 120, 240, 1)
    assert (found.valid_min, found.permit_min, found.open_longest_min) == (30, 480, 72 * 60)
    assert (found.tail_ventilate_min, found.tail_test_min) == (0, 0)


@pytest.mark.parametrize(("hours", "refused"), [(3.75, False), (4.0, False), (4.25, True)])
def test_an_undivided_job_longer_than_a_stay_is_refused(hours: float, *, refused: bool) -> None:
    found = refusals(**entered(hours=hours))
    assert [each.rule for each in found] == (["permit"] if refused else [])


@pytest.mark.parametrize(("hours", "refused"), [(3.5, False), (3.75, True)])
def test_the_proving_half_hour_is_part_of_the_stay(hours: float, *, refused: bool) -> None:
    space = (a_space(reach="proving session"),)
    assert sessions(spaces=space, **entered(hours=hours)).proving_min == 30
    assert bool(refusals(spaces=space, **entered(hours=hours))) is refused


@pytest.mark.parametrize(("reach", "minutes"), [("hose", 0), ("proving session", 30), (None, 30)])
def test_a_space_is_proved_unless_a_hose_reaches_all_of_it(reach: str | None, minutes: int) -> None:
    assert sessions(spaces=(a_space(reach=reach),)).proving_min == minutes


@pytest.mark.parametrize(
    ("hours", "least_h", "most"),
    # As few as can be and two more, but no more than sessions of the least length fill.
    [(4.0, 2.0, 2), (6.0, 1.5, 4), (6.0, None, 4), (9.0, 3.0, 3), (12.0, 1.0, 5), (2.0, 3.0, 1)],
)
def test_a_job_that_may_be_divided_gets_a_few_sessions_more_than_the_fewest(
    hours: float, least_h: float | None, most: int
) -> None:
    found = sessions(**entered(hours=hours, splittable=True, least_session_hours=least_h))
    assert found.most == most


def test_the_least_session_is_no_longer_than_the_job() -> None:
    assert sessions(**entered(hours=2.0, splittable=True, least_session_hours=3.0)).least_min == 120


@pytest.mark.parametrize(("least_h", "refused"), [(4.0, False), (4.25, True)])
def test_sessions_that_must_be_longer_than_a_stay_are_refused(least_h: float, *, refused: bool) -> None:
    assert bool(refusals(**entered(hours=9.0, splittable=True, least_session_hours=least_h))) is refused


def test_a_permit_shorter_than_a_stay_shortens_the_stay_by_the_test() -> None:
    found = sessions(policy=policy(permit__longest_h=3.0), **entered(hours=2.0))
    assert found.greatest_min == 180 - 30


# Open at least: air 8 h, test 30 min, 2 h inside, 1 h closing up: 11 h 30 min.
@pytest.mark.parametrize(("open_h", "refused"), [(11.5, False), (11.25, True)])
def test_a_space_that_cannot_but_stand_open_too_long_is_refused(open_h: float, *, refused: bool) -> None:
    found = refusals(policy=policy(permit__open_longest_h=open_h), **entered(hours=2.0))
    assert [each.rule for each in found] == (["permit"] if refused else [])


def test_hours_are_rounded_up_to_the_grid() -> None:
    assert sessions(**entered(hours=1.1)).inside_min == 75


# The same with the proving half hour: 12 h.
@pytest.mark.parametrize(("open_h", "refused"), [(12.0, False), (11.75, True)])
def test_the_proving_half_hour_is_part_of_the_time_open(open_h: float, *, refused: bool) -> None:
    over = {"policy": policy(permit__open_longest_h=open_h), "spaces": (a_space(reach="proving session"),)}
    assert bool(refusals(**over, **entered(hours=2.0))) is refused
