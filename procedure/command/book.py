"""``vatwright book``: all the procedures of a folder as one PDF, or as a site of plain pages."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.collection.writing import write_whole
from procedure.command.in_and_out import plan_of, procedures_in, tell_of_letters
from procedure.command.main import CannotRun
from procedure.command.outputs import add_overwrite, write_output
from procedure.command.printing import say, warn
from procedure.command.progress import at_work

if TYPE_CHECKING:
    from procedure.handout.book import BookEntry
    from procedure.paper.blocks import Paper
    from procedure.paper.measures import Voice
    from procedure.pipeline import Judged

PAPERS = ("a4", "letter")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``book``."""
    add = parser.add_argument
    add("folder", metavar="FOLDER", help="a folder of procedures")
    add("-o", "--out", metavar="OUT", default="book.pdf", help="book.pdf, or a folder for a site")
    add("--title", metavar="TITLE", help="the title of the book; the folder's name by default")
    add(
        "--paper",
        choices=PAPERS,
        help="the paper of a PDF: a4 or letter; letter where all the measures are American",
    )
    add_overwrite(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the book; 1 where a procedure in it is a draft, 0 where none is."""
    from procedure.command.voice import voice_of
    from procedure.handout.book import entry, page_names, told_apart

    out = Path(arguments.out)
    pdf = out.suffix.lower() == ".pdf"
    if not pdf and out.suffix:
        raise CannotRun(f"{out} does not say what to make; name a .pdf file or a folder.")
    if not pdf:
        _usable(out)
    elif not out.parent.is_dir():  # said before an hour's work, not after it
        raise CannotRun(f"{out} cannot be written: there is no folder {out.parent}.")
    folder = Path(arguments.folder)
    if not folder.is_dir():
        raise CannotRun(f"{arguments.folder} is no folder.")
    names, amiss = procedures_in([arguments.folder])
    if amiss:
        raise CannotRun(*amiss)
    called = page_names([Path(name).relative_to(folder).with_suffix("").parts for name in names])
    plans: list[Judged] = []
    entries: list[BookEntry] = []
    for number, name in enumerate(names):
        at_work("reading the procedures", number, len(names))
        plan = plan_of(name)
        plans.append(plan)
        entries.append(entry(plan, called[number], voice_of(plan, None)))
    entries = told_apart(entries, [Path(name).relative_to(folder).as_posix() for name in names])
    title = arguments.title or folder.resolve().name.replace("-", " ").capitalize()
    if pdf:
        _write_pdf(out, title, entries, plans, arguments.paper or _size(plans), arguments.overwrite)
    else:
        _write_site(out, title, entries, plans)
    drafts = [one.title for one in entries if one.draft]
    say(f"Wrote {out}: {len(entries)} procedure{'s' if len(entries) != 1 else ''}.")
    if drafts:
        warn(f"drafts with errors are in it: {', '.join(drafts)}.")
    return 1 if drafts else 0


def _voice(plans: Sequence[Judged]) -> Voice:
    """How the book's own pages speak: American only where every procedure does."""
    from procedure.command.voice import voice_of
    from procedure.paper.measures import Voice

    spellings = {voice_of(plan, None).spelling for plan in plans}
    return Voice("metric", spellings.pop() if len(spellings) == 1 else "british")


def _size(plans: Sequence[Judged]) -> str:
    """The paper for it: Letter where every procedure would be printed on that."""
    from procedure.command.voice import voice_of

    sizes = {voice_of(plan, None).paper_size for plan in plans}
    return sizes.pop() if len(sizes) == 1 else "a4"


# ------------------------------------------------------------ a site


def _usable(out: Path) -> None:
    """Refuse a folder that holds something else than an earlier book."""
    from procedure.handout.book_site import INDEX, MARK

    if not out.exists():
        return
    if not out.is_dir():
        raise CannotRun(f"{out} is a file; name a .pdf file or a folder.")
    page = out / INDEX
    old = page.is_file() and MARK in page.read_text("utf-8", errors="replace")
    if any(out.iterdir()) and not old:
        raise CannotRun(f"{out} holds other files; name a new folder, or one with an older book.")


def _write_site(
    out: Path, title: str, entries: Sequence[BookEntry], plans: Sequence[Judged]
) -> None:
    from procedure.handout.book_site import INDEX, files

    made = dict(files(title, entries, plans, _voice(plans)))
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        said = (reason.strerror or str(reason)).lower()
        raise CannotRun(f"{out} cannot be made: {said}.") from None
    first = made.pop(INDEX)  # the way in comes last, when everything it leads to is there
    for name, text in made.items():
        write_whole(out / name, text.encode())
    write_whole(out / INDEX, first.encode())


# ------------------------------------------------------------ a PDF


def _write_pdf(
    out: Path,
    title: str,
    entries: Sequence[BookEntry],
    plans: Sequence[Judged],
    size: str,
    overwrite: bool,
) -> None:
    from procedure.handout.book import back, in_order
    from procedure.paper.printers import NotPrinted

    if out.is_dir():
        raise CannotRun(f"{out} is a folder; name a .pdf file to write.")
    voice = _voice(plans)
    try:
        parts: list[tuple[str, str, Paper]] = []
        for one in in_order(entries):
            parts.append((one.name, one.title, one.handout))
            if one.card is not None:
                parts.append((f"{one.name} card", f"Card: {one.title}", one.card))
        parts.append(("", "Words and sources", back(entries, plans, voice)))
        made = _bound(title, entries, parts, size)
    except NotPrinted as reason:
        raise CannotRun(str(reason)) from None
    write_output(out, made, [plan.file for plan in plans], overwrite)
    tell_of_letters(paper for _, _, paper in parts)


def _bound(
    title: str, entries: Sequence[BookEntry], parts: Sequence[tuple[str, str, Paper]], size: str
) -> bytes:
    """All parts as one PDF with a bookmark for each, each set once.

    How many pages the contents take hangs on how many digits its numbers have, hardly on which:
    they are set first with such numbers, and again when the pages are known.
    """
    from io import BytesIO

    from pypdf import PdfReader, PdfWriter

    from procedure.handout.book import front
    from procedure.paper.in_pdf import page_count, printed

    voice = parts[0][2].voice
    none = {one.name: 999 for one in entries}
    contents = page_count(front(title, entries, none, voice), size)
    at, pages, made = contents, {}, []
    for number, (name, _, paper) in enumerate(parts):
        at_work("setting the pages", number, len(parts))
        pages[name] = at + 1
        made.append(PdfReader(BytesIO(printed(paper, size, first=at + 1))))
        at += len(made[-1].pages)
    first = PdfReader(BytesIO(printed(front(title, entries, pages, voice), size, first=1)))
    writer = PdfWriter()
    for name, read in zip(("Contents", *(one[1] for one in parts)), (first, *made), strict=True):
        begins = len(writer.pages)
        for page in read.pages:
            writer.add_page(page)
        writer.add_outline_item(title=name, page_number=begins)
    writer.add_metadata({"/Title": title})
    writer.compress_identical_objects()
    bound = BytesIO()
    writer.write(bound)
    return bound.getvalue()
