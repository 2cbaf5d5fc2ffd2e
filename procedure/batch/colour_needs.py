"""What a published colour needs: dyestuff, mordant and what follows, with their usual amounts.

Amounts are those of ``dyestuffs.csv`` and ``mordants.csv``, as shares of the dry fibre's
weight; the rows there say where each is from.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.quantity.number_words import plain
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.colours import NO_MORDANT, Shade

# The tannin of a cellulose fibre (Mairet 1938, ch. X: tannin before alum).
_TANNIN = "oak galls"


class Share(NamedTuple):
    """A usual amount in percent of the dry fibre; ``form`` is fresh or dried, or empty."""

    low: Fraction
    high: Fraction
    form: str

    @property
    def said(self) -> str:
        """``5 to 20 % dried``."""
        ends = dict.fromkeys((plain(self.low), plain(self.high)))
        return f"{' to '.join(ends)}\u00a0% {self.form}".rstrip()


class ColourNeed(NamedTuple):
    """One thing that a colour needs.

    ``part`` says what it is for: dyestuff, mordant, tannin, besides or overdye. ``shares`` are
    its usual amounts, empty where none is known or none is told because it harms;
    ``remark`` follows in brackets; ``source`` is that of the amounts.
    """

    part: str
    name: str
    shares: tuple[Share, ...]
    remark: str
    source: str = ""

    @property
    def said(self) -> str:
        """The need as a phrase."""
        amounts = " or ".join(one.said for one in self.shares)
        said = f"{self.name} {amounts}".rstrip()
        return f"{said} ({self.remark})" if self.remark else said


def needs_of(shade: Shade) -> tuple[ColourNeed, ...]:
    """All that a published colour needs, in the order of the work as the table has it."""
    return tuple(_needs(shade))


def _needs(shade: Shade) -> Iterator[ColourNeed]:
    part = " or ".join(shade.part.split("; "))
    yield _dyestuff("dyestuff", shade.dyestuff, part)
    if shade.mordant == NO_MORDANT:
        yield ColourNeed("mordant", "no mordant", (), "")
    else:
        if shade.fibre == "cellulose" and shade.mordant == "aluminium":
            yield _salt("tannin", _TANNIN, shade.fibre, "first, unless the aluminium is acetate")
        yield _mordant("mordant", shade.mordant, shade.fibre)
    for each in shade.after.split("; ") if shade.after else ():
        what, _, other = each.partition(": ")
        if other:
            yield _dyestuff("overdye", other, "over or under it")
        elif _of_metal(what):
            yield _mordant("besides", what, shade.fibre, "besides")
        else:
            yield _salt("besides", what, shade.fibre, "besides")


def _dyestuff(part: str, name: str, remark: str) -> ColourNeed:
    entry = vocabulary().find(name, "dyestuffs")
    shares = tuple(
        share
        for form in ("fresh", "dried")
        if entry is not None and (share := _share(entry, form, form)) is not None
    )
    return ColourNeed(part, name, shares, remark, _source(entry, shares))


def _mordant(part: str, metal: str, fibre: str, remark: str = "") -> ColourNeed:
    """The first salt of a metal that has a usual amount on the fibre and is not restricted."""
    said = "; ".join(word for word in (f"a mordant of {metal}", remark) if word)
    column = "cellulose" if fibre == "cellulose" else "protein"
    for entry in _of_metal(metal):
        share = _share(entry, column)
        if share is not None:
            if entry.facts.get("restricted"):
                return ColourNeed(part, entry.name, (), f"{said}; restricted, so no amount is told")
            return ColourNeed(part, entry.name, (share,), said, entry.facts["source"])
    words = [word for word in (remark, "no usual amount is known on this fibre") if word]
    return ColourNeed(part, f"a mordant of {metal}", (), "; ".join(words))


def _salt(part: str, name: str, fibre: str, remark: str) -> ColourNeed:
    entry = vocabulary().find(name, "mordants")
    column = "cellulose" if fibre == "cellulose" else "protein"
    share = _share(entry, column) if entry is not None else None
    shares = (share,) if share is not None else ()
    called = entry.name if entry is not None else name
    return ColourNeed(part, called, shares, remark, _source(entry, shares))


def _of_metal(metal: str) -> tuple[Entry, ...]:
    found = dict.fromkeys(
        entry.name
        for entry in vocabulary().tables["mordants"].values()
        if entry.facts.get("metal") == metal and "mordant" in entry.words("role")
    )
    return tuple(vocabulary().tables["mordants"][name] for name in found)


def _share(entry: Entry, column: str, form: str = "") -> Share | None:
    low, high = entry.number(f"{column}_low"), entry.number(f"{column}_high")
    return Share(low, high, form) if low is not None and high is not None else None


def _source(entry: Entry | None, shares: tuple[Share, ...]) -> str:
    return entry.facts["source"] if entry is not None and shares else ""
