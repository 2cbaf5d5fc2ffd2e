"""Work of the Fellside Dye Circle, put together by hand, for the tests of the timetable."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from typing import TypedDict
from zoneinfo import ZoneInfo

from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable.hours import minutes_between, moment_of, windows
from procedure.timetable.work import (
    Activity,
    ActivityPlace,
    Attendance,
    Hold,
    Lag,
    Lasting,
    Need,
    Point,
    Resource,
    Work,
)

LONDON = ZoneInfo("Europe/London")


class Shared(TypedDict):
    """What all steps of a procedure have in common."""

    project: str
    lots: tuple[str, ...]


def step(
    key: str,
    name: str,
    minutes: int | tuple[int, int],
    *needs: Need,
    how: Attendance = Attendance.WHOLE,
    stretch: int = -1,
    at: tuple[int, int] = (0, 0),
    every: int = 0,
    night: bool = False,
    overnight: bool = False,
    project: str = "",
    lots: tuple[str, ...] = (),
    hands: tuple[Need, ...] = (Need("hands"),),
    ending: str = "",
    line: int = 0,
) -> Activity:
    """An activity in few words."""
    least, most = (minutes, minutes) if isinstance(minutes, int) else minutes
    return Activity(
        key,
        name,
        Lasting(least, most, stretch),
        needs,
        how,
        hands,
        *at,
        every,
        night,
        overnight,
        project,
        lots,
        ActivityPlace(f"{project or 'work'}.dye", line),
        ending=ending,
    )


def in_a_row(*keys: str, most: int | None = None, why: str = "") -> tuple[Lag, ...]:
    """Each after the one before it."""
    return tuple(Lag(a, b, 0, most, why=why) for a, b in pairwise(keys))


ENDS, NONE, LOOKED_AT = Attendance.ENDS, Attendance.NONE, Attendance.NOW_AND_THEN


def gold(
    name: str = "gold", pot: str = "kettle"
) -> tuple[tuple[Activity, ...], tuple[Lag, ...], tuple[Hold, ...]]:
    """Mordant, plant bath and dye in one pot, with two nights in the bath."""

    def k(word: str) -> str:
        return f"{name}:{word}"

    p: Shared = {"project": name, "lots": ("yarn",)}
    ring, power, eye = Need("rings"), Need("power", 2000), Need("watch")
    activities = (
        step(
            k("wet"),
            "wet out the yarn in the tub",
            60,
            how=ENDS,
            stretch=24 * 60,
            at=(5, 0),
            night=True,
            line=10,
            **p,
        ),
        step(k("alum"), f"prepare the alum bath in the {pot}", 15, line=11, **p),
        step(
            k("mordant up"),
            "bring the yarn in the alum bath to 85 °C",
            45,
            ring,
            power,
            eye,
            how=LOOKED_AT,
            at=(10, 0),
            every=10,
            line=12,
            **p,
        ),
        step(
            k("mordant"),
            "keep the alum bath at 85 °C",
            60,
            ring,
            power,
            eye,
            how=LOOKED_AT,
            at=(0, 5),
            every=15,
            line=12,
            ending="turn the plate off",
            **p,
        ),
        step(
            k("cool alum"),
            "let the alum bath cool overnight",
            (480, 840),
            how=ENDS,
            stretch=1200,
            at=(0, 5),
            night=True,
            overnight=True,
            line=13,
            ending="lift the yarn",
            **p,
        ),
        step(k("rinse alum"), "rinse the yarn in the tub", 20, line=14, **p),
        step(k("clean"), f"pour the alum bath away and clean the {pot}", 15, line=15, **p),
        step(k("plant"), f"prepare the tansy bath in the {pot}", 15, line=16, **p),
        step(
            k("draw"),
            "heat and simmer the tansy bath",
            120,
            ring,
            power,
            eye,
            how=LOOKED_AT,
            at=(5, 5),
            every=15,
            line=17,
            **p,
        ),
        step(
            k("cool plant"),
            "let the tansy bath cool to 40 °C",
            (60, 120),
            how=ENDS,
            stretch=300,
            at=(0, 0),
            line=18,
            **p,
        ),
        step(k("strain"), "strain the tansy bath", 15, line=19, **p),
        step(
            k("dye"),
            "dye the yarn in the tansy bath",
            90,
            ring,
            power,
            eye,
            how=LOOKED_AT,
            at=(10, 5),
            every=10,
            line=20,
            ending="turn the plate off",
            **p,
        ),
        step(
            k("cool dye"),
            "let the tansy bath cool overnight",
            (480, 840),
            how=ENDS,
            stretch=1200,
            at=(0, 5),
            night=True,
            overnight=True,
            line=21,
            ending="lift the yarn",
            **p,
        ),
        step(k("rinse dye"), "rinse the yarn in the tub", 20, line=22, **p),
        step(k("away"), f"pour the tansy bath away and clean the {pot}", 15, line=23, **p),
        step(
            k("dry"),
            "dry the yarn",
            (600, 1440),
            Need("line", 1),
            how=ENDS,
            at=(5, 0),
            night=True,
            line=24,
            **p,
        ),
    )
    lags = (
        *in_a_row(k("wet"), k("mordant up"), most=1440, why="wetted fibre must not dry out"),
        *in_a_row(k("alum"), k("mordant up"), most=60, why="the bath loses its heat"),
        *in_a_row(k("mordant up"), k("mordant"), most=0, why="the bath is at its heat"),
        *in_a_row(k("mordant"), k("cool alum"), most=0, why="the plate is off"),
        *in_a_row(k("cool alum"), k("rinse alum"), most=60, why="the fibre dries out"),
        *in_a_row(k("cool alum"), k("clean"), k("plant")),
        *in_a_row(k("plant"), k("draw"), most=720, why="the plant goes sour in the water"),
        *in_a_row(k("draw"), k("cool plant"), most=0, why="the plate is off"),
        *in_a_row(k("cool plant"), k("strain"), k("dye")),
        *in_a_row(k("rinse alum"), k("dye")),
        *in_a_row(k("dye"), k("cool dye"), most=0, why="the plate is off"),
        *in_a_row(k("cool dye"), k("rinse dye"), k("dry"), most=60, why="the fibre dries out"),
        *in_a_row(k("cool dye"), k("away")),
    )
    holds = (
        Hold(
            k("alum in pot"),
            Need(pot),
            k("alum"),
            k("clean"),
            name="the alum bath",
            inside=(k("mordant up"), k("mordant"), k("cool alum")),
        ),
        Hold(
            k("tansy in pot"),
            Need(pot),
            k("plant"),
            k("away"),
            name="the tansy bath",
            inside=(k("draw"), k("cool plant"), k("strain"), k("dye"), k("cool dye")),
        ),
        Hold(
            k("in tub"),
            Need("tub"),
            k("wet"),
            k("mordant up"),
            name="the yarn in water",
            ends=Point.START,
        ),
    )
    return activities, lags, holds


def workshop(pots: dict[str, int], hands: int = 1, rings: int = 1) -> tuple[Resource, ...]:
    """The things of a small dye room."""
    return (
        *(Resource(key, f"the {key}", "pot", count) for key, count in pots.items()),
        Resource("tub", "the tub", "tub"),
        Resource("rings", "ring", "burner", rings, comes_with=(Need("power", 2000),)),
        Resource("power", "the plates' power", "power", 2000 * rings, unit="W", one_more=False),
        Resource("line", "the drying line", "line", 3, unit="kg"),
        Resource("hands", "person", "people", hands, comes_with=(Need("watch", 4),)),
        Resource("watch", "watching", "watch", 4 * hands, one_more=False),
    )


def at(text: str) -> datetime:
    """A moment in London."""
    return moment_of(text, datetime(2026, 11, 25, tzinfo=LONDON))


def weekend(
    begins: str = "2026-11-28 09:00",
    hours: str = "9:00-18:00",
    days: str = "every day",
    finish_by: str = "",
    pots: tuple[str, ...] = ("kettle",),
    hands: int = 1,
    rings: int = 1,
    kettles: int = 1,
) -> Work:
    """One gold for each pot, in a room with so many hands and rings."""
    start = at(begins)
    weekdays, dates = days_of(days)
    until = at(finish_by) if finish_by else None
    open_at = Hours(times_of(hours), weekdays, dates)
    parts = [gold(f"gold {i + 1}", pot) for i, pot in enumerate(pots)]
    room = workshop(dict.fromkeys(dict.fromkeys(pots), kettles), hands, rings)
    return Work(
        tuple(a for part in parts for a in part[0]),
        tuple(lag for part in parts for lag in part[1]),
        tuple(hold for part in parts for hold in part[2]),
        room,
        windows(start, open_at),
        start,
        minutes_between(start, until) if until else None,
        title="Gold from tansy",
        hours_said=hours,
    )


def day_of_eight(people: int = 8, hours: str = "10:00-16:00") -> Work:
    """A class: each person's own skein through one of three pots and then the one vat.

    An instructor is at the vat for every dip. Each person has hands of their own.
    """
    start = at("2026-11-28 10:00")
    names = ("Ada", "Bo", "Cy", "Dee", "Eve", "Finn", "Gil", "Hal", "Ivy", "Jo")[:people]
    activities: list[Activity] = []
    lags: list[Lag] = []
    holds: list[Hold] = []
    pots = ("pot 1", "pot 2", "pot 3")
    ring, eye = Need("rings"), Need("watch")
    teacher = (Need("instructor"),)
    for pot in pots:
        activities += [
            step(f"{pot}:fill", f"fill {pot} with the plant bath", 10, hands=teacher, project=pot),
            step(
                f"{pot}:heat",
                f"heat {pot} to 60 °C",
                40,
                ring,
                eye,
                how=LOOKED_AT,
                at=(5, 0),
                every=10,
                hands=teacher,
                project=pot,
            ),
            step(
                f"{pot}:dye",
                f"keep {pot} at 80 °C with the skeins in it",
                60,
                ring,
                eye,
                how=LOOKED_AT,
                at=(0, 5),
                every=10,
                hands=teacher,
                project=pot,
            ),
            step(f"{pot}:empty", f"pour {pot} away and clean it", 15, hands=teacher, project=pot),
        ]
        lags += in_a_row(f"{pot}:fill", f"{pot}:heat", most=30)
        lags += in_a_row(f"{pot}:heat", f"{pot}:dye", most=20, why="the bath cools")
        lags += in_a_row(f"{pot}:dye", f"{pot}:empty")
        holds.append(
            Hold(
                f"{pot} full",
                Need(pot),
                f"{pot}:fill",
                f"{pot}:empty",
                name=f"the bath in {pot}",
                night=False,
                inside=(f"{pot}:heat", f"{pot}:dye"),
            )
        )
    activities.append(
        step(
            "vat:ready",
            "warm the vat and look whether it is ready",
            30,
            hands=teacher,
            project="vat",
        )
    )
    for number, name in enumerate(names):
        pot, own = pots[number % len(pots)], (Need(name),)
        p: Shared = {"project": name, "lots": (f"{name}'s skein",)}

        def k(word: str, name: str = name) -> str:
            return f"{name}:{word}"

        with_teacher = (*own, *teacher)
        activities += [
            step(
                k("wet"),
                "wet the skein out",
                30,
                how=ENDS,
                at=(3, 0),
                stretch=240,
                night=True,
                hands=own,
                **p,
            ),
            step(k("enter"), f"put the skein into {pot}", 5, hands=own, **p),
            step(k("lift"), f"lift the skein out of {pot}", 5, hands=own, **p),
            step(k("rinse"), "rinse the skein", 8, Need("sink"), hands=own, **p),
            step(k("dip 1"), "dip the skein in the vat", 6, Need("vat"), hands=with_teacher, **p),
            step(k("air 1"), "air the skein", 10, how=NONE, stretch=60, night=True, hands=(), **p),
            step(k("dip 2"), "dip the skein once more", 6, Need("vat"), hands=with_teacher, **p),
            step(k("air 2"), "air the skein", 10, how=NONE, stretch=60, night=True, hands=(), **p),
            step(k("wash"), "wash and rinse the skein", 10, Need("sink"), hands=own, **p),
            step(k("hang"), "squeeze the skein and hang it up", 5, hands=own, **p),
        ]
        lags += in_a_row(k("wet"), k("enter"))
        lags += in_a_row(f"{pot}:heat", k("enter"), f"{pot}:dye", most=20, why="the bath cools")
        lags += in_a_row(f"{pot}:dye", k("lift"), most=30, why="the colour goes on")
        lags += in_a_row(k("lift"), f"{pot}:empty")
        lags += in_a_row(k("lift"), k("rinse"), k("dip 1"))
        lags += in_a_row(k("dip 1"), k("air 1"), k("dip 2"), k("air 2"), most=0, why="it airs")
        lags += in_a_row("vat:ready", k("dip 1"), most=240, why="the vat goes stale")
        lags += in_a_row(k("air 2"), k("wash"), k("hang"))
    resources = (
        *(Resource(pot, pot, "pot") for pot in pots),
        Resource("vat", "the vat", "pot"),
        Resource("sink", "sink", "tub", 2),
        Resource("rings", "ring", "burner", 3),
        Resource("instructor", "the instructor", "people"),
        *(Resource(name, name, "people", one_more=False) for name in names),
        Resource("watch", "watching", "watch", 4, one_more=False),
    )
    open_at = Hours(times_of(hours), *days_of("2026-11-28"))
    return Work(
        tuple(activities),
        tuple(lags),
        tuple(holds),
        resources,
        windows(start, open_at),
        start,
        title="A day for eight",
        hours_said=hours,
    )
