"""``vatwright handout``: a procedure as a paper for somebody without the program."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.command.in_and_out import STANDARD_INPUT, forms, paper_file, plan_of, write_paper
from procedure.command.main import CannotRun
from procedure.command.outputs import add_overwrite
from procedure.command.printing import say
from procedure.command.voice import voice_of
from procedure.paper.measures import SPELLINGS, UNITS, Voice

if TYPE_CHECKING:
    from procedure.handout.contents import ChartSheet
    from procedure.paper.blocks import Paper
    from procedure.pipeline import Judged

# Forms that can hold a drawing.
DRAWN = (".html", ".pdf")
PAPERS = ("a4", "letter")
LABELS = ("8", "14", "21")

# More than a paper should hold, and about what can be set with 300 MB of memory.
MOST_STEPS = 250


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``handout``."""
    add = parser.add_argument
    add("file", metavar="FILE", help="a procedure, or - for standard input")
    add(
        "-o",
        metavar="OUT",
        dest="out",
        help=f"where to write it: {forms('.html')} says what it will be",
    )
    add(
        "--fibre",
        action="append",
        default=[],
        metavar="[LOT=]WEIGHT",
        help="work it out for so much fibre, such as 600 g or yarn=600 g",
    )
    add(
        "--skeins",
        action="append",
        default=[],
        metavar="[LOT=]COUNT",
        help="the same by skeins or pieces as heavy as the written ones",
    )
    add(
        "--units",
        choices=UNITS,
        help="the measures to print: metric, us, imperial or both; those of the procedure where "
        "nothing is said",
    )
    add(
        "--spelling",
        choices=SPELLINGS,
        help="british or us; us where the units are us or the procedure is written in US units",
    )
    add(
        "--paper",
        choices=PAPERS,
        help="the paper of a PDF: a4 or letter; letter where the measures are American",
    )
    add("--no-chart", action="store_true", help="leave the chart out of the long handout")
    add(
        "--label-size",
        choices=LABELS,
        default=LABELS[0],
        help="labels on a sheet of A4: 8 (the default), 14 or 21",
    )
    add_overwrite(parser)
    kind = parser.add_mutually_exclusive_group()
    kind.add_argument(
        "--long",
        action="store_true",
        help="the long handout: every blank, amounts for other weights, and the chart",
    )
    kind.add_argument("--record", action="store_true", help="the blanks to fill in alone")
    kind.add_argument("--bench", action="store_true", help="large type for the wall instead")
    kind.add_argument("--labels", action="store_true", help="labels for the jars and baths instead")


def run(arguments: argparse.Namespace) -> int:
    """Write it; 0 where all is well, 1 for a draft of a faulty procedure, 2 where it cannot."""
    out = _out(arguments)
    written = plan_of(arguments.file)
    steps = len(written.study.moments)
    if steps > MOST_STEPS:
        raise CannotRun(
            f"{arguments.file} has {steps:,} steps, and nobody works from a paper of more than "
            f"{MOST_STEPS}. Divide it into procedures that follow each other."
        )
    plan, worked_out = _worked_out(written, arguments)
    voice = voice_of(plan, arguments.units, arguments.spelling)
    made, sheets = _paper(plan, voice, worked_out, out.suffix.lower(), arguments)
    write_paper(out, made, arguments.paper, [arguments.file], arguments.overwrite, sheets)
    say(f"Wrote {out}.")
    errors = sum(finding.level == "error" for finding in plan.findings)
    if errors:
        things = "1 error" if errors == 1 else f"{errors} errors"
        print(
            f"vatwright: {out} is a draft: the procedure has {things}, listed first in it.",
            file=sys.stderr,
        )
    return 1 if errors else 0


def _out(arguments: argparse.Namespace) -> Path:
    kinds = ("long", "record", "bench", "labels")
    ending = next((f"-{kind}" for kind in kinds if getattr(arguments, kind)), "")
    name = "handout" if arguments.file == STANDARD_INPUT else Path(arguments.file).stem
    return paper_file(arguments.out, f"{name}{ending}.html")


def _worked_out(plan: Judged, arguments: argparse.Namespace) -> tuple[Judged, str]:
    """The plan for the fibre that was asked for, with a sentence on what that changed."""
    if not arguments.fibre and not arguments.skeins:
        return plan, ""
    from procedure.command.weigh import weights_asked
    from procedure.rework.scaling import scale
    from procedure.weigh.cannot import CannotWeigh

    try:
        scaled = scale(plan, weights_asked(plan, arguments))
    except CannotWeigh as reason:
        raise CannotRun(str(reason)) from None
    return scaled.plan, scaled.sentence


def _paper(
    plan: Judged, voice: Voice, worked_out: str, form: str, arguments: argparse.Namespace
) -> tuple[Paper, bytes]:
    """The paper that is asked for, and sheets of the chart to be bound after a long one."""
    if arguments.long:
        return _long(plan, voice, worked_out, form, arguments)
    if arguments.bench:
        from procedure.handout import bench

        return bench.paper(bench.bench(plan, voice)), b""
    if arguments.labels:
        from procedure.handout import labels_paper
        from procedure.handout.labels import labels

        return labels_paper.paper(labels(plan, voice), arguments.label_size), b""
    if arguments.record:
        from procedure.handout import record_sheet

        return record_sheet.paper(plan, voice), b""
    from procedure.handout import short

    return short.paper(plan, voice, worked_out), b""


def _long(
    plan: Judged, voice: Voice, worked_out: str, form: str, arguments: argparse.Namespace
) -> tuple[Paper, bytes]:
    """The long handout. Its chart is in it on a screen; in a PDF it follows on whole sheets, as
    its letters would grow too small between a handout's margins."""
    from procedure.handout.as_paper import paper
    from procedure.handout.chart_pictures import FOLLOWS, bound_sheets, sheets_of
    from procedure.handout.contents import contents

    shown: tuple[ChartSheet, ...] = ()
    bound, no_chart = b"", ""
    size = arguments.paper or voice.paper_size
    if not arguments.no_chart and form == ".pdf":
        bound, no_chart = bound_sheets(plan, size)
        no_chart = no_chart or FOLLOWS
    elif not arguments.no_chart and form in DRAWN:
        shown, no_chart = sheets_of(plan, size)
    return paper(contents(plan, voice, worked_out, shown, no_chart)), bound
