"""A fair sample of many cases: what every run tries, and what is left to ``--exhaustive``."""

from __future__ import annotations

from collections.abc import Sequence

import pytest


def spread(count: int, most: int) -> set[int]:
    """At the most so many places out of ``count``: the first, the last and what lies between."""
    if count <= most:
        return set(range(count))
    if most == 1:
        return {0}
    return {at * (count - 1) // (most - 1) for at in range(most)}


def sampled(cases: Sequence[object], most: int) -> list[object]:
    """The cases for ``parametrize``; those that every run tries are spread over all of them.

    The rest are marked ``exhaustive``. Two tests of one file that take samples of another
    size try other cases, so that together they try more of them.
    """
    tried = spread(len(cases), most)
    return [
        case if at in tried else pytest.param(*_values(case), marks=pytest.mark.exhaustive)
        for at, case in enumerate(cases)
    ]


def _values(case: object) -> tuple[object, ...]:
    """The values of a case: a tuple has one for each argument of the test."""
    return case if isinstance(case, tuple) else (case,)
