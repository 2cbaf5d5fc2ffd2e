"""Before you start: how long it takes, over how many days, and what the day before is for."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from procedure.facts.handling import hazards
from procedure.flow import FlowNode
from procedure.handout.phrasebook import Telling
from procedure.handout.steps import last_number
from procedure.model import Block, Step
from procedure.paper.measures import DAY, HOUR, minutes
from procedure.paper.pieces import Phrase, number_word
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.interval import total as total_of

# A wait of so long is left to itself; the work goes on afterwards, mostly on another
# day (common practice).
LONG = 8 * HOUR
# So much written time fits in one day's work (common practice).
DAYS_WORK = 12 * HOUR


@dataclass(frozen=True, slots=True)
class Day:
    """A stretch of work between long waits: its steps, its written time, the wait after it.

    ``starts`` are the earliest and latest day on which it begins, from 1.
    """

    first: str
    last: str
    starts: tuple[int, int]
    minutes: Interval
    wait: str


@dataclass(frozen=True, slots=True)
class Before:
    """What a reader plans with. ``work`` and ``waits`` are minutes as far as written;
    ``untimed`` counts steps that take time and do not say how much; ``ready`` are the
    steps that may be done the day before."""

    work: Interval
    waits: Interval
    untimed: int
    days: tuple[Day, ...]
    ready: tuple[str, ...]

    @property
    def sentences(self) -> tuple[Phrase, ...]:
        """All that in sentences, but for the list of days."""
        said: list[str] = []
        total = self.work.plus(self.waits)
        if total[1] > 0:
            text = f"The times that are written down come to {_roughly(total)}"
            if self.waits[1] > 0:
                nights = max(len(self.days) - 1, 1)
                s = "" if nights == 1 else "s"
                text += f", with {number_word(nights)} night{s} or long wait{s} among them"
            said.append(text + ".")
        if self.untimed:
            steps = "step takes" if self.untimed == 1 else "steps take"
            said.append(
                f"{number_word(self.untimed).capitalize()} {steps} time that is not written "
                "(rinsing, cooling, drying); allow for that besides."
            )
        low, high = self.days[-1].starts if self.days else (1, 1)
        if high == 1:
            said.append("It can be done in one day.")
        else:
            span = number_word(low) if low == high else f"{number_word(low)} to {number_word(high)}"
            said.append(f"It spans {span} days at the least.")
        return tuple((text,) for text in said)

    @property
    def day_before(self) -> tuple[Phrase, ...]:
        """What can be done the day before."""
        said: list[str] = [
            "Weigh out the materials, label every jar, and look that all the equipment is there "
            "and clean."
        ]
        if len(self.ready) == 1:
            said.append(f"Step {self.ready[0]} may be done then too.")
        elif self.ready:
            listed = ", ".join(self.ready[:-1]) + f" and {self.ready[-1]}"
            said.append(f"Steps {listed} may be done then too: no fibre is wanted for them.")
        return tuple((text,) for text in said)


def _roughly(time: Interval) -> str:
    """A long time to the quarter of an hour, or the hour where it is days."""
    step = Fraction(1) if time[1] < HOUR else Fraction(15) if time[1] < DAY else HOUR
    low, high = (floor(end / step + Fraction(1, 2)) * step for end in time)
    if high < 3 * DAY and high >= HOUR:
        first, last = low / HOUR, high / HOUR
        if first == last:
            return minutes(low, high)
        return minutes(first * HOUR, last * HOUR) if first >= 1 else f"up to {minutes(high, high)}"
    return minutes(low, high)


def before(telling: Telling) -> Before:
    """What the flow and the trace tell about a plan's time."""
    work: list[Interval] = []
    waits: list[Interval] = []
    untimed = 0
    days: list[Day] = []
    start: tuple[int, int] = (1, 1)
    stretch = ZERO
    first = ""
    shown = [node for node in telling.plan.flow.top if node.kind != "end"]
    for i, node in enumerate(shown):
        number = telling.numbers[node.id]
        first = first or number
        short, long, missing = _times_of(telling, node)
        work.append(short)
        waits.append(long)
        untimed += missing
        stretch = stretch.plus(short)
        if long[1] >= LONG or i == len(shown) - 1:
            wait = minutes(*_whole(long)) if long[1] else ""
            days.append(Day(first, last_number(telling, node), start, stretch, wait))
            more = max(ceil(stretch[1] / DAYS_WORK) - 1, 0)
            nights = (
                (max(floor(long[0] / DAY), 1), max(ceil(long[1] / DAY), 1)) if long[1] else (0, 0)
            )
            start = (start[0] + nights[0], start[1] + nights[1] + more)
            stretch, first = ZERO, ""
    return Before(total_of(work), total_of(waits), untimed, tuple(days), tuple(_ready(telling)))


def _whole(time: Interval) -> Interval:
    return Interval(Fraction(floor(time[0])), Fraction(ceil(time[1])))


def _times_of(telling: Telling, node: FlowNode) -> tuple[Interval, Interval, int]:
    """Minutes of work and of long waits in a step or block, and its steps without a time."""
    if node.kind in ("step", "do"):
        moments = telling.moments.get(node.id)
        time = moments[0].minutes if moments else None
        step = node.step
        assert isinstance(step, Step)
        if time is None:
            asks = step.does.takes_time or (step.verb is not None and "time" in step.verb.asks)
            return ZERO, ZERO, int(asks)
        return (ZERO, time, 0) if time[0] >= LONG else (time, ZERO, 0)
    short, long, missing = ZERO, ZERO, 0
    for inner in node.inner:
        if inner.kind == "end":
            continue
        one, two, three = _times_of(telling, inner)
        short, long, missing = short.plus(one), long.plus(two), missing + three
    block = node.step
    if isinstance(block, Block) and node.kind == "repeat" and block.times is not None:
        often = Interval(*block.times)
        short, long = short.times(often), long.times(often)
    if node.kind == "if":
        short, long = Interval.at_most(short.high), Interval.at_most(long.high)
    return short, long, missing


def _ready(telling: Telling) -> list[str]:
    """Top steps that touch no fibre and wait only for such steps: good for the day before."""
    flow = telling.plan.flow
    top = {node.id: node for node in flow.top if node.kind == "step"}
    behind: dict[int, set[int]] = {}
    for edge in flow.edges:
        behind.setdefault(edge.after, set()).add(edge.before)
    free: set[int] = set()
    # Baths are left for the day: they would be cold by then (common practice).
    hidden = {node.id for node in flow.nodes if _hides_fibre(node)}
    for number, node in top.items():
        if not node.does.ahead or number in hidden or _spoils(telling, node):
            continue
        if behind.get(number, set()) <= free:
            free.add(number)
    return [telling.numbers[number] for number in sorted(free)]


def _spoils(telling: Telling, node: FlowNode) -> bool:
    """True for what loses its strength overnight, or does harm where it lies about.

    A reducer in water, tin in water, and a poison that has been made small (common practice).
    """
    if node.does.gathers:
        return False
    for moment in telling.moments.get(node.id, []):
        for thing, _, _ in moment.amounts:
            found = telling.plan.flow.materials.get(thing)
            if found is None:
                continue
            tin = found[0].entry is not None and found[0].entry.facts.get("metal") == "tin"
            if tin or "reducer" in found[0].roles or hazards(found[0]):
                return True
    return False


def _hides_fibre(node: FlowNode) -> bool:
    return bool(node.lots or node.present or node.left)
