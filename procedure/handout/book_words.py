"""What a book explains and cites: the words of its papers, its sources, colours by their words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

from procedure.paper import in_text
from procedure.paper.blocks import Paper
from procedure.pipeline import Judged
from procedure.vocabulary.colours import shades
from procedure.vocabulary.data_files import parts
from procedure.vocabulary.library import rows, vocabulary


def glossary(papers: Iterable[Paper]) -> tuple[tuple[str, str], ...]:
    """The words of ``glossary.csv`` that these papers have, each with what it means."""
    text = " ".join(" ".join(in_text.page(one).split()) for one in papers).casefold()
    return tuple(
        (row["word"], row["meaning"])
        for row in rows("glossary")
        if any(re.search(rf"(?<!\w){re.escape(form)}(?!\w)", text) for form in parts(row["forms"]))
    )


def sources(plans: Sequence[Judged]) -> tuple[str, ...]:
    """Where the methods come from, each source once with its methods, and what facts rest on."""
    titles = {row["key"]: row["title"] for row in rows("sources")}
    found: dict[str, dict[str, None]] = {}
    for plan in plans:
        for made in plan.study.procedures:
            if made.source is not None and made.title is not None:
                text = made.source.text.strip().rstrip(".")
                found.setdefault(text, {}).setdefault(made.title.text)
    said = [
        f"{text[:1].upper()}{text[1:]} ({'; '.join(sorted(of, key=str.casefold))})"
        for text, of in found.items()
    ]
    keys = ("Mairet 1916", "Mairet 1938", "Regulation (EC) No 1272/2008", "NBS SP 440")
    return (
        *sorted(said, key=str.casefold),
        *(titles[key] for key in keys if key in titles),
    )


@cache
def _families() -> dict[str, str]:
    """Every word for a colour with its plain colour, the longest first."""
    found = {row["word"]: row["family"] for row in rows("colour_words")}
    for shade in shades():
        found.setdefault(shade.colour, shade.family)
        found.setdefault(shade.family, shade.family)
    return dict(sorted(found.items(), key=lambda pair: (-len(pair[0]), pair[0])))


@cache
def _plants_of_colour() -> tuple[str, ...]:
    """The names of plants that have a colour in them: “black walnut”, “osage orange”."""
    tables = vocabulary().tables
    names = (name for table in ("dyestuffs", "plants_that_harm") for name in tables[table])
    return tuple(
        name
        for name in sorted(names, key=len, reverse=True)
        if " " in name
        and name not in _families()
        and not _families().keys().isdisjoint(name.split())
    )


def colours_named(text: str, plants: Iterable[str] = ()) -> tuple[str, ...]:
    """The plain colours that a text names: ``moss-green`` is green, ``gold`` is yellow.

    Names of plants name no colour: ``black walnut`` none, and of those among ``plants`` not
    even one that is a colour too (``plum``).
    """
    text = text.casefold().replace("gray", "grey")
    for name in (*_plants_of_colour(), *plants):
        text = re.sub(rf"(?<!\w){re.escape(name)}s?(?!\w)(?! purple)", " ", text)
    named: set[str] = set()
    for word, family in _families().items():
        text, count = re.subn(rf"(?<!\w){re.escape(word)}s?(?!\w)", " ", text)
        if count:
            named.add(family)
    return tuple(sorted(named))


def colours_made(makes: str, plants: Iterable[str]) -> tuple[str, ...]:
    """The plain colours that the words after ``makes`` name, for a procedure with these plants.

    A word with a capital is part of the name of a place or of people (“for the Green Lane
    dyers”), where the words around it have none.
    """
    every = re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", makes)
    if any(word.islower() for word in every[1:]):
        first = r"(?<![.!?] )(?<!^)\b[A-Z][\w'’-]*"
        makes = re.sub(rf"^[A-Z][\w'’-]*(?= [A-Z])|{first}", " ", makes)
    return colours_named(makes, plants)
