"""Sentences of the checker and of the timetable with a plan's names as papers have them."""

from __future__ import annotations

import re

from procedure.paper.pieces import spaced
from procedure.pipeline import Judged


def names_as_words(plan: Judged, text: str) -> str:
    """A sentence with the plan's own names as words: ``alum-pot`` is alum pot."""
    flow = plan.flow
    every = (*flow.lots, *flow.baths, *flow.pots, *flow.materials)
    hyphened = {name for thing in every if "-" in (name := plan.study.called(thing))}
    for name in sorted(hyphened, key=len, reverse=True):
        text = re.sub(rf"(?<![\w-]){re.escape(name)}(?![\w-])", spaced(name), text)
    return text
