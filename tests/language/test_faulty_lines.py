"""A line that cannot be read: what was expected, in trade words, and reading goes on."""

from __future__ import annotations

import pytest
from expecting import place_in

import procedure
from procedure.language import Fault, read
from procedure.wording import said

SOUND = """procedure "Gold"
  by "Fellside Dye Circle"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  tub: plastic tub, 20 L, for dyeing only
materials
  soap: neutral soap
steps
  wet out yarn in tub with water 5 L for 1 h
  wash yarn in tub with water 5 L, soap 5 g
  dry yarn
"""


def faults_of(text: str) -> list[Fault]:
    return read(text).faults


def test_the_sound_text_has_no_fault() -> None:
    assert faults_of(SOUND) == []


# The slip, the line with it, the words that the sentence must have, and the remedy's.
SLIPS = [
    ("  dry yarn", "  drry yarn", "drry", ["a verb such as rinse"], "dry"),
    ("  dry yarn", "  dry yarn untill 1 h", "untill", ["a clause (in, with, at"], "until"),
    ("wet out yarn", "wett out yarn", "wett", ["a verb"], "wet out"),
    ("water 5 L for", "water 5 L at for", "for", ["free words", "an amount"], ""),
    ("soap 5 g", "soap 5 g (2 oz", None, ["a closing bracket", "the line ends"], ""),
    ("soap 5 g", "soap 5,5 g", "5,5", ["comma", "decimal"], "5.5"),
    ("  tub: plastic", "  tub plastic", "tub", ["a name and a colon"], ""),
    ("  soap: neutral soap", "  soap: neutral soap,", None, ["a word that describes"], ""),
    ('by "Fellside', 'bye "Fellside', "bye", ["by"], "by"),
    (
        'by "Fellside Dye Circle"',
        'by "Fellside Dye Circle',
        '"Fellside Dye Circle',
        ["quotation mark", "never closed"],
        "Close it",
    ),
    (
        'procedure "Gold"',
        "procedure Gold",
        "procedure Gold",
        ["title is written in quotation marks"],
        "procedure",
    ),
    ("\nsteps\n", "\nstpes\n", "stpes", ["a section"], "steps"),
    ("\nmaterials\n", "\nmaterial\n", "material", ["section of that kind"], "materials"),
    ("  dry yarn", "  repeat 3 tmes\n    dry yarn", "tmes", ["times"], "times"),
    ("  dry yarn", "  repeat thre times\n    dry yarn", "thre", ["a number"], ""),
    ("  dry yarn", "  if too yellow\n    dry yarn", "too", ["in quotation marks"], ""),
    ("  dry yarn", "  follow wash.dye with yarn", "wash.dye", ["free words"], ""),
    ("  dry yarn", "  dry yarn in in tub", "in in", ["is written twice"], ""),
    ("  dry yarn", "  dry @yarn", "yarn", ["is no heat"], ""),
    ("  dry yarn", "  dry yarn allow never-used", None, ["because"], ""),
]


@pytest.mark.parametrize(("sound", "slip", "at", "words", "remedy"), SLIPS)
def test_slip(sound: str, slip: str, at: str | None, words: list[str], remedy: str) -> None:
    text = SOUND.replace(sound, slip, 1)
    assert text != SOUND
    (fault,) = faults_of(text)
    for word in words:
        assert word in said(fault.sentence)
    assert remedy in said(fault.remedy) and said(fault.remedy).endswith((".", "?"))
    here = text.index(slip.strip().split("\n")[-1])
    line = text.count("\n", 0, here) + 1
    if at is None:
        whole = text.split("\n")[fault.line - 1]
        assert fault.column == len(whole.rstrip()) + 1
    else:
        assert text.split("\n")[fault.line - 1][fault.column - 1 : fault.to - 1] == at
    assert fault.line in (line, line - 1)


def test_one_run_reports_every_faulty_line() -> None:
    text = (
        SOUND.replace("by ", "bye ")
        .replace("yarn: wool", "yarn wool")
        .replace("20 L,", "20,5 L,")
        .replace("wet out", "wett out")
        .replace("  dry", "  dri")
    )
    assert [fault.line for fault in faults_of(text)] == [2, 4, 6, 10, 12]
    found = [f for f in procedure.read(text).findings if f.rule == "cannot-read"]
    assert [f.line for f in found] == [2, 4, 6, 10, 12]
    assert {f.level for f in found} == {"error"}


def test_what_could_be_read_is_still_checked() -> None:
    text = SOUND.replace("  dry yarn", "  dri yarn").replace("water 5 L for", "water 5 gal for")
    assert {f.rule for f in procedure.read(text).findings} >= {"cannot-read", "which-gallon"}


def test_steps_below_a_faulty_repeat_are_still_read() -> None:
    text = SOUND.replace("  dry yarn", "  repeat 3 tmes\n    air yarn for 1 min\n    dri yarn")
    assert len(faults_of(text)) == 2
    assert len(procedure.read(text).model.body) == 3


def test_a_misspelt_section_is_still_read_as_the_one_that_was_meant() -> None:
    text = SOUND.replace("\nequipment\n", "\nequipmnet\n")
    plan = procedure.read(text)
    assert "tub" in plan.model.equipment
    assert {f.rule for f in plan.findings if f.level == "error"} == {"cannot-read"}


def test_a_fault_in_a_continuation_line_points_at_that_line() -> None:
    text = SOUND.replace("  dry yarn", "  dry yarn\n    for 1 h\n    untill 5")
    (fault,) = faults_of(text)
    assert (fault.line, fault.column, fault.to) == place_in(text, "untill")
    assert "until" in said(fault.remedy)


@pytest.mark.parametrize("line", ["last: air yarn for 1 h", "air yarn for 1 h", "wet out yarn"])
def test_a_line_indented_by_mistake_is_told_from_a_continuation(line: str) -> None:
    text = SOUND.replace("  dry yarn", f"  dry yarn\n   {line}")
    (fault,) = faults_of(text)
    assert "indentation" in said(fault.sentence)
    assert (fault.line, fault.column) == (13, 4)


def test_a_word_of_the_language_is_no_name() -> None:
    (fault,) = faults_of(SOUND.replace("  dry yarn", "  dry yarn after covered"))
    assert "word of the language" in said(fault.sentence) and "another name" in said(fault.remedy)


def test_sentences_name_no_terminals_of_the_grammar() -> None:
    names = ("NAME", "STRING", "NUMBER", "LABEL", "VERB", "UNIT", "WORD", "$END", "LPAR", "COMMA")
    for sound, slip, *_ in SLIPS:
        for fault in faults_of(SOUND.replace(sound, slip, 1)):
            assert not any(name in said(fault.sentence) + said(fault.remedy) for name in names)


# ------------------------------------------------------------ too much of it


def test_a_line_too_long_is_one_fault() -> None:
    text = SOUND + "  dry " + "yarn " * 2000
    (fault,) = faults_of(text)
    assert "characters long" in said(fault.sentence) and fault.line == 13


def test_a_name_too_long_is_one_fault() -> None:
    text = SOUND + "  dry " + "y" * 3000
    (fault,) = faults_of(text)
    assert "3,000 characters long" in said(fault.sentence) and "60" in said(fault.sentence)


def test_blocks_too_deep_are_one_fault() -> None:
    deep = "".join(f"{'  ' * (n + 1)}repeat 2 times\n" for n in range(200))
    (fault,) = faults_of(SOUND + deep + "  " * 201 + "air yarn for 1 min\n  dry yarn\n")
    assert fault.line == 33
    assert "20 deep" in said(fault.sentence)


@pytest.mark.parametrize(
    ("was", "now", "told", "meant"),
    [
        ("30 to 35", "30 to -35", "-35", "35"),
        ("30 to 35", "30o to 35", "30o", "in figures"),
        ("30 to 35", "30 tq 35", "tq", "to"),
    ],
)
def test_a_slip_in_an_amount_is_told_there_and_not_where_reading_stops(
    was: str, now: str, told: str, meant: str
) -> None:
    text = SOUND.replace("water 5 L for", "water 30 to 35 : 1 of yarn, soap 5 g for")
    assert faults_of(text) == []
    (fault,) = faults_of(text.replace(was, now))
    assert (fault.line, fault.column, fault.to) == place_in(text.replace(was, now), told)
    assert f"“{told}”" in said(fault.sentence)
    assert meant in said(fault.remedy)


def test_the_colon_of_a_label_is_no_part_of_its_name() -> None:
    for letters, faults in ((60, 0), (61, 1)):
        tree = read(f'procedure "x"\nfibre\n  {"a" * letters}: wool yarn, 50 g\n')
        assert len(tree.faults) == faults
        assert all("61 characters long" in said(fault.sentence) for fault in tree.faults)


def test_a_remedy_in_quotation_marks_keeps_every_word_of_the_writer() -> None:
    text = 'procedure "A"\n\nsteps\n  splosh the yarn  round the pot\n'
    (fault,) = faults_of(text)
    assert '“do "splosh the yarn round the pot"”' in said(fault.remedy)
