"""``vatwright match``: the batches that came nearest to a colour."""

from __future__ import annotations

import argparse
from pathlib import Path
from textwrap import fill

from procedure.command.main import CannotRun

WIDTH = 88


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``match``."""
    add = parser.add_argument
    add("colour", metavar="COLOUR", help='such as "#c8a232", "5Y 7/8" or "Lab 70 5 60"')
    add(
        "folders",
        nargs="*",
        default=["."],
        metavar="FOLDER",
        help="where the records (.batch) are; the present folder by default",
    )
    add("--fibre", metavar="FIBRE", help="only methods on this fibre, such as wool")
    add("--most", type=int, default=5, metavar="N", help="how many to show (5)")


def run(arguments: argparse.Namespace) -> int:
    """Rank past batches by their difference from a colour; 1 where there is none."""
    from procedure.batch.nearest import nearest, wanted
    from procedure.batch.telling import APPROXIMATE, stood_words
    from procedure.colour import called, compared, to_srgb
    from procedure.command.batches import batches_in
    from procedure.quantity.number_words import plain

    try:
        colour = wanted(arguments.colour)
    except ValueError as reason:
        raise CannotRun(str(reason)) from None
    if arguments.most < 1:
        raise CannotRun("--most is a number from 1 on.")
    batches = batches_in(arguments.folders)
    unknown: list[str] = []
    if arguments.fibre:
        batches = [one for one in batches if _on(one.path, one.record.of, arguments.fibre, unknown)]
    found = nearest(colour, batches)
    shown = to_srgb(colour)
    print(f"{shown.hex}, {called(colour)}. Nearest of {len(found)} dyed lots (CIEDE2000):")
    for at, one in enumerate(found[: arguments.most], 1):
        assert one.shade.colour is not None
        record = one.batch.record
        edition = f", edition {record.edition}" if record.edition else ""
        hex_ = to_srgb(one.shade.colour).hex
        lines = [
            f"{at}. {one.difference:.1f} away: {hex_}, {compared(colour, one.shade.colour)}",
            f"{one.batch.method}{edition}; {record.title or one.batch.path.name}, {one.shade.lot}",
        ]
        if one.needs:
            needs = ", ".join(f"{name} {plain(share * 100)} %" for name, share in one.needs.items())
            lines.append(f"needs, of the fibre's weight: {needs}")
        lines.append("; ".join(stood_words(one.shade)) or "not tested in light or wash")
        for number, line in enumerate(lines):
            indent = "  " if number == 0 else "     "
            print(fill(line, WIDTH, initial_indent=indent, subsequent_indent="       "))
    for said in dict.fromkeys(unknown):
        print(fill(said, WIDTH))
    print("The vocabulary holds no sourced colours yet, so only your own batches are ranked.")
    print(APPROXIMATE)
    return 0 if found else 1


def _on(record: Path, procedure: str, fibre: str, unknown: list[str]) -> bool:
    """True where a procedure dyes that fibre; what cannot be known is said and left out."""
    from procedure.pipeline import NotText, read, text_of

    path = record.parent / procedure if procedure else None
    try:
        if path is None:
            raise FileNotFoundError
        model = read(text_of(path), str(path), path).model
    except (OSError, NotText):
        unknown.append(f"{record}: its procedure is not to be found, so its fibre is not known.")
        return False
    words = {fibre.casefold()}
    return any(
        words & {entry.name.casefold(), entry.facts.get("class", "").casefold()}
        or fibre.casefold() in entry.name.casefold().split()
        for lot in model.lots.values()
        for entry in lot.fibres
    )
