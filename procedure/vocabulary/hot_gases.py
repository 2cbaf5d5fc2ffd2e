"""What a solution gives off when its bath is heated, and how much of it a room does not bear.

The figures are in ``data/gases_when_hot.csv``, each with its source.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.library import rows


class HotGas(NamedTuple):
    """A gas: from ``least`` grams of it in a heated bath the statement ``carries`` holds.

    ``unstated`` is the strength that is supposed where none is written, as a fraction.
    """

    carries: str
    least: Fraction
    unstated: Fraction
    source: str


@cache
def _gases() -> dict[str, HotGas]:
    return {
        row["material"]: HotGas(
            row["carries"],
            Fraction(row["least_g"]),
            Fraction(row["unstated_percent"]) / 100,
            row["source"],
        )
        for row in rows("gases_when_hot")
    }


def hot_gas(material: str) -> HotGas | None:
    """The gas that a material of the vocabulary gives off when heated; None for most.

    Source: the row of ``gases_when_hot.csv``, cited in ``source``.
    """
    return _gases().get(material)
