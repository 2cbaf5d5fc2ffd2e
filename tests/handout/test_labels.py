"""Labels: one for each thing to keep, with its real name, and what the regulation asks for."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from typing import NamedTuple

import pytest
from papers import EXAMPLES, METRIC, in_words, plan_of
from pypdf import PdfReader

import procedure
from procedure import Plan
from procedure.handout import short
from procedure.handout.contents import contents
from procedure.handout.labels import Labels, labels
from procedure.handout.labels_paper import SIZES, paper
from procedure.paper import in_pdf, in_text
from procedure.paper.measures import Voice
from procedure.vocabulary import vocabulary

VAT = next(path for path in EXAMPLES if path.stem == "indigo-lime-and-copperas-vat")
MM = 72 / 25.4
EVERY_WAY = ["Eyes", "Skin", "Swallowed", "Breathed in"]
SIX = next(path for path in EXAMPLES if path.stem == "six-lots-three-baths")
DAY = next(path for path in EXAMPLES if path.stem == "workshop-day")


def _of(things: str) -> Plan:
    """A plan that puts things, each under its own name and amount, into one kettle and keeps it."""
    each = [one.strip().rsplit(" ", 2) for one in things.split(",")]
    declared = "".join(f"  x{at}: {name}\n" for at, (name, *_) in enumerate(each))
    brought = ", ".join(f"x{at} {number} {unit}" for at, (_, number, unit) in enumerate(each))
    return plan_of(
        f'procedure "x"\nequipment\n  kettle: pot 50 L\nmaterials\n{declared}'
        f"steps\n  a: prepare in kettle with water 3 L, {brought}"
    )


def _harmful() -> list[str]:
    known = vocabulary().tables
    tables = [known["mordants"], known["assistants"], known["dyestuffs"]]
    entries = {one.name: one for table in tables for one in table.values()}
    return sorted(name for name, one in entries.items() if one.words("hazards"))


class Printed(NamedTuple):
    """A piece of text of a PDF: its page, where it begins (mm from the top left), its type."""

    page: int
    across: float
    down: float
    points: float
    said: str


def _pieces(made: bytes) -> list[Printed]:
    found: list[Printed] = []
    for number, page in enumerate(PdfReader(io.BytesIO(made)).pages):
        tall = float(page.mediabox.height)

        def visit(
            text: str,
            cm: list[float],
            tm: list[float],
            font: object,
            size: float,
            number: int = number,
            tall: float = tall,
        ) -> None:
            if text.strip():
                x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
                y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
                points = size * abs(tm[0] * cm[0])
                found.append(Printed(number, x / MM, (tall - y) / MM, points, text))

        page.extract_text(visitor_text=visit)
    return found


def _places(pieces: list[Printed], size: str) -> list[int]:
    """In which place, counted over the pages, each piece of text lies."""
    across, down = SIZES[size]
    wide, tall = {"8": (101.6, 67.7), "14": (101.6, 38.1), "21": (66.0, 38.1)}[size]
    left, top = (210 - across * wide + 2.5) / 2, (297 - down * tall) / 2
    return [
        one.page * across * down
        + int((one.down - top) // tall) * across
        + int((one.across - left) // wide)
        for one in pieces
    ]


WORST = (
    "stannous chloride",
    "copper sulphate",
    "ammonia",
    "hydrogen peroxide",
    "sodium dichromate",
)


@pytest.mark.parametrize("size", sorted(SIZES))
def test_every_label_stays_in_its_place_in_type_of_7_points(size: str) -> None:
    _hold(WORST, size)


@pytest.mark.parametrize("size", sorted(SIZES))
def test_that_of_a_bath_keeps_its_volume_its_day_and_what_is_in_it(size: str) -> None:
    """It has a long name; all of it is there, and none too small."""
    made = labels(_of("weld 80 g, stannous chloride 6 g, oxalic acid 6 g"), METRIC)
    bath = replace(made, labels=made.labels[-1:], draft=False)
    printed = in_pdf.printed(paper(bath, size))
    assert min(one.points for one in _pieces(printed)) >= 6.99
    pages = PdfReader(io.BytesIO(printed)).pages
    told = " ".join(" ".join(page.extract_text() for page in pages).split())
    for said in ("of liquor", "made on", "metal in it", "Skin:", "Swallowed:"):
        assert told.count(said) == 1, said


@pytest.mark.exhaustive
@pytest.mark.parametrize("size", sorted(SIZES))
def test_so_does_that_of_everything_that_harms(size: str) -> None:
    _hold(tuple(_harmful()), size)


def _hold(things: tuple[str, ...], size: str) -> None:
    made = labels(_of(", ".join(f"{thing} 1 g" for thing in things)), METRIC)
    jars = replace(made, labels=made.labels[:-1], draft=False)
    pieces = _pieces(in_pdf.printed(paper(jars, size)))
    assert min(one.points for one in pieces) >= 6.99
    # Text is written label by label: one that outgrew its place would be followed by a place
    # that comes before.
    places = _places(pieces, size)
    assert places == sorted(places)
    assert places[0] == 0
    assert len(set(places)) == places[-1] + 1 >= len(things)


def test_first_aid_is_for_every_way_that_the_hazards_ask_for() -> None:
    # Regulation (EC) No 1272/2008, Annex I, table 3.2.5 (H314) and 3.1.3 (H302).
    tin, copper, ammonia = labels(
        _of("stannous chloride 1 g, copper sulphate 1 g, ammonia 1 g"), METRIC
    ).labels[:3]
    assert [line.split(":")[0] for line in tin.aid[:4]] == EVERY_WAY
    assert tin.aid[4] == "Then call the poison centre or a doctor at once."
    assert "do not bring on vomiting" in tin.aid[2]  # P301+P330+P331
    assert "take off at once all clothes" in tin.aid[1]  # P303+P361+P353
    assert {"Eyes", "Swallowed"} <= {line.split(":")[0] for line in copper.aid}
    assert [line.split(":")[0] for line in ammonia.aid[:4]] == EVERY_WAY


def test_the_real_name_is_the_title_and_the_nickname_is_small() -> None:
    made = labels(procedure.load(VAT), METRIC)
    titles = [in_words(one.title) for one in made.labels]
    assert titles[:4] == ["quicklime", "ferrous sulphate", "indigo", "sulphuric acid 96 %"]
    assert titles[4].startswith("Vat of indigo")
    assert [in_words(one.own) for one in made.labels[:2]] == ["lime", "copperas"]


def test_a_vat_says_what_is_really_in_it() -> None:
    vat = labels(procedure.load(VAT), METRIC).labels[-1]
    # The real names and their strength are the largest words, the writer's name is small.
    for word in ("quicklime", "ferrous sulphate", "indigo", "g/L"):
        assert word in in_words(vat.title)
    assert in_words(vat.own) == "vat"


def test_a_vat_says_what_the_things_in_it_do_even_where_they_are_diluted() -> None:
    vat = labels(_of("soda ash 5 g, woad powder 10 g, thiourea dioxide 5 g"), METRIC).labels[-1]
    said = " ".join(in_words(line) for line in vat.lines)
    assert "soda ash (makes eyes very sore)" in said
    assert "thiourea dioxide (its steam is bad to breathe, makes skin sore)" in said
    assert any(line.startswith("Eyes: ") for line in vat.aid)


def test_a_nickname_that_two_jars_have_is_on_neither() -> None:
    plan = procedure.load(SIX)
    made = labels(plan, METRIC).labels
    named = {in_words(one.title): in_words(one.own) for one in made}
    assert named["soda ash"] == "" and named["washing soda"] == ""


def test_there_is_one_label_for_each_thing_to_keep() -> None:
    # Eight tables wash with the same soap.
    titles = [in_words(one.title) for one in labels(procedure.load(DAY), METRIC).labels]
    assert titles.count("neutral soap") == 1
    assert len(titles) == len(set(titles))


def test_the_strength_stands_with_the_name() -> None:
    plan = plan_of(
        'procedure "x"\nmaterials\n  stock: potassium alum, solution 10 % by volume\nsteps\n'
        "  a: prepare in kettle with water 3 L, stock 10 mL"
    )
    assert in_words(labels(plan, METRIC).labels[0].title) == "potassium alum 10 %"


def test_a_label_has_what_article_17_asks_for() -> None:
    # Regulation (EC) No 1272/2008, Article 17(1): whose, what, pictograms, signal word,
    # hazard statements, precautionary statements.
    said = in_text.printed(paper(labels(procedure.load(VAT), METRIC))).decode()
    at = said.index("quicklime")
    label = said[at : said.index("ferrous sulphate")]
    for part in ("DANGER", "H318", "Eyes: rinse", "Not for food", "Fellside Dye Circle", "____"):
        assert part in label, part
    assert label.index("DANGER") < label.index("H318") < label.index("Eyes:")


@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_label_that_says_to_call_the_poison_centre_has_its_number(size: str) -> None:
    said = in_text.printed(paper(labels(_of("caustic soda 1 g, soap 1 g"), METRIC), size)).decode()
    assert "call the poison centre" in said[: said.index("Not for food")]
    owner = said[said.index("Not for food") :].split("Read the")[0]
    assert "Poison centre: ____" in owner


@pytest.mark.parametrize(
    ("amount", "voice", "strength"),
    [
        ("20 mL", METRIC, "10 mL/L"),
        ("20 g", METRIC, "10 g/L"),
        ("20 mL", Voice("us"), "1.3 fl oz/US gal"),
    ],
)
def test_a_bath_of_a_solution_measured_by_volume_says_what_was_poured(
    amount: str, voice: Voice, strength: str
) -> None:
    # 10 mL in 1000 mL are 128 / 100 fluid ounces in a gallon (NIST SP 811, B.8); how heavy 30 %
    # acid is, is not written.
    plan = plan_of(
        'procedure "x"\nequipment\n  jar: glass jar, 3 L\nmaterials\n'
        "  sour: sulphuric acid, 30 %\nsteps\n"
        f"  stock: dissolve sour {amount} in jar with water 2 L\n  keep stock as sour in jar"
    )
    assert strength in in_words(labels(plan, voice).labels[-1].title)


@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_sheet_holds_as_many_as_it_says(size: str) -> None:
    made = in_pdf.printed(paper(labels(procedure.load(VAT), METRIC), size))
    assert len(PdfReader(io.BytesIO(made)).pages) == 1


@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_jar_that_warns_of_nothing_uses_its_place(size: str) -> None:
    """Its name is large, and it says what it is for, from where and since when it is there."""
    made = labels(_of("potassium alum 10 g, slaked lime 10 g"), METRIC)
    alum, lime = made.labels[:2]
    assert [in_words(line) for line in alum.lines] == [
        "used as a mordant", "from ____", "opened on ____"
    ]  # fmt: skip
    assert [in_words(line) for line in lime.lines] == ["opened on ____"]
    alone = replace(made, labels=made.labels[:1], draft=False)
    printed = _pieces(in_pdf.printed(paper(alone, size)))
    assert max(one.points for one in printed) >= (20 if size == "8" else 13)


def _names_and_words(made: Labels, size: str) -> list[tuple[float, float]]:
    """The largest and the smallest type in each place of the sheets."""
    pieces = _pieces(in_pdf.printed(paper(made, size)))
    by_place: dict[int, list[float]] = {}
    for one, at in zip(pieces, _places(pieces, size), strict=True):
        by_place.setdefault(at, []).append(one.points)
    return [(max(sizes), min(sizes)) for _, sizes in sorted(by_place.items())]


@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_harmless_name_fills_its_label_whatever_else_is_on_the_sheet(size: str) -> None:
    """What harms has much to say in little room; the jar beside it is read from the shelf."""
    made = labels(_of("potassium alum 10 g, stannous chloride 10 g, soap 3 g"), METRIC)
    jars = replace(made, labels=made.labels[:3], draft=False)
    alum, *tin, soap = _names_and_words(jars, size)
    assert len(tin) == {"8": 1, "14": 2, "21": 3}[size]
    for name, words in tin:
        assert name >= 8.99 and words >= 6.99
    for name, words in (alum, soap):
        assert name >= {"8": 40, "14": 24, "21": 20}[size] and words >= 6.99


def test_the_mark_of_a_draft_does_not_grow_with_the_name() -> None:
    made = replace(labels(_of("potassium alum 10 g"), METRIC), draft=True)
    pieces = _pieces(in_pdf.printed(paper(replace(made, labels=made.labels[:1]), "8")))
    assert max(one.points for one in pieces) >= 40
    assert [one.points <= 11 for one in pieces if one.said.strip().startswith("D")] == [True]


@pytest.mark.parametrize("size", ["14", "21"])
def test_both_parts_of_a_label_say_that_they_belong_together(size: str) -> None:
    """Whoever finds the second alone reads the signal word, and where the rest is."""
    made = labels(_of("stannous chloride 10 g"), METRIC)
    jar = replace(made, labels=made.labels[:1], draft=False)
    page = PdfReader(io.BytesIO(in_pdf.printed(paper(jar, size)))).pages[0]
    said = " ".join(page.extract_text().split())
    parts = {"14": 2, "21": 3}[size]
    assert said.count("DANGER") == said.count("stannous chloride") == parts
    assert said.count(f"Goes with (1 of {parts}), on the same jar.") == parts - 1
    assert said.count("on the same jar.") == 2 * (parts - 1)
    assert " ·" not in said and ".;" not in said


@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_blank_stays_with_what_it_is_for(size: str) -> None:
    """No “Poison” at the end of a line with “centre” below it."""
    made = in_pdf.printed(paper(labels(_of("ammonia 10 g, cochineal 5 g"), METRIC), size))
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(made)).pages)
    assert re.search(r"Poison.centre:", text) and not re.search(r"Poison\s*\n|kept\s*\n", text)


def test_no_short_name_is_broken_within_a_word() -> None:
    """Two signs beside it leave little room; the name is set smaller before it is broken."""
    made = in_pdf.printed(paper(labels(_of("sodium dithionite 20 g"), METRIC), "8"))
    said = PdfReader(io.BytesIO(made)).pages[0].extract_text()
    assert "dithionite" in said and "dithion\xad" not in said  # the hyphen that a printer sets


_GATHERED = """procedure "Tansy on several lots"
fibre
  a: wool yarn, 50 g, scoured
  b: wool yarn, 50 g, scoured
  c: wool yarn, 50 g, scoured
equipment
  pot: steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 12 L, for dyeing only
materials
  {plant}
steps
  wet out a, b, c in tub with water 5 L for 1 h
  green-bath: prepare in pot with water 6 L, plant 200 g
  simmer green-bath at 85 °C for 1 h covered attended
  cool green-bath to 30 °C covered
  dye a in green-bath from 30 °C to 80 °C over 45 min for 45 min covered
  cool green-bath to 30 °C covered
  lift a
  dye b in green-bath from 30 °C to 80 °C over 45 min for 45 min covered
  cool green-bath to 30 °C covered
  lift b
  dye c in green-bath from 30 °C to 80 °C over 45 min for 45 min covered
  cool green-bath to 30 °C covered
  lift c
  rinse a, b, c in tub with water 5 L
  dry a, b, c
  discard green-bath to "foul drain"
"""


@pytest.mark.parametrize("plant", ["tansy tops", "weld tops"])
def test_a_bath_has_a_label_where_the_plan_lasts_over_a_night(plant: str) -> None:
    """No step leaves it standing, and the day is over before it is used up (common practice)."""
    made = plan_of(_GATHERED.format(plant=f"plant: {plant}, fresh"))
    titles = [in_words(one.title) for one in labels(made, METRIC).labels]
    assert any(title.startswith("Bath of") for title in titles)


def test_the_step_says_that_its_bath_stands_and_in_the_morning_that_it_is_cold() -> None:
    """Harmless or not: a lid and a label, and it is as cold as the room (common practice)."""
    text = _GATHERED.format(plant="plant: weld tops, fresh").replace("from 30 °C", "from 40 °C")
    made = contents(plan_of(text), METRIC).before.at_steps
    said = [(one.number, in_words(one.beside((one.number,)))) for one in made]
    stands = "The green bath stands overnight: lid on, labelled"
    cold = "The green bath is cold by morning: warm it to 40 °C"
    evenings = [number for number, told in said if told.startswith(stands)]
    mornings = [number for number, told in said if told.startswith(cold)]
    assert evenings == ["4", "9"] and mornings == ["5", "11"]
    among = [in_words(one.beside(("4", "5"))) for one in made if one.number in ("4", "5")]
    assert [" ".join(told.split()[:3]) for told in among] == ["After step 4", "Before step 5"]
    printed = in_text.printed(short.paper(plan_of(text), METRIC)).decode()
    assert " ".join(printed.split()).count(cold) == len(mornings)


_STANDS = "The green bath stands over a night: lid on, a label on it, out of reach."
_TAKEN_OUT = " Strain the plant out of it before you go, hot if need be."
_STRAINED = """attended
  strain green-bath
  throw out plant to "a closed heap, out of reach of children and animals"
  cool green-bath"""


@pytest.mark.parametrize("strained", [False, True])
def test_the_paper_says_which_bath_stands_over_a_night_and_what_is_in_it(strained: bool) -> None:
    """A plant that harms is in no bath over a night: strained out hot (common practice)."""
    text = _GATHERED.format(plant="plant: tansy tops, fresh")
    text = text.replace("attended\n  cool green-bath", _STRAINED, 1) if strained else text
    told = contents(plan_of(text), METRIC).before.nights
    assert told == (_STANDS if strained else _STANDS + _TAKEN_OUT,)


def test_the_label_of_a_bath_has_the_sign_of_the_chart_and_says_why() -> None:
    """Too weak for a sign of its own, and yet no bare hand goes in: a lime vat (H318 in it)."""
    made = labels(_of("natural indigo 10 g, slaked lime 20 g, fructose 30 g"), METRIC)
    vat, said = made.labels[-1], in_text.printed(paper(replace(made, labels=made.labels[-1:])))
    assert vat.danger is not None and vat.danger.pictograms == ("GHS07",)
    assert "Diluted in it: slaked lime (can blind, makes skin sore)." in said.decode()
    assert vat.danger.signal == ""  # that comes of its strength alone
    mild = labels(_of("weld 20 g, soap 1 g"), METRIC).labels[-1]
    assert mild.danger is None


def test_a_label_has_one_unit() -> None:
    """One of its strengths is too weak for ounces: then all are in grams."""
    voice = Voice("imperial")
    bath = labels(_of("potassium alum 200 g, cream of tartar 2 g"), voice).labels[-1]
    title = in_words(bath.title)
    assert title.count("g/imp gal") == 2 and "oz" not in title
    strong = labels(_of("potassium alum 200 g, cream of tartar 100 g"), voice).labels[-1]
    assert in_words(strong.title).count("oz/imp gal") == 2
