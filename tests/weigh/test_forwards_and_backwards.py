"""More fibre, less fibre, and the fibre that what was gathered can dye."""

# Exact fractions are held against whole numbers here, which are never quite the same type.
# mypy: disable-error-code="comparison-overlap"
from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from bench import bath, grams, plan_of, row_of, weighed

import procedure
from procedure.facts.pot_fit import fits
from procedure.model import Quantity, Step
from procedure.rework import amounts_asked_for
from procedure.rework.backwards import Backwards, most
from procedure.rework.scaling import scale, shared_out
from procedure.rework.whole_skeins import in_pieces
from procedure.rules.example_kit import whole
from procedure.weigh.cannot import CannotWeigh
from procedure.weigh.weighing import weigh

TANSY = """fibre
  yarn: wool yarn, 240 g, 4 skeins, scoured
steps
  alum-bath: prepare in kettle with water 30 : 1 of yarn, alum 10 to 12 % of yarn, tartar 14.4 g
  mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  lift yarn from alum-bath
  discard alum-bath to "foul drain"
  gold-bath: prepare in pan with water 7 L, tansy 3 : 1 of yarn
  dye yarn in gold-bath at 85 °C for 1 h
  lift yarn from gold-bath
  discard gold-bath to "foul drain"
  split yarn into gold 120 g, moss 120 g
  wash gold, moss in tub with water 10 L, soap 5 g
"""


def have(**amounts: str) -> dict[str, Quantity]:
    return {name: amounts_asked_for.amount(text, name) for name, text in amounts.items()}


def back(example: str, fixed: dict[str, Fraction] | None = None, **amounts: str) -> Backwards:
    return most(plan_of(example), have(**amounts), fixed or {})


# ------------------------------------------------------------------ forwards


def test_grams_and_litres_grow_with_the_fibre_and_shares_follow() -> None:
    scaled = scale(plan_of(TANSY), {"yarn": Fraction(600)})
    made = weigh(scaled.plan)
    assert grams(made, "tartar") == 36 and grams(made, "soap") == Fraction("12.5")
    assert made.total("alum", "mass") == (60, 72) and grams(made, "tansy") == 1800
    assert made.total("water", "volume") == (18 + Fraction("17.5") + 25,) * 2


def test_heats_times_and_pots_do_not_grow() -> None:
    plan = plan_of(TANSY)
    scaled = scale(plan, {"yarn": Fraction(600)}).plan
    for before, after in zip(plan.flow.nodes, scaled.flow.nodes, strict=True):
        for clause in ("at", "over", "lasting"):
            assert isinstance(before.step, Step) and isinstance(after.step, Step)
            assert getattr(before.step, clause) == getattr(after.step, clause)
    assert plan.model.equipment == scaled.model.equipment


def test_what_grows_is_said_in_one_line() -> None:
    said = scale(plan_of(TANSY), {"yarn": Fraction(600)}).sentence
    assert "600 g of yarn (× 2.5)" in said and "\n" not in said
    assert "materials and water grow" in said and "heats, times and pots stay" in said


def test_a_split_in_grams_grows_with_its_lot_and_still_adds_up() -> None:
    scaled = scale(plan_of(TANSY), {"yarn": Fraction(600)}).plan
    fibres = {fibre.called: fibre.grams for fibre in weigh(scaled).fibres}
    assert fibres == {"yarn": (600, 600), "gold": (300, 300), "moss": (300, 300)}
    assert not [f for f in scaled.findings if f.rule == "split-does-not-add-up"]


def test_twelve_skeins_are_three_times_four() -> None:
    plan = plan_of(TANSY)
    scaled = scale(plan, {"yarn": in_pieces(plan, "yarn", Fraction(12))}).plan
    (yarn, *_) = weigh(scaled).fibres
    assert yarn.grams == (720, 720) and yarn.pieces == (12, 12)


def test_the_model_that_was_scaled_is_left_as_it_was() -> None:
    plan = plan_of(TANSY)
    before = weigh(plan).rows
    scale(plan, {"yarn": Fraction(600)})
    assert weigh(plan).rows == before


def test_a_pot_that_became_too_small_is_found_with_even_batches() -> None:
    plan = plan_of(TANSY)
    assert not [f for f in plan.findings if f.rule == "pot-too-small"]
    scaled = scale(plan, {"yarn": Fraction(600)}).plan
    (found, *_) = [f for f in scaled.findings if f.rule == "pot-too-small"]
    # 18 L of liquor and half a litre of wool in a kettle of 15 L, which is worked at two
    # thirds (10 L): two batches; ten skeins make five and five.
    assert "2 batches of 5 pieces each" in found.remedy


def test_pieces_that_cannot_be_cut_are_shared_as_evenly_as_they_go() -> None:
    example = bath("wool yarn, 700 g, 7 skeins, scoured", "water 30 : 1 of yarn").replace(
        "2000 L", "12 L"
    )
    (fit,) = [fit for fit in fits(plan_of(example).study) if fit.bath == "the-bath"]
    # 21.56 L in a pot worked at 8 L: three batches, the largest of three skeins (9.24 L),
    # would be too much, so four: 2 + 2 + 2 + 1.
    assert fit.batches == (2, 2, 2, 1)
    assert sum(fit.batches) == 7
    assert "3 of 2 and 1 of 1 pieces" in fit.advice


def test_fibre_without_pieces_is_shared_by_weight() -> None:
    example = bath("wool yarn, 600 g, scoured", "water 30 : 1 of yarn").replace("2000 L", "15 L")
    (fit,) = [fit for fit in fits(plan_of(example).study) if fit.bath == "the-bath"]
    assert fit.advice == "Use a larger pot, or dye in 2 batches of 300 g of fibre each."


def test_liquor_by_the_pot_does_not_shrink_with_the_fibre() -> None:
    example = bath("wool yarn, 900 g, scoured", "water 19/20 of vessel").replace("2000 L", "5 L")
    (fit,) = [fit for fit in fits(plan_of(example).study) if fit.bath == "the-bath"]
    assert fit.verdict == "too small" and fit.batches == ()
    assert fit.advice == "Use a larger pot, or less liquor."


@pytest.mark.parametrize("water", [5, 8, 10, 11, 12, 13, 14, 15, 16, 30])
def test_the_finding_and_the_sheet_agree(water: int) -> None:
    example = bath("wool yarn, 200 g, scoured", f"water {water} L, weld 100 g").replace(
        "2000 L", "15 L"
    )
    plan = plan_of(example)
    (fit,) = [fit for fit in fits(plan.study) if fit.bath == "the-bath"]
    rules = {f.rule: f for f in plan.findings if f.rule in ("pot-too-small", "pot-too-full")}
    wanted = {"too small": "pot-too-small", "too full": "pot-too-full"}.get(fit.verdict)
    assert set(rules) == ({wanted} if wanted else set())
    for finding in rules.values():
        assert finding.remedy == fit.advice


def test_several_lots_share_in_the_proportion_written() -> None:
    example = """fibre
  yarn: wool yarn, 200 g, scoured
  silk: silk yarn, 100 g, scoured
steps
  alum-bath: prepare in kettle with water 9 L, alum 10 % wof
  mordant yarn, silk in alum-bath at 80 °C for 1 h
"""
    plan = plan_of(example)
    assert shared_out(plan, Fraction(600)) == {"yarn": 400, "silk": 200}
    one = weigh(scale(plan, {"yarn": Fraction(500)}).plan)
    assert grams(one, "alum") == 60
    # Nine litres for 300 g are eighteen for 600 g, whichever lot has grown.
    assert one.total("water", "volume") == (18, 18)


def test_a_stock_grows_with_the_bath_that_it_goes_into() -> None:
    example = """fibre
  yarn: wool yarn, 100 g, scoured
  silk: silk yarn, 100 g, scoured
materials
  chalk: chalk
steps
  stock: dissolve chalk 3 g in jar with water 1 L
  gold-bath: prepare in kettle with water 5 L
  add stock to gold-bath
  dye silk in gold-bath at 80 °C for 1 h
  lift silk from gold-bath
  rinse yarn in tub with water 5 L
"""
    made = weigh(scale(plan_of(example), {"silk": Fraction(300)}).plan)
    assert grams(made, "chalk") == 9
    assert [row.low for row in made.rows if row.called == "water"] == [3, 15, 5]


def test_a_lot_without_a_weight_is_worked_out_and_the_sheet_says_what_it_cannot() -> None:
    example = bath("wool yarn, scoured", "water 30 : 1 of yarn, alum 10 % of yarn, tartar 5 g")
    scaled = scale(plan_of(example), {"yarn": Fraction(200)})
    made = weigh(scaled.plan)
    assert grams(made, "alum") == 20 and grams(made, "tartar") == 5
    assert "does not say how much yarn" in scaled.sentence


def test_a_followed_procedure_grows_too(tmp_path: Path) -> None:
    (tmp_path / "mordant.dye").write_text(
        whole(
            """fibre
  yarn: wool yarn, 100 g, scoured
steps
  alum-bath: prepare in kettle with water 3 L, alum 12 % of yarn, tartar 6 g
  mordant yarn in alum-bath at 80 °C for 1 h
  lift yarn from alum-bath
  discard alum-bath to "foul drain"
"""
        ),
        encoding="utf-8",
    )
    main = tmp_path / "main.dye"
    main.write_text(
        whole(
            """fibre
  moss: wool yarn, 100 g, scoured
steps
  follow "mordant.dye" with yarn = moss, kettle = kettle
  rinse moss in tub with water 5 L
  gold-bath: prepare in pan with water 3 L, alum 1 g
  dye moss in gold-bath at 80 °C for 1 h
"""
        ),
        encoding="utf-8",
    )
    plan = procedure.load(main)
    made = weigh(scale(plan, {"moss": Fraction(250)}).plan)
    assert grams(made, "tartar") == 15
    # What both files take is bought together: 12 % of 250 g, and 1 g for each 100 g.
    assert grams(made, "alum") == 30 + Fraction("2.5")
    assert len([total for total in made.totals if total.called == "alum"]) == 1
    assert row_of(made, "tartar").file.endswith("mordant.dye")


# ------------------------------------------------------------------ repeats, ifs, blanks


def test_fibre_that_is_split_and_goes_back_into_its_bath_counts_once() -> None:
    example = bath("wool yarn, 200 g, scoured", "water 9 L, alum 10 % wof").replace(
        "  lift yarn from the-bath\n",
        "  lift yarn from the-bath\n  split yarn into gold 1/2 of yarn, moss 1/2 of yarn\n"
        "  dip moss in the-bath at 50 °C for 5 min\n",
    )
    assert grams(weighed(example), "alum") == 20


def test_what_a_repeat_adds_counts_each_time() -> None:
    made = weighed(
        bath("wool yarn, 100 g, scoured", "water 5 L").replace(
            "  lift", "  repeat 3 times\n    add alum 5 g to the-bath\n  lift", 1
        )
    )
    assert grams(made, "alum") == 15
    assert "3 times 5 g" in row_of(made, "alum").remark


def test_what_an_if_adds_stands_apart() -> None:
    made = weighed(
        bath("wool yarn, 100 g, scoured", "water 5 L, alum 10 g").replace(
            "  lift", '  if "the gold is too pale"\n    add alum 5 g to the-bath\n  lift', 1
        )
    )
    assert made.total("alum", "mass") == (10, 15)
    conditions = [(t.condition, t.low) for t in made.totals if t.called == "alum"]
    assert conditions == [("", 10), ("if “the gold is too pale”", 5)]


def test_unstated_is_a_gap_and_never_nothing() -> None:
    made = weighed(bath("wool yarn, 100 g, scoured", "water unstated, alum some, tartar 5 g"))
    gaps = {row.called: row for row in made.gaps}
    assert set(gaps) == {"water", "alum"}
    assert all(row.low is None and row.high is None for row in gaps.values())
    totals = {total.called: total for total in made.totals}
    assert totals["alum"].gaps == 1 and totals["alum"].kind == ""


def test_a_gap_leaves_the_known_part_of_a_total_and_says_so() -> None:
    made = weighed(
        bath("wool yarn, 100 g, scoured", "water 5 L, alum 5 g").replace(
            "  lift", "  add alum unstated to the-bath\n  lift", 1
        )
    )
    (alum,) = [total for total in made.totals if total.called == "alum"]
    assert (alum.low, alum.high, alum.gaps) == (5, 5, 1)


def test_what_is_gathered_and_then_used_counts_once() -> None:
    example = bath("wool yarn, 100 g, scoured", "water 5 L, tansy 300 g").replace(
        "steps\n", "steps\n  gather tansy 400 g\n  chop tansy\n"
    )
    made = weighed(example)
    assert grams(made, "tansy") == 300
    (total,) = [total for total in made.totals if total.called == "tansy"]
    assert total.how == "gather" and total.state == "fresh"


# ------------------------------------------------------------------ backwards


def test_the_scarcest_material_limits_the_fibre() -> None:
    found = back(TANSY, tansy="800 g", alum="50 g")
    # 800 g at 3 : 1 is 266 2/3 g; 50 g of alum at 12 % would do for 416 2/3 g.
    assert found.sure == {"yarn": Fraction(800, 3)} and found.first == ("tansy",)
    left = {one.called: (one.low, one.high) for one in found.left}
    assert left["alum"] == (
        50 - Fraction(800, 3) * Fraction(12, 100),
        50 - Fraction(800, 3) * Fraction(10, 100),
    )
    assert left["tansy"] == (0, 0)


def test_a_range_gives_a_sure_answer_and_a_hopeful_one() -> None:
    found = back(TANSY, alum="48 g")
    assert found.sure == {"yarn": 400} and found.with_luck == {"yarn": 480}


def test_what_is_at_hand_may_be_a_range_too() -> None:
    found = back(TANSY, tansy="600 to 900 g")
    assert found.sure == {"yarn": 200} and found.with_luck == {"yarn": 300}


def test_what_runs_out_first_may_differ_with_luck() -> None:
    found = back(TANSY, tansy="1300 g", alum="48 g")
    assert found.first == ("alum",) and found.first_with_luck == ("tansy",)


def test_a_material_of_several_baths_is_added_up() -> None:
    example = """fibre
  yarn: wool yarn, 100 g, scoured
  silk: silk yarn, 50 g, scoured
steps
  one: prepare in kettle with water 5 L, alum 10 % of yarn
  mordant yarn in one at 80 °C for 1 h
  lift yarn from one
  two: prepare in pan with water 5 L, alum 20 % of silk
  mordant silk in two at 60 °C for 1 h
"""
    found = back(example, alum="60 g")
    assert found.sure == {"yarn": 300, "silk": 150}
    beside = back(example, {"silk": Fraction(50)}, alum="60 g")
    assert beside.sure == {"yarn": 500} and beside.fixed == {"silk": 50}


def test_a_kettle_share_of_water_sets_no_limit() -> None:
    example = bath("wool yarn, 100 g, scoured", "water 1/2 of vessel, alum 10 % of yarn")
    with pytest.raises(CannotWeigh, match="Nothing limits the fibre"):
        back(example, water="1500 L")
    with pytest.raises(CannotWeigh, match="not enough"):
        back(example, water="10 L")


@pytest.mark.parametrize(
    ("amounts", "said"),
    [
        ({"tansi": "800 g"}, "Did you mean “tansy”"),
        ({"tansy": "8 L"}, "by weight"),
        ({"water": "8 g"}, "in litres"),
        ({}, "Nothing limits"),
    ],
)
def test_what_cannot_be_turned_round_is_said(amounts: dict[str, str], said: str) -> None:
    with pytest.raises(CannotWeigh, match=said):
        most(plan_of(TANSY), have(**amounts), {})


def test_a_material_that_is_unstated_cannot_limit() -> None:
    with pytest.raises(CannotWeigh, match="does not say how much alum"):
        back(bath("wool yarn, 100 g, scoured", "water 5 L, alum unstated"), alum="50 g")


def test_a_plan_whose_fibre_is_all_given_leaves_nothing_to_work_out() -> None:
    with pytest.raises(CannotWeigh, match="all fibre is given"):
        back(TANSY, {"yarn": Fraction(200)}, alum="50 g")


def test_half_of_what_a_historical_recipe_takes_is_worked_out_and_more_is_not() -> None:
    example = bath("wool yarn, 300 g, scoured", "water 6 L, chrome 9 g, madder 150 g")
    found = back(example, madder="75 g")
    assert found.sure == {"yarn": 150}
    with pytest.raises(CannotWeigh, match="more fibre than it was"):
        back(example, madder="200 g")
