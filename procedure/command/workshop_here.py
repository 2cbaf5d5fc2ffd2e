"""The workshop of the folder that a command runs in."""

from __future__ import annotations

from pathlib import Path

from procedure.collection.nearest import workshop_of
from procedure.command.main import CannotRun
from procedure.findings import Says, plainly_said
from procedure.rules import RULES
from procedure.rules.levels import levels_of
from procedure.vocabulary import Vocabulary, vocabulary
from procedure.wording import said


def words_here() -> Vocabulary:
    """The vocabulary, with the words of the workshop that the present folder belongs to.

    Raises ``CannotRun`` where the workshop file cannot be followed.
    """
    workshop = workshop_of(Path.cwd() / "here")
    if workshop is None:
        return vocabulary()
    faults = [*workshop.faults, *levels_of(workshop.levels, RULES)[1]]
    if faults:
        file = workshop.procedure.file
        raise CannotRun(
            *[
                f"{file}, line {fault.place.line}: {_said(fault.sentence)} {_said(fault.remedy)}"
                for fault in sorted(faults, key=lambda fault: fault.place)
            ]
        )
    return workshop.workshop.words


def _said(words: Says | str) -> str:
    return said(plainly_said(words))
