"""What stays as it is however much fibre there is: fixed baths, and what is made ready for them.

A bath is ``fixed`` by its word. A solution, a paste or a bag of plants that goes into fixed baths
alone stays as well, wherever it was made ready; and so does what was drawn off a fixed bath, unless
fibre goes into that, which then takes so much for each weight of fibre.
"""

from __future__ import annotations

from procedure.flow import Flow, FlowNode
from procedure.flow.graph import WATER
from procedure.model import Step


def steps_that_stay(flow: Flow) -> frozenset[int]:
    """The nodes whose grams and litres are the same for any weight of fibre, by their ids."""
    stays = {node.bath for node in flow.nodes if node.bath and _is_fixed(node)}
    if not stays:
        return frozenset(node.id for node in flow.nodes if _is_fixed(node))
    goes_into = _where_things_go(flow)
    drawn = _drawn_off(flow)
    waits = {
        thing: goes_into.get(thing, {drawn.get(thing, "")}) - stays
        for thing in {*goes_into, *drawn}
        if thing not in stays and not _dyes(flow, thing)
    }
    wait_for: dict[str, list[str]] = {}
    for thing, ends in waits.items():
        for end in ends:
            wait_for.setdefault(end, []).append(thing)
    settled = [thing for thing, ends in waits.items() if not ends]
    while settled:
        stays.add(thing := settled.pop())
        for behind in wait_for.get(thing, ()):
            waits[behind].discard(thing)
            if not waits[behind]:
                settled.append(behind)
    return frozenset(node.id for node in flow.nodes if _stays(flow, node, stays))


def drawn_for_fibre(flow: Flow) -> dict[int, tuple[str, ...]]:
    """The fibre that a bath drawn off another is for, by the node that draws it off."""
    return {
        node.id: lots
        for node in flow.nodes
        if _draws(node) and (lots := tuple(lot for bath in node.makes for lot in _dyes(flow, bath)))
    }


def _where_things_go(flow: Flow) -> dict[str, set[str]]:
    """The baths that each bath, bag and material ends in; of a material in a bag, the bag."""
    found: dict[str, set[str]] = {}
    for node in flow.nodes:
        if node.does.readies:
            continue
        if node.bag and node.bath:
            found.setdefault(node.bag, set()).add(node.bath)
        into = node.bath or node.bag
        for thing, _ in (*node.moved, *node.materials):
            if into and thing != into:
                found.setdefault(thing, set()).add(into)
            elif node.lots:
                found.setdefault(thing, set()).add("")
    return found


def _drawn_off(flow: Flow) -> dict[str, str]:
    return {made: node.bath for node in flow.nodes if _draws(node) for made in node.makes}


def _draws(node: FlowNode) -> bool:
    return node.does.draws_off and bool(node.bath)


def _dyes(flow: Flow, bath: str) -> list[str]:
    return flow.treats.get(bath, [])


def _stays(flow: Flow, node: FlowNode, stays: set[str]) -> bool:
    if _is_fixed(node):
        return True
    if node.bath:
        return node.bath in stays and not any(
            _dyes(flow, made) for made in node.makes if _draws(node)
        )
    if node.bag:
        return node.bag in stays
    things = [thing for thing, _ in (*node.moved, *node.materials) if thing != WATER]
    return node.does.readies and bool(things) and stays.issuperset(things)


def _is_fixed(node: FlowNode) -> bool:
    """True for the step that makes a bath which does not grow with the fibre."""
    return isinstance(node.step, Step) and "fixed" in node.step.manner
