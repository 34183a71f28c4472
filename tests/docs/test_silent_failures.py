"""The table of silent failures in DEVELOPERS.md names tests that are there."""

from __future__ import annotations

import re

from tests.docs.reference import README

DEVELOPERS = (README.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
SECTION = DEVELOPERS.split("## Silent failures and the tests that keep them out\n", 1)[1].split("\n## ", 1)[0]


def test_every_silent_failure_names_a_test_that_is_there() -> None:
    lines = [line for line in SECTION.splitlines() if line.startswith("| ")][1:]
    named = {line: re.findall(r"`(tests/[\w/]+\.py)`", line) for line in lines if not line.startswith("| ---")}
    assert len(named) == 14
    assert [line for line, paths in named.items() if not paths] == []
    paths = {path for found in named.values() for path in found}
    assert {path for path in paths if "\ndef test_" not in (README.parent / path).read_text(encoding="utf-8")} == set()
