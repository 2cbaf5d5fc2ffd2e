"""Where there is no plan since fibre lies in a bath that cools or stands: what lifting it out does.

A bath may cool or stand over a night when nothing lies in it that would be harmed. So, of a step of
the reason that goes on without hands, the procedure is written again with the fibre lifted out of
its bath before it, and put back after it where what follows wants it there. That is read, judged by
all rules and planned before it is told: nothing is offered that a rule says more against.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from procedure.pipeline import Judged, read
from procedure.quantity.number_words import listed
from procedure.timetable.drafts import hindrances
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import moment_in_words
from procedure.timetable.planning import shortest_with
from procedure.timetable.reasons import NoPlan
from procedure.timetable.terms import Asked
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.work import Activity
from procedure.trace import Moment

_MOST = 2
"""So many steps are asked about at the most: each is read and planned anew."""


def would_lifting_do(unfit: NoPlan, plans: Sequence[Judged], asked: Asked) -> str:
    """A sentence on the first step before which fibre may be lifted out, so that there is a plan.

    Empty where none is known. Of work of which something has happened nothing is said.
    """
    if asked.happened:
        return ""
    lying = [each for each in unfit.activities if each.fibre_in]
    for each in lying[:_MOST]:
        for number, plan in enumerate(plans):
            moment = _step_at(plan, each)
            if moment is None:
                continue
            said = _would_do(plans, number, moment, each, asked)
            if said:
                return said
    return ""


def _step_at(plan: Judged, activity: Activity) -> Moment | None:
    """The step of an activity, where it is written once in this file and only cools or stands."""
    found = [
        each
        for each in plan.trace.moments
        if each.step.place.line == activity.place.line and plan.own(each.node.id)
    ]
    if plan.file != activity.place.file or len(found) != 1:
        return None
    does = found[0].node.does
    goes_on = (does.cools or does.settles) and not found[0].node.lots and found[0].node.bath
    return found[0] if goes_on else None


def _would_do(
    plans: Sequence[Judged], number: int, moment: Moment, activity: Activity, asked: Asked
) -> str:
    plan = plans[number]
    bath = plan.study.called(moment.node.bath)
    lying = {lot for lot, at in moment.before.lots.items() if at.bath == moment.node.bath}
    named = ", ".join(lots := [plan.study.called(lot) for lot in sorted(lying)])
    if not lots:
        return ""
    back = _wanted_again(plan, moment, lying)
    text = _written(plan.text, activity.place.line, named, bath, back)
    other = read(text, plan.file, plan.file, plan.unsaved)
    if not _no_worse(other, plan):
        return ""
    made = _planned([*plans[:number], other, *plans[number + 1 :]], asked)
    if made is None:
        return ""
    again = f" and “enter {named} in {bath}” after it" if back else ""
    return (
        f"With {listed(lots)} lifted out of {bath} before “{activity.name}”, which then goes on "
        f"without fibre in it, it could be over at {moment_in_words(made.work, made.finish)}: "
        f"write “lift {named} from {bath}” before line {activity.place.line}{again}."
    )


def _wanted_again(plan: Judged, moment: Moment, lying: set[str]) -> bool:
    """Whether what is done next to the fibre, or to its bath with it in, is done in that bath."""
    moments = plan.trace.moments
    for later in moments[moments.index(moment) + 1 :]:
        node = later.node
        if lying & {*node.lots, *node.present} and not node.does.takes_out:
            return node.bath == moment.node.bath
        if lying & {*node.lots}:
            return False
    return False


def _written(text: str, line: int, lots: str, bath: str, back: bool) -> str:
    """The text with fibre lifted out before a line, and with ``back`` put in again after it."""
    lines = text.splitlines()
    written = lines[line - 1]
    indent = written[: len(written) - len(written.lstrip())]
    after = next(_ends_of_step(lines, line, len(indent)))
    entered = [f"{indent}enter {lots} in {bath}"] if back else []
    lifted = f"{indent}lift {lots} from {bath}"
    return "\n".join(
        [*lines[: line - 1], lifted, *lines[line - 1 : after], *entered, *lines[after:], ""]
    )


def _ends_of_step(lines: Sequence[str], line: int, indent: int) -> Iterator[int]:
    """Where what belongs to a step of a line is over: at the next line that is no deeper."""
    for number in range(line, len(lines)):
        here = lines[number]
        if len(here) - len(here.lstrip()) <= indent:
            yield number
    yield len(lines)


def _no_worse(other: Judged, plan: Judged) -> bool:
    """Whether no rule says more against a text than against another."""

    def said(of: Judged) -> Counter[tuple[str, str]]:
        return Counter((each.rule, each.level) for each in of.findings if each.level != "note")

    return not hindrances([other]) and not said(other) - said(plan)


def _planned(plans: Sequence[Judged], asked: Asked) -> Timetable | None:
    try:
        return shortest_with(work_of(plans, asked).work)
    except CannotPlan:
        return None
