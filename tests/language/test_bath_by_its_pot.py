"""A bath that got no name is called by its pot, as papers and findings call it: the pan bath."""

import pytest
from expecting import findings, plan_of

HEAD = """fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pan: stainless steel pot, 10 L, for dyeing only
  kettle: stainless steel pot, 10 L, for dyeing only
materials
  skins: onion skins, dried
steps
"""
MADE = HEAD + "  put 50 g skins in pan with 4 L water, bring to a simmer over 40 min\n"
UNREAD = {"cannot-read", "not-declared", "used-after-emptied", "wrong-kind-of-thing"}


@pytest.mark.parametrize("called", ["pan bath", "the pan bath", "pan-bath", "pan", "the bath"])
@pytest.mark.parametrize(
    "step",
    ["strain {}", "put yarn in {}", "simmer {} for 1 h", 'discard {} to "x"', "keep {} as old"],
)
def test_by_its_pot(called: str, step: str) -> None:
    text = f"{MADE}  {step.format(called)}\n"
    assert not UNREAD & {one.rule for one in findings(text)}
    assert plan_of(text).trace.moments[-1].node.bath.startswith("pan")


def test_a_bath_of_that_name_is_meant_first() -> None:
    text = f"{MADE}  pan-bath: prepare in kettle with water 4 L\n  strain pan bath\n"
    assert plan_of(text).trace.moments[-1].node.bath == "pan-bath"


@pytest.mark.parametrize("called", ["kettle bath", "kettle-bath"])
def test_where_there_is_none_that_is_said_once(called: str) -> None:
    told = [one for one in findings(f"{MADE}  strain {called}\n") if one.rule in UNREAD]
    assert [one.rule for one in told] == ["used-after-emptied"]
    assert told[0].sentence == "There is no bath in “kettle” at this step."
