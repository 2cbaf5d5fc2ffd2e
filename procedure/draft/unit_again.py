"""Amounts in the unit of the one before them: "nine ounces of alum and three of tartar"."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.things import Thing

SAME_UNIT = re.compile(r"\s+of\s+(?:the\s+)?", re.I)
BESIDE = re.compile(r"[^.;:\d]{2,48}?(?:\band|,|\bwith|\bto|&|\+)\s+(?:about\s+)?", re.I)
MEASURES = frozenset(("mass", "volume", "spoon"))


def with_units_again(text: str, here: list[Amount], of: dict[int, Thing]) -> list[Amount]:
    """The amounts of a sentence, a bare number of a material in the unit of the amount before."""
    made: list[Amount] = []
    for one in here:
        last = made[-1] if made else None
        mine, before = of.get(one.start), of.get(last.start) if last else None
        if (
            last is not None
            and one.kind == "number"
            and last.kind in MEASURES
            and not last.bound
            and not last.each
            and mine is not None
            and before is not None
            and mine.kind == before.kind == "material"
            and mine.name != before.name
            and SAME_UNIT.match(text, one.end)
            and BESIDE.fullmatch(text, last.end, one.start)
        ):
            one = one._replace(kind=last.kind, unit=last.unit)
        made.append(one)
    return made
