"""A procedure with some of its amounts changed: a new model, the old one left as it was."""

from __future__ import annotations

from collections.abc import Callable
from copy import copy
from fractions import Fraction
from pathlib import Path

from procedure.collection.files import Collection
from procedure.collection.workshop import house_of
from procedure.facts.study import Study
from procedure.flow import Flow, build
from procedure.model import Block, Item, Lot, Material, Procedure, Quantity, Step
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
    """The procedure with the amounts of its steps changed, and some declarations replaced."""
    quantities: dict[int, Quantity] = {}
    steps: dict[int, Step] = {}

    def one(step: Step, item: Item) -> Item:
        if item.quantity is None:
            return item
        made = change(procedure, step, item, item.quantity)
        quantities[id(item.quantity)] = made
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
            steps[id(step)] = new
            made.append(new)
        return tuple(made)

    changed = body(procedure.body)
    new_lots = {**procedure.lots, **(lots or {})}
    for name, lot in procedure.lots.items():
        for old, new in ((lot.weight, new_lots[name].weight), (lot.pieces, new_lots[name].pieces)):
            if old is not None and new is not None:
                quantities[id(old)] = new
    written = [
        said._replace(
            quantity=quantities.get(id(said.quantity), said.quantity),
            step=steps.get(id(said.step), said.step),
        )
        for said in procedure.written
    ]
    made = copy(procedure)
    made.body = changed
    made.lots = new_lots
    made.materials = {**procedure.materials, **(materials or {})}
    made.written = written
    return made


def again(plan: Judged, models: dict[int, Procedure], judged: bool = True) -> Judged:
    """The plan of rewritten procedures (by the identity of the old ones), judged anew.

    Without judging it has no findings; that is for who only wants its amounts.

    Findings keep their places in the text but lose their edits, which would be for
    other numbers than the text has.
    """
    main = models.get(id(plan.model), plan.model)
    flow = build(main, _Followed(plan.flow, models))
    study = Study(plan.study.trees, flow, trace(flow))
    if not judged:
        return plan._replace(study=study, findings=())
    home = Path(plan.file)
    house = house_of(home) if home.is_file() else None
    levels = {} if house is None else house.levels
    findings = tuple(finding._replace(edit=None) for finding in judge(study, levels))
    return plan._replace(study=study, findings=findings)


class _Followed(Collection):
    """The procedures that a plan already follows, rewritten."""

    def __init__(self, flow: Flow, models: dict[int, Procedure]) -> None:
        super().__init__(None, _never)
        self.known: dict[Path, Procedure] = {
            Path(old.file).resolve(): models.get(id(old), old) for old in flow.procedures
        }
        self.reasons = {
            (slip.name.text, slip.procedure.file): slip.kind.removeprefix("follow ")
            for slip in flow.slips
            if slip.kind.startswith("follow ")
        }

    def find(self, said: str, caller: str) -> Procedure | str:
        """The rewritten procedure, or why there was none."""
        found = self.known.get((Path(caller).parent / said).resolve())
        return found or self.reasons.get((said, caller), "missing")


def _never(path: Path) -> Procedure:
    raise AssertionError(f"{path} is read already")


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
