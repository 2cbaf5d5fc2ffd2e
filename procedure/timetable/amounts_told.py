"""Amounts of a resource in words: grams of fibre as the procedure writes its weights."""

from __future__ import annotations

from procedure.timetable.work import Resource
from procedure.vocabulary import vocabulary

_NARROW = "\u202f"
_SMALL, _LARGE = 20, 100
"""Ounces are told to so many parts of one, pounds to so many: the grams are whole ones."""


def amount_of(resource: Resource, amount: int) -> str:
    """So much of a resource with its unit; ounces and pounds where the procedure has those."""
    if resource.in_pounds:
        units = vocabulary().units
        ounce, pound = float(units["oz"].factor), float(units["lb"].factor)
        if amount + 1 > pound:
            return f"{round(amount / pound * _LARGE) / _LARGE:g}{_NARROW}lb"
        return f"{round(amount / ounce * _SMALL) / _SMALL:g}{_NARROW}oz"
    return f"{amount}{_NARROW}{resource.unit}" if resource.unit else str(amount)
