"""How a safety finding points at the further steps that lack the same."""

from __future__ import annotations

from procedure.facts.study import Pointer, Study
from procedure.findings import Says
from procedure.trace import Moment


def further(study: Study, others: list[Moment], says: Says | str) -> tuple[Pointer, ...]:
    """The next steps at which the same is missing, three at the most."""
    nodes = list(dict.fromkeys(moment.node.id for moment in others))
    return tuple(pointer for node in nodes[:3] for pointer in study.at(node, says))
