"""``vatwright match``: the batches and the published colours that come nearest to a colour."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

from procedure.command.main import CannotRun
from procedure.command.printing import put_data

if TYPE_CHECKING:
    from procedure.batch.nearest_batches import Near
    from procedure.batch.sourced import Ranked, Sourced
    from procedure.colour import Colour

WIDTH = 88
USUAL = (
    "Amounts are usual ones, of the dry fibre's weight; “vatwright know NAME” says where each is "
    "from."
)


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
    add("--fibre", metavar="FIBRE", help="only on this fibre, such as wool")
    add("--most", type=int, default=5, metavar="N", help="how many to show (5)")
    add("--format", choices=("text", "json"), default="text", help="text (the default) or json")


def run(arguments: argparse.Namespace) -> int:
    """Rank past batches, then published colours, by their difference.

    1 where there is none, or where a record was left out.
    """
    from procedure.batch.batch_reports import APPROXIMATE
    from procedure.batch.nearest_batches import nearest, wanted
    from procedure.batch.sourced import NoFibre, sourced
    from procedure.colour import called, to_srgb
    from procedure.command.batches import batches_in

    try:
        colour = wanted(arguments.colour)
    except ValueError as reason:
        raise CannotRun(str(reason)) from None
    if arguments.most < 1:
        raise CannotRun("--most is a number from 1 on.")
    left_out: list[str] = []
    batches = batches_in(arguments.folders, at_least=0, left_out=left_out)
    unknown: list[str] = []
    if arguments.fibre:
        batches = [one for one in batches if _on(one.path, one.record.of, arguments.fibre, unknown)]
    left_out += unknown
    found = nearest(colour, batches)
    ranked: Ranked | None = None
    try:
        ranked = sourced(colour, arguments.fibre or "")
    except NoFibre as reason:
        unknown.append(str(reason))
    all_well = not left_out and (found or (ranked is not None and ranked.found))
    if arguments.format == "json":
        from procedure.batch.telling_match import data

        put_data(data(colour, found[: arguments.most], ranked, arguments.most, unknown))
        return 0 if all_well else 1
    of = f"Nearest of {len(found)} dyed lot{'s' * (len(found) != 1)} (CIEDE2000):"
    own = of if found else "No dyed lot of your own to rank."
    print(f"{to_srgb(colour).hex}, {called(colour)}. {own}")
    for at, one in enumerate(found[: arguments.most], 1):
        _print(at, _own(colour, one))
    if ranked is not None:
        _print_published(colour, ranked, arguments)
    for said in dict.fromkeys(unknown):
        print(fill(said, WIDTH))
    print(APPROXIMATE)
    return 0 if all_well else 1


def _own(colour: Colour, one: Near) -> Iterator[str]:
    """A lot of one's own: how far, from which method, what it needed, how it stood."""
    from procedure.batch.batch_reports import stood_words
    from procedure.colour import compared, to_srgb
    from procedure.quantity.number_words import plain

    assert one.shade.colour is not None
    record = one.batch.record
    edition = f", edition {record.edition}" if record.edition else ""
    hex_ = to_srgb(one.shade.colour).hex
    yield f"{one.difference:.1f} away: {hex_}, {compared(colour, one.shade.colour)}"
    yield f"{one.batch.method}{edition}; {record.title or one.batch.path.name}, {one.shade.lot}"
    if one.needs:
        needs = ", ".join(f"{name} {plain(share * 100)} %" for name, share in one.needs.items())
        yield f"needs, of the fibre's weight: {needs}"
    yield "; ".join(stood_words(one.shade)) or "not tested in light or wash"


def _published(colour: Colour, one: Sourced) -> Iterator[str]:
    """A published colour: how far, on what, what it needs, what may hurt, and its source."""
    from procedure.batch.sourced import on
    from procedure.colour import compared

    away = f"about {one.difference:.0f} away: about {one.shade.hex}"
    yield f"{away}, {compared(colour, one.colour)}"
    yield f"{one.shade.dyestuff} on {on(one.shade)}: {one.shade.colour}"
    yield f"needs {'; '.join(need.said for need in one.needs)}"
    for caution in one.cautions:
        yield f"Caution: {caution}"
    yield f"source: {one.shade.source}"


def _print_published(colour: Colour, ranked: Ranked, arguments: argparse.Namespace) -> None:
    from procedure.report.knowing import DEFERRAL

    shown = ranked.found[: arguments.most]
    if shown:
        count = f"{len(ranked.found)} published colours"
        print(f"Nearest of {count} (swatches made from words, each approximate):")
    else:
        print(f"The vocabulary has no published colours on {arguments.fibre or 'any fibre'}.")
    for at, each in enumerate(shown, 1):
        _print(at, _published(colour, each))
    if shown:
        print(fill(USUAL, WIDTH))
    if ranked.refused:
        said = f"Left out, because nobody should handle them: {', '.join(ranked.refused)}."
        print(fill(said, WIDTH))
    if ranked.refused or any(one.cautions for one in shown):
        print(fill(DEFERRAL, WIDTH))


def _print(at: int, lines: Iterator[str]) -> None:
    for number, line in enumerate(lines):
        shown = line if number else f"{at}. {line}"
        indent = "     " if number else "  "
        filled = fill(shown, WIDTH, initial_indent=indent, subsequent_indent="       ")
        print(filled.replace("\u00a0", " "))


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
