"""Findings as JSON; ``findings.schema.json`` beside this file is the schema."""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from procedure.findings import (
    LEVELS,
    Fact,
    Finding,
    InUnit,
    LineNumber,
    Named,
    Related,
    Sample,
    Says,
    Several,
    Value,
    Way,
    Word,
)
from procedure.quantity.interval import ENDLESS
from procedure.wording import deferral
from procedure.wording.visible import escaped

FORM = 1


def report(findings: Iterable[Finding], files: Iterable[str]) -> str:
    """All findings of a run, with the files that were checked."""
    found = list(findings)
    data: dict[str, Any] = {
        "form": FORM,
        "files": list(files),
        "counts": {level: sum(f.level == level for f in found) for level in LEVELS},
        "findings": [as_data(finding) for finding in found],
    }
    last = deferral(found)
    if last:
        data["caution"] = last
    return escaped(json.dumps(data, ensure_ascii=False, indent=2)) + "\n"


def as_data(finding: Finding) -> dict[str, Any]:
    """One finding as plain data."""
    data: dict[str, Any] = {
        "rule": finding.rule,
        "level": finding.level,
        "file": finding.file,
        "line": finding.line,
        "column": finding.column,
        "to": finding.to,
        "sentence": finding.sentence,
        "remedy": finding.remedy,
        "source": finding.source,
        "related": [_related(related) for related in finding.related],
    }
    if finding.fact is not None:
        data["fact"] = fact_as_data(finding.fact)
    if finding.edit is not None:
        data["edit"] = finding.edit._asdict()
    if finding.allowed:
        data["allowed"] = finding.allowed
    return data


def _related(related: Related) -> dict[str, Any]:
    told = related._asdict()
    return {name: told[name] for name in ("file", "line", "column", "to", "sentence")}


def fact_as_data(fact: Fact) -> dict[str, Any]:
    """A fact as plain data: its templates, and its values in the base units of their kinds."""
    return {
        "kind": fact.kind,
        "sentence": fact.sentence.template,
        "remedy": fact.remedy.template,
        "values": {name: _value(value) for name, value in fact.values.items()},
    }


def phrase_as_data(says: Says) -> dict[str, Any]:
    """A template with its values as plain data."""
    return _value(says)


# The base unit of each measured value.
_UNITS = {
    "heat": "°C",
    "rate": "°C/min",
    "span": "min",
    "mass": "g",
    "volume": "L",
    "percent": "%",
    "liquor": "L/kg",
    "strength": "g/L",
    "count": "",
}


@lru_cache(maxsize=8192)  # of many lots each may name as many things
def _named(value: Named) -> dict[str, Any]:
    return {
        "type": value.kind,
        "name": value.name,
        **({"trade": value.trade} if value.trade else {}),
    }


def _value(value: Value) -> dict[str, Any]:
    match value:
        case Says(template, values):
            return {
                "type": "phrase",
                "template": template,
                "values": {name: _value(one) for name, one in values},
            }
        case Several(values):
            more = {"more": value.more} if value.more else {}
            return {"type": "list", "values": [_value(one) for one in values], **more}
        case Named():
            return dict(_named(value))
        case Word(text) | Sample(metric=text):
            return {"type": "words", "text": text}
        case Way(path):
            return {"type": "way", "path": path}
        case LineNumber(number):
            return {"type": "line", "number": number}
        case InUnit(low, high, unit):
            kind = "amount"
        case _:
            low, high = value.low, value.high
            kind = type(value).__name__.lower()
            unit = _UNITS[kind]
    most = low if high is None else high
    data: dict[str, Any] = {"type": kind, "low": float(low)}
    if most != ENDLESS:
        data["high"] = float(most)
    return {**data, "unit": unit} if unit else data
