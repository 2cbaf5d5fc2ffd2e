"""The links between figures: what flows, with all that goes without saying left out."""

from __future__ import annotations

from itertools import pairwise

from procedure.chart.placed_symbols import Drawing, Way
from procedure.flow import Edge, FlowNode
from procedure.model import Step

QUIET = frozenset(("material", "pot", "order"))
"""Kinds that only say what comes first; such a link is dropped where others say the same."""


def links(drawing: Drawing) -> list[Way]:
    """The ways between figures, ordered as the figures are, none said twice."""
    order = {key: place for place, key in enumerate(drawing.figures)}
    ways: dict[Way, None] = {}
    flowing = [*_flowing(drawing), *_made_ready(drawing), *_ends(drawing)]
    for way in (part for whole in flowing for part in _by_the_doors(drawing, whole)):
        if way.before == way.after:
            continue
        if order[way.before] > order[way.after] and way.kind != "order":
            continue  # what a for each does to the next one: its loop says so
        ways.setdefault(way)
    kept = _answered(drawing, without_implied(drawing, list(ways), order))
    return sorted(kept, key=lambda way: (order[way.before], order[way.after], way.kind))


def _by_the_doors(drawing: Drawing, way: Way) -> list[Way]:
    """A way into a block goes in at its start, one out of it comes out at its end."""
    one, two = drawing.figures[way.before], drawing.figures[way.after]
    leaves = [b for b in reversed(one.within) if b not in two.within]
    enters = [b for b in two.within if b not in one.within]
    if way.kind in QUIET and (leaves or enters):
        return [
            way._replace(
                before=drawing.ends[leaves[-1]] if leaves else way.before,
                after=enters[0] if enters else way.after,
            )
        ]
    stops = [
        way.before,
        *[drawing.ends[block] for block in leaves if drawing.ends[block] != way.after],
        *[block for block in enters if block != way.before],
        way.after,
    ]
    return [way._replace(before=a, after=b) for a, b in pairwise(stops)]


def _flowing(drawing: Drawing) -> list[Way]:
    flow = drawing.flow
    ways: list[Way] = []
    lying: dict[str, list[FlowNode]] = {}
    for node in flow.nodes:
        for lot in node.present:
            if lot not in node.lots:
                lying.setdefault(lot, []).append(node)
    for edge in flow.edges:
        if edge.kind == "material" or _poured_away(drawing, edge):
            continue
        kind = "order" if edge.kind == "block" else edge.kind
        stops = [edge.before, edge.after]
        if edge.kind == "pot":
            stops[0] = _freed_by(drawing, edge)
        if edge.kind == "lot":  # fibre that lies in a bath goes through what the bath goes through
            around = [drawing.figures[drawing.stands_for[end]].within for end in stops]
            stops[1:1] = [
                node.id
                for node in lying.get(edge.thing, ())
                if edge.before < node.id < edge.after
                and drawing.figures[drawing.stands_for[node.id]].within in around
            ]
        for before, after in pairwise(stops):
            one, two = drawing.stands_for[before], drawing.stands_for[after]
            ways.append(Way(one, two, kind, edge.thing))
    return ways


def _poured_away(drawing: Drawing, edge: Edge) -> bool:
    """True for a bath that was thrown away whole: nothing flows on from there."""
    step = drawing.flow.nodes[edge.before].step
    return (
        edge.kind == "bath"
        and isinstance(step, Step)
        and step.does.empties
        and all(item.quantity is None for item in step.objects)
    )


def _freed_by(drawing: Drawing, edge: Edge) -> int:
    """The step that sets a pot free: where a bath was made in it, the last that touched that."""
    maker = drawing.flow.nodes[edge.before]
    if maker.bath not in maker.makes:
        return edge.before
    touched = [
        node.id
        for node in drawing.flow.nodes[edge.before : edge.after]
        if node.bath == maker.bath and node.kind != "end"
    ]
    return touched[-1]


def _made_ready(drawing: Drawing) -> list[Way]:
    """A material flows from the step that made it ready, not from whoever used it last."""
    nodes = drawing.flow.nodes
    ready: dict[tuple[str, int], int] = {}
    ways: list[Way] = []
    for edge in drawing.flow.edges:
        if edge.kind != "material":
            continue
        step = nodes[edge.before].step
        if isinstance(step, Step) and step.verb is not None and step.verb.group == "material":
            maker: int | None = edge.before
        else:
            maker = ready.get((edge.thing, edge.before))
        if maker is not None:
            ready[edge.thing, edge.after] = maker
            one, two = drawing.stands_for[maker], drawing.stands_for[edge.after]
            ways.append(Way(one, two, "material", edge.thing))
    return ways


def _ends(drawing: Drawing) -> list[Way]:
    """From where things come in, and to where fibre is finished."""
    ways: list[Way] = []
    for key, figure in drawing.figures.items():
        if key >= 0:
            continue
        other = drawing.stands_for[key]
        if figure.symbol == "data":
            ways.append(Way(key, other, "bath", figure.heading))
            continue
        for lot in figure.lots:
            ends = (key, other) if key in drawing.comes_in else (other, key)
            ways.append(Way(*ends, "lot", lot))
    return ways


def _answered(drawing: Drawing, ways: list[Way]) -> list[Way]:
    """Ways into and out of blocks: each block is entered and left, a decision has yes and no."""
    made = list(ways)
    for start, end in drawing.ends.items():
        inner = drawing.inside.get(start, [])
        decides = drawing.figures[start].symbol == "decision"
        first, last = (inner[0], inner[-1]) if inner else (end, start)
        if not any(way.before == start for way in made) and inner:
            made.append(Way(start, first, "order", ""))
        if not any(way.after == end for way in made):
            made.append(Way(_out_of(drawing, last), end, "order", ""))
        if decides:
            made = [
                way._replace(answer="yes") if way.before == start and way.after != end else way
                for way in made
            ]
            through = [way for way in made if way.after == end] or [Way(start, end, "order", "")]
            made = [way for way in made if (way.before, way.after) != (start, end)]
            made += [Way(start, end, way.kind, way.thing, "no") for way in through]
    return made


def _out_of(drawing: Drawing, key: int) -> int:
    """Where one comes out of a figure: its end, if it is a block."""
    return drawing.ends.get(key, key)


def without_implied(drawing: Drawing, ways: list[Way], order: dict[int, int]) -> list[Way]:
    """Drops a quiet way where other ways lead from its start to its end anyway."""
    loud = [way for way in ways if way.kind not in QUIET and not _at_limit(way, drawing)]
    said = set(loud)
    joined = {(way.before, way.after) for way in loud}
    quiet: dict[tuple[int, int], list[Way]] = {}
    for way in ways:
        if way not in said and (way.before, way.after) not in joined:
            quiet.setdefault((way.before, way.after), []).append(way)
    pairs = joined | quiet.keys()
    after: dict[int, set[int]] = {}
    for one, two in pairs:
        after.setdefault(one, set()).add(two)
    kept = [
        way
        for (one, two), them in quiet.items()
        if not _leads(after, one, two, order)
        for way in them
    ]
    return loud + kept


def without_spent(drawing: Drawing, ways: list[Way]) -> list[Way]:
    """Drops the ways of a lot beyond where it was split up or joined with others.

    Amounts may still be measured of such a lot; nothing of it flows any more.
    """
    order = {key: place for place, key in enumerate(drawing.figures)}
    gone = {
        lot: order[drawing.stands_for[origin.node]]
        for origin in drawing.flow.lots.values()
        if origin.node is not None
        for lot in origin.parts
    }
    return [
        way
        for way in ways
        if way.kind != "lot" or order[way.before] < gone.get(way.thing, len(order))
    ]


def _at_limit(way: Way, drawing: Drawing) -> bool:
    """True for a bath that goes into a block or comes to its end, while other things do too."""
    start = way.before in drawing.ends and drawing.ends[way.before] != way.after
    inside = start and way.before in drawing.figures[way.after].within
    return way.kind == "bath" and (inside or way.after in drawing.ends.values())


def _leads(after: dict[int, set[int]], start: int, end: int, order: dict[int, int]) -> bool:
    """True where a way of two links or more leads from start to end, in the order of the text."""
    seen: set[int] = set()
    todo = [key for key in after.get(start, ()) if key != end]
    while todo:
        key = todo.pop()
        if key in seen or order[key] > order[end]:
            continue
        seen.add(key)
        if end in after.get(key, ()):
            return True
        todo += after.get(key, ())
    return False
