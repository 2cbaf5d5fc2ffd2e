"""A search that has been made is not made again; what no search can find is not sought."""

from __future__ import annotations

import pytest

from procedure.timetable import (
    Activity,
    Attendance,
    Lag,
    Lasting,
    Resource,
    Window,
    Work,
    searching,
)
from procedure.timetable.calming import least_days
from procedure.timetable.programme import build
from procedure.timetable.work import HANDS

DAY = 24 * 60


def _two_days_of_work() -> Work:
    """Three steps of four hours by one person, in six hours a day: no two of them on one day."""
    keys = ("one", "two", "three")
    steps = tuple(Activity(k, k, Lasting(240, 240), attendance=Attendance.WHOLE) for k in keys)
    windows = tuple(Window(day * DAY, day * DAY + 360, day) for day in range(6))
    hands = (Resource(HANDS, "hands", "people"),)
    return Work(steps, (Lag("one", "two"),), resources=hands, windows=windows)


def test_the_same_search_is_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The solver runs once for one programme and one effort, and again for another."""
    made: list[float] = []
    run = searching._come_to

    def counted(*given: object) -> searching.SearchResult:
        made.append(0)
        return run(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(searching, "_come_to", counted)
    monkeypatch.setattr(searching, "_kept", {})
    found = []
    for effort in (0.01, 0.01, 0.02):
        programme = build(_two_days_of_work())
        programme.model.minimize(programme.finish)
        found.append(searching.search(programme, effort))
    assert len(made) == 2
    assert found[0] is found[1]
    assert {each.value for each in found} == {2 * DAY + 240}
    other = build(_two_days_of_work())
    other.model.maximize(other.finish)
    assert searching.search(other, 0.01).value > 2 * DAY + 240
    assert len(made) == 3


def test_least_days() -> None:
    """Three days are wanted, and by the end of the second day it cannot be done at all."""
    work = _two_days_of_work()
    assert least_days(work, 3 * DAY, 0.05) == 3
    assert least_days(work, DAY + 360, 0.05) == len(work.days) + 1


def test_a_message_of_the_solver_that_is_written_as_text_alone_tells_searches_apart() -> None:
    class Text:
        """A message as newer versions of the solver have it."""

        def __init__(self, said: str) -> None:
            self.said = said

        def __str__(self) -> str:
            return self.said

    same = searching.whole_message(Text("a"))
    assert same == searching.whole_message(Text("a"))
    assert same != searching.whole_message(Text("b"))
