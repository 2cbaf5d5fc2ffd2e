"""What was read without a word, and otherwise than it was meant; each is read as it is said now."""

from __future__ import annotations

import re

import pytest
from papers import METRIC, in_words

import procedure
from procedure.findings import Finding
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.pipeline import read

FRAME = """procedure "In every word"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection
fibre
  wool: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, lidded, for dyeing only
  bag: net bag, for dyeing only
materials
  alum: potassium alum
  tartar: cream of tartar
  weld: weld, dried
  hulls: walnut husks, dried
  copperas: ferrous sulphate
  vinegar: vinegar, 5 %
steps
"""
BATH = "weld-bath: prepare in pot with water 5 L, weld 50 g, alum 12 g at 30 °C\n"
IN = "wet out wool in tub with water 5 L at 30 °C for 1 h\n" + BATH
FIRST = FRAME.count("\n")


def written(text: str) -> str:
    return FRAME + "".join(f"  {line}\n" for line in text.strip("\n").split("\n"))


def papers(text: str) -> list[str]:
    """What the handout says of each step."""
    steps = tell(telling_of(procedure.read(written(text), "x.dye"), METRIC))
    said = [in_words(one.text) for step in steps for one in step.every()]
    return [re.sub(r", \d+ to \d+ °F| \(\d+ °F\)", "", one) for one in said]


def found(text: str) -> list[Finding]:
    """What is found of the steps."""
    return [one for one in read(written(text)).findings if one.line > FIRST]


def rules(text: str) -> set[str]:
    return {one.rule for one in found(text)}


HEATED = [
    "heat wool in weld-bath to 80 °C over 45 min, keep for 1 h",
    "heat wool in weld-bath to 80 °C over 45 min\nleave wool in weld-bath for 1 h",
    "enter wool in weld-bath\nheat weld-bath to 80 °C over 45 min\nleave wool for an hour",
    "enter wool in weld-bath\nheat weld-bath to 80 °C over 45 min\nleave it at that heat for 1 h",
]


@pytest.mark.parametrize("steps", HEATED)
def test_fibre_that_is_left_where_it_was_just_heated_is_kept_hot(steps: str) -> None:
    assert (
        papers(IN + steps)[-1]
        == "Keep the weld bath at 80 °C for 1 hour, with the wool still in it."
    )


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        ("heat wool in weld-bath to 80 °C over 45 min, leave overnight", "Steep the wool"),
        ("heat wool in weld-bath to 80 °C over 45 min, turn off the heat, leave for 1 h", "Let"),
        ("dye wool in weld-bath to 80 °C over 1 h for 1 h, leave for 1 h", "Steep the wool"),
    ],
)
def test_fibre_that_is_left_with_the_heat_off_or_for_the_night_is_not(
    steps: str, said: str
) -> None:
    assert papers(IN + steps)[-1].startswith(said)


def test_it_is_the_bath_that_was_just_made_and_no_fibre_that_is_elsewhere() -> None:
    tea = "boil 4 L water in pot, add 40 g weld\nlet it steep for 15 min, then strain"
    said = papers("wet out wool in tub with water 5 L for 1 h\n" + tea)
    assert said[-2] == "Let the pot bath stand for 15 minutes."


def test_it_is_the_fibre_where_it_lies_in_the_bath_or_nothing_colours_there() -> None:
    assert papers(IN + "enter wool in weld-bath\nlet it steep overnight")[-1].startswith(
        "Steep the wool"
    )
    alum = "wet out wool in tub with water 5 L for 1 h\nalum-bath: prepare in pot with water 5 L, "
    assert papers(alum + "alum 12 g\nsteep for 12 h")[-1].startswith("Put the wool")


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        (
            "put hulls 100 g in tub, cover with rain water",
            "Make the tub bath in the tub: enough rain water and 100 g of walnut husks.",
        ),
        (
            "add 300 g hulls and 10 L water to tub",
            "Make the tub bath in the tub: 10 L of water and 300 g of walnut husks.",
        ),
        ("keep weld-bath warm for 2 h", "Keep the weld bath hand-hot (35 to 45 °C) for 2 hours."),
        ("let weld-bath come to the boil", "Heat the weld bath to the boil (95 to 100 °C)."),
        ("pour the dye down the drain", "Drain the weld bath away (the drain)."),
        ("tip weld-bath on the flower bed", "Get rid of the weld bath (the garden)."),
        ("dump the weld on the compost", "Throw the weld out of the weld bath: the compost."),
        ("add rain water 1 L to weld-bath", "Add 1 L of rain water to the weld bath."),
        (
            "add cold tap water 1 L to weld-bath",
            "Add 1 L of cold tap water (5 to 25 °C) to the weld bath.",
        ),
        ("add water 15 fl oz (imp) to weld-bath", "Add 426 mL of water to the weld bath."),
        ("heat weld-bath to 80 °C, lower to 60 °C", "Let the weld bath cool to 60 °C."),
        (
            "add weld-bath to tub with 5 L water, copperas 2 g",
            "Pour the weld bath into the tub, and add 5 L of water and 2 g of ferrous sulphate.",
        ),
        ("put 20 g weld in bag, tie it up", "Fill the bag with 20 g of weld."),
        ("grind hulls 50 g to a fine powder", "Grind 50 g of walnut husks fine."),
        (
            "rest wool in bag for 4 to 5 days, kept damp",
            "Let the wool rest in the bag for 4 to 5 days.",
        ),
    ],
)
def test_what_people_say_is_read_and_no_word_of_it_dropped(steps: str, said: str) -> None:
    assert papers(BATH + steps)[-1] == said
    assert not [one for one in found(BATH + steps) if one.level == "error"]


def test_a_bag_that_a_bath_is_made_with_is_on_the_paper_and_can_be_emptied() -> None:
    steps = (
        "put 50 g weld in bag\nweld-bath: put bag in pot with 5 L water\ntake out bag\n"
        'empty bag to "compost"\ndiscard weld-bath to "foul drain"\n'
    )
    assert papers(steps)[1] == "Make the weld bath in the pot: 5 L of water and the bag."
    assert "clause-out-of-place" not in rules(steps)


@pytest.mark.parametrize("often", ["now and again", "from time to time", "occasionally", "often"])
@pytest.mark.parametrize("turned", ["turning", "turning it", "stirring"])
def test_wool_that_is_turned_now_and_then_is_not_stirred_all_the_while(
    turned: str, often: str
) -> None:
    steps = IN + f"simmer the wool for 45 min, {turned} {often}"
    assert "all the while" not in papers(steps)[-1]
    assert "stirred-hot" not in rules(steps)


def test_a_cup_of_water_is_no_pot_to_dissolve_in() -> None:
    lost = "dissolve alum 10 g and tartar 5 g in a cup of boiling water"
    assert "something-missing" in rules(lost)
    assert "something-missing" not in rules("liquor: dissolve alum 10 g in pot with water 1 L")


@pytest.mark.parametrize(
    "step",
    [
        "simmer half of weld-bath for 1 h",
        "cool 1/3 of weld-bath to cold",
        "keep 1 L of weld-bath as weld-left in tub",
        "stand 2 L of weld-bath overnight covered",
    ],
)
def test_a_part_of_a_bath_is_not_taken_for_the_whole(step: str) -> None:
    assert "part-of-a-bath" in rules(BATH + step)


@pytest.mark.parametrize(
    "step",
    [
        'discard half of weld-bath to "foul drain"',
        "draw off 1 L of weld-bath into tub",
        "add half of weld-bath to tub",
        "simmer weld-bath for 1 h",
        "keep weld-bath as weld-left in tub",
    ],
)
def test_what_may_be_done_with_a_part_is_read(step: str) -> None:
    assert "part-of-a-bath" not in rules(BATH + step)


def test_so_much_before_what_a_lot_was_mordanted_with_is_read() -> None:
    text = written(BATH).replace("100 g, scoured", "100 g, scoured, mordanted with 10 % alum, dry")
    lot = read(text).study.procedures[0].lots["wool"]
    assert [(past.entry.name, past.share and past.share.text) for past in lot.past] == [
        ("potassium alum", "10 %")
    ]


@pytest.mark.parametrize(
    ("line", "remedy"),
    [
        ("taste weld-bath", "by its look"),
        ("sniff the bath", "face away"),
        ("wool in weld-bath 1 h at 80 °C", "put wool in weld-bath"),
        ("alum 12 g into weld-bath", "put alum in weld-bath"),
    ],
)
def test_the_remedy_is_neither_a_danger_nor_another_word(line: str, remedy: str) -> None:
    (one,) = [one for one in found(BATH + line) if one.rule == "cannot-read"]
    assert remedy in one.remedy
    assert "Did you mean" not in one.remedy
    assert 'do "' not in one.remedy


def test_a_word_of_the_header_has_no_colon() -> None:
    text = FRAME.replace('  by "', '  By: "').replace("  place ", "  Place: ") + "  dry wool\n"
    told = [one for one in read(text).findings if one.rule == "cannot-read"]
    assert [one.sentence for one in told] == ["No colon stands after a word of the header."] * 2


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("add half a teaspoon of copperas to make it darker", "to make it darker"),
        ("add copperas 1 g to weld-bath to turn it greener", "to turn it greener"),
        ("dry wool on the grass", "Leave the wool to dry."),
    ],
)
def test_why_and_where_is_told_to_the_reader(line: str, said: str) -> None:
    assert not [one for one in found(BATH + line) if one.level == "error"]
    text = "\n".join(telling_lines(BATH + line))
    assert said in text


def telling_lines(text: str) -> list[str]:
    """All that the handout prints of the steps, the notes too."""
    steps = tell(telling_of(procedure.read(written(text), "x.dye"), METRIC))
    return [
        in_words(tuple(piece))
        for step in steps
        for one in step.every()
        for piece in (one.text, *one.notes)
    ]


def test_clear_liquor_that_is_poured_off_leaves_what_has_settled() -> None:
    steps = BATH + 'decant weld-bath into tub\ndiscard pot to "foul drain"'
    (one,) = [one for one in found(steps) if one.rule == "used-after-emptied"]
    assert one.remedy.startswith("What is left there is what has settled.")


def test_a_mordant_bath_is_no_dye_bath() -> None:
    alum = "alum-bath: prepare in pot with water 5 L, alum 12 g"
    for step in ("dye wool in the dye bath at 80 °C for 1 h", "heat the dye bath to 80 °C"):
        (one,) = [one for one in found(f"{alum}\n{step}") if one.rule == "not-declared"]
        assert one.sentence == "Nothing is called “dye bath” here."
    unknown = "that: prepare in pot with water 5 L, marigold 50 g"
    assert "Put the wool into the that." in papers(f"{unknown}\nput wool in the dye bath")


def test_fibre_that_no_step_has_spoken_of_does_not_stand() -> None:
    (one,) = [one for one in found("stand 1 h covered") if one.rule == "something-missing"]
    assert one.sentence == "“stand” does not say the bath."
    unread = "vat: zzz weld in pot with water 4 L\nlet stand 1 h, lid on"
    assert "something-missing" in rules(unread)
    it = "weld-bath: zzz weld in pot with water 4 L\nturn the heat off and leave it overnight"
    assert [one.rule for one in found(it) if one.line == FIRST + 2] == ["not-declared"]
    assert papers("wet out wool in tub with water 5 L for 1 h\nlift wool\nlet stand 1 h")[-1] == (
        "Let the wool rest for 1 hour."
    )


def test_what_is_rinsed_is_fibre_and_no_bath_that_was_just_made() -> None:
    assert papers(BATH + "rinse")[-1].startswith("Rinse the wool in fresh water")
    assert papers(IN + "squeeze")[-1] == "Squeeze the liquor out of the wool."
    assert papers(BATH + "let it steep for 1 h")[-1] == "Let the weld bath stand for 1 hour."


@pytest.mark.parametrize(
    ("step", "said"),
    [
        ("cover with water 2 L", "Top up the weld bath with 2 L of water."),
        ("cover weld-bath with soft water 2 L", "Top up the weld bath with 2 L of soft water."),
        ("cover with 2 L water", "Top up the weld bath with 2 L of water."),
    ],
)
def test_how_much_a_bath_is_covered_with_may_stand_before_or_behind(step: str, said: str) -> None:
    assert papers(BATH + step)[-1] == said


def test_fibre_on_the_grass_is_not_thrown_away() -> None:
    assert "not-declared" in rules("put wool on grass")
    assert "Get rid of the weld bath (the grass)." in papers(BATH + "pour weld-bath on the grass")


def test_words_that_a_note_is_made_of_are_quoted_once() -> None:
    (one,) = [one for one in found("fold wool, kept damp") if one.rule == "cannot-read"]
    assert "kept damp" in one.remedy and "keptkept" not in one.remedy


def test_a_number_before_another_loses_no_line() -> None:
    text = FRAME.replace("tub: plastic tub, 20 L, lidded,", "tub: two 20 litre plastic tubs,")
    told = {one.rule for one in read(text).findings}
    assert "unknown-word" in told and "cannot-read" not in told
