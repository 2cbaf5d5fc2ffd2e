"""How long a plan takes, for its papers: by days and clock, in the hours of its workshop.

A paper is for any week, so the plan begins on an opening of its own: day 1. Where the
workshop states no hours, 9:00 to 18:00 on every day and one pair of hands are supposed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache
from itertools import pairwise

from procedure.collection.opening_hours import Hours, times_of
from procedure.collection.workshop import Opening
from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple
from procedure.timetable.agenda import stands_too_long, waiting_wet
from procedure.timetable.drafts import hindrances
from procedure.timetable.from_plans import Drawn, work_of
from procedure.timetable.planned import Stretch, Timetable, longer_than_written
from procedure.timetable.planned_words import span
from procedure.timetable.planning import fitted
from procedure.timetable.reasons import NoPlan
from procedure.timetable.seen_daily import closed_days
from procedure.timetable.solving import Aim, NotKnown
from procedure.timetable.terms import Asked
from procedure.timetable.too_short import why_too_short
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.unsure import stays
from procedure.timetable.work import Work
from procedure.timetable.written_out import turn_of, unrolled

# A Monday; no date of it is ever shown.
_SOME_MONDAY = date(2001, 1, 1)
_USUAL_HOURS = "9:00-18:00"
# Hours that a paper proposes, one after the other, where the usual ones are too short.
_LONGER = ("8:00-20:00", "7:00-22:00")
_WEEK = 7
# The days before and after a date among which its run of open days is looked for.
_ABOUT = range(-_WEEK, _WEEK + 1)
_PAIR = 2
_FIVE, _TWO_HOURS, _TEN_HOURS = 5, 120, 600


class LeftGoing(NamedTuple):
    """A step that is left when a day is over: by its node, what becomes of it, until which day.

    ``how`` is “goes on”, “dries” for fibre that is hung up, or “lies wet” for fibre whose soak
    is over by then, which stays in its water until its next step; ``lots`` names that fibre.
    ``over`` is the minute of that day at which it ends, where it goes on for much longer than
    is written. ``daily`` holds where somebody sees to it on each day between, and ``closed`` where
    some of these are closed.
    """

    node: int
    how: str
    day: int
    lots: tuple[str, ...] = ()
    over: int | None = None
    daily: str = ""
    closed: bool = False


class Unwritten(NamedTuple):
    """What is done with fibre that waits for days, which nobody has written.

    ``what`` is to be read with the lots in its braces: “hang {} up to dry”.
    """

    minute: int
    what: str
    lots: tuple[str, ...]


class StandsLong(NamedTuple):
    """A bath that stands until a later day, for longer than it keeps: why that is, and what to do.

    ``why`` follows “and” (“a plant bath goes sour”), after so many ``minutes``.
    """

    bath: str
    until: int
    why: str
    minutes: int
    meanwhile: str


class DayTaken(NamedTuple):
    """A day on which someone is there: from and until which minute of the day they are.

    ``number`` counts calendar days from 1. ``nodes`` are the steps that begin on it, by their
    nodes in the flow, in the order in which they begin; ``left`` are those that are
    left when it is over. ``seen_to`` are steps of days before that are looked at or ended by
    hand, with the minute; ``wet`` are lots that wait wet between two steps until another day, with
    that day;
    ``stays`` are steps whose baths are hot when the work is over, and until which minute;
    ``between`` is what is done with fibre that is dried meanwhile; ``cold`` are steps begun
    in a bath or vat that has cooled, with the minutes in which it would be warm again, for which
    there is no time; ``too_long`` are baths that stand from then on for longer than they keep.
    """

    number: int
    first: int
    last: int
    hands_on: int
    nodes: tuple[int, ...]
    left: tuple[LeftGoing, ...] = ()
    seen_to: tuple[tuple[int, int], ...] = ()
    wet: tuple[tuple[str, int], ...] = ()
    stays: tuple[tuple[int, int], ...] = ()
    between: tuple[Unwritten, ...] = ()
    cold: tuple[tuple[int, int], ...] = ()
    too_long: tuple[StandsLong, ...] = ()


@dataclass(frozen=True, slots=True)
class Taking:
    """The time that a plan takes.

    ``length`` are the minutes from its start to the end of its last step, nights and all, and
    ``shorter`` the same where what may be left out is, and repeats come as seldom as they may.
    ``hands_on`` are minutes of work, of one person or of several at once. ``begins`` gives the
    day and the minute of the day at which a step first begins, by its node. ``refused`` says
    why it cannot be done in the hours of the workshop, or in the usual ones where it states none:
    then the plan is for longer hours.
    """

    length: int
    shorter: int
    hands_on: int
    days: tuple[DayTaken, ...]
    calendar_days: int
    begins: dict[int, tuple[int, int]]
    hours: str
    people: int
    proven: bool
    supposed: tuple[str, ...]
    refused: str = ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """The time it takes in whole sentences."""
        # One number of days and how many of these: a length in days beside them is a third.
        there = "one of them" if len(self.days) == 1 else f"{len(self.days)} of them"
        if len(self.days) == self.calendar_days:
            there = "both of them" if len(self.days) == _PAIR else "each of them"
        said = [
            f"It goes on over {self.calendar_days} days, nights and waits included; someone has "
            f"to be there on {there}, with {about(self.hands_on)} of hands-on work.",
        ]
        if self.calendar_days == 1:
            said = [
                f"It can be done in one day: it takes {about(self.length)}, with "
                f"{about(self.hands_on)} of hands-on work."
            ]
        if self.refused:
            said = [f"{self.refused} In the hours {self.hours} {_lowered(said[0])}"]
        if self.shorter < self.length:
            said.append(
                "With what may be left out left out, and repeats as few as they may be, it is over "
                f"{about(self.length - self.shorter)} sooner."
            )
        said.append(
            f"That is for {self.whose}" + (", and no plan is shorter." if self.proven else ".")
        )
        return tuple(said)

    @property
    def whose(self) -> str:
        """For how many people it is planned, and in which hours."""
        people = "one person" if self.people == 1 else f"{self.people} people"
        return f"{people}, in the hours {self.hours}"

    def clock_of(self, node: int) -> str:
        """When a step begins: “9:15”, or “day 2, 9:15” where there are several days."""
        if node not in self.begins:
            return ""
        day, minute = self.begins[node]
        clock = five_minutes(minute)
        return clock if self.calendar_days == 1 else f"day {day}, {clock}"


def about(minutes: int) -> str:
    """A length of time as a person says it: about 40 min, about 5½ hours, about 3 days 4 hours.

    To five minutes below two hours, to half an hour below ten, then to the hour.
    """
    if minutes < _TWO_HOURS:
        return f"about {span(max(_FIVE, round(minutes / _FIVE) * _FIVE))}"
    halves = round(minutes / 30)
    if minutes < _TEN_HOURS:
        hours = f"{halves // 2}½" if halves % 2 else f"{halves // 2}"
        return f"about {hours} hours"
    days, hours_left = divmod(round(minutes / 60), 24)
    if days < _PAIR:
        return f"about {days * 24 + hours_left} hours"
    rest = f" {hours_left} hour{'s' * (hours_left > 1)}" if hours_left else ""
    return f"about {days} days{rest}"


def _lowered(said: str) -> str:
    return said[:1].lower() + said[1:]


def five_minutes(minute: int, end: bool = False) -> str:
    """A time of day as a person plans it: to five minutes, rather early than late.

    An ``end`` is rather late. No plan of a dyer is truer than that.
    """
    minute = (-(-minute // _FIVE) * _FIVE if end else minute // _FIVE * _FIVE) % A_DAY
    return f"{minute // 60}:{minute % 60:02}"


def time_taken(plan: Judged) -> Taking | str:
    """The time that a plan takes, or in a sentence why that cannot be told.

    Solved where OR-Tools is there, else by the list rule. Where the plan does not go into the
    hours of its workshop, or into the usual ones, it is planned for longer hours, and
    :attr:`Taking.refused` says why.
    """
    if hindrances((plan,)):
        return "How long it takes cannot be told before what is wrong with it is put right."
    stated = plan.study.workshop.opening if plan.study.workshop is not None else Opening()
    refused = ""
    try:
        for hours, said in _hours_to_try(stated):
            asked = _asked(stated, hours, said)
            drawn = work_of([plan], asked)
            made = made_once(drawn.work)
            if isinstance(made, Timetable):
                shorter = _shorter(plan, asked, drawn, made)
                return _taking(plan, asked, made, shorter, drawn.supposed, refused)
            refused = refused or _refusal(made, stated, said)
    except CannotPlan as why:
        return f"How long it takes cannot be told: {_first_line(why)}"
    except NotKnown:
        return "How long it takes cannot be told: no plan was found in the time."
    return f"{refused} Nor is there a plan for it in longer hours, {_LONGER[-1]} on every day."


def _first_line(why: CannotPlan) -> str:
    """The first of the reasons, without a line of the file, which no reader of a paper has."""
    said = re.sub(r"^Line \d+: ", "", str(why).split("\n")[0])
    return said if said[:1] == "“" else _lowered(said)


def _hours_to_try(stated: Opening) -> Iterator[tuple[Hours, str]]:
    """The hours stated, or the usual ones; then longer ones, at last on every day."""
    own = stated.hours or Hours()
    yield own, stated.said or _USUAL_HOURS
    for longer in _LONGER:
        yield own._replace(times=times_of(longer)), longer
    if len(own.weekdays) < _WEEK:
        yield Hours(times_of(_LONGER[-1])), f"{_LONGER[-1]}, every day"


def _refusal(made: NoPlan, stated: Opening, said: str) -> str:
    """That it cannot be done in these hours, and why."""
    whose = "the hours of the workshop" if stated.hours else "usual hours"
    return f"It cannot be done in {whose} ({said}): {why_too_short(made.work)}."


def days_of(plan: Judged) -> dict[int, int] | None:
    """The day, from 1, on which each step first begins, by its node in the flow.

    None where the time that the plan takes cannot be told.
    """
    taken = time_taken(plan)
    if isinstance(taken, str):
        return None
    return {node: day for node, (day, _) in taken.begins.items()}


@lru_cache(maxsize=16)  # each holds a whole plan
def made_once(work: Work, aim: Aim = Aim.ALL) -> Timetable | NoPlan:
    """The plan; the same work is planned once, though many papers are made of it."""
    return fitted(work, aim=aim, reasons=False).made


def _asked(stated: Opening, hours: Hours, said: str) -> Asked:
    begins = datetime.combine(_first_day(hours), hours.times[0][0])
    return Asked(
        begins,
        hours,
        said,
        hands=stated.people or ("you",),
        rings=stated.rings,
        line=stated.line,
        power=stated.power,
        pots=stated.pots,
        sinks=stated.sinks,
    )


def _first_day(hours: Hours) -> date:
    """The first open day of some week, or of the longest run of open days about the dates given."""
    if not hours.dates:
        some_week = [_SOME_MONDAY + timedelta(days=number) for number in range(_WEEK)]
        open_days = [day for day in some_week if hours.open_on(day)]
        after_none = (day for day in open_days if not hours.open_on(day - timedelta(days=1)))
        return next(after_none, open_days[0])
    open_days = sorted(
        day
        for day in {each + timedelta(days=more) for each in hours.dates for more in _ABOUT}
        if hours.open_on(day)
    )
    begun, longest, found = open_days[0], 0, open_days[0]
    for before, day in pairwise([open_days[0], *open_days]):
        begun = begun if (day - before).days <= 1 else day
        if (day - begun).days >= longest:
            longest, found = (day - begun).days + 1, begun
    return found


def _shorter(plan: Judged, asked: Asked, drawn: Drawn, made: Timetable) -> int:
    """How long it takes the shorter way through its blocks."""
    if not drawn.longer_way:
        return made.finish
    try:
        other = made_once(work_of([plan], asked, longer=False).work, Aim.LENGTH)
    except CannotPlan:
        return made.finish  # nothing is left to do
    return min(made.finish, other.finish) if isinstance(other, Timetable) else made.finish


def _taking(
    plan: Judged,
    asked: Asked,
    made: Timetable,
    shorter: int,
    supposed: tuple[str, ...],
    refused: str,
) -> Taking:
    node_of = {turn.key: turn.node.id for turn in unrolled(plan).turns}
    nodes = {each.key: node_of[turn_of(turn_of(each.key))] for each in made.placed}
    start = min(each.start for each in made.placed)
    offset = asked.begins.hour * 60 + asked.begins.minute
    begins: dict[int, tuple[int, int]] = {}
    for each in sorted(made.placed, key=lambda place: (place.start, place.end, place.key)):
        day = _day_of(made, each.start, offset)
        if each.key not in made.work.between:
            minute = (each.start + offset) % A_DAY
            begins.setdefault(nodes[each.key], (day + 1, minute))
    numbers = sorted({_day_of(made, piece.start, offset) for piece in made.hands_on})
    days = [_day_taken(plan, made, nodes, begins, number, offset) for number in numbers]
    last_day = (made.finish - 1 + offset) // A_DAY + 1
    return Taking(
        made.finish - start,
        shorter - start,
        sum(piece.end - piece.start for piece in made.hands_on),
        tuple(days),
        last_day,
        begins,
        asked.hours_said,
        len(asked.hands),
        made.shortest,
        supposed,
        refused,
    )


def _day_of(made: Timetable, minute: int, offset: int) -> int:
    """On which day a minute is, from 0: after midnight, on the one that is not closed yet."""
    there = (w.day for w in made.work.windows if w.opens <= minute < w.closes)
    return next(there, (minute + offset) // A_DAY)


def _day_taken(
    plan: Judged,
    made: Timetable,
    nodes: dict[str, int],
    begins: dict[int, tuple[int, int]],
    number: int,
    offset: int,
) -> DayTaken:
    """What is done on a day, ``number`` from 0; the plan begins ``offset`` minutes into day 0."""
    pieces = [p for p in made.hands_on if _day_of(made, p.start, offset) == number]
    windows = [window for window in made.work.windows if window.day == number]
    opens, closes = windows[0].opens, max(window.closes for window in windows)
    midnight = A_DAY * number - offset
    hot = _hot_in(made, pieces[0].start, closes)
    seen_to = {nodes[p.key]: p.start - midnight for p in pieces if made.at[p.key].start < opens}
    return DayTaken(
        number + 1,
        pieces[0].start - midnight,
        max(piece.end for piece in (*pieces, *hot)) - midnight,
        sum(piece.end - piece.start for piece in pieces),
        tuple(node for node, (day, _) in begins.items() if day == number + 1),
        tuple(_left(plan, made, nodes, closes, offset)),
        tuple(seen_to.items()),
        tuple((lot, (until + offset) // A_DAY + 1) for lot, until in waiting_wet(made, closes)),
        tuple((nodes[each.key], each.end - midnight) for each in stays(made, windows)),
        tuple(_unwritten(made, [p for p in pieces if p.key in made.work.between], midnight)),
        tuple(_cold(made, nodes, midnight)),
        tuple(
            StandsLong(
                bath,
                (made.at[lag.after].start + offset) // A_DAY + 1,
                lag.why,
                lag.wished or 0,
                lag.meanwhile.format(it=bath),
            )
            for bath, _, lag in stands_too_long(made, closes)
        ),
    )


def _cold(made: Timetable, nodes: dict[str, int], midnight: int) -> Iterator[tuple[int, int]]:
    """The steps that are begun in the cold on the day that begins at a minute of the plan."""
    longest: dict[int, int] = {}
    for key, minutes in made.work.cold:
        if midnight <= made.at[key].start < midnight + A_DAY:
            node = nodes[key]
            longest[node] = max(minutes, longest.get(node, 0))
    yield from longest.items()


def _with_a_place(name: str, lots: tuple[str, ...]) -> str:
    """“wet red and gold out again in dye-tub” as papers say it, with braces for the lots.

    Those may be called “a” or “up”.
    """
    there = re.compile(rf"(?<= ){re.escape(listed(lots))}(?= |$)")
    doing, within, vessel = there.sub("{}", name, count=1).partition(" again in ")
    return f"{doing}{within}the {vessel.replace('-', ' ')}" if vessel else doing


def _in_prose(warmed: str) -> str:
    """“warm dye-bath again to 50 °C” as papers say it: “warm the dye bath again to 50 °C”."""
    return re.sub(r"^(warm|clean) (?!the )", r"\1 the ", warmed).replace("-", " ")


def _unwritten(made: Timetable, pieces: Sequence[Stretch], midnight: int) -> Iterator[Unwritten]:
    """What is done on a day with fibre that is dried meanwhile, and vats that are warmed again."""
    begun: set[str] = set()
    for piece in pieces:
        if piece.key in begun:
            continue  # its end, such as that the plate is turned off
        begun.add(piece.key)
        each = made.work.activity[piece.key]
        what = _with_a_place(each.name, each.lots) if each.lots else _in_prose(each.name)
        yield Unwritten(piece.start - midnight, what, each.lots)


def _hot_in(made: Timetable, opens: int, closes: int) -> list[Stretch]:
    """The baths for whose sake somebody stays on a day, until they may be alone."""
    return [each for each in made.hot if opens <= each.start and each.end <= closes]


def _left(
    plan: Judged, made: Timetable, nodes: dict[str, int], closes: int, offset: int
) -> Iterator[LeftGoing]:
    """What goes on when a day is over, what begins just as it closes among it."""
    there = {
        nodes[each.key]: each
        for each in made.placed
        if each.start <= closes < each.end and each.key not in made.work.between
    }
    opens = min((w.opens for w in made.work.windows if w.opens > closes), default=made.finish)
    longer, closed = longer_than_written(made), closed_days(made)
    daily, today = {key for key, _ in made.seen_to}, (closes + offset) // A_DAY
    for node, each in there.items():
        activity, does = made.work.activity[each.key], plan.flow.nodes[node].does
        day = (each.end + offset) // A_DAY + 1
        how = "goes on"
        if does.dries:
            how = "dries"
        elif does.wets and not activity.overnight and each.start + activity.lasting.most < opens:
            how = "lies wet"
        over = (each.end + offset) % A_DAY if how == "goes on" and each.key in longer else None
        between = each.key in daily and day - 1 > today + 1
        daily_work = activity.daily if between else ""
        shut = any(one > today for one in closed.get(each.key, ()))
        yield LeftGoing(node, how, day, activity.lots, over, daily_work, shut)
