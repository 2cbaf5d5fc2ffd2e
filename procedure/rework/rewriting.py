"""A procedure with some of its amounts changed: a new model, the old one left as it was."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from copy import copy
from fractions import Fraction

from procedure.facts.study import Study
from procedure.flow import build
from procedure.model import Block, Item, Lot, Material, Place, Procedure, Quantity, Step
from procedure.pipeline import Judged
from procedure.rules import judge
from procedure.trace import trace

# What an amount of an item of a step becomes.
Change = Callable[[Procedure, Step, Item, Quantity], Quantity]


def rewritten(
    procedure: Procedure,
    change: Change,
    lots: dict[str, Lot] | None = None,
    materials: dict[str, Material] | None = None,
) -> Procedure:
    """The procedure with the amounts of its steps changed, and some declarations replaced.

    ``change`` is asked for each amount of an item of a step; ``lots`` and ``materials``
    replace those of the same name. Amounts are known by their place in the text, and
    steps by their number.
    """
    quantities: dict[Place, Quantity] = {}
    steps: dict[int, Step] = {}

    def one(step: Step, item: Item) -> Item:
        if item.quantity is None:
            return item
        made = change(procedure, step, item, item.quantity)
        quantities[item.quantity.place] = made
        return item._replace(quantity=made)

    def body(inner: tuple[Step | Block, ...]) -> tuple[Step | Block, ...]:
        made: list[Step | Block] = []
        for step in inner:
            if isinstance(step, Block):
                made.append(step._replace(body=body(step.body)))
                continue
            new = step._replace(
                objects=tuple(one(step, item) for item in step.objects),
                using=tuple(one(step, item) for item in step.using),
                into=tuple(one(step, item) for item in step.into),
                within=None if step.within is None else one(step, step.within),
                to=None if step.to is None else one(step, step.to),
            )
            steps[step.number] = new
            made.append(new)
        return tuple(made)

    changed = body(procedure.body)
    new_lots = {**procedure.lots, **(lots or {})}
    for name, lot in procedure.lots.items():
        for old, new in ((lot.weight, new_lots[name].weight), (lot.pieces, new_lots[name].pieces)):
            if old is not None and new is not None:
                quantities[old.place] = new
    written = [
        said._replace(
            quantity=quantities.get(said.quantity.place, said.quantity),
            step=None if said.step is None else steps.get(said.step.number, said.step),
        )
        for said in procedure.written
    ]
    made = copy(procedure)
    made.body = changed
    made.lots = new_lots
    made.materials = {**procedure.materials, **(materials or {})}
    made.written = written
    return made


def again(plan: Judged, models: Mapping[str, Procedure], judged: bool = True) -> Judged:
    """The plan of rewritten procedures (by the keys of the old ones), judged anew.

    Without judging it has no findings; that is for who only wants its amounts. What is
    followed is what the plan followed before: no file is looked for again.

    Findings keep their places in the text but lose their edits, which would be for
    other numbers than the text has.
    """
    follows = plan.flow.follows

    def find(said: str, caller: Procedure) -> Procedure | str:
        found = follows[caller.key, said]
        return found if isinstance(found, str) else models.get(found.key, found)

    flow = build(models.get(plan.model.key, plan.model), find)
    study = Study(plan.study.trees, flow, trace(flow), plan.study.workshop)
    if not judged:
        return plan._replace(study=study, findings=())
    findings = tuple(finding._replace(edit=None) for finding in judge(study))
    return plan._replace(study=study, findings=findings)


def times(quantity: Quantity, low: Fraction, high: Fraction, said: str) -> Quantity:
    """A quantity multiplied by a range; ``said`` is what its text says now."""
    if quantity.low is None or quantity.high is None:
        return quantity
    made: Quantity = quantity._replace(
        low=quantity.low * low,
        high=quantity.high * high,
        slack_low=quantity.slack_low * low,
        slack_high=quantity.slack_high * high,
        text=said,
        reading=None,
    )
    return made
