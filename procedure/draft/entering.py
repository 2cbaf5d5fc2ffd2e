"""Fibre that the prose lets go into a bath without saying so."""

from __future__ import annotations

from procedure.draft.course import Course
from procedure.draft.stock import trade_role
from procedure.draft.unsettled_steps import Bath, Step
from procedure.draft.working import WORKS

DRAWS = frozenset(("simmer", "boil", "stand"))
HEATS = frozenset(("heat", "hold", "simmer", "boil"))


def enter_where_left_out(course: Course) -> None:
    """Let fibre into each bath that is for it and that nothing is said to go into.

    A mordant's bath is for fibre from its first heat or time on; a dye's, once it has been
    strained or has cooled, or where it is heated by no verb that draws a plant out.
    """
    if not course.lots:
        return
    for bath in course.baths:
        steps = [one for one in course.steps if one.bath is bath]
        if bath.plants_alone or any(one.on == "lot" for one in steps):
            continue
        first = _first(bath, _with_its_stuff(bath, steps))
        if first is None or (bath.kind == "dye" and _goes_on_elsewhere(course, bath, first)):
            continue
        if first.verb in ("simmer", "boil"):
            entry = Step("enter", first.sentence, "lot", bath)
            course.steps.insert(course.steps.index(first), entry)
        else:
            first.on, first.verb = "lot", WORKS[bath.kind]


def _with_its_stuff(bath: Bath, steps: list[Step]) -> list[Step]:
    """The steps from the one on that brings the mordant or the dye: the water is warmed before."""
    role = "dyestuff" if bath.kind == "dye" else bath.kind
    for at, step in enumerate(steps):
        names = [one.name.replace("-", " ") for one in step.brought if one.name != "water"]
        if step.name.endswith("-liquor") or any(trade_role(name) == role for name in names):
            return steps[at:]
    return steps


def draw_what_is_strained(course: Course) -> None:
    """Keep the bath without fibre where "dye: hibiscus 60 g, 70 °C for 45 min" is strained next."""
    for step, after in zip(course.steps, course.steps[1:], strict=False):
        part = step.part
        if step.verb != "dye" or part is None or after.verb != "strain":
            continue
        if after.bath is not step.bath or course.names_fibre(part):
            continue
        if course.text[part.doing.end : part.doing.end + 1] == ":" and "for" in step.clauses:
            step.on, step.verb = "bath", "hold"


def _goes_on_elsewhere(course: Course, bath: Bath, first: Step) -> bool:
    """True where the next bath gets the fibre and nothing takes it out of this one: a stock."""
    later = course.steps[course.steps.index(first) + 1 :]
    lots = [one for one in later if one.on == "lot" and one.verb != "wet out"]
    return bool(lots) and lots[0].bath is not None and lots[0].bath is not bath


def _first(bath: Bath, steps: list[Step]) -> Step | None:
    """The step at which the fibre must be in."""
    if not bath.kind:
        return None
    if bath.kind == "dye":
        cleared = [at for at, one in enumerate(steps) if one.verb == "strain"]
        cleared = cleared or [
            at
            for at, one in enumerate(steps)
            if one.verb == "cool" and any(later.verb in HEATS for later in steps[at:])
        ]
        if cleared:
            steps = steps[cleared[-1] + 1 :]
        elif any(one.verb in DRAWS for one in steps):
            if not bath.lifted:
                return None
            steps = steps[max(at for at, one in enumerate(steps) if one.verb in DRAWS) + 1 :]
            return next((one for one in steps if one.verb in HEATS), None)
    found = [one for one in steps if one.on == "bath" and one.verb in HEATS]
    if bath.kind == "dye" and len(found) > 1 and not found[0].clauses.keys() & {"at", "to", "from"}:
        found = found[1:]  # a plant soaks before the heat that dyes
    return next(iter(found), None)
