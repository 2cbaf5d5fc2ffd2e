"""A comparison as JSON; ``compare.schema.json`` beside this file is the schema."""

from __future__ import annotations

import json
from typing import Any

from procedure.compare.as_text import sentence
from procedure.compare.changes import Change, ChangedLine, Compared
from procedure.compare.verdict import Verdict, of_colour, of_safety
from procedure.findings import NOTHING
from procedure.report.json_report import as_data as finding_as_data
from procedure.report.json_report import phrase_as_data
from procedure.wording import Reader, deferral, for_reader, said
from procedure.wording.visible import escaped

FORM = 1


def report(made: Compared, reader: Reader) -> str:
    """The whole comparison; sentences are in the reader's units, facts in base units."""
    data: dict[str, Any] = {
        "form": FORM,
        "old": made.old.file,
        "new": made.new.file,
        "same": made.same,
        "changes": [
            {"number": number, **_change(change, reader)}
            for number, change in enumerate(made.changes, 1)
        ],
        "remarks": [_change(change, reader) for change in made.remarks],
        "gained": [finding_as_data(for_reader(one, reader)) for one in made.gained],
        "lost": [finding_as_data(for_reader(one, reader)) for one in made.lost],
        "colour": _verdict(of_colour(made)),
        "safety": _verdict(of_safety(made)),
    }
    last = deferral([*made.gained, *made.lost])
    if last:
        data["caution"] = last
    return escaped(json.dumps(data, ensure_ascii=False, indent=2)) + "\n"


def _change(change: Change, reader: Reader) -> dict[str, Any]:
    data: dict[str, Any] = {
        "kind": change.kind,
        "section": change.section,
        "old": _spot(change.old),
        "new": _spot(change.new),
        "sentence": sentence(change, reader),
        "colour": change.colour,
        "safety": change.safety,
        "fact": phrase_as_data(change.says),
    }
    if change.otherwise != NOTHING:
        data["otherwise"] = said(change.otherwise, reader)
    return data


def _spot(spot: ChangedLine | None) -> dict[str, Any] | None:
    return None if spot is None else {"file": spot.file, "line": spot.line}


def _verdict(verdict: Verdict) -> dict[str, Any]:
    return {
        "may_change": verdict.may_change,
        "changes": list(verdict.changes),
        "rules": list(dict.fromkeys(one.rule for one in verdict.findings)),
    }
