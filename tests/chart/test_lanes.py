"""Lanes: one for each lot and each pot, at the same place on every sheet, in a good order."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest
from drawn import Read, bare, dot_of, example_drawn, of_steps, plan
from hypothesis import given
from hypothesis import strategies as st
from test_sheets import forty_steps

from procedure.chart.grid import NAME
from procedure.chart.heads import together
from procedure.chart.lettering import width
from procedure.chart.ordering import Crossing, crossings, ordered
from procedure.chart.rows import in_lines


def lanes_of(drawn: Read) -> dict[str, set[str]]:
    """What stands in each lane alone, by the words at its head."""
    found: dict[str, set[str]] = {}
    for words, names in drawn.lanes.values():
        found.setdefault(words, set()).update(names)
    return found


def test_a_lane_for_each_lot_and_each_pot_with_a_bath() -> None:
    """The tub has water alone, so it has no lane; a kept bath without a pot has its own.

    The lane of the yarn is headed by the gold that it becomes.
    """
    lanes = lanes_of(dot_of(plan(), sheet="roll"))
    assert set(lanes) == {"gold", "moss", "kettle", "vat"}
    assert {"step 2", "step 6", "step 7"} <= lanes["kettle"]
    assert {"step 1", "step 5"} <= lanes["gold"]  # which goes on where the yarn was
    assert {"step 11", "step 14"} <= lanes["moss"]


def test_lanes_by_lot() -> None:
    lanes = lanes_of(dot_of(plan(), lanes="lot", sheet="roll"))
    assert set(lanes) == {"gold", "moss", "other steps"}
    assert {"step 2", "step 6", "step 7"} <= lanes["other steps"]
    assert {"step 1", "step 3", "step 4"} <= lanes["gold"]


def test_lanes_by_pot() -> None:
    lanes = lanes_of(dot_of(plan(), lanes="pot", sheet="roll"))
    assert {"step 1", "step 5", "step 16", "step 17"} <= lanes["tub"]
    assert {"step 2", "step 3", "step 4", "step 6", "step 7"} <= lanes["kettle"]
    assert {"step 8", "step 11", "step 18"} <= lanes["other steps"]


def test_no_lanes() -> None:
    drawn = dot_of(plan(), lanes="none", sheet="roll")
    assert drawn.labels("lane") == []
    assert {line.kind for line in drawn.lines if not line.before.startswith("legend")} == {
        "order",
        "no",
    }


def test_a_step_on_two_lots_stands_in_both_lanes() -> None:
    drawn = dot_of(plan(), sheet="roll")
    one, both = drawn.parts("step 1"), drawn.parts("step 16")
    assert len(one) == 1
    wide = sum(part.box[2] - part.box[0] for part in both)
    assert wide > 1.8 * (one[0].box[2] - one[0].box[0])


def test_the_dye_does_not_go_through_the_rinse() -> None:
    bath = {end for ends in dot_of(plan()).between("bath") for end in ends}
    assert "step 6" in bath
    assert "step 5" not in bath


def test_a_lot_ends_where_it_is_split() -> None:
    """What is measured of the yarn after that is no yarn any more."""
    drawn = dot_of(of_steps(
        "split yarn into one 40 g, two 60 g\n"
        "alum-bath: prepare in kettle with water 30 : 1 of yarn, alum 12 % of yarn\n"
        "mordant one, two in alum-bath at 80 °C for 1 h\n"
    ))  # fmt: skip
    ends = {line.after for line in drawn.whole() if line.carries == "yarn"}
    assert ends == {"step 1"}


def test_a_name_stands_where_a_lot_is_born() -> None:
    drawn = dot_of(plan())
    born = {node.says for node in drawn.nodes if node.name.startswith("step 8 gives")}
    assert born == {"gold", "moss"}


@pytest.mark.parametrize("lots", [6, 12, 30])
def test_many_lots_are_all_drawn(lots: int) -> None:
    names = [f"lot-{n}" for n in range(lots)]
    steps = f"split yarn into {', '.join(f'{name} 1 g' for name in names)}\n"
    steps += "".join(f"rinse {name} in tub with water 5 L\n" for name in names)
    drawn = dot_of(of_steps(steps + f"dry {', '.join(names)}\n"))
    places = {
        round(line.points[0][0], 1)
        for line in drawn.lines
        if line.kind == "lot" and line.carries.startswith("lot-")
    }
    assert len(places) == lots
    for number in range(1, lots + 3):
        assert drawn.has(f"step {number}")


def test_a_lane_is_at_one_place_on_all_sheets() -> None:
    heads: dict[str, set[float]] = {}
    for node in dot_of(forty_steps()).nodes:
        if node.symbol == "lane":
            heads.setdefault(node.says, set()).add(round(node.box[0], 1))
    assert len(heads) >= 5
    assert all(len(places) == 1 for places in heads.values())


# ---------------------------------------------------------------- who lives in a lane

CARD = Path(__file__).parents[2] / "examples" / "plans" / "shade-card-24.dye"


def test_lines_side_by_side_have_letters_and_a_key() -> None:
    """The six samples of the soda bath: each has a letter above its line, told beside the heads."""
    drawn = example_drawn(CARD)
    (key,) = drawn.labels("key")
    assert key == (
        "lines side by side: a bare short, b bare long, c alumed short, d alumed long, "
        "e leafed short, f leafed long"
    )
    heads = [node.says for node in drawn.nodes if node.symbol == "lane"]
    assert {"bright ×6", "sad ×6", "sour ×6", "plain ×3", "alumed short plain"} <= set(heads)
    tops = [
        (node.says, (node.box[0] + node.box[2]) / 2)
        for node in drawn.nodes
        if node.symbol == "letter" and " sheet " in bare(node.name)
    ]
    ends = {round(line.points[0][0], 1): line.carries for line in drawn.lines if line.kind == "lot"}
    assert sorted(letter for letter, _ in tops) == sorted("abcdef" * 3 + "bdf")
    stems = dict(each.split(" ", 1) for each in key.split(": ", 1)[1].split(", "))
    last = {"a": "bare", "c": "alumed", "e": "leafed"}
    for letter, x in tops:
        assert round(x, 1) in ends
        assert stems[letter].startswith(last.get(letter, stems[letter].split()[0]))
    for line in drawn.lines:
        if line.kind == "lot" and line.carries.count(".") > 1:
            stem = line.carries.rsplit(".", 1)[0].replace(".", " ")
            above = [letter for letter, x in tops if abs(x - line.points[0][0]) < 0.1]
            assert not above or stems[above[0]] == stem


def test_a_lane_alone_needs_no_letter() -> None:
    drawn = dot_of(plan())
    assert drawn.labels("key") == [] and drawn.labels("letter") == []


def test_lots_one_after_another_in_a_lane_are_both_at_its_head() -> None:
    assert together(["madder"]) == "madder"
    assert together(["bare.short.plain"]) == "bare short plain"
    assert together(["madder", "weld"]) == "madder, weld"
    assert together(["one", "two", "three"]) == "3 lots"


# ---------------------------------------------------------------- the order


@given(st.data())
def test_the_order_is_as_good_as_the_best_of_all_for_few_lanes(data: st.DataObject) -> None:
    """Held against every order of four lanes; a move of one lane at a time may miss a little."""
    number = 4
    some = st.frozensets(st.integers(0, number - 1), min_size=1)
    steps = [
        Crossing(stands, data.draw(some) - stands)
        for stands in data.draw(st.lists(some, min_size=1, max_size=6))
    ]
    found = ordered([[lane] for lane in range(number)], steps)
    assert sorted(found) == list(range(number))
    given_order = crossings(list(range(number)), steps)
    best = min(crossings(list(each), steps) for each in permutations(range(number)))
    assert best <= crossings(found, steps) <= max(given_order, best)


def test_lanes_that_share_steps_come_together() -> None:
    """Three pairs, given as far apart as can be: none is left that reaches over another."""
    pairs = [frozenset((0, 3)), frozenset((1, 4)), frozenset((2, 5))]
    every = frozenset(range(6))
    steps = [Crossing(pair, every - pair) for pair in pairs]
    found = ordered([[lane] for lane in range(6)], steps)
    assert crossings(list(range(6)), steps) > 0
    assert crossings(found, steps) == 0


@pytest.mark.parametrize(
    ("name", "room", "lines"),
    [
        ("gold", 40.0, ("gold",)),
        ("leafed fifteen-minutes", 46.0, ("leafed", "fifteen-", "minutes")),
        ("left-plain-without-an-after-bath", 34.0, ("left…", "bath")),
        ("saddened-with-copperas-for-ten-minutes ×6", 34.0, ("sadde…", "minutes", "×6")),
    ],
)
def test_a_long_name_at_a_head_is_its_first_and_its_last_word(
    name: str, room: float, lines: tuple[str, ...]
) -> None:
    """No tower of torn syllables: at most a few lines, none wider than its lane."""
    found = in_lines(name, room, bold=True)
    assert found == lines
    assert all(width(line, NAME, bold=True) <= room for line in found)
