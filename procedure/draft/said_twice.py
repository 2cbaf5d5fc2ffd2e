"""Two amounts in different units that say the same."""

from __future__ import annotations

from fractions import Fraction

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.relative import by_fibre
from procedure.vocabulary import vocabulary


def nearly_agree(first: Amount, other: Amount) -> bool:
    """True for a weight or volume in brackets that is the one before it, rounded off."""
    units = vocabulary().units
    if first.kind != other.kind or first.kind not in ("mass", "volume") or first.unit == other.unit:
        return False
    if first.low is None or other.low is None:
        return False
    one, two = units[first.unit], units[other.unit]
    low, high = first.low * one.factor, first.low * one.factor_high
    least, most = other.low * two.factor, other.low * two.factor_high
    return bool(low * (1 - limits.ROUNDED) <= most and least <= high * (1 + limits.ROUNDED))


def share_beside(first: Amount, other: Amount) -> bool:
    """True for the share in "75 g alum (15 %)", said beside a weight of the same thing.

    Whether the two agree hangs on the fibre, and is found when the draft is checked.
    """
    by_weight = other.kind == "relative" and by_fibre(other) is not None
    if first.kind not in ("mass", "volume") or not (other.kind in ("share", "ratio") or by_weight):
        return False
    if by_weight:
        return not first.bound
    gap = max(first.start, other.start) - min(first.end, other.end)
    bounded = first.bound or other.bound or other.low is None
    return not bounded and 0 <= gap <= limits.LETTERS_TO_A_SHARE


def in_per_cent(amount: Amount) -> Amount:
    """So much to the pound as so many per cent, as brackets have it; any other amount as it is."""
    units = vocabulary().units
    many, _, below = amount.per.rpartition(" ")
    if not amount.per or amount.low is None or amount.unit not in units or below not in units:
        return amount
    share = 100 * units[amount.unit].factor / units[below].factor / Fraction(many or 1)
    high = None if amount.high is None else amount.high * share
    return amount._replace(kind="share", low=amount.low * share, high=high, unit="%", per="")


def agree(first: Amount, other: Amount) -> bool:
    """True where two readings of one thing can stand together in a line."""
    units = vocabulary().units
    if first.kind != other.kind or first.unit == other.unit or first.low is None:
        return False
    if other.low is None or first.unit not in units or other.unit not in units:
        return False
    one, two = units[first.unit], units[other.unit]
    if one.kind != two.kind:
        return False
    if first.kind == "temperature":
        here, there = (first.low + one.offset) * one.factor, (other.low + two.offset) * two.factor
        return abs(here - there) <= limits.DEGREES_APART
    low, high = first.low * one.factor, first.low * one.factor_high
    least, most = other.low * two.factor, other.low * two.factor_high
    return bool(low * 49 <= most * 50 and least * 49 <= high * 50)
