"""Findings a line each, in the form of the GNU Coding Standards (section 4.4)."""

from __future__ import annotations

from collections.abc import Iterable

from procedure.findings import Finding
from procedure.wording import deferral
from procedure.wording.visible import one_line


def report(findings: Iterable[Finding]) -> str:
    """``FILE:LINE.COLUMN-COLUMN: LEVEL: SENTENCE REMEDY [RULE]``, a line for each finding.

    Where one is of the safety family, a last line ``vatwright: ...`` defers to those who
    know better.
    """
    shown = list(findings)
    last = deferral(shown)
    return "".join(_one(finding) for finding in shown) + (f"vatwright: {last}\n" if last else "")


def _one(finding: Finding) -> str:
    last = max(finding.to - 1, finding.column)
    place = f"{one_line(finding.file)}:{finding.line}.{finding.column}-{last}"
    said = one_line(f"{finding.sentence} {finding.remedy}".replace("\n", " "))
    return f"{place}: {finding.level}: {said} [{finding.rule}]\n"
