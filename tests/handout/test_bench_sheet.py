"""The bench sheet: no clock that runs backwards, vessels as they are, and labels for vats."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

from papers import EXAMPLES, METRIC, loaded, plan_of
from pypdf import PdfReader

from procedure.handout import bench, labels_paper, short
from procedure.handout.bench import PROPOSED, RULES
from procedure.handout.contents import telling_of
from procedure.handout.first_aid import SCALDS
from procedure.handout.labels import labels
from procedure.handout.nights import said_at_steps
from procedure.handout.numbered_steps import tell
from procedure.paper import in_pdf, in_text
from procedure.paper.blocks import StepCards
from procedure.paper.pieces import plain_text

SIX = next(path for path in EXAMPLES if path.stem == "six-lots-three-baths")
FOR_ONE = f"{PROPOSED} It is planned for one person, in the hours 9:00-18:00."
STRAIGHT = next(path for path in EXAMPLES if path.stem == "gall-grey-linen")


def sheet(example: str) -> str:
    return in_text.page(bench.paper(bench.bench(plan_of(example), METRIC)))


def labelled(example: str) -> str:
    return in_text.page(labels_paper.paper(labels(plan_of(example), METRIC)))


def test_where_the_clock_would_run_backwards_the_days_are_told_at_the_head() -> None:
    made = bench.bench(loaded(SIX), METRIC)
    assert made.days[0].startswith("Day 1, ") and made.days[-1] == FOR_ONE
    assert not any(
        "day\u00a0" in part for line in made.lines for part in line.how if isinstance(part, str)
    )


def test_where_it_runs_on_each_step_has_its_time() -> None:
    made = bench.bench(loaded(STRAIGHT), METRIC)
    assert made.days == (FOR_ONE,)
    timed = [line for line in made.lines if any("day\u00a0" in str(part) for part in line.how)]
    assert len(timed) == len(made.lines)


def test_a_bath_is_kept_in_its_jar_and_not_in_the_pot() -> None:
    steps = (
        "a: prepare in kettle with water 3 L, alum 10 g\n"
        "keep a as old-mordant in jar labelled\nclean kettle"
    )
    assert "in jar · as “old mordant”" in sheet(steps)
    assert "called “old mordant”" in labelled(steps)


def test_a_vat_has_a_label_and_so_has_what_is_carried_away() -> None:
    vat = "v: prepare in kettle with water 3 L, indigo 3 g, soda 5 g, fructose 5 g\n"
    assert "Vat of indigo 1 g/L" in labelled(f'{vat}discard v to "foul drain"')
    bath = "a: prepare in kettle with water 3 L, iron 3 g\n"
    assert "Bath of ferrous sulphate" not in labelled(f'{bath}discard a to "foul drain"')
    carried = f'{bath}discard a to "the collection point, in a can"'
    assert "Bath of ferrous sulphate 1 g/L" in labelled(carried)


def test_no_danger_is_left_off_the_wall() -> None:
    said = sheet(
        "a: prepare in kettle with water 3 L, oxalic 3 g, iron 3 g, indigo 3 g, madder 3 g "
        "stirring fixed\nadd copper 1 g to a\ndip yarn in a for 5 min\n"
        'rinse yarn in tub with water 3 L\ndiscard a to "the hazardous waste point"\ndry yarn'
    )
    flat = " ".join(said.split())
    for name in ("oxalic acid", "ferrous sulphate", "copper sulphate", "indigo", "madder"):
        assert name in flat.split("of fibre")[0], name
    assert "raises a dust" in flat and "Not for children" in flat
    assert "This water holds the metal too" in flat
    assert "these amounts for any weight of fibre" in flat and "· fixed" not in flat


def test_what_is_lifted_is_lifted_from_its_bath() -> None:
    said = sheet(
        "gold-bath: prepare in kettle with water 3 L, weld 30 g\n"
        "put yarn in gold-bath at 40 °C for 1 h\nlift yarn from gold-bath\ndry yarn"
    )
    assert "from gold bath" in " ".join(said.split())


def test_a_line_that_was_not_understood_is_on_the_wall_too() -> None:
    said = sheet("wet out yarn in tub with water 5 L for 1 h\nfrobnicate yarn\ndry yarn")
    assert "2  This step was not understood: “frobnicate yarn”." in said


def test_a_wait_for_the_next_day_is_told_once() -> None:
    said = sheet("a: prepare in kettle with water 3 L, weld 30 g\nstand a until-next-day covered")
    flat = " ".join(said.split())
    assert "until the next day" in flat and "until-next-day" not in flat


IN_A_BAG = (
    'a: prepare in kettle with water 3 L, onion 30 g note "red skins apart from yellow ones"\n'
    "strain a through net\n"
    'dye yarn in a at 60 °C for 45 min note "turn it every five minutes"'
)


def test_what_it_is_strained_through_and_every_note_are_on_the_wall() -> None:
    said = " ".join(sheet(IN_A_BAG).split())
    assert "in kettle · through net" in said
    assert "red skins apart from yellow ones" in said
    assert "in a · at 60 °C (140 °F) · for 45 minutes · turn it every five minutes" in said


def test_what_is_done_three_times_has_three_boxes_and_the_rest_none() -> None:
    made = bench.bench(plan_of(f"{IN_A_BAG}\nrepeat 3 times\n  dip yarn in a for 5 min"), METRIC)
    assert [line.boxes for line in made.lines] == [0, 0, 0, 0, 3]
    (steps,) = bench.paper(made).sections[-1].blocks
    assert isinstance(steps, StepCards) and steps.cards[-1].inner[0].boxes == 3


BAGGED = next(path for path in EXAMPLES if path.stem == "tansy-on-two-mordants")


def _said(path: Path) -> str:
    return " ".join(in_text.page(bench.paper(bench.bench(loaded(path), METRIC))).split())


def test_the_nights_are_told_at_their_steps_and_what_comes_out_before_them() -> None:
    """Plants that harm are out overnight; of a bag, the bag (common practice)."""
    said = _said(BAGGED)
    assert "The tansy bath stands overnight: lift the bag out, lid on, labelled." in said
    assert "Lift the bag out of it before you go, hot if need be." in said
    told = _said(SIX)
    assert "The weld bath is cold by morning: warm it to 40 °C" in told
    assert told.index("stands overnight") > told.index("Mordant ground")


_MATTER = """procedure "All kinds of matter"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
  jar: glass jar, 5 L, for dyeing only
  bag: net bag, for dyeing only
materials
  weld: weld tops, dried
  madder: madder root, dried
  soap: neutral soap
steps
  fill bag with weld 50 g
  b: prepare in pot with water 3 L, madder 50 g
  lower bag into b
  boil b for 10 min
  take bag out of b
  lift madder out of b
  draw off 1 L of b into jar as little
  add soap 2 g to b
  discard 1/4 of b to "drain"
  split yarn into left 50 g, right 50 g
  join left, right as whole
"""


def test_a_title_names_what_is_really_handled() -> None:
    """No bath is lifted out where its bag or its plants are, and no part of it is all of it."""
    said = sheet(_MATTER)
    for title in (
        "Lower bag into b",
        "Take out bag from b",
        "Lift out the madder root from b",
        "Draw off b 1 L of the b · from pot · into jar · as “little”",
        "Boil b in pot · at 95 to 100 °C",
        "Add to b 2 g of neutral soap",
        "Discard b a quarter of the b, 500 mL · from pot · drain",
        "Join left and right as one lot, whole",
    ):
        assert title in " ".join(said.split()), title


def test_the_wall_has_first_aid_in_print_too() -> None:
    printed = in_pdf.printed(bench.paper(bench.bench(loaded(BAGGED), METRIC)))
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(printed)).pages)
    assert "Swallowed: rinse the mouth" in " ".join(text.split())
    assert "Poison centre:" in text


def test_the_stages_have_their_headings_on_the_wall() -> None:
    stages = [line.stage for line in bench.bench(loaded(SIX), METRIC).lines if line.stage]
    assert len(stages) == 5


def test_a_night_after_repeated_dips_is_told_of_the_last() -> None:
    """The vat is in use until the last dip: no night falls between the first and the second."""
    plan = plan_of(
        "wet out yarn in tub with water 3 L for 1 h\n"
        "v: prepare in kettle with water 3 L, indigo 3 g, soda 5 g, fructose 5 g\n"
        "repeat 3 times\n  dip yarn in v at 50 °C for 5 min\n  air yarn for 15 min\n"
        'discard v to "foul drain"'
    )
    telling = telling_of(plan, METRIC)
    tell(telling)
    last = len(plan.flow.nodes) - 1
    said = said_at_steps(telling, {n.id: 2 if n.id == last else 1 for n in plan.flow.nodes})
    told = [plain_text(one.beside((one.number,)), METRIC) for one in said]
    assert told == ["After the last time the v stands overnight: lid on, labelled."]


def test_what_is_minded_at_two_joined_steps_is_said_once() -> None:
    plan = plan_of(
        "wet out yarn in tub with water 3 L for 1 h\n"
        "t: prepare in kettle with water 3 L, tin 3 g\n"
        "mordant yarn in t from 30 °C to 80 °C over 45 min for 1 h\n"
        "rinse yarn in tub with water 3 L at 30 °C\n"
        'discard t to "the collection of hazardous waste"\n'
        "rinse yarn in tub with water 3 L at 30 °C for 2 min\n"
        "rinse yarn in tub with water 3 L at 30 °C for 3 min"
    )
    said = " ".join(in_text.page(short.paper(plan, METRIC)).split())
    rest = "This water may still hold some of the metal"
    assert said.count(rest) == 1


def test_a_bath_that_is_moved_is_poured_into_its_pot() -> None:
    said = sheet(
        "a: prepare in kettle with water 3 L, onion 100 g\ntransfer a to pan\nboil a for 1 h"
    )
    assert "Pour a into pan" in said and "Add to" not in said
    # What is added to a bath is added still.
    assert "Add to a" in sheet(
        "a: prepare in kettle with water 3 L, onion 100 g\nadd alum 5 g to a"
    )


def test_a_hot_bath_brings_what_to_do_for_scalds_and_a_cold_one_does_not() -> None:
    hot = "a: prepare in kettle with water 3 L, alum 10 g\nmordant yarn in a at 80 °C for 1 h"
    assert SCALDS in " ".join(sheet(hot).split())
    assert "Scalds" not in sheet(hot.replace("80 °C", "40 °C"))


def test_local_rules_and_pots_for_dye_alone_are_on_every_sheet() -> None:
    assert RULES in " ".join(sheet("rinse yarn in tub with water 5 L at 30 °C").split())
