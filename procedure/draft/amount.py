"""What an amount of prose is, before it has a place in a draft."""

from __future__ import annotations

from fractions import Fraction

from procedure.quantity.record import NamedTuple


class Amount(NamedTuple):
    """An amount as the prose has it.

    ``kind`` is mass, volume, spoon, temperature, time, share, ratio, strength, count, times,
    acidity, loose, odd (a measure that the language lacks), relative (by something said
    before), named heat, named wait, verb heat (a heat that a verb says: to boil), number (no
    unit is said) or figure (a date, a clock time, a page).
    ``bound`` is ``most`` or ``least`` where the prose gives one end only; ``scale`` is
    False where a heat does not say its scale; ``base`` is what a share is of, ``per`` the
    weight of fibre that it is for, and ``reading`` the same amount in another unit, both as
    the language writes them.
    """

    kind: str
    low: Fraction | None
    high: Fraction | None
    unit: str
    words: str
    start: int
    end: int
    bound: str = ""
    about: bool = False
    scale: bool = True
    base: str = ""
    each: bool = False
    per: str = ""
    reading: str = ""
