"""What goes wrong at the dye pot, why, and what to do: from ``data/troubles.csv``.

What a dyer should know at a step and procedures seldom say is in ``data/know_how.csv``.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from functools import cache

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.library import rows


class Trouble(NamedTuple):
    """A fault that a dyer sees, why it came about, and what to do; in lower-case words.

    ``dyestuff`` is that of which it is told, empty where it is of no one dyestuff.
    """

    trouble: str
    why: str
    cure: str
    source: str
    dyestuff: str = ""


class KnowHow(NamedTuple):
    """A sentence on how a thing is done. ``kind`` and ``what`` say of what (material, dye
    class, effect), ``at`` at which effect of a verb, or after which verb where the kind is
    effect, and ``unless`` the effect that the next step may not have. ``says`` has ``{it}`` and
    ``{its}`` where it speaks of the fibre; ``shorter`` is in its place where the writer has
    one of the words ``said`` at the step, and so tells a part of it already."""

    kind: str
    what: str
    at: str
    unless: str
    said: tuple[str, ...]
    says: str
    shorter: str
    source: str

    def beside(self, written: str) -> str:
        """What to say beside what the writer has written at the step."""
        told = any(re.search(rf"\b{word}\b", written.lower()) for word in self.said)
        return self.shorter if told else self.says


# What is most particular to the work comes first.
_KINDS = ("dyestuff", "metal", "class", "effect", "role")
# So many are told, these among them: every dyer meets them (the project's choice).
MOST = 7
_USUAL = ("patchy", "pale", "felted")


def troubles(met: Mapping[str, Collection[str]], fibres: Iterable[str]) -> tuple[Trouble, ...]:
    """The troubles of a piece of work, the most particular first, at most :data:`MOST`.

    Those that every dyer meets are always among them, and after them one at least of each
    dyestuff and class of dye, as far as there is room.

    ``met`` are the words that the work has of each kind (dyestuff, metal, class, effect,
    role, state); a row's ``only`` must be one of them, its ``unless`` none.
    ``fibres`` are the words for its fibre (protein, silk, cellulose, felting, or its name).
    """
    classes = set(fibres)
    there = {word for words in met.values() for word in words}
    found: dict[tuple[str, str], Trouble] = {}
    first: dict[tuple[str, str], Trouble] = {}  # the first of each dyestuff and class
    told: set[str] = set()
    ordered = sorted(rows("troubles"), key=lambda row: _KINDS.index(row["kind"]))
    for row in ordered:
        if row["what"] not in met.get(row["kind"], ()):
            continue
        if row["fibre"] and row["fibre"] not in classes:
            continue
        if (row["only"] and row["only"] not in there) or row["unless"] in there:
            continue
        dyestuff = row["what"] if row["kind"] == "dyestuff" else ""
        if row["trouble"] in told and (not dyestuff or row["trouble"] in _USUAL):
            continue
        told.add(row["trouble"])
        made = Trouble(row["trouble"], row["why"], row["cure"], row["source"], dyestuff)
        found[row["trouble"], dyestuff] = made
        if row["kind"] in ("dyestuff", "class"):
            first.setdefault((row["kind"], row["what"]), made)
    usual = [one for one in found.values() if one.trouble in _USUAL]
    chosen = dict.fromkeys((*usual, *first.values(), *found.values()))
    kept = set(list(chosen)[:MOST])
    return tuple(one for one in found.values() if one in kept)


@cache
def spoil_when_kept() -> frozenset[str]:
    """The dyestuffs that have a trouble of their own when they are fresh: they do not keep."""
    return frozenset(
        row["what"]
        for row in rows("troubles")
        if row["kind"] == "dyestuff" and row["only"] == "fresh"
    )


@cache
def know_how() -> tuple[KnowHow, ...]:
    """All the know-how, in the order of its file."""
    return tuple(
        KnowHow(
            row["kind"],
            row["what"],
            row["at"],
            row["unless"],
            tuple(word for word in row["said"].split("; ") if word),
            row["says"],
            row["shorter"],
            row["source"],
        )
        for row in rows("know_how")
    )
