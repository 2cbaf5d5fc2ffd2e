"""The figures that estimates rest on, from ``estimates.csv`` and ``water_properties.csv``."""

from functools import cache

from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import exact, rows


class WaterAtHeat(NamedTuple):
    """Water at a heat: kg/L, kJ/(kg K) and kPa, as IAPWS-IF97 has them at normal pressure."""

    density: float
    heat_capacity: float
    vapour_pressure: float


@cache
def _figures() -> dict[str, tuple[Interval, str, str, str]]:
    return {
        row["name"]: (
            Interval(exact(row["low"]), exact(row["high"])),
            row["unit"],
            row["meaning"],
            row["source"],
        )
        for row in rows("estimates")
    }


def figure(name: str) -> Interval:
    """A figure with its spread. Raises ``KeyError`` where the data file lacks it."""
    return _figures()[name][0]


class SpoonWeight(NamedTuple):
    """Grams in a millilitre of a material by the spoon or cup; ``liquid`` where it pours."""

    grams: Interval
    liquid: bool
    source: str


@cache
def spoon_weights() -> dict[str, SpoonWeight]:
    """What spoons and cups of common materials weigh, by their names in the vocabulary."""
    return {
        row["material"]: SpoonWeight(
            Interval(exact(row["low"]), exact(row["high"])),
            row["liquid"] == "yes",
            row["source"],
        )
        for row in rows("spoon_weights")
    }


@cache
def _water_table() -> tuple[tuple[float, WaterAtHeat], ...]:
    return tuple(
        (
            float(row["heat_c"]),
            WaterAtHeat(
                float(row["density"]), float(row["heat_capacity"]), float(row["vapour_pressure"])
            ),
        )
        for row in rows("water_properties")
    )


def water_at(heat: float) -> WaterAtHeat:
    """Water at a heat in °C, 0 to 100, between the lines of the table.

    The vapour pressure is taken between its logarithms, since it grows so.
    """
    import math

    table = _water_table()
    heat = min(max(heat, table[0][0]), table[-1][0])
    above = next(i for i, (at, _) in enumerate(table) if at >= heat)
    if above == 0:
        return table[0][1]
    (cold, low), (hot, high) = table[above - 1], table[above]
    share = (heat - cold) / (hot - cold)

    def between(one: float, two: float) -> float:
        return one + (two - one) * share

    pressure = math.exp(between(math.log(low.vapour_pressure), math.log(high.vapour_pressure)))
    return WaterAtHeat(
        between(low.density, high.density),
        between(low.heat_capacity, high.heat_capacity),
        pressure,
    )
