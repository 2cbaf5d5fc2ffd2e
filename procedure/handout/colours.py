"""The colours to expect of a plan's finished lots, as approximate swatches."""

from __future__ import annotations

from procedure.facts.colours import colour_of
from procedure.handout.lots import finished
from procedure.paper.blocks import Swatch
from procedure.paper.pieces import Words, joined, phrase, spaced
from procedure.pipeline import Judged
from procedure.vocabulary.colours import Shade

MOST = 4


def shade_of(plan: Judged, lot: str) -> Shade | None:
    """What the vocabulary expects of a finished lot; None where it does not know."""
    state = plan.trace.final.lots.get(lot)
    return colour_of(plan.flow, state) if state is not None else None


def swatches(plan: Judged) -> tuple[Swatch, ...]:
    """A swatch for each colour that the plan gives, with the lots that have it."""
    lots: dict[tuple[str, str], list[str]] = {}
    for lot in finished(plan):
        shade = shade_of(plan, lot)
        if shade is not None:
            lots.setdefault((shade.hex, shade.colour), []).append(plan.flow.lots[lot].name)
    made = []
    for (colour, name), called in list(lots.items())[:MOST]:
        several = len(lots) > 1 and len(called) <= MOST
        who = joined((Words(spaced(one)),) for one in called) if several else ()
        made.append(Swatch(colour, phrase(who, ": " if who else "", f"{name}, approximately")))
    return tuple(made)
