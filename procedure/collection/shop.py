"""Prices and stock of a workshop: ``alum = "4.20 for 500 g"``, ``alum = "350 g"``."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

_NUMBER = r"\d{1,9}(?:[.,]\d{1,4})?"
_AMOUNT = rf"(?P<number>{_NUMBER})\s*(?P<unit>[^\W\d_].{{0,20}})"
_PRICE = (
    rf"(?:(?P<before>[^\W\d_]{{1,12}}|[$€£¥₹])\s*)?(?P<price>{_NUMBER})"
    r"(?:\s*(?P<after>[^\W\d_]{1,12}|[$€£¥₹]))?\s+for\s+(?P<amount>.+)"
)


class NotRead(ValueError):
    """A price or an amount that cannot be read; the text is a plain sentence."""


class StockHeld(NamedTuple):
    """So much of a thing: grams or litres, by ``kind`` mass or volume."""

    kind: str
    amount: Fraction


class Price(NamedTuple):
    """What so much of a thing costs; ``currency`` is the writer's word, or empty."""

    price: Fraction
    currency: str
    held: StockHeld

    def of(self, amount: Fraction) -> Fraction:
        """What so many grams or litres cost by this price."""
        return self.price * amount / self.held.amount


def held(text: str) -> StockHeld:
    """An amount such as ``350 g``. Raises :class:`NotRead`."""
    found = re.fullmatch(_AMOUNT, text.strip())
    unit = vocabulary().units.get(found["unit"].strip()) if found is not None else None
    if found is None or unit is None or unit.kind not in ("mass", "volume"):
        raise NotRead(f"“{text[:40]}” is no amount that I can read.")
    if unit.vague:
        choices = unit.ask.replace("; ", "” or “")
        raise NotRead(f"“{text[:40]}” may be “{choices}”.")
    return StockHeld(unit.kind, _number(found["number"]) * unit.factor)


def price(text: str) -> Price:
    """A price such as ``4.20 for 500 g`` or ``EUR 4.20 for 1 kg``. Raises :class:`NotRead`."""
    found = re.fullmatch(_PRICE, text.strip())
    if found is None or (found["before"] and found["after"]):
        raise NotRead(f"“{text[:40]}” is no price that I can read.")
    amount = held(found["amount"])
    if amount.amount <= 0:
        raise NotRead(f"“{text[:40]}” is a price for nothing.")
    return Price(_number(found["price"]), found["before"] or found["after"] or "", amount)


def _number(text: str) -> Fraction:
    return Fraction(text.replace(",", "."))
