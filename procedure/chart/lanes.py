"""Lanes: which column each figure stands in, by lot, by pot, or all in one."""

from __future__ import annotations

from typing import NamedTuple

from procedure.chart.lettering import clean
from procedure.chart.placed_symbols import Drawing, Figure, Way

MOST_LANES = 5
BATHS = "baths and pots"
BY_HAND = "outside the pots"
ELSEWHERE = "other pots"


class Lanes(NamedTuple):
    """How many lanes there are, the first and last lane of each figure, and whose lanes they are.

    ``things`` gives, for each lane, what may be named at its head: the plan's names
    of lots or pots, or words.
    """

    number: int
    spans: dict[int, tuple[int, int]]
    things: tuple[tuple[str, ...], ...]


def lanes(drawing: Drawing, ways: list[Way], by: str) -> Lanes:
    """The lanes of a drawing by ``lot``, by ``pot``, or ``none``."""
    if by == "none":
        return Lanes(1, dict.fromkeys(drawing.figures, (0, 0)), ((),))
    owner = _lot_lanes(drawing) if by == "lot" else _pot_lanes(drawing, ways)
    things, where = owner
    spans: dict[int, tuple[int, int]] = {}
    for key in drawing.figures:
        spans[key] = _run(where[key])
    for start, end in drawing.ends.items():
        inner = [spans[key] for key in _below(drawing, start)]
        if inner and drawing.figures[start].symbol != "decision":
            spans[start] = spans[end] = (min(a for a, _ in inner), max(b for _, b in inner))
        elif inner:
            spans[start] = spans[end] = (inner[0][0], inner[0][0])
    return Lanes(len(things), spans, tuple(things))


def _below(drawing: Drawing, start: int) -> list[int]:
    """All figures inside a block, at every depth, without starts and ends of blocks."""
    found: list[int] = []
    for key in drawing.inside.get(start, []):
        found += _below(drawing, key) if key in drawing.ends else [key]
    return found


def _run(wanted: list[int]) -> tuple[int, int]:
    """The unbroken run of lanes from the first that is wanted."""
    found = sorted(set(wanted))
    last = found[0]
    for lane in found[1:]:
        if lane != last + 1:
            break
        last = lane
    return found[0], last


# ---------------------------------------------------------------- by lot


def _lot_lanes(drawing: Drawing) -> tuple[list[tuple[str, ...]], dict[int, list[int]]]:
    """A lane for each lot; one that comes from another takes its lane when that is done."""
    places = {key: place for place, key in enumerate(drawing.figures)}
    first: dict[str, int] = {}
    last: dict[str, int] = {}
    bare = False
    for key, figure in drawing.figures.items():
        bare = bare or (not figure.lots and key not in drawing.ends and not _is_end(drawing, key))
        for lot in figure.lots:
            first.setdefault(lot, places[key])
            last[lot] = places[key]
    start = 1 if bare else 0
    taken: list[list[str]] = []
    lane_of: dict[str, int] = {}
    for lot in sorted(first, key=lambda lot: first[lot]):
        free = [i for i, held in enumerate(taken) if last[held[-1]] < first[lot]]
        if not free and len(taken) + start >= MOST_LANES:
            free = [min(range(len(taken)), key=lambda i: last[taken[i][-1]])]
        if not free:
            taken.append([])
            free = [len(taken) - 1]
        taken[free[0]].append(lot)
        lane_of[lot] = free[0] + start
    things = [tuple(held) for held in taken] or [()]
    if bare:
        things.insert(0, (BATHS,))
    where = {
        key: [lane_of[lot] for lot in figure.lots] or [0] for key, figure in drawing.figures.items()
    }
    return things, where


def _is_end(drawing: Drawing, key: int) -> bool:
    return key in drawing.ends.values()


# ---------------------------------------------------------------- by pot


def _pot_lanes(
    drawing: Drawing, ways: list[Way]
) -> tuple[list[tuple[str, ...]], dict[int, list[int]]]:
    """A lane for each pot in order of use; the rarest share one where there are too many."""
    used: dict[str, int] = {}
    bare = False
    for key, figure in drawing.figures.items():
        block = key in drawing.ends or _is_end(drawing, key)
        if figure.pot and not block:
            used[figure.pot] = used.get(figure.pot, 0) + 1
        bare = bare or (not figure.pot and not block)
    room = MOST_LANES - (1 if bare else 0)
    own = list(used)
    if len(own) > room:
        often = sorted(used, key=lambda pot: -used[pot])[: room - 1]
        own = [pot for pot in used if pot in often]
    things: list[tuple[str, ...]] = [(pot,) for pot in own]
    if len(own) < len(used):
        things.append((ELSEWHERE, *[pot for pot in used if pot not in own]))
    if bare or not things:
        things.append((BY_HAND,))
    lane_of = {pot: i for i, held in enumerate(things) for pot in held}
    hand = len(things) - 1
    where = {
        key: [lane_of.get(figure.pot, hand) if figure.pot else hand]
        for key, figure in drawing.figures.items()
    }
    for way in ways:  # what comes into a pot stands above it
        if way.before in drawing.comes_in and drawing.figures[way.before].symbol == "data":
            where[way.before] = where[way.after]
    return things, where


def head(things: tuple[str, ...], shown: list[Figure], drawing: Drawing, by: str) -> str:
    """The words at the head of a lane: of its lots, those that are seen below it."""
    if by == "none":
        return ""
    if by == "pot" or things == (BATHS,):
        return clean(", ".join(things) if by == "pot" else things[0])
    seen = {lot for figure in shown for lot in figure.lots}
    names = [drawing.flow.lots[lot].name for lot in things if lot in seen]
    return clean(", then ".join(dict.fromkeys(names)))
