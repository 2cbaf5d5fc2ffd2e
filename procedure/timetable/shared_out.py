"""Who does what, and on which ring: the units of each resource, shared out.

The plan keeps to how many there are; so there is always one free, and the one is taken that
has been at the same thing before, or else the one that has been free for longest.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from procedure.timetable.planned import Timetable
from procedure.timetable.work import Attendance, Hold, Point, Resource, stretches

_IN_THE_AIR = "air, rest, dry"


@dataclass(frozen=True, slots=True)
class Bar:
    """A unit is taken from ``start`` to ``end``, for these activities.

    ``how`` is hands (a person works), watched, alone (it goes on by itself) or held (a pot
    that is full while nothing is done with it).
    """

    start: int
    end: int
    key: str
    how: str


@dataclass(frozen=True, slots=True)
class ResourceRow:
    """A unit of a resource and all for which it is taken, by time."""

    resource: Resource
    name: str
    bars: tuple[Bar, ...]


def rows(made: Timetable) -> tuple[ResourceRow, ...]:
    """A row for each unit of each resource that the plan uses, in the order of the work.

    Power, weight and room have no units of their own; what takes them at once is put into
    rows side by side, which bear the same name.
    """
    found: list[ResourceRow] = []
    for resource in made.work.resources:
        if resource.kind in ("watch", "turn"):
            continue
        asked = _asked(made, resource)
        if not asked:
            continue
        if resource.kind in ("power", "line", "room"):
            found += _side_by_side(made, resource, asked)
            continue
        found += _shared_out(made, resource, asked)
    return tuple(found)


_Asked = tuple[int, int, str, str, int]


def _asked(made: Timetable, resource: Resource) -> list[_Asked]:
    work = made.work
    found: list[_Asked] = []
    for placed in made.placed:
        each = work.activity[placed.key]
        for need in each.needs:
            if need.resource == resource.key:
                found.append(
                    (placed.start, placed.end, each.key, _how(made, each.key), need.amount)
                )
        for need in each.hands:
            if need.resource == resource.key:
                found += [
                    (start, end, each.key, "hands", need.amount)
                    for start, end in stretches(each, placed.start, placed.end)
                ]
    for hold in work.holds:
        if hold.need.resource == resource.key:
            start = made.moment(hold.first, hold.begins)
            end = made.moment(hold.last, hold.ends)
            found.append((start, end, hold.key, "held", hold.need.amount))
    return sorted((each for each in found if each[0] < each[1]), key=lambda a: (a[0], a[1], a[2]))


def _how(made: Timetable, key: str) -> str:
    attendance = made.work.activity[key].attendance
    if attendance is Attendance.WHOLE:
        return "hands"
    return "watched" if attendance is Attendance.NOW_AND_THEN else "alone"


def _shared_out(made: Timetable, resource: Resource, asked: list[_Asked]) -> list[ResourceRow]:
    names = unit_names(resource)
    bars: list[list[Bar]] = [[] for _ in names]
    free_from = [-1] * len(names)
    last_at: list[str] = [""] * len(names)
    at_vat: dict[str, int] = {}
    for start, end, key, how, amount in asked:
        belongs = _belongs(made, key)
        free = [i for i in range(len(names)) if free_from[i] <= start]
        vat = _vat_of(made, key)
        kept = {unit for other, unit in at_vat.items() if other != vat} if vat else set[int]()
        free.sort(
            key=lambda i: (at_vat.get(vat) != i, i in kept, last_at[i] != belongs, free_from[i], i)
        )
        for i in free[:amount]:
            if vat:
                at_vat[vat] = i
            bars[i] += _within_hold(made, key, (start, end), how)
            free_from[i], last_at[i] = end, belongs
    return [
        ResourceRow(resource, name, tuple(each))
        for name, each in zip(names, bars, strict=True)
        if each or resource.kind == "people"
    ]


def _side_by_side(made: Timetable, resource: Resource, asked: list[_Asked]) -> list[ResourceRow]:
    lanes: list[list[Bar]] = []
    for start, end, key, how, _amount in asked:
        lane = next((each for each in lanes if each[-1].end <= start), None)
        if lane is None:
            lane = []
            lanes.append(lane)
        lane += _within_hold(made, key, (start, end), how)
    return [ResourceRow(resource, resource.name, tuple(lane)) for lane in lanes]


def elsewhere(made: Timetable) -> ResourceRow | None:
    """What goes on by itself in no vessel and on no line: fibre that airs, rests or dries.

    Of several at a time the bar is that of the one begun last.
    """
    inside = {key for hold in made.work.holds for key in hold.inside}
    alone = [
        place
        for place in sorted(made.placed, key=lambda each: (each.start, each.end, each.key))
        if _in_no_vessel(made, place.key) and place.key not in inside and place.start < place.end
    ]
    if not alone:
        return None
    bars: list[Bar] = []
    edges = sorted({edge for place in alone for edge in (place.start, place.end)})
    for start, end in pairwise(edges):
        going = [place for place in alone if place.start <= start < place.end]
        if not going:
            continue
        key = going[-1].key
        if bars and bars[-1].key == key and bars[-1].end == start:
            bars[-1] = Bar(bars[-1].start, end, key, "alone")
        else:
            bars.append(Bar(start, end, key, "alone"))
    return ResourceRow(Resource("elsewhere", _IN_THE_AIR, "air"), _IN_THE_AIR, tuple(bars))


def _in_no_vessel(made: Timetable, key: str) -> bool:
    activity = made.work.activity[key]
    kinds = {made.work.resource[need.resource].kind for need in activity.needs}
    by_itself = activity.attendance in (Attendance.ENDS, Attendance.NONE)
    return by_itself and bool(activity.lots) and kinds <= {"watch"} and not where(made, key)


def unit_names(resource: Resource) -> tuple[str, ...]:
    """A name for each unit: its own, or the resource's with a number."""
    if len(resource.units) == resource.capacity:
        return resource.units
    if resource.capacity == 1:
        return (resource.units or (resource.name,))[:1]
    return tuple(f"{resource.name} {i + 1}" for i in range(resource.capacity))


def _vat_of(made: Timetable, key: str) -> str:
    """The vat in which an activity has a turn: whoever was there before stays with it."""
    activity = made.work.activity.get(key)
    needs = activity.needs if activity is not None else ()
    kinds = {each.resource: made.work.resource[each.resource].kind for each in needs}
    return next((each for each, kind in kinds.items() if kind == "turn"), "")


def _belongs(made: Timetable, key: str) -> str:
    """What an activity belongs to, so that the same person stays with it."""
    activity = made.work.activity.get(key)
    if activity is None:
        return key
    return activity.project + " " + " ".join(activity.lots)


def _within_hold(made: Timetable, key: str, span: tuple[int, int], how: str) -> list[Bar]:
    """A hold as the steps that lie in it, and what is left between them."""
    hold = next((each for each in made.work.holds if each.key == key), None)
    if hold is None:
        return [Bar(*span, key, how)]
    found: list[Bar] = []
    until = span[0]
    for inner in _steps_within(made, hold, span):
        start, end = max(span[0], made.at[inner].start), min(span[1], made.at[inner].end)
        if start > until:
            found.append(Bar(until, start, key, "held"))
        if end > max(start, until):
            found.append(Bar(max(start, until), end, inner, _how(made, inner)))
            until = end
    if span[1] > until:
        found.append(Bar(until, span[1], key, "held"))
    return found


def _steps_within(made: Timetable, hold: Hold, span: tuple[int, int]) -> list[str]:
    keys = dict.fromkeys((hold.first, *hold.inside, hold.last))
    places = [made.at[key] for key in keys if _is_in(hold, key)]
    return [
        each.key
        for each in sorted(places, key=lambda place: (place.start, place.end, place.key))
        if each.start < span[1] and span[0] < each.end
    ]


def who_at(
    made: Timetable, shared: tuple[ResourceRow, ...]
) -> dict[tuple[str, int], tuple[str, ...]]:
    """The people at each hands-on stretch: by the activity's key and the stretch's start."""
    found: dict[tuple[str, int], tuple[str, ...]] = {}
    for row in shared:
        if row.resource.kind == "people":
            for bar in row.bars:
                at = (bar.key, bar.start)
                found[at] = (*found.get(at, ()), row.name)
    return found


def _is_in(hold: Hold, key: str) -> bool:
    """Whether an activity is done in what is held, and does not only begin or end with it."""
    return (
        key in hold.inside
        or (key == hold.first and hold.begins is Point.START)
        or (key == hold.last and hold.ends is Point.END)
    )


def where(made: Timetable, key: str) -> tuple[str, ...]:
    """The pots and the like that an activity takes or is done in, by their names."""
    work = made.work
    keys = [need.resource for need in work.activity[key].needs]
    keys += [hold.need.resource for hold in work.holds if _is_in(hold, key)]
    spoken = ("pot", "tub", "burner", "room")
    return tuple(
        dict.fromkeys(
            work.resource[each].name for each in keys if work.resource[each].kind in spoken
        )
    )
