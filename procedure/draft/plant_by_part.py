"""Plants that no list knows, named by the part of them that is used: dock root, lupin leaves.

Books name plants by hundreds of names, and no list has them all. Whatever stands before the bark,
the roots or the leaves and is nothing else is the name of a plant.
"""

from __future__ import annotations

import re

from procedure.draft.belonging import ADJECTIVES, LINKS, MADE, NO_STUFF, PARTS, TALK
from procedure.draft.lexicon import meanings, numbers
from procedure.draft.not_read import BOUNDS, SMALL
from procedure.draft.things import Thing, known_words

# What of a plant is named with the plant, and of nothing else in a dyer's recipe.
PARTS_OF_PLANTS = frozenset(
    "bark berries roots root leaves leaf flowers petals hulls husks rind rinds cones twigs needles"
    " stems rhizomes peelings pods catkins fronds shoots blossom blossoms seeds".split()
)
# How a plant or its part is, and what people call it: no part of its name.
SAID_OF_PLANTS = frozenset(
    "outer inner loose spent bare woody leafy other these those both some any same such more most"
    " few many all no every each whole second third first last next tree trees bush plant plants"
    " garden kitchen autumn summer spring winter fallen rotten rotting mouldy sodden boiled spare"
    " tender tough bitter sweet dyer dyers own old first-year autumn-gathered chosen actual lovely"
    " pretty nice precious poor fat thick-skinned tiny huge rough mature wild local foraged left"
    " remaining solid tired fine-ground sticky stinking smelly brittle papery dusty earthy muddy"
    " stray odd mixed assorted various different favourite favorite usual big bigger little".split()
)
NAME = re.compile(r"(?<![\w'])(?:(?P<first>[A-Za-z]{3,})[ -])?(?P<last>[A-Za-z]{3,})[ -]$")


def with_unknown_plants(text: str, things: list[Thing], start: int) -> list[Thing]:
    """The things of a sentence, each part of a plant that no list knows with the plant's name."""
    made: list[Thing] = []
    for one in things:
        part = one.kind == "part" or one.words == "hulls"  # of the walnut, where nothing is said
        found = _named_before(text, one, made, start) if part else None
        made.append(found or one)
    return made


def _named_before(text: str, part: Thing, before: list[Thing], start: int) -> Thing | None:
    """The material of "coprosma bark"; None where what stands before the part is no name."""
    if part.words not in PARTS_OF_PLANTS:
        return None
    found = NAME.search(text[max(start, part.start - 48) : part.start])
    if found is None or not _is_a_name(found["last"]):
        return None
    at = part.start - len(found[0]) + found.start("last") - found.start()
    if any(one.end > at for one in before):
        return None
    name = f"{found['last'].lower()} {part.words}"
    return Thing("material", name, name, at, part.end)


def _is_a_name(word: str) -> bool:
    """True for a word that is of no list and neither tells how something is nor what is done."""
    said = word.lower()
    listed = said in known_words()[1] or said in meanings("unit") or said in numbers()
    plain = ADJECTIVES | LINKS | MADE | NO_STUFF | PARTS | TALK | SMALL | BOUNDS | SAID_OF_PLANTS
    if listed or said in plain or said in meanings("verb") or said in meanings("odd unit"):
        return False
    return not said.endswith(("ed", "ing", "ly", "est", "ened", "en", "full", "ful", "ish"))
