"""What share of the fibre in a bath each of its materials comes to."""

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import (
    HUNDRED,
    Stuff,
    ancestors,
    drawn_off,
    fibre_that_meets,
    meetings,
    pure,
    put_in,
    stuff,
    together,
    whole_fibre,
)
from procedure.facts.study import Study
from procedure.findings import Says, say
from procedure.quantity.exact import exactly
from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found
from procedure.trace import BathState, LotState, Moment

THOUSAND = exactly(1000)


class UseOnLot(NamedTuple):
    """A material in a bath that a lot goes into.

    ``least`` and ``most`` are its share of fibre in %: the least by all the fibre that the
    bath is to treat, the most by what it has treated by now. None where not known.
    """

    moment: Moment
    lot: str
    state: LotState
    bath: BathState
    one: Stuff
    least: Fraction | None
    most: Fraction | None
    first: bool

    @property
    def node(self) -> int:
        """The step that put the material into the bath last."""
        return self.bath.contents[self.one.thing].node


def uses(study: Study) -> tuple[UseOnLot, ...]:
    """Every material that a lot meets in a bath, with its share of the fibre.

    The shares are in % of the dry weight: the least by all the fibre that the bath is to
    treat, the most by what it has treated so far; None where a weight is not known. What goes
    fresh into a bath that was drawn off is for the fibre that comes into it there, and what
    it brought along is nothing new to a lot that was in the bath from which it came.
    """
    return study.once(_uses)


def _uses(study: Study) -> tuple[UseOnLot, ...]:
    return tuple(_each_use(study))


def _each_use(study: Study) -> Iterator[UseOnLot]:
    known: dict[str, Interval | None] = {}
    so_far: dict[str, dict[str, None]] = {}
    drawn = drawn_off(study)
    for moment, lot, state, bath in meetings(study):
        name = moment.node.bath
        if name not in known:
            known[name] = whole_fibre(study, name)
        fibre = known[name]
        before = moment.bath_before
        # A lot that comes back, or its part, is no new fibre for the bath.
        first = before is None or not before.treated or before.served == bath.served
        so_far.setdefault(name, {})[lot] = None
        for one in stuff(study, bath.contents):
            grams = pure(bath.contents[one.thing].grams, one.made)
            least = most = None
            whole, served, is_first = fibre, bath.served, first
            if name in drawn:
                brought = one.thing in drawn[name].contents
                if brought and drawn[name].treated & {lot, *ancestors(study, lot)}:
                    grams = None
                elif not brought:
                    whole = fibre_that_meets(study, name, one.thing)
                    served = together(study, so_far[name])
                    is_first = len(so_far[name]) == 1
            if grams is not None and whole is not None and whole[1] > 0:
                least = grams[0] / max(whole[1], _most(served)) * HUNDRED
            if grams is not None and served is not None and served[0] > 0:
                most = grams[1] / served[0] * HUNDRED
            yield UseOnLot(moment, lot, state, bath, one, least, most, is_first)


def _most(weight: Interval | None) -> Fraction:
    return weight[1] if weight is not None else Fraction(0)


def fibre_of(state: LotState) -> str:
    """The name of a lot's fibre, of a blend its first; “this fibre” where it is not known."""
    return state.fibres[0].name if state.fibres else "this fibre"


def at_material(
    study: Study, use: UseOnLot, sentence: Says | str, remedy: Says | str, level: str = ""
) -> Found:
    """A finding at the place where a material was put into a bath, pointing at the lot's step."""
    procedure, place = put_in(study, use.node, use.one.thing)
    return Found(
        procedure,
        place,
        sentence,
        remedy,
        study.node(use.node).calls,
        study.at(use.moment.node.id, say("{lot} goes into it here.", lot=study.thing(use.lot))),
        level=level,
        source=use.one.entry.facts["source"] if use.one.entry else "",
    )
