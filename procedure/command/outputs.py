"""Where papers go: never over what somebody else has made.

A paper that this program wrote may be written again. It is known by a mark that is put into
it (:data:`MARK`), or, for the forms that have no place for one, by its first lines.
"""

from __future__ import annotations

import argparse
import stat
import zlib
from collections.abc import Sequence
from pathlib import Path

from procedure.collection.bytes_of import bytes_of
from procedure.collection.writing import write_whole
from procedure.command.main import CannotRun

MARK = b"Made by Vatwright"
_COMMENTS = {
    ".html": (b"<!-- ", b" -->\n"),
    ".svg": (b"<!-- ", b" -->\n"),
    ".pdf": (b"%", b"\n"),
    ".dot": (b"// ", b"\n"),
}
_END_OF_PNG = b"\x00\x00\x00\x00IEND\xaeB`\x82"
# What is looked at of an existing file: the mark is at the end, titles at the beginning.
MOST_LOOKED_AT = 50_000_000


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
    if suffix not in _COMMENTS or MARK in data:
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
    if there and MARK not in there and not _begins_alike(out.suffix.lower(), there, made):
        raise CannotRun(
            f"{out} is there already and is no paper of this program; "
            "name another file, or say --overwrite."
        )


def _begins_alike(suffix: str, there: bytes, made: bytes) -> bool:
    """True for a text with the first two lines of the one that is to be written."""
    if suffix in (".html", ".svg", ".pdf", ".png"):
        return False
    return there.splitlines()[:2] == made.splitlines()[:2]
