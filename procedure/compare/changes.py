"""What a comparison finds: changes as facts, with their places on both sides."""

from __future__ import annotations

from procedure.findings import NOTHING, Finding, Says
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple

# What a change may be about. The schema lists the same words.
KINDS = (
    *("new", "gone", "moved", "another", "weight", "amount", "heat", "time", "times"),
    *("doing", "taking part", "place", "manner", "worn", "words", "order", "head"),
)


class ChangedLine(NamedTuple):
    """A line of one of the two files (or of what it follows); lines count from 1."""

    file: str
    line: int


class Change(NamedTuple):
    """One difference of meaning.

    ``kind`` is one of :data:`KINDS` and ``section`` head, fibre, equipment, materials or
    steps. ``old`` or ``new`` is None for what is new or gone. ``says`` tells the change and
    ``otherwise`` what a second person who knows the old version must now do. ``colour`` and
    ``safety`` hold where one of these may change by it.
    """

    kind: str
    section: str
    old: ChangedLine | None
    new: ChangedLine | None
    says: Says
    otherwise: Says = NOTHING
    colour: bool = False
    safety: bool = False

    @property
    def order(self) -> tuple[int, int]:
        """Sorts changes as the new file has them; what is gone stands where it stood."""
        sections = ("head", "fibre", "equipment", "materials", "steps")
        spot = self.new or self.old
        return sections.index(self.section), spot.line if spot is not None else 0


class Pair(NamedTuple):
    """A row of both texts side by side: the numbers of the steps in their plans, or None.

    ``state`` is same, changed, moved, new or gone.
    """

    old: int | None
    new: int | None
    state: str


class Compared(NamedTuple):
    """What differs between two plans.

    ``changes`` are differences of meaning; ``remarks`` are said for the reader and are
    none (another weight with the same shares, another day of revision). ``gained`` and
    ``lost`` are findings that only one of them has. ``rows`` are the steps side by side.
    """

    old: Judged
    new: Judged
    changes: tuple[Change, ...]
    remarks: tuple[Change, ...]
    gained: tuple[Finding, ...]
    lost: tuple[Finding, ...]
    rows: tuple[Pair, ...]

    @property
    def same(self) -> bool:
        """True where both mean the same and the checker says the same of them."""
        return not (self.changes or self.gained or self.lost)
