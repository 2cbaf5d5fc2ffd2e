"""A heat and a time, or two times, behind one word; clocks, rounds and remarks in a line."""

from __future__ import annotations

import pytest
from test_left_out import HEAD, told

import procedure
from procedure.model import Step

DYE = (
    "dye-bath: prepare in kettle with water 5 L, weld 100 g at 40 °C",
    "iron-bath: prepare in pan with water 5 L, iron 1 g",
)
ERRORS = ("unknown-unit", "wrong-quantity")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("dye yarn in dye-bath @ 60C 1 h", "at 60 °C (140 °F) for 1 hour"),
        ("dye yarn in dye-bath at 60C + 1 h", "at 60 °C (140 °F) for 1 hour"),
        ("dye yarn in dye-bath at 60C 1 to 2 h", "at 60 °C (140 °F) for 1 to 2 hours"),
        ("dye yarn in dye-bath for 1 h 30 min", "for 1½ hours"),
        (
            "simmer dye-bath 1 h. Do not boil. Strain.",
            "1 hour. Never let it get above 95 °C (203 °F)",
        ),
    ],
)
def test_a_time_behind_a_heat_has_its_clause(line: str, says: str) -> None:
    sentences, found = told(DYE, line)
    assert found == []
    assert says in sentences[0]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("dye yarn in dye-bath from 40 °C to 80 °C over 45 min 1 h", "“45 min 1 h”"),
        ("dye yarn in dye-bath at 60 °C for 30 min 2 h", "“30 min 2 h”"),
        ("dye yarn in dye-bath from 40 °C to 60 °C 1 h", "“60 °C 1 h”"),
        ("simmer dye-bath 1:30", "looks like a clock"),
        ("add iron 2 oz 1 lb to dye-bath", "“2 oz 1 lb”"),
    ],
)
def test_two_amounts_behind_one_word_are_asked_about(line: str, says: str) -> None:
    text = HEAD + "".join(f"  {one}\n" for one in (*DYE, line))
    found = [one for one in procedure.read(text).findings if one.rule in ERRORS]
    assert len(found) == 1
    assert says in str(found[0].sentence)


def test_two_remarks_are_one_note_with_the_articles_of_the_writer() -> None:
    line = "simmer dye-bath 1 h (mind the steam), so that the weld is under"
    step = procedure.read(HEAD + "".join(f"  {one}\n" for one in (*DYE, line))).model.body[-1]
    assert isinstance(step, Step)
    assert step.note == "mind the steam; so that the weld is under"


@pytest.mark.parametrize("line", ["lift yarn, no rinsing", "lift yarn, don't rinse"])
def test_what_is_not_done_is_a_note(line: str) -> None:
    sentences, found = told((*DYE, "enter yarn in dye-bath"), line)
    assert (len(sentences), found) == (1, [])


@pytest.mark.parametrize(
    "line",
    [
        "cool dye-bath to 40C, don't let it go below 30C",
        'discard dye-bath to "foul drain", keeping 1 L',
        "dye yarn in dye-bath 1 h, adding iron 2 g at the end",
    ],
)
def test_an_amount_in_an_aside_is_asked_about(line: str) -> None:
    _, found = told(DYE, line)
    assert [one for one in found if "has an amount in it" in one]


def test_a_lot_that_is_in_one_bath_or_another_is_lifted_out_of_no_named_one() -> None:
    before = (*DYE, "enter yarn in dye-bath", 'if "too pale"', "  put yarn in iron-bath")
    sentences, _ = told(before, "lift yarn")
    assert sentences == ["Lift the yarn out of the bath."]


@pytest.mark.parametrize(
    ("before", "line", "remedy"),
    [
        (DYE, "add yarn", "“to dye-bath” or “to iron-bath”"),
        ((DYE[0], 'discard dye-bath to "foul drain"'), "enter yarn", "is thrown away by now"),
    ],
)
def test_the_remedy_names_what_may_be_meant(
    before: tuple[str, ...], line: str, remedy: str
) -> None:
    text = HEAD + "".join(f"  {one}\n" for one in (*before, line))
    found = [str(one.remedy) for one in procedure.read(text).findings if one.line > 0]
    assert any(remedy in one for one in found)
