"""``vatwright lots``: each finished lot's story."""

from __future__ import annotations

import argparse
import sys

from procedure.command.in_and_out import forms, plan_of
from procedure.command.main import CannotRun
from procedure.command.outputs import add_overwrite
from procedure.command.printing import say


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``lots``."""
    parser.add_argument("file", metavar="FILE", help="a procedure, or - for standard input")
    parser.add_argument("--only", metavar="LOT", help="tell the story of one lot alone")
    parser.add_argument(
        "-o",
        "--out",
        metavar="OUT",
        help=f"write a paper instead: {forms()}",
    )
    add_overwrite(parser)


def run(arguments: argparse.Namespace) -> int:
    """Tell what each finished lot went through; 1 where the procedure has errors, else 0."""
    from procedure.command.in_and_out import paper_file, write_paper
    from procedure.command.voice import voice_of
    from procedure.handout.lot_stories import finished
    from procedure.handout.lots_paper import paper
    from procedure.paper.in_text import page
    from procedure.vocabulary import near

    out = paper_file(arguments.out, "") if arguments.out is not None else None
    plan = plan_of(arguments.file)
    try:
        made = paper(plan, voice_of(plan, None), arguments.only or "")
    except KeyError:
        names = [plan.flow.lots[lot].name for lot in finished(plan)]
        meant = near(arguments.only, names)
        hint = f"did you mean {meant}?" if meant else f"there are: {', '.join(names) or 'none'}."
        raise CannotRun(f"No finished lot is called {arguments.only}; {hint}") from None
    if out is None:
        sys.stdout.write(page(made))
    else:
        write_paper(out, made, "a4", [arguments.file], arguments.overwrite)
        say(f"Wrote {out}.")
    errors = sum(finding.level == "error" for finding in plan.findings)
    if errors:
        print(
            f"\nThe procedure has {errors} error{'s' if errors > 1 else ''}, so this may be wrong."
        )
    return 1 if errors else 0
