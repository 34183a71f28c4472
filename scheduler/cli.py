"""The commands, one function each. What is heavy is imported inside them, so that `lull --help` answers at once.

Exit codes: 0 done; 1 `check` found breaches; 2 the input (or the command line) has faults; 3 no plan;
4 not a plan file; 130 stopped by Ctrl-C.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import Annotated, Final, TextIO

import typer

from scheduler.errors import Disagreement, InputFaults, LullError, NoPlan, NotAPlan, Stopped

BREACHES, FAULTS, NO_PLAN, NOT_A_PLAN, STOPPED = 1, 2, 3, 4, 130
SEED: Final = 1
_LONGEST_S: Final = 86_400.0
_BETWEEN_LINES_S: Final = 1.0

app = typer.Typer(
    name="lull",
    help="Schedules a ship's enclosed-space entries clear of every conflict, and says why. It authorises nothing: "
    "a plan is not a permit; tests and permit at the space decide.",
    epilog="Exit codes: 0 done; 1 check found breaches; 2 faults in the input; 3 no plan; 4 not a plan file; "
    "130 stopped by Ctrl-C.",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

Folder = Annotated[Path, typer.Argument(metavar="FOLDER", help="The voyage folder, or a workbook (.xlsx) of it.")]
PlanFile = Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file (plan.json).")]
AsJson = Annotated[bool, typer.Option("--json", help="Answer as JSON on standard output.")]


@app.callback(invoke_without_command=True)
def _lull(version: Annotated[bool, typer.Option("--version", help="Say the version and end.")] = False) -> None:
    if version:
        from scheduler.publish.plan_folder import installed

        _print(f"lull {installed('lull')}")
        raise typer.Exit


@app.command()
def begin(directory: Annotated[Path, typer.Argument(metavar="DIR", help="A new or an empty folder.")]) -> None:
    """Lay out tables with one example row each."""
    from scheduler.inputs import begin_folder

    _must_take_files(directory)
    begin_folder(directory)
    _print(f"{directory}: a tiny voyage that can be read. Put the ship's own rows in its place; README.md says how.")


@app.command()
def read(folder: Folder, as_json: AsJson = False) -> None:
    """Say what was understood, or list every fault."""
    from scheduler.inputs import read_folder
    from scheduler.publish.read_text import read_json, read_text

    found = read_folder(folder)
    _print(json.dumps(read_json(found), ensure_ascii=False, indent=1) if as_json else read_text(found))


@app.command()
def plan(
    folder: Folder,
    to: Annotated[
        Path | None, typer.Option("--to", metavar="DIR", help="Where plan.json goes; FOLDER/plan unless given.")
    ] = None,
    seconds: Annotated[
        float | None, typer.Option("--seconds", metavar="N", help="Effort: the solver's deterministic seconds.")
    ] = None,
    seed: Annotated[int, typer.Option("--seed", metavar="N", min=0, max=2**31 - 1, help="Seed of the search.")] = SEED,
    as_json: AsJson = False,
) -> None:
    """Plan the week, check it, print it and write DIR/plan.json."""
    if seconds is not None and not 0 < seconds <= _LONGEST_S:
        raise typer.BadParameter(f"{seconds:g} is no effort; expected more than 0, up to {_LONGEST_S:g}.")
    directory = to or plan_directory(folder)
    _must_take_files(directory)
    try:
        _plan(folder, directory, seconds, seed, as_json=as_json)
    except (NoPlan, Disagreement, Stopped) as why:
        why.add_note(_former(directory))
        raise


def plan_directory(folder: Path) -> Path:
    """Where the plan of a folder goes: FOLDER/plan, and beside a workbook NAME-plan."""
    return folder.with_name(f"{folder.stem}-plan") if folder.is_file() else folder / "plan"


def _must_take_files(directory: Path) -> None:
    """Refuse a folder that cannot be written to before any work is spent on it."""
    there = next(path for path in (directory, *directory.absolute().parents) if path.exists())
    if not there.is_dir() or not os.access(there, os.W_OK):
        raise typer.BadParameter(f"{there} takes no files; expected a folder that may be written to.")


def _plan(folder: Path, directory: Path, seconds: float | None, seed: int, *, as_json: bool) -> None:
    from scheduler.domain.planfile import plan_json
    from scheduler.inputs import read_folder
    from scheduler.publish.plan_folder import run_record, write_plan
    from scheduler.publish.week_text import week_text

    began = time.monotonic()
    found = read_folder(folder)
    from scheduler.week import plan_week  # after reading, so that a fault is told at once

    progress = _Progress()
    with _interrupts() as pressed:
        made = plan_week(found, seconds=seconds, seed=seed, progress=progress)
    progress.end()
    record = run_record(wall_s=time.monotonic() - began, seconds=seconds, seed=seed, stopped=bool(pressed))
    try:
        path = write_plan(directory, made, record)
    except OSError as why:
        raise NoPlan(f"{directory}: a plan was found but cannot be written: {why.strerror or why}.") from None
    _print(plan_json(made) if as_json else week_text(found, made))
    _print(f"Written: {path}", sys.stderr)
    if pressed:
        _print("Stopped by Ctrl-C: this is the best plan found until then; another run may differ.", sys.stderr)
        raise typer.Exit(STOPPED)


def _former(directory: Path) -> str:
    """A word about the plan that stands in the folder from before."""
    former = directory / "plan.json"
    if former.is_file():
        return f"Nothing was written. {former} is a former plan, made before this run; it is no answer to it."
    return "Nothing was written."


@app.command()
def check(folder: Folder, plan_file: PlanFile, as_json: AsJson = False) -> None:
    """Check a plan against its voyage folder and name each breach."""
    from scheduler.inputs import read_folder
    from scheduler.publish.findings_text import findings_text
    from scheduler.publish.plan_folder import load_plan

    found, made = read_folder(folder), load_plan(plan_file)
    from scheduler.week import check_plan  # after reading, so that a fault is told at once

    findings = check_plan(found, made)
    _print(json.dumps(findings.as_json(), ensure_ascii=False, indent=1) if as_json else findings_text(findings))
    if findings.breaches:
        raise typer.Exit(BREACHES)


def main() -> None:
    """The entry point: never a traceback, and an exit code for each outcome."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a Windows console may want another encoding than UTF-8
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    sys.exit(run(sys.argv[1:]))


def run(arguments: Sequence[str]) -> int:
    """Run one command line and give its exit code."""
    try:
        app(args=list(arguments), prog_name="lull")
    except SystemExit as done:
        code = done.code if isinstance(done.code, int) else 0
        if code == STOPPED:
            _print("Stopped.", sys.stderr)
        return code
    except LullError as error:
        return _told(error, as_json="--json" in arguments)
    except OSError as error:
        _print(f"{error.filename or 'A file'}: {error.strerror or error}. Nothing was written.", sys.stderr)
        return FAULTS
    except Exception as error:
        return _broken(error)
    return 0


def _told(error: LullError, *, as_json: bool) -> int:
    if as_json:
        _print(json.dumps(_error_json(error), ensure_ascii=False, indent=1))
    _print("\n".join((str(error), *getattr(error, "__notes__", ()))), sys.stderr)
    match error:
        case InputFaults():
            _print(f"{len(error.faults)} fault{'s' * (len(error.faults) != 1)}. Nothing was written.", sys.stderr)
            return FAULTS
        case NotAPlan():
            return NOT_A_PLAN
        case Stopped():
            return STOPPED
        case _:
            return NO_PLAN


def _error_json(error: LullError) -> dict[str, object]:
    body: dict[str, object] = {"error": type(error).__name__, "text": str(error)}
    if isinstance(error, InputFaults):
        from dataclasses import asdict

        body["faults"] = [asdict(fault) for fault in error.faults]
    return body


def _broken(error: Exception) -> int:
    """An error that nobody foresaw: one sentence, and the details only where they are asked for."""
    if os.environ.get("LULL_DEBUG"):
        import traceback

        traceback.print_exception(error)
    what = " ".join(str(error).split()) or "no further word"
    _print(
        f"Internal error, which is our fault: {type(error).__name__}: {what}. Do not use this run; nothing was "
        "written. Set LULL_DEBUG=1 and run again to see the details.",
        sys.stderr,
    )
    return NO_PLAN


def _print(text: str, stream: TextIO | None = None) -> None:
    """Write a text and a line break; a reader that has gone away (a closed pipe) changes no outcome."""
    out = stream or sys.stdout
    try:
        out.write(text if text.endswith("\n") else text + "\n")
        out.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), out.fileno())


class _Progress:
    """Says what the planner says, to standard error: one line a second, and the last word of each stage."""

    def __init__(self) -> None:
        self._held, self._stage, self._said_s = "", "", 0.0

    def __call__(self, text: str) -> None:
        stage, now_s = text.partition(":")[0], time.monotonic()
        if stage != self._stage:
            self.end()
        elif now_s - self._said_s < _BETWEEN_LINES_S:
            self._held = text
            return
        _print(f"  {text}", sys.stderr)
        self._held, self._stage, self._said_s = "", stage, now_s

    def end(self) -> None:
        """Say what was held back."""
        if self._held:
            _print(f"  {self._held}", sys.stderr)
            self._held = ""


@contextmanager
def _interrupts() -> Iterator[list[int]]:
    """Notes each Ctrl-C, which still interrupts what runs: a planner that keeps its best answers all the same."""
    pressed: list[int] = []

    def note(number: int, frame: FrameType | None) -> None:
        pressed.append(number)
        signal.default_int_handler(number, frame)

    before = signal.signal(signal.SIGINT, note)
    try:
        yield pressed
    finally:
        signal.signal(signal.SIGINT, before)


if __name__ == "__main__":
    main()
