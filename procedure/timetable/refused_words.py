"""Why there is no plan, in words: one short reason with its lines, and what would do."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.timetable.amounts_told import amount_of
from procedure.timetable.bounding import row_over_at, too_few_hands
from procedure.timetable.hours import MOST_DAYS, clock
from procedure.timetable.lacking import longest_day, of_the_day, of_the_night
from procedure.timetable.planned_words import (
    day_of,
    moment_in_words,
    one_more_of,
    span,
    time_of,
)
from procedure.timetable.reasons import NoPlan, WayOut
from procedure.timetable.too_few_nights import too_few_nights
from procedure.timetable.unparted import too_long_for_a_day
from procedure.timetable.work import (
    HANDS,
    Activity,
    ActivityPlace,
    Attendance,
    Lag,
    Point,
    Resource,
    Work,
)

_AS = {"estimated": "as estimated", "common practice": "as is usual"}
_FEW_DAYS = 4
_FEW_ALIKE = 3
_MOST_STEPS = 4
"""Of more steps than this those that take longest are told, and how long all take."""
_LONGEST = 3
_MOST_WAITS, _MANY_WAITS = 2, 6
_TWO = 2


def refusal(unfit: NoPlan) -> str:
    """Why there is no plan, with the lines that ask for what cannot be had, and what would do."""
    if (beyond := _beyond_all_days(unfit)) is not None:
        return beyond
    short = _too_few_hands(unfit)
    nights = _too_few_nights(unfit)
    counted = nights or _unparted(unfit)
    demands = short or _each_file_once(unfit, counted or _demands(unfit))
    sentences = [_opening(unfit), *demands, *_of_hours(unfit, bool(nights))]
    if unfit.finish is not None:
        days = "1 day" if unfit.days == 1 else f"{unfit.days} days"
        when = moment_in_words(unfit.work, unfit.finish)
        over = "With the same hours, and no step shorter than it may take, it can be over"
        if not unfit.has("finish"):
            over = "With the same hours it can be over"
        if unfit.every_day:
            over = "If the place were open every day it could be over"
        sentences.append(f"{over} at {when}; that takes {days} of somebody's time.")
    if unfit.stay:
        sentences.append(
            f"If somebody could stay for {_longer(unfit, unfit.stay)} it could be over at "
            f"{moment_in_words(unfit.work, unfit.stayed)}."
        )
    sentences += [_way_out(unfit, each) for each in unfit.ways_out]
    if not unfit.smallest and not short and not counted:
        sentences.append("There may be a smaller reason than this; it was not found in the time.")
    return "\n".join(sentences)


def _beyond_all_days(unfit: NoPlan) -> str | None:
    """What takes longer than a timetable goes on for, with what to do; None where nothing does."""
    work = unfit.work
    if work.finish_by is not None or not work.windows or not work.activities:
        return None
    # Of a few evenings there may be no more than a few hours, and another reason.
    reaches = max(work.windows[-1].closes - work.windows[0].opens, MOST_DAYS * A_DAY)
    longest = max(work.activities, key=lambda one: one.lasting.least)
    if longest.lasting.least <= reaches:
        return None
    line = f" (line {longest.place.line})" if longest.place.line else ""
    return (
        f"This is too long for a timetable: “{longest.name}”{line} takes at least "
        f"{span(longest.lasting.least)}, and a timetable goes on for {MOST_DAYS} days of opening "
        "at the most. Write what comes before it and what comes after it in files of their own, "
        "and plan each of them by itself."
    )


def _longer(unfit: NoPlan, minutes: int) -> str:
    """So much longer of an evening, with the time on the clock."""
    begins = unfit.work.begins
    if begins is None:
        return f"{span(minutes)} longer"
    closes = clock(begins, unfit.work.windows[-1].closes + minutes)
    return f"{span(minutes)} longer, until {time_of(closes)},"


def _way_out(unfit: NoPlan, way: WayOut) -> str:
    """Something that would do."""
    over = f"it could be over at {moment_in_words(unfit.work, way.finish)}"
    if way.left:
        names = [f"“{name}”" for name in dict.fromkeys(each.name for each in way.left)]
        more = len(names) - _LONGEST
        if more > 0:
            names[_LONGEST:] = [f"{more} more"]
        goes = "goes on by itself" if len(names) == 1 else "go on by themselves"
        when = moment_in_words(unfit.work, way.finish)
        return f"All hands-on work can be done by {when}; {listed(names)} then {goes}."
    if way.resource is not None:
        return f"With {one_more_of(way.resource, way.more)} {over}."
    if way.without:
        return f"Without “{way.without}” {over}."
    if way.lasting is not None:
        least = span(way.lasting.lasting.most)
        return (
            f"If “{way.lasting.name}” may go on for longer, write “for at least {least}” there: "
            f"{over}."
        )
    if way.lag is not None:
        before, after = (unfit.work.activity[key] for key in (way.lag.before, way.lag.after))
        since = "begins" if way.lag.leaves is Point.START else "is over"
        longest = span(way.lag.most or 0)
        late = f"later than {longest} after “{before.name}” {since}"
        return f"If “{after.name}” might come {late}, {over}."
    daily = "" if way.already_daily else "the place were open every day and "
    return f"If {daily}somebody could stay for {_longer(unfit, way.stay)} it could be done."


def _opening(unfit: NoPlan) -> str:
    work = unfit.work
    if unfit.has("finish"):
        assert work.finish_by is not None
        return f"It cannot be over by {moment_in_words(work, work.finish_by)}:"
    return "This cannot be done; these demands do not go together:"


def _each_file_once(unfit: NoPlan, demands: Sequence[str]) -> list[str]:
    """The demands, with the name of a file only where it is another than in the one before."""
    files = {each.place.file for each in unfit.activities if each.place.line}
    if len(files) != 1:
        return [*demands]
    (file,) = files
    first = next((i for i, each in enumerate(demands) if f"({file}, " in each), 0)
    return [
        each if i < first else _all_but_the_first(each, f"({file}, ", "(", i == first)
        for i, each in enumerate(demands)
    ]


def _all_but_the_first(text: str, old: str, new: str, keep: bool) -> str:
    if not keep:
        return text.replace(old, new)
    head, found, tail = text.partition(old)
    return f"{head}{found}{tail.replace(old, new)}"


def _demands(unfit: NoPlan) -> list[str]:
    work = unfit.work
    said = _activity_demands(unfit)
    in_a_row = len(unfit.activities) > 1 and _in_a_row(unfit)
    waits = [_wait_demand(work, unfit, lag) for lag in unfit.lags if not in_a_row or lag.most]
    if len(said) > _MOST_STEPS:
        said = _folded(unfit)
        # Where the time ended the search for the smallest reason, no wait is known to be in it.
        bound = [lag for lag in unfit.lags if lag.most and lag.why and unfit.smallest]
        bound.sort(key=lambda lag: lag.most or 0)
        waits = [_wait_demand(work, unfit, lag) for lag in bound[:_MOST_WAITS]]
    elif in_a_row:
        said.append(_row_in_words(unfit))
    elif len(list(filter(None, waits))) > _MANY_WAITS:
        waits = _waits_by_reason(unfit)
    return list(dict.fromkeys([*said, *filter(None, waits), *_resource_demands(unfit)]))


def _too_few_nights(unfit: NoPlan) -> list[str]:
    """The steps that take a night each, one after the other, where there are too few nights."""
    found = too_few_nights(unfit.work)
    # Where there is no night, or an end is asked for, fewer demands tell it.
    if found is None or len(found[0]) < _TWO or not found[1] or unfit.has("finish"):
        return []
    row, nights = found
    names = [_with_its_line(each) for each in row]
    there = "is 1 night" if nights == 1 else f"are {nights} nights"
    return [
        f"- {listed(names)} take a night each, one after the other, and there {there} for them."
    ]


def _unparted(unfit: NoPlan) -> list[str]:
    """Of many demands, the steps of one day that are too long for any, where there are such."""
    told = len(_activity_demands(unfit)) + len(unfit.lags)
    found = too_long_for_a_day(unfit.work) if told > _MOST_STEPS else None
    if found is None:
        return []
    first, last = found.steps[0], found.steps[-1]
    least = " at the least" if unfit.eased else ""
    between = ""
    if found.longest is not None and found.longest.most:
        because = f", because {found.longest.why}" if found.longest.why else ""
        between = f": the longest that one may wait for the next is {span(found.longest.most)}"
        between += because
    return [
        f"- {len(found.steps)} steps, from {_with_its_line(first)} to {_with_its_line(last)}, take "
        f"{span(found.minutes)}{least} one after the other.",
        f"- No night may come between them{between}.",
    ]


def _too_few_hands(unfit: NoPlan) -> list[str]:
    """Of many steps for which hands alone are too few, how many are wanted and are there."""
    work = unfit.work
    scarce = {part.key for part in unfit.parts if part.kind == "resource"}
    if scarce - {HANDS} or len(_activity_demands(unfit)) <= _MOST_STEPS:
        return []
    short = too_few_hands(work, HANDS)
    if short is None:
        return []
    count = work.resource[HANDS].capacity
    hands = "one pair of hands" if count == 1 else f"{count} pairs of hands"
    if any(each.kind == "people" and each.key != HANDS for each in work.resources):
        hands = f"{listed(work.resource[HANDS].units)} for it"  # others work at their lots alone
    by_hand = [a for a in work.activities if a.attendance is Attendance.WHOLE]
    least = unfit.eased and any(each.lasting.elastic for each in by_hand)
    much = f"{span(short.minutes)} of hands-on work{' at the least' if least else ''}"
    said, until = f"There are {much}", "until then" if unfit.has("finish") else "in all"
    if short.after:
        by = moment_in_words(work, short.until)
        said = f"By {by} {much} have to be done, since {span(short.after)} have to follow"
    return [f"- {said}; the place is open for {span(short.there)} {until}, with {hands}."]


def _waits_by_reason(unfit: NoPlan) -> list[str]:
    """Of many waits, one of each kind, with how many more there are: the shortest kinds alone."""
    alike: dict[tuple[str, int, Point, Point], list[Lag]] = defaultdict(list)
    for lag in unfit.lags:
        if lag.most and lag.why:
            alike[lag.why, lag.most, lag.leaves, lag.reaches].append(lag)
    kinds = sorted(alike.values(), key=lambda lags: lags[0].most or 0)[:_MOST_STEPS]
    said = []
    for first, *more in (lags for lags in alike.values() if lags in kinds):
        like_it = f"; so {_as_many(len(more))} more like it" if more else ""
        said.append(f"- {wait_in_words(unfit.work, first).removesuffix('.')}{like_it}.")
    return said


def _as_many(number: int) -> str:
    return f"does {number}" if number == 1 else f"do {number}"


def _wait_demand(work: Work, unfit: NoPlan, lag: Lag) -> str:
    """A wait of a reason; empty where it is but that one comes after the other."""
    if unfit.has("greatest wait", str(work.lags.index(lag))):
        return f"- {wait_in_words(work, lag)}"
    return f"- {wait_in_words(work, replace(lag, most=None))}" if lag.least else ""


def _row_in_words(unfit: NoPlan) -> str:
    """How long steps take that follow one another."""
    last = unfit.activities[-1]
    hot = last.hot_after if unfit.has("hot", last.key) else 0
    whole = sum(each.lasting.most for each in unfit.activities) + hot
    until = f", until the bath may be left {span(hot)} after" if hot else ""
    if last.hot_for and unfit.has("hot", last.key) and not unfit.has("night", last.key):
        # It goes on by itself then, and only so long is somebody there.
        whole, until = whole - last.lasting.most + last.hot_for, ", until the bath may be left"
    over = _over_at(unfit, unfit.activities, whole)
    return f"- One after the other that is {span(whole)}{until}, without any wait{over}."


def _over_at(unfit: NoPlan, row: Sequence[Activity], minutes: int) -> str:
    """When steps in a row are over at the soonest, where it is the hours that make it too late."""
    work = unfit.work
    if work.finish_by is None or not unfit.has("finish") or work.done:
        return ""
    over = row_over_at(work, [each.key for each in row])
    if work.now + minutes > work.finish_by or over <= work.finish_by:
        return ""
    return f"; in these hours the last is over at {moment_in_words(work, over)} at the soonest"


def _folded(unfit: NoPlan) -> list[str]:
    """Many steps in two sentences: how long they take in a row, and which take longest."""
    row, minutes = _longest_row(unfit)
    least = " at the least" if unfit.eased else ""
    told = unfit.activities
    beside = len(told) - len(row)
    more = f" {beside} more steps have to go in beside them." if beside > 1 else ""
    more = " One more step has to go in beside them." if beside == 1 else more
    said = (
        f"- {len(row)} steps, from {_with_its_line(row[0])} to {_with_its_line(row[-1])}, take "
        f"{span(minutes)}{least} one after the other{_over_at(unfit, row, minutes)}.{more}"
    )
    names = [f"{_with_its_line(each)} {span(minutes)}" for each, minutes in _longest(unfit)]
    return [said, f"- The longest of all these: {listed(names)}."]


def _longest(unfit: NoPlan) -> list[tuple[Activity, int]]:
    """The steps that take longest of the hours, one of each line, and how long they do."""
    followed = {lag.before for lag in unfit.lags}
    of_line: dict[tuple[ActivityPlace, str], tuple[Activity, int]] = {}
    for each in unfit.activities:
        minutes = each.lasting.most if each.key in followed else _there_for(unfit, each)
        key = each.place, "" if each.place.line else each.key
        if key not in of_line or minutes > of_line[key][1]:
            of_line[key] = each, minutes
    return sorted(of_line.values(), key=lambda each: -each[1])[:_LONGEST]


def _with_its_line(activity: Activity) -> str:
    return f"“{activity.name}”{_line(activity)}"


def _longest_row(unfit: NoPlan) -> tuple[list[Activity], int]:
    """The steps of a reason that take longest one after the other, and how long that is.

    Of what goes on by itself at the end, and may do so while the place is closed, only the
    minutes of hands at its start count.
    """
    known = {each.key: each for each in unfit.activities}
    into: dict[str, list[Lag]] = defaultdict(list)
    for lag in unfit.lags:
        if lag.before in known and lag.after in known and lag.least >= 0:
            into[lag.after].append(lag)
    rows: dict[str, tuple[int, list[Activity]]] = {}

    def row_to(key: str) -> tuple[int, list[Activity]]:
        """When a step may begin at the soonest, and what is before it."""
        if key not in rows:
            rows[key] = 0, []
            for lag in into[key]:
                begun, before = row_to(lag.before)
                one = known[lag.before]
                at = begun + lag.least + (one.lasting.most if lag.leaves is Point.END else 0)
                at -= known[key].lasting.most if lag.reaches is Point.END else 0
                if (at, len(before)) >= (rows[key][0], len(rows[key][1])):
                    rows[key] = max(0, at), [*before, one]
        return rows[key]

    found = []
    for key, each in known.items():
        begun, before = row_to(key)
        found.append((begun + _there_for(unfit, each), [*before, each]))
    minutes, row = max(found, key=lambda each: (each[0], len(each[1])))
    return row, minutes


def _there_for(unfit: NoPlan, last: Activity) -> int:
    """The minutes of the last step of a row that have to lie in the hours."""
    if unfit.has("finish") or unfit.has("night", last.key):
        return last.lasting.most
    if unfit.has("hot", last.key):
        return max(last.hot_for, last.lasting.most + last.hot_after if last.hot_after else 0)
    alone = last.attendance in (Attendance.ENDS, Attendance.NONE) and not last.at_end
    return last.at_start if alone else last.lasting.most


def _of_hours(unfit: NoPlan, of_nights: bool) -> list[str]:
    """The hours where they are part of the reason, and by how much they are too short."""
    said = _short_of_hours(unfit)
    if of_nights or any(unfit.has(kind) for kind in ("night", "hours", "overnight", "hot")):
        said.insert(0, f"- the place is open {_opening_times(unfit.work)}.")
    return list(dict.fromkeys(said))


def _short_of_hours(unfit: NoPlan) -> list[str]:
    """What the hours lack for one step by itself, and how much longer would do for it."""
    nights = [opens - closes for closes, opens in unfit.work.nights]
    said = []
    for each in unfit.activities:
        if each.no_lid and unfit.has("night", each.key):
            said.append(
                f"- With a lid on, “{each.name}” may be left: write “covered” there, or “lidded” "
                "with its pot."
            )
        alone = each.lasting.longest - each.hot_for
        too_long, too_short = of_the_night(unfit, each), of_the_day(unfit, each)
        if unfit.has("overnight", each.key) and nights and min(nights) > max(alone, A_DAY):
            said.append("- It is never open on two days running, which this needs.")
        elif too_long:
            more = f": {span(too_long)} longer on one evening, or sooner the morning after,"
            do = f"{more} would do for this" if too_long in unfit.enough else ""
            said.append(
                f"- From one day to the next it is closed for {span(min(nights))} at the least{do}."
            )
        elif too_short:
            said.append(_by_day_or_over_a_night(unfit, each, too_short))
    return said


def _by_day_or_over_a_night(unfit: NoPlan, each: Activity, missing: int) -> str:
    """By how much every day is too short for a step, and every night too long for it."""
    work = unfit.work
    night = min((opens - closes for closes, opens in work.nights), default=0)
    said = f"- The longest time that it is open is {span(longest_day(work))}"
    beyond = night - each.at_a_pinch
    if each.at_a_pinch and not unfit.has("hot", each.key) and 0 < beyond < missing:
        return (
            f"{said}, and it may be left over a night for {span(each.at_a_pinch)} at the most: "
            f"from one day to the next it is closed for {span(night)}, {span(beyond)} too long."
        )
    if missing not in unfit.enough or (unfit.stay and unfit.stay < missing):
        return f"{said}."  # less than that would do in another way, or this is not all it takes
    return f"{said}; {span(missing)} more on one day would do for this."


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
        said += f" and may not go on while the place is closed{_since(activity)}"
    elif unfit.has("hours", activity.key):
        said = f"{said.removesuffix(',')}, with hands at the start or the end"
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
        why = _since(activity) or ": it is not left alone"
        return f" overnight, and may not go on while the place is closed{why}"
    longest = activity.lasting.longest
    more = f", for {span(longest)} at the most" if longest < A_DAY else ""
    return f" overnight, from the evening to the morning{more}"


def _since(activity: Activity) -> str:
    return f", since {activity.by_day_since}" if activity.by_day_since else ""


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


def _resource_demands(unfit: NoPlan) -> list[str]:
    """What there is too little of: a sentence for all of which there is but one."""
    found = [unfit.work.resource[part.key] for part in unfit.parts if part.kind == "resource"]
    singles = [each for each in found if each.capacity == 1 and not _by_name(each)]
    names = [f"one {each.name.removeprefix('the ')}" for each in singles]
    said = [f"- there is only {listed(names)}{_wanted_for(unfit, singles)}."] if names else []
    for each in found:
        if each.kind == "watch":
            said.append(
                f"- {each.capacity} pots are the most that all who are there can look after."
            )
        elif _by_name(each):
            said.append(f"- {each.name} does one thing at a time.")
        elif each.capacity != 1:
            said.append(f"- there is only {amount_of(each, each.capacity)} of {each.name}.")
    return said


def _wanted_for(unfit: NoPlan, singles: Sequence[Resource]) -> str:
    """For how long the only hotplate is wanted, where many steps take turns at it."""
    keys = [each.key for each in singles if each.kind == "burner"]
    wants = [
        each.lasting.most
        for each in unfit.activities
        if each.by_day and any(need.resource in keys for need in each.needs)
    ]
    if len(keys) != 1 or len(wants) <= _FEW_ALIKE:
        return ""
    what = "" if len(singles) == 1 else "the hotplate "
    least = " at the least" if unfit.eased else ""
    return f", {what}wanted for {span(sum(wants))}{least} by {len(wants)} of these steps"


def _by_name(resource: Resource) -> bool:
    """Whether it is a person who works at the own lot alone, or what people can look after."""
    return resource.kind == "watch" or (resource.kind == "people" and resource.key != HANDS)


def _opening_times(work: Work) -> str:
    """The hours as they were put, and the days where there are few."""
    first = work.windows[0]
    said = work.hours_said or (
        f"from {moment_in_words(work, first.opens)} to {moment_in_words(work, first.closes)}"
    )
    if work.begins is None or len(work.days) > _FEW_DAYS:
        return said
    names = [day_of(clock(work.begins, opens)) for opens, _ in work.days]
    times = [
        f"{time_of(clock(work.begins, w.opens))} to {time_of(clock(work.begins, w.closes))}"
        for w in work.open_on[first.day]
    ]
    said = f"from {listed(times)}"
    return f"{said} on {listed(names)}" + (" only" if len(names) == 1 else "")
