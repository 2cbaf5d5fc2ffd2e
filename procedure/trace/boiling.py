"""The local boiling point of water, from the altitude."""

from __future__ import annotations

import math
from fractions import Fraction

from procedure.model import Quantity

# ISO 2533 (standard atmosphere): pressure falls as (1 - L h / T0) ** (g M / R L).
SEA_LEVEL_PRESSURE = 101325.0
LAPSE = 0.0065 / 288.15
EXPONENT = 5.255876
# The Clausius-Clapeyron relation from the normal boiling point: heat of
# vaporisation 40 657 J/mol and R 8.314462618 J/(mol K) (CODATA 2018).
VAPORISATION = 40657.0 / 8.314462618
NORMAL_BOIL = 373.124


def boiling_point(altitude: Quantity | None) -> Fraction:
    """Degrees Celsius at which water boils; 100 °C where no altitude is said."""
    if altitude is None or altitude.low is None or altitude.kind != "length":
        return Fraction(100)
    height = min(max(float(altitude.low), -500.0), 9000.0)
    pressure = SEA_LEVEL_PRESSURE * (1 - LAPSE * height) ** EXPONENT
    kelvin = 1 / (1 / NORMAL_BOIL - math.log(pressure / SEA_LEVEL_PRESSURE) / VAPORISATION)
    return Fraction(round((kelvin - 273.15) * 10), 10)
