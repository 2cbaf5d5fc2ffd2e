"""Lines among the steps that could not be read: each has a box of its own, in its place.

Whoever hangs the chart on the wall sees that something is to be done there, and what is written.
"""

from __future__ import annotations

from procedure.chart.lettering import clean
from procedure.chart.placed_symbols import Drawing, PlacedSymbol
from procedure.facts.unread_lines import words_of_unread
from procedure.model.types import UnreadStep

UNREAD = "unread"
ASK = "ask whoever wrote it what is meant"


def with_unread(drawing: Drawing, text: str) -> None:
    """Put a figure for each line of the plan's own file that could not be read among the others.

    ``text`` is that of the file. It has no place in the flow: its fibre is that of the step
    above it, or else below it.
    """
    key = min((0, *drawing.figures)) - 1
    for one in drawing.flow.procedure.unread_steps:
        above = _above(drawing, one)
        keys = list(drawing.figures)
        at = keys.index(above.key) + 1 if above is not None else 0
        starts = above is not None and above.key in drawing.ends
        within = (*above.within, above.key) if above is not None and starts else ()
        if above is not None and not starts:
            while at < len(keys) and keys[at] in drawing.ends.values():
                at += 1  # after the block that it ends
            last = drawing.figures[keys[at - 1]]
            within = last.within
        lots = _lots(drawing, keys, at)
        made = PlacedSymbol(
            key,
            UNREAD,
            clean(f"{one.number}. NOT UNDERSTOOD: “{words_of_unread(text, one)}”"),
            (ASK,),
            number=f"{one.number}",
            lots=lots,
            within=within,
        )
        keys.insert(at, key)
        drawing.figures = {each: made if each == key else drawing.figures[each] for each in keys}
        home = above.key if above is not None else next((k for k in keys if k >= 0), key)
        drawing.stands_for[key] = home if home >= 0 else drawing.stands_for.get(home, key)
        drawing.inside.setdefault(within[-1] if within else -1, []).append(key)
        drawing.unread[one.line] = key
        key -= 1


def _above(drawing: Drawing, one: UnreadStep) -> PlacedSymbol | None:
    """The figure of the last step that is written above a line."""
    found: PlacedSymbol | None = None
    for figure in drawing.figures.values():
        if figure.symbol == UNREAD and int(figure.number) < one.number:
            found = figure
        for node in figure.nodes:
            own = node.procedure is drawing.flow.procedure and not node.calls
            if own and not figure.is_end and node.step.place.line < one.line:
                found = figure
    return found


def _lots(drawing: Drawing, keys: list[int], at: int) -> tuple[str, ...]:
    """The lots that are there already and go on: of the figure above, else of that below."""
    before = {lot for key in keys[:at] for lot in drawing.figures[key].lots}
    after = {lot for key in keys[at:] for lot in drawing.figures[key].lots}
    for key in (*reversed(keys[:at]), *keys[at:]):
        lots = tuple(lot for lot in drawing.figures[key].lots if lot in before & after)
        if lots:
            return lots
    return ()
