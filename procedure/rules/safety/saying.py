"""How a safety finding is made: its remedy defers to those who know better."""

from __future__ import annotations

from procedure.facts.study import Pointer, Study
from procedure.flow import FlowNode
from procedure.rules.rule import Found, at_node
from procedure.trace import Moment

# Every safety finding ends with this, and so does every paper about a hazard.
DEFER = (
    "Local rules and the supplier's safety data sheet come first; ask a doctor or a poison "
    "centre about health."
)


def safely(node: FlowNode, sentence: str, remedy: str, **more: object) -> Found:
    """A safety finding at a step; its remedy defers to those who know better."""
    return at_node(node, sentence, f"{remedy} {DEFER}", **more)


def further(study: Study, others: list[Moment], sentence: str) -> tuple[Pointer, ...]:
    """The next steps at which the same is missing, three at the most."""
    nodes = list(dict.fromkeys(moment.node.id for moment in others))
    return tuple(pointer for node in nodes[:3] for pointer in study.at(node, sentence))
