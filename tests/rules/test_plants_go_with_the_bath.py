"""Plants that are never strained out, lifted or thrown away, and go down the drain."""

import pytest
from expecting import findings

RULE = "plants-go-with-the-bath"
MADE = """fibre
  yarn: wool yarn, 100 g, scoured
materials
  onion: onion skins, dried
  weld: weld tops, dried
equipment
  bag: net bag, for dyeing only
steps
  bath: prepare in kettle with water 4 L, onion 50 g
"""


def told(*steps: str) -> list[str]:
    text = MADE + "".join(f"  {one}\n" for one in steps)
    return [one.sentence for one in findings(text) if one.rule == RULE]


@pytest.mark.parametrize(
    "way",
    [
        'discard bath to "foul drain"',
        "pour the bath down the drain",
        "discard kettle",
        "empty kettle",
    ],
)
def test_down_the_drain(way: str) -> None:
    assert told(way) == ["Bath is poured away with onion still loose in it."]


def test_of_several_plants_each_is_named() -> None:
    assert told("add weld 20 g to bath", 'discard bath to "foul drain"') == [
        "Bath is poured away with onion and weld still loose in it."
    ]


@pytest.mark.parametrize(
    "out",
    [
        "strain bath",
        "lift out onion from bath",
        "strain the plants out",
        "strain bath through bag",
        'lift out onion from bath to "compost"',
    ],
)
def test_what_comes_out_is_no_more_there(out: str) -> None:
    assert not told(out, 'discard bath to "foul drain"')


@pytest.mark.parametrize(
    "where",
    ["the compost heap", "foul drain, the skins to the compost", "hazardous waste point"],
)
def test_words_that_say_where_they_go(where: str) -> None:
    assert not told(f'discard bath to "{where}"')


def test_some_of_the_liquor_leaves_them_where_they_are() -> None:
    assert not told('discard 1/4 of bath to "foul drain"', "strain bath")


def test_what_is_told_already_is_told_once() -> None:
    steps = ("simmer bath at 85 °C for 1 h", "dye yarn in bath at 85 °C for 1 h", "lift yarn")
    text = MADE + "".join(f"  {one}\n" for one in (*steps, 'discard bath to "foul drain"'))
    rules = [one.rule for one in findings(text)]
    assert "plants-left-loose" in rules and RULE not in rules


@pytest.mark.parametrize("powder", ["catechu powder", "turmeric powder", "madder, ground"])
def test_a_powder_leaves_no_pieces(powder: str) -> None:
    text = MADE.replace("onion skins, dried", powder) + '  discard bath to "foul drain"\n'
    assert RULE not in {one.rule for one in findings(text)}
