"""The weigh sheet as CSV (RFC 4180): a line for each amount, in the order of use."""

from __future__ import annotations

import csv
import io

from procedure.facts.handling import deadly_words
from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import decimals, to_places
from procedure.report.weigh_measures import BLANK, ScaleStep
from procedure.report.weigh_sheet import ShownAmount, sheet
from procedure.weigh.weighing import Weighing
from procedure.wording.visible import cell

COLUMNS = (
    "section",
    "file",
    "line",
    "step",
    "bath",
    "pot",
    "thing",
    "material",
    "state",
    "low",
    "high",
    "unit",
    "amount",
    "condition",
    "written",
    "working",
    "note",
)


def report(weighing: Weighing, system: str, scale_step: ScaleStep | None) -> str:
    """Cautions of what can kill, rows (``section`` is use), then totals (buy, gather, draw, keep).

    ``low`` and ``high`` are rounded, in ``unit``, the first of the measures asked for;
    ``amount`` has them all as text. A blank to fill has no numbers and ``______`` as its
    amount.
    """
    made = sheet(weighing, system, scale_step)
    out = io.StringIO()
    lines = csv.writer(out)
    lines.writerow(COLUMNS)
    for line in deadly_words(weighing.plan.study):
        empty = ("",) * (len(COLUMNS) - 3)
        lines.writerow(_cells("caution", weighing.plan.file, *empty, line))
    for fibre, shown in zip(weighing.fibres, made.fibres, strict=True):
        about: tuple[object, ...] = (
            "fibre",
            weighing.plan.file,
            fibre.line,
            "",
            "",
            "",
            fibre.called,
            fibre.words,
        )
        lines.writerow(_cells(*about, "", *_amount(shown, True), "", "", "", ""))
    for row, shown in zip(weighing.rows, made.rows, strict=True):
        about = ("use", row.file, row.line, row.step, row.bath, row.pot, row.called, row.material)
        tail = (row.condition, row.written, row.working, row.remark)
        lines.writerow(_cells(*about, row.state, *_amount(shown, row.gap), *tail))
    for total, shown in zip(weighing.totals, made.totals, strict=True):
        about = (total.how, weighing.plan.file, "", "", "", "", total.called, total.material)
        note = f"and {total.gaps} left open" if total.gaps and total.kind else ""
        amount = _amount(shown, True)
        lines.writerow(_cells(*about, total.state, *amount, total.condition, "", "", note))
    return out.getvalue()


def _cells(*values: object) -> list[object]:
    return [cell(value) for value in values]


def _amount(shown: tuple[ShownAmount, ...], gap: bool) -> tuple[str, str, str, str]:
    if not shown:
        return "", "", "", BLANK if gap else ""
    first = shown[0]
    text = "; ".join(one.text for one in shown)
    return (
        to_places(first.low, decimals(first.low)),
        "" if first.high == ENDLESS else to_places(first.high, decimals(first.high)),
        first.unit,
        text,
    )
