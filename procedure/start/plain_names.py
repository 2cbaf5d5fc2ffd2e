"""What the parts of a first procedure are called in it: plain words that mean nothing else."""

from __future__ import annotations

import re

from procedure.start.first_steps import TANNIN, PartNames
from procedure.start.refusing import POWDERS
from procedure.start.wish import Wish
from procedure.vocabulary import Entry, vocabulary

# Words of the language and names that the text uses for itself.
TAKEN = frozenset(
    (
        *("fibre", "equipment", "materials", "steps", "procedure", "water", "pot", "tub", "bag"),
        *("vat", "dye-bath", "after-bath", "tannin-bath", "soap", "soda", "fructose"),
        *("reducer", "vinegar", "each", "all", "it", "them", "note", "allow", "for", "repeat"),
    )
)


def called(asked: Wish) -> PartNames:
    """Names for the fibre and for every material, no two alike."""
    taken: set[str] = set()

    def name(entry: Entry | None, more: str) -> str:
        if entry is None:
            return ""
        made = _name(_short(entry), more, taken)
        taken.add(made)
        return made

    lot = _name(asked.form or asked.fibre.name, "lot", taken)
    if lot.endswith("-lot"):  # scarves are counted, and cannot be what a lot is called
        lot = _name(asked.fibre.name, "lot", taken)
    taken.add(lot)
    return PartNames(
        lot=lot,
        dye=name(asked.dye, "dye"),
        mordant=name(asked.mordant, "mordant"),
        tannin=name(vocabulary().material(TANNIN), "tannin"),
        after=name(asked.after, "after-bath-salt"),
        blue=name(asked.over, "dye"),
    )


def _short(entry: Entry) -> str:
    """The everyday name of a salt where it is one word: alum, iron, tin; else the name."""
    short = next(iter(entry.words("aliases")), "") if entry.table == "mordants" else ""
    return short if short.isalpha() else said(entry) or entry.name


def _name(words: str, more: str, taken: set[str]) -> str:
    """A name of lower-case words with hyphens; with ``more`` where it means something else."""
    made = re.sub(r"[^a-z]+", "-", words.lower().replace("'", "")).strip("-")
    known = vocabulary()
    other = made in TAKEN or made in taken or made in known.units or made in known.verbs
    other = other or known.find(made, "vessel", "tool", "heater", "state", "manner") is not None
    return f"{made}-{more}" if other else made


def part_of(dye: Entry) -> str:
    """The part of the plant that is usual, or that a vat is made with."""
    if dye.facts["dye_class"] == "vat":
        return POWDERS.get(dye.name, "")
    return (dye.words("part") or ("",))[0]


def said(entry: Entry) -> str:
    """A name as the language can have it, which takes no apostrophes; empty where there is none."""
    names = (entry.name, *entry.words("aliases"))
    return next((one for one in names if "'" not in one), "")
