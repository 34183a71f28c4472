"""Nothing that blows out on deck may blow into a space that is open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from scheduler.check.deck import Spot, Wind, distance_m, downwind, on_cargo_deck
from scheduler.check.findings import Ledger, whole_minutes
from scheduler.check.scene import Run, Scene, Stay
from scheduler.check.ship_time import as_minutes, within
from scheduler.check.span import Span, common, hours_of, union
from scheduler.check.states import VAPOUR, States, solid, toxic
from scheduler.domain.ship import Opening

RULE: Final = "vapour"
COUNTS_AS_FLOW: Final = ("load", "purge", "gas-free", "tank wash", "vent down", "line blow", "gauging")
DISPLACING: Final = ("inert", "nitrogen", "transfer", "slops", "ballast in", "ballast exchange")
CARGO_KINDS: Final = ("cargo tank", "slop tank")
CLEAN_KINDS: Final = (
    "ballast tank", "peak tank", "void", "cofferdam", "stool", "duct keel", "chain locker", "fresh-water tank",
)  # fmt: skip
HELD_CLEAN: Final = ("clean and empty", "gas-free", "ballast", "fresh water")


@dataclass(frozen=True, kw_only=True)
class Source:
    """Something that blows out: where, when, how far it counts, and whether the wind carries it on."""

    name: str
    words: str
    spots: tuple[Spot, ...]
    span: Span
    reach_m: float
    large: bool


@dataclass(frozen=True, kw_only=True)
class Look:
    """The scene with its wind and its tanks."""

    scene: Scene
    wind: Wind
    states: States


def look(scene: Scene, wind: Wind, states: States, ledger: Ledger) -> None:
    """Hold every open space against every source on deck."""
    round_ = Look(scene=scene, wind=wind, states=states)
    shared = [*_of_operations(round_), *_of_breathing(round_)]
    exhausts = [(stay, _exhaust(round_, stay)) for stay in scene.stays]
    for stay in scene.stays:
        others = [source for other, source in exhausts if other is not stay and source is not None]
        for source in (*shared, *others):
            open_then = common(stay.opened, source.span) if stay.opened else None
            if open_then is not None:
                ledger.count(RULE)
                _reached(round_, stay, source, open_then, ledger)


def _reached(round_: Look, stay: Stay, source: Source, open_then: Span, ledger: Ledger) -> None:
    openings = round_.scene.openings.get(stay.space.space, ())
    found: dict[str, list[Span]] = {}
    if not openings:
        found["it has no opening on the list, so it counts as next to every outlet"] = [open_then]
    for opening in openings:
        for cause, pieces in _at_opening(round_, opening, source, open_then):
            found.setdefault(cause, []).extend(pieces)
    for cause, pieces in sorted(found.items()):
        for piece in union(pieces):
            text = f"{stay.name} is open for {whole_minutes(piece.length)} min while {source.words}: {cause} ({piece})."
            ledger.breach(
                RULE, text, entry=stay.name, other=source.name, start=piece.start, end=piece.end, by=piece.length
            )


def _at_opening(round_: Look, opening: Opening, source: Source, open_then: Span) -> Iterator[tuple[str, list[Span]]]:
    here = Spot(opening.x_m, opening.y_m)
    for spot in source.spots:
        apart = distance_m(here, spot)
        if apart is None:
            yield f"the distance to {opening.opening} is not known", [open_then]
        elif apart <= source.reach_m:
            yield f"{opening.opening} is {apart:.1f} m off, {source.reach_m:g} m at least", [open_then]
    if not source.large or not on_cargo_deck(round_.scene, opening):
        return
    for hour in hours_of(open_then):
        for piece, leg in round_.scene.leg_spans(Span(max(hour.start, open_then.start), min(hour.end, open_then.end))):
            air = round_.wind.air(hour, leg)
            if air.calm:
                yield f"the whole cargo deck counts, {air.calm}", [piece]
            elif any(downwind(spot, here, air) for spot in source.spots):
                yield f"{opening.opening} lies downwind", [piece]


def _of_operations(round_: Look) -> Iterator[Source]:
    scene = round_.scene
    for run in scene.runs:
        if not _flows(round_, run):
            continue
        cargoes = {run.operation.cargo} if run.operation.cargo else {
            round_.states.before(space, run.span.start).cargo for space in run.operation.spaces
        }  # fmt: skip
        poison = not cargoes or any(toxic(scene, cargo) for cargo in cargoes)
        yield Source(
            name=run.name, words=f"{run.kind} {run.name} sends {'toxic ' if poison else ''}vapour to outlets",
            spots=_outlets(scene, run.operation.spaces), span=_lingering(scene, run.span),
            reach_m=scene.policy.number("vapour.toxic_m" if poison else "vapour.reach_m"), large=True,
        )  # fmt: skip


def _flows(round_: Look, run: Run) -> bool:
    told, kind = run.operation.vapour, run.kind
    if told is not None:
        return told == "to outlets"
    if kind in COUNTS_AS_FLOW:
        return True
    tanks = [s for s in run.operation.spaces if s in round_.scene.spaces and _is_cargo(round_.scene, s)]
    if kind in ("ballast in", "ballast exchange"):
        before = (round_.states.before(tank, run.span.start) for tank in tanks)
        return any(state.name not in HELD_CLEAN for state in before)
    return kind in DISPLACING and bool(tanks)


def _is_cargo(scene: Scene, space: str) -> bool:
    return scene.spaces[space].kind in CARGO_KINDS


def _outlets(scene: Scene, tanks: tuple[str, ...], *, breathing: bool = False) -> tuple[Spot, ...]:
    """Where the vapour of these tanks comes out; a tank without an outlet blows everywhere."""
    spots: list[Spot] = []
    places = {outlet.outlet: outlet for outlet in scene.folder.outlets}
    for tank in tanks or ("",):
        joined = [places.get(row.outlet) for row in scene.folder.outlet_tanks if row.space == tank]
        if not joined:
            spots.append(Spot(None, None))
        for outlet in joined:
            if outlet is None:
                spots.append(Spot(None, None))
            elif not breathing or outlet.small_flow:
                spots.append(Spot(outlet.x_m, outlet.y_m))
    return tuple(sorted(set(spots), key=str))


def _of_breathing(round_: Look) -> Iterator[Source]:
    """Warm tanks breathe by day, at sea and at anchor, through the outlets that let them; solids give off nothing."""
    scene, policy = round_.scene, round_.scene.policy
    by_day = as_minutes(policy.pairs("vapour.breathing"))
    at_sea = [piece for piece, leg in scene.leg_spans(scene.week) if leg is None or leg.kind != "berth"]
    hours = [piece for span in at_sea for piece in scene.clock.stretches(span, lambda shown: within(by_day, shown))]
    for tank in sorted(scene.spaces):
        spots = _outlets(scene, (tank,), breathing=True)
        for span, state in round_.states.spans(tank):
            if state.name not in VAPOUR or not spots or solid(scene, state.cargo):
                continue
            poison = toxic(scene, state.cargo)
            reach_m = policy.number("vapour.toxic_m" if poison else "vapour.small_m")
            for hour in hours:
                breathes = common(span, hour)
                if breathes is not None:
                    yield Source(
                        name=tank, words=f"{tank} breathes{' toxic vapour' if poison else ''}", spots=spots,
                        span=_lingering(scene, breathes) if poison else breathes, reach_m=reach_m, large=poison,
                    )  # fmt: skip


def _exhaust(round_: Look, stay: Stay) -> Source | None:
    """What the fans blow out of a space, at each of its openings."""
    if stay.fans_on is None:
        return None
    scene, space = round_.scene, stay.space
    held = {state.name for _, state in round_.states.spans(space.space)}
    clean = space.kind in CLEAN_KINDS and held <= {*HELD_CLEAN, "unknown"} and _known(round_, space.space)
    clean = clean and stay.entry.work != "coat"
    cargo = round_.states.at(space.space, stay.fans_on.start).cargo
    poison = not clean and space.kind in CARGO_KINDS and toxic(scene, cargo)
    reach = "vapour.own_exhaust_m" if clean else "vapour.toxic_m" if poison else "vapour.reach_m"
    spots = tuple(Spot(opening.x_m, opening.y_m) for opening in scene.openings.get(space.space, ()))
    return Source(
        name=stay.name, words=f"fans blow out of {space.space} for {stay.name}", spots=spots or (Spot(None, None),),
        span=stay.fans_on if clean else _lingering(scene, stay.fans_on),
        reach_m=scene.policy.number(reach), large=not clean,
    )  # fmt: skip


def _known(round_: Look, space: str) -> bool:
    """Unknown only while an operation is under way, never as the folder's word for the space."""
    given = [content.state for content in round_.scene.folder.contents if content.space == space]
    return bool(given) and given[0] != "unknown"


def _lingering(scene: Scene, span: Span) -> Span:
    return Span(span.start, span.end + scene.length("vapour.after_min"))
