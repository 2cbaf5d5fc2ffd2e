"""``vatwright record``: the form of a batch, its blanks asked one by one, and what it says."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.command.in_and_out import plan_of
from procedure.command.main import CannotRun
from procedure.command.outputs import add_overwrite, write_output
from procedure.command.printing import say
from procedure.command.typed_in import answer
from procedure.findings import LEVELS, at_least
from procedure.wording.visible import one_line

if TYPE_CHECKING:
    from procedure.batch.asking import Question
    from procedure.batch.folder import Batch

SUFFIX = ".batch"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``record``."""
    add = parser.add_argument
    add(
        "file",
        metavar="FILE",
        help="a procedure, to make the form of a batch; or a record (.batch) to go on with",
    )
    add("-o", "--out", metavar="OUT", help="the record to write (.batch); never one that is there")
    add("--ask", action="store_true", help="ask for the blanks one by one; each answer is saved")
    add("--check", action="store_true", help="tell what was done otherwise than planned")
    add("--curve", metavar="STEP", help="draw the heats of a step as SVG, with the plan")
    add("--card", action="store_true", help="make a card to tie to each skein (.html, .pdf, ...)")
    add(
        "--paper",
        choices=("a4", "letter"),
        help="the paper of a PDF; that of the units unless told",
    )
    add("--all", action="store_true", help="with --check, small differences as well")
    add(
        "--at-least",
        choices=LEVELS,
        default="warning",
        metavar="LEVEL",
        help="with --check, what the rules say of this level and above of what was done",
    )
    add_overwrite(parser)


def run(arguments: argparse.Namespace) -> int:
    """Make a form, ask for its blanks, or tell what a record says.

    Gives 0 where all is well, 1 where lines cannot be read or something was done otherwise.
    """
    path = Path(arguments.file)
    if path.suffix.lower() != SUFFIX:
        if arguments.check or arguments.curve or arguments.card:
            raise CannotRun(f"{path} is no record; a record’s name ends in {SUFFIX}.")
        made = _form(arguments)
        return _ask(made) if arguments.ask else 0
    if arguments.curve:
        return _curve(path, arguments)
    if arguments.card:
        return _card(path, arguments)
    if arguments.ask:
        return _ask(path)
    return _check(path, arguments)


def _form(arguments: argparse.Namespace) -> Path:
    """Write the form of a procedure; gives its file."""
    from procedure.batch.form import form
    from procedure.batch.from_plan import planned_batch
    from procedure.batch.record_writing import quoted
    from procedure.collection.writing import write_whole
    from procedure.facts.handling import deadly_words

    plan = plan_of(arguments.file)
    out = Path(arguments.out or f"{Path(arguments.file).stem}{SUFFIX}")
    if out.suffix.lower() != SUFFIX:
        raise CannotRun(f"{out} is no record; let its name end in {SUFFIX}.")
    if out.exists():
        raise CannotRun(
            f"{out} is there already, and a record is never written over; choose another name, "
            f"or go on with “vatwright record {out} --ask”."
        )
    beside = os.path.relpath(arguments.file, out.parent or ".").replace(os.sep, "/")
    if one_line(beside) != beside or quoted(beside)[1:-1] != beside:
        raise CannotRun(
            f"a record names its procedure, and “{beside}” is a name that no line can hold. "
            "Give the file another name."
        )
    planned = planned_batch(plan)._replace(file=beside)
    cautions = "".join(f"# {line}\n" for line in deadly_words(plan.study))
    write_whole(out, (cautions + form(planned)).encode("utf-8"))
    errors = sum(finding.level == "error" for finding in plan.findings)
    say(f"Wrote {out}: {form(planned).count('____')} blanks to fill in.")
    if errors:
        print(f"The procedure has {errors} error{'s' if errors > 1 else ''}; check it first.")
    return out


# ------------------------------------------------------------------ asking

_HELP = {
    "amount": "an amount with its unit; a bare number is taken in the unit of the plan",
    "words": "in your own words",
    "day": "a day, as 2026-04-18",
    "clock": "a time, as 09:55",
    "colour": "a colour, as #d2bb3a, or Lab 78.2 2.1 64 under D65 at 10°, or Munsell 5Y 7/8, or "
    "in your own words",
}


def _ask(path: Path) -> int:
    from procedure.batch.asking import session

    _text(path)
    print("Enter leaves a blank for later, “unstated” says that nobody knows, “stop” ends.")
    where = ""

    def ask(question: Question, at: int, of: int) -> str | None:
        nonlocal where
        if question.where != where:
            where = question.where
            print(f"\n{where}")
        plan = f" (planned {question.planned})" if question.planned else ""
        while True:
            try:
                reply = answer(f"  [{of} left] {question.what}{plan}: ")
            except KeyboardInterrupt:
                reply = None
            if reply is None:
                print()
                return None
            if reply.strip() != "?":
                return None if reply.strip() == "stop" else reply
            print(f"    {_HELP.get(question.kind, _HELP['words'])}")

    try:
        left = session(path, ask, lambda said: print(f"    {said}"))
    except OSError as reason:
        said = (reason.strerror or str(reason)).lower()
        raise CannotRun(f"{path} cannot be written: {said}. No answer was lost before.") from None
    except UnicodeDecodeError:
        raise CannotRun(f"{path} is not UTF-8 text. Save the file as UTF-8.") from None
    blanks = f"{left} blank{'s' if left != 1 else ''}"
    print(f"\n{path} is saved; {blanks} left." if left else f"\n{path} is filled in.")
    return 0


def _text(path: Path) -> str:
    from procedure.batch.folder import CannotRead, text_of

    try:
        return text_of(path)
    except CannotRead as reason:
        raise CannotRun(str(reason)) from None


def _batch(path: Path) -> Batch:
    from procedure.batch.folder import CannotRead, batch_of

    try:
        return batch_of(path)
    except CannotRead as reason:
        raise CannotRun(str(reason)) from None


# ------------------------------------------------------------------ checking


def _check(path: Path, arguments: argparse.Namespace) -> int:
    from procedure.batch.held_against_plan import judged_as_done
    from procedure.batch.telling_check import check_report

    judged = judged_as_done(_batch(path))
    batch = judged.batch
    findings = [one for one in judged.findings if at_least(one.level, arguments.at_least)]
    print(check_report(batch, judged, findings, small=arguments.all), end="")
    strayed = any(not one.small for one in batch.deviations)
    unread = any(one.level == "error" for one in batch.findings)
    return 1 if strayed or unread or findings or not judged.held else 0


def _curve(path: Path, arguments: argparse.Namespace) -> int:
    from procedure.batch.curve import curve
    from procedure.batch.heat_series import planned_band

    batch = _batch(path)
    logs = dict(batch.logs)
    known = [step for step in batch.record.steps if logs.get(step.number) or step.heats]
    step = next((one for one in known if one.number == arguments.curve), None)
    if step is None:
        have = ", ".join(one.number for one in known)
        told = f"steps that have: {have}" if have else "no step of this record has any"
        raise CannotRun(f"step {arguments.curve} has no heats; {told}.")
    out = Path(arguments.out or f"{path.stem}-step-{step.number}.svg")
    if out.suffix.lower() != ".svg":
        raise CannotRun(f"{out} is no drawing; let its name end in .svg.")
    series = logs.get(step.number) or step.heats
    drawn = curve(series, planned_band(step), f"Step {step.number}: {step.words}")
    write_output(out, drawn.encode("utf-8"), [str(path)], arguments.overwrite)
    say(f"Wrote {out}.")
    return 0


def _card(path: Path, arguments: argparse.Namespace) -> int:
    from procedure.batch.shade_book import skein_cards
    from procedure.command.in_and_out import paper_file, write_paper

    out = paper_file(arguments.out, f"{path.stem}-card.html")
    made = skein_cards(_batch(path))
    write_paper(out, made, arguments.paper, [str(path)], arguments.overwrite)
    say(f"Wrote {out}.")
    return 0
