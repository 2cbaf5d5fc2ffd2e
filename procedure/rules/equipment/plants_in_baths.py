"""Equipment: plants in a bath, loose or in a bag, and where they go in the end."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import listed, say
from procedure.flow.graph import Flow
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.safety.places_for_waste import SOLIDS, place_said, ways_named
from procedure.trace import BathState, Moment
from procedure.vocabulary.thresholds import threshold

FAMILY = "equipment"


def _is_plant(flow: Flow, thing: str) -> bool:
    """True for what stays in a bath as pieces: no powder, no extract, nothing for a vat."""
    found = flow.materials.get(thing)
    if found is None:
        return False
    made = found[0]
    if made.entry is None or made.entry.table != "dyestuffs" or "dyestuff" not in made.roles:
        return False
    fine = {"ground", "solution"} & set(made.words) or made.part in _MELTS_AWAY
    leaves = made.state == "fresh"  # of woad, which is a lump of indigo else
    whole = made.entry.facts.get("dye_class") != "vat" or leaves
    whole = whole and "extract" not in made.called
    return whole and not fine and bool(made.state or made.part)


# Forms of a dyestuff of which no pieces are left in a bath.
_MELTS_AWAY = frozenset(("powder", "extract", "lumps", "resin"))


def _loose(flow: Flow, bath: BathState | None) -> list[str]:
    """The plants that are loose in a bath."""
    contents = bath.contents.items() if bath is not None else ()
    return [t for t, c in contents if c.solid and not c.bag and _is_plant(flow, t)]


def _in_bag(bath: BathState | None, bag: str) -> bool:
    return bath is not None and any(content.bag == bag for content in bath.contents.values())


@rule("plants-left-loose", level="warning", family=FAMILY, source="common practice")
def plants_left_loose(study: Study) -> Iterator[Found]:
    """Plants that were boiled out, left loose in the bath with the fibre, and never taken out.

    They catch in the yarn and stain it in patches, go on giving what is not wanted, and
    go down the drain with the liquor. Strain the bath before the fibre goes in, or put the
    plants into a bag.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        strain gold-bath
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for emptied, first in _dyed_among_plants(study):
        plants = _loose(study.flow, first.bath_before) or _loose(study.flow, emptied.bath_before)
        yield _left(study, first, plants)


def _dyed_among_plants(study: Study) -> Iterator[tuple[Moment, Moment]]:
    """Where a bath goes with plants that were boiled out, and where fibre went in beside them."""
    hot = threshold("plants boiled out").value
    boiled: set[str] = set()
    met: dict[str, Moment] = {}
    for moment in study.moments:
        bath = moment.node.bath
        does = moment.node.does
        made = does.makes_bath and not moment.entering
        loose = _loose(study.flow, moment.bath_after if made else moment.bath_before)
        if not loose:
            met.pop(bath, None)
            continue
        if moment.node.does.empties or moment.node.does.stores:
            first = met.pop(bath, None)
            if first is not None:
                yield moment, first
        elif moment.entering and bath in boiled:
            met.setdefault(bath, moment)
        elif not moment.node.present and moment.peak is not None and moment.peak.low >= hot:
            boiled.add(bath)


def _left(study: Study, moment: Moment, loose: list[str]) -> Found:
    return at_node(
        moment.node,
        say(
            "{plant} is still loose in {bath} when the fibre goes in, and is never strained out.",
            plant=study.thing(loose[0]),
            bath=study.thing(moment.node.bath),
        ),
        say(
            "Strain it out first: “strain {bath} through ...”, or put the plants into a bag.",
            bath=study.thing(moment.node.bath),
        ),
    )


# Where plants may go with the liquor that they are in.
_WITH_PLANTS = frozenset(("compost", "ground", "waste point", "fodder", "one vessel"))


@rule("plants-go-with-the-bath", level="note", family=FAMILY, source="common practice")
def plants_go_with_the_bath(study: Study) -> Iterator[Found]:
    """Plants that are still loose in a bath when it is poured away, and are never taken out.

    They block the drain, and nobody is told where they go. What is thrown on the compost, or
    brought to a waste point, may take its plants with it.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        strain gold-bath
        discard gold-bath to "foul drain"
    """
    told = {one.node.id for one, _ in _dyed_among_plants(study)}
    seen: set[int] = set()
    for moment in study.moments:
        node, objects = moment.node, moment.step.objects
        if (
            not node.does.empties
            or node.id in seen
            or (objects and objects[0].quantity is not None)
        ):
            continue
        loose = _loose(study.flow, moment.bath_before)
        if not loose or node.id in told or _goes_with_them(moment):
            continue
        seen.add(node.id)
        yield at_node(
            node,
            say(
                "{Bath} is poured away with {plants} still loose in it.",
                bath=study.thing(node.bath),
                plants=listed(study.thing(one) for one in loose),
            ),
            say("Take the plants out before: “strain {bath}”.", bath=study.thing(node.bath)),
        )


def _goes_with_them(moment: Moment) -> bool:
    """True where words say where the plants go, or where they may go with the liquor."""
    words = place_said(moment)
    said = [one.text.lower() for one in (words,) if one is not None]
    said += [moment.step.note.lower()] if moment.step.note else []
    return any(
        pattern(SOLIDS).search(text) or _WITH_PLANTS & ways_named(text).keys() for text in said
    )


@rule("bag-left-full", level="note", family=FAMILY, source="common practice")
def bag_left_full(study: Study) -> Iterator[Found]:
    """A bag of plants that is never emptied, or that goes away with the bath.

    Wet plants in a bag rot and stain; and who clears up does not know where they go.

    Trips:
        equipment
          bag: net bag, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          fill bag with onion 50 g
          gold-bath: prepare in kettle with water 3 L
          lower bag into gold-bath
          dye yarn in gold-bath at 85 °C for 1 h
          take bag out of gold-bath
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        equipment
          bag: net bag, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          fill bag with onion 50 g
          gold-bath: prepare in kettle with water 3 L
          lower bag into gold-bath
          dye yarn in gold-bath at 85 °C for 1 h
          take bag out of gold-bath
          empty bag to "compost"
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    filled: dict[str, Moment] = {}
    out: dict[str, frozenset[str]] = {}  # what bags hold that are in no bath
    for moment in study.moments:
        bag = moment.node.bag
        state = moment.after.pots.get(bag)
        if state is not None:
            out.pop(bag, None)
            if not state.within:
                out[bag] = frozenset(state.matter)
        if bag and moment.node.does.bags:
            held = moment.after.pots.get(bag)
            if held is not None and held.matter:
                filled.setdefault(bag, moment)
            else:
                filled.pop(bag, None)
        if moment.node.does.throws_matter_out:  # compost the madder: no bag holds it now
            thrown = {thing for thing, _ in moment.node.moved}
            for one in [one for one in filled if out.get(one, frozenset("?")) <= thrown]:
                del filled[one]
        if moment.node.does.empties:
            yield from _gone_with_bath(study, moment, filled)
    for bag, moment in filled.items():
        yield at_node(
            moment.node,
            say("{bag} is filled here and never emptied.", bag=study.thing(bag)),
            say("Say where the plants go: “empty {bag} to ...”.", bag=study.thing(bag)),
        )


def _gone_with_bath(study: Study, moment: Moment, filled: dict[str, Moment]) -> Iterator[Found]:
    for bag in [bag for bag in filled if _in_bag(moment.bath_before, bag)]:
        del filled[bag]
        yield at_node(
            moment.node,
            say(
                "{bag} is still in {bath} when it is thrown away.",
                bag=study.thing(bag),
                bath=study.thing(moment.node.bath),
            ),
            say("Take it out and empty it first: “take {bag} out”.", bag=study.thing(bag)),
        )


@rule("bag-in-no-bath", level="error", family=FAMILY, source="the language reference")
def bag_in_no_bath(study: Study) -> Iterator[Found]:
    """A bag that is taken out of a bath, and is in none.

    A step is missing or another bag is meant.

    Trips:
        equipment
          bag: net bag, for dyeing only
        steps
          fill bag with onion 50 g
          take bag out
          empty bag to "compost"
    Cure:
        equipment
          bag: net bag, for dyeing only
        steps
          fill bag with onion 50 g
          gold-bath: prepare in kettle with water 3 L
          lower bag into gold-bath
          take bag out of gold-bath
          empty bag to "compost"
          discard gold-bath to "foul drain"
    """
    # A bag that was put into what nobody knows is somewhere; the name has its own finding.
    lost = {
        slip.node.bag for slip in study.flow.slips if slip.node and slip.kind != "bag in no bath"
    }
    for slip in study.slips("bag in no bath"):
        if slip.node is not None and slip.node.bag not in lost:
            yield at_node(
                slip.node,
                say("{bag} is in no bath at this step.", bag=slip.name.text),
                say("Put it in first: “lower {bag} into ...”.", bag=slip.name.text),
            )


@rule("bag-taken-out-soon", level="note", family=FAMILY, source="common practice")
def bag_taken_out_soon(study: Study) -> Iterator[Found]:
    """A bag of plants that is in the bath for only some minutes.

    Most plants want half an hour or more of heat to give their colour.

    Trips:
        equipment
          bag: net bag, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          fill bag with onion 50 g
          gold-bath: prepare in kettle with water 3 L
          lower bag into gold-bath
          dye yarn in gold-bath at 85 °C for 2 min
          take bag out of gold-bath
          empty bag to "compost"
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        equipment
          bag: net bag, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          fill bag with onion 50 g
          gold-bath: prepare in kettle with water 3 L
          lower bag into gold-bath
          dye yarn in gold-bath at 85 °C for 1 h
          take bag out of gold-bath
          empty bag to "compost"
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    short = threshold("plants in a bath").value
    passed = dict.fromkeys(study.flow.pots)
    inside: dict[str, object] = {}
    stayed = dict.fromkeys(passed, threshold("plants in a bath").value * 0)
    sure = dict.fromkeys(passed, True)
    for moment in study.moments:
        does, bag = moment.node.does, moment.node.bag
        for one, bath in inside.items():
            if moment.node.bath == bath and moment.minutes is not None:
                stayed[one] += moment.minutes.high
            elif moment.node.bath == bath and (does.takes_time or does.keeps_heat or does.cools):
                sure[one] = False
        if does.bag_in and moment.node.bath:
            inside[bag] = moment.node.bath
        elif does.bag_out and inside.pop(bag, None) is not None:
            if sure[bag] and stayed[bag] < short:
                yield at_node(
                    moment.node,
                    say("{bag} comes out before its plants have given much.", bag=study.thing(bag)),
                    "Leave it in the hot bath for longer.",
                )
            stayed[bag], sure[bag] = short * 0, True


RULES = (
    plants_left_loose,
    plants_go_with_the_bath,
    bag_left_full,
    bag_in_no_bath,
    bag_taken_out_soon,
)
