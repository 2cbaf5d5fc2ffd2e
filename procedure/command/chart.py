"""``vatwright chart``: a procedure as a flowchart."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.chart import FORMS, LANES, SHEETS, NoGraphviz, NotDrawn
from procedure.command.in_and_out import STANDARD_INPUT, plan_of
from procedure.command.main import CANNOT_RUN, CannotRun
from procedure.command.outputs import add_overwrite, write_output
from procedure.command.printing import say, warn
from procedure.command.progress import at_work
from procedure.findings import LEVELS

if TYPE_CHECKING:
    from procedure.pipeline import Judged

# The days of more steps take longer to plan than their chart to draw; it goes without.
MOST_PLANNED = 130


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``chart``."""
    parser.add_argument("file", metavar="FILE", help="a procedure, or - for standard input")
    parser.add_argument(
        "-o",
        metavar="OUT",
        dest="out",
        help="where to write it: .svg (the default), .png, .pdf or .dot says what it will be",
    )
    parser.add_argument(
        "--lanes",
        choices=LANES,
        default="both",
        help="both (the default): a lane for each lot, and for each pot that holds a bath; "
        "lot, pot, or none",
    )
    parser.add_argument(
        "--sheet",
        choices=SHEETS,
        help="a4, letter (where the measures are American), or roll: one long sheet for a screen",
    )
    parser.add_argument(
        "--open", action="store_true", help="open the boxes of the procedures that it follows"
    )
    parser.add_argument(
        "--fold", action="store_true", help="draw each repeat as one symbol that names its steps"
    )
    parser.add_argument(
        "--only", metavar="LOT", default="", help="only the steps of this lot and what it is from"
    )
    parser.add_argument(
        "--from",
        metavar="STEP",
        dest="start",
        default="",
        help="the first step to draw: its label, or its line",
    )
    parser.add_argument(
        "--to", metavar="STEP", dest="end", default="", help="the last step to draw, likewise"
    )
    parser.add_argument(
        "--overview", action="store_true", help="the whole plan on one sheet, in few symbols"
    )
    parser.add_argument(
        "--at-least",
        choices=LEVELS,
        default="warning",
        metavar="LEVEL",
        help="mark findings of this level and above: error, warning (the default) or note",
    )
    add_overwrite(parser)


def run(arguments: argparse.Namespace) -> int:
    """Draw; 0 where it was drawn, 2 where it could not be."""
    import sys

    from procedure.chart import draw
    from procedure.chart.choice import NotThere
    from procedure.command.voice import voice_of
    from procedure.paper.letters import told

    out = _out(arguments)
    form = out.suffix.lower().removeprefix(".")
    if form not in FORMS:
        known = ", ".join(f".{each}" for each in FORMS)
        raise CannotRun(f"{out} does not say what to draw; let its name end in one of {known}.")
    part = arguments.only or arguments.start or arguments.end
    if arguments.overview and (part or arguments.open):
        raise CannotRun("An overview shows the whole plan, folded; leave out the other choice.")
    plan = plan_of(arguments.file)
    written: dict[str, str] = {}
    how = {
        "lanes": arguments.lanes,
        "sheet": arguments.sheet or voice_of(plan, None).paper_size,
        "opened": arguments.open,
        "at_least": arguments.at_least,
        "only": arguments.only,
        "start": arguments.start,
        "end": arguments.end,
        "overview": arguments.overview,
        "folded": arguments.fold and not arguments.overview,
        "written": written,
    }
    at_work("drawing")
    if not arguments.overview:
        how["on_days"] = _days(plan)
    try:
        drawn = draw(plan, form, **how)
    except (NotDrawn, NotThere) as reason:
        raise CannotRun(f"{out} was not drawn: {reason}.") from None
    except NoGraphviz as reason:
        instead = out.with_suffix(".dot")
        write_output(
            instead, _bytes(draw(plan, "dot", **how)), [arguments.file], arguments.overwrite
        )
        print(f"vatwright: {reason}. Wrote {instead}.", file=sys.stderr)
        return CANNOT_RUN
    write_output(out, _bytes(drawn), [arguments.file], arguments.overwrite)
    say(f"Wrote {out}.")
    if written:
        warn(told(written, on_paper=False))
    return 0


def _days(plan: Judged) -> dict[int, int] | None:
    """The days that the handout tells; none where there are too many steps to plan them here."""
    from procedure.timetable.taking import days_of

    return days_of(plan) if len(plan.study.moments) <= MOST_PLANNED else {}


def _bytes(drawn: bytes | str) -> bytes:
    return drawn.encode() if isinstance(drawn, str) else drawn


def _out(arguments: argparse.Namespace) -> Path:
    if arguments.out is not None:
        return Path(arguments.out)
    if arguments.file == STANDARD_INPUT:
        return Path("chart.svg")
    return Path(Path(arguments.file).stem + ".svg")
