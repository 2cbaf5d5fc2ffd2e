"""``vatwright card``: a shade card with a box and a tag for every sample."""

from __future__ import annotations

import argparse
from pathlib import Path

from procedure.command.files import STANDARD_INPUT, plan_of, write_whole
from procedure.command.main import CannotRun


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``card``."""
    parser.add_argument("file", metavar="FILE", help="a procedure, or - for standard input")
    parser.add_argument("-o", "--out", metavar="OUT", help="the page to write (.html)")


def run(arguments: argparse.Namespace) -> int:
    """Write the card; 1 where the procedure has errors, else 0."""
    from procedure.handout.card import page

    named = arguments.file != STANDARD_INPUT
    stem = Path(arguments.file).stem if named else "procedure"
    out = Path(arguments.out or f"{stem}-card.html")
    if out.suffix.lower() not in (".html", ".htm"):
        raise CannotRun(f"{out} is no page: a card is written as .html.")
    plan = plan_of(arguments.file)
    write_whole(out, page(plan).encode("utf-8"))
    errors = sum(finding.level == "error" for finding in plan.findings)
    print(f"Wrote {out}.")
    if errors:
        print(
            f"The procedure has {errors} error{'s' if errors > 1 else ''}: do not trust the card."
        )
    return 1 if errors else 0
