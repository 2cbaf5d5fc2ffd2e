"""Lanes: one for each lot and each pot, at the same place on every sheet."""

from __future__ import annotations

from procedure.chart.lettering import clean
from procedure.chart.ordering import Crossing, ordered
from procedure.chart.placed_symbols import Drawing
from procedure.chart.threads import BY_HAND, Place, Thread
from procedure.quantity.record import NamedTuple

# With fewer lots than this each has a lane that nothing but what comes of it goes down again.
MOST_OF_THEIR_OWN = 12
# So many lots that go the same way are drawn close together where room is short.
LIKE_EACH_OTHER = 3


class Lanes(NamedTuple):
    """The lanes from left to right, with who is in which.

    ``places`` gives all that goes down each lane, one after another; ``of`` the lane of each
    place; ``spans`` the lanes that each figure is in; ``alike`` a number for each lane,
    the same for neighbours that go through the same steps.
    """

    places: tuple[tuple[Place, ...], ...]
    of: dict[Place, int]
    spans: dict[int, tuple[int, ...]]
    alike: tuple[int, ...]


def lanes(drawing: Drawing, threads: list[Thread]) -> Lanes:
    """The lanes of some threads, ordered so that few lines cross."""
    order = {key: place for place, key in enumerate(drawing.figures)}
    columns = _columns(drawing, threads, order)
    column_of = {place: number for number, held in enumerate(columns) for place in held}
    stands: dict[int, set[int]] = {key: set() for key in drawing.figures}
    passes: dict[int, set[int]] = {key: set() for key in drawing.figures}
    keys = list(drawing.figures)
    for thread in threads:
        column = column_of[thread.place]
        for key in thread.stops:
            stands[key].add(column)
        for place in range(order[thread.stops[0]], order[thread.stops[-1]]):
            passes[keys[place]].add(column)
    for found in stands.values():
        if not found:
            found.add(column_of[BY_HAND])
    by_steps = [
        frozenset(key for key in keys if number in stands[key]) for number in range(len(columns))
    ]
    groups = _alike(by_steps)
    sequence = ordered(
        groups,
        [Crossing(frozenset(stands[key]), frozenset(passes[key] - stands[key])) for key in keys],
    )
    new = {old: number for number, old in enumerate(sequence)}
    group_of = {column: number for number, group in enumerate(groups) for column in group}
    return Lanes(
        tuple(tuple(columns[old]) for old in sequence),
        {place: new[number] for place, number in column_of.items()},
        {key: tuple(sorted(new[column] for column in found)) for key, found in stands.items()},
        tuple(group_of[old] for old in sequence),
    )


def _columns(drawing: Drawing, threads: list[Thread], order: dict[int, int]) -> list[list[Place]]:
    """What shares a lane: a lot takes the place of the one that it was part of."""
    lasts: list[int] = []
    columns: list[list[Place]] = []
    first: dict[Place, int] = {}
    last: dict[Place, int] = {}
    for thread in threads:
        first[thread.place] = min(first.get(thread.place, len(order)), order[thread.stops[0]])
        last[thread.place] = max(last.get(thread.place, -1), order[thread.stops[-1]])
    lots = 0
    for place in sorted(first, key=lambda one: (first[one], one[0] != "lot")):
        column = _free(drawing, place, first[place], columns, lasts, lots)
        if column is None:
            column = len(columns)
            columns.append([])
            lasts.append(-1)
            lots += place[0] == "lot"
        columns[column].append(place)
        lasts[column] = last[place]
    met = {key for thread in threads for key in thread.stops}
    if BY_HAND not in first and (not columns or any(key not in met for key in order)):
        columns.append([BY_HAND])
    return columns


def _free(
    drawing: Drawing,
    place: Place,
    begins: int,
    columns: list[list[Place]],
    lasts: list[int],
    lots: int,
) -> int | None:
    """The lane that a lot may take: that of what it comes from, or of any where they are many."""
    if place[0] != "lot":
        return None
    parts = {("lot", part) for part in drawing.flow.lots[place[1]].parts}
    free = [
        number
        for number, held in enumerate(columns)
        if held[-1][0] == "lot" and lasts[number] <= begins
    ]
    for number in free:
        if columns[number][-1] in parts:
            return number
    if lots < MOST_OF_THEIR_OWN:
        return None
    ended = [number for number in free if lasts[number] < begins]
    return min(ended, key=lambda number: lasts[number], default=None)


def _alike(by_steps: list[frozenset[int]]) -> list[list[int]]:
    """The columns in groups of those that go through the same steps."""
    groups: dict[frozenset[int], list[int]] = {}
    for number, steps in enumerate(by_steps):
        groups.setdefault(steps, []).append(number)
    return list(groups.values())


def runs(lanes_of_figure: tuple[int, ...]) -> list[tuple[int, int]]:
    """Unbroken runs of lanes, as the first and last of each."""
    found: list[tuple[int, int]] = []
    for lane in lanes_of_figure:
        if found and found[-1][1] == lane - 1:
            found[-1] = (found[-1][0], lane)
        else:
            found.append((lane, lane))
    return found


def own_name(drawing: Drawing, place: Place) -> str:
    """What a lane is called after: a lot, pot, bath or material by the plan's own name."""
    kind, name = place
    if kind == "lot":
        return clean(drawing.flow.lots[name].name)
    if place == BY_HAND:
        return "other steps"
    return clean(name.rsplit(".", 1)[-1].rsplit(":", 1)[-1])
