"""Only what the loading condition lists may be empty, all of it together, and only in the sea that it allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Final

from scheduler.check.findings import Ledger, whole_minutes
from scheduler.check.scene import Run, Scene, Stay
from scheduler.check.sky import Sky
from scheduler.check.span import Span, common, hours_of, shared_with, union
from scheduler.domain.operations import Condition

RULE: Final = "condition"


@dataclass(frozen=True, kw_only=True)
class Out:
    """A ballast-out: from its first minute until the same spaces are pressed up again, or to the horizon."""

    run: Run
    span: Span

    @property
    def spaces(self) -> frozenset[str]:
        """What it empties."""
        return frozenset(self.run.operation.spaces)


def look(scene: Scene, sky: Sky, ledger: Ledger) -> None:
    """Walk the week from one change of the emptied set to the next."""
    outs = [_emptied(scene, run) for run in scene.runs if run.kind == "ballast out"]
    for piece in _pieces(scene, outs):
        row = _in_force(scene, piece.start)
        _as_listed(scene, row, [out for out in outs if common(out.span, piece)], piece, ledger)
    for out in outs:
        _in_its_sea(scene, sky, out, ledger)
    for stay in scene.stays:
        _entered(scene, outs, stay, ledger)


def _emptied(scene: Scene, run: Run) -> Out:
    spaces = frozenset(run.operation.spaces)
    fillings = [
        other for other in scene.runs
        if other.kind == "ballast in" and frozenset(other.operation.spaces) == spaces
        and other.span.start >= run.span.start
    ]  # fmt: skip
    end = min((filling.span.end for filling in fillings), default=scene.week.end)
    return Out(run=run, span=Span(run.span.start, end))


def _pieces(scene: Scene, outs: list[Out]) -> Iterator[Span]:
    edges = {at for out in outs for at in out.span} | {at for c in scene.folder.conditions for at in (c.start, c.end)}
    inside = sorted({scene.week.start, scene.week.end} | {at for at in edges if scene.week.start < at < scene.week.end})
    yield from (Span(start, end) for start, end in pairwise(inside))


def _in_force(scene: Scene, instant: datetime) -> Condition | None:
    rows = [row for row in scene.folder.conditions if row.start <= instant < row.end]
    return max(rows, key=lambda row: row.start) if rows else None


def _of_full(scene: Scene, row: Condition | None, spaces: frozenset[str]) -> frozenset[str]:
    """Only what the condition has full counts; without a row everything is as if full."""
    return spaces if row is None else spaces & frozenset(row.full)


def _listed(row: Condition | None, empty: frozenset[str]) -> bool:
    return not empty or (row is not None and empty in row.may_be_empty)


def _as_listed(scene: Scene, row: Condition | None, outs: list[Out], piece: Span, ledger: Ledger) -> None:
    """Several emptyings at one time must be one listed set; a single one that is not listed bars its entries only."""
    ledger.count(RULE)
    bearing = [out for out in outs if _of_full(scene, row, out.spaces)]
    empty = _of_full(scene, row, frozenset().union(*(out.spaces for out in bearing)))
    movable = [out for out in bearing if out.run.operation.movable]
    if len(bearing) < 2 or not movable or _listed(row, empty):
        return
    names = sorted(out.run.name for out in bearing)
    text = f"{', '.join(names)} together have {_set(empty)} empty, {piece}; {_under(row)} lists no such set."
    ledger.breach(RULE, text, other=", ".join(names), start=piece.start, end=piece.end, by=piece.length)


def _in_its_sea(scene: Scene, sky: Sky, out: Out, ledger: Ledger) -> None:
    bound = [out.span] if out.run.operation.movable else [
        piece for stay in scene.stays if stay.space.space in out.spaces and stay.opened
        for piece in shared_with(out.span, [stay.opened])
    ]  # fmt: skip
    for span in bound:
        ledger.count(RULE)
        for piece, words in _too_high(scene, sky, out, span):
            text = f"{out.run.name} has {_set(out.spaces)} empty, {piece}, {words}."
            ledger.breach(RULE, text, other=out.run.name, start=piece.start, end=piece.end, by=piece.length)


def _too_high(scene: Scene, sky: Sky, out: Out, span: Span) -> Iterator[tuple[Span, str]]:
    found: dict[str, list[Span]] = {}
    for hour in hours_of(span):
        for piece, leg in scene.leg_spans(Span(max(hour.start, span.start), min(hour.end, span.end))):
            row = _in_force(scene, piece.start)
            if (leg is not None and leg.kind == "berth") or not _of_full(scene, row, out.spaces):
                continue
            sea_m, limit_m = sky.sea_m(hour), row.sea_limit_m if row else None
            if sea_m is None:
                found.setdefault("and the sea is not forecast", []).append(piece)
            elif limit_m is None:
                found.setdefault(f"and {_under(row)} gives no limit of the sea", []).append(piece)
            elif sea_m > limit_m:
                found.setdefault(f"in a sea above the {limit_m:g} m of {_under(row)}", []).append(piece)
    for words, pieces in sorted(found.items()):
        yield from ((piece, words) for piece in union(pieces))


def _entered(scene: Scene, outs: list[Out], stay: Stay, ledger: Ledger) -> None:
    """People are only in a tank whose emptying, with all others of that time, is a listed set."""
    if stay.out_of_use is None:
        return
    ledger.count(RULE)
    bad: list[Span] = []
    for piece in _pieces(scene, outs):
        row, shared = _in_force(scene, piece.start), common(stay.out_of_use, piece)
        own = _of_full(scene, row, frozenset({stay.space.space}))
        now = frozenset().union(*(out.spaces for out in outs if common(out.span, piece)))
        if shared and own and _counts(scene, stay, row) and not _listed(row, _of_full(scene, row, now) | own):
            bad.append(shared)
    for span in union(bad):
        under = _under(_in_force(scene, span.start))
        text = f"{stay.name} has {stay.space.space} empty for {whole_minutes(span.length)} min, {span}; "
        ledger.breach(
            RULE, f"{text}{under} does not list what is empty then.",
            entry=stay.name, start=span.start, end=span.end, by=span.length,
        )  # fmt: skip


def _counts(scene: Scene, stay: Stay, row: Condition | None) -> bool:
    """With no row in force only a ballast space is taken to be one that should be full."""
    return row is not None or stay.space.kind in ("ballast tank", "peak tank")


def _set(spaces: frozenset[str]) -> str:
    return "+".join(sorted(spaces))


def _under(row: Condition | None) -> str:
    return f"condition '{row.condition}'" if row else "no condition"
