"""Which hazards a mixture still carries at its strength.

A tenth of lye in water burns as lye does; a hundredth of it makes skin sore. The general
limits of the regulation and the special ones of single substances are in
``data/mixture_limits.csv``, the strengths at which spirit in water catches fire in
``data/flash_points.csv``.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import cache, lru_cache

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import exact
from procedure.vocabulary.library import rows, vocabulary

# A statement is left out where a graver one of the same harm is said.
_GRAVER = {
    "H315": {"H314"},
    "H318": {"H314"},
    "H319": {"H314", "H318"},
    "H400": {"H410"},
    "H411": {"H410"},
    "H412": {"H410", "H411"},
    "H226": {"H225"},
    "H272": {"H271"},
    "H371": {"H370"},
    "H373": {"H372"},
}


class Limit(NamedTuple):
    """From which strength, and below which, a mixture carries a statement, in % by weight."""

    carries: str
    least: Fraction
    below: Fraction | None

    def holds(self, percent: Fraction) -> bool:
        """Whether a mixture of that strength carries it."""
        return self.least <= percent and (self.below is None or percent < self.below)


@cache
def _rows() -> dict[tuple[str, str], list[dict[str, str]]]:
    found: dict[tuple[str, str], list[dict[str, str]]] = {}
    for row in rows("mixture_limits"):
        found.setdefault((row["material"], row["of"]), []).append(row)
    return found


@lru_cache(maxsize=1024)
def _limits(material: str, hazard: str) -> tuple[Limit, ...]:
    """The limits of a hazard of a material, or of any material for an empty name."""
    return tuple(
        Limit(
            row["carries"],
            exact(row["from_percent"]),
            exact(row["below_percent"]) if row["below_percent"] else None,
        )
        for row in _rows().get((material, hazard), ())
    )


def _of_one(material: str, hazard: str, percent: Fraction) -> list[str]:
    own = _limits(material, hazard) or _limits("", hazard)
    if own:
        return [limit.carries for limit in own if limit.holds(percent)]
    entry = vocabulary().tables["ghs"].get(hazard)
    least = entry.number("mixture_percent") if entry is not None else None
    return [hazard] if least is not None and percent >= least else []


def hazards_at(material: str, listed: Iterable[str], percent: Fraction | None) -> tuple[str, ...]:
    """The hazards of a material of the vocabulary at a strength in % by weight.

    ``listed`` are its hazards as sold. Words of hazards.csv always hold. A strength of None
    (not known) or of 100 % and more is that of the pure substance. Milder statements come in
    where the graver one no longer holds (H315 for weak lye).
    """
    words = tuple(listed)
    if percent is None or percent >= 100:
        return words
    codes = vocabulary().tables["ghs"]
    found: list[str] = []
    for word in words:
        carried = _of_one(material, word, percent) if word in codes else [word]
        found += [one for one in carried if one not in found]
    return tuple(one for one in found if not _GRAVER.get(one, set()) & set(found))


def flash_point(percent: Fraction) -> Fraction | None:
    """The heat in °C at which spirit of that strength (% by weight) catches fire from a flame.

    Between two strengths of the table the lower heat is given, to be on the safe side; None
    below the weakest of the table, which says nothing of safety once the liquor is heated.
    """
    table = [(Fraction(r["percent"]), Fraction(r["flash_point_c"])) for r in rows("flash_points")]
    table.sort()
    if percent < table[0][0]:
        return None
    return next((heat for at, heat in table if percent <= at), table[-1][1])
