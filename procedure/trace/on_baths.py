"""What becomes of baths, and of the pots they are in: a function for each ``trace`` key."""

from __future__ import annotations

from procedure.flow.graph import WATER, FlowNode
from procedure.quantity.interval import ZERO
from procedure.trace import heat, liquor, on_matter, reuse, uptake
from procedure.trace.amounts import Amount, amount_of
from procedure.trace.moments import Happening
from procedure.trace.now import Now
from procedure.trace.on_fibre import Handler, take_in, wet_lots
from procedure.trace.readings import interval
from procedure.trace.states import BathState, PotState, Residue


def _nothing(now: Now, it: Happening) -> None:
    """A step that leaves fibre, baths and pots as they were."""


def _make_bath(now: Now, it: Happening) -> None:
    liquor.make_bath(now, it)
    bath = now.baths[it.node.bath]
    now.baths[it.node.bath] = bath._replace(covered="covered" in it.step.manner)
    if it.node.bag:
        on_matter.lower(now, it)


def _in_water(now: Now, it: Happening) -> None:
    if it.node.makes:
        liquor.make_bath(now, it)


def _present_meet(now: Now, node: FlowNode) -> None:
    """Lots that lie in the bath meet what it now holds."""
    bath = now.baths.get(node.bath)
    if bath is not None:
        for lot in node.present:
            now.meet(lot, bath, node)


def _as_warm_as(now: Now, node: FlowNode, before: BathState | None) -> None:
    """Lots that lie in a bath become as warm as what is poured in makes it."""
    bath = now.baths.get(node.bath)
    if bath is None or before is None or bath.heat is None or bath.heat == before.heat:
        return
    for lot in node.present:
        if lot in now.lots and now.lots[lot].bath == node.bath:
            now.put(lot, heat=bath.heat)


def _add(now: Now, it: Happening) -> None:
    node = it.node
    before = now.baths.get(node.bath)
    if node.to_pot and node.bath in now.baths:
        poured = now.baths[node.bath]
        now.baths[node.bath] = heat.handled(poured._replace(pot=node.to_pot, labelled=False))
        liquor.moved_to(now, node.bath, node)
        if not node.materials:
            return
    liquor.add(now, it)
    bath = now.baths.get(node.bath)
    if bath is not None and node.lots:
        wet_lots(now, node, it.minutes, bath.heat)
        now.baths[node.bath] = take_in(now, bath, node)
        for lot in node.lots:
            now.put(lot, bath=node.bath)
    _as_warm_as(now, node, before)
    _present_meet(now, node)


def _top_up(now: Now, it: Happening) -> None:
    node = it.node
    before = now.baths.get(node.bath)
    liquor.add(now, it)
    bath = now.baths.get(node.bath)
    to = it.step.to.quantity if it.step.to is not None else None
    if bath is not None and to is not None:
        made = amount_of(to, now.basis(node), liquid=True)
        if made is not None and made.kind == "volume":
            now.baths[node.bath] = bath._replace(volume=made.litres)
    _as_warm_as(now, node, before)
    _present_meet(now, node)


# ------------------------------------------------------------------ heat and rest


def _hold(now: Now, it: Happening) -> None:
    """A bath changes heat or keeps it, and with it the fibre that lies in it."""
    node, end = it.node, it.end
    bath = now.baths.get(node.bath)
    if bath is None:
        return
    now.baths[node.bath] = bath._replace(
        heat=end or bath.heat,
        covered="covered" in it.step.manner,
        heat_said=heat.is_said(bath, end),
    )
    if node.does.moves_liquor and _no_heat_said(it, bath):
        now.baths[node.bath] = heat.handled(now.baths[node.bath])
    for lot in node.present:
        state = now.lots.get(lot)
        if state is not None and state.bath == node.bath:
            soaked = state.soaked
            longer = None if it.minutes is None or soaked is None else soaked + it.minutes.high
            now.put(lot, heat=end or state.heat, soaked=longer)


def _warm(now: Now, it: Happening) -> None:
    liquor.fill(now, it.node, it.amounts)
    _hold(now, it)


def _no_heat_said(it: Happening, before: BathState | None) -> bool:
    """True where a step lasts, and its bath has the heat that it had and no other is said."""
    same = it.end is None or (before is not None and it.end == before.heat)
    return same and it.step.at is None and it.minutes is not None


def _stand(now: Now, it: Happening) -> None:
    before = now.baths.get(it.node.bath)
    _hold(now, it)
    bath = now.baths.get(it.node.bath)
    if bath is not None and _no_heat_said(it, before) and not it.node.present:
        assert it.minutes is not None
        bath = now.baths[it.node.bath] = heat.left_alone(bath, it.minutes.low)
    if bath is not None and (bath.dips or bath.used):  # a vat settles while nobody dips in it
        now.baths[it.node.bath] = reuse.rested(now.flow, bath, it.minutes, it.node.id)


# ------------------------------------------------------------------ out of the pot


def _strain(now: Now, it: Happening) -> None:
    node = it.node
    strained = node.poured or node.bath
    bath = now.baths.get(strained)
    if bath is None:
        return
    pot = node.to_pot or bath.pot
    on_matter.held_back(now, node, bath)
    contents = {
        thing: content._replace(solid=False) if content.solid and not content.bag else content
        for thing, content in bath.contents.items()
    }
    labelled = bath.labelled and pot == bath.pot
    now.baths[strained] = heat.handled(
        bath._replace(solids=False, pot=pot, contents=contents, labelled=labelled)
    )
    if node.poured:
        liquor.fill(now, node, it.amounts)
        _present_meet(now, node)
    if node.to_pot:
        liquor.moved_to(now, node.bath, node)


def _draw_off(now: Now, it: Happening) -> None:
    node = it.node
    bath = now.baths.get(node.bath)
    if bath is None or not it.step.objects:
        return
    quantity = it.step.objects[0].quantity
    made = None if quantity is None else amount_of(quantity, now.basis(node), True)
    told = made is not None
    if made is None and bath.volume is not None and (quantity is None or not quantity.known):
        # Nobody says how much: a little or nearly all of it.
        made = Amount("volume", ZERO.low, bath.volume.high)
    if made is not None:
        liquor.take_away(now, node.bath, made)
    elif quantity is not None and quantity.kind in ("share", "percent"):
        gone = interval(quantity)
        of_bath = node.names.get(quantity.base) == node.bath
        if gone is not None and of_bath and 0 <= gone.low <= gone.high <= 1:
            liquor.take_contents(now, node.bath, gone)
    for name in node.makes:
        contents = {
            thing: content._replace(grams=liquor.drawn(now, node.bath, thing, content), left=None)
            for thing, content in bath.contents.items()
        }
        drawn_off = made.litres if made is not None and told else None
        now.baths[name] = bath._replace(
            pot=node.to_pot,
            volume=drawn_off,
            whole=drawn_off,
            made=node.id,
            labelled=False,
            contents=contents,
        )
        if node.to_pot:
            liquor.moved_to(now, name, node)


def _discard(now: Now, it: Happening) -> None:
    item = it.step.objects[0] if it.step.objects else None
    if item is not None and item.quantity is not None:
        _draw_off(now, it)


def _keep(now: Now, it: Happening) -> None:
    node = it.node
    bath = now.baths.get(node.bath)
    if bath is None:
        return
    if bath.dips or bath.used:
        bath = reuse.rested(now.flow, bath, None, node.id)
    now.baths[node.bath] = bath
    if node.to_pot:
        now.baths[node.bath] = bath._replace(pot=node.to_pot, labelled=False)
        liquor.moved_to(now, node.bath, node)


# ------------------------------------------------------------------ pots


def _clean(now: Now, it: Happening) -> None:
    for pot in it.node.cleaned:
        kept = {}
        if uptake.holds_traces(now.flow, pot):
            kept = {thing: one._replace(left="scrubbed") for thing, one in now.traces(pot).items()}
        # Scrubbed with bleach, a pot smells of bleach until it is cleaned with water.
        for thing in _held(now, it.node, None):
            if _stays_after_cleaning(now, thing):
                kept[thing] = Residue(thing, it.node.id, "", "rinsed")
        now.pots[pot] = PotState(kept, cleaned=it.node.id)


def _stays_after_cleaning(now: Now, thing: str) -> bool:
    made = uptake.material(now.flow, thing)
    return made is not None and bool({"oxidiser", "acid", "alkali", "reducer"} & set(made.roles))


def soil(now: Now, node: FlowNode) -> None:
    """A pot keeps traces of what has been in it until it is cleaned."""
    bath = now.baths.get(node.bath)
    pot = bath.pot if bath is not None else node.pot
    state = now.pots.get(pot)
    if state is None or node.cleaned:
        return
    if bath is None and not node.own_water and not node.materials:
        return
    held = _held(now, node, bath)
    before = state.residues
    changed = {
        thing: before[thing]._replace(left="rinsed") for thing in state.full if thing not in held
    }
    for thing in held:
        if thing not in state.full:
            changed[thing] = Residue(thing, node.id, "", "full")
    if changed:
        now.pots[pot] = state._replace(residues={**before, **changed}, full=frozenset(held))


def _held(now: Now, node: FlowNode, bath: BathState | None) -> dict[str, None]:
    """The materials in a pot, in the order in which they came there."""
    things = bath.contents if bath is not None else [thing for thing, _ in node.materials]
    return {thing: None for thing in things if thing != WATER and thing not in now.flow.baths}


HANDLERS: dict[str, Handler] = {
    "nothing": _nothing,
    "make bath": _make_bath,
    "in water": _in_water,
    "add": _add,
    "top up": _top_up,
    "hold": _hold,
    "warm": _warm,
    "stand": _stand,
    "strain": _strain,
    "draw off": _draw_off,
    "discard": _discard,
    "keep": _keep,
    "clean": _clean,
}
"""By ``trace`` of ``effects.csv``: what a step does to baths and pots."""
