"""Liquor: a bath is made, something goes into it, some of it is taken away."""

from __future__ import annotations

from procedure.flow.graph import WATER, FlowNode
from procedure.quantity.exact import exactly
from procedure.quantity.interval import ZERO, Interval, plus
from procedure.trace import heat, reuse, uptake
from procedure.trace.amounts import Amount
from procedure.trace.moments import Brought, Happening
from procedure.trace.now import Now
from procedure.trace.readings import ROOM, heat_of
from procedure.trace.states import BathState, Content

WHOLE = exactly(1)


def own_bath(now: Now, it: Happening) -> BathState:
    """The water that a step brings for itself, with what is in it."""
    node = it.node
    if node.bath and node.bath in now.baths:
        return now.baths[node.bath]
    contents = {
        thing: Content(uptake.grams_of(now.flow, thing, amount), node.id, "")
        for thing, _, amount in it.amounts
        if thing != WATER
    }
    volume = next((a.litres for t, _, a in it.amounts if t == WATER and a), None)
    return BathState(node.pot, volume, it.heat, contents)


def make_bath(now: Now, it: Happening) -> None:
    """A bath comes to be in the pot of the step, of all that the step brings."""
    node = it.node
    now.baths[node.bath] = BathState(
        pot=node.pot,
        volume=None,
        heat=it.end or ROOM,
        made=node.id,
        heat_said=it.end is not None,
        traces=now.traces(node.pot),
        came=node.id,
    )
    fill(now, node, it.amounts, first=True)


def fill(now: Now, node: FlowNode, amounts: Brought, first: bool = False) -> None:
    """Put what the step brings into its bath; ``first`` where the bath was empty.

    The heat that is said of a bath is that of all it is made of, whatever heat a liquor has that
    goes in; where none is said, water is there before a liquor is poured into it.
    """
    bath = now.baths.get(node.bath)
    if bath is None:
        return
    had, said = bath.volume, bath.heat if first and bath.heat_said else None
    bath = bath._replace(contents=dict(bath.contents), volume=ZERO if first else bath.volume)
    for thing, _, amount in sorted(amounts, key=lambda one: one[0] in now.flow.baths):
        if thing == WATER:
            bath = bath._replace(volume=plus(bath.volume, amount.litres if amount else None))
        elif thing in now.flow.baths:
            bath = _poured_in(now, bath, node, thing, amount)
        else:
            bath = _put_in(now, bath, node, thing, amount)
    if said is not None:
        bath = bath._replace(heat=said)
    if first or bath.volume != had:
        bath = bath._replace(whole=bath.volume)
    now.baths[node.bath] = reuse.fed(now.flow, bath, [thing for thing, _, _ in amounts])


def add(now: Now, it: Happening) -> None:
    """Put what the step brings into a bath; water that is said to be hot or cold mixes in."""
    node = it.node
    bath = now.baths.get(node.bath)
    fill(now, node, it.amounts)
    if bath is None or any(thing in now.flow.baths for thing, _, _ in it.amounts):
        return
    for thing, item, amount in it.amounts:
        said = heat_of(item._replace(quantity=item.heat)) if item.heat else heat_of(it.step.at)
        if thing == WATER and said is not None:
            litres = amount.litres if amount else None
            bath = bath._replace(
                heat=heat.mixed(bath.heat, bath.volume, said, litres),
                volume=plus(bath.volume, litres),
            )
            now.baths[node.bath] = now.baths[node.bath]._replace(heat=bath.heat)


def _perhaps(grams: Interval | None, path: str) -> Interval | None:
    """So much of what is in a bath, or none where it is there on one way only."""
    return grams if grams is None or not path else Interval(ZERO.low, grams.high)


def _put_in(
    now: Now, bath: BathState, node: FlowNode, thing: str, amount: Amount | None
) -> BathState:
    """The bath with a material in it."""
    grams = left = uptake.grams_of(now.flow, thing, amount)
    earlier = bath.contents.get(thing)
    again = amount is not None and amount.again
    if again:
        left = None  # how much colour is left in it nobody knows
    if again and earlier is not None:
        grams, left = earlier.grams, earlier.left  # its own plants, put back
    elif earlier is not None:
        grams, left = (
            plus(_perhaps(had, earlier.path), more)
            for had, more in ((earlier.grams, grams), (earlier.left, left))
        )
    solid = uptake.is_solid(now.flow, thing)
    content = Content(grams, node.id, "", solid=solid, left=left, again=again)
    return bath._replace(contents={**bath.contents, thing: content}, solids=bath.solids or solid)


def _poured_in(
    now: Now, bath: BathState, node: FlowNode, thing: str, amount: Amount | None
) -> BathState:
    """The bath with another in it, or with so much of the other as is said."""
    other = now.baths.get(thing)
    if other is None or thing == node.bath:
        return bath
    contents = dict(bath.contents)
    for name, content in other.contents.items():
        part = reuse.poured(content, amount, other.volume)
        had = contents.get(name)
        if had is not None and had.again != part.again:
            # The same plants boiled twice, and the two liquors together: no more than they were.
            contents[name] = had._replace(node=node.id, again=False)
            continue
        contents[name] = part._replace(
            node=node.id,
            grams=plus(_perhaps(had.grams, had.path), part.grams) if had else part.grams,
            left=plus(_perhaps(had.left, had.path), part.left) if had else part.left,
        )
    if amount is not None:
        take_away(now, thing, amount, solids=True)
    return bath._replace(
        heat=heat.mixed(
            bath.heat, bath.volume, other.heat, amount.litres if amount else other.volume
        ),
        contents=contents,
        volume=plus(bath.volume, amount.litres if amount else other.volume),
        solids=bath.solids or (other.solids and amount is None),
    )


def take_away(now: Now, bath: str, amount: Amount, *, solids: bool = False) -> None:
    """Some of a bath goes, and with it what is dissolved in that much.

    With ``solids`` a dyestuff that was never strained out counts as dissolved: a tenth of a
    stock has a tenth of its colour, wherever the powder lies.
    """
    state = now.baths[bath]
    if state.volume is None:
        return
    litres = amount.litres
    now.baths[bath] = state._replace(volume=state.volume.minus(litres))
    if state.volume.low > 0:
        # Not more than all of it can go, whatever was said.
        low, high = litres.over(state.volume)
        take_contents(now, bath, Interval(low, min(high, WHOLE)), solids=solids)


def take_contents(now: Now, bath: str, gone: Interval, *, solids: bool = False) -> None:
    """What is dissolved goes with the liquor that is taken away, by shares."""
    state = now.baths[bath]
    contents = {
        name: content._replace(
            grams=reuse.scaled(content.grams, gone), left=reuse.scaled(content.left, gone)
        )
        if content.grams is not None and (solids or not content.solid)
        else content
        for name, content in state.contents.items()
    }
    now.baths[bath] = state._replace(contents=contents)


def drawn(now: Now, bath: str, thing: str, content: Content) -> Interval | None:
    """Grams of a thing that went with the liquor drawn off a bath; ``content`` is it before."""
    left = now.baths[bath].contents.get(thing)
    if left is None or left.grams is None or content.grams is None or content.solid:
        return None
    return content.grams.minus(left.grams)


def moved_to(now: Now, bath: str, node: FlowNode) -> None:
    """A bath comes into another pot and meets what that pot still holds."""
    now.baths[bath] = now.baths[bath]._replace(traces=now.traces(node.to_pot), came=node.id)
