"""The workshop of a collection: what its ``vatwright.toml`` says for all its procedures."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from procedure.collection.files import NOTHING_UNSAVED, WORKSHOP_FILE, root_of
from procedure.model.types import Name, Place, Procedure, Workshop


class Fault(NamedTuple):
    """Something in a workshop file that cannot be followed, at its place in that file."""

    place: Place
    sentence: str
    remedy: str


class LevelSaid(NamedTuple):
    """A level as written: the name of a rule, its level and the reason.

    Nothing is judged here. ``level`` is empty where what is written is not text.
    """

    rule: Name
    level: str
    because: str


class WorkshopFile(NamedTuple):
    """A workshop file as read.

    ``procedure`` carries its name and its declarations; ``workshop`` is what procedures
    take from it, as far as it could be read; ``faults`` are in the order of the text.
    """

    procedure: Procedure
    workshop: Workshop
    levels: tuple[LevelSaid, ...]
    faults: tuple[Fault, ...]


def workshop_of(
    main: Path | None, unsaved: Mapping[Path, str] = NOTHING_UNSAVED
) -> WorkshopFile | None:
    """The workshop that a file belongs to, or None where its collection has no workshop file.

    ``unsaved`` are texts by resolved path that win over the disk. Never raises: what is
    amiss in the file is in its ``faults``.
    """
    if main is None:
        return None
    file = root_of(main, unsaved) / WORKSHOP_FILE
    if file in unsaved:
        return _read(file, unsaved[file], 0, 0, str(Path.cwd()))
    try:
        about = file.stat()
    except OSError:
        return None
    return _read(file, None, about.st_mtime_ns, about.st_size, str(Path.cwd()))


@lru_cache(maxsize=16)
def _read(file: Path, text: str | None, _changed: int, _size: int, _folder: str) -> WorkshopFile:
    """One reading serves all files of a run; a workshop file that changes is read again."""
    from procedure.collection.workshop_file import read

    return read(file, text)
