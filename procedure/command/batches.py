"""``vatwright batches``: a folder of records, method by method, and the shade book."""

from __future__ import annotations

import argparse
import json
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.command.in_and_out import forms
from procedure.command.main import CannotRun
from procedure.command.outputs import add_overwrite
from procedure.command.printing import put_data, put_styled, say
from procedure.wording import said
from procedure.wording.visible import escaped, one_line

if TYPE_CHECKING:
    from procedure.batch.folder import Batch

FORMATS = ("text", "csv", "json")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``batches``."""
    add = parser.add_argument
    add(
        "folders",
        nargs="*",
        default=["."],
        metavar="FOLDER",
        help="where the records (.batch) are: folders or files; the present folder by default",
    )
    add("--format", choices=FORMATS, default="text", help="text to read (the default), csv or json")
    add(
        "--used",
        action="store_true",
        help="only what was used in each year, and what is left of the workshop's stock",
    )
    add("--book", metavar="OUT", help=f"write the shade book as {forms()}")
    add(
        "--paper",
        choices=("a4", "letter"),
        help="the paper of a PDF; that of the units unless told",
    )
    add_overwrite(parser)


def run(arguments: argparse.Namespace) -> int:
    """Tell of all batches; 0, or 1 where a record or a line of one could not be read or hardly be
    true."""
    from procedure.batch import batch_reports, telling_use
    from procedure.batch.record_among import with_procedure

    left_out: list[str] = []
    found = batches_in(arguments.folders, left_out=left_out)
    batches = [with_procedure(one) for one in found]
    if arguments.book and arguments.used:
        raise CannotRun("--used and --book are two things; give one of them.")
    if arguments.book:
        _book(batches, arguments)
    elif arguments.used and arguments.format == "csv":
        put_data(telling_use.table(batches))
    elif arguments.used and arguments.format == "json":
        made = json.dumps(telling_use.data(batches), ensure_ascii=False, indent=2)
        put_data(escaped(made) + "\n")
    elif arguments.used:
        print("\n".join(telling_use.lines(batches)).strip() or "No record says what was used.")
    elif arguments.format == "csv":
        put_data(batch_reports.table(batches))
    elif arguments.format == "json":
        put_data(batch_reports.data(batches))
    else:
        colour = sys.stdout.isatty() and "NO_COLOR" not in os.environ
        put_styled(batch_reports.report(batches, colour))
    told = [one for batch in batches for one in batch.findings if one.level != "note"]
    for one in told:
        print(one_line(f"{one.file}:{one.line}: {one.sentence} {one.remedy}"), file=sys.stderr)
    return 1 if told or left_out else 0


def batches_in(
    names: list[str], at_least: int = 1, left_out: list[str] | None = None
) -> list[Batch]:
    """The records of folders and files.

    One of a folder that cannot be read is said and left out; why goes into ``left_out``.
    Raises ``CannotRun`` where there are too few, or where a file that was named cannot be read.
    """
    from procedure.batch.folder import SUFFIX, CannotRead, batch_of, records_in
    from procedure.batch.record_among import each_once

    for name in names:
        if not Path(name).exists():
            raise CannotRun(f"there is no file or folder {name}.")
        if Path(name).suffix.lower() != SUFFIX and not Path(name).is_dir():
            raise CannotRun(f"{name} is no record; a record’s name ends in {SUFFIX}.")
    reasons: list[str] = []
    paths = records_in([Path(name) for name in names], reasons)
    if len(paths) < at_least:
        holds = f"{names[0]} holds" if len(names) == 1 else "These folders hold"
        raise CannotRun(*reasons, f"{holds} no records (files that end in .batch).")
    found: list[Batch] = []
    for path in paths:
        try:
            found.append(batch_of(path))
        except CannotRead as reason:
            reasons.append(str(reason))
    if reasons and ((paths and not found) or any(not Path(name).is_dir() for name in names)):
        raise CannotRun(" ".join(reasons))
    for amiss in reasons:
        print(one_line(f"{amiss} It is left out."), file=sys.stderr)
    if left_out is not None:
        left_out += reasons
    kept, twice = each_once(found)
    for says in twice:
        print(one_line(said(says)), file=sys.stderr)
    return kept


def _book(batches: list[Batch], arguments: argparse.Namespace) -> None:
    from procedure.batch.shade_book import paper
    from procedure.command.in_and_out import paper_file, write_paper

    out = paper_file(arguments.book, "shade-book.html")
    write_paper(out, paper(batches), arguments.paper, arguments.folders, arguments.overwrite)
    say(f"Wrote {out}.")
