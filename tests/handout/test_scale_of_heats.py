"""The scale of a paper's heats: that of most of them; one line does not turn the whole."""

from __future__ import annotations

import pytest
from papers import in_words, plan_of

from procedure.command.voice import voice_of
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell

BATH = "a: prepare in kettle with water 3 L\n"
US_BATH = "a: prepare in kettle with water 1 US gal\n"
RINSES = "\nrinse yarn in tub with water 1 US gal" * 6


def _told(lines: str) -> str:
    plan = plan_of(lines)
    voice = voice_of(plan, None)
    steps = tell(telling_of(plan, voice))
    return " ".join(in_words(one.text, voice) for step in steps for one in step.every())


@pytest.mark.parametrize(
    ("lines", "there", "not_there"),
    [
        # 185 °F = 85 °C, 86 °F = 30 °C: °C = (°F − 32) × 5/9, the definition of the scale.
        (
            f"{BATH}dye yarn in a at simmer for 1 h\nrinse yarn in tub with water 5 L at 86 °F",
            ("30 °C (86 °F)", "(80 to 95 °C)"),
            ("176",),
        ),
        (
            f"{BATH}dye yarn in a at 185 °F for 1 h\n"
            "rinse yarn in tub with water 5 L at 30 °C\nwash yarn in tub with water 5 L at 40 °C",
            ("85 °C (185 °F)", "at 30 °C.", "at 40 °C"),
            ("104",),
        ),
        # Most heats in °F: the one in °C keeps its own in brackets.
        (
            f"{BATH}dye yarn in a from 100 °F to 185 °F over 1 h\n"
            "rinse yarn in tub with water 5 L at 30 °C",
            ("86 °F (30 °C)", "to 185 °F over"),
            ("85 °C",),
        ),
        # One heat, and gallons.
        (
            f"{US_BATH}dye yarn in a at 85 °C for 1 h{RINSES}",
            ("185 °F (85 °C)",),
            (),
        ),
        # Nothing of it is in the other scale: no brackets.
        (f"{BATH}dye yarn in a at 85 °C for 1 h", ("at 85 °C for",), ("°F",)),
    ],
)
def test_the_scale_is_that_of_most_heats(
    lines: str, there: tuple[str, ...], not_there: tuple[str, ...]
) -> None:
    said = _told(lines)
    assert [one for one in there if one not in said] == [], said
    assert [one for one in not_there if one in said] == [], said
