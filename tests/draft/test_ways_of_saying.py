"""The plain deeds of a recipe in the many ways that people say them.

Each deed is tried in every combination of its verbs, its objects and its small words, behind the
same beginning; whatever is said, one line must come of it, and nothing be told of as not followed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import product

import pytest

from procedure.draft import drafted

DRAWN = (
    "100 g of wool yarn, two skeins of 50 g. Simmer 100 g of dried weld in 4 litres of water for"
    " an hour and strain it. "
)
IN = DRAWN + "Put the wool in the dye bath. "
HOT = IN + "Hold at 80 °C for an hour. "
OUT = HOT + "Cool. Take the wool out. "
RINSED = OUT + "Rinse it. "
WOOL = ("the wool", "your wool", "the damp wool", "the yarn", "the skeins", "it", "them")
PLATES = ("the heat", "the stove", "the hob")


def every(*parts: Iterable[str]) -> list[str]:
    """Each combination of the parts, as a phrase."""
    return [" ".join(word for word in one if word) for one in product(*parts)]


PUTS_IN = [
    *every(
        ("put", "place", "drop", "pop", "slip", "ease", "lower", "sink", "tip", "lay", "add"),
        WOOL,
        ("in", "into the bath", "in the dye", "into the warm dye liquor"),
    ),
    *every(("in goes", "in go"), ("the wool", "the skeins")),
    *every(("the wool", "the yarn"), ("goes in", "goes into the dye", "can now go into the pot")),
]
TAKES_OUT = [
    *every(
        ("take", "lift", "pull", "fish", "scoop", "hoist", "draw"),
        WOOL,
        ("out", "out of the bath", "from the pot", "back out of the dye"),
    ),
    *every(("out comes", "out come"), ("the wool", "the skeins")),
]
COOLS = [
    *every(
        ("let", "leave", "allow"), ("it", "the wool", "everything"), ("to cool", "to cool down")
    ),
    *every(("turn off", "switch off"), PLATES, ("and leave overnight", "and let it cool")),
    *every(("take it off", "remove from"), PLATES, ("and leave it till morning",)),
    "leave it in the pot till morning",
    "leave the wool in the bath overnight",
    "let the bath go cold overnight",
]
DRIES = [
    *every(("hang it", "hang the wool up", "peg it out"), ("to dry", "to dry in the shade")),
    *every(("hang it", "hang the skeins"), ("in the shade", "on the line", "out of the sun")),
    *every(("let it", "let the skeins", "allow it to"), ("dry", "dry in the shade")),
    *every(("lay", "spread"), ("it", "the wool"), ("out to dry",)),
    *("hang to dry in the shade", "air dry", "leave to dry", "dry away from the sun"),
]
SOAKS = [
    *every(("soak", "steep", "presoak"), ("it", "the wool"), ("overnight", "for an hour")),
    *every(("leave the wool", "put the wool"), ("to soak",), ("overnight", "for an hour")),
    *every(("soak",), ("overnight", "for an hour")),
]


@pytest.mark.parametrize(
    ("before", "phrases", "line"),
    [
        (DRAWN, PUTS_IN, r"(?:dye|put|enter) wool in dye-bath\b"),
        (IN, TAKES_OUT, r"lift wool$"),
        (HOT, COOLS, r"cool dye-bath\b"),
        (RINSED, DRIES, r"dry wool(?: in the shade| outdoors)?$"),
        ("100 g of wool yarn. ", SOAKS, r"wet out wool in tub (?:overnight|for 1 h)"),
    ],
    ids=["in", "out", "cool", "dry", "soak"],
)
def test_every_way_of_saying_a_deed_is_followed(before: str, phrases: list[str], line: str) -> None:
    missed = []
    for phrase in phrases:
        text = drafted(f"{before}{phrase.capitalize()}.", place_unsure=True).text
        code = [one.partition("  #")[0].strip() for one in text.splitlines()]
        last = text[text.rindex('# "') :]
        if not any(re.match(line, one) for one in code[-12:]) or "not followed" in last:
            missed.append(phrase)
    assert not missed, f"{len(missed)} of {len(phrases)}: {missed[:40]}"


@pytest.mark.parametrize(
    "words",
    [
        "Dissolve 12 g of alum in a mug of hot water and tip it into the pan with 4 litres.",
        "Tie the weld in a bag and drop it into 4 litres of water.",
    ],
)
def test_what_was_made_ready_and_is_tipped_in_is_no_fibre(words: str) -> None:
    text = drafted(f"100 g of wool. {words} Put the wool in.", place_unsure=True).text
    entered = re.findall(r"^  (?:mordant|dye|enter) wool\b.*$", text, re.M)
    assert len(entered) == 1


def test_a_pot_off_the_stove_is_not_fibre_lifted() -> None:
    text = drafted(f"{HOT}Remove from the heat and leave to cool overnight.").text
    assert "lift wool" not in text
    assert "cool dye-bath overnight" in text


@pytest.mark.parametrize(
    "said",
    [
        "Keep it below 70 °C, or the brown will come out.",
        "It comes out a bright lime and turns green as you watch.",
        "Much colour came out in the first minutes.",
    ],
)
def test_a_shade_that_comes_out_is_no_fibre_lifted(said: str) -> None:
    text = drafted(f"{IN}{said}").text
    assert "lift wool" not in text
    assert text.count("strain dye-bath") == 1  # that of the beginning


@pytest.mark.parametrize(
    "said", ["Then it comes out and is rinsed.", "The wool comes out after 1 h."]
)
def test_fibre_that_comes_out_is_lifted(said: str) -> None:
    assert "lift wool" in drafted(f"{HOT}{said}", place_unsure=True).text


def test_fibre_left_damp_and_fibre_that_waits_for_its_first_wash_are_in_no_bath() -> None:
    damp = drafted(f"{OUT}Rinse it and leave it damp overnight.").text
    assert "rest wool overnight" in damp
    waits = drafted(f"{RINSED}Dry it, and wait a week before the first wash with soap.").text
    assert "rest wool for 1 wk" in waits
    assert "soap" not in waits.partition("steps")[0]


def test_what_people_bring_and_hours_of_work_are_no_bath() -> None:
    text = drafted(
        "Bring: an apron, gloves. Only a few hours of that is work. 100 g of wool. Wet it out for"
        " 1 h."
    ).text
    assert "prepare" not in text
