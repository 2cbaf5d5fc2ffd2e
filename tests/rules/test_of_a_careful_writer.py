"""What a careful writer wrote rightly brings no alarm, and what is told names the right thing."""

from __future__ import annotations

import pytest
from expecting import findings, plan_of

import procedure
from procedure.language.numbers_in_full import OLD_MEASURES
from procedure.vocabulary.data_files import rows

WET = "    wet out yarn in tub with water 5 L at 30 °C for 1 h\n"


def rules(text: str) -> list[str]:
    return [one.rule for one in findings(text)]


@pytest.mark.parametrize("strength", ["solution", "solution, bought"])
def test_what_a_solution_of_no_stated_strength_holds_is_not_reckoned(strength: str) -> None:
    text = f"""materials
  tin: stannous chloride, {strength}
steps
  bath: prepare in kettle with water 4 L, tin 60 mL at 40 °C
  dye yarn in bath at 40 °C for 1 h
"""
    assert "too-much-mordant" not in rules(text)
    assert "too-much-mordant" in rules(text.replace(strength, "solution 50 % by weight"))


@pytest.mark.parametrize("short", ["boil gold-bath for 2 min", "simmer gold-bath for 3 min"])
def test_a_bath_is_made_hot_for_minutes_between_two_entries(short: str) -> None:
    dyed = "    dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h\n"
    made = f"{WET}    gold-bath: prepare in kettle with water 4 L, onion 50 g\n"
    lifted = "    lift yarn from gold-bath\n    add onion 20 g to gold-bath\n"
    assert "unlikely-time" not in rules(f"{made}{dyed}{lifted}    {short}\n{dyed}")
    assert "unlikely-time" in rules(f"{made}    {short}\n{dyed}")
    assert "unlikely-time" in rules(f"{made}{dyed}    {short}\n")


@pytest.mark.parametrize(
    "poured",
    [
        "add liquor to bath",
        "strain liquor into bath",
        "middle: prepare in jar with water 1 L\n    add liquor to middle\n    add middle to bath",
    ],
)
def test_a_liquor_is_for_all_the_fibre_of_the_bath_that_it_goes_into(poured: str) -> None:
    text = f"""{WET}    liquor: soak madder 75 % wof in pan with water 1 L overnight
    bath: prepare in kettle with water 4 L
    {poured}
    dye yarn in bath at 60 °C for 1 h
"""
    assert "share-of-no-fibre" not in rules(text)
    bath = plan_of(text).trace.final.baths["bath"].contents["madder"]
    assert bath.grams is not None and bath.grams.middle == 75


def test_a_liquor_that_goes_nowhere_has_no_fibre() -> None:
    text = f"{WET}    liquor: soak madder 75 % wof in pan with water 1 L overnight\n"
    assert "share-of-no-fibre" in rules(text)


@pytest.mark.parametrize("first", ["silk, yarn", "yarn, silk"])
def test_the_lot_with_the_iron_is_named(first: str) -> None:
    text = f"""
    wet out yarn, silk, cloth in tub with water 5 L for 1 h
    grey-bath: prepare in pan with water 6 L, iron 2 g
    modify silk in grey-bath at 60 °C for 20 min
    rinse {first} in tub with water 5 L
    rinse cloth in tub with water 5 L
"""
    (told, *_) = [one.sentence for one in findings(text) if one.rule == "iron-in-the-tub"]
    assert "in which silk was rinsed of its iron" in told


@pytest.mark.parametrize("who", ["the drain man's tank", "our drain company", "the sewer people"])
def test_who_takes_a_waste_away_is_no_place(who: str) -> None:
    text = f'    bath: prepare in kettle with water 4 L, copper 4 g\n    discard bath to "{who}"\n'
    told = [
        one.sentence for one in findings(text) if "bath" in one.sentence and "to “" in one.sentence
    ]
    assert not [one for one in told if "“drain”" in one or "“sewer”" in one]
    at_the_drain = text.replace(who, "the drain")
    assert "goes to “drain”" in " ".join(one.sentence for one in findings(at_the_drain))


@pytest.mark.parametrize("lift", ["lift light from bath", "lift deep from bath"])
def test_what_was_divided_in_its_bath_is_told_once(lift: str) -> None:
    text = f"""{WET}    bath: prepare in kettle with water 4 L, onion 50 g
    dye yarn in bath from 30 °C to 85 °C over 45 min for 1 h
    split yarn into light 50 g, deep 50 g
    {lift}
"""
    told = rules(text)
    assert told.count("divided-in-its-bath") == 1 and "not-in-that-bath" not in told


@pytest.mark.parametrize(
    "bound", ["at most 6 lb", "6 lb or more", "no more than 6 lb", "up to 6 lb"]
)
def test_a_bound_in_a_declaration_is_told_once_and_not_as_a_slip_of_a_word(bound: str) -> None:
    text = f"fibre\n  thread: linen yarn, {bound}, scoured\nsteps\n  dry thread\n"
    told = [one for one in findings(text) if one.rule == "unknown-word"]
    assert ["takes no bound" in one.sentence for one in told] == [True]


def test_a_word_that_is_no_bound_is_asked_about_as_before() -> None:
    text = "fibre\n  thread: linen or cotton yarn, 6 lb, scoured\nsteps\n  dry thread\n"
    assert not [one for one in findings(text) if "takes no bound" in one.sentence]


@pytest.mark.parametrize(
    ("said", "one"),
    [
        ("2 drams", "1.77 g, or 3.89 g"),
        ("1 bushel", "35.2 L in the US and 36.4 L in Britain"),
        ("2 pecks", "8.81 L in the US and 9.09 L in Britain"),
        ("3 gills", "in the US and"),
    ],
)
def test_an_old_measure_of_two_sizes_is_no_slip_for_another(said: str, one: str) -> None:
    """Sizes as the pint package has them."""
    found = findings(f"    bath: prepare in kettle with water 4 L, weld {said}\n")
    (remedy,) = [each.remedy for each in found if each.rule == "unknown-unit"]
    assert one in remedy and "Did you mean" not in remedy


@pytest.mark.parametrize(
    ("said", "agrees"),
    [
        ("5 mL (1 metric tsp)", True),
        ("15 mL (1 metric tablespoon)", True),
        ("250 mL (1 metric cup)", True),
        ("50 mL (1 metric tsp)", False),
        ("5 mL (1 g)", False),
    ],
)
def test_a_spoon_may_be_the_other_reading(said: str, agrees: bool) -> None:
    found = rules(f"    bath: prepare in kettle with water 4 L, vinegar {said}\n")
    assert ("readings-disagree" not in found) is agrees


@pytest.mark.parametrize(
    "left", ["stand bath overnight labelled", "simmer bath for 1 h uncovered outdoors"]
)
def test_who_is_asked_to_cover_a_pot_without_a_lid_hears_of_its_declaration(left: str) -> None:
    text = f"""equipment
  pan: stainless steel pot, 10 L, for dyeing only
steps
  bath: prepare in pan with water 4 L, tansy 100 g
  {left}
"""
    (remedy, *_) = [one.remedy for one in findings(text) if one.rule == "left-uncovered"]
    assert "write “lidded” where it is declared" in remedy
    lidded = text.replace("10 L,", "10 L, lidded,")
    (remedy, *_) = [one.remedy for one in findings(lidded) if one.rule == "left-uncovered"]
    assert "lidded" not in remedy


@pytest.mark.parametrize(
    ("line", "said", "remedy"),
    [
        ("add weld a peck to b", "“peck” is not a unit", "8.81 L in the US and 9.09 L in Britain"),
        ("add two pecks weld to b", "“pecks” is not a unit", "write which, in L"),
        ("add a dram of chalk to b", "“dram” is not a unit", "1.77 g, or 3.89 g"),
        ("stand b for a month", "“month” is not a unit", "4 wk"),
        ("keep b as c for half a year", "“year” is not a unit", "52 wk"),
        ("add water two pails to b", "found “two” here", "in figures and with a unit"),
    ],
)
def test_old_measures_are_told_of_by_their_name(line: str, said: str, remedy: str) -> None:
    text = OLD_MEASURE_HEAD + f"  {line}\n"
    told = [one for one in procedure.read(text).findings if one.line == text.count("\n")]
    assert any(said in one.sentence and remedy in one.remedy for one in told), told


OLD_MEASURE_HEAD = """procedure "A trial"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
materials
  weld: weld, dried
  chalk: chalk
steps
  b: prepare in pot with water 8 L
"""


def test_every_old_measure_has_a_size() -> None:
    assert {*OLD_MEASURES} <= {row["name"] for row in rows("foreign_units")}
