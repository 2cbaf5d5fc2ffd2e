"""One material for another: by its metal, by the handbook's table, fresh, dried, dissolved."""

# Exact fractions are held against whole numbers here, which are never quite the same type.
# mypy: disable-error-code="comparison-overlap"
from __future__ import annotations

from fractions import Fraction

import pytest
from bench import bath, grams, plan_of, row_of
from molmass import Formula

from procedure.rework.swapping import swap
from procedure.vocabulary.library import rows
from procedure.weigh.cannot import CannotWeigh
from procedure.weigh.weighing import Row, weigh

ALUM = bath("wool yarn, 200 g, scoured", "water 5 L, alum 12 % of yarn")


def after(example: str, name: str, other: str) -> Row:
    return row_of(weigh(swap(plan_of(example), name, other).plan), name)


def moles(grams: float, formula: str, water: int, metals: int) -> float:
    """Moles of metal in so much salt, by molmass."""
    weight = float(Formula(formula).mass) + water * float(Formula("H2O").mass)
    return grams / weight * metals


def test_aluminium_sulphate_for_alum_brings_as_many_moles_of_aluminium() -> None:
    row = after(ALUM, "alum", "aluminium sulphate")
    assert row.material == "aluminium sulphate" and row.low is not None
    before = moles(24, "KAl(SO4)2", 12, 1)
    assert moles(float(row.low), "Al2(SO4)3", 18, 2) == pytest.approx(before, rel=1e-4)
    # About 17 g for 24 g, as hand tables have it (0.70; from memory, unverified).
    assert float(row.low) == pytest.approx(16.86, abs=0.01)


def test_the_label_may_give_another_water_of_crystals() -> None:
    row = after(ALUM, "alum", "Al2(SO4)3·14H2O")
    assert row.material == "aluminium sulphate" and row.low is not None
    assert moles(float(row.low), "Al2(SO4)3", 14, 2) == pytest.approx(
        moles(24, "KAl(SO4)2", 12, 1), rel=1e-4
    )


def test_a_swap_says_by_what_sum() -> None:
    said = swap(plan_of(ALUM), "alum", "aluminium sulphate").sentence
    for piece in ("Al2(SO4)3·18H2O", "KAl(SO4)2·12H2O", "666.40 ÷ 2", "474.37", "× 0.7024"):
        assert piece in said
    assert "the label has the formula" in said


def test_a_swap_is_judged_again() -> None:
    swapped = swap(plan_of(ALUM.replace("12 %", "25 %")), "alum", "aluminium acetate").plan
    assert swapped.model.materials["alum"].called == "aluminium acetate"
    assert {f.rule for f in swapped.findings} != {f.rule for f in plan_of(ALUM).findings}


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # Washing soda holds ten waters: 286.14 g for 105.99 g (CRC Handbook; from memory).
        ("soda ash", "washing soda", 286.14 / 105.99),
        ("washing soda", "soda ash", 105.99 / 286.14),
    ],
)
def test_soda_with_and_without_its_water(one: str, other: str, ratio: float) -> None:
    example = bath("cotton yarn, 1 kg, scoured", "water 30 L, salt 10 g", f"  salt: {one}")
    row = after(example, "salt", other)
    assert row.low is not None and float(row.low) == pytest.approx(10 * ratio, rel=1e-3)


def test_dried_for_fresh_by_the_vocabularys_ratio_is_a_range_and_rough() -> None:
    example = bath("wool yarn, 100 g, scoured", "water 5 L, tansy 300 g")
    swapped = swap(plan_of(example), "tansy", "dried")
    row = row_of(weigh(swapped.plan), "tansy")
    ratio = next(r for r in rows("fresh_to_dried") if r["part"] == "tops")
    assert (row.low, row.high) == (300 / Fraction(ratio["high"]), 300 / Fraction(ratio["low"]))
    assert row.state == "dried" and "rough" in swapped.sentence
    back = row_of(weigh(swap(swapped.plan, "tansy", "fresh").plan), "tansy")
    assert back.low is not None and back.high is not None and back.low < 300 < back.high


def test_a_stock_by_volume_gives_millilitres() -> None:
    row = after(ALUM, "alum", "solution 10 % by volume")
    # 24 g at 10 g in 100 mL.
    assert (row.kind, row.low, row.high) == ("volume", Fraction("0.24"), Fraction("0.24"))
    assert "24 g ÷ 100 g/L = 240 mL" in row.working


def test_a_stock_by_weight_gives_grams_and_roughly_millilitres() -> None:
    row = after(ALUM, "alum", "solution 10 % by weight")
    assert (row.kind, row.low) == ("mass", 240) and "roughly 218 to 240 mL" in row.note


def test_a_stock_in_grams_a_litre_needs_no_more_words() -> None:
    row = after(ALUM, "alum", "solution 100 g/L")
    assert (row.kind, row.low) == ("volume", Fraction("0.24"))


def test_a_stock_that_the_procedure_declares() -> None:
    declared = "  alum-stock: potassium alum, solution 10 % by volume"
    by_share = bath("wool yarn, 200 g, scoured", "water 5 L, alum-stock 12 % of yarn", declared)
    assert row_of(weigh(plan_of(by_share)), "alum-stock").low == Fraction("0.24")
    poured = bath("wool yarn, 200 g, scoured", "water 5 L, alum-stock 240 mL", declared)
    assert row_of(weigh(plan_of(poured)), "alum-stock").low == Fraction("0.24")


@pytest.mark.parametrize("said", ["solution 10 %", "solution"])
def test_a_stock_of_unclear_strength_is_a_gap_and_all_else_is_weighed(said: str) -> None:
    declared = f"  alum-stock: potassium alum, {said}"
    example = bath("wool yarn, 200 g, scoured", "water 5 L, alum-stock 12 % of yarn", declared)
    made = plan_of(example)
    weighed = weigh(made)
    stock = row_of(weighed, "alum-stock")
    assert (stock.gap, stock.low) == (True, None)
    assert "by volume" in stock.note
    assert row_of(weighed, "water").low == 5
    assert [f.level for f in made.findings if f.rule == "strength-unstated"] == ["warning"]


def test_the_strength_that_is_asked_for_is_read() -> None:
    declared = "  alum-stock: potassium alum, solution 10 % by volume"
    example = bath("wool yarn, 200 g, scoured", "water 5 L, alum-stock 12 % of yarn", declared)
    made = plan_of(example)
    assert not [f for f in made.findings if f.rule == "strength-unstated"]
    assert row_of(weigh(made), "alum-stock").low == Fraction("0.24")


@pytest.mark.parametrize(
    ("name", "other", "said"),
    [
        ("alum", "ferrous sulphate", "another colour"),
        ("alum", "tannic acid", "no sum"),
        ("alum", "weld", "no sum"),
        ("alum", "potassium alum", "nothing to swap"),
        ("alum", "aluminum sulfat", "“aluminium sulphate”, which harms"),
        ("alum", "FeSO4(H2O)·7H2O", "no mordant"),
        ("alum", "Al2(SO4", "no formula"),
        ("alum", "", "cannot be read"),
        ("alumn", "aluminium sulphate", "Did you mean “alum”"),
    ],
)
def test_what_cannot_be_swapped_is_said(name: str, other: str, said: str) -> None:
    with pytest.raises(CannotWeigh, match=said):
        swap(plan_of(ALUM), name, other)


def test_fresh_or_dried_must_be_said_before_it_can_be_swapped() -> None:
    example = bath("wool yarn, 1 kg, scoured", "water 9 L, plant 300 g", "  plant: tansy")
    with pytest.raises(CannotWeigh, match="whether plant is fresh or dried"):
        swap(plan_of(example), "plant", "dried")


def test_an_amount_by_weight_is_multiplied_as_a_share_is() -> None:
    by_weight = bath("wool yarn, 200 g, scoured", "water 5 L, alum 24 g")
    one = grams(weigh(swap(plan_of(by_weight), "alum", "aluminium sulphate").plan), "alum")
    other = grams(weigh(swap(plan_of(ALUM), "alum", "aluminium sulphate").plan), "alum")
    assert one == other
