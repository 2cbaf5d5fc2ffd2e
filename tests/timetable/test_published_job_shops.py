"""The planner against published job shops whose shortest plans are known and proven.

Of project scheduling there is one instance: no package on the registry installs those of PSPLIB
with their optima (``psplib`` installs a reader alone, and its source distribution has one
instance; ``discrete-optimization`` and ``scikit-decide`` fetch them when they run). Work with
shared resources and waits is held against every way of doing it in ``test_small_work.py``.
"""

from __future__ import annotations

import pytest
from published import job_shop, project
from verifying import wrongs

from procedure.timetable.first_plan import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.solving import shorten

MUTH_AND_THOMPSON = "Muth, G.L. Thompson. 'Industrial scheduling.'"
LAWRENCE = "S. Lawrence. 'Resource constrained project scheduling"


@pytest.mark.parametrize(
    ("name", "optimum", "literature"),
    [
        ("ft06", 55, MUTH_AND_THOMPSON),
        ("la01", 666, LAWRENCE),
        ("la05", 593, LAWRENCE),
        pytest.param("ft10", 930, MUTH_AND_THOMPSON, marks=pytest.mark.exhaustive),
    ],
)
def test_the_shortest_plan_of_a_published_job_shop_is_found_and_proven(
    name: str, optimum: int, literature: str
) -> None:
    published = job_shop(name)
    assert published.optimum == optimum
    assert literature in published.reference
    found = shorten(published.work, 90.0, first_plan(published.work))
    assert (found.status, found.value, found.bound) == ("optimal", optimum, optimum)
    assert wrongs(published.work, {each.key: (each.start, each.end) for each in found.placed}) == []


@pytest.mark.parametrize("name", ["ft06", "la01", "la05", "ft10", "la16", "abz5"])
def test_the_first_plan_is_sound_and_its_bound_no_higher_than_the_optimum(name: str) -> None:
    published = job_shop(name)
    first = first_plan(published.work)
    assert isinstance(first, Timetable)
    times = {each.key: (each.start, each.end) for each in first.placed}
    assert wrongs(published.work, times) == []
    assert first.bound <= published.optimum <= first.finish
    assert first.finish <= 1.5 * published.optimum


def test_the_shortest_plan_of_a_published_project_is_found_and_proven() -> None:
    published = project()
    assert len(published.work.activities) == 32 and len(published.work.lags) == 48
    first = first_plan(published.work)
    found = shorten(published.work, 4.0, first)
    assert (found.status, found.value, found.bound) == ("optimal", 43, 43)
    assert wrongs(published.work, {each.key: (each.start, each.end) for each in found.placed}) == []
    assert first is not None and published.optimum <= first.finish <= 1.2 * published.optimum
