"""What a substance is to those who take waste, and which ways out refuse it at which strength.

The ways and the refusals are in ``data/disposal_ways.csv`` and ``data/disposal.csv``. A
refusal may begin only at a strength and an amount: a little citric acid in a soakaway is no
fault, ten litres of it are.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache, lru_cache

from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import exact
from procedure.vocabulary.entries import Entry
from procedure.vocabulary.library import rows, vocabulary

_LEVELS = ("error", "warning", "note")
_WATER_POISON = frozenset(("H400", "H410", "H411"))
_POISON_SPIRIT = frozenset(("H301", "H370"))
# What eats pipes and people at little strength, beside what is merely sour or soapy.
_STRONGEST = {"acid": "mineral acid", "alkali": "caustic alkali"}


class WasteRefusal(NamedTuple):
    """Why a substance may not go a way; ``level`` is error, warning or note.

    ``least_g_per_l`` and ``least_g`` are the strength and the amount in the bath from which
    it holds, both of them; None where it always holds.
    """

    what: str
    way: str
    level: str
    least_g_per_l: Fraction | None
    least_g: Fraction | None
    why: str
    source: str

    def holds(self, grams: Fraction | None, grams_per_litre: Fraction | None) -> bool:
        """Whether it holds for so much in a bath; what is not known counts as much."""
        weak = (
            self.least_g_per_l is not None
            and grams_per_litre is not None
            and grams_per_litre < self.least_g_per_l
        )
        little = self.least_g is not None and grams is not None and grams < self.least_g
        return not weak and not little


@cache
def _refusals() -> tuple[WasteRefusal, ...]:
    return tuple(
        WasteRefusal(
            row["what"],
            row["way"],
            row["level"],
            exact(row["least_g_per_l"]) if row["least_g_per_l"] else None,
            exact(row["least_g"]) if row["least_g"] else None,
            row["why"],
            row["source"],
        )
        for row in rows("disposal")
    )


@cache
def _refusals_of(way: str) -> tuple[WasteRefusal, ...]:
    return tuple(one for one in _refusals() if one.way == way)


# What a plant that harms is in disposal.csv, by its level in plants_that_harm.csv.
_PLANTS = {
    "deadly": ("deadly plant", "toxic plant"),
    "poisonous": ("toxic plant",),
    "harmful": ("harmful plant",),
}


@cache
def _level_of() -> dict[str, str]:
    """How dangerous a plant is, by its name in dyestuffs.csv; those that only sting left out."""
    return {
        name: one.facts["level"]
        for one in vocabulary().tables["plants_that_harm"].values()
        for name in (one.facts["name"], one.facts["dyestuff"])
        if name and (one.facts["level"] != "harmful" or "poison" in one.facts["harm"])
    }


@cache
def _invasive() -> frozenset[str]:
    return frozenset(row["material"] for row in rows("invasive_plants") if row["material"])


def _of_hazards(entry: Entry, listed: set[str]) -> list[str]:
    found = []
    if entry.facts.get("restricted"):
        found.append("restricted")
    if "harmful metal" in listed:
        found.append("harmful metal")
    if listed & _WATER_POISON:
        found.append("water poison")
        if entry.table == "mordants":
            found.append("mordant that kills water life")
    if entry.table == "dyestuffs":
        found += _PLANTS.get(_level_of().get(entry.name, ""), ())
    if "toxic plant" in listed and "toxic plant" not in found:
        found.append("toxic plant")
    if entry.table == "assistants":
        # Chlorine bleach is spent on the way; permanganate is not.
        spent = "oxidiser" in (*entry.words("role"), *entry.words("also")) and "EUH031" in listed
        found += ["lasting water poison"] if "H410" in listed and not spent else []
        if "H400" in listed and not spent:
            found.append("acute water poison")
        found += ["gives off gas"] if "EUH031" in listed else []
        found += ["petroleum spirit"] if "H304" in listed else []
        found += ["cancer chemical"] if "H350" in listed else []
    if "H225" in listed:
        found += ["spirit", "little spirit"]
        if listed & _POISON_SPIRIT:
            found.append("restricted spirit")
    return found


@lru_cache(maxsize=1024)
def kinds(entry: Entry) -> tuple[str, ...]:
    """What a word of the vocabulary is in ``disposal.csv``, the gravest first.

    Acids and alkalis of moderate and great strength are strong ones here, as little of them
    is told by the amount; those of great strength are mineral acids and caustic alkalis too.
    """
    roles = {*entry.words("role"), *entry.words("also")}
    if entry.table == "dyestuffs":
        roles.add("dyestuff")
    found = _of_hazards(entry, set(entry.words("hazards")))
    if entry.table == "mordants" and entry.facts.get("metal"):
        found.append(entry.facts["metal"])
    strength = entry.facts.get("strength", "")
    if strength == "strong":
        found += [one for role, one in _STRONGEST.items() if role in roles]
    # What burns skin by itself, whatever its strength as a word of the data.
    if "H314" in entry.words("hazards"):
        found += [f"burning {role}" for role in ("acid", "alkali") if role in roles]
    mild = "mild" if strength == "mild" else "strong"
    found += [f"{mild} {role}" for role in ("acid", "alkali") if role in roles]
    formula = entry.facts.get("formula", "")
    if "B" in formula and pattern(r"B(?![a-z])").search(formula):
        found.append("boron")
    found += _by_role(entry, roles)
    if entry.name in _invasive():
        found.append("invasive plant")
    return tuple(found)


def _by_role(entry: Entry, roles: set[str]) -> list[str]:
    found: list[str] = [one for one in ("oxidiser", "mordant", "dyestuff") if one in roles]
    # A salt of ammonium feeds plants, and is no salt of the kitchen to them.
    formula = entry.facts.get("formula", "")
    if "salt" in roles and "NH4" not in formula and "H8N2" not in formula:
        found.append("salt")
    if "reducer" in roles and entry.table == "assistants" and entry.words("hazards"):
        found.append("reducing chemical")
    if entry.table == "assistants" and not {"acid", "alkali", "salt", "oxidiser"} & roles:
        found.append("other assistant")
    return found


@lru_cache(maxsize=1024)
def together(entry: Entry) -> tuple[str, ...]:
    """What a word of the vocabulary is in the rows of two kinds that must not meet in a drain.

    What gives off a gas with acid (EUH031) and is no oxidiser is a sulphide or sulphite.
    """
    roles = {*entry.words("role"), *entry.words("also")}
    found: list[str] = [role for role in ("acid", "oxidiser") if role in roles]
    if "EUH031" in entry.words("hazards") and "oxidiser" not in roles:
        found.append("sulphide or sulphite")
    if entry.name == "ammonia" or pattern(r"NH4|H3N|NH3").search(entry.facts.get("formula", "")):
        found.append("ammonia")
    return tuple(found)


@lru_cache(maxsize=1024)
def refused_together(one: Entry, other: Entry, way: str) -> WasteRefusal | None:
    """Why two substances may not go the same way one after the other, or None."""
    kinds_of_one, kinds_of_other = together(one), together(other)
    if not kinds_of_one or not kinds_of_other:
        return None
    for row in _refusals():
        first, _, second = row.what.partition(" with ")
        if row.way == way and second:
            for a, b in ((kinds_of_one, kinds_of_other), (kinds_of_other, kinds_of_one)):
                if first in a and second in b:
                    return row
    return None


def refusals(
    entry: Entry, way: str, grams: Fraction | None = None, grams_per_litre: Fraction | None = None
) -> tuple[WasteRefusal, ...]:
    """Why so much of a substance in a bath may not go a way, the gravest reason first."""
    own = kinds(entry)
    found = [
        one for one in _refusals_of(way) if one.what in own and one.holds(grams, grams_per_litre)
    ]
    return tuple(sorted(found, key=lambda one: (_LEVELS.index(one.level), own.index(one.what))))


def ways() -> tuple[str, ...]:
    """The ways out that the data knows."""
    return tuple(row["way"] for row in rows("disposal_ways"))
