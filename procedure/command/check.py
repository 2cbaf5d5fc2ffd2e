"""``vatwright check``: findings on procedures."""

from __future__ import annotations

import gc
import os
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from types import SimpleNamespace

from procedure.command.examining import Examined, examined
from procedure.command.in_and_out import STANDARD_INPUT, plan_of, procedures_in
from procedure.command.main import FILES_A_SWEEP, CannotRun, refused
from procedure.command.printing import put_data, put_styled, warn
from procedure.command.progress import at_work
from procedure.findings import LEVELS, Finding, at_least
from procedure.pipeline import Judged
from procedure.quantity.record import TYPE_CHECKING
from procedure.rules import RULES
from procedure.rules.judging import timed
from procedure.wording import for_reader, of_system

if TYPE_CHECKING:
    import argparse
    from typing import Any

    Asked = argparse.Namespace | SimpleNamespace

FORMATS = ("text", "gnu", "json", "sarif")


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
    parser.add_argument(
        "--units",
        choices=("own", "metric", "us", "imperial"),
        default="own",
        help="the units that findings speak in: those of each file (own), or one system for all",
    )
    parser.add_argument(
        "--rule-times",
        action="store_true",
        help="print the time that each rule takes, the slowest first, after the report",
    )
    parser.add_argument(
        "--mend",
        action="store_true",
        help="put right in the files what can be read one way only, and report what is left",
    )
    parser.add_argument(
        "--no-cache",
        action="store_true",
        help="look at every file anew, and remember nothing (see README)",
    )
    parser.add_argument(
        "--preview",
        action="store_true",
        help="show what --mend would change, and change nothing",
    )


def asked_plainly(given: Sequence[str]) -> SimpleNamespace | None:
    """What the commonest arguments ask for, as argparse would have it, which takes long to import.

    None where there is anything else among them than files and these few options whole.
    """
    choices: dict[str, Sequence[str]] = {"--format": FORMATS, "--at-least": LEVELS}
    asked: dict[str, Any] = {"format": "text", "at_least": "warning", "no_cache": False}
    files: list[str] = []
    rest = iter(given)
    before = ""
    for word in rest:
        if word in choices:
            value = next(rest, "")
            if value not in choices[word]:
                return None
            asked[word.removeprefix("--").replace("-", "_")] = value
        elif word == "--no-cache":
            asked["no_cache"] = True
        elif not word or word.startswith("-") or (files and before.startswith("-")):
            return None
        else:
            files.append(word)
        before = word
    usual = {"units": "own", "rule_times": False, "mend": False, "preview": False}
    return SimpleNamespace(files=files, **asked, **usual) if files else None


def run(arguments: Asked) -> int:
    """Check; 0 where nothing is reported, 1 where something is, 2 where a file cannot be read.

    A preview that shows a change gives 1 as well.
    """
    _fit_together(arguments)
    findings: list[Finding] = []
    checked: list[str] = []
    named = procedures_in(arguments.files)
    reasons: dict[str, None] = dict.fromkeys(named.amiss)
    for reason in reasons:
        warn(reason)
    one_by_one = arguments.mend or arguments.preview or arguments.rule_times
    asked = _read(named.files, arguments) if one_by_one else _examined(named.files, arguments)
    times: Counter[str] = Counter()
    changed = False
    for number, one in enumerate(asked, 1):
        at_work("checking", number, len(named.files))
        if one.refused:
            cannot = "\n".join(one.refused)
            if cannot not in reasons:
                refused(*one.refused)
            reasons[cannot] = None
            continue
        checked.append(one.name)
        findings += one.findings
        times.update(one.times)
        changed = changed or one.changed
    findings = _each_once(findings)
    shown = [finding for finding in findings if at_least(finding.level, arguments.at_least)]
    if arguments.units != "own":
        shown = [for_reader(finding, of_system(arguments.units)) for finding in shown]
    if checked or not reasons:
        hidden = len(findings) - len(shown)
        made = _report(arguments.format, shown, checked, hidden, list(reasons))
        (put_data if arguments.format in ("json", "sarif") else put_styled)(made)
    for rule, seconds in times.most_common():
        print(f"{seconds * 1000:8.2f} ms  {rule}", file=sys.stderr)
    if reasons:
        return 2
    return 1 if shown or (arguments.preview and changed) else 0


def _examined(names: Sequence[str], arguments: Asked) -> Iterator[Examined]:
    """What is found in each file: remembered, or found on all cores."""
    facts = arguments.format in ("json", "sarif") or arguments.units != "own"
    return examined(names, arguments.files, facts=facts, remember=not arguments.no_cache)


def _read(names: Sequence[str], arguments: Asked) -> Iterator[Examined]:
    """The same one by one, with what only this process can do: mend, and time the rules."""
    for number, name in enumerate(names, 1):
        if number % FILES_A_SWEEP == 0:
            gc.collect()
        try:
            plan = mended = plan_of(name)
            if arguments.mend or arguments.preview:
                mended = _mended(plan, name, arguments)
        except CannotRun as cannot:
            yield Examined(name, refused=cannot.sentences)
            continue
        times = timed(RULES, mended.study) if arguments.rule_times else {}
        yield Examined(name, mended.findings, times=times, changed=mended is not plan)


def _fit_together(arguments: Asked) -> None:
    """Raises ``CannotRun`` where two options do not go with each other."""
    if arguments.preview and arguments.format != "text":
        raise CannotRun(
            f"--preview is for reading, and {arguments.format} is not; take one of the two."
        )
    if arguments.mend and not arguments.preview and STANDARD_INPUT in arguments.files:
        raise CannotRun("standard input cannot be mended; name a file, or use --preview.")


def _each_once(findings: list[Finding]) -> list[Finding]:
    """The findings without those that a followed file gives again when checked by itself.

    The one that tells more of where the file is followed from is kept.
    """
    kept: dict[tuple[object, ...], Finding] = {}
    for finding in findings:
        key = (finding.key or finding.file, *finding.order[1:], finding.sentence)
        earlier = kept.get(key)
        if earlier is None or len(earlier.related) < len(finding.related):
            kept[key] = finding
    return list(kept.values())


def _mended(plan: Judged, name: str, arguments: Asked) -> Judged:
    """The plan after mending, its file written or the change shown.

    What the report would show is mended, and no more.
    """
    from pathlib import Path

    from procedure.collection.writing import write_whole
    from procedure.rework.mend import mend, preview

    path = None if name == STANDARD_INPUT else Path(name)
    mended = mend(plan, path, arguments.at_least)
    if not mended.made:
        return plan
    if arguments.preview:
        sys.stdout.write(preview(plan.text, mended.text, name) + "\n")
        return mended.plan
    assert path is not None
    file = path.resolve()  # a link stays a link
    if not os.access(file, os.W_OK):
        raise CannotRun(f"{name} cannot be mended: it may not be written to.")
    write_whole(file, mended.text.encode("utf-8"), plan.text.encode("utf-8"))
    places = len(mended.made)
    warn(f"{name}: {places} place{'s' if places > 1 else ''} mended.")
    return mended.plan


def _report(
    form: str, shown: list[Finding], checked: list[str], hidden: int, unread: list[str]
) -> str:
    if form == "gnu":
        from procedure.report import gnu

        return gnu.report(shown)
    if form == "json":
        from procedure.report import json_report

        return json_report.report(shown, checked)
    if form == "sarif":
        from procedure.report import sarif

        return sarif.report(shown, checked, unread)
    from procedure.report import text

    colour = sys.stdout.isatty() and "NO_COLOR" not in os.environ
    return text.report(shown, colour=colour, hidden=hidden)
