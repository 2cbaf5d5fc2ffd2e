"""Baths used again: how often, by how much fibre, what is left, and what was carried in."""

from __future__ import annotations

from fractions import Fraction

from procedure.flow.graph import Flow
from procedure.quantity.exact import exactly
from procedure.quantity.interval import ONE, Interval
from procedure.trace import uptake
from procedure.trace.amounts import Amount
from procedure.trace.states import BathState, Content, LotState, Residue
from procedure.vocabulary import Entry
from procedure.vocabulary.thresholds import threshold

PROTEIN = "protein"
CELLULOSE = "cellulose"
HUNDRED = exactly(100)
# What takes the oxygen out of a vat again, or feeds what does.
WAKES = ("reducer", "food for ferment")


def usual(entry: Entry, state: str, lot: LotState) -> Interval | None:
    """The usual least and most of a material on a lot, in % of its weight; None where unknown.

    The figures are those of the vocabulary (``mordants.csv`` by class of fibre,
    ``dyestuffs.csv`` by fresh or dried).
    """
    if entry.table == "mordants":
        classes = {f.facts.get("class", "").removeprefix("regenerated ") for f in lot.fibres}
        kinds = [kind for kind in (PROTEIN, CELLULOSE) if kind in classes] or [PROTEIN, CELLULOSE]
    elif entry.table == "dyestuffs":
        kinds = ["fresh"] if state == "fresh" else ["dried"]
    else:
        return None
    lows = [n for kind in kinds if (n := entry.number(f"{kind}_low")) is not None]
    highs = [n for kind in kinds if (n := entry.number(f"{kind}_high")) is not None]
    return Interval(min(lows), max(highs)) if lows and highs else None


def drawn_on(flow: Flow, bath: BathState, lots: list[LotState]) -> dict[str, Content]:
    """The contents of a bath after new lots have been in it.

    A lot is taken to take up between the least and the most that is usual for it, as
    far as there is so much: that is what dyers weigh out, and what a second use is
    measured by. What nobody weighs by the fibre (water softeners, acids) stays.
    """
    contents = dict(bath.contents)
    for thing, content in bath.contents.items():
        made = uptake.material(flow, thing)
        if made is None or made.entry is None:
            continue
        left = content.left
        for lot in lots:
            share = usual(made.entry, made.state, lot)
            if share is None:
                break
            if left is None or lot.weight is None:
                left = None
                break
            left = left.minus(share.times(lot.weight).over(HUNDRED))
        contents[thing] = content._replace(left=left, spent=content.spent + len(lots))
    return contents


def poured(content: Content, amount: Amount | None, volume: Interval | None) -> Content:
    """What goes along of a material when so much of its bath is poured into another."""
    if amount is None:
        return content
    if volume is None or volume[0] <= 0:
        return content._replace(grams=None, left=None)
    stays = ONE.minus(amount.litres.over(volume).capped(Fraction(1)))
    grams, left = scaled(content.grams, stays), scaled(content.left, stays)
    # The liquor goes; plants that were never strained out stay where they are.
    return content._replace(grams=grams, left=left, solid=False)


def scaled(grams: Interval | None, gone: Interval) -> Interval | None:
    """What is left of grams when a share of the liquor has gone."""
    return None if grams is None else grams.times(ONE.minus(gone))


def iron_from(flow: Flow, bath: BathState, lots: dict[str, LotState], node: int) -> BathState:
    """The bath with the iron that lots carry into it loose."""
    fouled = dict(bath.fouled)
    for lot in lots.values():
        for (kind, thing), loose in lot.carried.items():
            if kind != "mordant" or thing in bath.contents:
                continue
            made = uptake.material(flow, thing)
            if made is not None and made.entry and made.entry.facts.get("metal") == "iron":
                fouled.setdefault(thing, Residue(thing, node, loose.path, "full"))
    return bath if len(fouled) == len(bath.fouled) else bath._replace(fouled=fouled)


def fed(flow: Flow, bath: BathState, things: list[str]) -> BathState:
    """The bath after materials came into it: a reducer or food wakes a vat."""
    for thing in things:
        made = uptake.material(flow, thing)
        if made is not None and any(role in made.roles for role in WAKES):
            return bath._replace(dips=0, used=False, stale=-1)
    return bath


def rested(flow: Flow, bath: BathState, minutes: Interval | None, node: int) -> BathState:
    """The bath after it stood: a vat is rested, and stale where it stood long after use."""
    if bath.dips:
        bath = bath._replace(dips=0)
    ferments = uptake.has_role(flow, bath, "food for ferment")
    long = minutes is not None and minutes[0] >= threshold("vat stale").value
    if bath.used and long and not ferments:
        bath = bath._replace(stale=node)
    return bath
