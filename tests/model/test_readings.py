"""Two readings of one thing: they must agree within what their writing leaves open."""

from __future__ import annotations

import pytest
from expecting import findings, plan_of, rules_of

from procedure.findings import Finding


def readings(heat: str = "30 °C", water: str = "5 L", cloth: str = "100 g") -> list[Finding]:
    found = findings(
        f"fibre\n  cloth: cotton cloth, scoured, {cloth}\nsteps\n"
        f"  wet out cloth in tub with water {water} at {heat} for 1 h\n  dry cloth\n"
    )
    assert not [f for f in found if f.rule == "cannot-read"]
    return [f for f in found if f.rule == "readings-disagree"]


# Conversions by NIST SP 811, B.8; what is left open by design: half a unit of the last
# non-zero digit of each reading, never more than 2 % (3 °C).
AGREE = [
    "80 °C (176 °F)",  # exactly 176
    "85 °C (185 °F)",  # exactly 185
    "30 °C (86 °F)",
    "100 °C (212 °F)",
    "60 °C (140 °F)",
    "38 °C (100 °F)",  # 100.4 °F
    "20 to 30 °C (68 to 86 °F)",
    "about 80 °C (176 °F)",
    "176 °F (80 °C)",
]
DISAGREE = {
    "80 °C (155 °F)": ["176 °F", "68.3 °C"],  # 155 °F is 68.3 °C
    "80 °C (80 °F)": ["176 °F"],
    "30 °C (96 °F)": ["86 °F"],
    "20 to 30 °C (68 to 96 °F)": ["68 to 86 °F"],
    "176 °F (70 °C)": ["80 °C"],
}


@pytest.mark.parametrize("heat", AGREE)
def test_heats_agree(heat: str) -> None:
    assert readings(heat=heat) == []


@pytest.mark.parametrize(("heat", "should"), DISAGREE.items())
def test_heats_disagree_and_it_is_said_what_they_should_be(heat: str, should: list[str]) -> None:
    (found,) = readings(heat=heat)
    assert found.level == "error"
    for words in should:
        assert words in found.sentence + found.remedy


@pytest.mark.parametrize(
    "water",
    [
        "5 L (1.3 US gal)",  # 1.32
        "4.5 L (1 imp gal)",  # 4.546 L
        "1 US gal (3.8 L)",  # 3.785 L
        "500 mL (17 US fl oz)",  # 16.9
        "1 US pt (16 US fl oz)",
    ],
)
def test_volumes_agree(water: str) -> None:
    assert readings(water=water) == []


@pytest.mark.parametrize("water", ["5 L (1.3 imp gal)", "5 L (2 US gal)", "1 US gal (4.5 L)"])
def test_volumes_disagree(water: str) -> None:
    assert len(readings(water=water)) == 1


@pytest.mark.parametrize(
    "cloth",
    [
        "1 kg (2.2 lb)",  # 2.2046 lb
        "100 g (3.5 oz)",  # 3.527 oz
        "1 lb (454 g)",
        "1 lb (16 oz)",
        "1 lb 4 oz (567 g)",  # 566.99 g
        "100 g, 20 m (22 yd)",  # 21.87 yd
        "100 g, 45 to 150 cm (18 to 60 in)",  # 17.7 to 59.06 in
    ],
)
def test_weights_and_lengths_agree(cloth: str) -> None:
    assert readings(cloth=cloth) == []


@pytest.mark.parametrize(
    "cloth",
    [
        "1 kg (2 lb)",  # 2.2 lb; half a pound is open, but 2 % is the most
        "100 g (4 oz)",  # 3.5 oz
        "100 g, 20 m (18 yd)",
        "100 g, 45 to 150 cm (18 to 66 in)",
        "1 lb (500 g)",  # a metric pound is another thing
    ],
)
def test_weights_and_lengths_disagree(cloth: str) -> None:
    (found,) = readings(cloth=cloth)
    assert found.level == "error"


def test_a_kilogram_is_told_what_it_is_in_pounds() -> None:
    (found,) = readings(cloth="1 kg (2 lb)")
    assert "2.2 lb" in found.sentence


@pytest.mark.parametrize("heat", ["80 °C (30 min)", "80 °C (2 L)"])
def test_another_kind_of_thing_is_no_second_reading(heat: str) -> None:
    (found,) = readings(heat=heat)
    assert "cannot be another reading" in found.sentence


@pytest.mark.parametrize(
    ("heat", "offends"),
    # Named heats by the vocabulary: simmer is 80 to 95 °C, hand-hot 35 to 45 °C.
    [
        ("simmer (85 °C)", False),
        ("simmer (185 °F)", False),
        ("hand-hot (40 °C)", False),
        ("simmer (45 °C)", True),
        ("hand-hot (80 °C)", True),
        ("80 °C (hand-hot)", True),
    ],
)
def test_a_heat_word_beside_a_number(heat: str, offends: bool) -> None:
    found = findings(f"wet out yarn in tub with water 5 L at {heat} for 1 h\ndry yarn")
    assert ("heat-word-mismatch" in {f.rule for f in found}) is offends


@pytest.mark.parametrize(
    ("said", "rule"),
    [
        # NIST Handbook 44, appendix C: a US cup is 236.588 mL; half an imperial pint is 284 mL.
        ("vinegar 1 US cup (240 mL)", ""),
        ("vinegar 1 imperial cup (284 mL)", ""),
        ("vinegar 1 US cup (500 mL)", "readings-disagree"),
        ("vinegar 1 tablespoon (20 mL)", ""),
        ("alum 1 teaspoon (5 g)", ""),
        ("alum 1 teaspoon (50 g)", "readings-disagree"),
    ],
)
def test_spoons_and_cups_agree_with_what_is_beside_them(said: str, rule: str) -> None:
    text = f"""
materials
  vinegar: vinegar, 5 %
steps
  weld-bath: prepare in kettle with water 5 L, weld 50 g
  add {said} to weld-bath
  discard weld-bath to "foul drain"
"""
    told = {"readings-disagree", "loose-measure"} & rules_of(text)
    assert told == ({rule} if rule else set())


def test_grams_beside_a_spoon_are_what_is_weighed() -> None:
    plan = plan_of("""weld-bath: prepare in kettle with water 5 L, alum 1 teaspoon (5 g)
discard weld-bath to "foul drain"
""")
    (amount,) = (a for m in plan.trace.moments for t, _, a in m.amounts if t == "alum")
    assert amount is not None and (amount.kind, amount.low, amount.high) == ("mass", 5, 5)
