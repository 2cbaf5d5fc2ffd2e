"""What there is of a material in all, and what is left of it after what was used before.

How much there is: what its declaration says (“alum: potassium alum, 20 g”), else what was made
ready of it (“chop madder 100 g”). “Half of the alum” is half of that, “the rest of the alum” is
that without what the steps before took.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from procedure.flow.graph import Flow, FlowNode
from procedure.model import Block, Quantity
from procedure.quantity.interval import ENDLESS, ONE, ZERO, Interval
from procedure.trace.amounts import Amount, Basis, Of, amount_of
from procedure.trace.moments import Moment


class Stocks:
    """The stocks of one plan. What is asked of a material twice is worked out anew."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow
        self.within: dict[int, tuple[FlowNode, ...]] = {}

    def share(
        self,
        thing: str,
        quantity: Quantity,
        node: FlowNode,
        moments: Sequence[Moment],
        basis: Basis,
    ) -> Amount | None:
        """A share of a material itself, or of what is left of it; None where that is not known.

        ``moments`` are the steps so far. Nothing is left, and so nothing known, where more was
        used than there was.
        """
        whole = self.whole(thing, moments, basis)
        if whole is None or quantity.low is None or quantity.high is None:
            return None
        there = self._there(thing, whole, node, moments, quantity.left)
        if there is None:
            return None
        of = Of((thing,), whole.kind, *there)
        return Amount(whole.kind, quantity.low * there.low, quantity.high * there.high, of)

    def made_ready(
        self, thing: str, node: FlowNode, moments: Sequence[Moment], basis: Basis
    ) -> Amount | None:
        """All that is left of what was gathered or cut, where a step takes it and says no amount.

        None where no amount of it was made ready, or some of it went where nobody knows.
        """
        found = self.flow.materials.get(thing)
        if found is None or found[0].stock is not None:
            return None
        whole = self.whole(thing, moments, basis)
        there = None if whole is None else self._there(thing, whole, node, moments, left=True)
        return None if whole is None or there is None else Amount(whole.kind, *there)

    def _there(
        self, thing: str, whole: Amount, node: FlowNode, moments: Sequence[Moment], left: bool
    ) -> Interval | None:
        """How much of it there is, or is ``left``; None where that is nothing, or not known."""
        there = Interval(whole.low, whole.high)
        if not left:
            return there
        used = self.used(thing, whole.kind, self.around(node.id), moments)
        return None if used is None or used.low >= there.high else there.minus(used)

    def whole(self, thing: str, moments: Sequence[Moment], basis: Basis) -> Amount | None:
        """How much there is of a material in all, as it is declared or was made ready."""
        found = self.flow.materials.get(thing)
        if found is not None and found[0].stock is not None:
            return amount_of(found[0].stock, basis)
        ready = [
            amount
            for moment in moments
            if moment.node.does.readies
            for other, _, amount in moment.amounts
            if other == thing and amount is not None
        ]
        return ready[-1] if ready else None

    def used(
        self, thing: str, kind: str, here: Sequence[FlowNode], moments: Sequence[Moment]
    ) -> Interval | None:
        """What steps took of it, in grams or litres; None where one does not say how much.

        ``here`` are the blocks that we are inside of. What is done only on a condition may have
        taken nothing, what is done on another way of a choice took nothing on this one, and
        what is repeated took so many times as much.
        """
        passes: dict[int, list[Moment]] = {}
        for moment in moments:
            passes.setdefault(moment.node.id, []).append(moment)
        used = ZERO
        for number, each in passes.items():
            blocks = [one for one in self.around(number) if one not in here]
            if _on_another_way(blocks, here):
                continue
            taken = [self.taken(thing, kind, moment) for moment in each]
            known = [one for one in taken if one is not None]
            if len(known) < len(taken):
                return None
            if any(one.kind == "repeat" for one in blocks):
                known = [known[0].times(_rounds(blocks))]
            for one in known:
                used = used.plus(Interval(ZERO.low, one.high) if _perhaps(blocks) else one)
        return used

    def taken(self, thing: str, kind: str, moment: Moment) -> Interval | None:
        """What one step took of a material, in grams or litres; None where that is not known."""
        taken = ZERO
        for other, _, amount in () if moment.node.does.readies else moment.amounts:
            if other != thing or (amount is not None and amount.again):
                continue
            if amount is None or amount.kind != kind:
                return None
            taken = taken.plus(Interval(amount.low, amount.high))
        return taken

    def around(self, number: int) -> tuple[FlowNode, ...]:
        """The blocks that a step is inside of, the outermost first."""
        if not self.within:
            self.within = dict(_within(self.flow.top, ()))
        return self.within.get(number, ())


def _on_another_way(blocks: Sequence[FlowNode], here: Sequence[FlowNode]) -> bool:
    """True where a step is on another way of a choice of which we are on one way."""
    choices = [one for one in here if one.kind == "either"]
    return any(one in choice.inner for one in blocks for choice in choices)


def _perhaps(blocks: Sequence[FlowNode]) -> bool:
    return any(one.kind in ("if", "way") for one in blocks)


def _rounds(blocks: Sequence[FlowNode]) -> Interval:
    """How often what is inside of blocks is done, where it is done."""
    rounds = ONE
    for block in blocks:
        if block.kind == "repeat" and isinstance(block.step, Block):
            times = block.step.times
            rounds = rounds.times(Interval(*sorted(times)) if times else Interval(ONE.low, ENDLESS))
    return rounds


def _within(
    nodes: Sequence[FlowNode], blocks: tuple[FlowNode, ...]
) -> Iterator[tuple[int, tuple[FlowNode, ...]]]:
    for node in nodes:
        yield node.id, blocks
        yield from _within(node.inner, (*blocks, node))
