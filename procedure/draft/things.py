"""What prose names: fibres, materials, waters, baths, pots, and the parts of plants."""

from __future__ import annotations

import re
from functools import cache

from procedure.draft.lexicon import fibres, materials, meanings, one_of
from procedure.quantity.record import NamedTuple


class Thing(NamedTuple):
    """A thing that the prose names: ``kind`` is material, fibre, water, bath, pot or part.

    ``name`` is what the vocabulary calls it.
    """

    kind: str
    name: str
    words: str
    start: int
    end: int


@cache
def known_words() -> tuple[re.Pattern[str], dict[str, tuple[str, str]]]:
    """A pattern for every word that names a thing or an act, and for each its kind and meaning."""
    known: dict[str, tuple[str, str]] = {}
    for kind in ("part", "pot", "water", "bath"):
        for word, means in meanings(kind).items():
            known[word] = (kind, means)
    for word, means in materials().items():
        known.setdefault(word, ("material", means))
    for word, means in fibres().items():
        known[word] = ("fibre", means)
    for word, means in meanings("fibre").items():
        known.setdefault(word, ("fibre", f"={means}"))
    for word, means in meanings("material").items():
        known[word] = ("material", means)
    for word, means in meanings("verb").items():
        known.setdefault(word, ("verb", means))
    for word in meanings("carries"):
        known.setdefault(word, ("carries", ""))  # by itself it does nothing
    return re.compile(
        rf"(?<![\w'])(?<!\w-)(?:{one_of(list(known))})(?![\w']|-(?:mordanted|dyed|based|free|treated|rich|printed|stained|coloured|colored))",
        re.I,
    ), known


def also_verb(word: str) -> str | None:
    """The act of a word that may be a verb as well as a thing."""
    return meanings("verb").get(word)
