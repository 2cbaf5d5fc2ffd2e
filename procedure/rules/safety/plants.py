"""Safety with plants that harm: the deadly ones, tools, what stays in the pot, free words."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import called, declared, hazards, sources
from procedure.facts.liquor import has_role
from procedure.facts.study import Study
from procedure.findings import Says, say
from procedure.model import Material, Name
from procedure.model.harm import level_of
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.rules.safety import left_standing
from procedure.rules.safety.further import misspelt_on, own_allow
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


def at(moment: Moment, things: dict[str, Material]) -> list[str]:
    """Those of the things that a step handles, by themselves or in its bath."""
    bath = moment.bath_after or moment.bath_before
    bag = moment.before.pots.get(moment.node.bag) if moment.node.bag else None
    here = [thing for thing, _ in (*moment.node.moved, *moment.node.materials)]
    here += bag.matter if bag is not None else ()
    here += bath.contents if bath is not None else ()
    return [thing for thing in dict.fromkeys(here) if thing in things]


def _in_full(plant: Entry) -> Says:
    return say("{name} ({latin})", name=plant.name, latin=plant.facts["botanical"])


# ------------------------------------------------------------------ tools


def _tools(moment: Moment) -> Iterator[tuple[Name, str]]:
    """The pots and tools that a step is done with, by their plan's names."""
    step, names = moment.step, moment.node.names
    said = [item.name for item in (*step.using, *step.into, step.within) if item is not None]
    said += [item.name for item in step.objects if moment.node.bag]
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
        here = at(moment, things)
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
            if (found[1].key, found[0].name.place.line) in study.once(misspelt_on):
                continue  # “for deying only” is told of where it stands
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
        for thing in at(moment, things)[:1]:
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
        throw out tansy to "a closed heap, out of reach of children and animals"
        cool gold-bath to 20 °C overnight covered labelled
        discard gold-bath to "foul drain"
    """
    things = harmful(study)
    told: set[tuple[str, str, int]] = set()
    for one in left_standing.standing(study) if things else ():
        node = one.moment.node
        key = node.bath, one.thing, own_allow(node, "plant-left-in")
        if not one.solid or one.thing not in things or node.does.warms or key in told:
            continue
        if level_of(things[one.thing]) != "deadly" and _tincture(study, one.moment):
            continue
        told.add(key)
        yield at_node(
            node,
            say(
                "{thing} is {harmful}; it is still in {where} here, and nobody is by{way}.",
                thing=called(study, one.thing),
                harmful=level_of(things[one.thing]),
                where=study.thing(node.bath or node.pot),
                way=on_way(one.path),
            ),
            "Strain the bath first, and put the plant where neither children nor animals get at "
            "it.",
            source=sources(one.hazards, declared(study, one.thing)),
        )


def _tincture(study: Study, moment: Moment) -> bool:
    """Whether plants are steeped in spirit, in a shut and labelled vessel: there they stay in."""
    inside = moment.bath_after.contents if moment.bath_after is not None else {}
    spirit = has_role(study, inside, "solvent")
    return spirit and moment.covered and moment.labelled and not moment.node.does.warms


RULES = (tool_not_kept_apart, tool_not_cleaned, plant_left_in)
