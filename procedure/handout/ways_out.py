"""When and how each bath of a plan is got rid of, in the writer's own words."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.handout.contents import telling_of
from procedure.handout.metal_waters import metal_waters
from procedure.handout.phrasebook import Telling
from procedure.model import Step
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words, joined, plain_text, sentence
from procedure.pipeline import Judged
from procedure.trace import Moment
from procedure.vocabulary.thresholds import related

ASK = "ask what your local rules allow"


def ways_out(plan: Judged) -> Iterator[Phrase]:
    """A sentence for each way that baths go, with the baths that go it; then what is kept."""
    telling = telling_of(plan, Voice("metric"))
    gone: dict[str, dict[Phrase, None]] = {}
    kept: dict[str, dict[Phrase, None]] = {}
    said: dict[str, list[str]] = {}
    for moment in plan.trace.moments:
        node, step = moment.node, moment.step
        if not isinstance(step, Step) or not node.bath:
            continue
        conditions = said.setdefault(node.bath, [])
        if node.lots or node.present or node.does.makes_bath:
            # What is said before the fibre is out of it is of the work, not of the waste.
            conditions.clear()
        else:
            conditions += _conditions(telling, step)
        if step.does.empties:
            words = step.to.words.text if step.to is not None and step.to.words is not None else ""
            first = "; ".join(dict.fromkeys(one for one in conditions if one not in words))
            if first:
                words = f"{words or ASK}. Before that: {first}"
            gone.setdefault(words, {}).setdefault(telling.the(node.bath))
        elif step.does.stores:
            gas = _gives_gas(plan, moment)
            lid = "under a loose lid, for gas comes off" if gas else "closed"
            kept.setdefault(lid, {}).setdefault(telling.the(node.bath))
    for words, baths in gone.items():
        where: Phrase = (Words(words),) if words else (ASK,)
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


def _conditions(telling: Telling, step: Step) -> list[str]:
    """What the writer has happen to a bath before it goes: time in the open, an until, notes."""
    until = step.until.words if step.until is not None else None
    said = [f"wait until {until.text}"] if until is not None else []
    if "uncovered" in step.manner and telling.lasting(step):
        lasting = plain_text(telling.lasting(step), telling.voice)
        said.append(f"let it stand open {lasting}")
    # A note on how it is strained or stirred is of the work, and has nothing to do with waste.
    of_waste = bool(said) or step.does.empties or step.does.adds or step.does.stores
    return [*said, *([step.note] if step.note and of_waste else [])]


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
