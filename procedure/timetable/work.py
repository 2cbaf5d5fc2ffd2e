"""What is to be fitted into the day: work, what it needs, how it hangs together, when it can be.

These are the types that whoever asks for a timetable fills in. Nothing here knows of
procedures, pots or fibre: an activity takes time, hands and room, and follows others after
a least wait and before a greatest one.

Every time is a whole number of minutes since the plan begins (:attr:`Work.begins`), counted
as they pass: over a change of the clocks a night is an hour shorter or longer, as it is.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import Enum
from functools import cached_property
from typing import Any, Protocol

HANDS, WATCH = "hands", "watch"


class Attendance(Enum):
    """How much of a person an activity takes."""

    WHOLE = "all the time"
    NOW_AND_THEN = "now and then"
    ENDS = "at its start and end"
    NONE = "not at all"


class Lies(Enum):
    """What lies and waits between two activities."""

    UNRINSED = "wet fibre that is not rinsed"
    RINSED = "fibre that is rinsed"
    WETTED = "clean fibre that is wet"
    DONE_WITH = "a bath that is done with"
    ANYTHING = "anything else"


class Point(Enum):
    """The end of an activity that a wait is counted from or to."""

    START = "start"
    END = "end"


@dataclass(frozen=True, slots=True)
class Need:
    """So much of a resource: 1 of a pot, 800 (watts) of the plates' power, 2 (kg) of the line."""

    resource: str
    amount: int = 1


@dataclass(frozen=True, slots=True)
class Resource:
    """Something of which there is only so much.

    ``kind`` is pot, tub, burner, power, line, people, watch, turn or room, and says how it is
    spoken of. ``units`` names each of the ``capacity`` where they have names: the people,
    the rings of the plates. A unit of one name is free or taken; of ``capacity`` 1 there
    is no more to say. Resources of the kind ``people`` are the only ones that do hands-on
    work. ``one_more`` is false where it makes no sense to wish for another: a person by
    name, the power that a plate brings. ``comes_with`` is what another brings along: a
    plate its power, a pair of hands two eyes. ``lidded`` is false of a pot without a lid.
    ``in_pounds`` says that its grams are told in ounces and pounds.
    """

    key: str
    name: str
    kind: str
    capacity: int = 1
    units: tuple[str, ...] = ()
    unit: str = ""
    one_more: bool = True
    comes_with: tuple[Need, ...] = ()
    lidded: bool = True
    in_pounds: bool = False


SEE_TO_ITS_HEAT, STIR_IT = "see to it and to its heat", "stir it"
TURN_THE_FIBRE = "turn the fibre in it"
"""What is done every day with what goes on for days."""

TURN_OFF = "turn the plate off"
"""What ends a step on a plate that is not wanted hot any more."""


@dataclass(frozen=True, slots=True)
class Lasting:
    """How long an activity takes, in minutes.

    ``least`` to ``most`` is the range as written or estimated; it is planned at ``most``.
    ``stretch`` is how long it may be let go on where that suits the plan better (a cooling
    that may go on until the morning); it is ``most`` where it may not. ``said`` tells where
    the figures are from: as written, estimated, common practice. ``slowest`` is how long it may
    take at the long end of an estimate, of which ``most`` may be the middle; else nought.
    ``written`` is the longest that is written of a step that may be let go on; else nought.
    """

    least: int
    most: int
    stretch: int = -1
    said: str = "as written"
    slowest: int = 0
    written: int = 0

    @property
    def longest(self) -> int:
        """The longest that the plan may make it."""
        return max(self.most, self.stretch)

    @property
    def elastic(self) -> bool:
        """Whether the plan may choose its length."""
        return self.longest > self.most


@dataclass(frozen=True, slots=True)
class ActivityPlace:
    """Where the activity is written."""

    file: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class Activity:
    """One thing to do, or to let happen.

    ``name`` says it to a person as a request (“rinse the yarn in the tub”). ``needs`` are
    taken for its whole length. ``hands`` are the people it takes while it is attended:
    all the time, or for ``at_start`` minutes at its start and ``at_end`` at its end.
    ``every`` is how many minutes may pass between two looks, where it is looked at now and
    then, and a day where it stands for days and somebody sees to it on each of them. What is
    attended all the time or now and then lies within opening hours; the first and last minutes
    of the others do, where they take hands.

    ``night`` says that it may go on while the place is closed. ``overnight`` says that it
    must: from one evening to the next morning. ``project`` is the procedure or person that
    it belongs to; ``lots`` the lots that it treats. ``cautions`` are words to be
    printed beside it. ``ending`` says what is to be done in the minutes at its end (“turn
    the plate off”). ``at_a_pinch`` is how many minutes it may be let go on over a night,
    where there is no plan in which it is over as it is written; nought where it never may.
    ``fibre_in`` says that fibre lies in its bath when it is over. ``printed`` is the number
    that its step has on the other papers of its procedure; ``amounts`` are what it takes, as
    they are weighed out (“alum 12 g (12 %)”). ``itself`` are the minutes of the step itself,
    where it is planned longer so that it begins and ends on full five minutes; else nought.
    ``hot_for`` are the minutes from its start, and ``hot_after`` those from its end, for which
    its bath is too hot to be alone, as estimated: the place is open for so long. They are nought
    where it is not so hot. ``too_hot`` is that heat, in the reader's words.
    ``plants_in`` says that a plant that harms is in its bath when it is over. ``makes`` are the
    lots that it parts its lots into, or joins them to. ``airs`` says that its lots turn blue in
    the air meanwhile; ``round`` is which time it is of how many, where it comes again and again.
    ``breaks`` says that it may go on by itself while the place is closed at midday, though not over
    a night. ``awaited`` are lots that come into its bath when it is over, and wait until then.
    ``no_lid`` says that it may not be left for want of a lid alone. ``by_day_since`` is why it may
    not go on at night, to be read after “since”; empty where that goes without saying.
    ``hot_needs`` are taken while
    its bath is too hot to be alone. ``presses`` says that liquor is pressed out of its lots.
    ``hot_still`` are the minutes after its bath was last on the heat for which it may be hot when
    it is poured away; nought where it is not hot. ``within_call`` says that it is written that
    somebody is near all the while, also where it goes on over a night at a pinch. ``daily`` is
    what somebody does on each of the days for which it goes on (“stir it”), every day at the least.
    """

    key: str
    name: str
    lasting: Lasting
    needs: tuple[Need, ...] = ()
    attendance: Attendance = Attendance.WHOLE
    hands: tuple[Need, ...] = (Need(HANDS),)
    at_start: int = 0
    at_end: int = 0
    every: int = 0
    night: bool = False
    overnight: bool = False
    project: str = ""
    lots: tuple[str, ...] = ()
    place: ActivityPlace = ActivityPlace()
    cautions: tuple[str, ...] = ()
    ending: str = ""
    at_a_pinch: int = 0
    fibre_in: bool = False
    printed: str = ""
    amounts: tuple[str, ...] = ()
    itself: int = 0
    hot_for: int = 0
    hot_after: int = 0
    too_hot: str = ""
    plants_in: bool = False
    airs: bool = False
    makes: tuple[str, ...] = ()
    round: tuple[int, int] = (0, 0)
    breaks: bool = False
    awaited: tuple[str, ...] = ()
    no_lid: bool = False
    by_day_since: str = ""
    hot_needs: tuple[Need, ...] = ()
    presses: bool = False
    hot_still: int = 0
    within_call: bool = False
    daily: str = ""

    @property
    def told(self) -> str:
        """Its name, and of a step that comes again and again which time it is: “(2 of 3)”."""
        which, of = self.round
        return f"{self.name} ({which} of {of})" if of > 1 else self.name

    @property
    def by_day(self) -> bool:
        """Whether it may not go on over a night."""
        return not self.night or self.attendance in (Attendance.WHOLE, Attendance.NOW_AND_THEN)

    @property
    def in_hours(self) -> bool:
        """Whether all of it must lie within opening hours."""
        return self.by_day and not self.breaks

    @property
    def begun_by_hand(self) -> bool:
        """Whether it begins when somebody is there, though it takes no hands and goes on alone.

        Nothing that a person does begins by itself in the middle of the night.
        """
        return not self.in_hours and bool(self.hands) and not self.at_start


def hot_times(activity: Activity, start: int, end: int) -> Iterable[tuple[int, int]]:
    """The times for which its bath is too hot to be alone, given when an activity is."""
    if activity.hot_for:
        yield start, start + activity.hot_for
    if activity.hot_after:
        yield end, end + activity.hot_after


@dataclass(frozen=True, slots=True)
class Lag:
    """A wait between two activities: at the least, and at the most (None: any).

    It is counted from the ``leaves`` of ``before`` to the ``reaches`` of ``after``. ``why``
    gives the reason in words that follow “because” (“the vat goes stale”). A ``near`` wait
    is kept short where nothing is lost by it. ``place`` is the line that asks for it.
    ``one_of`` is a resource for the sake of which alone there is the wait: with two of it,
    there is none. ``at_a_pinch`` is the most where no plan keeps to ``most``; None where
    that has to be kept. ``at_last`` is the same where there is no plan at all, not
    even with shorter steps. Beyond ``wish`` minutes, or beyond ``most``, the papers tell what is
    done ``meanwhile``, with ``{it}`` for the lots. ``lies`` says what waits. ``dried`` says how
    fibre is hung up where it waits for days (“rinsed and hung up”), to be wetted out again.
    ``kind`` is what waits, as the row of ``waits.csv`` is called that it was made by; empty where
    it was made by none.
    """

    before: str
    after: str
    least: int = 0
    most: int | None = None
    leaves: Point = Point.END
    reaches: Point = Point.START
    why: str = ""
    near: bool = True
    place: ActivityPlace = ActivityPlace()
    one_of: str = ""
    at_a_pinch: int | None = None
    at_last: int | None = None
    wish: int | None = None
    meanwhile: str = ""
    lies: Lies = Lies.ANYTHING
    dried: str = ""
    kind: str = ""

    @property
    def wished(self) -> int | None:
        """The most minutes of which nothing need be said; None where it may be any."""
        return self.most if self.wish is None else self.wish

    @property
    def gives(self) -> bool:
        """Whether it may be longer than is wished, which is told then."""
        return any(x is not None for x in (self.wish, self.at_a_pinch, self.at_last))


@dataclass(frozen=True, slots=True)
class WarmAgain:
    """A bath that is wanted as warm as a step before has made it.

    Where ``after`` begins later than ``within`` minutes after ``before`` is as long as it
    takes, the bath has to be warmed again, which takes ``minutes`` more. ``again`` says that
    those are in the length of ``after`` already. ``from_cold`` are the minutes where the wait is as
    long as it may be at last; nought where they are the same.
    """

    before: str
    after: str
    within: int
    minutes: int
    again: bool = False
    from_cold: int = 0


@dataclass(frozen=True, slots=True)
class DipAtHeat:
    """An activity that wants its vat between two heats in °C.

    ``told`` is the higher in the reader's words; ``before`` is what was last done to the vat, of
    what is no dip.
    """

    key: str
    low: float
    high: float
    told: str
    before: str = ""


class LosesHeat(Protocol):
    """How something hot loses its heat, in minutes and °C."""

    def minutes(self, start: float, end: float) -> tuple[float, float, float]:
        """From one heat to another: the quickest, what is usual, and the slowest."""

    def coldest(self, start: float, minutes: float) -> float:
        """The heat that is left so many minutes later, at the least."""


@dataclass(frozen=True, slots=True)
class VatHeat:
    """A vat in which fibre is dipped at a heat, and how it cools while nothing warms it.

    ``made_warm`` are the activities that leave it at a heat, each with that heat in °C.
    ``minutes_a_degree`` are those in which it is 1 °C warmer on its plate, at the least and at the
    most; warming it takes the ``needs``.
    """

    name: str
    made_warm: tuple[tuple[str, float], ...]
    dips: tuple[DipAtHeat, ...]
    loses: LosesHeat
    minutes_a_degree: tuple[float, float]
    needs: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class Hold:
    """A resource that stays taken from one activity to another, whatever lies between.

    A pot is held from the start of the step that fills it to the end of the one that frees
    it. Where ``night`` is false, what is held (a hot bath, an uncovered poison) may not be
    there while the place is closed. ``inside`` are the other activities that are done in
    it, which say for themselves when they are. ``cleaned`` says that it is empty before the
    last of them, which cleans it.
    """

    key: str
    need: Need
    first: str
    last: str
    begins: Point = Point.START
    ends: Point = Point.END
    night: bool = True
    name: str = ""
    inside: tuple[str, ...] = ()
    cleaned: bool = False


@dataclass(frozen=True, slots=True)
class VesselUse:
    """What an activity leaves in a vessel, and what would do harm to what comes into it then.

    ``leaves`` and ``minds`` name what works in the least trace, such as iron, each with the lot
    (or bath) that it is of. What ``cleans`` the vessel takes out all that was left in it.
    """

    key: str
    vessel: str
    leaves: tuple[tuple[str, str], ...] = ()
    minds: tuple[tuple[str, str], ...] = ()
    cleans: bool = False


@dataclass(frozen=True, slots=True)
class Window:
    """A time when the place is open; ``day`` numbers the calendar days from 0."""

    opens: int
    closes: int
    day: int = 0


@dataclass(frozen=True, slots=True)
class Done:
    """What has happened: when an activity began and, where it has ended, when.

    What was ``left_out`` was not done, and is not to be done any more. Of what is ``inferred``
    nobody has said when it was: it came before something that has happened.
    """

    key: str
    start: int
    end: int | None = None
    left_out: bool = False
    inferred: bool = False


@dataclass(frozen=True)
class Work:
    """All that has to be fitted together.

    ``begins`` is minute 0, with its time zone. ``now`` is the first minute at which
    anything that is not ``done`` may start. ``finish_by`` is the minute at which the last
    activity has to be over. ``hours_said`` is how the person who asked put the hours.
    ``cautions`` are of what can kill, for the head of every paper; ``notes`` are what else
    has to be known before the plan is relied on: that it is a draft, what is planned short.
    ``in_order`` are activities in the order of their text, in which they are begun where
    nothing is lost by it; those ``at_leisure`` (pouring away, cleaning) not where a bath that is
    done with would stand over a night for it. ``warmth`` are the baths that are wanted as warm
    as they were. ``between`` are activities that nobody has written, done with fibre that is
    dried meanwhile or with a vat that has cooled, or to a tub; ``vats`` are those that cool
    between dips. ``waters`` are the uses of tubs and pots in which something may be left.
    ``grams`` are what lots weigh dry: whose procedure, which lot, how much. ``cold`` are activities
    in a bath or vat that has cooled, with the minutes of warming it for which a plan has no time.
    """

    activities: tuple[Activity, ...]
    lags: tuple[Lag, ...] = ()
    holds: tuple[Hold, ...] = ()
    resources: tuple[Resource, ...] = ()
    windows: tuple[Window, ...] = ()
    begins: datetime | None = None
    finish_by: int | None = None
    done: tuple[Done, ...] = ()
    now: int = 0
    title: str = ""
    hours_said: str = ""
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    in_order: tuple[str, ...] = ()
    at_leisure: frozenset[str] = frozenset()
    warmth: tuple[WarmAgain, ...] = ()
    between: frozenset[str] = frozenset()
    vats: tuple[VatHeat, ...] = ()
    waters: tuple[VesselUse, ...] = ()
    grams: tuple[tuple[str, str, int], ...] = ()
    cold: tuple[tuple[str, int], ...] = ()

    def waiting_in(self, lag: Lag) -> tuple[str, ...]:
        """The lots that wait between two activities.

        Of lots that come to a step from different places each waits from where it was last: what
        was mordanted since it was parted does not wait from its parting on.
        """
        lots = lots_between(self.activity[lag.before], self.activity[lag.after])
        since = self._places[lag.before]
        later = {
            lot
            for key in self._coming_to.get(lag.after, ())
            if self._places[key] > since
            for lot in (*self.activity[key].lots, *self.activity[key].makes)
        }
        return tuple(lot for lot in lots if lot not in later)

    @cached_property
    def _places(self) -> dict[str, int]:
        return {each.key: number for number, each in enumerate(self.activities)}

    @cached_property
    def _coming_to(self) -> dict[str, list[str]]:
        """The activities after which something waits for each, by their keys."""
        found: dict[str, list[str]] = {}
        for lag in self.lags:
            if lag.before not in self.between:
                found.setdefault(lag.after, []).append(lag.before)
        return found

    @cached_property
    def worked_out(self) -> dict[str, Any]:
        """What is asked of the whole work at many places, each made once by the room it is of."""
        return {}

    @cached_property
    def activity(self) -> dict[str, Activity]:
        """The activities by their keys."""
        return {each.key: each for each in self.activities}

    @cached_property
    def resource(self) -> dict[str, Resource]:
        """The resources by their keys."""
        return {each.key: each for each in self.resources}

    @cached_property
    def happened(self) -> dict[str, Done]:
        """What has happened, by the activity's key."""
        return {each.key: each for each in self.done}

    def over(self, key: str) -> bool:
        """Whether an activity has happened, and is not still going on."""
        return key in self.happened and self.happened[key].end is not None

    @cached_property
    def closed(self) -> tuple[tuple[int, int], ...]:
        """When the place is closed: between the windows, before the first and after the last."""
        edges = [0, *(edge for w in self.windows for edge in (w.opens, w.closes))]
        edges.append(2 * self.horizon + 1)
        pairs = zip(edges[::2], edges[1::2], strict=True)
        return tuple((start, end) for start, end in pairs if start < end)

    def closing_within(self, start: int, end: int) -> tuple[int, int] | None:
        """The first time when the place is closed at some minute from ``start`` to ``end``."""
        number = bisect_right(self._closed_until, start)
        found = self.closed[number] if number < len(self.closed) else None
        return found if found is not None and found[0] < end else None

    @cached_property
    def _closed_until(self) -> list[int]:
        return [end for _, end in self.closed]

    @cached_property
    def closings(self) -> list[int]:
        """When the place closes after each of the spells."""
        return [spell.closes for spell in self.spells]

    @cached_property
    def spells(self) -> tuple[Window, ...]:
        """For how long the place is open at a stretch: midnight parts nothing that goes on."""
        found: list[Window] = []
        for each in self.windows:
            if found and found[-1].closes == each.opens:
                each = Window(found.pop().opens, each.closes, each.day)
            found.append(each)
        return tuple(found)

    @cached_property
    def open_on(self) -> dict[int, tuple[Window, ...]]:
        """The windows of each day on which the place is open, by the days in their order."""
        found: dict[int, tuple[Window, ...]] = {}
        for each in self.windows:
            found[each.day] = (*found.get(each.day, ()), each)
        return found

    @cached_property
    def days(self) -> tuple[tuple[int, int], ...]:
        """From the first opening of each day to its last closing."""
        return tuple((there[0].opens, there[-1].closes) for there in self.open_on.values())

    def day_at(self, minute: int) -> int:
        """The day on which the place is open at a minute, or is open next; -1 where it is none."""
        return next((each.day for each in self.windows if minute <= each.closes), -1)

    @cached_property
    def there_now(self) -> int | None:
        """The day on which somebody is there as it is planned again, so that it is no day more."""
        if not self.done:
            return None
        return next((w.day for w in self.windows if w.opens < self.now < w.closes), None)

    @cached_property
    def nights(self) -> tuple[tuple[int, int], ...]:
        """The closed times between one day and another."""
        pairs = zip(self.windows, self.windows[1:], strict=False)
        return tuple((a.closes, b.opens) for a, b in pairs if a.day != b.day)

    @cached_property
    def horizon(self) -> int:
        """A minute by which everything is over, if the windows suffice for it at all."""
        alone = sum(each.lasting.longest for each in self.activities if not each.in_hours)
        waits = sum(lag.least for lag in self.lags)
        last = self.windows[-1].closes if self.windows else 0
        return last + alone + max(0, waits)


def lots_between(before: Activity, after: Activity) -> tuple[str, ...]:
    """The lots that wait between two activities: after a parting, the parts."""
    waiting = dict.fromkeys((*before.lots, *before.makes))
    return tuple(each for each in waiting if each in (*after.lots, *after.awaited))


def always_open(until: int) -> tuple[Window, ...]:
    """One window with no night in it, for work that knows no hours."""
    return (Window(0, until),)


def stretches(activity: Activity, start: int, end: int) -> Iterable[tuple[int, int]]:
    """The times at which an activity takes hands, given when it starts and ends.

    Stretches of no length are left out; two that meet or overlap are one.
    """
    if not activity.hands or activity.attendance is Attendance.NONE:
        return
    if activity.attendance is Attendance.WHOLE:
        if end > start:
            yield start, end
        return
    first = (start, min(end, start + activity.at_start))
    last = (max(start, end - activity.at_end), end)
    if first[1] > first[0] and last[1] > last[0] and first[1] >= last[0]:
        yield start, end
        return
    for each in (first, last):
        if each[1] > each[0]:
            yield each
