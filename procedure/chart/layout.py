"""A plan laid out on sheets: the whole way from the flow graph to places on paper."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from procedure.chart import paper, sheets, wording
from procedure.chart.choice import Choice, chosen, lots_of
from procedure.chart.lanes import lanes as lanes_of
from procedure.chart.lettering import clean
from procedure.chart.links import links, without_spent
from procedure.chart.marks import Marks, marks
from procedure.chart.notes import Note, notes
from procedure.chart.panels import Folded, fold
from procedure.chart.placed_symbols import Drawing, Way, figures
from procedure.chart.sheet import Sheet
from procedure.chart.sheets import BELOW
from procedure.findings import at_least
from procedure.pipeline import Judged


class LaidOut(NamedTuple):
    """A chart on its sheets, with its title and a description for who cannot see it."""

    title: str
    description: str
    sheets: list[Sheet]


class How(NamedTuple):
    """How a plan is drawn: lanes ``by`` lot, pot or none, on sheets of a ``sort``.

    ``opened`` shows what followed procedures hold; findings of level ``least`` and above are
    marked; ``trimmed`` leaves out the empty foot of each sheet; ``choice`` is the part to
    be drawn; ``overview`` folds the plan onto one page; ``folded`` draws a repeat as one
    symbol.
    """

    by: str
    sort: str
    opened: bool
    least: str
    trimmed: bool
    choice: Choice = Choice()
    overview: bool = False
    folded: bool = False


def laid_out(plan: Judged, how: How) -> LaidOut:
    """Lay a plan out. Raises :class:`NotThere` for a lot or step that it does not have."""
    lots = lots_of(plan.flow, how.choice.only) if how.choice.only else None
    drawing = figures(plan.flow, plan.trace, how.opened, lots, how.folded)
    ways = links(drawing)
    shown = [finding for finding in plan.findings if at_least(finding.level, how.least)]
    marked = marks(drawing, shown)
    if any(how.choice) or how.overview:
        ways = without_spent(drawing, ways)
    if any(how.choice):
        drawing, ways = chosen(drawing, ways, how.choice, lots)
        marked = marked.among(drawing.figures)
    if not how.overview:
        for key, words in marked.by_figure.items():
            drawing.figures[key].mark = words
        return _laid(plan, drawing, ways, marked, how, len(shown))
    from procedure.chart.overview import Overview

    few = Overview(drawing, ways)
    marked = replace(marked, listed=(), by_figure={})

    def page(number: int) -> LaidOut:
        return _laid(plan, *few.folded(number), marked, how, len(shown))

    number = few.most
    best = page(number)
    while len(best.sheets) > 1 and number > 1:
        number -= max(1, number // 6) if len(best.sheets) > 2 else 1
        best = page(number)
    return best


def _laid(
    plan: Judged, drawing: Drawing, ways: list[Way], marked: Marks, how: How, findings: int
) -> LaidOut:
    """Lay a drawing out; ``findings`` is how many are of a level that is shown."""
    by = how.by
    lanes = lanes_of(drawing, ways, by)
    layout = replace(paper.plot(lanes.number, how.sort), upright=how.overview)
    head = sheets.heading(plan.model, marked, layout.paper.width)
    room = sheets.room_for(layout, head, by != "none")
    used = {figure.symbol for figure in drawing.figures.values()} | {"document"}
    lighter, untold = len(plan.findings) - findings, findings - len(marked.listed)

    def below(connectors: set[str], kinds: set[str]) -> list[list[Note]]:
        wide = layout.paper.width
        frames = bool(drawing.ends)
        return notes(used | connectors, kinds, marked, frames, wide, lighter, untold)

    spare = 0.0
    if how.overview:  # what stands below the panels is on their sheet
        most = below({"connector"}, {way.kind for way in ways})
        spare = BELOW + sum(note.height for group in most for note in group)
    folded = fold(
        drawing,
        ways,
        lanes,
        layout.lane_width,
        lambda number, shown: room(number, shown) - spare,
        by == "lot",
        how.overview or any(how.choice),
    )
    kinds = {strand.kind for panel in folded.panels for strand in panel.strands}
    foot = below(_connectors(folded, layout.across), kinds)
    made = sheets.sheets(drawing, folded, lanes, by, layout, head, foot, how.trimmed)
    title = wording.name_text(plan.model.title) or clean(plan.file)
    return LaidOut(title, _description(drawing, marked, by, len(made)), made)


def _connectors(folded: Folded, across: int) -> set[str]:
    found: set[str] = set()
    for cut in folded.cuts.values():
        same = cut.out_of // across == cut.into // across
        found.add("connector" if same else "off-page")
    return found


def _description(drawing: Drawing, marked: Marks, by: str, count: int) -> str:
    """The chart in words: what it is, and the steps in order."""
    lanes = "" if by == "none" else f", with a lane for each {by}"
    sheets = "one sheet" if count == 1 else f"{count} sheets"
    said = [f"A flowchart on {sheets}{lanes}. The steps in order:"]
    for figure in drawing.figures.values():
        if figure.is_end:
            continue
        mark = f" ({figure.mark})" if figure.mark else ""
        said.append(
            f"{figure.heading}{mark}".removesuffix("?")
            + ("?" if figure.symbol == "decision" else ".")
        )
    said += [text for _, text in marked.listed]
    return clean(" ".join(said))
