"""What a weighing is made of: lots, rows in the order of use, totals."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from procedure.pipeline import Judged
from procedure.quantity.interval import Interval


@dataclass(frozen=True, slots=True)
class Row:
    """What one step needs of one thing.

    ``part`` is material, water, bath (moved from one pot to another) or kept (a bath
    from another procedure). ``low`` and ``high`` are grams (``kind`` mass) or litres
    (volume) for all its ``times``, and None where they are not known; ``gap`` then
    tells a blank to fill from what is used as needed. ``condition`` says when it is
    needed, empty for always. ``counts`` is False where another row has it already.
    """

    node: int
    file: str
    line: int
    step: str
    bath: str
    pot: str
    thing: str
    called: str
    material: str
    state: str
    part: str
    kind: str
    low: Fraction | None
    high: Fraction | None
    times: Interval
    condition: str
    written: str
    working: str
    note: str
    gap: bool
    counts: bool = True


class Fibre(NamedTuple):
    """A lot: grams dry (None where not said), pieces, and the lot that it is split from."""

    lot: str
    called: str
    words: str
    grams: Interval | None
    pieces: Interval | None
    of: tuple[str, ...]
    line: int


class Total(NamedTuple):
    """What all the rows of a thing come to; ``gaps`` counts those that are blanks.

    ``how`` is buy, gather, draw (water) or keep.
    """

    thing: str
    called: str
    material: str
    state: str
    how: str
    kind: str
    condition: str
    low: Fraction
    high: Fraction
    gaps: int


@dataclass(frozen=True, slots=True)
class Weighing:
    """Everything that a plan needs: fibre, rows in the order of use, totals."""

    plan: Judged
    fibres: tuple[Fibre, ...]
    rows: tuple[Row, ...]
    totals: tuple[Total, ...]
    unmeasured: tuple[Row, ...]

    @property
    def gaps(self) -> tuple[Row, ...]:
        """The rows that are blanks to fill."""
        return tuple(row for row in self.rows if row.gap)

    def total(self, thing: str, kind: str) -> Interval | None:
        """All of a thing that is needed whatever happens, and None where it is not used.

        What is needed only on some way counts at the upper end. A gap makes no
        difference here; ask :attr:`gaps`.
        """
        found = [t for t in self.totals if t.thing == thing and t.kind == kind]
        if not found:
            return None
        low = sum((t.low for t in found if not t.condition), Fraction(0))
        return Interval(low, sum((t.high for t in found), Fraction(0)))
