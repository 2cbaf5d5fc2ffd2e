"""Which material is meant, and how strong it is: words that several share, strengths unsaid."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import called, hazards, named, sources
from procedure.facts.study import Study
from procedure.findings import Says, Several, listed, say
from procedure.model import Item, Material, Name, Procedure
from procedure.rules.rule import Found, rule
from procedure.rules.safety.audience import for_children
from procedure.rules.safety.further import misspelt_on
from procedure.rules.safety.protection import FAMILY, GHS
from procedure.vocabulary import Entry
from procedure.vocabulary.shared_words import SharedWord, shared_word
from procedure.vocabulary.thresholds import threshold


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
        for word, _, _, ask, *_ in procedure.unknown:
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


def _strong_and_nameless(material: Material) -> bool:
    """Whether it is an acid, alkali or bleach without a name that its strength makes dangerous."""
    strength = material.strength
    return (
        material.entry is None
        and strength is not None
        and strength.kind == "percent"
        and strength.high is not None
        and strength.high * 100 >= threshold("strong without a name").value
    )


@rule("shared-word", level="warning", family=FAMILY, source="common practice")
def a_shared_word(study: Study) -> Iterator[Found]:
    """A material by a word that several share: soda, lime, vitriol, acid.

    Washing soda and caustic soda are both called soda, and one of them burns. Whoever
    follows the procedure buys by the name that is written. It is an error where it has no
    other name and is so strong that it may burn.

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
        strong = word is not None and _strong_and_nameless(material)
        slip = (procedure.key, material.line) in study.once(misspelt_on)
        if word is not None and (strong or not slip):  # “salked lime” is asked about as it is
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
                level="error" if strong else "warning",
                source=word.source,
            )


_STRENGTH_ROLES = ("acid", "alkali", "oxidiser")


@rule("strength-unstated", level="note", family=FAMILY, source="common practice")
def strength_unstated(study: Study) -> Iterator[Found]:
    """An acid, alkali or bleach sold in water or measured by volume, with no word on its strength.

    Table vinegar is a twentieth acid, cleaning vinegar a tenth and acetic acid of the shops
    nearly all of it; of ammonia and bleach there are as many strengths. What is sour enough
    from one bottle burns from another. It is a warning where the strong one burns, and of a
    solution of which so much is to be poured that it holds a share of the fibre: 10 % may be 10 g
    in 100 g, or in 100 mL.

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
            if found is None or thing in asked:
                continue
            material, procedure = found
            if (told := _unclear_solution(study, thing, material, item)) is not None:
                asked.add(thing)
                related = study.at(moment.node.id, "It is measured here.")
                place = material.name.place
                yield Found(procedure, place, *told, related=related, level="warning")
                continue
            if material.strength is not None:
                continue
            by_volume = item.quantity is not None and item.quantity.kind == "volume"
            if not set(_STRENGTH_ROLES) & set(material.roles) or _a_liquor(material):
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


def _unclear_solution(
    study: Study, thing: str, material: Material, item: Item
) -> tuple[Says, Says] | None:
    """What is told of a solution of which nobody can tell how much holds so much dry stuff."""
    quantity = item.quantity
    if "solution" not in material.words or quantity is None:
        return None
    if quantity.kind not in ("percent", "ratio", "concentration"):
        return None
    strength = material.strength
    by = material.strength_by or (strength is not None and strength.kind == "concentration")
    if strength is not None and by:
        return None
    stuff = material.trade_name
    if strength is None:
        said = say(
            "It is not said how strong the solution {thing} is, so nobody can tell how much of it "
            "holds {amount}.",
            thing=called(study, thing),
            amount=quantity.text,
        )
        return said, say(
            "Write what its label says, such as “{name}, solution 10 % by volume” (10 g of the dry "
            "stuff in 100 mL).",
            name=stuff,
        )
    said = say(
        "{thing} is a solution of {strength}, but is that by weight or by volume?",
        thing=called(study, thing),
        strength=strength.text,
    )
    return said, say(
        "Write “{name}, solution {strength} by volume” (grams in 100 mL) or “{name}, solution "
        "{strength} by weight” (grams in 100 g).",
        name=stuff,
        strength=strength.text,
    )


def _a_liquor(material: Material) -> bool:
    """Whether it is pressed, brewed or let: no label says how strong urine or lemon juice is."""
    return material.entry is not None and material.entry.facts.get("sold") == "a liquor"


def _in_water(material: Material) -> bool:
    """Whether it is sold dissolved in water, in bottles of many strengths."""
    return material.entry is not None and material.entry.facts.get("sold") == "in water"


@rule("harm-not-known", level="note", family=FAMILY, source="common practice")
def harm_not_known(study: Study) -> Iterator[Found]:
    """A dyestuff or mordant plant that is told in words which name nothing that is known.

    What is not known is not harmless: milk sap, berries and bark of a hedge may poison, and
    nothing that they would call for is asked. Treat it as one that poisons. It is a warning of a
    dyestuff, and of anything where it is for children: an assistant, acid or salt that nobody
    knows is one for them too.

    Trips:
        materials
          hedge: dyestuff, fresh, "frostberry twigs"
        steps
          hedge-bath: prepare in kettle with water 3 L, hedge 100 g
          discard hedge-bath to "foul drain"
    Cure:
        materials
          hedge: weld tops, fresh
        steps
          hedge-bath: prepare in kettle with water 3 L, hedge 100 g
          discard hedge-bath to "foul drain"
    """
    for thing, (material, procedure) in study.flow.materials.items():
        children = for_children(procedure)
        plant = bool(_MAY_BE_PLANTS & set(material.roles))
        if named(material) or not (plant or (children and _MAY_HARM & set(material.roles))):
            continue
        if children and "dyestuff" in material.roles:
            continue  # the rule on children says it
        yield Found(
            procedure,
            material.name.place,
            say("Nothing is known here of what {thing} may do to you.", thing=study.thing(thing)),
            "Write its Latin name, and look up whether it harms before you use it. Until then "
            "treat it as one that poisons: gloves, the open air, tools for dyeing only, and "
            "nothing of it on the compost."
            if plant
            else "Read on its label what is in it, and write that.",
            level="warning" if children or "dyestuff" in material.roles else "note",
        )


_MAY_BE_PLANTS = frozenset(("dyestuff", "mordant", "tannin"))
# What is no plant, and nothing for children as long as nobody knows it.
_MAY_HARM = frozenset(("assistant", "acid", "alkali", "oxidiser", "reducer", "salt", "solvent"))


RULES = (which_is_meant, a_shared_word, strength_unstated, harm_not_known)
