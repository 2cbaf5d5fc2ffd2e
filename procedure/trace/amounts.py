"""How much a quantity comes to. The arithmetic is exact.

A percentage is of the dry weight of the fibre; ``5 : 1`` is five parts by weight to
one of fibre, and for water litres to kilograms (common practice; Mairet 1916 gives
its percentages so).
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from procedure.model import Quantity
from procedure.quantity.exact import exactly
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.record import NamedTuple
from procedure.trace.states import NOTHING, BathState, LotState
from procedure.vocabulary.estimates import spoon_weights

THOUSAND = exactly(1000)


class Of(NamedTuple):
    """What an amount was measured by: the plan's names of it, and how much of it there is.

    ``kind`` is mass (grams) or volume (litres).
    """

    things: tuple[str, ...]
    kind: str
    low: Fraction
    high: Fraction


class Amount(NamedTuple):
    """An amount: ``kind`` is mass (grams) or volume (litres); ``low`` to ``high``, exact.

    ``of`` is what a percentage, ratio, share or concentration was taken of. ``again`` holds for
    plants that came out of a bath and go into one once more: nothing new is weighed. ``filled``
    holds for the water that fills a bath up to a mark. ``beside`` is what the reading in brackets
    comes to, where one of the two is a weight and the other a share: 75 g (15 % of yarn).
    ``spooned`` holds for a spoon, a cup or a handful of what nobody knows the weight of.
    """

    kind: str
    low: Fraction
    high: Fraction
    of: Of | None = None
    again: bool = False
    filled: bool = False
    beside: "Amount | None" = None
    spooned: bool = False

    @property
    def grams(self) -> Interval:
        """Its weight in grams; a litre of liquor is taken as a kilogram."""
        if self.kind == "mass":
            return Interval(self.low, self.high)
        return Interval(self.low, self.high).times(THOUSAND)

    @property
    def litres(self) -> Interval:
        """Its volume in litres; a kilogram of liquor is taken as a litre."""
        if self.kind == "volume":
            return Interval(self.low, self.high)
        return Interval(self.low, self.high).over(THOUSAND)


def over_passes(amounts: Sequence[Amount | None]) -> Amount | None:
    """The least to the most of one thing over all passes of a repeat; None where one is unknown."""
    known = [amount for amount in amounts if amount is not None]
    if not known or len(known) != len(amounts):
        return None
    low = min(amount.low for amount in known)
    return known[0]._replace(low=low, high=max(amount.high for amount in known))


class Basis(NamedTuple):
    """What a quantity may be measured by: states by the plan's names, and pots' capacities."""

    lots: Mapping[str, LotState]
    baths: Mapping[str, BathState]
    capacities: Mapping[str, Interval]
    names: Mapping[str, str]
    treated: tuple[str, ...]
    bath: BathState | None
    # What the same step brings beside it, by the plan's names, as far as it is known.
    beside: Mapping[str, Amount] = NOTHING


def amount_of(
    quantity: Quantity, basis: Basis, liquid: bool = False, stuff: str = ""
) -> Amount | None:
    """What a quantity comes to, or None where it cannot be known.

    ``liquid`` holds for water and other liquids: a ratio then gives litres. Shares
    and percentages of a lot are by its dry weight, of a bath by its volume, of a
    pot by its capacity; ``wof`` is of all the fibre that the bath is to treat. A spoon
    or cup of ``stuff`` that is a powder in ``spoon_weights.csv`` is a range of grams, unless
    grams are written beside it.
    """
    if quantity.low is None or quantity.high is None or quantity.low.numerator < 0:
        return None
    low, high = quantity.low, quantity.high
    kind = quantity.kind
    if kind in ("mass", "volume"):
        return Amount(kind, low, high)
    beside = quantity.reading
    if kind == "spoon" and beside is not None and beside.kind == "mass" and beside.known:
        return Amount("mass", *beside.ends)  # the scale tells better than the spoon
    if kind == "spoon" and beside is not None and beside.kind == "volume" and beside.known:
        low, high = beside.ends
    if kind == "spoon":
        return _spooned(low, high, stuff)
    if kind == "spoon by weight":
        of = _measured_by(quantity, basis)
        spoons = None if of is None else _spooned(low * of.low, high * of.high, stuff)
        return None if spoons is None else spoons._replace(of=of)
    if kind in ("concentration", "concentration by volume", "spoon by volume"):
        return _of_the_bath(kind, low, high, basis, stuff)
    if kind not in ("percent", "ratio", "share"):
        return None
    base = _measured_by(quantity, basis)
    if base is None:
        return None
    least = low * base.low
    most = least if low is high and base.low is base.high else high * base.high
    made = Amount(base.kind, least, most, base)
    by_volume = quantity.unit is not None and quantity.unit.kind == "volume"  # 4 gal per lb
    if kind == "ratio" and (liquid or by_volume) and base.kind == "mass":
        return Amount("volume", *made.litres, base)
    return made


def with_reading(
    made: Amount | None, quantity: Quantity, basis: Basis, liquid: bool
) -> Amount | None:
    """An amount with what its other reading comes to: the share of 75 g (15 % of yarn).

    Where only the reading can be known, as of a lot without a weight, the amount is that.
    """
    assert quantity.reading is not None
    beside = amount_of(quantity.reading, basis, liquid)
    if made is None or beside is None:
        return made or beside
    return made._replace(beside=beside)


def _of_the_bath(
    kind: str, low: Fraction, high: Fraction, basis: Basis, stuff: str
) -> Amount | None:
    """So many grams, millilitres or spoons to each litre of the bath."""
    volume = basis.bath.volume if basis.bath else None
    if volume is None:
        return None
    of = Of(("its bath",), "volume", *volume)
    low, high = low * volume[0], high * volume[1]
    if kind == "spoon by volume":
        return _spooned(low, high, stuff)._replace(of=of)
    return Amount("mass" if kind == "concentration" else "volume", low, high, of)  # g/L, and mL/L


def _spooned(low: Fraction, high: Fraction, stuff: str) -> Amount:
    """So many litres of spoons, cups or handfuls: grams of a powder whose weight is known."""
    weighs = spoon_weights().get(stuff)
    if weighs is None or weighs.liquid:
        return Amount("volume", low, high, spooned=weighs is None)
    return Amount("mass", *Interval(low, high).times(THOUSAND).times(weighs.grams))


def _measured_by(quantity: Quantity, basis: Basis) -> Of | None:
    if quantity.of_fibre:
        return None if quantity.without_sign else _fibre(basis, basis.treated)
    if not quantity.base:
        return None
    if quantity.more_bases:
        lots = tuple(basis.names.get(name, name) for name in quantity.bases)
        return _fibre(basis, lots)
    thing = basis.names.get(quantity.base, quantity.base)
    if thing in basis.lots:
        # “12 of yarn” lacks its sign, and says nothing.
        return None if quantity.without_sign else _fibre(basis, (thing,))
    if thing in basis.baths:
        volume = basis.baths[thing].volume
        return None if volume is None else Of((thing,), "volume", *volume)
    if thing in basis.capacities:
        return Of((thing,), "volume", *basis.capacities[thing])
    if thing in basis.beside:
        return Of((thing,), "mass", *basis.beside[thing].grams)
    if basis.bath is not None and thing in basis.bath.contents:
        grams = basis.bath.contents[thing].grams
        return None if grams is None else Of((thing,), "mass", *grams)
    return None


def _fibre(basis: Basis, lots: tuple[str, ...]) -> Of | None:
    weight = ZERO
    for lot in lots:
        state = basis.lots.get(lot)
        if state is None or state.weight is None:
            return None
        weight = weight.plus(state.weight)
    return Of(lots, "mass", weight.low, weight.high) if lots else None
