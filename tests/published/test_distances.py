"""Great circles and rhumb lines against published figures.

Sources: RhumbSolve manual page of GeographicLib (the rhumb line from New York's to Singapore's airport, found in a
copy); GeographicLib's test data for the same line to 0.1 µm (found in a copy); the great circle between those
airports, 15,347,627.660 m, from a second reader of the same algorithm, so no independent proof; the documented
example of the Python library, 40.6 N 73.8 W to 51.6 N 0.5 W (from memory).
"""

from __future__ import annotations

import pytest

from scheduler.hazards.position import along_rhumb_line, great_circle, rhumb_line

NEW_YORK = (40 + 38 / 60 + 23 / 3600, -(73 + 46 / 60 + 44 / 3600))
SINGAPORE = (1 + 21 / 60 + 33 / 3600, 103 + 59 / 60 + 22 / 3600)


def test_the_rhumb_line_from_new_york_to_singapore_has_its_published_length_and_course() -> None:
    track = rhumb_line(*NEW_YORK, *SINGAPORE)
    assert track.distance_m == pytest.approx(18_523_563.0423774272, abs=1e-3)
    assert track.course_deg == pytest.approx(103 + 34 / 60 + 58.2 / 3600, abs=0.05 / 3600)


def test_the_rhumb_line_run_to_its_end_comes_to_singapore() -> None:
    length_m = rhumb_line(*NEW_YORK, *SINGAPORE).distance_m
    fix = along_rhumb_line(*NEW_YORK, *SINGAPORE, length_m - 1.0)
    assert great_circle(fix.lat_deg, fix.lon_deg, *SINGAPORE).distance_m == pytest.approx(1.0, abs=1e-4)


def test_the_great_circle_between_the_airports_has_its_length_and_first_course() -> None:
    track = great_circle(*NEW_YORK, *SINGAPORE)
    assert track.distance_m == pytest.approx(15_347_627.660, abs=1e-3)
    assert track.course_deg == pytest.approx(3.3083, abs=5e-5)


def test_the_librarys_documented_great_circle_comes_out() -> None:
    assert great_circle(40.6, -73.8, 51.6, -0.5).distance_m == pytest.approx(5_551_759.400, abs=1e-3)
