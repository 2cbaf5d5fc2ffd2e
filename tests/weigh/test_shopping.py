"""The list for the shop: amounts, prices, stock, and plain words where the file is wrong."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from procedure.collection.shop import NotRead, StockHeld, held, price
from procedure.command.main import main

TANSY = Path(__file__).parents[2] / "examples" / "tansy-gold-and-moss.dye"
US_IRON = """\
fibre
  yarn: wool yarn, 1/2 lb, scoured
equipment
  pot: stainless steel pot, 5 US gal
materials
  tea: black tea
  copperas: ferrous sulphate
steps
  tea-bath: prepare in pot with water 2 US gal, tea 2 oz
  dye yarn in tea-bath at 180 °F for 1 h
  add copperas 2 % of yarn to tea-bath
  modify yarn in tea-bath at 105 °F for 10 min
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    (tmp_path / "tansy.dye").write_text(TANSY.read_text("utf-8"), "utf-8")
    return tmp_path


def said(
    shop: Path, workshop: str, capsys: pytest.CaptureFixture[str], *more: str
) -> tuple[int, str]:
    (shop / "vatwright.toml").write_text(workshop, "utf-8")
    status = main(["weigh", str(shop / "tansy.dye"), "--shop", *more])
    told = capsys.readouterr()
    return status, told.out + told.err


@pytest.mark.parametrize(
    ("text", "amount", "currency"),
    [
        ("4.20 for 500 g", Fraction("4.2"), ""),
        ("4,20 EUR for 500 g", Fraction("4.2"), "EUR"),
        ("€ 4 for 500 g", Fraction(4), "€"),
        ("12 kroner for 0.5 kg", Fraction(12), "kroner"),
    ],
)
def test_a_price_is_a_sum_for_an_amount(text: str, amount: Fraction, currency: str) -> None:
    read = price(text)
    assert (read.price, read.currency, read.held) == (
        amount,
        currency,
        StockHeld("mass", Fraction(500)),
    )
    assert read.of(Fraction(250)) == amount / 2


@pytest.mark.parametrize(
    "text", ["4.20", "for 500 g", "4 for 0 g", "4 for 3 h", "EUR 4 EUR for 1 g"]
)
def test_what_is_no_price_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        price(text)


def test_a_pint_without_a_country_is_no_amount() -> None:
    with pytest.raises(NotRead, match="may be"):
        held("2 pt")


def test_costs_and_what_is_missing(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    workshop = '[prices]\nalum = "4.20 EUR for 500 g"\nindigo = "9 EUR for 50 g"\n'
    workshop += '[stock]\nalum = "20 g"\nsoap = "1 kg"\n'
    status, told = said(shop, workshop, capsys)
    assert status == 0
    # 12 % of 240 g is 28.8 g, at 4.20 for 500 g; 8 g of indigo at 9 for 50 g: 0.24 and 1.44.
    assert "28.8 g; 20 g in stock, 8.8 g missing; what is used costs 0.24 EUR" in told
    assert "1.68 EUR" in told
    # Of soap there is enough: nobody is told to buy it.
    assert told.index("In stock, and enough:") < told.index("neutral soap (called soap)")
    assert "soap" not in told[told.index("To buy:") : told.index("In stock, and enough:")]
    # 1.68 for 240 g is 0.70 for 100 g.
    assert "0.70 EUR for 100 g of fibre" in told
    assert "No price is known for cream of tartar" in told
    assert told.index("To buy:") < told.index("To gather:") < told.index("tansy tops")
    at_hand = told[told.index("Have at hand:") :]
    assert all(word in at_hand for word in ("gloves", "a thermometer", "kettle", "tub"))


def test_each_kind_of_money_is_told_for_so_much_fibre(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    workshop = '[prices]\nalum = "4.20 EUR for 500 g"\nindigo = "9 kroner for 50 g"\n'
    _, told = said(shop, workshop, capsys)
    # 0.24 and 1.44 for 240 g are 0.10 and 0.60 for 100 g.
    assert "0.10 EUR and 0.60 kroner for 100 g of fibre" in told


def test_what_is_called_by_a_nickname_is_told_what_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "iron.dye"
    told = US_IRON.replace("pot: stain", "sad: stain").replace("in pot", "in sad")
    file.write_text(told.replace("materials\n", "  hob: hotplate, 3 kW\nmaterials\n"), "utf-8")
    main(["weigh", str(file), "--shop"])
    said = capsys.readouterr().out
    assert "Have at hand: sad (stainless steel pot, 5 US gal), hob (hotplate, 3 kW), " in said


def test_without_a_workshop_file_the_list_is_there_too(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["weigh", str(shop / "tansy.dye"), "--shop"]) == 0
    told = capsys.readouterr().out
    assert "potassium alum (called alum): 28.8 g" in told and "costs" not in told


@pytest.mark.parametrize("line", ['[prices]\nalum = "cheap"\n', "[stock]\nalum = 3\n"])
def test_a_price_that_cannot_be_read_is_said_at_its_line(
    shop: Path, line: str, capsys: pytest.CaptureFixture[str]
) -> None:
    status, told = said(shop, line, capsys)
    assert status == 2 and "line 2" in told and "Write it as in" in told


def test_a_list_and_a_card_in_us_measures_are_spelt_as_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, card = tmp_path / "iron.dye", tmp_path / "card.html"
    file.write_text(US_IRON, "utf-8")
    main(["weigh", str(file), "--shop"])
    assert "ferrous sulfate (called copperas)" in capsys.readouterr().out
    main(["card", str(file), "-o", str(card)])
    told = card.read_text("utf-8")
    assert told.count("ferrous sulfate") > 1 and "sulphate" not in told


def test_a_list_of_what_has_errors_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "green.dye"
    path.write_text('procedure "Green"\nsteps\n  follow "not-there.dye"\n', "utf-8")
    main(["weigh", str(path), "--shop"])
    assert "check it before you buy; things may be missing here" in capsys.readouterr().out


TWO_SOAPS = """\
fibre
  yarn: wool yarn, 400 g, unscoured
equipment
  pot: stainless steel pot, 30 L
  tub: plastic tub, 30 L
  hob: hotplate, 2 kW
materials
  soap: neutral soap
  krapp: madder roots, dried
steps
  follow "scour-wool.dye" with wool = yarn
  bath: prepare in pot with water 12 L, krapp 60 g
  discard bath to "foul drain"
  wash yarn in tub with water 8 L, soap 40 g at 35 °C for 10 min
  wash yarn in tub with water 8 L, soap 40 g at 35 °C for 10 min
"""


def test_a_stock_is_used_once_and_by_what_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The standard scour calls a detergent soap; madder is found by its own name."""
    scour = TANSY.parent / "standard" / "scour-wool.dye"
    (tmp_path / "scour-wool.dye").write_text(scour.read_text("utf-8"), "utf-8")
    (tmp_path / "two.dye").write_text(TWO_SOAPS, "utf-8")
    stock = '[stock]\nsoap = "100 g"\nmadder = "350 g"\n'
    (tmp_path / "vatwright.toml").write_text(stock, "utf-8")
    main(["weigh", str(tmp_path / "two.dye"), "--shop"])
    told = " ".join(capsys.readouterr().out.split())
    assert "neutral detergent (called soap): 28 g" in told
    assert "neutral detergent (called soap): 28 g; " not in told
    assert "neutral soap (called soap): 80 g; 100 g in stock" in told
    assert "madder roots (called krapp), dried: 60 g; 350 g in stock" in told


PLAIN = """\
fibre
  yarn: wool yarn, 300 g, scoured
equipment
  pot: stainless steel pot, 12 L
materials
  mordant-salt: potassium alum
  krapp: madder roots, dried
steps
  bath: prepare in pot with water 8 L, mordant-salt 33.4 g, krapp 33.4 g
"""


def listed(folder: Path, workshop: str, capsys: pytest.CaptureFixture[str]) -> str:
    (folder / "plain.dye").write_text(PLAIN, "utf-8")
    (folder / "vatwright.toml").write_text(workshop, "utf-8")
    main(["weigh", str(folder / "plain.dye"), "--shop"])
    return capsys.readouterr().out


def test_a_price_is_found_by_any_word_for_the_thing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = listed(tmp_path, '[prices]\nalum = "4 EUR for 100 g"\n', capsys)
    assert "what is used costs 1.34 EUR" in told
    assert "No price is known for madder roots." in told


def test_where_no_price_fits_it_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = listed(tmp_path, '[prices]\nindigo = "4 EUR for 100 g"\n', capsys)
    assert "No cost: no price in the workshop file is for any of these." in told
    assert "No cost" not in listed(tmp_path, '[stock]\nindigo = "10 g"\n', capsys)


def test_the_sum_is_that_of_the_lines(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # Each is 0.334: two lines of 0.33 come to 0.66, and not to the 0.67 of 0.668.
    prices = '[prices]\nalum = "1 EUR for 100 g"\nmadder = "1 EUR for 100 g"\n'
    told = listed(tmp_path, prices, capsys)
    assert told.count("what is used costs 0.33 EUR") == 2
    assert "What this batch uses costs 0.66 EUR" in told
