"""The ship: what changes once a year.

Ship's coordinates: x metres forward of the aft perpendicular, y metres to port of the centre line,
z metres above the keel.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from scheduler.domain.source import Origin


@dataclass(frozen=True, kw_only=True, slots=True)
class FuelRow:
    """One row of the ship's fuel table: tonnes a day at a speed through the water."""

    speed_kn: float
    t_per_day: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Ship:
    """Main particulars; `kind` is tanker, bulk carrier, gas carrier or other. None: not given."""

    name: str
    kind: str
    length_m: float
    beam_m: float
    block_coefficient: float | None = None
    waterplane_coefficient: float | None = None
    service_speed_kn: float
    greatest_speed_kn: float
    least_speed_kn: float
    hove_to_speed_kn: float
    barred_speeds_kn: tuple[tuple[float, float], ...] = ()
    engine_notice_min: int | None = None
    deck_z_m: float | None = None
    fuel: tuple[FuelRow, ...] = ()

    @property
    def is_tanker(self) -> bool:
        """True for tankers; gas carriers count as tankers."""
        return self.kind in ("tanker", "gas carrier")


@dataclass(frozen=True, kw_only=True, slots=True)
class Space:
    """One enclosed space. `dangerous` None: judged by kind. Unknown figures are None and count as worst."""

    space: str
    name: str
    kind: str
    area: str
    in_charge: str
    volume_m3: float | None = None
    depth_m: float | None = None
    framing: str | None = None
    reach: str | None = None
    dangerous: bool | None = None
    air_reaches_bottom: bool | None = None
    rescue_note: str = ""
    x_m: float | None = None
    y_m: float | None = None
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Contact:
    """Two spaces that touch: by bulkhead, edge, corner or opening. Stated once, holds both ways."""

    space: str
    neighbour: str
    contact: str
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Opening:
    """A way in: manhole, hatch, door, ventilator, air pipe."""

    opening: str
    space: str
    kind: str
    x_m: float | None = None
    y_m: float | None = None
    z_m: float | None = None
    on_weather_deck: bool
    clear_mm: float | None = None
    lifting: str = "none"
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Outlet:
    """An opening through which cargo-tank vapour reaches the deck. No place: it blows everywhere."""

    outlet: str
    kind: str
    x_m: float | None = None
    y_m: float | None = None
    z_m: float | None = None
    small_flow: bool
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class OutletTank:
    """A space whose vapour leaves by an outlet."""

    outlet: str
    space: str
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Pipe:
    """One edge of the piping graph: two points and the device between them."""

    point: str
    to_point: str
    device: str
    device_id: str
    lockable: bool
    worked_from: str
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Gear:
    """Portable gear; `flow_m3_h` is the free flow of one, `duct_m` the ducting for each."""

    gear: str
    kind: str
    count: int
    flow_m3_h: float | None = None
    duct_m: float | None = None
    drive: str | None = None
    measures: tuple[str, ...] = ()
    due: date | None = None
    """The last date (ship's time) on which it may be used."""
    origin: Origin = Origin()
