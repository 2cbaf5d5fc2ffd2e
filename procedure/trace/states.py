"""What a lot, a bath and a pot are at one moment.

All are immutable. Wherever a fact holds only on one way through an ``if``, it
carries that way in words (``path``); an empty path means on every way. Intervals
are pairs of exact numbers; None stands for what the procedure does not say.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from procedure.quantity.interval import ZERO, Interval, hull
from procedure.quantity.record import TYPE_CHECKING, NamedTuple
from procedure.vocabulary import Entry

if TYPE_CHECKING:
    from typing import Any

# What a state holds by name where it holds nothing; states are never changed in place.
NOTHING: Mapping[Any, Any] = MappingProxyType({})


class TakenUp(NamedTuple):
    """A mordant or dyestuff that a lot has met: grams of it in the bath, by which step.

    ``fibre`` is what the lot weighed then, in grams.
    """

    grams: Interval | None
    fibre: Interval | None
    node: int
    path: str

    @property
    def share(self) -> Interval | None:
        """The grams to one gram of the lot; None where either is not known."""
        if self.grams is None or self.fibre is None or self.fibre[0] <= 0:
            return None
        return self.grams.over(self.fibre)


class Carried(NamedTuple):
    """Something loose in the fibre that has not been rinsed or washed out.

    ``kind`` is mordant, dye, soap, alkali, acid, reducer, oxidiser, metal, poison or other;
    ``rinses`` counts the waters it has had since.
    """

    kind: str
    thing: str
    node: int
    path: str
    rinses: int


class Content(NamedTuple):
    """A material in a bath: grams of it (None where not known), and the step that put it in.

    ``solid`` holds for plant matter until it is strained out. ``left`` is what fibre has
    not taken up, by what is usual for it, and ``spent`` counts the lots that took of it
    since it was put in last. ``bag`` is the bag that it is in, empty where it is loose;
    ``again`` holds for plants that were in another bath before.
    """

    grams: Interval | None
    node: int
    path: str
    spent: int = 0
    solid: bool = False
    left: Interval | None = None
    bag: str = ""
    again: bool = False


class Residue(NamedTuple):
    """What a pot still has of what it held.

    ``left`` is full where it was only emptied, rinsed where clean water or another
    bath has been in the pot since, scrubbed where it was cleaned and its stuff (wood,
    earthenware) holds traces all the same.
    """

    thing: str
    node: int
    path: str
    left: str


class LotState(NamedTuple):
    """A lot: ``weight`` and ``piece`` (each, where counted) in grams dry, ``soaked`` minutes in
    liquor since it was last dry, ``heat`` in °C, ``wetness`` its possible states (dry, damp, wet)
    with the way to each. ``mordanted`` where it was declared so; ``dipped`` the minutes of
    its last dip in a vat; ``out_since`` the minute of the plan at which it came out of a bath."""

    weight: Interval | None
    fibres: tuple[Entry, ...]
    wetness: tuple[tuple[str, str], ...]
    soaked: Fraction | None
    heat: Interval | None
    scoured: bool | None
    piece: Interval | None = None
    dried_by: int = -1
    mordants: Mapping[str, TakenUp] = NOTHING
    dyes: Mapping[str, TakenUp] = NOTHING
    carried: Mapping[tuple[str, str], Carried] = NOTHING
    bath: str = ""
    last: int = -1
    aired: bool = True
    mordanted: bool = False
    dipped: Interval | None = None
    out_since: Fraction | None = None

    def possibly(self, wetness: str) -> str | None:
        """The way on which the lot is in that state ('' for always), or None for never."""
        return next((path for state, path in self.wetness if state == wetness), None)


class BathState(NamedTuple):
    """A bath: ``volume`` in litres, ``heat`` in °C, contents by material, solids or strained.

    ``traces`` are what its pot still held when it came there, with step ``came``;
    ``served`` is the dry weight in grams of all fibre that it has treated and ``uses`` how
    often fibre has gone in; of a vat, ``dips`` counts since it rested last, ``used`` holds
    where it was dipped in since it had reducer, and ``stale`` is the step that left it
    standing long after use (-1 for none). ``fouled`` is what lots carried into it loose, and
    ``touched`` the minute of the plan at which something was done to it last. ``whole`` is the
    volume when liquor went in last, of which shares are poured (three times 1/10 of a stock)."""

    pot: str
    volume: Interval | None
    heat: Interval | None
    contents: Mapping[str, Content] = NOTHING
    solids: bool = False
    covered: bool = False
    treated: tuple[str, ...] = ()
    made: int = -1
    heat_said: bool = True
    traces: Mapping[str, Residue] = NOTHING
    came: int = -1
    served: Interval | None = ZERO
    labelled: bool = False
    uses: int = 0
    dips: int = 0
    used: bool = False
    stale: int = -1
    fouled: Mapping[str, Residue] = NOTHING
    touched: Fraction | None = None
    whole: Interval | None = None


class PotState(NamedTuple):
    """A pot: the residues of what it has held since it was last cleaned.

    ``full`` are those that nothing has rinsed since: of hundreds of residues they are few.
    ``matter`` are grams of the plants in a bag, or of what a sieve holds back (None where not
    known), ``fresh`` how much of it no bath has had yet, and ``within`` the bath that a bag is in.
    """

    residues: Mapping[str, Residue] = NOTHING
    full: frozenset[str] = frozenset()
    cleaned: int = -1
    matter: Mapping[str, Interval | None] = NOTHING
    fresh: Mapping[str, Interval | None] = NOTHING
    within: str = ""


class State(NamedTuple):
    """Everything at one moment, by the plan's names."""

    lots: Mapping[str, LotState]
    baths: Mapping[str, BathState]
    pots: Mapping[str, PotState]

    def there(
        self, lots: Mapping[str, Any], baths: Mapping[str, Any], pots: Mapping[str, Any]
    ) -> State:
        """What of this is among those."""
        return State(
            {name: one for name, one in self.lots.items() if name in lots},
            {name: two for name, two in self.baths.items() if name in baths},
            {name: three for name, three in self.pots.items() if name in pots},
        )


# ------------------------------------------------------------------ joining two ways


def _join_named(one, two, taken: str, passed: str):  # type: ignore[no-untyped-def]
    """Join what is kept by name: a thing found on one way only gets that way as its path."""
    if one is two or one == two:
        return one
    joined = {}
    for key in (*one, *(key for key in two if key not in one)):
        a, b = one.get(key), two.get(key)
        if a is None:
            joined[key] = b._replace(path=b.path or passed)
        elif b is None:
            joined[key] = a._replace(path=a.path or taken)
        else:
            joined[key] = a if a.path == b.path else a._replace(path="")
            if hasattr(a, "grams") and a.grams != b.grams:
                joined[key] = joined[key]._replace(grams=hull(a.grams, b.grams))
            if hasattr(a, "spent") and a.left != b.left:
                joined[key] = joined[key]._replace(left=hull(a.left, b.left))
    return joined


def _both(one: bool | None, two: bool | None) -> bool | None:
    """Whether both are so; None where that is not known of one and the other is."""
    if one is two:
        return one
    return False if one is False or two is False else None


def _join_lots(one: LotState, two: LotState, taken: str, passed: str) -> LotState:
    if one is two:
        return one
    ways: dict[str, str] = {}
    both = {state for state, _ in one.wetness} & {state for state, _ in two.wetness}
    for states, path in ((one.wetness, taken), (two.wetness, passed)):
        for state, known in states:
            ways.setdefault(state, known if state in both else known or path)
    soaked = None if one.soaked is None or two.soaked is None else min(one.soaked, two.soaked)
    return one._replace(
        weight=hull(one.weight, two.weight),
        wetness=tuple(ways.items()),
        soaked=soaked,
        heat=hull(one.heat, two.heat),
        scoured=_both(one.scoured, two.scoured),
        mordants=_join_named(one.mordants, two.mordants, taken, passed),
        dyes=_join_named(one.dyes, two.dyes, taken, passed),
        carried=_join_named(one.carried, two.carried, taken, passed),
        bath=one.bath or two.bath,
        last=max(one.last, two.last),
        aired=one.aired and two.aired,
        mordanted=one.mordanted and two.mordanted,
        out_since=one.out_since if one.out_since == two.out_since else None,
    )


def _join_baths(one: BathState, two: BathState, taken: str, passed: str) -> BathState:
    if one is two:
        return one
    return one._replace(
        volume=hull(one.volume, two.volume),
        heat=hull(one.heat, two.heat),
        contents=_join_named(one.contents, two.contents, taken, passed),
        solids=one.solids or two.solids,
        covered=one.covered and two.covered,
        heat_said=one.heat_said and two.heat_said,
        traces=_join_named(one.traces, two.traces, taken, passed),
        served=hull(one.served, two.served),
        labelled=one.labelled and two.labelled,
        treated=one.treated if len(one.treated) >= len(two.treated) else two.treated,
        uses=max(one.uses, two.uses),
        dips=min(one.dips, two.dips),
        used=one.used and two.used,
        stale=min(one.stale, two.stale),
        fouled=_join_named(one.fouled, two.fouled, taken, passed),
    )


def _join_pots(one: PotState, two: PotState, taken: str, passed: str) -> PotState:
    if one is two:
        return one
    residues = _join_named(one.residues, two.residues, taken, passed)
    matter = {**two.matter, **one.matter} if one.matter or two.matter else NOTHING
    fresh = {thing: grams for thing, grams in one.fresh.items() if thing in two.fresh}
    return one._replace(
        residues=residues,
        full=frozenset(thing for thing, one in residues.items() if one.left == "full"),
        cleaned=min(one.cleaned, two.cleaned),
        matter=matter,
        fresh=fresh,
        within=one.within or two.within,
    )


def join(one: State, two: State, taken: str, passed: str) -> State:
    """Both ways through an ``if`` as one state; ``taken`` and ``passed`` name the ways."""
    return State(
        {
            name: _join_lots(one.lots.get(name, lot), two.lots.get(name, lot), taken, passed)
            for name, lot in {**two.lots, **one.lots}.items()
        },
        {
            name: _join_baths(one.baths.get(name, bath), two.baths.get(name, bath), taken, passed)
            for name, bath in {**two.baths, **one.baths}.items()
        },
        {
            name: _join_pots(one.pots.get(name, pot), two.pots.get(name, pot), taken, passed)
            for name, pot in {**two.pots, **one.pots}.items()
        },
    )
