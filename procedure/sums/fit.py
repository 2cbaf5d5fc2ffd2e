"""Pot fit: liquor, fibre and plants against what the pot holds.

The rules and the weigh sheet both ask here, so that they agree. The fill is that of
``thresholds.csv`` (a pot for work, a tub for rinsing); what fibre and plants take up
is rough and says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.sums.amounts import THOUSAND
from procedure.sums.figures import figure
from procedure.trace import Moment
from procedure.trace.states import Content, Interval, LotState, State
from procedure.vocabulary.thresholds import threshold

if TYPE_CHECKING:
    from procedure.rules.frame import Study

# Washing out and rinsing need less room than work in a dyebath.
_WATERS = frozenset(("wet", "rinse", "wash"))


class Fit(NamedTuple):
    """What a pot holds at its fullest: litres of liquor, fibre and plants, and its capacity.

    ``bath`` is empty where a step brings its own water. ``lots`` are the fibre in it, or
    that it is made for;
    ``fill`` is the share of the pot that may be filled; ``scales`` fails where the
    liquor is measured by the pot, so that less fibre would not mean less liquor.
    """

    node: int
    bath: str
    pot: str
    capacity: Interval
    liquor: Interval
    fibre: Interval
    plants: Interval
    lots: tuple[str, ...]
    fill: Fraction
    scales: bool

    @property
    def full(self) -> Interval:
        """Litres in the pot, fibre and plants with it."""
        return (
            self.liquor[0] + self.fibre[0] + self.plants[0],
            self.liquor[1] + self.fibre[1] + self.plants[1],
        )

    @property
    def share(self) -> Interval:
        """How full the pot is, 1 for full to the brim."""
        return self.full[0] / self.capacity[1], self.full[1] / self.capacity[0]

    @property
    def verdict(self) -> str:
        """``fits``, ``too full`` to work in, or ``too small`` to hold it."""
        if self.share[1] > 1:
            return "too small"
        return "too full" if self.share[1] > self.fill else "fits"

    def batches(self, pieces: int | None = None) -> tuple[int, ...] | None:
        """Even batches that fit; None where smaller batches would not help.

        Each number is the pieces (skeins, lengths) of one batch where ``pieces`` are
        given and cannot be cut, else 1 for an equal share.
        """
        if not self.scales or not self.lots:
            return None
        room = min(self.fill, figure("good fill")[0]) * self.capacity[0]
        if self.fill > threshold("pot fill share").value:
            room = self.fill * self.capacity[0]
        number = max(ceil(self.full[1] / room), 1)
        if pieces is None:
            return (1,) * number
        while ceil(Fraction(pieces, number)) * self.full[1] / pieces > room:
            if number >= pieces:
                return None
            number += 1
        few, more = divmod(pieces, number)
        return (few + 1,) * more + (few,) * (number - more)


def fits(study: Study) -> list[Fit]:
    """Every bath and every rinsing water of a plan at its fullest, in the order of use."""
    fullest: dict[tuple[str, str, int], Fit] = {}
    fixed = _by_the_pot(study)
    for moment in study.moments:
        for fit in _at(study, moment, fixed):
            key = (fit.bath, fit.pot, -1 if fit.bath else fit.node)
            earlier = fullest.get(key)
            if earlier is None or fit.full[1] > earlier.full[1]:
                fullest[key] = fit
    return list(fullest.values())


def _at(study: Study, moment: Moment, fixed: set[str]) -> Iterator[Fit]:
    node = moment.node
    if node.bath:
        # What comes out of the bath in this step was in it before.
        state = moment.after if node.bath in moment.after.baths else moment.before
        bath = state.baths.get(node.bath)
        if bath is None or bath.volume is None:
            return
        capacity = _capacity(study, bath.pot)
        if capacity is not None:
            lots = tuple(dict.fromkeys((*node.present, *_inside(node))))
            plants = _plants(bath.contents)
            yield Fit(
                node.id,
                node.bath,
                bath.pot,
                capacity,
                bath.volume,
                _room(_weight(moment.before, lots), "fibre displacement"),
                _room(plants, "plant displacement"),
                lots or _treated(study, node.bath),
                threshold("pot fill share").value,
                node.bath not in fixed,
            )
        return
    capacity = _capacity(study, node.pot)
    litres = [amount for thing, _, amount in moment.amounts if thing == WATER]
    if capacity is None or not litres or litres[0] is None:
        return
    fill = "water fill share" if node.effect in _WATERS else "pot fill share"
    yield Fit(
        node.id,
        "",
        node.pot,
        capacity,
        litres[0].litres,
        _room(_weight(moment.before, node.lots), "fibre displacement"),
        (Fraction(0), Fraction(0)),
        node.lots,
        threshold(fill).value,
        litres[0].of is None or litres[0].of.things[0] in study.flow.lots,
    )


def _inside(node: FlowNode) -> tuple[str, ...]:
    return node.lots if node.effect not in ("lift", "split", "join") else ()


def _capacity(study: Study, pot: str) -> Interval | None:
    found = study.flow.pots.get(pot)
    if found is None or found[0].capacity is None or not found[0].capacity.known:
        return None
    ends = found[0].capacity.ends
    return ends if ends[0] > 0 else None


def _weight(state: State, lots: tuple[str, ...]) -> Interval:
    """Grams of fibre; a lot of unknown weight adds nothing."""
    known: list[LotState] = [state.lots[lot] for lot in lots if lot in state.lots]
    weights = [lot.weight for lot in known if lot.weight is not None]
    nothing = Fraction(0)
    return sum((low for low, _ in weights), nothing), sum((high for _, high in weights), nothing)


def _plants(contents: Mapping[str, Content]) -> Interval:
    low = high = Fraction(0)
    for content in contents.values():
        if content.solid and content.grams is not None:
            low, high = low + content.grams[0], high + content.grams[1]
    return low, high


def _room(grams: Interval, displacement: str) -> Interval:
    litres = threshold(displacement).value / THOUSAND
    return grams[0] * litres, grams[1] * litres


def _by_the_pot(study: Study) -> set[str]:
    """The baths whose liquor is measured by a pot and not by the fibre."""
    return {
        moment.node.bath
        for moment in study.moments
        for thing, _, amount in moment.amounts
        if thing == WATER and amount is not None and amount.of is not None
        if not study.flow.pots.keys().isdisjoint(amount.of.things)
    }


def _treated(study: Study, bath: str) -> tuple[str, ...]:
    """The fibre that a bath treats, none of it twice."""
    lots = study.flow.treats.get(bath, [])
    return tuple(lot for lot in lots if not set(study.flow.lots[lot].parts) & set(lots))
