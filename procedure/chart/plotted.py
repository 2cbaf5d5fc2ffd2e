"""A chart that is ready to be drawn: its figures, threads, lanes, rows, and what goes with them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import accumulate

from procedure.chart import symbols
from procedure.chart.grid import Grid
from procedure.chart.heads import Letters, Life
from procedure.chart.lanes import Lanes, runs
from procedure.chart.placed_symbols import Drawing
from procedure.chart.rows import NO_ROOM, FigureRow
from procedure.chart.threads import Thread
from procedure.chart.tints import Tint

ASIDE = 4.0


@dataclass(slots=True)
class Plotted:
    """All that is drawn, with the place of each thing in points from the corner of its sheet."""

    drawing: Drawing
    threads: list[Thread]
    lanes: Lanes
    grid: Grid
    rows: dict[int, FigureRow]
    days: dict[int, tuple[int, int]]
    tints: dict[tuple[str, int], Tint]
    """The colour of each lot once it comes from a figure, where that is known."""
    living: tuple[tuple[Life, ...], ...]
    """Who lives in each lane, one after another."""
    letters: Letters
    tops: list[float] = field(default_factory=list)
    bottoms: list[float] = field(default_factory=list)
    """Where the rows of each sheet begin and end."""
    aside: dict[int, float] = field(default_factory=dict)
    """How far a thread (by its number) runs beside the middle of its lane."""

    def x(self, number: int) -> float:
        """The x of the line of a thread."""
        lane = self.lanes.of[self.threads[number].place]
        return self.grid.middle(lane) + self.aside.get(number, 0.0)

    def parts(self, key: int) -> list[tuple[int, int, float, float]]:
        """The parts of a figure's symbol: first and last lane, left edge and width."""
        row = self.rows[key]
        found: list[tuple[int, int, float, float]] = []
        every = runs(row.lanes)
        for low, high in every:
            left, wide = self.grid.across(low, high)
            if row.figure.symbol in ("decision", "join") and (low, high) == every[-1]:
                wide -= min(NO_ROOM, wide / 3)
            found.append((low, high, left, wide))
        return found

    def leaves(self, number: int, key: int) -> float:
        """The y at which a thread leaves a figure below."""
        row = self.rows[key]
        lane = self.lanes.of[self.threads[number].place]
        born = self.threads[number].stops[0] == key and row.named(lane)
        if born:
            return row.top + row.symbol + row.strip
        dx, wide = self._beside(number, key)
        up = symbols.bottom_at(row.figure.symbol, wide, row.symbol, dx)
        return row.top + row.symbol - up

    def enters(self, number: int, key: int) -> float:
        """The y at which a thread enters a figure from above."""
        row = self.rows[key]
        dx, wide = self._beside(number, key)
        return row.top + symbols.top_at(row.figure.symbol, wide, row.symbol, dx)

    def _beside(self, number: int, key: int) -> tuple[float, float]:
        lane = self.lanes.of[self.threads[number].place]
        x = self.x(number)
        for low, high, left, wide in self.parts(key):
            if low <= lane <= high:
                return x - (left + wide / 2), wide
        return 0.0, self.rows[key].symbol

    def passing(self) -> dict[int, list[float]]:
        """The x of each line that passes a figure in several parts by, from left to right."""
        begun: dict[int, list[int]] = {}
        ended: dict[int, list[int]] = {}
        for number, (first, last) in enumerate(self._courses()):
            if first < last:
                begun.setdefault(first, []).append(number)
                ended.setdefault(last, []).append(number)
        found: dict[int, list[float]] = {}
        there: set[int] = set()
        for place, (key, row) in enumerate(self.rows.items()):
            there.difference_update(ended.get(place, ()))
            if len(runs(row.lanes)) > 1:
                found[key] = sorted(
                    self.x(number)
                    for number in there
                    if self.lanes.of[self.threads[number].place] not in row.lanes
                )
            there.update(begun.get(place, ()))
        return found

    def _courses(self) -> list[tuple[int, int]]:
        """The first and the last row of each thread, counted from above."""
        order = {each: place for place, each in enumerate(self.rows)}
        return [(order[each.stops[0]], order[each.stops[-1]]) for each in self.threads]

    def beside_each_other(self) -> None:
        """Lines of one lane that are there at the same time get places beside each other."""
        courses = self._courses()
        in_lanes: dict[int, list[int]] = {}
        for number, thread in enumerate(self.threads):
            if len(thread.stops) > 1:
                in_lanes.setdefault(self.lanes.of[thread.place], []).append(number)
        for numbers in in_lanes.values():
            # The row above which none of a line and those after it begins: what has ended there
            # is beside none of them.
            above = list(accumulate((courses[each][0] for each in reversed(numbers)), min))[::-1]
            held: list[tuple[int, int, float]] = []
            for number, high in zip(numbers, above, strict=True):
                first, last = courses[number]
                held = [each for each in held if each[1] > high]
                taken = {aside for one, two, aside in held if one < last and first < two}
                aside = next(each for each in _sides() if each not in taken)
                held.append((first, last, aside))
                if aside:
                    self.aside[number] = aside


def _sides() -> Iterator[float]:
    yield 0.0
    step = ASIDE
    while True:
        yield step
        yield -step
        step += ASIDE
