"""Shares, blanks and breeds on the handout are those that were written."""

from expecting import plan_of

from procedure.handout.short import paper
from procedure.paper import in_markdown
from procedure.paper.measures import Voice


def handout(example: str) -> str:
    """The handout of an example, in one line."""
    return " ".join(in_markdown.printed(paper(plan_of(example), Voice("metric"))).decode().split())


LEY = """ley: prepare in jar with water 1 L, soda 20 g
gold-bath: prepare in kettle with water 10 L, weld 100 g
add ley {amount} to gold-bath
discard ley, gold-bath to "foul drain"
"""


def test_a_share_of_the_bath_is_no_share_of_what_is_added() -> None:
    said = handout(LEY.format(amount="1/20 of gold-bath"))
    assert "of the ley (1/20 of the gold bath)" in said
    assert "1/20 of the ley" not in said


def test_a_share_of_what_is_added_is_told_as_that() -> None:
    assert "a quarter of the ley" in handout(LEY.format(amount="1/4 of ley"))


def test_an_amount_of_a_bath_that_nobody_states_is_a_blank() -> None:
    said = handout(LEY.format(amount="unstated"))
    assert "of the ley (the source does not say how much)" in said
    assert "unstated" not in said


def test_the_breed_of_a_fleece_is_not_lost() -> None:
    said = handout(
        "fibre\n  yarn: 2 x 50g skeins Bluefaced Leicester, washed\nsteps\n"
        "  wet out yarn in tub with water 5 L for 1 h\n  dry yarn\n"
    )
    assert "wool yarn, called “Bluefaced Leicester”" in said
    assert "2 of 50" in said.replace("\N{NARROW NO-BREAK SPACE}", " ")


SIGN = """wet out yarn in tub with water 5 L at 30 °C for 1 h
gold-bath: prepare in kettle with water 4 L, weld 50 g at 30 °C
dye yarn in gold-bath to 80 °C over 1 h for 10 min
hold gold-bath at 80 °C until "it is a full yellow"
{then}
rinse yarn in tub with water 5 L at 40 °C
discard gold-bath to "foul drain"
"""


def test_a_sign_of_the_dyeing_is_no_wait_before_the_drain() -> None:
    said = handout(SIGN.format(then="lift yarn from gold-bath"))
    assert "full yellow" in said
    assert "Before that" not in said
