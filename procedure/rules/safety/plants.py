"""Safety with plants that harm: the deadly ones, tools, what stays in the pot, free words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from procedure.facts.handling import called, declared, hazards, instead, plants, sources
from procedure.facts.study import Pointer, Study
from procedure.findings import Named, Says, Several, listed, say
from procedure.flow import Call
from procedure.model import Material, Name, Place, Procedure
from procedure.model.harm import level_of, plants_named
from procedure.rules.rinse import poison_not_washed_out
from procedure.rules.rule import Found, Rule, at_node, on_way, rule
from procedure.rules.safety import disposal, left_standing, protection
from procedure.rules.safety.further import own_allow
from procedure.rules.safety.protection import FAMILY, GHS
from procedure.trace import Moment
from procedure.vocabulary import Entry


def harmful(study: Study) -> dict[str, Material]:
    """The materials of the plan that are, or may be, plants that harm."""
    return study.once(_harmful)


def _harmful(study: Study) -> dict[str, Material]:
    return {
        thing: material
        for thing, (material, _) in study.flow.materials.items()
        if any(hazard.facts.get("plant_level") for hazard in hazards(material))
    }


def _at(moment: Moment, things: dict[str, Material]) -> list[str]:
    """Those of the things that a step handles, by themselves or in its bath."""
    bath = moment.bath_after or moment.bath_before
    here = [thing for thing, _ in (*moment.node.moved, *moment.node.materials)]
    here += bath.contents if bath is not None else ()
    return [thing for thing in dict.fromkeys(here) if thing in things]


def _in_full(plant: Entry) -> Says:
    return say("{name} ({latin})", name=plant.name, latin=plant.facts["botanical"])


# ------------------------------------------------------------------ tools


def _tools(moment: Moment) -> Iterator[tuple[Name, str]]:
    """The pots and tools that a step is done with, by their plan's names."""
    step, names = moment.step, moment.node.names
    said = [item.name for item in (*step.using, *step.into, step.within) if item is not None]
    for name in (*said, step.through):
        if name is not None:
            yield name, names.get(name.text, "")


@rule("tool-not-kept-apart", level="error", family=FAMILY, source=GHS)
def tool_not_kept_apart(study: Study) -> Iterator[Found]:
    """A pot, knife, sieve or bag used for a poisonous plant, and not said to be for dyeing only.

    What cuts, strains or holds a poison comes near no food again, and whoever borrows it
    must see that. With a deadly plant the tool that chops it has to be named.

    Trips:
        equipment
          knife: knife
        steps
          gather tansy 100 g
          chop tansy with knife
          gold-bath: prepare in kettle with water 3 L, tansy 100 g
          discard gold-bath to "foul drain"
    Cure:
        equipment
          knife: knife, for dyeing only
        steps
          gather tansy 100 g
          chop tansy with knife
          gold-bath: prepare in kettle with water 3 L, tansy 100 g
          discard gold-bath to "foul drain"
          clean knife
    """
    things = harmful(study)
    told: set[tuple[str, int]] = set()
    for moment in study.moments if things else ():
        here = _at(moment, things)
        own = own_allow(moment.node, "tool-not-kept-apart")
        if not here:
            continue
        node, used = moment.node, list(_tools(moment))
        for name, tool in used:
            found = study.flow.pots.get(tool)
            if found is None or found[0].use == "dyeing" or (tool, own) in told:
                continue
            if found[0].kind is not None and found[0].kind.table == "heater":
                continue
            told.add((tool, own))
            yield Found(
                node.procedure,
                name.place,
                say(
                    "{tool} is used for {thing}, and is not said to be for dyeing only.",
                    tool=study.thing(tool),
                    thing=called(study, here[0]),
                ),
                "Keep it apart from food for good, mark it, and write “for dyeing only”.",
                node.calls,
                source=sources(hazards(declared(study, here[0])), declared(study, here[0])),
            )
        cut = node.does.readies and not node.does.gathers
        if cut and not used and level_of(things[here[0]]) == "deadly":
            yield at_node(
                node,
                say("It is not said with what {thing} is cut.", thing=called(study, here[0])),
                "Name a tool that is for dyeing only, and clean it afterwards.",
                source=sources(hazards(declared(study, here[0])), declared(study, here[0])),
            )


@rule("tool-not-cleaned", level="warning", family=FAMILY, source="common practice")
def tool_not_cleaned(study: Study) -> Iterator[Found]:
    """A knife, sieve or bag that cut or held a poisonous plant and is not cleaned afterwards.

    The next hands that take it wear no gloves. It is an error with a deadly plant.

    Trips:
        equipment
          knife: knife, for dyeing only
        steps
          gather tansy 100 g
          chop tansy with knife
          gold-bath: prepare in kettle with water 3 L, tansy 100 g
          discard gold-bath to "foul drain"
    Cure:
        equipment
          knife: knife, for dyeing only
        steps
          gather tansy 100 g
          chop tansy with knife
          gold-bath: prepare in kettle with water 3 L, tansy 100 g
          discard gold-bath to "foul drain"
          clean knife
    """
    things = harmful(study)
    dirty: dict[str, tuple[Moment, Name, str]] = {}
    for moment in study.moments if things else ():
        for tool in moment.node.cleaned:
            dirty.pop(tool, None)
        for thing in _at(moment, things)[:1]:
            for name, tool in _tools(moment):
                found = study.flow.pots.get(tool)
                if found is not None and not found[0].holds:
                    dirty.setdefault(tool, (moment, name, thing))
    for tool, (moment, name, thing) in dirty.items():
        yield Found(
            moment.node.procedure,
            name.place,
            say(
                "{tool} is not cleaned after {thing}.",
                tool=study.thing(tool),
                thing=called(study, thing),
            ),
            say("Clean {tool} with gloves on, and write it.", tool=study.thing(tool)),
            moment.node.calls,
            level="error" if level_of(things[thing]) == "deadly" else "warning",
            source=sources(hazards(declared(study, thing)), declared(study, thing)),
        )


# ------------------------------------------------------------------ in the pot overnight


@rule("plant-left-in", level="error", family=FAMILY, source="common practice")
def plant_left_in(study: Study) -> Iterator[Found]:
    """A plant that harms, still in its pot through a night or a time with nobody by.

    It goes on giving off what it has, it ferments, and who comes by sees a pot of
    greens. Strain it first, and put the plant where nobody gets at it.

    Trips:
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        simmer gold-bath for 1 h covered
        cool gold-bath to 20 °C overnight covered labelled
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        simmer gold-bath for 1 h covered
        cool gold-bath to 40 °C covered
        strain gold-bath
        cool gold-bath to 20 °C overnight covered labelled
        discard gold-bath to "foul drain"
    """
    things = harmful(study)
    told: set[tuple[str, str, int]] = set()
    for one in left_standing.standing(study) if things else ():
        node = one.moment.node
        key = node.bath, one.thing, own_allow(node, "plant-left-in")
        if not one.solid or one.thing not in things or node.does.warms:
            continue
        if key in told:
            continue
        told.add(key)
        yield at_node(
            node,
            say(
                "{thing} is still in {where} here, and nobody is by{way}.",
                thing=called(study, one.thing),
                where=study.thing(node.bath or node.pot),
                way=on_way(one.path),
            ),
            "Strain the bath first, and put the plant where neither children nor animals get at "
            "it.",
            source=sources(one.hazards, declared(study, one.thing)),
        )


# ------------------------------------------------------------------ free words


@rule("danger-in-free-words", level="error", family=FAMILY, source="common practice")
def danger_in_free_words(study: Study) -> Iterator[Found]:
    """A step in free words that names a plant that poisons, which no material is.

    What stands in quotation marks alone is not followed: no gloves, no lid, no wash can
    be asked for it. Declare the plant, and write the step with a verb.

    Trips:
        do "chop the ragwort and stir it in"
    Cure:
        do "hang up the apron"
    """
    for one in _only_in_words(study):
        if one.plant.facts["level"] != "deadly":
            yield _in_words(one, "error" if one.done else "warning")


class _Worded(NamedTuple):
    """A plant that poisons and that only free words name, at a step or in the header."""

    plant: Entry
    procedure: Procedure
    place: Place
    calls: tuple[Call, ...]
    done: bool


def _only_in_words(study: Study) -> Iterator[_Worded]:
    """Each plant that poisons and that no material is, with the words that name it.

    Steps in free words are done; notes are for the reader.
    """
    known = {plant.name for thing in harmful(study) for plant in plants(study, thing)}
    said: list[tuple[str, Procedure, Place, tuple[Call, ...], bool]] = []
    for moment in study.moments:
        node, words = moment.node, moment.step.words
        if words is not None:
            said.append((words.text, node.procedure, words.place, node.calls, True))
        if moment.step.note:
            said.append((moment.step.note, node.procedure, moment.step.place, node.calls, False))
    for made in study.procedures:
        said += [(name.text, made, name.place, (), False) for name in made.notes]
    for text, made, place, calls, done in said:
        for plant, _ in plants_named(text):
            if plant.name not in known and plant.facts["level"] != "harmful":
                yield _Worded(plant, made, place, calls, done)
                break


def _in_words(one: _Worded, level: str) -> Found:
    return Found(
        one.procedure,
        one.place,
        say(
            "{plant} is {level}, and it is only in free words here.",
            plant=_in_full(one.plant),
            level=one.plant.facts["level"],
        ),
        say(
            "Do not use it; {instead} gives a like colour. Who must, declares it as a "
            "material and writes the step with a verb.",
            instead=one.plant.facts["instead"],
        ),
        one.calls,
        level=level,
        source=one.plant.facts["source"],
    )


# ------------------------------------------------------------------ deadly


# What the other rules ask of a plant that harms, in the words of the one finding that
# says what of it is missing.
_ASKED: tuple[tuple[Rule, str], ...] = (
    (protection.no_gloves, "gloves at every step"),
    (protection.no_eye_protection, "eye protection"),
    (protection.no_fresh_air, "the open air"),
    (protection.children_near_hazard, "no children and no beginners"),
    (left_standing.left_uncovered, "a lid"),
    (left_standing.left_unlabelled, "a label"),
    (plant_left_in, "the plant strained out before the night"),
    (tool_not_kept_apart, "tools for dyeing only"),
    (tool_not_cleaned, "tools cleaned afterwards"),
    (poison_not_washed_out, "a wash with mild soap at the end"),
    (disposal.no_disposal, "a place for the waste"),
    (disposal.wrong_way_out, "a safe place for the waste"),
    (disposal.plant_thrown_where_it_harms, "a safe place for the spent plant"),
)


def _names(says: object, thing: str) -> bool:
    """Whether a sentence speaks of a material, at whatever depth."""
    if isinstance(says, Named):
        return says.kind == "material" and says.name == thing
    if isinstance(says, Says):
        return any(_names(value, thing) for _, value in says.values)
    if isinstance(says, Several):
        return any(_names(value, thing) for value in says.values)
    return False


def _missing(study: Study, thing: str) -> list[str]:
    name = called(study, thing).name
    missing = [
        words
        for asked, words in _ASKED
        if any(_names(found.sentence, name) for found in asked.check(study))
    ]
    audience = {word.text for procedure in study.procedures for word in procedure.audience}
    if "experienced dyers" not in audience:
        missing.append("“audience experienced dyers” at the head")
    return missing


@rule("deadly-plant", level="error", family=FAMILY, source=GHS)
def deadly_plant(study: Study) -> Iterator[Found]:
    """A plant of which a little can kill, in a dye pot.

    Foxglove, monkshood, oleander, yew, hemlock and their like give no colour that a
    harmless plant does not give. It is an error that no “allow” makes quiet, unless the
    whole of it is in order from gathering to the last wash; then it is a note. One that
    stands in free words alone, in a step or a note, counts as much.

    Trips:
        materials
          leaves: foxglove leaves, fresh, gathered 2026-06-12
        steps
          gold-bath: prepare in kettle with water 3 L, leaves 100 g
          discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, weld 50 g
        discard gold-bath to "foul drain"
    """
    for thing, material in harmful(study).items():
        deadly = [plant for plant in plants(study, thing) if plant.facts["level"] == "deadly"]
        if not deadly:
            continue
        _, procedure = study.flow.materials[thing]
        missing = _missing(study, thing)
        whole = (
            say("; missing: {missing}", missing=listed(missing, last=", "))
            if missing
            else Says("; all that is asked for is in order")
        )
        yield Found(
            procedure,
            material.name.place,
            say(
                "{thing} is deadly: {plant} can kill who swallows a little of it{whole}.",
                thing=called(study, thing),
                plant=_in_full(deadly[0]),
                whole=whole,
            ),
            say(
                "A careful teacher refuses it.{instead}",
                instead=instead(study, thing),
            )
            if deadly[0].yes("refuse")
            else say("Better none of it.{instead}", instead=instead(study, thing)),
            related=_first(study, thing),
            level="error" if missing else "note",
            source=deadly[0].facts["source"],
        )
    yield from _deadly_words(study)


def _deadly_words(study: Study) -> Iterator[Found]:
    for one in _only_in_words(study):
        if one.plant.facts["level"] == "deadly":
            yield _in_words(one, "error")


def _first(study: Study, thing: str) -> tuple[Pointer, ...]:
    first = next(
        (m for m in study.moments if _at(m, {thing: study.flow.materials[thing][0]})), None
    )
    return study.at(first.node.id, "It is first used here.") if first is not None else ()


RULES = (
    tool_not_kept_apart,
    tool_not_cleaned,
    plant_left_in,
    danger_in_free_words,
    deadly_plant,
)
