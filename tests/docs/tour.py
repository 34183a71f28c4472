"""The README's tour: what the commands really say of the demonstration voyage, cut where the README says so.

`python -m tests.docs.tour` runs them and writes the tour into README.md between its marks.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory
from typing import Final

from tests.docs.reference import README

ROOT: Final = README.parent
CUT: Final = "[…]"


def lull(*arguments: str) -> str:
    """What a command prints."""
    command = [sys.executable, "-m", "scheduler.cli", *arguments]
    return subprocess.run(command, capture_output=True, check=False, cwd=ROOT).stdout.decode()


def read_part(text: str) -> str:
    """The head and the week of `lull read`, without the legs after the third."""
    head, tables, week, *_ = _parts(text)
    lines = week.splitlines()
    return "\n\n".join((head, _first(tables, 12), "\n".join([*lines[:8], f"  {CUT}"])))


def plan_part(text: str) -> str:
    """The head, what is asked, the first that are left out, the days of easing, the end."""
    parts = _parts(text)
    asked = next(part for part in parts if part.startswith("ASKED OF THE SHIP"))
    out = next(part for part in parts if part.startswith("LEFT OUT"))
    eased = [part for part in parts if "ONLY WHILE" in part][:1]
    rest = next(part for part in parts if part.startswith("LEAST REST"))
    cautions = next(part for part in parts if part.startswith("CAUTIONS"))
    shown = (
        parts[0],
        parts[1],
        _first(asked, 20),
        _first(out, 17),
        CUT,
        *eased,
        CUT,
        _first(rest, 6),
        _first(cautions, 5),
    )
    return "\n\n".join(shown)


def harmed(plan: str) -> tuple[str, str]:
    """The plan with its first session begun fifteen minutes early, and the entry that it is of."""
    tree = json.loads(plan)
    entry = next(entry for entry in tree["entries"] if entry["outcome"] == "planned")
    enter = next(phase for phase in entry["phases"] if phase["phase"] == "enter")
    early = datetime.fromisoformat(enter["start"]) - timedelta(minutes=15)
    enter["start"] = early.strftime("%Y-%m-%dT%H:%M:%SZ")
    return json.dumps(tree), entry["entry"]


def _parts(text: str) -> list[str]:
    return [part.strip("\n") for part in re.split(r"\n\n", text)]


def _first(part: str, lines: int) -> str:
    found = part.splitlines()
    return part if len(found) <= lines else "\n".join([*found[:lines], f"  {CUT}"])


def tour() -> str:
    """The tour's text; solves a copy of the demonstration voyage."""
    with TemporaryDirectory() as there:
        folder, path = str(Path(there) / "demo_voyage"), Path(there) / "plan.json"
        copytree(ROOT / "demo_voyage", folder)
        read, week = lull("read", folder), lull("plan", folder, "--to", there)
        checked = lull("check", folder, str(path))
        broken, entry = harmed(path.read_text(encoding="utf-8"))
        path.write_text(broken, encoding="utf-8")
        found = lull("check", folder, str(path))
    return "\n\n".join(_told(read, week, checked, found, entry))


def _told(read: str, week: str, checked: str, found: str, entry: str) -> Iterable[str]:
    yield "## Five minutes with the demonstration voyage"
    yield (
        "*Larkspur Down* is an invented tanker: the end of a discharge, six days at sea with clocks going back, an\n"
        f"anchorage, a loading berth. What follows is what the commands print; `{CUT}` stands where it is cut here."
    )
    yield "First, whether Lull has understood the tables:"
    yield _shown("lull read demo_voyage", read_part(read))
    yield "Then the plan. What the ship must do for it and what is left out stand before the week itself:"
    yield _shown("lull plan demo_voyage", plan_part(week))
    yield "The checker reads the folder and the file again, and knows nothing of how the plan was made:"
    yield _shown("lull check demo_voyage demo_voyage/plan/plan.json", _first(checked.strip("\n"), 12))
    yield (
        f"Now somebody moves the start of {entry}'s session in the file fifteen minutes up. The same command ends\n"
        "with exit code 1:"
    )
    yield _shown("lull check demo_voyage demo_voyage/plan/plan.json", _parts(found)[0])
    yield (
        "To plan a ship of your own, `lull begin my_voyage` lays out a tiny voyage; put your rows in its place, and\n"
        "let `lull read my_voyage` say what is still wrong."
    )


def _shown(command: str, text: str) -> str:
    return f"```text\n$ {command}\n{text}\n```"


def write(readme: Path = README) -> None:
    """Bring the README's tour up to date."""
    text = readme.read_text(encoding="utf-8")
    begin, end = "<!-- tour: begin -->\n", "<!-- tour: end -->"
    before, after = text.split(begin)[0], text.split(end)[1]
    readme.write_text(f"{before}{begin}{tour()}\n{end}{after}", encoding="utf-8")


if __name__ == "__main__":
    write()
