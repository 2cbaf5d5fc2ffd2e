"""The trace: the state of lots, baths and pots after known sequences of steps."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import between, plan_of

from procedure.trace.states import BathState, LotState, PotState, State

WET = "wet out yarn in tub with water 5 L at 20 °C for 1 h\n"
BATH = "alum-bath: prepare in kettle with water 3 L, alum 12 % of yarn, tartar 6 g\n"
DYE = "mordant yarn in alum-bath from 30 °C to 85 °C over 45 min for 1 h\n"


def final(steps: str) -> State:
    return plan_of(steps.strip()).trace.final


def lot(steps: str, name: str = "yarn") -> LotState:
    return final(steps).lots[name]


def bath(steps: str, name: str = "alum-bath") -> BathState:
    return final(steps).baths[name]


def pot(steps: str, name: str = "kettle") -> PotState:
    return final(steps).pots[name]


# ------------------------------------------------------------ lots


def test_a_lot_starts_dry_and_as_declared() -> None:
    plan = plan_of("air yarn for 1 h")
    before = plan.trace.moments[0].before.lots["yarn"]
    assert before.wetness == (("dry", ""),)
    assert before.weight == between(100) and before.scoured is True
    assert not before.mordants and not before.dyes and not before.carried


def test_wetting_out_wets_and_counts_the_minutes() -> None:
    yarn = lot(WET)
    assert yarn.wetness == (("wet", ""),)
    assert yarn.soaked == 60 and yarn.heat == between(20) and yarn.bath == ""


def test_squeezing_and_airing_leave_it_damp_and_drying_dry() -> None:
    assert lot(WET + "squeeze yarn").wetness == (("damp", ""),)
    assert lot(WET + "air yarn for 5 min").wetness == (("damp", ""),)
    dry = lot(WET + "dry yarn")
    assert dry.wetness == (("dry", ""),) and dry.soaked == 0
    assert plan_of(WET + "dry yarn").trace.moments[1].node.id == dry.dried_by


def test_fibre_stays_in_its_bath_until_it_is_taken_elsewhere() -> None:
    assert lot(WET + BATH + DYE).bath == "alum-bath"
    assert lot(WET + BATH + DYE + "lift yarn").bath == ""
    assert lot(WET + BATH + DYE + "rinse yarn in tub with water 5 L").bath == ""


def test_fibre_in_a_bath_goes_with_its_heat() -> None:
    steps = WET + BATH + DYE
    assert lot(steps).heat == between(85)
    cooled = steps + "cool alum-bath to 30 °C for 6 h\n"
    assert lot(cooled).heat == bath(cooled).heat == between(30)


def test_mordants_and_dyes_are_taken_up_by_weight() -> None:
    yarn = lot(WET + BATH + DYE)
    assert set(yarn.mordants) == {"alum"}
    taken = yarn.mordants["alum"]
    assert taken.grams == between(12) and taken.share == between("0.12")
    gold = WET + (
        "gold-bath: prepare in kettle with water 3 L, onion 50 g\n"
        "dye yarn in gold-bath at 80 °C for 1 h\n"
    )
    assert set(lot(gold).dyes) == {"onion"}


def test_what_is_loose_goes_with_a_rinse_and_poison_with_a_wash() -> None:
    kinds = {kind for kind, _ in lot(WET + BATH + DYE).carried}
    assert "mordant" in kinds
    assert lot(WET + BATH + DYE + "rinse yarn in tub with water 5 L").carried == {}
    steps = WET + BATH.replace("alum 12 %", "copper 2 %") + DYE
    rinsed = lot(steps + "rinse yarn in tub with water 5 L")
    assert {kind for kind, _ in rinsed.carried} == {"poison"}
    washed = lot(steps + "wash yarn in tub with water 5 L, soap 5 g")
    assert not [kind for kind, _ in washed.carried if kind == "poison"]


def test_alkali_needs_two_waters_or_an_acid_one() -> None:
    # Mairet 1916, ch. V: wash at least twice; a last bath with a little acid neutralises.
    steps = (
        WET
        + "soda-bath: prepare in kettle with water 3 L, soda 9 g\nsteep yarn in soda-bath for 1 h\n"
    )
    once = "rinse yarn in tub with water 5 L\n"
    assert "alkali" in {kind for kind, _ in lot(steps + once).carried}
    assert lot(steps + once + once).carried == {}
    assert lot(steps + "rinse yarn in tub with water 5 L, vinegar 10 mL").carried == {}


def test_scouring_scours() -> None:
    raw = "fibre\n  yarn: wool yarn, 100 g, unscoured\nsteps\n  "
    assert lot(raw + "air yarn for 1 h").scoured is False
    scoured = raw + "scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h"
    assert lot(scoured).scoured is True


def test_a_split_shares_the_weight_and_all_else() -> None:
    steps = WET + BATH + DYE + "lift yarn\nsplit yarn into gold 40 g, moss"
    after = final(steps)
    assert after.lots["gold"].weight == between(40)
    assert after.lots["moss"].weight == between(60)
    for part in ("gold", "moss"):
        assert set(after.lots[part].mordants) == {"alum"}
        assert after.lots[part].wetness == (("wet", ""),)


def test_a_join_adds_the_weights_and_keeps_what_any_part_carries() -> None:
    steps = WET + BATH + DYE + "lift yarn\njoin yarn, silk as both"
    both = final(steps).lots["both"]
    assert both.weight == between(200)
    assert {kind for kind, _ in both.carried} >= {"mordant"}
    assert {state for state, _ in both.wetness} >= {"dry"}


# ------------------------------------------------------------ baths


def test_a_bath_knows_its_water_and_contents() -> None:
    made = bath(BATH)
    assert made.pot == "kettle" and made.volume == between(3)
    assert {name: content.grams for name, content in made.contents.items()} == {
        "alum": between(12),
        "tartar": between(6),
    }


def test_add_top_up_and_draw_off() -> None:
    assert bath(BATH + "add alum 8 g to alum-bath").contents["alum"].grams == between(20)
    assert bath(BATH + "add water 2 L to alum-bath").volume == between(5)
    assert bath(BATH + "top up alum-bath with water 1 L").volume == between(4)
    assert bath(BATH + "top up alum-bath to 4.5 L").volume == between("4.5")
    assert bath(BATH + "draw off 1/3 of alum-bath").volume == between(2)
    assert bath(BATH + 'discard 1 L of alum-bath to "drain"').volume == between(2)


@pytest.mark.parametrize("said", ["draw off", "take some", "ladle", "scoop out", "remove"])
def test_where_nobody_says_how_much_is_taken_the_rest_is_not_known(said: str) -> None:
    """Nothing or nearly all of the three litres; it is asked how much."""
    text = BATH + f"{said} alum-bath into jar as spare"
    assert bath(text).volume == between(0, 3)
    assert final(text).baths["spare"].volume is None


@pytest.mark.parametrize("said", ["take 1 L out of alum-bath", "ladle 1 L from alum-bath"])
def test_liquor_that_is_taken_out_is_drawn_off(said: str) -> None:
    assert bath(BATH + said).volume == between(2)


def test_a_named_draught_is_a_bath_of_its_own() -> None:
    after = final(BATH + "draw off 1 L of alum-bath into jar as spare")
    assert after.baths["alum-bath"].volume == between(2)
    assert after.baths["spare"].volume == between(1) and after.baths["spare"].pot == "jar"
    assert set(after.baths["spare"].contents) == {"alum", "tartar"}


def test_heats_of_a_bath() -> None:
    assert bath(BATH + "heat alum-bath to 60 °C over 30 min").heat == between(60)
    assert bath(BATH + "simmer alum-bath for 1 h").heat == between(80, 95)
    assert bath(BATH + "boil alum-bath for 1 h").heat == between(95, 100)
    room = bath(BATH + "boil alum-bath for 1 h\ncool alum-bath overnight").heat
    assert room is not None and room[1] <= 25


def test_a_hot_bath_that_stands_or_is_whisked_for_long_is_cooler() -> None:
    hot = BATH + "heat alum-bath to 80 °C over 30 min\n"
    assert bath(hot + "stand alum-bath for 10 min").heat == between(80)
    stood = bath(hot + "stand alum-bath for 2 h").heat
    assert stood is not None and stood.low <= 25 and stood.high == 80
    whisked = bath(hot + "whisk alum-bath for 5 min").heat
    assert whisked is not None and whisked.low < 80 and whisked.high == 80
    assert bath(hot + "stand alum-bath at 80 °C for 2 h").heat == between(80)


def test_boiling_is_by_the_altitude() -> None:
    high = 'procedure "x"\n  altitude 3000 m\nsteps\n  '
    heat = bath(high + (BATH + "boil alum-bath for 1 h").replace("\n", "\n  ")).heat
    assert heat is not None
    # Water boils at 90 °C at 3000 m in the standard atmosphere (ISO 2533), within a degree.
    assert abs(heat[1] - 90) <= 1


def test_solids_until_it_is_strained_and_where_it_goes() -> None:
    steps = "gold-bath: prepare in kettle with water 3 L, onion 50 g\n"
    assert bath(steps, "gold-bath").solids is True
    strained = bath(steps + "strain gold-bath into pan", "gold-bath")
    assert strained.solids is False and strained.pot == "pan"
    assert bath(BATH).solids is False


def test_a_bath_counts_the_lots_that_it_has_treated() -> None:
    steps = WET + BATH + DYE + "mordant silk in alum-bath at 80 °C for 1 h\n"
    assert bath(steps).treated == ("yarn", "silk")


def test_a_bath_added_to_another_brings_its_contents() -> None:
    steps = BATH + "iron-bath: prepare in pan with water 1 L, iron 4 g\nadd iron-bath to alum-bath"
    made = bath(steps)
    assert made.volume == between(4) and set(made.contents) == {"alum", "tartar", "iron"}


# ------------------------------------------------------------ pots


def test_a_pot_keeps_traces_until_it_is_cleaned() -> None:
    steps = BATH + 'discard alum-bath to "drain"\n'
    assert set(pot(steps).residues) == {"alum", "tartar"}
    assert pot(steps + "clean kettle").residues == {}


def test_fibre_in_a_pot_with_its_own_water_leaves_traces_too() -> None:
    steps = "wash yarn in tub with water 5 L, soap 5 g"
    assert set(pot(steps, "tub").residues) == {"soap"}


# ------------------------------------------------------------ the walk


def test_moments_carry_what_they_touch_before_and_after() -> None:
    plan = plan_of((WET + BATH + DYE).strip())
    wetting, preparing, mordanting = plan.trace.moments
    assert wetting.before.lots["yarn"].possibly("dry") == ""
    assert wetting.after.lots["yarn"].possibly("dry") is None
    assert preparing.bath_before is None and preparing.bath_after is not None
    assert mordanting.entering == ("yarn",)
    assert mordanting.minutes == between(105)  # over 45 min, then for 1 h
    assert mordanting.heat == between(30, 85)


def test_the_walk_is_exact() -> None:
    made = bath(
        "fibre\n  yarn: wool yarn, 1/3 lb, scoured\nsteps\n"
        "  alum-bath: prepare in kettle with water 3 L, alum 1/7 of yarn\n  air yarn for 1 h"
    )
    grams = Fraction("453.59237") / 21
    assert made.contents["alum"].grams == (grams, grams)
