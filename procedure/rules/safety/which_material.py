"""Which material is meant, and how strong it is: words that several share, strengths unsaid."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import called, hazards, sources
from procedure.facts.study import Study
from procedure.findings import Says, Several, listed, say
from procedure.model import Material, Name, Procedure
from procedure.rules.rule import Found, rule
from procedure.rules.safety.protection import FAMILY, GHS
from procedure.vocabulary import Entry
from procedure.vocabulary.shared_words import SharedWord, shared_word


@rule("which-is-meant", level="error", family=FAMILY, source=GHS)
def which_is_meant(study: Study) -> Iterator[Found]:
    """A word that may be the name of something that harms, misspelt or shared.

    The program does not guess what is in your basket. Until it is said, nothing
    that such a plant or salt calls for can be asked.

    Trips:
        materials
          leaves: foxglov leaves, fresh
        steps
          gold-bath: prepare in kettle with water 3 L, leaves 100 g
          discard gold-bath to "foul drain"
    Cure:
        materials
          leaves: weld leaves, fresh
        steps
          gold-bath: prepare in kettle with water 3 L, leaves 100 g
          discard gold-bath to "foul drain"
    """
    for procedure in study.procedures:
        for word, _, _, ask in procedure.unknown:
            if ask:
                yield _asked(procedure, word, ask)


def _asked(procedure: Procedure, word: Name, ask: tuple[Entry, ...]) -> Found:
    """What it is, the writer alone can say."""
    plant = all(one.facts.get("botanical") for one in ask)
    return Found(
        procedure,
        word.place,
        say(
            "“{word}” may be the name of {things}.",
            word=word.text,
            things=Several(tuple(_with_danger(one) for one in ask), last=" or "),
        ),
        "Write the Latin name of the plant that you have, and its part; do not use it before you "
        "are sure."
        if plant
        else "Write the full name on its label; do not use it before you are sure.",
        source=ask[0].facts["source"],
    )


def _with_danger(one: Entry) -> Says:
    if one.facts.get("botanical"):
        return say(
            "{name} ({latin}), which is {level}",
            name=one.name,
            latin=Says(one.facts["botanical"]),
            level=Says(one.facts["level"]),
        )
    return say("{name}, which harms", name=one.name)


# Parts in the work that say nothing of what is in the bottle.
_PARTS = ("acid", "alkali", "oxidiser", "reducer")


def _shared(material: Material) -> SharedWord | None:
    """The word by which a material is declared, where several materials share it."""
    for phrase in material.phrases:
        if (word := shared_word(phrase)) is not None:
            nameless = material.entry is None and phrase in _PARTS
            known = material.entry is not None and phrase not in _PARTS
            if known or (nameless and not material.free):
                return word
    return None


@rule("shared-word", level="warning", family=FAMILY, source="common practice")
def a_shared_word(study: Study) -> Iterator[Found]:
    """A material by a word that several share: soda, lime, vitriol, acid.

    Washing soda and caustic soda are both called soda, and one of them burns. Whoever
    follows the procedure buys by the name that is written.

    Trips:
        materials
          soda: soda
        steps
          soda-bath: prepare in kettle with water 3 L, soda 20 g
          discard soda-bath to "foul drain"
    Cure:
        materials
          soda: washing soda
        steps
          soda-bath: prepare in kettle with water 3 L, soda 20 g
          discard soda-bath to "foul drain"
    """
    for _, (material, procedure) in study.flow.materials.items():
        word = _shared(material)
        if word is not None:
            yield Found(
                procedure,
                material.name.place,
                say(
                    "“{word}” may be {things}: {differ}.",
                    word=word.word,
                    things=listed(word.may_be, last=" or "),
                    differ=word.differ,
                ),
                say("Write its full name, such as “{name}”.", name=word.may_be[0]),
                source=word.source,
            )


_STRENGTH_ROLES = ("acid", "alkali", "oxidiser")


@rule("strength-unstated", level="note", family=FAMILY, source="common practice")
def strength_unstated(study: Study) -> Iterator[Found]:
    """An acid, alkali or bleach sold in water or measured by volume, with no word on its strength.

    Table vinegar is a twentieth acid, cleaning vinegar a tenth and acetic acid of the shops
    nearly all of it; of ammonia and bleach there are as many strengths. What is sour enough
    from one bottle burns from another. It is a warning where the strong one burns.

    Trips:
        sour-bath: prepare in tub with water 5 L, vinegar 50 mL
        discard sour-bath to "foul drain"
    Cure:
        materials
          vinegar: vinegar, 5 %
        steps
          sour-bath: prepare in tub with water 5 L, vinegar 50 mL
          discard sour-bath to "foul drain"
    """
    asked: set[str] = set()
    for moment in study.moments:
        for thing, item, _ in moment.amounts:
            found = study.flow.materials.get(thing)
            if found is None or thing in asked or found[0].strength is not None:
                continue
            material, procedure = found
            by_volume = item.quantity is not None and item.quantity.kind == "volume"
            if not set(_STRENGTH_ROLES) & set(material.roles):
                continue
            if not by_volume and not _in_water(material):
                continue
            asked.add(thing)
            harms = tuple(one for one in hazards(material) if one.facts.get("signal") == "Danger")
            yield Found(
                procedure,
                material.name.place,
                say("It is not said how strong {thing} is.", thing=called(study, thing)),
                say("Write what its label says, such as “{name}, 5 %”.", name=material.trade_name),
                related=study.at(moment.node.id, "It is measured here."),
                level="warning" if harms else "note",
                source=sources(harms, material) if harms else "common practice",
            )


def _in_water(material: Material) -> bool:
    """Whether it is sold dissolved in water, in bottles of many strengths."""
    return material.entry is not None and material.entry.facts.get("sold") == "in water"


RULES = (which_is_meant, a_shared_word, strength_unstated)
