"""All rows of a folder as one record of the domain. The rows have no faults when this is reached."""

from __future__ import annotations

from collections.abc import Mapping

from scheduler.domain.folder import VoyageFolder
from scheduler.inputs import ship_records as ship
from scheduler.inputs import week_records as week
from scheduler.inputs.rows import Row
from scheduler.times import ShipClock


def records_of(rows: Mapping[str, tuple[Row, ...]], clock: ShipClock) -> VoyageFolder:
    """Every record, in the order of its key; legs in the order of time."""
    this_week = week.week_of(rows["week"][0])
    return VoyageFolder(
        ship=ship.ship_of(rows["ship"][0], rows["fuel"]),
        spaces=tuple(map(ship.space_of, rows["spaces"])),
        neighbours=ship.contacts_of(rows["neighbours"]),
        openings=tuple(map(ship.opening_of, rows["openings"])),
        outlets=tuple(map(ship.outlet_of, rows["outlets"])),
        outlet_tanks=tuple(map(ship.outlet_tank_of, rows["outlet_tanks"])),
        lines=tuple(map(ship.pipe_of, rows["lines"])),
        gear=tuple(map(ship.gear_of, rows["gear"])),
        policy=ship.policy_of(rows["policy"][0], rows["week"][0]),
        people=tuple(map(ship.person_of, rows["people"])),
        duties=tuple(duty for row in rows["duties"] for duty in ship.duties_of(row, clock, this_week)),
        past_hours=tuple(map(ship.past_hours_of, rows["past_hours"])),
        week=this_week,
        clocks=tuple(map(week.clock_step_of, rows["clocks"])),
        legs=tuple(sorted(map(week.leg_of, rows["voyage"]), key=lambda leg: leg.start)),
        places=tuple(map(week.place_of, rows["places"])),
        permissions=tuple(map(week.permission_of, rows["permissions"])),
        conditions=tuple(map(week.condition_of, rows["conditions"])),
        contents=tuple(map(week.content_of, rows["contents"])),
        cargoes=tuple(map(week.cargo_of, rows["cargoes"])),
        operations=tuple(map(week.operation_of, rows["operations"])),
        entries=tuple(map(week.entry_of, rows["entries"])),
        coatings=tuple(map(week.coating_of, rows["coatings"])),
        visitors=tuple(map(week.visitor_of, rows["visitors"])),
        weather=tuple(map(week.forecast_of, rows["weather"])),
        readings=tuple(map(week.reading_of, rows["readings"])),
        progress=tuple(map(week.progress_of, rows["progress"])),
    )
