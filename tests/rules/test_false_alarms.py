"""Sound work that once was told off: each is silent of errors and warnings now."""

from __future__ import annotations

import pytest
from expecting import findings

SOAK = "  wet out yarn in tub with water 5 L at 30 °C for 1 h\n"
RINSE = "  cool bath to 30 °C\n  rinse yarn in tub with water 5 L at 30 °C\n"
AWAY = '  discard bath to "foul drain"\n'
HEATED = "  dye yarn in bath from 40 °C to 70 °C over 1 h for 1 h\n"


def heavy(
    steps: str, fibre: str = "wool", past: str = ", mordanted", materials: str = ""
) -> list[str]:
    """The rules of error and warning level that speak of these steps."""
    head = f"fibre\n  yarn: {fibre} yarn, 100 g, scoured{past}\n"
    head += f"materials\n{materials}" if materials else ""
    return [one.rule for one in findings(head + "steps\n" + SOAK + steps, "error", "warning")]


def test_dyes_that_make_a_colour_together_are_judged_together() -> None:
    made = "  bath: prepare in kettle with water 3 L, madder 4.69 g, wood 10 g, old 20 g at 40 °C\n"
    woods = "  wood: logwood chips\n  old: fustic\n"
    assert heavy(made + HEATED + RINSE + AWAY, materials=woods) == []


def test_a_pinch_of_another_dye_tints() -> None:
    steps = (
        "  bath: prepare in kettle with water 3 L, weld 100 g at 40 °C\n  strain bath\n"
        + HEATED
        + "  lift yarn\n  add madder 2 g to bath\n  dye yarn in bath at 70 °C for 10 min\n"
    )
    assert heavy(steps + RINSE + AWAY) == []


def test_a_pale_colour_that_is_announced_is_meant() -> None:
    made = "  bath: prepare in kettle with water 3 L, madder 5 g at 40 °C\n"
    dyed = HEATED.replace("\n", ' note "a pale rose"\n')
    assert heavy(made + dyed + RINSE + AWAY) == []
    assert "too-little-dyestuff" in heavy(made + HEATED + RINSE + AWAY)


def test_tin_beside_tartar_is_the_books_own() -> None:
    steps = (
        "  bath: prepare in kettle with water 3 L, tin 6 g, tartar 6 g at 40 °C\n"
        "  mordant yarn in bath from 40 °C to 85 °C over 1 h for 1 h\n  cool bath to 30 °C\n"
        "  wash yarn in tub with water 5 L, soap 3 g at 30 °C\n"
        "  rinse yarn in tub with water 5 L at 30 °C\n"
        '  discard bath to "the hazardous waste collection"\n'
    )
    assert heavy(steps, past="") == []


def test_acetate_of_alumina_mordants_silk() -> None:
    steps = (
        "  bath: prepare in kettle with water 3 L, acetate 6 g at 40 °C\n"
        "  mordant yarn in bath at 40 °C for 1 h\n"
    )
    acetate = "  acetate: aluminium acetate\n"
    assert heavy(steps + RINSE + AWAY, "silk", "", acetate) == []
    assert "mordant-for-other-fibre" in heavy(steps + RINSE + AWAY, "wool", "", acetate)


def test_cloth_dried_after_acetate_goes_dry_into_the_chalk() -> None:
    steps = (
        "  bath: prepare in kettle with water 3 L, acetate 6 g at 40 °C\n"
        "  mordant yarn in bath at 40 °C for 1 h\n  dry yarn\n"
        "  fix: prepare in pan with water 5 L, chalk 20 g at 40 °C\n"
        "  steep yarn in fix at 40 °C for 15 min\n"
        "  rinse yarn in tub with water 5 L at 30 °C\n"
        '  discard fix to "foul drain"\n'
    )
    stuff = "  acetate: aluminium acetate\n  chalk: chalk\n"
    assert heavy(steps + AWAY, "cotton", "", stuff) == []
    weld = steps.replace("chalk 20 g", "weld 100 g")
    assert "dried-before-bath" in heavy(weld + AWAY, "cotton", "", stuff)


def test_a_bath_is_kept_in_the_pot_that_it_is_in_and_heated_again() -> None:
    steps = (
        "  bath: prepare in kettle with water 3 L, onion 50 g\n  simmer bath at 85 °C for 1 h\n"
        "  cool bath to 40 °C\n  strain bath\n  heat bath to 50 °C\n  cool bath to 40 °C\n"
        "  dye yarn in bath from 40 °C to 85 °C over 45 min for 1 h\n"
    )
    assert heavy(steps + RINSE + "  keep bath in kettle as later covered labelled\n") == []
    assert "pot-not-free" in heavy(
        "  other: prepare in pan with water 3 L, alum 12 g\n"
        + steps
        + RINSE
        + '  keep bath in pan as later covered labelled\n  discard other to "foul drain"\n'
    )


def test_safflowers_yellow_is_thrown_away() -> None:
    steps = (
        "  rinse yarn in tub with water 5 L at 30 °C\n"
        "  yellow: prepare in kettle with water 3 L, flower 100 g at cold\n"
        "  stand yellow overnight covered\n  strain yellow\n"
        '  discard yellow to "foul drain"\n'
    )
    assert heavy(steps, "cotton", "", "  flower: safflower\n") == []


def test_a_pot_three_quarters_full_is_not_too_full() -> None:
    text = (
        "equipment\n  kettle: stainless steel pot, 80 L, lidded, for dyeing only\nsteps\n"
        "  bath: prepare in kettle with water 60 L, onion 50 g\n" + AWAY
    )
    assert findings(text, "error", "warning") == []


# ------------------------------------------------------------------ sentences that misled


@pytest.mark.parametrize(
    ("old", "new", "never"),
    [
        ("alum 12 g", "alum -48 % of yarn", "-48 % of potassium alum"),
        ("alum 12 g", "alum 40 g", "wool"),
        ("at 60 °C", "at 158 °F (70 °F)", "158 °F is 158 °F"),
    ],
)
def test_what_is_said_is_true_of_silk(old: str, new: str, never: str) -> None:
    steps = (
        "  bath: prepare in kettle with water 3 L, alum 12 g at 40 °C\n"
        "  mordant yarn in bath at 60 °C for 1 h\n" + RINSE + AWAY
    )
    head = "fibre\n  yarn: silk yarn, 100 g, scoured\nsteps\n" + SOAK
    found = findings(head + steps.replace(old, new), "error", "warning")
    assert found
    assert not [one for one in found if never in one.sentence]


# ------------------------------------------------------------------ from pot to pot


def test_a_whole_bath_may_be_poured_into_an_empty_pot() -> None:
    steps = (
        "  bath: prepare in kettle with water 4 L, alum 12 g at 60 °C\n"
        "  pour bath into pan\n"
        "  mordant yarn in pan at 50 °C for 1 h\n"
        "  cool bath to 30 °C\n  rinse yarn in tub with water 5 L at 30 °C\n"
        '  discard pan to "foul drain"\n'
    )
    head = "fibre\n  yarn: wool yarn, 100 g, scoured\nsteps\n" + SOAK
    assert findings(head + steps, "error", "warning") == []


def test_what_is_poured_into_an_empty_pot_leaves_its_own() -> None:
    steps = (
        "  bath: prepare in kettle with water 4 L, alum 12 g at 60 °C\n"
        "  pour bath into pan\n"
        "  other: prepare in kettle with water 4 L, madder 50 g\n"
        '  discard other to "drain"\n  discard bath to "drain"\n'
    )
    head = "fibre\n  yarn: wool yarn, 100 g, scoured\nsteps\n" + SOAK
    said = {one.rule for one in findings(head + steps, "error")}
    assert said == set()


@pytest.mark.parametrize(("heat", "told"), [("175 °F", False), ("165 °F", True), ("79 °C", False)])
def test_a_word_for_a_heat_is_no_sharper_than_a_dial(heat: str, told: bool) -> None:
    """To simmer is 80 °C, which is 176 °F: dials in °F have a mark at 175."""
    steps = (
        f"  bath: prepare in kettle with water 3 L, weld 50 g\n  simmer bath at {heat} for 1 h\n"
    )
    assert ("heat-word-mismatch" in heavy(steps + AWAY)) is told


def test_what_a_kept_bath_brings_into_another_is_not_known() -> None:
    steps = (
        "  bath: prepare in kettle with water 6 L at 40 °C\n"
        "  add old 1 L to bath\n  dye yarn in bath at 40 °C for 1 h\n"
    )
    kept = heavy(steps + RINSE + AWAY, materials="  old: kept bath\n")
    assert "nothing-to-dye-with" not in kept
    plain = heavy(steps.replace("  add old 1 L to bath\n", "") + RINSE + AWAY)
    assert "nothing-to-dye-with" in plain


def test_fibre_may_be_dipped_in_iron_alone() -> None:
    made = "  bath: prepare in kettle with water 6 L, iron 2 g at 30 °C\n"
    dipped = "  dip yarn in bath for 10 min\n"
    assert "nothing-to-dye-with" not in heavy(made + dipped + RINSE + AWAY)
    vat = made.replace("iron 2 g", "iron 20 g, lime 20 g")
    assert "nothing-to-dye-with" in heavy(vat + dipped + AWAY, materials="  lime: slaked lime\n")
