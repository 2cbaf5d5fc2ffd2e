"""The procedures that people copy: sound ones are sound, faulty ones have just their faults."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import procedure
from procedure.rules import RULES

EXAMPLES = Path(__file__).parents[2] / "examples"
SOUND = sorted(path for path in EXAMPLES.rglob("*.dye") if "faulty" not in path.parts)
FAULTY = sorted((EXAMPLES / "faulty").glob("*.dye"))


def named(path: Path) -> str:
    return path.relative_to(EXAMPLES).as_posix()


@pytest.mark.parametrize("path", SOUND, ids=named)
def test_a_sound_procedure_has_no_error_and_no_warning(path: Path) -> None:
    found = [one for one in procedure.load(path).findings if one.level != "note"]
    assert [(one.line, one.rule, one.sentence) for one in found] == []


@pytest.mark.parametrize("path", SOUND, ids=named)
def test_a_sound_procedure_leaves_little_to_guess(path: Path) -> None:
    found = procedure.load(path).findings
    unused = [one.line for one in found if one.rule == "nothing-to-allow"]
    assert unused == []
    assert len(found) <= 6, "more than a few notes"


@pytest.mark.parametrize("path", SOUND, ids=named)
def test_a_sound_procedure_says_whose_it_is(path: Path) -> None:
    said = procedure.load(path).model
    assert said.by is not None
    assert said.by.text == "Fellside Dye Circle"
    assert None not in (said.revised, said.source, said.makes, said.setting)
    assert said.wearing


def test_there_are_enough_sound_procedures_of_every_kind() -> None:
    assert len(SOUND) >= 28
    models = [procedure.load(path).model for path in SOUND]
    fibres = {entry.name for m in models for lot in m.lots.values() for entry in lot.fibres}
    assert {"wool", "silk", "cotton", "linen"} <= fibres
    used = {thing.called for m in models for thing in m.materials.values()}
    wanted = ["potassium alum", "ferrous sulphate", "tannic acid", "weld", "madder", "walnut"]
    wanted += ["onion", "cochineal", "logwood", "goldenrod", "indigo", "turmeric"]
    assert set(wanted) <= used


def faults_said(text: str) -> set[tuple[int, str]]:
    """The line below each comment ``# fault: rule, rule`` with each of the rules."""
    lines = text.split("\n")
    said: set[tuple[int, str]] = set()
    for number, line in enumerate(lines, 1):
        found = re.match(r"\s*# fault: (.+)", line)
        if found:
            said |= {(number + 1, rule.strip()) for rule in found.group(1).split(",")}
    return said


@pytest.mark.parametrize("path", FAULTY, ids=named)
def test_a_faulty_procedure_has_just_the_faults_that_it_says(path: Path) -> None:
    said = faults_said(path.read_text("utf-8"))
    assert said
    found = procedure.load(path).findings
    missed = said - {(one.line, one.rule) for one in found}
    alarms = {(one.line, one.rule) for one in found if one.level != "note"} - said
    assert (missed, alarms) == (set(), set())


@pytest.mark.parametrize("path", FAULTY, ids=named)
def test_the_faults_are_those_of_the_family_that_the_file_is_named_after(path: Path) -> None:
    family = path.stem.replace("-", " ")
    own = {rule.name for rule in RULES if rule.family.replace("-", " ") == family}
    said = {rule for _, rule in faults_said(path.read_text("utf-8"))}
    assert said & own


def test_every_family_has_its_faulty_example() -> None:
    # The rules on hours speak only beside a workshop file that says the hours, which would be that
    # of all faulty examples; each has its own in the tests of the rules.
    families = {rule.family.replace(" ", "-") for rule in RULES} - {"allowing", "hours"}
    assert {path.stem for path in FAULTY} == families


def test_a_faulty_example_shows_almost_every_rule() -> None:
    said = {rule for path in FAULTY for _, rule in faults_said(path.read_text("utf-8"))}
    # A file without a title or steps, a workshop file and a followed file cannot be beside other
    # faults; the rest are notes that the tests of the rules show.
    elsewhere = {
        "no-procedure",
        "gas-shut-in",
        "faulty-workshop-file",
        "lent-bath-emptied",
        "part-of-a-lot",
        "divided-in-its-bath",
        "in-it-already",
        "iron-onto-fibre",
        "vat-needs-reducer",
        "dye-worn-out",
        "vat-over-colour",
        "lye-vat-for-wool",
        "acid-in-the-vat",
        "gathered-where-kept",
        "not-in-that-bath",
        "vat-dipped-cold",
        "only-wetted",
        "iron-before-colour",
        "tannin-after-alum",
        "iron-beside-bright",
        "protected-plant",
        "looks-like-food",
        "harm-not-known",
        "bag-left-full",
        "bag-taken-out-soon",
        "kept-warm-how",
        "gone-cold",
        "longer-than-the-day",
        "no-such-night",
        "waits-for-the-next-day",
        "in-its-bath-at-closing-time",
        "night-longer-than-written",
        "line-too-short",
        # A vat, a whole block in the wrong place or a sum that fails has a text of its own in
        # tests/rules/test_faults_that_passed.py.
        "vat-out-of-proportion",
        "vat-overheated",
        "vat-ferments-cold",
        "lime-vat-for-wool",
        "mordanted-after",
        "wet-again-at-the-end",
        "left-wet",
        "iron-in-the-tub",
        "more-than-there-is",
        "more-ready-than-used",
        "solid-by-volume",
        "pieces-do-not-add-up",
        "makes-more-than-its-fibre",
        "vat-poured-away-live",
        "too-little-soap-to-degum",
        # Each rule's own example is tried in tests/rules/test_every_rule.py; these have no other.
        "not-at-once",
        "water-declared",
        "percentage-of-nothing",
        "share-of-no-fibre",
        "said-but-not-so",
    }
    assert {rule.name for rule in RULES} - said <= elsewhere
