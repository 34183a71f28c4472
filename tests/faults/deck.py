"""Faults in what blows out on deck while a space is open."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Content
from scheduler.domain.plan import Plan, PlannedEntry
from scheduler.domain.ship import Outlet, OutletTank
from tests.faults.breaking import (
    HOUR,
    Broken,
    a_run,
    fault,
    moved,
    of_entry,
    opened,
    planned,
    with_operation,
)


@of_entry("vapour")
def an_outlet_blowing_within_ten_metres(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    x_m, y_m = _manhole(folder, entry)
    tank, start = _cargo_tank(folder, entry), opened(entry)[0] + HOUR
    run = a_run("gas-free", start, start + HOUR, vapour="to outlets", spaces=(tank,), cargo=_harmless(folder))
    near = _outlet_at(folder, x_m + 9.9, y_m, tank)
    extra, broken = with_operation(near, plan, run, start, start + HOUR)
    # One hour of gas-freeing and the half hour after it.
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=90, start=start, says="9.9 m off")


@of_entry("vapour")
def a_toxic_outlet_within_fifteen_metres(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    x_m, y_m = _manhole(folder, entry)
    tank, start = _cargo_tank(folder, entry), opened(entry)[0] + HOUR
    run = a_run("load", start, start + HOUR, vapour=None, spaces=(tank,), cargo="no such cargo")
    near = _outlet_at(folder, x_m, y_m + 14.9, tank)
    extra, broken = with_operation(near, plan, run, start, start + HOUR)
    return Broken(
        folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=90, start=start, says="sends toxic vapour"
    )


@of_entry("vapour", lambda folder, entry: _on_weather_deck(folder, entry))
def an_outlet_upwind(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    x_m, y_m = _manhole(folder, entry)
    tank, start = _cargo_tank(folder, entry), opened(entry)[0] + HOUR
    run = a_run("tank wash", start, start + HOUR, vapour="to outlets", spaces=(tank,), cargo=_harmless(folder))
    # A gale from right ahead carries aft whatever her speed; hove to she lies with her bow into it too.
    gale = tuple(
        replace(row, wind_kn=40.0, wind_from_deg=_course(plan), gust_kn=45.0, wave_from_deg=_course(plan),
                wave_height_m=row.swell_height_m)
        for row in folder.weather
    )  # fmt: skip
    far = _outlet_at(replace(folder, weather=gale), x_m + 60.0, y_m, tank)
    extra, broken = with_operation(far, plan, run, start, start + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=90, says="lies downwind")


@of_entry("vapour", lambda folder, entry: _on_weather_deck(folder, entry))
def an_outlet_in_calm_air(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    x_m, y_m = _manhole(folder, entry)
    tank, start = _cargo_tank(folder, entry), opened(entry)[0] + HOUR
    run = a_run("purge", start, start + HOUR, vapour="to outlets", spaces=(tank,), cargo=_harmless(folder))
    calm = tuple(replace(row, wind_kn=0.5, gust_kn=0.6) for row in folder.weather)
    far = _outlet_at(replace(folder, weather=calm), x_m - 60.0, y_m, tank)
    extra, broken = with_operation(far, plan, run, start, start + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=90, says="whole cargo deck")


@of_entry("vapour", lambda folder, entry: _on_weather_deck(folder, entry))
def an_outlet_in_air_that_nobody_forecasts(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    x_m, y_m = _manhole(folder, entry)
    tank, start = _cargo_tank(folder, entry), opened(entry)[0] + HOUR
    run = a_run("vent down", start, start + HOUR, vapour=None, spaces=(tank,), cargo=_harmless(folder))
    far = _outlet_at(replace(folder, weather=()), x_m - 60.0, y_m, tank)
    extra, broken = with_operation(far, plan, run, start, start + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=90, says="no wind is forecast")


@of_entry("vapour")
def a_tank_without_an_outlet_blows_everywhere(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    tank, start = _cargo_tank(folder, entry), opened(entry)[0] + HOUR
    run = a_run("line blow", start, start + HOUR, vapour=None, spaces=(tank,), cargo=_harmless(folder))
    none = replace(folder, outlet_tanks=tuple(row for row in folder.outlet_tanks if row.space != tank))
    extra, broken = with_operation(none, plan, run, start, start + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=90, says="is not known")


@of_entry("vapour")
def a_tank_that_breathes_beside_a_manhole(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    x_m, y_m = _manhole(folder, entry)
    tank = _cargo_tank(folder, entry)
    contents = (
        *(c for c in folder.contents if c.space != tank),
        Content(space=tank, state="cargo", cargo=_harmless(folder)),
    )
    near = _outlet_at(replace(folder, contents=contents), x_m, y_m + 4.9, tank)
    return Broken(folder=near, plan=plan, entry=entry.entry, other=tank, says="4.9 m off, 5 m at least")


@fault("vapour")
def fans_that_blow_onto_another_open_manhole(folder: VoyageFolder, plan: Plan) -> Broken | None:
    stays = list(planned(plan))
    if len(stays) < 2:
        return None
    one, two = stays[0], stays[1]
    x_m, y_m = _manhole(folder, one)
    openings = tuple(replace(o, x_m=x_m + 2.9, y_m=y_m) if o.space == two.space else o for o in folder.openings)
    gone = moved(plan, two, opened(one)[0] - opened(two)[0])
    return Broken(
        folder=replace(folder, openings=openings), plan=gone, entry=one.entry, other=two.entry, says="fans blow out of"
    )


def _outlet_at(folder: VoyageFolder, x_m: float, y_m: float, tank: str) -> VoyageFolder:
    """The folder with one outlet more, of one tank."""
    outlet = Outlet(outlet="X", kind="free flow", x_m=x_m, y_m=y_m, z_m=14.0, small_flow=True)
    return replace(
        folder,
        outlets=(*folder.outlets, outlet),
        outlet_tanks=(*(row for row in folder.outlet_tanks if row.space != tank), OutletTank(outlet="X", space=tank)),
    )


def _cargo_tank(folder: VoyageFolder, entry: PlannedEntry) -> str:
    return next(s.space for s in folder.spaces if s.kind == "cargo tank" and s.space != entry.space)


def _manhole(folder: VoyageFolder, entry: PlannedEntry) -> tuple[float, float]:
    found = next(o for o in folder.openings if o.space == entry.space)
    return found.x_m or 0.0, found.y_m or 0.0


def _harmless(folder: VoyageFolder) -> str:
    return next(cargo.cargo for cargo in folder.cargoes if cargo.toxic is False)


def _on_weather_deck(folder: VoyageFolder, entry: PlannedEntry) -> bool:
    found = next((o for o in folder.openings if o.space == entry.space), None)
    passage = any(leg.kind == "passage" and leg.start <= opened(entry)[0] < leg.end for leg in folder.legs)
    return found is not None and found.on_weather_deck and passage and _area(folder, entry) in ("cargo", "forward")


def _area(folder: VoyageFolder, entry: PlannedEntry) -> str:
    return next(space.area for space in folder.spaces if space.space == entry.space)


def _course(plan: Plan) -> float:
    return plan.speeds[0].heading_deg
