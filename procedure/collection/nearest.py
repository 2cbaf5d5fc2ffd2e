"""The workshop file that a procedure belongs to: the nearest above it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from procedure.collection.files import NOTHING_UNSAVED, WORKSHOP_FILE, root_of
from procedure.collection.workshop import WorkshopFile


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
