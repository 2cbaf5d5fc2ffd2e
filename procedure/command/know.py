"""``vatwright know``: what the vocabulary knows of a word, and where it comes from."""

from __future__ import annotations

import argparse
from textwrap import fill

from procedure.command.main import CannotRun
from procedure.report.knowing import Meaning, meanings, names
from procedure.report.listing import LISTS, NotListed, listed
from procedure.vocabulary import Vocabulary, near
from procedure.vocabulary.library import LEAST_LIKE
from procedure.vocabulary.suggestions import harms, metal_named, near_harm

WIDTH = 80


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``know``."""
    parser.add_argument(
        "word",
        nargs="*",
        metavar="WORD",
        help="a word of the trade: a plant, fibre, mordant, verb, unit, hazard, CAS number ...",
    )
    parser.add_argument("--list", choices=LISTS, help="list the words of a kind instead")
    parser.add_argument("--colour", metavar="COLOUR", default="", help="dyestuffs that give it")
    parser.add_argument("--fibre", metavar="FIBRE", default="", help="on that fibre")


def run(arguments: argparse.Namespace) -> int:
    """Print every meaning of a word; ``CannotRun`` with the near words where there is none."""
    from procedure.command.workshop_here import words_here

    words = words_here()
    if arguments.list or arguments.colour or arguments.fibre:
        return _list(arguments, words)
    if not arguments.word:
        raise CannotRun("say a word, or --list with what to list.")
    word = " ".join(" ".join(arguments.word).split())
    found = meanings(word, words)
    if not found:
        raise CannotRun(f"there is no word “{word[:60]}” in the vocabulary.{_hint(word, words)}")
    print("\n\n".join(page(meaning) for meaning in found))
    return 0


def _list(arguments: argparse.Namespace, words: Vocabulary) -> int:
    """Print a list; ``CannotRun`` where nothing can be listed so."""
    table = arguments.list or "dyestuffs"
    if arguments.word:
        raise CannotRun("a list takes no word; leave the word or --list out.")
    if (arguments.colour or arguments.fibre) and table != "dyestuffs":
        raise CannotRun("only dyestuffs are listed by colour and fibre.")
    try:
        lines = list(listed(table, words, arguments.colour, arguments.fibre))
    except NotListed as reason:
        raise CannotRun(str(reason)) from None
    if not lines:
        raise CannotRun("nothing that I know of gives that colour on that fibre.")
    print("\n".join(lines))
    return 0


def _hint(word: str, words: Vocabulary) -> str:
    """The words that are near, or a word to the wise."""
    import difflib

    if len(word) > 60:
        return ""
    if not word.strip():
        return " Ask for a plant, fibre, mordant, verb, unit or hazard."
    asked = near_harm(word, words)
    if asked:
        told = " or ".join(
            f"{one.name} ({one.facts['botanical']}), which is {one.facts['level']}" for one in asked
        )
        return f" It may be the name of {told}: ask by the Latin name."
    metal = metal_named(word, words)
    known = [one for one in names(words) if metal is None or _of_metal(one, metal, words)]
    close = difflib.get_close_matches(word.casefold(), known, n=3, cutoff=LEAST_LIKE)
    close = [one for one in close if near(word.casefold(), [one]) is not None]
    if not close:
        return " Ask for a plant, fibre, mordant, verb, unit or hazard."
    return f" Did you mean {' or '.join(_told(one, words) for one in close)}?"


def _of_metal(name: str, metal: str, words: Vocabulary) -> bool:
    """Whether a word is no salt of another metal."""
    entry = words.material(name)
    return entry is None or entry.facts.get("metal", "") in ("", metal)


def _told(name: str, words: Vocabulary) -> str:
    """A near word; with its Latin name and what it does where it is a plant that harms."""
    entry = words.material(name)
    plant = words.danger(entry) if entry is not None else None
    if plant is not None:
        return f"“{name}” ({plant.facts['botanical']}, which is {plant.facts['level']})"
    return f"“{name}”, which harms," if harms(entry, words) else f"“{name}”"


def page(meaning: Meaning) -> str:
    """One meaning, as it is printed."""
    lines = [f"{meaning.name} ({meaning.kind})"]
    said = [sentence for sentence in meaning.sentences if sentence]
    for sentence in (*said, f"Source: {meaning.source}."):
        lines.append(
            fill(
                sentence,
                WIDTH,
                initial_indent="  ",
                subsequent_indent="    ",
                break_long_words=False,
                break_on_hyphens=False,
            )
        )
    return "\n".join(lines)
