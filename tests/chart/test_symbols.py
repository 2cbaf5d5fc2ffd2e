"""The symbols of ISO 5807: which one stands for what, and what they look like."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from drawn import bare, dot_of, example_drawn, plan

from procedure.chart import symbols
from procedure.chart.grid import NARROWEST, grid
from procedure.chart.in_symbols import in_symbol, lane_widths
from procedure.chart.lanes import lanes as lanes_of
from procedure.chart.paper import papers
from procedure.chart.placed_symbols import PlacedSymbol, figures
from procedure.chart.threads import threads
from procedure.vocabulary import vocabulary

X, Y, W, H = 10.0, 20.0, 100.0, 40.0


def corners(symbol: str) -> list[tuple[float, float]]:
    """The corners of a straight-sided symbol in a box of 100 by 40 at 0, 0."""
    outline = symbols.outline(symbol, X, Y, W, H)[0]
    assert not outline.curved
    return [(x - X, y - Y) for x, y in outline.points]


def widths(symbol: str) -> tuple[float, float]:
    """How long the level sides at the top and at the bottom are."""
    top = [x for x, y in corners(symbol) if y == 0]
    bottom = [x for x, y in corners(symbol) if y == H]
    return max(top) - min(top), max(bottom) - min(bottom)


@pytest.mark.parametrize(
    ("step", "symbol"),
    [
        ("step 1", "process"),  # wet out
        ("step 2", "preparation"),  # prepare
        ("step 4", "delay"),  # cool
        ("step 6", "manual"),  # discard
        ("step 9", "loop-begin"),
        ("end of 9", "loop-end"),
        ("step 12", "decision"),
        ("step 15", "process"),  # do
    ],
)
def test_the_symbol_of_a_step(step: str, symbol: str) -> None:
    assert dot_of(plan()).node(step).symbol == symbol


def test_the_symbol_of_a_verb_is_the_vocabulary_s() -> None:
    """Each verb names a symbol that the chart has an outline and a legend for."""
    for verb in vocabulary().verbs.values():
        assert verb.symbol in symbols.symbols(), verb.name


def test_kept_baths_come_in_as_data() -> None:
    drawn = dot_of(plan())
    (data,) = [node.name for node in drawn.nodes if node.symbol == "data"]
    assert drawn.says(data) == "vat"
    assert drawn.says(f"{data} details") == "kept from another procedure"


def test_the_head_is_a_document() -> None:
    assert "Gold and moss" in dot_of(plan()).labels("document")


def test_process_is_a_rectangle() -> None:
    assert corners("process") == [(0, 0), (W, 0), (W, H), (0, H)]


def test_manual_operation_is_wider_above() -> None:
    top, bottom = widths("manual")
    assert top == W > bottom


def test_data_is_a_parallelogram() -> None:
    top, bottom = widths("data")
    assert top == bottom < W
    (first, *_), (*_, last) = corners("data"), corners("data")
    assert first[0] > last[0]  # it leans to the right


def test_preparation_is_a_hexagon_with_points_at_the_sides() -> None:
    points = corners("preparation")
    assert len(points) == 6
    assert (0, H / 2) in points
    assert (W, H / 2) in points


def test_decision_is_a_rhombus() -> None:
    assert sorted(corners("decision")) == sorted([(W / 2, 0), (W, H / 2), (W / 2, H), (0, H / 2)])


def test_loop_limits_are_cut_at_the_outer_corners() -> None:
    top, bottom = widths("loop begin")
    assert top < bottom == W
    top, bottom = widths("loop end")
    assert bottom < top == W


def test_predefined_process_has_bars_at_both_sides() -> None:
    whole, inner = symbols.outline("predefined", X, Y, W, H)
    assert whole == symbols.outline("process", X, Y, W, H)[0]
    sides = {x for x, _ in inner.points}
    assert X < min(sides) < max(sides) < X + W


def test_delay_is_straight_at_the_left_and_round_at_the_right() -> None:
    outline = symbols.outline("delay", X, Y, W, H)[0]
    assert outline.curved
    at_right = [y for x, y in outline.points if x == X + W]
    at_left = [y for x, y in outline.points if x == X]
    assert Y in at_left
    assert Y + H in at_left
    assert Y + H / 2 in at_right
    assert Y not in at_right
    assert Y + H not in at_right


@pytest.mark.parametrize("symbol", ["terminator", "document", "delay"])
def test_curved_outlines_close(symbol: str) -> None:
    outline = symbols.outline(symbol, X, Y, W, H)[0]
    assert outline.curved
    assert outline.points[0] == outline.points[-1]
    assert len(outline.points) % 3 == 1  # cubic curves, end to end


def test_every_symbol_and_line_names_its_source() -> None:
    room = Path(symbols.__file__).parent
    for table in ("symbols", "lines"):
        with (room / f"{table}.csv").open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                assert row["source"], row


def test_the_legend_names_all_that_is_used_and_nothing_else() -> None:
    drawn = dot_of(plan())
    named = set(drawn.labels("legend"))
    known = {
        symbol.name.replace(" ", "-"): f"{symbol.called}: {symbol.means}"
        for symbol in symbols.symbols().values()
        if symbol.name != "document"
    }
    used = {node.symbol for node in drawn.nodes}
    for symbol, said in known.items():
        assert (said in named) == (symbol in used), symbol
    kinds = {line.kind for line in drawn.lines if not line.before.startswith("legend")}
    assert {"lot", "bath"} <= kinds
    for kind, line in symbols.lines().items():
        assert (line.means in named) == (kind in kinds), kind


def test_lines_differ_by_more_than_colour() -> None:
    """In grey and to colour-blind readers fibre and liquor still differ (design 7)."""
    looks = [(line.style, line.width, line.head) for line in symbols.lines().values()]
    assert len(set(looks)) == len(looks)
    assert symbols.lines()["lot"].style != symbols.lines()["bath"].style


@pytest.mark.parametrize("symbol", ["manual", "delay", "preparation", "process"])
def test_a_symbol_in_a_narrow_lane_has_its_number(symbol: str) -> None:
    figure = PlacedSymbol(1, symbol, "a step", number="37", nodes=[plan().flow.nodes[0]])
    assert in_symbol(figure, NARROWEST * 0.8) == "37"
    assert in_symbol(figure, 8.0) == ""


@pytest.mark.parametrize("symbol", ["manual", "delay", "preparation", "process", "predefined"])
@pytest.mark.parametrize("number", ["7", "37", "112", "24.3"])
def test_a_lane_is_wide_enough_for_the_number_of_each_symbol_in_it(
    symbol: str, number: str
) -> None:
    drawing = figures(plan().flow, plan().trace)
    lanes = lanes_of(drawing, threads(drawing, "both"))
    key = next(key for key, spans in lanes.spans.items() if len(spans) == 1 and key >= 0)
    drawing.figures[key].symbol, drawing.figures[key].number = symbol, number
    (lane,) = lanes.spans[key]
    wide = lane_widths(drawing, lanes)[lane]
    names = [["a"] for _ in lanes.places]
    for paper in papers("a4", len(names)):
        form = grid(lanes, names, paper, False, 7.0, 400.0, lane_widths(drawing, lanes))
        assert in_symbol(drawing.figures[key], form.across(lane, lane)[1]) != ""
        assert form.widths[lane] >= wide - 0.01


def test_every_symbol_of_the_plans_has_its_number() -> None:
    """One part of each step's symbol, however small, tells which step it is."""
    for path in sorted((Path(__file__).parents[2] / "examples" / "plans").glob("*.dye")):
        drawn = example_drawn(path)
        steps = {
            match[1]
            for node in drawn.nodes
            if (match := re.fullmatch(r"(?:step|end of) ([\d.]+)", bare(node.name)))
        }
        for number in steps:
            parts = drawn.parts(f"step {number}")
            assert any(number in part.says.split() for part in parts), (path.stem, number)
