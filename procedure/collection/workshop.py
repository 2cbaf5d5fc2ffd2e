"""House rules: what a collection's ``vatwright.toml`` says for all its procedures."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from procedure.collection.files import HOUSE_FILE, root_of

if TYPE_CHECKING:
    from procedure.model.types import Household
    from procedure.rules.levels import Weight


class BadHouse(ValueError):
    """A house file that cannot be followed: a plain sentence a line, each with its place."""


class House(NamedTuple):
    """What a house file says: levels by rule, and what it declares."""

    levels: Mapping[str, Weight]
    household: Household


def house_of(main: Path | None) -> House | None:
    """The house that a file belongs to, or None where its collection has no house file.

    Raises :class:`BadHouse` where the house file cannot be followed.
    """
    if main is None:
        return None
    file = root_of(main) / HOUSE_FILE
    try:
        about = file.stat()
    except OSError:
        return None
    return _read(file, about.st_mtime_ns, about.st_size, str(Path.cwd()))


@lru_cache(maxsize=16)
def _read(file: Path, _changed: int, _size: int, _home: str) -> House:
    """One reading serves all files of a run; a house file that changes is read again."""
    from procedure.collection.workshop_file import read

    return read(file)
