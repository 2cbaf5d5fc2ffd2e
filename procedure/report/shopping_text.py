"""The list for the shop, as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from textwrap import fill

from procedure.paper.measures import Voice
from procedure.paper.pieces import spaced
from procedure.quantity.interval import Interval
from procedure.quantity.number_words import ranged
from procedure.weigh.shopping import Errand, Errands, Vessel, in_hundredths

HEADS = {
    "buy": "To buy",
    "gather": "To gather",
    "keep": "Kept from before",
    "stock": "In stock, and enough",
}
# Costs are told for so much fibre.
HUNDRED_GRAMS, FOUR_OUNCES = Fraction(100), 4 * Fraction("28.349523125")


def report(found: Errands, title: str, voice: Voice, cautions: tuple[str, ...] = ()) -> str:
    """The list: what to buy, gather and have at hand, what is missing, and what it costs.

    ``cautions`` are of what can kill, and are at its head.
    """
    head = [f"{fill(line, 88)}\n" for line in cautions]
    return "\n".join((*head, *_lines(found, title, voice))).replace("\u00a0", " ") + "\n"


def _lines(found: Errands, title: str, voice: Voice) -> Iterator[str]:
    yield f"For the shop: {title}"
    for how, head in HEADS.items():
        listed = [one for one in found.errands if _where(one) == how]
        if listed:
            yield ""
            yield f"{head}:"
        for one in listed:
            yield f"  {_said(one, voice)}"
    yield ""
    said = ", ".join((*(_vessel(one, voice) for one in found.vessels), *found.at_hand))
    yield f"Have at hand: {said}."
    yield from _costs(found, voice)


def _vessel(one: Vessel, voice: Voice) -> str:
    """``copper (stainless steel pot, 6 imp gal)``: a nickname alone tells a stranger nothing."""
    size = voice.amount("volume", *one.holds) if one.holds is not None else ""
    inside = ", ".join(part for part in (voice.spelt(one.what), size) if part)
    return f"{one.name} ({inside})" if inside else one.name


def _where(one: Errand) -> str:
    """Under which head a thing stands: nobody buys what there is enough of."""
    enough = one.missing is not None and one.missing[1] <= 0
    return "stock" if enough and one.how == "buy" else one.how


def _said(one: Errand, voice: Voice) -> str:
    real = voice.spelt(one.name)
    own = spaced(one.own)
    name = real if own in (one.name, real) else f"{real} (called {own})"
    need = (
        voice.amount(one.kind, *one.need) if one.need is not None else "an amount that is not said"
    )
    state = f", {one.state}" if one.state and one.state not in name else ""
    said = f"{name}{state}: {need}"
    if one.condition:
        said += f", only if {one.condition}"
    if one.stock is not None and one.kind:
        have = voice.amount(one.kind, one.stock, one.stock)
        if one.missing is None or one.missing[1] <= 0:
            said += f"; {have} in stock"
        else:
            said += f"; {have} in stock, {voice.amount(one.kind, *one.missing)} missing"
    if one.cost is not None:
        said += f"; what is used costs {money(one.cost, one.currency)}"
    return said


def _costs(found: Errands, voice: Voice) -> Iterator[str]:
    if not found.costs:
        if found.priced:
            yield "No cost: no price in the workshop file is for any of these."
        return
    sums = " and ".join(money(cost, currency) for currency, cost in found.costs.items())
    lacking = dict.fromkeys(
        one.name for one in found.errands if one.cost is None and one.how == "buy"
    )
    each = ""
    if found.fibre:
        so_much = HUNDRED_GRAMS if voice.mass_unit == "g" else FOUR_OUNCES
        share = so_much / found.fibre
        per = " and ".join(
            money(Interval(cost[0] * share, cost[1] * share), currency)
            for currency, cost in found.costs.items()
        )
        each = f", {per} for {voice.amount('mass', so_much, so_much)} of {voice.spelt('fibre')}"
    what = "What has a price" if lacking else "What this batch uses"
    yield f"{what} costs {sums}{' for this batch' if lacking else ''}{each}."
    if lacking:
        yield f"No price is known for {_list(lacking)}."


def _list(names: Iterable[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def money(cost: Interval, currency: str) -> str:
    """A sum of money to the hundredth: ``4.20 EUR``, ``1.10 to 1.30``."""
    low, high = (f"{float(end):.2f}" for end in in_hundredths(cost))
    return f"{ranged(low, high)} {currency}".rstrip()
