"""Baths that the words call by what is in them: "back to the alum solution".

The alum of an alum solution is where the fibre goes, and nothing that is brought.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course, called_in_draft, plain_name
from procedure.draft.sentences import Part
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Bath
from procedure.quantity.ready_patterns import pattern

BATH_BEHIND = pattern(
    r"[\s-]+(?:dye\s?)?(?:solution|liquid|liquor|bath|pot|pan|vat|water|decoction|brew)\b", re.I
)
THE = pattern(r"\b(?:the|that|this|your|my|our|same|old)\s+\Z", re.I)
STUFF = frozenset(("mass", "volume", "spoon", "share", "strength", "loose", "count"))
GOES_THERE = frozenset(("enter", "hold", "leave", "soak", "dip", ""))


# "Pour the red liquor through a filter": of the cochineal, and no aluminium acetate.
BY_ITS_COLOUR = frozenset(("red liquor", "black liquor"))


def _without_colour_of_liquor(course: Course, part: Part) -> Part:
    """The part without the salt that is called as the liquor at hand is: by its colour."""
    bath = course.bath
    if bath is None or bath.kind != "dye" or not bath.begun or bath.had_fibre:
        return part
    kept = tuple(
        one
        for one in part.things
        if one.words.lower() not in BY_ITS_COLOUR
        or any(course.of(amount) == one for amount in part.amounts)
        or THE.search(course.text[max(0, one.start - 12) : one.start]) is None
    )
    return part if len(kept) == len(part.things) else part._replace(things=kept)


def without_name_of_bath(course: Course, part: Part) -> Part:
    """The part without the words that call a bath, which is turned to; the part itself else."""
    part = _without_colour_of_liquor(course, part)
    measured = any(one.kind in STUFF for one in part.amounts)
    if part.doing.act not in GOES_THERE or (measured and not part.doing.act):
        return part
    for thing in part.things:
        bath = _called(course, part, thing)
        if bath is None:
            continue
        if bath is not course.bath:
            course.begin()
            if course.bath is not None:
                course.bath.had_fibre = course.bath.had_fibre or course.bath.fibre
                course.bath.fibre = False
            course.bath = bath
        return part._replace(things=tuple(one for one in part.things if one is not thing))
    return part


def _called(course: Course, part: Part, thing: Thing) -> Bath | None:
    """The one bath with a material, where that is only what the bath is called by."""
    said = BATH_BEHIND.match(course.text, thing.end) or BATH_BEHIND.search(thing.words)
    if thing.kind != "material" or said is None:
        return None
    before = course.text[max(part.start, thing.start - 12) : thing.start]
    if not (THE.search(before) or thing.words.lower().startswith("the ")):
        return None
    if any(course.of(one) == thing for one in part.amounts):
        return None
    name = plain_name(called_in_draft(thing))
    holding = [bath for bath in course.baths if bath.begun and bath.holds(name)]
    return holding[0] if len(holding) == 1 else None
