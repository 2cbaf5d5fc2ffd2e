"""How large a figure is once its words are broken into lines."""

from __future__ import annotations

from procedure.chart.lettering import HEADING, TEXT, height, width, wrap
from procedure.chart.placed_symbols import Figure
from procedure.chart.routes import Box
from procedure.chart.symbols import DECISION_SHARE, PAD_X, PAD_Y, insets

MOST_LINES = 16
JOIN = 10.0
MARK_PAD = 2.5
SMALLEST = 22.0


def sized(figure: Figure, span: tuple[int, int], room: float) -> Box:
    """A box for a figure that may be ``room`` points wide."""
    lo, hi = span
    if figure.symbol == "join":
        return Box(figure.key, figure.symbol, lo, hi, JOIN, JOIN)
    if figure.symbol == "decision":
        return _decision(figure, span, room)
    inset = insets(figure.symbol)
    inner = room - inset.left - inset.right - 2 * PAD_X
    heading = tuple(wrap(figure.heading, inner, HEADING, bold=True))
    details = tuple(line for text in figure.details for line in wrap(text, inner, TEXT))
    heading, details = _shortened(heading, details)
    mark = tuple(wrap(figure.mark, inner - 4, TEXT, bold=True))
    tall = inset.top + inset.bottom + 2 * PAD_Y
    tall += height(len(heading), HEADING) + height(len(details), TEXT)
    box = Box(figure.key, figure.symbol, lo, hi, 0.0, max(tall + mark_height(mark), SMALLEST))
    if figure.symbol in ("terminator", "left out"):
        widest = max(
            [width(line, HEADING, True) for line in heading]
            + [width(line, TEXT) for line in details],
            default=0.0,
        )
        box.w = min(room, widest + inset.left + inset.right + 2 * PAD_X)
    box.heading, box.details, box.mark = heading, details, mark
    return box


def mark_height(mark: tuple[str, ...]) -> float:
    """How much a finding's mark adds to its figure."""
    return height(len(mark), TEXT) + 2 * MARK_PAD if mark else 0.0


def _shortened(
    heading: tuple[str, ...], details: tuple[str, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """A figure must leave room for others: words beyond measure end in three dots."""
    if len(heading) > MOST_LINES // 2:
        heading = (*heading[: MOST_LINES // 2 - 1], "… (the rest is in the procedure)")
    room = MOST_LINES - len(heading)
    if len(details) > room:
        details = (*details[: room - 1], "… (the rest is in the procedure)")
    return heading, details


def _decision(figure: Figure, span: tuple[int, int], room: float) -> Box:
    inner = room * DECISION_SHARE
    heading, _ = _shortened(tuple(wrap(figure.heading, inner, HEADING, bold=True)), ())
    mark = tuple(wrap(figure.mark, inner, TEXT, bold=True))
    words = height(len(heading), HEADING) + mark_height(mark)
    box = Box(figure.key, figure.symbol, *span, 0.0, max(40.0, words / (1 - DECISION_SHARE) * 0.97))
    box.heading, box.mark = heading, mark
    return box
