"""``vatwright neaten``: procedures in one tidy layout, with every word and comment kept."""

from __future__ import annotations

import argparse
import os
import sys
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.collection.writing import write_whole
from procedure.command.in_and_out import STANDARD_INPUT, plan_of, procedures_in
from procedure.command.main import CannotRun, refused
from procedure.command.printing import put_data, warn
from procedure.quantity.record import NamedTuple

if TYPE_CHECKING:
    from procedure.neaten import NotConverted, Rounded
    from procedure.pipeline import Judged

SYSTEMS = ("metric", "us", "imperial", "both")
_HUNDRED = 100


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``neaten``."""
    add = parser.add_argument
    add(
        "files",
        nargs="+",
        metavar="FILE",
        help="a procedure, a folder (every .dye file below it), or - to read what is typed or "
        "piped in and print it neat",
    )
    add("--preview", action="store_true", help="show what would change, and change nothing")
    add(
        "--verify",
        action="store_true",
        help="only tell which files are not neat yet, and change nothing (exit status 1 then)",
    )
    add(
        "--units",
        choices=SYSTEMS,
        help="write weights, volumes and heats in grams, litres and °C (metric), in ounces, US "
        "gallons and °F (us), in ounces, imperial gallons and °C (imperial), or keep what is "
        "written and put the other reading in brackets after it (both); without it amounts "
        "stay as they were written",
    )


class _Made(NamedTuple):
    text: str
    rounded: tuple[Rounded, ...] = ()
    left: tuple[NotConverted, ...] = ()
    careful: tuple[int, ...] = ()


def run(arguments: argparse.Namespace) -> int:
    """Lay out; 0 where all is done, 1 where --verify finds work, 2 where a file cannot be read.

    A file with a line that cannot be read is left as it is, whole.
    """
    if arguments.preview and arguments.verify:
        raise CannotRun("--preview shows the changes and --verify only tells of them; take one.")
    named = procedures_in(arguments.files)
    for sentence in named.amiss:
        warn(sentence)
    status = 2 if named.amiss else 0
    for name in named.files:
        try:
            changed = _one(name, arguments)
        except CannotRun as reason:
            status = refused(*reason.sentences)
            continue
        if changed and arguments.verify:
            status = max(status, 1)
    return status


def _one(name: str, arguments: argparse.Namespace) -> bool:
    """Lay one file out as it is asked for; True where that changes something."""
    plan = plan_of(name)
    made = _made(plan, name, arguments.units)
    changed = made.text != plan.text
    if name == STANDARD_INPUT and not (arguments.preview or arguments.verify):
        put_data(made.text.encode("utf-8"))
    elif arguments.preview:
        from procedure.rework.mend import preview

        sys.stdout.write(preview(plan.text, made.text, name, "neat") or f"{name} is neat.\n")
    elif arguments.verify:
        if changed:
            print(f"{name} is not neat: {_lines(_changed(plan.text, made.text))} would change.")
    elif changed:
        _write(Path(name), plan.text, made.text)
        print(f"{name}: {_lines(_changed(plan.text, made.text))} laid out anew.")
    else:
        print(f"{name} is neat already.")
    _tell(made, name)
    return changed


def _made(plan: Judged, name: str, units: str | None) -> _Made:
    """The neat text. Raises ``CannotRun`` where a line cannot be read."""
    from procedure.neaten import in_units, neat

    shared = plan.study.workshop
    workshop = None if shared is None else shared.workshop
    found = neat(plan.text, workshop)
    if found.faulty:
        more = len(found.faulty) - 1
        others = f" (and {_lines(more)} more)" if more else ""
        raise CannotRun(
            f"{name}, line {found.faulty[0]}{others} cannot be read, so the file stays as it is; "
            f"“vatwright check {name}” says what is wrong."
        )
    if units is None:
        return _Made(found.text, careful=found.careful)
    other = in_units(found.text, units, workshop, is_neat=True)
    return _Made(other.text, other.rounded, other.left, found.careful)


def _write(path: Path, before: str, after: str) -> None:
    file = path.resolve()  # a link stays a link
    if not os.access(file, os.W_OK):
        raise CannotRun(f"{path} cannot be laid out: it may not be written to.")
    write_whole(file, after.encode("utf-8"), before.encode("utf-8"))


def _changed(before: str, after: str) -> int:
    """How many lines of the old text are other lines in the new one."""
    import difflib

    # Line by line without ends, so that a last line end that was missing counts as well.
    old, new = (
        text.replace("\r\n", "\n").replace("\r", "\n").split("\n") for text in (before, after)
    )
    matcher = difflib.SequenceMatcher(None, old, new, autojunk=False)
    return sum(max(b - a, d - c) for tag, a, b, c, d in matcher.get_opcodes() if tag != "equal")


def _lines(count: int) -> str:
    return f"{count} line{'' if count == 1 else 's'}"


def _tell(made: _Made, name: str) -> None:
    """Say what was rounded and what stayed as it was."""
    for one in made.rounded:
        off = _off(one.off, one.now)
        warn(f"{name}, line {one.line}: {one.was} is {one.now}, {off}.")
    for kept in made.left:
        warn(f"{name}, line {kept.line}: {kept.text} stays: {kept.why}.")


def _off(off: Fraction, now: str) -> str:
    if now.endswith(("°C", "°F")):
        return f"rounded by {float(off):.2g} {now[-2:]}"
    return f"rounded by {float(off * _HUNDRED):.2g} %"
