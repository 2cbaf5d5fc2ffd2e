"""Folding: figures into rows, rows into panels that fit on paper, and connectors between them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from procedure.chart.lanes import Lanes
from procedure.chart.lettering import clean
from procedure.chart.placed_symbols import Drawing, Way
from procedure.chart.routes import GAP, GUTTER, Box, Panel, Strand
from procedure.chart.sizing import sized

CONNECTOR_W = 22.0
CONNECTOR_H = 22.0
# Two connectors may stand abreast in a lane, each with words at its right, if it is this wide.
ABREAST = 2
ABREAST_ROOM = 165.0
# The words of a connector may hang this far below it.
WORDS_BELOW = 16.0
ASIDE = (-0.4, 0.1)
NARROW = -0.25
# A panel is filled at least this much before a better place to break is looked for.
LEAST_FILLED = 0.45
# What a break inside a block costs, in lines cut.
BLOCK_COST = 5
# What parting fibre that comes in from its first step would cost, in lines cut.
PARTED_COST = 6.0
# What leaving a whole panel empty would cost, in lines cut.
EMPTY_COST = 24.0
_LABELS = {"pot": "{} is free"}
_FIRST = ("lot", "bath", "order", "material", "pot")

Link = tuple[int, int]


@dataclass(slots=True)
class Cut:
    """A link that goes on in another panel: its letter, and the panels of its two ends."""

    link: Link
    letter: str
    out_of: int
    into: int
    words: str = ""


@dataclass(slots=True)
class Folded:
    """All panels, with the rows of figures in each and the links that were cut."""

    panels: list[Panel] = field(default_factory=list)
    keys: list[list[int]] = field(default_factory=list)
    cuts: dict[Link, Cut] = field(default_factory=dict)
    connectors: list[dict[int, tuple[Cut, bool]]] = field(default_factory=list)
    """For each panel, its connectors by the key of their box; True where the line comes in."""


def fold(
    drawing: Drawing,
    ways: list[Way],
    lanes: Lanes,
    lane_width: Callable[[int], float],
    room: Callable[[int, int], float],
    quiet_lots: bool,
    clear_of_connectors: bool = False,
) -> Folded:
    """Fold a drawing into panels.

    ``room`` gives the height of a panel in points, from its number and how many lanes it shows;
    ``lane_width`` how wide lanes are where a panel has so many of them.
    ``quiet_lots`` leaves out the names of lots on lines that stay in the lot's own lane.
    ``clear_of_connectors`` keeps lines off the connectors that they do not go to.
    """
    rows = _rows(drawing, ways, lanes)
    by_link: dict[Link, list[Way]] = {}
    for way in ways:
        by_link.setdefault((way.before, way.after), []).append(way)
    folding = _Folding(drawing, rows, by_link, lanes, lane_width, quiet_lots, clear_of_connectors)
    return folding.run(room)


def _rows(drawing: Drawing, ways: list[Way], lanes: Lanes) -> list[list[int]]:
    """Rows in the order of the text; steps that do not need each other may stand side by side."""
    after: dict[int, set[int]] = {}
    for way in ways:
        after.setdefault(way.after, set()).add(way.before)
    limits = set(drawing.ends) | set(drawing.ends.values())
    rows: list[list[int]] = []
    for key, figure in drawing.figures.items():
        lo, hi = lanes.spans[key]
        beside = rows and not any(
            other in after.get(key, ())
            or other in limits
            or key in limits
            or drawing.figures[other].within != figure.within
            or (lanes.spans[other][0] <= hi and lo <= lanes.spans[other][1])
            for other in rows[-1]
        )
        if beside:
            rows[-1].append(key)
        else:
            rows.append([key])
    return rows


@dataclass(slots=True)
class _Folding:
    drawing: Drawing
    rows: list[list[int]]
    links: dict[Link, list[Way]]
    lanes: Lanes
    lane_width: Callable[[int], float]
    quiet_lots: bool
    clear_of_connectors: bool
    row_of: dict[int, int] = field(default_factory=dict)
    cut_above: list[list[Link]] = field(default_factory=list)
    known: dict[tuple[int, float], Box] = field(default_factory=dict)

    def run(self, room: Callable[[int, int], float]) -> Folded:
        self.row_of = {key: number for number, row in enumerate(self.rows) for key in row}
        self._find_cuts()
        folded = Folded()
        start = 0
        while start < len(self.rows):
            number = len(folded.panels)
            end = self._last_row(start, lambda lanes, n=number: room(n, lanes))  # type: ignore[misc]
            while True:
                panel, connectors = self._panel(folded, start, end)
                if panel.height <= room(number, panel.lanes) or end == start:
                    break
                end -= 1
            folded.panels.append(panel)
            folded.keys.append([key for row in self.rows[start : end + 1] for key in row])
            folded.connectors.append(
                {key: (folded.cuts[link], comes_in) for key, (link, comes_in) in connectors.items()}
            )
            start = end + 1
        _letters(folded)
        return folded

    def _box(self, key: int, shown: tuple[int, ...]) -> Box:
        """A figure's box where those lanes are shown."""
        first, last = self.lanes.spans[key]
        wide = self.lane_width(len(shown))
        known = self.known.get((key, wide))
        if known is None:
            room = (last - first + 1) * wide + (last - first) * GUTTER
            known = self.known[key, wide] = sized(self.drawing.figures[key], (0, 0), room)
        return replace(known, lo=shown.index(first), hi=shown.index(last))

    def _shown(self, start: int, end: int) -> tuple[int, ...]:
        """The lanes in which something stands in some rows."""
        spans = [self.lanes.spans[key] for row in self.rows[start : end + 1] for key in row]
        return tuple(sorted({lane for lo, hi in spans for lane in range(lo, hi + 1)}))

    def _tall(self, start: int, end: int) -> float:
        """About how high some rows are with the spaces between them."""
        shown = self._shown(start, end)
        return sum(
            max(self._box(key, shown).h for key in row) + GAP + 4
            for row in self.rows[start : end + 1]
        )

    def _last_row(self, start: int, room_for: Callable[[int], float]) -> int:
        """The best row to end a panel with, by estimate of the room that its lines take."""
        best, best_cost = start, float("inf")
        arriving = self._connector_room(start, comes_in=True)
        for end in range(start, len(self.rows)):
            used = arriving + self._tall(start, end)
            room = room_for(len(self._shown(start, end)))
            filled = used + self._connector_room(end + 1, comes_in=False)
            if filled > room and end > start:
                break
            if end == len(self.rows) - 1:
                return end
            if used < room * LEAST_FILLED and end > start:
                best = end if best_cost == float("inf") else best
                continue
            cost = len(self.cut_above[end + 1]) + EMPTY_COST * (1 - filled / room)
            cost += BLOCK_COST * self._depth(end)
            if not self.drawing.comes_in.isdisjoint(self.rows[end]):
                cost += PARTED_COST
            if cost <= best_cost:
                best, best_cost = end, cost
        return best

    def _depth(self, end: int) -> int:
        """How many blocks a break below a row would cut."""
        key = self.rows[end][0]
        within = self.drawing.figures[key].within
        return len(within) + (1 if key in self.drawing.ends else 0)

    def _find_cuts(self) -> None:
        """For each row, the links that a break above it would cut."""
        self.cut_above = [[] for _ in range(len(self.rows) + 1)]
        for link in self.links:
            if self._goes_without_saying(link):
                continue
            rows = sorted((self.row_of[link[0]], self.row_of[link[1]]))
            for row in range(rows[0] + 1, rows[1] + 1):
                self.cut_above[row].append(link)

    def _goes_without_saying(self, link: Link) -> bool:
        """True for a pot that is used again on another panel: panels are in order anyway."""
        return all(way.kind == "pot" for way in self.links[link])

    def _connector_room(self, row: int, comes_in: bool) -> float:
        lanes: dict[int, int] = {}
        for before, after in self.cut_above[row]:
            lane = self._lane_of((before, after), comes_in)
            lanes[lane] = lanes.get(lane, 0) + 1
        rows = (max(lanes.values(), default=0) + ABREAST - 1) // ABREAST
        return rows * (CONNECTOR_H + GAP) + (0.0 if comes_in or not lanes else WORDS_BELOW)

    # ------------------------------------------------------------ one panel

    def _panel(
        self, folded: Folded, start: int, end: int
    ) -> tuple[Panel, dict[int, tuple[Link, bool]]]:
        inside = {key for row in self.rows[start : end + 1] for key in row}
        arrive: list[Link] = []
        leave: list[Link] = []
        kept: list[Link] = []
        for link in self.links:
            before, after = link[0] in inside, link[1] in inside
            if before and after:
                kept.append(link)
            elif (before or after) and self._goes_without_saying(link):
                continue
            elif before:
                leave.append(link)
            elif after:
                arrive.append(link)
        number = len(folded.panels)
        shown = self._shown(start, end)
        connectors: dict[int, tuple[Link, bool]] = {}
        made: dict[tuple[Link, bool], Box] = {}
        next_key = -1_000_000
        for links, comes_in in ((arrive, True), (leave, False)):
            for link in links:
                cut = folded.cuts.get(link)
                if cut is None:
                    cut = Cut(link, "", -1, -1, self._words(link))
                    folded.cuts[link] = cut
                if comes_in:
                    cut.into = number
                else:
                    cut.out_of = number
                next_key -= 1
                lane = shown.index(self._lane_of(link, comes_in))
                box = Box(next_key, "off-page", lane, lane, CONNECTOR_W, CONNECTOR_H)
                made[link, comes_in] = box
                connectors[next_key] = (link, comes_in)
        boxes = {key: self._box(key, shown) for key in inside}
        wide = self.lane_width(len(shown))
        abreast = ABREAST if wide >= ABREAST_ROOM else 1
        rows = [
            *_stacked([made[link, True] for link in arrive], abreast),
            *[[boxes[key] for key in row] for row in self.rows[start : end + 1]],
            *_stacked([made[link, False] for link in leave], abreast),
        ]
        strands: list[Strand] = []
        for link in kept:
            strands += self._strands(link, boxes[link[0]], boxes[link[1]], False, shown)
        for link in arrive:
            strands += self._strands(link, made[link, True], boxes[link[1]], True, shown)
        for link in leave:
            strands += self._strands(link, boxes[link[0]], made[link, False], True, shown)
        panel = Panel(rows, strands, shown, wide, self.clear_of_connectors)
        panel.height += WORDS_BELOW if leave else 0.0
        return panel, connectors

    def _lane_of(self, link: Link, comes_in: bool) -> int:
        """The lane in which a cut link goes on: the lot's own where the figure spans it."""
        lo, hi = self.lanes.spans[link[1] if comes_in else link[0]]
        for way in self.links[link]:
            for lane in range(lo, hi + 1):
                if way.thing in self.lanes.things[lane]:
                    return lane
        return lo

    def _strands(
        self, link: Link, one: Box, two: Box, cut: bool, shown: tuple[int, ...]
    ) -> list[Strand]:
        """A line for each kind that flows along a link, the quiet kinds as one."""
        ways = self.links[link]
        kinds: dict[str, list[Way]] = {}
        for way in sorted(ways, key=lambda way: _FIRST.index(way.kind)):
            kinds.setdefault(way.kind, []).append(way)
        loud = [kind for kind in kinds if kind in ("lot", "bath")]
        drawn = loud or list(kinds)[:1]
        strands: list[Strand] = []
        for place, kind in enumerate(drawn):
            label = "" if cut else self._label(kinds[kind], one, two, bool(loud))
            answer = ways[0].answer if place == 0 and (not cut or one.key >= 0) else ""
            if ways[0].answer == "no" and place:
                break
            lane = self._own_lane(kinds[kind], shown)
            strands.append(Strand(one, two, kind, label, answer, lane=lane))
        return strands

    def _own_lane(self, ways: list[Way], shown: tuple[int, ...]) -> int | None:
        """The place of the one lot's lane among those shown; none where there are more."""
        lanes = {lane for way in ways for lane in shown if way.thing in self.lanes.things[lane]}
        return shown.index(min(lanes)) if len(lanes) == 1 else None

    def _label(self, ways: list[Way], one: Box, two: Box, loud: bool) -> str:
        kind = ways[0].kind
        if ways[0].answer == "no":
            return ""
        if kind == "lot" and self.quiet_lots and one.lo == one.hi == two.lo == two.hi:
            return ""
        if kind == "order" and not ways[0].thing:
            return ""
        names = ", ".join(dict.fromkeys(self._name(way) for way in ways))
        return clean(_LABELS.get(kind, "{}").format(names))

    def _name(self, way: Way) -> str:
        lot = self.drawing.flow.lots.get(way.thing)
        return lot.name if lot is not None else own_name(way.thing)

    def _words(self, link: Link) -> str:
        ways = self.links[link]
        names = ", ".join(dict.fromkeys(self._name(way) for way in ways if way.thing))
        answer = ways[0].answer
        return clean(", ".join(part for part in (answer, names) if part))


def own_name(thing: str) -> str:
    """The plan's name of a thing without the step or lot that it belongs to."""
    return thing.rsplit(".", 1)[-1]


def _letters(folded: Folded) -> None:
    """Letters in the order of the panels, for the links that really were cut."""
    cut: dict[Link, Cut] = {}
    for connectors in folded.connectors:
        for one, _ in connectors.values():
            cut.setdefault(one.link, one)
    for number, one in enumerate(cut.values()):
        one.letter = _letter(number)
    folded.cuts = cut


def _stacked(boxes: list[Box], abreast: int) -> list[list[Box]]:
    """Connectors side by side over the lanes, some abreast in a lane that has more than one."""
    by_lane: dict[int, list[Box]] = {}
    for box in boxes:
        by_lane.setdefault(box.lo, []).append(box)
    rows: list[list[Box]] = []
    for held in by_lane.values():
        for place, box in enumerate(held):
            if abreast == 1:
                box.aside = NARROW
            elif len(held) > 1:
                box.aside = ASIDE[place % abreast]
            if place // abreast == len(rows):
                rows.append([])
            rows[place // abreast].append(box)
    return rows


def _letter(number: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
