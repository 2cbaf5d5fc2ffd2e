"""Files out: written whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

# The longest name that a folder of today's systems holds, in bytes (POSIX NAME_MAX on Linux).
LONGEST_NAME = 255
_SUFFIX = 16  # what a temporary file's name has besides


class NotWritten(ValueError):
    """A file that cannot be written; its text is one plain sentence."""


def write_whole(path: Path, data: bytes, before: bytes | None = None) -> None:
    """Write a file whole or not at all: a temporary file beside it takes its place.

    A link is followed, so that it stays a link; a device or a pipe is written to. The file
    keeps its mode and its owner. Where another name stands for the same file (a hard link),
    or its owner cannot be kept, its contents are replaced in place, and a copy of the old
    ones lies beside it until that is done. With ``before`` the file is only written if it
    still holds that. Raises :class:`NotWritten` where it cannot be written.
    """
    try:
        _write(path, data, before)
    except (OSError, RuntimeError, ValueError) as reason:
        if isinstance(reason, NotWritten):
            raise
        said = (getattr(reason, "strerror", None) or str(reason)).partition("\n")[0].lower()
        raise NotWritten(f"{path} cannot be written: {said}.") from None


def _write(path: Path, data: bytes, before: bytes | None) -> None:
    target = path.resolve()
    try:
        about: os.stat_result | None = target.stat()
    except FileNotFoundError:
        about = None
    if about is not None and not stat.S_ISREG(about.st_mode) and not stat.S_ISDIR(about.st_mode):
        with target.open("wb", buffering=0) as device:
            device.write(data)
        return
    if about is not None and about.st_nlink > 1:
        _in_place(target, data, before)
        return
    temporary = _temporary(target, data)
    try:
        if about is None:
            temporary.chmod(0o666 & ~_umask())
        else:
            temporary.chmod(about.st_mode & 0o7777)
            if not _owned(temporary, about):
                temporary.unlink()
                _in_place(target, data, before)
                return
        if before is not None:
            _compare(target, before)
        temporary.replace(target)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def _temporary(target: Path, data: bytes) -> Path:
    """A new file beside the target that holds the data, on the disk."""
    import tempfile  # slow to import, and a check writes nothing

    # A name as long as names may be leaves no room for a longer one.
    stem = os.fsencode(target.name)[: LONGEST_NAME - _SUFFIX].decode("utf-8", "ignore")
    descriptor, name = tempfile.mkstemp(dir=target.parent, prefix=f".{stem}.")
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    return Path(name)


def _owned(temporary: Path, about: os.stat_result) -> bool:
    """Give a file the owner that another has; False where that is not allowed."""
    mine = temporary.stat()
    if (mine.st_uid, mine.st_gid) == (about.st_uid, about.st_gid) or not hasattr(os, "chown"):
        return True
    try:
        os.chown(temporary, about.st_uid, about.st_gid)
    except PermissionError:
        return False
    return True


def _in_place(target: Path, data: bytes, before: bytes | None) -> None:
    old = target.read_bytes()
    if before is not None and old != before:
        raise _changed(target)
    copy = _temporary(target, old)
    with target.open("r+b") as file:
        file.write(data)
        file.truncate()
        file.flush()
        os.fsync(file.fileno())
    copy.unlink()


def _compare(target: Path, before: bytes) -> None:
    try:
        now = target.read_bytes()
    except FileNotFoundError:
        now = None
    if now != before:
        raise _changed(target)


def _changed(target: Path) -> NotWritten:
    return NotWritten(f"{target} was changed meanwhile, so nothing was written. Try again.")


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
