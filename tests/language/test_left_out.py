"""What the step before says need not be said again; asides; and other lines as dyers say them."""

from __future__ import annotations

import pytest
from papers import METRIC, in_words

import procedure
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.model import Step

HEAD = """procedure "A trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a skein"
  place ventilated
  wearing gloves, eye protection, mask
fibre
  yarn: wool yarn, 100 g, 4 skeins, scoured, mordanted with alum 10 %
  silk: silk yarn, 50 g, scoured, mordanted with alum 10 %
equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  pan: enamel pan, 15 L, lidded, for dyeing only
  tub: plastic tub, 15 L, for dyeing only
  bag: net bag, for dyeing only
  net: straining cloth, for dyeing only
  tongs: wooden tongs, for dyeing only
materials
  alum: potassium alum
  weld: weld, dried
  onion: onion skins, dried
  iron: ferrous sulphate
  vinegar: vinegar, 5 %
  soap: neutral soap
  indigo: indigo
  soda: soda ash
  fructose: fructose
steps
"""
BATH = ("dye-bath: prepare in kettle with water 5 L, weld 100 g at 40 °C",)
IN = (*BATH, "enter yarn, silk in dye-bath")
VAT = (
    "vat: prepare in pan with water 8 L, indigo 8 g, soda 24 g, fructose 24 g at 50 °C fixed",
    "stand vat for 2 h covered",
)
BAG = (
    "fill bag with onion 60 g",
    "dye-bath: prepare in kettle with water 6 L at 40 °C",
    "lower bag into dye-bath",
)
UNREAD = ("cannot-read", "not-declared", "wrong-kind-of-thing", "clause-out-of-place")


def told(before: tuple[str, ...], line: str) -> tuple[list[str], list[str]]:
    """What the handout prints of a line behind others, and what is said against its words."""
    text = HEAD + "".join(f"  {one}\n" for one in before)
    without = [
        one for step in tell(telling_of(procedure.read(text), METRIC)) for one in step.every()
    ]
    plan = procedure.read(text + f"  {line}\n")
    steps = [one for step in tell(telling_of(plan, METRIC)) for one in step.every()]
    found = [one.sentence for one in plan.findings if one.rule in (*UNREAD, "something-missing")]
    return [in_words(one.text) for one in steps[len(without) :]], found


@pytest.mark.parametrize(
    ("before", "line", "says"),
    [
        (BATH, "simmer for 1 h", "Simmer the dye bath (80 to 95 °C, 176 to 203 °F) for 1 hour."),
        (IN, "leave to cool to 30 °C", "Let the dye bath cool to 30 °C (86 °F), with the yarn"),
        (BATH, "enter yarn", "Put the yarn into the dye bath."),
        (BATH, "add iron 1 g", "Add 1 g of ferrous sulphate to the dye bath."),
        (VAT, "dip yarn for 5 min", "Dip the yarn into the vat"),
        ((*IN, "lift yarn"), "put yarn back", "Put the yarn into the dye bath."),
        ((*IN, "lift yarn"), "re-enter yarn for 10 min", "Put the yarn into the dye bath and"),
        (
            (*IN, "lift yarn"),
            "wring and hang it in the shade",
            "Squeeze the liquor out of the yarn.",
        ),
        ((*BAG, "move aside bag in dye-bath"), "enter yarn", "Put the yarn into the dye bath."),
        (BATH, "strain through net back into kettle", "Strain"),
        (IN, "take yarn out of the liquor", "Lift the yarn out"),
        (BATH, "pour dye-bath into pan", "Pour the dye bath into the pan."),
        (BATH, "tie onion 200 g in bag", "Fill the bag with 200 g of onion skins."),
        (BATH, "tie 200 g of onion loosely in bag", "Fill the bag with 200 g of onion skins."),
        (BAG, "squeeze bag well over kettle", "Squeeze"),
        (BAG, "let bag drain and empty it on the compost heap", "Squeeze"),
        (IN, "let yarn drain over kettle", "Let the yarn rest."),
        (IN, "lift yarn with tongs", "Lift the yarn out of the dye bath."),
        (BATH, "add just enough vinegar to bring dye-bath to pH 5", "Add"),
        (
            BATH,
            "dissolve alum 12 g in a little boiling water and add to dye-bath",
            "Add a little water at the boil",
        ),
        (BATH, "soak weld 100 g in pan with water 2 L for a day or two", "Soak"),
        (IN, "discharge dye-bath to foul drain", "Drain the dye bath away (foul drain)."),
    ],
    ids=lambda value: value if isinstance(value, str) and "." not in value else "",
)
def test_a_line_is_read_as_dyers_mean_it(before: tuple[str, ...], line: str, says: str) -> None:
    sentences, found = told(before, line)
    assert found == []
    assert sentences[0].startswith(says) or says in sentences[0]


@pytest.mark.parametrize("line", ["simmer for 1 h", "put yarn back", "rinse well", "strain"])
def test_a_line_without_anything_before_it_is_asked_about_once(line: str) -> None:
    wetted = "wet out silk in tub with water 5 L at 30 °C for 1 h"
    mended = ("frobble the bath", wetted, "frobble the yarn")
    _, found = told(mended, line)
    assert len([one for one in found if "frobble" not in one]) == 1


def test_rinse_twice_is_of_what_was_lifted() -> None:
    sentences, found = told(IN, "remove yarn and rinse twice in tub with water 5 L")
    assert found == []
    assert sentences[1:] == ["Do step 5 twice.", "Rinse the yarn in 5 L of water in the tub."]


@pytest.mark.parametrize(
    "line",
    [
        "dip yarn in vat 3 times for 5 min each, airing 10 min between dips",
        "dip yarn in vat three times for 5 min with 10 min airing between",
        "dip yarn 3 times for 5 min each, airing it for 10 min in between",
    ],
)
def test_airing_between_dips_is_in_the_repeat(line: str) -> None:
    sentences, found = told(VAT, line)
    assert found == []
    assert sentences[0] == "Do steps 4 and 5 three times."
    assert sentences[2] == "Hang the yarn in the air for 10 minutes."


@pytest.mark.parametrize(
    ("line", "note"),
    [
        (
            "steep yarn in dye-bath for 1 h, keeping it below the surface",
            "keeping it below the surface",
        ),
        ("lift yarn, do not rinse", "do not rinse"),
        ("enter yarn in dye-bath without splashing", "without splashing"),
        ("let yarn cool a little", "a little"),
    ],
)
def test_an_aside_is_a_note(line: str, note: str) -> None:
    _, found = told(IN, line)
    assert found == []
    text = HEAD + "".join(f"  {one}\n" for one in (*IN, line))
    step = procedure.read(text).model.body[-1]
    assert isinstance(step, Step)
    assert step.note == note


@pytest.mark.parametrize(
    "line",
    [
        "simmer dye-bath for 1 h, keeping 2 L back",
        "simmer dye-bath for 1 h, adding soda 2 g",
        "simmer dye-bath for 1 h, taking 2 hours over it",
    ],
)
def test_an_amount_is_no_aside(line: str) -> None:
    _, found = told(IN, line)
    assert found


def test_never_letting_it_boil_is_a_ceiling() -> None:
    sentences, found = told(BATH, "simmer dye-bath for 1 h, never letting it boil")
    assert found == []
    assert "Never let it get above 95 °C" in sentences[0]


def test_what_is_said_to_boil_must() -> None:
    plan = procedure.read(HEAD + f"  {BATH[0]}\n  pour the boiling dye-bath into pan\n")
    assert "said-but-not-so" in {one.rule for one in plan.findings}
    simmered = "simmer dye-bath at the boil for 1 h"
    plan = procedure.read(
        HEAD + f"  {BATH[0]}\n  {simmered}\n  pour the boiling dye-bath into pan\n"
    )
    assert "said-but-not-so" not in {one.rule for one in plan.findings}


@pytest.mark.parametrize("word", ["in", "from"])
def test_a_bath_that_there_is_not_is_one_finding(word: str) -> None:
    lines = (*IN, f"{'steep' if word == 'in' else 'lift'} yarn {word} dok-bath", "lift yarn")
    text = HEAD + "".join(f"  {one}\n" for one in lines) + '  discard dye-bath to "foul drain"\n'
    sound = text.replace("dok-", "dye-")
    before = {one.sentence for one in procedure.read(sound).findings}
    found = [one for one in procedure.read(text).findings if one.sentence not in before]
    assert [one.rule for one in found] == ["not-declared"]


@pytest.mark.parametrize(
    "said",
    ["for for at least 1 h", "for 1 h or or more", "at at at most 90 °C"],
)
def test_a_word_doubled_beside_a_bound_is_one_finding(said: str) -> None:
    text = HEAD + f"  {BATH[0]}\n  simmer dye-bath {said}\n"
    plan = procedure.read(text)
    (found,) = [one for one in plan.findings if one.rule == "cannot-read"]
    assert "written twice" in found.sentence
    assert found.edit is not None


@pytest.mark.parametrize("said", ["at at least 30 °C", "at at most 90 °C"])
def test_a_clause_and_a_bound_may_begin_alike(said: str) -> None:
    texts = [HEAD + f"  {BATH[0]}\n  simmer dye-bath {one} for 1 h\n" for one in (said, said[3:])]
    first, second = (procedure.read(text) for text in texts)
    assert [f.sentence for f in first.findings] == [f.sentence for f in second.findings]
    assert first.trace.moments[-1].heat == second.trace.moments[-1].heat


@pytest.mark.parametrize(
    "line", ["make b-bath in pan", "prepare b-bath in pan", "make up a b-bath in pan"]
)
def test_a_bath_is_named_where_it_is_made(line: str) -> None:
    text = HEAD + f"  {line} with water 5 L, onion 50 g\n  simmer b-bath for 1 h\n"
    found = [one.rule for one in procedure.read(text).findings]
    assert set(found).isdisjoint(UNREAD)


def test_what_a_bath_is_prepared_of_is_in_it() -> None:
    sentences, found = told((), "prepare alum 5 g in pan with water 5 L")
    assert found == []
    assert sentences == ["Make the pan bath in the pan: 5 L of water and 5 g of potassium alum."]


@pytest.mark.parametrize(
    "line",
    [
        "prepare zork in pan with water 5 L",
        "make yarn in pan with water 5 L",
        "empty bag, zork",
        "move aside bag, zork",
        "take out bag, bag",
    ],
)
def test_no_thing_of_a_step_is_dropped(line: str) -> None:
    _, found = told(BAG, line)
    assert len(found) == 1


def test_mordanted_with_a_metal_is_with_its_salt() -> None:
    text = HEAD.replace("mordanted with alum 10 %\n  silk", "mordanted with copper 2 %\n  silk")
    (past,) = procedure.read(text + f"  {BATH[0]}\n").model.lots["yarn"].past
    assert past.entry.name == "copper sulphate"
