"""From the flow graph to what is drawn: a figure for each symbol, a link for each way between.

Blocks are drawn with a start and an end, a ``for each`` once for all that it is done
to, and a followed procedure as one symbol unless it is to be opened.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from procedure.chart import step_words
from procedure.chart.lettering import clean
from procedure.flow import Flow, FlowNode
from procedure.model import Block, Step
from procedure.quantity.number_words import listed
from procedure.rules.judging import reader_of
from procedure.trace import Trace
from procedure.trace.amounts import Amount
from procedure.wording.reader import spelling_of

MOST_NAMED = 8


@dataclass(slots=True)
class PlacedSymbol:
    """A symbol with its words. ``within`` are the blocks around it, the outermost first.

    ``key`` is the flow node that it stands for; a symbol of the drawing's own (where fibre
    comes in or is finished) has a negative key. ``lots`` are the plan's names of the
    fibre it acts on or that lies in its bath, ``pot`` of the vessel it happens in.
    """

    key: int
    symbol: str
    heading: str
    details: tuple[str, ...] = ()
    number: str = ""
    lots: tuple[str, ...] = ()
    pot: str = ""
    within: tuple[int, ...] = ()
    nodes: list[FlowNode] = field(default_factory=list)
    mark: str = ""
    thing: str = ""
    """The bath that comes in, of a figure for that."""
    ends: bool = False
    """True for where fibre is finished."""

    @property
    def name(self) -> str:
        """A name that no other figure has."""
        if not self.number:
            return f"{self.symbol} {-self.key}"
        return f"end of {self.number}" if self.is_end else f"step {self.number}"

    @property
    def is_end(self) -> bool:
        """True for the end of a block."""
        return bool(self.nodes) and self.nodes[0].kind == "end"


@dataclass(slots=True)
class Drawing:
    """All figures in the order of the text, and which figure stands for each flow node."""

    flow: Flow
    figures: dict[int, PlacedSymbol] = field(default_factory=dict)
    stands_for: dict[int, int] = field(default_factory=dict)
    ends: dict[int, int] = field(default_factory=dict)
    """The end of each block, by its start."""
    inside: dict[int, list[int]] = field(default_factory=dict)
    """The figures directly inside each block, without its end."""
    comes_in: set[int] = field(default_factory=set)
    """The drawing's own symbols for where something comes in; the others are for its end."""
    unread: dict[int, int] = field(default_factory=dict)
    """The figure of each line of the plan that could not be read, by the line's number."""


def figures(
    flow: Flow,
    trace: Trace,
    opened: bool = False,
    lots: frozenset[str] | None = None,
    folded: bool = False,
) -> Drawing:
    """Every figure of a plan; ``opened`` shows what a followed procedure holds, ``folded``
    draws a repeat as one figure.

    Where ``lots`` are given, no others are shown to come in and to be finished.
    """
    drawing = Drawing(flow)
    _Gathering(drawing, opened, folded).gather(flow.top, (), "")
    moments = step_words.moments_of(trace)
    spelling = spelling_of_flow(flow)
    readers = {one.key: reader_of(one)._replace(spelling=spelling) for one in flow.procedures}
    starts = {end: start for start, end in drawing.ends.items()}
    for figure in drawing.figures.values():
        start = starts.get(figure.key)
        if start is not None:
            words = step_words.end_words(figure.nodes[0], drawing.figures[start].number)
        else:
            reader = readers[figure.nodes[0].procedure.key]
            words = step_words.words_of(
                figure.nodes, figure.number, moments, reader, flow.materials
            )
        figure.heading, figure.details = words
        node = figure.nodes[0]
        if folded and start is None and node.kind == "repeat":
            figure.details = (*figure.details, *_inside(node))
        _touch(figure)
        if start is not None:
            figure.lots = drawing.figures[start].lots
    _enter_and_finish(drawing, trace, lots)
    return drawing


def spelling_of_flow(flow: Flow) -> str:
    """The spelling of a plan's chart: that of the units in which its procedures are written."""
    return spelling_of(said.quantity.unit for made in flow.procedures for said in made.written)


class _Gathering:
    """Walks the flow in the order of the text; what a ``for each`` unrolled is rolled up."""

    def __init__(self, drawing: Drawing, opened: bool, folded: bool) -> None:
        self.drawing = drawing
        self.opened = opened
        self.folded = folded
        self.first: dict[tuple[int, int, bool], int] = {}

    def gather(self, nodes: list[FlowNode], within: tuple[int, ...], prefix: str) -> None:
        drawing = self.drawing
        parent = within[-1] if within else -1
        for node in nodes:
            is_end = node.kind == "end"
            same = (parent, node.step.number, is_end)
            known = self.first.setdefault(same, node.id)
            drawing.stands_for[node.id] = known
            if known == node.id:
                around = within[:-1] if is_end else within
                number = prefix + str(node.step.number)
                if is_end:
                    number = drawing.figures[parent].number
                symbol = "predefined" if self.is_folded(node) else _symbol(node)
                made = PlacedSymbol(node.id, symbol, "", number=number, within=around)
                drawing.figures[node.id] = made
                if is_end:
                    drawing.ends[parent] = node.id
                else:
                    drawing.inside.setdefault(parent, []).append(node.id)
            drawing.figures[known].nodes.append(node)
            if self.is_folded(node):
                self.fold(node.inner, known)
            elif node.inner:
                deeper = f"{drawing.figures[known].number}." if node.kind == "follow" else prefix
                self.gather(node.inner, (*within, known), deeper)

    def is_folded(self, node: FlowNode) -> bool:
        """True where one figure stands for all that a block or a followed procedure holds."""
        return (node.kind == "follow" and not self.opened) or (
            node.kind == "repeat" and self.folded
        )

    def fold(self, nodes: list[FlowNode], into: int) -> None:
        """All that is below a folded figure is shown by it."""
        for node in nodes:
            self.drawing.stands_for[node.id] = into
            self.fold(node.inner, into)


def _inside(node: FlowNode) -> list[str]:
    """The steps that a folded repeat holds, a line each."""
    found: list[str] = []
    for one in node.inner:
        if one.kind != "end":
            found.append(clean(step_words.heading_of(one)))
            found += _inside(one)
    return found


def _symbol(node: FlowNode) -> str:
    step = node.step
    if node.kind == "end":
        if isinstance(step, Block):
            return "join" if step.kind in ("if", "either", "way") else "loop end"
        return "predefined"
    if isinstance(step, Step):
        if node.kind == "follow":
            return "predefined"
        return step.verb.symbol if step.verb else "process"
    if step.kind == "way":
        return "process"
    return "decision" if step.kind in ("if", "either") else "loop begin"


def _touch(figure: PlacedSymbol) -> None:
    """The lots and the pot of a figure, with all that is folded in it."""
    node = figure.nodes[0]
    touched = _all_below(figure.nodes)
    figure.lots = tuple(dict.fromkeys(lot for one in touched for lot in (one.lots or one.present)))
    if not figure.lots and node.kind == "step" and node.left:
        figure.lots = tuple(node.left)
    pots = dict.fromkeys(
        pot for one in touched for pot in (one.pot, *one.cleaned, one.to_pot) if pot
    )
    figure.pot = next(iter(pots), "")


def _all_below(nodes: list[FlowNode]) -> list[FlowNode]:
    found: list[FlowNode] = []
    for node in nodes:
        found.append(node)
        found += _all_below(node.inner)
    return found


# ---------------------------------------------------------------- coming in and being finished


def _enter_and_finish(drawing: Drawing, trace: Trace, only: frozenset[str] | None) -> None:
    """Figures for where each lot comes from and where it ends, and for baths kept from before."""
    flow = drawing.flow
    gone = {part for origin in flow.lots.values() for part in origin.parts}
    starts: dict[int, list[str]] = {}
    finishes: dict[int, list[str]] = {}
    chains = _chains(drawing)
    for lot, origin in flow.lots.items():
        chain = chains(lot) or _where_made(drawing, lot)
        if not chain or (only is not None and lot not in only):
            continue
        if origin.declared is not None:
            starts.setdefault(chain[0], []).append(lot)
        if lot not in gone:
            finishes.setdefault(chain[-1], []).append(lot)
    key = -1
    before: dict[int, PlacedSymbol] = {}
    for first, lots in starts.items():
        names = listed([flow.lots[lot].name for lot in lots])
        details = tuple(_declared(drawing, lot, len(lots) > 1) for lot in lots)
        key -= 1
        before[key] = PlacedSymbol(key, "terminator", clean(names), details, lots=tuple(lots))
        drawing.stands_for[key] = first
    for bath, maker in flow.baths.items():
        if maker < 0 and (chain := chains(bath)):
            key -= 1
            before[key] = PlacedSymbol(
                key, "data", clean(bath), ("kept from another procedure",), thing=bath
            )
            drawing.stands_for[key] = chain[0]
    ends: dict[int, PlacedSymbol] = {}
    for last, lots in finishes.items():
        key -= 1
        said = f"{_names(flow, lots)} {'is' if len(lots) == 1 else 'are'} finished"
        details = _weights(trace, flow, lots)
        ends[key] = PlacedSymbol(
            key, "terminator", clean(said), details, lots=tuple(lots), ends=True
        )
        drawing.stands_for[key] = last
    drawing.comes_in = set(before)
    drawing.figures = _placed(drawing, before, ends)


def _placed(
    drawing: Drawing, before: dict[int, PlacedSymbol], after: dict[int, PlacedSymbol]
) -> dict[int, PlacedSymbol]:
    """Each beginning just before the outermost figure that first needs it, each finish just after
    the last."""
    waiting: dict[int, list[PlacedSymbol]] = {}
    following: dict[int, list[PlacedSymbol]] = {}
    for key, figure in before.items():
        first = drawing.figures[drawing.stands_for[key]]
        waiting.setdefault(first.within[0] if first.within else first.key, []).append(figure)
    for key, figure in after.items():
        last = drawing.figures[drawing.stands_for[key]]
        outermost = last.within[0] if last.within else last.key
        outermost = drawing.ends.get(outermost, outermost)
        following.setdefault(outermost, []).append(figure)
    placed: dict[int, PlacedSymbol] = {}
    for key, figure in drawing.figures.items():
        for one in (*waiting.get(key, ()), figure, *following.get(key, ())):
            placed[one.key] = one
    return placed


def _chains(drawing: Drawing) -> Callable[[str], list[int]]:
    """Gives the figures that a lot or bath goes through, in order, each once."""
    flow = drawing.flow
    met: dict[str, set[int]] = {}
    for node in flow.nodes:
        for thing in (*node.lots, node.bath):
            met.setdefault(thing, set()).add(node.id)
    for edge in flow.edges:
        met.setdefault(edge.thing, set()).update((edge.before, edge.after))
    places = {key: place for place, key in enumerate(drawing.figures) if key >= 0}
    stands_for = dict(drawing.stands_for)

    def chain(thing: str) -> list[int]:
        made_at = flow.lots[thing].node if thing in flow.lots else None
        shown = {stands_for[node] for node in met.get(thing, ()) if node in stands_for}
        return sorted((shown & places.keys()) - {made_at}, key=places.__getitem__)

    return chain


def _where_made(drawing: Drawing, lot: str) -> list[int]:
    """The figure at which a lot is parted off that nothing is done to afterwards."""
    origin = drawing.flow.lots[lot]
    if origin.declared is not None or origin.node is None:
        return []
    made = drawing.stands_for.get(origin.node)
    return [] if made is None else [made]


def _declared(drawing: Drawing, lot: str, with_name: bool) -> str:
    declared = drawing.flow.lots[lot].declared
    assert declared is not None
    said = [fibre.name for fibre in declared.fibres]
    pieces, each = declared.pieces, declared.pieces.each if declared.pieces else None
    if pieces is not None and each is not None:  # the weight is that of all of them
        said.append(f"{pieces.text.removesuffix(each.text).strip()} of {each.text}")
    else:
        said += [one.text for one in (declared.weight, pieces) if one is not None]
    if declared.scoured is not None:
        said.append("scoured" if declared.scoured else "not scoured")
    text = ", ".join(said)
    return clean(f"{drawing.flow.lots[lot].name}: {text}" if with_name and text else text)


def _names(flow: Flow, lots: list[str]) -> str:
    """The names of lots; how many, where they are too many to read."""
    names = [flow.lots[lot].name for lot in lots]
    return listed(names) if len(names) <= MOST_NAMED else f"{len(names)} lots"


def _weights(trace: Trace, flow: Flow, lots: list[str]) -> tuple[str, ...]:
    """The dry weight of each lot where it is known, said once where all weigh the same."""
    said: dict[str, list[str]] = {}
    reader = reader_of(flow.procedures[0])
    for lot in lots:
        state = trace.final.lots.get(lot)
        if state is not None and state.weight is not None:
            weight = step_words.amount_text(Amount("mass", *state.weight), reader)
            said.setdefault(weight, []).append(flow.lots[lot].name)
    if len(said) == 1 and sum(map(len, said.values())) == len(lots):
        each = " each" if len(lots) > 1 else ""
        return (clean(f"{next(iter(said))} dry weight{each}"),)
    return tuple(clean(f"{listed(n)}: {w} dry weight") for w, n in said.items())
