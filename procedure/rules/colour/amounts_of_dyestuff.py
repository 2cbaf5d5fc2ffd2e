"""Colour: amounts of dyestuff against what is usual for the fibre."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.colour_meant import colours_meant
from procedure.facts.liquor import (
    Stuff,
    fact,
    is_dyestuff,
    is_vat,
)
from procedure.facts.study import Study
from procedure.findings import Percent, say
from procedure.quantity.interval import Interval
from procedure.rules.colour.share_of_fibre import UseOnLot, at_material, fibre_of, uses
from procedure.rules.rule import Found, rule
from procedure.vocabulary.thresholds import threshold

FAMILY = "colour"


def _dyestuff_range(one: Stuff) -> tuple[Fraction | None, Fraction | None, bool]:
    """The usual amount of a dyestuff in its state, in %; and whether it may be fresh."""
    assert one.entry is not None
    states = {"fresh": ("fresh",), "dried": ("dried",)}.get(one.made.state, ("fresh", "dried"))
    lows = [value for s in states if (value := one.entry.number(f"{s}_low")) is not None]
    highs = [value for s in states if (value := one.entry.number(f"{s}_high")) is not None]
    if not lows or not highs:  # the plant is not known in that state
        return None, None, False
    return min(lows), max(highs), "fresh" in states and one.entry.number("fresh_low") is not None


def _dyestuffs(study: Study) -> Iterator[UseOnLot]:
    for use in uses(study):
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
        if not weak:
            continue
        among = _among_others(study, use)
        pale = among or "pale" in colours_meant(study, use.moment)
        enough = threshold("little beside others" if among else "little for a pale shade").value
        if pale and use.most > low * enough:
            continue
        if not _feeds(study, use):
            yield at_material(
                study,
                use,
                say(
                    "{most} of {material} on {fibre} is far less than the usual {usual}.",
                    most=Percent(use.most),
                    material=use.one.named,
                    fibre=fibre_of(use.state),
                    usual=Percent(low, high),
                ),
                "See whether a figure slipped, even for so pale a colour."
                if pale
                else "See whether a figure slipped; otherwise say that a pale colour is wanted.",
                level="note" if pale else "",
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
    strong = threshold("strong vat")
    for use in _dyestuffs(study):
        low, high, _ = _dyestuff_range(use.one)
        vat = fact(use.one, "dye_class") == "vat"
        insects = use.one.entry is not None and "insects" in use.one.entry.facts.get("part", "")
        much = threshold("much insect dye" if insects else "much dyestuff").value
        most = high if vat or high is None else high * much
        if low is None or high is None or most is None or use.least is None or use.least <= most:
            continue
        if vat:  # a vat is made for many lots
            strength = _strength(use)
            if strength is None or strength <= strong.value:
                continue
        yield at_material(
            study,
            use,
            say(
                "{least} of {material} on {fibre} is far more than the usual {usual}.",
                least=Percent(use.least),
                material=use.one.named,
                fibre=fibre_of(use.state),
                usual=Percent(low, high),
            ),
            "See whether a figure slipped.",
        )


def _among_others(study: Study, use: UseOnLot) -> bool:
    """True where dyestuffs make a colour together, and all of them are enough for one.

    What is dyed over an earlier colour only tints it.
    """
    if any(thing not in use.bath.contents for thing in use.state.dyes):
        return True
    together = Fraction(0)
    for other in uses(study):
        if other.moment is not use.moment or other.lot != use.lot or not is_dyestuff(other.one):
            continue
        if other.one.entry is None or other.one.entry.table != "dyestuffs" or other.most is None:
            return True
        low, _, _ = _dyestuff_range(other.one)
        if low:
            together += other.most / low
    own, _, _ = _dyestuff_range(use.one)
    if not own or use.most is None:
        return False
    return together > max(use.most / own, Fraction(1, 2))


def _feeds(study: Study, use: UseOnLot) -> bool:
    """True for madder, henna and the like in a vat, which they feed or reduce."""
    feeds = {"food for ferment", "reducer"} & set(use.one.made.roles)
    return bool(feeds) and is_vat(study, use.bath)


def _strength(use: UseOnLot) -> Fraction | None:
    """Grams of a material to a litre of its bath, at the least."""
    grams: Interval | None = use.bath.contents[use.one.thing].grams
    volume = use.bath.volume
    if grams is None or volume is None or volume[1] <= 0:
        return None
    return grams[0] / volume[1]


RULES = (
    too_little_dyestuff,
    too_much_dyestuff,
)
