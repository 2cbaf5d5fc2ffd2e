"""A part of a drawing: the steps of one lot, or those from one step to another.

What is left out is told at the edges: a connector for each step that a line comes from or
goes to, with its number in the whole chart.
"""

from __future__ import annotations

from typing import NamedTuple

from procedure.chart.lettering import clean
from procedure.chart.panels import own_name
from procedure.chart.placed_symbols import Drawing, Figure, Way
from procedure.chart.wording import listed
from procedure.flow import Flow, FlowNode

LEFT_OUT = "left out"
# At the edges these say nothing that the order of the steps does not say.
_UNSAID = frozenset(("pot", "order"))
_FIRST_KEY = -500_000


class NotThere(ValueError):
    """A lot or step was asked for that the plan does not have; says which is near."""


class Choice(NamedTuple):
    """What is to be drawn: of one lot, from a step, to a step; all where they are empty."""

    only: str = ""
    start: str = ""
    end: str = ""


def lots_of(flow: Flow, name: str) -> frozenset[str]:
    """A lot with all that it comes from, by the plan's names.

    Raises :class:`NotThere` for a lot that is not in the plan.
    """
    found = [lot for lot, origin in flow.lots.items() if name in (lot, origin.name)]
    if not found:
        raise NotThere(_missing("lot", name, [origin.name for origin in flow.lots.values()]))
    every: set[str] = set()
    while found:
        lot = found.pop()
        if lot in flow.lots and lot not in every:
            every.add(lot)
            found += flow.lots[lot].parts
    return frozenset(every)


def chosen(
    drawing: Drawing, ways: list[Way], choice: Choice, lots: frozenset[str] | None
) -> tuple[Drawing, list[Way]]:
    """The figures that were chosen with the ways between them, and connectors at the edges.

    ``lots`` are those of ``choice.only``, or None for all. Raises :class:`NotThere` for a
    step that is not in the plan, and where no step is left.
    """
    kept = _kept(drawing, choice, lots)
    if lots is not None:
        ways = [way for way in ways if way.kind != "lot" or _concerns(drawing, way.thing, lots)]
    part = Drawing(drawing.flow)
    part.stands_for = {node: key for node, key in drawing.stands_for.items() if key in kept}
    part.ends = {start: end for start, end in drawing.ends.items() if start in kept}
    part.comes_in = drawing.comes_in & kept
    around, edges = _edges(drawing, ways, kept)
    for key, figure in drawing.figures.items():
        if key not in kept:
            continue
        before, after = around.get(key, ([], []))
        if lots is not None:
            figure.lots = tuple(lot for lot in figure.lots if lot in lots)
        for each in (*before, figure, *after):
            part.figures[each.key] = each
            if not each.is_end:
                part.inside.setdefault(each.within[-1] if each.within else -1, []).append(each.key)
    part.comes_in |= {each.key for before, _ in around.values() for each in before}
    between = [way for way in ways if way.before in kept and way.after in kept]
    order = {key: place for place, key in enumerate(part.figures)}
    return part, sorted(
        [*between, *edges], key=lambda way: (order[way.before], order[way.after], way.kind)
    )


def _kept(drawing: Drawing, choice: Choice, lots: frozenset[str] | None) -> set[int]:
    """The keys of all figures to be drawn; a block that holds one is drawn with its limits."""
    limits = set(drawing.ends) | set(drawing.ends.values())
    steps = [key for key in drawing.figures if key >= 0]
    places = {key: place for place, key in enumerate(steps)}
    first, last = 0, len(steps) - 1
    if choice.start:
        first = min(places[key] for key in _named(drawing, choice.start))
    if choice.end:
        found = [drawing.ends.get(key, key) for key in _named(drawing, choice.end)]
        last = max(places[key] for key in found)
    if first > last:
        raise NotThere(
            f"step “{choice.end}” comes before step “{choice.start}”; give the earlier one first"
        )
    kept = {
        key
        for key in steps[first : last + 1]
        if lots is None or (key not in limits and not lots.isdisjoint(drawing.figures[key].lots))
    }
    starts = {end: start for start, end in drawing.ends.items()}
    kept |= {starts[key] for key in kept if key in starts}
    kept |= {block for key in kept for block in drawing.figures[key].within}
    kept |= {end for start, end in drawing.ends.items() if start in kept}
    if not kept:
        raise NotThere("no step is left to draw; choose a lot that goes through some of the steps")
    return kept | {key for key in drawing.figures if key < 0 and drawing.stands_for[key] in kept}


def _concerns(drawing: Drawing, thing: str, lots: frozenset[str]) -> bool:
    """True for the lots themselves, and for one that they were joined into."""
    origin = drawing.flow.lots.get(thing)
    joined = origin is not None and len(origin.parts) > 1 and not lots.isdisjoint(origin.parts)
    return thing in lots or joined


# ---------------------------------------------------------------- steps by name


def _named(drawing: Drawing, name: str) -> list[int]:
    """The figures of the step with a label (``scour.rinse``) or at a line of the plan."""
    nodes = [node for node in drawing.flow.nodes if node.kind != "end"]
    nodes = [node for node in nodes if node.id in drawing.stands_for]
    if name.isascii() and name.isdigit() and len(name) <= 9:
        own = [node for node in nodes if not node.calls]
        found = [node for node in own if node.step.place.line == int(name)]
        if not found:
            lines = [node.step.place.line for node in own]
            nearest = min(lines, key=lambda line: abs(line - int(name)), default=None)
            more = f"; the nearest begins at line {nearest}" if nearest is not None else ""
            raise NotThere(f"no step of the plan begins at line {int(name)}{more}")
    else:
        labels = {_label(node): None for node in nodes}
        found = [node for node in nodes if _label(node) == name]
        if not found:
            raise NotThere(_missing("step", name, [label for label in labels if label]))
    return [drawing.stands_for[node.id] for node in found]


def _label(node: FlowNode) -> str:
    """A step's label as it is said in the plan; empty where it has none."""
    steps = [*[call.step for call in node.calls], node.step]
    labels = [step.label.text for step in steps if step.label is not None]
    return ".".join(labels) if len(labels) == len(steps) else ""


def _missing(kind: str, name: str, known: list[str]) -> str:
    from procedure.vocabulary import near

    shown = name if len(name) <= 60 else f"{name[:60]}…"
    nearest = near(name, known)
    if nearest is not None:
        return f"there is no {kind} “{clean(shown)}”; the nearest is “{nearest}”"
    there = listed([f"“{each}”" for each in list(dict.fromkeys(known))[:8]])
    more = " and others" if len(set(known)) > 8 else ""
    none = "has no label" if kind == "step" else "is named"
    said = f"there are {there}{more}" if known else f"no {kind} {none}"
    return f"there is no {kind} “{clean(shown)}”; {said}"


# ---------------------------------------------------------------- the edges


def _edges(
    drawing: Drawing, ways: list[Way], kept: set[int]
) -> tuple[dict[int, tuple[list[Figure], list[Figure]]], list[Way]]:
    """The connectors before and after each figure, and the ways from and to them."""
    cut: dict[tuple[int, int], list[Way]] = {}
    for way in ways:
        one_end = (way.before in kept) != (way.after in kept)
        if one_end and way.kind not in _UNSAID:
            cut.setdefault((way.before, way.after), []).append(way)
    around: dict[int, tuple[list[Figure], list[Figure]]] = {}
    edges: list[Way] = []
    for number, ((before, after), them) in enumerate(cut.items()):
        comes_in = after in kept
        key = _FIRST_KEY - number
        here = drawing.figures[after if comes_in else before]
        other = drawing.figures[before if comes_in else after]
        made = Figure(key, LEFT_OUT, _where(other, comes_in), _carried(drawing, them))
        carried = tuple(way.thing for way in them if way.thing in here.lots)
        made.lots, made.pot = carried or here.lots[:1], here.pot
        made.within = _around(here, other, drawing)
        around.setdefault(here.key, ([], []))[0 if comes_in else 1].append(made)
        edges += [way._replace(before=key) if comes_in else way._replace(after=key) for way in them]
    return around, edges


def _around(here: Figure, other: Figure, drawing: Drawing) -> tuple[int, ...]:
    """The blocks around a connector: those of its figure, and a block whose limit that is."""
    start = here.key
    if here.is_end:
        start = next(one for one, end in drawing.ends.items() if end == here.key)
    return (*here.within, start) if start in other.within else here.within


def _where(other: Figure, comes_in: bool) -> str:
    word = "from" if comes_in else "to"
    if not other.number:
        return f"{word} {'the start' if comes_in else 'the end'}"
    return f"{word} {'the end of ' if other.is_end else 'step '}{other.number}"


def _carried(drawing: Drawing, ways: list[Way]) -> tuple[str, ...]:
    names: dict[str, None] = {}
    for way in ways:
        lot = drawing.flow.lots.get(way.thing)
        names.setdefault(lot.name if lot is not None else own_name(way.thing))
    said = ", ".join(name for name in names if name)
    return (clean(said),) if said else ()
