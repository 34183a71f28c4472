"""The limits of the company's safety management system: every key, its default, its range and its source.

One place for every number that a rule may use. `policy.toml` overrides a value inside its range; looser than
the source is allowed only by such an explicit override, and is a caution on every output.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from scheduler.domain.source import Source, SourceKind

Value: TypeAlias = float | int | str | tuple[tuple[str, str], ...] | tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Key:
    """One policy key. `least`/`most` bound a number, `allowed` a word; `looser` says which way loosens it.

    `looser` is 'up', 'down' or '' (neither way is looser than another).
    """

    name: str
    default: Value
    least: float | None = None
    most: float | None = None
    allowed: tuple[str, ...] = ()
    looser: str = ""
    source: Source
    meaning: str


def _key(
    name: str,
    default: Value,
    meaning: str,
    source: Source,
    *,
    least: float | None = None,
    most: float | None = None,
    allowed: tuple[str, ...] = (),
    looser: str = "",
) -> Key:
    return Key(
        name=name, default=default, least=least, most=most, allowed=allowed, looser=looser, source=source,
        meaning=meaning,
    )  # fmt: skip


_OURS = Source(kind=SourceKind.OUR_CHOICE, text="")
_PRACTICE = Source(kind=SourceKind.PRACTICE, text="")


def _published(text: str) -> Source:
    return Source(kind=SourceKind.PUBLISHED, text=text)


def _memory(text: str) -> Source:
    return Source(kind=SourceKind.MEMORY, text=text)


_MSC581 = _published("MSC.581(110), by published summaries")

KEYS: Final[tuple[Key, ...]] = (
    _key("grid_min", 15, "planning grid [min]", _OURS, least=5, most=30),
    _key("phase.brief_min", 15, "length of a briefing [min]", _PRACTICE, least=5, most=120, looser="down"),
    _key("phase.isolate_min", 30, "isolation, fixed part [min]", _PRACTICE, least=5, most=480, looser="down"),
    _key("phase.isolate_per_device_min", 5, "isolation, each device [min]", _PRACTICE, least=0, most=60, looser="down"),
    _key("phase.open_up_min", 30, "opening up and rigging fans [min]", _PRACTICE, least=5, most=240, looser="down"),
    _key("phase.restore_min", 60, "head count, closing, tags off, lines back [min]", _PRACTICE, least=15, most=480, looser="down"),
    _key("test.settle_min", 10, "fans stopped before a test [min]", _memory("29 CFR 1915.35"), least=10, most=60, looser="down"),
    _key("test.per_level_min", 5, "test, each level [min]", _OURS, least=2, most=30, looser="down"),
    _key("test.levels", 3, "levels tested", _PRACTICE, least=1, most=9, looser="down"),
    _key("test.valid_min", 30, "a test counts for so long [min]", _OURS, least=5, most=60, looser="up"),
    _key("test.repeat_min", 60, "readings inside at least every [min]", _OURS, least=5, most=240, looser="up"),
    _key("limits.o2_percent_min", 20.9, "oxygen, at least [% vol]", _MSC581, least=19.5, most=20.9, looser="down"),
    _key("limits.lfl_percent_max", 1.0, "flammable, below [% LFL]", _MSC581, least=0.1, most=10, looser="up"),
    _key("limits.toxic_share_max", 0.5, "toxic, below this share of the exposure limit", _MSC581, least=0.01, most=1, looser="up"),
    _key("limits.co2_percent_max", 0.5, "carbon dioxide, below [% vol]", _MSC581, least=0.01, most=0.5, looser="up"),
    _key("limits.rule_set", "MSC.581", "the set of entry limits in force", _MSC581, allowed=("MSC.581", "A.1050", "29 CFR 1915")),
    _key("session.longest_h", 4.0, "longest stay inside [h]", _OURS, least=0.5, most=8, looser="up"),
    _key("session.per_person_per_day", 2, "sessions of one person in a day", _OURS, least=1, most=4, looser="up"),
    _key("permit.longest_h", 8.0, "first test to last coming out of a day [h]", _PRACTICE, least=1, most=12, looser="up"),
    _key("permit.open_longest_h", 72.0, "a space open in one stretch [h]", _PRACTICE, least=4, most=168, looser="up"),
    _key("hours.work", (("08:00", "18:00"),), "working hours, ship's time", _OURS),
    _key("hours.meals", (("12:00", "13:00"),), "meals, ship's time", _OURS),
    _key("hours.rest_days", ("Sunday",), "days of rest", _published("MLC 2006 A2.3.3: a day of rest a week")),
    _key("at_once.manned", 1, "spaces manned at once", _PRACTICE, least=1, most=6, looser="up"),
    _key("at_once.open", 3, "spaces open at once", _OURS, least=1, most=12, looser="up"),
    _key("at_once.open_weather_deck_under_way", 2, "open on the weather deck under way", _OURS, least=0, most=6, looser="up"),
    _key("at_once.hot_work", 1, "hot work at once", _PRACTICE, least=1, most=2, looser="up"),
    _key("rescue.people", 4, "rescue team on call", _PRACTICE, least=2, most=12, looser="down"),
    _key("rescue.at_entrance", 0, "of the rescue team standing at the entrance", _OURS, least=0, most=4),
    _key("entrants_min", 2, "never fewer inside", _MSC581, least=2, most=6),
    _key("drill_months", 2, "entry drill not older than [calendar months]", _published("SOLAS III/19.3.3"), least=1, most=2, looser="up"),
    _key("joined_h", 24.0, "aboard at least so long before an entry duty [h]", _OURS, least=0, most=336, looser="down"),
    _key("vapour.reach_m", 10.0, "large flow, blocked in any direction [m]", _published("SOLAS II-2/4.5.3.4"), least=3, most=100, looser="down"),
    _key("vapour.toxic_m", 15.0, "the same, toxic cargo [m]", _published("IBC 15.12"), least=3, most=150, looser="down"),
    _key("vapour.small_m", 5.0, "small flow (breathing) [m]", _published("SOLAS II-2/11.6"), least=3, most=50, looser="down"),
    _key("vapour.own_exhaust_m", 3.0, "exhaust of a clean space's fan [m]", _OURS, least=1, most=50, looser="down"),
    _key("vapour.sector_deg", 60.0, "half-angle of the downwind sector [deg]", _OURS, least=30, most=180, looser="down"),
    _key("vapour.sector_wide_deg", 90.0, "the same with the wind abaft the beam [deg]", _OURS, least=60, most=180, looser="down"),
    _key("vapour.calm_m_s", 3.0, "apparent wind below this is calm [m/s]", _OURS, least=1, most=10, looser="down"),
    _key("vapour.calm_aft_m_s", 9.0, "the same with the true wind abaft the beam [m/s]", _OURS, least=1, most=20, looser="down"),
    _key("vapour.after_min", 30, "blocked after the flow stops [min]", _OURS, least=0, most=480, looser="down"),
    _key("vapour.gust_ratio", 2.0, "gust to wind from which direction is unknown", _OURS, least=1.1, most=5, looser="up"),
    _key("vapour.breathing", (("09:00", "18:00"),), "hours of thermal breathing, ship's time", _OURS),
    _key("closed_before_h", 2.0, "all closed before stations, pilot, cargo [h]", _OURS, least=1, most=24, looser="down"),
    _key("air.k_open", 3.0, "mixing factor, open framing", _published("CDC, MMWR 1994;43(RR-13) Table S3-1: up to 10"), least=1, most=10, looser="down"),
    _key("air.k_moderate", 6.0, "mixing factor, moderate framing", _published("CDC, MMWR 1994;43(RR-13) Table S3-1: up to 10"), least=1, most=10, looser="down"),
    _key("air.k_heavy", 10.0, "mixing factor, heavy framing or unknown", _published("CDC, MMWR 1994;43(RR-13) Table S3-1: up to 10"), least=1, most=10, looser="down"),
    _key("air.k_undue", 10.0, "mixing factor, no due mixing: one opening only", _published("CDC, MMWR 1994;43(RR-13) Table S3-1: up to 10"), least=1, most=10, looser="down"),
    _key("air.o2_start.pumped_out", 18.0, "oxygen at the start, pumped out within 24 h through open pipes [% vol]", _OURS, least=0, most=20, looser="up"),
    _key("air.o2_start.closed", 0.0, "oxygen at the start, closed longer or unknown [% vol]", _OURS, least=0, most=20, looser="up"),
    _key("air.floor_h.ballast_tank", 8.0, "least ventilation, ballast tank, peak tank [h]", _PRACTICE, least=0.25, most=72, looser="down"),
    _key("air.floor_h.void", 4.0, "least ventilation, void and all kinds not named [h]", _PRACTICE, least=0.25, most=72, looser="down"),
    _key("air.floor_h.cargo_tank", 1.0, "least ventilation, cargo or slop tank after gas-freeing [h]", _PRACTICE, least=0.25, most=72, looser="down"),
    _key("air.floor_h.pump_room", 0.25, "least ventilation, pump room [h]", _PRACTICE, least=0.25, most=24, looser="down"),
    _key("air.derate_10m", 0.75, "share of free flow through up to 10 m of ducting", _OURS, least=0.1, most=1, looser="up"),
    _key("air.derate_30m", 0.6, "share of free flow through up to 30 m of ducting", _OURS, least=0.1, most=1, looser="up"),
    _key("air.derate_unknown", 0.5, "share of free flow, longer or unknown ducting", _OURS, least=0.1, most=1, looser="up"),
    _key("air.lower_exchange", 0.05, "share of the flow that reaches the lower part without bottom ducting", _OURS, least=0.001, most=0.2, looser="up"),
    _key("coating.lfl_percent", 10.0, "absolute stop while coating [% LFL]", _published("29 CFR 1915.35"), least=1, most=10, looser="up"),
    _key("coating.flash_margin_k", 5.0, "margin under the flash point [K]", _OURS, least=0, most=30, looser="down"),
    _key("coating.deck_dark_k", 45.0, "dark plating in the sun above air [K]", _OURS, least=15, most=60, looser="down"),
    _key("coating.deck_light_k", 15.0, "light plating in the sun above air [K]", _OURS, least=5, most=60, looser="down"),
    _key("hot_work.watch_min", 60, "fire watch after hot work [min]", _PRACTICE, least=30, most=480, looser="down"),
    _key("hot_work.slop_m", 30.0, "slops at least so far from hot work [m]", _PRACTICE, least=10, most=200, looser="down"),
    _key("sea.heavy.free_m", 1.5, "heavy effort: any speed up to this sea [m, significant]", _OURS, least=0, most=4, looser="up"),
    _key("sea.heavy.eased_m", 2.5, "heavy effort: eased up to this sea [m]", _OURS, least=0, most=6, looser="up"),
    _key("sea.heavy.eased_kn", 8.0, "heavy effort: eased to [kn]", _OURS, least=1, most=15, looser="up"),
    _key("sea.heavy.hove_to_m", 3.5, "heavy effort: hove to up to this sea [m]", _OURS, least=0, most=8, looser="up"),
    _key("sea.light.free_m", 2.0, "light effort: any speed up to this sea [m, significant]", _OURS, least=0, most=5, looser="up"),
    _key("sea.light.eased_m", 3.0, "light effort: eased up to this sea [m]", _OURS, least=0, most=6, looser="up"),
    _key("sea.light.eased_kn", 8.0, "light effort: eased to [kn]", _OURS, least=1, most=15, looser="up"),
    _key("sea.light.hove_to_m", 4.0, "light effort: hove to up to this sea [m]", _OURS, least=0, most=8, looser="up"),
    _key("spray.per_hour", 0.1, "seas over a coaming an hour, at most", _OURS, least=0.001, most=1, looser="up"),
    _key("easing.hours_max", 6.0, "hours of easing in any seven days", _OURS, least=0, most=72, looser=""),
    _key("easing.engine_notice_min", 60, "notice that the engine wants [min]", _OURS, least=0, most=480),
    _key("daylight.margin_min", 15, "kept from sunrise and sunset [min]", _OURS, least=0, most=120, looser="down"),
    _key("heat.humid_add_c", 5.0, "added to dry air for humidity in a tank [K]", _published("NIOSH 2016-106, schedule by air temperature; the addition is our choice"), least=0, most=15, looser="down"),
    _key("heat.neighbour_c", 50.0, "a neighbour hotter than this makes a space hot [C]", _OURS, least=30, most=60, looser="up"),
    _key("weather.gap_h", 6.0, "forecast rows further apart are no basis [h]", _OURS, least=1, most=12, looser="up"),
    _key("weather.reach_nm", 120.0, "a forecast place farther off is no basis [nm]", _OURS, least=10, most=600, looser="up"),
    _key("weather.longest_age_h", 24.0, "a plan holds so long after the forecast's issue [h]", _OURS, least=3, most=72, looser="up"),
    _key("port.notice_h", 24.0, "ask a place so long before [h]", _OURS, least=0, most=240),
    _key("pump_room.test", "stopped", "fans while testing a pump room", _OURS, allowed=("stopped", "running")),
    _key("condition.heel_caution_deg", 1.0, "heel from one-sided water that is a caution [deg]", _OURS, least=0.1, most=5, looser="up"),
    _key("rest.day_h", 10.0, "rest in any 24 h [h]", _published("STCW A-VIII/1; MLC 2006 A2.3"), least=10, most=16),
    _key("rest.longest_h", 6.0, "one rest of at least [h]", _published("STCW A-VIII/1; MLC 2006 A2.3"), least=6, most=12),
    _key("rest.week_h", 77.0, "rest in any 7 days [h]", _published("STCW A-VIII/1; MLC 2006 A2.3"), least=77, most=120),
    _key("rest.work_span_h", 14.0, "between consecutive rests at most [h]", _published("STCW A-VIII/1; MLC 2006 A2.3"), least=6, most=14),
    _key("rest.short_break_min", 60, "a break under this is no rest [min]", _OURS, least=60, most=180),
    _key("fuel.hove_to_t_per_day", 0.0, "fuel hove to; 0: not given [t/day]", _OURS, least=0, most=500),
)  # fmt: skip

KEY_BY_NAME: Final[Mapping[str, Key]] = {key.name: key for key in KEYS}


@dataclass(frozen=True, kw_only=True, slots=True)
class Policy:
    """The values in force: defaults and what `policy.toml` (and `week.toml`, for hours) overrides."""

    overrides: Mapping[str, Value] = field(default_factory=dict)

    def value(self, name: str) -> Value:
        """The value in force; raises KeyError for a key that does not exist."""
        return self.overrides.get(name, KEY_BY_NAME[name].default)

    def number(self, name: str) -> float:
        """A numeric value in force, in the unit that ends its name."""
        value = self.value(name)
        if not isinstance(value, int | float):
            raise TypeError(f"policy key {name} is no number")
        return float(value)

    def whole(self, name: str) -> int:
        """A value in force that is a whole number (minutes, counts)."""
        return round(self.number(name))

    def word(self, name: str) -> str:
        """A value in force that is one word out of those allowed."""
        return str(self.value(name))

    def pairs(self, name: str) -> tuple[tuple[str, str], ...]:
        """hh:mm pairs in ship's time."""
        value = self.value(name)
        if not isinstance(value, tuple):
            raise TypeError(f"policy key {name} holds no pairs")
        return tuple((pair[0], pair[1]) for pair in value if isinstance(pair, tuple))

    def words(self, name: str) -> tuple[str, ...]:
        """A list of words, such as the rest days."""
        value = self.value(name)
        if not isinstance(value, tuple):
            raise TypeError(f"policy key {name} holds no list")
        return tuple(word for word in value if isinstance(word, str))

    def source(self, name: str) -> Source:
        """Where the value in force comes from."""
        if name in self.overrides and self.overrides[name] != KEY_BY_NAME[name].default:
            return Source(kind=SourceKind.GIVEN, text=f"policy {name}")
        return KEY_BY_NAME[name].source

    def in_force(self) -> dict[str, Value]:
        """Every key with its value, in the order of the table."""
        return {key.name: self.value(key.name) for key in KEYS}

    def looser(self) -> tuple[str, ...]:
        """The overridden keys that are looser than their default."""
        return tuple(key.name for key in KEYS if self._is_looser(key))

    def _is_looser(self, key: Key) -> bool:
        value = self.value(key.name)
        if not isinstance(value, int | float) or not isinstance(key.default, int | float):
            return False
        return (key.looser == "up" and value > key.default) or (key.looser == "down" and value < key.default)
