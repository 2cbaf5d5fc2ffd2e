"""Pot fit: liquor, fibre and plants against what the pot holds.

The rules and the weigh sheet both ask here, so that they agree. The fill is that of
``thresholds.csv`` (a pot for work, a tub for rinsing); what fibre and plants take up
is rough and says so.
"""

from collections import Counter
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from math import ceil

from procedure.facts.liquor import litres, lots_in
from procedure.facts.study import Study
from procedure.findings import Count, Mass, Named, Says, listed, say
from procedure.flow.graph import WATER
from procedure.quantity.interval import ZERO, Interval, total
from procedure.quantity.record import NamedTuple
from procedure.trace import Moment, uptake
from procedure.trace.amounts import THOUSAND
from procedure.trace.states import Content, LotState, State
from procedure.vocabulary.estimates import figure
from procedure.vocabulary.thresholds import threshold
from procedure.wording import said

# A limit of ours and no fact of the trade: beyond it, the pot or the amount is wrong.
MOST_BATCHES = 100
# Nor are more skeins shared out one by one.
MOST_PIECES = 400


class Filling(NamedTuple):
    """What is in the pot of a step, in litres, and what the pot holds.

    ``liquor`` is None where nobody says how much there is: the fibre at least is in it.
    ``fibre`` and ``plants`` are the room that they take; ``lots`` the fibre in it. ``fill``
    names the threshold up to which it may be filled; ``worked`` fails where nothing is
    moved or heated in it. ``by_fibre`` holds where the water that the step brings is
    measured by nothing but fibre.
    """

    bath: str
    pot: str
    capacity: Interval
    liquor: Interval | None
    fibre: Interval
    plants: Interval
    lots: tuple[str, ...]
    fill: str
    worked: bool
    by_fibre: bool

    @property
    def full(self) -> Interval:
        """Litres in the pot, fibre and plants with it; without an end where liquor is unsaid."""
        liquor = Interval.at_least(ZERO.low) if self.liquor is None else self.liquor
        return liquor.plus(self.fibre).plus(self.plants)

    @property
    def share(self) -> Fraction:
        """The share of the pot that may be filled."""
        return threshold(self.fill).value


def filling(study: Study, moment: Moment) -> Filling | None:
    """How full the pot of a step is; None where no pot of a known size has anything in it.

    The rules, the weigh sheet and the handout all ask here, so that they agree.
    """
    node, bath = moment.node, moment.bath_after
    pot = bath.pot if bath is not None else node.pot
    capacity = study.once(_capacities).get(pot)
    lots = tuple(lots_in(moment))
    if capacity is None:
        return None
    by_fibre = True
    if bath is not None:
        liquor, plants = litres(study, bath), _plants(bath.contents)
    else:
        water = [made for thing, _, made in moment.amounts if thing == WATER and made is not None]
        liquor, plants = water[0].litres if water else None, ZERO
        of = water[0].of if water else None
        by_fibre = of is None or of.things[0] in study.flow.lots
    if liquor is None and not lots:
        return None
    still = bath is None or uptake.is_vat(study.flow, bath)
    return Filling(
        node.bath,
        pot,
        capacity,
        liquor,
        _room(_weight(moment.before, lots), "fibre displacement"),
        _room(plants, "plant displacement"),
        lots,
        "water fill share" if still else "pot fill share",
        bool(lots) or node.does.warms,
        by_fibre,
    )


def fillings(study: Study) -> list[tuple[Moment, Filling, Interval]]:
    """How full the pot of each step is, and the litres in it, for ``study.once``.

    Steps without a pot of a known size, or with nothing in it, are left out.
    """
    found = [(moment, filling(study, moment)) for moment in study.moments]
    return [(moment, one, one.full) for moment, one in found if one is not None]


class Fit(NamedTuple):
    """What a pot holds at its fullest: litres of liquor, fibre and plants, and its capacity.

    ``bath`` is empty where a step brings its own water. ``lots`` are the fibre in it, or
    that it is made for, and ``grams`` their weight; ``pieces`` how many skeins or lengths
    they come in, 0 where not known. ``fill`` is the share of the pot that may be filled;
    ``worked`` fails where nothing is moved or heated in it; ``scales`` fails where the
    liquor is measured by the pot, so that less fibre would not mean less liquor. ``several`` are
    the lots where they are more than one, each with its pieces and the grams of one; 0 pieces
    where it is not counted, and may be divided.
    """

    node: int
    bath: str
    pot: str
    capacity: Interval
    liquor: Interval
    fibre: Interval
    plants: Interval
    lots: tuple[str, ...]
    grams: Interval
    pieces: int
    fill: Fraction
    worked: bool
    scales: bool
    several: tuple[tuple[Named, int, Fraction], ...] = ()

    @property
    def full(self) -> Interval:
        """Litres in the pot, fibre and plants with it."""
        return self.liquor.plus(self.fibre).plus(self.plants)

    @property
    def share(self) -> Interval:
        """How full the pot is, 1 for full to the brim."""
        return self.full.over(self.capacity)

    @property
    def verdict(self) -> str:
        """``too small`` or ``too full`` for sure, ``may be too full`` at worst, or ``fits``."""
        # “at least 5 L” leaves the rest to the dyer, who sees how full the pot is.
        surely, perhaps = self.share.low, self.share.firm
        if surely > 1:
            return "too small"
        if perhaps > 1:
            return "may be too full"
        if not self.worked or perhaps <= self.fill:
            return "fits"
        return "too full" if surely > self.fill else "may be too full"

    @property
    def batch_room(self) -> Fraction:
        """Litres of one batch, where the fibre is divided into batches: what fills the pot well."""
        good = figure("good fill")[0] if self.fill <= threshold("pot fill share").value else 1
        return min(self.fill, good) * self.capacity[0]

    @property
    def batches(self) -> tuple[int, ...]:
        """Even batches that fit; empty where smaller batches would not help.

        Each number is the pieces of one batch where the fibre comes in pieces, which
        are not cut, else 1 for an equal share of the weight. More than
        :data:`MOST_BATCHES` are no help to anybody.
        """
        if not self.scales or not self.lots:
            return ()
        if any(pieces for _, pieces, _ in self.several):
            return tuple([sum(batch.values()) for batch in self.shared_out])
        room = self.batch_room
        number = max(ceil(self.full.firm / room), 1)
        if self.pieces:
            in_one = int(room * self.pieces / self.full.firm)  # pieces that one batch can hold
            number = max(number, ceil(Fraction(self.pieces, in_one))) if in_one else 0
        if not 0 < number <= MOST_BATCHES:
            return ()
        if not self.pieces:
            return (1,) * number
        few, more = divmod(self.pieces, number)
        return (few + 1,) * more + (few,) * (number - more)

    @property
    def most_of_fibre(self) -> Fraction:
        """Grams of fibre that one batch holds, with its share of liquor and plants."""
        full = self.full.firm
        return self.batch_room * self.grams[1] / full if full else Fraction(0)

    @property
    def shared_out(self) -> list[Counter[Named]]:
        """The pieces of several lots in even batches, none cut: how many of each are in which.

        Empty where not all are counted, or where no number of batches holds them.
        """
        if not all(pieces for _, pieces, _ in self.several):
            return []
        if sum(pieces for _, pieces, _ in self.several) > MOST_PIECES:
            return []
        most = self.most_of_fibre
        every = [(grams, lot) for lot, pieces, grams in self.several for _ in range(pieces)]
        every.sort(key=lambda one: -one[0])
        least = ceil(self.full.firm / self.batch_room)
        if not every or every[0][0] > most:
            return []
        for number in range(max(least, 1), min(len(every), MOST_BATCHES) + 1):
            batches: list[Counter[Named]] = [Counter() for _ in range(number)]
            loads = [Fraction(0)] * number
            for grams, lot in every:
                at = loads.index(min(loads))
                loads[at] += grams
                batches[at][lot] += 1
            if max(loads) <= most:
                return batches
        return []

    @property
    def _of_whole_pieces(self) -> Says:
        """What to do with several lots of which some come in pieces."""
        batches = self.shared_out
        if not batches:
            most = self.most_of_fibre
            if not most or any(grams > most for _, pieces, grams in self.several if pieces):
                return Says("Use a larger pot, or less liquor.")
            return say(
                "Use a larger pot, or dye in batches of at most {most} of fibre, no piece cut.",
                most=Mass(most),
            )
        alike = Counter(tuple(sorted(one.items(), key=str)) for one in batches)
        each = listed(
            say(
                "{many} with {what}",
                many=Count(Fraction(many)),
                what=listed(
                    (
                        say("{count} of {lot}", count=Count(Fraction(count)), lot=lot)
                        for lot, count in held
                    ),
                    last=" beside ",
                ),
            )
            for held, many in alike.items()
        )
        return say(
            "Use a larger pot, or dye in {number} batches of whole pieces: {each}.",
            number=Count(Fraction(len(batches))),
            each=each,
        )

    @property
    def advised(self) -> Says:
        """What to do where the pot is too small or too full."""
        if self.scales and self.lots and any(pieces for _, pieces, _ in self.several):
            return self._of_whole_pieces
        batches = self.batches
        if not batches:
            return Says("Use a larger pot, or less liquor.")
        number = Count(Fraction(len(batches)))
        sizes = sorted(dict.fromkeys(batches), reverse=True)
        if self.pieces and len(sizes) == 1:
            return say(
                "Use a larger pot, or dye in {number} batches of {size} pieces each."
                if sizes[0] > 1
                else "Use a larger pot, or dye in {number} batches of one piece each.",
                number=number,
                size=Count(Fraction(sizes[0])),
            )
        if self.pieces:
            each = listed(
                say(
                    "{count} of {size}",
                    count=Count(Fraction(batches.count(size))),
                    size=Count(Fraction(size)),
                )
                for size in sizes
            )
            return say(
                "Use a larger pot, or dye in {number} batches: {each} pieces.",
                number=number,
                each=each,
            )
        low, high = (end / len(batches) for end in self.grams)
        if not high:
            return say("Use a larger pot, or dye in {number} equal batches.", number=number)
        return say(
            "Use a larger pot, or dye in {number} batches of {fibre} of fibre each.",
            number=number,
            fibre=Mass(low, high),
        )

    @property
    def advice(self) -> str:
        """What is advised, in words and in metric units."""
        return said(self.advised)


def advice(study: Study, bath: str, pot: str, node: int) -> Says:
    """What to do about a bath (or the water of a step) that its pot is too small for."""
    fit = study.once(_by_place).get((bath, pot, -1 if bath else node))
    return fit.advised if fit else Says("Use a larger pot, or dye less at a time.")


def _by_place(study: Study) -> dict[tuple[str, str, int], Fit]:
    return {(fit.bath, fit.pot, -1 if fit.bath else fit.node): fit for fit in fits(study)}


def fits(study: Study) -> list[Fit]:
    """Every bath and every rinsing water of a plan at its fullest, in the order of use."""
    fullest: dict[tuple[str, str, int], Fit] = {}
    fixed = _by_the_pot(study)
    for moment, found, _ in study.once(fillings):
        if found.liquor is None:
            continue
        fit = _fit(study, moment, found, found.liquor, fixed)
        key = (fit.bath, fit.pot, -1 if fit.bath else fit.node)
        earlier = fullest.get(key)
        if earlier is None or (fit.worked, fit.full.high) > (earlier.worked, earlier.full.high):
            fullest[key] = fit
    return list(fullest.values())


def _fit(study: Study, moment: Moment, found: Filling, liquor: Interval, fixed: set[str]) -> Fit:
    lots, state = found.lots, moment.before
    if found.bath:
        lots, state = lots or _treated(study, found.bath), study.trace.final
    return Fit(
        moment.node.id,
        found.bath,
        found.pot,
        found.capacity,
        liquor,
        found.fibre,
        found.plants,
        lots,
        _weight(state, lots),
        _pieces(study, lots),
        found.share,
        found.worked,
        found.bath not in fixed if found.bath else found.by_fibre,
        _several(study, state, lots),
    )


def _several(
    study: Study, state: State, lots: tuple[str, ...]
) -> tuple[tuple[Named, int, Fraction], ...]:
    """Several lots with how many pieces each comes in, and the grams of one."""
    if len(lots) < 2:
        return ()
    found: list[tuple[Named, int, Fraction]] = []
    for lot in lots:
        known = state.lots.get(lot)
        piece = known.piece if known is not None else None
        weight = known.weight if known is not None else None
        many = Fraction(0)
        if piece is not None and weight is not None and piece[0] == piece[1] > 0:
            many = weight[1] / piece[1]
        whole = many.denominator == 1
        named = study.thing(lot)
        found.append((named, int(many) if whole else 0, piece[1] if piece else Fraction(0)))
    return tuple(found)


def _pieces(study: Study, lots: tuple[str, ...]) -> int:
    """How many pieces the fibre comes in, where it is one lot that is counted; else 0."""
    declared = [study.flow.lots[lot].declared for lot in lots if lot in study.flow.lots]
    lot = declared[0] if len(declared) == 1 else None
    if lot is None or lot.pieces is None or not lot.pieces.known:
        return 0
    low, high = lot.pieces.ends
    return int(low) if low == high and low.denominator == 1 and low > 1 else 0


def _capacities(study: Study) -> dict[str, Interval]:
    """Litres that each pot of a known size holds."""
    sizes = {name: pot.capacity for name, (pot, _) in study.flow.pots.items()}
    known = {name: one.ends for name, one in sizes.items() if one is not None and one.known}
    return {name: ends for name, ends in known.items() if ends.low > 0}


def _weight(state: State, lots: tuple[str, ...]) -> Interval:
    """Grams of fibre; a lot of unknown weight adds nothing."""
    known: list[LotState] = [state.lots[lot] for lot in lots if lot in state.lots]
    weights = [lot.weight for lot in known if lot.weight is not None]
    return total(weights)


def _plants(contents: Mapping[str, Content]) -> Interval:
    return total(one.grams for one in contents.values() if one.solid and one.grams is not None)


def _room(grams: Interval, displacement: str) -> Interval:
    if grams is ZERO:
        return ZERO
    return grams.times(_litres_of_a_gram(displacement))


@cache
def _litres_of_a_gram(displacement: str) -> Fraction:
    return threshold(displacement).value / THOUSAND


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
