"""The blanks on paper are those of a record's form: the same names in the same order."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from papers import EXAMPLES, METRIC

import procedure
from procedure.batch.asking import questions
from procedure.batch.form import form
from procedure.batch.from_plan import planned_batch
from procedure.command.voice import voice_of
from procedure.handout import as_paper, record_sheet
from procedure.handout.contents import contents
from procedure.paper import in_text
from procedure.paper.blocks import Listing, Para, StepCard, StepCards
from procedure.paper.measures import unit_of
from procedure.paper.pieces import Blank, Phrase, spaced


def asked(path: Path, section: str = "") -> list[str]:
    """The words of the blanks of a form, less the names of lots and materials before them."""
    found = []
    for one in questions(form(planned_batch(procedure.load(path)))):
        words = one.what.split()
        is_step = one.where.startswith("step ")
        if section == "steps" and not is_step:
            continue
        if not is_step and one.where in ("fibre", "materials"):
            words = words[1:]
        found.append(" ".join(words))
    return found


def on_paper(said: Phrase) -> list[str]:
    """The words of the blanks; of “with slaked lime (lime in the list)” the form has the lime."""
    words = [piece.what.partition(",")[0] for piece in said if isinstance(piece, Blank)]
    return [re.sub(r"^with .* \((.*) in the list\)$", r"with \1", word) for word in words]


def of_card(card: StepCard) -> Iterator[str]:
    yield from on_paper(card.blanks)
    for inner in card.inner:
        yield from of_card(inner)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_sheet_has_the_blanks_of_the_form(path: Path) -> None:
    sheet = record_sheet.paper(procedure.load(path), METRIC)
    found = [
        word for block in sheet.head if isinstance(block, Para) for word in on_paper(block.text)
    ]
    assert found[0] == "batch"
    for section in sheet.sections:
        for block in section.blocks:
            if isinstance(block, Listing):
                found += [word for item in block.items for word in on_paper(item)]
            elif isinstance(block, StepCards):
                found += [word for card in block.cards for word in of_card(card)]
    # A name is printed as words: jade bath for jade-bath.
    assert list(map(spaced, found[1:])) == list(map(spaced, asked(path)))


EACH = [path for path in EXAMPLES if "for each" in path.read_text("utf-8")]
SAMPLE = [*[path for path in EXAMPLES if path not in EACH][::5], *EACH]
LARGE = ("shade-card-24", "workshop-day")  # some seconds each


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(path, marks=pytest.mark.exhaustive if path.stem in LARGE else (), id=path.stem)
        for path in SAMPLE
    ],
)
def test_the_long_handout_has_the_blanks_of_the_steps(path: Path) -> None:
    """Steps that are alike for several lots are told once; their blanks are there for each."""
    made = as_paper.paper(contents(procedure.load(path), METRIC))
    found = [
        word
        for section in made.sections
        for block in section.blocks
        if isinstance(block, StepCards)
        for card in block.cards
        for word in of_card(card)
    ]
    assert list(map(spaced, found)) == list(map(spaced, asked(path, "steps")))


def test_the_sheet_has_its_blanks_as_plain_text_too() -> None:
    path = next(one for one in EXAMPLES if one.stem == "three-lots-one-bath")
    sheet = in_text.page(record_sheet.paper(procedure.load(path), METRIC))
    assert sheet.count("____") == len(asked(path)) + 1  # and the batch's own name
    assert "from ____ °C planned 40 °C (104 °F)  to ____ °C planned 85 °C (185 °F)" in sheet


GALLONS = Path(__file__).parents[2] / "examples" / "goldenrod-us-units.dye"


def test_each_blank_of_the_sheet_has_its_plan_in_the_file_s_own_units() -> None:
    plan = procedure.load(GALLONS)
    sheet = " ".join(in_text.page(record_sheet.paper(plan, voice_of(plan, None))).split())
    for line in (
        "yarn: ____ lb planned 1 lb",
        "with water ____ US gal planned 3½ US gal",
        "____ oz planned 2 oz",
        "to ____ °F planned 185 °F",
        "until ____ planned “the water runs clear”",
    ):
        assert line in sheet, line
    assert "°C" not in sheet and "US qt" not in sheet


def test_the_long_handout_has_no_plan_beside_its_blanks() -> None:
    """There the sentence of the step, just above them, says it."""
    plan = procedure.load(GALLONS)
    made = in_text.page(as_paper.paper(contents(plan, voice_of(plan, None))))
    assert "planned" not in made


@pytest.mark.parametrize(
    ("amount", "unit"),
    [
        ("3½\u00a0US\u00a0gal", "US\u00a0gal"),
        ("15.1 L (4 US gal)", "L"),
        ("1 lb 9½ oz", ""),
        ("2 to 3 lb", "lb"),
        ("0.24 oz (6.8 g)", "oz"),
        ("at least 5 g", "g"),
        ("−5 °C", "°C"),
        ("", ""),
    ],
)
def test_the_unit_of_an_amount_that_is_printed(amount: str, unit: str) -> None:
    assert unit_of(amount) == unit
