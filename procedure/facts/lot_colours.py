"""The colour that a lot has at a point of the plan, as far as the vocabulary knows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from procedure.colour.colour_words import called
from procedure.colour.layers import layered
from procedure.colour.space import to_hex
from procedure.flow import Flow
from procedure.trace.states import LotState
from procedure.vocabulary.colours import NO_MORDANT, Shade, families
from procedure.vocabulary.colours import colour_of as in_table

LAYERS = 2
ESTIMATE = (
    "an estimate: what colours over each other send back, as their geometric mean"
    " (after S. A. Burns, Subtractive Color Mixture Computation, 2015)"
)
# Of more than so many dyestuffs, one over the other, no rule of thumb says anything.
MOST_LAYERS = 12


def colour_of(flow: Flow, lot: LotState) -> Shade | None:
    """The colour of a lot by its dyestuff, its mordant's metal and its fibre; None if unknown.

    Where a second dyestuff went over the first, the row for that is taken; of more than two
    nothing is said.
    """
    dyes = names(flow, lot.dyes)
    classes = {fibre.facts.get("class", "") for fibre in lot.fibres}
    if not 1 <= len(dyes) <= 2 or len(classes) != 1:
        return None
    kinds = [fibre for fibre in (lot.fibres[0].name, classes.pop()) if fibre]
    met = metals(flow, lot) or [NO_MORDANT]
    if len(dyes) == 1 and _of_a_vat(flow, lot):  # a metal in a vat is its reducer
        met.append(NO_MORDANT)
    for fibre in kinds:
        for metal in met:
            for one, after in _orders(dyes):
                shade = in_table(one, fibre, metal, after, _part(flow, lot, one))
                if shade is not None and shade.hex:
                    return shade
    return None


def expected(flow: Flow, lot: LotState) -> Shade | None:
    """The colour of a lot from the table, else an estimate where several dyestuffs lie one
    over the other and the colour of each by itself is known; None for any other lot."""
    return colour_of(flow, lot) or _estimated(flow, lot)


def _estimated(flow: Flow, lot: LotState) -> Shade | None:
    """See :func:`procedure.colour.layers.layered`: a rule of thumb, no measured colour."""
    if not LAYERS <= len(lot.dyes) <= MOST_LAYERS:
        return None
    layers = [colour_of(flow, lot._replace(dyes={dye: lot.dyes[dye]})) for dye in lot.dyes]
    known = [layer for layer in layers if layer is not None]
    if len(known) < len(layers):
        return None
    mixed = layered([layer.hex for layer in known])
    words = called(mixed)
    # "dark soft purple" is among the purples; what has no plain name stays with its last dye.
    plain = words.replace("-", " ").rpartition(" ")[2]
    family = plain if plain in families() else known[-1].family
    return known[-1]._replace(
        colour=words, family=family, hex=to_hex(mixed), source=ESTIMATE, estimate=True
    )


def _of_a_vat(flow: Flow, lot: LotState) -> bool:
    """True where every dyestuff of a lot goes on in a vat."""
    entries = [flow.materials[thing][0].entry for thing in lot.dyes if thing in flow.materials]
    return bool(entries) and all(
        entry is not None and entry.facts.get("dye_class") == "vat" for entry in entries
    )


def _part(flow: Flow, lot: LotState, dyestuff: str) -> str:
    """The part of a plant that a lot was dyed with; empty where that is not one and the same."""
    used = [flow.materials[thing][0] for thing in lot.dyes if thing in flow.materials]
    parts = {one.part for one in used if one.entry is not None and one.entry.name == dyestuff}
    return parts.pop() if len(parts) == 1 else ""


def _orders(dyes: list[str]) -> Iterator[tuple[str, str]]:
    if len(dyes) == 1:
        yield dyes[0], ""
        return
    for one, two in (dyes, dyes[::-1]):
        for other in (two, "indigo" if two == "woad" else two):
            yield one, f"overdye: {other}"


def names(flow: Flow, met: Iterable[str]) -> list[str]:
    """The vocabulary's names of the materials that a lot has met."""
    found: dict[str, None] = {}
    for thing in met:
        declared = flow.materials.get(thing)
        if declared is not None and declared[0].entry is not None:
            found.setdefault(declared[0].entry.name)
        else:
            found.setdefault(thing)
    return list(found)


def metals(flow: Flow, lot: LotState) -> list[str]:
    """The metal of the mordant that a lot met last: it changes the colour most."""
    for thing in reversed(list(lot.mordants)):
        declared = flow.materials.get(thing)
        entry = declared[0].entry if declared is not None else None
        metal = entry.facts.get("metal", "") if entry is not None else ""
        if metal:
            return [metal]
    return ["aluminium"] if lot.mordanted else []
