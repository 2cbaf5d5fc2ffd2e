"""The chart: a procedure as a flowchart, as SVG, PNG, PDF or DOT.

Flow graph and trace to figures, and to threads that go from one to the next; threads to lanes;
figures to rows of a grid; rows to sheets; sheets to DOT; DOT to a picture.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import nullcontext
from typing import TYPE_CHECKING

from procedure.chart.render import NoGraphviz, NotDrawn

if TYPE_CHECKING:
    from procedure.chart.layout import LaidOut
    from procedure.chart.sheet import Sheet
    from procedure.pipeline import Judged

__all__ = ["FORMS", "LANES", "SHEETS", "NoGraphviz", "NotDrawn", "draw"]

FORMS = ("svg", "png", "pdf", "dot")
# Drawn with the fonts of the machine; the others are read with those of whoever reads them.
PICTURES = ("png", "pdf")
LANES = ("both", "lot", "pot", "none")
SHEETS = ("a4", "letter", "roll")

# Between the sheets of one picture.
GAP = 14.0
# So fine that letters do not grow noticeably by being set on whole dots.
PNG_DPI = 216
# Cairo, which draws the PNG, makes no picture taller or wider than 32 767 dots.
MOST_DOTS = 32_000
# All of its dots, at four bytes each while it is drawn; below so many to the inch nobody can
# read it. More symbols than these are no chart to look at.
MOST_DOTS_IN_ALL = 40_000_000
LEAST_DPI = 60
MOST_STEPS = 1_000


def draw(
    plan: Judged,
    form: str = "svg",
    *,
    lanes: str = "both",
    sheet: str = "a4",
    opened: bool = False,
    at_least: str = "warning",
    only: str = "",
    start: str = "",
    end: str = "",
    overview: bool = False,
    folded: bool = False,
    on_days: Mapping[int, int] | None = None,
    written: dict[str, str] | None = None,
) -> bytes | str:
    """Draw a plan as ``svg`` or ``dot`` (text), ``png`` or ``pdf`` (bytes).

    ``lanes`` is both (a lane for each lot, and for each pot while it holds a bath), lot, pot
    or none; ``sheet`` is a4, letter or roll (one sheet without an
    end, for a screen); ``opened`` shows what followed procedures hold; findings of level
    ``at_least`` and above are marked. ``only`` is a lot, drawn with what it comes from;
    ``start`` and ``end`` are the first and last step to be drawn, each a label
    (``rinse``, ``scour.rinse``) or a line of the plan; ``overview`` folds the plan onto one
    sheet; ``folded`` draws each repeat as one symbol. ``on_days`` gives the day, from 1, on which
    each node of the flow begins, for the axis at the side; left out, days are counted by the
    nights that are written, and an empty one leaves the axis out. Into
    ``written`` go the words of a PNG or PDF that no font has the letters of, each with what
    stands for it. Raises :class:`NotThere`, a
    ``ValueError``, for a lot or step that is not there, ``ValueError`` for any other word,
    :class:`NoGraphviz` or :class:`NotDrawn` where there is no picture.
    """
    for given, known in ((form, FORMS), (lanes, LANES), (sheet, SHEETS)):
        if given not in known:
            raise ValueError(f"“{given}” is none of {', '.join(known)}")
    from procedure.chart.choice import Choice
    from procedure.chart.layout import How, laid_out
    from procedure.chart.lettering import with_fonts_of_here
    from procedure.paper.letters import without_a_font

    whole = not (overview or only or start or end)
    if whole and len(plan.study.moments) > MOST_STEPS:
        raise NotDrawn(
            f"it has {len(plan.study.moments):,} steps, and nobody finds their way in a chart of "
            f"more than {MOST_STEPS:,}. Draw a part (--only, --from, --to), or an --overview"
        )
    how = How(lanes, sheet, opened and not overview, at_least, trimmed=False, on_days=on_days)
    how = how._replace(choice=Choice(only, start, end), overview=overview, folded=folded)
    written = {} if written is None else written
    if form in PICTURES:
        without_a_font(plan.text, embedded=False)  # all at once, not line by line
    with with_fonts_of_here(written) if form in PICTURES else nullcontext():
        chart = laid_out(plan, how)
        return _printed(chart, form)


def _printed(chart: LaidOut, form: str) -> bytes | str:
    from procedure.chart import dot as language
    from procedure.chart import papers, render
    from procedure.chart.paper import MARGIN

    if form == "pdf":
        pages = [language.dot([one], chart.title, MARGIN) for one in chart.sheets]
        drawn = [render.render(page, "pdf") for page in pages]
        sizes = [(one.width + 2 * MARGIN, one.height + 2 * MARGIN) for one in chart.sheets]
        return papers.bound(drawn, sizes, chart.title)
    if form == "png":
        return _png(chart.sheets, chart.title)
    gap = GAP if len(chart.sheets) > 1 else 0.0
    text = language.dot(chart.sheets, chart.title, MARGIN, gap=gap)
    if form == "dot":
        return text
    size = language.whole(chart.sheets, MARGIN, gap)
    return papers.finished_svg(render.render(text, "svg"), chart.title, chart.description, size)


def _png(sheets: list[Sheet], title: str) -> bytes:
    """One picture: the sheets below each other, in columns where that would be too tall."""
    from procedure.chart import dot as language
    from procedure.chart import render
    from procedure.chart.paper import MARGIN

    gap = GAP if len(sheets) > 1 else 0.0
    tall = max(sheet.height for sheet in sheets) + 2 * MARGIN + gap
    most = MOST_DOTS / PNG_DPI * 72 - gap
    per_column = max(1, int(most // tall))
    columns = -(-len(sheets) // per_column)
    across = (max(sheet.width for sheet in sheets) + 2 * MARGIN + gap) * columns + gap
    dpi = min(PNG_DPI, int(MOST_DOTS * 72 / max(tall + gap, across)))
    down = min(len(sheets), per_column) * tall + gap
    dpi = min(dpi, int((MOST_DOTS_IN_ALL / (across * down)) ** 0.5 * 72))
    if dpi < LEAST_DPI:
        raise NotDrawn(
            f"{len(sheets)} sheets make a picture that is too large to open. Write .svg or .pdf, "
            "or draw a part (--only, --from, --to)"
        )
    text = language.dot(sheets, title, MARGIN, per_column, gap)
    return render.render(text, "png", dpi)
