"""Verbs of the trade and of the kitchen: read where they mean one verb, else offered by meaning."""

from __future__ import annotations

import re

import pytest

import procedure
from procedure.vocabulary.data_files import parts, rows

HEAD = """procedure "A word"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 10 L, lidded, for dyeing only
  pan: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  bag: net bag, for dyeing only
  line: clothes line

materials
  onion: onion skins, dried
  madder: madder root, dried
  alum: potassium alum
  soda: soda ash
  vinegar: vinegar

steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  alum-bath: prepare in pan with water 4 L, alum 12 g at 30 °C
  dye-bath: prepare in kettle with water 4 L, onion 50 g at 30 °C
"""
UNREAD = {"cannot-read", "not-declared", "unknown-word", "wrong-kind-of-thing", "unknown-unit"}
UNREAD |= {"clause-out-of-place", "something-missing", "wrong-quantity", "said-twice"}


def told(line: str) -> list[procedure.Finding]:
    found = procedure.read(f"{HEAD}  {line}\n", "x.dye").findings
    return [one for one in found if one.rule in UNREAD and one.line == HEAD.count("\n") + 1]


@pytest.mark.parametrize(
    ("line", "verb"),
    [
        ("centrifuge yarn", "squeeze"),
        ("spin the wet yarn", "squeeze"),
        ("pat yarn dry", "squeeze"),
        ("blot yarn", "squeeze"),
        ("tumble dry yarn", "dry"),
        ("drape yarn over the line", "dry"),
        ("peg yarn on line", "dry"),
        ("blanch onion 20 g in tub with water 4 L", "prepare"),
        ("poach yarn in dye-bath for 1 h", "cook"),
        ("poach dye-bath for 1 h", "simmer"),
        ("decoct onion 20 g in tub with water 4 L", "prepare"),
        ("infuse onion 20 g in tub with water 4 L", "soak"),
        ("macerate onion 20 g in tub with water 4 L", "soak"),
        ("agitate yarn in dye-bath", "work"),
        ("swirl dye-bath", "stir"),
        ("dilute dye-bath with water 2 L", "top up"),
        ("decant dye-bath into tub", "strain"),
        ("acidify dye-bath with vinegar 20 mL", "add"),
        ("neutralise dye-bath with soda 5 g", "add"),
        ("pulverise madder", "grind"),
        ("dice onion", "chop"),
        ("dump dye-bath", "discard"),
        ("compost onion", "throw out"),
        ("drench yarn in tub with water 5 L", "wet out"),
        ("overdye yarn in dye-bath", "dye"),
        ("oxidise yarn for 10 min", "air"),
        ("transfer yarn to dye-bath", "enter"),
        ("tip yarn into dye-bath", "enter"),
        ("hoist yarn", "lift"),
        ("exhaust dye-bath for 1 h", "hold"),
        ("reduce dye-bath to 30 °C", "cool"),
    ],
)
def test_a_word_that_means_one_verb_is_read(line: str, verb: str) -> None:
    assert not told(line)
    last = procedure.read(f"{HEAD}  {line}\n", "x.dye").trace.moments[-1]
    assert last.step.verb is not None and last.step.verb.name == verb


OFFERED = [word for row in rows("offered_verbs") for word in parts(row["words"])]
# Read in some company: “tie madder in bag”, “reduce vat for 1 h”.
IN_COMPANY = {
    "tie": "tie loose knots round yarn",
    "reduce": "reduce dye-bath to 2 L",
    "chuck": "chuck yarn",
    "toss": "toss yarn",
    "bung": "bung yarn",
}


def test_there_are_many() -> None:
    assert len(OFFERED) >= 100 and len(OFFERED) == len(set(OFFERED))


@pytest.mark.parametrize("word", OFFERED)
def test_any_other_is_offered_by_its_meaning_in_lines_that_are_read(word: str) -> None:
    (found,) = told(IN_COMPANY.get(word, f"{word} yarn in dye-bath"))
    assert found.rule == "cannot-read"
    pieces = re.findall("“([^”]+)”", found.remedy)
    assert pieces and "Did you mean" not in found.remedy
    for piece in pieces:
        line = f"rinse yarn in tub {piece}" if piece.startswith("note") else piece
        assert not told(line), piece
        assert word not in piece.split(" ")[0]


@pytest.mark.parametrize("label", ["", "last: "])
@pytest.mark.parametrize("word", ["stain", "strip", "mash", "slice", "fix"])
def test_what_is_spelt_like_a_verb_is_not_taken_for_it(word: str, label: str) -> None:
    (found,) = told(f"{label}{word} yarn in dye-bath")
    assert "Did you mean" not in found.remedy


def test_a_bath_that_is_to_become_less() -> None:
    (found,) = told("reduce dye-bath to 2 L")
    assert '“simmer dye-bath until "2 L are left"”' in found.remedy


@pytest.mark.parametrize(
    "thing",
    [
        *("spin dryer", "thermos flask", "casserole", "wok", "tea towel", "rubber bands", "hose"),
        *("watering can", "pipette", "tongs", "clothes horse", "litmus paper", "secateurs"),
    ],
)
def test_things_of_the_kitchen_and_garden(thing: str) -> None:
    found = procedure.read(f'procedure "X"\nequipment\n  x: {thing}\n', "x.dye").findings
    assert not {"unknown-word", "careless-way"} & {one.rule for one in found}


def test_what_is_not_declared_is_declared_as_it_is_called() -> None:
    (found,) = told("put yarn in the wok")
    assert "“wok: wok, for dyeing only”" in found.remedy
