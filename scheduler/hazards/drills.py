"""How long a drill counts, in calendar months."""

from __future__ import annotations

from datetime import date

from dateutil.relativedelta import relativedelta


def drill_counts_until(last_drill: date, months: int) -> date:
    """The last date on which a drill still counts: the same day of the month, or the month's last where it has none.

    Assumes: both dates are ship's time.
    Parameters:
        last_drill: date of the drill.
        months: calendar months that it counts [1], ≥ 1.
    Returns: date, itself included.
    Raises: ValueError for months below 1.
    Source: SOLAS III/19.3.3, at least once every two months; ending at the shorter month's end is our reading.
    Example:
        >>> drill_counts_until(date(2026, 1, 31), 2), drill_counts_until(date(2025, 12, 31), 2)
        (datetime.date(2026, 3, 31), datetime.date(2026, 2, 28))
    """
    if months < 1:
        raise ValueError(f"months: {months} was given; expected at least 1. Give whole calendar months.")
    return last_drill + relativedelta(months=months)
