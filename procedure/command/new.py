"""``vatwright new``: a first procedure, whole and checked, or a blank form."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from procedure.collection.writing import write_whole
from procedure.command.in_and_out import SUFFIX
from procedure.command.main import CannotRun
from procedure.command.printing import put_data, say
from procedure.command.typed_in import answer, is_somebody_there
from procedure.wording.visible import visible

if TYPE_CHECKING:
    from procedure.start import Wish
    from procedure.vocabulary import Entry

USUAL_FIBRE = "wool yarn 100 g"
USUAL_DYE = "onion skins"
USUAL_MORDANT = "alum"
USUAL_POTS = "whatever suits"


class _Once(argparse.Action):
    """An answer that is given once: a second one would be dropped, or the first."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: object,
        option_string: str | None = None,
    ) -> None:
        if getattr(namespace, self.dest) is not None:
            raise CannotRun(
                f"{option_string} is given twice; “vatwright new” takes one of it. Write the "
                "other into the file afterwards."
            )
        setattr(namespace, self.dest, values)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``new``."""
    add = partial(parser.add_argument, action=_Once)
    parser.add_argument("title", nargs="?", metavar="TITLE", help="what the procedure is called")
    add(
        "--fibre",
        metavar="FIBRE",
        help="fibre, form and dry weight, such as “wool yarn 100 g” or “4 silk scarves of 20 g”",
    )
    add("--dye", metavar="DYE", help="the dyestuff, such as weld, madder or onion")
    add("--mordant", metavar="MORDANT", help="the mordant, such as alum; none for none")
    add(
        "--after",
        metavar="SALT",
        help="a last bath that changes the colour: iron, copper, or none (the default)",
    )
    add(
        "--over",
        metavar="BLUE",
        help="a vat under the colour: indigo, woad, or none (the default)",
    )
    add(
        "--pots",
        metavar="POTS",
        help="the pots at hand, with commas between, such as “stainless steel pot 10 L, plastic "
        "tub 12 L”; those of the workshop file, or usual ones, where nothing is said",
    )
    add("--by", metavar="NAME", help="who writes it")
    parser.add_argument(
        "--units",
        choices=("metric", "us", "imperial"),
        default="metric",
        help="grams, litres and °C (metric); ounces, US gallons and °F (us); ounces, imperial "
        "gallons and °C (imperial)",
    )
    parser.add_argument(
        "--sections",
        choices=("whole", "blank"),
        default="whole",
        help="whole writes every step; blank an empty form that says what goes where",
    )
    add("-o", "--out", metavar="FILE", help="write it there (a name that ends in .dye)")
    parser.epilog = (
        "Examples: “vatwright new "
        '"Weld yellow" --fibre "wool yarn 100 g" --dye weld --mordant alum -o weld.dye” writes'
        " a whole method for a skein; “vatwright new --sections blank -o mine.dye” writes an"
        " empty form. What is not given is asked for, or taken as usual where nobody can answer."
    )


def run(arguments: argparse.Namespace) -> int:
    """Write the procedure; 0 where it is written, 2 where there is no sound method for it."""
    from procedure.start import NoMethod, blank, made
    from procedure.start.first_answers import plain
    from procedure.start.wish import NotUnderstood

    out = None if arguments.out is None else _out(arguments.out)
    if arguments.sections == "blank":
        text = blank(plain(arguments.title or "A name for it"))
    else:
        try:
            text = made(_asked(arguments, out))
        except (NoMethod, NotUnderstood) as reason:
            raise CannotRun(str(reason)) from None
    if out is None:
        put_data(visible(text))
    else:
        write_whole(out, visible(text).encode("utf-8"))
        then = f"“vatwright handout {out}” makes a paper of it."
        if arguments.sections == "blank":
            then = f"fill it in; “vatwright check {out}” then tells what it lacks."
        say(f"{out} is written; {then}")
    return 0


def _asked(arguments: argparse.Namespace, out: Path | None) -> Wish:
    """What is given, and asked for on a terminal; the usual answers where nobody can answer."""
    from procedure.start import Wish
    from procedure.start.fibre_answers import fibre_of
    from procedure.start.first_answers import dye_of, mordant_of, none_of, plain, pots_of

    question = "Which fibre, and how much of it?"
    fibre = _understood(arguments.fibre, question, USUAL_FIBRE, fibre_of)
    dye = _understood(arguments.dye, "Which dyestuff?", USUAL_DYE, dye_of)
    in_vat = dye.facts["dye_class"] == "vat"
    usual = "none" if in_vat or dye.facts["mordant"] == "not needed" else USUAL_MORDANT

    def salt_of(words: str) -> Entry | None:
        return None if none_of(words) else mordant_of(words)

    def blue_of(words: str) -> Entry | None:
        return None if none_of(words) else dye_of(words)

    mordant = _understood(arguments.mordant, "Which mordant (or none)?", usual, salt_of)
    question = "A last bath that changes the colour (iron, copper, or none)?"
    after = "none" if in_vat and arguments.after is None else arguments.after
    last_bath = _understood(after, question, "none", salt_of)
    question = "A vat under the colour (indigo, woad, or none)?"
    over = "none" if in_vat and arguments.over is None else arguments.over
    under = _understood(over, question, "none", blue_of)
    here = out if out is not None else Path(f"new{SUFFIX}")

    def at_hand(words: str) -> tuple[str, ...]:
        return () if words == USUAL_POTS else pots_of(words)

    pots = _understood(arguments.pots, "Which pots have you got?", USUAL_POTS, at_hand)
    title = f"{dye.name.capitalize()} on {fibre.entry.name}"
    return Wish(
        title=plain(_answer(arguments.title, "What is it called?", title)),
        fibre=fibre.entry,
        form=fibre.form,
        weight=fibre.grams,
        dye=dye,
        mordant=mordant,
        by=plain(_answer(arguments.by, "Who writes it?", "") or ""),
        day=date.today().isoformat(),
        units=arguments.units,
        after=last_bath,
        over=under,
        scoured=fibre.scoured,
        pots=pots,
        here=here,
        amount=fibre.amount,
    )


Answer = TypeVar("Answer")


def _understood(
    given: str | None, question: str, usual: str, read: Callable[[str], Answer]
) -> Answer:
    """What an answer means; asked again on a terminal where it was not understood."""
    from procedure.start.wish import NotUnderstood

    while True:
        try:
            return read(_answer(given, question, usual))
        except NotUnderstood as reason:
            if given is not None or not sys.stdin.isatty():
                raise
            say(str(reason))


def _answer(given: str | None, question: str, usual: str) -> str:
    """What was given; else what is answered on the terminal; else the usual answer."""
    if given is not None:
        return given.strip()
    if not is_somebody_there():
        return usual
    said = answer(f"{question} [{usual}] " if usual else f"{question} ")
    return (said or "").strip() or usual


def _out(name: str) -> Path:
    out = Path(name)
    if out.suffix != SUFFIX:
        raise CannotRun(f"{name} is no name for a procedure; let it end in {SUFFIX}.")
    if out.exists():
        raise CannotRun(f"{name} is there already, and nothing is overwritten; choose another.")
    return out
