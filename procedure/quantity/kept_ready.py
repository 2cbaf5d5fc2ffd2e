"""What is read from a data file, kept ready beside it as Python keeps its own code.

A table is parsed once and then loaded from ``__pycache__``, where it is seen by the file's times
and size that it has changed. Python looks at the second of the last writing alone; a copy that
keeps its time, or a second save within one second, would be missed. So the time at which the
file system noted the last change goes with it, which no program can set. Where nothing may be
written there, the table is parsed each time.
"""

from __future__ import annotations

import marshal
import os
from functools import cache
from importlib._bootstrap_external import cache_from_source
from importlib.machinery import SourceFileLoader

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from types import CodeType
    from typing import Any

    # What tells of a change: a number made of the times, and a size.
    Stamp = tuple[int, int]

# Raised where what is kept takes another form than before.
FORM = 3
NO_BYTES = b""
# As much of a number as Python writes down for the time of a file.
TIME = 0xFFFFFFFF
# To open sixty files at each start takes long: a command that keeps what it needs in one file
# puts it at hand here, by path; and takes what was loaded besides, where it asks for that.
at_hand: dict[str, tuple[Stamp, bytes | memoryview]] = {}
loaded: dict[str, tuple[Stamp, Any]] = {}
asked_for: list[bool] = []


def _nothing() -> None:
    """A function whose code has room for constants: what is kept is one of them."""


class _Kept(SourceFileLoader):
    """Loads what a file says as if that were the code of a module."""

    def __init__(self, path: str, made_of: Callable[[bytes], Any]) -> None:
        super().__init__("kept", path)
        self.made_of = made_of

    def path_stats(self, path: Any) -> Mapping[str, Any]:
        """The size of the file and, in place of its time, what tells of any change."""
        *times, size = stamp_of(path)
        return {"mtime": hash(tuple(times)) & TIME, "size": size}

    def source_to_code(  # type: ignore[override]
        self, data: Any, path: Any, *, _optimize: int = -1
    ) -> CodeType:
        """What is kept of a file with those bytes."""
        return _nothing.__code__.replace(co_consts=(FORM, self.made_of(data)))


class _KeptTogether(_Kept):
    """Loads what is made of all the files of some folders, under the path of no file."""

    def __init__(self, path: str, made: Callable[[], Any], folders: tuple[str, ...]) -> None:
        super().__init__(path, lambda _: made())
        self.folders = folders

    def path_stats(self, path: Any) -> Mapping[str, Any]:
        """In place of the time and size of one file, what tells of a change in any."""
        return {"mtime": hash(tuple(map(_stamp, self.folders))) & TIME, "size": len(NO_BYTES)}

    def get_data(self, path: Any) -> bytes:
        """The bytes of a file; none of that which there is not."""
        return NO_BYTES if path == self.path else super().get_data(path)


def stamp_of(path: str | os.DirEntry[str]) -> tuple[int, int, int]:
    """When a file was written, when anything of it was changed at all, and its size."""
    found = os.stat(path)  # noqa: PTH116
    return found.st_mtime_ns, found.st_ctime_ns, found.st_size


@cache
def _stamp(folder: str) -> int:
    """A number that changes with the files of a folder, of which there are few."""
    with os.scandir(folder) as files:
        here = sorted([one.path for one in files if one.name.endswith((".py", ".csv"))])
    return hash(tuple(map(stamp_of, here)))


def kept_ready(path: str, made_of: Callable[[bytes], Any]) -> Any:
    """What ``made_of`` makes of the bytes of a file: tuples, dictionaries, text and numbers.

    ``made_of`` depends on nothing but them. Raises ``FileNotFoundError`` where there is no file.
    """
    return _kept_by(_Kept(path, made_of))


def kept_together(path: str, made: Callable[[], Any], folders: tuple[str, ...]) -> Any:
    """What ``made`` makes of the data files and the code in some folders and of nothing else.

    ``path`` names no file, but where it is kept.
    """
    try:
        return _kept_by(_KeptTogether(path, made, folders))
    except OSError:  # folders that are none, as in an archive
        return made()


def _kept_by(loader: _Kept) -> Any:
    """What a loader keeps, from the one file where it is at hand."""
    stats = loader.path_stats(loader.path)
    stamp = (stats["mtime"], stats["size"])
    near = at_hand.get(loader.path)
    if near is not None and near[0] == stamp:
        return marshal.loads(near[1])
    found = _by_itself(loader)
    if asked_for:
        loaded[loader.path] = (stamp, found)
    return found


def _by_itself(loader: _Kept) -> Any:
    """What a loader keeps; a copy of another form, or cut short by a full disk, is taken away."""
    try:
        code = loader.get_code("kept")
        form, kept = code.co_consts if code is not None else (None, None)
        if form == FORM:
            return kept
    except (EOFError, TypeError, ValueError):
        pass  # what cannot be made of the file either is said by the last line
    from contextlib import suppress

    with suppress(OSError):
        os.remove(cache_from_source(loader.path))  # noqa: PTH107
    return loader.made_of(loader.get_data(loader.path))
