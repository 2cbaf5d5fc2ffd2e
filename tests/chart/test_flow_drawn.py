"""Each edge of the flow is drawn once, in the lane of what flows, and nothing else is."""

from __future__ import annotations

from pathlib import Path

import pytest
from drawn import Read, dot_of, example, example_drawn, plan
from test_sheets import forty_steps

from procedure import Plan, load
from procedure.chart.placed_symbols import Drawing, figures

EXAMPLES = Path(__file__).parents[2] / "examples"
ALL = [*sorted((EXAMPLES / "plans").glob("*.dye")), *sorted(EXAMPLES.glob("*.dye"))]


def chains(read: Read, kind: str) -> dict[str, list[list[str]]]:
    """For each thing, the figures that its lines lead through, one chain for each unbroken way."""
    found: dict[str, list[list[str]]] = {}
    for line in read.whole():
        if line.kind != kind:
            continue
        ways = found.setdefault(line.carries, [])
        way = next((way for way in ways if way[-1] == line.before), None)
        if way is None:
            ways.append([line.before, line.after])
        else:
            way.append(line.after)
    return found


class Met:
    """What the flow itself says of the figures that each lot and each bath meets."""

    def __init__(self, made: Plan, opened: bool) -> None:
        self.flow = made.flow
        self.drawing: Drawing = figures(made.flow, made.trace, opened)
        self.order = {figure.name: n for n, figure in enumerate(self.drawing.figures.values())}

    def name(self, node: int) -> str:
        return self.drawing.figures[self.drawing.stands_for[node]].name

    def limits(self) -> set[str]:
        """The names of the starts and ends of blocks."""
        keys = {key for pair in self.drawing.ends.items() for key in pair}
        return {self.drawing.figures[key].name for key in keys}

    def around(self, name: str) -> set[str]:
        """The starts and ends of the blocks around a figure that is no limit itself."""
        figure = next(f for f in self.drawing.figures.values() if f.name == name)
        if name in self.limits():
            return set()
        return {
            self.drawing.figures[key].name
            for start in figure.within
            for key in (start, self.drawing.ends[start])
        }

    def edges(self, kind: str, thing: str) -> set[tuple[str, str]]:
        """The edges between different figures that the text goes down, not round a loop."""
        return {
            (one, two)
            for edge in self.flow.edges
            if edge.kind == kind and edge.thing == thing
            for one, two in [(self.name(edge.before), self.name(edge.after))]
            if self.order[one] < self.order[two]
        }


@pytest.mark.parametrize("opened", [False, True], ids=["closed", "opened"])
@pytest.mark.parametrize("path", ALL, ids=lambda path: path.stem)
def test_each_edge_of_a_lot_is_drawn_once_and_no_other(path: Path, opened: bool) -> None:
    made = example(path)
    met = Met(made, opened)
    drawn = chains(example_drawn(path, opened=opened), "lot")
    ends = {
        part: met.name(one.node)
        for one in made.flow.lots.values()
        for part in one.parts
        if one.node is not None
    }
    for lot, origin in made.flow.lots.items():
        ways = drawn.pop(origin.name, [])
        assert len(ways) <= 1, f"{lot} is drawn in pieces"
        way = ways[0] if ways else []
        assert len(set(way)) == len(way)
        assert way == sorted(way, key=lambda name: met.order[name])
        last = met.order[ends[lot]] if lot in ends else len(met.order)
        edges = {(a, b) for a, b in met.edges("lot", lot) if met.order[b] <= last}
        lying = {
            met.name(node.id)
            for node in made.flow.nodes
            if node.kind in ("step", "do") and (lot in node.present or lot in node.left)
        }
        for one, two in edges:
            # A block that only reckons with the lot's weight has an edge in the flow and no fibre.
            if {one, two} & met.limits():
                continue
            assert one in way and two in way, (lot, one, two)
            between = set(way[way.index(one) + 1 : way.index(two)])
            assert between <= met.limits() | lying, (lot, one, two, between)
        known = {end for edge in edges for end in edge} | lying | met.limits()
        known |= {met.name(origin.node)} if origin.node is not None else set()
        known |= {name for name in way if name.startswith("terminator")}
        known |= {ends[lot]} if lot in ends else set()
        single = {met.name(n.id) for n in made.flow.nodes if lot in n.lots and n.kind != "end"}
        assert set(way) <= known | single, (lot, set(way) - known - single)
        inside = {b for name in way for b in met.around(name)}
        assert set(way) & met.limits() <= inside, "a block without the lot stands in its lane"
    assert drawn == {}


@pytest.mark.parametrize("path", ALL, ids=lambda path: path.stem)
def test_each_edge_of_a_bath_is_drawn_once_and_no_other(path: Path) -> None:
    made = example(path)
    met = Met(made, opened=True)
    drawn = chains(example_drawn(path, opened=True), "bath")
    for bath in made.flow.baths:
        way = [name for part in drawn.pop(bath, []) for name in part]
        way = list(dict.fromkeys(way))
        assert way == sorted(way, key=lambda name: met.order[name])
        touched = {
            met.name(node.id)
            for node in made.flow.nodes
            if node.kind in ("step", "do")
            and (bath == node.bath or bath in node.makes or bath in {t for t, _ in node.moved})
        }
        edges = {(a, b) for a, b in met.edges("bath", bath) if {a, b} <= touched | met.limits()}
        inner = {end for edge in edges for end in edge} & touched
        assert inner <= set(way), (bath, inner - set(way))
        data = {name for name in way if name.startswith("data")}
        assert set(way) <= touched | met.limits() | data, (bath, way)
    assert drawn == {}


def lines_between(read: Read) -> list[tuple[str, str, str, str]]:
    return [(line.before, line.after, line.kind, line.carries) for line in read.whole()]


@pytest.mark.parametrize("lanes", ["both", "lot", "pot", "none"])
def test_no_line_is_drawn_twice(lanes: str) -> None:
    for made in (plan(), forty_steps(), load(EXAMPLES / "plans" / "shade-card-24.dye")):
        drawn = lines_between(dot_of(made, lanes=lanes))
        assert len(drawn) == len(set(drawn))


def test_an_order_by_hand_is_said_in_words() -> None:
    read = dot_of(load(EXAMPLES / "plans" / "greens-and-teals.dye"))
    assert "after scour.rinse" in read.says("step 16 details")


@pytest.mark.parametrize("path", ALL[:8], ids=lambda path: path.stem)
def test_a_lot_keeps_its_place_on_all_sheets(path: Path) -> None:
    """Sheets stand below each other, so a lane is as far from the left edge on all of them."""
    at: dict[str, set[float]] = {}
    for line in example_drawn(path).lines:
        if line.kind == "lot" and line.carries:
            at.setdefault(line.carries, set()).update(round(x, 1) for x, _ in line.points)
    assert at
    assert all(len(places) == 1 for places in at.values()), at


@pytest.mark.parametrize("path", ALL[:8], ids=lambda path: path.stem)
def test_a_step_stands_across_the_lanes_of_its_lots_alone(path: Path) -> None:
    made = example(path)
    met = Met(made, opened=False)
    read = example_drawn(path)
    at = {line.carries: line.points[0][0] for line in read.lines if line.kind == "lot"}
    for key, figure in met.drawing.figures.items():
        inside = {
            lot
            for lot, x in at.items()
            if any(part.box[0] <= x <= part.box[2] for part in read.parts(figure.name))
            and _there(read, lot, read.parts(figure.name)[0].box, x)
        }
        touched = {
            made.flow.lots[lot].name
            for node in made.flow.nodes
            if met.drawing.stands_for.get(node.id) == key
            for lot in (*node.lots, *node.present, *node.left)
        }
        assert inside <= touched | _limits_of(met, key), (figure.name, inside - touched)


def _limits_of(met: Met, key: int) -> set[str]:
    """The lots of a terminator; of a block's start or end all that are in it or born there."""
    figures_ = met.drawing.figures
    start = next((one for one, end in met.drawing.ends.items() if key in (one, end)), None)
    born = {
        lot
        for lot, origin in met.flow.lots.items()
        if origin.node is not None and start in figures_[met.drawing.stands_for[origin.node]].within
    }
    return {met.flow.lots[lot].name for lot in born | set(figures_[key].lots)}


def _there(read: Read, lot: str, box: tuple[float, float, float, float], x: float) -> bool:
    """True where the lot's line leads on both sides of a figure."""
    levels = [y for line in read.lines if line.carries == lot and line.kind == "lot"
              for px, y in line.points if px == x]  # fmt: skip
    return min(levels) < box[1] - 1 and max(levels) > box[3] + 1
