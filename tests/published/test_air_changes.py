"""Minutes to clear a space, against the table of the Centers for Disease Control.

Source: CDC, Guidelines for preventing the transmission of Mycobacterium tuberculosis in health-care facilities,
MMWR 1994;43(RR-13), Table S3-1 (found in a copy of the text): minutes to remove 90, 99 and 99.9 % at a mixing
factor of 1. For 13 changes and 99.9 % one web copy prints 3; the table itself has 32.
"""

from __future__ import annotations

import pytest

from scheduler.hazards.air import minutes_to_remove

PRINTED_MIN = {
    1: (138, 276, 414),
    2: (69, 138, 207),
    3: (46, 92, 138),
    4: (35, 69, 104),
    5: (28, 55, 83),
    6: (23, 46, 69),
    7: (20, 39, 59),
    8: (17, 35, 52),
    9: (15, 31, 46),
    10: (14, 28, 41),
    11: (13, 25, 38),
    12: (12, 23, 35),
    13: (11, 21, 32),
    14: (10, 20, 30),
    15: (9, 18, 28),
    16: (9, 17, 26),
    17: (8, 16, 24),
    18: (8, 15, 23),
    19: (7, 15, 22),
    20: (7, 14, 21),
    25: (6, 11, 17),
    30: (5, 9, 14),
    35: (4, 8, 12),
    40: (3, 7, 10),
    45: (3, 6, 9),
    50: (3, 6, 8),
}
SHARES = (0.90, 0.99, 0.999)
PRINTED_TO_MIN = 0.5  # the table prints whole minutes


@pytest.mark.parametrize("air_changes", PRINTED_MIN)
def test_every_row_of_the_table_comes_out_to_the_printed_minute(air_changes: int) -> None:
    for share, printed_min in zip(SHARES, PRINTED_MIN[air_changes], strict=True):
        minutes = minutes_to_remove(air_changes_per_h=air_changes, share=share)
        assert abs(minutes - printed_min) <= PRINTED_TO_MIN, f"{share:.1%}"


def test_the_mixing_factor_multiplies_the_time_as_the_tables_note_says() -> None:
    # The note: the factor lies between 1 and 10; at 10 the 46 minutes of six changes become ten times as many.
    perfect_min = minutes_to_remove(air_changes_per_h=6, share=0.99)
    assert minutes_to_remove(air_changes_per_h=6, share=0.99, mixing_factor=10.0) == pytest.approx(10 * perfect_min)
