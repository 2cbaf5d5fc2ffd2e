"""The overview: a plan in as few symbols as one page has room for.

Each followed procedure and each block is one symbol, and so is each run of steps on one
lot or bath. Where that is too much for the page, neighbours are drawn as one, those
that belong together and stand for little first.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from procedure.chart import step_words
from procedure.chart.lettering import clean
from procedure.chart.placed_symbols import Drawing, PlacedSymbol
from procedure.flow import FlowNode
from procedure.model import Block, Step
from procedure.quantity.number_words import listed

_MOST_NAMES = 6
_MOST_SAID = 3
_MOST_VERBS = 6


@dataclass(slots=True)
class _Group:
    """Neighbouring figures that are drawn as one."""

    figures: list[PlacedSymbol]
    steps: int
    things: frozenset[str]
    main: int
    whole: bool
    """True for a followed procedure or a block, which stands for itself."""


class Overview:
    """A drawing, to be drawn in any number of symbols."""

    def __init__(self, drawing: Drawing) -> None:
        self.drawing = drawing
        self.first = _runs(_outermost(drawing))
        self.merges = _merges(self.first)

    @property
    def most(self) -> int:
        """How many symbols there are before neighbours are drawn as one."""
        return len(self.first)

    def folded(self, number: int) -> Drawing:
        """The drawing in so many symbols, besides those for where things come in and end."""
        groups = list(self.first)
        for place in self.merges[: len(groups) - number]:
            groups[place : place + 2] = [_joined(*groups[place : place + 2])]
        return _drawn(self.drawing, groups)


def _outermost(drawing: Drawing) -> list[_Group]:
    """A group for each step, block and followed procedure of the plan itself."""
    found: list[_Group] = []
    for key, figure in drawing.figures.items():
        if key < 0 or figure.within or figure.is_end:
            continue
        node = figure.nodes[0]
        leaves = [leaf for each in figure.nodes for leaf in _leaves(each)]
        things = {thing for leaf in leaves for thing in (*leaf.lots, *leaf.present, leaf.bath)}
        main = sum(_is_main(leaf) for leaf in leaves)
        whole = bool(node.inner) or node.kind not in ("step", "do")
        found.append(_Group([figure], len(leaves), frozenset(things - {""}), main, whole))
    return found


def _leaves(node: FlowNode) -> list[FlowNode]:
    """The steps that a node stands for, without the starts and ends of what holds them."""
    if node.kind in ("step", "do"):
        return [node]
    return [leaf for inner in node.inner for leaf in _leaves(inner)]


def _is_main(node: FlowNode) -> bool:
    step = node.step
    return isinstance(step, Step) and step.does.main


def _runs(groups: list[_Group]) -> list[_Group]:
    """Each run of steps on one lot or bath as one group; a main station begins a new one."""
    runs: list[_Group] = []
    for group in groups:
        last = runs[-1] if runs else None
        joins = last is not None and not (last.whole or group.whole or group.main)
        if last is not None and not joins and not (last.whole or group.whole):
            # What is done after a station with the same fibre or bath belongs to it.
            joins = not group.main and bool(last.main)
        if last is not None and joins and last.things & group.things:
            runs[-1] = _joined(last, group)
        else:
            runs.append(group)
    return runs


def _joined(one: _Group, two: _Group) -> _Group:
    return _Group(
        one.figures + two.figures,
        one.steps + two.steps,
        one.things | two.things,
        one.main + two.main,
        False,
    )


def _merges(first: list[_Group]) -> list[int]:
    """The places at which neighbours are joined, one after another, down to a single group."""
    groups = list(first)
    places: list[int] = []
    while len(groups) > 1:
        pairs = range(len(groups) - 1)
        best = min(pairs, key=lambda at: _cost(groups[at], groups[at + 1]))
        groups[best : best + 2] = [_joined(groups[best], groups[best + 1])]
        places.append(best)
    return places


def _cost(one: _Group, two: _Group) -> tuple[int, int]:
    """Little where both have things in common, and where few stations are lost among others."""
    apart = 0 if one.things & two.things else 12
    lost = 10 * min(one.main, two.main)
    return apart + lost + one.steps + two.steps + 4 * (one.whole + two.whole), one.steps


# ---------------------------------------------------------------- drawing


@dataclass(slots=True)
class _Around:
    """The symbols for what comes in and is finished, by the group that they belong to."""

    before: dict[int, list[PlacedSymbol]] = field(default_factory=dict)
    after: dict[int, list[PlacedSymbol]] = field(default_factory=dict)


def _drawn(drawing: Drawing, groups: list[_Group]) -> Drawing:
    part = Drawing(drawing.flow)
    shown_by = {figure.key: group.figures[0].key for group in groups for figure in group.figures}
    for key, figure in drawing.figures.items():
        if key >= 0 and key not in shown_by:
            outermost = figure.within[0] if figure.within else _start_of(drawing, key)
            shown_by[key] = shown_by[outermost]
    unread = set(drawing.unread.values())
    steps = {node: key for node, key in drawing.stands_for.items() if node not in unread}
    part.stands_for = {node: shown_by[key] for node, key in steps.items()}
    within = _within(drawing, part, groups)
    around = _around(drawing, part, within)
    part.comes_in = {figure.key for figures in around.before.values() for figure in figures}
    for group in groups:
        made = _figure(group)
        passing = within.get(made.key, ())
        if passing:
            made.details = (_passing(drawing, passing), *made.details)
        for each in (*around.before.get(made.key, ()), made, *around.after.get(made.key, ())):
            part.figures[each.key] = each
            part.inside.setdefault(-1, []).append(each.key)
    return part


def _around(drawing: Drawing, part: Drawing, within: dict[int, tuple[str, ...]]) -> _Around:
    """One symbol for all that comes into a group, and one for all that is finished there."""
    around = _Around()
    gathered: dict[tuple[int, bool, str], PlacedSymbol] = {}
    for key, figure in drawing.figures.items():
        if key >= 0 or key in drawing.unread.values():
            continue
        home, comes_in = part.stands_for[key], key in drawing.comes_in
        if figure.symbol == "terminator" and set(figure.lots) <= set(within.get(home, ())):
            continue  # the group's own words say so
        known = gathered.get((home, comes_in, figure.symbol))
        if known is None:
            known = gathered[home, comes_in, figure.symbol] = replace(figure, details=())
            (around.before if comes_in else around.after).setdefault(home, []).append(known)
        else:
            known.lots += figure.lots
            if figure.symbol == "data":
                known.heading = f"{known.heading}, {figure.heading}"
    for (_, comes_in, symbol), figure in gathered.items():
        if symbol == "terminator":
            figure.heading = _gathered(drawing, figure, comes_in)
    return around


def _passing(drawing: Drawing, lots: tuple[str, ...]) -> str:
    one = len(lots) == 1
    told = f"{_names(drawing, lots)} come{'s' if one else ''} in"
    return clean(f"{told} and {'is' if one else 'are'} finished here")


def _start_of(drawing: Drawing, end: int) -> int:
    return next(start for start, other in drawing.ends.items() if other == end)


def _within(drawing: Drawing, part: Drawing, groups: list[_Group]) -> dict[int, tuple[str, ...]]:
    """The lots that come in and are finished within one and the same group of several figures."""
    several = {group.figures[0].key for group in groups if len(group.figures) > 1}
    ends: list[dict[str, int]] = [{}, {}]
    for key, figure in drawing.figures.items():
        if key < 0 and figure.symbol == "terminator":
            comes_in = key in drawing.comes_in
            ends[comes_in].update(dict.fromkeys(figure.lots, part.stands_for[key]))
    found: dict[int, tuple[str, ...]] = {}
    for lot, home in ends[True].items():
        if home in several and ends[False].get(lot) == home:
            found[home] = (*found.get(home, ()), lot)
    return found


def _names(drawing: Drawing, lots: tuple[str, ...]) -> str:
    """The names of lots; how many, where they are many."""
    names = list(dict.fromkeys(drawing.flow.lots[lot].name for lot in lots))
    return listed(names) if len(names) <= _MOST_NAMES else f"{len(names)} lots"


def _gathered(drawing: Drawing, figure: PlacedSymbol, comes_in: bool) -> str:
    """Which lots come in or are finished; how many, where they are many."""
    done = "" if comes_in else " is finished" if len(figure.lots) == 1 else " are finished"
    return clean(_names(drawing, figure.lots) + done)


def _figure(group: _Group) -> PlacedSymbol:
    """The symbol of a group: what its stations are, and how many steps it stands for."""
    first, last = group.figures[0], group.figures[-1]
    count = f"{group.steps} step{'' if group.steps == 1 else 's'}"
    number = first.number
    if len(group.figures) > 1:
        number = f"{first.number}–{last.number}"
    lots = tuple(dict.fromkeys(lot for figure in group.figures for lot in figure.lots))
    pot = next((figure.pot for figure in group.figures if figure.pot), "")
    if len(group.figures) == 1:
        said, details = _alone(first)
        symbol = first.symbol if first.symbol not in ("loop begin", "decision") else "process"
    else:
        said, details = _together(group)
        symbol = "process"
    if group.whole or len(group.figures) > 1:
        details = (*details, count)
    nodes = [node for figure in group.figures for node in figure.nodes]
    return PlacedSymbol(
        first.key, symbol, clean(f"{number}. {said}"), tuple(map(clean, details)), number, lots,
        pot, (), nodes,
    )  # fmt: skip


def _alone(figure: PlacedSymbol) -> tuple[str, tuple[str, ...]]:
    """The words of a step that is by itself, of a followed procedure, or of a block."""
    node = figure.nodes[0]
    step = node.step
    if isinstance(step, Block):
        return _block_words(step, node), ()
    return step_words.heading_of(node), ()


def _block_words(block: Block, node: FlowNode) -> str:
    """What is done in a block: its main stations, or the first of its verbs."""
    leaves = [leaf for inner in node.inner for leaf in _leaves(inner)]
    done = ", ".join(_verbs([leaf for leaf in leaves if _is_main(leaf)]) or _verbs(leaves))
    said = step_words.heading_of(node)
    if block.kind == "if":
        said = f"if {said}"
    elif block.kind == "either":
        ways = [one.condition for one in block.body if isinstance(one, Block)]
        return f"either {' or '.join(ways)}: {done}" if done else f"either {' or '.join(ways)}"
    elif block.kind == "for":
        names = [item.name.text for item in block.values if item.name is not None]
        many = len(names) > _MOST_SAID
        said = f"each of {len(names) if many else listed(names)}"
    return f"{said}: {done}" if done else said


def _together(group: _Group) -> tuple[str, tuple[str, ...]]:
    """The stations of several steps; of steps without any, their bath or fibre and the verbs."""
    stations = [
        _alone(figure)[0]
        for figure in group.figures
        if figure.nodes[0].inner or any(_is_main(leaf) for leaf in _leaves(figure.nodes[0]))
    ]
    stations = list(dict.fromkeys(stations))
    leaves = [leaf for figure in group.figures for leaf in _leaves(figure.nodes[0])]
    if not stations:
        baths = list(dict.fromkeys(_own_name(leaf.bath) for leaf in leaves if leaf.bath))
        lots = list(dict.fromkeys(_own_name(lot) for leaf in leaves for lot in leaf.lots))
        said = ", ".join((baths or lots)[:_MOST_SAID])
        return (said or "other steps"), _verbs(leaves)
    if len(stations) > _MOST_SAID:
        stations = _counted(group)
    if len(stations) > _MOST_SAID:
        stations = [*stations[:_MOST_SAID], "…"]
    return "; ".join(stations), () if len(stations) > 1 else _verbs(leaves)


def _counted(group: _Group) -> list[str]:
    """The stations of many steps: those of one verb with how often it is done."""
    verbs: dict[str, list[PlacedSymbol]] = {}
    for figure in group.figures:
        step = figure.nodes[0].step
        verb = step.verb.name if isinstance(step, Step) and step.verb is not None else ""
        if figure.nodes[0].inner:
            verbs[_alone(figure)[0]] = [figure]
        elif _is_main(figure.nodes[0]):
            verbs.setdefault(verb, []).append(figure)
    return [
        _alone(them[0])[0] if len(them) == 1 else f"{verb} {len(them)} times"
        for verb, them in verbs.items()
    ]


def _own_name(thing: str) -> str:
    """The plan's name of a thing without the step or lot that it belongs to."""
    return thing.rsplit(".", 1)[-1]


def _verbs(leaves: list[FlowNode]) -> tuple[str, ...]:
    verbs: dict[str, None] = {}
    for leaf in leaves:
        step = leaf.step
        if isinstance(step, Step):
            verbs.setdefault(step.verb.name if step.verb is not None else "do")
    said = list(verbs)
    if len(said) > _MOST_VERBS:
        said = [*said[:_MOST_VERBS], "…"]
    return (", ".join(said),) if said else ()
