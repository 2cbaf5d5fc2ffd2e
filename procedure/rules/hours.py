"""The hours that a workshop states: what goes into no day of it, and nights that are none.

Plain sums, so that a check stays instant; ``vatwright timetable`` fits all steps together.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from procedure.facts.study import Study
from procedure.findings import Span, say
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import threshold

if TYPE_CHECKING:
    from procedure.collection.hours import Hours

FAMILY = "hours"
_DAY = 24 * 60
_WEEK = 7


def _stated(study: Study) -> Hours | None:
    return study.workshop.opening.hours if study.workshop is not None else None


def _longest_day(hours: Hours) -> int:
    """Minutes of the longest stretch for which the place is open."""
    return max(
        60 * (closes.hour - opens.hour) + closes.minute - opens.minute
        for opens, closes in hours.times
    )


def _first_passes(study: Study) -> Iterator[Moment]:
    seen: set[int] = set()
    for moment in study.moments:
        if moment.node.id not in seen:
            seen.add(moment.node.id)
            yield moment


@rule("longer-than-the-day", level="note", family=FAMILY, source="common practice")
def longer_than_the_day(study: Study) -> Iterator[Found]:
    """A step on the heat that takes longer than the workshop is ever open.

    Nothing hot is left alone, so it would have to be broken off when the place closes. The
    hours are those of the workshop file.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath for 8 h
        discard gold-bath to "foul drain"

        # saved as: vatwright.toml
        [workshop]
        hours = "10:00-16:00"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath for 1 h
        discard gold-bath to "foul drain"

        # saved as: vatwright.toml
        [workshop]
        hours = "10:00-16:00"
    """
    hours = _stated(study)
    if hours is None:
        return
    day = _longest_day(hours)
    hot = threshold("unattended heat").value
    for moment in _first_passes(study):
        heat, takes = moment.peak or moment.heat, moment.minutes
        if heat is None or takes is None or moment.node.does.cools:
            continue
        if heat.low >= hot and takes.low > day:
            yield at_node(
                moment.node,
                say(
                    "This is on the heat for {takes}, and the place is open for {day} at the most.",
                    takes=Span(takes.low),
                    day=Span(Fraction(day)),
                ),
                "Nothing hot is left alone: do it in two parts, or have longer hours that day.",
            )


def _open_days(hours: Hours) -> list[bool]:
    """Whether the place is open, day by day: two weeks, or from the first date to the last."""
    if not hours.dates:
        return [day % _WEEK in hours.weekdays for day in range(2 * _WEEK)]
    dates = {each.toordinal() for each in hours.dates}
    return [each in dates for each in range(min(dates), max(dates) + 1)]


def _longest_run(days: list[bool]) -> int:
    longest = run = 0
    for is_open in days:
        run = run + 1 if is_open else 0
        longest = max(longest, run)
    return longest


def _is_overnight(moment: Moment) -> bool:
    return bool(moment.step.manner & {"overnight", "until-next-day"})


@rule("no-such-night", level="note", family=FAMILY, source="common practice")
def no_such_night(study: Study) -> Iterator[Found]:
    """Something that stands overnight where the workshop is never open on two days running.

    Overnight is until the next morning. Where nobody comes then, fibre or bath stands for
    days. The days are those of the workshop file.

    Trips:
        wet out yarn in tub with water 5 L overnight

        # saved as: vatwright.toml
        [workshop]
        days = "sat"
    Cure:
        wet out yarn in tub with water 5 L overnight

        # saved as: vatwright.toml
        [workshop]
        days = "sat, sun"
    """
    hours = _stated(study)
    if hours is None or _longest_run(_open_days(hours)) > 1:
        return
    for moment in _first_passes(study):
        if _is_overnight(moment):
            yield at_node(
                moment.node,
                "This is until the next morning, and the place is never open on two days running.",
                "Come in on the next day, or choose a way that is over on the same day.",
            )


@rule("waits-for-the-next-day", level="note", family=FAMILY, source="common practice")
def waits_for_the_next_day(study: Study) -> Iterator[Found]:
    """Fibre that has more nights before it, wet, than the workshop has days running.

    After the last of them the place is closed for days, and the fibre lies wet for as long.
    The days are those of the workshop file.

    Trips:
        wet out yarn in tub with water 5 L overnight
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath overnight
        rinse yarn in tub with water 5 L
        dry yarn
        discard alum-bath to "foul drain"

        # saved as: vatwright.toml
        [workshop]
        days = "sat, sun"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath overnight
        rinse yarn in tub with water 5 L
        dry yarn
        discard alum-bath to "foul drain"

        # saved as: vatwright.toml
        [workshop]
        days = "sat, sun"
    """
    hours = _stated(study)
    if hours is None:
        return
    days = _open_days(hours)
    running, closed = _longest_run(days), _longest_run([not each for each in days])
    damp = next(int(row["most_min"]) for row in rows("waits") if row["what"] == "damp fibre")
    if running < 2 or running >= len(days) or closed * _DAY <= damp:
        return
    nights: dict[str, int] = {}
    for moment in _first_passes(study):
        node = moment.node
        for lot in dict.fromkeys((*node.lots, *node.present, *node.left)):
            state = moment.after.lots.get(lot)
            if state is not None and state.possibly("dry") == "":
                nights[lot] = 0
            elif _is_overnight(moment):
                nights[lot] = nights.get(lot, 0) + 1
                if nights[lot] == running:
                    yield at_node(
                        node,
                        say(
                            "{lot} is wet over as many nights as there are days running, "
                            "and then for {closed}, until the place opens again.",
                            lot=study.thing(lot),
                            closed=Span(Fraction(closed * _DAY)),
                        ),
                        "Dry it in between, or come in on one day more.",
                    )


RULES = (longer_than_the_day, no_such_night, waits_for_the_next_day)
