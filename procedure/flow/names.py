"""Names to things: what a name of the file is in the plan, and whether it can be used here."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from procedure.flow.graph import WATER, Flow, LotOrigin
from procedure.flow.made_in import with_its_past
from procedure.flow.places import GONE, IN_USE, KEPT, Live
from procedure.flow.scope import Scope, makers
from procedure.flow.walk import Here, Walk
from procedure.model import Block, Item, Lot, Material, Name, Step
from procedure.quantity.number_words import IN_TURN
from procedure.vocabulary import near, vocabulary
from procedure.vocabulary.everyday import ANY_BATH
from procedure.vocabulary.library import MOST_GUESSED, may_be_near
from procedure.vocabulary.slips import one_slip, only_meant

EQUIPMENT = "a piece of equipment"
ONE_BATH = "one bath for each step"
ONE_BAG = "one bag for each step"
# The part that a bath kept from another procedure plays among the materials.
KEPT_BATH = "bath"
ANOTHER_BATH = "another bath than the one that it goes to"

# ------------------------------------------------------------------ declaring


def declare(walk: Walk, scope: Scope) -> None:
    """Enter a file's declarations under the plan's names, unless the caller bound them."""
    procedure = scope.procedure
    walk.flow.procedures.append(procedure)
    scope.makers = makers(procedure.body)
    for lot in procedure.lots.values():
        if lot.name.text not in scope.names:
            lot = with_its_past(walk, scope, lot)
            new_lot(walk, scope, lot.name.text, LotOrigin("", "", lot, None, (), None, procedure))
            _past(walk, scope, lot)
    for pot in procedure.equipment.values():
        if pot.name.text not in scope.names:
            name = own(scope, pot.name.text)
            if scope.prefix and pot.name.text in procedure.brought:
                # The workshop has one, and all the files that are followed share it.
                name = scope.names[pot.name.text] = f"workshop.{pot.name.text}"
            walk.flow.pots.setdefault(name, (pot, procedure))
    for material in procedure.materials.values():
        if material.name.text not in scope.names:
            name = own(scope, material.name.text)
            walk.flow.materials[name] = (material, procedure)
            if KEPT_BATH in material.roles:
                walk.flow.baths[name] = -1
                walk.places.live[name] = Live(KEPT, -1, "", "")


def _past(walk: Walk, scope: Scope, lot: Lot) -> None:
    """Enter what a lot was treated with before among the materials, under the lot's name."""
    for past in lot.past:
        name = f"{scope.prefix}{lot.name.text}.{past.entry.name}"
        roles = (*past.entry.words("role"), *past.entry.words("also"))
        if past.entry.table == "dyestuffs":
            roles = ("dyestuff", *roles)
        elif past.entry.table == "part":
            roles = (past.entry.name,)
        called = Name(past.entry.name, past.place)
        made = Material(called, past.entry, roles, "", "", None, "", (), lot.line)
        walk.flow.materials[name] = (made, scope.procedure)
        walk.flow.past.setdefault(scope.names[lot.name.text], []).append((name, past))


def own(scope: Scope, name: str) -> str:
    """The plan's name for something that this file brings itself."""
    scope.names[name] = scope.prefix + name
    return scope.prefix + name


def new_lot(walk: Walk, scope: Scope, name: str, origin: LotOrigin) -> str:
    """Enter a lot that is declared, or made by the node of its origin; gives its name."""
    made = own(scope, name)
    walk.flow.lots[made] = origin._replace(id=made, name=scope.stem + name)
    node = origin.node if origin.node is not None else -1
    walk.places.live[made] = Live(IN_USE, node, "", "")
    walk.places.bath_of[made] = ""
    if origin.node is not None:
        walk.last[made] = origin.node
    return made


def new_bath(here: Here, name: str, told: bool = False) -> None:
    """The step makes a bath of that name in its pot; ``told`` where that was found full."""
    walk, scope, node = here
    bath = own(scope, name)
    walk.used.add(bath)
    live = here.places.live.get(bath)
    there = live is not None and live.status == IN_USE and bath in here.flow.baths
    in_its_way = live is not None and there and (not walk.again or live.home == node.pot)
    if live is not None and in_its_way and not told:
        where = walk.place_of(here.flow.baths[bath])
        here.slip("pot full", Name(name, node.step.place), where, live.path)
    here.flow.baths.pop(bath, None)
    here.flow.baths[bath] = node.id
    here.places.pour(bath, Live(IN_USE, node.id, "", node.pot))
    node.bath = bath
    if not walk.again:
        if node.pot:
            here.edge("pot", node.pot)
        walk.last[bath] = node.id


def new_bath_by_its_pot(here: Here, pot: Name | None) -> None:
    """The step makes a bath that no label names: it is called “pan bath”, after its pot.

    What goes on to another pot later is called after what is in it, as “weld bath”: a name that
    is true there too. Where the one before it has gone on to another pot, the next is “second pan
    bath”.
    """
    walk, scope, node = here
    name = plain = f"{pot.text} bath" if pot is not None else "bath"
    stuff = _what_it_is_of(here) if pot is not None and not walk.again else ""
    if stuff and _goes_on(scope.procedure.body, node.step, pot):
        name = plain = f"{stuff} bath"
    if walk.again and node.bath:
        name = node.bath.removeprefix(scope.prefix)
    # What a bath is called where those before it in its pot are in others by now.
    for which in IN_TURN[1:] if not walk.again else ():
        live = here.places.live.get(scope.prefix + name)
        if live is None or not live.partly_there or live.home == node.pot:
            break
        name = f"{which} {plain}"
    if stuff:
        scope.names.setdefault(name, own(scope, name))
    full = here.places.occupant(node.pot) == scope.prefix + name
    new_bath(here, name, told=full and not walk.again)


def _what_it_is_of(here: Here) -> str:
    """The dyestuff, or else the mordant, that the step puts in; empty for neither.

    Empty too where a label of the text says much the same, as “weld-bath”.
    """
    scope, node = here.scope, here.node
    names = [item.name.text for _, item in node.materials if item.name is not None]
    for role in ("dyestuff", "mordant", "tannin"):
        for name in names:
            made = scope.procedure.materials.get(name)
            if made is not None and role in made.roles and f"{name}-bath" not in scope.makers:
                return name
    return ""


def _goes_on(body: Sequence[Step | Block], first: Step | Block, pot: Name | None) -> bool:
    """True where a step after one takes the whole of what is in a pot into another pot."""
    if pot is None:
        return False
    begun = False
    for step in _steps_of(body):
        if step is first:
            begun = True
            continue
        if not begun:
            continue
        if step.does.prepares and step.within is not None and _is_called(step.within, pot.text):
            return False
        item = step.objects[0] if len(step.objects) == 1 else None
        to = [one for one in (step.to, *step.into) if one is not None and one.name is not None]
        moves = item is not None and item.quantity is None and _is_called(item, pot.text)
        if moves and any(not _is_called(one, pot.text) for one in to) and not step.does.empties:
            return True
    return False


def _steps_of(body: Sequence[Step | Block]) -> Iterator[Step]:
    for one in body:
        if isinstance(one, Step):
            yield one
        else:
            yield from _steps_of(one.body)


def _is_called(item: Item, name: str) -> bool:
    return item.name is not None and item.name.text == name


# ------------------------------------------------------------------ asking


def resolve(here: Here, name: Name, wanted: str) -> str | None:
    """The plan's name for a name of the file; a slip where it has none."""
    scope = here.scope
    thing = scope.names.get(name.text)
    if thing is not None:
        here.walk.used.add(thing)
        return thing
    if name.text == WATER:
        return WATER
    if name.text in ANY_BATH and "bath" in wanted and (only := _the_bath(here)):
        return only
    if name.text in scope.procedure.unread:
        return None
    maker = scope.makers.get(name.text)
    if maker is not None and maker.place.line < here.node.step.place.line:
        return None  # it would be there, but for what is told of where it is made
    if maker is not None:
        where = maker.label or Name(name.text, maker.place)
        here.slip("used before made", name, (scope.procedure, where))
        return None
    few = len(here.flow.slips) < MOST_GUESSED
    near_word = _nearest(here, name, wanted) if few else None
    here.slip("not declared", name, wanted=wanted, near_word=near_word)
    meant = _meant(here, name, near_word, wanted) if near_word is not None else None
    return meant or _the_last_bath(here, name, wanted)


def _the_bath(here: Here) -> str:
    """The bath that “the bath” means: the one that the step's fibre is in, else the only one.

    Empty where several are there, or none is.
    """
    places = here.places
    around = {places.bath_of.get(lot, "") for lot in here.node.lots}
    if not around - {""}:
        own_names = here.scope.names.values()
        there = (bath for bath in here.flow.baths if places.live[bath].status == IN_USE)
        around = {bath for bath in there if bath in own_names}
    if len(around) != 1:
        return ""
    (only,) = around
    here.walk.used.add(only)
    return only


def _the_last_bath(here: Here, name: Name, wanted: str) -> str | None:
    """The bath that was worked with last, for a name such as dok-bath that there is not.

    The name is told of; the steps below are followed as if it were that bath.
    """
    if "bath" not in wanted or name.text.rpartition("-")[2] not in ANY_BATH | {"vat"}:
        return None
    if "." in name.text:  # of a procedure that is followed
        return None
    if here.node.does.empties or here.node.does.stores:
        return None  # thrown away or kept was another one
    lot = next((lot for lot in here.node.lots if here.places.bath_of.get(lot)), "")
    if lot:
        return here.places.bath_of[lot]
    own_names, walk = set(here.scope.names.values()), here.walk
    there = [
        bath
        for bath in here.flow.baths
        if bath in own_names and here.places.live[bath].status == IN_USE
    ]
    return max(there, key=lambda bath: walk.last.get(bath, -1), default=None)


def _meant(here: Here, name: Name, near_word: str, wanted: str) -> str | None:
    """What a name that is one slip from another is taken for, so that one mistake is told once."""
    thing = here.scope.names.get(near_word)
    if thing is None or not one_slip(name.text, near_word):
        return None
    if not _fits(here.flow, thing, wanted):
        return None
    here.walk.used.add(thing)
    return thing


def _nearest(here: Here, name: Name, wanted: str) -> str | None:
    """The nearest name: of what is wanted, else of anything that a step may mean by it."""
    scope = here.scope
    if vocabulary().find(name.text, "form") is not None:
        return None  # the skeins are the yarn, and no slip for the skins
    known = [*scope.names, *scope.makers, WATER]
    workshop = scope.procedure.workshop
    if workshop is not None:
        known += [*workshop.equipment, *workshop.materials]
    close = may_be_near(name.text, known)
    fitting = [
        one for one in close if one in scope.names and _fits(here.flow, scope.names[one], wanted)
    ]
    meant = near(name.text, fitting) or only_meant(name.text, fitting)
    return meant if meant is not None or wanted == EQUIPMENT else near(name.text, close)


def _fits(flow: Flow, thing: str, wanted: str) -> bool:
    """True for a thing of a kind that is wanted, as the words of the slip have it."""
    if wanted == EQUIPMENT:
        return thing in flow.pots
    kinds = [kind for kind in ("lot", "bath", "pot", "bag", "material") if kind in wanted]
    kind = kind_of(flow, thing)
    holds = (kind == "tool" and "bag" in kinds) or (kind == "pot" and "bath" in kinds)
    return not kinds or kind in kinds or holds


def lot_of(here: Here, item: Item) -> str | None:
    """The lot an item names, if it is one and is still there."""
    wanted = "a lot of fibre"
    if item.name is None:
        here.slip("wrong kind", unnamed(item), wanted=wanted)
        return None
    thing = resolve(here, item.name, wanted)
    if thing is None:
        return None
    if thing not in here.flow.lots:
        here.slip("wrong kind", item.name, wanted=wanted)
        return None
    live = here.places.live[thing]
    if live.status == IN_USE:
        return thing
    other = here.walk.place_of(live.node)
    divided = here.flow.nodes[live.node]
    if here.node.does.splits and divided.does.splits:
        parts = ", ".join(f"“{here.flow.lots[part].name}”" for part in divided.makes)
        here.slip("split again", item.name, other, live.path, wanted=parts)
        return None
    here.slip("lot gone", item.name, other, live.path)
    return thing if live.path else None


def bath_of(here: Here, name: Name, wanted: str) -> tuple[str, str] | None:
    """The bath and pot that a name means: a bath by its name or by its pot.

    The bath is empty for a pot with nothing in it; None where the name means neither.
    """
    thing = resolve(here, name, wanted)
    if thing is None:
        return None
    if thing in here.flow.pots:
        return here.places.occupant(thing), thing
    if thing not in here.flow.baths:
        here.slip("wrong kind", name, wanted=wanted)
        return None
    live = here.places.live[thing]
    if live.status == GONE:
        here.slip("used after emptied", name, here.walk.place_of(live.node), live.path)
        if not live.path:
            return None
    elif live.path and live.status == IN_USE:
        here.slip("made on one way", name, here.walk.place_of(live.node), live.path)
    return thing, live.home


def free_pot(here: Here, item: Item | None) -> str:
    """The pot that a step names, which has to be free; empty where it names none."""
    if item is None or item.name is None:
        return ""
    thing = resolve(here, item.name, "a pot")
    if thing is None:
        return ""
    if thing not in here.flow.pots:
        here.slip("wrong kind", item.name, wanted="a pot")
        return ""
    slip_if_full(here, thing, item.name)
    return thing


def slip_if_empty(here: Here, pot: str, name: Name) -> None:
    """A slip where a pot has nothing in it; asking for it again is the same mistake."""
    if pot not in here.places.found_empty:
        here.places.found_empty.add(pot)
        here.slip("empty pot", name)


def slip_if_full(here: Here, pot: str, name: Name) -> None:
    """A slip where there is a bath in a pot that has to be free."""
    full = here.places.occupant(pot)
    if full:
        maker = here.walk.place_of(here.flow.baths[full])
        here.slip("pot full", name, maker, here.places.live[full].path)


# ------------------------------------------------------------------ words


def unnamed(item: Item) -> Name:
    """What an item without a name says instead, at its place: an amount, or words."""
    text = item.quantity.text if item.quantity else item.words.text if item.words else ""
    return Name(text, item.place)


def base_of(item: Item) -> Name | None:
    """The name after an amount: the alum of “12 % of alum”, where the item has no other."""
    if item.quantity is None or not item.quantity.base:
        return None
    return Name(item.quantity.base, item.quantity.base_place or item.place)


def kind_of(flow: Flow, thing: str) -> str:
    """What a thing of the plan is: lot, bath, pot, tool or material."""
    if thing in flow.lots:
        return "lot"
    if thing in flow.baths:
        return "bath"
    if thing in flow.pots:
        return "pot" if flow.pots[thing][0].holds else "tool"
    return "material"
