"""Which file a step is written in is told by the file itself, never by the name that is shown."""

from __future__ import annotations

from pathlib import Path

import pytest

import procedure
from procedure.handout.lot_stories import stories, where

PLAN = Path(__file__).parents[2] / "examples" / "plans" / "greens-and-teals.dye"


@pytest.fixture(scope="module")
def misnamed() -> procedure.Plan:
    """A plan that is shown under the name of a file that it follows, as an editor may show it."""
    followed = next(iter(procedure.load(PLAN).flow.procedures[1:]))
    return procedure.read(PLAN.read_text("utf-8"), followed.file, PLAN)


def test_a_followed_step_is_told_with_its_file_whatever_the_plan_is_called(
    misnamed: procedure.Plan,
) -> None:
    steps = [node for node in misnamed.flow.nodes if node.kind != "end"]
    named = {node.procedure.file for node in steps if node.procedure is not misnamed.model}
    assert misnamed.file in named  # the names clash, as they are meant to
    for node in steps:
        assert misnamed.own(node.id) == (node.procedure is misnamed.model)
        told = where(misnamed, node.id, 1)
        assert (told == "line 1") == (node.procedure is misnamed.model)


def test_stories_are_the_same_under_any_name(misnamed: procedure.Plan) -> None:
    for one, other in zip(stories(procedure.load(PLAN)), stories(misnamed), strict=True):
        assert [event.node for event in one.events] == [event.node for event in other.events]
