"""Everyday verbs: words that people say for what a plain verb of the language does.

A row of ``data/everyday.csv`` says: this ``word``, done to a thing of one of the kinds
``of`` (lot, bath, pot, bag, tool, material; any where empty), where the step has one of
the clauses ``having`` (a kind of thing among them asks what a clause names, and ``words``
whether it is in quotation marks; ``dipped``, ``briefly`` and ``part``, see below), is that plain
``verb``. ``changes`` says which clause is another for it (``into>to``), which heat it means
(``at boil``; ``to cold`` where no time is said either), where to in quotation marks
(``to "compost"``) or which manner it adds.
``worked`` asks that a bath has fibre or plants in it and that it is left no longer than anybody is
beside it, nor off the heat or away; ``heated`` besides that the step before brought it to a heat:
what is left so is kept hot. ``inside`` asks that fibre is in that bath already, ``dipped``
that it came out of a dip in the
step before, ``briefly`` that it is said to last no longer than two hours: what hangs so is aired,
and what hangs otherwise dries. ``part`` asks that so much of a bath is said, which goes into a pot
that is ``free``, or into a bath (``full``). ``unsaid`` asks that nothing says how far, how long or
until when, not even a note; ``watered`` that water and something else go into an empty pot.
"""

from __future__ import annotations

from functools import cache

from procedure.quantity.kept_answers import remembered
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import kept_of_tables, parts, rows
from procedure.vocabulary.effects import Unfit
from procedure.vocabulary.library import Verb, vocabulary

# What any fibre is called, whatever it is of; and words that only fibre is called by.
ANY_FIBRE = frozenset(("fibre", "fiber", "fibres", "fibers", "lots", "pieces", "goods"))
SAID_OF_FIBRE = ANY_FIBRE | {"yarn", "yarns", "skeins", "hanks", "wool"}

# “The bath” is the one that there is, or the one that the fibre is in, where nothing is called so.
ANY_BATH = frozenset(("bath", "liquor", "liquid"))

# What a bath is called by what is in it, where it has another name: the part of its material.
BATHS_BY_ROLE = {
    **dict.fromkeys(("dye bath", "dye-bath", "dyebath", "dye liquor", "dye"), "dyestuff"),
    **dict.fromkeys(("dye pot", "dyepot", "dye liquid", "dyeing bath"), "dyestuff"),
    **dict.fromkeys(("mordant bath", "mordant-bath", "mordant", "mordant pot"), "mordant"),
    **dict.fromkeys(("dye water",), "dyestuff"),
    **dict.fromkeys(("mordant water",), "mordant"),
    **dict.fromkeys(("vat", "indigo vat", "blue vat", "indigo bath"), "reducer"),
}


class Reading(NamedTuple):
    """One way to take an everyday verb: see the head of this file for its parts."""

    word: str
    of: frozenset[str]
    having: frozenset[str]
    verb: str
    moves: tuple[tuple[str, str], ...]
    heat: str
    manners: tuple[str, ...]
    goal: str


# A reading as it is kept: the parts of ``Reading`` after its word.
_Parts = tuple[
    frozenset[str], frozenset[str], str, tuple[tuple[str, str], ...], str, tuple[str, ...], str
]


@kept_of_tables
def everyday() -> dict[str, tuple[_Parts, ...]]:
    """The parts of the readings of each everyday verb, in the order in which they are tried.

    Raises :class:`Unfit` for a row whose plain verb there is not.
    """
    found: dict[str, tuple[_Parts, ...]] = {}
    for row in rows("everyday"):
        word = row["word"]
        if row["verb"] not in vocabulary().verbs:
            raise Unfit(f"everyday.csv, {word}: there is no verb “{row['verb']}” in verbs.csv.")
        moves: list[tuple[str, str]] = []
        heat, goal, manners = "", "", []
        for change in parts(row["changes"]):
            clause, turned, other = change.partition(">")
            if turned:
                moves.append((clause, other))
            elif change.startswith("at "):
                heat = change.removeprefix("at ")
            elif change.startswith("to "):
                goal = change.removeprefix("to ")
            else:
                manners.append(change)
        of, having = (frozenset(row[key].split()) for key in ("of", "having"))
        made = (of, having, row["verb"], tuple(moves), heat, tuple(manners), goal)
        found[word] = (*found.get(word, ()), made)
    return found


@remembered(4096)
def readings_of(word: str) -> tuple[Reading, ...]:
    """The readings of an everyday verb, in the order in which they are tried; none of others."""
    return tuple(Reading(word, *made) for made in everyday().get(word, ()))


def verbs_of(word: str) -> list[Verb]:
    """The verbs of the language that a word may be: itself, and those of its readings."""
    known = vocabulary().verbs
    readings = [known[one.verb] for one in readings_of(word)]
    return [known[word], *readings] if word in known else readings


@cache
def particles() -> frozenset[str]:
    """The second words of verbs: the out of “take out”, which may come after the thing too."""
    words = (*vocabulary().verbs, *everyday())
    return frozenset(word.split(" ", 1)[1] for word in words if " " in word)
