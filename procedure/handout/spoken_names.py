"""Sentences of the checker and of the timetable as papers have them: for a dyer, not a writer."""

from __future__ import annotations

import re

from procedure.facts.study import Study
from procedure.findings import Finding
from procedure.handout.spoken_remedies import to_be_done
from procedure.paper.pieces import spaced
from procedure.pipeline import Judged
from procedure.vocabulary.trade_names import with_capitals


def names_as_words(plan: Judged, text: str) -> str:
    """A sentence with the plan's own names as words: ``alum-pot`` is alum pot."""
    begun = plan.study.once(_hyphened)
    there = {name for word in _WORD.findall(text) for name in begun.get(word, ())}
    for name in sorted(there, key=len, reverse=True):
        text = re.sub(rf"(?<![\w-]){re.escape(name)}(?![\w-])", spaced(name), text)
    return with_capitals(text)


_WORD = re.compile(r"\w+")


def _hyphened(study: Study) -> dict[str, list[str]]:
    """The plan's own names with a hyphen in them, by the word with which they begin."""
    flow = study.flow
    every = (*flow.lots, *flow.baths, *flow.pots, *flow.materials)
    begun: dict[str, list[str]] = {}
    for name in dict.fromkeys([study.called(thing) for thing in every]):
        first = _WORD.match(name)
        if first is not None and "-" in name:
            begun.setdefault(first[0], []).append(name)
    return begun


SETTLE = "What is not said is to be settled before you begin."


def for_a_dyer(plan: Judged, found: Finding) -> Finding:
    """A finding as it speaks to whoever works from a paper: its sentence, and what to do.

    Where its remedy is only words to write, it has none: :data:`SETTLE` is said of all of those.
    """
    both = (found.sentence, to_be_done(found.remedy))
    sentence, remedy = (names_as_words(plan, text) for text in both)
    return found._replace(sentence=f"{sentence[:1].upper()}{sentence[1:]}", remedy=remedy)
