"""How heat and time go in a step, as the end of its sentence or as words of their own."""

from __future__ import annotations

from procedure.handout.phrasebook import ENDS_OF_BOUNDED, Telling
from procedure.model import Quantity, Step
from procedure.paper.pieces import Phrase, phrase


def course(telling: Telling, step: Step, what: str) -> tuple[Phrase, bool]:
    """How heat and time go: ``bring the bath from … to … over …, then keep it there for …``.

    The flag tells a course in words of its own from one that ends the sentence
    before it (``at 50 °C for 2 hours``).
    """
    goal = step.to if step.to is not None and step.to.quantity is not None else None
    if goal is None and (step.over is not None or step.source is not None):
        goal = step.at
    rising = (
        goal is not None
        and goal.quantity is not None
        and (step.over is not None or step.source is not None or step.to is not None)
    )
    long, until = telling.lasting(step), telling.until(step)
    if not rising:
        at = step.at.quantity if step.at is not None else None
        poured = step.poured_hot and long
        parts = [telling.heat(at, "starting at" if poured else "at") if at is not None else ()]
        if step.source is not None and step.source.quantity is not None:
            parts.append(telling.heat(step.source.quantity, "starting at"))
        if step.over is not None:
            parts.append(telling.time(step.over, "over"))
        said = spaced_out(*parts, long)
        return phrase(said, ", " if said and until else "", until), False
    assert goal is not None and goal.quantity is not None
    start = step.source.quantity if step.source is not None else None
    move = _move(start, goal.quantity, what)
    said = spaced_out(
        (move,),
        telling.heat(start, "from") if start is not None else (),
        telling.heat(goal.quantity, "to"),
        telling.time(step.over, "over") if step.over is not None else (),
    )
    if step.at is not None and step.at is not goal and step.at.quantity is not None:
        said = phrase(said, ", then keep it ", telling.heat(step.at.quantity))
        return phrase(said, " " if long else "", long, ", " if until else "", until), True
    if long:
        # From hot to cold overnight: the night is the cooling, and is kept nowhere.
        then = " " if step.left_to_cool and step.over is None else ", then keep it there "
        said = phrase(said, then, long)
    return phrase(said, ", " if until and long else " " if until else "", until), True


def _move(start: Quantity | None, goal: Quantity, what: str) -> str:
    cooler = (
        start is not None
        and start.kind == goal.kind == "temperature"
        and start.low is not None
        and goal.high is not None
        and goal.high < start.low
    )
    return f"let {what} cool" if cooler else f"bring {what}"


def spaced_out(*parts: Phrase) -> Phrase:
    """Parts with spaces between, a comma before an ``until`` that comes after two others.

    A heat that is only a bound comes behind the times: “overnight, to 30 °C at the most”.
    """
    made: Phrase = ()
    bounded: Phrase = ()
    count = 0
    for part in parts:
        if not part:
            continue
        if is_bounded(part):
            bounded = phrase(bounded, " " if bounded else "", part)
            continue
        until = _is_until(part)
        if until and bounded:
            made, bounded = _with_bounded(made, bounded, count > 1), ()
            count += 1
        made = phrase(made, ", " if until and count > 1 else " " if made else "", part)
        count += 1
    return _with_bounded(made, bounded, count > 1) if bounded else made


def is_bounded(heat: Phrase) -> bool:
    """True for no more than a heat that has one end: ``to 30 °C at the most``."""
    return (
        len(heat) == 1
        and isinstance(heat[0], str)
        and heat[0].endswith(tuple(ENDS_OF_BOUNDED.values()))
    )


def _is_until(part: Phrase) -> bool:
    return isinstance(part[0], str) and part[0].startswith("until ")


def _with_bounded(made: Phrase, bounded: Phrase, times: bool) -> Phrase:
    return phrase(made, ", " if times else " " if made else "", bounded)
