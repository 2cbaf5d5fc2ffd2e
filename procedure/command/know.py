"""``vatwright know``: what the vocabulary knows of a word, and where it comes from."""

from __future__ import annotations

import argparse
from textwrap import fill

from procedure.command.main import CannotRun
from procedure.report.knowing import Meaning, meanings, names
from procedure.report.listing import LISTS, NotListed, listed
from procedure.vocabulary import Vocabulary

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
    from procedure.command.workshop import words_here

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
    close = difflib.get_close_matches(word.casefold(), names(words), n=3, cutoff=0.72)
    if not close:
        return " Ask for a plant, fibre, mordant, verb, unit or hazard."
    said = " or ".join(f"“{one}”" for one in close)
    return f" Did you mean {said}?"


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
