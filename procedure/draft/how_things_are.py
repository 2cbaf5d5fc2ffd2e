"""What the prose says of how its fibre and its plants are: scoured, fresh, dried.

That is no deed: it belongs to what is declared. What is said of a plant in two ways ("fresh or
dried") is left among the words that were not read, since the recipe does not say which it took.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from procedure.draft.beside_fibre import beside_fibre
from procedure.draft.course import Course
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.draft.things import Thing
from procedure.quantity.record import NamedTuple

SCOURED = re.compile(r"\b(?:(?:already|ready|well|previously)[\s-]+)*(?:pre-?)?scoured\b", re.I)
# "Fresh nettle tops", "freshly picked young birch leaves"; and "weld, dried", "nettles (fresh)".
AHEAD = re.compile(
    r"\b(?P<state>fresh|dried|dry)(?:ly)?(?P<more>(?:\s+(?:picked|cut|gathered|chopped|young|green"
    r"|crushed|whole|ground|milled))*)\s+$",
    re.I,
)
BEHIND = re.compile(
    r"(?:\s+(?:leaves|leaf|tops|flowers|heads|roots?|bark|skins|hulls|husks|stems|plants?|petals))?"
    r"\s*[,(]\s*(?P<state>fresh|dried)(?!\s*(?:or|and|,)\s*(?:fresh|dried))\b",
    re.I,
)
# "Never use dried weld", "if fresh leaves are to be had": what is not so here, or may not be.
NOT_SO = re.compile(
    r"\b(?:not|never|no|don['’]t|without|avoid|instead\s+of|rather\s+than|than|if|unless|when|where)"
    r"\b[^.;:,()]*$",
    re.I,
)
BETTER = re.compile(r"[^.;:,()]*\b(?:is|are)\s+(?:better|best|worse|weaker|stronger)\b", re.I)
EITHER = re.compile(r"\b(?:or|and)\s+(?:fresh|dried|dry)(?:ly)?\b[^.;]*$", re.I)


class HowThingsAre(NamedTuple):
    """What is declared of lots and of materials, by their names, and the words that say it."""

    lots: dict[str, str]
    materials: dict[str, str]
    spans: tuple[Span, ...]

    def said_in(self, sentence: Sentence) -> list[Span]:
        """The words of a sentence that say how something is."""
        return [one for one in self.spans if sentence.start <= one[0] < sentence.end]


def how_things_are(course: Course, told: Iterable[Sentence]) -> HowThingsAre:
    """How the fibre and the plants of a recipe are, as far as its sentences say."""
    of_lot: dict[str, dict[str, None]] = {name: {} for name in course.lots}
    states: dict[str, set[str]] = {}
    where: list[tuple[str, Span]] = []
    spans: list[Span] = []
    scours = any(step.verb == "scour" for step in course.steps)
    for sentence in told:
        things = [thing for part in sentence.parts for thing in part.things]
        if course.lots and not scours and (said := _scoured(sentence, things)) is not None:
            for name in course.lots:
                of_lot[name]["scoured"] = None
            spans.append(said)
        for lot in course.lots.values():
            more, beside = beside_fibre(course, sentence, lot)
            of_lot[lot.name] |= dict.fromkeys(one for one in more if one != "scoured" or not scours)
            spans += beside
        for thing in things:
            found = _state(course.text, thing) if thing.kind == "material" else None
            if found is not None:
                states.setdefault(thing.name, set()).add(found[0])
                where.append((thing.name, found[1]))
    sure = {name: said.pop() for name, said in states.items() if len(said) == 1}
    materials = {name: sure[of] for name, of in course.materials.items() if of in sure}
    spans += [span for of, span in where if of in sure and of in course.materials.values()]
    lots = {name: ", ".join(said) for name, said in of_lot.items()}
    return HowThingsAre(lots, materials, tuple(spans))


def _scoured(sentence: Sentence, things: list[Thing]) -> Span | None:
    """Where a sentence that names fibre says that it is scoured; None where it is a deed."""
    if not any(thing.kind == "fibre" for thing in things):
        return None
    for match in SCOURED.finditer(sentence.text):
        low, high = sentence.start + match.start(), sentence.start + match.end()
        deeds = [*(part.doing for part in sentence.parts), *sentence.left_out]
        if not any(low <= one.start < high and one.act for one in deeds):
            return low, high
    return None


def _state(text: str, thing: Thing) -> tuple[str, Span] | None:
    """Whether a plant is said to be fresh or dried, and where."""
    before = text[max(0, thing.start - 48) : thing.start]
    ahead = AHEAD.search(before)
    if ahead is not None:
        at = thing.start - len(before)
        so = not NOT_SO.search(before[: ahead.start()]) and not BETTER.match(text, thing.end)
        if not so or EITHER.search(before[: ahead.end()]):
            return None
        return _named(ahead["state"]), (at + ahead.start(), at + ahead.end("state"))
    behind = BEHIND.match(text, thing.end)
    return None if behind is None else (_named(behind["state"]), behind.span("state"))


def _named(state: str) -> str:
    return "fresh" if state.lower() == "fresh" else "dried"
