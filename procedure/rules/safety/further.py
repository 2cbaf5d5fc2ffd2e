"""What several safety rules ask: further steps that lack the same, allows, slips of the pen."""

from __future__ import annotations

from procedure.facts.study import Pointer, Study
from procedure.findings import Says
from procedure.flow import FlowNode
from procedure.model import Step
from procedure.trace import Moment


def further(study: Study, others: list[Moment], says: Says | str) -> tuple[Pointer, ...]:
    """The next steps at which the same is missing, three at the most."""
    nodes = list(dict.fromkeys(moment.node.id for moment in others))
    return tuple(pointer for node in nodes[:3] for pointer in study.at(node, says))


def own_allow(node: FlowNode, rule: str) -> int:
    """What keeps a step that allows a rule apart from the others: its number, else -1.

    Where a rule speaks of the first step alone and points at the rest, a step that allows it
    is told by itself, so that its ``allow`` reaches no further than the step.
    """
    allows = node.step.allows if isinstance(node.step, Step) else ()
    return node.id if allows and any(one.rule.text == rule for one in allows) else -1


def misspelt_on(study: Study) -> frozenset[tuple[str, int]]:
    """The lines of declarations with a word that is a slip of another: what it says is not known.

    Each with the key of its procedure.
    """
    return frozenset(
        (procedure.key, one.word.place.line)
        for procedure in study.procedures
        for one in procedure.unknown
        if one.nearest is not None
    )
