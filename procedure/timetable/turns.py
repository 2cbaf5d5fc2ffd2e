"""The steps of a plan in the order in which they come, blocks written out.

A repeat comes as many times as it may at the most; an ``if`` is taken. What is planned so
for the longer way is said in ``supposed``; the shorter way can be asked for as well.
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

    @property
    def line(self) -> int:
        """The line on which it is written."""
        return self.moment.step.place.line


@dataclass(frozen=True, slots=True)
class Unrolled:
    """All turns of a plan, and sentences on what was supposed about blocks.

    ``either_way`` holds where there is a block that may be left out or come fewer times.
    """

    plan: Judged
    turns: tuple[Turn, ...]
    supposed: tuple[str, ...]
    either_way: bool = False


def unrolled(plan: Judged, prefix: str = "", longer: bool = True) -> Unrolled:
    """The turns of a plan; ``prefix`` comes before each key, to tell several plans apart.

    ``longer`` is the way through blocks: all that may be done, or only what must be.
    """
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
    for node, optional in _in_order(plan.flow.top, _Way(longer, supposed), ""):
        came = moments.get(node.id)
        if not came:
            continue
        name = _name(node, labels)
        seen[name] += 1
        count = seen[name]
        moment = came[min(count, len(came)) - 1]
        key = prefix + name + (f"#{count}" if count > 1 else "")
        turns.append(Turn(key, node, moment, count, optional))
    return Unrolled(plan, tuple(turns), tuple(supposed), bool(supposed))


def _name(node: FlowNode, labels: Counter[str]) -> str:
    step = node.step
    assert isinstance(step, Step)
    here = f"line {step.place.line}"
    if step.label is not None and labels[step.label.text] == 1 and not node.calls:
        here = step.label.text
    calls = "".join(f"line {call.step.place.line} > " for call in node.calls)
    return calls + here


@dataclass(frozen=True, slots=True)
class _Way:
    """The way through blocks, and what is supposed on it."""

    longer: bool
    supposed: list[str]

    def says(self, sentence: str) -> None:
        """Note what is supposed, once."""
        if sentence and sentence not in self.supposed:
            self.supposed.append(sentence)


def _in_order(nodes: list[FlowNode], way: _Way, optional: str) -> Iterator[tuple[FlowNode, str]]:
    for node in nodes:
        block = node.step
        if isinstance(block, Block) and node.kind == "repeat":
            for _ in range(_times(block, way)):
                yield from _in_order(node.inner, way, optional)
        elif isinstance(block, Block) and node.kind == "if":
            line = block.place.line
            way.says(f"Line {line}: planned as if “{block.condition}”; it may be left out.")
            if way.longer:
                yield from _in_order(node.inner, way, block.condition)
        elif node.inner:
            yield from _in_order(node.inner, way, optional)
        elif node.kind in ("step", "do"):
            yield node, optional


def _times(block: Block, way: _Way) -> int:
    """How often a repeat is planned."""
    line = block.place.line
    if block.times is None:
        way.says(f"Line {line}: nobody says how often; planned {_TIMES_UNSAID} times.")
        return _TIMES_UNSAID if way.longer else 1
    low, high = block.times
    least = ceil(low)
    most = max(_TIMES_UNSAID if high == float("inf") else ceil(high), least)
    if most > _MOST_PASSES:
        said = f"Line {line}: {most} times are too many to plan; planned {_MOST_PASSES} times."
        way.says(said)
        return min(_MOST_PASSES, most if way.longer else least)
    if low != high:
        way.says(f"Line {line}: planned {most} times; it may be fewer.")
    return most if way.longer else least
