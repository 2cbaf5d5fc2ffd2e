"""What is looked at when the plan ends: orders, what is left over, what was never used, circles."""

from __future__ import annotations

from procedure.flow.graph import Edge
from procedure.flow.places import IN_USE
from procedure.flow.scope import Scope
from procedure.flow.walk import Walk
from procedure.model import Name
from procedure.vocabulary import near


def orders(walk: Walk) -> None:
    """Orders added by hand with ``after``."""
    for scope, name, node in walk.orders:
        target = walk.labels.get(scope.prefix + name.text)
        if target is None and name.text in scope.procedure.unread:
            continue
        if target is None:
            meant = near(name.text, [key.removeprefix(scope.prefix) for key in walk.labels])
            wanted = "the label of a step"
            walk.slip("not declared", scope, name, node, wanted=wanted, near_word=meant)
            continue
        block = walk.flow.nodes[target]
        last = block.inner[-1].id if block.inner else target
        walk.flow.edges.append(Edge(last, node.id, "order", name.text))


def left_over(walk: Walk) -> None:
    """What is still in use when the plan ends: fibre in a bath, and baths."""
    _left_in_baths(walk)
    for bath, maker in walk.flow.baths.items():
        live = walk.places.live[bath]
        partly = live.status != IN_USE and live.path
        if live.status == IN_USE or partly:
            node = walk.flow.nodes[maker]
            here = Scope(node.procedure, "", node.calls)
            name = node.step.label or Name(bath, node.step.place)
            # Where it is gone on one way only, it is left over on the other.
            path = live.path
            if partly:
                path = walk.places.other_ways.get(path) or _other_way(path)
            walk.slip("bath left over", here, name, node, path=path)


def _left_in_baths(walk: Walk) -> None:
    for lot, bath in walk.places.bath_of.items():
        if not bath or walk.places.live[lot].status != IN_USE or bath not in walk.flow.baths:
            continue
        number = walk.last.get(lot, -1)
        other = walk.place_of(number)
        if other is not None:
            node = walk.flow.nodes[number]
            here = Scope(node.procedure, "", node.calls)
            name = Name(walk.flow.lots[lot].name, other[1].place)
            walk.slip("left in bath", here, name, node, wanted=bath)


def _other_way(path: str) -> str:
    """The other way through the ``if`` that a path names."""
    passed = path.removesuffix(" does not hold")
    return f"{passed} holds" if passed != path else f"{path.removesuffix(' holds')} does not hold"


def never_used(walk: Walk, scope: Scope) -> None:
    """What the main file declares and no step names."""
    procedure = scope.procedure
    for group in (procedure.lots, procedure.equipment, procedure.materials):
        for declared in group.values():
            name = declared.name.text
            if scope.names.get(name) in walk.used or name in procedure.brought:
                continue
            pot = procedure.equipment.get(name)
            if pot is None or pot.holds:  # a spoon or a hob serves without being named
                walk.slip("never used", scope, declared.name)


def find_circle(walk: Walk) -> None:
    """A circle is only possible where an order was added by hand that leads back."""
    if not any(edge.kind == "order" for edge in walk.flow.edges):
        return
    if all(edge.before < edge.after for edge in walk.flow.edges):
        return  # as it mostly is, which is seen without a library
    import networkx

    try:
        circle = networkx.find_cycle(walk.flow.networkx())
    except networkx.NetworkXNoCycle:
        return
    walk.flow.cycle = tuple(walk.flow.nodes[edge[0]] for edge in circle)
