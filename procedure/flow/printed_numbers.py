"""The number that each step has on every paper: handout, chart, bench sheet and timetable."""

from __future__ import annotations

from procedure.flow.graph import FlowNode


def printed_numbers(nodes: list[FlowNode]) -> dict[int, str]:
    """The printed number of each node and of all within it, by the node's own number.

    They run in the order of the text, ``7.2`` in what 7 follows; the end of a block has the
    number of its block.
    """
    found: dict[int, str] = {}
    _number(nodes, "", found)
    return found


def _number(nodes: list[FlowNode], prefix: str, numbers: dict[int, str]) -> None:
    for node in nodes:
        numbers[node.id] = f"{prefix}{node.step.number}"
        inner = f"{numbers[node.id]}." if node.kind == "follow" else prefix
        _number([one for one in node.inner if one.kind != "end"], inner, numbers)
        for end in node.inner:
            if end.kind == "end":
                numbers[end.id] = numbers[node.id]
