"""Recipes that were encoded from the reference alone: sums and questions that were wrong once."""

from __future__ import annotations

import pytest
from expecting import findings, plan_of

SHARED = {"too-little-mordant", "too-much-mordant", "bath-worn-out", "too-little-dyestuff"}
DRAWN = """wet out yarn in tub with water 5 L at 30 °C for 1 h
split yarn into gold 60 g, moss
gold-bath: prepare in kettle with water 10 L, weld 100 g at 40 °C
dye gold in gold-bath at 70 °C for 30 min
lift gold from gold-bath
draw off 1/4 of gold-bath into pan
add iron {iron} of moss to pan
put moss in pan at 60 °C for 5 min
lift moss
rinse gold, moss in tub with water 5 L at 40 °C
discard gold-bath, pan to "foul drain"
"""


def test_what_goes_fresh_into_a_bath_that_was_drawn_off_is_for_the_fibre_there() -> None:
    assert not [f.sentence for f in findings(DRAWN.format(iron="2 %")) if f.rule in SHARED]


# Iron is 1 to 5 % of wool (Dyers' leaflets; Mairet 1938, ch. II and V; mordants.csv).
def test_too_little_of_it_is_told_by_that_fibre() -> None:
    told = [f for f in findings(DRAWN.format(iron="0.2 %")) if f.rule == "too-little-mordant"]
    assert ["0.2 %" in f.sentence for f in told] == [True]


LYE = """materials
  {name}: {said}
steps
  gold-bath: prepare in kettle with water 4 L, weld 50 g, {name} 5 g
  discard gold-bath to "foul drain"
"""


# Chamber lye is urine; lye of old books was let from wood ashes (Mairet 1916, glossary, lixivium).
@pytest.mark.parametrize(
    ("name", "said", "known"),
    [
        ("x", 'alkali, "chamber lye"', "stale urine"),
        ("x", 'alkali, "stale chamberley"', "stale urine"),
        ("lye", 'alkali, "wood ash lye"', "wood-ash lye"),
        ("x", 'alkali, "lye of wood ashes"', "wood-ash lye"),
        ("x", 'alkali, "burnt seaweed lye"', "x"),
        ("bran", 'assistant, "wheat bran and lye of ashes"', "bran with wood-ash lye"),
        ("x", 'alkali, "strong lye"', "caustic soda"),
        ("lye", "alkali", "caustic soda"),
    ],
)
def test_a_lye_is_caustic_soda_where_nothing_says_what_it_was_let_from(
    name: str, said: str, known: str
) -> None:
    made = plan_of(LYE.format(name=name, said=said)).model.materials[name]
    assert made.trade_name == known


def told_of_unit(amount: str) -> tuple[str, str]:
    (found,) = [
        f
        for f in findings(
            "wet out yarn in tub with water 5 L for 1 h\n"
            f"gold-bath: prepare in kettle with water 4 L, weld {amount}\n"
            'discard gold-bath to "foul drain"'
        )
        if f.rule == "unknown-unit"
    ]
    return found.sentence, found.remedy


# NIST Handbook 44, appendix C: the dram is 27 11/32 grains (1.772 g), that of apothecaries 60
# (3.888 g); the hundredweight 100 lb (45.359 kg), the long one 112 lb (50.802 kg).
@pytest.mark.parametrize(
    ("amount", "sizes"),
    [
        ("2 drachms", ("1.77 g", "3.89 g")),
        ("2 drams", ("1.77 g", "3.89 g")),
        ("1 hundredweight", ("45400 g", "50800 g")),
        ("1 cwt", ("45400 g", "50800 g")),
    ],
)
def test_a_measure_of_two_sizes_is_asked_about(amount: str, sizes: tuple[str, str]) -> None:
    _, remedy = told_of_unit(amount)
    assert all(size in remedy for size in sizes), remedy
    assert amount.split()[1].rstrip("s") in remedy


@pytest.mark.parametrize(("long", "weeks"), [("1 year or more", "52 wk"), ("3 months", "4 wk")])
def test_a_year_is_asked_for_in_weeks(long: str, weeks: str) -> None:
    example = "steep yarn in tub with water 5 L for {long}"
    told = [f for f in findings(example.format(long=long)) if f.rule == "unknown-unit"]
    assert [f"“{weeks}”" in f.remedy for f in told] == [True]
    again = findings(example.format(long=weeks))
    assert not [f for f in again if f.rule == "unknown-unit"]


BATH = """steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  {line}
"""


@pytest.mark.parametrize(
    "line",
    [
        "alum-bath: 4 L water, 12 g alum, hand hot, in the pan",
        "alum-bath: 4 L water, hand hot, 12 g alum, in the pan",
        "alum-bath: in the pan, 4 L water, 12 g alum, at 40C",
        "alum-bath: 4 L water, 12 g alum, in the pan at 40 °C",
    ],
)
def test_the_bath_that_is_offered_is_read_with_its_heat(line: str) -> None:
    (found,) = findings(BATH.format(line=line), "error")
    offered = found.remedy.split("“")[1].split("”")[0]
    made = plan_of(BATH.format(line=offered))
    assert not [f.sentence for f in made.findings if f.level == "error"]
    bath = made.trace.final.baths["alum-bath"]
    assert bath.heat is not None
    assert 35 <= bath.heat.low <= bath.heat.high <= 45


@pytest.mark.parametrize(
    "where", ["away from direct sun", "out of direct sunlight", "away from the sun"]
)
def test_away_from_the_sun_is_in_the_shade(where: str) -> None:
    made = plan_of(f"wet out yarn in tub with water 5 L for 1 h\nhang yarn to dry {where}")
    assert not [f.sentence for f in made.findings if f.level == "error"]
    assert "in the shade" in made.trace.moments[-1].step.manner


def test_what_a_bath_is_made_of_is_never_sent_into_a_note() -> None:
    line = "dip yarn in iron water (1 g iron in 3 L water) in tub for 30 seconds"
    told = [f for f in findings(BATH.format(line=line), "error") if "brackets" in f.sentence]
    assert ["note" in f.remedy for f in told] == [False]


@pytest.mark.parametrize(
    "line",
    [
        "rinse yarn in 2 changes of lukewarm water in the tub",
        "rinse yarn in three waters of tepid water in the tub",
    ],
)
def test_changes_of_warm_water_are_rounds_of_rinsing(line: str) -> None:
    assert not [f.sentence for f in findings(BATH.format(line=line), "error")]
    rinsed = [m for m in plan_of(BATH.format(line=line)).trace.moments if m.node.does.rinses]
    assert len(rinsed) >= 2
    assert rinsed[0].heat is not None
    assert rinsed[0].heat.low >= 25


def test_capitals_of_wof_in_brackets_are_read_like_small_letters() -> None:
    line = "gold-bath: prepare in kettle with water 4 L, weld 100 g (1:1 {wof})"
    assert not [
        f
        for wof in ("WOF", "wof", "OWF")
        for f in findings(BATH.format(line=line.format(wof=wof)), "error")
        if f.rule == "cannot-read"
    ]


def test_a_licensed_collector_is_a_way_out() -> None:
    example = (
        "tin-bath: prepare in kettle with water 4 L, tin 4 g at 20 °C\n"
        'discard tin-bath to "a licensed collector"'
    )
    assert not [f.sentence for f in findings(example) if "no way out" in f.sentence]


# Hard water dulls cochineal's scarlet, and madder is red in it (Mairet 1938, ch. VI).
@pytest.mark.parametrize(
    ("dyestuff", "offered"), [("cochineal", "soft rain water"), ("madder", "hard tap water")]
)
def test_the_water_that_is_offered_is_what_the_dyestuff_needs(dyestuff: str, offered: str) -> None:
    bath = (
        f"materials\n  dyestuff: {dyestuff}, ground\nsteps\n"
        "  wet out yarn in tub with water 5 L at 30 °C for 1 h\n"
        "  scarlet-red-bath: prepare in kettle with water 4 L, dyestuff 20 g{note}\n"
        "  dye yarn in scarlet-red-bath at 60 °C for 1 h\n"
    )
    told = [f for f in findings(bath.format(note="")) if f.rule == "water-kind-unstated"]
    assert [f'note "{offered}"' in f.remedy for f in told] == [True]
    again = findings(bath.format(note=f' note "{offered}"'))
    assert not [f for f in again if f.rule in ("water-kind-unstated", "cannot-read")]
