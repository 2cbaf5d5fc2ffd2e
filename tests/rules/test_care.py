"""Fibre care: heat, movement, alkali and grease."""

from __future__ import annotations

import pytest
from expecting import expect, place, rules_of

DYED = """
fibre
  yarn: {fibre}, 100 g, {state}, mordanted
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  bath: prepare in kettle with water 4 L, onion 50 g
  {step}
  rinse yarn in tub with water 5 L
  discard bath to "foul drain"
"""
HOT = """heat bath to {0} °C
  strain bath
  heat bath to {0} °C
  dye yarn in bath at {0} °C for 1 h"""
SLOWLY = "dye yarn in bath from 30 °C to {} over 1 h for {} gently"


def dyed(step: str, fibre: str = "wool yarn", state: str = "scoured") -> str:
    return DYED.format(step=step, fibre=fibre, state=state)


# ------------------------------------------------------------------ heat shock


@pytest.mark.parametrize(
    ("water", "rules"),
    [(85, set()), (60, set()), (40, {"heat-shock"}), (15, {"heat-shock"})],
)
def test_hot_wool_is_not_plunged_into_cold_water(water: int, rules: set[str]) -> None:
    text = dyed(SLOWLY.format("85 °C", "1 h")).replace(
        "rinse yarn in tub with water 5 L", f"rinse yarn in kettle with water 5 L at {water} °C"
    )
    expect(text.replace("rinse yarn in kettle", "rinse yarn in pan"), *rules)


def straight_in(heat: str) -> str:
    """A strained bath at its heat, and the yarn goes into it at once."""
    ready = f"heat bath to {heat}\n  strain bath\n  heat bath to {heat}"
    return f"{ready}\n  dye yarn in bath at {heat} for 1 h"


def test_wool_does_not_go_from_hand_heat_into_the_hot_bath() -> None:
    hot = HOT.format(85)
    (found,) = expect(dyed(hot), "heat-shock")
    assert "85 °C" in found.sentence
    expect(
        dyed(
            "heat bath to 85 °C\n  strain bath\n  cool bath to 35 °C\n  "
            + SLOWLY.format("85 °C", "1 h")
        )
    )


def test_cotton_bears_sudden_heat() -> None:
    hot = HOT.format(85)
    expect(dyed(hot, "cotton yarn"))


def test_silk_does_not_felt() -> None:
    hot = HOT.format(80)
    expect(dyed(hot, "silk yarn"))


def test_wool_that_has_cooled_in_air_may_go_into_cooler_water() -> None:
    rest = SLOWLY.format("85 °C", "1 h") + "\n  lift yarn\n  rest yarn for 1 h"
    text = dyed(rest).replace(
        "tub with water 5 L\n  discard", "tub with water 5 L at 20 °C\n  discard"
    )
    expect(text)
    expect(text.replace("  rest yarn for 1 h\n", ""), "heat-shock")


def test_wool_that_cools_overnight_in_its_bath_is_safe() -> None:
    # Mairet 1916, ch. II: boil 1 h, cool overnight in the bath.
    cool = SLOWLY.format("boil", "1 h") + "\n  cool bath overnight"
    text = dyed(cool).replace(
        "tub with water 5 L\n  discard", "tub with water 5 L at 20 °C\n  discard"
    )
    expect(text)


def test_a_wool_vat_at_50_degrees_is_no_shock_after_the_air() -> None:
    # Mairet 1916, ch. V: vats for wool are kept at 120 to 140 °F.
    expect(
        """
wet out yarn in tub with water 5 L at 20 °C for 1 h
vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
stand vat for 1 h covered
repeat 3 times
  dip yarn in vat at 120 to 140 °F (49 to 60 °C) for 20 min
  air yarn for 20 min
rinse yarn in tub with water 5 L at 30 °C
rinse yarn in tub with water 5 L, vinegar 50 mL at 30 °C
discard vat to "foul drain"
""".strip("\n")
    )


def test_a_bath_that_nothing_has_cooled_is_still_hot() -> None:
    still = "simmer bath at 85 °C for 1 h\n  strain bath\n  " + SLOWLY.format("85 °C", "1 h")
    expect(dyed(still), "bath-still-hot")
    cooled = "simmer bath at 85 °C for 1 h\n  strain bath\n  cool bath to 30 °C\n  "
    expect(dyed(cooled + SLOWLY.format("85 °C", "1 h")))
    stood = "simmer bath at 85 °C for 1 h\n  stand bath overnight\n  strain bath\n  "
    expect(dyed(stood + SLOWLY.format("85 °C", "1 h")))


@pytest.mark.parametrize(
    ("minutes", "rules"), [(60, set()), (45, set()), (30, set()), (5, {"heat-changed-fast"})]
)
def test_wool_is_heated_slowly(minutes: int, rules: set[str]) -> None:
    # Mairet 1916, ch. VI: enter tepid, raise to the boil in an hour.
    step = f"dye yarn in bath from 30 °C to 85 °C over {minutes} min for 1 h"
    expect(dyed(step), *rules)
    expect(dyed(step, "cotton yarn"))


def test_wool_in_its_bath_is_cooled_slowly() -> None:
    step = SLOWLY.format("85 °C", "1 h") + "\n  cool bath to 30 °C over {}"
    expect(dyed(step.format("1 h")))
    found = expect(dyed(step.format("5 min")), "heat-changed-fast")
    text = dyed(step.format("5 min"))
    assert [(f.line, f.column, f.to) for f in found] == [place(text, "5 min")]


# ------------------------------------------------------------------ how hot, how moved


@pytest.mark.parametrize(
    ("heat", "rules"),
    [
        ("75 °C", set()),
        ("about 85 °C", set()),
        ("185 °F (85 °C)", set()),
        ("95 °C", {"too-hot-for-fibre"}),
        ("boil", {"too-hot-for-fibre"}),
    ],
)
def test_silk_is_kept_below_the_boil(heat: str, rules: set[str]) -> None:
    # Mairet 1916, ch. XI: silk is mordanted cold or below the boil.
    expect(dyed(SLOWLY.format(heat, "1 h"), "silk yarn"), *rules)


def test_a_blend_is_as_tender_as_its_silk() -> None:
    expect(dyed(SLOWLY.format("boil", "1 h"), "wool-silk blend yarn"), "too-hot-for-fibre")


def test_boiling_a_bath_with_silk_in_it_is_found_at_the_boil() -> None:
    step = "dye yarn in bath from 30 °C to 80 °C over 1 h for 1 h\n  boil bath for 10 min"
    (found,) = expect(dyed(step, "silk yarn"), "too-hot-for-fibre")
    assert found.line == place(dyed(step, "silk yarn"), "boil bath")[0]


def test_the_gum_is_boiled_off_silk_with_soap() -> None:
    # Mairet 1916, ch. XI: boil 1 h or more with soap, 2 to 8 oz to 1 lb.
    text = """fibre
  silk: raw silk yarn, 100 g
steps
  degum silk in kettle with water 5 L, soap 25 g at boil for 1 h
  rinse silk in tub with water 5 L at 60 °C
"""
    expect(text)
    expect(text.replace(", soap 25 g", ""), "scoured-in-plain-water", "too-hot-for-fibre")


def test_wool_boils_for_an_hour_if_left_still() -> None:
    # Mairet 1916, ch. II: alum, raised to the boil, boiled 1 h.
    expect(dyed(SLOWLY.format("boil", "1 h")))
    expect(dyed(SLOWLY.format("boil", "1 1/2 h")))
    expect(dyed(SLOWLY.format("boil", "10 h")), "boiled-too-long")
    expect(dyed(SLOWLY.format("boil", "1 h").replace("gently", "stirring")), "stirred-hot")


def test_wool_is_stirred_for_five_minutes_below_the_boil() -> None:
    # Mairet 1916, ch. IX: the wool stirred about 5 min, not boiling.
    step = "dye yarn in bath from 30 °C to 80 °C over 1 h\n  work yarn in bath at 80 °C for {}"
    expect(dyed(step.format("5 min")))
    expect(dyed(step.format("45 min")), "stirred-hot")
    expect(dyed(step.format("45 min"), "cotton yarn"))


# ------------------------------------------------------------------ grease and alkali


@pytest.mark.parametrize("fibre", ["wool yarn", "cotton yarn", "linen yarn"])
def test_unscoured_fibre_is_scoured_first(fibre: str) -> None:
    step = "dye yarn in bath from 30 °C to 80 °C over 1 h for 1 h"
    expect(dyed(step, fibre, "unscoured"), "unscoured-fibre")
    text = dyed(step, fibre, "unscoured").replace(
        "steps\n",
        "steps\n  scour yarn in kettle with water 5 L, soap 5 g at 40 °C for 1 h\n"
        "  rinse yarn in tub with water 5 L at 30 °C\n  clean kettle\n",
    )
    expect(text)
    expect(text.replace(", soap 5 g", ""), "scoured-in-plain-water")


def test_scouring_that_nobody_mentions_is_noted() -> None:
    step = "dye yarn in bath from 30 °C to 80 °C over 1 h for 1 h"
    expect(dyed(step).replace(", scoured", ""), "scouring-unstated")


@pytest.mark.parametrize(
    ("fibre", "alkali", "heat", "rules"),
    [
        ("wool yarn", "soda ash", 40, set()),
        ("wool yarn", "soda ash", 85, {"strong-alkali"}),
        ("wool yarn", "ammonia, 5 %", 40, set()),
        ("silk yarn", "wood-ash lye", 80, {"strong-alkali"}),
        ("wool yarn", "lye", 30, {"strong-alkali"}),
        ("wool yarn", "slaked lime", 30, {"strong-alkali"}),
        ("cotton yarn", "soda ash", 95, set()),
        ("cotton yarn", "wood-ash lye", 95, set()),
    ],
)
def test_strong_alkali_eats_protein_fibre(
    fibre: str, alkali: str, heat: int, rules: set[str]
) -> None:
    text = f"""procedure "An example"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "common practice"
  makes "a sample"
  place outdoors
  wearing gloves, eye protection, mask, apron
fibre
  yarn: {fibre}, 100 g, unscoured
materials
  alkali: {alkali}
steps
  scour yarn in kettle with water 5 L, alkali 5 g at {heat} °C for 30 min
  rinse yarn in tub with water 5 L
  rinse yarn in tub with water 5 L, vinegar 50 mL
"""
    expect(text, *rules)


VAT = """
fibre
  yarn: {fibre}, 100 g, scoured
materials
  lime: slaked lime
steps
  wet out yarn in tub with water 5 L at 35 °C for 1 h
  vat: prepare in kettle with water 5 L, indigo 5 g, lime 10 g, reducer 15 g
  heat vat to {heat} °C
  dip yarn in vat at {heat} °C for 10 min
  air yarn for 15 min
  rinse yarn in tub with water 5 L
  rinse yarn in tub with water 5 L, vinegar 50 mL
  discard vat to "foul drain"
"""


@pytest.mark.parametrize(
    ("heat", "rules"), [(50, set()), (60, set()), (85, {"vat-too-hot", "heat-shock"})]
)
def test_a_vat_for_wool_is_kept_at_50_to_60_degrees(heat: int, rules: set[str]) -> None:
    # Mairet 1916, ch. V: heated to 50 °C; kept at 120 to 140 °F while dyeing.
    # That lime is not for wool is told besides, however warm it is.
    expect(VAT.format(fibre="wool yarn", heat=heat), "lime-vat-for-wool", *rules)


def test_a_fructose_vat_may_be_made_hot_if_it_cools_before_the_wool() -> None:
    text = VAT.format(fibre="wool yarn", heat=50)
    cooled = text.replace("heat vat to 50 °C", "heat vat to 85 °C\n  cool vat to 50 °C")
    expect(cooled, "lime-vat-for-wool")


def test_the_source_of_a_threshold_is_shown() -> None:
    text = VAT.format(fibre="silk yarn", heat=85)
    every = expect(text, "vat-too-hot", "lime-vat-for-wool")
    (found,) = [one for one in every if one.rule == "vat-too-hot"]
    assert found.source == "Mairet 1938, ch. V (120 to 140 °F)"


def test_nobody_stays_beside_a_pot_for_a_day() -> None:
    """Common practice: a hot pot is watched, and a day has a night in it."""
    steps = (
        "onion-bath: prepare in kettle with water 4 L, onion 50 g\n"
        "hold onion-bath at 85 °C for {time}\n"
        'discard onion-bath to "foul drain"\n'
    )
    assert "heated-unattended" in rules_of(steps.format(time="24 h"))
    assert "heated-unattended" not in rules_of(steps.format(time="3 h"))
