"""A soak whose time follows behind “and leave”, and plants that soak in a pot as a bath."""

from __future__ import annotations

import pytest
from test_left_out import BATH, HEAD, told

import procedure


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("wet out yarn in tub with water 5 L at 30 °C and leave for an hour", "for 1 hour"),
        ("soak yarn in tub with water 5 L, leave to soak 1 hour", "for 1 hour"),
        ("soak yarn in tub with 5 L warm water and leave overnight", "overnight"),
        ("soak yarn in tub with water 5 L and leave it for 2 h", "for 2 hours"),
        ("soak weld 50 g in tub with water 5 L and leave for 3 days", "for 3 days"),
        ("cover weld 50 g with water 5 L in tub, and soak 3 days", "for 3 days"),
        ("cover the weld 50 g with rain water 5 L in tub and leave to soak for 3 d", "for 3 days"),
    ],
)
def test_how_long_is_the_soaks_own(line: str, says: str) -> None:
    sentences, found = told((), line)
    assert found == []
    assert len(sentences) == 1
    assert sentences[0].startswith("Soak ")
    assert says in sentences[0]


@pytest.mark.parametrize(
    ("line", "many"),
    [
        # What has its time, or is no soak, or goes on with another thing, stays two steps.
        ("soak yarn in tub with water 5 L for 1 h and leave for 2 h", 2),
        ("rinse yarn in tub with water 5 L and leave to drip for 1 h", 2),
        ("soak yarn in tub with water 5 L and rest silk for 1 h", 2),
        ("soak yarn in tub with water 5 L for 1 h, then squeeze", 2),
    ],
)
def test_other_steps_stay_two(line: str, many: int) -> None:
    sentences, found = told((), line)
    assert found == []
    assert len(sentences) == many


SOAKED = (
    "soak onion 100 g in pan with water 4 L for 1 d covered labelled",
    "put onion 100 g in pan, cover with 4 L of water and leave overnight covered labelled",
    "put onion 100 g in pan and cover with water 4 L",
)


@pytest.mark.parametrize("first", SOAKED)
def test_plants_that_soak_are_a_bath_in_their_pot(first: str) -> None:
    steps = (first, "simmer pan for 1 h", "strain pan", "cool pan to 40 °C", "enter yarn in pan")
    text = HEAD + "".join(f"  {one}\n" for one in steps)
    rules = {one.rule for one in procedure.read(text).findings}
    assert rules.isdisjoint({"used-after-emptied", "cannot-read", "not-declared"})
    assert "bath-left-over" in rules


def test_an_empty_pot_is_told_of_once() -> None:
    text = HEAD + "".join(
        f"  {one}\n"
        for one in ("simmer pan for 1 h", "add yarn to pan", "cool pan to 40 °C", "lift yarn")
    )
    found = procedure.read(text).findings
    assert sum(one.rule == "used-after-emptied" for one in found) == 1
    again = text + "  pan-bath: prepare in pan with water 5 L\n  discard pan-bath to drain\n"
    again += "  simmer pan for 1 h\n"
    found = procedure.read(again).findings
    assert sum(one.rule == "used-after-emptied" for one in found) == 2


def test_it_is_the_fibre_that_was_just_squeezed() -> None:
    sentences, found = told(
        (*BATH, "rinse yarn in tub with water 5 L"), "squeeze it out and add it to dye-bath"
    )
    assert found == []
    assert "Add the yarn to the dye bath" in sentences[-1]


@pytest.mark.parametrize("how", ["a bit", "a little", "down a little", "slightly"])
def test_cooling_a_little_is_asked_how_far(how: str) -> None:
    text = HEAD + f"  {BATH[0]}\n  heat dye-bath to 80 °C\n  let dye-bath cool {how}\n"
    found = procedure.read(text).findings
    assert [one.rule for one in found if one.level == "error"] == ["something-missing"]


def test_a_line_that_cannot_be_read_is_told_once() -> None:
    """Names in it, and names of things whose own line could not be read, bring nothing more."""
    text = HEAD.replace("  indigo: indigo\n", "  cream of tartar\n") + (
        "  slide a skein in under the surface and work it for 5 min\n"
        "  wet out yarn in tub with water 5 L, cream of tartar 5 g for 1 h\n"
    )
    found = [one for one in procedure.read(text).findings if one.level == "error"]
    assert [one.rule for one in found] == ["cannot-read", "cannot-read"]


def test_a_part_of_a_lot_is_told_to_be_parted_first() -> None:
    steps = (*BATH, "enter yarn in dye-bath", "lift yarn", "rinse half in tub with water 5 L")
    found = procedure.read(HEAD + "".join(f"  {one}\n" for one in steps)).findings
    (asked,) = [one for one in found if one.rule == "not-declared"]
    assert "split yarn into early half of yarn, late" in asked.remedy


def test_what_is_dissolved_for_a_bath_is_no_bath_left_over() -> None:
    steps = (
        "alum-bath: prepare in pan with water 5 L at 40 °C",
        "dissolve alum 12 g in tub with water 1 L",
        "add alum to alum-bath",
        'discard alum-bath to "foul drain"',
    )
    found = procedure.read(HEAD + "".join(f"  {one}\n" for one in steps)).findings
    assert "bath-left-over" not in {one.rule for one in found}


def test_a_slip_in_the_name_of_a_pot_brings_nothing_more() -> None:
    steps = (
        "dye-bath: prepare in kettle with water 5 L, weld 100 g",
        "simmer ketle for 1 h",
        "cool kettle to 40 °C",
    )
    found = procedure.read(HEAD + "".join(f"  {one}\n" for one in steps)).findings
    assert [one.rule for one in found if one.level == "error"] == ["not-declared"]
