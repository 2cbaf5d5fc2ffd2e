"""Where waste goes: "copper liquor goes in the marked drum, never down the sink".

The bath of that name is discarded, once no fibre is in it; what names no bath of the recipe only
tells how waste is dealt with.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from procedure.draft.course import Course
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Bath, Step
from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary import vocabulary

_WASTE = (
    r"(?:drums?|carboys?|waste|bins?|slops?|slop\s?-?bucket|sump|drains?|sinks?|compost(?:\s+heap)?|heap|midden|path|soak-?away"
    r"|ditch|gravel|disposal|council|rubbish|tip|toilet|loo|gutter|gull(?:e)?y|nettles|weeds|lawn|recycling|skip"
    r"|(?:labelled|labeled|marked|lidded)\s+(?:can|tin|jar|bottle|bucket|container|tub))\b"
)
GOES_TO_WASTE = pattern(
    r"\W*(?:(?:never|do\s+not|don't|always)\s+)?(?:(?:pour|tip|put|empty|throw|let|collect|keep)\s+)?"
    r"(?P<what>(?:[\w'-]+\s+){0,5}?(?:liquors?|waters?|baths?|solutions?|dregs|lees|sludge|mordant|dye|leavings|waste|afterbath)"
    r"(?:\s+of\s+the\s+\w+)?)\s+(?:always\s+|then\s+|only\s+)?"
    r"(?:(?:goes|go|went|should\s+go|must\s+go|has\s+to\s+go|is\s+to\s+go|belongs?)"
    r"|(?:is|are|was|were|can\s+be|should\s+be|must\s+be|may\s+be|is\s+to\s+be|has\s+to\s+be)\s+(?:then\s+)?"
    r"(?:poured|tipped|thrown|emptied|put|kept|collected|saved|stored|disposed\s+of|discarded|taken))"
    rf"\s+(?:away\s+)?(?:in|into|on|onto|down|to|for|at|over|with)\s+(?:the\s+|an?\s+|our\s+|its\s+|your\s+|my\s+)?(?:[\w-]+\s+){{0,3}}?{_WASTE}",
    re.I,
)
SPENT = frozenset(("spent", "old", "used", "exhausted", "leftover", "left-over", "whole", "the"))


def goes_to_waste(course: Course, sentence: Sentence) -> bool:
    """Discard the bath that a sentence says is waste; False where it says no such thing."""
    found = GOES_TO_WASTE.match(sentence.text)
    if found is None or any(p.doing.act for p in sentence.parts if p.doing.end <= sentence.start):
        return False
    low, high = (sentence.start + at for at in found.span("what"))
    bath = _bath_of(course, sentence, (low, high))
    course.begin()
    thrown = any(one.verb == "discard" and one.bath is bath for one in course.steps)
    if bath is not None and bath.begun and not bath.fibre and not thrown:
        course.add(Step("discard", sentence.number, "bath", bath))
        course.last_on = "bath"
        course.bath = None if course.bath is bath else course.bath
    else:
        verbs = [part.doing.words for part in sentence.parts if part.doing.act]
        course.not_followed += [(sentence.number, words) for words in verbs]
        course.of_no_bath.update((sentence.number, words) for words in verbs)
    return True


def _bath_of(course: Course, sentence: Sentence, what: Span) -> Bath | None:
    """The bath that some words name: by what is in it, by its kind, or the one at hand."""
    low, high = what
    named = [
        thing.name
        for part in sentence.parts
        for thing in part.things
        if thing.kind == "material" and low <= thing.start < high
    ]
    words = course.text[low:high].lower().split()
    if named:
        return _last(course, lambda one: any(_is_of(course, one, name) for name in named))
    kind = next((one for one in words if one in ("mordant", "dye")), "")
    if kind:
        return _last(course, lambda one: one.kind == kind)
    *told, last = words
    plain = last in ("bath", "liquor", "liquid") and SPENT.issuperset(told)
    return course.bath if plain else None


def _is_of(course: Course, bath: Bath, name: str) -> bool:
    """True where a material is in a bath, or another salt of its metal."""
    inside = [course.materials.get(one.name, one.name) for one in bath.stuff]
    metal = _metal(name)
    return name in inside or (metal != "" and metal in map(_metal, inside))


def _metal(name: str) -> str:
    entry = vocabulary().material(name)
    return str(entry.facts.get("metal", "")) if entry is not None else ""


def _last(course: Course, is_meant: Callable[[Bath], bool]) -> Bath | None:
    """The last bath that is meant; None where none is."""
    return next((one for one in reversed(course.baths) if is_meant(one)), None)
