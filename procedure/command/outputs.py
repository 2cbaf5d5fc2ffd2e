"""Where papers go: never over what somebody else has made.

A paper that this program wrote may be written again. It is known by a mark that is put at
its end (:data:`MARK`), or, for the forms of tables that have no place for one, by their names.
"""

from __future__ import annotations

import argparse
import json
import stat
import zlib
from collections.abc import Sequence
from pathlib import Path

from procedure.collection.bytes_of import bytes_of
from procedure.collection.writing import write_whole
from procedure.command.main import CannotRun

MARK = b"Made by Vatwright"
# A text has no comments: there it is a line of its own.
_COMMENTS = {
    ".md": (b"\n<!-- ", b" -->\n"),
    ".txt": (b"\n", b"\n"),
    ".html": (b"<!-- ", b" -->\n"),
    ".svg": (b"<!-- ", b" -->\n"),
    ".pdf": (b"%", b"\n"),
    ".dot": (b"// ", b"\n"),
}
_END_OF_PNG = b"\x00\x00\x00\x00IEND\xaeB`\x82"
# What is looked at of an existing file, and how near to its end the mark is: what stands after
# it, or quotes it further up, is somebody else's.
MOST_LOOKED_AT = 50_000_000
NEAR_THE_END = 64
MAKER = b"PRODID:-//Vatwright//"
# The names that every timetable in JSON has.
_NAMES = frozenset(("form", "title", "possible"))


def add_overwrite(parser: argparse.ArgumentParser) -> None:
    """The argument of every command that writes a paper."""
    parser.add_argument(
        "--overwrite",
        action="store_true",
        help="write over a file that is no paper of this program",
    )


def write_output(
    out: Path, data: bytes, inputs: Sequence[str] = (), overwrite: bool = False
) -> None:
    """Write a paper whole. ``inputs`` are the files that it is made from.

    Raises ``CannotRun`` where the file that is there already is one of the inputs, or is no
    paper of this program and may not be written over, and ``NotWritten`` where it cannot be
    written.
    """
    made = marked(data, out.suffix.lower())
    _refuse(out, made, inputs, overwrite)
    write_whole(out, made)


def marked(data: bytes, suffix: str) -> bytes:
    """A paper with the mark of this program, where its form has a place for one."""
    if suffix == ".png" and data.endswith(_END_OF_PNG):
        said = b"tEXtSoftware\x00" + MARK
        size, sum_ = (len(said) - 4).to_bytes(4, "big"), zlib.crc32(said).to_bytes(4, "big")
        return data[: -len(_END_OF_PNG)] + size + said + sum_ + _END_OF_PNG
    if suffix not in _COMMENTS or _is_marked(data):
        return data
    before, after = _COMMENTS[suffix]
    return data + (b"" if data.endswith(b"\n") else b"\n") + before + MARK + after


def _refuse(out: Path, made: bytes, inputs: Sequence[str], overwrite: bool) -> None:
    try:
        kind = out.stat().st_mode
    except (OSError, ValueError):
        return  # nothing is there, or writing says what is wrong
    if not stat.S_ISREG(kind):
        return
    for name in inputs:
        try:
            same = out.samefile(name)
        except OSError:
            continue
        if same:
            raise CannotRun(f"{out} is what it would be made from; name another file to write.")
    if overwrite:
        return
    try:
        there = bytes_of(out, MOST_LOOKED_AT)
    except OSError:
        return  # writing says what is wrong
    if there and not _is_ours(out.suffix.lower(), there, made):
        raise CannotRun(
            f"{out} is there already and is no paper of this program; "
            "name another file, or say --overwrite."
        )


def _is_marked(data: bytes) -> bool:
    return MARK in data[-NEAR_THE_END:]


def _is_ours(suffix: str, there: bytes, made: bytes) -> bool:
    """True for what this program has written; ``made`` is what it would write now."""
    match suffix:
        case ".ics":
            return MAKER in there
        case ".csv":  # the names of its columns
            return there.splitlines()[:1] == made.splitlines()[:1]
        case ".json":
            return _has_our_names(there)
    return _is_marked(there)


def _has_our_names(there: bytes) -> bool:
    try:
        said = json.loads(there)
    except (ValueError, RecursionError):
        return False
    return isinstance(said, dict) and said.keys() >= _NAMES
