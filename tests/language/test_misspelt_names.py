"""A name that is one slip from another is told once, and brings no train behind it."""

from __future__ import annotations

import pytest
from expecting import expect, findings, rules_of

DYED = """wet out yarn in tub with water 5 L at 30 °C for 1 h
alum-bath: prepare in kettle with water 5 L at 40 °C, alum 12 g
mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
cool alum-bath to 30 °C covered
rinse yarn in tub with water 5 L at 30 °C
discard alum-bath to "foul drain"
clean kettle
dry yarn
"""


@pytest.mark.parametrize(
    ("said", "misspelt"),
    [
        ("mordant yarn in alum-bath", "mordant yarn in alum-baht"),
        ("cool alum-bath", "cool alm-bath"),
        ("discard alum-bath", "discard alum-batth"),
        ("rinse yarn", "rinse yran"),
        ("clean kettle", "clean kettel"),
    ],
)
def test_one_slip_in_a_name_is_one_finding(said: str, misspelt: str) -> None:
    sound = rules_of(DYED)
    assert "not-declared" not in sound
    text = DYED.replace(said, misspelt, 1)
    assert text != DYED
    (found,) = [one for one in findings(text) if one.rule not in sound]
    assert found.rule == "not-declared" and "Did you mean" in found.remedy


def test_other_names_are_not_taken_for_one_another() -> None:
    """A lot called red-2 is not red-1, and a thing of another kind is not meant."""
    text = DYED.replace("rinse yarn", "rinse yarn-2", 1)
    assert "not-declared" in rules_of(text)
    assert "ends-unrinsed" in rules_of(text)


@pytest.mark.parametrize("word", ["yarn", "it", "the lot"])
def test_the_rest_of_a_lot_that_is_split_is_one_of_its_parts(word: str) -> None:
    expect(f"split yarn into gold 50 g, moss the rest of {word}\ndry gold, moss\n")


def test_a_name_behind_the_rest_of_is_not_dropped() -> None:
    (found,) = expect(
        "split yarn into gold 50 g, moss the rest of yanr\ndry gold, moss\n", "not-declared"
    )
    assert "“yanr”" in found.sentence and "yarn" in found.remedy
    expect(
        "split yarn into gold 50 g, moss the rest of silk\ndry gold, moss\n",
        "split-does-not-add-up",
    )


@pytest.mark.parametrize(
    "said", ["on the line", "on a drying rack", "on an old towel", "over the washing line"]
)
def test_a_line_to_hang_on_need_not_be_declared(said: str) -> None:
    expect(f"wet out yarn in tub with water 5 L at 30 °C for 1 h\nhang yarn {said}\n")


def test_what_is_no_equipment_is_not_hung_on_nor_offered() -> None:
    (found,) = expect("dry yarn on weld\n", "wrong-kind-of-thing")
    assert "a piece of equipment" in found.sentence
    (found,) = expect("dry yarn on the balcony\n", "not-declared")
    assert "Did you mean" not in found.remedy
