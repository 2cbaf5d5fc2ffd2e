"""The weigh sheet as JSON; ``weigh.schema.json`` beside this file is its schema."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

from procedure.facts.handling import deadly_words
from procedure.facts.pot_fit import Fit
from procedure.quantity.interval import ENDLESS, Interval
from procedure.report.weigh_measures import ScaleStep
from procedure.report.weigh_sheet import ShownAmount, sheet
from procedure.report.weigh_text import Estimates, Request
from procedure.rework.backwards import Backwards
from procedure.weigh.heating import Span
from procedure.weigh.weighing import Row, Weighing
from procedure.wording.visible import escaped

FORM = 1
UNITS = {"mass": "g", "volume": "L", "": ""}


def report(
    weighing: Weighing,
    fits: list[Fit],
    estimates: Estimates,
    asked: Request,
    system: str = "metric",
    scale_step: ScaleStep | None = None,
) -> str:
    """The whole sheet as one JSON object. Exact numbers are given as fractions in text."""
    made = sheet(weighing, system, scale_step)
    plan = weighing.plan
    study = plan.study
    document = {
        "form": FORM,
        "file": plan.file,
        "title": plan.model.title.text if plan.model.title else "",
        "cautions": list(deadly_words(study)),
        "asked": {
            "sentences": list(asked.sentences),
            "backwards": None if asked.backwards is None else _backwards(asked.backwards),
        },
        "fibre": [
            {
                "lot": fibre.called,
                "fibre": fibre.words,
                "amount": _exact(fibre.grams, "mass"),
                "printed": _printed(shown),
                "pieces": None if fibre.pieces is None else _ends(fibre.pieces),
                "from": list(fibre.of),
                "line": fibre.line,
            }
            for fibre, shown in zip(weighing.fibres, made.fibres, strict=True)
        ],
        "rows": [_row(row, shown) for row, shown in zip(weighing.rows, made.rows, strict=True)],
        "totals": [
            {
                "thing": total.called,
                "material": total.material,
                "state": total.state,
                "how": total.how,
                "condition": total.condition,
                "amount": _exact(Interval(total.low, total.high), total.kind)
                if total.kind
                else None,
                "printed": _printed(shown),
                "gaps": total.gaps,
            }
            for total, shown in zip(weighing.totals, made.totals, strict=True)
        ],
        "unmeasured": [{"line": row.line, "step": row.step} for row in weighing.unmeasured],
        "pots": [
            {
                "pot": study.called(fit.pot),
                "bath": study.called(fit.bath),
                "line": study.node(fit.node).step.place.line,
                "capacity": _numbers(fit.capacity),
                "liquor": _numbers(fit.liquor),
                "full": _numbers(fit.full),
                "share": _numbers(fit.share),
                "verdict": fit.verdict,
                "batches": list(fit.batches) if fit.verdict != "fits" else [],
                "advice": fit.advice if fit.verdict != "fits" else "",
            }
            for fit in fits
        ],
        "estimates": _estimates(estimates),
        "findings": [
            {
                "rule": finding.rule,
                "level": finding.level,
                "file": finding.file,
                "line": finding.line,
                "sentence": finding.sentence,
                "remedy": finding.remedy,
            }
            for finding in asked.findings
        ],
    }
    return escaped(json.dumps(document, ensure_ascii=False, indent=2)) + "\n"


def _row(row: Row, shown: tuple[ShownAmount, ...]) -> dict[str, Any]:
    return {
        "file": row.file,
        "line": row.line,
        "step": row.step,
        "bath": row.bath,
        "pot": row.pot,
        "thing": row.called,
        "material": row.material,
        "state": row.state,
        "part": row.part,
        "amount": None
        if row.low is None or row.high is None
        else _exact(Interval(row.low, row.high), row.kind),
        "printed": _printed(shown),
        "times": _ends(row.times),
        "condition": row.condition,
        "written": row.written,
        "working": row.working,
        "note": row.remark,
        "gap": row.gap,
        "counts": row.counts,
    }


def _exact(ends: Interval | None, kind: str) -> dict[str, str | None] | None:
    if ends is None:
        return None
    return {"low": str(ends[0]), "high": _end(ends[1]), "unit": UNITS[kind]}


def _printed(shown: tuple[ShownAmount, ...]) -> list[dict[str, Any]]:
    return [
        {"low": float(one.low), "high": _number(one.high), "unit": one.unit, "text": one.text}
        for one in shown
    ]


def _ends(ends: Interval) -> dict[str, str | None]:
    return {"low": str(ends[0]), "high": _end(ends[1])}


def _end(value: Fraction) -> str | None:
    """An exact end; null where none is said."""
    return None if value == ENDLESS else str(value)


def _number(value: Fraction) -> float | None:
    return None if value == ENDLESS else float(value)


def _numbers(ends: Interval | Span | None) -> dict[str, float | None] | None:
    if ends is None:
        return None
    high = None if ends[1] == ENDLESS else round(float(ends[1]), 4)
    return {"low": round(float(ends[0]), 4), "high": high}


def _weights(weights: Any) -> dict[str, str]:
    return {name: str(Fraction(grams)) for name, grams in weights.items()}


def _backwards(found: Backwards) -> dict[str, Any]:
    return {
        "sure": _weights(found.sure),
        "with_luck": _weights(found.with_luck),
        "fixed": _weights(found.fixed),
        "first": list(found.first),
        "first_with_luck": list(found.first_with_luck),
        "left": [
            {
                "thing": left.called,
                "low": str(left.low),
                "high": str(left.high),
                "unit": UNITS[left.kind],
            }
            for left in found.left
        ],
    }


def _estimates(estimates: Estimates) -> dict[str, Any]:
    return {
        "heating": [
            {
                "line": one.line,
                "step": one.step,
                "bath": one.bath,
                "from_c": _numbers(one.start),
                "to_c": _numbers(one.end),
                "heater": one.heater,
                "minutes": _numbers(one.minutes),
                "kwh": _numbers(one.energy),
                "minutes_written": _numbers(one.said),
                "least_minutes_for_felting_fibre": _numbers(one.least),
            }
            for one in estimates.heatings
        ],
        "cooling": [
            {
                "line": one.line,
                "step": one.step,
                "bath": one.bath,
                "from_c": _numbers(one.start),
                "to_c": _numbers(one.end),
                "least_minutes_for_felting_fibre": _numbers(one.least),
            }
            for one in estimates.coolings
        ],
        "boils_away": [
            {
                "line": one.line,
                "step": one.step,
                "bath": one.bath,
                "at_c": _numbers(one.heat),
                "minutes": _numbers(one.minutes),
                "litres_without_lid": _numbers(one.open),
                "litres_with_lid": _numbers(one.lidded),
                "covered": one.lid,
            }
            for one in estimates.steamings
        ],
    }
