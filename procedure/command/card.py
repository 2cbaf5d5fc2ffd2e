"""``vatwright card``: a shade card with a box and a tag for every sample."""

from __future__ import annotations

import argparse
from pathlib import Path

from procedure.command.in_and_out import STANDARD_INPUT, forms, paper_file, plan_of, write_paper
from procedure.command.outputs import add_overwrite
from procedure.command.printing import say
from procedure.paper.in_pdf import SIZES
from procedure.paper.measures import Voice
from procedure.pipeline import Judged


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``card``."""
    parser.add_argument("file", metavar="FILE", help="a procedure, or - for standard input")
    parser.add_argument(
        "-o",
        "--out",
        metavar="OUT",
        help=f"the file to write: {forms('.html')}",
    )
    parser.add_argument(
        "--qr", action="store_true", help="a QR code with the title and version as text"
    )
    parser.add_argument(
        "--paper",
        choices=SIZES,
        help="the paper of a PDF; letter where the measures are American",
    )
    add_overwrite(parser)


def _voice(plan: Judged) -> Voice:
    from procedure.command.voice import voice_of

    return voice_of(plan, None)


def run(arguments: argparse.Namespace) -> int:
    """Write the card; 1 where the procedure has errors, else 0."""
    from procedure.handout.shade_card import paper

    named = arguments.file != STANDARD_INPUT
    stem = Path(arguments.file).stem if named else "procedure"
    out = paper_file(arguments.out, f"{stem}-card.html")
    plan = plan_of(arguments.file)
    made = paper(plan, _voice(plan), arguments.qr)
    write_paper(out, made, arguments.paper, [arguments.file], arguments.overwrite)
    errors = sum(finding.level == "error" for finding in plan.findings)
    say(f"Wrote {out}.")
    if errors:
        print(
            f"The procedure has {errors} error{'s' if errors > 1 else ''}: do not trust the card."
        )
    return 1 if errors else 0
