"""What steps do with fibre: which lots, into which bath or water, out of which; split and join."""

from __future__ import annotations

from procedure.flow.clauses import missing_clauses, missing_object
from procedure.flow.graph import WATER, LotOrigin
from procedure.flow.names import (
    bath_of,
    lot_of,
    new_bath,
    new_bath_by_its_pot,
    new_lot,
    slip_if_empty,
    slip_if_full,
    unnamed,
)
from procedure.flow.places import GONE, Live
from procedure.flow.walk import Here
from procedure.model import Item, Name, Procedure, Step


def fibre(here: Here, step: Step) -> None:
    """Lots of fibre, with the bath or water that they meet or come out of."""
    node = here.node
    missing_object(here, step, "the fibre")
    node.lots = _lots(here, step)
    _into(here, step)
    here.edge("lot", *node.lots)
    if node.bath:
        here.edge("bath", node.bath)
        for lot in node.lots:
            treats = here.flow.treats.setdefault(node.bath, [])
            if lot not in treats:
                treats.append(lot)
    elif node.pot:
        here.edge("pot", node.pot)
    for lot in node.lots:
        if node.does.fibre_out_after and not (node.does.stays_in_its_bath and node.bath):
            leave(here, lot)
        elif node.bath:
            if here.places.bath_of.get(lot, "") not in ("", node.bath):
                leave(here, lot)
            here.places.put(lot, node.bath)


def _lots(here: Here, step: Step) -> tuple[str, ...]:
    lots: list[str] = []
    for item in step.objects:
        lot = lot_of(here, item)
        if lot is None:
            continue
        if lot in lots:
            assert item.name is not None
            here.slip("lot twice", item.name)
            continue
        lots.append(lot)
    return tuple(lots)


def _into(here: Here, step: Step) -> None:
    """The bath or pot that the fibre goes into."""
    does = here.node.does
    into: Item | None = step.within
    if into is None and does.bath_after_into and step.into:
        into = step.into[0]
    if into is None or does.takes_out:
        _laid_into(here, step)
    if does.takes_out and step.into:
        into = None
    if into is None:
        missing_clauses(here, step)
    elif into.name is not None:
        _into_vessel(here, step, into.name)
    elif into.words is None:
        here.slip("wrong kind", unnamed(into), wanted="a bath or a pot")


def _laid_into(here: Here, step: Step) -> None:
    """What is squeezed or lifted into something: that must be a thing that there is."""
    for item in step.into if here.node.does.in_air else ():
        if item.name is None:
            continue
        pot = here.flow.pots.get(here.scope.names.get(item.name.text, ""))
        if item.name.text not in here.scope.names:
            bath_of(here, item.name, "a bath, a pot or a bag")
        elif here.node.does.presses and pot is not None and pot[0].bag:
            here.slip("wrong kind", item.name, wanted="a bath or a pot, which holds the liquor")


def _into_vessel(here: Here, step: Step, name: Name) -> None:
    node, does = here.node, here.node.does
    found = bath_of(here, name, "a bath or a pot")
    if found is None:
        return
    node.bath, node.pot = found
    if node.bath and does.own_water and here.scope.names.get(name.text) in here.flow.pots:
        slip_if_full(here, node.pot, name)
        node.bath = ""
    if does.in_air and not node.bath and not does.takes_out:
        return  # fibre lies in a bag, a box or an empty pot
    node.own_water = not node.bath
    if not (node.bath or does.own_water or does.takes_out or does.makes_lots):
        _bath_of_its_own(here, step, name)


def _bath_of_its_own(here: Here, step: Step, pot: Name) -> None:
    """Fibre goes into a pot with nothing in it: the step makes the bath itself."""
    if not any(thing == WATER for thing, _ in here.node.materials):
        slip_if_empty(here, here.node.pot, pot)
        return
    if step.label is not None:
        new_bath(here, step.label.text)
    else:
        new_bath_by_its_pot(here, pot)
    here.node.makes = (here.node.bath,)


def leave(here: Here, lot: str) -> None:
    """The lot comes out of the bath it was in; that bath gives its next version."""
    bath = here.places.bath_of.get(lot, "")
    if bath and bath != here.node.bath:
        here.edge("bath", bath)
    if bath:
        here.node.left = {**here.node.left, lot: bath}
        here.node.left_either = here.node.left_either or lot in here.places.either_bath
    here.places.put(lot, "")


def split(here: Here, step: Step) -> None:
    """One lot becomes several, which have names of their own from here on."""
    fibre(here, step)
    missing_clauses(here, step)
    if len(here.node.lots) != 1:
        return
    parent = here.node.lots[0]
    made = [lot for item in step.into if (lot := _part(here, parent, item)) is not None]
    if made:
        here.node.makes = tuple(made)
    here.places.live[parent] = Live(GONE, here.node.id, "", "")


def _part(here: Here, parent: str, item: Item) -> str | None:
    """The lot that an item after ``into`` makes; None in a repeat, where it is there already."""
    walk, scope, node = here
    if item.name is None:
        here.slip("wrong kind", unnamed(item), wanted="a new name with its weight")
        return None
    if walk.again:
        return None
    origin = LotOrigin("", "", None, node.id, (parent,), item.quantity, scope.procedure)
    return _named_anew(here, item.name, origin)


def _named_anew(here: Here, name: Name, origin: LotOrigin) -> str:
    """A lot that a step makes. Where another lot has its name that is told, and what is done from
    here on is done with the new one."""
    walk, scope, _ = here
    if _taken(here, name) not in here.flow.lots:
        return new_lot(walk, scope, name.text, origin)
    further = 2
    while f"{scope.prefix}{name.text} ({further})" in here.flow.lots:
        further += 1
    made = new_lot(walk, scope, f"{name.text} ({further})", origin)
    # What was measured by the old lot before still is.
    scope.names = {**scope.names, name.text: made}
    return made


def _taken(here: Here, name: Name) -> str:
    """What has the name already that a new lot is given, which is told; empty where nothing has."""
    taken = here.scope.names.get(name.text, "")
    declared = here.scope.procedure
    things = (here.flow.lots, here.flow.baths, declared.equipment, declared.materials)
    if not any(taken in there for there in things):
        return ""
    here.slip("declared twice", name, _first_of(here, taken))
    return taken


def _first_of(here: Here, thing: str) -> tuple[Procedure, Name]:
    """Where a lot, a bath, a pot or a material is declared, or the step that made it."""
    scope, node = here.scope, here.node
    where = Name(thing, node.step.place)
    declared = scope.procedure.equipment.get(thing) or scope.procedure.materials.get(thing)
    if declared is not None:
        return scope.procedure, declared.name
    if thing in here.flow.baths:
        made = here.flow.nodes[here.flow.baths[thing]]
        return made.procedure, Name(thing, made.step.place)
    first = here.flow.lots[thing]
    if first.node is not None:
        where = Name(thing, here.flow.nodes[first.node].step.place)
    elif first.declared is not None:
        where = first.declared.name
    return first.procedure, where


def join(here: Here, step: Step) -> None:
    """Several lots become one."""
    fibre(here, step)
    walk, scope, node = here
    name = step.named or (step.into[0].name if step.into else None)
    if name is None:
        missing_clauses(here, step)
        return
    for lot in node.lots:
        here.places.live[lot] = Live(GONE, node.id, "", "")
    if not walk.again:
        origin = LotOrigin("", "", None, node.id, node.lots, None, scope.procedure)
        node.makes = (_named_anew(here, name, origin),)
