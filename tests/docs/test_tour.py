"""The README's tour shows what the commands say."""

from __future__ import annotations

import re

from scheduler.inputs import read_folder
from scheduler.publish.read_text import read_text
from tests.conftest import DEMO
from tests.docs.reference import README
from tests.docs.tour import CUT


def test_what_the_tour_shows_of_reading_is_what_reading_says() -> None:
    shown = re.search(r"\$ lull read demo_voyage\n(.*?)\n```", README.read_text(encoding="utf-8"), re.DOTALL)
    said = read_text(read_folder(DEMO)).splitlines()
    assert shown, "run: python -m tests.docs.tour"
    assert [line for line in shown[1].splitlines() if line.strip() not in ("", CUT) and line not in said] == []
