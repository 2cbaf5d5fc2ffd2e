"""``vatwright check``: findings on procedures."""

from __future__ import annotations

import argparse
import gc
import os
import sys

from procedure.command.files import plan_of, procedures_in
from procedure.command.main import CannotRun
from procedure.findings import LEVELS, Finding, at_least

FORMATS = ("text", "gnu", "json")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``check``."""
    parser.add_argument(
        "files",
        nargs="+",
        metavar="FILE",
        help="a procedure, a folder (every .dye file below it), or - for standard input",
    )
    parser.add_argument("--format", choices=FORMATS, default="text", help="the form of the report")
    parser.add_argument(
        "--at-least",
        choices=LEVELS,
        default="warning",
        metavar="LEVEL",
        help="report findings of this level and above: error, warning (the default) or note",
    )


def run(arguments: argparse.Namespace) -> int:
    """Check; 0 where nothing is reported, 1 where something is, 2 where a file cannot be read."""
    gc.disable()  # a check makes no circles worth collecting, and ends at once
    findings: list[Finding] = []
    checked: list[str] = []
    failed = False
    for name in procedures_in(arguments.files):
        try:
            found = plan_of(name).findings
        except CannotRun as reason:
            print(f"vatwright: {reason}", file=sys.stderr)
            failed = True
            continue
        checked.append(name)
        findings += found
    findings = list(dict.fromkeys(findings))  # a followed file may be checked by itself as well
    shown = [finding for finding in findings if at_least(finding.level, arguments.at_least)]
    if checked or not failed:
        sys.stdout.write(_report(arguments.format, shown, checked, len(findings) - len(shown)))
    return 2 if failed else 1 if shown else 0


def _report(form: str, shown: list[Finding], checked: list[str], hidden: int) -> str:
    if form == "gnu":
        from procedure.report import gnu

        return gnu.report(shown)
    if form == "json":
        from procedure.report import json_report

        return json_report.report(shown, checked)
    from procedure.report import text

    colour = sys.stdout.isatty() and "NO_COLOR" not in os.environ
    return text.report(shown, colour=colour, hidden=hidden)
