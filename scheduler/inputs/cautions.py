"""What is missing and takes the worst: said once, with the row to add."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise
from typing import Final

from scheduler.inputs.duties import spans_of
from scheduler.inputs.names import look, nearest, normal
from scheduler.inputs.rows import Row
from scheduler.inputs.voyage_rows import VoyageRows
from scheduler.times import zulu

_WITH_OUTLET: Final = ("cargo tank", "slop tank")
_HOLDING: Final = ("cargo", "residue", "empty with vapour", "inerted", "nitrogen padded", "fumigated")
_CARGO_FIGURES: Final = ("toxic", "uses_oxygen", "lfl_percent", "exposure_limit_ppm", "flash_c", "vapour_density")


def _listed(names: Iterable[str]) -> str:
    return ", ".join(sorted(set(names)))


def _at(row: Row) -> str:
    return f"{row.table}, row {row.row}"


def _absent(table: str, names: Iterable[str], worst: str) -> Iterator[str]:
    """One line for all names that have no row in a table."""
    if found := _listed(names):
        yield f"{table}: no row for {found}; {worst}"


def about_spaces(voyage: VoyageRows) -> Iterator[str]:
    """Spaces of which the tables do not say enough."""
    kinds = {row.text("space"): row.text("kind") for row in voyage.of("spaces")}
    touching = {row.text(column) for row in voyage.of("neighbours") for column in ("space", "neighbour")}
    yield from _absent("neighbours", kinds.keys() - touching, "it counts as next to all")
    yield from _absent("contents", kinds.keys() - _in(voyage, "contents"), "its state counts as unknown")
    yield from _absent("openings", kinds.keys() - _in(voyage, "openings"), "it counts as next to every outlet")
    tanks = {space for space, kind in kinds.items() if kind in _WITH_OUTLET}
    yield from _absent("outlet_tanks", tanks - _in(voyage, "outlet_tanks"), "it blows everywhere")
    for row in voyage.of("outlets"):
        if not row.reads("x_m", "y_m"):
            yield f"{_at(row)}: {row.text('outlet')} has no place; it blows everywhere"
    wanted = {row.text("space") for row in voyage.of("entries")}
    for row in voyage.of("spaces"):
        if row.text("space") in wanted and not row.reads("volume_m3"):
            yield f"{_at(row)}: {row.text('space')} has no volume; its entries are refused"


def _in(voyage: VoyageRows, table: str) -> set[str]:
    return {row.text("space") for row in voyage.of(table)}


def about_piping(voyage: VoyageRows) -> Iterator[str]:
    """Stretches of pipe that lead nowhere on paper."""
    spaces = {row.text("space") for row in voyage.of("spaces")}
    ends = Counter(row.text(column) for row in voyage.of("lines") for column in ("point", "to_point"))
    loose = [point for point, count in ends.items() if count == 1 and point not in spaces]
    loose = [point for point in loose if normal(point).startswith(("pipe", "joint"))]
    if loose:
        yield f"lines: only one device joins {_listed(loose)}; where it leads is not known, so it counts as a source"


def about_cargo(voyage: VoyageRows) -> Iterator[str]:
    """Cargoes without figures."""
    known = [row.text("cargo") for row in voyage.of("cargoes")]
    for table in ("contents", "operations"):
        for name in sorted({row.text("cargo") for row in voyage.of(table) if row.reads("cargo")} - set(known)):
            near = nearest(name, known)
            hint = f" (nearest known: {near})" if near else ""
            yield f"cargoes: no row for {name}, which {table} names; it counts as toxic{hint}"
    for row in voyage.of("cargoes"):
        if blank := [name for name in _CARGO_FIGURES if not row.reads(name)]:
            yield f"{_at(row)}: {row.text('cargo')} has no {', '.join(blank)}; the cautious value holds"
    for row in voyage.of("contents"):
        if row.text("state") in _HOLDING and not row.reads("cargo"):
            yield f"{_at(row)}: {row.text('space')} is {row.text('state')} of no named cargo; it counts as toxic"


def about_legs(voyage: VoyageRows) -> Iterator[str]:
    """Hours of the week in no leg, legs without a position, places that say nothing."""
    if voyage.span is None:
        return
    start, end = voyage.span
    legs = sorted((row.time("start"), row.time("end")) for row in voyage.of("voyage"))
    edges = [(start, start), *(leg for leg in legs if leg[1] > start and leg[0] < end), (end, end)]
    for (_, before), (after, _) in pairwise(edges):
        if before < after:
            yield f"voyage: no leg from {zulu(before)} to {zulu(after)}; where the ship is then is not known"
    known = {normal(row.text("place")) for row in voyage.of("places")}
    for row in voyage.of("voyage"):
        if not row.reads("from_lat", "from_lon"):
            yield f"{_at(row)}: {row.text('leg')} has no position; it has no weather basis and no daylight"
        if row.text("kind") in ("berth", "anchorage") and normal(row.text("place")) not in known:
            yield f"places: no row for {row.text('place')} ({_at(row)}); everything is to be asked for"


def about_work(voyage: VoyageRows) -> Iterator[str]:
    """Operations without an end, conditions that nobody signed."""
    for row in voyage.of("operations"):
        if row.reads("start") and not row.reads("end"):
            yield f"{_at(row)}: {row.text('operation')} has no end; it runs until the week's end"
    for row in voyage.of("conditions"):
        if blank := [name for name in ("checked_with", "checked_by") if not row.reads(name)]:
            yield f"{_at(row)}: {row.text('condition')} has no {', '.join(blank)}; nobody vouches for it"


def about_people(voyage: VoyageRows) -> Iterator[str]:
    """People named alike, without a drill, without a past; duties outside the week."""
    seen: dict[str, Row] = {}
    for row in voyage.of("people"):
        name = " ".join(sorted(look(row.text("name")).replace(",", " ").replace(".", " ").split()))
        other = seen.setdefault(name, row)
        if other is not row:
            yield f"{_at(row)}: {row.text('person')} is named like {other.text('person')}; one person under two ids?"
        if row.reads("able") and not row.reads("last_drill"):
            yield f"{_at(row)}: {row.text('person')} has no last_drill; not assignable"
    worked = {row.text("person") for row in voyage.of("past_hours")}
    able = {row.text("person") for row in voyage.of("people") if row.reads("able") and not row.reads("joins")}
    yield from _absent("past_hours", able - worked, "their rest before the week is unknown")
    for row in voyage.of("duties"):
        if voyage.span and not spans_of(row, voyage.clock, voyage.span):
            yield f"{_at(row)}: this duty never touches the week"


def about_weather(voyage: VoyageRows) -> Iterator[str]:
    """Hours without a forecast."""
    if voyage.span is None:
        return
    rows = voyage.of("weather")
    newest = max((row.time("issued") for row in rows), default=None)
    last = max((row.time("time") for row in rows if row.time("issued") == newest), default=None)
    if last is None:
        yield "weather: no row; the whole week has no weather basis"
    elif last < voyage.span[1]:
        yield f"weather: the newest forecast ends at {zulu(last)}; later hours have no weather basis"


ABOUT: Final[tuple[Callable[[VoyageRows], Iterator[str]], ...]] = (
    about_spaces,
    about_piping,
    about_cargo,
    about_legs,
    about_work,
    about_people,
    about_weather,
)


def cautions(voyage: VoyageRows) -> tuple[str, ...]:
    """Every caution of reading; the rows have no faults when this is asked."""
    return tuple(caution for about in ABOUT for caution in about(voyage))
