"""What is told beside a step: how it is done, or what is not done, in ``asides.csv``."""

from __future__ import annotations

import pytest
from expecting import plan_of

from procedure.model import Step
from procedure.vocabulary.data_files import parts, rows

ASIDES = rows("asides")
DENYING = [row["begins"] for row in ASIDES if row["denies"] and "clause" in parts(row["until"])]


def told(line: str) -> Step | None:
    """The step that a line is read as; None where it is asked about."""
    plan = plan_of(f"bath: prepare in kettle with water 3 L, weld 50 g\n{line}\n")
    step = [node.step for node in plan.flow.nodes if node.step is not None][-1]
    if isinstance(step, Step) and step.verb is not None and step.verb.name == "simmer":
        return step
    assert "cannot-read" in [finding.rule for finding in plan.findings], line
    return None


@pytest.mark.parametrize("words", DENYING)
@pytest.mark.parametrize("manner", ["stirring", "covered", "unattended"])
def test_what_is_denied_is_never_how_it_is_done(words: str, manner: str) -> None:
    for comma in ("", ","):
        step = told(f"simmer bath for 1 h{comma} {words} {manner}")
        assert step is None or manner not in [one.text for one in step.manners]


@pytest.mark.parametrize("words", ["keeping it covered", "leaving it covered", "holding covered"])
def test_what_is_said_is_how_it_is_done(words: str) -> None:
    step = told(f"simmer bath for 1 h, {words}")
    assert step is not None and [one.text for one in step.manners] == ["covered"]


@pytest.mark.parametrize(
    "words",
    [
        *("never let it boil", "do not let it boil", "don't let it boil", "don’t let it boil"),
        *("without boiling", "not boiling", "not to boil", "do not let it boil, covered"),
    ],
)
def test_not_to_boil_is_a_bound_of_heat(words: str) -> None:
    _is_bound(told(f"simmer bath for 1 h, {words}"))


def _is_bound(step: Step | None) -> None:
    assert step is not None
    bound = step.ceiling or (step.at.quantity if step.at is not None else None)
    assert bound is not None and bound.bound == "most" and bound.word == "boil"


@pytest.mark.parametrize("words", ["do not boil", "never let it boil", "don't let it boil"])
def test_so_it_is_behind_the_second_step_of_a_line(words: str) -> None:
    _is_bound(told(f"put yarn in bath and simmer 1 h, {words}"))


@pytest.mark.parametrize("row", ASIDES, ids=lambda row: row["begins"])
def test_how_far_each_goes_is_said(row: dict[str, str]) -> None:
    assert parts(row["until"]) and set(parts(row["until"])) <= {"end", "clause"}
    assert row["denies"] in ("", "yes") and row["pause"] in ("", "yes")
