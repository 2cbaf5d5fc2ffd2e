"""Who touches or breathes what: the hazards that each step brings to those who do it.

A hazard is a row of ``hazards.csv`` or ``ghs.csv``. What is weighed out or put in
has the hazards of the substance as sold; a bath has those that it still carries at
its strength; fibre and pots have what only a wash takes off.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from procedure.facts.study import Study
from procedure.findings import Named
from procedure.model import Material
from procedure.trace import BathState, Moment
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.thresholds import threshold

OPEN_AIR = frozenset(("outdoors", "ventilated"))


class Handled(NamedTuple):
    """A material that someone meets at a step, and the hazards that it brings there.

    ``how`` is sold (as it comes from the shop or the field), ground, bath, steam,
    fibre or pot; ``path`` the way through an ``if`` on which it is so.
    """

    moment: Moment
    thing: str
    how: str
    hazards: tuple[Entry, ...]
    path: str


@cache
def _entries(listed: tuple[str, ...]) -> tuple[Entry, ...]:
    known = vocabulary().tables
    found = [known["hazards"].get(word) or known["ghs"].get(word) for word in listed]
    return tuple(entry for entry in found if entry is not None)


def hazards(material: Material | None) -> tuple[Entry, ...]:
    """Everything that the vocabulary warns of in a material as it is declared.

    A solution of a stated strength carries only what such a mixture carries.
    """
    if material is None or material.entry is None:
        return ()
    found = _entries(material.entry.words("hazards"))
    strength = material.strength
    if found and strength is not None and strength.kind == "percent" and strength.high is not None:
        return tuple(one for one in found if carried_at(one, strength.high * 100))
    return found


def carried_at(hazard: Entry, percent: Fraction | None) -> bool:
    """Whether a mixture of that strength by weight carries the hazard; words always hold."""
    if hazard.table == "hazards":
        return True
    least = hazard.number("mixture_percent")
    return least is not None and percent is not None and percent >= least


def declared(study: Study, thing: str) -> Material | None:
    """The declaration of a material of the plan."""
    found = study.flow.materials.get(thing)
    return found[0] if found else None


def strength(bath: BathState, thing: str) -> Fraction | None:
    """How strong a bath is in a material, in % by weight at the most; None where not known."""
    grams = bath.contents[thing].grams
    if grams is None or bath.volume is None:
        return None
    whole = bath.volume[0] * 1000 + grams[1]
    return grams[1] / whole * 100 if whole > 0 else Fraction(100)


def stays(hazard: Entry) -> bool:
    """Whether it stays in liquor, fibre and pots until it is washed off."""
    return hazard.yes("extra_wash")


def grave(hazard: Entry) -> bool:
    """Whether someone is badly hurt by it: GHS danger, a toxic plant, a harmful metal."""
    return hazard.facts.get("signal") == "Danger" or (stays(hazard) and hazard.yes("gloves"))


def in_bath(study: Study, bath: BathState, thing: str) -> tuple[Entry, ...]:
    """The hazards of a material that a bath carries at its strength."""
    listed = hazards(declared(study, thing))
    if not listed:
        return ()
    percent = strength(bath, thing)
    return tuple(
        one
        for one in listed
        if (stays(one) if one.table == "hazards" else carried_at(one, percent))
    )


def steaming(moment: Moment) -> bool:
    """Whether the step is hot enough for its bath to give off what is volatile."""
    if moment.heat is not None:
        return moment.heat[1] >= threshold("fumes heat").value
    return bool(moment.node.does.heat)


def handled(study: Study) -> list[Handled]:
    """Every meeting of a person with a hazard, in the order of the plan."""
    return study.once(_all_handled)


def _all_handled(study: Study) -> list[Handled]:
    risky = {
        thing: listed
        for thing, (material, _) in study.flow.materials.items()
        if (listed := hazards(material))
    }
    if not risky:
        return []
    seen: set[tuple[int, str, str]] = set()
    found: list[Handled] = []
    for moment in study.moments:
        for one in _at(study, moment, risky):
            key = (moment.node.id, one.thing, one.how)
            if one.hazards and key not in seen:
                seen.add(key)
                found.append(one)
    return found


def _at(study: Study, moment: Moment, risky: dict[str, tuple[Entry, ...]]) -> Iterator[Handled]:
    node, does = moment.node, moment.node.does
    brought = {thing for thing, _ in (*node.materials, *node.moved) if thing in risky}
    for thing in brought:
        how = "ground" if does.raises_dust else "sold"
        yield Handled(moment, thing, how, risky[thing], "")
    bath = moment.bath_before or moment.bath_after
    full = moment.bath_after or moment.bath_before
    hot = full is not None and steaming(moment)
    for thing in full.contents if full is not None else ():
        if thing not in risky:
            continue
        path = full.contents[thing].path if full is not None else ""
        if bath is not None and does.hands_in and thing in bath.contents:
            yield Handled(moment, thing, "bath", in_bath(study, bath, thing), path)
        if hot:
            yield Handled(moment, thing, "steam", risky[thing], path)
    if does.fibre_in_hand:
        for lot in node.lots:
            state = moment.before.lots.get(lot)
            for loose in state.carried.values() if state is not None else ():
                if loose.kind == "poison" and loose.thing in risky:
                    kept = tuple(one for one in risky[loose.thing] if stays(one))
                    yield Handled(moment, loose.thing, "fibre", kept, loose.path)
    for pot in node.cleaned:
        residues = moment.before.pots[pot].residues if pot in moment.before.pots else {}
        for residue in residues.values():
            if residue.thing in risky:
                kept = tuple(one for one in risky[residue.thing] if stays(one))
                yield Handled(moment, residue.thing, "pot", kept, residue.path)


# ------------------------------------------------------------------ words for sentences


def called(study: Study, thing: str) -> Named:
    """What the writer calls a material, with its name in the trade where that differs."""
    name = study.called(thing)
    made = declared(study, thing)
    if made is None or made.called == name or name in made.called.split():
        return Named("material", made.called if made is not None else name)
    return Named("material", name, made.called)


def plainly(found: tuple[Entry, ...]) -> str:
    """What the hazards do, in a few words: the two gravest, harm to the body before fire."""
    ranked = sorted(found, key=lambda one: (not grave(one), one.name.startswith("H2")))
    said = [one.facts["plain"].split(":")[0] for one in ranked]
    return "; ".join(dict.fromkeys(said[:2]))


def sources(found: tuple[Entry, ...], material: Material | None = None) -> str:
    """Where the hazards come from, and where it comes from that a material has them."""
    codes = [one.name for one in found if one.table == "ghs"]
    cited = dict.fromkeys(
        part for one in found for part in one.words("source") if "mixture limit" not in part
    )
    said = "; ".join(cited) + (f" ({', '.join(codes)})" if codes else "")
    entry = material.entry if material is not None else None
    if codes and entry is not None:
        for part in entry.words("source"):
            # “Regulation (EC) No 1272/2008 (hazards)”: the last bracket says what for.
            bare, _, about = part.rpartition(" (")
            if "hazards" in about or part.startswith("from memory"):
                said += f"; that it has them: {bare or part}"
                break
    return said
