"""Motions hour by hour from a table, against a plain sum over frequencies and directions."""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest

from scheduler.hazards.motion import Hull, acceleration_factor, motions, vertical_acceleration
from scheduler.hazards.seaway import (
    DIRECTIONS_RAD,
    FREQUENCIES_RAD_S,
    Place,
    ResponseTable,
    Sea,
    WaveSystem,
    greatest_good,
    response_table,
    variances,
)
from scheduler.hazards.spectra import Array, bretschneider
from scheduler.hazards.spray import relative_motion

SHIP = Hull(
    length_m=180.0,
    beam_m=32.2,
    draught_m=11.0,
    block_coefficient=0.8,
    waterplane_coefficient=0.86,
    roll_period_s=15.0,
    kg_m=11.0,
)
SPEEDS_M_S = np.array([0.0, 3.0, 7.0])
TANK, HATCH = Place(x_m=30.0, y_m=8.0), Place(x_m=40.0, y_m=10.0)


def table_of(cautious: bool = True) -> ResponseTable:
    return response_table(
        SHIP, places={"2P": TANK}, openings={"hatch": HATCH}, speeds_m_s=SPEEDS_M_S, cautious=cautious
    )


def swell(*hours: tuple[float, float, float]) -> WaveSystem:
    heights, periods, directions = (np.array(each) for each in zip(*hours, strict=True))
    return WaveSystem(kind=Sea.SWELL, heights_m=heights, peak_periods_s=periods, from_deg=directions)


def size_of(row: str, frequency: float, angle: float, speed_m_s: float, period_s: float) -> float:
    """One response with its model factor."""
    to, found = np.array(angle), motions(SHIP, np.array(frequency), np.array(angle), np.array(speed_m_s))
    if row == "roll":
        return float(1.2 * found.roll)
    if row == "acceleration 2P":
        size = vertical_acceleration(found, x_m=TANK.x_m, y_m=TANK.y_m)
        return float(size * acceleration_factor(to, peak_period_s=period_s))
    relative = 1.3 * relative_motion(found, to, x_m=HATCH.x_m, y_m=HATCH.y_m)
    return float(relative * abs(found.met_rad_s) if row == "relative rate hatch" else relative)


def by_hand(row: str, *, height_m: float, period_s: float, runs_to_deg: float, speed_m_s: float) -> float:
    """One variance as a double sum, the spreading written out."""
    density = bretschneider(FREQUENCIES_RAD_S, height_m=1.0, peak_period_s=period_s) * np.gradient(FREQUENCIES_RAD_S)
    energy = density / density.sum() * height_m**2 / 16.0
    spread = [max(math.cos(angle - math.radians(runs_to_deg)), 0.0) ** 2 for angle in DIRECTIONS_RAD]
    total = sum(
        part * share / sum(spread) * size_of(row, frequency, angle, speed_m_s, period_s) ** 2
        for (frequency, part), (angle, share) in product(
            zip(FREQUENCIES_RAD_S, energy, strict=True), zip(DIRECTIONS_RAD, spread, strict=True)
        )
        if share > 0.0
    )
    return float(total)


@pytest.mark.parametrize(
    ("row", "period_s"),
    [
        ("roll", 12.0),
        ("acceleration 2P", 8.0),
        ("acceleration 2P", 12.0),
        ("relative hatch", 8.0),
        ("relative rate hatch", 12.0),
    ],
)
def test_the_table_gives_the_double_sum_for_every_response(row: str, period_s: float) -> None:
    # Waves from 050 on heading 000 run, seen from the bow and growing to port, to 180 − 50 = 130°.
    table = table_of()
    found = variances(table, [swell((3.0, period_s, 50.0))], np.array([[0.0]]))
    hand = by_hand(row, height_m=3.0, period_s=period_s, runs_to_deg=130.0, speed_m_s=3.0)
    assert found[table.rows.index(row), 0, 0, 1] == pytest.approx(hand, rel=1e-9)


def test_directions_between_the_tables_lie_between_their_neighbours() -> None:
    table = table_of()
    at = [variances(table, [swell((3.0, 10.0, angle))], np.array([[0.0]]))[1, 0, 0, 0] for angle in (50.0, 52.5, 55.0)]
    assert at[1] == pytest.approx((at[0] + at[2]) / 2)


def test_ship_and_waves_turned_together_move_her_the_same() -> None:
    table = table_of()
    one = variances(table, [swell((3.0, 10.0, 50.0))], np.array([[20.0, 90.0]]))
    other = variances(table, [swell((3.0, 10.0, 350.0))], np.array([[320.0, 30.0]]))
    assert one == pytest.approx(other, rel=1e-12)


def test_waves_from_starboard_move_a_starboard_hatch_as_waves_from_port_move_its_mirror() -> None:
    port = response_table(
        SHIP, places={}, openings={"hatch": Place(x_m=40.0, y_m=10.0)}, speeds_m_s=SPEEDS_M_S, cautious=True
    )
    starboard = response_table(
        SHIP, places={}, openings={"hatch": Place(x_m=40.0, y_m=-10.0)}, speeds_m_s=SPEEDS_M_S, cautious=True
    )
    one = variances(port, [swell((3.0, 8.0, 300.0))], np.array([[0.0]]))
    other = variances(starboard, [swell((3.0, 8.0, 60.0))], np.array([[0.0]]))
    assert one == pytest.approx(other, rel=1e-9)


def test_two_wave_systems_add_their_variances_hour_by_hour() -> None:
    table, headings = table_of(), np.array([[0.0], [10.0]])
    one, other = swell((2.0, 12.0, 30.0), (0.0, 9.0, 0.0)), swell((1.0, 6.0, 200.0), (1.5, 7.0, 90.0))
    together = variances(table, [one, other], headings)
    assert together == pytest.approx(variances(table, [one], headings) + variances(table, [other], headings))
    assert variances(table, [one], headings)[:, 1].max() == 0.0  # no height in its second hour


def test_the_cautious_run_never_moves_her_less_than_the_plain_one() -> None:
    waves, headings = [swell((3.0, 9.0, 20.0), (3.0, 13.0, 100.0))], np.array([[0.0, 90.0], [45.0, 200.0]])
    cautious, plain = variances(table_of(), waves, headings), variances(table_of(cautious=False), waves, headings)
    assert (cautious >= plain).all() and (cautious > plain).any()


def test_twice_the_height_is_twice_the_motion() -> None:
    table, headings = table_of(), np.array([[30.0]])
    low, high = (variances(table, [swell((height_m, 10.0, 0.0))], headings) for height_m in (1.5, 3.0))
    assert high == pytest.approx(4 * low)


def test_a_speed_above_one_that_fails_is_not_taken() -> None:
    good, gap = greatest_good(
        np.array([[True, True, True], [True, False, True], [False, True, True], [True, True, False]])
    )
    assert good.tolist() == [2, 0, -1, 1]
    assert gap.tolist() == [False, True, True, False]


@pytest.mark.parametrize(
    ("heights", "periods", "directions", "says"),
    [
        ([math.nan], [9.0], [0.0], "heights_m"),
        ([-1.0], [9.0], [0.0], "heights_m"),
        ([1.0], [0.0], [0.0], "peak_periods_s"),
        ([1.0], [31.0], [0.0], "peak_periods_s"),
        ([1.0], [9.0], [math.nan], "from_deg"),
        ([1.0, 2.0], [9.0], [0.0], "shapes"),
    ],
)
def test_a_sea_that_is_not_known_is_refused(
    heights: list[float], periods: list[float], directions: list[float], says: str
) -> None:
    arrays: list[Array] = [np.array(each) for each in (heights, periods, directions)]
    with pytest.raises(ValueError, match=says):
        WaveSystem(kind=Sea.SWELL, heights_m=arrays[0], peak_periods_s=arrays[1], from_deg=arrays[2])


def test_hours_that_do_not_agree_are_refused() -> None:
    with pytest.raises(ValueError, match="hours of waves"):
        variances(table_of(), [swell((1.0, 9.0, 0.0))], np.array([[0.0], [0.0]]))
