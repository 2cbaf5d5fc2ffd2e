"""The steps of a plan in the order in which they come, blocks written out.

A repeat comes as many times as it may at the most; an ``if`` is taken. What is planned so
for the longer way is said in ``supposed``; the shorter way can be asked for as well.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from math import ceil

from procedure.flow import FlowNode
from procedure.flow.printed_numbers import printed_numbers
from procedure.model import Block, Step
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple
from procedure.trace import Moment

# What the key of a heating has after that of its step.
HEATED = " heated"
# A repeat of which nobody says how often: “until …”.
_TIMES_UNSAID = 3
# More passes than this are not told one by one, but so many at once.
_MOST_TOLD = 12
# A round that lasts longer than this is told by itself all the same, unless there are too many.
_LONG_ROUND = 240
_TOO_MANY = 200
# What stands before and after the label, line or number by which a step is named, its lot too.
_NAMING = re.compile(r"^.* > (?:line )?|^(?:\d+: )?(?:step |line )?|#\d+$| [^\s>]+$")


@dataclass(frozen=True, slots=True)
class Bundle:
    """Rounds of a repeat, too many to be told one by one; ``number`` tells bundles apart."""

    number: int
    block: Block
    rounds: int


@dataclass(frozen=True, slots=True)
class Turn:
    """A step that comes once: its key, its node, what the trace has of it, and which pass.

    ``key`` names it for people: its label, or its line, with the pass after “#”. ``where``
    are the blocks it lies in, as keys, the innermost last. A turn in a ``bundle`` stands for
    ``rounds`` of its step. ``begins_round`` is the repeat of which it begins a round.
    """

    key: str
    node: FlowNode
    moment: Moment
    passes: int = 1
    optional: str = ""
    bundle: Bundle | None = None
    rounds: int = 1
    begins_round: Block | None = None

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


def unrolled(
    plan: Judged, prefix: str = "", longer: bool = True, happened: Collection[str] = ()
) -> Unrolled:
    """The turns of a plan; ``prefix`` comes before each key, to tell several plans apart.

    ``longer`` is the way through blocks: all that may be done, or only what must be. Of ways that
    exclude each other it is the one that takes longer, or of which a step has ``happened``, by
    the names that people have for steps.
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
    first = {node: came[0] for node, came in moments.items()}
    done = {_NAMING.sub("", said) for said in happened}
    way = _Way(longer, supposed, first, printed_numbers(plan.flow.top), frozenset(done))
    for node, optional, in_round in _in_order(plan.flow.top, way, "", _Round()):
        came = moments.get(node.id)
        if not came:
            continue
        name = _name(node, labels)
        seen[name] += 1
        count = seen[name]
        moment = came[min(count, len(came)) - 1]
        key = prefix + name + (f"#{count}" if count > 1 else "")
        turns.append(Turn(key, node, moment, count, optional, *in_round))
    return Unrolled(plan, tuple(turns), tuple(supposed), bool(supposed))


def _name(node: FlowNode, labels: Counter[str]) -> str:
    step = node.step
    assert isinstance(step, Step)
    here = f"line {step.place.line}"
    if step.label is not None and labels[step.label.text] == 1 and not node.calls:
        here = step.label.text
    calls = "".join(f"line {call.step.place.line} > " for call in node.calls)
    return calls + here


class _Round(NamedTuple):
    """Where in its repeats a step is; see :class:`Turn`."""

    bundle: Bundle | None = None
    rounds: int = 1
    begins: Block | None = None


@dataclass(slots=True)
class _Way:
    """The way through blocks, and what is supposed on it."""

    longer: bool
    supposed: list[str]
    first: dict[int, Moment]
    numbers: dict[int, str]
    happened: frozenset[str]
    bundles: int = 0

    def says(self, sentence: str) -> None:
        """Note what is supposed, once."""
        if sentence and sentence not in self.supposed:
            self.supposed.append(sentence)


_Found = Iterator[tuple[FlowNode, str, _Round]]


def _in_order(nodes: list[FlowNode], way: _Way, optional: str, within: _Round) -> _Found:
    for node in nodes:
        block = node.step
        if isinstance(block, Block) and node.kind == "repeat":
            yield from _rounds(node, block, way, optional, within)
        elif isinstance(block, Block) and node.kind == "if":
            line = block.place.line
            way.says(f"Line {line}: planned as if “{block.condition}”; it may be left out.")
            if way.longer:
                yield from _in_order(node.inner, way, block.condition, within)
        elif node.kind == "either":
            yield from _in_order(_one_way(node, way), way, optional, within)
        elif node.inner:
            yield from _in_order(node.inner, way, optional, within)
        elif node.kind in ("step", "do"):
            yield node, optional, within
        within = within._replace(begins=None)


def _one_way(node: FlowNode, way: _Way) -> list[FlowNode]:
    """Of ways that exclude each other the one that has been begun, else the longer or shorter."""
    ways = [each for each in node.inner if each.kind == "way"]
    if len(ways) < 2:
        return node.inner
    chosen = next((each for each in ways if _begun(each, way)), None)
    if chosen is None:
        ends = max if way.longer else min
        chosen = ends(ways, key=lambda each: (_length(each, way), len(each.inner)))
    others = [f"“{_condition(each)}”" for each in ways if each is not chosen]
    way.says(
        f"Line {node.step.place.line}: planned for the way “{_condition(chosen)}”; "
        f"{listed(others)} {'is' if len(others) == 1 else 'are'} not in this plan."
    )
    return [chosen]


def _condition(node: FlowNode) -> str:
    return node.step.condition if isinstance(node.step, Block) else ""


def _begun(node: FlowNode, way: _Way) -> bool:
    """Whether a step within is said to have happened."""
    step = node.step
    label = step.label.text if isinstance(step, Step) and step.label is not None else ""
    names = {label, f"{step.place.line}", way.numbers.get(node.id, "")} - {""}
    own = node.kind in ("step", "do") and bool(names & way.happened)
    return own or any(_begun(each, way) for each in node.inner)


def _rounds(node: FlowNode, block: Block, way: _Way, optional: str, within: _Round) -> _Found:
    """The rounds of a repeat: one by one where they are few, or so many at once."""
    times = _times(block, way)
    many = times > (_TOO_MANY if _length(node, way) > _LONG_ROUND else _MOST_TOLD)
    if within.bundle is not None:
        few = 1 if many else times
        rounds = within.rounds * (times if many else 1)
        for _ in range(few):
            yield from _in_order(node.inner, way, optional, within._replace(rounds=rounds))
    elif many:
        way.bundles += 1
        bundle = Bundle(way.bundles, block, times)
        yield from _in_order(node.inner, way, optional, _Round(bundle, times))
    else:
        for _ in range(times):
            yield from _in_order(node.inner, way, optional, _Round(begins=block))


def _length(node: FlowNode, way: _Way) -> float:
    """The minutes of a round as far as they are written."""
    length = 0.0
    for inner in node.inner:
        moment = way.first.get(inner.id)
        if moment is not None and moment.minutes is not None:
            length += float(moment.minutes.high)
        length += _length(inner, way)
    return length


def _times(block: Block, way: _Way) -> int:
    """How often a repeat is planned."""
    line = block.place.line
    if block.times is None:
        way.says(f"Line {line}: nobody says how often; planned {_TIMES_UNSAID} times.")
        return _TIMES_UNSAID if way.longer else 1
    low, high = block.times
    least = ceil(low)
    most = max(_TIMES_UNSAID if high == float("inf") else ceil(high), least)
    if low != high:
        way.says(f"Line {line}: planned {most} times; it may be fewer.")
    return most if way.longer else least


def turn_of(key: str) -> str:
    """The key of the turn that an activity is of: its heating, some of its rounds, a drying."""
    return re.sub(
        r" hung up$| wetted again$| cleaned$| heated$|( warmed)+$| from round \d+$", "", key
    )
