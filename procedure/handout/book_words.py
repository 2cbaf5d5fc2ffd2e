"""What a book explains and cites: the words of its papers, its sources, the colours in titles."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

from procedure.paper import in_text
from procedure.paper.blocks import Paper
from procedure.pipeline import Judged
from procedure.vocabulary.colours import shades
from procedure.vocabulary.data_files import parts
from procedure.vocabulary.library import rows


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


def colours_named(text: str) -> tuple[str, ...]:
    """The plain colours that a text names: ``moss-green`` is green, ``gold`` is yellow."""
    text = text.casefold().replace("gray", "grey")
    named: set[str] = set()
    for word, family in _families().items():
        text, count = re.subn(rf"(?<!\w){re.escape(word)}(?!\w)", " ", text)
        if count:
            named.add(family)
    return tuple(sorted(named))
