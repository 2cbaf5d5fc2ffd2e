"""Fibre into a bath that the words call by its plant: "moved it across to the bracken".

Where a bath holds the bracken already, "the bracken" is that bath, and nothing is brought. Which
one is meant is asked where the words name two, or one that no bath holds.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course, called_in_draft, plain_name
from procedure.draft.sentences import Part
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Bath
from procedure.draft.working import fibre_out, work_in

MOVES = re.compile(
    r"\b(?:mov(?:e|es|ed|ing)|shift(?:s|ed)?|transfer(?:s|red)?|chang(?:e|ed)|carr(?:y|ied)|swap(?:s|ped)?)\s+"
    r"(?:[\w-]+\s+){1,4}?(?:(?:straight|right)\s+)?(?:across\s+|over\s+|on\s+)?(?:in)?to\s+"
    r"(?:the\b|what(?:ever)?(?:'s|\s))",
    re.I,
)
GOES = frozenset(("enter", "dip"))
# What stands before the name of a bath, and behind it.
INTO = re.compile(
    r"\b(?:in|into|to|through)\s+"
    r"(?:(?:what(?:ever)?(?:'s|\s+(?:is|was|remained|remains))\s+(?:left\s+)?of|the\s+(?:rest|remains|remainder)\s+of)\s+)?"
    r"(?:the|that|this|my|our|your)\s+(?:same\s+|old\s+|spent\s+)?\Z",
    re.I,
)
BEHIND = re.compile(
    r"\s*(?:[.,;:)]|$|\b(?:at|for|and|too|again|until|till|once|with|same|another|bath|pot|pan|liquor|vat|copper)\b)",
    re.I,
)
LEFT_OF = re.compile(r"\bwhat(?:ever)?(?:'s|\s+(?:is|was))\s+\Z", re.I)
MEASURES = frozenset(("mass", "volume", "spoon", "share", "strength", "loose", "count"))
STUFF = ("material", "part")


def into_called_bath(course: Course, part: Part) -> bool:
    """Put fibre into the bath that a part calls by its plant; True where the part is done with."""
    low = part.start
    if part.doing.words == "left" and LEFT_OF.search(course.text[max(0, low - 16) : low]):
        sentence = course.sentence
        low = sentence.start if sentence is not None else low  # "to what's left of the madder"
    moves = MOVES.search(course.text, low, part.end)
    if moves is None and not (part.doing.act in GOES and _may_go(course, part)):
        return False
    named = [one for one in part.things if one.kind in STUFF and _is_a_place(course, part, one)]
    if not named or _brings(course, part, named):
        return False
    if any(one.kind in ("material", "part") and one not in named for one in part.things):
        return False
    baths = [bath for one in named for bath in _held_by(course, one)]
    if len(named) > 1 or len(baths) != 1:
        if moves is not None:
            course.not_followed.append((course.number, moves[0].split()[0]))
            course.unclear.add(course.number)
        return moves is not None
    bath = baths[0]
    if bath is not course.bath:
        course.begin()
        fibre_out(course)
    elif moves is not None and bath.fibre:
        return False
    work_in(course, part._replace(things=_without(part, named)), bath)
    return True


def _may_go(course: Course, part: Part) -> bool:
    """True where it is fibre that goes in: it is named, or meant."""
    return course.names_fibre(part) or course.share is not None or course.focus == "fibre"


def _without(part: Part, named: list[Thing]) -> tuple[Thing, ...]:
    return tuple(one for one in part.things if one not in named)


# "Put in the remainder of the cochineal": what goes in, and no place.
PUTS_IN = re.compile(r"(?:put|pop|chuck|throw|drop|slip|stir|place)\w*\s+in$", re.I)


def _is_a_place(course: Course, part: Part, thing: Thing) -> bool:
    puts = PUTS_IN.match(part.doing.words) is not None
    before = course.text[max(part.doing.end if puts else 0, thing.start - 48) : thing.start]
    return INTO.search(before) is not None and BEHIND.match(course.text, thing.end) is not None


def _brings(course: Course, part: Part, named: list[Thing]) -> bool:
    """True where an amount measures what is named: it is brought."""
    return any(one.kind in MEASURES and course.of(one) in named for one in part.amounts)


def _held_by(course: Course, thing: Thing) -> list[Bath]:
    """The baths with a material, or with a plant that has been named with this part of it."""
    begun = [bath for bath in course.baths if bath.begun]
    if thing.kind == "material":
        return [bath for bath in begun if bath.holds(plain_name(called_in_draft(thing)))]
    word = thing.words.lower()
    like = {word, word.removesuffix("s"), f"{word}s"}
    return [
        bath
        for bath in begun
        if any(like & course.called.get(one.name, set()) for one in bath.stuff)
    ]
