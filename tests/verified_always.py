"""Every timetable that a test has made is verified, whatever the test is about.

It is so for handouts, bench sheets, pages and commands too: all plans come from one place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from verifying import wrongs

BROKEN: list[str] = []


@pytest.fixture(scope="session", autouse=True)
def every_plan_is_looked_at() -> Iterator[None]:
    """What the solver and the list rule have come to is held against the work."""
    from procedure.timetable import planning
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
        yield


@pytest.fixture(autouse=True)
def no_plan_is_broken() -> Iterator[None]:
    """A test whose plans break anything fails, though what it calls took no notice."""
    BROKEN.clear()
    yield
    assert BROKEN == []
