"""The local boiling point of water, from the altitude."""

from __future__ import annotations

import math
from fractions import Fraction

from procedure.model import Quantity

# ISO 2533 (standard atmosphere): pressure falls as (1 - L h / T0) ** (g M / R L).
SEA_LEVEL_PRESSURE = 101.325
LAPSE = 0.0065 / 288.15
EXPONENT = 5.255876
KELVIN = 273.15
# The heights (m) between which that formula is used here.
LOWEST, HIGHEST = -500.0, 9000.0


def boiling_point(altitude: Quantity | None) -> Fraction:
    """Degrees Celsius at which water boils; 100 °C where no altitude is said.

    Water boils where its vapour pressure (``water_properties.csv``, IAPWS-IF97) is that
    of the air; between the lines of the table, logarithms of the pressure go straight
    with one over the absolute heat (Clausius and Clapeyron).
    """
    if altitude is None or altitude.low is None or altitude.kind != "length":
        return Fraction(100)
    from procedure.vocabulary.library import rows

    height = min(max(float(altitude.low), LOWEST), HIGHEST)
    wanted = math.log(SEA_LEVEL_PRESSURE * (1 - LAPSE * height) ** EXPONENT)
    table = [
        (math.log(float(row["vapour_pressure"])), 1 / (float(row["heat_c"]) + KELVIN))
        for row in rows("water_properties")
    ]
    above = next((i for i, (line, _) in enumerate(table) if line >= wanted), len(table) - 1)
    (low, cold), (high, hot) = table[above - 1], table[above]
    kelvin = 1 / (cold + (hot - cold) * (wanted - low) / (high - low))
    return Fraction(round((kelvin - KELVIN) * 10), 10)
