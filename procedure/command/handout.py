"""``vatwright handout``: a procedure as a paper for somebody without the program."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.command.files import STANDARD_INPUT, plan_of, write_whole
from procedure.command.main import CannotRun
from procedure.handout.measures import SPELLINGS, UNITS, Voice

if TYPE_CHECKING:
    from procedure.handout.contents import Sheet
    from procedure.pipeline import Judged

FORMS = (".html", ".pdf", ".md")
SHEET_FORMS = (".html", ".pdf")
PAPERS = ("a4", "letter")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``handout``."""
    add = parser.add_argument
    add("file", metavar="FILE", help="a procedure, or - for standard input")
    add(
        "-o",
        metavar="OUT",
        dest="out",
        help="where to write it: .html (the default), .pdf or .md says what it will be",
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
        default="both",
        help="the measures to print: metric, us, imperial or both (the default)",
    )
    add(
        "--spelling",
        choices=SPELLINGS,
        help="british or us; us where the units are us or the procedure is written in US units",
    )
    add("--paper", choices=PAPERS, default="a4", help="the paper of a PDF: a4 or letter")
    add("--no-chart", action="store_true", help="leave the chart out")
    kind = parser.add_mutually_exclusive_group()
    kind.add_argument(
        "--bench", action="store_true", help="one page in large type for the wall instead"
    )
    kind.add_argument("--labels", action="store_true", help="labels for the jars and baths instead")


def run(arguments: argparse.Namespace) -> int:
    """Write it; 0 where all is well, 1 for a draft of a faulty procedure, 2 where it cannot."""
    out = _out(arguments)
    written = plan_of(arguments.file)
    plan, worked_out = _worked_out(written, arguments)
    american = arguments.units == "us" or (arguments.units == "both" and _american(plan))
    spelling = arguments.spelling or ("us" if american else "british")
    voice = Voice(arguments.units, spelling)
    write_whole(out, _made(plan, voice, worked_out, out.suffix.lower(), arguments))
    print(f"Wrote {out}.")
    errors = sum(finding.level == "error" for finding in plan.findings)
    if errors:
        things = "1 error" if errors == 1 else f"{errors} errors"
        print(
            f"vatwright: {out} is a draft: the procedure has {things}, listed first in it.",
            file=sys.stderr,
        )
    return 1 if errors else 0


def _american(plan: Judged) -> bool:
    """True where the procedure itself is written in US gallons, quarts, pints or ounces."""
    written = [said.quantity for made in plan.study.procedures for said in made.written]
    return any(one.unit is not None and one.unit.name.startswith("US ") for one in written)


def _out(arguments: argparse.Namespace) -> Path:
    if arguments.out is not None:
        out = Path(arguments.out)
    else:
        ending = "-bench" if arguments.bench else "-labels" if arguments.labels else ""
        name = "handout" if arguments.file == STANDARD_INPUT else Path(arguments.file).stem
        out = Path(f"{name}{ending}.html")
    known = SHEET_FORMS if arguments.bench or arguments.labels else FORMS
    if out.suffix.lower() not in known:
        listed = " or ".join([", ".join(known[:-1]), known[-1]])
        raise CannotRun(f"{out} does not say what to make; let its name end in {listed}.")
    if out.is_dir():
        raise CannotRun(f"{out} is a folder; name a file to write.")
    return out


def _worked_out(plan: Judged, arguments: argparse.Namespace) -> tuple[Judged, str]:
    """The plan for the fibre that was asked for, with a sentence on what that changed."""
    if not arguments.fibre and not arguments.skeins:
        return plan, ""
    from procedure.command.weigh import weights_asked
    from procedure.rework.scaling import scale
    from procedure.weigh.estimates import CannotWeigh

    try:
        scaled = scale(plan, weights_asked(plan, arguments))
    except CannotWeigh as reason:
        raise CannotRun(str(reason)) from None
    return scaled.plan, scaled.sentence


def _made(
    plan: Judged, voice: Voice, worked_out: str, form: str, arguments: argparse.Namespace
) -> bytes:
    from procedure.handout.pdf import NotSet

    try:
        if arguments.bench:
            from procedure.handout import bench

            sheet = bench.bench(plan, voice)
            return _bytes(
                bench.as_pdf(sheet, arguments.paper) if form == ".pdf" else bench.as_html(sheet)
            )
        if arguments.labels:
            from procedure.handout import labels

            made = labels.labels(plan, voice)
            return _bytes(
                labels.as_pdf(made, arguments.paper) if form == ".pdf" else labels.as_html(made)
            )
        return _bytes(_handout(plan, voice, worked_out, form, arguments))
    except NotSet as reason:
        raise CannotRun(f"the PDF was not made: {reason}.") from None


def _handout(
    plan: Judged, voice: Voice, worked_out: str, form: str, arguments: argparse.Namespace
) -> bytes | str:
    from procedure.handout.contents import contents

    sheets: tuple[Sheet, ...] = ()
    no_chart = ""
    if not arguments.no_chart and form != ".md":
        from procedure.handout.sheets import sheets_of

        sheets, no_chart = sheets_of(plan, arguments.paper)
    whole = contents(plan, voice, worked_out, sheets, no_chart)
    if form == ".md":
        from procedure.handout import markdown

        return markdown.page(whole)
    if form == ".pdf":
        from procedure.handout.handout_pdf import paper

        return paper(whole, arguments.paper)
    from procedure.handout import html

    return html.page(whole)


def _bytes(made: bytes | str) -> bytes:
    return made.encode() if isinstance(made, str) else made
