"""The chart's sheets as pictures for a handout, or a sentence on why there are none."""

from __future__ import annotations

from procedure.handout.contents import ChartSheet
from procedure.pipeline import Judged
from procedure.timetable.taking import days_of

MARGIN = 6.0
FOLLOWS = "The chart is on the sheets behind this paper."
NO_GRAPHVIZ = "The chart is not drawn here: no Graphviz was found where this paper was made."
NOT_DRAWN = "The chart is not drawn here: Graphviz could not draw it."


def sheets_of(plan: Judged, paper: str = "a4") -> tuple[tuple[ChartSheet, ...], str]:
    """The sheets, and the sentence where nothing could be drawn; one of the two is empty."""
    from procedure.chart import NoGraphviz, NotDrawn, dot, papers, render
    from procedure.chart.layout import How, laid_out

    try:
        how = How("both", paper, opened=False, least="warning", trimmed=True)
        chart = laid_out(plan, how._replace(on_days=days_of(plan)))
        made = [
            papers.finished_svg(
                render.render(dot.dot([one], chart.title, MARGIN), "svg"),
                chart.title,
                chart.description,
                dot.whole([one], MARGIN),
            )
            for one in chart.sheets
        ]
    except NoGraphviz:
        return (), NO_GRAPHVIZ
    except NotDrawn:
        return (), NOT_DRAWN
    says = [chart.description, *("The chart goes on." for _ in made[1:])]
    return tuple(ChartSheet(svg, said) for svg, said in zip(made, says, strict=True)), ""


def bound_sheets(plan: Judged, paper: str = "a4") -> tuple[bytes, str]:
    """The chart as whole pages of a PDF, or the sentence on why there are none."""
    from procedure.chart import NoGraphviz, NotDrawn, draw

    try:
        drawn = draw(plan, "pdf", sheet=paper, on_days=days_of(plan))
    except NoGraphviz:
        return b"", NO_GRAPHVIZ
    except NotDrawn:
        return b"", NOT_DRAWN
    assert isinstance(drawn, bytes)
    return drawn, ""
