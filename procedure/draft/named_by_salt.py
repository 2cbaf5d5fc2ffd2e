"""A bath that is named by what is in it, as it is come to first: "in an iron bath (2 g)"."""

from __future__ import annotations

import re

from procedure.draft.lexicon import materials, meanings
from procedure.draft.sentences import Part, Sentence
from procedure.draft.things import Thing

# Of "the iron bath" it has been told before; "an iron pot" is a pot of that metal.
NAMED = re.compile(
    r"\b(?:in|into|through|to)\s+(?:an?|another|some)\s+(?:(?!(?:an?|the|of|in|and)\b)[a-z]+\s+){0,2}?"
    r"(?P<stuff>alum|iron|copper|tin|chrome|tannin|soda|vinegar|ammonia)\s+"
    r"(?P<bath>(?:after-?)?(?:bath|dip|solution))\b",
    re.I,
)
OF_METALS = {"copper": "copper sulphate"}  # alone, the word is as often of the pot
DONE_TO_FIBRE = frozenset(("", "dip", "enter", "put", "leave", "soak", "hold", "modify", "mordant"))


def with_baths_of_salts(told: list[Sentence]) -> list[Sentence]:
    """The sentences with the iron of each "an iron bath" that fibre goes into, and its amount."""
    return [_with_salts(one) for one in told]


def _with_measured_metals(sentence: Sentence) -> Sentence:
    """The sentence with the copper of "copper 2 %", which is measured and so is no pot."""
    weighed = [
        thing
        for part in sentence.parts
        for amount in part.amounts
        if amount.kind in ("mass", "share")
        and (thing := sentence.of.get(amount.start)) is not None
        and thing.kind == "pot"
        and thing.words.lower() in OF_METALS
    ]
    if not weighed:
        return sentence
    salts = {
        one.start: one._replace(kind="material", name=OF_METALS[one.words.lower()])
        for one in weighed
    }
    return sentence._replace(
        parts=tuple(
            part._replace(things=tuple(salts.get(one.start, one) for one in part.things))
            for part in sentence.parts
        ),
        of={at: salts.get(thing.start, thing) for at, thing in sentence.of.items()},
    )


def _with_salts(sentence: Sentence) -> Sentence:
    sentence = _with_measured_metals(sentence)
    for part in sentence.parts:
        found = NAMED.search(part.words)
        if found is None or part.doing.act not in DONE_TO_FIBRE:
            continue
        word = found["stuff"].lower()
        name = materials().get(word) or meanings("material").get(word) or OF_METALS.get(word, "")
        if not name or _is_named_else(part, name, part.start + found.start("stuff")):
            continue
        low, high = part.start + found.start("stuff"), part.start + found.end("bath")
        salt = Thing("material", name, part.words[low - part.start : high - part.start], low, high)
        sentence = _with(sentence, part, salt, found)
    return sentence


def _is_named_else(part: Part, name: str, at: int) -> bool:
    return any(
        one.kind == "material" and one.name == name and one.start != at for one in part.things
    )


def _with(sentence: Sentence, part: Part, salt: Thing, found: re.Match[str]) -> Sentence:
    """The sentence with a salt in the place of the bath that is named by it."""
    end = part.start + found.end("bath")
    baths = [one for one in part.things if one.kind == "bath" and salt.start <= one.start < end]
    kept = [one for one in part.things if one not in baths and one.start != salt.start]
    things = tuple(sorted([*kept, salt], key=lambda one: one.start))
    parts = tuple(each._replace(things=things) if each is part else each for each in sentence.parts)
    of = {
        at: salt if thing.kind == "bath" and salt.start <= thing.start < end else thing
        for at, thing in sentence.of.items()
    }
    return sentence._replace(parts=parts, of=of)
