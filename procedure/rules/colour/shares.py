"""Colour: amounts of mordant and dyestuff against what is usual for the fibre."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from procedure.facts.liquor import (
    CELLULOSE,
    HUNDRED,
    PROTEIN,
    Stuff,
    fact,
    is_dyestuff,
    is_vat,
    meetings,
    only_of,
    pure,
    put_in,
    stuff,
    whole_fibre,
)
from procedure.facts.study import Study
from procedure.findings import Named, Percent, Says, say
from procedure.quantity.interval import Interval
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import BathState, LotState, Moment
from procedure.vocabulary import Entry
from procedure.vocabulary.thresholds import related, threshold

FAMILY = "colour"
THOUSAND = Fraction(1000)


class _Use(NamedTuple):
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


def _uses(study: Study) -> Iterator[_Use]:
    known: dict[str, Interval | None] = {}
    for moment, lot, state, bath in meetings(study):
        name = moment.node.bath
        if name not in known:
            known[name] = whole_fibre(study, name)
        fibre = known[name]
        before = moment.bath_before
        # A lot that comes back, or its part, is no new fibre for the bath.
        first = before is None or not before.treated or before.served == bath.served
        for one in stuff(study, bath.contents):
            grams = pure(bath.contents[one.thing].grams, one.made)
            least = most = None
            if grams is not None and fibre is not None and fibre[1] > 0:
                least = grams[0] / max(fibre[1], _served(bath)) * HUNDRED
            if grams is not None and bath.served is not None and bath.served[0] > 0:
                most = grams[1] / bath.served[0] * HUNDRED
            yield _Use(moment, lot, state, bath, one, least, most, first)


def _served(bath: BathState) -> Fraction:
    return bath.served[1] if bath.served is not None else Fraction(0)


def _range(entry: Entry, state: LotState, end: str) -> Fraction | None:
    """An end of a mordant's usual range on a lot: the looser of two where its fibres differ."""
    columns = [f"protein_{end}", f"cellulose_{end}"]
    if only_of(state, PROTEIN):
        columns = columns[:1]
    elif only_of(state, CELLULOSE):
        columns = columns[1:]
    known = [value for column in columns if (value := entry.number(column)) is not None]
    if not known:
        return None
    return min(known) if end == "low" else max(known)


def _mordants(study: Study) -> Iterator[_Use]:
    """Mordants as they are used on fibre; in a vat a metal salt is a reducer."""
    for use in _uses(study):
        entry = use.one.entry
        if entry is not None and entry.table == "mordants" and not is_vat(study, use.bath):
            yield use


def _fibre(state: LotState) -> str:
    return state.fibres[0].name if state.fibres else "this fibre"


def _found(
    study: Study, use: _Use, sentence: Says | str, remedy: Says | str, level: str = ""
) -> Found:
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


@rule("too-much-mordant", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def too_much_mordant(study: Study) -> Iterator[Found]:
    """More mordant than the fibre bears, or (as a note) more than is usual.

    Alum in excess makes wool sticky; iron hardens wool and rots cloth; tin makes it
    brittle.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 40 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 25 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        excess, high = _range(entry, use.state, "excess"), _range(entry, use.state, "high")
        if use.least is None:
            continue
        if excess is not None and use.least > excess:
            effect = entry.facts.get("excess_effect") or "is more than the fibre bears"
            yield _found(
                study,
                use,
                say(
                    "{least} of {mordant} on {fibre} is in excess of {excess}, and {effect}.",
                    least=Percent(use.least),
                    mordant=Named("material", entry.name),
                    fibre=_fibre(use.state),
                    excess=Percent(excess),
                    effect=effect,
                ),
                say("Use {usual}.", usual=_usual(entry, use.state)),
            )
        elif high is not None and use.least > high:
            yield _found(
                study,
                use,
                say(
                    "{least} of {mordant} on {fibre} is more than the usual {high}.",
                    least=Percent(use.least),
                    mordant=Named("material", entry.name),
                    fibre=_fibre(use.state),
                    high=Percent(high),
                ),
                say("Usual is {usual}.", usual=_usual(entry, use.state)),
                "note",
            )


def _usual(entry: Entry, state: LotState) -> Says | Percent:
    low, high = _range(entry, state, "low"), _range(entry, state, "high")
    if high is None:
        return Says("less")
    return Percent(low, high) if low is not None else say("up to {high}", high=Percent(high))


@rule("too-little-mordant", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def too_little_mordant(study: Study) -> Iterator[Found]:
    """Far less mordant than is usual: most likely a slip of the pen.

    Too little mordant gives a pale colour that does not hold. A little less than usual
    is only noted.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 1.2 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    little = threshold("little mordant")
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        low = _range(entry, use.state, "low")
        if not use.first or low is None or use.most is None or use.most >= low:
            continue
        far = use.most < low * little.value
        yield _found(
            study,
            use,
            say(
                "{most} of {mordant} on {fibre} is {far}less than the usual {usual}.",
                most=Percent(use.most),
                mordant=Named("material", entry.name),
                fibre=_fibre(use.state),
                far="far " if far else "",
                usual=_usual(entry, use.state),
            ),
            "See whether a figure slipped; otherwise say that a pale colour is wanted.",
            "" if far else "note",
        )


@rule("bath-worn-out", level="warning", family=FAMILY, source="common practice")
def bath_worn_out(study: Study) -> Iterator[Found]:
    """A mordant bath used for more fibre than its mordant serves.

    The later lots take up too little, and their colour is pale and does not hold.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        wet out silk in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 80 °C for 1 h
        rinse yarn in tub with water 5 L
        mordant silk in alum-bath at 80 °C for 1 h
        rinse silk in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        wet out silk in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 80 °C for 1 h
        rinse yarn in tub with water 5 L
        add alum 12 g to alum-bath
        mordant silk in alum-bath at 80 °C for 1 h
        rinse silk in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        low = _range(entry, use.state, "low")
        before = use.moment.bath_before
        if use.first or before is None or use.lot in before.treated:
            continue
        if before.served == use.bath.served or low is None or use.most is None:
            continue
        if use.most < low and use.one.thing in before.contents:
            yield at_node(
                use.moment.node,
                say(
                    "With {lot}, {bath} has treated so much fibre that its {mordant} "
                    "comes to {most}; {usual} is usual.",
                    lot=study.thing(use.lot),
                    bath=study.thing(use.moment.node.bath),
                    mordant=Named("material", entry.name),
                    most=Percent(use.most),
                    usual=_usual(entry, use.state),
                ),
                say(
                    "Add more {thing} first, or make a new bath.", thing=study.thing(use.one.thing)
                ),
                related=study.at(use.node, "It was put in here."),
                source=entry.facts["source"],
            )


@rule("mordant-for-other-fibre", level="warning", family=FAMILY, source="common practice")
def mordant_for_other_fibre(study: Study) -> Iterator[Found]:
    """A mordant that is meant for another kind of fibre.

    Aluminium acetate is for cotton and linen and does little on wool; chrome is for
    wool and silk.

    Trips:
        materials
          acetate: aluminium acetate
        steps
          wet out yarn in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, acetate 8 g
          mordant yarn in alum-bath at 50 °C for 1 h
          rinse yarn in tub with water 5 L
          discard alum-bath to "foul drain"
    Cure:
        materials
          acetate: aluminium acetate
        steps
          wet out cloth in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, acetate 8 g
          mordant cloth in alum-bath at 50 °C for 1 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        here, there = "protein", "cellulose"
        if only_of(use.state, CELLULOSE):
            here, there = there, here
        elif not only_of(use.state, PROTEIN):
            continue
        if entry.number(f"{here}_high") is None and entry.number(f"{there}_high") is not None:
            kind = "wool and silk" if there == "protein" else "cotton and linen"
            yield at_node(
                use.moment.node,
                say(
                    "{mordant} is for {kind}, and {lot} is of {fibre}.",
                    mordant=Named("material", entry.name),
                    kind=kind,
                    lot=study.thing(use.lot),
                    fibre=_fibre(use.state),
                ),
                "Use potassium alum.",
                source=entry.facts["source"],
            )


@rule("tin-without-oxalic-acid", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def tin_without_oxalic_acid(study: Study) -> Iterator[Found]:
    """More than 4 % of tin without oxalic acid beside it.

    Tin hardens wool; Mairet gives 4 % with 2 % of oxalic acid.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        tin-bath: prepare in kettle with water 3 L, tin 6 g
        mordant yarn in tin-bath from 20 °C to 85 °C over 1 h for 1 h
        wash yarn in tub with water 5 L, soap 3 g
        rinse yarn in tub with water 5 L
        discard tin-bath to "the hazardous waste collection"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        tin-bath: prepare in kettle with water 3 L, tin 4 g, oxalic 2 g
        mordant yarn in tin-bath from 20 °C to 85 °C over 1 h for 1 h
        wash yarn in tub with water 5 L, soap 3 g
        rinse yarn in tub with water 5 L
        discard tin-bath to "the hazardous waste collection"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        beside = {one.made.called for one in stuff(study, use.bath.contents)}
        for relation in related("wants beside it", entry.name):
            if relation.above is None or use.least is None or relation.second in beside:
                continue
            if use.least > relation.above:
                yield _found(
                    study,
                    use,
                    say(
                        "{least} of {mordant} without {second}: {note}.",
                        least=Percent(use.least),
                        mordant=Named("material", entry.name),
                        second=relation.second,
                        note=relation.note,
                    ),
                    say(
                        "Use {above} at most, with half as much {second}.",
                        above=Percent(relation.above),
                        second=relation.second,
                    ),
                )


def _dyestuff_range(one: Stuff) -> tuple[Fraction | None, Fraction | None, bool]:
    """The usual amount of a dyestuff in its state, in %; and whether it may be fresh."""
    assert one.entry is not None
    states = {"fresh": ("fresh",), "dried": ("dried",)}.get(one.made.state, ("fresh", "dried"))
    lows = [value for s in states if (value := one.entry.number(f"{s}_low")) is not None]
    highs = [value for s in states if (value := one.entry.number(f"{s}_high")) is not None]
    if not lows or not highs:  # the plant is not known in that state
        return None, None, False
    return min(lows), max(highs), "fresh" in states and one.entry.number("fresh_low") is not None


def _dyestuffs(study: Study) -> Iterator[_Use]:
    for use in _uses(study):
        if (
            use.one.entry is not None
            and use.one.entry.table == "dyestuffs"
            and is_dyestuff(use.one)
        ):
            yield use


@rule("too-little-dyestuff", level="warning", family=FAMILY, source="common practice")
def too_little_dyestuff(study: Study) -> Iterator[Found]:
    """Far less dyestuff than is usual: most likely a slip of the pen.

    The fibre comes out much paler than the reader was told to expect.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 5 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for use in _dyestuffs(study):
        low, high, fresh = _dyestuff_range(use.one)
        little = threshold("little fresh dyestuff" if fresh else "little dried dyestuff")
        if not use.first or low is None or high is None or use.most is None:
            continue
        weak = use.most <= low * little.value
        if fact(use.one, "dye_class") == "vat":  # a vat may give few dips and a pale blue
            strength = _strength(use)
            weak = strength is not None and strength < threshold("weak vat").value
            weak = weak and use.most < low
        if weak and not _feeds(study, use):
            yield _found(
                study,
                use,
                say(
                    "{most} of {material} on {fibre} is far less than the usual {usual}.",
                    most=Percent(use.most),
                    material=use.one.named,
                    fibre=_fibre(use.state),
                    usual=Percent(low, high),
                ),
                "See whether a figure slipped; otherwise say that a pale colour is wanted.",
            )


@rule("too-much-dyestuff", level="warning", family=FAMILY, source="common practice")
def too_much_dyestuff(study: Study) -> Iterator[Found]:
    """Far more dyestuff than is usual: most likely a slip of the pen.

    What the fibre cannot take up is gathered or bought for the drain.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 500 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    much, strong = threshold("much dyestuff"), threshold("strong vat")
    for use in _dyestuffs(study):
        low, high, _ = _dyestuff_range(use.one)
        vat = fact(use.one, "dye_class") == "vat"
        most = high if vat or high is None else high * much.value
        if low is None or high is None or most is None or use.least is None or use.least <= most:
            continue
        if vat:  # a vat is made for many lots
            strength = _strength(use)
            if strength is None or strength <= strong.value:
                continue
        yield _found(
            study,
            use,
            say(
                "{least} of {material} on {fibre} is far more than the usual {usual}.",
                least=Percent(use.least),
                material=use.one.named,
                fibre=_fibre(use.state),
                usual=Percent(low, high),
            ),
            "See whether a figure slipped.",
        )


def _feeds(study: Study, use: _Use) -> bool:
    """True for madder, henna and the like in a vat, which they feed or reduce."""
    feeds = {"food for ferment", "reducer"} & set(use.one.made.roles)
    return bool(feeds) and is_vat(study, use.bath)


def _strength(use: _Use) -> Fraction | None:
    """Grams of a material to a litre of its bath, at the least."""
    grams: Interval | None = use.bath.contents[use.one.thing].grams
    volume = use.bath.volume
    if grams is None or volume is None or volume[1] <= 0:
        return None
    return grams[0] / volume[1]


RULES = (
    too_much_mordant,
    too_little_mordant,
    bath_worn_out,
    mordant_for_other_fibre,
    tin_without_oxalic_acid,
    too_little_dyestuff,
    too_much_dyestuff,
)
