"""Files out: written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path


class NotWritten(ValueError):
    """A file that cannot be written; its text is one plain sentence."""


def write_whole(path: Path, data: bytes) -> None:
    """Write a file whole or not at all: a temporary file beside it takes its place.

    The file keeps its mode. Raises :class:`NotWritten` where it cannot be written.
    """
    import tempfile  # slow to import, and a check writes nothing

    temporary = ""
    try:
        descriptor, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
        Path(temporary).chmod(mode)
        Path(temporary).replace(path)
    except OSError as reason:
        if temporary:
            Path(temporary).unlink(missing_ok=True)
        said = (reason.strerror or str(reason)).lower()
        raise NotWritten(f"{path} cannot be written: {said}.") from None


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
