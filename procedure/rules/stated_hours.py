"""The hours and the line that a workshop states: what goes into no day of it, or not on its line.

Plain sums, so that a check stays instant; ``vatwright timetable`` fits all steps together.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.collection.opening_hours import minutes_open
from procedure.facts.drying import grams_hung
from procedure.facts.left_overnight import no_longer_than_written
from procedure.facts.study import Study
from procedure.findings import Mass, Span, say
from procedure.quantity.day import A_DAY
from procedure.quantity.record import TYPE_CHECKING
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import threshold

if TYPE_CHECKING:
    from procedure.collection.opening_hours import Hours

FAMILY = "hours"
_WEEK = 7


def _stated(study: Study) -> Hours | None:
    return study.workshop.opening.hours if study.workshop is not None else None


def _longest_day(hours: Hours) -> int:
    """Minutes of the longest stretch for which the place is open."""
    return max(minutes_open(opens, closes) for opens, closes in hours.times)


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
        if heat is None or takes is None or not _on_the_heat(moment):
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


def _on_the_heat(moment: Moment) -> bool:
    """Whether a bath is kept at its heat in a step: one that only stands or cools is not."""
    does, step = moment.node.does, moment.step
    heated = does.warms or does.held_hot or does.keeps_heat
    unheated = does.cools or step.left_unheated
    return not unheated and (heated or step.at is not None or step.over is not None)


def _open_days(hours: Hours) -> list[bool]:
    """Whether the place is open, day by day: two weeks, or from the first date to the last.

    Where it is open on days of the week besides, there is a week before the dates and after them.
    """
    if not hours.dates:
        return [day % _WEEK in hours.weekdays for day in range(2 * _WEEK)]
    dates = {each.toordinal() for each in hours.dates}
    more = _WEEK if hours.weekdays else 0
    days = range(min(dates) - more, max(dates) + more + 1)
    # The first day of all by its ordinal, 1 January of the year 1, is a Monday.
    return [each in dates or (each - 1) % _WEEK in hours.weekdays for each in days]


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
    if running < 2 or running >= len(days) or closed * A_DAY <= damp:
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
                            "By then {lot} has been wet for every night between the days on "
                            "which the place is open, and it would be wet for {closed} more, "
                            "until the place opens again.",
                            lot=study.thing(lot),
                            closed=Span(Fraction(closed * A_DAY)),
                        ),
                        "Dry it in between, or come in on one day more.",
                    )


def _shortest_night(hours: Hours) -> int:
    """Minutes from the last closing of a day to the first opening of the next."""
    closes, opens = hours.times[-1][1], hours.times[0][0]
    return A_DAY - minutes_open(opens, closes)


@rule("night-longer-than-written", level="note", family=FAMILY, source="common practice")
def night_longer_than_written(study: Study) -> Iterator[Found]:
    """Fibre that may not lie for as long as the workshop is closed overnight.

    Overnight is until somebody comes in the morning, and a mild bath or water harms nothing
    until then. But where a time is written beside it, or the bath holds a metal that spoils
    what lies in it, fibre would lie for longer than is meant. The hours are those of the
    workshop file; ``vatwright timetable`` keeps to the same.

    Trips:
        wet out yarn in tub with water 5 L for 10 to 12 h overnight

        # saved as: vatwright.toml
        [workshop]
        hours = "10:00-15:00"
    Cure:
        wet out yarn in tub with water 5 L overnight

        # saved as: vatwright.toml
        [workshop]
        hours = "10:00-15:00"
    """
    hours = _stated(study)
    if hours is None:
        return
    night = _shortest_night(hours)
    for moment in _first_passes(study):
        takes = moment.minutes
        if not _is_overnight(moment) or takes is None or not (moment.node.lots or _in_it(moment)):
            continue
        if takes.high < night and no_longer_than_written(study, moment):
            yield at_node(
                moment.node,
                say(
                    "This is for {takes}, and the place is closed for {night}.",
                    takes=Span(takes.low, takes.high),
                    night=Span(Fraction(night)),
                ),
                "Have longer hours that day, or take the fibre out before you go.",
            )


def _in_it(moment: Moment) -> tuple[str, ...]:
    """The lots that are in a bath when a step is over."""
    lots = dict.fromkeys((*moment.node.lots, *moment.node.present))
    states = {lot: moment.after.lots.get(lot) for lot in lots}
    return tuple(lot for lot, state in states.items() if state is not None and state.bath)


@rule("in-its-bath-at-closing-time", level="note", family=FAMILY, source="common practice")
def in_its_bath_at_closing_time(study: Study) -> Iterator[Found]:
    """Fibre that cannot be out of its bath before the workshop closes.

    What is written for it to lie there, without a night, takes longer than the place is ever
    open; so it lies there for a night that nobody has written. The hours are those of the
    workshop file.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 40 °C to 80 °C over 1 h for 1 h
        hold gold-bath at 80 °C for 2 h
        lift yarn from gold-bath
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"

        # saved as: vatwright.toml
        [workshop]
        hours = "10:00-13:00"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 40 °C to 80 °C over 1 h for 1 h
        hold gold-bath at 80 °C for 2 h
        lift yarn from gold-bath
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"

        # saved as: vatwright.toml
        [workshop]
        hours = "10:00-16:00"
    """
    hours = _stated(study)
    if hours is None:
        return
    day = _longest_day(hours)
    long = vocabulary().heats["overnight"].low
    since: dict[str, Fraction] = {}
    for moment in _first_passes(study):
        inside = _in_it(moment)
        takes = moment.minutes.low if moment.minutes is not None else Fraction(0)
        if _is_overnight(moment) or takes >= long:
            inside = ()
        late = [lot for lot in inside if since.get(lot, 0) <= day < since.get(lot, 0) + takes]
        since = {
            lot: since.get(lot, Fraction(0)) + takes
            for lot in {*since, *inside}
            if lot in inside or lot not in (*moment.node.lots, *moment.node.left)
        }
        if late and takes <= day:
            yield at_node(
                moment.node,
                say(
                    "{lot} is in its bath for {there} by now, and the place is open for {day} "
                    "at the most.",
                    lot=study.thing(late[0]),
                    there=Span(since[late[0]]),
                    day=Span(Fraction(day)),
                ),
                "Let it lie overnight where it may, take it out in between, or have longer hours.",
            )


@rule("line-too-short", level="note", family=FAMILY, source="common practice")
def line_too_short(study: Study) -> Iterator[Found]:
    """More fibre hung up at once than the drying line of the workshop has room for.

    The line is stated by the weight of dry fibre that hangs on it. What finds no room lies wet
    until the rest is dry, and goes musty in days. ``vatwright timetable`` keeps to the same.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        dry yarn

        # saved as: vatwright.toml
        [workshop]
        line = "80 g"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        dry yarn

        # saved as: vatwright.toml
        [workshop]
        line = "2 kg"
    """
    line = study.workshop.opening.line if study.workshop is not None else None
    if line is None:
        return
    for moment in _first_passes(study):
        hung = grams_hung(moment)
        grams = round(sum(hung.values()))
        if grams <= line:
            continue
        together = max(map(round, hung.values())) <= line
        yield at_node(
            moment.node,
            say(
                "{grams} are hung up here at once, and the drying line has room for {line}.",
                grams=Mass(Fraction(grams)),
                line=Mass(Fraction(line)),
            ),
            "Dry the lots one after the other, each in a step of its own, or have a longer line."
            if together
            else say(
                "Have a line for {grams}, or split it into lots that are dried one after the "
                "other.",
                grams=Mass(Fraction(grams)),
            ),
        )


RULES = (
    longer_than_the_day,
    no_such_night,
    waits_for_the_next_day,
    night_longer_than_written,
    in_its_bath_at_closing_time,
    line_too_short,
)
