"""What a declaration says beside its own thing, and nothing would come of."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import Says, say
from procedure.model import Procedure
from procedure.model.types import SaidBeside
from procedure.rules.rule import Found, rule

FAMILY = "names and order"


@rule("two-in-one", level="error", family=FAMILY, source="the language reference")
def two_in_one(study: Study) -> Iterator[Found]:
    """A second material, pot or tool in a declaration, which is of one thing.

    Only the first is counted: the hazards, the mordant and the colour of the other are lost.

    Trips:
        materials
          skins: onion skins and madder
        steps
          gold-bath: prepare in kettle with water 3 L, skins 50 g
          discard gold-bath to "foul drain"
    Cure:
        materials
          skins: onion skins
          madder: madder
        steps
          gold-bath: prepare in kettle with water 3 L, skins 50 g, madder 10 g
          discard gold-bath to "foul drain"
    """
    for procedure in study.procedures:
        for one in procedure.beside:
            if one.kind != "thing":
                continue
            yield Found(
                procedure,
                one.word.place,
                say(
                    "“{word}” is in the declaration of “{first}”, and is not counted.",
                    word=one.word.text,
                    first=one.first,
                ),
                say(
                    "Give each a line of its own: “{label}: {word}”; put words that are only for "
                    "the reader into quotation marks.",
                    label=_label(procedure, one.word.text),
                    word=one.word.text,
                ),
            )


@rule("declared-two-ways", level="error", family=FAMILY, source="the language reference")
def declared_two_ways(study: Study) -> Iterator[Found]:
    """A declaration that says two things of which one can be true, or what it has no place for.

    The reader cannot tell which one counts; what has no place is not counted at all.

    Trips:
        fibre
          shawl: wool yarn, 100 g, 120 g, scoured
        steps
          wet out shawl in tub with water 5 L for 1 h
    Cure:
        fibre
          shawl: wool yarn, 120 g, scoured
        steps
          wet out shawl in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for one in procedure.beside:
            if one.kind == "otherwise" or (one.kind == "no place" and one.first in _NO_AMOUNTS):
                yield Found(procedure, one.word.place, *_told(one))


# What has no place and is no amount of the thing; a rule of units tells of those.
_NO_AMOUNTS = frozenset(("day", "past", "unstated"))


def _told(one: SaidBeside) -> tuple[Says, Says]:
    """What is said of a second value or of one that has no place, and what to do."""
    text = one.word.text
    if one.kind == "otherwise":
        sentence = say("This says “{first}”, and then “{text}”.", first=one.first, text=text)
        return sentence, Says("Keep the one that is true.")
    if one.first == "past":
        sentence = say("“{text}” does not say of what.", text=text)
        return sentence, say("Name it: “mordanted with alum {text}”.", text=text)
    if one.first == "unstated":
        return say("“{text}” does not say what.", text=text), Says("Leave it out.")
    sentence = say("“{text}” does not say what was done on that day.", text=text)
    if one.section == "materials":
        return sentence, say("Write “gathered {text}”, or put it into quotation marks.", text=text)
    return sentence, Says("Put what is only for the reader into quotation marks.")


def _label(procedure: Procedure, word: str) -> str:
    """A name for what is declared by that word: its last word, all of it, or that of another."""
    whole = word.replace(" ", "-")
    names = (word.split()[-1], whole, "other-" + whole, "second-" + whole)
    return next((one for one in names if procedure.declared(one) is None), whole)


RULES = (two_in_one, declared_two_ways)
