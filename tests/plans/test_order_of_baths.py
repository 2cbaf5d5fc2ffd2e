"""What goes first, and where either is done."""

from __future__ import annotations

import pytest
from expecting import expect, findings, rules_of

ORDER = {
    "vat-between-mordant-and-dye",
    "vat-over-colour",
    "iron-before-colour",
    "tannin-after-alum",
    "scoured-after-mordant",
}
PIECES = {
    "wet": "wet out LOT in tub with water 5 L for 1 h",
    "alum": """alum-bath: prepare in kettle with water 5 L, alum 12 g at 40 °C
mordant LOT in alum-bath at 50 °C for 2 h
rinse LOT in tub with water 5 L at 40 °C
discard alum-bath to "foul drain"
clean kettle""",
    "tannin": """tannin-bath: prepare in kettle with water 5 L, tannin 5 g at 40 °C
mordant LOT in tannin-bath at 50 °C for 3 h
rinse LOT in tub with water 5 L at 40 °C
discard tannin-bath to "foul drain"
clean kettle""",
    "weld": """weld-bath: prepare in kettle with water 5 L, weld 80 g at 40 °C
dye LOT in weld-bath at 60 °C for 1 h
cool weld-bath to 40 °C
rinse LOT in tub with water 5 L at 40 °C
discard weld-bath to "foul drain"
clean kettle""",
    "vat": """vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
stand vat at 50 °C for 30 min covered
dip LOT in vat at 50 °C for 10 min
air LOT for 15 min
rinse LOT in tub with water 5 L at 40 °C
rinse LOT in tub with water 5 L, vinegar 50 mL at 40 °C
discard vat to "foul drain"
clean kettle""",
    "iron": """iron-bath: prepare in kettle with water 5 L, iron 3 g at 40 °C
modify LOT in iron-bath at 50 °C for 10 min
rinse LOT in tub with water 5 L at 40 °C
discard iron-bath to "foul drain"
clean kettle""",
}
FIBRE = {"wool": "wool yarn", "silk": "silk yarn", "cotton": "cotton cloth", "linen": "linen cloth"}


def said(fibre: str, order: str) -> set[str]:
    """The rules of order that speak, of work on a lot of that fibre in that order."""
    steps = "\n".join(PIECES[piece] for piece in ["wet", *order.split()])
    lot = f"fibre\n  lot: {FIBRE[fibre]}, 100 g, scoured\nsteps\n"
    body = "\n".join(f"  {line}" for line in steps.replace("LOT", "lot").split("\n"))
    return ORDER & rules_of(lot + body + "\n  dry lot\n")


@pytest.mark.parametrize("fibre", ["wool", "silk"])
@pytest.mark.parametrize(
    "order", ["alum weld vat", "vat alum weld", "alum weld", "alum weld iron", "alum weld vat iron"]
)
def test_either_is_done_on_wool_and_silk(fibre: str, order: str) -> None:
    """Blue over yellow or yellow over blue: both are common practice on protein fibre."""
    assert said(fibre, order) == set()


@pytest.mark.parametrize("fibre", ["cotton", "linen"])
def test_on_cotton_blue_goes_first(fibre: str) -> None:
    """The alkali of a vat takes alum, and what is dyed on it, from cellulose (common practice)."""
    assert said(fibre, "vat tannin alum weld") == set()
    assert said(fibre, "tannin alum weld vat") == {"vat-over-colour"}
    assert said(fibre, "tannin alum vat weld") == {"vat-between-mordant-and-dye"}


def test_a_vat_between_mordant_and_dye_weighs_more_on_cotton() -> None:
    for fibre, level in (("wool", "note"), ("cotton", "warning")):
        steps = "\n".join(PIECES[p] for p in ["wet", "tannin", "alum", "vat", "weld"])
        body = "\n".join(f"  {line}" for line in steps.replace("LOT", "lot").split("\n"))
        text = f"fibre\n  lot: {FIBRE[fibre]}, 100 g, scoured\nsteps\n{body}\n  dry lot\n"
        (found,) = [f for f in findings(text) if f.rule == "vat-between-mordant-and-dye"]
        assert found.level == level
        assert "strips alum" in found.sentence


def test_alum_again_after_the_vat_is_enough() -> None:
    assert said("cotton", "tannin alum vat alum weld") == set()


def test_iron_goes_last() -> None:
    """Mairet 1916, ch. II: iron after an hour in the dye; the least trace dulls yellows."""
    assert said("wool", "alum weld iron") == set()
    assert said("wool", "alum iron weld") == {"iron-before-colour"}
    assert "iron-before-colour" in said("wool", "alum weld iron vat")


def test_tannin_goes_before_its_metal() -> None:
    """Mairet 1938, ch. X; alum, tannin and alum again is common practice too."""
    assert said("cotton", "tannin alum weld") == set()
    assert said("cotton", "alum tannin weld") == {"tannin-after-alum"}
    assert said("cotton", "alum tannin alum weld") == set()
    assert said("wool", "alum tannin weld") == set()


def test_a_colour_that_alkali_changes_is_said_on_any_fibre() -> None:
    expect(
        """fibre
  lot: wool yarn, 100 g, scoured
materials
  yellow: turmeric, powder
steps
  wet out lot in tub with water 5 L for 1 h
  gold-bath: prepare in kettle with water 5 L, yellow 20 g at 40 °C
  dye lot in gold-bath at 60 °C for 30 min
  rinse lot in tub with water 5 L at 40 °C
  discard gold-bath to "foul drain"
  clean kettle
  """
        + PIECES["vat"].replace("LOT", "lot").replace("\n", "\n  ")
        + "\n  dry lot\n",
        "vat-over-colour",
    )
