"""What a weighing is made of: lots, rows in the order of use, totals."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from procedure.pipeline import Judged
from procedure.quantity.interval import Interval
from procedure.quantity.number_words import between
from procedure.quantity.record import NamedTuple
from procedure.trace.amounts import Amount
from procedure.weigh.shown_arithmetic import measured

ALL_OF_IT, LOOSE = "all of it", "is a loose measure"


@dataclass(frozen=True, slots=True)
class Row:
    """What one step needs of one thing.

    ``part`` is material, water, bath (moved from one pot to another, drawn off or poured
    away in part) or kept (a bath from another procedure). ``low`` and ``high`` are grams
    (``kind`` mass) or litres (volume) for all its ``times``, and None where they are not
    known; ``gap`` then tells a blank to fill from what is used as needed. ``condition`` says
    when it is needed, empty for always. ``counts`` is False where another row has it already.
    ``each`` is what one of several rounds takes, None where there is one round.
    ``ways`` are the choices that it is in, each by its node with the way; ``perhaps``
    holds where it is not sure to be needed on that way.
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
    ways: tuple[tuple[int, str], ...] = ()
    perhaps: bool = False
    each: Interval | None = None

    @property
    def rounds(self) -> str:
        """How often it comes round; to be followed by what one round takes."""
        return f"{between(*self.times)} times" if self.each is not None else ""

    @property
    def without_figure(self) -> str:
        """What stands for an amount that is not known and leaves no blank: all of a bath."""
        if self.gap:
            return ""
        return ALL_OF_IT if self.part in ("bath", "kept") else "as needed"

    @property
    def remark(self) -> str:
        """The note, with what each round takes in grams or litres."""
        if self.each is None:
            return self.note
        round_ = f"{self.rounds} {measured(Amount(self.kind, *self.each))}"
        return "; ".join(word for word in (self.note, round_) if word)


class Fibre(NamedTuple):
    """A lot: grams dry (None where not said), pieces, and the lot that it is split from.

    ``unit`` is what its pieces are: skein, piece.
    """

    lot: str
    called: str
    words: str
    grams: Interval | None
    pieces: Interval | None
    of: tuple[str, ...]
    line: int
    unit: str = "piece"


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

        Ways of a choice exclude each other: the least of them counts at the lower end and
        the most at the upper. What is needed only perhaps counts at the upper end; of what
        is never sure to be needed, the lower end is what it comes to where it is. A gap makes
        no difference here; ask :attr:`gaps`.
        """
        found = [
            row
            for row in self.rows
            if row.thing == thing and row.kind == kind and row.counts and row.low is not None
        ]
        if not found:
            return None
        sure = self._sum(found, [row.ways for row in found], sure=True)
        if sure.low > 0 or sure.high <= 0:
            return sure
        return self._sum(found, [row.ways for row in found], sure=False)

    def _sum(
        self, rows: list[Row], ways: list[tuple[tuple[int, str], ...]], sure: bool
    ) -> Interval:
        """What rows come to; ``ways`` are the choices of each that are still to be made."""
        low = high = Fraction(0)
        choices: dict[int, list[int]] = {}
        for i, (row, left) in enumerate(zip(rows, ways, strict=True)):
            if left:
                choices.setdefault(left[0][0], []).append(i)
            else:
                assert row.low is not None and row.high is not None
                low += Fraction(0) if row.perhaps and sure else row.low
                high += row.high
        for choice, those in choices.items():
            sums = []
            for way in dict.fromkeys(ways[i][0][1] for i in those):
                on_it = [i for i in those if ways[i][0][1] == way]
                sums.append(self._sum([rows[i] for i in on_it], [ways[i][1:] for i in on_it], sure))
            everywhere = len(sums) == self._ways_of(choice)
            low += min(one.low for one in sums) if everywhere or not sure else Fraction(0)
            high += max(one.high for one in sums)
        return Interval(low, high)

    def _ways_of(self, choice: int) -> int:
        return sum(one.kind == "way" for one in self.plan.flow.nodes[choice].inner)
