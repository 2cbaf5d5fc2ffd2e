"""Threads: what goes down a lane. A lot from where it is born to where it ends, a bath while
it is in its pot, an empty pot between two uses, a material from where it is made ready.
"""

from __future__ import annotations

from itertools import pairwise

from procedure.chart.placed_symbols import Drawing
from procedure.flow import FlowNode
from procedure.model import Step
from procedure.quantity.record import NamedTuple

Place = tuple[str, str]
"""What a lane is for: ``lot``, ``pot``, ``bath`` (one without a pot), ``material`` or ``order``
(steps that have no other lane), and the plan's name of it."""

BY_HAND: Place = ("order", "")


class Thread(NamedTuple):
    """Something that goes down one lane: the keys of the figures that it meets, in order.

    ``kind`` is that of its line: lot, bath, pot, material or order. ``before`` and ``after``
    are the figures that it comes from and goes on to where those are not drawn.
    """

    kind: str
    thing: str
    place: Place
    stops: tuple[int, ...]
    before: int | None = None
    after: int | None = None


def threads(drawing: Drawing, by: str) -> list[Thread]:
    """All threads of a drawing for lanes ``by`` both, lot, pot or none.

    By lot there are none of baths and pots, by pot none of lots and materials; by none
    only the order of the text.
    """
    if by == "none":
        stops = tuple(drawing.figures)
        return [Thread("order", "", BY_HAND, stops)] if stops else []
    weaving = _Weaving(drawing)
    found: list[Thread] = []
    if by in ("both", "lot"):
        found += weaving.lots()
        found += weaving.materials()
    if by in ("both", "pot"):
        baths = weaving.baths()
        seen = {thread.place[1] for thread in baths if len(thread.stops) > 1}
        pots = set(weaving.uses) if by == "pot" else seen
        found += [one for one in baths if one.place[1] in pots or one.place[0] == "bath"]
        found += weaving.empty_pots(pots, found)
    found += weaving.through_blocks(found)
    spans: dict[int, set[Place]] = {}
    for thread in found:
        for key in thread.stops:
            spans.setdefault(key, set()).add(thread.place)
    return stopped(found, spans, list(drawing.figures))


def kept(
    threads_of_all: list[Thread], shown: set[int], lots: frozenset[str] | None
) -> list[Thread]:
    """The threads of a part of a drawing: of the ``lots`` alone, and between figures shown."""
    found: list[Thread] = []
    for thread in threads_of_all:
        here = [place for place, key in enumerate(thread.stops) if key in shown]
        if not here or (thread.kind == "lot" and lots is not None and thread.thing not in lots):
            continue
        first, last = here[0], here[-1]
        quiet = thread.kind in ("pot", "order")
        found.append(
            thread._replace(
                stops=tuple(thread.stops[place] for place in here),
                before=None if quiet or not first else thread.stops[first - 1],
                after=None if quiet or last == len(thread.stops) - 1 else thread.stops[last + 1],
            )
        )
    return found


class _Weaving:
    """Finds the figures that each thing meets, in the order of the text."""

    def __init__(self, drawing: Drawing) -> None:
        self.drawing = drawing
        self.flow = drawing.flow
        self.order = {key: place for place, key in enumerate(drawing.figures)}
        self.keys = list(drawing.figures)
        self.uses: dict[str, set[int]] = {}
        for node in self.steps():
            for pot in (node.pot, node.to_pot, *node.cleaned):
                if pot:
                    self.uses.setdefault(pot, set()).add(self.shown(node.id))

    def steps(self) -> list[FlowNode]:
        """The nodes that are steps and are shown by some figure."""
        return [
            node
            for node in self.flow.nodes
            if node.kind in ("step", "do") and node.id in self.drawing.stands_for
        ]

    def shown(self, node: int) -> int:
        """The figure that shows a node."""
        return self.drawing.stands_for[node]

    def stops(self, met: set[int]) -> tuple[int, ...]:
        """The figures that something meets, with the limits of the blocks it goes into."""
        places = {self.order[key] for key in met if key in self.order}
        if not places:
            return ()
        first, last = min(places), max(places)
        for place in list(places):
            for block in self.drawing.figures[self.keys[place]].within:
                start, end = self.order[block], self.order[self.drawing.ends[block]]
                if first < start:
                    places.add(start)
                if last > end:
                    places.add(end)
        return tuple(self.keys[place] for place in sorted(places))

    # ------------------------------------------------------------ fibre

    def lots(self) -> list[Thread]:
        """A thread for each lot; none goes on after the lot was split or joined."""
        met: dict[str, set[int]] = {lot: set() for lot in self.flow.lots}
        for node in self.steps():
            for lot in (*node.lots, *node.present, *node.left):
                if lot in met:
                    met[lot].add(self.shown(node.id))
        for key, figure in self.drawing.figures.items():
            if key < 0 and figure.symbol in ("terminator", "unread"):
                for lot in figure.lots:
                    met[lot].add(key)
        ends: dict[str, int] = {}
        for lot, origin in self.flow.lots.items():
            if origin.node is not None and origin.node in self.drawing.stands_for:
                born = self.shown(origin.node)
                met[lot].add(born)
                for part in origin.parts:
                    ends[part] = born
                    met[part].add(born)
        found: list[Thread] = []
        for lot, figures in met.items():
            last = self.order.get(ends.get(lot, -1), len(self.keys))
            stops = self.stops({key for key in figures if self.order.get(key, last) <= last})
            if stops:
                found.append(Thread("lot", lot, ("lot", lot), stops))
        return found

    # ------------------------------------------------------------ baths and pots

    def baths(self) -> list[Thread]:
        """A thread for each bath, a new one for each pot that it is poured over into."""
        legs: dict[str, list[tuple[Place, set[int]]]] = {}
        for key, figure in self.drawing.figures.items():
            if key < 0 and figure.symbol == "data":
                legs[figure.thing] = [(("bath", figure.thing), {key})]
        for node in self.steps():
            for bath in dict.fromkeys((*self._touched(node), *self._poured(node))):
                self._leg(legs.setdefault(bath, []), bath, node)
        found: list[Thread] = []
        for bath, parts in legs.items():
            for place, figures in parts:
                stops = self.stops(figures)
                if stops:
                    found.append(Thread("bath", bath, place, stops))
        return found

    def _touched(self, node: FlowNode) -> list[str]:
        return [bath for bath in (node.bath, *node.makes) if bath in self.flow.baths]

    def _poured(self, node: FlowNode) -> list[str]:
        return [thing for thing, _ in node.moved if thing in self.flow.baths]

    def _leg(self, parts: list[tuple[Place, set[int]]], bath: str, node: FlowNode) -> None:
        key = self.shown(node.id)
        own = bath == node.bath or bath in node.makes
        place: Place = ("pot", node.pot) if own and node.pot else ("bath", bath)
        if parts and (not own or not node.pot):
            place = parts[-1][0]
        if parts and parts[-1][0][0] == "bath" and place[0] == "pot":
            parts[-1] = (place, parts[-1][1])  # a kept bath stands where it is first used
        if not parts or parts[-1][0] != place:
            parts.append((place, set()))
        parts[-1][1].add(key)
        if own and node.to_pot and ("pot", node.to_pot) != place:
            parts.append((("pot", node.to_pot), {key}))

    def empty_pots(self, pots: set[str], others: list[Thread]) -> list[Thread]:
        """A thread for each use of a pot, and for each time that it waits empty between two."""
        busy: dict[str, list[tuple[int, int]]] = {}
        for thread in others:
            if thread.kind == "bath" and thread.place[0] == "pot":
                ends = (self.order[thread.stops[0]], self.order[thread.stops[-1]])
                busy.setdefault(thread.place[1], []).append(ends)
        found: list[Thread] = []
        for pot, used in self.uses.items():
            if pot not in pots:
                continue
            places = sorted(self.order[key] for key in used if key in self.order)
            found += [Thread("pot", pot, ("pot", pot), (self.keys[one],)) for one in places]
            for one, two in pairwise(places):
                if not any(first <= one and two <= last for first, last in busy.get(pot, ())):
                    stops = self.stops({self.keys[one], self.keys[two]})
                    found.append(Thread("pot", pot, ("pot", pot), stops))
        return found

    # ------------------------------------------------------------ materials

    def materials(self) -> list[Thread]:
        """A thread for each material from the step that made it ready to all that use it."""
        nodes = self.flow.nodes
        ready: dict[str, set[int]] = {}
        for edge in self.flow.edges:
            if edge.kind != "material" or edge.before not in self.drawing.stands_for:
                continue
            step = nodes[edge.before].step
            makes = isinstance(step, Step) and step.verb is not None
            if makes and step.verb.group == "material":  # type: ignore[union-attr]
                ready.setdefault(edge.thing, set()).add(self.shown(edge.before))
            if edge.thing in ready and edge.after in self.drawing.stands_for:
                ready[edge.thing].add(self.shown(edge.after))
        return [
            Thread("material", thing, ("material", thing), stops)
            for thing, met in ready.items()
            if len(stops := self.stops(met)) > 1
        ]

    # ------------------------------------------------------------ blocks

    def through_blocks(self, found: list[Thread]) -> list[Thread]:
        """The way through each block that nothing else goes through."""
        through = {key for thread in found for key in thread.stops}
        places: dict[int, Place] = {}
        for thread in found:
            for key in thread.stops:
                places.setdefault(key, thread.place)
        made: list[Thread] = []
        for start, end in self.drawing.ends.items():
            if start in through and end in through:
                continue
            inner = [key for key in self.keys if start in self.drawing.figures[key].within]
            place = next((places[key] for key in inner if key in places), BY_HAND)
            stops = [key for key in inner if places.get(key, BY_HAND) == place]
            pieces: list[tuple[int, ...]]
            if len(stops) > 1 and place != BY_HAND:
                pieces = [(start, stops[0]), (stops[-1], end)]
                known = [start in through, end in through]
            else:
                pieces, known = [(start, *stops, end)], [False]
            for piece, said in zip(pieces, known, strict=True):
                if not said:
                    made.append(Thread("order", "", place, piece))
        return made


def stopped(some: list[Thread], spans: dict[int, set[Place]], order: list[int]) -> list[Thread]:
    """The threads with a stop at each figure that is in their lane on the way.

    Only a pot that two things use at once needs it, which is a slip of the plan.
    """
    at = {key: place for place, key in enumerate(order)}
    found: list[Thread] = []
    for thread in some:
        first, last = at[thread.stops[0]], at[thread.stops[-1]]
        here = {key for key in order[first : last + 1] if thread.place in spans.get(key, ())}
        if thread.kind == "lot" or here <= set(thread.stops):
            found.append(thread)
        else:
            stops = sorted(here | set(thread.stops), key=lambda key: at[key])
            found.append(thread._replace(stops=tuple(stops)))
    return found
