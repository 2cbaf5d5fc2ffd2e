"""Equipment: what a pot or a tool leaves in the bath of what it held before."""

from collections.abc import Iterator

from procedure.facts.liquor import (
    Stuff,
    declared,
    is_dyestuff,
    kinds_of,
    meetings,
    met_metals,
    metal_of,
    metals_in,
    pot_of,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import listed, say
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.trace import BathState, LotState, Moment, Residue
from procedure.vocabulary.thresholds import Relation, related

FAMILY = "equipment"


class _Spoilt(NamedTuple):
    """A bath that what its pot still held spoils for a lot."""

    moment: Moment
    lot: str
    residue: Residue
    relation: Relation


def _left_by(one: Stuff) -> str:
    """What a material leaves in a pot, as the relations have it."""
    metal = metal_of(one.entry)
    if metal:
        return metal
    if is_dyestuff(one):
        return "dyestuff"
    return "tannin" if "tannin" in one.made.roles else ""


def _met(study: Study, lot: LotState, one: Stuff, left: str) -> bool:
    """True where a lot has taken up the same already, so that a trace does it no harm."""
    if one.thing in lot.dyes or one.thing in lot.mordants:
        return True
    if left == "tannin":
        return any("tannin" in other.made.roles for other in stuff(study, lot.mordants))
    return left in met_metals(study, lot)


def _spoils(study: Study, bath: BathState, one: Stuff, residue: Residue) -> Relation | None:
    """How what is left in a pot spoils a bath, or None where it does not."""
    left = _left_by(one)
    if not left or one.thing in bath.contents:
        return None
    # Only iron does harm in the least trace.
    if left != "iron" and residue.left != "full":
        return None
    if left in metals_in(study, bath.contents):
        return None
    if left == "tannin" and any("tannin" in o.made.roles for o in stuff(study, bath.contents)):
        return None
    kinds = kinds_of(study, bath)
    return next((rel for rel in related("spoils", left) if rel.second in kinds), None)


def _of_iron(study: Study) -> frozenset[str]:
    """The materials that leave iron, which does harm in the least trace."""
    every = stuff(study, study.flow.materials)
    return frozenset(one.thing for one in every if _left_by(one) == "iron")


def _spoilt(study: Study) -> Iterator[_Spoilt]:
    of_iron = study.once(_of_iron)
    for moment, lot, state, bath in meetings(study):
        if not bath.traces or bath.came < 0:
            continue
        # Of hundreds that a pot once held few still do harm.
        traces = [t for t, r in bath.traces.items() if r.left == "full" or t in of_iron]
        for one in stuff(study, traces):
            residue = bath.traces[one.thing]
            relation = _spoils(study, bath, one, residue)
            if relation is None:
                continue
            # Plant matter upsets a vat whatever the fibre has met.
            if relation.second != "vat" and _met(study, state, one, relation.first):
                continue
            yield _Spoilt(moment, lot, residue, relation)


@rule("pot-not-cleaned", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def pot_not_cleaned(study: Study) -> Iterator[Found]:
    """A pot that goes uncleaned from one bath to another that it spoils.

    The least trace of iron dulls reds, yellows and oranges; copper, tin, chrome, tannin
    and what is left of another dye shift the colour too.

    Trips:
        wet out yarn, silk in tub with water 5 L for 1 h
        grey-bath: prepare in kettle with water 6 L, iron 4 g
        modify silk in grey-bath at 60 °C for 20 min
        rinse silk in tub with water 5 L
        discard grey-bath to "foul drain"
        gold-bath: prepare in kettle with water 6 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn, silk in tub with water 5 L for 1 h
        grey-bath: prepare in kettle with water 6 L, iron 4 g
        modify silk in grey-bath at 60 °C for 20 min
        rinse silk in tub with water 5 L
        discard grey-bath to "foul drain"
        clean kettle, tub
        gold-bath: prepare in kettle with water 6 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for spoilt in _spoilt(study):
        bath = spoilt.moment.bath_after
        assert bath is not None
        node = study.node(bath.came)
        pot, thing = study.thing(bath.pot), study.thing(spoilt.residue.thing)
        scrubbed = spoilt.residue.left == "scrubbed"
        grain = related("holds", _stuff_of(study, bath.pot))
        said = (
            say("{pot} held {thing} and keeps it however it is scrubbed", pot=pot, thing=thing)
            if scrubbed and grain
            else say("{pot} has not been cleaned since it held {thing}", pot=pot, thing=thing)
        )
        yield at_node(
            node,
            say(
                "{said}{way}, and {bath} goes into it: {note}.",
                said=said,
                way=on_way(spoilt.residue.path),
                bath=study.thing(spoilt.moment.node.bath),
                note=spoilt.relation.note,
            ),
            "Keep another pot for it."
            if scrubbed
            else say("Clean it first: “clean {pot}”.", pot=pot),
            related=(
                *study.at(spoilt.residue.node, say("It held {thing} from here.", thing=thing)),
                *study.at(
                    spoilt.moment.node.id,
                    say("{lot} goes into the bath here.", lot=study.thing(spoilt.lot)),
                ),
            ),
            source=spoilt.relation.source,
        )
    yield from _iron_in_water(study)


def _stuff_of(study: Study, pot: str) -> str:
    thing = pot_of(study, pot)
    return thing.metal.name if thing is not None and thing.metal is not None else ""


def _iron_in_water(study: Study) -> Iterator[Found]:
    """Water for soaking or rinsing that is poured onto what is left of an iron bath."""
    for moment in study.moments:
        node = moment.node
        before = moment.before.pots.get(node.pot)
        if not node.own_water or node.bath or before is None:
            continue
        for one in stuff(study, before.residues):
            residue = before.residues[one.thing]
            if metal_of(one.entry) != "iron" or residue.left != "full":
                continue
            for lot in node.lots:
                state = moment.before.lots.get(lot)
                if state is None or _met(study, state, one, "iron"):
                    continue
                relation = related("spoils", "iron")[0]
                yield at_node(
                    node,
                    say(
                        "{pot} has not been cleaned since it held {thing}{way}, and {lot} "
                        "goes into it: {note}.",
                        pot=study.thing(node.pot),
                        thing=study.thing(one.thing),
                        way=on_way(residue.path),
                        lot=study.thing(lot),
                        note=relation.note,
                    ),
                    say("Clean it first: “clean {pot}”.", pot=study.thing(node.pot)),
                    related=study.at(
                        residue.node, say("It held {thing} here.", thing=study.thing(one.thing))
                    ),
                    source=relation.source,
                )


@rule("iron-on-the-tool", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def iron_on_the_tool(study: Study) -> Iterator[Found]:
    """A spoon, a stick, a sieve or a bag that goes from an iron bath into one that iron spoils.

    The least trace of iron dulls reds, yellows and oranges, and a wooden spoon is full of it.

    Trips:
        equipment
          spoon: wooden spoon, for dyeing only
        steps
          wet out yarn, silk in tub with water 5 L for 1 h
          iron-bath: prepare in pan with water 6 L, iron 2 g
          stir iron-bath with spoon
          modify silk in iron-bath at 60 °C for 20 min
          gold-bath: prepare in kettle with water 6 L, onion 50 g
          stir gold-bath with spoon
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          rinse silk in tub with water 5 L
          discard gold-bath, iron-bath to "foul drain"
    Cure:
        equipment
          spoon: wooden spoon, for dyeing only
        steps
          wet out yarn, silk in tub with water 5 L for 1 h
          iron-bath: prepare in pan with water 6 L, iron 2 g
          stir iron-bath with spoon
          modify silk in iron-bath at 60 °C for 20 min
          clean spoon
          gold-bath: prepare in kettle with water 6 L, onion 50 g
          stir gold-bath with spoon
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          rinse silk in tub with water 5 L
          discard gold-bath, iron-bath to "foul drain"
    """
    soiled: dict[str, tuple[int, Stuff]] = {}
    for moment in study.moments:
        for tool in moment.node.cleaned:
            soiled.pop(tool, None)
        tools = _tools(study, moment)
        bath = (moment.bath_after or moment.bath_before) if tools else None
        if bath is None:
            continue
        iron = next((one for one in stuff(study, bath.contents) if _left_by(one) == "iron"), None)
        for tool in tools:
            if iron is not None:
                soiled[tool] = moment.node.id, iron
                continue
            relation = _dulled(study, bath, soiled[tool][1]) if tool in soiled else None
            if relation is None:
                continue
            node, left = soiled.pop(tool)
            yield at_node(
                moment.node,
                say(
                    "{tool} has not been cleaned since it was in {thing}, and goes into {bath}: "
                    "{note}.",
                    tool=study.thing(tool),
                    thing=study.thing(left.thing),
                    bath=study.thing(moment.node.bath),
                    note=relation.note,
                ),
                say(
                    "Clean it first: “clean {tool}”, or keep another for iron.",
                    tool=study.thing(tool),
                ),
                related=study.at(node, "It was in the iron here."),
                source=relation.source,
            )


def _tools(study: Study, moment: Moment) -> list[str]:
    """The bags and tools that a step has in a bath, by the plan's names."""
    node, step = moment.node, moment.step
    named = [item.name.text for item in (*step.objects, *step.using) if item.name is not None]
    named += [step.through.text] if step.through is not None else []
    known = [node.bag, *(node.names.get(name, "") for name in named)]
    return [
        name
        for name in dict.fromkeys(known)
        if name in study.flow.pots and not study.flow.pots[name][0].holds
    ]


def _dulled(study: Study, bath: BathState, iron: Stuff) -> Relation | None:
    """How a trace of iron spoils what a bath gives the fibre that ever goes into it."""
    if "iron" in metals_in(study, bath.contents):
        return None
    kinds = kinds_of(study, bath)
    relation = next((rel for rel in related("spoils", "iron") if rel.second in kinds), None)
    clean = any(
        other.came == bath.came and not _met(study, state, iron, "iron")
        for _, _, state, other in meetings(study)
    )
    return relation if clean else None


@rule("pot-not-rinsed", level="note", family=FAMILY, source="common practice")
def pot_not_rinsed(study: Study) -> Iterator[Found]:
    """A pot that goes from one bath to the next without a word on cleaning it.

    What is left may do no harm here; a reader cannot tell whether it was meant to stay.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 6 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        gold-bath: prepare in kettle with water 6 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 6 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        clean kettle
        gold-bath: prepare in kettle with water 6 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    spoilt = {one.moment.bath_after.came for one in _spoilt(study) if one.moment.bath_after}
    for moment in study.moments:
        bath = moment.bath_after
        if bath is None or bath.came != moment.node.id or bath.came in spoilt:
            continue
        left = [
            one.thing
            for one in stuff(study, bath.traces)
            if bath.traces[one.thing].left == "full" and one.thing not in bath.contents
        ]
        if left:
            names = listed(study.thing(thing) for thing in left)
            pot = study.thing(bath.pot)
            yield at_node(
                moment.node,
                say(
                    "{pot} held {names} before, and nothing is said of cleaning it.",
                    pot=pot,
                    names=names,
                ),
                say("Say it where it is cleaned: “clean {pot}”.", pot=pot),
                related=study.at(bath.traces[left[0]].node, "It held that from here."),
            )


@rule("pot-left-dirty", level="note", family=FAMILY, source="common practice")
def pot_left_dirty(study: Study) -> Iterator[Found]:
    """A pot of which nobody says that it is cleaned at the end.

    Whoever takes it next does not know what it held.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
        clean kettle
    """
    kept = {study.trace.final.baths[bath].pot for bath in _kept(study)}
    for pot, state in study.trace.final.pots.items():
        left = [
            one.thing
            for one in stuff(study, state.residues)
            if state.residues[one.thing].left == "full" and _left_by(one)
        ]
        if not left or pot in kept:
            continue
        # The last that was held; of several at one step, the same one every time.
        residue = max((state.residues[thing] for thing in left), key=lambda r: (r.node, r.thing))
        yield at_node(
            study.node(residue.node),
            say(
                "{pot} held {thing}, and nothing is said of cleaning it afterwards.",
                pot=study.thing(pot),
                thing=study.thing(residue.thing),
            ),
            say("Say it at the end: “clean {pot}”.", pot=study.thing(pot)),
            related=declared(study, pot, "It is declared here."),
        )


def _kept(study: Study) -> list[str]:
    """The baths that are kept for another procedure."""
    names = [moment.node.bath for moment in study.moments if moment.node.does.stores]
    return [name for name in names if name in study.trace.final.baths]


RULES = (
    pot_not_cleaned,
    iron_on_the_tool,
    pot_not_rinsed,
    pot_left_dirty,
)
