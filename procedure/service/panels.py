"""What a page shows beside the text: the chart, amounts, the paper, the lots, a timetable."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple

if TYPE_CHECKING:
    from procedure.timetable.terms import Asked as AskedOfDays

Shown = dict[str, Any]


class PanelChoices(NamedTuple):
    """What the reader of a panel has chosen: fibre (``600 g``), what was gathered, units.

    ``gathered`` is ``tansy=800 g``. ``draw`` is false where the page draws DOT itself.
    ``start``, ``hours``, ``days`` and ``hands`` are of the timetable, as its command takes them.
    ``old`` is the older text that this one is compared with.
    """

    fibre: str = ""
    gathered: str = ""
    units: str = "metric"
    draw: bool = True
    bench: bool = False
    start: str = ""
    hours: str = ""
    days: str = ""
    hands: str = ""
    old: str = ""


def panel(name: str, plan: Judged, asked: PanelChoices) -> Shown:
    """A panel as plain data; ``why`` says in a sentence what is not there, where anything is not.

    Raises ``KeyError`` for a panel that there is not.
    """
    make = PANELS[name]
    try:
        return make(plan, asked)
    except _cannot() as reason:
        return {"why": str(reason)}


def _cannot() -> tuple[type[Exception], ...]:
    """What says in one sentence why a panel is empty."""
    from procedure.chart import NoGraphviz, NotDrawn
    from procedure.collection.opening_hours import BadHours
    from procedure.compare import TooDifferent
    from procedure.timetable import CannotPlan, NotKnown
    from procedure.weigh.cannot import CannotWeigh

    return BadHours, TooDifferent, NoGraphviz, NotDrawn, CannotWeigh, CannotPlan, NotKnown


def worked_out(plan: Judged, asked: PanelChoices) -> tuple[Judged, list[str]]:
    """The plan for the fibre or the harvest at hand, and sentences on what that changed.

    Raises :class:`procedure.weigh.cannot.CannotWeigh` where it cannot be worked out.
    """
    from procedure.quantity.rounding import at_most
    from procedure.rework import amounts_asked_for
    from procedure.rework.backwards import most
    from procedure.rework.scaling import scale, shared_out
    from procedure.weigh.cannot import CannotWeigh

    said: list[str] = []
    weights: Mapping[str, Any] = {}
    if asked.fibre:
        grams = amounts_asked_for.weight(asked.fibre, "the fibre").ends.middle
        weights = shared_out(plan, grams)
    if asked.gathered:
        name, mark, value = asked.gathered.partition("=")
        if not mark:
            raise CannotWeigh("Say what was gathered and how much, such as “tansy = 800 g”.")
        have = {name.strip(): amounts_asked_for.amount(value.strip(), name.strip())}
        back = most(plan, have, weights)
        weights = {**weights, **at_most(back.sure), **back.in_pieces}
    if weights:
        scaled = scale(plan, weights)
        plan = scaled.plan
        said.append(scaled.sentence)
    return plan, said


def _chart(plan: Judged, asked: PanelChoices) -> Shown:
    from procedure.chart import draw

    # One long sheet, since a page scrolls.
    drawn = draw(plan, "svg" if asked.draw else "dot", sheet="roll")
    return {"svg" if asked.draw else "dot": drawn, "lines": _lines_of_steps(plan)}


def _lines_of_steps(plan: Judged) -> dict[str, int]:
    """The line of each step of the plan's own file, by the number of its node."""
    return {
        str(node.id): node.step.place.line
        for node in plan.flow.nodes
        if node.procedure is plan.model and node.kind != "end"
    }


def _amounts(plan: Judged, asked: PanelChoices) -> Shown:
    from procedure.paper.measures import in_system
    from procedure.weigh.weighing import weigh

    def amount(kind: str, low: Any, high: Any) -> str:
        return "" if low is None else in_system(asked.units, kind, low, high)

    plan, said = worked_out(plan, asked)
    weighing = weigh(plan)
    fibre = [
        {
            "name": one.called,
            "words": one.words,
            "amount": amount("mass", one.grams.low, one.grams.high) if one.grams else "not said",
        }
        for one in weighing.fibres
    ]
    rows = [
        {
            "line": row.line if plan.own(row.node) else 0,
            "name": row.called,
            "amount": amount(row.kind, row.low, row.high) or row.without_figure,
            "written": row.written,
            "step": row.step,
            "condition": row.condition,
            "note": row.remark,
        }
        for row in weighing.rows
    ]
    dyestuffs = [n for n, one in plan.model.materials.items() if "dyestuff" in one.roles]
    return {"said": said, "fibre": fibre, "rows": rows, "dyestuffs": dyestuffs}


def _paper(plan: Judged, asked: PanelChoices) -> Shown:
    from procedure.handout import bench
    from procedure.handout.as_paper import paper
    from procedure.handout.contents import contents
    from procedure.paper.in_html import page
    from procedure.paper.measures import Voice

    plan, said = worked_out(plan, asked)
    voice = Voice("both", "british")
    if asked.bench:
        return {"html": page(bench.paper(bench.bench(plan, voice)))}
    return {"html": page(paper(contents(plan, voice, " ".join(said))))}


def _lots(plan: Judged, asked: PanelChoices) -> Shown:
    from procedure.handout.lot_stories import stories

    told = [
        {
            "name": plan.study.called(one.lot),
            "fibre": one.fibre,
            "short": one.short,
            "events": [
                {"said": event.said, "line": event.line if plan.own(event.node) else 0}
                for event in one.events
            ],
        }
        for one in stories(plan)
    ]
    return {"lots": told}


def _timetable(plan: Judged, asked: PanelChoices) -> Shown:
    """By the hours that are asked for, else those of the workshop, else from nine to six."""
    from procedure.timetable import NoPlan, agenda, by_day, drawing, fitted, noted
    from procedure.timetable.drafts import drafted, hindrances
    from procedure.timetable.drawn_papers import one_svg
    from procedure.timetable.from_plans import work_of
    from procedure.timetable.refused_words import refusal
    from procedure.timetable.seen_daily import looks_on_closed_days
    from procedure.timetable.told_first import shortened
    from procedure.timetable.unsure import estimates

    drawn = work_of([plan], _days_asked(plan, asked))
    found = fitted(drawn.work)
    if isinstance(found.made, NoPlan):
        return {"why": refusal(found.made)}
    in_doubt = hindrances([plan])
    draft = ["This is a draft: some lines have to be put right first."] if in_doubt else []
    unsure = (*shortened(found), *estimates(found.made, [key for key, _ in found.shortened]))
    notes = [*draft, *in_doubt, *drafted([plan]), *looks_on_closed_days(found.made), *unsure]
    facts = agenda(noted(found.made, notes))
    return {
        "lines": [one._asdict() for one in by_day.unbroken(facts, ())],
        "svg": one_svg(drawing.draw(facts)),
        "supposed": list(drawn.supposed),
    }


def _days_asked(plan: Judged, asked: PanelChoices) -> AskedOfDays:
    """What the timetable is asked. Raises ``BadHours``."""
    from procedure.collection.opening import people_of
    from procedure.collection.opening_hours import BadHours, Hours, days_of, times_of
    from procedure.collection.workshop import Opening
    from procedure.timetable.hours import moment_of
    from procedure.timetable.terms import Asked as AskedOfDays

    here = plan.study.workshop.opening if plan.study.workshop else Opening()
    times, weekdays, dates = here.hours or Hours()
    if asked.hours:
        times = times_of(asked.hours)
    if asked.days:
        weekdays, dates = days_of(asked.days)
    now = datetime.now()
    begins = datetime.combine(now.date() + timedelta(days=1), times[0][0])
    if asked.start:
        begins = moment_of(asked.start, now)
        if begins < now - timedelta(minutes=1):
            raise BadHours(f"{begins:%Y-%m-%d %H:%M} has passed; begin later.")
    hands = people_of(asked.hands) if asked.hands else here.people or ("you",)
    return AskedOfDays(
        begins, Hours(times, weekdays, dates), asked.hours, hands=hands, rings=here.rings,
        line=here.line, power=here.power, pots=here.pots, sinks=here.sinks,
    )  # fmt: skip


def _changes(plan: Judged, asked: PanelChoices) -> Shown:
    """What is different from an older text, both side by side."""
    from procedure.compare import compare
    from procedure.compare.as_paper import paper
    from procedure.paper.in_html import page
    from procedure.paper.measures import Voice
    from procedure.pipeline import read
    from procedure.rules.judging import reader_of

    reader = reader_of(plan.model)
    made = compare(read(asked.old, "as it was"), plan)
    return {"html": page(paper(made, Voice("both", "british"), reader, True)), "same": made.same}


PANELS: Mapping[str, Callable[[Judged, PanelChoices], Shown]] = {
    "chart": _chart,
    "amounts": _amounts,
    "paper": _paper,
    "lots": _lots,
    "timetable": _timetable,
    "changes": _changes,
}
