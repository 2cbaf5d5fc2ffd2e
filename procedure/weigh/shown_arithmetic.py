"""How a number was reached, as a line of arithmetic that a dyer can follow on paper."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from procedure.model import Quantity
from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import ranged
from procedure.trace.amounts import THOUSAND, Amount, Of

if TYPE_CHECKING:
    from procedure.pipeline import Judged

# A decimal that ends within this many places is written out; others as fractions
# where these are plain, and rounded (with “about”) where not.
PLACES = 6
PLAIN_BELOW = 100


def exact(value: Fraction) -> str:
    """A number without loss where that can be read: ``28.8``, ``1/3``, else ``about 0.7024``."""
    scaled = value * 10**PLACES
    if scaled.denominator == 1:
        sign = "-" if scaled < 0 else ""
        whole, part = divmod(abs(scaled.numerator), 10**PLACES)
        return f"{sign}{whole}.{part:0{PLACES}d}".rstrip("0").rstrip(".")
    if value.denominator < PLAIN_BELOW and abs(value.numerator) < PLAIN_BELOW:
        return f"{value.numerator}/{value.denominator}"
    return f"about {float(value):.5g}"


def short(value: Fraction) -> str:
    """A factor to four figures: ``2.5``, ``10/9``, ``0.6917``."""
    said = exact(value)
    return f"{float(value):.4g}" if said.startswith("about") else said


def ends(low: Fraction, high: Fraction) -> str:
    """An interval as text."""
    if high == ENDLESS:
        return f"at least {exact(low)}"
    return ranged(exact(low), exact(high))


def weighed(low: Fraction, high: Fraction) -> str:
    """An interval of weights or volumes: decimals, since no scale shows a fraction."""
    if high == ENDLESS:
        return f"at least {weighed(low, low)}"
    first, last = (
        exact(end) if "/" not in exact(end) else f"about {float(end):.5g}" for end in (low, high)
    )
    return ranged(first, last)


def measured(amount: Amount | Of) -> str:
    """An amount with its unit: g or kg, mL or L."""
    low, high = amount.low, amount.high
    if amount.kind == "mass":
        return f"{weighed(low, high)} g"
    if high < 1:
        return f"{weighed(low * THOUSAND, high * THOUSAND)} mL"
    return f"{weighed(low, high)} L"


def working(
    plan: Judged, quantity: Quantity, amount: Amount | None, times: tuple[Fraction, Fraction]
) -> str:
    """The sum behind an amount; empty where there is none."""
    if amount is None or quantity.low is None or quantity.high is None:
        return ""
    line = _once(plan, quantity, amount)
    if times[0] == times[1] == 1:
        return line
    whole = amount._replace(low=amount.low * times[0], high=amount.high * times[1])
    return f"{line}; {ends(*times)} times that is {measured(whole)}"


def _once(plan: Judged, quantity: Quantity, amount: Amount) -> str:
    of = amount.of
    assert quantity.low is not None and quantity.high is not None
    if of is None:
        made = measured(amount)
        return made if quantity.text == made else f"{quantity.text} = {made}"
    names = " and ".join(plan.study.called(thing) for thing in of.things)
    if quantity.left:
        names = f"what is left of {names}"
    low, high = quantity.low, quantity.high
    if quantity.kind == "percent":
        by = f"{_grouped(low * 100, high * 100)} %"
    elif quantity.kind == "concentration":
        by = f"{_grouped(low, high)} g/L"
    elif quantity.kind in ("concentration by volume", "spoon by volume"):
        by = f"{_grouped(low * THOUSAND, high * THOUSAND)} mL/L"
    elif quantity.kind == "spoon by weight":
        by = f"{_grouped(low * THOUSAND, high * THOUSAND)} mL/g"
    else:
        by = _grouped(low, high)
    base = f"{_weighed(of.low, of.high)} {'g' if of.kind == 'mass' else 'L'}"
    if quantity.kind == "ratio" and of.kind == "mass" and amount.kind == "volume":
        base = f"{_weighed(of.low / THOUSAND, of.high / THOUSAND)} kg"
        by = f"{by} L/kg"
    return f"{base} ({names}) × {by} = {measured(amount)}"


def _grouped(low: Fraction, high: Fraction) -> str:
    text = ends(low, high)
    return f"({text})" if " to " in text else text


def _weighed(low: Fraction, high: Fraction) -> str:
    text = weighed(low, high)
    return f"({text})" if " to " in text else text
