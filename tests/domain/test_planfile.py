"""The plan file: what is written, and what is refused."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.domain.plan import Plan, StopNow
from scheduler.domain.planfile import plan_json, read_plan
from scheduler.errors import NotAPlan
from tests.a_folder import at
from tests.a_plan import a_plan

Tree = dict[str, object]

KEYS_IN_ORDER = [
    "format", "version", "ship", "week", "known_at", "policy", "overrides", "valid_until", "supposed", "replaces",
    "orders", "inputs", "standing", "proof", "entries", "operations", "speeds", "arrivals", "keep_clear", "keep_apart",
    "keep_order", "speed_limits", "rest", "counts", "conditions", "permissions", "visitors", "ready", "stop_now",
    "courses", "cautions",
]  # fmt: skip


def _tree(plan: Plan | None = None) -> Tree:
    found = json.loads(plan_json(plan or a_plan()))
    assert isinstance(found, dict)
    return found


def _row(tree: Tree, *path: str | int) -> Tree:
    found: object = tree
    for step in path:
        found = found[step]  # type: ignore[index] # a tree of JSON, walked by the test that knows it
    assert isinstance(found, dict)
    return found


def _refused(tree: Tree) -> str:
    with pytest.raises(NotAPlan) as caught:
        read_plan(json.dumps(tree))
    return str(caught.value)


def test_a_plan_comes_back_as_it_was_written() -> None:
    assert read_plan(plan_json(a_plan())) == a_plan()


def test_a_plan_that_stops_entries_comes_back_as_it_was_written() -> None:
    stop = StopNow(
        entry="E1", because="Loading begins.", people_out_by=at(10, "07:00"), closed_by=at(10, "08:00"),
        tags_off=("BV-41",), tell=("terminal", "bridge"),
    )  # fmt: skip
    plan = replace(a_plan(), stop_now=(stop,), valid_until=at(9, "00:00"))
    assert read_plan(plan_json(plan)) == plan


def test_reading_and_writing_again_gives_the_same_bytes() -> None:
    text = plan_json(a_plan())
    assert plan_json(read_plan(text)) == text


def test_the_top_level_keys_stand_in_their_order() -> None:
    assert list(_tree()) == KEYS_IN_ORDER


def test_an_instant_is_written_in_utc_with_z() -> None:
    assert _row(_tree(), "week") == {"start": "2027-03-08T00:00:00Z", "end": "2027-03-15T00:00:00Z"}


def test_letters_of_any_language_stand_as_they_are() -> None:
    assert "São Martinho" in plan_json(replace(a_plan(), ship="São Martinho"))


def test_the_text_ends_with_one_line_break() -> None:
    text = plan_json(a_plan())
    assert text.endswith("}\n") and not text.endswith("\n\n")


def test_a_phase_without_a_session_has_no_such_key() -> None:
    isolate = _row(_tree(), "entries", 0, "phases", 1)
    assert list(isolate) == ["phase", "start", "end", "people", "gear"]


def test_a_session_names_its_entrance_in_its_place() -> None:
    enter = _row(_tree(), "entries", 0, "phases", 4)
    assert list(enter) == ["phase", "start", "end", "session", "entrance", "people", "gear"]


def test_a_keep_clear_of_the_whole_open_time_says_open() -> None:
    assert _row(_tree(), "keep_clear", 0)["phase"] == "open"


def test_a_keep_clear_of_single_phases_names_them() -> None:
    assert _row(_tree(), "keep_clear", 1)["phase"] == "test; enter"


def test_a_source_is_written_as_text_with_what_it_is_worth() -> None:
    assert _row(_tree(), "keep_apart", 0)["source"] == "SOLAS II-2/4.5.3.4 (published)"


def test_what_comes_next_is_named_as_an_operation_or_a_leg() -> None:
    tree = _tree()
    assert (next(iter(_row(tree, "ready", 0))), next(iter(_row(tree, "ready", 1)))) == ("operation", "leg")


def test_an_alternative_order_keeps_its_group_and_a_plain_one_has_none() -> None:
    tree = _tree()
    assert _row(tree, "keep_order", 1)["either"] == "contents E1"
    assert "either" not in _row(tree, "keep_order", 0)


def test_noise_in_the_last_bits_of_a_figure_does_not_reach_the_file() -> None:
    # 0.1 + 0.2 is 0.30000000000000004 in binary; the file keeps six decimals.
    proof = replace(a_plan().proof, effort=0.1 + 0.2)
    assert _row(_tree(replace(a_plan(), proof=proof)), "proof")["effort"] == 0.3


def test_a_whole_figure_has_one_form() -> None:
    # Written by hand as 4 or by a sum as 4.0, it is the same hours.
    one, other = (replace(a_plan(), proof=replace(a_plan().proof, effort=effort)) for effort in (4, 4.0))
    assert plan_json(one) == plan_json(other)


def test_nothing_is_written_as_minus_nothing() -> None:
    assert '"effort": 0,' in plan_json(replace(a_plan(), proof=replace(a_plan().proof, effort=-0.0)))


def test_a_sunrise_keeps_its_seconds() -> None:
    # The grid rounds outward from it; the plan says what was worked with.
    dark = replace(a_plan().keep_clear[0], end=at(12, "07:00") + timedelta(seconds=34))
    plan = replace(a_plan(), keep_clear=(dark,))
    assert read_plan(plan_json(plan)) == plan


def test_a_figure_that_is_no_number_is_never_written() -> None:
    proof = replace(a_plan().proof, effort=float("nan"))
    with pytest.raises(ValueError, match="not JSON compliant"):
        plan_json(replace(a_plan(), proof=proof))


def test_a_whole_number_of_hours_is_read_as_a_figure() -> None:
    tree = _tree()
    _row(tree, "rest", 0)["least_24h"] = 12
    assert read_plan(json.dumps(tree)).rest[0].least_24h == 12.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no JSON"),
        ("{", "no JSON"),
        ("[]", "no object found"),
        ("null", "no object found"),
        ('{"format": "another plan"}', "format: 'another plan' found; expected \"lull plan\""),
        ('{"format": "lull plan", "version": 2}', "version: 2 found; expected 1"),
        ('{"format": "lull plan", "version": true}', "version: True found; expected 1"),
        ('{"format": "lull plan", "version": 1}', "week: no object found"),
        ('{"format": "lull plan", "format": "lull plan"}', "format: the key stands twice"),
        ('{"effort": NaN}', "NaN found; expected a number"),
        ("[" * 200_000, "nested too deep"),
        ("1" * 5000, "no JSON"),
        ('{"format": "\ud800"}', "half a character"),
    ],
)
def test_a_text_that_is_no_plan_is_refused_in_words(text: str, words: str) -> None:
    with pytest.raises(NotAPlan) as caught:
        read_plan(text)
    assert words in str(caught.value)


@pytest.mark.parametrize("key", [key for key in KEYS_IN_ORDER if key not in ("format", "version")])
def test_a_missing_key_is_named(key: str) -> None:
    tree = _tree()
    del tree[key]
    said = _refused(tree)
    assert key in said


def test_an_unknown_key_is_refused() -> None:
    phase = _row(tree := _tree(), "entries", 0, "phases", 4)
    phase["sesion"] = phase.pop("session")
    assert "entries[0].phases[4]: unknown key 'sesion'" in _refused(tree)


def test_a_phase_may_not_be_named_twice_over() -> None:
    _row(tree := _tree(), "keep_clear", 0)["phases"] = ["enter"]
    assert "keep_clear[0]: keys" in _refused(tree)


@pytest.mark.parametrize(
    ("time", "words"),
    [
        ("2027-03-09T06:00:00", "is not a time; expected UTC with Z"),
        ("2027-03-09T06:00Z", "is not a time; expected UTC with Z"),
        ("2027-03-09T06:00:00+03:00", "is not a time; expected UTC with Z"),
        ("2027-02-29T06:00:00Z", "is no time that exists"),
        ("2027-03-09T24:00:00Z", "is no time that exists"),
        ("2027-03-09T23:59:60Z", "is no time that exists"),
        ("٢٠٢٧-03-09T06:00:00Z", "is not a time; expected UTC with Z"),
        (1773000000, "is not a time; expected UTC with Z"),
        (None, "is not a time; expected UTC with Z"),
    ],
)
def test_a_time_that_is_not_exactly_one_instant_is_refused(time: object, words: str) -> None:
    _row(tree := _tree(), "entries", 0, "phases", 1)["start"] = time
    said = _refused(tree)
    assert said.startswith("entries[0].phases[1].start: ") and words in said


@pytest.mark.parametrize(
    ("path", "key", "value", "words"),
    [
        (("entries", 0), "outcome", "done", "entries[0].outcome: 'done' found; expected one of planned, left out"),
        (("entries", 0, "phases", 0), "phase", "wait", "phases[0].phase: 'wait' found; expected one of brief"),
        (("keep_clear", 0), "phase", "opened", "keep_clear[0].phase: 'opened' found"),
        (("rest", 0), "verdict", "fine", "rest[0].verdict: 'fine' found; expected one of kept"),
        (("ready", 0), "margin_min", 2.5, "ready[0].margin_min: 2.5 found; expected a whole number"),
        (("ready", 0), "margin_min", True, "ready[0].margin_min: True found; expected a whole number"),
        (("operations", 0), "moved", "yes", "operations[0].moved: 'yes' found; expected true or false"),
        (("speeds", 0), "speed_kn", "13", "speeds[0].speed_kn: '13' found; expected a number"),
        (("speeds", 0), "speed_kn", 1e300, "speeds[0].speed_kn: 1e+300 found; expected a number"),
        (("keep_apart", 0), "source", "a friend", "keep_apart[0].source: 'a friend' found"),
        (("conditions", 0), "empty", "4P", "conditions[0].empty: no list found"),
        (("inputs",), "digest", None, "inputs.digest: None found; expected text"),
        ((), "standing", "proven", "standing: 'proven' found; expected one of proven best"),
    ],
)
def test_a_value_of_another_kind_is_refused_with_its_place(
    path: tuple[str | int, ...], key: str, value: object, words: str
) -> None:
    tree = _tree()
    _row(tree, *path)[key] = value
    assert words in _refused(tree)


def test_a_file_that_begins_with_a_byte_order_mark_is_read() -> None:
    assert read_plan("\ufeff" + plan_json(a_plan())) == a_plan()
