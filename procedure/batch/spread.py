"""How well a method repeats: mean colour and spread, and what goes with what, said with its n.

Few batches bear few sentences. Every result carries the number of batches it comes from, and
says so where they are too few.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import combinations, permutations
from math import comb, factorial
from random import Random
from typing import Any

from procedure.colour import Colour, adapted, ciede2000
from procedure.quantity.record import NamedTuple

# With fewer than this many batches nothing is said of what goes with what (common practice:
# with six, one order in 360 is as strong as can be, and several things are always looked at).
FEWEST = 7
# Chance alone would do as much less often than this (common practice).
LEVEL = 0.05
# Up to this many orders are all tried; beyond, so many are drawn.
MOST_ORDERS = 50_000
DRAWN = 20_000


class Spread(NamedTuple):
    """Colours of one method: their mean, and the mean difference from it (MCDM).

    ``each`` are the differences (CIEDE2000) of each colour from the mean, in order;
    ``furthest`` the largest.
    """

    batches: int
    mean: Colour
    mcdm: float
    each: tuple[float, ...]

    @property
    def furthest(self) -> float:
        """The largest difference from the mean."""
        return max(self.each)


def spread(colours: Sequence[Colour]) -> Spread:
    """Mean colour and MCDM of colours, under the light of the first (CIELAB mean, CIEDE2000).

    MCDM is the mean colour difference from the mean (F. W. Billmeyer and P. J. Alessi,
    Color Research and Application 6 (1981), pages 195 to 202). Raises ``ValueError`` where
    there is no colour.
    """
    if not colours:
        raise ValueError("there is no colour")
    light = colours[0].light
    alike = [adapted(colour, light) for colour in colours]
    count = len(alike)
    mean = Colour(
        sum(one.lightness for one in alike) / count,
        sum(one.a for one in alike) / count,
        sum(one.b for one in alike) / count,
        light,
    )
    each = tuple(ciede2000(mean, one) for one in alike)
    return Spread(count, mean, sum(each) / count, each)


class Association(NamedTuple):
    """What goes with what: ``strength`` −1 to 1 by ranks, or a difference of ``means``.

    ``chance`` is how often chance alone would do as much (two-sided permutation test);
    ``orders`` of how many orders, ``exact`` where those are all there are.
    """

    what: str
    batches: int
    strength: float
    chance: float
    orders: int
    exact: bool
    means: bool = False

    @property
    def told(self) -> str:
        """The strength in words, with its sign."""
        return f"{self.strength:+.1f} on average" if self.means else f"{self.strength:+.2f}"


def ranks(values: Sequence[float]) -> list[float]:
    """The rank of each value from 1; equal values share the mean of their ranks."""
    order = sorted(range(len(values)), key=lambda at: values[at])
    made = [0.0] * len(values)
    begin = 0
    while begin < len(order):
        end = begin
        while end + 1 < len(order) and values[order[end + 1]] == values[order[begin]]:
            end += 1
        for at in order[begin : end + 1]:
            made[at] = (begin + end) / 2 + 1
        begin = end + 1
    return made


def rank_correlation(one: Sequence[float], other: Sequence[float]) -> float:
    """Spearman's rank correlation; 0 where either does not vary. Raises ``ValueError``."""
    if len(one) != len(other):
        raise ValueError("the two series have different lengths")
    return _product(_centred(ranks(one)), _centred(ranks(other)))


def _centred(values: Sequence[float]) -> list[float]:
    """Values less their mean, of length one; noughts where they do not vary."""
    mean = sum(values) / len(values) if values else 0.0
    moved = [value - mean for value in values]
    length = sum(value * value for value in moved) ** 0.5
    return [value / length for value in moved] if length > 1e-12 else [0.0] * len(moved)


def _product(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


# Sums of the same numbers in another order differ in their last digits.
_SAME = 1e-9


def goes_with(what: str, one: Sequence[float], other: Sequence[float]) -> Association:
    """The rank correlation of two series, with an exact permutation test where that is small.

    Raises ``ValueError`` where the series have different lengths or fewer than two values.
    """
    if len(one) < 2:
        raise ValueError("a correlation needs two values at least")
    strength = rank_correlation(one, other)
    first, second = _centred(ranks(one)), _centred(ranks(other))
    count = len(first)
    if factorial(count) <= MOST_ORDERS:
        import numpy

        tried = numpy.abs(numpy.array(second)[_orders(count)] @ numpy.array(first))
        as_much = int((tried >= abs(strength) - _SAME).sum())
        return Association(what, count, strength, as_much / len(tried), len(tried), True)
    chance = Random(count)  # the same batches always give the same answer
    as_much = 1  # the order as it is counts as one
    for _ in range(DRAWN):
        chance.shuffle(second)
        as_much += abs(_product(first, second)) >= abs(strength) - _SAME
    return Association(what, count, strength, as_much / (DRAWN + 1), DRAWN, False)


@cache
def _orders(count: int) -> Any:
    """Every order of so many things, a row each; tens of thousands, so numpy holds them."""
    import numpy

    return numpy.array(list(permutations(range(count))), dtype=numpy.int8)


def differs(what: str, with_it: Sequence[float], without: Sequence[float]) -> Association:
    """The difference of the means of two groups, with a permutation test of who is in which.

    Raises ``ValueError`` where a group is empty.
    """
    if not with_it or not without:
        raise ValueError("each group needs a value")
    values = [*with_it, *without]
    size, count = len(with_it), len(values)
    total = sum(values)

    def difference(inside: float) -> float:
        return inside / size - (total - inside) / (count - size)

    found = difference(sum(with_it))
    if comb(count, size) <= MOST_ORDERS:
        tried = [difference(sum(group)) for group in combinations(values, size)]
        as_much = sum(abs(one) >= abs(found) - _SAME for one in tried)
        return Association(what, count, found, as_much / len(tried), len(tried), True, True)
    chance = Random(count)
    as_much = 1
    for _ in range(DRAWN):
        as_much += abs(difference(sum(chance.sample(values, size)))) >= abs(found) - _SAME
    return Association(what, count, found, as_much / (DRAWN + 1), DRAWN, False, True)


class SpreadVerdict(NamedTuple):
    """What may be said of an association among several that were looked at together.

    ``chance`` is corrected for their number (Holm); ``said`` is too few to say, goes with it,
    or no sign of it.
    """

    association: Association
    chance: float
    said: str


TOO_FEW, GOES_WITH, NO_SIGN = "too few to say", "goes with it", "no sign of it"


def verdicts(found: Sequence[Association]) -> tuple[SpreadVerdict, ...]:
    """What may be said of each, the strongest first.

    The more things are looked at, the stronger one must be (S. Holm, Scandinavian Journal of
    Statistics 6 (1979), pages 65 to 70). What does not vary at all is not among them.
    """
    order = sorted(found, key=lambda one: (one.chance, one.means, -abs(one.strength)))
    made: list[SpreadVerdict] = []
    most = 0.0
    for at, one in enumerate(order):
        most = max(most, min(one.chance * (len(order) - at), 1.0))
        said = TOO_FEW if one.batches < FEWEST else GOES_WITH if most <= LEVEL else NO_SIGN
        made.append(SpreadVerdict(one, most, said))
    return tuple(made)


def sentence(verdict: SpreadVerdict) -> str:
    """A verdict in words, with its n."""
    one = verdict.association
    if verdict.said == TOO_FEW:
        return f"{one.what}: {one.batches} batches, too few to say."
    if verdict.said == NO_SIGN:
        return f"{one.what}: {one.batches} batches show no sign of it."
    return (
        f"{one.what}: goes with it in {one.batches} batches ({_strength(one)}; chance "
        f"alone would do as much in {_share(verdict.chance)}). That is no proof that it is the "
        "cause."
    )


def _strength(one: Association) -> str:
    return one.told if one.means else f"strength {one.told}"


def _share(chance: float) -> str:
    return f"1 of {round(1 / chance):,}" if chance < 0.5 else f"{chance:.0%}"
