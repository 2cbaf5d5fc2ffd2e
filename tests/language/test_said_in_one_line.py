"""Names of several words, several things in one line, and what is done meanwhile."""

from datetime import datetime
from fractions import Fraction
from pathlib import Path

import pytest

from procedure.collection.opening_hours import Hours
from procedure.model import Step
from procedure.neaten.laying_out import neat
from procedure.pipeline import Judged, read
from procedure.quantity.interval import Interval
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.work import Point

FRAME = (Path(__file__).parents[1] / "trials" / "phrases-frame.dye").read_text("utf-8")
FIRST = FRAME.count("\n")


def judged(text: str) -> Judged:
    """A text behind the steps of the trials' frame."""
    return read(FRAME + "".join(f"  {line}\n" for line in text.split("\n")), "x.dye")


def unread(made: Judged) -> list[str]:
    """What is said of the text's own lines that could not be read or names nothing."""
    rules = ("cannot-read", "not-declared", "wrong-kind-of-thing", "clause-out-of-place")
    return [f.sentence for f in made.findings if f.line > FIRST and f.rule in rules]


def steps(text: str) -> list[tuple[str, list[str]]]:
    """The verbs of a text and what each is done to."""
    made = judged(text)
    assert unread(made) == []
    mine = [one for one in made.model.body if isinstance(one, Step) and one.place.line > FIRST]
    return [
        (one.verb.name if one.verb else "", [o.name.text for o in one.objects if o.name])
        for one in mine
    ]


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("add cream of tartar 5 g to dye-bath", "tartar"),
        ("add 5 g cream of tartar to dye-bath", "tartar"),
        ("add 5 g of ferrous sulphate to dye-bath", "copperas"),
        ("add onion skins 50 g to the dye bath", "onion"),
        ("enter wool yarn in dye-bath", "yarn"),
    ],
)
def test_a_thing_is_known_by_the_words_that_describe_it(said: str, name: str) -> None:
    assert steps(said)[0][1] == [name]


def test_a_name_of_several_words_keeps_its_place() -> None:
    made = judged("enter yarn in the dye bath")
    step = made.model.body[-1]
    assert isinstance(step, Step) and step.within is not None and step.within.name is not None
    assert step.within.name.text == "dye-bath"
    line = "  enter yarn in the dye bath"
    assert line[step.within.name.place.column - 1 : step.within.name.place.to - 1] == "dye bath"


def test_words_that_describe_two_things_name_neither() -> None:
    """Kettle and pan are both stainless steel pots."""
    assert unread(judged("clean stainless steel pot"))


def test_a_material_that_is_not_declared_is_asked_for_by_its_whole_name() -> None:
    (found,) = [f for f in judged("add citric acid 5 g to dye-bath").findings if f.line > FIRST]
    assert "“citric acid”" in found.sentence and "citric-acid: citric acid" in found.remedy


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        (
            'lift bag from dye-bath, empty to "compost"',
            [("take out", ["bag"]), ("empty", ["bag"])],
        ),
        (
            "lift yarn from dye-bath, squeeze, rinse in tub with water 5 L and dry",
            [("lift", ["yarn"]), ("squeeze", ["yarn"]), ("rinse", ["yarn"]), ("dry", ["yarn"])],
        ),
        ("rinse and dry yarn", [("rinse", ["yarn"]), ("dry", ["yarn"])]),
        (
            "rinse yarn and silk, then dry them in the shade",
            [("rinse", ["yarn", "silk"]), ("dry", ["yarn", "silk"])],
        ),
        (
            "take the yarn out, let it drain and hang it up to dry",
            [("lift", ["yarn"]), ("rest", ["yarn"]), ("dry", ["yarn"])],
        ),
        (
            "strong-bath: prepare in pan with water 4 L, onion 50 g and simmer at 85 °C for 1 h",
            [("prepare", []), ("simmer", ["strong-bath"])],
        ),
        (
            "heat dye-bath to 80 °C over 1 h and keep it there for 1 h",
            [("heat", ["dye-bath"]), ("hold", ["dye-bath"])],
        ),
        ("rinse yarn in tub, with water 5 L, at 30 °C", [("rinse", ["yarn"])]),
    ],
)
def test_a_verb_in_the_line_begins_another_step(
    said: str, meant: list[tuple[str, list[str]]]
) -> None:
    assert steps(said) == meant


def test_what_is_called_as_a_verb_is_no_verb() -> None:
    text = FRAME.replace("  vinegar:  vinegar", "  wash:     vinegar")
    made = read(f"{text}  add alum 5 g, wash 5 mL to dye-bath\n", "x.dye")
    last = made.model.body[-1]
    assert isinstance(last, Step) and len(last.objects) == 2


SIDE_BY_SIDE = """simmer dye-bath at 85 °C for 1 h
meanwhile
  scour flax in tub with water 10 L, soda 5 g at 60 °C for 1 h
  rinse flax in tub with water 10 L"""


@pytest.mark.parametrize(
    "text",
    [
        SIDE_BY_SIDE,
        SIDE_BY_SIDE.replace("meanwhile", "in the meantime"),
        SIDE_BY_SIDE.replace("meanwhile\n ", "meanwhile").replace("\n  rinse flax", ", then rinse"),
    ],
)
def test_what_is_done_meanwhile(text: str) -> None:
    made = judged(text)
    assert "not-at-once" not in {one.rule for one in made.findings} and unread(made) == []
    simmer, *others = [one for one in made.model.body if one.place.line > FIRST]
    assert [one.beside for one in others if isinstance(one, Step)] == [(simmer.number,) * 2] * 2


def test_meanwhile_begins_when_the_other_has_begun() -> None:
    text = FRAME + "".join(f"  {line}\n" for line in SIDE_BY_SIDE.split("\n"))
    asked = Asked(datetime(2026, 11, 28, 9), Hours(), "9:00-18:00")
    work = work_of([read(text, "x.dye")], asked).work
    found = [lag for lag in work.lags if lag.leaves is Point.START and lag.place.line > FIRST]
    assert {lag.place.line for lag in found} == {FIRST + 3, FIRST + 4}


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("simmer dye-bath for 1 h\nmeanwhile\n  dye yarn in dye-bath for 1 h", 3),
        ("mordant yarn in alum-bath at 40 °C for 1 h\nmeanwhile rinse yarn in tub", 2),
        ("mordant yarn in alum-bath at 40 °C for 1 h\nmeanwhile clean second-kettle", 2),
        ('if "it is pale"\n  meanwhile\n    rinse yarn in tub with water 5 L', 2),
    ],
)
def test_what_cannot_be_done_meanwhile_is_told(text: str, line: int) -> None:
    assert [f.line - FIRST for f in judged(text).findings if f.rule == "not-at-once"] == [line]


def test_a_bath_may_be_stirred_meanwhile() -> None:
    made = judged("simmer dye-bath for 1 h\nmeanwhile\n  stir dye-bath")
    assert "not-at-once" not in {one.rule for one in made.findings}


def test_neat_text_keeps_what_is_done_meanwhile() -> None:
    text = FRAME + "".join(f"  {line}\n" for line in SIDE_BY_SIDE.split("\n"))
    made = neat(text)
    assert "  meanwhile\n    scour flax in tub" in made.text and neat(made.text).same


@pytest.mark.parametrize(
    "said",
    [
        "draw off 1 L from dye-bath",
        "take 1 L of liquor out of dye-bath",
        "take out 1 L of the dye bath",
        "take some liquor out of dye-bath",
        "remove 1 L of the liquid from the dye bath",
    ],
)
def test_liquor_out_of_a_bath_is_drawn_off(said: str) -> None:
    made = judged(said)
    assert unread(made) == []
    moment = made.trace.moments[-1]
    assert isinstance(moment.step, Step) and moment.step.does.name == "draw off"
    assert moment.node.bath == "dye-bath"


@pytest.mark.parametrize(
    ("said", "word"),
    [("take some liquor out of the bath", "bath"), ("take out 1 L of the liquor", "liquor")],
)
def test_the_bath_without_its_name_is_asked_for_by_the_names_there_are(
    said: str, word: str
) -> None:
    made = judged(said)
    (told,) = [one for one in made.findings if one.rule == "not-declared"]
    assert told.sentence == f"Nothing is called “{word}” here."
    assert told.remedy.startswith("Write which bath: dye-bath, alum-bath")


@pytest.mark.parametrize(
    ("said", "first", "second"),
    [
        ("deep half of the yarn, pale the rest", 50, 50),
        ("deep half, pale the rest", 50, 50),
        ("deep half and pale the rest of the yarn", 50, 50),
        ("deep 60 g, pale the rest", 60, 40),
        ("deep 60 g and pale the remainder", 60, 40),
    ],
)
def test_a_part_of_a_split_may_be_the_rest(said: str, first: int, second: int) -> None:
    made = judged(f"split yarn into {said}")
    assert unread(made) == []
    lots = made.trace.moments[-1].after.lots
    weights = [lots[name].weight for name in ("deep", "pale")]
    assert weights == [Interval.of(Fraction(one)) for one in (first, second)]


def test_half_of_a_lot_that_is_not_split_is_told_how() -> None:
    made = judged("dye half of the yarn in dye-bath at 40 °C for 1 h")
    (told,) = [one for one in made.findings if one.rule == "wrong-kind-of-thing"]
    assert "“split yarn into part-one half of yarn, part-two”" in told.remedy
    assert unread(judged("split yarn into part-one half of yarn, part-two")) == []


@pytest.mark.parametrize(
    ("said", "gently"),
    [
        ("gently squeeze yarn, then rinse it in tub with water 5 L", ["squeeze"]),
        ("gently lift yarn, gently squeeze it", ["lift", "squeeze"]),
        ("slowly heat dye-bath to 80 °C and hold it for 45 min", ["heat"]),
        ("slowly heat dye-bath to 80 °C, hold for 45 min", ["heat"]),
        ("lift yarn and gently squeeze it", ["squeeze"]),
        ("gently rinse yarn, silk in tub with water 5 L", ["rinse"]),
    ],
)
def test_how_is_said_of_the_verb_behind_it(said: str, gently: list[str]) -> None:
    made = judged(said)
    assert unread(made) == []
    mine = [one for one in made.model.body if isinstance(one, Step) and one.place.line > FIRST]
    assert [one.verb.name for one in mine if one.verb and "gently" in one.manner] == gently


@pytest.mark.parametrize("bath", ["sun-bath", "shade-bath", "sunlight-bath"])
def test_a_word_within_a_name_is_no_word_by_itself(bath: str) -> None:
    made = judged(f"{bath}: prepare in pan with water 4 L, weld 50 g\nsteep yarn in {bath} for 1 d")
    assert unread(made) == []
