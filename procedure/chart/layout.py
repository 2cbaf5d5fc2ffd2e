"""A plan laid out on sheets: the whole way from the flow graph to places on paper."""

from __future__ import annotations

from typing import NamedTuple

from procedure.chart import paper, sheets, wording
from procedure.chart.figures import Drawing, figures
from procedure.chart.lanes import lanes as lanes_of
from procedure.chart.lettering import clean
from procedure.chart.links import links
from procedure.chart.marks import Marks, marks
from procedure.chart.notes import notes
from procedure.chart.panels import Folded, fold
from procedure.chart.sheet import Sheet
from procedure.findings import at_least
from procedure.plan import Plan


class LaidOut(NamedTuple):
    """A chart on its sheets, with its title and a description for who cannot see it."""

    title: str
    description: str
    sheets: list[Sheet]


def laid_out(plan: Plan, by: str, sort: str, opened: bool, least: str, trimmed: bool) -> LaidOut:
    """Lay a plan out: lanes ``by`` lot, pot or none, on sheets of a sort.

    ``opened`` shows what followed procedures hold; findings of level ``least`` and above are
    marked; ``trimmed`` leaves out the empty foot of each sheet.
    """
    drawing = figures(plan.flow, plan.trace, opened)
    ways = links(drawing)
    shown = [finding for finding in plan.findings if at_least(finding.level, least)]
    marked = marks(drawing, shown)
    for key, words in marked.by_figure.items():
        drawing.figures[key].mark = words
    lanes = lanes_of(drawing, ways, by)
    layout = paper.plot(lanes.number, sort)
    head = sheets.heading(plan.model, marked, layout.paper.width)
    room = sheets.room_for(layout, head, by != "none")
    folded = fold(drawing, ways, lanes, layout.lane_width, room, by == "lot")
    used = {figure.symbol for figure in drawing.figures.values()} | {"document"}
    used |= _connectors(folded, layout.across)
    kinds = {strand.kind for panel in folded.panels for strand in panel.strands}
    below = notes(
        used,
        kinds,
        marked,
        bool(drawing.ends),
        layout.paper.width,
        len(plan.findings) - len(shown),
    )
    made = sheets.sheets(drawing, folded, lanes, by, layout, head, below, trimmed)
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
