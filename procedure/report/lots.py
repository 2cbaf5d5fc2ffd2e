"""Each finished lot's story: what it went through, in order, with how much."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from procedure.flow import FlowNode
from procedure.model import Block
from procedure.plan import Plan
from procedure.rules.units import plain
from procedure.trace import LotState, Moment
from procedure.trace.states import Interval


class Event(NamedTuple):
    """One thing that happened to a lot: a sentence without its full stop, and where it is said."""

    sentence: str
    file: str
    line: int
    times: int = 1
    condition: str = ""

    @property
    def said(self) -> str:
        """The sentence with how often it happens, and on what condition."""
        times = f", {self.times} times" if self.times > 1 else ""
        condition = f", if “{self.condition}”" if self.condition else ""
        return f"{self.sentence}{times}{condition}"


class Story(NamedTuple):
    """A finished lot: its weight in grams (None where not said), its fibre, its history."""

    lot: str
    weight: Interval | None
    fibre: str
    made: str
    events: tuple[Event, ...]


def finished(plan: Plan) -> list[str]:
    """The lots that are left at the end, by the plan's names, in the order they were made."""
    gone = {part for origin in plan.flow.lots.values() for part in origin.parts}
    return [lot for lot in plan.flow.lots if lot not in gone and lot in plan.trace.final.lots]


def stories(plan: Plan) -> list[Story]:
    """The story of each finished lot."""
    return [_story(plan, lot) for lot in finished(plan)]


def _story(plan: Plan, lot: str) -> Story:
    state = plan.trace.final.lots[lot]
    family = _family(plan, lot)
    events: dict[int, Event] = {}
    for moment in plan.trace.moments:
        told = [one for one in family if one in moment.node.lots or one in moment.node.makes]
        if not told:
            continue
        earlier = events.get(moment.node.id)
        if earlier is None:
            step = moment.step
            events[moment.node.id] = Event(
                _sentence(plan, moment, told[0]), moment.node.procedure.file, step.place.line
            )
    counted = _counted(plan)
    return Story(
        plan.flow.lots[lot].name,
        state.weight,
        " and ".join(fibre.name for fibre in state.fibres) or "fibre",
        _made(plan, lot),
        tuple(
            event._replace(times=counted[node][0], condition=counted[node][1])
            for node, event in events.items()
        ),
    )


def _family(plan: Plan, lot: str) -> list[str]:
    """A lot and the lots that it came from, itself first."""
    found = [lot]
    for one in found:
        found += [part for part in plan.flow.lots[one].parts if part not in found]
    return found


def _made(plan: Plan, lot: str) -> str:
    origin = plan.flow.lots[lot]
    if origin.node is None:
        return "declared"
    step = plan.flow.nodes[origin.node].step
    return f"made by the {'split' if len(origin.parts) == 1 else 'join'} on line {step.place.line}"


def _counted(plan: Plan) -> dict[int, tuple[int, str]]:
    """How often each step is done, and on what condition, by the blocks it stands in."""
    found: dict[int, tuple[int, str]] = {}

    def count(nodes: list[FlowNode], times: int, condition: str) -> None:
        for node in nodes:
            found[node.id] = times, condition
            step, often, when = node.step, times, condition
            if isinstance(step, Block) and node.kind == "repeat" and step.times is not None:
                often = times * int(step.times[1])
            elif isinstance(step, Block) and node.kind == "if":
                when = f"{condition}, and {step.condition}" if condition else step.condition
            count(node.inner, often, when)

    count(plan.flow.top, 1, "")
    return found


def _sentence(plan: Plan, moment: Moment, lot: str) -> str:
    node, step = moment.node, moment.step
    if step.verb is None:
        return step.words.text if step.words else "done by hand"
    if node.makes and lot in node.makes:
        parents = " and ".join(plan.study.called(part) for part in plan.flow.lots[lot].parts)
        return f"{step.verb.past} from {parents}"
    said = [step.verb.past]
    if node.bath:
        said.append(f"in {plan.study.called(node.bath)}")
    taken = _taken(plan, moment, lot)
    if taken:
        said.append(f"with {taken}")
    own = [f"{plan.study.called(thing)}" for thing, _, _ in moment.amounts if not node.bath]
    if own and "water" not in own[1:] and len(own) > 1:
        said.append(f"with {' and '.join(name for name in own if name != 'water')}")
    if moment.heat is not None and step.verb.effect not in ("air", "dry", "rest", "lift"):
        said.append(f"at {ends(moment.heat)} °C")
    if moment.minutes is not None:
        said.append(f"for {_minutes(moment.minutes)}")
    return " ".join(said)


def _taken(plan: Plan, moment: Moment, lot: str) -> str:
    """The mordants and dyes that a lot met here, with their share of its weight."""
    state: LotState | None = moment.after.lots.get(lot)
    if state is None or moment.step.effect not in ("treat", "enter", "dip", "add"):
        return ""
    met: list[str] = []
    for thing, taken in (*state.mordants.items(), *state.dyes.items()):
        if taken.node == moment.node.id:
            name = plan.study.called(thing)
            met.append(
                f"{name} ({ends((taken.share[0] * 100, taken.share[1] * 100))} % of its weight)"
                if taken.share is not None
                else name
            )
    return ", ".join(dict.fromkeys(met))


def ends(interval: Interval) -> str:
    low, high = plain(interval[0]), plain(interval[1])
    return low if low == high else f"{low} to {high}"


def _minutes(minutes: Interval) -> str:
    unit, size = ("h", 60) if minutes[0] >= 60 and minutes[1] >= 120 else ("min", 1)
    return f"{ends((minutes[0] / size, minutes[1] / size))} {unit}"


def report(plan: Plan) -> str:
    """All stories as text: a paragraph a lot, a numbered line a step."""
    return "\n".join(_told(story) for story in stories(plan)) or "No lot of fibre is left.\n"


def _told(story: Story) -> str:
    lines = list(_lines(story))
    return "\n".join(lines) + "\n"


def _lines(story: Story) -> Iterator[str]:
    weight = f"{ends(story.weight)} g of " if story.weight is not None else ""
    yield f"{story.lot}: {weight}{story.fibre}, {story.made}"
    width = len(str(len(story.events)))
    for number, event in enumerate(story.events, 1):
        yield f"  {number:>{width}}  {event.said}  (line {event.line})"
