"""Findings as JSON; ``findings.schema.json`` beside this file is the schema."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from procedure.findings import LEVELS, Finding

FORM = 1


def report(findings: Iterable[Finding], files: Iterable[str]) -> str:
    """All findings of a run, with the files that were checked."""
    found = list(findings)
    data = {
        "form": FORM,
        "files": list(files),
        "counts": {level: sum(f.level == level for f in found) for level in LEVELS},
        "findings": [as_data(finding) for finding in found],
    }
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


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
        "related": [related._asdict() for related in finding.related],
    }
    if finding.edit is not None:
        data["edit"] = finding.edit._asdict()
    if finding.allowed:
        data["allowed"] = finding.allowed
    return data
