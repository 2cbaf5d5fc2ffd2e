"""Safety of what only free words name: nobody asks for gloves or looks at what it meets."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from procedure.facts.handling import called, declared, grave, handled, plants
from procedure.facts.in_words import plants_meant, said
from procedure.facts.study import Study
from procedure.findings import Says, listed, say
from procedure.flow import Call
from procedure.model import Material, Place, Procedure
from procedure.model.harm import (
    DENIED,
    clauses_of,
    misspelt,
    of_no_plant,
    plants_named,
    unsure,
)
from procedure.model.substances import put_in, restricted_named
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found, rule
from procedure.rules.safety.food_places import food_in
from procedure.rules.safety.plants import harmful
from procedure.rules.safety.protection import FAMILY
from procedure.vocabulary import Entry, vocabulary


class Worded(NamedTuple):
    """A thing that harms and that only free words name, at a step or in the header.

    ``done`` holds where the words are what is done, and not a note for the reader.
    """

    thing: Entry
    procedure: Procedure
    place: Place
    calls: tuple[Call, ...]
    done: bool
    known: bool = False


def plants_in_words(study: Study) -> Iterator[Worded]:
    """Each plant that harms and that no material is, with the words that name it."""
    known = {plant.name for thing in harmful(study) for plant in plants(study, thing)}
    for text, made, place, calls, done, *_ in said(study):
        for plant in plants_meant(text, done):
            if plant.name not in known:
                yield Worded(plant, made, place, calls, done)
    for text, made, place in _not_understood(study):  # nobody knows whether it goes in
        for plant in plants_meant(text, done=False):
            if plant.name not in known:
                yield Worded(plant, made, place, (), True)


def _not_understood(study: Study) -> Iterator[tuple[str, Procedure, Place]]:
    """What could not be read, or is in a place where nothing is that it may be."""
    for made in study.procedures:
        for words in made.unread_words:
            yield words.text, made, words.place
        for one in made.written:
            if one.quantity.kind == "unknown":  # add 2 foxglove leaves to bath
                yield one.quantity.text, made, one.quantity.place
    for slip in study.slips("wrong kind"):  # simmer bath & hemlock
        if not slip.procedure.declared(slip.name.text):
            yield slip.name.text, slip.procedure, slip.name.place


def _substances_in_words(study: Study) -> Iterator[Worded]:
    """Each salt, acid, lye or bleach that free words put in, and whether it is declared too.

    A note at the step that it is used in tells how to handle it, and so does one at the head.
    """
    known: dict[str, set[str]] = {}
    for thing in study.flow.materials:
        made = declared(study, thing)
        if made is not None and made.entry is not None:
            known.setdefault(made.entry.name, set()).add(thing)
    for words in said(study):
        for one in put_in(words.text):
            things = known.get(one.name, set())
            if not words.done and things and (words.at_head or words.here & things):
                continue
            yield Worded(one, words.procedure, words.place, words.calls, words.done, bool(things))
    for made_in in study.procedures:
        for unread in made_in.unread_words:
            one_of = restricted_named(unread.text)
            if one_of is not None and one_of.name not in known:
                yield Worded(one_of, made_in, unread.place, (), True)


@rule("danger-in-free-words", level="error", family=FAMILY, source="common practice")
def danger_in_free_words(study: Study) -> Iterator[Found]:
    """Free words that name a plant, salt, acid, lye or bleach that harms, which no material is.

    What stands in quotation marks alone is not followed: no gloves, no lid, no wash can
    be asked for it, and nobody looks what it meets. Declare it, and write the step with a verb.

    Trips:
        do "chop the ragwort and stir it in"
    Cure:
        do "hang up the apron"
    """
    for one in plants_in_words(study):
        level = one.thing.facts["level"]
        if level != "deadly":
            yield plant_in_words(one, "error" if one.done and level != "harmful" else "warning")
    yield from _perhaps_in_words(study)
    yield from _names_of_things(study)
    yield from _titles(study)
    yield from _tasted(study)
    yield from _among_food(study)
    for one in _substances_in_words(study):
        restricted = one.thing.facts.get("restricted", "")
        heavy = bool(restricted) or (one.done and not one.known)
        yield Found(
            one.procedure,
            one.place,
            say("{thing} is only in free words here, and it harms.", thing=one.thing.name),
            say("Do not use it. Safer: {safer}.", safer=one.thing.facts["safer"])
            if restricted
            else say(
                "Declare {thing} as a material, and write the step with a verb: what it calls for "
                "and what it must not meet is then looked for.",
                thing=one.thing.name,
            ),
            one.calls,
            level="error" if heavy else "warning",
            source=one.thing.facts["source"],
        )


def _perhaps_in_words(study: Study) -> Iterator[Found]:
    """Plants that free words may mean: by a name that some of them share, or by a slip.

    A shared name counts in what is done alone, and in a note that brings it (“with bryonies”);
    a slip wherever it stands.
    """
    known = {plant.name for thing in harmful(study) for plant in plants(study, thing)}
    for one in said(study):
        meant = _perhaps_done(one.text) if one.done else _perhaps_noted(one.text)
        if not meant or known & {plant.name for plant in meant}:
            continue
        yield _ask(one.procedure, one.place, one.calls, meant)
    for made, owner in study.flow.materials.values():
        if made.entry is None:
            continue  # the rule on what is meant asks
        for text in made.free:
            meant = misspelt(text)
            if meant and not known & {plant.name for plant in meant}:
                yield _ask(owner, made.name.place, (), meant)


@remembered(4096)  # a text says the same at many steps, and to many readings
def _perhaps_done(text: str) -> Sequence[Entry]:
    return _perhaps(text, done=True)


@remembered(4096)
def _perhaps_noted(text: str) -> Sequence[Entry]:
    return _perhaps(text, done=False)


def _perhaps(text: str, *, done: bool) -> Sequence[Entry]:
    # Ivy or cherry is named in “poisen ivy” and “cherry lorel”, and hides neither.
    if any(plant.facts["level"] != "harmful" for plant, _ in plants_named(text)):
        return ()
    plain = of_no_plant(text).replace("-", " ")
    if "ies" in plain:
        plain = pattern(r"ies\b").sub("y", plain)
    # Most words hold no name that plants share, and to look for slips takes long.
    any_shared = any(map(plain.__contains__, _shared_names()))
    if any_shared and not done:
        any_shared = pattern(_BROUGHT).search(plain) is not None
    shared = [
        plant
        for plant in (unsure(plain) if any_shared else ())
        if any(re.search(rf"\b{name}", plain) for name in plant.words("shared_names"))
    ]
    return shared or misspelt(text)


# How a note says that something goes in, and does not only speak of it.
_BROUGHT = (
    r"^(with|plus|and|some|a few|a handful of|a pinch of|a little|add|including)\b|"
    r"\b(go|goes) in\b|\badd(ing|ed)?\b"
)


@cache
def _shared_names() -> tuple[str, ...]:
    """The names that a plant that harms shares with another plant."""
    every = vocabulary().tables["plants_that_harm"].values()
    return tuple({name for plant in every for name in plant.words("shared_names")})


def _ask(
    procedure: Procedure, place: Place, calls: tuple[Call, ...], meant: Sequence[Entry]
) -> Found:
    return Found(
        procedure,
        place,
        say(
            "These words may mean {plants}.",
            plants=listed((in_full(plant) for plant in meant[:3]), last=" or "),
        ),
        "Declare the plant as a material, with its Latin name; do not use it before you are sure.",
        calls,
        level="warning",
        source=meant[0].facts["source"],
    )


# What is tasted or eaten, and by whom: “taste it”, “let the children drink some of it”.
_TASTED = (
    r"\b(taste|sip|lick|drink|eat) "
    r"(it|some|a little|a drop|the (bath|liquor|dye|leaves|berries))\b"
)
_P270 = "Regulation (EC) No 1272/2008, Annex IV, P270 (no eating or drinking at the work)"


def _tasted(study: Study) -> Iterator[Found]:
    """Each step or note that has somebody taste what is in a plan with something that harms."""
    harms = [one for one in handled(study) if any(grave(hazard) for hazard in one.hazards)]
    for one in said(study) if harms else ():
        for clause in clauses_of(one.text.lower()):
            found = pattern(_TASTED).search(clause)
            if found is None or pattern(DENIED).search(clause):
                continue
            yield Found(
                one.procedure,
                one.place,
                say(
                    "“{words}” is said here, and {thing} is in the work.",
                    words=found.group(),
                    thing=called(study, harms[0].thing),
                ),
                "Taste nothing of it, and eat and drink elsewhere.",
                one.calls,
                level="error",
                source=_P270,
            )
            break


def _among_food(study: Study) -> Iterator[Found]:
    """What a declared thing that harms meets where free words alone say what is done with it.

    “Heat the tansy in the microwave” is followed no further, so that no other rule sees it. What
    is not declared is told of already.
    """
    known = {plant.name for thing in harmful(study) for plant in plants(study, thing)}
    known |= {made.entry.name for made, _ in study.flow.materials.values() if made.entry}
    for one in said(study) if known else ():
        for sentence in one.text.replace(";", ".").split(".") if one.done else ():
            word = food_in(sentence)
            named = [plant for plant, _ in plants_named(sentence)] if word else []
            harms = [one for one in named if one.facts["level"] != "harmful"]
            harms += put_in(sentence) if word else ()
            here = next((one for one in harms if one.name in known), None)
            if here is not None:
                yield Found(
                    one.procedure,
                    one.place,
                    say(
                        "{thing} is among food here (“{word}”), and it harms who swallows it.",
                        thing=here.name,
                        word=word,
                    ),
                    "Use vessels and places that never hold food or drink, and label them.",
                    one.calls,
                    level="error",
                    source=here.facts["source"],
                )
                break


def _names_of_things(study: Study) -> Iterator[Found]:
    """Names of baths, bags and pots that name a plant which poisons and which no material is.

    Lots are called by their shade, foxglove or laburnum, and are left alone.
    """
    known = {plant.name for thing in harmful(study) for plant in plants(study, thing)}
    made = [
        (moment.node.procedure, step.label)
        for moment in study.moments
        if (step := moment.step).label is not None
    ]
    named = [(owner, pot.name) for owner in study.procedures for pot in owner.equipment.values()]
    for owner, name in dict.fromkeys((*named, *made)):
        # Baths of one kind are numbered, and no plant has a number in its name.
        text = " ".join([word for word in name.text.split("-") if not word.isdigit()])
        meant = [plant for plant, _ in plants_named(text)] or list(misspelt(text))
        grave = [plant for plant in meant if plant.facts["level"] != "harmful"]
        if grave and not known & {plant.name for plant in grave}:
            yield Found(
                owner,
                name.place,
                say(
                    "The name “{name}” speaks of {plants}, and no material is that.",
                    name=name.text,
                    plants=listed((in_full(plant) for plant in grave[:3]), last=" or "),
                ),
                "Declare the plant if it is in it, with its Latin name; if it is not, give "
                "another name.",
                level="warning",
                source=grave[0].facts["source"],
            )


def _titles(study: Study) -> Iterator[Found]:
    """Titles that name a plant which poisons, where a material is told by no name that is known.

    Where all the materials are known, the title is that of a shade: foxglove pink.
    """
    known = {plant.name for thing in harmful(study) for plant in plants(study, thing)}
    for owner in study.procedures:
        nameless = next((m for m in owner.materials.values() if _nameless(m)), None)
        for title in (owner.title, owner.makes) if nameless is not None else ():
            named = plants_named(title.text) if title is not None else ()
            meant = [plant for plant, _ in named if plant.name not in known]
            meant = [plant for plant in meant if plant.facts["level"] != "harmful"]
            if title is not None and meant and nameless is not None:
                yield Found(
                    owner,
                    title.place,
                    say(
                        "{plant} is {level}: it is named here, and nobody says of which plant "
                        "{thing} is.",
                        plant=in_full(meant[0]),
                        level=meant[0].facts["level"],
                        thing=study.thing(nameless.name.text),
                    ),
                    say(
                        "Do not use it; {instead} gives a like colour. If {thing} is of another "
                        "plant, declare it by that plant's name.",
                        instead=meant[0].facts["instead"],
                        thing=study.thing(nameless.name.text),
                    ),
                    source=meant[0].facts["source"],
                )
                break


def _nameless(material: Material) -> bool:
    return material.entry is None and not material.suspects


def plant_in_words(one: Worded, level: str) -> Found:
    """The finding on a plant that poisons and stands in free words alone."""
    return Found(
        one.procedure,
        one.place,
        say(
            "{plant} is {level}, and it is only in free words here.",
            plant=in_full(one.thing),
            level=one.thing.facts["level"],
        ),
        say("Declare it as a material, with its part, and write the step with a verb.")
        if one.thing.facts["level"] == "harmful"
        else say(
            "Do not use it; {instead} gives a like colour. Who must, declares it as a "
            "material and writes the step with a verb.",
            instead=one.thing.facts["instead"],
        ),
        one.calls,
        level=level,
        source=one.thing.facts["source"],
    )


def in_full(plant: Entry) -> Says:
    """A plant that harms by its name and its Latin name."""
    return say("{name} ({latin})", name=plant.name, latin=plant.facts["botanical"])


RULES = (danger_in_free_words,)
