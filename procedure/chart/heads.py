"""Heads of lanes: who lives in each, and a letter for each of the lines that run side by side."""

from __future__ import annotations

from procedure.chart.grid import NAME, Grid
from procedure.chart.lanes import Lanes, own_name
from procedure.chart.lettering import wrap
from procedure.chart.placed_symbols import Drawing
from procedure.chart.rows import side_by_side
from procedure.chart.threads import Place
from procedure.quantity.record import NamedTuple

# Without those that are wider than the rest, or are taken for a numeral.
LETTERS = "abcdefghjknpqrstuvxyz"
# The names of more lots than these, one after another in a lane, are not all at its head.
MOST_AT_A_HEAD = 2
KEY = "lines side by side: "


class Life(NamedTuple):
    """Lots that go down one lane, each of them coming of the one before; ``name`` is the last's."""

    name: str
    places: tuple[Place, ...]


def lives(drawing: Drawing, lanes: Lanes) -> tuple[tuple[Life, ...], ...]:
    """Who lives in each lane, one after another."""
    found: list[tuple[Life, ...]] = []
    for held in lanes.places:
        here: list[Life] = []
        for place in held:
            name = own_name(drawing, place)
            if here and place[0] == "lot" and here[-1].places[-1] in _parents(drawing, place):
                here[-1] = Life(name, (*here[-1].places, place))
            else:
                here.append(Life(name, (place,)))
        found.append(tuple(here))
    return tuple(found)


def _parents(drawing: Drawing, place: Place) -> set[Place]:
    return {("lot", part) for part in drawing.flow.lots[place[1]].parts}


def together(names: list[str]) -> str:
    """What is at the head of a lane in which those live."""
    named = list(dict.fromkeys(name.replace(".", " ") for name in names))
    return ", ".join(named) if len(named) <= MOST_AT_A_HEAD else f"{len(named)} lots"


class Letters(NamedTuple):
    """A letter for each lot among lines that run side by side, and what each letter is for."""

    of: dict[Place, str]
    means: dict[str, str]

    def key(self, used: set[str]) -> str:
        """The letters that are used, with what they are for, in one line."""
        said = [f"{letter} {name}" for letter, name in self.means.items() if letter in used]
        return KEY + ", ".join(said) if said else ""


def letters(drawing: Drawing, lanes: Lanes, grid: Grid) -> Letters:
    """The letters of all lines that run side by side in thin lanes.

    What is plain, sad and bright of one lot has one letter in all three bundles; where
    they are more than there are letters, nothing has any.
    """
    every = lives(drawing, lanes)
    by_name: dict[str, str] = {}
    of: dict[Place, str] = {}
    for low, high in side_by_side(lanes, grid, list(range(len(every)))):
        bundle = [life for lane in range(low, high + 1) for life in every[lane]]
        if low == high:
            continue
        for life, name in zip(bundle, _apart([life.name for life in bundle]), strict=True):
            if name not in by_name and len(by_name) == len(LETTERS):
                return Letters({}, {})
            letter = by_name.setdefault(name, LETTERS[len(by_name)])
            of |= dict.fromkeys(life.places, letter)
    return Letters(of, {letter: name for name, letter in by_name.items()})


def _apart(names: list[str]) -> list[str]:
    """What tells names apart: without their last part, where that is the same in all."""
    parts = [name.rsplit(".", 1) for name in names]
    if len({part[-1] for part in parts}) == 1 and all(len(part) > 1 for part in parts):
        return [part[0].replace(".", " ") for part in parts]
    return [name.replace(".", " ") for name in names]


def key_lines(said: str, room: float) -> tuple[str, ...]:
    """What the letters are for, in lines beside the heads of the lanes."""
    return tuple(wrap(said, room, NAME)) if said else ()
