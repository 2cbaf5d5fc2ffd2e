"""Fibre treated with what the words name: "treated with 4 % tannic acid", "finish in soap".

The verb says only that something is done to the fibre; what it is, the stuff says. A treatment
that is a noun ("after-treatment with iron was carried out at 50 °C") is one as well.
"""

from __future__ import annotations

import re

from procedure.draft import acts_of_fibre
from procedure.draft.course import Course
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, is_suds, part_played, role_of
from procedure.draft.supplies import stuff_of, supply
from procedure.draft.working import fibre_out, work_in
from procedure.quantity.ready_patterns import pattern

# "Treated with tannin at 60 °C for 1 h, and then with alum at 40 °C": one bath after the other.
AND_WITH = pattern(
    r"(?:,\s*|\s)(?:and|then|followed\s+by)\b[^.;()]{0,32}?\b(?:with|by|in)\s+", re.I
)
OF_A_STEP = frozenset(("time", "named wait", "temperature", "named heat"))
STUFF = frozenset(("share", "mass", "strength", "volume", "spoon"))


def treat(course: Course, part: Part) -> None:
    """Fibre treated, once or with one thing after the other."""
    for piece in _one_after_the_other(course, part):
        course.part = piece
        _treat(course, piece)


def _one_after_the_other(course: Course, part: Part) -> list[Part]:
    """The pieces of a part of which each brings its own stuff for its own time."""
    made, low = [], part.start
    for found in AND_WITH.finditer(course.text, part.doing.end, part.end):
        at = found.start()
        here = [one.kind for one in part.amounts if low <= one.start < at]
        behind = [one.kind for one in part.amounts if one.start >= at]
        solid = any(one.kind == "material" and found.end() <= one.start for one in part.things)
        done = OF_A_STEP & set(here) and STUFF & set(here)
        if solid and done and OF_A_STEP & set(behind):
            made.append(_between(part, low, at))
            low = at
    return [*made, _between(part, low, part.end)]


def _between(part: Part, low: int, high: int) -> Part:
    """What of a part stands between two places."""
    return part._replace(
        start=low,
        end=high,
        words=part.words[low - part.start : high - part.start],
        things=tuple(one for one in part.things if low <= one.start < high),
        amounts=tuple(one for one in part.amounts if low <= one.start < high),
    )


def _treat(course: Course, part: Part) -> None:
    stuff = stuff_of(course, part)
    solids = [one for one in stuff if one.thing.kind == "material"]
    if not solids:
        return  # of what it is treated with nothing is said that is known
    dyed = any(bath.kind == "dye" and bath.had_fibre for bath in course.baths)
    if is_suds([one.thing.name for one in solids]):
        act = acts_of_fibre.wash if dyed else acts_of_fibre.scour
        act(course, part)
        return
    if dyed and _is_sour(solids):
        acts_of_fibre.rinse(course, part)
        return
    role = role_of(solids)
    into_this = not any(one.amounts for one in solids) and _is_at_hand(course, solids)
    if not into_this:
        _turn_from(course)
        course.new_bath(role)
    supply(course, part, stuff)
    verb = "modify" if dyed and role != "dye" else "" if role else "steep"
    work_in(course, part, course.ready(), verb)


def _is_sour(solids: list[Measured]) -> bool:
    """True for vinegar or an acid alone, in which dyed fibre is rinsed at the end."""
    return all(
        part_played(one.thing) == "assistant"
        and ("vinegar" in one.thing.name or "acid" in one.thing.name)
        for one in solids
    )


def _is_at_hand(course: Course, solids: list[Measured]) -> bool:
    bath = course.bath
    return bath is not None and all(bath.holds(course.material(one.thing)) for one in solids)


def _turn_from(course: Course) -> None:
    """Leave the bath at hand: what the fibre is treated with has one of its own."""
    bath = course.bath
    if bath is None:
        return
    course.begin()
    if bath.fibre:
        fibre_out(course)
    course.bath = None
