"""The tables of ship/: what changes once a year."""

from __future__ import annotations

from typing import Final

from scheduler.domain.policy import KEYS, Key
from scheduler.inputs.columns import (
    MOST,
    Column,
    Kind,
    Table,
    day,
    ident,
    number,
    reference,
    special,
    text,
    whole,
    word,
    words,
    yes_no,
)

SHIP_KINDS: Final = ("tanker", "bulk carrier", "gas carrier", "other")
SPACE_KINDS: Final = (
    "cargo tank", "slop tank", "ballast tank", "peak tank", "fuel tank", "fresh-water tank", "void", "cofferdam",
    "stool", "pump room", "duct keel", "hold", "chain locker", "other",
)  # fmt: skip
AREAS: Final = ("cargo", "machinery", "forward", "accommodation", "other")
CONTACTS: Final = ("opening", "bulkhead", "edge", "corner")
"""Closest first."""
POINTS: Final = (
    "pipe", "joint", "sea chest", "manifold", "pump", "header", "main", "fixed fan", "blind end",
)  # fmt: skip
"""How the name of a point begins that is no space."""
DEVICES: Final = ("pipe", "valve", "non-return valve", "removable piece", "spectacle blank")
INSTRUMENTS: Final = ("gas instrument", "personal meter")
GEAR_KINDS: Final = (
    "fan", *INSTRUMENTS, "breathing set", "resuscitator", "lifting gear", "lamp", "radio",
)  # fmt: skip
MEASURES: Final = ("oxygen", "lfl", "co2", "h2s", "co", "hydrocarbon", "other")

_X = "metres forward of the aft perpendicular"
_Y = "metres to port of the centre line, starboard negative"
_Z = "metres above the keel"
_BY_HEIGHTS = "the sea is judged by policy's wave heights"
_NO_PLACE = "no place: the worst holds"


def _x(blank: str) -> Column:
    return number("x_m", _X, blank, least=-30, most=500)


def _y(blank: str) -> Column:
    return number("y_m", _Y, blank, least=-50, most=50)


def _z(blank: str) -> Column:
    return number("z_m", _Z, blank, least=-5, most=90)


SHIP: Final = Table(
    name="ship", folder="ship", key_value=True, meaning="main particulars",
    columns=(
        text("name", "the ship's name"),
        word("type", SHIP_KINDS, "gas carriers count as tankers"),
        number("length_m", "length between perpendiculars [m]", above=20, most=500),
        number("beam_m", "breadth [m]", above=4, most=90),
        number("block_coefficient", "block coefficient", _BY_HEIGHTS, above=0.3, most=1),
        number("waterplane_coefficient", "waterplane coefficient", _BY_HEIGHTS, above=0.3, most=1),
        number("service_speed_kn", "service speed [kn]", above=0, most=40),
        number("greatest_speed_kn", "greatest speed [kn]", above=0, most=40),
        number("least_speed_kn", "least speed at which she steers [kn]", above=0, most=40),
        number("hove_to_speed_kn", "speed through the water when hove to [kn]", least=0, most=15),
        special("barred_speeds_kn", Kind.BANDS, "speeds that the engine may not hold [kn], pairs from-to", "none"),
        number("engine_notice_min", "notice that the engine wants [min]", "policy decides", least=0, most=1440),
        number("deck_z_m", "the weather deck above the keel [m]", "unknown", above=0, most=60),
    ),
)  # fmt: skip

FUEL: Final = Table(
    name="fuel", folder="ship", inside="ship", key=("speed_kn",), meaning="rows `[[fuel]]` of ship.toml",
    columns=(
        number("speed_kn", "speed through the water [kn]", above=0, most=40),
        number("t_per_day", "fuel at that speed [t/day]", least=0, most=1000),
    ),
)  # fmt: skip

SPACES: Final = Table(
    name="spaces", folder="ship", key=("space",), meaning="every enclosed space; the only source of their ids",
    columns=(
        ident("space", "id of the space"),
        text("name", "as the crew call it"),
        word("kind", SPACE_KINDS, "what it is: decides its profile"),
        word("area", AREAS, "where it lies"),
        word("in_charge", ("deck", "engine"), "the department that is in charge of it"),
        number("volume_m3", "volume [m³]", "unknown: `air` refuses the entry", above=0, most=300000),
        number("depth_m", "depth [m]", "unknown: counts as deep", above=0, most=60),
        word("framing", ("open", "moderate", "heavy"), "how much stands in the way of air", "heavy"),
        word("reach", ("hose", "proving session"), "whether a hose can test it throughout", "proving session"),
        yes_no("dangerous", "whether it counts as dangerous", "by its kind"),
        yes_no("air_reaches_bottom", "whether ducted air reaches its bottom", "no"),
        text("rescue_note", "what rescuers must know", "nothing noted"),
        _x("unknown"),
        _y("unknown"),
    ),
)  # fmt: skip

NEIGHBOURS: Final = Table(
    name="neighbours", folder="ship", key=("space", "neighbour", "contact"),
    meaning="what touches what, stated once; a space in no row is next to all",
    columns=(
        reference("space", "spaces", "a space"),
        reference("neighbour", "spaces", "the space that it touches"),
        word("contact", CONTACTS, "opening: a door, hatch, trunk or unsealed pipe joins them"),
    ),
)  # fmt: skip

OPENINGS: Final = Table(
    name="openings", folder="ship", key=("opening",), meaning="the ways in",
    columns=(
        ident("opening", "id of the opening"),
        reference("space", "spaces", "the space that it leads into"),
        word("kind", ("manhole", "hatch", "door", "ventilator", "air pipe"), "what it is"),
        _x(_NO_PLACE), _y(_NO_PLACE), _z(_NO_PLACE),
        yes_no("on_weather_deck", "whether it lies on the weather deck"),
        number("clear_mm", "least clear width [mm]", "unknown", above=0, most=20000),
        word("lifting", ("tripod", "davit", "none"), "lifting gear that stands over it", "none"),
    ),
)  # fmt: skip

OUTLETS: Final = Table(
    name="outlets", folder="ship", key=("outlet",), meaning="where cargo-tank vapour reaches the deck",
    columns=(
        ident("outlet", "id of the outlet"),
        word("kind", ("high velocity", "free flow"), "how it lets vapour out"),
        _x("it blows everywhere"), _y("it blows everywhere"), _z("unknown"),
        yes_no("small_flow", "yes: it also breathes"),
    ),
)  # fmt: skip

OUTLET_TANKS: Final = Table(
    name="outlet_tanks", folder="ship", key=("outlet", "space"), meaning="whose vapour leaves by which outlet",
    columns=(
        reference("outlet", "outlets", "the outlet"),
        reference("space", "spaces", "the space joined to it"),
    ),
)  # fmt: skip

LINES: Final = Table(
    name="lines", folder="ship", key=("device_id",), meaning="the piping as a graph, one device a row",
    columns=(
        special("point", Kind.POINT, "a space, or a named point", of=("points",)),
        special("to_point", Kind.POINT, "the point at the other side of the device", of=("points",)),
        word("device", DEVICES, "what stands between them"),
        ident("device_id", "id of the device, as on its tag", "a plain pipe only"),
        yes_no("lockable", "whether it can be locked", "no"),
        word("worked_from", ("deck", "engine room", "cargo control"), "where it is worked from", "unknown"),
    ),
)  # fmt: skip

GEAR: Final = Table(
    name="gear", folder="ship", key=("gear",), meaning="portable gear; instruments and meters one row each",
    columns=(
        ident("gear", "id of the gear"),
        word("kind", GEAR_KINDS, "what it is"),
        whole("count", "how many; 1 for instruments and meters", least=1, most=1000),
        number("flow_m3_h", "free flow of one fan [m³/h]", "unknown", above=0, most=500000),
        number("duct_m", "ducting for each fan [m]", "unknown", least=0, most=500),
        word("drive", ("air", "water", "electric"), "what drives it", "unknown"),
        words("measures", MEASURES, "what an instrument measures", "nothing"),
        day("due", "last date on which it may be used", "no date; never blank for instruments and meters"),
    ),
)  # fmt: skip


def _policy_column(key: Key) -> Column:
    source = key.source.text or key.source.kind.value
    meaning, blank = f"{key.meaning}; {source}", "the default holds"
    most = MOST if key.most is None else key.most
    match key.default:
        case int():
            return Column(name=key.name, kind=Kind.WHOLE, meaning=meaning, blank=blank, least=key.least, most=most)
        case float():
            return Column(name=key.name, kind=Kind.NUMBER, meaning=meaning, blank=blank, least=key.least, most=most)
        case str():
            return word(key.name, key.allowed, meaning, blank)
        case tuple():
            pairs = any(isinstance(part, tuple) for part in key.default)
            return special(key.name, Kind.HOURS if pairs else Kind.REST_DAYS, meaning, blank)


POLICY: Final = Table(
    name="policy", folder="ship", key_value=True, meaning="the limits of the company's safety management system",
    columns=tuple(_policy_column(key) for key in KEYS),
)  # fmt: skip

SHIP_TABLES: Final = (
    SHIP, FUEL, SPACES, NEIGHBOURS, OPENINGS, OUTLETS, OUTLET_TANKS, LINES, GEAR, POLICY,
)  # fmt: skip
