"""The steps of a plan in the order in which they come, blocks written out.

A repeat comes as many times as it may at the most; an ``if`` is taken. What is planned so
for the longer way is said in ``supposed``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from procedure.flow import FlowNode
from procedure.model import Block, Step
from procedure.pipeline import Judged
from procedure.trace import Moment

# A repeat of which nobody says how often: “until …”.
_TIMES_UNSAID = 3
# More passes than this are planned as this many, and that is said.
_MOST_PASSES = 30


@dataclass(frozen=True, slots=True)
class Turn:
    """A step that comes once: its key, its node, what the trace has of it, and which pass.

    ``key`` names it for people: its label, or its line, with the pass after “#”. ``where``
    are the blocks it lies in, as keys, the innermost last.
    """

    key: str
    node: FlowNode
    moment: Moment
    passes: int = 1
    optional: str = ""

    @property
    def step(self) -> Step:
        """The step as written."""
        return self.moment.step


@dataclass(frozen=True, slots=True)
class Unrolled:
    """All turns of a plan, and sentences on what was supposed about blocks."""

    plan: Judged
    turns: tuple[Turn, ...]
    supposed: tuple[str, ...]


def unrolled(plan: Judged, prefix: str = "") -> Unrolled:
    """The turns of a plan; ``prefix`` comes before each key, to tell several plans apart."""
    supposed: list[str] = []
    moments: dict[int, list[Moment]] = {}
    for moment in plan.trace.moments:
        moments.setdefault(moment.node.id, []).append(moment)
    labels = Counter(
        node.step.label.text
        for node in plan.flow.nodes
        if isinstance(node.step, Step) and node.step.label is not None
    )
    seen: Counter[str] = Counter()
    turns: list[Turn] = []
    for node, optional in _in_order(plan.flow.top, supposed, ""):
        came = moments.get(node.id)
        if not came:
            continue
        name = _name(node, labels)
        seen[name] += 1
        count = seen[name]
        moment = came[min(count, len(came)) - 1]
        key = prefix + name + (f"#{count}" if count > 1 else "")
        turns.append(Turn(key, node, moment, count, optional))
    return Unrolled(plan, tuple(turns), tuple(supposed))


def _name(node: FlowNode, labels: Counter[str]) -> str:
    step = node.step
    assert isinstance(step, Step)
    here = f"line {step.place.line}"
    if step.label is not None and labels[step.label.text] == 1 and not node.calls:
        here = step.label.text
    calls = "".join(f"line {call.step.place.line} > " for call in node.calls)
    return calls + here


def _in_order(
    nodes: list[FlowNode], supposed: list[str], optional: str
) -> Iterator[tuple[FlowNode, str]]:
    for node in nodes:
        block = node.step
        if isinstance(block, Block) and node.kind == "repeat":
            for _ in range(_times(block, supposed)):
                yield from _in_order(node.inner, supposed, optional)
        elif isinstance(block, Block) and node.kind == "if":
            line = block.place.line
            said = f"Line {line}: planned as if “{block.condition}”; it may be left out."
            if said not in supposed:
                supposed.append(said)
            yield from _in_order(node.inner, supposed, block.condition)
        elif node.inner:
            yield from _in_order(node.inner, supposed, optional)
        elif node.kind in ("step", "do"):
            yield node, optional


def _times(block: Block, supposed: list[str]) -> int:
    line = block.place.line
    if block.times is None:
        said = f"Line {line}: nobody says how often; planned {_TIMES_UNSAID} times."
        times = _TIMES_UNSAID
    else:
        low, high = block.times
        times = _TIMES_UNSAID if high == float("inf") else ceil(high)
        times = max(times, ceil(low))
        said = "" if low == high else f"Line {line}: planned {times} times; it may be fewer."
    if times > _MOST_PASSES:
        said = f"Line {line}: {times} times are too many to plan; planned {_MOST_PASSES} times."
        times = _MOST_PASSES
    if said and said not in supposed:
        supposed.append(said)
    return times
