"""What a step leaves unsaid is supplied only where one thing can be meant, and else asked for."""

from __future__ import annotations

import pytest
from test_left_out import HEAD, told

import procedure
from procedure.model import Step

ALUM = "alum-bath: prepare in pan with water 5 L, alum 12 g at 40 °C"
DYE = "dye-bath: prepare in kettle with water 5 L, weld 100 g at 40 °C"
IN_ALUM = "mordant yarn in alum-bath at 80 °C for 1 h"
GONE = 'discard dye-bath to "foul drain"'
IRON = "iron-water: dissolve iron 1 g in tub with water 1 L"


@pytest.mark.parametrize(
    ("before", "line", "says"),
    [
        ((DYE, "enter yarn, silk in dye-bath", "lift yarn"), "squeeze", "out of the yarn"),
        ((ALUM, DYE, "enter yarn in dye-bath", "lift yarn"), "put it back", "into the dye bath"),
        ((ALUM, IN_ALUM, DYE), "add yarn", "Add the yarn to the dye bath"),
        ((ALUM, IN_ALUM, DYE), "enter yarn", "Put the yarn into the dye bath"),
        ((ALUM, IN_ALUM, DYE), "put yarn in", "Put the yarn into the dye bath"),
        ((ALUM, IN_ALUM, DYE), "steep yarn for 1 h", "Steep the yarn in the alum bath"),
        ((ALUM, IN_ALUM, DYE), "simmer for 1 h", "Simmer the dye bath"),
        ((DYE, "enter yarn in dye-bath"), "leave yarn overnight", "Steep the yarn in the dye bath"),
        ((DYE, "enter yarn in dye-bath"), "hold yarn for 1 h", "Keep the dye bath for 1 hour"),
        ((DYE, "strain dye-bath"), "leave yarn overnight", "Let the yarn rest"),
        ((DYE,), "put all lots in dye-bath", "Put the yarn and the silk into the dye bath"),
        ((DYE,), "enter all of the skeins in dye-bath", "Put the yarn and the silk into the dye"),
        ((DYE,), "put all the yarn in dye-bath", "Put the yarn into the dye bath"),  # a lot's name
        ((DYE,), "put the skeins in dye-bath", "Put the yarn and the silk into the dye bath"),
        ((DYE,), "put the fibre in dye-bath", "Put the yarn and the silk into the dye bath"),
        ((DYE,), "put all the wool in dye-bath", "Put the yarn into the dye bath"),
        ((DYE,), "dye all the fibre in dye-bath", "Put the yarn and the silk into the dye bath"),
        ((DYE, "enter yarn, silk in dye-bath"), "take the fibre out", "Lift the yarn and the silk"),
        ((ALUM, "enter yarn, silk in alum-bath"), "lift everything", "Lift the yarn and the silk"),
        ((), "dry everything", "Leave the yarn and the silk to dry"),
        ((), "prepare in kettle with alum 10 % of the skeins", "15 g of potassium alum"),
        ((), "prepare in kettle with alum 10 % of all the fibre", "15 g of potassium alum"),
        (
            ("split yarn into pale 50 g, dark 50 g",),
            "dry all lots",
            "the silk, the pale lot and the dark",
        ),
    ],
)
def test_what_is_meant_is_named(before: tuple[str, ...], line: str, says: str) -> None:
    sentences, found = told(before, line)
    assert found == []
    assert says in sentences[0]


@pytest.mark.parametrize(
    ("before", "line"),
    [
        (
            (DYE, "enter yarn, silk in dye-bath", "lift yarn, silk", "squeeze yarn"),
            "hang up to dry",
        ),
        ((ALUM, DYE, "enter yarn in dye-bath", "lift yarn", GONE), "put yarn back"),
        ((DYE, GONE), "simmer for 1 h"),
        ((DYE, GONE), "add yarn"),
        ((ALUM, DYE, 'if "it is spent"', f"  {GONE}"), "simmer for 1 h"),
        ((ALUM, IN_ALUM), "add yarn"),
        ((ALUM, IN_ALUM), "enter yarn"),
        # The vinegar is what something lies in, and is not done to itself.
        ((), "soak in vinegar for 1 h"),
        ((DYE,), "leave in vinegar for 1 h"),
        ((DYE,), "boil in vinegar for 10 min"),
        # One pot for one bath: the other thing is told of, and not dropped.
        ((), "prepare pan, zork with water 2 L"),
        ((), "make pan, tub with water 2 L"),
        ((ALUM, IN_ALUM, DYE, "frobble the bath"), "add yarn"),
        ((ALUM, IN_ALUM, DYE), "simmer yarn for 45 min"),
        ((ALUM, IN_ALUM, DYE, "lift yarn from alum-bath"), "simmer for 1 h"),
        ((DYE, IRON), "add yarn"),
        ((ALUM, DYE), "add yarn"),
        ((DYE, "simmer for 1 h, then strain", ALUM, "heat to 60 °C"), "enter yarn"),
        ((ALUM, DYE), "simmer yarn for 45 min"),
        ((DYE, "iron-bath: prepair in pan with water 5 L, iron 1 g"), "add yarn"),
        ((DYE, "make an iron bath in pan with frobbles"), "add yarn"),
        (("chop weld",), "rinse in tub with water 5 L"),
        (("fill bag with onion 60 g", ALUM, DYE), "lower it into dye-bath"),
        ((DYE,), "put all the cloth in dye-bath"),
        ((DYE,), "put everything in dye-bath"),
        # Which skeins: what was spoken of last, or all?
        ((ALUM, IN_ALUM, "lift yarn", DYE, "dye yarn in dye-bath for 1 h"), "rinse the skeins"),
        ((ALUM, IN_ALUM, DYE), "put the skeins in dye-bath"),
        ((ALUM, IN_ALUM, DYE, "enter silk in dye-bath"), "lift the skeins"),
        ((ALUM, IN_ALUM, "put silk in alum-bath"), "lift the skeins"),  # or the one put in last?
        ((DYE, "enter yarn, silk in dye-bath"), "take everything out"),  # the plants as well?
    ],
)
def test_what_may_be_several_is_asked(before: tuple[str, ...], line: str) -> None:
    _, found = told(before, line)
    assert [one for one in found if "frobble" not in one and "prepair" not in one]


def test_equal_lines_are_read_by_what_words_mean_there() -> None:
    first = HEAD.replace("  silk: silk yarn, 50 g, scoured, mordanted with alum 10 %\n", "")
    second = first.replace("yarn: wool", "hank: wool")
    line = "  rinse wool in tub with water 5 L\n"
    for text, name in ((first, "yarn"), (second, "hank")):
        (step,) = procedure.read(text + line).model.body
        assert isinstance(step, Step)
        assert [item.name.text for item in step.objects if item.name is not None] == [name]


def test_what_goes_into_a_bath_that_there_is_makes_no_new_one() -> None:
    """A name that nobody knows is told of as that, and is all that is told."""
    _, found = told((DYE,), "put the scarves in dye-bath")
    assert found == ["Nothing is called “scarves” here."]


def lines_of(text: str) -> list[Step]:
    """The steps of a text, those of its blocks too."""
    body = list(procedure.read(text).model.body)
    steps: list[Step] = []
    while body:
        first = body.pop(0)
        if isinstance(first, Step):
            steps.append(first)
        else:
            body[:0] = first.body
    return steps


@pytest.mark.parametrize(
    "described", ["wool yarn, 100 g, scoured", "100 g, wool yarn", "scoured, 100 g, wool yarn"]
)
def test_what_a_lot_is_may_be_said_behind_its_weight(described: str) -> None:
    text = f'procedure "One"\nfibre\n  hank: {described}\nsteps\n  rinse wool for 1 min\n'
    (step,) = lines_of(text)
    assert [item.name.text for item in step.objects if item.name is not None] == ["hank"]


def test_a_new_name_and_the_name_of_a_step_are_no_words_for_the_only_lot() -> None:
    lines = (
        "skein: rinse yarn in tub with water 5 L",
        "for each hank in yarn",
        "  dry hank after fibre",
        "rinse hank in tub with water 5 L after skein",
    )
    silk = "  silk: silk yarn, 50 g, scoured, mordanted with alum 10 %\n"
    text = HEAD.replace(silk, "") + "".join(f"  {line}\n" for line in lines)
    _, dried, rinsed = lines_of(text)
    assert [item.name.text for item in dried.objects if item.name is not None] == ["hank"]
    assert [name.text for name in dried.after] == ["fibre"]
    assert [name.text for name in rinsed.after] == ["skein"]


def test_a_word_for_fibre_is_fibre_whichever_it_is() -> None:
    """“Soak the fibre” makes no bath of plants, where it is only not said which lot."""
    before = ("rinse silk in tub with water 5 L",)
    _, found = told(before, "soak the fibre in tub with water 5 L for 1 h")
    assert found == ["“fibre” does not say what is meant."]
