"""Steps that are done over and over: a form says so in words, and what is said is of one round."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction

from procedure.batch.types import StepDone
from procedure.model.quantity import Quantity

_SAID = re.compile(r", each round of step (\S+)$")


def in_rounds(words: str, repeat: str) -> str:
    """The words of a step that the step of the number ``repeat`` repeats; '' for none."""
    return f"{words}, each round of step {repeat}" if repeat else words


def rounds_of(step: StepDone, steps: Iterable[StepDone]) -> Fraction:
    """How often a step was done, by what the record says of the blocks around it.

    A block counts once where the record does not say how often, and the middle of a range.
    """
    by_number = {one.number: one for one in steps}
    found = Fraction(1)
    seen: set[str] = set()
    here: StepDone | None = step
    while here is not None and (said := _SAID.search(here.words)) and said[1] not in seen:
        seen.add(said[1])
        here = by_number.get(said[1])
        answer = here.answer("times") if here is not None else None
        done = answer.done if answer is not None else None
        if isinstance(done, Quantity) and done.low is not None and done.high is not None:
            found *= (done.low + done.high) / 2
    return found
