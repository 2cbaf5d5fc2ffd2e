"""``vatwright lots``: each finished lot's story."""

from __future__ import annotations

import argparse

from procedure.command.files import plan_of
from procedure.command.main import CannotRun


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``lots``."""
    parser.add_argument("file", metavar="FILE", help="a procedure, or - for standard input")
    parser.add_argument("--only", metavar="LOT", help="tell the story of one lot alone")


def run(arguments: argparse.Namespace) -> int:
    """Tell what each finished lot went through; 1 where the procedure has errors, else 0."""
    from procedure.handout.lots import finished, report
    from procedure.vocabulary import near

    plan = plan_of(arguments.file)
    try:
        print(report(plan, arguments.only or ""), end="")
    except KeyError:
        names = [plan.flow.lots[lot].name for lot in finished(plan)]
        meant = near(arguments.only, names)
        hint = f"did you mean {meant}?" if meant else f"there are: {', '.join(names) or 'none'}."
        raise CannotRun(f"No finished lot is called {arguments.only}; {hint}") from None
    errors = sum(finding.level == "error" for finding in plan.findings)
    if errors:
        print(
            f"\nThe procedure has {errors} error{'s' if errors > 1 else ''}, so this may be wrong."
        )
    return 1 if errors else 0
