"""Conversions between what the ship writes and SI; the only place where factors stand."""

from __future__ import annotations

KN_PER_M_S = 3600.0 / 1852.0  # the international knot is 1852 m an hour, by definition
M_PER_NM = 1852.0  # international nautical mile, by definition
KELVIN_AT_0_C = 273.15  # by definition
S_PER_H = 3600.0


def m_s_from_kn(speed_kn: float) -> float:
    """Metres a second from knots."""
    return speed_kn / KN_PER_M_S


def kn_from_m_s(speed_m_s: float) -> float:
    """Knots from metres a second."""
    return speed_m_s * KN_PER_M_S


def nm_from_m(distance_m: float) -> float:
    """Nautical miles from metres."""
    return distance_m / M_PER_NM


def m_from_nm(distance_nm: float) -> float:
    """Metres from nautical miles."""
    return distance_nm * M_PER_NM


def m3_s_from_m3_h(flow_m3_h: float) -> float:
    """Cubic metres a second from cubic metres an hour."""
    return flow_m3_h / S_PER_H


def k_from_c(temperature_c: float) -> float:
    """Kelvin from degrees Celsius."""
    return temperature_c + KELVIN_AT_0_C
