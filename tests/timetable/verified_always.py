"""Every timetable that a test of this folder has made is verified, whatever the test is about."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from verifying import wrongs

from procedure.timetable import planning
from procedure.timetable.planned import Timetable


@pytest.fixture(autouse=True)
def verified(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The plans that the solver and the list rule have come to break nothing."""

    def held(make: Callable[..., Any]) -> Callable[..., Any]:
        def made(*given: Any, **more: Any) -> Any:
            found = make(*given, **more)
            if isinstance(found, Timetable):
                times = {each.key: (each.start, each.end) for each in found.placed}
                assert wrongs(found.work, times) == []
            return found

        return made

    for name in ("_solved", "lengthened", "first_plan"):
        monkeypatch.setattr(planning, name, held(getattr(planning, name)))
    yield
