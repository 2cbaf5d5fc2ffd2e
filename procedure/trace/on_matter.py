"""What becomes of plants and other solids: in a bag, in a bath, strained out, away.

A plant works on a bath while it is there. When its bag comes out, the colour that it gave
stays in the liquor, so its content stays in the bath and is no longer solid. The same bag
lowered again brings nothing new, in whichever bath.
"""

from __future__ import annotations

from collections.abc import Mapping

from procedure.flow.graph import FlowNode
from procedure.quantity.interval import Interval, plus
from procedure.trace import uptake
from procedure.trace.moments import Happening
from procedure.trace.now import Now
from procedure.trace.on_fibre import Handler
from procedure.trace.states import NOTHING, BathState, Content, Residue

Matter = Mapping[str, Interval | None]


def _with(had: Matter, more: Matter) -> Matter:
    """What a bag holds, with more put in."""
    made = dict(had)
    for thing, grams in more.items():
        made[thing] = plus(made[thing], grams) if thing in made else grams
    return made


def _fill(now: Now, it: Happening) -> None:
    state = now.pots.get(it.node.bag)
    if state is None:
        return
    more = {
        thing: uptake.grams_of(now.flow, thing, amount)
        for thing, _, amount in it.amounts
        if thing in now.flow.materials
    }
    state = state._replace(matter=_with(state.matter, more), fresh=_with(state.fresh, more))
    now.pots[it.node.bag] = state
    if state.within in now.baths:
        _into_bath(now, it.node, state.within)


def _into_bath(now: Now, node: FlowNode, into: str) -> None:
    """What the step's bag holds is in that bath: what no bath has had yet is new to it."""
    held = now.pots[node.bag]
    bath = now.baths[into]
    contents = dict(bath.contents)
    for thing, grams in held.matter.items():
        had = contents.get(thing)
        new = thing in held.fresh
        if had is None:
            left = grams if new else None  # how much colour is left in it nobody knows
            made = Content(grams, node.id, "", left=left, again=not new)
        else:
            made = had._replace(node=node.id, path="")
            if new:
                more = held.fresh[thing]
                made = Content(plus(had.grams, more), node.id, "", left=plus(had.left, more))
        contents[thing] = made._replace(solid=True, bag=node.bag)
    now.baths[into] = bath._replace(contents=contents)
    now.pots[node.bag] = held._replace(fresh=NOTHING, within=into)
    for lot in node.present:
        now.meet(lot, now.baths[into], node)


def lower(now: Now, it: Happening) -> None:
    """A bag goes into the bath of its step, and its plants with it."""
    node = it.node
    state = now.pots.get(node.bag)
    if state is None or node.bath not in now.baths or state.within == node.bath:
        return
    if state.within in now.baths:
        now.baths[state.within] = _freed(now.baths[state.within], node.bag)
    _into_bath(now, node, node.bath)


def _take_out(now: Now, it: Happening) -> None:
    state = now.pots.get(it.node.bag)
    if state is None:
        return
    now.pots[it.node.bag] = state._replace(within="")
    bath = now.baths.get(state.within)
    if bath is not None:
        now.baths[state.within] = _freed(bath, it.node.bag)


def _freed(bath: BathState, bag: str) -> BathState:
    """The bath with only the colour of what was in that bag."""
    contents = {
        thing: content._replace(solid=False, bag="") if content.bag == bag else content
        for thing, content in bath.contents.items()
    }
    return bath._replace(contents=contents)


def _empty(now: Now, it: Happening) -> None:
    state = now.pots.get(it.node.bag)
    if state is None:
        return
    if state.within:
        _take_out(now, it)
    now.pots[it.node.bag] = now.pots[it.node.bag]._replace(matter=NOTHING, fresh=NOTHING)


def _lift_out(now: Now, it: Happening) -> None:
    bath = now.baths.get(it.node.bath)
    if bath is None:
        return
    out = {thing for thing, _ in it.node.moved}
    contents = {
        thing: content._replace(solid=False) if thing in out else content
        for thing, content in bath.contents.items()
    }
    loose = any(content.solid and not content.bag for content in contents.values())
    now.baths[it.node.bath] = bath._replace(contents=contents, solids=bath.solids and loose)


def _press_out(now: Now, it: Happening) -> None:
    """What is squeezed stays as solid as it was in a bag; loose plants are in hand, or in a cloth.

    Their juice is in the bath that it runs into, and soils an empty pot.
    """
    node = it.node
    loose = {
        thing: uptake.grams_of(now.flow, thing, amount)
        for thing, _, amount in it.amounts
        if thing in {moved for moved, _ in node.moved}
    }
    bag = now.pots.get(node.bag)
    if bag is not None:
        now.pots[node.bag] = bag = bag._replace(matter=_with(bag.matter, loose))
    pressed = {**(bag.matter if bag is not None else NOTHING), **loose}
    bath = now.baths.get(node.bath)
    if bath is not None:
        now.baths[node.bath] = _juice_in(bath, node, loose, pressed)
    elif (pot := now.pots.get(node.pot)) is not None:
        left = {thing: Residue(thing, node.id, "", "full") for thing in pressed}
        residues = {**pot.residues, **left}
        now.pots[node.pot] = pot._replace(residues=residues, full=pot.full | left.keys())


def _juice_in(bath: BathState, node: FlowNode, loose: Matter, pressed: Matter) -> BathState:
    """A bath with the juice of what is pressed into it; what was loose in it is in hand now."""
    contents = dict(bath.contents)
    for thing, grams in pressed.items():
        had = contents.get(thing)
        if had is None:
            contents[thing] = Content(grams, node.id, "", solid=False, left=grams)
        elif thing in loose and not had.bag:
            contents[thing] = had._replace(solid=False)
    still = any(content.solid and not content.bag for content in contents.values())
    return bath._replace(contents=contents, solids=bath.solids and still)


def held_back(now: Now, node: FlowNode, bath: BathState) -> None:
    """What a bath is strained through holds its loose plants from here on."""
    state = now.pots.get(node.bag)
    if state is not None:
        loose = {t: c.grams for t, c in bath.contents.items() if c.solid and not c.bag}
        now.pots[node.bag] = state._replace(matter=_with(state.matter, loose))


def _nothing(now: Now, it: Happening) -> None:
    """A bag is moved about in its bath."""


HANDLERS: dict[str, Handler] = {
    "fill bag": _fill,
    "lower bag": lower,
    "move bag": _nothing,
    "take out bag": _take_out,
    "empty bag": _empty,
    "lift out": _lift_out,
    "press out": _press_out,
}
"""By ``trace`` of ``effects.csv``: what a step does to bags and solids."""
