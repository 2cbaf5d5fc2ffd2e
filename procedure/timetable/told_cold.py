"""Plans in which something is colder than is written, since there is no time to warm it again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from procedure.quantity.number_words import listed
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import numbered, span
from procedure.timetable.warming import stands, to_warm
from procedure.timetable.work import WarmAgain


def as_cold(made: Timetable, warmth: Sequence[WarmAgain]) -> Timetable:
    """The plan with words at the baths that stand, where it was planned without warming them."""
    if made.work.warmth or not warmth:
        return made
    known = replace(made, work=replace(made.work, warmth=tuple(warmth)))
    to_be = to_warm(known.work).items()
    return told_cold(made, "bath", {key: w.minutes for key, w in to_be if stands(known, w)})


def told_cold(made: Timetable, what: str, minutes: Mapping[str, int]) -> Timetable:
    """The plan with words at what goes on in a cold bath; how long warming would take, by key."""
    if not minutes:
        return made
    activities = tuple(
        replace(
            each,
            cautions=(
                *each.cautions,
                f"The {what} has cooled down; warming it again takes about {minutes[each.key]} "
                "min, for which there is no time in this plan.",
            ),
        )
        if each.key in minutes
        else each
        for each in made.work.activities
    )
    known = made.work.activity
    each_one = [f"{numbered(known[key])} (about {span(more)})" for key, more in minutes.items()]
    note = (
        f"There is no time in this plan to warm the {what} again that has cooled: "
        f"{listed(each_one)}. Where you warm it even so, all that comes after is so much later."
    )
    work = replace(made.work, activities=activities, notes=(*made.work.notes, note))
    return replace(made, work=work)
