"""What a procedure asks a record to hold: each step with a number or a choice, in the order and
with the numbers of the handout."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.batch.asked import blanks_of, planned_text, takes_time, things, words
from procedure.batch.over_and_over import in_rounds
from procedure.batch.side_of_form import (
    PlannedBatch,
    PlannedStep,
    PlannedUse,
    content_hash,
)
from procedure.flow.graph import FlowNode
from procedure.model import Block, Lot, Quantity, Step
from procedure.pipeline import Judged
from procedure.rules.judging import reader_of
from procedure.trace.amounts import Amount
from procedure.trace.moments import Moment
from procedure.weigh.weighing import weigh
from procedure.wording import Reader
from procedure.wording.visible import one_line


def planned_batch(plan: Judged) -> PlannedBatch:
    """A procedure as a record sees it; its amounts in the units of its file."""
    model = plan.model
    reader = reader_of(model)
    edition = model.version or model.revised
    moments: dict[int, Moment] = {}
    for moment in plan.trace.moments:
        moments.setdefault(moment.node.id, moment)
    steps = tuple(_steps(plan, plan.flow.top, moments, reader))
    asked = [step for step in steps if step.blanks or step.timed]
    return PlannedBatch(
        plan.file,
        one_line(model.title.text) if model.title else "",
        one_line(edition.text) if edition else "",
        content_hash(plan.text),
        tuple(
            PlannedUse(name, _weight(lot, reader), *_ends(lot.weight))
            for name, lot in model.lots.items()
        ),
        _materials(plan, reader),
        tuple(asked),
        _finished(plan),
        tuple(step for step in steps if not step.blanks and not step.timed and step.verb),
    )


def _finished(plan: Judged) -> tuple[str, ...]:
    """The lots that the work ends with: those that were not split or joined to others."""
    gone = {part for lot in plan.flow.lots.values() for part in lot.parts}
    names = [lot.name for lot_id, lot in plan.flow.lots.items() if lot_id not in gone]
    return tuple(dict.fromkeys(names))


def _materials(plan: Judged, reader: Reader) -> tuple[PlannedUse, ...]:
    """What is bought or gathered, by the name that its own file has for it."""
    made: dict[str, PlannedUse] = {}
    for total in weigh(plan).totals:
        if total.how not in ("buy", "gather"):
            continue
        name = total.thing.rpartition(".")[2]
        low, high = total.low, total.high
        before = made.get(name)
        if before is not None and before.low is not None and before.high is not None:
            low, high = low + before.low, high + before.high
        text = ""
        if high and total.kind:
            text = planned_text(Amount(total.kind, low, high), None, reader)
        made[name] = PlannedUse(
            name, text, low, high, _is_grown(plan, total.thing), total.kind or "mass"
        )
    return tuple(made.values())


def _is_grown(plan: Judged, name: str) -> bool:
    material = plan.model.materials.get(name)
    return material is not None and "dyestuff" in material.roles


def _ends(quantity: Quantity | None) -> tuple[Fraction | None, Fraction | None]:
    return (None, None) if quantity is None else (quantity.low, quantity.high)


def _weight(lot: Lot, reader: Reader) -> str:
    """A lot's weight in all; empty where no number is known."""
    low, high = _ends(lot.weight)
    if low is None or high is None:
        return ""
    by_pieces = lot.pieces is not None and lot.pieces.each is not None
    return planned_text(Amount("mass", low, high), None if by_pieces else lot.weight, reader)


def _steps(
    plan: Judged,
    nodes: list[FlowNode],
    moments: dict[int, Moment],
    reader: Reader,
    prefix: str = "",
    turn: str = "",
    repeat: str = "",
) -> Iterator[PlannedStep]:
    """The steps in order; ``turn`` is the value of a ``for each`` that they are done for, and
    ``repeat`` the number of the step that repeats them."""
    for node in nodes:
        if node.kind == "end":
            continue
        number = f"{prefix}{node.step.number}"
        own = node.procedure is plan.model
        blanks = tuple(blanks_of(node, moments.get(node.id), reader))
        if not own:  # a followed file's places are not places of this text
            blanks = tuple(blank._replace(place=None) for blank in blanks)
        yield PlannedStep(
            number,
            one_line(in_rounds(f"{words(node)}, {turn}" if turn else words(node), repeat)),
            node.step.verb.name if isinstance(node.step, Step) and node.step.verb else "",
            things(node),
            blanks,
            node.step.place.line if own else 0,
            takes_time(node),
        )
        inner = f"{number}." if node.kind == "follow" else prefix
        around = number if node.kind == "repeat" else repeat
        for value, nodes_of_turn in _turns(node):
            named = f"{turn}, {value}" if turn and value else turn or value
            yield from _steps(plan, nodes_of_turn, moments, reader, inner, named, around)


def _turns(node: FlowNode) -> list[tuple[str, list[FlowNode]]]:
    """What is within a step; of a ``for each`` the steps for each value."""
    shown = [one for one in node.inner if one.kind != "end"]
    block = node.step
    values = [
        value.name.text
        for value in (block.values if isinstance(block, Block) and node.kind == "for" else ())
        if value.name is not None
    ]
    count = len(shown) // len(values) if values else 0
    if not count or count * len(values) != len(shown):
        return [("", node.inner)]
    return [(value, shown[i * count : (i + 1) * count]) for i, value in enumerate(values)]
