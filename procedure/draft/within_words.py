"""Measures that are in the words of something else: a heat in a verb, a count in a garment.

What a line has of "two warm waters", "keep it warm", "a scarf" or "let it cool" is the number,
the act or the thing. The measure in it is told of as not placed where no line says it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from procedure.draft.amount import Amount
from procedure.draft.lexicon import meanings
from procedure.draft.sentences import HEATS, Part, Sentence
from procedure.draft.unsettled_steps import Line

NAMES_A_HEAT = frozenset(("temperature", "named heat", "verb heat", "named wait", "loose"))
CHANGES_HEAT = frozenset(("heat", "cool", "boil", "simmer"))
WARMTH = re.compile(
    r"\b(?:hot|heat|warm|luke|tepid|cool|cold|cauld|chill|scald|seeth|boil|simmer|stew|steam)\w*",
    re.I,
)
PIECE = re.compile(
    r"\b(?:an?|both|each|every|all(?:\s+the)?|several|another)\s+(?:[\w-]+\s+){0,2}$", re.I
)
# Of what is worn or laid on a table one is one piece; of yarn these words alone say so.
PIECES_OF_YARN = frozenset(("skein", "skeins", "hank", "hanks", "ball", "cone", "mini-skeins"))
STUFF_NOT_PIECES = frozenset(
    "cloth fabric stuff goods lace hose fingering worsted crewels knitting laceweight".split()
)


def within_words(prose: str, sentence: Sentence, lines: list[Line], held: set[int]) -> list[Amount]:
    """The measures within the words of a sentence that no line of it says.

    ``lines`` are those made of the sentence, ``held`` the places of the amounts in lines.
    """
    found: list[Amount] = []
    for part in sentence.parts:
        found += _in_amounts(prose, part, lines, held)
        found += _in_the_verb(prose, part, lines, held)
        found += _in_the_fibre(prose, sentence, part)
    return found


def _in_amounts(prose: str, part: Part, lines: list[Line], held: set[int]) -> Iterator[Amount]:
    for amount in part.amounts:
        if amount.start not in held or amount.kind in NAMES_A_HEAT:
            continue
        signs = (one.text for one in lines if any(p.start == amount.start for p in one.placed))
        if amount.kind == "odd" and any(' until "' in text for text in signs):
            continue
        match = WARMTH.search(prose, amount.start, amount.end)
        if match:
            yield _told(match[0], *match.span())


def _in_the_verb(prose: str, part: Part, lines: list[Line], held: set[int]) -> Iterator[Amount]:
    doing = part.doing
    if not doing.act or any(a.start < doing.end and doing.start < a.end for a in part.amounts):
        return
    verbs = {one.text.partition(" ")[0] for one in lines}
    placed = any(a.kind in HEATS and a.start in held for a in part.amounts)
    if doing.act == "cool":
        said = "cool" in verbs
    elif doing.act in CHANGES_HEAT or doing.words.startswith("cook") or WARMTH.search(doing.words):
        said = placed or (doing.act in CHANGES_HEAT and doing.act in verbs) or "cook" in verbs
    else:
        said = True
    if not said:
        yield _told(prose[doing.start : doing.end], doing.start, doing.end)


def _in_the_fibre(prose: str, sentence: Sentence, part: Part) -> Iterator[Amount]:
    for thing in part.things:
        if thing.kind != "fibre" or not thing.name.startswith("=") or not _is_piece(thing.words):
            continue
        before = PIECE.search(prose, max(sentence.start, thing.start - 40), thing.start)
        if before is None or any(
            a.start < thing.end and before.start() < a.end for a in part.amounts
        ):
            continue
        yield _told(prose[before.start() : thing.end], before.start(), thing.end)


def _is_piece(words: str) -> bool:
    if meanings("fibre").get(words.lower()) in ("yarn", "fibre", "fleece"):
        return words.lower() in PIECES_OF_YARN
    return words.lower() not in STUFF_NOT_PIECES


def _told(words: str, start: int, end: int) -> Amount:
    return Amount("figure", None, None, "", " ".join(words.split()), start, end)
