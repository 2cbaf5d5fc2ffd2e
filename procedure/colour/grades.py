"""Fastness by the grey scales: grades for change of colour and for staining.

The formulas are those for colours that were measured (ISO 105-A05 for change, ISO
105-A04 for staining); the steps of the scales that the eye uses (ISO 105-A02 and A03)
are in ``grey_scales.csv`` and serve the tests and the papers.
"""

from __future__ import annotations

from math import exp, hypot, log, log2, radians, sin, sqrt

from procedure.colour.space import Colour, adapted
from procedure.quantity.record import NamedTuple

# Grades in words of the standards, from the worst; halves lie between whole grades.
GRADES = ("1", "1-2", "2", "2-3", "3", "3-4", "4", "4-5", "5")


class Grade(NamedTuple):
    """A grade: ``text`` as the standards write it (``4-5``), and what was worked out for it.

    ``value`` is 1 to 5 with its decimals, ``difference`` the difference it comes from.
    """

    text: str
    value: float
    difference: float

    @property
    def steps(self) -> float:
        """The grade as a number: 4.5 for ``4-5``."""
        return steps_of(self.text)


def steps_of(text: str) -> float:
    """A written grade as a number: 4.5 for ``4-5``. Raises ``ValueError`` for no grade."""
    return 1 + GRADES.index(text) / 2


def graded(value: float) -> str:
    """The nearest written grade of a number from 1 to 5."""
    return GRADES[round(2 * (min(max(value, 1.0), 5.0) - 1))]


# ISO 105-A05:1996, clause 8: the difference from which a grade no longer holds.
_CHANGE_EDGES = (
    (0.40, "5"),
    (1.25, "4-5"),
    (2.10, "4"),
    (2.95, "3-4"),
    (4.10, "3"),
    (5.80, "2-3"),
    (8.20, "2"),
    (11.60, "1-2"),
)


def change_grade(before: Colour, after: Colour) -> Grade:
    """The grade for change of colour from two measurements (ISO 105-A05:1996)."""
    difference = change_difference(before, after)
    text = next((grade for edge, grade in _CHANGE_EDGES if difference < edge), "1")
    value = 5 - difference / 1.7 if difference <= 3.4 else 5 - log2(difference / 0.85)
    return Grade(text, min(max(value, 1.0), 5.0), difference)


def change_difference(before: Colour, after: Colour) -> float:
    """The difference that ISO 105-A05:1996, clause 7, works out for a change of colour."""
    after = adapted(after, before.light)
    chroma = (before.chroma + after.chroma) / 2
    stronger = after.chroma - before.chroma
    apart = abs(after.hue - before.hue)
    hue = (after.hue + before.hue) / 2
    if apart > 180:
        hue += 180 if hue < 180 else -180
    turn = (after.hue - before.hue + 180) % 360 - 180
    around = 2 * sqrt(before.chroma * after.chroma) * sin(radians(turn / 2))
    from_blue = min(abs(hue - 280), 360 - abs(hue - 280))
    shared = stronger * chroma * exp(-((from_blue / 30) ** 2)) / 100
    return hypot(
        after.lightness - before.lightness,
        (stronger - shared) / (1 + (20 * chroma / 1000) ** 2),
        (around - shared) / (1 + (10 * chroma / 1000) ** 2),
    )


def staining_grade(before: Colour, after: Colour) -> Grade:
    """The grade for staining of white cloth that was washed along (ISO 105-A04:1989)."""
    after = adapted(after, before.light)
    lightness = after.lightness - before.lightness
    aside = hypot(after.a - before.a, after.b - before.b)
    difference = hypot(lightness, aside) - 0.4 * aside
    return Grade(graded(staining_value(difference)), staining_value(difference), difference)


def staining_value(difference: float) -> float:
    """The grade of staining with its decimals (ISO 105-A04:1989, clause 6)."""
    if difference <= 0:
        return 5.0
    value = 6.1 - 1.45 * log(difference)
    return max(5 - 0.23 * difference if value > 4 else value, 1.0)
