"""A failing trial made smaller: lines, then parts of lines, are left out while it still fails."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator

from trials import Trial, amiss

LONGEST = 10.0  # seconds that may be spent on one trial


def smaller(trial: Trial, kind: str) -> Trial:
    """The smallest trial found that fails in the same way."""
    end = time.monotonic() + LONGEST

    def fails(one: Trial) -> bool:
        return time.monotonic() < end and amiss(one).startswith(kind)

    for name in list(trial.files):
        without = {one: text for one, text in trial.files.items() if one != name}
        if without and fails(trial._replace(files=without)):
            trial = trial._replace(files=without)
    for name in list(trial.files):
        for mark in ("\n", " "):
            trial = _fewer(trial, name, mark, fails)
    return trial


def _fewer(trial: Trial, name: str, mark: str, fails: Callable[[Trial], bool]) -> Trial:
    parts = trial.files[name].split(mark)
    size = max(len(parts) // 2, 1)
    while size:
        for at in _from_the_end(len(parts), size):
            fewer = parts[:at] + parts[at + size :]
            one = trial._replace(files={**trial.files, name: mark.join(fewer)})
            if len(fewer) < len(parts) and fails(one):
                parts, trial = fewer, one
        size //= 2
    return trial


def _from_the_end(length: int, size: int) -> Iterator[int]:
    return iter(range(max(length - size, 0), -1, -size))
