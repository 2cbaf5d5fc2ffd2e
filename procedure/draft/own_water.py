"""Whether what is dissolved has so much water of its own that it is a bath, and no liquor."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured
from procedure.vocabulary import vocabulary

# "Dissolve the iron in 4 litres of warm water. Lift the wool and add this to the dye."
GOES_INTO_THE_OTHER = re.compile(
    r"[^.;]*[.;]?[^.;]*\b(?:add|pour|stir|tip|put)\w*\s+(?:(?:it|this|that|the\s+[\w-]+)\s+)?(?:in)?to\s+"
    r"(?:the|your)\s+(?:[a-z-]+\s+)?(?:dye|bath|pot|pan|kettle|vat|liquor)",
    re.I,
)


def has_water_of_a_bath(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """True for "dissolve the copper in 10 litres of warm water", where fibre has been in a bath.

    So much water is at least half of what that bath has, or what the least of baths has.
    """
    bath = course.bath
    if bath is None or not bath.had_fibre:
        return False
    own = max(
        (_litres(one) for each in stuff if each.thing.kind == "water" for one in each.amounts),
        default=None,
    )
    if own is None or GOES_INTO_THE_OTHER.match(course.text, part.doing.start):
        return False
    there = [_litres(one) for each in bath.stuff if each.name == "water" for one in each.amounts]
    least = sum(there, Fraction(0)) / 2 or Fraction(limits.LITRES_OF_A_BATH)
    return own >= least


def _litres(amount: Amount) -> Fraction:
    """What a volume comes to in litres; nothing where it is none."""
    unit = vocabulary().units.get(amount.unit)
    if amount.kind != "volume" or unit is None or amount.low is None:
        return Fraction(0)
    return amount.low * unit.factor
