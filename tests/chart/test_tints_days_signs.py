"""The colours that lots have, the days on which steps fall, and the hazard signs at their steps."""

from __future__ import annotations

import importlib.util
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from drawn import dot_of, of_steps, plan, read_dot

from procedure import load
from procedure.chart import draw
from procedure.chart import tints as room
from procedure.chart.days import days, never_back, nights, planned, said
from procedure.chart.in_time import by_days
from procedure.chart.placed_symbols import figures
from procedure.chart.signs import patches
from procedure.chart.signs_of_steps import signs
from procedure.chart.tints import Tint, tints
from procedure.colour.space import from_hex
from procedure.facts.lot_colours import expected
from procedure.flow import Flow
from procedure.paper.hazard_signs import called
from procedure.trace.states import LotState
from procedure.vocabulary.data_files import rows

PLANS = Path(__file__).parents[2] / "examples" / "plans"
SHAPES = {"path", "ellipse", "circle", "rect", "polygon", "polyline", "line", "use"}
GREENS = PLANS / "greens-and-teals.dye"


def told(flow: Flow, lot: LotState) -> Tint | None:
    """Colours of our own for the test: yellow from weld, blue from woad, not known of both."""
    del flow
    dyes = set(lot.dyes)
    if dyes == {"weld"}:
        return Tint("straw", "#d4af37")
    return Tint("sky", "#436b95") if dyes == {"woad"} else None


def test_a_step_changes_the_colour_of_its_lots_alone() -> None:
    made = load(GREENS)
    drawing = figures(made.flow, made.trace)
    changed = tints(drawing, made.trace, told)
    by_name = {drawing.figures[key].name: lots for key, lots in changed.items()}
    straw = Tint("straw", "#d4af37")
    assert by_name["step 9"] == dict.fromkeys(("lemon", "leaf", "sea", "teal"), straw)
    assert by_name["step 20"] == dict.fromkeys(("leaf", "sea", "teal"))


def test_a_colour_stands_behind_the_line_with_its_name_beside_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(room.tints, "__defaults__", (told,))
    made = load(GREENS)
    drawn = dot_of(made)
    assert drawn.says("step 9 colour 1") == "4 lots: about straw"
    svg = made.chart()
    assert isinstance(svg, str)
    bands = svg.count('fill="#d4af37"')
    assert bands >= 5  # the swatch beside the name, and a band in each of four lanes
    assert "about the fibre’s colour" in drawn.labels("legend")


def test_a_lot_of_no_known_colour_has_no_band(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room.tints, "__defaults__", (lambda flow, lot: None,))
    drawn = dot_of(load(GREENS))
    assert drawn.labels("colour") == []
    assert "about the fibre’s colour" not in drawn.labels("legend")


def test_a_colour_is_that_of_the_vocabulary() -> None:
    """Weld on wool with alum, as the table of colours has it (its source is in its row)."""
    made = load(GREENS)
    (row,) = [
        row
        for row in rows("colours")
        if (row["dyestuff"], row["fibre"], row["mordant"], row["after"], row["part"])
        == ("weld", "protein", "aluminium", "", "")
    ]
    lots = made.trace.final.lots
    assert room.colour_of(made.flow, lots["lemon"]) == Tint(row["colour"], row["hex"])
    assert room.colour_of(made.flow, lots["yarn"]) is None


# ---------------------------------------------------------------- days


@pytest.mark.parametrize(
    ("minutes", "counted"), [(0, 0), (240, 0), (480, 1), (960, 1), (1440, 1), (2880, 2), (10080, 7)]
)
def test_nights(minutes: float, counted: int) -> None:
    """Eight hours is the shortest night (the vocabulary's overnight: 8 to 16 h)."""
    assert nights(minutes) == counted


def test_days_are_counted_by_the_nights_between() -> None:
    made = plan()
    drawing = figures(made.flow, made.trace)
    by_name = {
        drawing.figures[k].name: day for k, day in days(made.trace, drawing.stands_for).items()
    }
    assert by_name["step 4"] == (1, 1)
    assert by_name["step 5"] == (2, 2)
    assert [said((1, 1)), said((3, 5))] == ["1", "3–5"]


def test_the_days_stand_at_the_side() -> None:
    drawn = dot_of(plan())
    days_ = [node for node in drawn.nodes if node.symbol == "day"]
    assert [node.says for node in days_] == ["day", "1", "2"]
    assert days_[2].box[1] < days_[1].box[1]
    assert max(node.box[2] for node in days_) < drawn.parts("step 2")[0].box[0]


def test_work_of_one_day_has_no_days() -> None:
    assert dot_of(of_steps("rinse yarn in tub with water 5 L\n")).labels("day") == []


def test_days_that_are_given_are_those_at_the_side() -> None:
    """A figure for several steps has their first and last day, and no days make no axis."""
    assert planned({1: 2, 2: 1, 3: 4}, {1: 10, 2: 10, 3: 11, 4: 12}) == {10: (1, 2), 11: (4, 4)}
    assert planned({1: 1, 2: 1}, {1: 1, 2: 2}) == {}
    made = plan()
    begun = {node.id: 3 if node.id < 9 else 5 for node in made.flow.nodes}
    text = draw(made, "dot", on_days=begun)
    assert isinstance(text, str)
    assert read_dot(text).labels("day") == ["day", "3", "5"]
    assert "as planned" in text and "nights written" not in text
    bare = draw(made, "dot", on_days={})
    assert isinstance(bare, str) and read_dot(bare).labels("day") == []


def test_no_day_comes_again_after_a_later_one() -> None:
    """Steps that go to and fro between days have all of those days together."""
    order = [1, 2, 3, 4, 5, 6]
    told = {1: (1, 1), 2: (3, 3), 3: (2, 2), 4: (3, 3), 6: (4, 5)}
    assert never_back(told, order) == {1: (1, 1), 2: (2, 3), 3: (2, 3), 4: (3, 3), 6: (4, 5)}
    every = {1: (1, 4), 2: (2, 2), 3: (5, 5)}
    assert never_back(every, order) == {1: (1, 4), 2: (1, 4), 3: (5, 5)}


def test_steps_of_an_earlier_day_are_above_those_of_a_later_one() -> None:
    """Two lots in two pots, the second begun a day before the first: the text has them the other
    way round."""
    made = of_steps(
        "split yarn into one 40 g, two 60 g\n"
        "wet out one in tub with water 5 L at 30 °C for 1 h\n"
        "dry one\n"
        "wet out two in kettle with water 5 L at 30 °C for 1 h\n"
        "dry two\n"
    )
    day = {1: 1, 2: 2, 3: 2, 4: 1, 5: 2}
    begun = {node.id: day[node.step.number] for node in made.flow.nodes}
    drawing = by_days(figures(made.flow, made.trace), begun)
    numbers = [figure.number for figure in drawing.figures.values() if figure.number]
    assert numbers == ["1", "4", "2", "3", "5"]
    backwards = {node.id: 9 - day[node.step.number] for node in made.flow.nodes}
    kept = by_days(figures(made.flow, made.trace), backwards)  # a lot cannot be dried before
    numbers = [figure.number for figure in kept.figures.values() if figure.number]
    assert numbers.index("2") < numbers.index("3") and numbers.index("4") < numbers.index("5")
    assert numbers[0] == "1"


SHEETS = [*PLANS.glob("*.dye"), *sorted(PLANS.parent.glob("*.dye"))]


def starts(told: str) -> tuple[int, int]:
    """The first and the last day of a mark at the side."""
    first, _, last = told.partition("–")
    return int(first), int(last or first)


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_the_days_of_an_example_do_not_run_backwards(path: Path) -> None:
    """By days of our own that go to and fro (each third step a day before the one above)."""
    made = load(path)
    begun = {node.id: 2 + place // 4 - place % 3 // 2 for place, node in enumerate(made.flow.nodes)}
    text = draw(made, "dot", on_days=begun)
    assert isinstance(text, str)
    marks = [node for node in read_dot(text).nodes if node.symbol == "day" and node.says != "day"]
    told = [starts(node.says) for node in marks]
    assert told
    for one, two in pairwise(told):
        assert one == two or one[1] <= two[0], told


# ---------------------------------------------------------------- signs


def test_a_step_with_a_dangerous_material_has_its_signs() -> None:
    """Copperas is H302, H315, H319: the exclamation mark (Regulation (EC) No 1272/2008)."""
    made = load(PLANS / "shade-card-24.dye")
    drawing = figures(made.flow, made.trace)
    found = {
        drawing.figures[key].name: codes
        for key, codes in signs(made.study, drawing.stands_for).items()
    }
    assert found["step 19"] == ("GHS07",)
    assert "step 17" not in found
    assert f"hazard: {called()['GHS07']}" in dot_of(made).labels("legend")


DILUTED = ("GHS07",)  # below each limit of a label, and nothing for bare hands all the same
SKULL = ("GHS06",)
THINGS = """materials
  alum: potassium alum
  weld: weld, dried
  indigo: natural indigo
  iron: ferrous sulphate
  lime: slaked lime
  tin: stannous chloride
  tansy: tansy tops, dried
  foxglove: foxglove leaves, dried
steps
"""
LIME_VAT = """
  vat: prepare in kettle with water 12 L, indigo 12 g, iron 24 g, lime 36 g
  stand vat overnight covered
  dip yarn in vat for 5 min
  air yarn for 15 min
  rinse yarn in tub with water 8 L
  keep vat as old-vat
"""
TIN_BATH = """
  bath: prepare in kettle with water 6 L, weld 100 g, tin 2 g
  simmer bath at 85 °C for 1 h
  cool bath to 30 °C
  strain bath
  dye yarn in bath from 30 °C to 50 °C for 1 h
  rinse yarn in tub with water 8 L
  discard bath to "foul drain"
"""
PLANT_BATH = TIN_BATH.replace(", tin 2 g", "")
IRON_BATH = """
  bath: prepare in kettle with water 6 L, iron 2 g
  dye yarn in bath at 40 °C for 10 min
  rinse yarn in tub with water 8 L
  discard bath to "foul drain"
"""


@pytest.mark.parametrize(
    ("steps", "wanted"),
    [
        (LIME_VAT, [("GHS05", "GHS07"), (), *[DILUTED] * 4]),
        (TIN_BATH, [("GHS05", "GHS07", "GHS08"), DILUTED, (), *[DILUTED] * 4]),
        (IRON_BATH, [DILUTED, (), (), ()]),
        (PLANT_BATH, [()] * 7),
        (PLANT_BATH.replace("weld", "tansy"), [DILUTED] * 7),
        (PLANT_BATH.replace("weld", "foxglove"), [SKULL] * 7),
    ],
    ids=["lime", "tin", "copperas", "weld", "tansy", "foxglove"],
)
def test_every_step_that_meets_what_is_diluted_has_its_sign(
    steps: str, wanted: list[tuple[str, ...]]
) -> None:
    """No step goes without because its bath is below the limits of a label.

    Lime is H318, tin H314 and H373, copperas H302, H315, H319 (Regulation (EC) No 1272/2008):
    copperas is graver in its jar than in a weak bath. Tansy and foxglove have no label.
    """
    made = of_steps(THINGS + steps)
    found = signs(made.study, {node.id: node.id for node in made.flow.nodes})
    assert [found.get(node.id, ()) for node in made.flow.nodes] == wanted


@pytest.mark.parametrize("code", [f"GHS0{number}" for number in range(1, 10)])
def test_each_pictogram_is_a_red_diamond_with_black_in_it(code: str) -> None:
    """Annex 1 of the GHS: a black symbol on white in a red square set at a point."""
    found = patches(code)
    fills = [patch.fill for patch in found]
    assert "#ff0000" in fills
    assert "#000000" in fills
    for patch in found:
        for x, y in patch.outline.points:
            assert -0.02 <= x <= 1.02
            assert -0.02 <= y <= 1.02
        assert patch.outline.points[0] is not None
    red = next(patch.outline.points for patch in found if patch.fill == "#ff0000")
    assert max(x for x, _ in red) - min(x for x, _ in red) > 0.9


def test_every_path_of_the_pictograms_is_drawn() -> None:
    """Held against the package's own SVG files: as many filled shapes, none left out."""
    spec = importlib.util.find_spec("ghs_hazard_pictogram")
    assert spec is not None and spec.submodule_search_locations
    folder = Path(spec.submodule_search_locations[0]) / "pictograms"
    for number in range(1, 10):
        root = ElementTree.parse(folder / f"ghs0{number}.svg").getroot()
        kinds = [each.tag.rsplit("}", 1)[-1] for each in root.iter()]
        shapes = [kind for kind in kinds if kind in SHAPES]
        assert set(shapes) <= {"path", "ellipse"}
        assert len(patches(f"GHS0{number}")) >= len(shapes)


SIX = PLANS / "six-lots-three-baths.dye"


def test_one_colour_over_another_is_said_as_an_estimate() -> None:
    """Red over yellow is orange (common practice), and no source gives its measure."""
    made = load(SIX)
    lots = made.trace.final.lots
    coral, plum = (room.colour_of(made.flow, lots[name]) for name in ("coral", "plum"))
    assert coral is not None and "orange" in coral.said
    assert coral.said.endswith("an estimate") and plum is not None and "an estimate" in plum.said
    drawn = dot_of(made)
    assert drawn.says("step 17 colour 2") == f"coral: {coral.said}"
    shade = expected(made.flow, lots["coral"])
    red, yellow = (from_hex(one) for one in ("#bc3f4a", "#f3c300"))  # madder and weld by themselves
    assert shade is not None and red.hue < from_hex(shade.hex).hue < yellow.hue


def test_a_dyed_lot_whose_colour_nobody_knows_is_marked() -> None:
    made = load(PLANS.parent / "tansy-gold-and-moss.dye")
    drawn = dot_of(made)
    assert "dyed, its colour not known" in drawn.labels("legend")
    assert not any(label.endswith(": colour not known") for label in drawn.labels("colour"))
