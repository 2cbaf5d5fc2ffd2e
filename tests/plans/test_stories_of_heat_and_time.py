"""What a lot's story tells of its heats and times is what was written of them."""

import pytest
from expecting import plan_of

from procedure.handout.lot_stories import stories
from procedure.paper.measures import Voice

TEXT = """wet out yarn in tub with water 5 L at 30 °C for 1 h
gold-bath: prepare in kettle with water 4 L, weld 50 g at 30 °C
{step}
discard gold-bath to "foul drain"
"""


def story(step: str) -> str:
    """All that is told of the yarn."""
    (told,) = stories(plan_of(TEXT.format(step=step)), Voice("metric"))
    return " | ".join(event.sentence for event in told.events)


def test_the_time_of_rising_is_not_time_at_the_heat() -> None:
    said = story("dye yarn in gold-bath to 80 °C over 45 min for 1 h")
    assert "to 80 °C over 45 min, then kept there for 60 min" in said.replace(" (176 °F)", "")
    assert "105 min" not in said


def test_a_bath_that_is_brought_to_the_boil_does_not_rise_from_95_degrees() -> None:
    said = story("enter yarn in gold-bath at 30 °C\nheat gold-bath to the boil")
    assert "while it was heated to the boil" in said
    assert "from 95" not in said


@pytest.mark.parametrize(("written", "told"), [("a few seconds", " s"), ("10 min", "for 10 min")])
def test_seconds_are_told_in_seconds(written: str, told: str) -> None:
    said = story(f"dip yarn in gold-bath at 30 °C for {written}")
    assert told in said
    assert "0.0" not in said
