"""Fibre as a list has it: "FIBRE: 1 x 100 g skein of sock wool, 1 x 50 g skein of spun silk".

Each weight is that of the fibre its skein is of; the word that heads the line is none. What a
list measures for each of them, "15 g alum for the wool, 6 g for the silk", is told of apart.
"""

from __future__ import annotations

import itertools
import re

from procedure.draft.amount import Amount
from procedure.draft.sentences import Part, Sentence
from procedure.draft.things import Thing
from procedure.quantity.ready_patterns import pattern

# Between a weight and the fibre it is of: "skeins of fine", "hank of sock".
OF_WHAT = pattern(r"\s*[a-z\s-]{0,24}\bof\s+(?:[a-z-]+\s+){0,2}", re.I)
LINE_BEGINS = pattern(r"(?:^|\n)\W*\Z")
LABELS = pattern(r"\s*:")
FOR_IT = pattern(r"\s+(?:[a-z-]+\s+){0,2}?for\s+(?:the\s+|your\s+|my\s+)?", re.I)


def with_fibres_listed(text: str, told: list[Sentence]) -> list[Sentence]:
    """The sentences, those that list fibre with each weight of the fibre whose skein it weighs."""
    return [_measured_for_each(text, _listed(text, sentence)) for sentence in told]


def _listed(text: str, sentence: Sentence) -> Sentence:
    if any(part.doing.act for part in sentence.parts):
        return sentence
    made = sentence
    for part in sentence.parts:
        fibres = [one for one in part.things if one.kind == "fibre"]
        named = [one for one in fibres if not one.name.startswith("=")]
        labels = {one.start for one in fibres if named and _is_label(text, one)}
        dropped = set(labels)
        several = len({one.name for one in named}) >= LEAST
        for amount in part.amounts if several or dropped else ():
            of = _of_what(text, amount, named, made)
            if of is not None:
                made = made._replace(of=made.of | {amount.start: of})
                dropped |= {one.start for one in fibres if amount.end <= one.start < of.start}
        if dropped:
            things = tuple(
                one._replace(kind="label") if one.start in labels else one
                for one in part.things
                if one.start not in dropped - labels
            )
            parts = [one if one is not part else part._replace(things=things) for one in made.parts]
            made = made._replace(parts=tuple(parts))
    return made


def _is_label(text: str, thing: Thing) -> bool:
    """True for the word of "FIBRE: ..." and "Yarn: ..." at the head of a line."""
    if not thing.name.startswith("=") or LABELS.match(text, thing.end) is None:
        return False
    return LINE_BEGINS.search(text[: thing.start]) is not None


def _of_what(text: str, amount: Amount, named: list[Thing], sentence: Sentence) -> Thing | None:
    """The fibre that the skein of a weight is of; None where that is said otherwise."""
    of = sentence.of.get(amount.start)
    if amount.kind != "mass" or of is None or of.kind != "fibre" or not of.name.startswith("="):
        return None
    behind = next((one for one in named if one.start >= amount.end), None)
    if behind is None:
        return None
    if of.start < amount.start:  # of the label, "Samples: 2 x 50 g merino"
        gap = text[amount.end : behind.start]
        return behind if not gap.strip() or OF_WHAT.fullmatch(gap) else None
    return behind if OF_WHAT.fullmatch(text[amount.end : behind.start]) else None


# What is measured for each.


def _measured_for_each(text: str, sentence: Sentence) -> Sentence:
    """The sentence with the alum of "15 g alum for the wool, 6 g for the silk" said for both."""
    made = sentence
    for part in sentence.parts:
        stuff: Thing | None = None
        added: list[Thing] = []
        for amount in part.amounts:
            of, fibre = made.of.get(amount.start), _for_which(text, part, amount)
            if of is not None and of.kind == "material":
                stuff = of if fibre is not None else None
            elif fibre is not None and stuff is not None and amount.kind in MEASURES:
                again = stuff._replace(start=amount.end, end=amount.end)
                added.append(again)
                made = made._replace(of=made.of | {amount.start: again})
        if added:
            things = sorted([*part.things, *added], key=lambda one: one.start)
            parts = [
                one if one is not part else part._replace(things=tuple(things))
                for one in made.parts
            ]
            made = made._replace(parts=tuple(parts))
    return made


MEASURES = frozenset(("mass", "volume", "share", "spoon"))


def _for_which(text: str, part: Part, amount: Amount) -> Thing | None:
    """The fibre that an amount is for."""
    found = FOR_IT.match(text, amount.end)
    if found is None or amount.kind not in MEASURES:
        return None
    here = [one for one in part.things if one.kind == "fibre"]
    return next((one for one in here if one.start == found.end()), None)


def pieces_for_each(text: str, part: Part) -> list[tuple[int, int]]:
    """Where a part that measures stuff for one fibre and another is to be cut; empty for none."""
    heads = [one.start for one in part.amounts if _for_which(text, part, one) is not None]
    if len(heads) < LEAST or any(one.kind in ("time", "temperature") for one in part.amounts):
        return []
    return list(itertools.pairwise([part.start, *heads[1:], part.end]))


LEAST = 2


def is_measured_for_it(text: str, part: Part) -> bool:
    """True where a part measures stuff for the fibre it names, which has a bath of its own."""
    return any(_for_which(text, part, one) is not None for one in part.amounts)


__all__ = ["is_measured_for_it", "pieces_for_each", "with_fibres_listed"]
