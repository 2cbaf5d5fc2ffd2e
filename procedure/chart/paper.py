"""Paper: how large the sheets are."""

from __future__ import annotations

from procedure.quantity.record import NamedTuple

MARGIN = 24.0

# ISO 216: A4 is 210 mm by 297 mm; ANSI/ASME Y14.1: size A is 8 1/2 in by 11 in. 72 points to the
# inch.
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
ROLL = "roll"
SHEETS = (*SIZES, ROLL)

# The room for lanes and words on a roll, which is as wide as its lanes need.
ROLL_LANE = 74.0
ROLL_WORDS = 300.0


class PaperSize(NamedTuple):
    """A sort of sheet: width and height inside the margins, in points; height 0 has no end."""

    name: str
    width: float
    height: float


def papers(sort: str, lanes: int) -> tuple[PaperSize, ...]:
    """A sort of sheet held upright and on its side; a roll for so many lanes."""
    if sort == ROLL:
        return (PaperSize(ROLL, lanes * ROLL_LANE + ROLL_WORDS, 0.0),)
    wide, tall = (side - 2 * MARGIN for side in SIZES[sort])
    return PaperSize(sort, wide, tall), PaperSize(sort, tall, wide)
