"""Plants that came out of a bath and are in hand: what is boiled again is not weighed again."""

from __future__ import annotations

from collections.abc import Sequence

from procedure.quantity.interval import ZERO, Interval, plus
from procedure.quantity.record import NamedTuple
from procedure.trace.amounts import Amount
from procedure.trace.moments import Moment
from procedure.trace.states import NOTHING


class InHand(NamedTuple):
    """So many grams of a plant that was in a bath before; None where that is not known."""

    grams: Interval | None

    @property
    def amount(self) -> Amount | None:
        """What a step takes of it, where it takes all of it again."""
        return None if self.grams is None else Amount("mass", *self.grams, again=True)


class PlantsInHand:
    """What of each plant was strained, lifted or taken out of its baths in the steps so far.

    Each step is looked at once, and only where somebody asks. What was put back into a bath or
    thrown away since is in hand no more.
    """

    def __init__(self) -> None:
        self.held: dict[str, InHand] = {}
        self.seen = 0

    def of(self, thing: str, moments: Sequence[Moment]) -> InHand | None:
        """What is in hand of a plant after these steps; None for nothing."""
        for moment in moments[self.seen :]:
            self.after(moment)
        self.seen = len(moments)
        return self.held.get(thing)

    def after(self, moment: Moment) -> None:
        """One more step has happened."""
        for thing in _thrown_away(moment):
            self.held.pop(thing, None)
        for bath, after in moment.after.baths.items():
            before = moment.before.baths.get(bath)
            had = NOTHING if before is None else before.contents
            if had is after.contents:
                continue
            for thing, has in after.contents.items():
                was = had.get(thing)
                if was is not None and was.solid and not has.solid:
                    more = self.held.get(thing, InHand(ZERO)).grams
                    self.held[thing] = InHand(plus(more, was.grams))
                elif has.solid and (was is None or not was.solid):
                    self.held.pop(thing, None)


def _thrown_away(moment: Moment) -> list[str]:
    """The plants that a step throws away: by their names, or with what a bag or sieve holds."""
    node = moment.node
    gone = [thing for thing, _ in node.moved] if node.does.throws_matter_out else []
    before, after = moment.before.pots.get(node.bag), moment.after.pots.get(node.bag)
    if before is not None and after is not None:
        gone += [thing for thing in before.matter if thing not in after.matter]
    return gone
