"""Files in and out, for all commands."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from procedure.collection.workshop import BadHouse
from procedure.command.main import CannotRun
from procedure.pipeline import Judged, NotText, decoded, read, text_of

SUFFIX = ".dye"
STANDARD_INPUT = "-"
LONGEST_SHOWN = 400


def plan_of(name: str) -> Judged:
    """The plan in a file, or from standard input for ``-``.

    Raises ``CannotRun`` with one plain sentence where it cannot be read.
    """
    try:
        if name == STANDARD_INPUT:
            return read(decoded(sys.stdin.buffer.read(), "standard input"), "standard input")
        path = Path(name)
        if _is_folder(path):
            raise CannotRun(f"{name} is a folder; name a procedure in it.")
        return read(text_of(path), name, path)
    except (NotText, BadHouse) as reason:
        raise CannotRun(str(reason)) from None
    except OSError as reason:
        shown = name if len(name) <= LONGEST_SHOWN else f"{name[:LONGEST_SHOWN]}..."
        raise CannotRun(f"{shown} cannot be read: {_said(reason)}.") from None


def procedures_in(names: list[str]) -> list[str]:
    """The files that names stand for; a folder stands for every procedure below it.

    Raises ``CannotRun`` for a folder without procedures.
    """
    found: dict[str, None] = {}
    for name in names:
        path = Path(name)
        if name == STANDARD_INPUT or not _is_folder(path):
            found.setdefault(name)
            continue
        inside = sorted(str(file) for file in path.rglob(f"*{SUFFIX}") if file.is_file())
        if not inside:
            raise CannotRun(f"{name} holds no procedures (files that end in {SUFFIX}).")
        for file in inside:
            found.setdefault(file)
    return list(found)


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # a name that is too long for the system, say; reading it says so
        return False


def write_whole(path: Path, data: bytes) -> None:
    """Write a file whole or not at all. Raises ``CannotRun`` where it cannot be written."""
    import tempfile

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
        raise CannotRun(f"{path} cannot be written: {_said(reason)}.") from None


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _said(reason: OSError) -> str:
    return (reason.strerror or str(reason)).lower()
