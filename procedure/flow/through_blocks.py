"""Blocks: ``repeat``, ``if`` and ``for``, which things flow into them and out again."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from procedure.flow.graph import Edge, FlowNode
from procedure.flow.names import resolve
from procedure.flow.places import Outcome
from procedure.flow.scope import Scope
from procedure.flow.walk import Here
from procedure.model import Block, Item, Name, Step

# Walks the steps of a block or of a followed procedure; gives their nodes.
Body = Callable[[tuple[Step | Block, ...], Scope], list[FlowNode]]
# A thing of the plan and the kind of edge that it flows along.
Thing = tuple[str, str]


def repeat(here: Here, block: Block, body: Body) -> None:
    """Steps that are done several times: the second time shows what the first leaves behind."""
    walk, scope, node = here
    things = named_before(here, block.body)
    start(here, things)
    changed = walk.last.watch()
    inner = body(block.body, scope)
    if not walk.again:
        node.inner = inner
        walk.again = True
        body(block.body, scope)
        walk.again = False
    end(here, changed, things)


def choice(here: Here, block: Block, body: Body) -> None:
    """Steps that are done if something holds: afterwards both ways are possible."""
    walk, scope, node = here
    things = named_before(here, block.body)
    start(here, things)
    changed = walk.last.watch()
    places = here.places
    live, bath_of = places.live.watch(), places.bath_of.watch()
    places.branches += 1
    inner = body(block.body, scope)
    places.branches -= 1
    if not walk.again:
        node.inner = inner
    places.live.unwatch(live)
    places.bath_of.unwatch(bath_of)
    taken = f"when “{block.condition}” holds"
    passed = f"when “{block.condition}” does not hold"
    places.merge(live, bath_of, taken, passed)
    end(here, changed, things)


def either(here: Here, block: Block, body: Body) -> None:
    """Ways that exclude each other: each begins with what was there before the choice."""
    walk, scope, node = here
    things = named_before(here, block.body)
    start(here, things)
    changed = walk.last.watch()
    places = here.places
    came_from: dict[str, list[int]] = {}
    outcomes: list[Outcome] = []
    on_ways = walk.on_ways
    places.branches += 1
    for way in block.body:
        assert isinstance(way, Block)
        inner = walk.node("way", way, scope)
        if not walk.again and inner not in node.inner:
            node.inner.append(inner)
        last, live, bath_of = walk.last.watch(), places.live.watch(), places.bath_of.watch()
        inside = Here(walk, scope, inner)
        ours = [t for t in things if t[0] in walk.last]
        start(inside, ours)
        done = walk.last.watch()
        walk.on_ways = (*on_ways, (node.id, way.condition))
        made = body(way.body, scope)
        if not walk.again:
            inner.inner = made
        end(inside, done, ours)
        walk.last.unwatch(last)
        places.live.unwatch(live)
        places.bath_of.unwatch(bath_of)
        outcomes.append(places.outcome(way.condition, live, bath_of))
        for thing, before in last.items():
            came_from.setdefault(thing, []).append(walk.last[thing])
            if before is not None:
                walk.last[thing] = before
        places.back_to(live, bath_of, node.id)
    places.branches -= 1
    walk.on_ways = on_ways
    places.join(outcomes)
    _end_of_ways(here, changed, things, came_from)


def _end_of_ways(
    here: Here,
    changed: dict[str, int | None],
    things: list[Thing],
    came_from: dict[str, list[int]],
) -> None:
    """Things flow out of a choice from each of its ways."""
    walk = here.walk
    known = len(here.flow.edges)
    end(here, changed, things)
    last = here.node.inner[-1].id
    ends = {(edge.before, edge.thing) for edge in here.flow.edges[known:] if edge.after == last}
    kinds = {edge.thing: edge.kind for edge in here.flow.edges[known:] if edge.after == last}
    for thing, before in came_from.items():
        kind = kinds.get(thing)
        for one in before if kind is not None and not walk.again else ():
            if (one, thing) not in ends:
                ends.add((one, thing))
                here.flow.edges.append(Edge(one, last, kind or "", thing))


def each(here: Here, block: Block, body: Body) -> None:
    """Steps that are done for several things, one after the other."""
    walk, scope, node = here
    things = named_before(here, block.body)
    assert block.variable is not None
    variable = block.variable.text
    start(here, things)
    changed = walk.last.watch()
    inner: list[FlowNode] = []
    way = walk.way
    for name in _values(here, block):
        if walk.too_long:
            here.slip("too much written out", name)
            break
        meant = resolve(here, name, "a lot, pot or material")
        if meant is None:
            continue
        walk.way = (*way, block.number, name.text)
        within = scope.inner(variable, meant, f"{name.text}.")
        inner += body(block.body, within)
        for made, thing in within.names.items():  # what it made is seen as value.name
            if made != variable and thing not in scope.names.values():
                scope.names.setdefault(f"{name.text}.{made}", thing)
    walk.way = way
    if not walk.again:
        node.inner = inner
    end(here, changed, things)


def _values(here: Here, block: Block) -> Iterator[Name]:
    """The names that a ``for`` goes through, each once."""
    seen: dict[str, Name] = {}
    for value in block.values:
        if value.name is None:
            place = Name(value.words.text if value.words else "", value.place)
            here.slip("wrong kind", place, wanted="a name")
        elif value.name.text in seen:
            other = (here.scope.procedure, seen[value.name.text])
            here.slip("passed twice", value.name, other)
        else:
            seen[value.name.text] = value.name
            yield value.name


# ------------------------------------------------------------------ in and out


def named_before(here: Here, body: tuple[Step | Block, ...]) -> list[Thing]:
    """The things that exist before a block and are named in it, with their edge kinds."""
    flow = here.flow
    found: list[Thing] = []
    for name in dict.fromkeys(_names(body)):
        thing = here.scope.names.get(name)
        if thing is None:
            continue
        if thing in flow.lots:
            found.append((thing, "lot"))
        elif thing in flow.baths:
            found.append((thing, "bath"))
        elif thing in flow.pots:
            bath = here.places.occupant(thing)
            if bath:
                found.append((bath, "bath"))
    return found


def _names(body: tuple[Step | Block, ...]) -> Iterator[str]:
    """Every name in steps, in the order of the clauses."""
    for step in body:
        if isinstance(step, Block):
            yield from _names(step.body)
            continue
        for item in (*step.objects, step.within, *step.into, step.source, step.to):
            yield from _names_of(item)
        for item in step.using:
            yield from (name.text for name in (item.name, item.given) if name is not None)


def _names_of(item: Item | None) -> Iterator[str]:
    if item is None:
        return
    if item.name is not None:
        yield item.name.text
    if item.quantity is not None:
        yield from item.quantity.bases


def start(here: Here, things: list[Thing]) -> None:
    """Those things flow into a block."""
    for thing, kind in things:
        here.edge(kind, thing)


def end(here: Here, changed: dict[str, int | None], things: list[Thing]) -> None:
    """Things flow out of a block: those that flowed in, and what it made or used besides.

    ``changed`` is the log of what its steps gave new versions of.
    """
    walk, scope, node = here
    walk.last.unwatch(changed)
    kinds = dict(things)
    for thing in changed:
        if thing not in kinds and thing in here.flow.lots:
            kinds[thing] = "lot"
        elif thing not in kinds and thing in here.flow.baths:
            kinds[thing] = "bath"
    last = walk.node("end", node.step, scope, end=True)
    if last not in node.inner:
        node.inner.append(last)
    if walk.again:
        return
    before = len(here.flow.edges)
    for thing, kind in kinds.items():
        if thing in walk.last:
            walk.edge(last, kind, thing)
    if len(here.flow.edges) == before:
        ahead = node.inner[-2].id if len(node.inner) > 1 else node.id
        here.flow.edges.append(Edge(ahead, last.id, "block", ""))
