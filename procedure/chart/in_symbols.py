"""What is written in a symbol, and how wide a lane must be for the number of its symbols."""

from __future__ import annotations

from procedure.chart.grid import INSET
from procedure.chart.lanes import Lanes, runs
from procedure.chart.lettering import width
from procedure.chart.placed_symbols import Drawing, PlacedSymbol
from procedure.chart.rows import NO_ROOM
from procedure.chart.step_words import verb_of

SYMBOL_SIZE = 7.0
# What the slopes and bars of a symbol take of the room for its words.
ASIDE = {"manual": 9.0, "preparation": 8.0, "predefined": 14.0, "terminator": 8.0, "delay": 9.0}
PLAIN_ASIDE = 6.0
# A number is so low that the slopes take less of its room.
ASIDE_OF_NUMBER = 5.8
# Of a decision, the letters have so much at their own height.
OF_DECISION = 0.5
OF_DECISION_FOR_NUMBER = 0.62
WORDLESS = ("join", "data", "terminator")


def in_symbol(figure: PlacedSymbol, wide: float) -> str:
    """The number and the verb where there is room, else the number, else nothing."""
    if figure.symbol in ("join", "data"):
        return ""
    if figure.symbol == "terminator":
        word = "end" if figure.ends else "start"
        return word if width(word, SYMBOL_SIZE, True) <= wide - ASIDE["terminator"] else ""
    aside = ASIDE.get(figure.symbol, PLAIN_ASIDE)
    room = wide * OF_DECISION if figure.symbol == "decision" else wide - aside
    verb = "" if figure.is_end else verb_of(figure.nodes) if figure.nodes else "?"
    if verb and width(f"{figure.number} {verb}", SYMBOL_SIZE, True) <= room:
        return f"{figure.number} {verb}".strip()
    return figure.number if wide >= needed(figure) - 0.01 else ""


def needed(figure: PlacedSymbol) -> float:
    """How wide a symbol must be to have its number in it; 0 for one without."""
    if figure.symbol in WORDLESS or not figure.number:
        return 0.0
    letters = width(figure.number, SYMBOL_SIZE, True)
    if figure.symbol == "decision":
        return letters / OF_DECISION_FOR_NUMBER
    aside = ASIDE.get(figure.symbol, PLAIN_ASIDE)
    return letters + (aside if figure.symbol == "predefined" else min(aside, ASIDE_OF_NUMBER))


def lane_widths(drawing: Drawing, lanes: Lanes) -> tuple[float, ...]:
    """How wide each lane must be at the least for the numbers of the symbols in it alone.

    A symbol across several lanes side by side has room enough.
    """
    found = [0.0] * len(lanes.places)
    for figure in drawing.figures.values():
        every = runs(lanes.spans[figure.key])
        symbol = needed(figure)
        if not symbol or any(low < high for low, high in every):
            continue
        lane, last = every[0][0], every[-1][0]
        if figure.symbol == "decision" and lane == last:
            symbol = min(symbol + NO_ROOM, symbol * 1.5)
        found[lane] = max(found[lane], min(symbol / 0.84, symbol + 2 * INSET))
    return tuple(found)
