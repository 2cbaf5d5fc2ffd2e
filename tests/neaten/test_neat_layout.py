"""One layout for a procedure: what it looks like, and that it never means anything else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from remarked import remarked, remarks

import procedure
from procedure.language import read
from procedure.model import Procedure, build
from procedure.neaten import neat
from procedure.neaten.meaning import meaning

EXAMPLES = Path(__file__).parents[2] / "examples"
ALL = sorted(EXAMPLES.rglob("*.dye"))
FRAME = """procedure "x"
fibre
  yarn: wool yarn, 100 g
equipment
  tub: plastic tub, 20 L, for dyeing only
  pot: steel pot, 12 L, for dyeing only
  bag: net bag, for dyeing only
materials
  alum: potassium alum
steps
  alum-bath: prepare in pot with water 4 L
"""


def named(path: Path) -> str:
    return path.relative_to(EXAMPLES).as_posix()


def modelled(text: str) -> Procedure:
    return build(read(text), "")


def laid_out(step: str) -> str:
    """A step in its neat form, without its indentation."""
    made = neat(FRAME + f"  {step}\n").text
    return made.rstrip("\n").partition("with water 4 L\n")[2].removeprefix("  ")


# ------------------------------------------------------------------ what it looks like


@pytest.mark.parametrize(
    ("written", "neatly"),
    [
        ("Rinse yarn  in tub with water 5L at 30°C.", "rinse yarn in tub with water 5 L at 30 °C"),
        (
            "mordant yarn for 1 hour in alum-bath covered at 80 degC",
            "mordant yarn in alum-bath at 80 °C for 1 h covered",
        ),
        (
            "dye yarn over 45 minutes to 85 °C from 40 °C in alum-bath",
            "dye yarn in alum-bath from 40 °C to 85 °C over 45 min",
        ),
        # “at 35 °C to 51 °C” would be one heat, so the two change places.
        (
            "dissolve alum 5 g to 51 °C in pot at 35 °C",
            "dissolve alum 5 g in pot to 51 °C at 35 °C",
        ),
        ('discard alum-bath to "drain" at 35 °C', 'discard alum-bath at 35 °C to "drain"'),
        ("take the yarn out of the alum-bath", "lift yarn from alum-bath"),
        ("put the yarn into alum-bath", "enter yarn into alum-bath"),
        ("put the bag in the alum-bath", "lower bag into alum-bath"),
        ("let alum-bath cool overnight", "cool alum-bath overnight"),
        ("leave the alum-bath to cool to 30 °C", "cool alum-bath to 30 °C"),
        ("simmer yarn in alum-bath for 1 h", "cook yarn in alum-bath at simmer for 1 h"),
        ("stir alum 5 g into alum-bath", "add alum 5 g to alum-bath stirring"),
        ("pour alum-bath down “the foul drain”", 'discard alum-bath to "the foul drain"'),
        ("hang yarn up", "dry yarn"),
        ("steep yarn w/ water 2 L @ 40C O/N", "steep yarn with water 2 L at 40 °C overnight"),
        ("rinse yarn in pot w/ water 2 L 2x", "rinse yarn in pot with water 2 L 2 times"),
        ("rest yarn for half an hour", "rest yarn for half an hour"),
        ("rest yarn for 2 days", "rest yarn for 2 d"),
        ("rest yarn for an hour  or more", "rest yarn for an hour or more"),
        ("add alum 1 imperial gallon to alum-bath", "add alum 1 imp gal to alum-bath"),
        ("add alum 1 gallon to alum-bath", "add alum 1 gallon to alum-bath"),
        ("add alum 2 teaspoons to alum-bath", "add alum 2 teaspoons to alum-bath"),
        (
            "add alum 4 ounces per pound of yarn to alum-bath",
            "add alum 4 oz per lb of yarn to alum-bath",
        ),
        (
            "add alum 8 -10 g , water 30:1 of yarn to alum-bath",
            "add alum 8-10 g, water 30 : 1 of yarn to alum-bath",
        ),
        ("heat alum-bath to 85 °C( 185°F )", "heat alum-bath to 85 °C (185 °F)"),
        ('stand alum-bath  note "a  b,c" for 1 h', 'stand alum-bath for 1 h note "a  b,c"'),
        ('stand alum-bath note “say "so"” for 1 h', 'stand alum-bath for 1 h note “say "so"”'),
        ("keep alum-bath labelled as old in pot", "keep alum-bath in pot as old labelled"),
        ("repeat  3  times", "repeat 3 times"),
        ('if   "so"', 'if "so"'),
        ("for each  one in yarn ,tub", "for each one in yarn, tub"),
        ("follow “x.dye” with a=yarn", 'follow "x.dye" with a = yarn'),
    ],
)
def test_a_step_in_its_neat_form(written: str, neatly: str) -> None:
    assert laid_out(written) == neatly


@pytest.mark.parametrize(
    ("written", "neatly"),
    [
        ("cool alum-bath to 40 °C, then strain", ["cool alum-bath to 40 °C", "strain alum-bath"]),
        (
            "take the yarn out of the alum bath, wring it and hang it up to dry  # at last",
            ["lift yarn from alum-bath", "squeeze yarn", "dry yarn  # at last"],
        ),
        (
            "tea: make in bag with 1 kg alum and simmer for 5 minutes covered at 85 °C",
            ["tea: prepare in bag with 1 kg alum", "simmer tea at 85 °C for 5 min covered"],
        ),
        (
            "put yarn in alum-bath, lift yarn, then rinse it twice in tub",
            ["enter yarn in alum-bath", "lift yarn", "rinse yarn twice in tub"],
        ),
        # What goes on in further lines, and rounds, are one line still.
        ("rinse yarn in tub\n    with water 5 L twice", None),
        ("cool alum-bath  # here\n    to 40 °C, then strain", None),
    ],
)
def test_two_acts_in_one_line_are_two_lines(written: str, neatly: list[str] | None) -> None:
    made = laid_out(written)
    assert made == (written if neatly is None else "\n  ".join(neatly))
    assert laid_out(made) == made


def test_headings_declarations_and_blocks() -> None:
    rough = (
        '# A first line.\n\n\nprocedure   “Gold”\n\n by  "me"\n wearing gloves,mask\n'
        "fibre:\n\n   # Ours.\n   yarn :wool yarn,100 grams , scoured\n   a-sock: silk, 1/2 lb\n"
        "steps\n     wet out yarn in tub#so\n\n\n     repeat 2 times\n\n        dip yarn in vat\n"
        "        # in the air\n        air yarn\n     # at the end\n     dry yarn   \n\n\n"
    )
    neatly = (
        '# A first line.\n\nprocedure "Gold"\n  by "me"\n  wearing gloves, mask\n\n'
        "fibre\n  # Ours.\n  yarn:   wool yarn, 100 g, scoured\n  a-sock: silk, 1/2 lb\n\n"
        "steps\n  wet out yarn in tub  #so\n\n  repeat 2 times\n\n    dip yarn in vat\n"
        "    # in the air\n    air yarn\n  # at the end\n  dry yarn\n"
    )
    assert neat(rough).text == neatly
    assert neat(neatly).same


def test_lines_break_where_the_writer_broke_them_and_nothing_moves_past_a_comment() -> None:
    broken = '  rinse yarn for 5 min  # not long\n    # nor hot\n    at 30 °C in tub note "so"\n'
    assert neat(FRAME + broken).text.endswith(broken)
    moved = '  rinse yarn for 5 min\n    at 30 °C in tub note "so"  # not long\n'
    wanted = '  rinse yarn in tub at 30 °C for 5 min note "so"  # not long\n'
    assert neat(FRAME + moved).text.endswith(wanted)


def test_a_very_long_step_is_broken_before_a_clause() -> None:
    step = "  rinse yarn in tub with water 5 L at 30 °C for 5 min wearing gloves"
    long = f'{step} note "{"turn it over, " * 4}"\n'
    wanted = f'{step}\n    note "{"turn it over, " * 4}"\n'
    assert neat(FRAME + long).text.endswith(wanted)


# ------------------------------------------------------------------ what it never does


@pytest.mark.parametrize("path", ALL, ids=named)
def test_an_example_means_the_same_and_is_neat_then(path: Path) -> None:
    text = path.read_bytes().decode()
    made = neat(text)
    # “fill tansy 4 : 1 of pale and dark into bag” would be read as another amount, so that line
    # keeps its everyday verb.
    careful = [text.split("\n")[line - 1].split()[:2] for line in made.careful]
    assert careful == ([["put", "tansy"]] if "tansy 4 : 1 of pale and dark in bag" in text else [])
    assert meaning(modelled(made.text)) == meaning(modelled(text))
    assert neat(made.text).same


@pytest.mark.parametrize("path", ALL[::5], ids=named)
def test_an_example_is_judged_the_same(path: Path) -> None:
    def findings(text: str) -> list[tuple[str, str, str]]:
        found = procedure.read(text, path.name, path).findings
        return sorted((one.rule, one.level, one.file) for one in found)

    text = path.read_bytes().decode()
    assert findings(neat(text).text) == findings(text)


@pytest.mark.parametrize("path", ALL[::4], ids=named)
def test_comments_and_line_ends_of_examples_stay(path: Path) -> None:
    plain = path.read_bytes().decode()
    text, count = remarked(plain.replace("\n", "\r\n"), len(plain))
    made = neat(text)
    assert made.careful == ()
    assert remarks(made.text) == remarks(text) and len(remarks(text)) == count
    assert made.text.count("\n") == made.text.count("\r\n") > 10
    assert meaning(modelled(made.text)) == meaning(modelled(text))
    assert neat(made.text).same


def ends(text: str) -> set[str]:
    """The kinds of line end in a text."""
    return set(re.findall(r"\r\n|\r|\n", text))


def held(written: strategies.Written, seed: int) -> None:
    """A generated procedure with comments everywhere: the same in meaning, and neat at once."""
    text, count = remarked(written.text, seed)
    made = neat(text)
    # An everyday verb among clauses that nobody would write may have no plain words for it; such
    # a line stays in a less neat form, and few of a text do.
    assert len(made.careful) * 20 <= text.count("\n") + text.count("\r") + 20
    assert made.faulty == ()
    before, after = modelled(text), modelled(made.text)
    assert meaning(before) == meaning(after)
    assert remarks(made.text) == remarks(text) and len(remarks(text)) == count
    assert made.text[:1].count("\ufeff") == text[:1].count("\ufeff")
    assert ends(made.text) <= (ends(text) or {"\n"})
    assert neat(made.text).text == made.text


@settings(max_examples=40)
@given(strategies.procedures(), st.integers(0, 10_000))
def test_what_is_meant_stays(written: strategies.Written, seed: int) -> None:
    held(written, seed)


@pytest.mark.exhaustive
@settings(max_examples=2_500)
@given(strategies.procedures(), st.integers(0, 10_000))
def test_what_is_meant_stays_in_ten_thousand_files(written: strategies.Written, seed: int) -> None:
    # Most of the time goes into drawing a procedure, so each gets comments in four ways.
    for further in range(4):
        held(written, seed + further)


@settings(max_examples=60)
@given(strategies.texts)
def test_any_text_can_be_laid_out_and_is_laid_out_then(text: str) -> None:
    made = neat(text)
    assert meaning(modelled(made.text)) == meaning(modelled(text))
    assert neat(made.text).text == made.text
    if read(text).faults:
        assert made.faulty


def test_a_line_that_cannot_be_read_stays_and_the_others_are_laid_out() -> None:
    text = FRAME + "  rinse   yarn in in  tub\n  dry    yarn\n"
    made = neat(text)
    assert made.text.endswith("  rinse   yarn in in  tub\n  dry yarn\n")
    assert len(made.faulty) == 1


@pytest.mark.parametrize("nothing", ["", "\n", "\ufeff", "  \n\t\n"])
def test_nothing_stays_nothing(nothing: str) -> None:
    assert neat(nothing).text.strip("\ufeff") == ""


def test_a_missing_last_line_end_is_put_there() -> None:
    assert neat('procedure "x"').text == 'procedure "x"\n'
    assert neat('procedure "x"\r\n  by "me"').text == 'procedure "x"\r\n  by "me"\r\n'


def test_the_sound_examples_are_neat_but_the_one_in_everyday_words() -> None:
    rough = [named(path) for path in ALL if not neat(path.read_bytes().decode()).same]
    sound = [name for name in rough if not name.startswith("faulty/")]
    assert sound == ["tansy-on-two-mordants.dye"]
