"""Tables of week/ that say what the ship does, what is in her, and what is asked for inside her."""

from __future__ import annotations

from typing import Final

from scheduler.inputs.columns import (
    Column,
    Kind,
    Table,
    ident,
    named,
    number,
    reference,
    references,
    special,
    text,
    time,
    whole,
    word,
    yes_no,
)
from scheduler.inputs.crew_tables import ABILITIES

STATES: Final = (
    "clean and empty", "ballast", "fresh water", "fuel", "cargo", "residue", "empty with vapour", "inerted",
    "nitrogen padded", "fumigated", "gas-free", "unknown",
)  # fmt: skip
ON_SPACES: Final = (
    "load", "discharge", "ballast in", "ballast out", "ballast exchange", "tank wash", "purge", "gas-free", "inert",
    "transfer", "top up", "nitrogen", "line blow", "vent down", "gauging", "slops", "bunkering",
)  # fmt: skip
"""Kinds of operation that must name their spaces."""
OPERATION_KINDS: Final = (
    *ON_SPACES, "pilotage", "canal", "stores", "stations", "restricted waters", "drill", "entry drill", "power test",
    "helicopter", "visit", "other",
)  # fmt: skip
WORKS: Final = ("inspect", "measure", "clean by hand", "repair", "coat", "hot work", "other")
EVENTS: Final = (
    "isolated", "opened", "fans on", "fans off", "tested", "in", "out", "stopped", "closed", "restored", "started",
    "ended",
)  # fmt: skip

_CAUTIOUS = "the cautious value, with a caution"


def _share(name: str, meaning: str, blank: str) -> Column:
    return number(name, meaning, blank, least=0, most=100)


CONDITIONS: Final = Table(
    name="conditions", folder="week", key=("condition",), meaning="loading conditions worked on the instrument",
    columns=(
        ident("condition", "id of the condition"),
        time("start", "in force from"),
        time("end", "in force until"),
        number("draught_fwd_m", "draught forward [m]", "unknown", above=0, most=40),
        number("draught_aft_m", "draught aft [m]", "unknown", above=0, most=40),
        number("displacement_t", "displacement [t]", "unknown", above=0, most=1_000_000),
        number("gm_m", "metacentric height, free surfaces taken off [m]", "unknown", above=-5, most=50),
        number("kg_m", "centre of gravity above the keel [m]", "unknown", above=0, most=60),
        number("roll_period_s", "observed roll period [s]", "unknown", above=0, most=120),
        references("full", ("spaces",), "spaces that the condition has full", "none"),
        special(
            "may_be_empty", Kind.SETS, "sets of them that may be empty together: `4P+4S; 5P+5S`",
            "nothing that is full may be emptied", of=("spaces",),
        ),
        number("sea_limit_m", "significant sea up to which they may be empty [m]", "no limit given", least=0, most=15),
        text("checked_with", "what it was worked on", "not said: a caution"),
        text("checked_by", "the officer who worked it", "not said: a caution"),
        time("checked_at", "when", "not said"),
    ),
)  # fmt: skip

CONTENTS: Final = Table(
    name="contents", folder="week", key=("space",), meaning="what is in the spaces as the week begins; no row: unknown",
    columns=(
        reference("space", "spaces", "the space"),
        word("state", STATES, "its state"),
        named("cargo", "cargoes", "the cargo in it, or last in it", "unknown: counts as toxic"),
        number("temp_c", "temperature [°C]", "unknown", least=-200, most=250),
        time("closed_since", "shut since", "unknown: closed long"),
    ),
)  # fmt: skip

CARGOES: Final = Table(
    name="cargoes", folder="week", key=("cargo",), meaning="properties of the cargoes; a cargo without a row is toxic",
    columns=(
        ident("cargo", "id of the cargo"),
        word("kind", ("liquid", "solid", "gas"), "gas: a liquefied gas"),
        special("cas", Kind.CAS, "CAS number", "not given"),
        yes_no("toxic", "toxic", _CAUTIOUS),
        yes_no("uses_oxygen", "uses up oxygen", _CAUTIOUS),
        number("lfl_percent", "lower flammable limit [% vol]", _CAUTIOUS, above=0, most=100),
        number("exposure_limit_ppm", "exposure limit [ppm]", _CAUTIOUS, above=0, most=1_000_000),
        number("flash_c", "flash point [°C]", _CAUTIOUS, least=-200, most=500),
        number("vapour_density", "vapour density (air = 1)", _CAUTIOUS, above=0, most=30),
        text("source", "where the figures come from", "not said"),
    ),
)  # fmt: skip

OPERATIONS: Final = Table(
    name="operations", folder="week", key=("operation",), meaning="everything else that the ship does",
    columns=(
        ident("operation", "id of the operation"),
        word("kind", OPERATION_KINDS, "what it is"),
        time("start", "begins", "it may move: earliest, latest and hours are given"),
        time("end", "ends", "until the week's end, with a caution; or it may move"),
        time("earliest", "may begin from here on", "it is fixed"),
        time("latest", "must be over by here", "it is fixed"),
        number("hours", "how long it takes, unbroken [h]", "it is fixed", above=0, most=672),
        references("spaces", ("spaces",), "spaces that it works on", "none; not for cargo, ballast, gas, bunker work"),
        number("rate_m3_h", "rate [m³/h]", "unknown", above=0, most=100_000),
        word(
            "vapour", ("none", "return line", "to outlets"), "what becomes of the vapour",
            "to outlets for load, purge, gas-free, tank wash, vent down, line blow, gauging; else none",
        ),
        references(
            "lines", ("lines", "spaces"), "devices, or spaces whose piping it needs",
            "every device of every branch that reaches its spaces",
        ),
        special("people", Kind.PEOPLE, "people that it needs", "none", allowed=ABILITIES),
        named("cargo", "cargoes", "the cargo", "unknown: counts as toxic"),
        word("leaves", STATES, "the state in which it leaves its spaces", "by its kind"),
        references("after", ("operations",), "operations that must be over before", "none"),
        word("bars", ("none", "hot work", "entries", "all"), "a standing order", "none"),
        yes_no("firm", "no: a prospect", "yes"),
        text("note", "note", "none"),
    ),
)  # fmt: skip

ENTRIES: Final = Table(
    name="entries", folder="week", key=("entry",), meaning="the jobs that need people inside a space",
    columns=(
        ident("entry", "id of the entry"),
        reference("space", "spaces", "the space"),
        text("purpose", "what for"),
        word("work", WORKS, "what kind of work"),
        number("hours", "time inside, all sessions together [h]", above=0, most=300),
        yes_no("splittable", "may be divided into sessions", "no"),
        number("least_session_hours", "shortest session [h]", "no least", above=0, most=24),
        whole("entrants", "people inside", least=1, most=20),
        word("effort", ("light", "heavy"), "how hard the work is"),
        whole("priority", "1 must, 2 should, 3 could", least=1, most=3),
        time("earliest", "not before", "the week's start"),
        time("due", "out by", "the week's end"),
        references("after", ("entries",), "entries that must be over before", "none"),
        yes_no("daylight", "by daylight only", "no"),
        yes_no("night", "may lie out of working hours (priority 1)", "no"),
        references("needs", ("visitors",), "visitors who must be there", "none"),
        time("at", "pins the first going in", "not pinned"),
        references("only", ("people",), "the only people who may go in", "anybody able"),
        text("reference", "work order", "none"),
        text("note", "note", "none"),
    ),
)  # fmt: skip

COATINGS: Final = Table(
    name="coatings", folder="week", key=("entry",), meaning="what is put on; one row for each entry that coats",
    columns=(
        reference("entry", "entries", "an entry whose work is coat"),
        text("product", "product"),
        number("litres", "litres in all", above=0, most=100_000),
        number("litres_per_hour", "litres an hour", above=0, most=10_000),
        _share("thinner_percent", "thinner [% of the mixed volume]", "unknown"),
        special("thinner_cas", Kind.CAS, "CAS number of the thinner", "unknown"),
        _share("own_solvent_percent", "solvent of the product itself [% of volume]", "unknown"),
        number("density_kg_l", "density of the solvent [kg/L]", "unknown", above=0, most=5),
        special("solvents", Kind.SOLVENTS, "CAS:percent of the solvent's mass", "unknown"),
        number("flash_c", "flash point of the product [°C]", "unknown", least=-100, most=500),
        number("flash_c_thinned", "flash point of the thinned mix [°C]", "unknown", least=-100, most=500),
        number("lfl_percent", "lower flammable limit of the vapour [% vol]", "unknown", above=0, most=100),
        number("least_air_m3_h", "least air that the maker asks for [m³/h]", "unknown", above=0, most=1_000_000),
        yes_no("supplied_air", "worn with supplied air", "no"),
        number("drying_h", "drying time [h]", "unknown", least=0, most=1000),
        text("source", "where the figures come from", "not said"),
    ),
)  # fmt: skip

READINGS: Final = Table(
    name="readings", folder="week", key=("entry", "time", "level", "place", "instrument"), optional=True, digest="seen",
    meaning="gas readings at the spaces",
    columns=(
        reference("entry", "entries", "the entry"),
        time("time", "when it was read"),
        word("level", ("top", "middle", "bottom"), "at which level"),
        text("place", "where", "not said"),
        _share("oxygen_percent", "oxygen [% vol]", "not read"),
        number("lfl_percent", "flammable [% of the lower limit]", "not read", least=0, most=1000),
        _share("hydrocarbon_percent", "hydrocarbon [% vol]", "not read"),
        _share("co2_percent", "carbon dioxide [% vol]", "not read"),
        number("h2s_ppm", "hydrogen sulphide [ppm]", "not read", least=0, most=1_000_000),
        number("co_ppm", "carbon monoxide [ppm]", "not read", least=0, most=1_000_000),
        text("other", "any other vapour, in words", "not read"),
        time("fans_off_since", "fans stopped since", "fans were running"),
        text("instrument", "instrument", "not said"),
        text("by", "who read it", "not said"),
    ),
)  # fmt: skip

PROGRESS: Final = Table(
    name="progress", folder="week", key=("time", "what", "event"), optional=True, digest="seen",
    meaning="what was seen to happen",
    columns=(
        time("time", "when"),
        reference("what", "entries", "an entry or an operation", "operations"),
        word("event", EVENTS, "what happened"),
        whole("inside", "people inside after it", "not said", most=100),
        text("by", "who wrote it", "not said"),
    ),
)  # fmt: skip

WORK_TABLES: Final = (
    CONDITIONS, CONTENTS, CARGOES, OPERATIONS, ENTRIES, COATINGS, READINGS, PROGRESS,
)  # fmt: skip
