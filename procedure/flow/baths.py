"""What steps do with baths: make them, add to them, move, keep and empty them."""

from __future__ import annotations

from procedure.flow.clauses import missing_clauses, missing_object
from procedure.flow.fibre import leave
from procedure.flow.graph import WATER
from procedure.flow.names import (
    ANOTHER_BATH,
    ONE_BATH,
    base_of,
    bath_of,
    free_pot,
    lot_of,
    new_bath,
    new_bath_by_its_pot,
    resolve,
    slip_if_empty,
    unnamed,
)
from procedure.flow.places import GONE, IN_USE, KEPT, Live
from procedure.flow.walk import Here
from procedure.model import Item, Name, Step
from procedure.vocabulary.everyday import ANY_BATH


def make_bath(here: Here, step: Step) -> None:
    """A bath in a pot, named by the step's label or by the pot."""
    missing_clauses(here, step)
    for item in step.objects:  # a bath has its name in front
        here.slip("wrong kind", item.name or unnamed(item), wanted="a material")
    here.node.pot = free_pot(here, step.within)
    if step.label is not None:
        new_bath(here, step.label.text)
    else:
        new_bath_by_its_pot(here, step.within.name if step.within is not None else None)
    here.node.makes = (here.node.bath,)
    for thing, item in here.node.materials:
        if thing in here.flow.baths and thing in here.places.live and _all_of_it(item):
            name = item.name or base_of(item)
            if name is not None and here.places.live[thing].status == IN_USE:
                _gone(here, name, thing, here.places.live[thing].home)
    if here.node.bag:
        here.edge("matter", here.node.bag)
        here.places.bag_in[here.node.bag] = here.node.bath


# ------------------------------------------------------------------ adding


def add(here: Here, step: Step) -> None:
    """Materials, water, other baths or fibre go into a bath."""
    node = here.node
    missing_clauses(here, step)
    missing_object(here, step, "what is added")
    if _into_an_empty_pot(here, step):
        return
    lots: list[str] = []
    moved: list[tuple[str, Item]] = []
    for item in step.objects:
        name = item.name or base_of(item)
        if name is not None:
            _added(here, item, name, lots, moved)
        elif item.words is None:
            here.slip("wrong kind", unnamed(item), wanted="a material")
    node.moved, node.lots = tuple(moved), tuple(lots)
    if step.to is None or step.to.name is None or not _acts_on(here, step.to.name):
        return
    here.edge("bath", node.bath)
    here.edge("lot", *lots)
    for lot in lots:
        leave(here, lot)
        here.places.put(lot, node.bath)
        here.flow.treats.setdefault(node.bath, []).append(lot)


def _into_an_empty_pot(here: Here, step: Step) -> bool:
    """A whole bath that is poured into a pot with nothing in it: the same bath, in that pot."""
    item = step.objects[0] if len(step.objects) == 1 else None
    to = step.to.name if step.to is not None else None
    if item is None or item.name is None or item.quantity is not None or to is None:
        return False
    bath, pot = (here.scope.names.get(name.text, "") for name in (item.name, to))
    if bath in here.flow.pots:
        bath = here.places.occupant(bath)
    elif not bath and item.name.text in ANY_BATH:
        bath = resolve(here, item.name, "a bath") or ""
    empty = pot in here.flow.pots and not here.places.occupant(pot)
    if not empty or bath not in here.flow.baths or not _acts_on(here, item.name):
        return False
    node = here.node
    here.edge("bath", node.bath)
    node.to_pot = pot
    here.walk.used.add(pot)
    here.edge("pot", pot)
    here.walk.last[node.pot] = node.id
    here.places.pour(node.bath, here.places.live[node.bath]._replace(home=pot))
    return True


def _added(
    here: Here, item: Item, name: Name, lots: list[str], moved: list[tuple[str, Item]]
) -> None:
    """Enter one thing that is added among the lots or among what is moved."""
    thing = resolve(here, name, "a material, water or a bath")
    if thing is None:
        return
    if thing in here.flow.lots:
        lot = lot_of(here, item)
        if lot is not None:
            lots.append(lot)
    elif thing in here.flow.baths or thing in here.flow.pots:
        found = bath_of(here, name, "a bath")
        if found is not None and found[0]:
            bath, pot = found
            if item.quantity is None and pot and _goes_to(here) in (bath, pot):
                here.slip("wrong kind", name, wanted=ANOTHER_BATH)
                return
            moved.append((bath, item))
            here.edge("bath", bath)
            if _all_of_it(item):
                _gone(here, name, bath, pot)
    else:
        moved.append((thing, item))
        if thing != WATER:
            here.edge("material", thing)


def _all_of_it(item: Item) -> bool:
    """True where a bath is used whole, or the rest of it."""
    return item.quantity is None or item.quantity.left


def _goes_to(here: Here) -> str:
    """The plan's name for what the step's “to” names; empty for none."""
    step = here.node.step
    to = step.to.name if isinstance(step, Step) and step.to is not None else None
    return here.scope.names.get(to.text, "") if to is not None else ""


def _gone(here: Here, name: Name, bath: str, pot: str) -> None:
    """A bath is used up: its pot is free from here."""
    here.places.live[bath] = Live(GONE, here.node.id, "", pot)
    if pot:
        here.walk.last[pot] = here.node.id
    root = here.scope.root
    if root and not bath.startswith(root):  # it was only lent to the followed procedure
        here.slip("lent bath emptied", name, wanted=bath)


def measured_by_its_pot(here: Here, step: Step) -> None:
    """“Half of the pan” that is poured is half of the bath in it, and not of what it holds."""
    node = here.node
    for item in step.objects:
        base = base_of(item)
        if item.name is not None or base is None or node.names.get(base.text) not in here.flow.pots:
            continue
        bath = next((thing for thing, moved in node.moved if moved is item), node.bath)
        if bath in here.flow.baths:
            node.names = {**node.names, base.text: bath}


# ------------------------------------------------------------------ one bath as a whole


def bath(here: Here, step: Step) -> None:
    """A bath is heated, kept, cooled, filled up: it stays where it is."""
    acted_on(here, step)


def acted_on(here: Here, step: Step) -> Item | None:
    """The item that names the bath of a step, which is entered in the node; None without one."""
    missing_clauses(here, step)
    missing_object(here, step, "the bath")
    if not step.objects:
        return None
    item = step.objects[0]
    for more in step.objects[1:]:
        name = Name(more.name.text if more.name else "", more.place)
        here.slip("wrong kind", name, wanted=ONE_BATH)
    name_said = item.name or base_of(item)
    if name_said is None:
        text = item.words.text if item.words else item.quantity.text if item.quantity else ""
        here.slip("wrong kind", Name(text, item.place), wanted="a bath")
        return None
    if not _acts_on(here, name_said):
        return None
    here.edge("bath", here.node.bath)
    return item


def _acts_on(here: Here, name: Name) -> bool:
    """Enter the bath and pot that a name means; False, with a slip, where there is no bath."""
    found = bath_of(here, name, "a bath")
    if found is None:
        return False
    here.node.bath, here.node.pot = found
    if not here.node.bath:
        slip_if_empty(here, here.node.pot, name)
    return bool(here.node.bath)


def empty(here: Here, step: Step) -> None:
    """A bath is thrown away, unless an amount says that only a part is."""
    item = acted_on(here, step)
    if item is None or item.quantity is not None:
        return
    node, places = here.node, here.places
    name = item.name or Name("", item.place)
    # In the order in which lots were first put anywhere; mostly none are left in it.
    for lot, within in places.bath_of.items() if places.lots_in(node.bath) else ():
        if within == node.bath and places.live[lot].status == IN_USE:
            other = here.walk.place_of(here.walk.last.get(lot, -1))
            here.slip("fibre thrown away", name, other, wanted=here.flow.lots[lot].name)
    _gone(here, name, node.bath, places.live[node.bath].home)


def strain(here: Here, step: Step) -> None:
    """A bath loses its solids, and may go into another pot."""
    if acted_on(here, step) is None or not step.into:
        return
    node = here.node
    if _into_a_bath(here, step.into[0]) or _where_it_is(here, step.into[0]):
        return
    node.to_pot = free_pot(here, step.into[0])
    if node.to_pot:
        here.edge("pot", node.to_pot)
        here.walk.last[node.pot] = node.id
        here.places.pour(node.bath, here.places.live[node.bath]._replace(home=node.to_pot))


def _where_it_is(here: Here, item: Item) -> bool:
    """True for “back into the kettle”: the pot that the bath is in, or the bath itself."""
    thing = here.scope.names.get(item.name.text, "") if item.name is not None else ""
    return bool(thing) and thing in (here.node.bath, here.places.live[here.node.bath].home)


def _into_a_bath(here: Here, item: Item) -> bool:
    """True where the liquor goes into a bath that is there already, and is a part of it then.

    The bath may be named by its pot where the two are liquors of the same plants.
    """
    thing = here.scope.names.get(item.name.text, "") if item.name is not None else ""
    if thing in here.flow.pots:
        held = here.places.occupant(thing)
        if held and _brought_to(here, held) & _brought_to(here, here.node.bath):
            thing = held
    if item.name is None or thing not in here.flow.baths or thing == here.node.bath:
        return False
    found = bath_of(here, item.name, "a bath or a pot")
    if found is None or not found[0]:
        return True
    node = here.node
    poured = node.bath
    node.moved = ((poured, item._replace(name=None, quantity=None)),)
    pot = here.places.live[poured].home
    _gone(here, item.name, poured, pot)
    node.bath, node.pot = found
    node.poured = poured
    here.edge("bath", node.bath)
    return True


def _brought_to(here: Here, bath: str) -> set[str]:
    """The materials that the steps so far have brought to a bath."""
    nodes = [node for node in here.flow.nodes if node.bath == bath]
    return {thing for node in nodes for thing, _ in (*node.materials, *node.moved)} - {WATER}


def draw_off(here: Here, step: Step) -> None:
    """Some of a bath is taken away, and may be a bath of its own from here on."""
    if acted_on(here, step) is None or not (step.named or step.into):
        return
    node = here.node
    node.to_pot = free_pot(here, step.into[0] if step.into else None)
    if step.named is None and not node.to_pot:
        return
    old, pot = node.bath, node.pot
    node.pot, node.bath = node.to_pot, next(iter(node.makes), "")
    if (named := step.named or step.label) is not None:
        new_bath(here, named.text)
    else:
        new_bath_by_its_pot(here, step.into[0].name)
    node.makes, node.bath, node.pot = (node.bath,), old, pot


def keep(here: Here, step: Step) -> None:
    """A bath is stored, in its pot or in another vessel, and may get a new name."""
    if acted_on(here, step) is None:
        return
    node = here.node
    store = step.within or (step.into[0] if step.into else None)
    if store is None and step.to is not None and step.to.name is not None:
        store = step.to
    home = here.places.live[node.bath].home
    named = store.name.text if store is not None and store.name is not None else ""
    own = bool(named) and here.scope.names.get(named) == here.places.live[node.bath].home
    if store is not None and not own:
        node.to_pot = home = free_pot(here, store)
        here.walk.last[node.pot] = node.id
    here.places.pour(node.bath, Live(KEPT, node.id, "", home))
    if step.named is not None:
        here.scope.names[step.named.text] = node.bath
