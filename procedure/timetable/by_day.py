"""The timetable as text: by day and by the clock."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from itertools import pairwise
from operator import itemgetter
from types import MappingProxyType

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import in_words, listed
from procedure.quantity.record import NamedTuple
from procedure.timetable.agenda import Agenda, AgendaEntry, Day, is_pressed_next
from procedure.timetable.bounding import least_length_at_any_hour
from procedure.timetable.done_steps import is_late
from procedure.timetable.giving import rooms
from procedure.timetable.hours import clock
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import (
    at_the_last,
    attended,
    capital,
    day_of,
    ended,
    giving,
    moment_in_words,
    one_more,
    saving,
    span,
    time_of,
)
from procedure.timetable.printed import in_order
from procedure.timetable.relief import Relief, worth_asking
from procedure.timetable.unsure import cautions_at, may_take, stays
from procedure.timetable.work import Attendance, Window, Work

_NOTHING: Mapping[str, int] = MappingProxyType({})
_WIDTH = 92
_MOST_GIVING, _MOST_AIRING = 12, 2
_NOT_ASKED = (
    "What one more pot, plate or pair of hands would save is not said: with so many steps it could "
    "not be told from chance. Plan a part of them by itself to see."
)
_SHORT_STEPS = (
    "What one more pot, plate or pair of hands would save is not said, since steps are planned "
    "shorter than they may take: with more of anything, they would first be given their time."
)
_AN_HOUR = 60
_FEW_DAYS = 4
_LATE = 30
"""Minutes after the opening from which it is said why a plan begins so late."""


class PlanLine(NamedTuple):
    """A line of the timetable, however long; where it is broken, it goes on ``hang`` deep.

    ``indent`` are the blanks before it; ``head`` holds for the name of a day.
    """

    said: str
    indent: int = 0
    hang: int = 0
    head: bool = False


_NO_SOONER = ": begun sooner, with waits like these, it would be over no sooner"
_GAP = PlanLine("")


def report(
    agenda: Agenda,
    reliefs: tuple[Relief, ...] = (),
    give: bool = True,
    gains: Mapping[str, int] = _NOTHING,
    longer: str = "",
    besides: tuple[str, ...] = (),
) -> str:
    """The whole timetable in lines of text, ended by a line feed.

    ``gains`` are the minutes that are gained where baths have cooled soon, by their steps
    (:mod:`procedure.timetable.cooled_sooner`); ``longer`` is a sentence on longer hours that would
    save a day (:mod:`procedure.timetable.longer_hours`), ``besides`` what else holds it up:
    what is left to cool over a night (:mod:`procedure.timetable.left_to_cool`), and coolings
    planned long (:mod:`procedure.timetable.usual_coolings`). The work has a beginning on the clock
    (:attr:`Work.begins`).
    """
    broken: list[str] = []
    for line in unbroken(agenda, reliefs, give, gains, longer, besides):
        if line.head:
            broken += [line.said, "-" * len(line.said)]
        else:
            broken += _broken(line)
    return "\n".join(broken) + "\n"


def _of_one(agenda: Agenda) -> str:
    """How much there is to do for one participant."""
    entries = [each for day in agenda.days for each in day.entries if agenda.who in each.who]
    minutes = sum(each.hands_until - each.minute for each in entries)
    return (
        f"The part of {agenda.who}, with {span(minutes)} of hands-on work; "
        "what others do to the same lots bears their names."
    )


def _broken(line: PlanLine) -> list[str]:
    before, behind = " " * line.indent, " " * line.hang
    return textwrap.wrap(
        line.said, _WIDTH, initial_indent=before, subsequent_indent=behind, break_long_words=False
    ) or [""]


def unbroken(
    agenda: Agenda,
    reliefs: tuple[Relief, ...] = (),
    give: bool = True,
    gains: Mapping[str, int] = _NOTHING,
    longer: str = "",
    besides: tuple[str, ...] = (),
) -> list[PlanLine]:
    """The lines of :func:`report`, each whole, for whoever breaks them to a width of their own."""
    made = agenda.made
    lines = [PlanLine(made.work.title or "Timetable"), _GAP]
    for caution in made.work.cautions:
        lines += [PlanLine(caution), _GAP]
    lines.append(PlanLine(_of_one(agenda) if agenda.who else ended(made)))
    if agenda.letters:
        whose = [f"with {letters} those of {name}" for letters, name in agenda.letters.items()]
        lines.append(PlanLine(f"Step numbers are {listed(whose)}."))
    for note in made.work.notes:
        lines.append(PlanLine(f"- {note}", 2, 4))
    for day in agenda.days:
        lines += [_GAP, *_day(agenda, day)]
    if agenda.who:
        return lines
    if reliefs:
        lines += [
            _GAP,
            PlanLine("What holds it up"),
            *_reliefs(agenda, reliefs, longer),
            *(PlanLine(each, 2, 4) for each in besides if each),
            *_night_limits(agenda),
        ]
    elif made.searched and not worth_asking(made):
        lines += [_GAP, PlanLine(_SHORT_STEPS if made.to_the_limit else _NOT_ASKED)]
    gives = _giving(agenda, gains) if give else []
    if gives:
        lines += [_GAP, PlanLine("What can give"), *gives]
    return lines


def _nothing_more(made: Timetable, longer: str) -> str:
    """Why more of anything saves nothing: the steps and their waits, or the hours and the order."""
    said = "More of anything would save nothing: the steps and their waits take this long"
    if made.finish - made.work.now <= least_length_at_any_hour(made.work):
        return f"{said} by themselves."
    windows = made.work.windows
    if longer:
        return f"{said} in these hours and in this order."
    closed = any(b.day > a.day + 1 for a, b in pairwise(windows))
    more = "Longer hours, or more days, may" if closed else "Longer hours may"
    return f"{said} in these hours and in this order. {more} save time."


def _reliefs(agenda: Agenda, reliefs: tuple[Relief, ...], longer: str) -> list[PlanLine]:
    helps = [each for each in reliefs if each.most]
    of_hours = [PlanLine(longer, 2, 4)] if longer else []
    if not helps:
        return [PlanLine(_nothing_more(agenda.made, longer), 2, 4), *of_hours]
    lines = [PlanLine(saving(each), 2, 4) for each in reliefs if not each.unknown]
    unknown = [one_more(each) for each in reliefs if each.unknown]
    if unknown:
        what = " or ".join(f"{each[0].lower()}{each[1:]}" for each in unknown)
        lines.append(PlanLine(f"What {what} would save was not found out in the time.", 2, 4))
    return [*lines, *of_hours]


def _giving(agenda: Agenda, gains: Mapping[str, int]) -> list[PlanLine]:
    made = agenda.made
    every = rooms(made)
    loose = [each for each in every if each.later or each.shorter or may_take(made, each.key)]
    bound = [each for each in every if each not in loose]
    most = sorted(loose, key=lambda each: -max(each.later, each.shorter))[:_MOST_GIVING]
    names = Counter((agenda.printed(e.key), made.work.activity[e.key].told) for e in every)
    lines: list[PlanLine] = []
    for each in loose:
        if each in most:
            number = agenda.printed(each.key)
            alike = names[number, made.work.activity[each.key].told] > 1
            lines.append(PlanLine(f"{number:>4}  {giving(made, each, gains, alike)}", 2, 8))
    if len(loose) > len(most):
        lines.append(PlanLine(f"{len(loose) - len(most)} more can give, by less.", 2, 4))
    if bound:
        numbers = list(dict.fromkeys(agenda.printed(each.key) for each in bound))
        numbers = sorted(filter(None, numbers), key=in_order)
        word = "step" if len(numbers) == 1 else "steps"
        what = "begins on time and takes" if len(numbers) == 1 else "begin on time and take"
        said = (
            f"{capital(word)} {listed(numbers)} {what} just so long, with all else as it is here."
        )
        lines.append(PlanLine(said, 2, 2))
    return lines


def _day(agenda: Agenda, day: Day) -> list[PlanLine]:
    work = agenda.made.work
    assert work.begins is not None
    first = clock(work.begins, day.windows[0].opens)
    times = listed([_open_from_to(work.begins, each) for each in day.windows])
    head = f"{day_of(first)}, open {times}"
    lines = [PlanLine(head, head=True), *_begins_late(agenda, day), *_who_comes(agenda, day)]
    lines += _by_the_clock(agenda, day, first)
    if _is_past(work, day):
        return lines
    if day.leaves:
        names = listed([agenda.named(key) for key in day.leaves])
        when = "past midnight" if _stays_open(work, day) else "when the place is closed"
        lines.append(PlanLine(f"Goes on {when}: {names}.", 2, 4))
    if day.stands:
        baths = listed([f"{bath} in {pot}" for bath, pot in day.stands])
        said = f"Stands there then: {baths}; covered and labelled.{_without_a_lid(agenda, day)}"
        lines.append(PlanLine(said, 2, 4))
    lines += _waits_for_days(agenda, day)
    lines += _hung(agenda, day)
    lines += _wet(agenda, day)
    lines += _back(agenda, day)
    return lines


def _stays_open(work: Work, day: Day) -> bool:
    """Whether a day is over at midnight alone, and the place stays open."""
    return any(each.opens == day.windows[-1].closes for each in work.windows)


def _open_from_to(begins: datetime, window: Window) -> str:
    """“09:00 to 18:00”; past midnight with the day: “16:00 to 10:00 on Sunday”."""
    opens, closes = clock(begins, window.opens), clock(begins, window.closes)
    until = "24:00" if (closes.hour, closes.minute) == (0, 0) else time_of(closes)
    past = closes.date() > opens.date() and until != "24:00"
    on = f" on {day_of(closes).partition(' ')[0]}" if past else ""
    return f"{time_of(opens)} to {until}{on}"


def _who_comes(agenda: Agenda, day: Day) -> list[PlanLine]:
    """From when to when each is wanted on a day, where somebody need not come for much of it."""
    work = agenda.made.work
    if agenda.who or not agenda.names_matter or _is_past(work, day):
        return []
    assert work.begins is not None
    times: dict[str, tuple[int, int]] = {}
    for entry in day.entries:
        for name in entry.who if entry.hands_until > work.now else ():
            begin, end = times.get(name, (entry.minute, entry.hands_until))
            times[name] = min(begin, entry.minute), max(end, entry.hands_until)
    idle = [name for name in agenda.people if name not in times]
    opens = max(day.windows[0].opens, work.now)
    late = any(begin - opens >= _AN_HOUR for begin, _ in times.values())
    if not times or not (idle or late):
        return []
    told = [
        f"{name} from {_at(work, begin)} to {_at(work, end)}"
        for name, (begin, end) in sorted(times.items(), key=lambda each: (each[1], each[0]))
    ]
    said = f"Wanted: {listed(told)}"
    if idle:
        said += f"; {listed(idle)} need not come"
    return [PlanLine(f"{said}.", 2, 4)]


def _is_past(work: Work, day: Day) -> bool:
    """Whether a day and its night are over, of which nothing is left to be seen to."""
    opens_again = min(
        (w.opens for w in work.windows if w.opens > day.windows[-1].closes), default=0
    )
    return bool(work.done) and opens_again <= work.now and day.windows[-1].closes < work.now


def _without_a_lid(agenda: Agenda, day: Day) -> str:
    """What to cover pots with that stand over the night and have no lid (common practice)."""
    open_pots = {each.name for each in agenda.made.work.resources if not each.lidded}
    names = [pot for pot in dict.fromkeys(pot for _, pot in day.stands) if pot in open_pots]
    if not names:
        return ""
    has, each = ("has", "it") if len(names) == 1 else ("have", "each")
    return f" {capital(listed(names))} {has} no lid: lay a board or a tray over {each}."


def _by_the_clock(agenda: Agenda, day: Day, first: datetime) -> list[PlanLine]:
    """What is on a day's list, and from when on somebody stays for what is hot still."""
    lines = [(entry.minute, _entry(agenda, entry, first)) for entry in day.entries]
    # When all work is over one goes by the clock, not by what is told of the night.
    staying = [] if agenda.who else _hot_after_work(agenda, day)
    return [line for _, line in sorted([*lines, *staying], key=itemgetter(0))]


def _hot_after_work(agenda: Agenda, day: Day) -> Iterator[tuple[int, PlanLine]]:
    """The baths for which somebody stays when all work of the day is over, and until when."""
    made = agenda.made
    assert made.work.begins is not None
    today = clock(made.work.begins, day.windows[0].opens)
    for key, done, cool in stays(made, day.windows):
        activity = made.work.activity[key]
        said = (
            f"{_at(made.work, done)} {agenda.printed(key):>4}  Stay near: {agenda.named(key)}, "
            f"line {activity.place.line}: its bath is hotter than "
            f"{activity.too_hot} until about {moment_in_words(made.work, cool, today)}. Somebody "
            "stays until then and measures it before leaving; plate off and pot covered."
        )
        yield done, PlanLine(said, 2, 14)


def _waits_for_days(agenda: Agenda, day: Day) -> list[PlanLine]:
    """The baths that are left for longer than a bath of a plant keeps, and what to do."""
    work = agenda.made.work
    assert work.begins is not None
    lines: list[PlanLine] = []
    for bath, pot, lag in day.too_long:
        when = moment_in_words(work, agenda.made.at[lag.after].start)
        # What is late by now has no limit of its own any more.
        after = "" if is_late(lag) else f" after {span(lag.wished or 0)}"
        said = (
            f"Nothing is done to {bath} in {pot} until {when} ({agenda.named(lag.after)}), and "
            f"{lag.why}{after}: {lag.meanwhile.format(it=bath)}."
        )
        lines.append(PlanLine(said, 2, 4))
    return lines


def _hung(agenda: Agenda, day: Day) -> list[PlanLine]:
    """What is hung up at the end of a day, and what is wetted out again on it."""
    lines: list[PlanLine] = []
    alike: dict[str, list[str]] = {}
    for lot, key in day.hung:
        alike.setdefault(key, []).append(lot)
    for key, lots in alike.items():
        said = f"Hang up to dry then: {listed(lots)}"
        if key:
            when = moment_in_words(agenda.made.work, agenda.made.at[key].start)
            said += f"; wetted out again in time for {agenda.named(key)} at {when}"
        lines.append(PlanLine(f"{said}.", 2, 4))
    return lines


def _wet(agenda: Agenda, day: Day) -> list[PlanLine]:
    """What waits wet when the place closes, and until when where that is more than a night."""
    work = agenda.made.work
    assert work.begins is not None
    closes = day.windows[-1].closes
    alike: dict[tuple[str, str], list[str]] = {}
    for lot, minute in day.wet:
        until = f" until {moment_in_words(work, minute)}" if minute - closes > A_DAY else ""
        # What the step to come squeezes out need not be squeezed out twice.
        pressed = is_pressed_next(agenda.made, lot, closes)
        how = "covered, in the cool" if pressed else "squeezed out and covered, in the cool"
        alike.setdefault((until, how), []).append(lot)
    return [
        PlanLine(f"Waits wet then: {listed(lots)}{until}; {how}.", 2, 4)
        for (until, how), lots in alike.items()
    ]


def _night_limits(agenda: Agenda) -> list[PlanLine]:
    """Why a night's step is not begun sooner, where there is time before it that is not used."""
    made = agenda.made
    work = made.work
    assert work.begins is not None
    lines: dict[PlanLine, None] = {}
    for key in (each.key for each in sorted(made.placed, key=lambda each: each.start)):
        activity, place = work.activity[key], made.at[key]
        idle = _idle_before(agenda, place.start)
        limit = activity.overnight and place.end - place.start == activity.lasting.longest
        in_the_morning = any(w.opens <= place.end <= w.opens + _LATE for w in work.windows)
        if work.over(key) or not (limit and idle and in_the_morning):
            continue
        said = (
            f"{agenda.named(key)}, line {activity.place.line}, goes on until the next morning, for "
            f"{span(activity.lasting.longest)} at the most, so it begins from "
            f"{_at(work, place.start)} on. What is done before it need not be begun sooner than "
            "here."
        )
        lines[PlanLine(said, 2, 4)] = None
    return list(lines)


def _at(work: Work, minute: int) -> str:
    assert work.begins is not None
    return time_of(clock(work.begins, minute))


def _idle_before(agenda: Agenda, minute: int) -> bool:
    """Whether somebody comes late, or may leave for an hour, on the day before this minute."""
    for day in agenda.days:
        if day.windows[0].opens <= minute <= day.windows[-1].closes:
            free = [each for each in day.entries if each.kind == "free" and not each.watched]
            long = any(
                each.until - each.minute >= _AN_HOUR <= minute - each.minute for each in free
            )
            return long or day.first - day.windows[0].opens >= _AN_HOUR
    return False


def _begins_late(agenda: Agenda, day: Day) -> list[PlanLine]:
    """Why nobody has to come when the place opens on the first day, nor on days before it."""
    made = agenda.made
    work = made.work
    assert work.begins is not None
    first = min(each.start for each in made.placed)
    could = max(day.windows[0].opens, work.now)
    if work.done or day is not agenda.days[0]:
        return []
    gained = _NO_SOONER if made.shortest else ""
    idle = _idle_days(made, day)
    lines = [PlanLine(f"{idle}{gained}.", 2, 4)] if idle else []
    if first - could >= _LATE:
        when = time_of(clock(work.begins, first))
        lines.append(PlanLine(f"Come at {when}{'' if lines else gained}.", 2, 4))
    return lines


def _idle_days(made: Timetable, day: Day) -> str:
    """That nothing is begun on days on which the place is open; empty where there are none."""
    work = made.work
    assert work.begins is not None
    idle: dict[int, str] = {}
    for window in work.windows:
        if window.day < day.number and window.closes > work.now:
            idle[window.day] = day_of(clock(work.begins, window.opens))
    if not idle:
        return ""
    days = listed([*idle.values()]) if len(idle) <= _FEW_DAYS else f"the {len(idle)} days before"
    return f"Nothing is begun on {days}, though it is open then"


def _back(agenda: Agenda, day: Day) -> list[PlanLine]:
    """When to be there again."""
    work = agenda.made.work
    assert work.begins is not None
    today = clock(work.begins, day.windows[0].opens)
    closes = day.windows[-1].closes
    later = [(each.start, each.key) for each in agenda.made.to_come if each.start >= closes]
    # What is looked at now and then is begun by somebody, though it takes no hands.
    later += [
        (each.start, each.key)
        for each in agenda.made.placed
        if each.start >= closes
        and not work.over(each.key)
        and work.activity[each.key].attendance is Attendance.NOW_AND_THEN
    ]
    later.sort()
    if agenda.who:
        theirs = (e for d in agenda.days for e in d.entries if agenda.who in e.who)
        later = [(each.minute, each.key) for each in theirs if each.minute >= closes]
    if not later:
        return []
    minute, key = later[0]
    when = moment_in_words(work, minute, today)
    be = "Be there" if _stays_open(work, day) else "Be back"
    return [PlanLine(f"{be} at {when}: {agenda.named(key)}.", 2, 4)]


def _entry(agenda: Agenda, entry: AgendaEntry, day: datetime) -> PlanLine:
    work = agenda.made.work
    assert work.begins is not None
    at = clock(work.begins, entry.minute)
    if entry.kind == "free":
        until = time_of(clock(work.begins, entry.until))
        whose = "All are free" if agenda.names_matter else "Free"
        said = f"{whose} from {time_of(at)} to {until}"
        if agenda.who:
            return PlanLine(f"Free from {time_of(at)} to {until}.", 11, 13)
        names = _looked_after(agenda.made, entry.watched, entry.minute)
        said += f"; stay near for {listed(names)}." if names else "; you may leave."
        return PlanLine(said, 11, 13)
    # When a step that is over was begun is often only supposed.
    begun = " " * 5 if work.over(entry.key) else time_of(at)
    return PlanLine(f"{begun} {agenda.printed(entry.key):>4}  {_words(agenda, entry, day)}", 2, 14)


def _while_others_air(agenda: Agenda, entry: AgendaEntry) -> str:
    """Which lots air while another has its turn in the vat: “, while elder airs”."""
    work, at = agenda.made.work, agenda.made.at
    needs = work.activity[entry.key].needs
    turns = [need for need in needs if work.resource[need.resource].kind == "turn"]
    if not turns:
        return ""
    dipped = {lot for each in work.activities if turns[0] in each.needs for lot in each.lots}
    airing = [
        lot
        for each in work.activities
        if each.airs and at[each.key].start < entry.until and entry.minute < at[each.key].end
        for lot in each.lots
        if lot in dipped
    ]
    lots = list(dict.fromkeys(airing))
    if len(lots) > _MOST_AIRING:
        return f", while {in_words(len(lots))} others air"
    return f", while {listed(lots)} {'airs' if len(lots) == 1 else 'air'}" if lots else ""


def _looked_after(made: Timetable, keys: tuple[str, ...], since: int) -> list[str]:
    """What may not be left: steps, each once; of several in one bath, and of one that is over
    and has left its bath hot, that bath.
    """
    work = made.work
    names = {key: f"“{work.activity[key].name}”" for key in keys}
    for hold in work.holds:
        on_it = [key for key in keys if key in (hold.first, *hold.inside, hold.last)]
        over = all(made.at[key].end <= since for key in on_it)
        if hold.name and (len(on_it) > 1 or (on_it and over)):
            pot = work.resource[hold.need.resource].name
            hot = " (still hot)" if over else ""
            names.update(dict.fromkeys(on_it, f"{hold.name} in {pot}{hot}"))
    return list(dict.fromkeys(names.values()))


def _how_over(work: Work, entry: AgendaEntry, day: datetime) -> str:
    """How a step is over, and since when: what nobody told was not done at night."""
    assert work.begins is not None
    done, ended = work.happened[entry.key], entry.until
    if done.left_out:
        return "Left out"
    if done.inferred:
        closed = [window.closes for window in work.windows if window.opens <= ended]
        by_day = any((ended - w.opens) % A_DAY <= w.closes - w.opens for w in work.windows)
        if not (closed or by_day):
            return "Done"
        ended = min([ended, *closed[-1:]])
    # What was done days ago is told by its date: a weekday alone might be that to come.
    same = clock(work.begins, ended).date() == day.date()
    return f"Done by {moment_in_words(work, ended, day if same else None)}"


def _until(work: Work, minute: int, today: datetime) -> str:
    """When something is over; by night, when nobody sees it, that is not so sure."""
    said = moment_in_words(work, minute, today)
    if any(window.opens <= minute <= window.closes for window in work.windows):
        return said
    assert work.begins is not None
    midnight = clock(work.begins, minute) == _day_after(today)
    return "about midnight" if midnight else f"about {said}"


def _day_after(moment: datetime) -> datetime:
    return moment.replace(hour=0, minute=0) + timedelta(days=1)


def _words(agenda: Agenda, entry: AgendaEntry, day: datetime) -> str:
    work = agenda.made.work
    assert work.begins is not None
    activity = work.activity[entry.key]
    today = clock(work.begins, max(entry.minute, 0))
    if work.over(entry.key):
        return f"{_how_over(work, entry, day)}: {activity.told}."
    until = _until(work, entry.until, today)
    whose = f" [{activity.project}]" if agenda.projects_matter else ""
    who = f" [{listed(entry.who)}]" if entry.who and agenda.names_matter else ""
    if entry.kind == "over":
        return f"over by itself: {activity.told}{whose}"
    if entry.kind == "see to":
        what = activity.ending or f"see to the end of “{activity.told}”"
        return f"{capital(what)}: {span(entry.hands_until - entry.minute)}{who}{whose}."
    said = capital(activity.told) + whose
    if activity.attendance is Attendance.WHOLE or entry.hands_until == entry.until:
        itself = f" for {span(activity.itself)}, with all that goes with it" * bool(activity.itself)
        said += f"{itself}, until {until}{_while_others_air(agenda, entry)}{who}."
    elif entry.hands_until > entry.minute:
        said += f": {span(entry.hands_until - entry.minute)}{who}, then {attended(activity)} "
        said += f"until {until}."
    else:
        said += f"; {attended(activity)} until {until}."
    last = at_the_last(activity, entry.hands_until, entry.until)
    return " ".join(filter(None, (said, last, *cautions_at(agenda.made, entry.key))))
