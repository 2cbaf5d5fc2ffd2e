"""``vatwright new``: a first procedure, whole and checked, or a blank form."""

from __future__ import annotations

import argparse
import re
import sys
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from procedure.collection.writing import write_whole
from procedure.command.files import SUFFIX
from procedure.command.main import CannotRun
from procedure.command.printing import say

if TYPE_CHECKING:
    from procedure.vocabulary import Entry

USUAL_FIBRE = "wool yarn 100 g"
USUAL_DYE = "onion skins"
USUAL_MORDANT = "alum"
USUAL_WEIGHT = Fraction(100)
NONE = ("none", "no", "without")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``new``."""
    add = parser.add_argument
    add("title", nargs="?", metavar="TITLE", help="what the procedure is called")
    add("--fibre", metavar="FIBRE", help="fibre, form and dry weight, such as “wool yarn 100 g”")
    add("--dye", metavar="DYE", help="the dyestuff, such as weld, madder or onion")
    add("--mordant", metavar="MORDANT", help="the mordant, such as alum; none for none")
    add("--by", default="", metavar="NAME", help="who writes it")
    add(
        "--units",
        choices=("metric", "us"),
        default="metric",
        help="grams, litres and °C (metric), or ounces, US gallons and °F (us)",
    )
    add(
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
    from procedure.start import Asked, NoMethod, blank, made

    out = None if arguments.out is None else _out(arguments.out)
    if arguments.sections == "blank":
        text = blank(_plain(arguments.title or "A name for it"))
    else:
        fibre_words = _answer(arguments.fibre, "Which fibre, and how much of it?", USUAL_FIBRE)
        fibre, form, weight = _fibre(fibre_words)
        dye = _dye(_answer(arguments.dye, "Which dyestuff?", USUAL_DYE))
        mordant_words = _answer(arguments.mordant, "Which mordant (or none)?", USUAL_MORDANT)
        asked = Asked(
            title=_plain(arguments.title or f"{dye.name.capitalize()} on {fibre.name}"),
            fibre=fibre,
            form=form,
            weight=weight,
            dye=dye,
            mordant=None if mordant_words.lower() in NONE else _mordant(mordant_words),
            by=_plain(arguments.by),
            day=date.today().isoformat(),
            us=arguments.units == "us",
        )
        try:
            text = made(asked)
        except NoMethod as reason:
            raise CannotRun(str(reason)) from None
    if out is None:
        sys.stdout.write(text)
    else:
        write_whole(out, text.encode("utf-8"))
        say(f"{out} is written; “vatwright handout {out}” makes a paper of it.")
    return 0


def _plain(words: str) -> str:
    return " ".join(words.replace('"', "'").split())


def _answer(given: str | None, question: str, usual: str) -> str:
    """What was given; else what is answered on the terminal; else the usual answer."""
    if given is not None:
        return given.strip()
    if not sys.stdin.isatty():
        return usual
    try:
        return input(f"{question} [{usual}] ").strip() or usual
    except EOFError:
        return usual


def _fibre(words: str) -> tuple[Entry, str, Fraction]:
    """Fibre, form and grams. Raises ``CannotRun`` where they cannot be read."""
    from procedure.vocabulary import near, vocabulary

    known = vocabulary()
    weight = USUAL_WEIGHT
    rest = words.lower().strip()
    found = re.search(r"(\d+(?:\.\d+)?)\s*([a-z]+)\b", rest)
    if found is not None:
        unit = known.units.get(found[2])
        if unit is None or unit.kind != "mass" or not Fraction(found[1]):
            raise CannotRun(f"“{found[0]}” is no weight; write it as 100 g or 4 oz.")
        weight = Fraction(found[1]) * unit.factor
        rest = (rest[: found.start()] + rest[found.end() :]).strip(" ,")
    fibres, forms = known.tables["fibres"], known.tables["form"]
    parts = rest.split()
    for at in range(len(parts), 0, -1):
        name, form = " ".join(parts[:at]), " ".join(parts[at:])
        if name in fibres and (not form or form in forms):
            return fibres[name], form, weight
    meant = near(rest, list(fibres))
    hint = f" Did you mean “{meant}”?" if meant else " Write it as “wool yarn 100 g”."
    raise CannotRun(f"no fibre is called “{words[:60]}”.{hint}")


def _dye(words: str) -> Entry:
    from procedure.vocabulary import near, vocabulary

    found = vocabulary().material(words.lower())
    if found is not None and found.table == "dyestuffs":
        return found
    meant = near(words.lower(), list(vocabulary().tables["dyestuffs"])) if found is None else None
    hint = f" Did you mean “{meant}”?" if meant else " “vatwright know” tells what is known."
    raise CannotRun(f"no dyestuff is called “{words[:60]}”.{hint}")


def _mordant(words: str) -> Entry:
    from procedure.vocabulary import vocabulary

    found = vocabulary().material(words.lower())
    if found is not None and found.table == "mordants" and "mordant" in found.facts["role"]:
        return found
    raise CannotRun(f"no mordant is called “{words[:60]}”; alum is the usual one.")


def _out(name: str) -> Path:
    out = Path(name)
    if out.suffix != SUFFIX:
        raise CannotRun(f"{name} is no name for a procedure; let it end in {SUFFIX}.")
    if out.exists():
        raise CannotRun(f"{name} is there already, and nothing is overwritten; choose another.")
    return out
