"""What steps do with plants and other solids: into a bag, into a bath in it, out again, away.

A bag goes where the flow follows it (``Places.bag_in``); its plants go with it. What a
sieve or cloth has held back is in it until it is emptied. Edges of kind ``matter`` join
the steps that a bag or a sieve goes through.
"""

from __future__ import annotations

from procedure.flow.clauses import missing_object
from procedure.flow.names import ONE_BAG, bath_of, resolve, slip_if_empty, unnamed
from procedure.flow.walk import Here
from procedure.model import Item, Name, Step


def fill(here: Here, step: Step) -> None:
    """Plants go into a bag: ``fill bag with madder 50 g``, or the plants with ``into bag``."""
    node = here.node
    bag = ""
    moved: list[tuple[str, Item]] = []
    for item in (*step.objects, *step.into):
        thing = _thing(here, item, "a bag or a material")
        if thing in here.flow.pots and here.flow.pots[thing][0].bag:
            bag = thing
        elif thing in here.flow.materials:
            here.edge("material", thing)
            moved.append((thing, item))
        elif thing:
            here.slip("wrong kind", item.name or unnamed(item), wanted="a bag or a material")
    if not bag:
        missing_object(here, step, "the bag")
    node.moved = tuple(moved)
    node.bag = bag
    if bag:
        node.bath = here.places.bag_in.get(bag, "")
        here.edge("matter", bag)


def lower(here: Here, step: Step) -> None:
    """A bag goes into a bath, or to its place in the bath where it is."""
    bag = _bag(here, step)
    where = next(iter(step.into), None) or step.to or step.within
    bath = here.places.bag_in.get(bag, "")
    if where is not None and where.name is not None:
        named = where.name
        lot = here.scope.names.get(named.text, "")
        if lot in here.flow.lots:
            here.walk.used.add(lot)
            bath = here.places.bath_of.get(lot, "") or bath
        else:
            found = bath_of(here, named, "a bath")
            if found is not None and not found[0]:
                slip_if_empty(here, found[1], named)
            bath = found[0] if found is not None else ""
    elif not bath and step.objects and step.objects[0].name is not None:
        here.slip("bag in no bath", step.objects[0].name)
    if bag and bath:
        _at(here, bag, bath)
        here.places.bag_in[bag] = bath


def move_aside(here: Here, step: Step) -> None:
    """A bag is moved about in the bath that it is in."""
    bag = _bag(here, step)
    bath = _bath_it_is_in(here, bag, step.within or step.source)
    if bag and bath:
        _at(here, bag, bath)


def take_out(here: Here, step: Step) -> None:
    """A bag comes out of the bath that it is in."""
    bag = _bag(here, step)
    bath = _bath_it_is_in(here, bag, step.source)
    if not bag:
        return
    if not bath and step.objects and step.objects[0].name is not None:
        here.slip("bag in no bath", step.objects[0].name)
    if bath:
        _at(here, bag, bath)
    else:
        here.edge("matter", bag)
    here.places.bag_in[bag] = ""


def empty(here: Here, step: Step) -> None:
    """What a bag, sieve or cloth holds is thrown away."""
    bag = _bag(here, step)
    if bag:
        here.edge("matter", bag)


def lift_out(here: Here, step: Step) -> None:
    """Plants are lifted out of a bath, or are thrown out: the liquor stays."""
    node = here.node
    missing_object(here, step, "the plants")
    moved: list[tuple[str, Item]] = []
    for item in step.objects:
        thing = _thing(here, item, "a material")
        if thing and thing not in here.flow.materials:
            here.slip("wrong kind", item.name or unnamed(item), wanted="a material")
        elif thing:
            here.edge("material", thing)
            moved.append((thing, item))
    node.moved = tuple(moved)
    if lot := _lot_named(here, step.source):  # bits of plant come out of fibre that is no longer in
        node.lots = (lot,)
        here.edge("lot", lot)
        return
    node.bath = _named(here, step.source)
    if node.bath:
        node.pot = here.places.live[node.bath].home
        here.edge("bath", node.bath)


def press_out(here: Here, step: Step) -> None:
    """Liquor is squeezed out of plants or their bag, into a bath, a pot or nowhere that is said."""
    node = here.node
    missing_object(here, step, "the bag or the plants")
    moved: list[tuple[str, Item]] = []
    for item in step.objects:
        thing = _thing(here, item, "a bag or a material")
        if thing in here.flow.pots and not here.flow.pots[thing][0].holds:
            node.bag = thing
        elif thing in here.flow.materials:
            here.edge("material", thing)
            moved.append((thing, item))
        elif thing:
            here.slip("wrong kind", item.name or unnamed(item), wanted="a bag or a material")
    node.moved = tuple(moved)
    if not node.bag:
        held_back(here, step)
    else:
        here.edge("matter", node.bag)
    into = next(iter(step.into), None) or step.source
    if into is not None and into.name is not None:
        found = bath_of(here, into.name, "a bath or a pot")
        node.bath, node.pot = found if found is not None else ("", "")
    else:
        node.bath = here.places.bag_in.get(node.bag, "")
        node.pot = here.places.live[node.bath].home if node.bath else ""
    if node.bath:
        here.edge("bath", node.bath)
    elif node.pot:
        here.edge("pot", node.pot)


def held_back(here: Here, step: Step) -> None:
    """What strains a bath has its solids from here on."""
    if step.through is None:
        return
    thing = here.scope.names.get(step.through.text, "")
    if thing in here.flow.pots:
        here.node.bag = thing
        here.edge("matter", thing)


def _at(here: Here, bag: str, bath: str) -> None:
    node = here.node
    node.bath = bath
    node.pot = here.places.live[bath].home
    here.edge("bath", bath)
    here.edge("matter", bag)


def _bag(here: Here, step: Step) -> str:
    """The bag or sieve that a step acts on, noted in its node; empty where there is none."""
    missing_object(here, step, "the bag")
    bag = ""
    for item in step.objects:
        thing = _thing(here, item, "a bag")
        a_bag = thing in here.flow.pots and not here.flow.pots[thing][0].holds
        if a_bag and not bag:
            bag = here.node.bag = thing  # a step that is repeated has it already
        elif thing:
            wanted = ONE_BAG if a_bag else "a bag"
            here.slip("wrong kind", item.name or unnamed(item), wanted=wanted)
    return here.node.bag


def _named(here: Here, item: Item | None) -> str:
    """The bath that a clause names; empty where it names none."""
    if item is None or item.name is None:
        return ""
    found = bath_of(here, item.name, "a bath")
    return "" if found is None else found[0]


def _bath_it_is_in(here: Here, bag: str, item: Item | None) -> str:
    """The bath that a bag is in, which is the one that a clause names, if it names any."""
    bath = here.places.bag_in.get(bag, "")
    named = _named(here, item)
    if bath and named and named != bath and item is not None and item.name is not None:
        here.slip("wrong kind", item.name, wanted="the bath that the bag is in")
    return bath or named


def _lot_named(here: Here, item: Item | None) -> str:
    """The lot that a clause names; empty where it names none."""
    thing = "" if item is None or item.name is None else here.scope.names.get(item.name.text, "")
    return thing if thing in here.flow.lots else ""


def _thing(here: Here, item: Item, wanted: str) -> str:
    name = item.name
    if name is None and item.quantity is not None and item.quantity.base:
        name = Name(item.quantity.base, item.quantity.base_place or item.place)
    if name is None:
        here.slip("wrong kind", unnamed(item), wanted=wanted)
        return ""
    return resolve(here, name, wanted) or ""
