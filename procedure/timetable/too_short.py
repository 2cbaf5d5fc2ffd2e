"""Why a plan does not go into some hours, for its papers: said at once, without a search.

:mod:`procedure.timetable.reasons` looks for the smallest reason with the solver, which takes
seconds; what a paper has to say is nearly always one step by itself, and that is arithmetic.
"""

from __future__ import annotations

from collections.abc import Iterator

from procedure.quantity.day import A_DAY
from procedure.timetable.planned_words import span
from procedure.timetable.work import Activity, Work


def why_too_short(work: Work) -> str:
    """Why there is no plan in the hours of this work, as the end of a sentence without its stop.

    The first step that by itself is too long for a day or too short for a night; where none is,
    that it is all of them together.
    """
    for each in work.activities:
        for said in _alone(work, each):
            return said
    return "its steps, and the waits between them, do not go into these hours together"


def _alone(work: Work, activity: Activity) -> Iterator[str]:
    nights = [opens - closes for closes, opens in work.nights]
    day = max((each.closes - each.opens for each in work.spells), default=0)
    lasting, name = activity.lasting, f"“{activity.name}”"
    alone = lasting.longest - activity.hot_for
    hot = ""
    if activity.hot_for:
        hot = (
            f", of which somebody stays for the first {span(activity.hot_for)}, while its bath is "
            f"hotter than {activity.too_hot}"
        )
    if activity.overnight and nights and min(nights) > max(alone, A_DAY):
        yield f"{name} goes on for a night, and these hours never come on two days running"
    elif activity.overnight and nights and min(nights) > alone:
        yield (
            f"{name} goes on overnight, for {span(lasting.longest)} at the most{hot}, and from one "
            f"day to the next it is {span(min(nights))}"
        )
    elif activity.by_day and lasting.least > day:
        yield (
            f"{name} takes {span(lasting.least)}, for which somebody has to be there, and a day "
            f"is {span(day)}"
        )
    elif max(activity.hot_for, activity.hot_after) > day:
        hot_for = span(max(activity.hot_for, activity.hot_after))
        yield f"the bath of {name} is too hot to be alone for {hot_for}, and a day is {span(day)}"
