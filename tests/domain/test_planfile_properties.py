"""The plan file against what nobody would write: any text comes back whole, any damage is refused in words."""

from __future__ import annotations

import json
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as some

from scheduler.domain.plan import Warned
from scheduler.domain.planfile import plan_json, read_plan
from scheduler.errors import NotAPlan
from tests.a_plan import a_plan

TEXT = plan_json(a_plan())
WORDS = some.text(some.characters(exclude_categories=["Cs"]))
JSON = some.recursive(
    some.none() | some.booleans() | some.integers() | some.floats(allow_nan=False) | some.text(max_size=8),
    lambda inner: some.lists(inner, max_size=3) | some.dictionaries(some.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


def _spots(tree: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    inner: list[tuple[str | int, object]] = []
    if isinstance(tree, dict):
        inner = list(tree.items())
    if isinstance(tree, list):
        inner = list(enumerate(tree))
    return [path, *(spot for key, value in inner for spot in _spots(value, (*path, key)))]


SPOTS = _spots(json.loads(TEXT))[1:]


@given(WORDS)
def test_any_text_comes_back_as_it_was(text: str) -> None:
    plan = replace(a_plan(), ship=text, cautions=(Warned(text=text, entry=text),))
    assert read_plan(plan_json(plan)) == plan


@settings(max_examples=300, deadline=None)
@given(some.sampled_from(SPOTS), JSON)
def test_a_value_replaced_anywhere_is_read_or_refused_and_never_crashes(
    spot: tuple[str | int, ...], value: object
) -> None:
    tree = json.loads(TEXT)
    inner = tree
    for step in spot[:-1]:
        inner = inner[step]
    inner[spot[-1]] = value
    try:
        plan = read_plan(json.dumps(tree))
    except NotAPlan as why:
        assert "expected" in str(why)
    else:
        text = plan_json(plan)  # figures are cut to six decimals here, and no more after that
        assert plan_json(read_plan(text)) == text


@settings(max_examples=200, deadline=None)
@given(some.integers(0, len(TEXT) - 1), some.sampled_from(["", "\x00", "{", "]", '"', "9", "é", "\ufeff"]))
def test_a_letter_replaced_anywhere_is_read_or_refused_and_never_crashes(place: int, letter: str) -> None:
    try:
        read_plan(TEXT[:place] + letter + TEXT[place + 1 :])
    except NotAPlan as why:
        assert "expected" in str(why)
