"""``vatwright lots``: each finished lot's story."""

from __future__ import annotations

import argparse

from procedure.command.files import plan_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``lots``."""
    parser.add_argument("file", metavar="FILE", help="a procedure, or - for standard input")


def run(arguments: argparse.Namespace) -> int:
    """Tell what each finished lot went through; 1 where the procedure has errors, else 0."""
    from procedure.report.lots import report

    plan = plan_of(arguments.file)
    print(report(plan), end="")
    errors = sum(finding.level == "error" for finding in plan.findings)
    if errors:
        print(
            f"\nThe procedure has {errors} error{'s' if errors > 1 else ''}, so this may be wrong."
        )
    return 1 if errors else 0
