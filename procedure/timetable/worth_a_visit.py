"""Nobody comes on a day more for the sake of minutes: a soak is not begun the day before for that.

The shortest plan may begin something that may go on for long, such as a soak, on a day on which
nothing else is done, so that all is over some minutes sooner. Where that is less than is worth a
visit, it is begun when somebody is there anyway.
"""

from __future__ import annotations

from dataclasses import replace

from procedure.timetable.planned import Timetable
from procedure.timetable.work import Work
from procedure.vocabulary.thresholds import threshold


def without_its_visit(made: Timetable) -> Work | None:
    """The work where what alone takes a visit is no longer than is written; None where none is."""
    alone = _begun_alone(made)
    if not alone:
        return None
    activities = tuple(
        replace(each, lasting=replace(each.lasting, stretch=each.lasting.most))
        if each.key in alone
        else each
        for each in made.work.activities
    )
    return replace(made.work, activities=activities)


def is_worth_it(made: Timetable, other: Timetable) -> bool:
    """Whether the days that a plan takes beyond another are worth the time that they save."""
    saved = other.finish - made.finish
    return other.days >= made.days or saved >= int(threshold("worth a visit").value)


def _begun_alone(made: Timetable) -> set[str]:
    """What goes on for longer than is written, and is begun on a day on which nothing else is."""
    work = made.work
    on: dict[int, set[str]] = {}
    for piece in made.to_come:
        on.setdefault(work.day_at(piece.start), set()).add(piece.key)
    alone = [next(iter(keys)) for keys in on.values() if len(keys) == 1]
    return {
        key
        for key in alone
        if work.activity[key].lasting.elastic
        and not work.activity[key].overnight
        and not work.activity[key].lasting.slowest
        and not work.activity[key].fibre_in
        and 0 < work.activity[key].lasting.written < made.at[key].end - made.at[key].start
        and key not in work.happened
    }
