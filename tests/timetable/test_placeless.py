"""A step that has no place in the hours even by itself: it is seen at once, and is the reason."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs_alone

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import (
    Activity,
    Attendance,
    Lasting,
    NoPlan,
    Resource,
    Window,
    Work,
    fitted,
    searching,
)
from procedure.timetable.from_plans import work_of
from procedure.timetable.placeless import placeless
from procedure.timetable.terms import Asked
from procedure.timetable.work import HANDS, Need

EXAMPLES = Path(__file__).parents[2] / "examples"
DAY, OPEN = 24, 9
"""Hours as if they were minutes, so that every start and every end can be tried."""


def one_step(
    attendance: Attendance, least: int, longest: int, night: bool, ends: tuple[int, int]
) -> Work:
    step = Activity(
        "step",
        "step",
        Lasting(least, least, longest),
        attendance=attendance,
        at_start=ends[0],
        at_end=ends[1],
        night=night,
        hands=(Need(HANDS, 1),),
    )
    windows = tuple(Window(day * DAY, day * DAY + OPEN, day) for day in range(4))
    return Work((step,), resources=(Resource(HANDS, "hands", "people"),), windows=windows)


def has_a_place(work: Work) -> bool:
    (step,) = work.activities
    return any(
        not list(wrongs_alone(work, step, start, end))
        for start in range(work.horizon)
        for end in range(start + step.lasting.most, start + step.lasting.longest + 1)
    )


@pytest.mark.parametrize("attendance", list(Attendance))
@pytest.mark.parametrize("night", [False, True])
@pytest.mark.parametrize("ends", [(0, 0), (1, 0), (0, 1), (1, 1), (2, 3)])
def test_it_is_so_where_no_start_and_end_will_do(
    attendance: Attendance, night: bool, ends: tuple[int, int]
) -> None:
    """Every start and every end is tried, by the verifier that shares no code with the plan."""
    for least in range(5, 30):
        for longest in (least, least + 2, least + 8):
            work = one_step(attendance, least, longest, night, ends)
            assert bool(placeless(work)) != has_a_place(work), (least, longest)


def test_of_much_work_it_is_the_reason_and_few_searches_are_made_for_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Seven steps of twelve hours each, with hands at both ends, in a day of nine hours."""
    made: list[str] = []
    run = searching._come_to

    def counted(*given: object) -> searching.SearchResult:
        made.append("")
        return run(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(searching, "_come_to", counted)
    monkeypatch.setattr(searching, "_kept", {})
    plan = procedure.load(EXAMPLES / "faulty" / "colour.dye")
    work = work_of([plan], Asked(datetime(2099, 11, 28, 9), Hours())).work
    found = fitted(work, reasons=False).made
    assert isinstance(found, NoPlan)
    assert len(made) < 40
    found = fitted(work).made
    assert isinstance(found, NoPlan)
    assert found.smallest
    assert [each.key for each in found.activities] == [placeless(work)[0]]
    assert found.activities[0].lasting.most == 12 * 60
