"""Work to be timed from plans: steps to activities, pots to holds, what flows to waits."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from pathlib import Path

from procedure.facts.handling import deadly_words
from procedure.flow.printed_numbers import printed_numbers
from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.timetable.alike_baths import bath_called
from procedure.timetable.cooled_between import cool_first, to_cool_first
from procedure.timetable.cooled_with_fibre import cooled_with_fibre, with_fibre_in
from procedure.timetable.done_steps import done_by_then, hardly_so, is_late, late_by_now
from procedure.timetable.gathered import Gathered
from procedure.timetable.going_on import begun_by_themselves
from procedure.timetable.heat_of_vats import vats_of
from procedure.timetable.hours import clock, longest_night, minutes_between, windows
from procedure.timetable.in_baths import lies_in_a_bath
from procedure.timetable.late_heats import FromCold, from_cold, heated_again, to_heat_again
from procedure.timetable.lengths import NOW_AND_THEN, Course, courses
from procedure.timetable.order_of_turns import Order
from procedure.timetable.participants import check_participants, hands_of, resources_of
from procedure.timetable.planned_words import day_of, time_of
from procedure.timetable.plates import (
    RINGS,
    Plates,
    heating_needs,
    line_needs,
    named_plate,
    of_rises,
    of_unknown_power,
    plates_of,
    ring_needs,
)
from procedure.timetable.plates import resources as of_plates
from procedure.timetable.pots_held import Holding, clean_between
from procedure.timetable.poured_away import cooled_first, hot_still
from procedure.timetable.printed import amounts_of, letter
from procedure.timetable.rounds import Rounds, many_rounds
from procedure.timetable.several_pots import several_pots
from procedure.timetable.soiled_tubs import uses_of
from procedure.timetable.step_names import file_of, heat_told, name_of, weighs_in_pounds
from procedure.timetable.terms import Asked
from procedure.timetable.too_hot import mark_hot
from procedure.timetable.turns_at_a_vat import one_at_a_time, turns_in_words
from procedure.timetable.usual import usual
from procedure.timetable.work import (
    HANDS,
    SEE_TO_ITS_HEAT,
    STIR_IT,
    TURN_OFF,
    TURN_THE_FIBRE,
    WATCH,
    Activity,
    ActivityPlace,
    Attendance,
    Lag,
    Need,
    Resource,
    Window,
    Work,
)
from procedure.timetable.written_out import HEATED, Turn, Unrolled, unrolled
from procedure.vocabulary.thresholds import threshold

_OFF = 5
"""Minutes to turn a plate off and look at what is on it (common practice)."""
SINKS = "sinks"


@dataclass(frozen=True)
class Drawn:
    """The work of some plans, and sentences on what was supposed.

    ``longer_way`` holds where a block may be left out, or come fewer times than planned.
    """

    work: Work
    supposed: tuple[str, ...]
    longer_way: bool = False


def work_of(plans: Sequence[Judged], asked: Asked, longer: bool = True) -> Drawn:
    """The plans as one piece of work in one workshop; pots of one name are one pot.

    Blocks are planned the ``longer`` way: what may be left out is done, and a repeat comes as
    often as it may.
    Raises :class:`~procedure.timetable.hours.BadHours` where the place is never open and
    :class:`~procedure.timetable.done_steps.NoSuchStep` for a step that is said to be done and is
    none, and :class:`~procedure.timetable.participants.NoLotOf` for one without a lot.
    """
    plates = plates_of(plans, asked)
    check_participants(plans, asked.participants)
    declared, supposed = ({}, []) if asked.pots else several_pots(plans)
    copies = {f"pot {name}": count for name, count in (*declared.items(), *asked.pots)}
    open_at = _open_at(asked)
    made = Gathered(
        plates,
        asked.line,
        asked.participants,
        copies,
        asked.sinks,
        longest_night(open_at),
        len(asked.hours.times) > 1,
    )
    either_way = False
    cold: dict[str, FromCold] = {}
    for number, plan in enumerate(plans):
        prefix = f"{number + 1}: " if len(plans) > 1 else ""
        all_turns = unrolled(plan, prefix, longer, [each.step for each in asked.happened])
        supposed += all_turns.supposed
        either_way = either_way or all_turns.either_way
        name = _project(plan)
        same = [_project(each) for each in plans[: number + 1]].count(name)
        letters = letter(number) if len(plans) > 1 else ""
        _plan(made, all_turns, f"{name} ({same})" if same > 1 else name, letters)
        made.turns += one_at_a_time(plan, prefix, all_turns.turns, made.activities)
        cold |= from_cold(plan, plates, all_turns.turns) if asked.happened else {}
    clean_between(made)
    _somebody_near_what_is_hot(made)
    if asked.rings is None and not plates.watts and any(_heats(each) for each in made.activities):
        supposed.append("No hotplate is declared; planned for one pot on the heat at a time.")
    supposed += made.apart
    done = done_by_then(made, asked)
    now = minutes_between(asked.begins, asked.now) if asked.now is not None else 0
    known = {each.key: each for each in made.activities}
    done += tuple(begun_by_themselves(made.goes_on, made.lags, done, now))
    lags, late = late_by_now(made.lags, known, done, max(now, 0), open_at)
    rest = known.keys() > {each.key for each in done if each.end is not None}
    late_lags = [lag for lag in lags if is_late(lag)]
    work = Work(
        tuple(heated_again(made.activities, late_lags, cold)),
        tuple(lags),
        tuple(made.holds),
        _resources(made, asked, all(weighs_in_pounds(plan) for plan in plans)),
        open_at,
        asked.begins,
        minutes_between(asked.begins, asked.finish_by) if asked.finish_by else None,
        done,
        max(now, 0),
        _title(plans),
        asked.hours_said,
        tuple(dict.fromkeys(line for plan in plans for line in deadly_words(plan.study))),
        notes=(
            *_from_when(asked, now, rest),
            *hardly_so(made.lags, known, done, asked.begins),
            *late,
        ),
        in_order=_in_order(made) if len(plans) == 1 else (),
        at_leisure=frozenset(made.at_leisure),
        warmth=(*made.warmth, *to_heat_again(late_lags, cold)),
        vats=tuple(made.vats),
        waters=tuple(made.waters),
        grams=tuple((whose, lot, grams) for (whose, lot), grams in made.grams.items()),
    )
    return Drawn(work, tuple(dict.fromkeys(supposed)), longer and either_way)


def _open_at(asked: Asked) -> tuple[Window, ...]:
    """When the place is open: from now on, and before that on days on which something happened."""
    found = windows(asked.begins, asked.hours, since=asked.now)
    if asked.now is None:
        return found
    moments = [m for each in asked.happened for m in (each.start, each.end) if m is not None]
    days = {(moment.date() - asked.begins.date()).days for moment in moments}
    now = minutes_between(asked.begins, asked.now)
    return tuple(each for each in found if each.closes > now or each.day in days)


def _from_when(asked: Asked, now: int, rest: bool) -> list[str]:
    """From when the rest is planned, where something has happened and there is a rest."""
    if asked.now is None or now <= 0 or not rest:
        return []
    moment = clock(asked.begins, now)
    return [f"Planned again from {time_of(moment)} on {day_of(moment)}; what is done stays done."]


def _in_order(made: Gathered) -> tuple[str, ...]:
    """What is begun in the order of the text; wetting out, in time for what wants it.

    So is a bath that is made up, after which nothing written before has to wait.
    """
    led_to = {lag.after for lag in made.lags if lag.least >= 0}
    return tuple(
        each.key
        for each in made.activities
        if each.key in led_to or not (each.lasting.elastic or each.key in made.made_up)
    )


def _project(plan: Judged) -> str:
    return plan.model.title.text if plan.model.title else Path(plan.file).stem


def _somebody_near_what_is_hot(made: Gathered) -> None:
    """Whoever is out in the field is not near a bath that is too hot to be alone."""
    away = Need(WATCH, _eyes())
    if not any(away in each.needs for each in made.activities):
        return
    made.activities[:] = [
        replace(each, hot_needs=(Need(WATCH),)) if each.hot_for or each.hot_after else each
        for each in made.activities
    ]


def _title(plans: Sequence[Judged]) -> str:
    return "; ".join(dict.fromkeys(_project(plan) for plan in plans))


def _heats(activity: Activity) -> bool:
    return any(need.resource == RINGS for need in activity.needs)


def _resources(made: Gathered, asked: Asked, in_pounds: bool) -> tuple[Resource, ...]:
    hands = len(asked.hands)
    eyes = _eyes()
    watched = eyes * (hands + len(made.participants))
    return (
        *(_vessel(made, key, name) for key, name in made.pots.items()),
        *_sinks(made),
        *of_plates(made.plates, made.activities, made.line, in_pounds),
        Resource(
            HANDS, "pair of hands", "people", hands, asked.hands, comes_with=(Need(WATCH, eyes),)
        ),
        *resources_of(made.participants),
        *made.turns,
        Resource(WATCH, "watching", "watch", watched, one_more=False),
    )


def _vessel(made: Gathered, key: str, name: str) -> Resource:
    kind, count = ("tub" if key in made.tubs else "pot"), made.copies.get(key, 1)
    units = tuple(f"{name} {i + 1}" for i in range(count)) if count > 1 else ()
    called = f"the {name}" if count == 1 else name
    return Resource(key, called, kind, count, units, lidded=key not in made.lidless)


def _sinks(made: Gathered) -> tuple[Resource, ...]:
    wanted = any(need.resource == SINKS for each in made.activities for need in each.needs)
    if made.sinks is None or not wanted:
        return ()
    units = tuple(f"sink {i + 1}" for i in range(made.sinks)) if made.sinks > 1 else ()
    return (Resource(SINKS, "sink", "tub", made.sinks, units),)


def _wants_a_sink(turn: Turn) -> bool:
    """What is done at a tap or a drain: pouring away, cleaning, rinsing in no vessel named."""
    node = turn.node
    at_tap = node.own_water and not node.pot and turn.node.does.washes_out
    return at_tap or node.does.empties or bool(node.cleaned)


def _eyes() -> int:
    """How many pots one person can look after at once."""
    return int(threshold("pots watched").value)


# ------------------------------------------------------------------ one plan


def _plan(made: Gathered, all_turns: Unrolled, project: str, letters: str) -> None:
    plan, turns = all_turns.plan, all_turns.turns
    numbers = printed_numbers(plan.flow.top)
    goes = courses(plan, turns, made.night, made.breaks)
    made.apart += of_rises(
        made.plates, [named_plate(plan, turn) for turn in turns if goes[turn.key].warms]
    )
    if any(goes[turn.key].warms for turn in turns):
        made.apart += of_unknown_power(plan)
    first_of: dict[str, str] = {}
    last_of: dict[str, str] = {}
    made.apart += [told for turn in turns if (told := _guessed(turn))]
    holding = Holding(made, plan)
    cooled = cooled_with_fibre(turns)
    order = Order(made, plan, first_of, last_of, cooled)
    rounds = Rounds(made)
    left_so: dict[str, str] = {}
    often, came = Counter(turn.node.id for turn in turns), Counter[int]()
    for _, together in groupby(turns, lambda turn: turn.bundle or turn.key):
        group = list(together)
        own: list[Need] = []
        pieces: list[Activity] = []
        for turn in group:
            came[turn.node.id] += 1
            printed = letters + numbers[turn.node.id]
            pieces += [
                replace(each, printed=printed, round=(came[turn.node.id], often[turn.node.id]))
                for one in _pieces(made, plan, turn, goes[turn.key], project)
                for each in (with_fibre_in(plan, one, turn, cooled),)
            ]
            own += holding.turn(turn)
        if group[0].bundle is not None:
            pieces = list(many_rounds(group[0].bundle, group, pieces))
        pieces = [
            replace(each, needs=tuple(dict.fromkeys((*each.needs, *own))))
            if each is pieces[0] or group[0].bundle is not None
            else each
            for each in pieces
        ]
        made.activities += pieces
        for one, two in pairwise(pieces):
            soon = 0 if group[0].bundle is None else None
            made.lags.append(Lag(one.key, two.key, 0, soon, near=soon is None))
        for turn in group:
            first_of[turn.key], last_of[turn.key] = pieces[0].key, pieces[-1].key
            if turn.node.does.prepares:
                made.made_up.add(pieces[0].key)
            if _goes_on_by_itself(turn):
                after = left_so.get(turn.node.bath, "") if turn.node.does.cools else ""
                made.goes_on[pieces[0].key] = after
            if turn.node.bath and not turn.node.does.takes_out:
                left_so[turn.node.bath] = last_of[turn.key]
            if turn.node.does.empties or turn.node.cleaned:
                made.at_leisure.add(pieces[0].key)
        for turn in group:
            order.turn(turn)
        rounds.turn(group[0], pieces[0])
    holding.finish(first_of, last_of)
    order.finish()
    made.apart += turns_in_words(plan, order.vats)
    cooler = {*to_cool_first(plan, turns)}
    _turn_off(made, turns, last_of, cooler)
    cool_first(made, plan, turns, first_of, last_of)
    known = {each.key: each for each in made.activities}
    made.vats += vats_of(plan, made.plates, turns, last_of, known)
    made.lags += cooled_first(plan, turns, first_of, last_of)
    made.grams |= _grams(plan, turns, project) if made.line is not None else {}
    made.waters += uses_of(made, plan, turns, first_of)
    too_hot = heat_told(plan, threshold("unattended heat").value)
    mark_hot(made, plan, turns, last_of, too_hot, cooler)


def _guessed(turn: Turn) -> str:
    """That nobody says how long fibre lies in a bath, where that is until something is seen."""
    until = turn.step.until
    words = until.words.text if until is not None and until.words is not None else ""
    if not words or turn.moment.minutes is not None or turn.node.does.cools:
        return ""
    if not turn.node.bath or not lies_in_a_bath(turn):
        return ""
    return f"Line {turn.line}: nobody says how long it is “until {words}”; its time is a guess."


def _grams(plan: Judged, turns: tuple[Turn, ...], project: str) -> dict[tuple[str, str], int]:
    """What the lots of a plan weigh dry, as far as it is known."""
    return {
        (project, plan.study.called(lot)): round(state.weight.high)
        for turn in turns
        for lot, state in turn.moment.after.lots.items()
        if state.weight is not None
    }


def _pieces(
    made: Gathered, plan: Judged, turn: Turn, course: Course, project: str
) -> list[Activity]:
    """A step as one activity, or with the heating of what it has put together as a second."""
    activity = _activity(made, plan, turn, course, project)
    if course.heating is None:
        return [activity]
    heating = _heating(made.plates, turn, course, project, plan)
    does = turn.node.does
    if not does.dips and not does.puts_fibre_in:
        return [activity, heating]
    # Fibre comes into a bath that is warm; the plate is off before it does.
    heating = replace(heating, at_end=_OFF, awaited=activity.lots)
    return [heating if course.off_the_plate else replace(heating, ending=TURN_OFF), activity]


def _goes_on_by_itself(turn: Turn) -> bool:
    """Whether it begins alone when the step before is over: a bath cools, or stands, fibre airs."""
    does = turn.node.does
    return does.settles or does.airs or (does.in_air and lies_in_a_bath(turn))


def _turn_off(
    made: Gathered, turns: tuple[Turn, ...], last_of: dict[str, str], cooler: set[str]
) -> None:
    """A plate is turned on when a step on it begins, and off when the last is over, by hand.

    Only where the next thing that is done to the bath wants the heat does it stay on, and not
    where its bath is ``cooler``.
    """
    after_cooling = {last_of[key] for key in cooler}
    number = {each.key: i for i, each in enumerate(made.activities)}
    on_plate = {
        each.key: any(need.resource == RINGS for need in each.needs) for each in made.activities
    }
    of_bath: dict[str, list[str]] = {}
    for turn in turns:
        # A lift between two times on the plate is no reason to turn it off.
        if turn.node.bath and not turn.node.does.takes_out:
            of_bath.setdefault(turn.node.bath, []).append(last_of[turn.key])
    for keys in of_bath.values():
        is_on = False
        for key, later in zip(keys, [*keys[1:], ""], strict=True):
            stays_on = later and on_plate[later] and later not in after_cooling
            if on_plate[key] and not is_on:
                made.activities[number[key]] = _turned_on(made.activities[number[key]])
            is_on = on_plate[key]
            each = made.activities[number[key]]
            if stays_on and each.ending == TURN_OFF:
                made.activities[number[key]] = replace(each, ending="", at_end=0)
            if not on_plate[key] or stays_on or each.at_end:
                continue
            if each.attendance is Attendance.WHOLE:
                each = replace(each, cautions=(*each.cautions, "Turn the plate off at the end."))
            elif each.lasting.most >= each.at_start + _OFF:
                each = replace(each, at_end=_OFF, ending=TURN_OFF)
            else:
                each = replace(each, ending=TURN_OFF)
            made.activities[number[key]] = each


def _turned_on(each: Activity) -> Activity:
    """A step with somebody there to turn its plate on; most have hands at their start anyway."""
    if each.at_start or each.attendance in (Attendance.WHOLE, Attendance.NONE):
        return each
    minutes = min(usual("", "turning on").low, each.lasting.most)
    left = max(0, each.lasting.most - minutes)
    return replace(each, at_start=minutes, at_end=min(each.at_end, left))


def _activity(made: Gathered, plan: Judged, turn: Turn, course: Course, project: str) -> Activity:
    common, lasting = course.usual, course.lasting
    attendance = common.attendance
    on_plate = course.on_heat and course.heating is None
    makes = turn.node.does.makes_bath
    if attendance is Attendance.WHOLE and makes and on_plate and lasting.most > common.high:
        # A preparing that is written with its heating: stay at the start, then look at it.
        attendance = Attendance.NOW_AND_THEN
    if course.overnight and attendance is Attendance.NONE:
        attendance = Attendance.ENDS
    at_start, at_end = common.at_start, common.at_end
    least = lasting.most
    every = common.every or (15 if attendance is Attendance.NOW_AND_THEN else 0)
    needs: list[Need] = []
    if on_plate:
        needs += ring_needs(made.plates, named_plate(plan, turn))
        if course.warms:
            needs += heating_needs(made.plates, named_plate(plan, turn), course.watts)
    if made.line is not None:
        needs += line_needs(turn)
    if attendance is Attendance.NOW_AND_THEN:
        needs.append(Need(WATCH))
    if made.sinks is not None and _wants_a_sink(turn):
        needs.append(Need(SINKS))
    if turn.node.does.gathers:
        # Whoever is out in the field can look at no pot.
        needs.append(Need(WATCH, _eyes()))
    if at_start + at_end > least:
        at_start, at_end = min(at_start, least), 0
    return Activity(
        turn.key,
        name_of(plan, turn),
        lasting,
        tuple(needs),
        attendance,
        hands_of(plan, turn, made.participants),
        at_start=at_start,
        at_end=at_end,
        every=A_DAY if _done_daily(turn, course) else every,
        daily=_done_daily(turn, course),
        night=course.night,
        overnight=course.overnight,
        project=project,
        lots=tuple(plan.study.called(lot) for lot in turn.node.lots),
        makes=tuple(plan.study.called(x) for x in turn.node.makes if x in plan.flow.lots),
        place=ActivityPlace(file_of(plan, turn), turn.line),
        cautions=_cautions(plan, turn, course),
        ending=common.ending,
        at_a_pinch=course.at_a_pinch,
        fibre_in=lies_in_a_bath(turn),
        amounts=amounts_of(plan, turn),
        itself=course.itself,
        hot_for=course.hot_for,
        plants_in=course.plants_in,
        airs=turn.node.does.airs,
        presses=turn.node.does.presses,
        hot_still=hot_still(plan, turn),
        breaks=course.breaks,
        no_lid=course.no_lid,
        within_call="attended" in turn.step.manner,
        by_day_since=course.by_day_since,
        too_hot=heat_told(plan, threshold("unattended heat").value) if course.hot_for else "",
    )


def _done_daily(turn: Turn, course: Course) -> str:
    """What is done on each day with what goes on by itself for days; empty where that is nothing.

    It stands at a heat, or is moved now and then.
    """
    if course.lasting.most <= A_DAY or course.usual.attendance is Attendance.WHOLE:
        return ""
    if turn.node.does.settles and turn.step.at is not None:
        return SEE_TO_ITS_HEAT
    if NOW_AND_THEN not in turn.step.manner:
        return ""
    return TURN_THE_FIBRE if lies_in_a_bath(turn) else STIR_IT


def _off_the_plate(plan: Judged, turn: Turn) -> str:
    """What has to be done with a bath that has gone cold where no plate warms it."""
    bath = turn.moment.bath_before
    pot = plan.study.called(bath.pot) if bath is not None else "its vessel"
    return (
        f"It has gone cold, and the {pot} goes on no hotplate: stand it in hot water until it is "
        "warm, and measure it."
    )


def _cautions(plan: Judged, turn: Turn, course: Course) -> tuple[str, ...]:
    """What has to be said of what is written unattended, and of what goes on with a lid."""
    if course.off_the_plate and course.heating is None:
        return (_off_the_plate(plan, turn),)
    if "unattended" in turn.step.manner and course.usual.attendance is Attendance.NOW_AND_THEN:
        return ("It is written unattended, but the plate is on: somebody stays near.",)
    daily = _done_daily(turn, course)
    if daily == SEE_TO_ITS_HEAT:
        return ("Somebody sees to it and to its heat every day.",)
    if daily:
        said = f"{daily[:1].upper()}{daily[1:]} now and then, every day at the least."
        return (said, *_of_lids(turn, course))
    return _of_lids(turn, course)


def _of_lids(turn: Turn, course: Course) -> tuple[str, ...]:
    """What has to be said of what may go on by itself with the lid on alone."""
    if not course.lid:
        return ()
    if "uncovered" in turn.step.manner:
        return ("Put the lid on whenever you leave it; whoever is there next takes it off again.",)
    return ("Put the lid on before you leave it.",)


def _heating(plates: Plates, turn: Turn, course: Course, project: str, plan: Judged) -> Activity:
    """The heating of a bath that is prepared hot, after it has been put together."""
    assert course.heating is not None
    named = named_plate(plan, turn)
    heat = turn.moment.peak or turn.moment.heat
    to = f" to {heat_told(plan, heat.high)}" if heat is not None and not heat.open else ""
    bath = bath_called(plan, turn.node.bath) if turn.node.bath else "the water"
    return Activity(
        turn.key + HEATED,
        f"heat {bath}{to}",
        course.heating,
        (
            *(ring_needs(plates, named) if course.on_heat else ()),
            *(heating_needs(plates, named) if course.on_heat else ()),
            Need(WATCH),
        ),
        Attendance.NOW_AND_THEN,
        at_start=min(usual("", "warming").at_start, course.heating.most),
        every=15,
        project=project,
        place=ActivityPlace(plan.file, turn.line),
        cautions=(_off_the_plate(plan, turn),) if course.off_the_plate else (),
    )
