"""The weight of things: percentages, ratios and shares of the dry fibre, exact."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import between, plan_of

from procedure.trace.amounts import Amount


def amount(fibre: str, item: str, water: str = "water 5 L") -> Amount:
    """What one item of a bath comes to, for a lot of fibre of that weight."""
    plan = plan_of(
        f"fibre\n  yarn: wool yarn, scoured, {fibre}\nsteps\n"
        f"  alum-bath: prepare in kettle with {water}, {item}\n"
        "  wet out yarn in tub with water 5 L for 1 h\n"
        "  mordant yarn in alum-bath at 85 °C for 1 h\n"
        '  rinse yarn in tub with water 5 L\n  discard alum-bath to "drain"\n'
    )
    moment = next(m for m in plan.trace.moments if m.node.effect == "prepare")
    (found,) = [made for thing, _, made in moment.amounts if thing == item.split()[0]]
    assert found is not None
    return found


def grams(fibre: str, item: str, water: str = "water 5 L") -> Fraction:
    low, high = amount(fibre, item, water).grams
    assert low == high
    return low


POUND = Fraction("453.59237")  # NIST SP 811, B.8
OUNCE = POUND / 16


def test_a_quarter_pound_to_the_pound_is_25_percent() -> None:
    # Mairet 1916, ch. II: alum on wool, usually 1/4 lb to 1 lb of wool.
    assert grams("1 lb", "alum 25 % of yarn") == grams("1 lb", "alum 1/4 lb") == POUND / 4


def test_an_ounce_to_the_pound_is_6_25_percent() -> None:
    # Mairet 1916, ch. II: 1 oz cream of tartar to the pound.
    assert grams("1 lb", "tartar 6.25 % of yarn") == grams("1 lb", "tartar 1 oz") == OUNCE


def test_five_to_one_on_40_g_is_200_g() -> None:
    assert grams("40 g", "tansy 5 : 1 of yarn") == 200


def test_12_percent_on_40_g_is_4_8_g() -> None:
    assert grams("40 g", "alum 12 % of yarn") == Fraction("4.8")
    assert grams("40 g", "alum 12 % wof") == grams("40 g", "alum 12 % owf") == Fraction("4.8")


def test_half_the_fibre_in_madder() -> None:
    # Mairet 1916, ch. VI: 5 to 8 oz of madder to 1 lb of wool, which is 31 to 50 %.
    low, high = amount("1 lb", "madder 5 to 8 oz").grams
    assert (low / POUND, high / POUND) == (Fraction(5, 16), Fraction(1, 2))


def test_a_range_in_gives_a_range_out() -> None:
    assert amount("200 g", "alum 8 to 10 % of yarn").grams == between(16, 20)
    assert amount("100 to 120 g", "alum 10 % of yarn").grams == between(10, 12)
    assert amount("100 to 120 g", "alum 8 to 10 % of yarn").grams == between(8, 12)


def test_about_widens_by_the_last_digit() -> None:
    assert amount("100 g", "alum about 12 g").grams == between(11, 13)
    assert amount("100 g", "alum about 120 g").grams == between(110, 130)
    assert amount("100 g", "alum about 1.5 g").grams == between("1.4", "1.6")


def test_a_liquor_ratio_is_litres_to_kilograms() -> None:
    # 30 : 1 on 240 g is 7.2 L (common practice; a litre of liquor is taken as a kilogram).
    plan = plan_of(
        "fibre\n  yarn: wool yarn, 240 g, scoured\nsteps\n"
        "  wet out yarn in tub with water 30 : 1 of yarn for 1 h\n  dry yarn"
    )
    (_, _, water), *_ = plan.trace.moments[0].amounts
    assert water is not None and (water.kind, water.low, water.high) == (
        "volume",
        Fraction("7.2"),
        Fraction("7.2"),
    )


def test_grams_to_the_litre_are_of_the_water_of_this_bath() -> None:
    assert grams("100 g", "soda 2 g/L") == 10
    assert grams("100 g", "soda 2 g/L", "water 30 : 1 of yarn") == 6


def test_two_to_one_is_the_same_as_four_to_two() -> None:
    assert grams("50 g", "tansy 4 : 2 of yarn") == grams("50 g", "tansy 2 : 1 of yarn") == 100


def test_wof_is_all_the_fibre_that_the_bath_is_to_treat() -> None:
    plan = plan_of(
        "alum-bath: prepare in kettle with water 9 L, alum 10 % wof, tartar 6 % of silk\n"
        "wet out yarn, silk in tub with water 5 L for 1 h\n"
        "mordant yarn in alum-bath at 80 °C for 1 h\n"
        "mordant silk in alum-bath at 80 °C for 1 h\n"
        'rinse yarn, silk in tub with water 5 L\ndiscard alum-bath to "drain"'
    )  # the kit's yarn and silk weigh 100 g each
    made = {thing: a for thing, _, a in plan.trace.moments[0].amounts}
    alum, tartar = made["alum"], made["tartar"]
    assert alum is not None and alum.grams == between(20)
    assert tartar is not None and tartar.grams == between(6)


def test_a_share_is_of_the_bath_the_pot_or_the_lot() -> None:
    plan = plan_of(
        "fibre\n  yarn: wool yarn, 240 g, scoured\nequipment\n"
        "  kettle: stainless steel pot, 15 L, for dyeing only\nsteps\n"
        "  alum-bath: prepare in kettle with water 2/3 of kettle, alum 1/20 of yarn\n"
        "  draw off 1/4 of alum-bath\n"
        '  discard alum-bath to "drain"\n  air yarn for 1 h'
    )
    prepared, drawn, *_ = plan.trace.moments
    made = {thing: a for thing, _, a in prepared.amounts}
    water, alum = made["water"], made["alum"]
    assert water is not None and water.litres == between(10)
    assert alum is not None and alum.grams == between(12)
    assert drawn.bath_after is not None
    assert drawn.bath_after.volume == between("7.5")


def test_the_weight_of_pieces() -> None:
    plan = plan_of(
        "fibre\n  yarn: cotton cloth, 3 pieces of 120 g, scoured\nsteps\n  air yarn for 1 h"
    )
    weight = plan.model.lots["yarn"].weight
    assert weight is not None and weight.ends == between(360)


@pytest.mark.parametrize("said", ["3 pieces of about 120 g", "3 pieces, about 120 g each"])
def test_the_weight_of_pieces_that_weigh_about_so_much(said: str) -> None:
    """About 120 g is 110 to 130 g, and three of them are three times that."""
    plan = plan_of(f"fibre\n  yarn: cotton cloth, {said}, scoured\nsteps\n  air yarn for 1 h")
    weight = plan.model.lots["yarn"].weight
    assert weight is not None and weight.ends == between(330, 390)


@pytest.mark.parametrize(
    ("said", "minutes"), [("1 h 30 min", 90), ("90 min", 90), ("1 1/2 h", 90), ("2 days", 2880)]
)
def test_times(said: str, minutes: int) -> None:
    plan = plan_of(f"wet out yarn in tub with water 5 L for {said}\ndry yarn")
    assert plan.trace.moments[0].minutes == between(minutes)
