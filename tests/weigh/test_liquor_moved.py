"""What is taken out of a bath is on the weighing sheet, and so is a bath kept from before."""

from __future__ import annotations

from fractions import Fraction

import pytest

import procedure
from procedure import Plan
from procedure.handout.needs import needs
from procedure.handout.phrasebook import Telling
from procedure.paper.measures import Voice
from procedure.paper.pieces import plain_text
from procedure.report.weigh_text import Estimates, Request, report
from procedure.rework.scaling import scale
from procedure.weigh.weighing import weigh
from procedure.wording.reader import of_system

HEAD = """procedure "Moved"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, for dyeing only
  pan: stainless steel pot, 8 L, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
materials
  old-vat: kept bath
  weld: weld, dried
  iron: ferrous sulphate
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
"""
BATH = "bath: prepare in pot with water 4 L, weld 100 g"


def sheet_of(*lines: str) -> str:
    plan = plan_of(*lines)
    return report(weigh(plan), [], Estimates([], [], []), Request((), None, ()))


def plan_of(*lines: str) -> Plan:
    return procedure.read(HEAD + "".join(f"  {line}\n" for line in lines), "moved.dye")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("draw off 400 mL of bath into pan as second", "400 mL  bath; drawn off; this is second"),
        ("draw off half of bath into pan as second", "2 L  bath; half of bath; drawn off; this is"),
        ("draw off some of bath into pan as second", "______  bath; "),
        (
            "discard 1 L of bath to “the drain”".replace("“", '"').replace("”", '"'),
            "1 L  bath; poured away",
        ),
        ('discard a quarter of bath to "the drain"', "1 L  bath; a quarter of bath; poured away"),
    ],
)
def test_what_is_taken_out_of_a_bath_has_its_line(line: str, said: str) -> None:
    flat = " ".join(sheet_of(BATH, line).split())
    assert " ".join(said.split()) in flat


def test_what_is_drawn_off_is_nothing_to_be_bought_or_drawn_from_the_tap() -> None:
    sheet = sheet_of(BATH, "draw off 1 L of bath into pan as second")
    assert " ".join(sheet[sheet.index("Water in all") :].split()).startswith(
        "Water in all 9 L water"
    )


def test_it_grows_with_the_fibre_as_the_bath_does() -> None:
    plan = plan_of(BATH, "draw off 400 mL of bath into pan as second")
    twice = scale(plan, {"yarn": Fraction(200)}).plan
    (row,) = (row for row in weigh(twice).rows if row.called == "bath")
    assert row.low == row.high == Fraction(8, 10)


@pytest.mark.parametrize(
    "lines",
    [
        ("dip yarn in old-vat for 1 min",),
        ("stir old-vat", "dip yarn in old-vat for 1 min"),
        ("dye yarn in old-vat at 40 °C for 1 h", "lift yarn from old-vat"),
    ],
)
def test_a_kept_bath_that_fibre_goes_into_is_among_what_is_needed(lines: tuple[str, ...]) -> None:
    plan = plan_of(*lines)
    sheet = " ".join(sheet_of(*lines).split())
    assert "all of it old-vat; as it was kept" in sheet
    assert "Kept from before all of it old-vat" in sheet
    assert sheet.count("as it was kept") == 1
    voice = Voice("metric", reader=of_system("metric"))
    listed = needs(Telling(plan, voice), weigh(plan)).materials
    told = [plain_text((*one.name, " ", *one.remark), voice) for one in listed]
    assert "old vat kept from before" in told


def test_all_of_a_bath_is_not_as_needed_as_well() -> None:
    sheet = sheet_of(
        "iron-water: dissolve iron 1 g in pan with hot water unstated",
        BATH,
        "add iron-water to bath",
    )
    assert "as needed" not in sheet
    assert " ".join(sheet.split()).count("all of it iron-water") == 1
