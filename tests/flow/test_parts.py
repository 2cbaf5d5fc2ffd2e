"""Every effect of a verb has its part in the flow; one without is told of at load."""

from __future__ import annotations

import pytest

from procedure.flow.build import PARTS
from procedure.vocabulary import vocabulary
from procedure.vocabulary.effects import Unfit, effects, fit


def test_every_verb_has_a_part_in_the_flow() -> None:
    assert {verb.does.part for verb in vocabulary().verbs.values()} <= set(PARTS)


def test_no_part_is_there_for_nothing() -> None:
    assert {effect.part for effect in effects().values()} == set(PARTS)


@pytest.mark.parametrize("part", sorted(PARTS))
def test_a_part_that_the_flow_lacks_is_said_and_not_passed_over(part: str) -> None:
    known = {name: done for name, done in PARTS.items() if name != part}
    with pytest.raises(Unfit, match=part):
        fit("part", known, "the flow")
