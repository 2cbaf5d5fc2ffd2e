"""What a millilitre of a strong solution weighs, from ``data/densities.csv``.

Weak ones weigh as water does, as near as anybody pours: a label gives its strength to a few per
cent, so a density is rounded to a twentieth.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache, lru_cache
from itertools import pairwise

from procedure.vocabulary.data_files import exact
from procedure.vocabulary.library import rows

_WATER = Fraction(1)
_STEP = Fraction(1, 20)


@cache
def _tables() -> dict[str, tuple[tuple[Fraction, Fraction], ...]]:
    found: dict[str, list[tuple[Fraction, Fraction]]] = {}
    for row in rows("densities"):
        at = exact(row["percent"]), exact(row["g_per_ml"])
        found.setdefault(row["material"], [(Fraction(0), _WATER)]).append(at)
    return {material: tuple(sorted(points)) for material, points in found.items()}


@lru_cache(maxsize=1024)
def density(material: str, percent: Fraction | None) -> Fraction:
    """Grams in a millilitre of a material of so many per cent by weight, to a twentieth.

    Between the strengths of the table in proportion, beyond the last as there; 1 for a material
    or a strength that is not known. Source: each row of ``densities.csv``.
    """
    points = _tables().get(material, ())
    if percent is None or not points:
        return _WATER
    exact = points[-1][1]
    for (low, light), (high, heavy) in pairwise(points):
        if low <= percent <= high:
            exact = light + (heavy - light) * (percent - low) / (high - low)
            break
    return round(exact / _STEP) * _STEP
