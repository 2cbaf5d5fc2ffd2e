"""The colours to expect of a plan's finished lots, as approximate swatches."""

from __future__ import annotations

from procedure.facts.lot_colours import expected
from procedure.handout.lot_stories import finished
from procedure.paper.blocks import Swatch
from procedure.paper.pieces import Words, joined, phrase, spaced
from procedure.pipeline import Judged
from procedure.vocabulary.colours import Shade

MOST, MOST_NAMED = 6, 4


def shade_of(plan: Judged, lot: str) -> Shade | None:
    """What is expected of a finished lot, perhaps by an estimate; None where nobody knows."""
    state = plan.trace.final.lots.get(lot)
    return expected(plan.flow, state) if state is not None else None


def not_known(plan: Judged) -> tuple[str, ...]:
    """The finished lots that are dyed, and of whose colour nothing is known beforehand."""
    final = plan.trace.final.lots
    return tuple(
        plan.flow.lots[lot].name
        for lot in finished(plan)
        if lot in final and final[lot].dyes and shade_of(plan, lot) is None
    )


def swatches(plan: Judged) -> tuple[Swatch, ...]:
    """A swatch for each colour that the plan gives, with the lots that have it."""
    lots: dict[tuple[str, str, bool], list[str]] = {}
    for lot in finished(plan):
        shade = shade_of(plan, lot)
        if shade is not None:
            key = (shade.hex, shade.colour, shade.estimate)
            lots.setdefault(key, []).append(plan.flow.lots[lot].name)
    made = []
    for (colour, name, estimate), called in list(lots.items())[:MOST]:
        several = len(lots) > 1 or not_known(plan)
        who = joined((Words(spaced(one)),) for one in called[:MOST_NAMED]) if several else ()
        more = f" and {len(called) - MOST_NAMED} more" if who and len(called) > MOST_NAMED else ""
        said = f"{name}, {'an estimate' if estimate else 'approximately'}"
        made.append(Swatch(colour, phrase(who, more, ": " if who else "", said)))
    return tuple(made)
