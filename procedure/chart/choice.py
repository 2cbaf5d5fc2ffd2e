"""A part of a drawing: the steps of one lot, or those from one step to another.

What is left out is told in words: where a line comes from or goes to, by the step's number in
the whole chart.
"""

from __future__ import annotations

from procedure.chart.lanes import own_name
from procedure.chart.lettering import clean
from procedure.chart.placed_symbols import Drawing, PlacedSymbol
from procedure.chart.threads import Thread
from procedure.flow import Flow, FlowNode
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple


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


def chosen(drawing: Drawing, choice: Choice, lots: frozenset[str] | None) -> Drawing:
    """The part of a drawing that was chosen, its figures as they are in the whole.

    ``lots`` are those of ``choice.only``, or None for all. Raises :class:`NotThere` for a
    step that is not in the plan, and where no step is left.
    """
    kept = _kept(drawing, choice, lots)
    part = Drawing(drawing.flow)
    part.stands_for = {node: key for node, key in drawing.stands_for.items() if key in kept}
    part.ends = {start: end for start, end in drawing.ends.items() if start in kept}
    part.comes_in = drawing.comes_in & kept
    for key, figure in drawing.figures.items():
        if key in kept:
            if lots is not None:
                figure.lots = tuple(lot for lot in figure.lots if lot in lots)
            part.figures[key] = figure
            if not figure.is_end:
                around = figure.within[-1] if figure.within else -1
                part.inside.setdefault(around, []).append(key)
    return part


def tell_where(part: Drawing, whole: Drawing, threads: list[Thread]) -> None:
    """Say in the figures of a part what comes from a step that is not drawn, or goes to one."""
    for thread in threads:
        name = own_name(whole, thread.place if thread.kind == "lot" else ("", thread.thing))
        for other, key, word in (
            (thread.before, thread.stops[0], "from"),
            (thread.after, thread.stops[-1], "to"),
        ):
            if other is not None:
                figure = part.figures[key]
                figure.details += (f"{name} {_where(whole.figures[other], word)}",)


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


def _where(other: PlacedSymbol, word: str) -> str:
    if not other.number:
        return f"{word} {'the start' if word == 'from' else 'the end'}"
    return f"{word} {'the end of ' if other.is_end else 'step '}{other.number}"
