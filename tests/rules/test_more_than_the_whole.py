"""A share of a thing itself is at most the whole of it, and a percentage is a share."""

import pytest

import procedure

HEAD = """procedure "Shares"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
materials
  weld: weld, dried{}
  alum: potassium alum
steps
"""


def read(line: str, there: str = ", 40 g") -> procedure.Plan:
    return procedure.read(
        HEAD.format(there) + f"  weld-bath: prepare in pot with water 4 L, {line}\n", "x.dye"
    )


@pytest.mark.parametrize(
    "said", ["3/2 of weld", "weld 3/2 of weld", "150 % of weld", "weld 1 1/2 of weld"]
)
def test_more_than_all_of_it_cannot_be(said: str) -> None:
    found = [one for one in read(said, "").findings if one.level == "error"]
    assert [one.rule for one in found] == ["cannot-be"]
    assert "is more than the whole." in found[0].sentence


@pytest.mark.parametrize(
    "said", ["1/2 of weld", "50 % of weld", "weld 3/2 of yarn", "weld 10 g, alum 3/2 of weld"]
)
def test_a_part_of_it_and_more_than_another_thing_can(said: str) -> None:
    assert "cannot-be" not in [one.rule for one in read(said).findings]


@pytest.mark.parametrize("said", ["50 % of weld", "1/2 of weld", "half of weld"])
def test_half_of_it_is_half_of_what_there_is(said: str) -> None:
    (amount,) = [one for thing, _, one in read(said).trace.moments[0].amounts if "weld" in thing]
    assert amount is not None
    assert amount.low == amount.high == 20


def test_nothing_is_measured_by_itself() -> None:
    (found,) = [one for one in read("weld 3 : 1 of weld").findings if one.rule == "cannot-be"]
    assert "measures weld by itself" in found.sentence
