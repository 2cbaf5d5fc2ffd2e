"""When and how each bath of a plan is got rid of, in the writer's own words."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.handout.contents import telling_of
from procedure.handout.metal_waters import metal_waters
from procedure.model import Step
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words, joined, sentence
from procedure.pipeline import Judged
from procedure.trace import Moment
from procedure.vocabulary.thresholds import related


def ways_out(plan: Judged) -> Iterator[Phrase]:
    """A sentence for each way that baths go, with the baths that go it; then what is kept."""
    telling = telling_of(plan, Voice("metric"))
    gone: dict[str, dict[Phrase, None]] = {}
    kept: dict[str, dict[Phrase, None]] = {}
    for moment in plan.trace.moments:
        node, step = moment.node, moment.step
        if not isinstance(step, Step) or not node.bath:
            continue
        if step.does.empties:
            words = step.to.words.text if step.to is not None and step.to.words is not None else ""
            gone.setdefault(words, {}).setdefault(telling.the(node.bath))
        elif step.does.stores:
            gas = _gives_gas(plan, moment)
            lid = "under a loose lid, for gas comes off" if gas else "closed"
            kept.setdefault(lid, {}).setdefault(telling.the(node.bath))
    for words, baths in gone.items():
        where: Phrase = (Words(words),) if words else ("ask what your local rules allow",)
        yield sentence(joined(baths), ": ", where)
    for thing in _rinsed_out(plan):
        yield sentence(
            "The first rinse after the ",
            telling.real_name(thing),
            " holds metal too: collect it with the spent bath, and ask about the water after it",
        )
    for lid, baths in kept.items():
        be = "is" if len(baths) == 1 else "are"
        yield sentence(joined(baths), f" {be} kept: {lid}, labelled, out of reach of children")


def _gives_gas(plan: Judged, moment: Moment) -> bool:
    """Whether something in the bath of a step goes on giving off gas."""
    bath = moment.bath_before
    made = [plan.flow.materials.get(thing) for thing in (bath.contents if bath else ())]
    entries = [one[0].entry for one in made if one is not None]
    return any(one is not None and related("gives off", one.name) for one in entries)


def _rinsed_out(plan: Judged) -> tuple[str, ...]:
    """The materials of harmful metals of which a rinse holds some."""
    waters = (one for one in metal_waters(plan).values() if not one.poured)
    return tuple(dict.fromkeys(thing for one in waters for thing in one.things))
