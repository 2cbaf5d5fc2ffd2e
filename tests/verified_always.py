"""Every timetable that a test has made is verified, whatever the test is about.

It is so for handouts, bench sheets, pages and commands too: all plans come from one place. What
papers are made of is planned once in a run, and verified then, however many tests make papers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import pytest
from verifying import wrongs

BROKEN: list[str] = []


@pytest.fixture(scope="session", autouse=True)
def every_plan_is_looked_at() -> Iterator[None]:
    """What the solver and the list rule have come to is held against the work."""
    from procedure.timetable import planning, searching, taking
    from procedure.timetable.planned import Timetable

    def held(make: Callable[..., Any]) -> Callable[..., Any]:
        def made(*given: Any, **more: Any) -> Any:
            found = make(*given, **more)
            if isinstance(found, Timetable):
                times = {each.key: (each.start, each.end) for each in found.placed}
                BROKEN.extend(wrongs(found.work, times))
            return found

        return made

    with pytest.MonkeyPatch.context() as changed:
        for name in ("_solved", "lengthened", "first_plan"):
            changed.setattr(planning, name, held(getattr(planning, name)))
        # The program keeps sixteen plans, and what some hundred searches have come to; the
        # examples are a hundred, and many tests go over all.
        changed.setattr(searching, "_MOST_KEPT", 10_000)
        changed.setattr(taking, "made_once", cache(taking.made_once.__wrapped__))
        yield


@pytest.fixture(autouse=True)
def no_plan_is_broken() -> Iterator[None]:
    """A test whose plans break anything fails, though what it calls took no notice."""
    BROKEN.clear()
    yield
    assert BROKEN == []
