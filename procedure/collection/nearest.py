"""The workshop file that a procedure belongs to: the nearest above it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import lru_cache

from procedure.collection.files import NOTHING_UNSAVED, WORKSHOP_FILE, root_as_text
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from procedure.collection.workshop import WorkshopFile


def workshop_of(
    main: Path | str | None, unsaved: Mapping[Path, str] = NOTHING_UNSAVED
) -> WorkshopFile | None:
    """The workshop that a file belongs to, or None where its collection has no workshop file.

    ``unsaved`` are texts by resolved path that win over the disk. Never raises: what is
    amiss in the file is in its ``faults``.
    """
    if main is None:
        return None
    named = os.path.join(root_as_text(main, unsaved), WORKSHOP_FILE)
    text = next((text for path, text in unsaved.items() if str(path) == named), None)
    if text is not None:
        return _read(named, text, 0, 0, os.getcwd())
    try:
        about = os.stat(named)
    except OSError:
        return None
    return _read(named, None, about.st_mtime_ns, about.st_size, os.getcwd())


@lru_cache(maxsize=16)
def _read(file: str, text: str | None, _changed: int, _size: int, _folder: str) -> WorkshopFile:
    """One reading serves all files of a run; a workshop file that changes is read again."""
    from pathlib import Path

    from procedure.collection.workshop_file import read

    return read(Path(file), text)
