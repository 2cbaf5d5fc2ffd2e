"""What a declaration says beside its own thing: another thing, a second value, what has no place.

A declaration is of one thing: one material, one vessel with what belongs to it. Whatever the
makers of :mod:`procedure.model.describing` did not take is told here, so that a rule can tell the
writer; nothing of it is counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from procedure.model.quantity import Place, Quantity
from procedure.model.types import Name, SaidBeside
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry
from procedure.vocabulary.library import MATERIAL_TABLES

# The tables of which a declaration names one thing, by its section; fibres may be blended.
_ONE_OF: dict[str, tuple[tuple[str, ...], ...]] = {
    "fibre": (),
    "equipment": (("vessel", "heater", "tool"),),
    "materials": (MATERIAL_TABLES,),
}
# States of which only one can be true, and uses, of which there is one.
_EITHER_OF: dict[str, tuple[frozenset[str], ...]] = {
    "fibre": (frozenset(("scoured", "unscoured")),),
    "equipment": (frozenset(("dyeing only", "cooking", "cooking and dyeing")),),
    "materials": (frozenset(("fresh", "dried")), frozenset(("by weight", "by volume"))),
}
# The kinds of quantity that the declarations of a section take, each set for one place.
TAKEN: dict[str, tuple[frozenset[str], ...]] = {
    "fibre": (frozenset(("mass",)), frozenset(("count",))),
    "equipment": (frozenset(("volume",)), frozenset(("power",)), frozenset(("count",))),
    "materials": (frozenset(("mass", "volume")), frozenset(("percent", "concentration"))),
}
# Those that only describe (3 m of cloth, a scale that weighs to 0.1 g) and are told as written.
_DESCRIBING: dict[str, frozenset[str]] = {
    "fibre": frozenset(("length",)),
    "equipment": frozenset(("length", "mass", "temperature", "time")),
    "materials": frozenset(("length",)),
}


class DeclaredWords(NamedTuple):
    """What was read of one declaration: its entries as written, its amounts and days."""

    entries: Sequence[tuple[Entry, Place, str]]
    taken: Sequence[Quantity]
    left: Sequence[Quantity]
    # A share of a treatment that names no mordant.
    ahead: Quantity | None
    gathered: Name | None
    # The other days, that say nothing of what was done on them or say again when it was gathered.
    days: Sequence[Name]
    # The places of entries that an “and” joins to those before them.
    joined: frozenset[Place]
    # Whether it is fibre of several kinds, of which shares can be told.
    blended: bool


def describes(section: str, quantity: Quantity, blended: bool) -> bool:
    """True for an amount that is told to readers as written, and that no sum is made with."""
    return quantity.kind in _DESCRIBING[section] or (blended and quantity.kind == "percent")


def beside(section: str, read: DeclaredWords) -> Iterator[SaidBeside]:
    """What a declaration of that section says beside its own thing, in order of its kind."""
    for tables in _ONE_OF[section]:
        named = [one for one in read.entries if one[0].table in tables]
        yield from _others(section, named, read.joined)
    if section == "equipment":
        yield from _metals(read)
    for either in _EITHER_OF[section]:
        said = [one for one in read.entries if one[0].name in either]
        for (first, _, phrase), (entry, place, again) in pairwise(said):
            if entry.name != first.name:
                yield SaidBeside(Name(again, place), "otherwise", phrase)
    yield from _amounts(section, read)
    for day in read.days:
        if read.gathered is not None:
            yield SaidBeside(day, "otherwise", read.gathered.text)
        else:
            yield SaidBeside(day, "no place", "day")


def _amounts(section: str, read: DeclaredWords) -> Iterator[SaidBeside]:
    """The amounts that nothing has taken."""
    if read.ahead is not None:
        yield SaidBeside(Name(read.ahead.text, read.ahead.place), "no place", "past")
    for one in read.left:
        if one.kind == "unstated":
            yield from _not_said(section, one, read.taken)
        elif (first := _of_its_kind(section, one, read.taken)) is not None:
            yield SaidBeside(Name(one.text, one.place), "otherwise", first.text)
        elif not describes(section, one, read.blended) and one.kind not in _TOLD_ELSEWHERE:
            yield SaidBeside(Name(one.text, one.place), "no place", one.kind)


# Kinds that a rule of units tells of wherever they stand.
_TOLD_ELSEWHERE = frozenset(("number", "unknown"))


def _not_said(section: str, one: Quantity, taken: Sequence[Quantity]) -> Iterator[SaidBeside]:
    """“Unstated” beside an amount that is stated, or where there is none to state."""
    if taken:
        yield SaidBeside(Name(one.text, one.place), "otherwise", taken[0].text)
    elif section != "fibre":  # whose weight a rule asks for
        yield SaidBeside(Name(one.text, one.place), "no place", one.kind)


def _of_its_kind(section: str, one: Quantity, taken: Sequence[Quantity]) -> Quantity | None:
    """The amount that was taken in the place of another: a weight or a volume says how much."""
    kinds = next((kinds for kinds in TAKEN[section] if one.kind in kinds), frozenset())
    return next((first for first in taken if first.kind in kinds), None)


def _others(
    section: str, named: Sequence[tuple[Entry, Place, str]], joined: frozenset[Place]
) -> Iterator[SaidBeside]:
    """The things behind the first of their kind."""
    for entry, place, phrase in named[1:]:
        first, _, called = named[0]
        other = entry.name != first.name
        if other or (section == "equipment" and place in joined):
            yield SaidBeside(Name(phrase, place), "thing", called)


def _metals(read: DeclaredWords) -> Iterator[SaidBeside]:
    """Other metals than the first; “enamel pot, chipped enamel” is worn, and of one."""
    metals = [one for one in read.entries if one[0].table == "metals"]
    for entry, place, phrase in metals[1:]:
        first, _, called = metals[0]
        if entry.name != first.name and not ({*called.split()} & {*phrase.split()}):
            yield SaidBeside(Name(phrase, place), "otherwise", called)
