"""Files in: never more than a limit, and never waiting for what will not come."""

from __future__ import annotations

import errno
import os
import stat

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path
    from typing import BinaryIO

PIECE = 1 << 20


def bytes_of(path: Path | str, most: int) -> bytes:
    """What is in a file or a pipe: all of it, or ``most`` bytes and one more.

    So a device without an end is read no further than a file that is too large. Raises
    ``OSError`` where it cannot be read, and for a pipe that nobody writes to.
    """
    # Without waiting: to open a pipe that nobody writes to would last for ever.
    descriptor = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    with os.fdopen(descriptor, "rb", buffering=0) as file:
        kind = os.fstat(descriptor).st_mode
        if stat.S_ISDIR(kind):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
        if stat.S_ISREG(kind):
            return _read(file, most)
        first = file.read(1)  # None where somebody writes and has not written yet
        if first == b"" and stat.S_ISFIFO(kind):
            raise OSError(errno.ENXIO, "nobody writes to this pipe", str(path))
        os.set_blocking(descriptor, True)
        return (first or b"") + _read(file, most - len(first or b""))


def bytes_from(stream: BinaryIO, most: int) -> bytes:
    """What comes from standard input: all of it, or ``most`` bytes and one more."""
    return _read(stream, most)


def _read(file: BinaryIO, most: int) -> bytes:
    pieces: list[bytes] = []
    left = most + 1
    while left > 0 and (piece := file.read(min(left, PIECE))):
        pieces.append(piece)
        left -= len(piece)
    return b"".join(pieces)
