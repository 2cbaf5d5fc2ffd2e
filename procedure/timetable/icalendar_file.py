"""The timetable as iCalendar (RFC 5545): an event for each stretch of hands-on work.

There is one too for each bath that somebody stays near when all other work of a day is over,
and for each day on which somebody sees to what goes on for days.

An event's UID is made from the plan's title, the step and which of its stretches it is, not
from its time: where a plan is made again, a second import moves the events. SEQUENCE and
DTSTAMP grow with the moment of writing, as section 3.8.7.4 asks. Where the plan has a time zone
of the tz database, the times carry it and its VTIMEZONE is written along; where it has
none, they are floating: the clock of wherever one is.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5
from zoneinfo import ZoneInfo

from procedure.quantity.number_words import listed
from procedure.timetable.agenda import Agenda, AgendaEntry
from procedure.timetable.alike_baths import whichever_bath
from procedure.timetable.hours import clock
from procedure.timetable.planned_words import (
    at_the_last,
    attended,
    capital,
    moment_in_words,
    span,
)
from procedure.timetable.shared_out import where
from procedure.timetable.unsure import Stay, cautions_at, stays, waited_for
from procedure.timetable.work import Activity, Attendance
from procedure.wording.visible import visible

ALARM = 10
"""Minutes before a stretch at which it is called to mind."""
_SEQUENCE_FROM = datetime(2024, 1, 1, tzinfo=UTC)


def calendar(agenda: Agenda, written: datetime, who: str = "", alarm: int = ALARM) -> bytes:
    """The calendar, for all or for one person (``who``, a name of a people's row).

    ``written`` is the moment of writing, with a time zone. Raises ``ValueError`` for a
    person who has no part in the plan.
    """
    from icalendar import Calendar

    work = agenda.made.work
    assert work.begins is not None
    if who and not any(who in entry.who for day in agenda.days for entry in day.entries):
        raise ValueError(f"Nobody in this plan is called {who}.")
    made = Calendar()
    made.add("prodid", "-//Vatwright//Timetable//EN")
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    made.add("x-wr-calname", visible(work.title or "Timetable"))
    if work.cautions or work.notes:
        made.add("x-wr-caldesc", visible(" ".join((*work.cautions, *work.notes))))
    until: dict[str, int] = {}
    for day in agenda.days:
        for entry in day.entries:
            if entry.hands_until > entry.minute and (not who or who in entry.who):
                # Who is at it already need not be called.
                near = max((until.get(each, -alarm) for each in entry.who), default=-alarm)
                called = entry.minute - near >= alarm
                made.add_component(_event(agenda, entry, written, alarm if called else 0))
                until.update(dict.fromkeys(entry.who, entry.hands_until))
        for stay in stays(agenda.made, day.windows):
            made.add_component(_staying(agenda, stay, written))
    alone = not agenda.names_matter
    for number, (key, minute) in enumerate(agenda.made.seen_to if not who or alone else ()):
        made.add_component(_looking_in(agenda, key, minute, number, written, alarm))
    if getattr(work.begins.tzinfo, "key", ""):
        begins, ends = work.begins, clock(work.begins, agenda.made.finish)
        made.add_missing_timezones(
            first_date=date(begins.year, 1, 1), last_date=date(ends.year + 1, 1, 1)
        )
        for component in made.walk("VTIMEZONE"):
            _begin_when_they_do(component)
    return bytes(made.to_ical())


def _begin_when_they_do(timezone: Any) -> None:
    """Put the onsets of a VTIMEZONE on the clock that is left, as RFC 5545, 3.6.5, asks.

    The library writes those of summer time on the clock that is gone over to.
    """
    zone = ZoneInfo(str(timezone["TZID"]))
    for part in timezone.subcomponents:
        before, after = part["TZOFFSETFROM"].td, part["TZOFFSETTO"].td
        if before == after:
            continue
        onsets = [part["DTSTART"].dt]
        lists = part.get("RDATE", [])
        for each in lists if isinstance(lists, list) else [lists]:
            onsets += [one.dt for one in each.dts]
        true = [_onset(zone, one, before, after) for one in onsets]
        part.pop("RDATE", None)
        part.pop("DTSTART")
        part.add("dtstart", true[0])
        if true[1:]:
            part.add("rdate", true[1:])


def _onset(zone: ZoneInfo, said: datetime, before: timedelta, after: timedelta) -> datetime:
    """The onset as the clock before it shows it, of which one way or the other is said."""
    for wall in (said, said - (after - before)):
        moment = (wall - before).replace(tzinfo=UTC)
        just_before = moment - timedelta(minutes=1)
        if moment.astimezone(zone).utcoffset() == after and (
            just_before.astimezone(zone).utcoffset() == before
        ):
            return wall
    return said


def _staying(agenda: Agenda, stay: Stay, written: datetime):  # type: ignore[no-untyped-def]
    """That somebody stays near a hot bath when all other work is over: whoever it is."""
    activity = agenda.made.work.activity[stay.key]
    entry = AgendaEntry(stay.start, "stay near", stay.key, until=stay.end, hands_until=stay.end)
    event = _stretch(agenda, entry, written)
    event.add("summary", visible(f"Stay near (“{activity.name}”)"))
    places = where(agenda.made, stay.key)
    if places:
        event.add("location", visible(listed(places)))
    said = (
        f"Its bath is hotter than {activity.too_hot} until about then, as estimated. Somebody stays"
        " and measures it before leaving; plate off and pot covered."
    )
    event.add("description", visible("\n".join((*agenda.made.work.cautions, said))))
    return event


def _looking_in(  # type: ignore[no-untyped-def]
    agenda: Agenda, key: str, minute: int, number: int, written: datetime, alarm: int
):
    """That somebody sees to what goes on for days, on a day between: whoever it is."""
    activity = agenda.made.work.activity[key]
    until = minute + ALARM
    entry = AgendaEntry(minute, f"look in {number}", key, until=until, hands_until=until)
    event = _stretch(agenda, entry, written)
    event.add("summary", visible(f"See to “{activity.name}”"))
    places = where(agenda.made, key)
    if places:
        event.add("location", visible(listed(places)))
    event.add(
        "description",
        visible("\n".join((*agenda.made.work.cautions, *cautions_at(agenda.made, key)))),
    )
    event.add_component(_reminder(alarm, f"See to “{activity.name}”"))
    return event


def _reminder(alarm: int, said: str):  # type: ignore[no-untyped-def]
    """An alarm so many minutes before an event."""
    from icalendar import Alarm

    reminder = Alarm()
    reminder.add("action", "DISPLAY")
    reminder.add("trigger", timedelta(minutes=-alarm))
    reminder.add("description", visible(said))
    return reminder


def _stretch(agenda: Agenda, entry: AgendaEntry, written: datetime):  # type: ignore[no-untyped-def]
    """An event without its words: which it is, and when."""
    from icalendar import Event

    begins = agenda.made.work.begins
    assert begins is not None
    event = Event()
    event.add("uid", uid(agenda, entry))
    stamp = written.astimezone(UTC).replace(microsecond=0)
    event.add("dtstamp", stamp)
    event.add("last-modified", stamp)
    event.add("sequence", int((stamp - _SEQUENCE_FROM).total_seconds()) // 60)
    event.add("dtstart", clock(begins, entry.minute))
    event.add("dtend", clock(begins, entry.hands_until))
    return event


def _event(agenda: Agenda, entry: AgendaEntry, written: datetime, alarm: int):  # type: ignore[no-untyped-def]
    activity = agenda.made.work.activity[entry.key]
    event = _stretch(agenda, entry, written)
    summary = activity.told
    if entry.kind == "see to":
        what = activity.ending or "see to the end"
        summary = f"{what} (“{activity.told}”)"
    event.add("summary", visible(capital(summary)))
    if entry.where:
        event.add("location", visible(listed(entry.where)))
    event.add("description", visible(_description(agenda, entry)))
    if alarm:
        event.add_component(_reminder(alarm, capital(summary)))
    return event


def uid(agenda: Agenda, entry: AgendaEntry) -> str:
    """The UID of a stretch: the same whenever the same step is planned again.

    A step is known by what it does, and by which of those that do the same it is: neither
    by its line, which a comment moves, nor by its time.
    """
    work = agenda.made.work
    names = [_meant(each) for each in work.activities]
    place = next(i for i, each in enumerate(work.activities) if each.key == entry.key)
    which = names[: place + 1].count(names[place])
    name = "\n".join(("vatwright timetable", work.title, *names[place], f"{which}", entry.kind))
    return f"{uuid5(NAMESPACE_URL, name)}"


def _meant(activity: Activity) -> tuple[str, str]:
    """A step by its meaning: whose it is, and what is done, without what tells baths apart."""
    return activity.project, whichever_bath(activity.name)


def _description(agenda: Agenda, entry: AgendaEntry) -> str:
    work = agenda.made.work
    assert work.begins is not None
    activity = work.activity[entry.key]
    number = agenda.printed(entry.key)
    whose = activity.project or "the timetable"
    lines = [*work.cautions, f"Step {number} of {whose}." if number else f"For {whose}."]
    if activity.amounts and entry.kind == "begin":
        lines.append(f"Amounts: {listed(activity.amounts)}.")
    if entry.who and agenda.names_matter:
        lines.append(f"Hands: {listed(entry.who)}.")
    for key, minute in waited_for(agenda.made, entry.key).items() if entry.kind == "begin" else ():
        until = moment_in_words(work, minute, clock(work.begins, entry.minute))
        cooling = f"“{work.activity[key].name}” is planned as estimated"
        lines.append(f"{cooling}, and may go on until {until}: this waits for it.")
    if entry.kind == "begin" and activity.attendance is not Attendance.WHOLE:
        until = moment_in_words(work, entry.until, clock(work.begins, entry.minute))
        lines.append(f"Then {attended(activity)} until {until}.")
    elif entry.kind == "see to":
        lines.append(f"It is over after {span(entry.hands_until - entry.minute)}.")
    if entry.kind == "begin":
        lines += filter(None, [at_the_last(activity, entry.hands_until, entry.until)])
    lines += cautions_at(agenda.made, entry.key)
    return "\n".join(lines)
