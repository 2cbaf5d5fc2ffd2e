"""A plan as a flat list of what is done, with names that both plans share."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.model import Block, Item, Name, Place, Quantity, Step
from procedure.pipeline import Judged
from procedure.quantity.interval import Interval, total
from procedure.quantity.record import NamedTuple
from procedure.trace import Moment
from procedure.trace.amounts import Amount

# Nodes that say nothing by themselves: what is in them is done in place.
_OPEN = ("follow", "for")


class ComparedPart(NamedTuple):
    """A step, or a block that says how often, when or which way; ``within`` its block or -1."""

    place: int
    node: FlowNode
    within: int

    @property
    def step(self) -> Step | Block:
        """The step or block as it is written."""
        return self.node.step

    @property
    def line(self) -> int:
        """Its line in its own file."""
        return self.node.step.place.line


def parts_of(plan: Judged) -> list[ComparedPart]:
    """All that is done in the order of the text, with what is followed written out in place."""
    found: list[ComparedPart] = []

    def walk(nodes: list[FlowNode], within: int) -> None:
        for node in nodes:
            if node.kind == "end":
                continue
            if node.kind in _OPEN and any(one.kind != "end" for one in node.inner):
                walk(node.inner, within)
                continue
            found.append(ComparedPart(len(found), node, within))
            walk(node.inner, len(found) - 1)

    walk(plan.flow.top, -1)
    return found


class Side:
    """One of the two plans.

    ``shared`` has, by the plan's name of a thing, the name that both plans share for it.
    """

    def __init__(self, plan: Judged) -> None:
        self.plan = plan
        self.flow = plan.flow
        self.parts = parts_of(plan)
        self.moments: dict[int, Moment] = {}
        for moment in plan.trace.moments:
            self.moments.setdefault(moment.node.id, moment)
        self._amounts: dict[int, dict[Place, Amount | None]] = {}
        self.by_node = {part.node.id: part.place for part in self.parts}
        self.shared: dict[str, str] = {}
        self.labels = {
            part.step.label.text: part.place for part in self.parts if part.step.label is not None
        }
        self.before, self.after = self._neighbours()

    def _neighbours(self) -> tuple[dict[int, set[int]], dict[int, set[int]]]:
        before: dict[int, set[int]] = {part.place: set() for part in self.parts}
        after: dict[int, set[int]] = {part.place: set() for part in self.parts}
        for one, other in self.edges():
            after[one].add(other)
            before[other].add(one)
        return before, after

    def edges(self) -> list[tuple[int, int]]:
        """Which part must be done before which, by what flows between them.

        The begin and end of what is followed, or done for each, are passed through.
        """
        onward: dict[int, set[int]] = {}
        for edge in self.flow.edges:
            onward.setdefault(edge.before, set()).add(edge.after)
        found: set[tuple[int, int]] = set()
        for part in self.parts:
            waiting, seen = list(onward.get(part.node.id, ())), set()
            while waiting:
                one = waiting.pop()
                if one in seen:
                    continue
                seen.add(one)
                place = self.by_node.get(one)
                if place is None:
                    waiting += onward.get(one, ())
                elif place != part.place:
                    found.add((part.place, place))
        return sorted(found)

    # -------------------------------------------------------------- names

    def thing(self, part: ComparedPart, name: str) -> str:
        """The plan's own name of what a step of a file calls so."""
        return part.node.names.get(name, name)

    def token(self, part: ComparedPart, name: Name | str) -> str:
        """The name that both plans share for what a step calls so."""
        text = name if isinstance(name, str) else name.text
        return self.token_of(self.thing(part, text))

    def token_of(self, thing: str) -> str:
        """The shared name of a thing; what only this plan has goes by its own name."""
        if thing == WATER:
            return WATER
        return self.shared.get(thing) or f"name {self.plan.study.called(thing)}"

    # -------------------------------------------------------------- fibre and amounts

    def grams(self, lots: tuple[str, ...]) -> Interval | None:
        """The dry weight of lots; None where one is not known."""
        weights = []
        for lot in lots:
            state = self.plan.trace.final.lots.get(lot)
            if state is None or state.weight is None:
                return None
            weights.append(state.weight)
        return total(weights) if weights else None

    def all_fibre(self) -> Interval | None:
        """The dry weight of all fibre that the plan declares."""
        lots = [lot for lot, made in self.flow.lots.items() if made.declared is not None]
        return self.grams(tuple(lots))

    def fibre(self, part: ComparedPart) -> Interval | None:
        """The dry weight of the fibre that a step is for; of all fibre where that is not said."""
        lots = self.lots_for(part)
        return self.grams(lots) if lots else self.all_fibre()

    def lots_for(self, part: ComparedPart) -> tuple[str, ...]:
        """The lots that a step is for: those that its bath treats, or its own."""
        node = part.node
        baths = [*node.makes, node.bath, *(name for name, _ in node.moved)]
        for bath in baths:
            lots = self._wholes(self.flow.treats.get(bath, ()))
            if lots:
                return lots
        return self._wholes(node.lots)

    def _wholes(self, lots: Iterable[str]) -> tuple[str, ...]:
        """Lots without those that were parted from another of them: fibre counts once."""
        listed = set(lots)

        def parted(lot: str) -> bool:
            # What is parted and joined again and again comes of the same lots in many ways.
            seen, waiting = set[str](), [lot]
            while waiting:
                origin = self.flow.lots.get(waiting.pop())
                parts = set(origin.parts if origin is not None else ()) - seen
                if not parts.isdisjoint(listed):
                    return True
                seen |= parts
                waiting += parts
            return False

        return tuple(lot for lot in dict.fromkeys(lots) if not parted(lot))

    def amount(self, part: ComparedPart, item: Item) -> Amount | None:
        """What an item of a step comes to, in grams or litres."""
        found = self._amounts.get(part.node.id)
        if found is None:
            found = self._amounts[part.node.id] = {}
            moment = self.moments.get(part.node.id)
            for _, one, amount in moment.amounts if moment is not None else ():
                found.setdefault(one.place, amount)
        return found.get(item.place)

    def ratio(self, part: ComparedPart, item: Item) -> tuple[str, Interval] | None:
        """An item's amount to the fibre: grams to a gram, or litres to a kilogram.

        The first is what it is: mass or volume. None where either is not known.
        """
        amount, fibre = self.amount(part, item), self.fibre(part)
        if amount is None or fibre is None or fibre.low <= 0:
            return None
        scale = 1000 if amount.kind == "volume" else 1
        # Both ends go with the fibre: a lot of 95 to 105 g is weighed before anything else.
        middle = fibre.middle
        return amount.kind, Interval(amount.low * scale / middle, amount.high * scale / middle)


def bare(quantity: Quantity | None) -> tuple[object, ...]:
    """What a quantity means by itself, however it is written."""
    if quantity is None:
        return ()
    if quantity.low is None:
        return quantity.kind, " ".join(quantity.text.lower().split())
    return quantity.kind, quantity.low, quantity.high, quantity.bound


def alike(one: Quantity | None, two: Quantity | None) -> bool:
    """True where two quantities say the same, perhaps in other units and rounded to them."""
    readings = [quantity.reading if quantity is not None else None for quantity in (one, two)]
    if None not in readings and not alike(*readings):
        return False  # a second reading that no longer agrees with the first is told
    if bare(one) == bare(two):
        return True
    if one is None or two is None or one.kind != two.kind or one.bound != two.bound:
        return False
    if one.low is None or two.low is None or one.unit == two.unit:
        return False
    return one.agrees(two)


def factor(old: Interval | None, new: Interval | None) -> Fraction | None:
    """How many times as much; None where that is not one number."""
    if old is None or new is None or old.low <= 0 or old.high <= 0:
        return None
    first, last = new.low / old.low, new.high / old.high
    return first if first == last else None
