"""Cautions: what the things that are really used do, and what to do about it.

Hazards are those of the vocabulary (``hazards.csv``, ``ghs.csv``, ``meetings.csv``);
what is done about them defers to local rules and the supplier's safety data sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

from procedure.facts.handling import hazards, named
from procedure.facts.in_words import told_in_words
from procedure.handout.prose import worn
from procedure.model import Material
from procedure.model.harm import plants_in
from procedure.paper.hazard_signs import pictograms
from procedure.paper.pieces import Phrase, phrase, sentence, spaced
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry
from procedure.vocabulary.first_aid import first_aid
from procedure.vocabulary.library import rows
from procedure.vocabulary.trade_names import trade_name

FIRST = (
    "Your local rules and the supplier's safety data sheets come first; this paper comes after "
    "them. Ask those who are licensed to answer about disposal, and a doctor about health."
)
IF_HURT = (
    "If somebody is hurt or feels ill, do first what is written beside the thing, and ask a poison "
    "centre or a doctor; take the label or the safety data sheet with you."
)
POTS = "Pots, spoons and tubs that have been used for dyeing are never used for food again."
STORAGE = (
    "Keep every jar and bath closed, labelled with what it is and the date, and out of the reach "
    "of children and animals; never in a food container, never beside food."
)
NEVER_POURED = (
    "Nothing is poured away where the local rules do not allow it; ask before, not after."
)
CHILDREN = "Not for children: they keep away while this is weighed, heated, used and poured away."
AWAY = "Keep children and animals away from hot pots, lye, acid and powders."


@dataclass(frozen=True, slots=True)
class Danger:
    """What one thing that is used does. ``called`` is its trade name, ``name`` the writer's.

    ``statements`` are GHS statements with their codes, ``plain`` the same and more in a
    dyer's words, ``pictograms`` GHS symbols (GHS01 to GHS09), ``signal`` Danger,
    Warning or nothing; ``remarks`` are further words of the vocabulary, ``first_aid`` what
    to do first for each way that it gets at someone.
    """

    name: str
    called: str
    statements: tuple[str, ...]
    plain: tuple[str, ...]
    pictograms: tuple[str, ...]
    signal: str
    remarks: tuple[str, ...]
    first_aid: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Cautions:
    """All cautions of a plan: what comes first, what to wear, each danger, and the rest."""

    first: str
    wear: Phrase
    dangers: tuple[Danger, ...]
    general: tuple[Phrase, ...]


def used(plan: Judged) -> dict[str, Material]:
    """The materials that a plan really uses, by the plan's names, in the order of use.

    Where a line cannot be read, nobody knows what it uses: then all that are declared.
    """
    found: dict[str, Material] = {}
    for moment in plan.trace.moments:
        for thing, _, _ in moment.amounts:
            declared = plan.flow.materials.get(thing)
            if declared is not None:
                found.setdefault(thing, declared[0])
    if any(one.rule == "cannot-read" for one in plan.findings):
        for thing, (material, _) in plan.flow.materials.items():
            found.setdefault(thing, material)
    return found


def met(plan: Judged) -> dict[str, Material]:
    """What a plan uses, and what harms and is named in free words alone, by their names."""
    told = {made.name.text: made for made in told_in_words(plan.study)}
    return {**told, **used(plan)}


def cautions(plan: Judged) -> Cautions:
    """The cautions that apply to a plan."""
    things = met(plan)
    entries = {thing: hazards(material) for thing, material in things.items()}
    dangers = [
        made for thing, material in things.items() if (made := danger(material, entries[thing]))
    ]
    every = [entry for listed in entries.values() for entry in listed]
    general: list[Phrase] = [(text,) for text in _apart(things)]
    children = any(entry.yes("children") or entry.yes("no_children") for entry in every)
    general.append((CHILDREN if children else AWAY,))
    general += [(POTS,), (STORAGE,), (NEVER_POURED,), (IF_HURT,)]
    return Cautions(FIRST, _wear(plan, every), _merged(dangers), tuple(general))


def danger(material: Material, found: tuple[Entry, ...]) -> Danger | None:
    """What the vocabulary warns of in a material; None where it warns of nothing."""
    ghs = [entry for entry in found if entry.table == "ghs"]
    remarks = tuple(_remarks(material))
    if not found and not remarks:
        return _of_nobody_knows_what(material)
    signals = {entry.facts.get("signal", "") for entry in ghs}
    signal = "Danger" if "Danger" in signals else "Warning" if "Warning" in signals else ""
    return Danger(
        name=spaced(material.name.text),
        called=material.trade_name,
        statements=tuple(f"{entry.facts['statement']} ({entry.name})" for entry in ghs),
        plain=tuple(dict.fromkeys(one.facts["plain"] for one in sorted(found, key=_to_whom))),
        pictograms=pictograms(ghs),
        signal=signal,
        remarks=remarks,
        first_aid=tuple(one.said for one in first_aid(entry.name for entry in found)),
    )


NOBODY_KNOWS = (
    "nobody says which plant it is: treat it as one that poisons, with gloves, in the open air, in "
    "pots for dyeing only, and nothing of it on the compost"
)


def _of_nobody_knows_what(material: Material) -> Danger | None:
    """The danger of a dyestuff that is told in words which name nothing known; else None."""
    if named(material) or "dyestuff" not in material.roles:
        return None
    name = spaced(material.name.text)
    return Danger(name, name, (), (NOBODY_KNOWS,), (), "", ())


def _to_whom(hazard: Entry) -> int:
    """What harms people first, then what harms water, then what things do ."""
    kinds = {"H2": 2, "H4": 1}
    return kinds.get(hazard.name[:2], 0)


def _merged(dangers: list[Danger]) -> tuple[Danger, ...]:
    """One danger for each trade name, where it was declared in several files."""
    by_name: dict[str, Danger] = {}
    for one in dangers:
        by_name.setdefault(one.called, one)
    return tuple(by_name.values())


def _remarks(material: Material) -> Iterator[str]:
    """What else the vocabulary says about a material, nothing of it twice."""
    entry = material.entry
    if entry is None:
        return
    said = [entry.facts.get("cautions", ""), entry.facts.get("restricted", "")]
    if entry.table == "assistants" and entry.words("hazards"):
        said.append(entry.facts.get("heat_note", ""))
    if entry.facts.get("restricted") and entry.facts.get("safer"):
        said.append(f"safer: {entry.facts['safer']}")
    for plant in plants_in(material):
        said.append(
            f"{trade_name(plant.name)} is {plant.facts['botanical']}, "
            f"which is {plant.facts['level']}"
        )
        said.append(plant.facts["care"])
        if plant.facts["looks_like"] and (material.gathered or material.state == "fresh"):
            said.append(f"easily mistaken for {plant.facts['looks_like'].replace(';', ' or')}")
        if plant.facts["instead"]:
            said.append(f"a harmless plant of a like colour: {plant.facts['instead']}")
    told = "; ".join(one.facts["plain"] for one in hazards(material))
    for text in said:
        for clause in text.split("; "):
            if clause and clause not in told:
                told = f"{told}; {clause}"
                yield clause


def _wear(plan: Judged, every: list[Entry]) -> Phrase:
    """What the writer says is worn, and what the hazards call for besides."""
    said = [name.text for procedure in plan.study.procedures for name in procedure.wearing]
    for column, word in (("gloves", "gloves"), ("eyes", "eye protection")):
        if any(entry.yes(column) for entry in every):
            said.append(word)
    listed = list(dict.fromkeys(said))
    made: list[Phrase] = []
    if listed:
        made.append(sentence("wear ", worn(listed)))
    settings = {p.setting.text for p in plan.study.procedures if p.setting is not None}
    if "outdoors" in settings:
        made.append(("Work in the open air.",))
    elif "ventilated" in settings or any(entry.yes("air") for entry in every):
        made.append(("Work in the open air or in a strong draught of fresh air.",))
    if any(entry.yes("cover") for entry in every):
        made.append(("Keep the lid on where the steps do not say otherwise.",))
    return phrase(*[piece for one in made for piece in (*one, " ")][:-1]) if made else ()


class _Meeting(NamedTuple):
    """A material as it meets others: what papers call it, and the words that tables have for it."""

    said: str
    words: tuple[str, ...]


def _apart(things: dict[str, Material]) -> Iterator[str]:
    """Pairs of what is used that must never meet, as far as the vocabulary knows."""
    by_pair = {
        (row["first"], row["second"]): row for row in rows("meetings") if row["level"] == "error"
    }
    told: set[tuple[str, str]] = set()
    for one, two in combinations(
        _that_meet(things, {word for pair in by_pair for word in pair}), 2
    ):
        for first, second in ((one, two), (two, one)):
            key = (first.said, second.said)
            for pair in product(first.words, second.words):
                row = by_pair.get(pair)
                if row is not None and key not in told:
                    told.add(key)
                    yield (
                        f"{_capital(key[0])} and {key[1]} must never meet: {row['what']}. "
                        "Rinse fibre and pots in plain water between them."
                    )


def _that_meet(things: dict[str, Material], known: set[str]) -> list[_Meeting]:
    """What is used and may meet what it must not: of those that are the same thing two."""
    found: dict[_Meeting, int] = {}
    kept: list[_Meeting] = []
    for material in things.values():
        words = tuple(word for word in (material.called, *material.roles) if word in known)
        if words:
            one = _Meeting(material.trade_name, words)
            found[one] = found.get(one, 0) + 1
            if found[one] <= 2:  # so that it meets its like
                kept.append(one)
    return kept


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
