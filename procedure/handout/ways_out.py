"""When and how each bath of a plan is got rid of, in the writer's own words."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.handout.contents import telling_of
from procedure.handout.metal_waters import metal_waters
from procedure.model import Step
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words, joined, sentence
from procedure.pipeline import Judged


def ways_out(plan: Judged) -> Iterator[Phrase]:
    """A sentence for each way that baths go, with the baths that go it; then what is kept."""
    telling = telling_of(plan, Voice("metric"))
    gone: dict[str, dict[Phrase, None]] = {}
    kept: dict[Phrase, None] = {}
    for moment in plan.trace.moments:
        node, step = moment.node, moment.step
        if not isinstance(step, Step) or not node.bath:
            continue
        if step.does.empties:
            words = step.to.words.text if step.to is not None and step.to.words is not None else ""
            gone.setdefault(words, {}).setdefault(telling.the(node.bath))
        elif step.does.stores:
            kept.setdefault(telling.the(node.bath))
    for words, baths in gone.items():
        where: Phrase = (Words(words),) if words else ("ask what your local rules allow",)
        yield sentence(joined(baths), ": ", where)
    for thing in _rinsed_out(plan):
        yield sentence(
            "The first rinse after the ",
            telling.real_name(thing),
            " holds metal too: collect it with the spent bath, and ask about the water after it",
        )
    if kept:
        be = "is" if len(kept) == 1 else "are"
        yield sentence(joined(kept), f" {be} kept: closed, labelled, out of reach of children")


def _rinsed_out(plan: Judged) -> tuple[str, ...]:
    """The materials of harmful metals of which a rinse holds some."""
    waters = (one for one in metal_waters(plan).values() if not one.poured)
    return tuple(dict.fromkeys(thing for one in waters for thing in one.things))
