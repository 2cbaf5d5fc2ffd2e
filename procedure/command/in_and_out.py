"""Files in and out, for all commands."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Iterator, Sequence

from procedure.collection.files import LARGEST
from procedure.command.main import CannotRun
from procedure.command.printing import warn
from procedure.command.progress import at_work
from procedure.pipeline import Judged, NotText, decoded, read, text_of
from procedure.quantity.record import TYPE_CHECKING, NamedTuple
from procedure.rules import workshop_file

if TYPE_CHECKING:
    from pathlib import Path

    from procedure.paper.blocks import Paper

SUFFIX = ".dye"
RECORD = ".batch"
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
            return read(_standard_input(), "standard input", beside or None)
        if os.path.isdir(name):
            raise CannotRun(f"{name} is a folder; name a procedure in it.")
        _no_record(name)
        return _followable(read(text_of(name), name, name))
    except NotText as reason:
        raise CannotRun(str(reason)) from None
    except RuntimeError as reason:  # links that lead to themselves
        said = str(reason).partition("\n")[0].lower()
        raise CannotRun(f"{name[:LONGEST_SHOWN]} cannot be read: {said}.") from None
    except OSError as reason:
        shown = name if len(name) <= LONGEST_SHOWN else f"{name[:LONGEST_SHOWN]}..."
        raise CannotRun(f"{shown} cannot be read: {_said(reason)}.{_meant(name)}") from None


def _no_record(name: str) -> None:
    """Raises ``CannotRun`` for the record of a batch, which is no procedure."""
    if name.lower().endswith(RECORD):
        raise CannotRun(
            f"{name} is the record of a batch, and no procedure; “vatwright record {name} --check” "
            "tells what it says."
        )


def _meant(name: str) -> str:
    """A question about the file beside it that is called nearly so, where there is one."""
    from pathlib import Path

    from procedure.vocabulary import near

    path = Path(name)
    try:
        every = path.parent.glob(f"*{SUFFIX}")
        beside = [one.name for one in every if one.is_file()]
        if path.exists() or not path.name:
            return ""
    except OSError:
        return ""
    lower = {one.lower(): one for one in beside}
    said = path.name.lower()
    found = lower.get(said) or lower.get(said + SUFFIX) or lower.get(near(said, list(lower)) or "")
    return f" Did you mean {path.with_name(found)}?" if found else ""


def _standard_input() -> str:
    from procedure.command.typed_in import typed

    return decoded(typed(LARGEST), "standard input")


def _followable(plan: Judged) -> Judged:
    """The plan, where its workshop file can be followed; else raises ``CannotRun``."""
    faults = [finding for finding in plan.findings if finding.rule == workshop_file.NAME]
    if faults:
        raise CannotRun(
            *[f"{one.file}, line {one.line}: {one.sentence} {one.remedy}" for one in faults]
        )
    return plan


class FilesFound(NamedTuple):
    """The files that names stand for, in order, and a sentence for each that cannot be had."""

    files: tuple[str, ...]
    amiss: tuple[str, ...]


def procedures_in(names: list[str]) -> FilesFound:
    """The files that names stand for; a folder stands for every procedure below it.

    A folder below that cannot be looked into, and a link that leads nowhere, are among what is
    amiss. Raises ``CannotRun`` for a folder without procedures.
    """
    found: dict[str, None] = {}
    amiss: list[str] = []
    for name in names:
        if name == STANDARD_INPUT or not os.path.isdir(name):
            _no_record(name)
            found.setdefault(name)
            continue
        known = len(amiss)
        inside = sorted(_below(name, amiss))
        if not inside and len(amiss) == known:
            raise CannotRun(f"{name} holds no procedures (files that end in {SUFFIX}).")
        found.update(dict.fromkeys(inside))
    return FilesFound(tuple(found), tuple(amiss))


def _below(folder: str, amiss: list[str]) -> Iterator[str]:
    """The procedures below a folder; what is amiss there is noted on the way."""
    from pathlib import Path

    def unreadable(reason: OSError) -> None:
        amiss.append(f"the folder {reason.filename} cannot be looked into: {_said(reason)}.")

    for home, _, names in os.walk(folder, onerror=unreadable):
        for name in names:
            if not name.endswith(SUFFIX):
                continue
            path = str(Path(home, name))
            try:
                kind = os.stat(path).st_mode
            except OSError as reason:
                lost = os.path.islink(path)
                why = "it is a link that leads nowhere" if lost else _said(reason)
                amiss.append(f"{path} cannot be read: {why}.")
                continue
            if stat.S_ISREG(kind):
                yield path
            else:
                amiss.append(f"{path} cannot be read: it is a pipe or a device, and no file.")


def forms(default: str = "") -> str:
    """The forms of a paper as a help text names them, the default marked as such."""
    from procedure.paper.printers import FORMS
    from procedure.quantity.number_words import listed

    return listed([f"{one} (the default)" if one == default else one for one in FORMS], "or")


def paper_file(named: str | None, default: str) -> Path:
    """Where a paper goes: the name that was given, or the default one.

    Raises ``CannotRun`` where the name does not say what to make, or is a folder's.
    """
    from pathlib import Path

    from procedure.paper.printers import FORMS
    from procedure.quantity.number_words import listed

    out = Path(named if named is not None else default)
    if out.suffix.lower() not in FORMS:
        ends = listed(FORMS, "or")
        raise CannotRun(f"{out} does not say what to make; let its name end in {ends}.")
    if out.is_dir():
        raise CannotRun(f"{out} is a folder; name a file to write.")
    return out


def write_paper(
    out: Path,
    made: Paper,
    size: str | None,
    inputs: Sequence[str] = (),
    overwrite: bool = False,
    sheets: bytes = b"",
) -> None:
    """Print a paper in the form of the file's suffix and write it whole.

    Where no ``size`` is asked for, a PDF has that of the readers it is for. ``sheets``, a PDF,
    are bound after a paper that is a PDF.

    Raises ``CannotRun`` where it cannot be printed or would be written over what is no paper
    of this program, and ``NotWritten`` where not written.
    """
    from procedure.command.outputs import write_output
    from procedure.paper.printers import NotPrinted, printed

    at_work("setting the paper")
    try:
        data = printed(made, out.suffix.lower(), size or made.voice.paper_size)
    except NotPrinted as reason:
        raise CannotRun(str(reason)) from None
    write_output(out, with_sheets(data, sheets) if sheets else data, inputs, overwrite)
    if out.suffix.lower() == ".pdf":
        tell_of_letters([made])


def tell_of_letters(papers: Iterable[Paper]) -> None:
    """Say which words of a PDF are in Latin letters, where no font has their own."""
    from procedure.paper import in_text
    from procedure.paper.letters import readable, told

    written: dict[str, str] = {}
    for made in papers:
        written.update(readable(in_text.page(made))[1])
    if written:
        warn(told(written, on_paper=False))


def with_sheets(paper: bytes, sheets: bytes) -> bytes:
    """A PDF with the pages of another after its own."""
    import io

    from pypdf import PdfReader, PdfWriter

    whole = PdfWriter(clone_from=PdfReader(io.BytesIO(paper)))
    whole.append(PdfReader(io.BytesIO(sheets)), import_outline=False)
    bound = io.BytesIO()
    whole.write(bound)
    return bound.getvalue()


def _said(reason: OSError) -> str:
    return (reason.strerror or str(reason)).lower()
