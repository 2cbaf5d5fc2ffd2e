"""What is done to several baths at once: "an hour in each case", "let them cool in their baths"."""

from __future__ import annotations

import copy
import re

from procedure.draft.course import Course
from procedure.draft.sentences import Sentence
from procedure.draft.turning import inside
from procedure.draft.unsettled_steps import Bath, Step
from procedure.quantity.ready_patterns import pattern

IN_EACH = pattern(
    r"\b(?:in|for)\s+(?:each|every|either)\s+case\b|\b(?:in|for)\s+both\s+cases\b"
    r"|\btheir\s+(?:own\s+|separate\s+|respective\s+)?(?:baths|pots|pans|vats|liquors)\b",
    re.I,
)


def do_to_each_bath(course: Course, sentence: Sentence, begun: int) -> None:
    """Say what a sentence does to the bath at hand of every bath that fibre lies in.

    ``begun`` is how many steps there were before it.
    """
    if IN_EACH.search(sentence.words) is None:
        return
    done = [one for one in course.steps[begun:] if one.on == "bath" and one.bath is not None]
    others = [one for one in _baths_of_lots(course) if done and one is not done[0].bath]
    for number, bath in enumerate(others, 1):
        for step in done:
            course.steps.append(_of_other_bath(step, bath, number))


def _baths_of_lots(course: Course) -> list[Bath]:
    """The baths in which some of the fibre lies now, in order."""
    return [bath for bath in course.baths if inside(course, bath)]


def _of_other_bath(step: Step, bath: Bath, number: int) -> Step:
    made = copy.copy(step)
    made.bath, made.share = bath, None
    made.clauses = {
        name: one._replace(start=one.start + number) for name, one in step.clauses.items()
    }
    made.spoken = [one._replace(start=one.start + number) for one in step.spoken]
    return made


__all__ = ["do_to_each_bath"]
