"""What a procedure asks a record to hold: each step with a number or a choice, in the order and
with the numbers of the handout."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.batch.planned import (
    Blank,
    PlannedBatch,
    PlannedStep,
    PlannedUse,
    content_hash,
)
from procedure.flow.graph import FlowNode
from procedure.model import Block, Item, Quantity, Step
from procedure.paper.measures import in_system
from procedure.pipeline import Judged
from procedure.quantity.number_words import between
from procedure.trace.amounts import Amount
from procedure.trace.moments import Moment
from procedure.vocabulary import vocabulary
from procedure.weigh.weighing import weigh

# The clauses of a step that take an amount, in the order in which they are worked.
_CLAUSES = (
    ("source", "from"),
    ("at", "at"),
    ("to", "to"),
    ("over", "over"),
    ("lasting", "for"),
    ("until", "until"),
)


def planned_batch(plan: Judged) -> PlannedBatch:
    """A procedure as a record sees it; its own amounts in grams and litres."""
    model = plan.model
    edition = model.version or model.revised
    moments: dict[int, Moment] = {}
    for moment in plan.trace.moments:
        moments.setdefault(moment.node.id, moment)
    return PlannedBatch(
        plan.file,
        model.title.text if model.title else "",
        edition.text if edition else "",
        content_hash(plan.text),
        tuple(
            PlannedUse(name, _weight(lot.weight), *_ends(lot.weight))
            for name, lot in model.lots.items()
        ),
        _materials(plan),
        tuple(_steps(plan, plan.flow.top, "", moments)),
        _finished(plan),
    )


def _finished(plan: Judged) -> tuple[str, ...]:
    """The lots that the work ends with: those that were not split or joined to others."""
    gone = {part for lot in plan.flow.lots.values() for part in lot.parts}
    names = [lot.name for lot_id, lot in plan.flow.lots.items() if lot_id not in gone]
    return tuple(dict.fromkeys(names))


def _materials(plan: Judged) -> tuple[PlannedUse, ...]:
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
        text = _amount(Amount(total.kind, low, high)) if high and total.kind else ""
        made[name] = PlannedUse(name, text, low, high, _is_grown(plan, total.thing))
    return tuple(made.values())


def _is_grown(plan: Judged, name: str) -> bool:
    material = plan.model.materials.get(name)
    return material is not None and "dyestuff" in material.roles


def _ends(quantity: Quantity | None) -> tuple[Fraction | None, Fraction | None]:
    return (None, None) if quantity is None else (quantity.low, quantity.high)


def _weight(weight: Quantity | None) -> str:
    """A lot's weight in all, in grams; empty where no number is known."""
    low, high = _ends(weight)
    return "" if low is None or high is None else _amount(Amount("mass", low, high))


def _steps(
    plan: Judged, nodes: list[FlowNode], prefix: str, moments: dict[int, Moment]
) -> Iterator[PlannedStep]:
    for node in nodes:
        if node.kind == "end":
            continue
        number = f"{prefix}{node.step.number}"
        own = node.procedure is plan.model
        blanks = tuple(_blanks(node, moments.get(node.id)))
        if not own:  # a followed file's places are not places of this text
            blanks = tuple(blank._replace(place=None) for blank in blanks)
        if blanks:
            yield PlannedStep(
                number,
                words(node),
                node.step.verb.name if isinstance(node.step, Step) and node.step.verb else "",
                _things(node),
                blanks,
                node.step.place.line if own else 0,
            )
        inner = f"{number}." if node.kind == "follow" else prefix
        yield from _steps(plan, node.inner, inner, moments)


def words(node: FlowNode) -> str:
    """A step in short: its verb, what it acts on and where; a block by its first line."""
    step = node.step
    if isinstance(step, Block):
        if step.kind == "if":
            return f"if {step.condition}"
        if step.kind == "repeat":
            return f"repeat until {step.condition}" if step.condition else "repeat"
        return "for each"
    verb = step.verb.name if step.verb else "do"
    said = [verb, ", ".join(_called(item) for item in step.objects)]
    if step.words is not None:
        said.append(step.words.text)
    if step.within is not None and step.within.name is not None:
        said.append(f"in {step.within.name.text}")
    if step.to is not None and step.to.name is not None:
        said.append(f"to {step.to.name.text}")
    label = f"{step.label.text}: " if step.label is not None else ""
    return label + " ".join(part for part in said if part)


def _called(item: Item) -> str:
    if item.name is not None:
        return item.name.text
    return item.words.text if item.words is not None else ""


def _things(node: FlowNode) -> tuple[str, ...]:
    step = node.step
    if isinstance(step, Block):
        return ()
    items = [*step.objects, *([step.within] if step.within is not None else [])]
    return tuple(item.name.text for item in items if item.name is not None)


def _blanks(node: FlowNode, moment: Moment | None) -> Iterator[Blank]:
    step = node.step
    if isinstance(step, Block):
        yield from _of_block(step)
        return
    for field, word in _CLAUSES:
        said = getattr(step, field)
        if isinstance(said, Item):
            yield from _of_item(word, said)
        elif isinstance(said, Quantity):
            yield from _of_quantity(word, said)
    if step.lasting is None and step.over is None:
        for manner in step.manners:
            wait = vocabulary().heats.get(manner.text)
            if wait is not None and wait.kind == "wait":
                yield Blank("for", "", "time", manner.text, wait.low, wait.high, (), manner.place)
    brought = {} if moment is None else {item.place: amount for _, item, amount in moment.amounts}
    for item in (*step.objects, *step.using, *step.into):
        if item.quantity is not None:
            yield from _with(item, item.quantity, brought.get(item.place))


def _of_block(block: Block) -> Iterator[Blank]:
    if block.kind == "if":
        yield Blank("taken", "", "choice", "", choices=("yes", "no"), place=block.place)
    elif block.kind == "repeat":
        low, high = block.times or (None, None)
        text = ""
        if low is not None and high is not None:
            text = between(low, high)
        yield Blank("times", "", "count", text, low, high, (), block.place)


def _of_item(word: str, item: Item) -> Iterator[Blank]:
    if item.quantity is not None:
        yield from _of_quantity(word, item.quantity)
    elif item.words is not None and word == "until":
        yield Blank(word, "", "words", item.words.text, place=item.words.place)


_KINDS = {"temperature": "temperature", "time": "time", "acidity": "acidity", "volume": "volume"}


def _of_quantity(word: str, quantity: Quantity) -> Iterator[Blank]:
    kind = _KINDS.get(quantity.kind)
    if kind is not None:
        low, high = quantity.low, quantity.high
        yield Blank(word, "", kind, _plain(quantity), low, high, (), quantity.place)
    elif quantity.kind == "unstated":
        kind = "time" if word in ("over", "for") else "temperature"
        yield Blank(word, "", kind, "", place=quantity.place)


def _with(item: Item, quantity: Quantity, amount: Amount | None) -> Iterator[Blank]:
    name = item.name.text if item.name is not None else quantity.base
    if not name:
        return
    if amount is not None:
        text, ends = _amount(amount), (amount.low, amount.high)
        yield Blank("with", name, amount.kind, text, *ends, (), quantity.place)
    else:
        kind = quantity.kind if quantity.kind in ("mass", "volume") else "words"
        yield Blank("with", name, kind, _plain(quantity), place=quantity.place)


def _amount(amount: Amount) -> str:
    return in_system("metric", amount.kind, amount.low, amount.high).replace("\u00a0", " ")


def _plain(quantity: Quantity | None) -> str:
    """A quantity as written, less a second reading: one number is enough at the pot."""
    if quantity is None or quantity.kind == "unstated":
        return ""
    return quantity.text.split(" (")[0]
