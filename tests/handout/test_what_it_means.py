"""What “it” and “them” mean in the sentences of the short handout: what was spoken of last."""

from __future__ import annotations

import re

import pytest

import procedure
from procedure.handout.short import paper
from procedure.paper import in_text
from procedure.paper.measures import Voice
from procedure.wording.reader import of_system

HEAD = """procedure "Gold"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  pan: stainless steel pot, 12 L, lidded, for dyeing only
  jug: glass jug, 2 L, for dyeing only
  bag: muslin bag, for dyeing only

materials
  weld: weld, dried
  chalk: chalk
  soda: soda ash

steps
"""


def told(lines: str) -> str:
    """The steps of the short handout, on one line."""
    indented = "\n".join(f"  {line}" for line in lines.splitlines())
    plan = procedure.read(f"{HEAD}{indented}\n", "example.dye")
    text = in_text.printed(paper(plan, Voice("metric", reader=of_system("metric")))).decode()
    steps = text[text.index("THE STEPS") :]
    return re.sub(r"\s+", " ", steps.replace("\u00a0", " "))


BATH = "fill bag with weld 100 g\nweld-bath: prepare in pot with water 5 L\n"
LOOSE = "weld-bath: prepare in pot with water 5 L, weld 100 g\n"


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (
            f"{BATH}lower bag into weld-bath\nboil weld-bath for 1 h",
            "Put the bag into the weld bath; boil the weld bath",
        ),
        (
            f"{BATH}lower bag into weld-bath\nadd water 2 L to weld-bath",
            "Put the bag into the weld bath; add 2 L of water to the weld bath",
        ),
        (
            f"{BATH}lower bag into weld-bath\nboil weld-bath for 1 h\ntake out bag from weld-bath"
            "\nadd chalk 3 g to weld-bath",
            "let it drip; add 3 g of chalk to the weld bath",
        ),
        (
            f"{LOOSE}boil weld-bath for 1 h\nlift out weld from weld-bath\n"
            "add chalk 3 g to weld-bath",
            "out of the weld bath; add 3 g of chalk to the weld bath",
        ),
        (
            f"{LOOSE}draw off 1 L of weld-bath into pan as second\nadd soda 2 g to weld-bath",
            "add 2 g of soda ash to the weld bath",
        ),
        (
            f"{LOOSE}second: prepare in pan with water 1 L\nadd second to weld-bath\n"
            "heat weld-bath to 60 °C",
            "to the weld bath; heat the weld bath to 60",
        ),
        (
            f"{BATH}lower bag into weld-bath\nboil weld-bath for 1 h\ntake out bag from weld-bath"
            "\npour weld-bath into pan",
            "let it drip; pour the weld bath into the pan",
        ),
    ],
)
def test_a_bath_is_named_after_something_else_was_spoken_of(lines: str, says: str) -> None:
    assert says in told(lines)


def test_a_bath_that_was_spoken_of_alone_is_it() -> None:
    assert "; boil it (95" in told(f"{LOOSE}boil weld-bath for 1 h")
    assert "; add 3 g of chalk to it; heat it to 60" in told(
        f"{LOOSE}add chalk 3 g to weld-bath\nheat weld-bath to 60 °C"
    )


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ("weld-bath: prepare in pot with water 5 L at blood heat", "Have it at blood heat (35"),
        ("weld-bath: prepare in pot with water 5 L at room temperature", "at room temperature (10"),
        ("weld-bath: prepare in pot with water 5 L at hand-hot", "Have it hand-hot (35"),
        (f"{LOOSE}add cold water 2 L to weld-bath", "of cold water (5 to 25"),
        (f"{LOOSE}add chalk a little to weld-bath", "a little chalk"),
    ],
)
def test_heats_and_loose_measures_stand_where_they_are_said(lines: str, says: str) -> None:
    assert says in told(lines)


@pytest.mark.parametrize(
    ("name", "says"),
    [("lot-1", "Soak lot 1 in"), ("lot-a", "Soak lot a in"), ("gold", "Soak the gold lot in")],
)
def test_a_lot_that_is_called_a_lot_is_called_so_once(name: str, says: str) -> None:
    head = HEAD.replace("yarn: wool yarn", f"{name}: wool yarn")
    text = f"{head}  wet out {name} in pan with water 5 L\n"
    made = paper(procedure.read(text, "example.dye"), Voice("metric", reader=of_system("metric")))
    flat = re.sub(r"\s+", " ", in_text.printed(made).decode().replace("\u00a0", " "))
    assert says in flat and "lot lot" not in flat
