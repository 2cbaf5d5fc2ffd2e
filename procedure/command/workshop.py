"""The house of the folder that a command runs in."""

from __future__ import annotations

from pathlib import Path

from procedure.collection.workshop import BadHouse, house_of
from procedure.command.main import CannotRun
from procedure.vocabulary import Vocabulary, vocabulary


def words_here() -> Vocabulary:
    """The vocabulary, with the words of the house that the present folder belongs to.

    Raises ``CannotRun`` where the house file cannot be followed.
    """
    try:
        house = house_of(Path.cwd() / "here")
    except BadHouse as reason:
        raise CannotRun(str(reason)) from None
    return vocabulary() if house is None else house.household.words
