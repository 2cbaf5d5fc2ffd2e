"""The list for the shop, as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from textwrap import fill

from procedure.paper.measures import Voice
from procedure.quantity.interval import Interval
from procedure.weigh.shopping import Errand, Errands

HEADS = {
    "buy": "To buy",
    "gather": "To gather",
    "keep": "Kept from before",
    "stock": "In stock, and enough",
}
CENT = Fraction(1, 100)


def report(found: Errands, title: str, voice: Voice, cautions: tuple[str, ...] = ()) -> str:
    """The list: what to buy, gather and have at hand, what is missing, and what it costs.

    ``cautions`` are of what can kill, and stand at its head.
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
    yield f"Have at hand: {', '.join(found.at_hand)}."
    yield from _costs(found)


def _where(one: Errand) -> str:
    """Under which head a thing stands: nobody buys what there is enough of."""
    enough = one.missing is not None and one.missing[1] <= 0
    return "stock" if enough and one.how == "buy" else one.how


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
        if one.missing is None or one.missing[1] <= 0:
            said += f"; {have} in stock"
        else:
            said += f"; {have} in stock, {voice.amount(one.kind, *one.missing)} missing"
    if one.cost is not None:
        said += f"; what is used costs {money(one.cost, one.currency)}"
    return said


def _costs(found: Errands) -> Iterator[str]:
    if not found.costs:
        return
    sums = " and ".join(money(cost, currency) for currency, cost in found.costs.items())
    lacking = dict.fromkeys(
        one.name for one in found.errands if one.cost is None and one.how == "buy"
    )
    if lacking:
        yield f"What has a price costs {sums} for this batch."
        yield f"No price is known for {_list(lacking)}."
        return
    said = f"What this batch uses costs {sums}"
    if found.fibre and len(found.costs) == 1:
        ((currency, cost),) = found.costs.items()
        each = Interval(cost[0] * 100 / found.fibre, cost[1] * 100 / found.fibre)
        said += f", {money(each, currency)} for 100 g of fibre"
    yield f"{said}."


def _list(names: Iterable[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def money(cost: Interval, currency: str) -> str:
    """A sum of money to the hundredth: ``4.20 EUR``, ``1.10 to 1.30``."""
    low, high = (f"{float(round(end / CENT) * CENT):.2f}" for end in cost)
    said = low if low == high else f"{low} to {high}"
    return f"{said} {currency}".rstrip()
