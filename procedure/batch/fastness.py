"""How a lot stood up: grades of change and staining, and light beside blue wool references."""

from __future__ import annotations

from collections.abc import Sequence

from procedure.batch.types import BlueWool, LightTest, WashTest
from procedure.colour import Colour, Grade, change_grade
from procedure.colour.grades import steps_of
from procedure.quantity.record import NamedTuple


class Stood(NamedTuple):
    """How a colour stood a test.

    ``change`` is the grade of change on the grey scale (1 to 5) and ``measured`` what was
    worked out for it, None where it was judged by eye; ``after`` is the colour after the test,
    None where it was not measured. ``blue_wool`` is the grade of light
    fastness (1 to 8), empty where nothing says it. ``days`` is how long it hung in the light.
    """

    change: str
    measured: Grade | None
    blue_wool: str
    worked_out: bool
    days: int | None
    after: Colour | None


def blue_wool_grade(change: str, references: Sequence[BlueWool]) -> str:
    """The blue wool reference that changed as the colour did (ISO 105-B02, assessment).

    The number of the reference whose change is nearest; where the change lies halfway
    between two neighbours, both with a dash (``4-5``). Empty where nothing was exposed with
    it, and where the colour changed more or less than every reference: then only a bound can
    be said, as :func:`blue_wool_bound` does.
    """
    known = sorted(references)
    if not change or not known:
        return ""
    grade = steps_of(change)
    exact = [one.number for one in known if one.change == change]
    if exact:
        return str(exact[0]) if len(exact) == 1 else f"{exact[0]}-{exact[-1]}"
    below = [one for one in known if steps_of(one.change) < grade]
    above = [one for one in known if steps_of(one.change) > grade]
    if not below or not above:
        return ""
    low, high = below[-1], above[0]
    under, over = grade - steps_of(low.change), steps_of(high.change) - grade
    if high.number == low.number + 1 and under == over:
        return f"{low.number}-{high.number}"
    return str(low.number if under < over else high.number)


def blue_wool_bound(change: str, references: Sequence[BlueWool]) -> str:
    """What can still be said where no reference changed alike: “below 2”, “above 4”; or empty."""
    known = sorted(references)
    if not change or not known or blue_wool_grade(change, references):
        return ""
    grade = steps_of(change)
    if all(steps_of(one.change) > grade for one in known):
        return f"below {known[0].number}"
    return f"above {known[-1].number}"


def stood_light(test: LightTest, covered: Colour | None, exposed: Colour | None) -> Stood:
    """What a light test says. The halves are those of the test as colours, None where unknown."""
    measured = change_grade(covered, exposed) if covered and exposed else None
    change = test.change or (measured.text if measured else "")
    grade = test.grade
    worked = False
    if not grade:
        grade = blue_wool_grade(change, test.references)
        worked = bool(grade)
        grade = grade or blue_wool_bound(change, test.references)
    days = (test.ended - test.begun).days if test.begun and test.ended else None
    return Stood(change, measured, grade, worked, days, exposed)


def stood_wash(test: WashTest, before: Colour | None, after: Colour | None) -> Stood:
    """What a wash test says of the change; its staining is in the test."""
    measured = change_grade(before, after) if before and after else None
    change = test.change or (measured.text if measured else "")
    return Stood(change, measured, "", False, None, after)
