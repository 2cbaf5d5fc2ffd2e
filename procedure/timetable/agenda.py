"""A timetable as facts for a person: by day, what to do, what runs by itself, when to be back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from procedure.quantity.day import A_DAY
from procedure.timetable.giving import Free, free_times
from procedure.timetable.planned import Timetable
from procedure.timetable.printed import in_order
from procedure.timetable.room_on_line import HUNG_UP, without_room
from procedure.timetable.shared_out import ResourceRow, rows, where, who_at
from procedure.timetable.waiting_less import longer_than_wished
from procedure.timetable.work import Attendance, Hold, Lag, Lies, Point, Window, lots_between


@dataclass(frozen=True, slots=True)
class AgendaEntry:
    """Something on the day's list.

    ``kind`` is begin (start an activity, working at it until ``hands_until``), see to (the
    hands-on work at its end), over (it ends by itself and takes no hands), or free.
    ``until`` is when the activity, or the free time, is over. ``number`` is the activity's
    number over the whole plan, in the order of the starts; people are told the printed one.
    """

    minute: int
    kind: str
    key: str = ""
    number: int = 0
    until: int = 0
    hands_until: int = 0
    who: tuple[str, ...] = ()
    where: tuple[str, ...] = ()
    watched: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Day:
    """One day of the plan: when it is open and what is on it, by the clock.

    ``leaves`` are the activities that are left going when the day is over; ``stands`` are the
    baths that stand there then, with their pots; ``wet`` are the lots that wait wet until the
    next step, with the minute at which that begins. ``too_long`` are baths that stand from then on
    for longer than they keep, with their pots and the wait that it is; ``hung`` are lots that are
    hung up meanwhile, each with the step that they are wetted out again for.
    """

    number: int
    windows: tuple[Window, ...]
    entries: tuple[AgendaEntry, ...]
    leaves: tuple[str, ...] = ()
    stands: tuple[tuple[str, str], ...] = ()
    wet: tuple[tuple[str, int], ...] = ()
    too_long: tuple[tuple[str, str, Lag], ...] = ()
    hung: tuple[tuple[str, str], ...] = ()

    @property
    def first(self) -> int:
        """When one has to be there."""
        return min((each.minute for each in self.entries if each.kind != "free"), default=-1)


@dataclass(frozen=True, slots=True)
class Agenda:
    """The whole plan by days, and how each unit of each resource is taken.

    ``who`` is the participant whose part of it this is; empty where it is for all.
    """

    made: Timetable
    days: tuple[Day, ...]
    rows: tuple[ResourceRow, ...]
    numbers: dict[str, int]
    who: str = ""

    def printed(self, key: str) -> str:
        """The number of a step as people are told it: that of its procedure's other papers.

        Where the work has none, its place in the order of the starts.
        """
        if any(each.printed for each in self.made.work.activities):
            return self.made.work.activity[key].printed
        return f"{self.numbers[key]}"

    def named(self, key: str) -> str:
        """A step by its name and its number: “dye yarn in onion-bath” (7)."""
        number = self.printed(key)
        return f"“{self.made.work.activity[key].name}”" + (f" ({number})" if number else "")

    @property
    def letters(self) -> dict[str, str]:
        """The letters before the printed numbers, and whose steps they are; none for one alone."""
        steps = sorted(self.made.work.activities, key=lambda each: in_order(each.printed))
        found = {in_order(each.printed)[0]: each.project for each in steps if each.printed}
        return {letters: name for letters, name in found.items() if letters}

    @property
    def names_matter(self) -> bool:
        """Whether there is more than one person, so that it has to be said who does what."""
        return sum(row.resource.kind == "people" for row in self.rows) > 1

    @property
    def people(self) -> tuple[str, ...]:
        """The names of all who are there."""
        return tuple(row.name for row in self.rows if row.resource.kind == "people")

    @property
    def projects_matter(self) -> bool:
        """Whether there are several procedures, so that it has to be said whose a step is."""
        return len({each.project for each in self.made.work.activities}) > 1


def agenda(made: Timetable) -> Agenda:
    """The facts of a plan by days."""
    shared = rows(made)
    numbers = numbered(made)
    to_come = [each for each in free_times(made) if each.end > made.work.now]
    entries = sorted(
        [*_of_activities(made, shared, numbers), *_free(to_come)],
        key=lambda each: (
            each.minute,
            not (each.key and made.work.over(each.key)),
            each.kind == "begin",
            each.number,
            each.kind,
        ),
    )
    days = []
    opens_on = [windows[0].opens for windows in made.work.open_on.values()]
    for i, (number, windows) in enumerate(made.work.open_on.items()):
        # What was done before the plan begins is of its first day.
        opens = windows[0].opens if i else min(each.minute for each in entries)
        until = next(iter(opens_on[i + 1 :]), made.finish + 1)
        here = tuple(each for each in entries if opens <= each.minute < until)
        if here:
            days.append(
                Day(
                    number,
                    windows,
                    here,
                    _left_going(made, windows[-1].closes),
                    _standing(made, windows[-1].closes),
                    waiting_wet(made, windows[-1].closes),
                    stands_too_long(made, windows[-1].closes),
                    _hung_up(made, opens, windows[-1].closes),
                )
            )
    return Agenda(made, tuple(days), shared, numbers)


def numbered(made: Timetable) -> dict[str, int]:
    """A number for each activity, in the order of the starts."""
    ordered = sorted(made.placed, key=lambda each: (each.start, each.end, each.key))
    return {each.key: i + 1 for i, each in enumerate(ordered)}


def _of_activities(
    made: Timetable, shared: tuple[ResourceRow, ...], numbers: dict[str, int]
) -> Iterator[AgendaEntry]:
    who = who_at(made, shared)
    pieces: dict[str, list[tuple[int, int]]] = {}
    for piece in made.hands_on:
        pieces.setdefault(piece.key, []).append((piece.start, piece.end))
    for placed in made.placed:
        key, number = placed.key, numbers[placed.key]
        places = where(made, key)
        own = pieces.get(key, [])
        at_start = next((each for each in own if each[0] == placed.start), None)
        over = made.work.over(key)
        yield AgendaEntry(
            # What is done is told by when it was: its start is often only supposed.
            placed.end if over else placed.start,
            "begin",
            key,
            number,
            placed.end,
            at_start[1] if at_start else placed.start,
            who.get((key, placed.start), ()),
            places,
        )
        if over:
            continue
        at_end = next((each for each in own if each[0] > placed.start), None)
        if at_end is not None:
            people = who.get((key, at_end[0]), ())
            yield AgendaEntry(
                at_end[0], "see to", key, number, placed.end, at_end[1], people, places
            )
        elif (
            made.work.activity[key].attendance is not Attendance.WHOLE
            and _somebody_there(made, placed.end)
            and not _followed(made, key)
        ):
            yield AgendaEntry(placed.end, "over", key, number, placed.end, placed.end, (), places)


def _somebody_there(made: Timetable, minute: int) -> bool:
    return any(window.opens <= minute <= window.closes for window in made.work.windows)


def _followed(made: Timetable, key: str) -> bool:
    """Whether a step that waits for this one begins as it ends, so that the end says itself."""
    end = made.at[key].end
    return any(lag.before == key and made.at[lag.after].start == end for lag in made.work.lags)


def _free(times: Iterable[Free]) -> Iterator[AgendaEntry]:
    for each in times:
        yield AgendaEntry(each.start, "free", until=each.end, watched=each.watched)


def _standing(made: Timetable, closes: int) -> tuple[tuple[str, str], ...]:
    """The baths that stand in their pots when the place closes, by their names."""
    found: dict[tuple[str, str], None] = {}
    for hold in made.work.holds:
        if hold.name and not made.work.over(hold.last):
            start, end = made.moment(hold.first, hold.begins), made.moment(hold.last, hold.ends)
            if start < closes < end and not _emptied(made, hold, closes):
                found[hold.name, made.work.resource[hold.need.resource].name] = None
    return tuple(found)


def stands_too_long(made: Timetable, closes: int) -> tuple[tuple[str, str, Lag], ...]:
    """The baths that stand from this day on for longer than they keep, with their pots."""
    opens = max(w.opens for w in made.work.windows if w.closes <= closes)
    opens_again = min((w.opens for w in made.work.windows if w.opens > closes), default=closes + 1)
    found: dict[tuple[str, str], Lag] = {}
    for number in longer_than_wished(made):
        lag = made.work.lags[number]
        if not (_of_a_bath(lag) and opens <= made.at[lag.before].end < opens_again):
            continue
        for hold in made.work.holds:
            keys = (hold.first, *hold.inside, hold.last)
            if hold.name and {lag.before, lag.after} <= set(keys):
                found[hold.name, made.work.resource[hold.need.resource].name] = lag
    return tuple((bath, pot, lag) for (bath, pot), lag in found.items())


def _of_a_bath(lag: Lag) -> bool:
    return lag.lies in (Lies.ANYTHING, Lies.DONE_WITH) and lag.at_last is not None


def _hung_up(made: Timetable, opens: int, closes: int) -> tuple[tuple[str, str], ...]:
    """The lots that hang from this day on, and the step for which each is wetted out again.

    The step is empty for what only waits to be dried.
    """
    found: dict[tuple[str, str], None] = {}
    no_room = without_room(made)
    for number, took in longer_than_wished(made).items():
        lag = made.work.lags[number]
        planned = lag.before + HUNG_UP in made.work.between
        if took > A_DAY and opens <= made.at[lag.before].end <= closes and not planned:
            before, after = (made.work.activity[key].lots for key in (lag.before, lag.after))
            # What is split before it waits has other names after that.
            lots = [lot for lot in before if lot in after] or list(after if before else ())
            lots = [lot for lot in lots if lot not in no_room.get(number, ())]
            again = lag.after if lag.dried else ""
            found |= dict.fromkeys((lot, again) for lot in lots)
    return tuple(found)


def waiting_wet(made: Timetable, closes: int) -> tuple[tuple[str, int], ...]:
    """The lots that wait wet between two steps when the place closes, and until which minute."""
    found: dict[str, int] = {}
    long, no_room = longer_than_wished(made), without_room(made)
    for number, lag in enumerate(made.work.lags):
        # How long dry fibre waits is nobody's care, so it has no greatest wait.
        between = lag.leaves is Point.END and lag.reaches is Point.START and lag.most is not None
        if not between or made.work.over(lag.after):
            continue
        hung = long.get(number, 0) > A_DAY
        if hung and number not in no_room:
            continue  # it is hung up meanwhile
        if made.at[lag.before].end <= closes < made.at[lag.after].start:
            before, after = made.work.activity[lag.before], made.work.activity[lag.after]
            until = made.at[lag.after].start
            for lot in no_room[number] if hung else lots_between(before, after):
                if not _taken_meanwhile(made, lot, lag):
                    found[lot] = min(until, found.get(lot, until))
    return tuple(found.items())


def is_pressed_next(made: Timetable, lot: str, closes: int) -> bool:
    """Whether the liquor is pressed out of a lot by the first step that comes after closing."""
    steps = [
        (made.at[each.key].start, each.key, each)
        for each in made.work.activities
        if lot in each.lots and made.at[each.key].start >= closes
    ]
    return bool(steps) and min(steps)[2].presses


def _taken_meanwhile(made: Timetable, lot: str, lag: Lag) -> bool:
    """Whether something else is done to a lot in a wait, which then is one of its bath alone."""
    return any(
        lot in (*each.lots, *each.makes)
        and each.key not in (lag.before, lag.after)
        and made.at[lag.before].end <= made.at[each.key].start < made.at[lag.after].start
        for each in made.work.activities
    )


def _emptied(made: Timetable, hold: Hold, minute: int) -> bool:
    """Whether all but the cleaning of a pot is over by then."""
    return hold.cleaned and all(
        made.at[key].end <= minute for key in hold.inside if key != hold.last
    )


def _left_going(made: Timetable, closes: int) -> tuple[str, ...]:
    return tuple(
        each.key
        for each in sorted(made.placed, key=lambda place: (place.start, place.key))
        if each.start <= closes < each.end
    )
