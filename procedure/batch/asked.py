"""What a step asks to be written down: its numbers and choices, each with what was planned.

The form of a record and the blanks of a handout are both made from this, so that they have
the same names in the same order.
"""

from __future__ import annotations

from collections.abc import Iterator

from procedure.batch.side_of_form import FormBlank
from procedure.flow.graph import FlowNode
from procedure.model import Block, Item, Quantity
from procedure.paper.measures import Voice
from procedure.quantity.number_words import between
from procedure.trace.amounts import Amount
from procedure.trace.moments import Moment
from procedure.vocabulary import vocabulary
from procedure.wording import Reader
from procedure.wording.visible import one_line

# What was seen is asked of every step.
SEEN = "seen"
# The clauses of a step that take an amount, in the order in which they are worked.
_CLAUSES = (
    ("source", "from"),
    ("at", "at"),
    ("to", "to"),
    ("over", "over"),
    ("lasting", "for"),
    ("until", "until"),
)


def words(node: FlowNode) -> str:
    """A step in short: its verb, what it acts on and where; a block by its first line."""
    step = node.step
    if isinstance(step, Block):
        if step.kind == "if":
            return f"if {step.condition}"
        if step.kind in ("either", "way"):
            return f"way {step.condition}" if step.kind == "way" else "choose one way"
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


def things(node: FlowNode) -> tuple[str, ...]:
    """The lots, baths and materials that a step names."""
    step = node.step
    if isinstance(step, Block):
        return ()
    items = [*step.objects, *([step.within] if step.within is not None else [])]
    return tuple(item.name.text for item in items if item.name is not None)


def takes_time(node: FlowNode) -> bool:
    """True for a step whose beginning and end are worth a line."""
    step = node.step
    if isinstance(step, Block):
        return False
    waits = any(
        vocabulary().heats[one.text].kind == "wait"
        for one in step.manners
        if one.text in vocabulary().heats
    )
    asks = step.verb is not None and "time" in step.verb.asks
    return step.lasting is not None or step.over is not None or waits or asks


METRIC = Reader()


def blanks_of(
    node: FlowNode, moment: Moment | None, reader: Reader = METRIC
) -> Iterator[FormBlank]:
    """The numbers and choices of a step; ``moment`` is how it happens, for its amounts.

    What is worked out is told in the units of ``reader``; what is written as a weight or a
    volume already, as it is written.
    """
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
                yield FormBlank(
                    "for", "", "time", manner.text, wait.low, wait.high, (), manner.place
                )
    brought = {} if moment is None else {item.place: amount for _, item, amount in moment.amounts}
    for item in (*step.objects, *step.using, *step.into):
        if item.quantity is not None:
            yield from _with(item, item.quantity, brought.get(item.place), reader)


def _of_block(block: Block) -> Iterator[FormBlank]:
    if block.kind == "if":
        yield FormBlank("taken", "", "choice", "", choices=("yes", "no"), place=block.place)
    elif block.kind == "either":
        ways = tuple(one_line(one.condition) for one in block.body if isinstance(one, Block))
        yield FormBlank("way", "", "choice", "", choices=ways, place=block.place)
    elif block.kind == "repeat":
        low, high = block.times or (None, None)
        text = ""
        if low is not None and high is not None:
            text = between(low, high)
        yield FormBlank("times", "", "count", text, low, high, (), block.place)


def _of_item(word: str, item: Item) -> Iterator[FormBlank]:
    if item.quantity is not None:
        yield from _of_quantity(word, item.quantity)
    elif item.words is not None and word == "until":
        yield FormBlank(word, "", "words", one_line(item.words.text), place=item.words.place)


_KINDS = {"temperature": "temperature", "time": "time", "acidity": "acidity", "volume": "volume"}


def _of_quantity(word: str, quantity: Quantity) -> Iterator[FormBlank]:
    kind = _KINDS.get(quantity.kind)
    if kind is not None:
        low, high = quantity.low, quantity.high
        yield FormBlank(word, "", kind, _plain(quantity), low, high, (), quantity.place)
    elif quantity.kind == "unstated":
        kind = "time" if word in ("over", "for") else "temperature"
        yield FormBlank(word, "", kind, "", place=quantity.place)


def _with(
    item: Item, quantity: Quantity, amount: Amount | None, reader: Reader
) -> Iterator[FormBlank]:
    name = item.name.text if item.name is not None else quantity.base
    if not name:
        return
    if amount is not None:
        text, ends = planned_text(amount, quantity, reader), (amount.low, amount.high)
        yield FormBlank("with", name, amount.kind, text, *ends, (), quantity.place)
    else:
        kind = quantity.kind if quantity.kind in ("mass", "volume") else "words"
        yield FormBlank("with", name, kind, _plain(quantity), place=quantity.place)


def planned_text(amount: Amount, written: Quantity | None, reader: Reader) -> str:
    """An amount as its procedure writes it, else in the units of a reader.

    A weight or volume that is written needs no sum, and its text nothing to round.
    """
    if written is not None and not written.each and not written.base:
        alike = (written.kind, written.low, written.high)
        if alike == (amount.kind, amount.low, amount.high):
            return _plain(written)
    said = Voice(reader=reader).amount(amount.kind, amount.low, amount.high)
    return said.replace("\u00a0", " ")


def _plain(quantity: Quantity | None) -> str:
    """A quantity as written, less a second reading: one number is enough at the pot."""
    if quantity is None or quantity.kind == "unstated":
        return ""
    return quantity.text.split(" (")[0]
