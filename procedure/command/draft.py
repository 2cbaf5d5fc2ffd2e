"""``vatwright draft``: a recipe in prose to a draft of a procedure."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from procedure.collection.bytes_of import bytes_of
from procedure.collection.writing import write_whole
from procedure.command.in_and_out import STANDARD_INPUT, SUFFIX
from procedure.command.main import CannotRun
from procedure.command.printing import put_data
from procedure.command.typed_in import typed
from procedure.findings import at_least
from procedure.wording.visible import visible


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``draft``."""
    parser.add_argument("file", metavar="FILE", help="a recipe in prose, or - for standard input")
    parser.add_argument(
        "-o", "--out", metavar="FILE", help="write the draft there (a name that ends in .dye)"
    )
    parser.add_argument(
        "--side-by-side",
        action="store_true",
        help="print each sentence with the lines made of it at its right, to check them",
    )
    parser.add_argument(
        "--fill",
        action="store_true",
        help="put usual amounts where the prose gives none, each marked with its source",
    )
    parser.add_argument(
        "--place-unsure",
        action="store_true",
        help="place too what the words do not surely say, which is left as a comment otherwise",
    )
    parser.epilog = (
        "Examples: “vatwright draft letter.txt -o walnut.dye” writes a draft and tells what a"
        " check makes of it; “vatwright draft letter.txt --side-by-side” shows it beside the"
        " letter."
    )


def run(arguments: argparse.Namespace) -> int:
    """Draft; 0 where all sentences were understood, 1 where some were not, 2 where none can be."""
    from procedure.draft import NotProse, drafted
    from procedure.draft.dangers import dangers
    from procedure.draft.filling import filled
    from procedure.draft.showing import side_by_side, told, with_harms
    from procedure.pipeline import read

    prose = _prose(arguments.file)
    out = None if arguments.out is None else _out(arguments.out)
    try:
        draft = drafted(prose, place_unsure=arguments.place_unsure)
    except NotProse as reason:
        raise CannotRun(f"{_named(arguments.file)}: {reason}") from None
    text = filled(draft) if arguments.fill else draft.text
    judged = read(text, "the draft")
    findings = [one for one in judged.findings if at_least(one.level, "warning")]
    harms = dangers(draft, judged)
    text = with_harms(text, draft, harms)
    if out is not None:
        write_whole(out, visible(text).encode("utf-8"))
    if arguments.side_by_side:
        sys.stdout.write(side_by_side(draft))
    elif out is None:
        put_data(visible(text))
    report = told(draft, findings, harms)
    (sys.stdout if out is not None else sys.stderr).write(report)
    return 1 if draft.left or draft.partly or draft.not_at_all or harms else 0


def _named(name: str) -> str:
    return "standard input" if name == STANDARD_INPUT else name


def _prose(name: str) -> str:
    from procedure.draft.cleaning import MOST_BYTES, NotProse, decoded_prose

    try:
        if name == STANDARD_INPUT:
            raw = typed(MOST_BYTES)
        else:
            path = Path(name)
            if path.is_dir():
                raise CannotRun(f"{name} is a folder; name a file with a recipe in it.")
            raw = bytes_of(path, MOST_BYTES)
        return decoded_prose(raw)
    except NotProse as reason:
        raise CannotRun(f"{_named(name)}: {reason}") from None
    except OSError as reason:
        said = (reason.strerror or str(reason)).lower()
        raise CannotRun(f"{name[:400]} cannot be read: {said}.") from None


def _out(name: str) -> Path:
    out = Path(name)
    if out.suffix != SUFFIX:
        raise CannotRun(f"{name} is no name for a procedure; let it end in {SUFFIX}.")
    if out.exists():
        raise CannotRun(f"{name} is there already, and a draft overwrites nothing; choose another.")
    return out
