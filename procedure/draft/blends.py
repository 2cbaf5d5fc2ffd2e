"""Two fibres joined by "and", which are a blend in one recipe and two lots in another."""

from __future__ import annotations

import re

from procedure.draft.lexicon import fibres
from procedure.draft.sentences import Part, Sentence
from procedure.draft.things import Thing

BOTH = re.compile(r"(?P<one>[a-z]+)(?P<gap>\s+and\s+)(?P<other>[a-z]+)", re.I)


def with_blends_apart(told: list[Sentence]) -> list[Sentence]:
    """The sentences with the wool and the silk of "the wool and silk" as two fibres.

    So where either is named by itself too, which a blend never is.
    """
    alone = {
        thing.name
        for sentence in told
        for part in sentence.parts
        for thing in part.things
        if thing.kind == "fibre" and BOTH.fullmatch(thing.words) is None
    }
    return [
        one._replace(parts=tuple(_with_both(one, part, alone) for part in one.parts))
        for one in told
    ]


def _with_both(sentence: Sentence, part: Part, alone: set[str]) -> Part:
    weighed = {thing.start for thing in sentence.of.values()}
    things: list[Thing] = []
    for thing in part.things:
        apart = [] if thing.start in weighed else _both(thing)
        things += apart if any(one.name in alone for one in apart) else [thing]
    return part._replace(things=tuple(things))


def _both(thing: Thing) -> list[Thing]:
    """The two fibres of a thing that is called by both; none where it is not."""
    found = BOTH.fullmatch(thing.words) if thing.kind == "fibre" else None
    if found is None:
        return []
    known = fibres()
    made: list[Thing] = []
    for name in ("one", "other"):
        word = found[name].lower()
        if word not in known:
            return []
        low, high = found.span(name)
        made.append(Thing("fibre", known[word], word, thing.start + low, thing.start + high))
    return made
