"""Times of which the prose does not say what they are for: they are asked about, and not placed."""

from __future__ import annotations

from procedure.draft.course import Course
from procedure.draft.unsettled_steps import Bath, Step

INTO = frozenset(("dye", "mordant", "enter", "steep", "modify"))
WAITS = frozenset(("hold", "stand"))


def leave_what_is_doubtful(course: Course) -> None:
    """Take back each wait of a bath without fibre that may as well be meant for the fibre.

    "An hour" behind a list, with no verb, can be for the plant to draw or for the yarn to dye;
    so can any wait of a bath that the fibre has been taken out of. A wrong time is worse than
    one that is asked for.
    """
    if not course.lots:
        return
    inside: Bath | None = None
    had: set[str] = set()
    kept: list[Step] = []
    for at, step in enumerate(course.steps):
        if step.on == "lot":
            inside = step.bath if step.verb in INTO else inside if step.bath is inside else None
            if step.verb not in INTO:
                inside = None
            elif step.bath is not None:
                had.add(step.bath.name)
        after = next((one for one in course.steps[at + 1 :] if one.bath is step.bath), None)
        drawn = after is not None and after.verb == "strain"  # what comes before is the drawing
        if _is_doubtful(step, inside, had) and not drawn:
            course.asked_about.update(one.start for one in step.clauses.values())
        else:
            kept.append(step)
    course.steps = kept


def _is_doubtful(step: Step, inside: Bath | None, had: set[str]) -> bool:
    if step.on != "bath" or step.verb not in WAITS or step.bath is None or step.bath is inside:
        return False
    if not step.clauses.keys() & {"for", "over"}:
        return False
    gone = step.bath.name in had and (step.verb == "hold" or step.bath.clear)
    return step.verbless or gone
