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
    from procedure.start import Asked
    from procedure.vocabulary import Entry

USUAL_FIBRE = "wool yarn 100 g"
USUAL_DYE = "onion skins"
USUAL_MORDANT = "alum"
MOST = 1_000_000  # of any unit: beyond it a slip of the pen, not a weight
USUAL_WEIGHT = Fraction(100)
USUAL_POTS = "whatever suits"
NONE = ("none", "no", "without")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``new``."""
    add = parser.add_argument
    add("title", nargs="?", metavar="TITLE", help="what the procedure is called")
    add("--fibre", metavar="FIBRE", help="fibre, form and dry weight, such as “wool yarn 100 g”")
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
    from procedure.start import NoMethod, blank, made

    out = None if arguments.out is None else _out(arguments.out)
    if arguments.sections == "blank":
        text = blank(_plain(arguments.title or "A name for it"))
    else:
        try:
            text = made(_asked(arguments, out))
        except NoMethod as reason:
            raise CannotRun(str(reason)) from None
    if out is None:
        sys.stdout.write(text)
    else:
        write_whole(out, text.encode("utf-8"))
        say(f"{out} is written; “vatwright handout {out}” makes a paper of it.")
    return 0


def _asked(arguments: argparse.Namespace, out: Path | None) -> Asked:
    """What is given, and asked for on a terminal; the usual answers where nobody can answer."""
    from procedure.start import Asked

    fibre_words = _answer(arguments.fibre, "Which fibre, and how much of it?", USUAL_FIBRE)
    fibre, form, weight, scoured = _fibre(fibre_words)
    dye = _dye(_answer(arguments.dye, "Which dyestuff?", USUAL_DYE))
    in_vat = dye.facts["dye_class"] == "vat"
    usual = "none" if in_vat or dye.facts["mordant"] == "not needed" else USUAL_MORDANT
    mordant = _answer(arguments.mordant, "Which mordant (or none)?", usual)
    question = "A last bath that changes the colour (iron, copper, or none)?"
    after = "none" if in_vat else _answer(arguments.after, question, "none")
    question = "A vat under the colour (indigo, woad, or none)?"
    over = "none" if in_vat and arguments.over is None else arguments.over
    over = _answer(over, question, "none")
    here = out if out is not None else Path(f"new{SUFFIX}")
    pots = _answer(arguments.pots, "Which pots have you got?", USUAL_POTS)
    title = f"{dye.name.capitalize()} on {fibre.name}"
    return Asked(
        title=_plain(_answer(arguments.title, "What is it called?", title)),
        fibre=fibre,
        form=form,
        weight=weight,
        dye=dye,
        mordant=None if _none(mordant) else _mordant(mordant),
        by=_plain(_answer(arguments.by, "Who writes it?", "") or ""),
        day=date.today().isoformat(),
        us=arguments.units == "us",
        after=None if _none(arguments.after or after) else _mordant(arguments.after or after),
        over=None if _none(over) else _dye(over),
        scoured=scoured,
        pots=() if pots == USUAL_POTS else _listed(pots),
        here=here,
    )


def _none(words: str) -> bool:
    return words.strip().lower() in NONE


def _listed(words: str) -> tuple[str, ...]:
    """The pots that are named, with commas between; each ends in how much it holds."""
    found: list[str] = []
    for part in filter(None, (one.strip() for one in words.split(","))):
        # “pot, 10 L” is one pot: what has no size goes on to the next comma.
        if found and not re.search(r"\d", found[-1]):
            found[-1] += f" {part}"
        elif found and part in ("lidded", "with lid", "for dyeing only", "for cooking"):
            found[-1] = f"{part} {found[-1]}" if part == "lidded" else found[-1] + f" {part}"
        else:
            found.append(part)
    return tuple(_plain(one) for one in found)


def _plain(words: str) -> str:
    return " ".join(words.replace('"', "'").split())


def _answer(given: str | None, question: str, usual: str) -> str:
    """What was given; else what is answered on the terminal; else the usual answer."""
    if given is not None:
        return given.strip()
    if not sys.stdin.isatty():
        return usual
    try:
        return input(f"{question} [{usual}] " if usual else f"{question} ").strip() or usual
    except EOFError:
        return usual


def _fibre(words: str) -> tuple[Entry, str, Fraction, bool]:
    """Fibre, form, grams, and if it is clean. Raises ``CannotRun`` where they cannot be read."""
    from procedure.vocabulary import near, vocabulary

    known = vocabulary()
    weight, rest = _weight(words.lower().strip())
    fibres, forms, states = known.tables["fibres"], known.tables["form"], known.tables["state"]
    parts = rest.split()
    greasy = set(parts) & {"unscoured", *states["unscoured"].words("aliases")}
    clean = set(parts) & {"scoured", *states["scoured"].words("aliases")}
    parts = [part for part in parts if part not in greasy | clean]
    for at in range(len(parts), 0, -1):
        name, form = " ".join(parts[:at]), " ".join(parts[at:])
        if name in fibres and (not form or form in forms):
            # As shorn, a fleece is greasy, unless somebody says that it has been washed.
            scoured = bool(clean) or not (greasy or form == "fleece")
            return fibres[name], form, weight, scoured
    meant = near(rest, list(fibres))
    hint = f" Did you mean “{meant}”?" if meant else " Write it as “wool yarn 100 g”."
    raise CannotRun(f"no fibre is called “{words[:60]}”.{hint}")


def _weight(words: str) -> tuple[Fraction, str]:
    """The grams in the words, and the words without them. Raises ``CannotRun``."""
    from procedure.vocabulary import vocabulary

    found = re.search(r"(\d+(?:\.\d+)?)\s*([a-z]+)\b", words)
    if found is None:
        return USUAL_WEIGHT, words
    unit = vocabulary().units.get(found[2])
    if unit is None or unit.kind != "mass" or not 0 < Fraction(found[1]) < MOST:
        raise CannotRun(f"“{found[0][:40]}” is no weight; write it as 100 g or 4 oz.")
    return (
        Fraction(found[1]) * unit.factor,
        (words[: found.start()] + words[found.end() :]).strip(" ,"),
    )


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

    known = vocabulary()
    # “Copper” alone is a vessel; the salt is meant.
    found = known.material(words.lower()) or known.material(f"{words.lower()} sulphate")
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
