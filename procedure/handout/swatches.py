"""The colours to expect of a plan's finished lots, as approximate swatches."""

from __future__ import annotations

from procedure.facts.lot_colours import expected
from procedure.facts.used_baths import used_before
from procedure.handout.lot_stories import finished
from procedure.paper.blocks import Swatch
from procedure.paper.pieces import Phrase, Words, joined, phrase, spaced
from procedure.pipeline import Judged
from procedure.vocabulary.colours import Shade

MOST, MOST_NAMED = 6, 4
COLOUR_UNKNOWN = "colour not known beforehand"
PALER = "usually paler than from the fresh bath"


def shade_of(plan: Judged, lot: str) -> Shade | None:
    """What is expected of a finished lot, perhaps by an estimate; None where nobody knows.

    It is that of a fresh bath; :func:`paler` tells of a lot from a used one.
    """
    state = plan.trace.final.lots.get(lot)
    return expected(plan.flow, state) if state is not None else None


def paler(plan: Judged, lot: str) -> str:
    """What to expect of a finished lot that was dyed in a bath used by other fibre before.

    Empty for any other lot, and where nothing is known of its colour anyhow.
    """
    state, shade = plan.trace.final.lots.get(lot), shade_of(plan, lot)
    if state is None or shade is None:
        return ""
    steps = {(taken.node, thing) for thing, taken in state.dyes.items()}
    if not any(
        used_before(plan.flow, moment, lot, thing)
        for moment in plan.trace.moments
        for node, thing in steps
        if node == moment.node.id
    ):
        return ""
    if len(state.dyes) > 1:
        return f"{shade.colour} from fresh baths, and one of its own was used before"
    return f"{shade.colour}, {PALER}"


def not_known(plan: Judged) -> tuple[str, ...]:
    """The finished lots that are dyed, and of whose colour nothing is known beforehand."""
    final = plan.trace.final.lots
    return tuple(
        plan.flow.lots[lot].name
        for lot in finished(plan)
        if lot in final and final[lot].dyes and shade_of(plan, lot) is None
    )


def swatches(plan: Judged) -> tuple[Swatch, ...]:
    """A swatch for each colour that the plan gives, with the lots that have it.

    A lot from a used bath has none: see :func:`without_swatch`.
    """
    lots = _by_shade(plan)
    several = len(lots) > 1 or bool(_faint(plan)) or bool(not_known(plan))
    made = []
    for (colour, name, estimate), called in list(lots.items())[:MOST]:
        who = joined((Words(spaced(one)),) for one in called[:MOST_NAMED]) if several else ()
        more = f" and {len(called) - MOST_NAMED} more" if who and len(called) > MOST_NAMED else ""
        said = f"{name}, {'an estimate' if estimate else 'approximately'}"
        made.append(Swatch(colour, phrase(who, more, ": " if who else "", said)))
    return tuple(made)


def without_swatch(plan: Judged) -> tuple[Phrase, ...]:
    """What is said of the lots that have no swatch, a phrase for each group of them."""
    alike: dict[str, list[str]] = {}
    for name, said in _faint(plan):
        alike.setdefault(said, []).append(name)
    for name in not_known(plan):
        alike.setdefault(COLOUR_UNKNOWN, []).append(name)
    for (_, said, _), names in list(_by_shade(plan).items())[MOST:]:
        alike.setdefault(said, []).extend(names)
    return tuple(_told(names, said) for said, names in alike.items())


def _told(names: list[str], said: str) -> Phrase:
    rest = len(names) - MOST
    more = f" and {rest} more" if rest > 0 else ""
    who = [(Words(spaced(one)),) for one in names[:MOST]]
    return phrase(joined(who), more, f": {said}")


def _by_shade(plan: Judged) -> dict[tuple[str, str, bool], list[str]]:
    """The finished lots from fresh baths by what is expected of them: hex, colour, estimate."""
    lots: dict[tuple[str, str, bool], list[str]] = {}
    for lot in finished(plan):
        shade = shade_of(plan, lot)
        if shade is not None and not paler(plan, lot):
            key = (shade.hex, shade.colour, shade.estimate)
            lots.setdefault(key, []).append(plan.flow.lots[lot].name)
    return lots


def _faint(plan: Judged) -> list[tuple[str, str]]:
    """The lots from used baths by name, with what to expect of them."""
    found = ((plan.flow.lots[lot].name, paler(plan, lot)) for lot in finished(plan))
    return [(name, said) for name, said in found if said]
