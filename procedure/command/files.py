"""Files in and out, for all commands."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.collection.writing import write_whole
from procedure.command.main import CannotRun
from procedure.pipeline import Judged, NotText, decoded, read, text_of
from procedure.rules import workshop_file

if TYPE_CHECKING:
    from procedure.paper.blocks import Paper

SUFFIX = ".dye"
STANDARD_INPUT = "-"
LONGEST_SHOWN = 400


def plan_of(name: str, beside: str = "") -> Judged:
    """The plan in a file, or from standard input for ``-``.

    What comes from standard input is read as if it stood in the file ``beside``, so that
    what it follows is found; without one it belongs to no collection.

    Raises ``CannotRun`` with one plain sentence where it cannot be read, and with one a
    line for each fault of its workshop file: with levels and pots missing, what else is
    said of it would mislead.
    """
    try:
        if name == STANDARD_INPUT:
            text = decoded(sys.stdin.buffer.read(), "standard input")
            return read(text, "standard input", beside or None)
        path = Path(name)
        if _is_folder(path):
            raise CannotRun(f"{name} is a folder; name a procedure in it.")
        return _followable(read(text_of(path), name, path))
    except NotText as reason:
        raise CannotRun(str(reason)) from None
    except OSError as reason:
        shown = name if len(name) <= LONGEST_SHOWN else f"{name[:LONGEST_SHOWN]}..."
        raise CannotRun(f"{shown} cannot be read: {_said(reason)}.") from None


def _followable(plan: Judged) -> Judged:
    """The plan, where its workshop file can be followed; else raises ``CannotRun``."""
    faults = [finding for finding in plan.findings if finding.rule == workshop_file.NAME]
    if faults:
        raise CannotRun(
            "\n".join(f"{one.file}, line {one.line}: {one.sentence} {one.remedy}" for one in faults)
        )
    return plan


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


def paper_file(named: str | None, default: str) -> Path:
    """Where a paper goes: the name that was given, or the default one.

    Raises ``CannotRun`` where the name does not say what to make, or is a folder's.
    """
    from procedure.paper.printers import FORMS

    out = Path(named if named is not None else default)
    if out.suffix.lower() not in FORMS:
        listed = " or ".join([", ".join(FORMS[:-1]), FORMS[-1]])
        raise CannotRun(f"{out} does not say what to make; let its name end in {listed}.")
    if out.is_dir():
        raise CannotRun(f"{out} is a folder; name a file to write.")
    return out


def write_paper(out: Path, made: Paper, size: str) -> None:
    """Print a paper in the form of the file's suffix and write it whole.

    Raises ``CannotRun`` where it cannot be printed, and ``NotWritten`` where not written.
    """
    from procedure.paper.printers import NotPrinted, printed

    try:
        write_whole(out, printed(made, out.suffix.lower(), size))
    except NotPrinted as reason:
        raise CannotRun(str(reason)) from None


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # a name that is too long for the system, say; reading it says so
        return False


def _said(reason: OSError) -> str:
    return (reason.strerror or str(reason)).lower()
