"""Products of the house in a dye pot: what is in them stands on their label alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from procedure.facts.in_words import said
from procedure.facts.study import Study
from procedure.findings import Says, listed, say
from procedure.flow import Call
from procedure.model import Material, Place, Procedure
from procedure.model.harm import clauses_of, undenied
from procedure.model.types import UnknownWord
from procedure.quantity.kept_answers import remembered
from procedure.rules.rule import Found, rule
from procedure.rules.safety.protection import FAMILY
from procedure.vocabulary.data_files import parts, rows


@cache
def _products() -> tuple[tuple[str, dict[str, str]], ...]:
    found = [(word, row) for row in rows("household_products") for word in parts(row["words"])]
    return tuple(sorted(found, key=lambda pair: -len(pair[0])))


@cache
def _stems() -> tuple[str, ...]:
    """The words for products, each as for one: “a mothball” is one of the mothballs."""
    return tuple([word.removesuffix("s") for word, _ in _products()])


@remembered(1024)  # a plan says the same words again and again
def _product_in(text: str) -> tuple[str, dict[str, str]] | None:
    """The product that words name, with its row; none where they deny it."""
    plain = text.lower().replace("-", " ")
    for stem, (word, row) in zip(_stems(), _products(), strict=True):
        if stem not in plain:
            continue
        for clause in map(undenied, clauses_of(plain)):
            for other in parts(row["but_not"]):
                clause = clause.replace(other, " ")
            if re.search(rf"\b{stem}s*\b", clause):
                return word, row
    return None


@rule("household-product", level="error", family=FAMILY, source="common practice")
def household_product(study: Study) -> Iterator[Found]:
    """A product of the house that harms, as a material in free words or in what is done.

    Drain cleaner, rust remover and petrol burn, choke or catch fire, each by what is in it, and
    that stands on its label alone: nothing that it calls for, or must not meet, can be asked.

    Trips:
        do "add a cup of drain cleaner"
    Cure:
        do "hang up the apron"
    """
    unknown: dict[tuple[int, int], list[UnknownWord]] = {}
    for procedure in study.procedures:
        for word in procedure.unknown:
            unknown.setdefault((id(procedure), word.word.place.line), []).append(word)
    for made, owner in study.flow.materials.values():
        texts = (made.name.text, *made.free) if made.entry is None else made.free
        texts = (*texts, *_unknown_on(unknown.get((id(owner), made.line), ()), made))
        for found in filter(None, map(_product_in, texts)):
            yield _told(owner, made.name.place, (), found)
            break
    for one in said(study):
        product = _product_in(one.text) if one.done else None
        if product is not None:
            yield _told(one.procedure, one.place, one.calls, product)


def _unknown_on(on_it: Sequence[UnknownWord], material: Material) -> tuple[str, ...]:
    """The words of a declaration that the vocabulary does not know, with those that it does.

    The part of a plant goes with its name: “mercury leaves” are no metal.
    """
    words = [" ".join((one.word.text, one.behind)).strip() for one in on_it]
    return (" ".join((*words, *material.phrases)),) if words else ()


def _told(
    procedure: Procedure, place: Place, calls: tuple[Call, ...], found: tuple[str, dict[str, str]]
) -> Found:
    word, row = found
    may_be = parts(row["may_be"])
    mostly = say(", and is mostly {names}", names=listed(may_be, last=" or ")) if may_be else ""
    return Found(
        procedure,
        place,
        say("“{word}” {harm}{mostly}.", word=word, harm=Says(row["harm"]), mostly=mostly),
        "Leave it out of the dye pot. What dyers use of it has a name of its own: declare that, "
        "with its strength."
        if may_be
        else "Leave it out of the dye pot.",
        calls,
        source=row["source"],
    )


RULES = (household_product,)
