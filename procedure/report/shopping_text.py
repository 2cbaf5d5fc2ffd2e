"""The list for the shop, as text."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from textwrap import fill

from procedure.paper.measures import Voice
from procedure.quantity.interval import Interval
from procedure.quantity.number_words import ranged
from procedure.weigh.shopping import Errand, Errands

HEADS = {"buy": "To buy", "gather": "To gather", "keep": "Kept from before"}
CENT = Fraction(1, 100)


def report(found: Errands, title: str, voice: Voice, cautions: tuple[str, ...] = ()) -> str:
    """The list: what to buy, gather and have at hand, what is missing, and what it costs.

    ``cautions`` are of what can kill, and are at its head.
    """
    head = [f"{fill(line, 88)}\n" for line in cautions]
    return "\n".join((*head, *_lines(found, title, voice))).replace("\u00a0", " ") + "\n"


def _lines(found: Errands, title: str, voice: Voice) -> Iterator[str]:
    yield f"For the shop: {title}"
    for how, head in HEADS.items():
        listed = [one for one in found.errands if one.how == how]
        if listed:
            yield ""
            yield f"{head}:"
        for one in listed:
            yield f"  {_said(one, voice)}"
    yield ""
    yield f"Have at hand: {', '.join(found.at_hand)}."
    yield from _costs(found)


def _said(one: Errand, voice: Voice) -> str:
    name = one.name if one.own == one.name else f"{one.name} (called {one.own})"
    need = (
        voice.amount(one.kind, *one.need) if one.need is not None else "an amount that is not said"
    )
    said = f"{name}: {need}"
    if one.condition:
        said += f", only if {one.condition}"
    if one.stock is not None and one.kind:
        have = voice.amount(one.kind, one.stock, one.stock)
        if one.missing is None:
            said += f"; {have} in stock"
        elif one.missing[1] <= 0:
            said += f"; {have} in stock, which is enough"
        else:
            said += f"; {have} in stock, {voice.amount(one.kind, *one.missing)} missing"
    if one.cost is not None:
        said += f"; {money(one.cost, one.currency)}"
    return said


def _costs(found: Errands) -> Iterator[str]:
    if not found.costs:
        return
    for currency, cost in found.costs.items():
        said = f"What this batch uses costs {money(cost, currency)}"
        if found.fibre:
            each = Interval(cost[0] * 100 / found.fibre, cost[1] * 100 / found.fibre)
            said += f", {money(each, currency)} for 100 g of fibre"
        yield f"{said}."
    lacking = [one.name for one in found.errands if one.cost is None and one.how == "buy"]
    if lacking:
        yield f"No price is known for {', '.join(dict.fromkeys(lacking))}."


def money(cost: Interval, currency: str) -> str:
    """A sum of money to the hundredth: ``4.20 EUR``, ``1.10 to 1.30``."""
    low, high = (f"{float(round(end / CENT) * CENT):.2f}" for end in cost)
    return f"{ranged(low, high)} {currency}".rstrip()
