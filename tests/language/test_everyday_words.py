"""Everyday verbs mean a plain one, by what they are done to; what papers print can be read."""

import re
from pathlib import Path

import pytest

from procedure.command.main import main
from procedure.language.everyday_order import heads
from procedure.model import Step
from procedure.pipeline import read
from procedure.service.telling import told

FRAME = (Path(__file__).parents[1] / "trials" / "phrases-frame.dye").read_text("utf-8")
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.dye"))


def last(text: str) -> Step:
    """The last step of a text, read in the frame of the trials."""
    body = read(FRAME + "".join(f"  {line}\n" for line in text.split("\n")), "x.dye").model.body
    step = body[-1]
    assert isinstance(step, Step), step
    return step


@pytest.mark.parametrize(
    ("text", "verb"),
    [
        ("soak yarn in tub with water 5 L for 1 h", "wet out"),
        ("soak madder 50 g in bucket with water 1 L for 1 h", "soak"),
        ("put yarn into dye-bath", "enter"),
        ("put alum 5 g into dye-bath", "add"),
        ("put madder 50 g in bag", "fill"),
        ("put bag into dye-bath", "lower"),
        ("take yarn out of dye-bath", "lift"),
        ("take bag out of dye-bath", "take out"),
        ("lift yarn out", "lift"),
        ("pull yarn out of dye-bath", "lift"),
        ("fish out the onion", "lift out"),
        ("shake the onion out of the yarn", "lift out"),
        ("lower yarn into dye-bath", "enter"),
        ("slide yarn into dye-bath", "enter"),
        ("poke yarn down in dye-bath", "press under"),
        ("swish yarn in dye-bath for 5 min", "work"),
        ("tear up onion", "chop"),
        ("strew alum 5 g into dye-bath", "add"),
        ("gently squeeze out the extra water from yarn", "squeeze"),
        ("slowly heat dye-bath to 80 °C", "heat"),
        ("give yarn a good rinse in tub", "rinse"),
        ("add another 5 g of copperas to dye-bath", "add"),
        ("drop bag into dye-bath", "lower"),
        ("let yarn sit in alum-bath for a day", "steep"),
        ("keep yarn in dye-bath for another hour", "steep"),
        ("hang yarn up in the shade to dry", "dry"),
        ("sprinkle 5 g of soda over the vat", "add"),
        ("pour the melted soap into dye-bath", "add"),
        ("turn the heat down and simmer dye-bath for an hour", "simmer"),
        ("chop up the madder", "chop"),
        ("chop tansy whole", "chop"),
        ("chop the whole tansy plants", "chop"),
        ("wash up kettle and pan", "clean"),
        ("top up dye-bath with hot water as needed", "top up"),
        ("dip yarn in vat for 5 min then hang it in the air for 10 min", "air"),
        ("warm the dye-bath again to 60 °C", "heat"),
        ("remove yarn from dye-bath", "lift"),
        ("wring yarn", "squeeze"),
        ("hang yarn for 15 min", "air"),
        ("hang yarn", "dry"),
        ("hang yarn overnight", "dry"),
        ("dip yarn in vat at 50 °C for 5 min\nhang yarn", "air"),
        ("hang the yarn up in the shade until dry", "dry"),
        ("let yarn drip for 10 min", "rest"),
        ("simmer dye-bath 1 h", "simmer"),
        ("wet yarn in tub with warm water (2 litres)", "wet out"),
        ("hang yarn to dry", "dry"),
        ("leave yarn in alum-bath overnight", "steep"),
        ("leave dye-bath to cool overnight", "cool"),
        ("let dye-bath cool to 30 °C", "cool"),
        ("let yarn dry", "dry"),
        ("bring dye-bath to the boil over 1 h", "heat"),
        ("pour dye-bath down “foul drain”", "discard"),
        ("drain dye-bath away to “foul drain”", "discard"),
        ("pour tannin-liquor into dye-bath", "add"),
        ("stir in alum 5 g to dye-bath", "add"),
        ("stir dye-bath", "stir"),
        ("stir yarn in dye-bath for 5 min", "work"),
        ("sprinkle indigo 5 g on vat", "add"),
        ("boil yarn in dye-bath for 1 h", "cook"),
        ("boil dye-bath for 1 h", "boil"),
        ("brighten yarn in dye-bath with tin 1 g for 10 min", "modify"),
        ("scrub kettle with soda", "clean"),
        ("empty bag to “compost”", "empty"),
        ("empty dye-bath to “foul drain”", "discard"),
        ("keep dye-bath at 80 °C for 1 h", "hold"),
        ("keep dye-bath as weak-dye in kettle", "keep"),
        ("keep yarn under in dye-bath", "press under"),
        ("cut up tansy with scissors", "chop"),
    ],
)
def test_an_everyday_verb_is_read_as_the_plain_one(text: str, verb: str) -> None:
    step = last(text)
    assert step.verb is not None and step.verb.name == verb


def test_a_lot_that_is_boiled_in_a_bath_is_at_the_boil() -> None:
    step = last("boil yarn in dye-bath for 1 h")
    assert step.at is not None and step.at.quantity is not None
    assert step.at.quantity.low == 95  # words.csv: the boil begins at 95 °C


def test_half_a_verb_alone_is_asked_about() -> None:
    found = read(FRAME + "  push yarn\n", "x.dye").findings
    assert any(one.rule == "cannot-read" for one in found)


@pytest.mark.parametrize("path", EXAMPLES[::6], ids=lambda path: path.stem)
def test_every_verb_that_a_handout_prints_is_read(path: Path, tmp_path: Path) -> None:
    made = tmp_path / "made.md"
    main(["handout", "--no-chart", "-o", str(made), str(path)])
    said = re.findall(r"\*\*[\d.–]+\*\* ☐ (\w+)", made.read_text("utf-8"))
    assert said, "the handout tells steps"
    # What stands in the words of a “do” is the writer's own.
    free = re.findall(r"do \"(\w+)", path.read_text("utf-8"))
    known = heads() | {"get"} | {word.lower() for word in free}
    assert {word.lower() for word in said} <= known


def test_an_everyday_verb_is_explained_by_the_plain_ones() -> None:
    text = 'procedure "x"\nfibre\n  yarn: wool yarn, 100 g\nsteps\n  Wring yarn\n  Take yarn out\n'
    said = told(read(text, "x.dye"), 5, 4)
    assert said is not None and said.title == "wring"
    assert "squeeze" in " ".join(said.sentences)
    assert told(read(text, "x.dye"), 6, 4) is not None


@pytest.mark.parametrize(
    ("said", "sign"),
    [
        ("rinse yarn in tub until clear", "clear"),
        ("rinse yarn in tub until the water runs clear", "the water runs clear"),
        ("dry yarn until it is dry", "it is dry"),
        ("stir dye-bath until the alum has melted", "alum has melted"),
        ("soak yarn in tub with water 4 L until it is wet through", "it is wet through"),
    ],
)
def test_a_common_sign_needs_no_marks(said: str, sign: str) -> None:
    until = last(said).until
    assert until is not None and until.words is not None and until.words.text == sign


def test_other_words_behind_until_are_asked_about() -> None:
    made = read(f"{FRAME}  cool dye-bath until boill\n", "x.dye")
    assert "cannot-read" in {one.rule for one in made.findings}


def test_a_time_behind_what_is_done_is_how_long_it_lasts() -> None:
    step = last("simmer dye-bath 1 h")
    assert step.lasting is not None and step.lasting.low == 60
    assert step.objects[0].quantity is None


def test_in_warm_water_says_with_what() -> None:
    step = last("rinse yarn in warm water")
    assert step.within is None and step.using[0].name is not None
    assert step.using[0].name.text == "water" and step.at is not None
    assert step.at.quantity is not None and step.at.quantity.low == 35


def test_what_corrects_the_water_is_added_until_a_ph() -> None:
    step = last("add chalk 2 g to dye-bath until pH 7")
    assert step.until is not None and step.until.quantity is not None
    assert step.until.quantity.kind == "acidity" and step.until.quantity.low == 7


def test_as_long_as_it_was_dipped_is_the_time_of_the_dip() -> None:
    step = last("dip yarn in vat at 50 °C for 2 min\nair yarn for as long as it was dipped")
    assert step.lasting is not None and step.lasting.low == 2


@pytest.mark.parametrize("where", ["in the pot it is in", "in its own pot", "in the same pot"])
def test_a_bath_is_kept_in_the_pot_that_it_is_in(where: str) -> None:
    step = last(f"keep dye-bath {where} as old-bath labelled")
    assert step.within is None and step.named is not None and step.named.text == "old-bath"


def test_an_amount_before_what_it_measures_is_of_the_lot_behind_it() -> None:
    first, second = last("add 20 % alum of yarn, 5 % tartar of yarn to dye-bath").objects
    assert first.name is not None and first.name.text == "alum"
    assert first.quantity is not None and first.quantity.base == "yarn"
    assert second.quantity is not None and second.quantity.text.startswith("5 %")


def test_a_boiler_is_a_vessel_and_a_copper_is_asked_about() -> None:
    made = read(FRAME.replace("jar:    stoneware jar", "jar:    steel boiler"), "x.dye")
    assert "unknown-word" not in {one.rule for one in made.findings}
    made = read(FRAME.replace("  kettle: stainless steel pot", "  kettle: copper"), "x.dye")
    (asked,) = [one for one in made.findings if one.rule == "stuff-unstated"]
    assert "old word for a boiler" in asked.sentence and "copper pot" in asked.remedy


def test_how_a_step_is_done_may_come_first() -> None:
    step = last("slowly heat dye-bath to 80 °C over 1 h")
    assert "gently" in step.manner


@pytest.mark.parametrize(
    ("said", "remedy"),
    [
        ("tie loose knots round yarn", '“do "tie loose knots round yarn"”'),
        ("wear gloves", "“wearing gloves”"),
        ("make sure yarn is covered with water", "note"),
    ],
)
def test_what_no_verb_says_is_shown_how_to_write(said: str, remedy: str) -> None:
    found = read(f"{FRAME}  {said}\n", "x.dye").findings
    (told,) = [one for one in found if one.rule == "cannot-read"]
    assert remedy in told.remedy


@pytest.mark.parametrize(
    ("said", "remedy"),
    [("4-ply wool yarn", '“wool yarn, "4-ply"”'), ("wool/silk yarn", "“wool and silk yarn”")],
)
def test_what_labels_of_yarn_say_is_shown_how_to_write(said: str, remedy: str) -> None:
    text = FRAME.replace("flax:  linen,", f"flax:  {said},")
    (told,) = [one for one in read(text, "x.dye").findings if one.rule == "cannot-read"]
    assert remedy in told.remedy
