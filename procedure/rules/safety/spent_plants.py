"""Safety of what is left of a plant: once out of its bath, somebody has to know where it goes."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import called, plants
from procedure.facts.study import Study
from procedure.findings import say
from procedure.model import Material
from procedure.model.harm import level_of
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.safety.places_for_waste import (
    OUT_OF_REACH,
    REFUSE,
    SOLIDS,
    place_said,
    ways_named,
)
from procedure.rules.safety.plants import harmful
from procedure.rules.safety.protection import FAMILY
from procedure.trace import Moment

RHS = "RHS, potentially harmful garden plants; common practice"


class _Out(NamedTuple):
    """A plant that came out of its bath at a step, and the bag or sieve that holds it."""

    thing: str
    moment: Moment
    holds: str


@rule("spent-plant-goes-nowhere", level="error", family=FAMILY, source=RHS)
def spent_plant_goes_nowhere(study: Study) -> Iterator[Found]:
    """A poisonous plant that comes out of its bath, and no step says where it goes then.

    A heap of wet leaves or berries beside the sink is eaten by a child, a dog or the hens, and
    whoever clears up puts it where such things always go. It is a note with a plant that is
    only a little harmful.

    Trips:
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        strain gold-bath
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        strain gold-bath
        throw out tansy to "a closed heap, out of reach of children and animals"
        discard gold-bath to "foul drain"
    """
    things = harmful(study)
    if not things:
        return
    out: list[_Out] = []
    for moment in study.moments:
        yield from _unknown_place(study, moment, things, out)
        out = [one for one in out if not _gone(study, moment, one)]
        fresh = [*_comes_out(moment, things), *_pressed(moment, things, out)]
        out += [one for one in fresh if not _said_so(study, moment, one)]
    told: set[tuple[str, int]] = set()
    for one in out:
        if (one.thing, one.moment.node.id) not in told:
            told.add((one.thing, one.moment.node.id))
            yield _nowhere(study, one, things[one.thing])


def _nowhere(study: Study, one: _Out, made: Material) -> Found:
    thing = called(study, one.thing)
    deadly = level_of(made) == "deadly"
    place = "the hazardous waste point" if deadly else _SAFE
    step = (
        say('empty {bag} to "{place}"', bag=study.thing(one.holds), place=place)
        if one.holds
        else say('throw out {thing} to "{place}"', thing=study.thing(one.thing), place=place)
    )
    pressed = one.moment.node.does.presses_plants
    return at_node(
        one.moment.node,
        say(
            "{thing} is {harmful}; it is squeezed out here, and nobody is told where it goes."
            if pressed
            else "{thing} is {harmful}; it comes out of its bath here, and nobody is told where "
            "it goes.",
            thing=thing,
            harmful=level_of(made),
        ),
        say("Say it in a step of its own: “{step}”.", step=step),
        level="error" if _grave(made) else "note",
    )


_SAFE = "a closed heap, out of reach of children and animals"


def _unknown_place(
    study: Study, moment: Moment, things: dict[str, Material], out: list[_Out]
) -> Iterator[Found]:
    """A place that the words of a step name for a poisonous plant, and that nobody knows."""
    words = place_said(moment)
    does = moment.node.does
    if words is None or not (does.throws_matter_out or does.lifts_matter):
        return
    if _a_place(words.text.lower()):
        return
    thrown = [thing for thing, _ in moment.node.moved]
    thrown += [one.thing for one in out if one.holds and one.holds == moment.node.bag]
    for thing in dict.fromkeys(thrown):
        if thing in things and _grave(things[thing]):
            yield at_node(
                moment.node,
                say(
                    "“{words}” is no place that I know for {thing}.",
                    words=words.text,
                    thing=called(study, thing),
                ),
                say('Name one that neither children nor animals get at: "{place}".', place=_SAFE)
                if level_of(things[thing]) == "poisonous"
                else "Ask where such waste is taken, and name that place.",
            )


def _grave(made: Material) -> bool:
    return level_of(made) in ("deadly", "poisonous")


def _comes_out(moment: Moment, things: dict[str, Material]) -> Iterator[_Out]:
    """The plants that harm, in pieces in a bath before a step and no more after it."""
    for bath, state in moment.before.baths.items():
        now = moment.after.baths.get(bath)
        if now is None or now is state:
            continue
        for thing, content in state.contents.items():
            left = now.contents.get(thing)
            if thing not in things or not content.solid or left is None or left.solid:
                continue
            bag = moment.after.pots.get(moment.node.bag) if moment.node.bag else None
            holds = moment.node.bag if bag is not None and thing in bag.matter else ""
            yield _Out(thing, moment, holds)


def _pressed(moment: Moment, things: dict[str, Material], out: list[_Out]) -> Iterator[_Out]:
    """The plants that harm, left in a hand, a cloth or a bag when their juice is squeezed out.

    One that came out of its bath before is told of there, and one whose bag hangs in a bath
    comes out of it with that bag.
    """
    if not moment.node.does.presses_plants:
        return
    bag = moment.after.pots.get(moment.node.bag) if moment.node.bag else None
    inside = bag is not None and bool(bag.within)
    loose = [thing for thing, _ in moment.node.moved]
    held = [] if bag is None or inside else list(bag.matter)
    bath = moment.bath_before
    told = {one.thing for one in out}
    told |= {t for t, c in bath.contents.items() if c.solid} if bath is not None else set()
    for thing in dict.fromkeys((*loose, *held)):
        if thing in things and thing not in told:
            yield _Out(thing, moment, moment.node.bag if thing in held else "")


def _gone(study: Study, moment: Moment, one: _Out) -> bool:
    """Whether a step says what becomes of a plant that is out of its bath."""
    node = moment.node
    if node.does.throws_matter_out and place_said(moment) is not None:
        if one.thing in {thing for thing, _ in node.moved}:
            return True
        if node.bag and node.bag == one.holds:
            return True
    if node.does.empties and _inside(moment, one):
        return True
    again = any(
        thing == one.thing and content.solid
        for bath in moment.after.baths.values()
        for thing, content in bath.contents.items()
    )
    return again or _said_so(study, moment, one)


def _inside(moment: Moment, one: _Out) -> bool:
    """Whether the bag that holds a plant goes away with the bath that it hangs in."""
    bag = moment.before.pots.get(one.holds) if one.holds else None
    return bag is not None and bool(bag.within) and bag.within == moment.node.bath


def _said_so(study: Study, moment: Moment, one: _Out) -> bool:
    """Whether words say where it goes: beside where the liquor goes, or in a note of a step.

    Words that only a note has count where they name a waste point or a heap out of reach: what
    a note says is judged by nobody.
    """
    words, does, step = place_said(moment), moment.node.does, moment.step
    if words is not None and (does.empties or does.lifts_matter):
        placed = [part for part in _parts(words.text) if _a_place(part)]
        if any(does.lifts_matter or _speaks_of(study, one, part) for part in placed):
            return True
    more = (step.note, step.words.text if step.words is not None else "")
    return any(
        _speaks_of(study, one, part)
        and ("waste point" in ways_named(part) or pattern(OUT_OF_REACH).search(part))
        for text in more
        for part in _parts(text)
    )


def _a_place(text: str) -> bool:
    """Whether words in lower case name a place that is known, good or bad."""
    known = ways_named(text) or pattern(REFUSE).search(text) or pattern(OUT_OF_REACH).search(text)
    return bool(known)


def _parts(text: str) -> list[str]:
    return [part for part in pattern(r"[;.:()]|\bbut\b").split(text.lower()) if part.strip()]


def _speaks_of(study: Study, one: _Out, part: str) -> bool:
    names = {plant.name for plant in plants(study, one.thing)} | {study.called(one.thing).lower()}
    return bool(pattern(SOLIDS).search(part)) or any(name in part for name in names)


RULES = (spent_plant_goes_nowhere,)
