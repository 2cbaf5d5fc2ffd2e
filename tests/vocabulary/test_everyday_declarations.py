"""Fibre, pots and materials as dyers declare them are known, each whole and to its last word."""

from pathlib import Path

import pytest

import procedure

LINES = Path(__file__).with_name("everyday_declarations.txt").read_text("utf-8").splitlines()
# What would say that a word of the line was not understood, or was taken for another thing.
NOT_READ = frozenset(
    "unknown-word cannot-read which-is-meant part-unstated unknown-unit water-declared".split()
)
# A fleece or a batt may be of any animal.
ANY_ANIMAL = ("raw fleece, 500 g",)


def declared() -> list[tuple[str, str]]:
    """Each line with its section, which is above it in square brackets."""
    found, section = [], ""
    for line in LINES:
        if line.startswith("["):
            section = line.strip("[]")
        elif line:
            found.append((section, line))
    return found


@pytest.mark.parametrize("section", ["fibre", "equipment", "materials"])
def test_everyday_names_are_known(section: str) -> None:
    rows = [line for where, line in declared() if where == section and line not in ANY_ANIMAL]
    assert len(rows) > 50
    text = "\n".join(f"  thing-{at}: {line}" for at, line in enumerate(rows))
    plan = procedure.read(f'procedure "Names"\n\n{section}\n{text}\n')
    told = [one for one in plan.findings if one.rule in NOT_READ]
    assert not [f"{rows[one.line - 4]}: {one.sentence}" for one in told]


def test_words_for_the_reader_are_printed_as_written() -> None:
    """A hand-spun yarn is no white one, though neither word changes what is done."""
    plan = procedure.read('procedure "Spun"\n\nfibre\n  yarn: Shetland wool yarn, handspun, 50 g\n')
    (lot,) = plan.model.lots.values()
    assert "handspun" in lot.words
    assert [one.name for one in lot.fibres] == ["wool"]


def test_a_sulphate_of_alumina_is_asked_about() -> None:
    """Of two salts that go by one name the full one is asked for."""
    text = 'procedure "Alum"\n\nmaterials\n  alum: alum sulphate\n'
    (asked,) = [one for one in procedure.read(text).findings if one.rule == "shared-word"]
    assert "aluminium sulphate" in asked.sentence
