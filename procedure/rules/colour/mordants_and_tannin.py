"""Colour: a dyestuff that needs a mordant meets one, and on cotton tannin with it."""

from __future__ import annotations

from collections.abc import Iterator
from operator import itemgetter

from procedure.facts.liquor import (
    CELLULOSE,
    Meeting,
    Stuff,
    ancestors,
    fact,
    has_role,
    meetings,
    metal_of,
    only_of,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import say
from procedure.flow import FlowNode
from procedure.flow.walk import exclusive
from procedure.rules.rinse import finished
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.trace import LotState, Moment, TakenUp
from procedure.vocabulary.thresholds import related

FAMILY = "colour"


def wants_mordant(study: Study, lot: LotState) -> list[tuple[Stuff, TakenUp]]:
    """The dyestuffs that a lot has met and that hold only on a mordant."""
    return [
        (one, lot.dyes[one.thing])
        for one in stuff(study, lot.dyes)
        if lot.dyes[one.thing].node >= 0  # who dyed it before knows on what
        if fact(one, "mordant") == "needed" and fact(one, "dye_class") == "mordant"
    ]


def _without(study: Study, taken: list[TakenUp], beside: str) -> str | None:
    """The way on which none of these was met ('' for every way), None where there is none."""
    if not taken:
        return ""
    paths = {one.path for one in taken}
    if "" in paths or beside in paths or study.every_way(paths):
        return None
    return "except " + " or ".join(sorted(paths))


@rule("no-mordant", level="warning", family=FAMILY, source="common practice")
def no_mordant(study: Study) -> Iterator[Found]:
    """A dyestuff that holds only on a mordant, on fibre that never meets one.

    The colour is pale and washes out. A mordant may come before the dye, with it or
    after it.

    Trips:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye yarn in weld-bath at 70 °C for 1 h
          rinse yarn in tub with water 5 L
          discard weld-bath to "foul drain"
    Cure:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, alum 12 g
          mordant yarn in alum-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye yarn in weld-bath at 70 °C for 1 h
          rinse yarn in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    """
    for lot, state in finished(study):
        if state.mordanted:
            continue
        mordants = [
            state.mordants[one.thing]
            for one in stuff(study, state.mordants)
            if metal_of(one.entry) or "mordant" in one.made.roles or one.entry is None
        ]
        for one, dye in wants_mordant(study, state):
            path = _without(study, mordants, dye.path)
            if path is None:
                continue
            way = on_way(path or dye.path)
            yield at_node(
                study.node(dye.node),
                say(
                    "{lot} is dyed with {material} and meets no mordant{way}.",
                    lot=study.thing(lot),
                    material=one.named,
                    way=way,
                ),
                "Mordant it first, with alum for example.",
                source=one.entry.facts["source"] if one.entry else "common practice",
            )


@rule("no-tannin", level="warning", family=FAMILY, source="Mairet 1938, ch. X")
def no_tannin(study: Study) -> Iterator[Found]:
    """Cotton or linen that is mordanted without tannin before a dye that needs a mordant.

    Cellulose holds little alum by itself: tannin goes on first and holds it. Aluminium
    acetate, or alum made basic with an alkali, holds without.

    Trips:
        fibre
          cloth: cotton cloth, 100 g, scoured
        steps
          wet out cloth in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, alum 20 g
          mordant cloth in alum-bath at 50 °C for 2 h
          rinse cloth in tub with water 5 L
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye cloth in weld-bath at 70 °C for 1 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    Cure:
        fibre
          cloth: cotton cloth, 100 g, scoured
        steps
          wet out cloth in tub with water 5 L for 1 h
          tannin-bath: prepare in kettle with water 3 L, tannin 5 g
          mordant cloth in tannin-bath at 50 °C for 3 h
          rinse cloth in tub with water 5 L
          discard tannin-bath to "foul drain"
          clean kettle
          alum-bath: prepare in kettle with water 3 L, alum 20 g
          mordant cloth in alum-bath at 50 °C for 2 h
          rinse cloth in tub with water 5 L
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye cloth in weld-bath at 70 °C for 1 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    """
    basic = _made_basic(study)
    for lot, state in finished(study):
        if state.mordanted or not state.mordants:
            continue
        wanting = [f for f in state.fibres if f.facts.get("tannin") == "wanted"]
        if not wanting:
            continue
        metals = [one for one in stuff(study, state.mordants) if metal_of(one.entry)]
        if not metals or any(
            _needs_none(one) or (state.mordants[one.thing].node, one.thing) in basic
            for one in metals
        ):
            continue
        tannins = [
            taken
            for one in (*stuff(study, state.mordants), *stuff(study, state.dyes))
            if "tannin" in one.made.roles or "binder" in one.made.roles
            for taken in (state.mordants.get(one.thing) or state.dyes[one.thing],)
        ]
        for one, dye in wants_mordant(study, state):
            path = _without(study, tannins, dye.path)
            if path is None:
                continue
            mixed = not only_of(state, CELLULOSE)
            yield at_node(
                study.node(dye.node),
                say(
                    "{lot} is of {fibre} and is dyed with {material} without tannin{way}.",
                    lot=study.thing(lot),
                    fibre=wanting[0].name,
                    material=one.named,
                    way=on_way(path),
                ),
                "Give it tannin before the mordant, or mordant it with aluminium acetate.",
                related=study.at(state.mordants[metals[0].thing].node, "It is mordanted here."),
                level="note" if mixed else "",
                source=wanting[0].facts.get("source", "common practice"),
            )


def _needs_none(one: Stuff) -> bool:
    return any(rel.second == "tannin" for rel in related("stands in for", one.made.called))


def _made_basic(study: Study) -> set[tuple[int, str]]:
    """The mordants that fibre met beside an alkali, by step; these hold on cotton by themselves."""
    found = set()
    for moment in study.moments:
        bath = moment.bath_after
        if bath is not None and has_role(study, bath.contents, "alkali", "buffer", "binder"):
            found |= {(moment.node.id, thing) for thing in bath.contents}
    return found


@rule("mordanted-after", level="warning", family=FAMILY, source="common practice")
def mordanted_after(study: Study) -> Iterator[Found]:
    """Fibre that is dyed first and meets its alum afterwards.

    A dyestuff that holds only on a mordant goes loosely onto bare fibre, and most of it comes
    off in the alum bath. Chrome, copper, iron and tin, and aluminium acetate on silk, are
    used after the dye by rights, and so is what is in the dye bath itself.

    Trips:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye yarn in weld-bath at 70 °C for 1 h
          rinse yarn in tub with water 5 L
          alum-bath: prepare in kettle with water 3 L, alum 12 g
          mordant yarn in alum-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    Cure:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, alum 12 g
          mordant yarn in alum-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye yarn in weld-bath at 70 °C for 1 h
          rinse yarn in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    """
    for lot, state in finished(study):
        alums = [one for one in stuff(study, state.mordants) if _holds(one)]
        if state.mordanted or any(metal_of(one.entry) != "aluminium" for one in alums):
            continue
        if not alums or any(_acetate(one) for one in alums):
            continue
        wanted = {one.thing: one for one, _ in wants_mordant(study, state)}
        own = _met_by(study, lot) if wanted else []
        for moment, name, before, bath in own:
            dyes = [wanted[thing] for thing in bath.contents if thing in wanted]
            if not dyes:
                continue
            beside = any(_holds(one) for one in stuff(study, bath.contents))
            met = [before.mordants[one.thing] for one in alums if one.thing in before.mordants]
            path = None if beside or before.mordanted else _without(study, met, "")
            later = next((at for at in _alum_after(study, moment, own, alums)), None)
            if path is None or later is None:
                continue  # on another way of a choice it may be otherwise
            yield at_node(
                moment.node,
                say(
                    "{lot} is dyed with {material} here and mordanted only afterwards{way}.",
                    lot=study.thing(name),
                    material=dyes[0].named,
                    way=on_way(path),
                ),
                "Mordant it first, and dye it then.",
                related=study.at(later, "It is mordanted here."),
            )
            break


def _holds(one: Stuff) -> bool:
    """True of what fibre takes up as a mordant, and of what is not known."""
    return bool(metal_of(one.entry)) or "mordant" in one.made.roles or one.entry is None


def _met_by(study: Study, lot: str) -> list[Meeting]:
    """Every time that a lot, or one that it comes of, goes into a bath, in their order."""
    by_lot = study.once(_by_lot)
    found = [one for name in ancestors(study, lot) | {lot} for one in by_lot.get(name, ())]
    return [meeting for _, meeting in sorted(found, key=itemgetter(0))]


def _by_lot(study: Study) -> dict[str, list[tuple[int, Meeting]]]:
    found: dict[str, list[tuple[int, Meeting]]] = {}
    for at, meeting in enumerate(meetings(study)):
        found.setdefault(meeting[1], []).append((at, meeting))
    return found


def _alum_after(study: Study, dye: Moment, own: list[Meeting], alums: list[Stuff]) -> Iterator[int]:
    """The steps after a dye at which a lot goes into one of these mordants, on the same way."""
    things = {one.thing for one in alums}
    ways = study.once(_ways)
    here = ways.get(dye.node.id, ())
    late = False
    for moment, _, _, bath in own:
        apart = exclusive(here, ways.get(moment.node.id, ()))
        if late and not apart and not things.isdisjoint(bath.contents):
            yield moment.node.id
        late = late or moment is dye


def _ways(study: Study) -> dict[int, tuple[tuple[int, int], ...]]:
    """The ways of choices that each step is on: the number of the choice, and which way."""
    found: dict[int, tuple[tuple[int, int], ...]] = {}

    def note(nodes: list[FlowNode], on: tuple[tuple[int, int], ...]) -> None:
        for node in nodes:
            found[node.id] = on
            for at, inner in enumerate(node.inner):
                more = ((node.id, at),) if inner.kind == "way" else ()
                note([inner], (*on, *more))

    note(study.flow.top, ())
    return found


def _acetate(one: Stuff) -> bool:
    """True of an acetate of alumina, which is padded or dipped on after the dye as well."""
    return one.entry is not None and "acetate" in one.entry.name


RULES = (
    no_mordant,
    mordanted_after,
    no_tannin,
)
