"""What the officer reads after `lull plan`."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.domain.plan import Easing, EntryCounts, Plan, PlannedPhase, Ready, StopNow, Warned
from scheduler.domain.planfile import STANDINGS
from scheduler.domain.voyage import ClockStep
from scheduler.publish.left_out import share
from scheduler.publish.page import WIDTH_COLUMNS
from scheduler.publish.week_text import week_text
from tests.a_folder import START, a_folder, at
from tests.a_plan import a_plan


def _said(plan: Plan | None = None) -> str:
    return week_text(a_folder(), plan or a_plan())


def _flat(text: str) -> str:
    """The text without its line breaks, for sentences that wrap."""
    return " ".join(text.split())


def _day(text: str, name: str) -> str:
    return _flat(text.split(f"\n{name}")[1].split("\n\n")[0])


def _stop() -> StopNow:
    return StopNow(
        entry="E1", because="Loading begins at 12:00.", people_out_by=at(10, "07:00"), closed_by=at(10, "08:00"),
        tags_off=("BV-41", "BV-42"), tell=("terminal", "bridge"),
    )  # fmt: skip


def test_the_counts_are_the_first_thing_after_the_ship_and_her_week() -> None:
    assert _said().splitlines()[1] == "3 entries asked: 1 planned, 2 left out, 0 broken off. 2 of 2 operations placed."


def test_counts_that_do_not_add_up_are_said_loudly() -> None:
    counts = replace(a_plan().counts, entries=EntryCounts(asked=4, planned=1, left_out=2, broken_off=0))
    assert "THE COUNTS DO NOT ADD UP. Do not use this plan." in _said(replace(a_plan(), counts=counts))


def test_the_parts_stand_in_the_order_in_which_they_are_needed() -> None:
    text = _said(replace(a_plan(), stop_now=(_stop(),)))
    parts = [
        "entries asked:", "\nSTANDING\n", "\nSTOP NOW\n", "\nASKED OF THE SHIP\n", "\nLEFT OUT AND BROKEN OFF\n",
        "\nTHE WEEK BY DAY, IN SHIP'S TIME\n", "\nLEAST REST OF EACH PERSON, IN HOURS\n",
        "\nCAUTIONS, THE FIRST 5 OF 7",
        "\nLIMITS CHANGED", "\n2 FURTHER CAUTIONS\n",
    ]  # fmt: skip
    places = [text.index(part) for part in parts]
    assert places == sorted(places)


def test_no_line_is_wider_than_a_hundred_columns() -> None:
    long = Warned(text="a word after another, " * 30)
    plan = replace(a_plan(), cautions=(*a_plan().cautions, long), stop_now=(_stop(),))
    assert max(map(len, _said(plan).splitlines())) <= WIDTH_COLUMNS


def test_a_word_longer_than_the_page_is_broken_and_not_lost() -> None:
    text = _said(replace(a_plan(), cautions=(Warned(text="§" * 250),)))
    assert max(map(len, text.splitlines())) <= WIDTH_COLUMNS
    assert text.count("§") == 250


@pytest.mark.parametrize("standing", STANDINGS)
def test_the_word_safe_is_never_said(standing: str) -> None:
    assert "safe" not in _said(replace(a_plan(), standing=standing, stop_now=(_stop(),))).lower()


@pytest.mark.parametrize("standing", STANDINGS)
def test_a_plan_is_never_called_a_permit(standing: str) -> None:
    said = _said(replace(a_plan(), standing=standing))
    assert "A plan is not a permit. Tests and permit at the space decide." in said


@pytest.mark.parametrize("standing", ["best found", "best by one run"])
def test_only_two_runs_that_agree_allow_to_say_that_none_is_better(standing: str) -> None:
    said = _said(replace(a_plan(), standing=standing)).lower()
    assert not any(word in said for word in ("proven", "no better plan", "optimal", "guaranteed"))


def test_two_runs_that_agree_are_said_as_such() -> None:
    said = _flat(_said(replace(a_plan(), standing="proven best")))
    assert "No better plan exists under these rules, by two differing solver runs that agree." in said


def test_a_best_found_says_level_by_level_how_much_better_another_could_be() -> None:
    # Easing: 3.5 h found, bound 2.5 h, so one hour fewer at most; priority 3: none planned, bound one.
    said = _said()
    assert "  hours of easing: 3.5; at most 1 fewer.\n" in said
    assert "  entries of priority 3: 0 planned; at most 1 more.\n" in said
    assert "entries of priority 1:" not in said


def test_comfort_is_no_part_of_the_standing() -> None:
    assert "Comfort is said apart: 41 found, bound 20." in _said()


def test_easing_is_asked_with_speed_hours_and_reason() -> None:
    # 05:30 to 09:00 UTC at UTC+3 is 08:30 to 12:00 by the ship's clocks.
    assert (
        "Wed 10 March 08:30 to 12:00, 3 h 30 min: 8 kn or less, for E1, class inspection of frames. Swell of 2.4 m on "
        "the bow; light work wants 8 kn or less." in _flat(_said())
    )


def test_easing_shared_by_two_entries_is_counted_once() -> None:
    first, *others = a_plan().entries
    plan = replace(a_plan(), entries=(first, replace(others[0], easing=first.easing), others[1]))
    assert "Easing, 3 h 30 min in all:" in _said(plan)


def test_heaving_to_is_asked_for_in_words() -> None:
    first, *others = a_plan().entries
    hove = replace(first.easing[0], heaving_to=True, speed_kn=2.0)
    said = _flat(_said(replace(a_plan(), entries=(replace(first, easing=(hove,)), *others))))
    assert "3 h 30 min: heave to, for E1" in said
    assert "ONLY WHILE she heaves to, 08:30 to 12:00; else nobody goes in." in said


def test_a_week_without_easing_says_so() -> None:
    first, *others = a_plan().entries
    assert "No easing and no heaving to." in _said(replace(a_plan(), entries=(replace(first, easing=()), *others)))


def test_the_effect_of_easing_on_arrival_and_fuel_is_said() -> None:
    # Planned 06:00, expected 06:20, to be there by 08:00 UTC: 20 min later, 1 h 40 min in hand.
    assert (
        "Arrival Cape Wender (L1): Fri 12 March 08:20, 20 min later than planned; to be there by Fri 12 March 10:00, "
        "1 h 40 min in hand. Fuel 86.5 to 92.0 t; without easing 88.0 to 93.5 t." in _flat(_said())
    )


def test_an_open_permission_is_asked_for_with_its_hour() -> None:
    said = _flat(_said())
    assert "Ask Wender roads for entries by Thu 11 March 08:00; until it is answered" in said


def test_an_operation_whose_time_was_chosen_is_named_with_its_people_and_a_fixed_one_is_not() -> None:
    asked = _said().split("LEFT OUT")[0]
    assert "Mon 8 March 13:00 to 16:00: ballast out BW-OUT (4P). Cargo watch: oiler Dan Withey." in asked
    assert "STN-1" not in asked


def test_a_must_left_out_stands_before_a_could() -> None:
    said = _said()
    assert said.index("E3 (must)") < said.index("E2 (could)")


def test_what_keeps_an_entry_out_is_listed_by_share_with_its_reason() -> None:
    block = _flat(_said()).split("E3 (must)")[1].split("E2 (could)")[0]
    assert "62 % vapour Outlet PV-3 blows within 10 m of MH-AV while 3C is purged. 55 % hours" in block


def test_what_would_let_an_entry_in_is_said_with_its_price() -> None:
    assert "Would fit if the volume of 5S is given: E2 fits on Thursday morning; nothing else moves." in _flat(_said())


@pytest.mark.parametrize(
    ("part", "words"), [(1.0, "100 %"), (0.999, "99 %"), (0.001, "1 %"), (0.0, "0 %"), (0.5, "50 %")]
)
def test_a_share_is_rounded_but_never_to_all_or_nothing(part: float, words: str) -> None:
    assert share(part) == words


def test_a_session_stands_on_its_day_with_manhole_people_by_duty_and_visitor() -> None:
    day = _day(_said(), "Wednesday 10 March 2027")
    assert "E1 (should): class inspection of frames; No. 4 port ballast tank (4P), by manhole MH-4PA." in day
    assert (
        "09:00 to 12:00: enter 1. Entrant: bosun Tomas Ebbing, able seaman Ravi Colebrook; attendant: able seaman Piet "
        "Sandholm; officer in charge: chief officer Ines Marwood; rescue on call: able seaman Luis Farrow, oiler Dan "
        "Withey. With visitor surveyor." in day
    )


def test_a_session_that_hangs_on_easing_says_so_on_a_line_of_its_own() -> None:
    assert "\n      ONLY WHILE she eases to 8 kn or less, 08:30 to 12:00; else nobody goes in.\n" in _said()


def test_easing_of_another_hour_is_not_laid_on_a_session() -> None:
    first, *others = a_plan().entries
    other = Easing(start=at(9, "06:00"), end=at(9, "07:00"), speed_kn=8.0, heaving_to=False, because="for another")
    assert "ONLY WHILE" not in _said(replace(a_plan(), entries=(replace(first, easing=(other,)), *others)))


def test_a_ventilation_over_midnight_stands_on_both_days() -> None:
    # 06:00 to 05:30 the next day is 23 h 30 min of elapsed time.
    said = _said()
    assert "09:00 to Wed 10 March 08:30: ventilate, 23 h 30 min, 10.5 h needed, with 2 × water-driven fan." in _flat(
        said
    )
    assert "Until 08:30, since Tue 9 March 09:00: ventilate goes on." in _day(said, "Wednesday 10 March 2027")


def test_a_space_open_between_sessions_is_told_on_a_day_without_a_phase() -> None:
    first, *others = a_plan().entries
    later = [PlannedPhase(phase="restore", start=at(12, "09:00"), end=at(12, "10:00"))]
    entry = replace(first, phases=(*first.phases[:-1], *later))
    day = _day(_said(replace(a_plan(), entries=(entry, *others))), "Thursday 11 March 2027")
    assert "Open under its fans since Tue 9 March 09:00, guarded." in day


def test_a_step_of_the_clocks_stands_on_its_day() -> None:
    # The step is at 22:00 UTC on the 10th: the clocks show 01:00 of the 11th and go to 00:00.
    day = _day(_said(), "Thursday 11 March 2027")
    assert "Clocks go back 1 h at 01:00, to 00:00 (UTC+02:00)." in day


def test_a_time_that_the_clocks_show_twice_carries_its_offset() -> None:
    first, *others = a_plan().entries
    # 21:30 UTC is 00:30 before the step; 22:30 UTC is 00:30 again after it.
    phases = (PlannedPhase(phase="restore", start=at(10, "21:30"), end=at(10, "22:30")),)
    said = _said(replace(a_plan(), entries=(replace(first, phases=phases), *others)))
    assert "00:30 (UTC+03:00) to 00:30 (UTC+02:00): restore" in _flat(said)


def test_what_comes_next_is_said_ready_with_the_time_in_hand() -> None:
    # Closed at 10:00 UTC on the 10th, two hours before 05:00 UTC on the 12th would have done: 41 h are in hand.
    day = _day(_said(), "Friday 12 March 2027")
    assert (
        "07:00 stations STN-1: ready, all closed by Wed 10 March 13:00, lines back by Wed 10 March 13:00, 41 h in hand."
        in day
    )


def test_time_that_is_short_is_said_loudly() -> None:
    short = Ready(what="STN-1", all_closed_by=at(12, "04:00"), lines_back_by=at(12, "04:00"), margin_min=-60)
    assert "1 h SHORT." in _flat(_said(replace(a_plan(), ready=(short,))))


def test_what_must_stop_is_said_before_all_that_is_asked() -> None:
    said = _flat(_said(replace(a_plan(), stop_now=(_stop(),))))
    assert (
        "STOP NOW E1, class inspection of frames: people out by Wed 10 March 10:00, closed by Wed 10 March 11:00. "
        "Loading begins at 12:00. Tags off: BV-41, BV-42. Tell: terminal, bridge. ASKED OF THE SHIP" in said
    )


def test_unknown_rest_is_said_unknown_and_not_zero() -> None:
    line = next(line for line in _said().splitlines() if line.startswith("oiler Dan Withey"))
    assert line.split()[3:] == ["unknown", "unknown", "unknown", "unknown:", "No", "past", "hours", "are", "given."]


def test_rest_is_shown_with_two_decimals() -> None:
    line = next(line for line in _said().splitlines() if line.startswith("chief officer Ines Marwood"))
    assert line.split()[4:] == ["12.00", "88.25", "9.00", "kept"]


def test_five_cautions_stand_first_and_every_other_one_below() -> None:
    first, rest = _said().split("2 FURTHER CAUTIONS")
    assert "\n5. " in first and "\n6. " not in first
    assert "\n6. " in rest and "\n7. " in rest


def test_a_limit_that_the_ship_changed_is_on_the_output() -> None:
    assert "at_once.open is 4; 3 by our choice." in _said()


def test_a_change_that_was_only_supposed_is_said_at_the_head() -> None:
    said = _said(replace(a_plan(), supposed=("the swell is 1 m lower",)))
    assert said.index("Supposed, not given: the swell is 1 m lower") < said.index("ASKED OF THE SHIP")


def test_every_day_of_the_week_has_its_place_also_an_empty_one() -> None:
    # 8 March 03:00 to 15 March 02:00 by the ship's clocks touches eight dates.
    days = [line for line in _said().splitlines() if line.endswith(("2027, UTC+03:00", "2027, UTC+02:00"))]
    assert len(days) == 8
    assert "No entry." in _day(_said(), "Saturday 13 March 2027")


@pytest.mark.parametrize("name", ["\x1b[31mred", "turned\u202eround", "one\ntwo", "bell\x07"])
def test_a_name_cannot_steer_the_screen(name: str) -> None:
    text = _said(replace(a_plan(), ship=name))
    assert all(letter.isprintable() or letter == "\n" for letter in text)
    assert text.splitlines()[1].startswith("3 entries asked")


def test_the_same_plan_gives_the_same_text() -> None:
    assert _said() == _said()


def test_every_phase_of_every_planned_entry_is_in_the_text() -> None:
    said = _flat(_said())
    for phase in a_plan().entries[0].phases:
        name = "isolate 2 devices" if phase.phase == "isolate" else phase.phase
        shown = (phase.start + timedelta(hours=3)).strftime("%H:%M")
        assert f"{shown} to " in said and f": {name}" in said


def test_without_a_clock_table_ship_time_is_utc() -> None:
    folder = replace(a_folder(), clocks=(ClockStep(at=START, offset=timedelta()),))
    assert "Mon 8 March 00:00 to Mon 15 March 00:00, ship's time" in _flat(week_text(folder, a_plan()))


def test_a_figure_stays_on_one_line_with_its_unit() -> None:
    # Texts of every length, so that some line must end just between a figure and its unit.
    plans = (
        replace(a_plan(), cautions=(Warned(text="a" * length + " 48 min and 12 kn"),)) for length in range(70, 100)
    )
    assert all("48 min" in text and "12 kn" in text for text in map(_said, plans))


def test_fuel_that_easing_does_not_change_is_said_once() -> None:
    arrival = replace(a_plan().arrivals[0], fuel_t_without_easing=a_plan().arrivals[0].fuel_t)
    said = _flat(_said(replace(a_plan(), arrivals=(arrival,))))
    assert "Fuel 86.5 to 92.0 t." in said and "without easing" not in said


def test_a_step_of_the_clocks_stands_before_all_else_of_its_day() -> None:
    first, *others = a_plan().entries
    longer = replace(first.phases[2], end=at(11, "06:00"))
    entry = replace(first, phases=(*first.phases[:2], longer))
    day = _day(_said(replace(a_plan(), entries=(entry, *others))), "Thursday 11 March 2027")
    assert day.index("Clocks go back") < day.index("ventilate goes on")


def test_a_briefing_of_just_those_who_follow_names_them_once() -> None:
    # The briefing is for the six of the session; isolation, rigging and closing up are theirs too.
    day = _day(_said(), "Tuesday 9 March 2027")
    assert "08:00 to 08:15: brief 1. All 6 who are named below. 08:15 to" in day


def test_a_briefing_of_others_names_them_all() -> None:
    first, *others = a_plan().entries
    brief = replace(first.phases[0], people=first.phases[0].people[:2])
    day = _day(
        _said(replace(a_plan(), entries=(replace(first, phases=(brief, *first.phases[1:])), *others))), "Tuesday 9"
    )
    assert "brief 1. Entrant: bosun Tomas Ebbing, able seaman Ravi Colebrook." in day


def test_the_hours_that_the_fans_need_are_said_of_the_first_ventilation_only() -> None:
    first, *others = a_plan().entries
    again = PlannedPhase(phase="ventilate", start=at(10, "09:00"), end=at(10, "15:00"))
    said = _said(replace(a_plan(), entries=(replace(first, phases=(*first.phases[:5], again)), *others)))
    assert said.count("10.5 h needed") == 1


def test_a_reason_is_a_whole_sentence() -> None:
    first, *others = a_plan().entries
    bare = replace(others[0], reasons=(replace(others[0].reasons[0], because="no volume is given"),))
    assert "air  No volume is given.\n" in _said(replace(a_plan(), entries=(first, bare, others[1])))
