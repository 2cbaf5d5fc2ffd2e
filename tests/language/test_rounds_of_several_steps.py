"""“Lift it, air it and put it back three times” is done three times as a whole."""

import pytest

import procedure
from procedure.model.types import Block, Step

HEAD = """procedure "Rounds"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  onion: onion skins, dried
steps
  dye-bath: prepare in pot with water 4 L, onion 50 g at 40 °C
  enter yarn in dye-bath
"""


def rounds(line: str) -> tuple[list[str], list[str]]:
    """The verbs before the round of a line, and those of the round."""
    body = procedure.read(HEAD + f"  {line}\n", "x.dye").model.body[2:]
    before = [one.verb.name for one in body if isinstance(one, Step) and one.verb]
    (block,) = [one for one in body if isinstance(one, Block)]
    assert block.times is not None
    inner = [one.verb.name for one in block.body if isinstance(one, Step) and one.verb]
    return before, inner


@pytest.mark.parametrize(
    ("line", "before", "inner"),
    [
        (
            "lift yarn, air it for 5 min and put it back three times",
            [],
            ["lift", "air", "enter"],
        ),
        ("lift yarn from dye-bath and return it to dye-bath 3 times", [], ["lift", "enter"]),
        ("dip yarn in dye-bath for 5 min and lift it three times", [], ["dip", "lift"]),
        ("dip yarn in dye-bath for 5 min and air it for 15 min, 3 times", [], ["dip", "air"]),
        ("dip yarn in dye-bath for 5 min, air it for 15 min, three times", [], ["dip", "air"]),
        (
            "hold dye-bath at 80 °C for 1 h, lift yarn and put it back twice",
            ["hold"],
            ["lift", "enter"],
        ),
        ("lift yarn and rinse it in tub with water 5 L three times", ["lift"], ["rinse"]),
        (
            "lift yarn, squeeze it, rinse it in tub with water 5 L, twice",
            ["lift", "squeeze"],
            ["rinse"],
        ),
        ("rinse yarn in tub with water 5 L, three times", [], ["rinse"]),
    ],
)
def test_what_is_done_again_is_what_can_be(line: str, before: list[str], inner: list[str]) -> None:
    assert rounds(line) == (before, inner)


@pytest.mark.parametrize(
    "line",
    [
        "wash and rinse yarn twice in tub with water 4 L at 30 °C",
        "dip and air yarn 4 times in dye-bath",
    ],
)
def test_what_may_belong_to_either_verb_is_asked(line: str) -> None:
    found = procedure.read(HEAD + f"  {line}\n", "x.dye").findings
    assert "are two steps, and nobody knows" in " ".join(one.sentence for one in found)


@pytest.mark.parametrize(
    "line",
    [
        "squeeze and dry yarn",
        "lift and rinse yarn in tub with water 5 L",
        "squeeze and rinse yarn in tub with water 5 L",
        "lift yarn and rinse it in tub with water 5 L",
    ],
)
def test_what_can_belong_to_one_alone_is_read(line: str) -> None:
    found = procedure.read(HEAD + f"  {line}\n", "x.dye").findings
    assert "cannot-read" not in [one.rule for one in found]


@pytest.mark.parametrize(
    ("line", "least", "most"),
    [
        ("rinse yarn in tub with water 5 L at 30 °C at least three times", 3, None),
        ("rinse yarn at least 3 times in tub with water 5 L", 3, None),
        ("rinse yarn in tub with water 5 L at 30 °C up to three times", 1, 3),
        ("rinse yarn in tub with water 5 L for at least 5 min three times or more", 3, None),
        ("rinse yarn a couple of times in tub with water 5 L", 2, 2),
    ],
)
def test_a_bound_before_times_is_of_the_times(line: str, least: int, most: int | None) -> None:
    read = procedure.read(HEAD + f"  {line}\n", "x.dye")
    assert not [one for one in read.findings if one.rule == "cannot-read"]
    (block,) = [one for one in read.model.body if isinstance(one, Block)]
    assert block.times is not None
    assert block.times[0] == least
    assert most is None or block.times[1] == most
    (step,) = [one for one in block.body if isinstance(one, Step)]
    at = step.at.quantity if step.at is not None else None
    assert at is None or {int(end) for end in at.ends} == {30}


@pytest.mark.parametrize(("line", "times"), [("repeat for 3 rounds", 3), ("repeat 2 times", 2)])
def test_rounds_are_times(line: str, times: int) -> None:
    text = HEAD + f"  {line}\n    dip yarn in dye-bath for 5 min\n"
    (block,) = [one for one in procedure.read(text, "x").model.body if isinstance(one, Block)]
    assert block.times is not None
    assert {int(one) for one in block.times} == {times}
