"""Days: on which day of the work each step falls, as planned or by the nights between."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from procedure.quantity.day import A_DAY
from procedure.trace import Trace

# What lasts at least this many minutes is left for the night.
NIGHT = 480


def days(trace: Trace, stands_for: Mapping[int, int]) -> dict[int, tuple[int, int]]:
    """The first and the last day on which each figure may begin, by its key.

    Days count from 1, one step after another in the order of the text; only waits of a
    night and more add to them. Empty where the procedure says of no night.
    """
    found: dict[int, tuple[int, int]] = {}
    low = high = 1
    for moment in trace.moments:
        key = stands_for.get(moment.node.id)
        if key is not None:
            found.setdefault(key, (low, high))
        if moment.minutes is not None:
            low += nights(float(moment.minutes[0]))
            high += nights(float(moment.minutes.firm))
    return found if high > 1 else {}


def planned(
    on_days: Mapping[int, int], stands_for: Mapping[int, int]
) -> dict[int, tuple[int, int]]:
    """The same by a plan's own days: ``on_days`` is that on which each node of the flow begins.

    Empty where all of it is done on one day.
    """
    found: dict[int, tuple[int, int]] = {}
    for node, day in on_days.items():
        key = stands_for.get(node)
        if key is not None:
            low, high = found.get(key, (day, day))
            found[key] = min(low, day), max(high, day)
    return found if max(on_days.values(), default=1) > 1 else {}


def never_back(
    told: Mapping[int, tuple[int, int]], order: Iterable[int]
) -> dict[int, tuple[int, int]]:
    """The same for an axis down the figures in an ``order``: no day comes again after a later one.

    Figures that go to and fro between days have all of those days together. Those
    without a day have none.
    """
    held: list[tuple[int, int, list[int]]] = []
    for key in order:
        if key not in told:
            continue
        low, high = told[key]
        keys = [key]
        while held and held[-1][1] > low:
            before, upto, others = held.pop()
            low, high, keys = min(low, before), max(high, upto), others + keys
        held.append((low, high, keys))
    return {key: (low, high) for low, high, keys in held for key in keys}


def nights(minutes: float) -> int:
    """How many nights a time holds: none below eight hours, then at least one."""
    return max(1, round(minutes / A_DAY)) if minutes >= NIGHT else 0


def said(day: tuple[int, int]) -> str:
    """A day as the side of the chart tells it below the word for it."""
    return f"{day[0]}" if day[0] == day[1] else f"{day[0]}–{day[1]}"
