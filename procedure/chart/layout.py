"""A plan laid out on sheets: the whole way from the flow graph to places on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import product

from procedure.chart import notes, paper, sheets, step_words
from procedure.chart.choice import Choice, chosen, lots_of, tell_where
from procedure.chart.days import days, never_back, planned, said
from procedure.chart.grid import Grid, fits, grid
from procedure.chart.heads import letters, lives
from procedure.chart.in_symbols import lane_widths
from procedure.chart.in_time import by_days
from procedure.chart.lanes import Lanes, own_name, runs
from procedure.chart.lanes import lanes as lanes_of
from procedure.chart.lettering import clean
from procedure.chart.marks import Marks, marks
from procedure.chart.placed_symbols import Drawing, figures, spelling_of_flow
from procedure.chart.plotted import Plotted
from procedure.chart.rows import rows
from procedure.chart.sheet import Sheet
from procedure.chart.signs_of_steps import signs
from procedure.chart.threads import Thread, kept, threads
from procedure.chart.tints import Changes, Tint, tints
from procedure.chart.unread import with_unread
from procedure.facts.handling import deadly_words
from procedure.findings import at_least
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.rules.judging import reader_of
from procedure.wording import for_reader
from procedure.wording.spelling import in_spelling

# Sizes of the words, the largest first: a smaller one is taken where it saves a sheet.
LETTERS = (8.5, 7.5, 7.0)
# How wide the column of words may be at the least: a wider one makes lower rows.
WORDS = (215.0, 250.0, 290.0)


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
    symbol. ``on_days`` is the day on which each node of the flow begins; without it the days
    are counted by the nights that are written.
    """

    by: str
    sort: str
    opened: bool
    least: str
    trimmed: bool
    choice: Choice = Choice()
    overview: bool = False
    folded: bool = False
    on_days: Mapping[int, int] | None = None


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
    with_unread(drawing, plan.text)
    if how.on_days and not how.overview and not any(how.choice):
        drawing = by_days(drawing, how.on_days)
    spelling, own = spelling_of_flow(plan.flow), reader_of(plan.flow.procedures[0])
    shown = [
        for_reader(finding, own._replace(spelling=spelling)) if spelling == "us" else finding
        for finding in plan.findings
        if at_least(finding.level, how.least)
    ]
    marked = marks(drawing, shown)
    if how.overview:
        return _overview(plan, drawing, marked, how, len(shown))
    every = threads(drawing, how.by)
    if any(how.choice):
        whole, drawing = drawing, chosen(drawing, how.choice, lots)
        marked = marked.among(drawing.figures)
        told = threads(whole, "both") if how.by == "none" else every
        every = kept(every, set(drawing.figures), lots)
        tell_where(drawing, whole, kept(told, set(drawing.figures), lots))
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
    sheets.spread(*best)
    made = sheets.sheets(*best)
    title = step_words.name_text(plan.model.title) or clean(plan.file)
    said = _description(drawn.drawing, drawn.marked, how.by, len(made))
    return LaidOut(title, clean(" ".join((*deadly_words(plan.study), said))), made)


_Set = tuple[Plotted, sheets.Setting]


def _best(drawn: _Drawn, lanes: Lanes) -> _Set:
    """The paper and the letters with the fewest sheets; of those the largest letters."""
    told = _days(drawn)
    risks = signs(drawn.plan.study, drawn.drawing.stands_for)
    changed = {} if drawn.how.by in ("pot", "none") else _tints(drawn)
    if drawn.how.overview:
        changed, told = {}, {}
    shown = {thread.thing for thread in drawn.threads if thread.kind == "lot"}
    changed = {
        key: {lot: tint for lot, tint in lots.items() if lot in shown}
        for key, lots in changed.items()
    }
    names = [[own_name(drawn.drawing, place) for place in held] for held in lanes.places]
    numbers = lane_widths(drawn.drawing, lanes)
    best: _Set | None = None
    small: list[tuple[tuple[bool, int], _Set]] = []
    cheapest = (True, 0, True, 0.0)
    tried: set[tuple[bool, Grid]] = set()
    ways = (paper.papers(drawn.how.sort, len(names)), (False, True), LETTERS, WORDS)
    for held, brief, size, least in product(*ways):
        form = grid(lanes, names, held, bool(told), size, least, numbers)
        one_sheet = cheapest[:2] == (False, 1)
        if (brief, form) in tried or (one_sheet and cheapest[2:] <= (brief, -size)):
            continue  # it can be no better
        tried.add((brief, form))
        plotted = _plotted(drawn, lanes, form, brief, told, changed, risks)
        setting = _setting(drawn, plotted, risks, changed)
        price = (
            not fits(form, lanes, names, numbers),
            sheets.pages(plotted, setting),
            brief,
            -size,
        )
        if best is None or price < cheapest:
            best, cheapest = (plotted, setting), price
        if size == min(LETTERS):
            small.append((price[:2], (plotted, setting)))
    assert best is not None
    if cheapest[1] > 1:
        best = _closer(small, cheapest[:2]) or best
    sheets.pages(*best)
    return best


def _closer(small: list[tuple[tuple[bool, int], _Set]], price: tuple[bool, int]) -> _Set | None:
    """Of those in the smallest letters the first that a little less air spares a sheet.

    ``price`` is what the best costs so far: whether its lanes are too many, and its sheets.
    """
    for (crowded, pages), one in small:
        if crowded == price[0] and pages <= price[1] and sheets.closer(*one, price[1] - 1):
            return one
    return None


def _tints(drawn: _Drawn) -> Changes:
    """The colours of lots, each by its name in the spelling of the chart."""
    spelling = spelling_of_flow(drawn.plan.flow)
    return {
        key: {
            lot: tint and tint._replace(name=in_spelling(tint.name, spelling))
            for lot, tint in lots.items()
        }
        for key, lots in tints(drawn.drawing, drawn.plan.trace).items()
    }


def _days(drawn: _Drawn) -> dict[int, tuple[int, int]]:
    stands_for = drawn.drawing.stands_for
    if drawn.how.on_days is not None:
        return planned(drawn.how.on_days, stands_for)
    return days(drawn.plan.trace, stands_for)


def _plotted(
    drawn: _Drawn,
    lanes: Lanes,
    form: Grid,
    brief: bool,
    told: dict[int, tuple[int, int]],
    changed: Changes,
    risks: dict[int, tuple[str, ...]],
) -> Plotted:
    text = drawn.plan.text
    one_scale = brief or step_words.own_scale(text) == "F"
    drawing = _brief(drawn.drawing, text) if one_scale else drawn.drawing
    axis = never_back(told, drawing.figures)
    if not brief:
        drawing = _with_days(drawing, told, axis)
    lettered = letters(drawing, lanes, form)
    made = rows(drawing, lanes, drawn.threads, form, changed, risks, lettered.of)
    by_key = {row.figure.key: row for row in made}
    coloured = _coloured(drawn.drawing, drawn.threads, changed)
    living = lives(drawing, lanes)
    plotted = Plotted(
        drawn.drawing, drawn.threads, lanes, form, by_key, axis, coloured, living, lettered
    )
    plotted.beside_each_other()
    return plotted


def _brief(drawing: Drawing, text: str) -> Drawing:
    """The same with heats on the writer's own scale alone."""
    kept_scale = step_words.own_scale(text)
    figures = {
        key: replace(
            figure,
            details=tuple(step_words.on_one_scale(line, kept_scale) for line in figure.details),
        )
        for key, figure in drawing.figures.items()
    }
    return replace(drawing, figures=figures)


def _with_days(
    drawing: Drawing, told: dict[int, tuple[int, int]], axis: dict[int, tuple[int, int]]
) -> Drawing:
    """The same with the day among the words of a step where the axis has several together."""
    figures = {
        key: replace(figure, details=(*figure.details, f"day {said(told[key])}"))
        if key in told and told[key] != axis[key] and not figure.is_end
        else figure
        for key, figure in drawing.figures.items()
    }
    return replace(drawing, figures=figures)


def _coloured(
    drawing: Drawing, some: list[Thread], changed: Changes
) -> dict[tuple[str, int], Tint]:
    """The colour of each lot once it comes from each figure that it meets."""
    meets: dict[int, list[str]] = {}
    for thread in some:
        if thread.kind == "lot":
            for key in thread.stops:
                meets.setdefault(key, []).append(thread.thing)
    now: dict[str, Tint | None] = {}
    found: dict[tuple[str, int], Tint] = {}
    for key in drawing.figures:
        for lot in meets.get(key, ()):
            parts = drawing.flow.lots[lot].parts
            if lot not in now and parts and parts[0] in now:
                now[lot] = now[parts[0]]
        now |= changed.get(key, {})
        found |= {(lot, key): tint for lot in meets.get(key, ()) if (tint := now.get(lot))}
    return found


def _setting(
    drawn: _Drawn,
    plotted: Plotted,
    risks: dict[int, tuple[str, ...]],
    changed: Changes,
) -> sheets.Setting:
    drawing, marked, how = drawn.drawing, drawn.marked, drawn.how
    wide = plotted.grid.width
    kinds = {thread.kind for thread in drawn.threads if len(thread.stops) > 1}
    if any(figure.symbol == "decision" for figure in drawing.figures.values()):
        kinds.add("no")
    shown = [tint for told in changed.values() for tint in told.values() if tint is not None]
    used = notes.LegendUse(
        symbols=frozenset(figure.symbol for figure in drawing.figures.values()),
        kinds=frozenset(kinds),
        signs=frozenset(code for key in drawing.figures for code in risks.get(key, ())),
        marked=bool(marked.by_figure),
        framed=bool(drawing.ends),
        parted=any(len(runs(row.lanes)) > 1 for row in plotted.rows.values()),
        tinted=any(tint.swatch for tint in shown),
        unknown=any(not tint.swatch for tint in shown),
        dated=bool(plotted.days),
        planned=drawn.how.on_days is not None,
        spelling=spelling_of_flow(drawn.plan.flow),
    )
    lighter = len(drawn.plan.findings) - drawn.findings
    below = notes.below(
        marked, wide, plotted.grid.size, lighter, drawn.findings - len(marked.listed)
    )
    return sheets.Setting(
        sheets.heading(drawn.plan.model, marked, wide, deadly_words(drawn.plan.study)),
        notes.legend(used, wide),
        below,
        how.trimmed,
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
