"""A plan laid out on sheets: the whole way from the flow graph to places on paper."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from procedure.chart import notes, paper, sheets, wording
from procedure.chart.choice import Choice, chosen, lots_of, tell_where
from procedure.chart.days import days
from procedure.chart.grid import Grid, fits, grid
from procedure.chart.lanes import Lanes, own_name, runs
from procedure.chart.lanes import lanes as lanes_of
from procedure.chart.lettering import clean
from procedure.chart.marks import Marks, marks
from procedure.chart.placed_symbols import Drawing, figures
from procedure.chart.plotted import Plotted, beside_each_other
from procedure.chart.rows import rows
from procedure.chart.sheet import Sheet
from procedure.chart.signs import signs
from procedure.chart.threads import Thread, kept, threads
from procedure.chart.tints import Tint, tints
from procedure.findings import at_least
from procedure.pipeline import Judged

# Sizes of the words, the largest first: a smaller one is taken where it saves a sheet.
LETTERS = (8.5, 8.0, 7.5, 7.0)


class LaidOut(NamedTuple):
    """A chart on its sheets, with its title and a description for who cannot see it."""

    title: str
    description: str
    sheets: list[Sheet]


class How(NamedTuple):
    """How a plan is drawn: lanes ``by`` both, lot, pot or none, on sheets of a ``sort``.

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


class _Drawn(NamedTuple):
    """What is to be set on paper, whatever the paper."""

    plan: Judged
    drawing: Drawing
    threads: list[Thread]
    marked: Marks
    findings: int
    how: How


def laid_out(plan: Judged, how: How) -> LaidOut:
    """Lay a plan out. Raises :class:`NotThere` for a lot or step that it does not have."""
    lots = lots_of(plan.flow, how.choice.only) if how.choice.only else None
    drawing = figures(plan.flow, plan.trace, how.opened, lots, how.folded)
    shown = [finding for finding in plan.findings if at_least(finding.level, how.least)]
    marked = marks(drawing, shown)
    if how.overview:
        return _overview(plan, drawing, marked, how, len(shown))
    every = threads(drawing, how.by)
    if any(how.choice):
        whole, drawing = drawing, chosen(drawing, how.choice, lots)
        marked = marked.among(drawing.figures)
        every = kept(every, set(drawing.figures), lots)
        tell_where(drawing, whole, every)
    for key, words in marked.by_figure.items():
        drawing.figures[key].mark = words
    return _laid(_Drawn(plan, drawing, every, marked, len(shown), how))


def _overview(plan: Judged, drawing: Drawing, marked: Marks, how: How, shown: int) -> LaidOut:
    """The plan in as many symbols as one page has room for."""
    from procedure.chart.overview import Overview

    few = Overview(drawing)
    marked = replace(marked, listed=(), by_figure={})

    def page(number: int) -> LaidOut:
        part = few.folded(number)
        return _laid(_Drawn(plan, part, threads(part, how.by), marked, shown, how))

    number = few.most
    best = page(number)
    while len(best.sheets) > 1 and number > 1:
        number = min(number - 1, number * 9 // (8 + len(best.sheets)))
        best = page(number)
    return best


def _laid(drawn: _Drawn) -> LaidOut:
    plan, how = drawn.plan, drawn.how
    lanes = lanes_of(drawn.drawing, drawn.threads)
    best = _best(drawn, lanes)
    made = sheets.sheets(*best)
    title = wording.name_text(plan.model.title) or clean(plan.file)
    return LaidOut(title, _description(drawn.drawing, drawn.marked, how.by, len(made)), made)


_Set = tuple[Plotted, sheets.Setting]


def _best(drawn: _Drawn, lanes: Lanes) -> _Set:
    """The paper and the letters with the fewest sheets; of those the largest letters."""
    told = days(drawn.plan.trace, drawn.drawing.stands_for)
    risks = signs(drawn.plan.study, drawn.drawing.stands_for)
    changed = {} if drawn.how.by in ("pot", "none") else tints(drawn.drawing, drawn.plan.trace)
    if drawn.how.overview:
        changed, told = {}, {}
    names = [[own_name(drawn.drawing, place) for place in held] for held in lanes.places]
    best: _Set | None = None
    least = (True, 0, 0.0)
    for held in paper.papers(drawn.how.sort, len(lanes.places)):
        for size in LETTERS:
            form = grid(lanes, names, held.width, held.height, bool(told), size)
            plotted = _plotted(drawn, lanes, form, told, changed, risks)
            setting = _setting(drawn, plotted, risks, changed)
            pages = sheets.pages(plotted, setting)
            price = (not fits(form, lanes), pages, -size)
            if best is None or price < least:
                best, least = (plotted, setting), price
    assert best is not None
    sheets.pages(*best)
    return best


def _plotted(
    drawn: _Drawn,
    lanes: Lanes,
    form: Grid,
    told: dict[int, tuple[int, int]],
    changed: dict[int, dict[str, Tint]],
    risks: dict[int, tuple[str, ...]],
) -> Plotted:
    made = rows(drawn.drawing, lanes, drawn.threads, form, changed, risks)
    by_key = {row.figure.key: row for row in made}
    coloured = _coloured(drawn.drawing, drawn.threads, changed)
    plotted = Plotted(drawn.drawing, drawn.threads, lanes, form, by_key, told, coloured)
    beside_each_other(plotted)
    return plotted


def _coloured(
    drawing: Drawing, some: list[Thread], changed: dict[int, dict[str, Tint]]
) -> dict[tuple[str, int], Tint]:
    """The colour of each lot once it comes from each figure that it meets."""
    meets: dict[int, list[str]] = {}
    for thread in some:
        if thread.kind == "lot":
            for key in thread.stops:
                meets.setdefault(key, []).append(thread.thing)
    now: dict[str, Tint] = {}
    found: dict[tuple[str, int], Tint] = {}
    for key in drawing.figures:
        for lot in meets.get(key, ()):
            parts = drawing.flow.lots[lot].parts
            if lot not in now and parts and parts[0] in now:
                now[lot] = now[parts[0]]
        now |= changed.get(key, {})
        found |= {(lot, key): now[lot] for lot in meets.get(key, ()) if lot in now}
    return found


def _setting(
    drawn: _Drawn,
    plotted: Plotted,
    risks: dict[int, tuple[str, ...]],
    changed: dict[int, dict[str, Tint]],
) -> sheets.Setting:
    drawing, marked, how = drawn.drawing, drawn.marked, drawn.how
    wide = plotted.grid.width
    kinds = {thread.kind for thread in drawn.threads if len(thread.stops) > 1}
    if any(figure.symbol == "decision" for figure in drawing.figures.values()):
        kinds.add("no")
    used = notes.Used(
        symbols=frozenset(figure.symbol for figure in drawing.figures.values()),
        kinds=frozenset(kinds),
        signs=frozenset(code for key in drawing.figures for code in risks.get(key, ())),
        marked=bool(marked.by_figure),
        framed=bool(drawing.ends),
        parted=any(len(runs(row.lanes)) > 1 for row in plotted.rows.values()),
        tinted=bool(changed),
        dated=bool(plotted.days),
    )
    lighter = len(drawn.plan.findings) - drawn.findings
    below = notes.below(
        marked, wide, plotted.grid.size, lighter, drawn.findings - len(marked.listed)
    )
    return sheets.Setting(
        sheets.heading(drawn.plan.model, marked, wide), notes.legend(used, wide), below, how.trimmed
    )


def _description(drawing: Drawing, marked: Marks, by: str, count: int) -> str:
    """The chart in words: what it is, and the steps in order."""
    told = {
        "both": ", with a lane for each lot and each pot",
        "lot": ", with a lane for each lot",
        "pot": ", with a lane for each pot",
    }
    on = "one sheet" if count == 1 else f"{count} sheets"
    said = [f"A flowchart on {on}{told.get(by, '')}. The steps in order:"]
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
