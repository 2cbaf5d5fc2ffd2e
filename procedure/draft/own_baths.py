"""Baths that the words make ready in a vessel of their own, whatever bath is at hand.

"Have ready a tub with two gallons of warm water, wherein half an ounce of copperas has been
dissolved", "it may be given a weak soda bath (5 g in 5 litres, cold, 10 minutes)". What is
boiled "separately" or "by itself" is in no bath that is there already, either.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course, plain_name
from procedure.draft.doings import Doing
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.sentences import Part, Sentence
from procedure.draft.stock import Measured, part_played, role_of
from procedure.draft.supplies import stuff_of, supply
from procedure.draft.working import fibre_out, work_in

ACT = "own bath"
READIED = re.compile(
    r"\W*(?:(?:and|then|now|next|meanwhile|also)\b,?\s+)*"
    r"(?:(?:have|keep|set|stand)\s+(?:ready|by(?:\s+you)?|handy|to\s+hand|waiting|standing(?:\s+(?:by|ready))?)"
    r"|(?:get|make)\s+ready)\s*,?\s+(?:an?|another)\s+(?:[\w-]+\s+){0,3}?"
    rf"(?P<vessel>{one_of(meanings('pot'))})\b",
    re.I,
)
# "A weak soda bath (5 g in 5 litres, ...)": what it is made of comes in brackets.
IN_BRACKETS = re.compile(
    r"\ban?\s+(?:[a-z-]+\s+){1,4}(?:bath|dip)\s*(?P<open>\()[^()]*\d[^()]*\)", re.I
)
# "It brightens it", "is given": the bath is for fibre, which goes in.
GIVEN = frozenset(("", "hold", "modify", "treat"))
THROUGH = re.compile(r"\bthrough\s+(?:this|that|it)\b", re.I)
APART = re.compile(
    r"\b(?:separately|apart)\b|\b(?:by|on)\s+(?:themselves|itself|its\s+own|their\s+own)\b", re.I
)
DRAWS_OUT = frozenset(("boil", "simmer", "heat", "soak", "hold", "leave"))


def with_own_bath_whole(course: Course, sentence: Sentence) -> Sentence:
    """The sentence as one part, where it makes a bath of its own ready; else as it is."""
    if not sentence.parts or course.bath is None or not (course.bath.begun or course.bath.stuff):
        return sentence
    found = READIED.match(sentence.words) or _in_brackets(course, sentence)
    things = [one for part in sentence.parts for one in part.things]
    named = any(one.kind == "material" and part_played(one) != "dye" for one in things)
    water = any(one.kind == "volume" for part in sentence.parts for one in part.amounts)
    if found is None or not named or not water:
        return sentence
    first, last = sentence.parts[0], sentence.parts[-1]
    doing = Doing(ACT, found[0].strip(), first.start, first.start)
    amounts = tuple(one for part in sentence.parts for one in part.amounts)
    words = course.text[first.start : last.end]
    return sentence._replace(
        parts=(Part(doing, tuple(things), amounts, first.start, last.end, words),)
    )


def _in_brackets(course: Course, sentence: Sentence) -> re.Match[str] | None:
    """Where the words say in brackets what a bath is made of, of which nothing else is done."""
    found = IN_BRACKETS.search(course.text, sentence.start, sentence.end)
    if found is None:
        return None
    low = found.start("open")
    within = {p.doing.act for p in sentence.parts if low <= p.doing.start < found.end()}
    outside = {p.doing.act for p in sentence.parts if not low <= p.doing.start < found.end()}
    return found if outside <= GIVEN and within <= GIVEN | {"cool"} else None


def own_bath(course: Course, part: Part) -> None:
    """Make the bath, and put the fibre in where the words give it one."""
    stuff = stuff_of(course, part)
    if {one.thing.kind for one in stuff if one.amounts} != {"material", "water"}:
        return
    course.begin()
    fibre_out(course)
    course.new_bath(role_of(stuff))
    supply(course, part, stuff)
    bath = course.ready()
    if READIED.match(part.words):
        course.last_on, course.focus = "lot", "fibre"
        return
    work_in(course, part, bath, _verb(course, stuff))


def _verb(course: Course, stuff: list[Measured]) -> str:
    """Fibre that has been dyed is modified in it; else what it is in says what is done."""
    dyed = any(bath.kind == "dye" and bath.had_fibre for bath in course.baths)
    return "modify" if dyed and role_of(stuff) != "dye" else ""


def goes_through_it(course: Course, part: Part) -> bool:
    """True for "pass the skeins through this for five minutes", where a bath was just made."""
    bath = course.bath
    if bath is None or bath.prepared is None or bath.had_fibre or bath.kind == "dye":
        return False
    near = course.number - bath.prepared.sentence <= 1
    said = THROUGH.search(part.words) is not None
    if not near or not said or any(one.kind in ("material", "water") for one in part.things):
        return False
    dyed = any(one.kind == "dye" and one.had_fibre for one in course.baths)
    work_in(course, part, bath, "modify" if dyed else "")
    return True


def turn_from_what_is_apart(course: Course, part: Part) -> None:
    """Leave the bath at hand where a plant is drawn out separately."""
    bath = course.bath
    if bath is None or not bath.begun or part.doing.act not in DRAWS_OUT:
        return
    if not APART.search(part.words) or course.names_fibre(part) or course.sentence is None:
        return
    named = {
        one.name
        for each in course.sentence.parts
        for one in each.things
        if one.kind == "material" and part_played(one) == "dye"
    }
    made_here = bath.prepared is not None and bath.prepared.sentence == course.number
    if len(named) != 1 or made_here or any(bath.holds(plain_name(one)) for one in named):
        return
    course.begin()
    course.bath = None
