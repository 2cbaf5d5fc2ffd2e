"""``vatwright compare``: what differs in meaning between two versions of a procedure."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from procedure.command.in_and_out import STANDARD_INPUT, forms, paper_file, plan_of, write_paper
from procedure.command.main import CannotRun
from procedure.command.outputs import add_overwrite
from procedure.command.printing import put_data, say

if TYPE_CHECKING:
    from procedure.pipeline import Judged

FORMATS = ("text", "json")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``compare``."""
    add = parser.add_argument
    add("old", metavar="OLD", help="the old version, or - for standard input")
    add("new", metavar="NEW", help="the new version, or - for standard input")
    add("--format", choices=FORMATS, default="text", help="the form of the report")
    add(
        "--units",
        choices=("own", "metric", "us", "imperial"),
        default="own",
        help="the units to speak in: those of the new version (own), or one system",
    )
    add(
        "-o",
        "--out",
        metavar="FILE",
        help=f"write it as a paper with both versions side by side: {forms()}",
    )
    add_overwrite(parser)
    parser.epilog = (
        "Examples: “vatwright compare weld-2024.dye weld.dye” tells what a person who knows the"
        " old method must do otherwise; “git show HEAD~1:weld.dye | vatwright compare - weld.dye"
        " -o changes.html” holds the file against its last version and writes both side by side"
        " (what it follows is read as it is now). Names, letters and the order of steps that"
        " have nothing to do with each other make no difference; nor does another weight of"
        " fibre with the same shares. Exit status: 0 the same, 1 different, 2 could not."
    )


def run(arguments: argparse.Namespace) -> int:
    """Compare; 0 where both mean the same, 1 where they differ, 2 where one cannot be read."""
    from procedure.command.voice import voice_of
    from procedure.compare import TooDifferent, compare
    from procedure.rules.judging import reader_of
    from procedure.wording import of_system

    names = arguments.old, arguments.new
    if names == (STANDARD_INPUT, STANDARD_INPUT):
        raise CannotRun("only one of the two can come from standard input; name a file.")
    if arguments.out is not None and arguments.format != "text":
        raise CannotRun(f"a paper is no {arguments.format}; leave out --out or --format.")
    out = paper_file(arguments.out, "") if arguments.out is not None else None
    old, new = (plan_of(name, _other(names, name)) for name in names)
    for name, plan in zip(names, (old, new), strict=True):
        _must_say_something(name, plan)
    try:
        made = compare(old, new)
    except TooDifferent as why:
        raise CannotRun(str(why)) from why
    own = arguments.units == "own"
    reader = reader_of(new.model) if own else of_system(arguments.units)
    if out is not None:
        from procedure.compare.as_paper import paper

        voice = voice_of(new, None if own else arguments.units)
        columns = out.suffix.lower() != ".txt"
        inputs = [name for name in names if name != STANDARD_INPUT]
        both = paper(made, voice, reader, columns)
        write_paper(out, both, "a4", inputs, arguments.overwrite)
        say(f"Wrote {out}.")
    elif arguments.format == "json":
        from procedure.compare import as_json

        put_data(as_json.report(made, reader))
    else:
        from procedure.compare import as_text

        sys.stdout.write(as_text.report(made, reader))
    return 0 if made.same else 1


def _must_say_something(name: str, plan: Judged) -> None:
    """Raise ``CannotRun`` where nothing of a text can be read as a procedure: a poem, a letter."""
    model = plan.model
    said = model.body or model.lots or model.materials or model.equipment
    if not said and any(one.rule == "cannot-read" for one in plan.findings):
        raise CannotRun(
            f"nothing in {name} can be read as a procedure; “vatwright draft” makes one of a"
            " recipe in prose."
        )


def _other(names: tuple[str, str], name: str) -> str:
    """The file in whose place standard input is read."""
    return next((one for one in names if one != name), "") if name == STANDARD_INPUT else ""
