"""The thing of a file that a word means which is not its name: the only pot, the wool, the iron."""

from __future__ import annotations

from procedure.flow.names import EQUIPMENT
from procedure.model import Procedure
from procedure.vocabulary import Entry, everyday, vocabulary

_ANY_FIBRE = frozenset("fibre fiber fibres yarn wool cloth fabric skein skeins material".split())
ANY_BATH = everyday.ANY_BATH | frozenset("dye-bath dyebath dye vat".split())


def _alike(one: Entry, other: Entry) -> bool:
    """True for two names of one thing, and for two that do the same: a boiler and a pot."""
    meaning = one.facts.get("meaning")
    return one.name == other.name or (bool(meaning) and meaning == other.facts.get("meaning"))


def by_meaning(procedure: Procedure, word: str, wanted: str = "") -> str:
    """The one name that a word can mean by what is declared; empty where none or several are.

    Where equipment is ``wanted``, no fibre is meant: a cloth to strain through is not the yarn.
    """
    known = vocabulary()
    material = known.material(word)
    fibre = known.find(word, "fibres", "form")
    kind = known.find(word, "vessel", "tool")
    names: set[str] = set()
    for made in procedure.materials.values():
        if material is not None and made.entry is not None and made.entry.name == material.name:
            names.add(made.name.text)
    only = len(procedure.lots) == 1 and word in _ANY_FIBRE
    lots = () if wanted == EQUIPMENT else procedure.lots.values()
    for lot in lots:
        if only or (fibre is not None and any(one.name == fibre.name for one in lot.fibres)):
            names.add(lot.name.text)
    for pot in procedure.equipment.values():
        if kind is not None and pot.kind is not None and _alike(kind, pot.kind):
            names.add(pot.name.text)
    if len(names) > 1 and kind is not None:
        # A bucket is rather the plastic bucket than the jar.
        names = {name for name in names if _is_just(procedure, name, kind)}
    return names.pop() if len(names) == 1 else ""


def _is_just(procedure: Procedure, name: str, kind: Entry) -> bool:
    pot = procedure.equipment.get(name)
    return pot is not None and pot.kind is not None and pot.kind.name == kind.name
