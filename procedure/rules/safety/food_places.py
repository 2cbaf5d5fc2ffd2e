"""What harms, in a vessel or a place of food: a lemonade bottle, a refrigerator, a jam pan."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from procedure.facts.handling import Handled, called, declared, grave, handled, sources
from procedure.facts.study import Study
from procedure.findings import say
from procedure.model import Place
from procedure.model.harm import undenied
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found
from procedure.vocabulary.library import food_phrases

KEPT_AWAY = r"\b(out of|away from|apart from|far from|lock\w*|forbid\w*|barred)\b"


def kept_with_food(study: Study) -> Iterator[Found]:
    """Each vessel and each step that brings something that harms among food, once each."""
    told: set[tuple[int, str]] = set()
    for one in handled(study):
        harms = [h for h in one.hazards if grave(h) or h.yes("no_children")]
        if not harms or one.how == "fibre":
            continue
        for text, place in _words(study, one):
            word = food_in(text)
            if not word or (place.line, word) in told:
                continue
            told.add((place.line, word))
            yield Found(
                one.moment.node.procedure,
                place,
                say(
                    "{thing} is among food here (“{word}”), and it harms who swallows it.",
                    thing=called(study, one.thing),
                    word=word,
                ),
                "Use vessels and places that never hold food or drink, and label them.",
                level="error" if any(grave(h) for h in harms) else "warning",
                source=sources(tuple(harms), declared(study, one.thing)),
            )


def _words(study: Study, one: Handled) -> Iterator[tuple[str, Place]]:
    """The free words of a step, and of the vessels that it is done in."""
    node, step = one.moment.node, one.moment.step
    if step.note:
        yield step.note, step.place
    if step.words is not None:
        yield step.words.text, step.words.place
    baths = (one.moment.bath_before, one.moment.bath_after)
    for pot in dict.fromkeys((node.pot, node.bag, *(b.pot for b in baths if b is not None))):
        if pot in study.flow.pots:
            vessel, _ = study.flow.pots[pot]
            worked_in = vessel.use == "dyeing" and not node.does.stores
            for text in vessel.words if not worked_in else ():
                yield text, vessel.name.place


@remembered(16384)  # every bath is met at many steps, in the same vessel
def food_in(text: str) -> str:
    """The words of food in a text that neither denies them nor keeps away from them, or “”.

    The words stand in ``food_words.csv``.
    """
    plain = text.lower()
    # Most words name none, and the pattern of all that do takes long to make.
    if not any(map(plain.__contains__, food_phrases())):
        return ""
    for clause in pattern(r"[;,.:()]").split(plain):
        # “In the fridge beside the milk” is in it, and “beside the fridge” is not.
        left = "" if pattern(KEPT_AWAY).search(clause) else undenied(clause)
        found = [one.group() for one in re.finditer(_of_food(), left)]
        if found:
            return min(found, key=lambda word: "kitchen" in word)
    return ""


@cache
def _of_food() -> str:
    """A pattern of all of them, each as words of their own."""
    return r"\b(" + "|".join(map(re.escape, food_phrases())) + r")(?:s|es)?\b"
