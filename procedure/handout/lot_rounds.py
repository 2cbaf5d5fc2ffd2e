"""How a lot's steps went: how often and until what, how hot, and what it was given before."""

from __future__ import annotations

from procedure.flow import FlowNode
from procedure.handout.phrasebook import Telling
from procedure.model import Block, Quantity, Step
from procedure.paper.measures import NARROW, Voice
from procedure.paper.pieces import plain_text
from procedure.pipeline import Judged
from procedure.quantity.interval import ONE, Interval
from procedure.quantity.record import NamedTuple
from procedure.trace import Moment


class Round(NamedTuple):
    """How often a step is done, what else is said of its rounds, and on what condition."""

    times: Interval = ONE
    rounds: tuple[str, ...] = ()
    condition: str = ""


def rounds(plan: Judged) -> dict[int, Round]:
    """How often each step of a plan is done, by the blocks that it is in."""
    found: dict[int, Round] = {}

    def count(nodes: list[FlowNode], so_far: Round) -> None:
        for node in nodes:
            found[node.id] = so_far
            inner = _inside(node, node.step, so_far) if isinstance(node.step, Block) else so_far
            count(node.inner, inner)

    count(plan.flow.top, Round())
    return found


def _inside(node: FlowNode, block: Block, so_far: Round) -> Round:
    """How often the steps of a block are done."""
    if node.kind == "repeat":
        times = Interval(*sorted(block.times)) if block.times is not None else ONE
        said = (*so_far.rounds, *_said(block))
        return so_far._replace(times=so_far.times.times(times), rounds=said)
    if node.kind not in ("way", "if"):
        return so_far
    way = f"on the way “{block.condition}”" if node.kind == "way" else f"if “{block.condition}”"
    return so_far._replace(condition=f"{so_far.condition}, and {way}" if so_far.condition else way)


def _said(block: Block) -> tuple[str, ...]:
    """What a repeat says besides a number: again and again, every so often, until what."""
    again = "again and again" if block.times is None else ""
    every = f"every {block.every.text}" if block.every is not None else ""
    until = f"until {block.condition}" if block.condition else ""
    said = " ".join(word for word in (again, every, until) if word)
    return (said,) if said else ()


def how_hot(plan: Judged, moment: Moment, voice: Voice) -> list[str]:
    """How hot it was, as it is written: at, from and to, in the units of a voice.

    Of what cools the heat that it cools to, where one is stated; what hangs in the air has none.
    """
    step, node = moment.step, moment.node
    if moment.heat is None or node.does.in_air:
        return []
    telling = Telling(plan, voice)
    start, goal = (_stated(one.quantity if one else None) for one in (step.source, step.to))
    if node.does.cools:
        return [_heat(telling, goal, "to")] if goal is not None else []
    before = moment.bath_before.heat if moment.bath_before is not None else None
    if step.left_unheated and before is not None and moment.heat.low < before.low:
        return [f"as it cooled from {voice.heat(*before)}"]
    end = goal or _stated(step.at.quantity if step.at is not None else None)
    if start is not None and end is not None:
        return [_heat(telling, start, "from"), _heat(telling, end, "to")]
    rises = step.over is not None or node.does.brings_to_heat
    if goal is not None and moment.heat == goal.ends and rises:
        return [_heat(telling, goal, "to")]  # heated to the boil, which is no rise from 95 °C
    if goal is not None and moment.heat != goal.ends and is_heat_said(moment):
        return [f"from {voice.heat(*moment.heat)}"]
    if end is not None and goal is None and step.at is not None:
        return [_heat(telling, end, "at")]
    return [f"at {voice.heat(*moment.heat)}"] if is_heat_said(moment) else []


def is_heat_said(moment: Moment) -> bool:
    """True where the heats of a step are those that are written of it or of its bath.

    What nobody wrote, and what a bath has cooled to meanwhile, is no fact for a paper.
    """
    step, before = moment.step, moment.bath_before
    if step.does.heat or before is None or before.heat_said:
        return True
    return moment.heat != before.heat and not step.left_unheated


def _stated(quantity: Quantity | None) -> Quantity | None:
    """A heat that is stated with a number or a word; None where it is not."""
    known = quantity is not None and quantity.kind == "temperature" and quantity.known
    return quantity if known else None


def _heat(telling: Telling, quantity: Quantity, preposition: str) -> str:
    return plain_text(telling.heat(quantity, preposition), telling.voice).replace(NARROW, " ")


def until_what(plan: Judged, step: Step, voice: Voice) -> list[str]:
    """Until when a step goes on, where that is said."""
    said = plain_text(Telling(plan, voice).until(step), voice).replace(NARROW, " ")
    return [said] if said else []


def before_it_began(plan: Judged, family: list[str]) -> tuple[str, ...]:
    """What the lots that a lot comes from were given before: ``alum 10 %``."""
    found: dict[str, None] = {}
    for lot in family:
        declared = plan.flow.lots[lot].declared
        for past in declared.past if declared is not None else ():
            share = f" {past.share.text}" if past.share is not None else ""
            found[f"{past.entry.name}{share}"] = None
    return tuple(found)
