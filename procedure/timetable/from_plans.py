"""Work to be timed from plans: steps to activities, pots to holds, what flows to waits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from procedure.pipeline import Judged
from procedure.timetable.asked import Asked
from procedure.timetable.hours import minutes_between, windows
from procedure.timetable.lengths import Course, courses
from procedure.timetable.turns import Turn, Unrolled, unrolled
from procedure.timetable.usual import Wait, waits
from procedure.timetable.work import (
    HANDS,
    Activity,
    Attendance,
    Done,
    Hold,
    Lag,
    Need,
    Place,
    Point,
    Resource,
    Work,
)
from procedure.trace import Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold

RINGS, WATCH, LINE = "rings", "watch", "line"
_A_NIGHT = 12 * 60


class NoSuchStep(ValueError):
    """A step that is said to be done is not one of the plans; a plain sentence."""


@dataclass(frozen=True)
class Drawn:
    """The work of some plans, and sentences on what was supposed."""

    work: Work
    supposed: tuple[str, ...]


@dataclass
class _Made:
    """What grows while plans are gone through."""

    activities: list[Activity] = field(default_factory=list)
    lags: list[Lag] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    pots: dict[str, str] = field(default_factory=dict)


def work_of(plans: Sequence[Judged], asked: Asked) -> Drawn:
    """The plans as one piece of work in one workshop; pots of one name are one pot.

    Raises :class:`~procedure.timetable.hours.BadHours` where the place is never open and
    :class:`NoSuchStep` for a step that is said to be done and is none.
    """
    made = _Made()
    supposed: list[str] = []
    for number, plan in enumerate(plans):
        prefix = f"{number + 1}: " if len(plans) > 1 else ""
        all_turns = unrolled(plan, prefix)
        supposed += all_turns.supposed
        _plan(made, all_turns)
    heaters = _heaters(plans)
    if asked.rings is None and not heaters and any(_heats(each) for each in made.activities):
        supposed.append("No hotplate is declared; planned for one pot on the heat at a time.")
    rings = asked.rings if asked.rings is not None else max(1, len(heaters))
    done = _done(made, asked)
    now = minutes_between(asked.begins, asked.now) if asked.now is not None else 0
    work = Work(
        tuple(made.activities),
        tuple(made.lags),
        tuple(made.holds),
        _resources(made, asked, rings, heaters),
        windows(asked.begins, asked.hours),
        asked.begins,
        minutes_between(asked.begins, asked.finish_by) if asked.finish_by else None,
        done,
        max(now, 0),
        _title(plans),
        asked.hours_said,
    )
    return Drawn(work, tuple(dict.fromkeys(supposed)))


def _title(plans: Sequence[Judged]) -> str:
    names = [plan.model.title.text if plan.model.title else Path(plan.file).stem for plan in plans]
    return "; ".join(dict.fromkeys(names))


def _heats(activity: Activity) -> bool:
    return any(need.resource == RINGS for need in activity.needs)


def _heaters(plans: Sequence[Judged]) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(
            name
            for plan in plans
            for name, (pot, _) in plan.flow.pots.items()
            if pot.kind is not None and pot.kind.table == "heater"
        )
    )


def _resources(
    made: _Made, asked: Asked, rings: int, heaters: tuple[str, ...]
) -> tuple[Resource, ...]:
    hands = len(asked.hands)
    eyes = int(threshold("pots watched").value)
    line = max(asked.line or 0, 0)
    return (
        *(Resource(key, f"the {name}", "pot") for key, name in made.pots.items()),
        Resource(RINGS, "hotplate", "burner", rings, heaters if len(heaters) == rings else ()),
        *([Resource(LINE, "the drying line", "line", line, unit="g")] if asked.line else []),
        Resource(
            HANDS, "pair of hands", "people", hands, asked.hands, comes_with=(Need(WATCH, eyes),)
        ),
        Resource(WATCH, "watching", "watch", eyes * hands, one_more=False),
    )


def _done(made: _Made, asked: Asked) -> tuple[Done, ...]:
    found = []
    known = {each.key: each for each in made.activities}
    for one in asked.happened:
        names = [key for key in (one.step, f"line {one.step}") if key in known]
        if not names:
            raise NoSuchStep(
                f"No step is called “{one.step}”; name it by its label or its line, as in "
                f"{next(iter(known), 'soak')}=10:40."
            )
        activity = known[names[0]]
        end = minutes_between(asked.begins, one.end) if one.end is not None else None
        start = minutes_between(asked.begins, one.start) if one.start is not None else None
        if start is None:
            start = (end or 0) - activity.lasting.most
        found.append(Done(activity.key, start, end))
    return tuple(found)


# ------------------------------------------------------------------ one plan


def _plan(made: _Made, all_turns: Unrolled) -> None:
    plan, turns = all_turns.plan, all_turns.turns
    goes = courses(plan, turns)
    project = plan.model.title.text if plan.model.title else Path(plan.file).stem
    first_of: dict[str, str] = {}
    last_of: dict[str, str] = {}
    holding = _Holding(made, plan)
    order = _Order(made, plan, first_of, last_of)
    for turn in turns:
        course = goes[turn.key]
        activity = _activity(plan, turn, course, project)
        own = holding.turn(turn)
        needs = (*activity.needs, *own)
        if course.heating is not None:
            after = _heating(turn, course, project, plan)
            made.activities += [replace(activity, needs=needs), after]
            made.lags.append(Lag(activity.key, after.key, 0, 0, near=False))
            last_of[turn.key] = after.key
        else:
            made.activities.append(replace(activity, needs=needs))
            last_of[turn.key] = activity.key
        first_of[turn.key] = activity.key
        order.turn(turn)
    holding.finish(first_of, last_of)


def _activity(plan: Judged, turn: Turn, course: Course, project: str) -> Activity:
    common, lasting = course.usual, course.lasting
    attendance = common.attendance
    on_plate = course.on_heat and course.heating is None
    if attendance is Attendance.WHOLE and on_plate and lasting.most > common.high:
        # A preparing that is written with its heating: stay at the start, then look at it.
        attendance = Attendance.NOW_AND_THEN
    if course.overnight and attendance is Attendance.NONE:
        attendance = Attendance.ENDS
    at_start, at_end = common.at_start, common.at_end
    least = lasting.most
    needs: list[Need] = []
    if on_plate:
        needs.append(Need(RINGS))
    if attendance is Attendance.NOW_AND_THEN:
        needs.append(Need(WATCH))
    if at_start + at_end > least:
        at_start, at_end = min(at_start, least), 0
    return Activity(
        turn.key,
        name_of(plan, turn),
        lasting,
        tuple(needs),
        attendance,
        at_start=at_start,
        at_end=at_end,
        every=common.every or (15 if attendance is Attendance.NOW_AND_THEN else 0),
        night=course.night,
        overnight=course.overnight,
        project=project,
        lots=tuple(plan.study.called(lot) for lot in turn.node.lots),
        place=Place(plan.file if not turn.node.calls else turn.node.procedure.file, _line(turn)),
        cautions=("Put the lid on before you leave it.",) if course.lid else (),
        ending=common.ending,
    )


def _line(turn: Turn) -> int:
    return turn.step.place.line


def _heating(turn: Turn, course: Course, project: str, plan: Judged) -> Activity:
    """The heating of a bath that is prepared hot, after it has been put together."""
    assert course.heating is not None
    heat = turn.moment.peak or turn.moment.heat
    to = f" to {float(heat.high):g}\u202f°C" if heat is not None and not heat.open else ""
    bath = plan.study.called(turn.node.bath) if turn.node.bath else "the water"
    return Activity(
        f"{turn.key} heated",
        f"heat {bath}{to}",
        course.heating,
        (*([Need(RINGS)] if course.on_heat else []), Need(WATCH)),
        Attendance.NOW_AND_THEN,
        at_start=min(2, course.heating.most),
        every=15,
        project=project,
        place=Place(plan.file, _line(turn)),
    )


def name_of(plan: Judged, turn: Turn) -> str:
    """What is to be done, in few words: “mordant yarn in alum-bath”."""
    node, step = turn.node, turn.step
    called = plan.study.called
    if step.verb is None:
        return step.words.text if step.words is not None else "do what is written"
    words = [step.verb.name]
    lots = [called(lot) for lot in node.lots]
    things = [called(thing) for thing, _ in node.moved] if not lots else []
    bath = called(node.bath) if node.bath else ""
    if node.cleaned:
        words.append(_and([called(pot) for pot in node.cleaned]))
    elif lots:
        words.append(_and(lots))
        words += ["in", bath] if bath else ["in", called(node.pot)] if node.pot else []
    elif node.does.prepares and node.makes:
        words.append(_and([called(each) for each in node.makes]))
        words += ["in", called(node.pot)] if node.pot else []
    elif things:
        words.append(_and(things))
        words += ["to", bath] if bath and node.does.adds else []
    elif bath:
        words.append(bath)
    elif node.pot:
        words.append(called(node.pot))
    told = " ".join(word for word in words if word)
    return told + (" overnight" if "overnight" in step.manner else "")


def _and(names: list[str]) -> str:
    unique = list(dict.fromkeys(names))
    return " and ".join(unique) if len(unique) < 3 else f"{', '.join(unique[:-1])} and {unique[-1]}"


# ------------------------------------------------------------------ pots


@dataclass
class _Segment:
    bath: str
    pot: str
    first: str
    begins: Point
    last: str = ""
    ends: Point = Point.END
    inside: list[str] = field(default_factory=list)


class _Holding:
    """Follows which pot each bath is in, and holds the pot for it until it is free and clean."""

    def __init__(self, made: _Made, plan: Judged) -> None:
        self.made = made
        self.plan = plan
        self.open: dict[str, _Segment] = {}
        self.shut: list[_Segment] = []

    def turn(self, turn: Turn) -> tuple[Need, ...]:
        """Take a turn into account; gives what it needs of pots for itself alone."""
        node, moment = turn.node, turn.moment
        needs: list[Need] = []
        for pot in node.cleaned:
            if not self._cleaned(turn, pot) and self._holds(pot) and not self._busy(pot):
                needs.append(Need(self._pot(pot)))
        baths = [node.bath] if node.bath else []
        baths += [each for each in node.makes if each in moment.after.baths and each not in baths]
        for bath in baths:
            self._bath(turn, bath)
        if not baths and node.pot and self._holds(node.pot) and not self._busy(node.pot):
            needs.append(Need(self._pot(node.pot)))
        return tuple(dict.fromkeys(needs))

    def _bath(self, turn: Turn, bath: str) -> None:
        after, before = turn.moment.after.baths.get(bath), turn.moment.before.baths.get(bath)
        segment = self.open.get(bath)
        if segment is None:
            state = after or before
            pot = state.pot if state is not None else turn.node.pot
            if not pot:
                return
            segment = _Segment(bath, pot, turn.key, Point.START)
            self.open[bath] = segment
        segment.inside.append(turn.key)
        segment.last = turn.key
        moved = after.pot if after is not None and after.pot else segment.pot
        if moved != segment.pot:
            self.shut.append(segment)
            self.open[bath] = _Segment(bath, moved, turn.key, Point.START, turn.key)
        elif after is None or turn.node.does.stores:
            self.shut.append(self.open.pop(bath))

    def _cleaned(self, turn: Turn, pot: str) -> bool:
        """Whether a cleaning belongs to a bath that was in the pot, which is held until then."""
        for segment in reversed(self.shut):
            if segment.pot == pot:
                segment.last = turn.key
                segment.inside.append(turn.key)
                return True
        return False

    def _busy(self, pot: str) -> bool:
        return any(segment.pot == pot for segment in self.open.values())

    def _holds(self, pot: str) -> bool:
        found = self.plan.flow.pots.get(pot)
        return found is not None and found[0].holds

    def _pot(self, pot: str) -> str:
        name = self.plan.study.called(pot)
        key = f"pot {name}"
        self.made.pots.setdefault(key, name)
        return key

    def finish(self, first_of: dict[str, str], last_of: dict[str, str]) -> None:
        """All holds, those of baths that are never emptied as well."""
        for number, segment in enumerate([*self.shut, *self.open.values()]):
            if not self._holds(segment.pot):
                continue
            inside = dict.fromkeys(
                key for turn in segment.inside for key in (first_of[turn], last_of[turn])
            )
            self.made.holds.append(
                Hold(
                    f"{first_of[segment.first]} hold {number}",
                    Need(self._pot(segment.pot)),
                    first_of[segment.first],
                    last_of[segment.last],
                    segment.begins,
                    segment.ends,
                    name=self.plan.study.called(segment.bath),
                    inside=tuple(inside),
                )
            )


# ------------------------------------------------------------------ order and waits


class _Order:
    """What comes after what, and how long it may wait in between."""

    def __init__(
        self,
        made: _Made,
        plan: Judged,
        first_of: dict[str, str],
        last_of: dict[str, str],
    ) -> None:
        self.made = made
        self.plan = plan
        self.first_of = first_of
        self.last_of = last_of
        self.lots: dict[str, Turn] = {}
        self.baths: dict[str, Turn] = {}
        self.materials: dict[str, Turn] = {}
        self.hard: dict[str, Turn] = {}
        self.soft: dict[str, list[Turn]] = {}
        self.labels: dict[str, Turn] = {}

    def turn(self, turn: Turn) -> None:
        """Take a turn into account: waits from what came before on the same things."""
        befores: dict[str, Wait | None] = {}
        for before, wait in (
            *self._of_lots(turn),
            *self._of_baths(turn),
            *self._of_pots(turn),
            *self._of_materials(turn),
            *self._by_hand(turn),
        ):
            if before.key == turn.key:
                continue
            known = befores.get(before.key)
            if before.key not in befores or (wait and (known is None or wait.most < known.most)):
                befores[before.key] = wait or known
        for key, wait in befores.items():
            self.made.lags.append(
                Lag(
                    self.last_of[key],
                    self.first_of[turn.key],
                    0,
                    wait.most if wait is not None else None,
                    why=wait.why if wait is not None else "",
                    # What may wait for a night is not hurried.
                    near=wait is not None and wait.most < _A_NIGHT,
                    place=Place(self.plan.file, _line(turn)),
                )
            )
        if turn.step.label is not None:
            self.labels[turn.step.label.text] = turn

    def _of_lots(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        lots = dict.fromkeys((*node.lots, *node.present, *node.left))
        for lot in lots:
            before = self.lots.get(lot)
            if before is not None:
                yield before, _fibre_waits(before, turn, lot)
            self.lots[lot] = turn
        for made in node.makes:
            if made in self.plan.flow.lots:
                self.lots[made] = turn

    def _of_baths(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        moved = [thing for thing, _ in (*node.moved, *node.materials) if thing in self.baths]
        baths = dict.fromkeys((node.bath, *node.left.values(), *moved))
        for bath in filter(None, baths):
            before = self.baths.get(bath)
            if before is not None:
                own = bath == node.bath
                yield before, _bath_waits(before, turn) if own else None
            self.baths[bath] = turn
        for made in node.makes:
            self.baths[made] = turn

    def _of_pots(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        """A pot is used in the order of the text; waters in a tub may change places."""
        node = turn.node
        hard = {*node.cleaned}
        if node.makes and node.pot and node.bath in node.makes:
            hard.add(node.pot)
        if node.does.empties and node.pot:
            hard.add(node.pot)
        if node.to_pot:
            hard.add(node.to_pot)
        for pot in sorted(hard):
            for before in (*self.soft.pop(pot, ()), *filter(None, (self.hard.get(pot),))):
                yield before, None
            self.hard[pot] = turn
        if node.own_water and node.pot and node.pot not in hard:
            before = self.hard.get(node.pot)
            if before is not None:
                yield before, None
            self.soft.setdefault(node.pot, []).append(turn)

    def _of_materials(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        prepares = turn.step.verb is not None and turn.step.verb.group == "material"
        for thing, _ in (*node.moved, *node.materials):
            before = self.materials.get(thing)
            if before is not None:
                yield before, _material_waits(before)
            if prepares:
                self.materials[thing] = turn

    def _by_hand(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        for name in turn.step.after:
            before = self.labels.get(name.text)
            if before is not None:
                yield before, None


def _fibre_waits(before: Turn, turn: Turn, lot: str) -> Wait | None:
    """How long a lot may wait between two steps."""
    one, two = before.node.does, turn.node.does
    if one.dips and two.airs:
        return waits()["fibre to the air"]
    if one.airs and two.dips:
        return waits()["aired fibre"]
    state = before.moment.after.lots.get(lot)
    if state is None or state.bath or state.possibly("dry") == "":
        return None
    if one.wets:
        return waits()["damp fibre"]
    if state.mordants and not state.dyes:
        return waits()["mordanted fibre"]
    if one.rinses or one.washes:
        return waits()["rinsed fibre"]
    return waits()["damp fibre"]


def _bath_waits(before: Turn, turn: Turn) -> Wait | None:
    """How long a bath may wait between two steps."""
    one, two = before.node.does, turn.node.does
    hot = _ends_hot(before.moment)
    if one.dips or two.dips:
        return waits()["reduced vat"] if one.settles or one.dips else None
    if hot and two.cools:
        return Wait(0, 0, "the plate is off", "")
    kept = two.settles and turn.step.at is not None and not two.cools
    if hot and (two.warms or two.held_hot or two.keeps_heat or kept):
        return waits()["bath at its heat"]
    if any(content.solid for content in _contents(before.moment)):
        return waits()["bath in its pot"]
    return None


def _ends_hot(moment: Moment) -> bool:
    heat = moment.bath_after.heat if moment.bath_after is not None else None
    return heat is not None and heat.low >= float(vocabulary().heats["hot"].low)


def _contents(moment: Moment):  # type: ignore[no-untyped-def]
    return moment.bath_after.contents.values() if moment.bath_after is not None else ()


def _material_waits(before: Turn) -> Wait | None:
    does = before.node.does
    if does.gathers:
        return waits()["plant gathered"]
    if does.in_water:
        return waits()["plant in water"]
    return waits()["plant made ready"] if does.readies else None
