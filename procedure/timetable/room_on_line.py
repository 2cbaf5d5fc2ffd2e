"""Which fibre finds room on the drying line while it waits: what dries in a step hangs there too.

There is one account of the line: the steps that dry, what is planned to be hung up meanwhile, and
what the papers would have hung up in a wait. What finds no room waits damp, and that is told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from procedure.timetable.amounts_told import amount_of
from procedure.timetable.planned import Timetable
from procedure.timetable.plates import LINE
from procedure.timetable.waiting_less import longer_than_wished
from procedure.timetable.work import Lag, Lies, Work

HUNG_UP = " hung up"
"""What the key of a hanging up ends in that is planned after a step."""
_Use = tuple[int, int, int]


def grams_of(work: Work, project: str, lots: Sequence[str]) -> int:
    """The dry weight of lots, as far as it is known."""
    known = {(whose, lot): grams for whose, lot, grams in work.grams}
    return sum(known.get((project, lot), 0) for lot in lots)


def may_hang(lag: Lag) -> bool:
    """Whether what waits is fibre that may be hung up meanwhile."""
    return bool(lag.dried) or lag.lies is Lies.RINSED


def without_room(made: Timetable) -> dict[int, tuple[str, ...]]:
    """The waits, by their numbers, for some lots of which the line has no room meanwhile.

    A lot is given room where it waits soonest. Where nothing is said of a line, there is room; what
    is planned to be hung up has its room in the plan.
    """
    line = made.work.resource.get(LINE)
    if line is None:
        return {}
    work = made.work
    uses: list[_Use] = [
        (made.at[each.key].start, made.at[each.key].end, need.amount)
        for each in work.activities
        for need in each.needs
        if need.resource == LINE and not work.over(each.key)
    ]
    found: dict[int, tuple[str, ...]] = {}
    hung: dict[tuple[str, str], int] = {}
    for number in sorted(longer_than_wished(made), key=lambda n: _span(made, work.lags[n])):
        lag = work.lags[number]
        if not may_hang(lag) or lag.before + HUNG_UP in work.between:
            continue
        start, end = _span(made, lag)
        project = work.activity[lag.before].project
        for lot in work.waiting_in(lag):
            if hung.get((project, lot), -1) >= end:
                continue
            grams = grams_of(work, project, [lot])
            if _most_at_once(uses, start, end) + grams > line.capacity:
                found[number] = (*found.get(number, ()), lot)
            else:
                uses.append((start, end, grams))
                hung[project, lot] = end
    return found


def fits_the_line(work: Work) -> bool:
    """Whether there is room for whatever is hung up at once."""
    return all(
        need.amount <= work.resource[LINE].capacity
        for each in work.activities
        for need in each.needs
        if need.resource == LINE
    )


def with_a_longer_line(work: Work) -> Work | None:
    """The same with a drying line on which all hangs at once; None where nobody speaks of one."""
    if LINE not in work.resource:
        return None
    grams = sum(grams for _, _, grams in work.grams)
    lines = (
        replace(each, capacity=max(each.capacity, grams)) if each.key == LINE else each
        for each in work.resources
    )
    return replace(work, resources=tuple(lines))


def line_too_short(made: Timetable, served: Timetable) -> str:
    """That the line has no room for all that waits for days, and what would serve, by a plan.

    Empty where the line is long enough for that plan, so that it is no reason.
    """
    line = made.work.resource[LINE]
    uses = [
        (served.at[each.key].start, served.at[each.key].end, need.amount)
        for each in served.work.activities
        for need in each.needs
        if need.resource == LINE
    ]
    most = max((_most_at_once(uses, start, end) for start, end, _ in uses), default=0)
    if most <= line.capacity:
        return ""
    return (
        "Not all that waits for days can be hung up to dry meanwhile, for the drying line, "
        f"with room for {amount_of(line, line.capacity)}, is too short: have a line for "
        f"{amount_of(line, most)}, or dry elsewhere what it has no room for."
    )


def _span(made: Timetable, lag: Lag) -> tuple[int, int]:
    return made.moment(lag.before, lag.leaves), made.moment(lag.after, lag.reaches)


def _most_at_once(uses: Sequence[_Use], start: int, end: int) -> int:
    """The grams that hang at the fullest moment of a time."""
    moments = {start, *(begun for begun, _, _ in uses if start < begun < end)}
    return max(sum(g for a, b, g in uses if a <= moment < b) for moment in moments)
