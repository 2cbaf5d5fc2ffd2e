"""Words for what a comparison names: steps in brief, amounts to the fibre, heats, times."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from procedure.compare.sides import ComparedPart, Side
from procedure.findings import (
    Heat,
    Liquor,
    Mass,
    Percent,
    Says,
    Span,
    Value,
    Volume,
    Word,
    say,
)
from procedure.handout.prose import worn as in_articles
from procedure.model import Block, Item, Quantity, Step
from procedure.paper.pieces import Words
from procedure.quantity.interval import Interval

UNSAID = "not said"
_FEW_LOTS = 2
_BLOCKS = {"if": "if", "way": "the way", "either": "a choice of ways"}


def brief(part: ComparedPart) -> str:
    """A step in a few words, as its writer names things: ``mordant yarn in alum-bath``."""
    step = part.step
    if isinstance(step, Block):
        if part.node.kind == "repeat":
            return "repeat"
        words = f" “{step.condition}”" if step.condition else ""
        return f"{_BLOCKS.get(part.node.kind, part.node.kind)}{words}"
    if step.verb is None:
        return f"{step.kind} “{step.words.text}”" if step.words is not None else step.kind
    if step.does.prepares or (step.does.makes_bath and step.label is not None):
        made = step.label.text if step.label is not None else named(step.within)
        return f"{step.word or step.verb.name} {made}"
    what = ", ".join(one for one in map(named, step.objects) if one)
    where = f" in {named(step.within)}" if named(step.within) else ""
    return f"{step.word or step.verb.name} {what}{where}".rstrip()


def named(item: Item | None) -> str:
    """What an item is called where it is."""
    if item is None:
        return ""
    if item.name is not None:
        return item.name.text
    if item.quantity is not None and item.quantity.base:
        return item.quantity.base
    return f"“{item.words.text}”" if item.words is not None else ""


def to_fibre(side: Side, part: ComparedPart, item: Item) -> Value:
    """An amount as a share of the fibre; as it is written where no fibre is known."""
    if item.quantity is None:
        return Word("no amount")
    ratio = side.ratio(part, item)
    if ratio is None:
        return as_written(item.quantity)
    kind, share = ratio
    if kind == "volume":
        return Liquor(*share)
    return Percent(share.low * 100, share.high * 100)


def fibre_of(side: Side, part: ComparedPart) -> str:
    """What shares of a step are shares of: its lots by name, or the fibre."""
    lots = [side.plan.study.called(lot) for lot in side.lots_for(part)]
    return " and ".join(lots) if 0 < len(lots) <= _FEW_LOTS else "the fibre"


def weighed(side: Side, part: ComparedPart, item: Item) -> Value:
    """An amount in grams or litres; as it is written where it cannot be worked out."""
    assert item.quantity is not None
    amount = side.amount(part, item)
    if amount is None:
        return as_written(item.quantity)
    measure = Mass if amount.kind == "mass" else Volume
    return measure(amount.low, amount.high)


def as_written(quantity: Quantity | None) -> Value:
    """A quantity in the writer's own words."""
    return Word("nothing" if quantity is None else quantity.text)


def hot(quantity: Quantity | None) -> Value:
    """A heat for any reader."""
    if quantity is None:
        return Word(UNSAID)
    if quantity.kind != "temperature" or quantity.low is None:
        return as_written(quantity)
    return Heat(quantity.low, quantity.high)


def long(quantity: Quantity | None) -> Value:
    """A time for any reader."""
    if quantity is None:
        return Word(UNSAID)
    if quantity.kind != "time" or quantity.low is None:
        return as_written(quantity)
    return Span(quantity.low, quantity.high)


def told_apart(
    how: Callable[[Quantity | None], Value], old: Quantity | None, new: Quantity | None
) -> tuple[Value, Value]:
    """Two quantities for any reader; as they are written where they would read alike."""
    first, last = how(old), how(new)
    return (first, last) if first != last else (as_written(old), as_written(new))


def mass(grams: Interval | None) -> Value:
    """A weight, or that there is none."""
    return Word("no weight") if grams is None else Mass(*grams)


def from_to(what: str, old: Value, new: Value, was: str = "not") -> Says:
    """``WHAT: NEW, not OLD``; in words where one of them is not said at all."""
    if new == Word(UNSAID):
        return say("{what}: no longer said (before: {old})", what=what, old=old)
    if old == Word(UNSAID):
        return say("{what}: {new}; before, none was said", what=what, new=new)
    return say(f"{{what}}: {{new}}, {was} {{old}}", what=what, new=new, old=old)


def clothes(words: Iterable[str]) -> str:
    """What is worn, with articles: ``gloves and an apron``."""
    pieces = in_articles(sorted(words))
    return "".join(one.text if isinstance(one, Words) else str(one) for one in pieces)


def verb_of(step: Step | Block) -> str:
    """The verb of a step."""
    if isinstance(step, Block):
        return step.kind
    return step.word or (step.verb.name if step.verb is not None else step.kind)
