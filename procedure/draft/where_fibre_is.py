"""Words that move fibre of which a draft makes no step: where the fibre is, is then not sure."""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.sentences import Part

# Acts that move fibre in or out: where one is not followed, it is not known where the fibre is.
MOVES_IN = frozenset(("enter", "put"))


THEM = re.compile(r"\b(?:it|them|lots?|ones?|both|all|everything)\b", re.I)


def _may_move(course: Course, part: Part) -> bool:
    """True where a verb that is not followed may mean that fibre goes into its bath or out."""
    inside = course.bath is not None and course.bath.fibre
    meant = course.names_fibre(part) or (
        course.focus == "fibre" and THEM.search(part.words) is not None
    )
    if part.doing.act == "lift":
        return inside and meant
    tied = part.doing.words.startswith(("tie", "tying"))  # in a bag, and in no bath yet
    return part.doing.act in MOVES_IN and not inside and meant and not tied


def _contradicts(course: Course, part: Part) -> bool:
    """True where fibre is said to go in that the draft has in the bath, or out that it has not."""
    if not course.lots or not course.steps or course.steps[-1].sentence == course.number:
        return False
    inside = course.bath is not None and course.bath.fibre
    if part.doing.act == "enter":
        return inside and course.names_fibre(part)
    return part.doing.act == "lift" and not inside and course.names_fibre(part)


def note_where_fibre_is(course: Course, part: Part) -> None:
    """Keep the sentence of a verb that is not followed, where it bears on where the fibre is."""
    if _may_move(course, part):
        course.unclear.add(course.number)
    if _contradicts(course, part):
        course.contradicted[course.number] = part.doing.act
