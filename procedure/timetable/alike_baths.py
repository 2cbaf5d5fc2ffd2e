"""Baths of one name told apart in a dyer's words: by what is in it, by its lots, by its turn."""

from __future__ import annotations

import re
from collections.abc import Sequence

from procedure.facts.handling import right_name
from procedure.pipeline import Judged
from procedure.quantity.number_words import in_turn, listed

_IN_IT = ("dyestuffs", "mordants")
_WHICH = re.compile(r" \((?:with|for|in the|the|number) [^()]*\)")


def bath_called(plan: Judged, bath: str, lots: Sequence[str] = ()) -> str:
    """A bath by its name, and where several bear it, by what no other of them has.

    That is what dyes or mordants in it, else the lots that come into it first, else its pot, else
    its turn: “bath (with weld)”, “bath (for elder)”, “bath (in the big-pot)”, “bath (the second)”.
    Where ``lots`` are named beside it, it is not told once more that it is for them.
    """
    name = plan.study.called(bath)
    alike = [each for each in plan.flow.baths if plan.study.called(each) == name]
    if len(alike) < 2 or bath not in alike:
        return name
    for told in (_with, _for, _where):
        said = {each: told(plan, each) for each in alike}
        if said[bath] and list(said.values()).count(said[bath]) == 1:
            return name if said[bath] == _for_lots(plan, lots) else f"{name} ({said[bath]})"
    turn = alike.index(bath) + 1
    which = in_turn(turn)
    return f"{name} (the {which})" if which else f"{name} (number {turn})"


def whichever_bath(words: str) -> str:
    """Words without what tells baths of one name apart, as they are where there is one alone."""
    return _WHICH.sub("", words)


def _with(plan: Judged, bath: str) -> str:
    maker = plan.flow.nodes[plan.flow.baths[bath]]
    things = [
        right_name(plan.study, thing) or plan.study.called(thing)
        for thing, _ in (*maker.moved, *maker.materials)
        if _dyes_or_mordants(plan, thing)
    ]
    return f"with {listed(list(dict.fromkeys(things)))}" if things else ""


def _dyes_or_mordants(plan: Judged, thing: str) -> bool:
    found = plan.flow.materials.get(thing)
    entry = found[0].entry if found is not None else None
    return entry is not None and entry.table in _IN_IT


def _for(plan: Judged, bath: str) -> str:
    into = (node.lots for node in plan.flow.nodes if node.bath == bath and node.lots)
    lots = next(into, ())
    return _for_lots(plan, lots)


def _for_lots(plan: Judged, lots: Sequence[str]) -> str:
    names = dict.fromkeys(plan.study.called(lot) for lot in lots)
    return f"for {listed(list(names))}" if names else ""


def _where(plan: Judged, bath: str) -> str:
    pot = plan.flow.nodes[plan.flow.baths[bath]].pot
    return f"in the {plan.study.called(pot)}" if pot else ""
