"""The facts of a timetable in words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.timetable.amounts_told import amount_of
from procedure.timetable.giving import Room
from procedure.timetable.hours import clock
from procedure.timetable.planned import HowFound, Timetable
from procedure.timetable.relief import Relief
from procedure.timetable.room_on_line import HUNG_UP
from procedure.timetable.work import (
    TURN_OFF,
    Activity,
    Attendance,
    Resource,
    Work,
)

NARROW = "\u202f"
_NOTHING: Mapping[str, int] = MappingProxyType({})
_KNOWN = {"common practice": "only what is usual"}
_USEFUL = 25
"""How far a plan may be from the shortest possible is told up to so many per cent."""
_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January February March April May June July August September October November December"
).split()


def span(minutes: int) -> str:
    """A length of time: 40 min, 2 h, 1 h 20 min, 2 days 3 h."""
    if minutes < 0:
        return f"−{span(-minutes)}"
    days, rest = divmod(minutes, A_DAY)
    if days < 2:
        days, rest = 0, minutes
    hours, left = divmod(rest, 60)
    parts = [f"{days} days"] if days else []
    if hours:
        parts.append(f"{hours}{NARROW}h")
    if left or not parts:
        parts.append(f"{left}{NARROW}min")
    return " ".join(parts)


def time_of(moment: datetime) -> str:
    """The time on the clock: 09:05."""
    return f"{moment:%H:%M}"


def day_of(moment: datetime) -> str:
    """A day with its date: Saturday 28 November."""
    return f"{_DAYS[moment.weekday()]} {moment.day} {_MONTHS[moment.month - 1]}"


def moment_in_words(work: Work, minute: int, on: datetime | None = None) -> str:
    """A time of the day, with its day where that is another than ``on``."""
    if work.begins is None:
        return f"minute {minute}"
    moment = clock(work.begins, minute)
    if on is not None and moment.date() == on.date():
        return time_of(moment)
    weekday = _DAYS[moment.weekday()]
    near = on is not None and abs((moment.date() - on.date()).days) < 7
    return f"{time_of(moment)} on {weekday if near else day_of(moment)}"


def capital(text: str) -> str:
    """The text with its first letter as a capital."""
    return text[:1].upper() + text[1:]


def how_good(made: Timetable) -> str:
    """How near the plan is known to be to the best, and whether the clock had a part in it."""
    if all(made.work.over(each.key) for each in made.placed):
        return ""
    said = _how_near(made)
    if made.cut_short:
        said += (
            " The search took so long that the clock ended it: another run, on a faster or "
            "less busy machine, may find another plan."
        )
    return said


def _how_near(made: Timetable) -> str:
    if made.to_the_limit:
        return (
            "No plan was found in which every step takes as long as it may; as few as can be "
            "are planned shorter."
        )
    if made.shortest:
        extra = []
        # A day on which somebody is there in any case is not saved by doing nothing on it.
        if made.fewest_days and made.days > 1 and made.work.there_now not in made.days_there:
            extra.append("on fewer days")
        if any(key.endswith(HUNG_UP) for key in made.work.between):
            return (
                "With what is hung up in between as here no plan is shorter: that is proven. "
                "A plan in which other fibre waits may be shorter: that was not found out."
            )
        said = "No plan with steps and waits as long as here is shorter"
        if extra:
            said += f", and none of this length is {extra[0]}"
        return f"{said}: that is proven."
    share = max(1, round(made.within * 100 + 0.499))
    if not made.searched:
        return (
            f"This plan was {HowFound.LIST_RULE.value}; nothing better was looked for, because "
            "the solver is missing (“pip install ortools” brings it). "
            f"It is at the most {share}{NARROW}% longer than the shortest possible."
        )
    if share > _USEFUL:
        said = "Whether there is a shorter plan was not found out"
        if made.bound <= made.work.now:
            return f"{said}."
        return f"{said}; none is over before {moment_in_words(made.work, made.bound)}."
    return f"It is within {share}{NARROW}% of the shortest possible."


_LONG_BEFORE = 4 * 60


def ended(made: Timetable) -> str:
    """When all is over, and how good the plan is; of what is all done that is not asked."""
    return " ".join(filter(None, (ending(made), how_good(made))))


def ending(made: Timetable) -> str:
    """When it is all over, and how much there is to do."""
    if all(made.work.over(each.key) for each in made.placed):
        return f"All is done: it was over at {moment_in_words(made.work, made.finish)}."
    hands = sum(piece.end - max(piece.start, made.work.now) for piece in made.to_come)
    days = "1 day" if made.days == 1 else f"{made.days} days"
    left = "still to do" if made.work.done else "of hands-on work"
    return (
        f"All is over at {moment_in_words(made.work, made.finish)}; someone is there on "
        f"{days}, with {span(hands)} {left}{_daily(made)}.{_work_done(made)}"
    )


def _work_done(made: Timetable) -> str:
    """When nothing is left for anybody to do, where that is long before all is over."""
    last = max((piece.end for piece in made.to_come), default=made.finish)
    if made.finish - last < _LONG_BEFORE:
        return ""
    when = moment_in_words(made.work, last)
    return f" The work is done at {when}; what is left goes on by itself."


def _daily(made: Timetable) -> str:
    """What goes on for days, so that somebody looks in on those between as well."""
    keys = dict.fromkeys(key for key, _ in made.seen_to)
    names = listed([numbered(made.work.activity[key]) for key in keys])
    return f", and looks in every day between to see to {names}" if names else ""


def attended(activity: Activity) -> str:
    """How much of a person an activity takes."""
    if activity.attendance is Attendance.NOW_AND_THEN and activity.every:
        return f"look at it every {span(activity.every)}"
    return {
        Attendance.WHOLE: "stay with it",
        Attendance.NOW_AND_THEN: "look at it now and then",
        Attendance.ENDS: "it goes on by itself",
        Attendance.NONE: "it goes on by itself",
    }[activity.attendance]


def at_the_last(activity: Activity, hands_until: int, until: int) -> str:
    """That the plate is turned off, of a step too short for that to have a line of its own."""
    short = hands_until == until or not activity.at_end
    off = activity.ending == TURN_OFF and activity.attendance is not Attendance.WHOLE
    return f"Then {TURN_OFF}." if short and off else ""


def one_more(relief: Relief) -> str:
    """One more of something, at the beginning of a sentence: “A second kettle”."""
    return capital(one_more_of(relief.resource, relief.more))


def one_more_of(resource: Resource, more: int) -> str:
    """One more of something: “a second kettle”, “one more pair of hands”."""
    name = resource.name.removeprefix("the ")
    return {
        "people": f"one more {name}",
        "power": f"{amount_of(resource, more)} more power",
        "line": f"room for {amount_of(resource, more)} more on {resource.name}",
    }.get(resource.kind, f"a second {name}" if resource.capacity == 1 else f"one more {name}")


def saving(relief: Relief) -> str:
    """What one more of something would save."""
    what = one_more(relief)
    if relief.most == 0:
        return f"{what} would save nothing."
    if relief.proven:
        return f"{what} would save {span(relief.least)}."
    busy = " The clock ended that search." if relief.cut_short else ""
    if relief.unknown:
        return f"What {what[0].lower()}{what[1:]} would save was not found out in the time.{busy}"
    least, most = span(relief.least), span(relief.most)
    return f"{what} would save {least} at least, {most} at the most.{busy}"


def giving(
    made: Timetable, each: Room, gains: Mapping[str, int] = _NOTHING, alike: bool = False
) -> str:
    """What can give in one activity; ``gains`` are minutes gained where a bath cools soon.

    With others that are ``alike``, called the same, it is told by when it begins.
    """
    name = f"“{made.work.activity[each.key].told}”"
    if alike and made.work.begins is not None:
        start = made.at[each.key].start
        name += f" of {moment_in_words(made.work, start)}"
    if each.later == 0:
        said = f"{name} has to begin on time"
    else:
        said = f"{name} may begin up to {span(each.later)} later"
    if each.key in gains:
        return f"{said}. {_if_it_has_cooled(made, each.key, gains[each.key])}"
    if each.shorter:
        said += f", and may be over {span(each.shorter)} sooner than planned"
    place, lasting = made.at[each.key], made.work.activity[each.key].lasting
    longer = lasting.slowest - (place.end - place.start)
    if longer > 0:
        said += f"{' or' if each.shorter else ', and may be over'} {span(longer)} later: "
        said += f"how long it takes is {_KNOWN.get(lasting.said, lasting.said)}"
    return f"{said}."


def _if_it_has_cooled(made: Timetable, key: str, gain: int) -> str:
    """What is gained where an estimated cooling is over soon, and until when it may take."""
    place, lasting = made.at[key], made.work.activity[key].lasting
    work, on = made.work, None
    if work.begins is not None:
        on = clock(work.begins, place.start)
    soon = moment_in_words(work, place.start + lasting.least, on)
    known = _KNOWN.get(lasting.said, lasting.said)
    said = f"How long it takes is {known}: if it has cooled by {soon}, "
    said += f"you gain {span(gain)}" if gain else "what follows may begin then"
    late = place.start + lasting.slowest
    if late > place.end:
        said += f"; it may take until {moment_in_words(work, late, on)}"
    return f"{said}."


def numbered(activity: Activity) -> str:
    """The name of an activity, with its printed number where it has one."""
    return f"“{activity.name}”" + (f" ({activity.printed})" if activity.printed else "")


def sooner(longer: Timetable, shorter: Timetable) -> str:
    """How much sooner all is over the shorter way through the blocks."""
    saved = span(longer.finish - shorter.finish)
    return f"The shorter way through these, all is over {saved} sooner."
