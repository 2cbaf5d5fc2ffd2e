"""Safety with a plant of which a little can kill: an error unless the whole of it is in order."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import called, instead, plants
from procedure.facts.in_words import said
from procedure.facts.study import Pointer, Study
from procedure.findings import Named, Says, Several, listed, say
from procedure.model.harm import DENIED
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rinse import poison_not_washed_out
from procedure.rules.rule import Found, Rule, rule
from procedure.rules.safety import disposal, left_standing, protection
from procedure.rules.safety import plants as tools
from procedure.rules.safety.audience import CHILDREN
from procedure.rules.safety.food_places import KEPT_AWAY
from procedure.rules.safety.free_words import in_full, plant_in_words, plants_in_words
from procedure.rules.safety.places_for_waste import ways_out
from procedure.rules.safety.plants import at, harmful
from procedure.rules.safety.protection import FAMILY, GHS
from procedure.vocabulary.thresholds import threshold

# What the other rules ask of a plant that harms, in the words of the one finding that
# says what of it is missing.
_ASKED: tuple[tuple[Rule, str], ...] = (
    (protection.no_gloves, "gloves at every step"),
    (protection.no_eye_protection, "eye protection"),
    (protection.no_fresh_air, "the open air"),
    (protection.dust_in_the_air, "a mask where it is ground"),
    (protection.children_near_hazard, "no children and no beginners"),
    (left_standing.left_uncovered, "a lid"),
    (left_standing.left_unlabelled, "a label"),
    (tools.plant_left_in, "the plant strained out before the night"),
    (tools.tool_not_kept_apart, "tools for dyeing only"),
    (tools.tool_not_cleaned, "tools cleaned afterwards"),
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
    missing += (
        [] if _thrown_to_a_waste_point(study, thing) else ["a waste point for the spent plant"]
    )
    missing += _liquor_left(study, thing)
    missing += _spoken_of(study)
    audience = {word.text for procedure in study.procedures for word in procedure.audience}
    if "experienced dyers" not in audience:
        missing.append("“audience experienced dyers” at the head")
    return list(dict.fromkeys(missing))


def _thrown_to_a_waste_point(study: Study, thing: str) -> bool:
    """Whether the text says that all of the plant goes where hazardous waste is taken.

    That is where it is emptied out or thrown out; one that is never strained out goes with
    its bath. A bin, a bag or a bucket is no place: somebody else takes it from there.
    """
    named = False
    for moment in study.moments:
        node = moment.node
        to = moment.step.to
        words = (to.words or to.name) if to is not None else None
        bag = moment.before.pots.get(node.bag) if node.bag else None
        held = {*(bag.matter if bag is not None else ()), *(name for name, _ in node.moved)}
        bath = moment.bath_before
        inside = bath.contents.get(thing) if bath is not None and node.does.empties else None
        if node.does.throws_matter_out and thing in held:
            solid = True
        elif inside is not None:
            solid = inside.solid
        else:
            continue
        ways = ways_out(words.text) if words is not None else {}
        if solid and set(ways) != {"waste point"}:
            return False
        named = named or solid
    return named and not _left_at_the_end(study, thing)


def _left_at_the_end(study: Study, thing: str) -> bool:
    """Whether some of it is still in a bag, or in a bath that nobody throws away or keeps."""
    if not study.moments:
        return False
    last = study.moments[-1].after
    return any(thing in pot.matter for pot in last.pots.values())


def _liquor_left(study: Study, thing: str) -> list[str]:
    """What its liquor lacks: a lid where it steams, a way out or lid and label at the end."""
    found = []
    fumes = threshold("fumes heat").value
    for moment in study.moments:
        bath = moment.bath_after or moment.bath_before
        hot = moment.heat is not None and moment.heat[1] >= fumes
        if hot and not moment.covered and bath is not None and thing in bath.contents:
            found.append("a lid")
            break
    makers = {slip.node.id for slip in study.slips("bath left over") if slip.node is not None}
    left = [bath for bath, maker in study.flow.baths.items() if maker in makers]
    if any(_held_last(study, bath, thing) for bath in left):
        found.append("a way out, or a lid and a label, for all of its liquor")
    return found


def _held_last(study: Study, bath: str, thing: str) -> bool:
    states = (m.after.baths[bath] for m in reversed(study.moments) if bath in m.after.baths)
    last = next(states, None)
    return last is not None and thing in last.contents


_CHILDREN = r"\b(" + CHILDREN + r"|school\w*|famil(y|ies))\b"
_KITCHEN = (
    r"\b(kitchen|fridge|refrigerator|freezer|larder|pantry|microwave|oven|dishwasher|dining|food"
    r"|airing cupboard|bread bin|(tea|biscuit|cake) tin|tea caddy|lemonade|jam jar"
    r"|(milk|water|juice|wine|beer) bottle)\b"
)


def _spoken_of(study: Study) -> list[str]:
    """Children and kitchens that free words bring into the work, unless they are kept away."""
    texts = [one.text for one in said(study)]
    for material, _ in study.flow.materials.values():
        texts += material.free
    for pot, _ in study.flow.pots.values():
        texts += pot.words
    clauses = [
        clause
        for text in texts
        for clause in pattern(r"[;,.:()]").split(text.lower())
        if not pattern(DENIED).search(clause) and not pattern(KEPT_AWAY).search(clause)
    ]
    found = []
    if any(pattern(_CHILDREN).search(clause) for clause in clauses):
        found.append("no children anywhere near it")
    if any(pattern(_KITCHEN).search(clause) for clause in clauses):
        found.append("a place that is no kitchen")
    return found


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
                plant=in_full(deadly[0]),
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
    for one in plants_in_words(study):
        if one.thing.facts["level"] == "deadly":
            yield plant_in_words(one, "error")


def _first(study: Study, thing: str) -> tuple[Pointer, ...]:
    first = next((m for m in study.moments if at(m, {thing: study.flow.materials[thing][0]})), None)
    return study.at(first.node.id, "It is first used here.") if first is not None else ()


RULES = (deadly_plant,)
