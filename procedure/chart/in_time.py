"""The order of the rows where days are planned: no step of a later day is above one of an earlier
where the way of lots, baths and pots leaves a choice. Each step keeps the number that the plan
gives it.
"""

from __future__ import annotations

import heapq
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from procedure.chart.placed_symbols import Drawing
from procedure.chart.threads import threads


def by_days(drawing: Drawing, on_days: Mapping[int, int]) -> Drawing:
    """The same drawing with its figures in the order of the days on which they begin.

    ``on_days`` is the day on which each node of the flow begins. A block stays whole, at the
    day on which its first step begins; what comes in stays before the step that needs it.
    """
    unit_of = _units(drawing)
    members: dict[int, list[int]] = {}
    for key in drawing.figures:
        members.setdefault(unit_of[key], []).append(key)
    first = _first_days(drawing, on_days, unit_of)
    after: dict[int, set[int]] = {unit: set() for unit in members}
    for one, two in _ways(drawing, unit_of):
        after[one].add(two)
    waits = dict.fromkeys(members, 0)
    for unit in members:
        for other in after[unit]:
            waits[other] += 1
    place = {unit: number for number, unit in enumerate(members)}
    ready = [(first[unit], place[unit], unit) for unit in members if not waits[unit]]
    heapq.heapify(ready)
    order: list[int] = []
    while ready:
        _, _, unit = heapq.heappop(ready)
        order += members[unit]
        for other in after[unit]:
            waits[other] -= 1
            if not waits[other]:
                heapq.heappush(ready, (first[other], place[other], other))
    if len(order) < len(drawing.figures):
        return drawing  # steps that wait for one another, which the checker tells of
    return replace(drawing, figures={key: drawing.figures[key] for key in order})


def _units(drawing: Drawing) -> dict[int, int]:
    """The outermost figure that each figure goes with."""
    starts = {end: start for start, end in drawing.ends.items()}
    found: dict[int, int] = {}
    for key, figure in drawing.figures.items():
        shown = drawing.figures[drawing.stands_for[key]] if key < 0 else figure
        own = starts.get(shown.key, shown.key)
        found[key] = shown.within[0] if shown.within else own
    return found


def _first_days(
    drawing: Drawing, on_days: Mapping[int, int], unit_of: Mapping[int, int]
) -> dict[int, int]:
    """The day on which each unit begins; one that is not planned goes with those before it."""
    found: dict[int, int] = {}
    for node, day in on_days.items():
        key = drawing.stands_for.get(node)
        if key is not None and key in unit_of:
            unit = unit_of[key]
            found[unit] = min(found.get(unit, day), day)
    day = 1
    for key in drawing.figures:
        day = found.setdefault(unit_of[key], day)
    return found


def _ways(drawing: Drawing, unit_of: Mapping[int, int]) -> set[tuple[int, int]]:
    """Which unit must come before which: what flows, and the way down each lane."""
    pairs = {
        (drawing.stands_for[edge.before], drawing.stands_for[edge.after])
        for edge in drawing.flow.edges
        if edge.before in drawing.stands_for and edge.after in drawing.stands_for
    }
    down: dict[tuple[str, str], set[int]] = {}
    for thread in threads(drawing, "both"):
        down.setdefault(thread.place, set()).update(thread.stops)
    for stops in down.values():
        in_order = [key for key in drawing.figures if key in stops]
        pairs.update(pairwise(in_order))
    units = {(unit_of[one], unit_of[two]) for one, two in pairs}
    return {(one, two) for one, two in units if one != two}
