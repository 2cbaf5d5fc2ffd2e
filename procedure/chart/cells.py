"""Cells: the words of a step, set beside its symbol in the wide column of the sheet.

ISO 5807 keeps what is in a symbol short, and lets the rest be beside it.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from procedure.chart.lettering import height, width, wrap
from procedure.chart.placed_symbols import PlacedSymbol
from procedure.chart.tints import Tint
from procedure.quantity.record import NamedTuple

SMALLEST = 7.0
# How large a hazard sign is beside letters of a size, as a share of that.
SIGN = 1.75
SIGN_AIR = 2.0
SWATCH = 12.0
MOST_LINES = 16
RUN_IN = 5.0
MARK_PAD = 1.5
# Where less than this is left beside a heading, the details begin below it.
LEAST_RUN_IN = 60.0
TOO_LONG = "… (the rest is in the procedure)"


class PlacedText(NamedTuple):
    """Lines of text at a place of the cell; ``suffix`` goes after the figure's name."""

    suffix: str
    x: float
    y: float
    w: float
    lines: tuple[str, ...]
    bold: bool
    drawn_as: str


@dataclass(slots=True)
class FigureCell:
    """The words of a figure with the swatches and signs that are among them."""

    height: float = 0.0
    pieces: list[PlacedText] = field(default_factory=list)
    swatches: list[tuple[float, float, str]] = field(default_factory=list)
    signs: list[tuple[float, float, str]] = field(default_factory=list)
    mark: PlacedText | None = None


def cell(
    figure: PlacedSymbol,
    room: float,
    size: float,
    tints: list[tuple[str, Tint]],
    signs: tuple[str, ...],
) -> FigureCell:
    """The cell of a figure, ``room`` points wide, in letters of a size.

    ``tints`` are colours that the step gives, each with the names of the lots that have it.
    """
    made = FigureCell()
    sign = SIGN * size
    wide = room - len(signs) * (sign + SIGN_AIR)
    lead = height(1, size)
    heading = wrap(figure.heading, wide, size, bold=True)
    if len(heading) > MOST_LINES // 2:
        heading = [*heading[: MOST_LINES // 2 - 1], TOO_LONG]
    y = 0.0
    if heading:
        made.pieces.append(PlacedText("", 0, 0, wide, tuple(heading), True, "words"))
        y = len(heading) * lead
    y = _details(made, figure, heading, wide, size, y)
    # What a bare band means is in the strip at the foot of the first sheet.
    known = [(names, tint) for names, tint in tints if tint.swatch]
    for place, (names, tint) in enumerate(known, 1):
        lines = tuple(wrap(f"{names}: {tint.said}", wide - SWATCH - 4, size))
        made.swatches.append((0.0, y + 1.0, tint.swatch))
        piece = PlacedText(
            f"colour {place}", SWATCH + 4, y, wide - SWATCH - 4, lines, False, "colour"
        )
        made.pieces.append(piece)
        y += len(lines) * lead
    for place, code in enumerate(signs):
        made.signs.append((wide + SIGN_AIR + place * (sign + SIGN_AIR), 0.0, code))
        y = max(y, sign)
    if figure.mark:
        lines = tuple(wrap(figure.mark, wide - 8, size, bold=True))
        made.mark = PlacedText("mark", 4, y + MARK_PAD, wide - 8, lines, True, "mark")
        y += len(lines) * lead + 2 * MARK_PAD
    made.height = y
    return made


def _details(
    made: FigureCell, figure: PlacedSymbol, heading: list[str], wide: float, size: float, y: float
) -> float:
    """Sets the details after the heading where there is room, and on below it."""
    text = "; ".join(figure.details)
    if not text:
        return y
    lead = height(1, size)
    left = wide - (width(heading[-1], size, True) + RUN_IN if heading else 0.0)
    if heading and left >= LEAST_RUN_IN:
        first = wrap(text, left, size)[0]
        at = (wide - left, y - lead, left)
        made.pieces.append(PlacedText("details", *at, (first,), False, "details"))
        text = text[len(first) :].strip()
        if not text:
            return y
    lines = wrap(text, wide, size)
    if len(lines) > MOST_LINES:
        lines = [*lines[: MOST_LINES - 1], TOO_LONG]
    suffix = "more" if made.pieces and made.pieces[-1].suffix == "details" else "details"
    made.pieces.append(PlacedText(suffix, 0, y, wide, tuple(lines), False, "details"))
    return y + len(lines) * lead


def names_of(lots: list[str], most: int = 3) -> str:
    """Names of lots; how many where they are more than one would read."""
    return ", ".join(lots) if len(lots) <= most else f"{len(lots)} lots"
