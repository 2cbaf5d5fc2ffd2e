"""Fibre that is worked in several lots: "I mordanted it in two lots of 500 g".

From there on "the first lot" is one of them. Nothing is parted before a lot is named alone.
"""

from __future__ import annotations

import re
from functools import cache

from procedure.draft.course import Course, LotWords
from procedure.draft.lexicon import fibres, meanings, one_of
from procedure.draft.lots_meant import weight_of
from procedure.draft.sentences import Sentence
from procedure.draft.shares import grams, whole

WORKED = frozenset(("mordant", "dye", "scour", "wash", "enter", "put", "simmer", "boil", "soak"))
LEAST_LOTS = 2


@cache
def _in_lots() -> re.Pattern[str]:
    fibre = one_of([*fibres(), *meanings("fibre")])
    number = one_of(meanings("number"))
    return re.compile(
        rf"\b(?:it|them|{fibre})\s+in\s+(?P<n>{number}|\d{{1,2}})\s+(?:equal\s+|separate\s+)?"
        r"(?:lots|batches|halves)\b(?!\s+of\s+[a-z])(?P<of>\s+of\b)?",
        re.I,
    )


def note_lots_in_turn(course: Course, sentence: Sentence) -> None:
    """Note into how many lots a sentence divides the one lot that it works on."""
    lots = course.all_lots()
    if len(lots) != 1 or lots[0].count > 1:
        return
    if not any(part.doing.act in WORKED for part in sentence.parts):
        return
    found = _in_lots().search(course.text, sentence.start, sentence.end)
    if found is None:
        return
    many = int(meanings("number").get(found["n"].lower(), found["n"]))
    every = [one for part in sentence.parts for one in part.amounts]
    here = [one for one in every if found.start("n") <= one.start < found.end()]
    if found["of"]:
        each = next((one for one in every if one.start >= found.end() - len(" of")), None)
        weight, told = weight_of(lots[0]), grams(each) if each is not None else None
        if each is None or told is None or (weight is not None and told * many != weight):
            return
        here = list(dict.fromkeys([*here, each]))
    if many < LEAST_LOTS:
        return
    lots[0].divided = many
    course.used.update(one.start for one in here)
    course.picks += here
    end = max([found.end(), *(one.end for one in here)])
    course.lots_told.append(LotWords(found.start("n"), end, False))
    course.picked.turn(whole(lots))
