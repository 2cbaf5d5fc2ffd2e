"""Tints: the colour that a lot has at a point of the plan, as far as the vocabulary knows it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import NamedTuple

from procedure.chart.placed_symbols import Drawing
from procedure.flow import Flow
from procedure.trace import Trace
from procedure.trace.states import LotState
from procedure.vocabulary.reading import rows

# What the table gives a fibre that has met no mordant.
NO_MORDANT = "none"


class Tint(NamedTuple):
    """A colour by its name, with a swatch of about that colour as #rrggbb."""

    name: str
    swatch: str


ColourOf = Callable[[Flow, LotState], Tint | None]
"""What tells the colour of a lot from its state; None where it is not known."""


def colour_of(flow: Flow, lot: LotState) -> Tint | None:
    """The colour that ``colours.csv`` of the vocabulary gives a lot; None where it gives none.

    Looked up by its one dyestuff, its mordants' metal and its class of fibre; where a
    second dyestuff went over the first, by the row for that. The sources are in the table.
    """
    dyes = _names(flow, lot.dyes)
    classes = {fibre.facts.get("class", "") for fibre in lot.fibres}
    if not 1 <= len(dyes) <= 2 or len(classes) != 1:
        return None
    kinds = [fibre for fibre in (lot.fibres[0].name, classes.pop()) if fibre]
    metals = _metals(flow, lot) or [NO_MORDANT]
    for fibre in kinds:
        for metal in metals:
            for one, after in _orders(dyes):
                row = _table().get((one, fibre, metal, after))
                if row is not None:
                    return row
    return None


def _orders(dyes: list[str]) -> Iterator[tuple[str, str]]:
    if len(dyes) == 1:
        yield dyes[0], ""
    else:
        for one, two in (dyes, dyes[::-1]):
            for other in (two, "indigo" if two == "woad" else two):
                yield one, f"overdye: {other}"


def _names(flow: Flow, met: object) -> list[str]:
    """The vocabulary's names of the dyestuffs that a lot has met."""
    found: dict[str, None] = {}
    for thing in met:  # type: ignore[attr-defined]
        declared = flow.materials.get(thing)
        if declared is not None and declared[0].entry is not None:
            found.setdefault(declared[0].entry.name)
        else:
            found.setdefault(thing)
    return list(found)


def _metals(flow: Flow, lot: LotState) -> list[str]:
    """The metals of its mordants: what is met last changes the colour most."""
    found: dict[str, None] = {}
    for thing in reversed(list(lot.mordants)):
        declared = flow.materials.get(thing)
        entry = declared[0].entry if declared is not None else None
        metal = entry.facts.get("metal", "") if entry is not None else ""
        if metal:
            found.setdefault(metal)
    if not found and lot.mordanted:
        return ["aluminium"]
    return list(found)[:1]


@cache
def _table() -> dict[tuple[str, str, str, str], Tint]:
    """The colours by dyestuff, fibre, metal and what was done after; none without the file."""
    found: dict[tuple[str, str, str, str], Tint] = {}
    for row in rows("colours"):
        metal = row["mordant"] or NO_MORDANT
        key = (row["dyestuff"], row["fibre"], metal, row["after"])
        if row["hex"]:
            found.setdefault(key, Tint(row["colour"], row["hex"]))
    return found


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
