"""Nothing in a declaration is dropped: what is added changes the model or is told at its place."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from procedure.pipeline import Judged, read

HEAD = """procedure "A trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a skein"
  place ventilated
  wearing gloves, eye protection, mask
"""
# For each kind of declaration, its section and its lines as they are written.
DECLARED = (
    ("fibre", "wool yarn, 100 g, 4 skeins, scoured"),
    ("fibre", "6 skeins of 50 g, wool-nylon blend, unscoured"),
    ("fibre", "linen cloth, 1/2 lb (227 g), mordanted with alum 10 %"),
    ("equipment", "stainless steel pot, 15 L, lidded, for dyeing only"),
    ("equipment", "2 plastic buckets, 10 L each, for dyeing only"),
    ("equipment", "hotplate, 2 kW"),
    ("equipment", "wooden stick, for dyeing only"),
    ("materials", "weld tops, dried, gathered 2026-06-12"),
    ("materials", "onion skins, dried"),
    ("materials", "potassium alum, solution 10 % by weight"),
    ("materials", "catechu, 60 g"),
    ("materials", "alkali"),
    ("materials", "kept bath"),
)
# What is added: words that nobody knows, other things of the trade, amounts and days.
ADDED = (
    *("quillet", "teacup", "two pails", "a peck", "large", "red", "madder", "cream of tartar"),
    *("silk", "copper", "bucket", "thermometer", "hotplate", "alkali", "for cooking", "fresh"),
    *("dried", "scoured", "unscoured", "lidded", "potassium alum", "7 kg", "7 L", "7 %", "7 g/L"),
    *("7 skeins", "7 kW", "7 m", "77 °C", "7 h", "pH 7", "7 : 1", "7 teaspoons", "a handful"),
    *(
        "7",
        "2026-07-07",
        "bought 2026-07-07",
        "gathered 2026-07-07",
        '"in my words"',
        "some",
        "unstated",
    ),
)
# What says again what is said, or no more than the heading says.
SAME = frozenset((("scoured", "scoured"), ("lidded", "lidded"), ("dried", "dried")))


def judged(section: str, line: str) -> Judged:
    """A text with one declaration in it."""
    return read(HEAD + f"{section}\n  thing: {line}\nsteps\n  clean thing\n", "x.dye")


def meaning(one: Judged) -> str:
    """What is declared and written, without places."""
    declared = one.model.declared("thing")
    said = repr((declared, [(w.quantity.text, w.role) for w in one.model.written]))
    return re.sub(r"Place\([^)]*\)", "", said)


def modelled(one: Judged) -> str:
    """What the declaration gives the model and its papers, without its places."""
    return re.sub(r"Place\([^)]*\)", "", repr(one.model.declared("thing")))


def places(line: str, added: str) -> Iterator[tuple[str, int]]:
    """The line with something added: behind each descriptor, joined by a comma or by “and”."""
    descriptors = line.split(", ")
    for at in range(1, len(descriptors) + 1):
        before, after = ", ".join(descriptors[:at]), "".join(f", {x}" for x in descriptors[at:])
        for join in (", ", " and ", " "):
            yield f"{before}{join}{added}{after}", len("  thing: ") + len(before + join) + 1


def dropped(section: str, line: str, added: str) -> list[str]:
    """The lines on which what is added changes nothing and is not told of."""
    plain = judged(section, line)
    before = {(one.rule, one.sentence) for one in plain.findings}
    found = []
    for changed, column in places(line, added):
        now = judged(section, changed)
        told = any(
            one.line == 9
            and one.column <= column + len(added)
            and one.to >= column - 1
            and (one.rule, one.sentence) not in before
            for one in now.findings
        )
        if not told and modelled(now) == modelled(plain):
            found.append(changed)
    return found


@pytest.mark.parametrize(("section", "line"), DECLARED, ids=[line for _, line in DECLARED])
def test_nothing_that_is_added_is_dropped(section: str, line: str) -> None:
    found = [
        one
        for added in ADDED
        if not any(added == word and word in line for word, _ in SAME)
        for one in dropped(section, line, added)
    ]
    assert found == []


@pytest.mark.parametrize(
    ("section", "line", "word", "apart"),
    [
        ("materials", "onion skins and madder", "madder", "madder: madder"),
        ("materials", "alum and cream of tartar 8 %", "cream of tartar", "tartar: cream of tartar"),
        ("equipment", "stainless steel pot and bucket, 12 L", "bucket", "bucket: bucket"),
    ],
)
def test_a_second_thing_is_told_of_and_its_remedy_reads(
    section: str, line: str, word: str, apart: str
) -> None:
    told = [one for one in judged(section, line).findings if one.rule == "two-in-one"]
    assert [f"“{word}”" in one.sentence for one in told] == [True]
    assert f"“{apart}”" in told[0].remedy
    alone = line.split(" and ", 1)[0]
    again = read(HEAD + f"{section}\n  thing: {alone}\n  {apart}\nsteps\n  clean thing\n", "x.dye")
    assert not [one for one in again.findings if one.rule in ("two-in-one", "unknown-word")]


@pytest.mark.parametrize(
    ("section", "line"),
    [
        ("fibre", "wool and silk, 100 g, scoured"),
        ("fibre", "70 % wool, 30 % silk, 100 g, scoured"),
        ("fibre", "3 hanks, 50 g each, 150 g, wool yarn, scoured"),
        ("fibre", "linen cloth, 3 m, 500 g, scoured"),
        ("equipment", "stainless steel pot, 12 L, lid, for dyeing only"),
        ("equipment", "digital scale, 0.1 g"),
        ("equipment", "2 plastic buckets, 10 L each, for dyeing only"),
        ("materials", "weld tops, dried, bought 2026-05-01"),
        ("materials", "vinegar, 5 %, 500 mL"),
        ("materials", "onion skins, red and yellow"),
    ],
)
def test_what_belongs_to_a_thing_is_not_told_of(section: str, line: str) -> None:
    rules = {"two-in-one", "declared-two-ways", "wrong-quantity", "unknown-word"}
    assert not [one for one in judged(section, line).findings if one.rule in rules]


def test_days_go_with_what_was_done() -> None:
    model = judged("materials", "weld, dried 2026-06-20, gathered 2026-06-12").model
    weld = model.materials["thing"]
    assert (weld.gathered, "dried 2026-06-20" in weld.words) == ("2026-06-12", True)


def test_several_vessels_keep_their_number() -> None:
    tubs = judged("equipment", "2 plastic buckets, 10 L each, for dyeing only").model.equipment
    several, holds = tubs["thing"].several, tubs["thing"].capacity
    assert several is not None and holds is not None
    assert several.low == 2
    assert holds.low == 20
