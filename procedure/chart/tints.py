"""Tints: the colour that a lot has at a point of the plan, as far as the vocabulary knows it."""

from __future__ import annotations

from collections.abc import Callable

from procedure.chart.placed_symbols import Drawing
from procedure.facts import lot_colours
from procedure.flow import Flow
from procedure.quantity.record import NamedTuple
from procedure.trace import Trace
from procedure.trace.states import LotState


class Tint(NamedTuple):
    """A colour by its name, with a swatch of about that colour as #rrggbb; ``swatch`` is empty
    for a lot that has been dyed, and nobody knows beforehand which colour it has then."""

    name: str
    swatch: str

    @property
    def said(self) -> str:
        """As it stands beside the names of lots."""
        return f"about {self.name}" if self.swatch else self.name


NOT_KNOWN = "colour not known"
ColourOf = Callable[[Flow, LotState], Tint | None]
"""What tells the colour of a lot from its state; None where it is not known."""


def colour_of(flow: Flow, lot: LotState) -> Tint | None:
    """The colour to expect of a lot; None for one that has met no dye."""
    shade = lot_colours.expected(flow, lot)
    if shade is None:
        return Tint(NOT_KNOWN, "") if lot.dyes else None
    name = f"{shade.colour}, an estimate" if shade.estimate else shade.colour
    return Tint(name, shade.hex)


Changes = dict[int, dict[str, Tint | None]]
"""The lots whose colour each figure changes, with what it is then; None where that is not known."""


def tints(drawing: Drawing, trace: Trace, look_up: ColourOf = colour_of) -> Changes:
    """The changes of colour, by the figures that make them.

    A lot that comes of another has the colour of that until it meets a dye itself.
    """
    now: dict[str, Tint | None] = {}
    found: Changes = {}
    for moment in trace.moments:
        key = drawing.stands_for.get(moment.node.id)
        for lot, state in moment.after.lots.items():
            origin = trace.flow.lots.get(lot)
            if lot not in now and origin is not None and origin.parts:
                now[lot] = now.get(origin.parts[0])
            tint = look_up(trace.flow, state)
            if tint != now.get(lot) and key is not None:
                found.setdefault(key, {})[lot] = tint
            now[lot] = tint
    return found
