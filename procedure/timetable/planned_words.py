"""The facts of a timetable in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from types import MappingProxyType

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.timetable.giving import Room
from procedure.timetable.hours import clock
from procedure.timetable.planned import HowFound, Timetable
from procedure.timetable.programme import ConstraintGroup
from procedure.timetable.reasons import NoPlan
from procedure.timetable.relief import Relief
from procedure.timetable.work import (
    HANDS,
    TURN_OFF,
    Activity,
    ActivityPlace,
    Attendance,
    Lag,
    Point,
    Work,
)

NARROW = "\u202f"
_NOTHING: Mapping[str, int] = MappingProxyType({})
_AS = {"estimated": "as estimated", "common practice": "as is usual"}
_KNOWN = {"common practice": "only what is usual"}
_USEFUL = 25
"""How far a plan may be from the shortest possible is told up to so many per cent."""
_FEW_DAYS = 4
_FEW_ALIKE = 3
_MOST_DEMANDS = 20
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
        if made.fewest_days and made.days > 1:
            extra.append("on fewer days")
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
        soonest = moment_in_words(made.work, made.bound)
        return f"Whether there is a shorter plan was not found out; none is over before {soonest}."
    return f"It is within {share}{NARROW}% of the shortest possible."


_LONG_BEFORE = 4 * 60


def ending(made: Timetable) -> str:
    """When it is all over, and how much there is to do."""
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
    """One more of something: “A second kettle”, “One more pair of hands”."""
    resource = relief.resource
    name = resource.name.removeprefix("the ")
    return {
        "people": f"One more {name}",
        "power": f"{relief.more}{NARROW}{resource.unit} more power",
        "line": f"Room for {relief.more}{NARROW}{resource.unit} more on {resource.name}",
    }.get(resource.kind, f"A second {name}" if resource.capacity == 1 else f"One more {name}")


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


def refusal(unfit: NoPlan) -> str:
    """Why there is no plan, with the lines that ask for what cannot be had."""
    sentences = [_opening(unfit)]
    demands = _demands(unfit)
    more = len(demands) - _MOST_DEMANDS if not unfit.smallest else 0
    sentences += demands[:_MOST_DEMANDS] if more > 1 else demands
    if more > 1:
        sentences.append(f"- and {more} more.")
    sentences += _of_hours(unfit)
    if unfit.finish is not None:
        days = "1 day" if unfit.days == 1 else f"{unfit.days} days"
        when = moment_in_words(unfit.work, unfit.finish)
        over = "With the same hours it can be over"
        if unfit.every_day:
            over = "If the place were open every day it could be over"
        sentences.append(f"{over} at {when}; that takes {days} of somebody's time.")
    if unfit.stay:
        closes = unfit.work.windows[-1].closes + unfit.stay
        begins = unfit.work.begins
        until = f", until {time_of(clock(begins, closes))}," if begins is not None else ""
        sentences.append(
            f"If somebody could stay for {span(unfit.stay)} longer{until} it could be over at "
            f"{moment_in_words(unfit.work, unfit.stayed)}."
        )
    if not unfit.smallest:
        sentences.append("There may be a smaller reason than this; it was not found in the time.")
    return "\n".join(sentences)


def _opening(unfit: NoPlan) -> str:
    work = unfit.work
    if unfit.has("finish"):
        assert work.finish_by is not None
        return f"It cannot be over by {moment_in_words(work, work.finish_by)}:"
    return "This cannot be done; these demands do not go together:"


def _demands(unfit: NoPlan) -> list[str]:
    work = unfit.work
    said = _activity_demands(unfit)
    if len(unfit.activities) > 1 and _in_a_row(unfit):
        last = unfit.activities[-1]
        hot = last.hot_after if unfit.has("hot", last.key) else 0
        whole = sum(each.lasting.most for each in unfit.activities) + hot
        until = f", until the bath may be left {span(hot)} after" if hot else ""
        if last.hot_for and unfit.has("hot", last.key) and not unfit.has("night", last.key):
            # It goes on by itself then, and only so long is somebody there.
            whole, until = whole - last.lasting.most + last.hot_for, ", until the bath may be left"
        said.append(f"- One after the other that is {span(whole)}{until}, without any wait.")
    for lag in unfit.lags:
        number = str(work.lags.index(lag))
        if unfit.has("greatest wait", number):
            said.append(f"- {wait_in_words(work, lag)}")
        elif lag.least:
            said.append(f"- {wait_in_words(work, replace(lag, most=None))}")
    for part in unfit.parts:
        if part.kind == "resource":
            said.append(f"- {_resource_demand(work, part)}")
    return list(dict.fromkeys(said))


def _of_hours(unfit: NoPlan) -> list[str]:
    """The hours where they are part of the reason, and by how much they are too short."""
    said = _short_of_hours(unfit)
    if any(unfit.has(kind) for kind in ("night", "hours", "overnight", "hot")):
        said.insert(0, f"- the place is open {_opening_times(unfit.work)}.")
    return list(dict.fromkeys(said))


def _short_of_hours(unfit: NoPlan) -> list[str]:
    """What the hours lack for one step by itself, and how much longer would do for it."""
    work = unfit.work
    nights = [opens - closes for closes, opens in work.nights]
    day = max((each.closes - each.opens for each in work.windows), default=0)
    said = []
    for each in unfit.activities:
        if each.no_lid and unfit.has("night", each.key):
            said.append(
                f"- With a lid on, “{each.name}” may be left: write “covered” there, or “lidded” "
                "with its pot."
            )
        longest, most = each.lasting.longest, each.lasting.most
        if unfit.has("hot", each.key):
            most = max(each.hot_for, each.hot_after + (most if each.by_day else 0))
        # Until it may be left, somebody is there.
        alone = longest - each.hot_for
        if unfit.has("overnight", each.key) and nights and min(nights) > max(alone, A_DAY):
            said.append("- It is never open on two days running, which this needs.")
        elif unfit.has("overnight", each.key) and nights and min(nights) > alone:
            said.append(
                f"- From one day to the next it is closed for {span(min(nights))} at the least: "
                f"{span(min(nights) - alone)} longer on one evening, or sooner the morning "
                "after, would do for this."
            )
        elif _wants_the_day(unfit, each) and day < most:
            said.append(
                f"- The longest time that it is open is {span(day)}; {span(most - day)} more on "
                "one day would do for this."
            )
    return said


def _wants_the_day(unfit: NoPlan, activity: Activity) -> bool:
    """Whether all of a step, or the time for which its bath is hot, lies in one day's hours."""
    by_day = unfit.has("night", activity.key) and activity.by_day
    return by_day or unfit.has("hot", activity.key)


def _in_a_row(unfit: NoPlan) -> bool:
    """Whether the activities of a reason follow one another, each after the one before."""
    keys = {each.key for each in unfit.activities}
    pairs = {
        (lag.before, lag.after)
        for lag in unfit.lags
        if lag.leaves is Point.END and lag.reaches is Point.START and lag.least >= 0
    }
    befores, afters = [a for a, _ in pairs], [b for _, b in pairs]
    whole = len(pairs) == len(keys) - 1 and {*befores, *afters} <= keys
    return whole and len(set(befores)) == len(pairs) == len(set(afters))


def _activity_demands(unfit: NoPlan) -> list[str]:
    """What each activity demands; of a step that comes for several lots or times, once for all."""
    alike: dict[tuple[ActivityPlace, str], list[tuple[Activity, str]]] = {}
    for each in unfit.activities:
        said = _activity_demand(unfit, each)
        rest = said.removeprefix(f"- “{each.name}” takes ")
        alike.setdefault((each.place, rest), []).append((each, said))
    found: list[str] = []
    for (_, rest), every in alike.items():
        if len(every) < _FEW_ALIKE:
            found += [said for _, said in every]
            continue
        first = every[0][0]
        length = span(first.lasting.most)
        by_hand = first.attendance is Attendance.WHOLE
        whole = f", {span(len(every) * first.lasting.most)} together" if by_hand else ""
        found.append(
            f"- “{first.name}” and {len(every) - 1} more like it take {length} each{whole}"
            f"{rest.removeprefix(length)}"
        )
    return found


def _activity_demand(unfit: NoPlan, activity: Activity) -> str:
    length = span(activity.lasting.most)
    shorter = unfit.eased and activity.lasting.elastic
    said = f"- “{activity.name}” takes {length}" + (" at the least" if shorter else "")
    alone = unfit.has("finish") and len(unfit.activities) == 1 and not activity.overnight
    if alone and activity.lasting.least < activity.lasting.most:
        said += f", {span(activity.lasting.least)} at the least,"
    elif activity.lasting.slowest:
        said += f", {_AS.get(activity.lasting.said, activity.lasting.said)},"
    if activity.lasting.most == 0:
        said = f"- “{activity.name}” has its place"
    if unfit.has("overnight", activity.key):
        said = f"- “{activity.name}” goes on{_at_night(activity)}"
    elif unfit.has("night", activity.key):
        said += " and may not go on while the place is closed"
    elif unfit.has("hours", activity.key):
        said += ", with hands at the start or the end"
    if unfit.has("hot", activity.key):
        said += _hot_for(activity)
    done = unfit.work.happened.get(activity.key)
    if done is not None and unfit.has("done", activity.key):
        said += f", begun at {moment_in_words(unfit.work, done.start)}"
    return f"{said.removesuffix(',')}{_line(activity)}."


def _hot_for(activity: Activity) -> str:
    """For how long somebody has to be there for the sake of a hot bath."""
    begins, after = activity.hot_for, activity.hot_after
    at = "from its beginning" if begins else "after it"
    if begins and after:
        at = f"from its beginning and {span(after)} after it"
    return (
        f" and its bath is hotter than {activity.too_hot} for {span(begins or after)} {at}, while "
        "somebody is there"
    )


def _at_night(activity: Activity) -> str:
    """What a step wants that is to go on overnight, with the longest that a night may be."""
    if activity.by_day:
        return " overnight, and may not go on while the place is closed: it is not left alone"
    longest = activity.lasting.longest
    more = f", for {span(longest)} at the most" if longest < A_DAY else ""
    return f" overnight, from the evening to the morning{more}"


def _line(activity: Activity) -> str:
    place = activity.place
    return f" ({place.file}, line {place.line})" if place.line else ""


def wait_in_words(work: Work, lag: Lag) -> str:
    """A wait between two activities as a demand."""
    before, after = work.activity[lag.before], work.activity[lag.after]
    begins = "begin" if lag.reaches is Point.START else "be over"
    since = "the start" if lag.leaves is Point.START else "the end"
    said = f"“{after.name}” has to {begins}"
    if lag.most is None:
        said += f" {span(lag.least)} or more after" if lag.least > 0 else " after"
    elif lag.most == lag.least:
        said += " at" if lag.most == 0 else f" {span(lag.most)} after"
    elif lag.least > 0:
        said += f" {span(lag.least)} to {span(lag.most)} after"
    else:
        said += f" within {span(lag.most)} of"
    said += f" {since} of “{before.name}”"
    return f"{said}, because {lag.why}." if lag.why else f"{said}."


def _resource_demand(work: Work, part: ConstraintGroup) -> str:
    resource = work.resource[part.key]
    if resource.kind == "watch":
        return f"{resource.capacity} pots are the most that all who are there can look after."
    if resource.kind == "people" and resource.key != HANDS:
        return f"{resource.name} does one thing at a time."
    if resource.capacity == 1:
        return f"there is only one {resource.name.removeprefix('the ')}."
    unit = f"{NARROW}{resource.unit}" if resource.unit else ""
    return f"there is only {resource.capacity}{unit} of {resource.name}."


def _opening_times(work: Work) -> str:
    """The hours as they were put, and the days where there are few."""
    first = work.windows[0]
    said = work.hours_said or (
        f"from {moment_in_words(work, first.opens)} to {moment_in_words(work, first.closes)}"
    )
    days = {window.day: window.opens for window in work.windows}
    if work.begins is None or len(days) > _FEW_DAYS:
        return said
    names = [day_of(clock(work.begins, opens)) for opens in days.values()]
    times = [
        f"{time_of(clock(work.begins, w.opens))} to {time_of(clock(work.begins, w.closes))}"
        for w in work.windows
        if w.day == work.windows[0].day
    ]
    said = f"from {listed(times)}"
    return f"{said} on {listed(names)}" + (" only" if len(names) == 1 else "")


def numbered(activity: Activity) -> str:
    """The name of an activity, with its printed number where it has one."""
    return f"“{activity.name}”" + (f" ({activity.printed})" if activity.printed else "")


def sooner(longer: Timetable, shorter: Timetable) -> str:
    """How much sooner all is over the shorter way through the blocks."""
    saved = span(longer.finish - shorter.finish)
    return f"The shorter way through these, all is over {saved} sooner."
