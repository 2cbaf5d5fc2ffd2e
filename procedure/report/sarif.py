"""Findings as SARIF 2.1.0 (OASIS Standard), for tools that gather reports.

Section numbers below are those of the standard. Columns count characters
(``unicodeCodePoints``, 3.14.17) and the end column is the one after the place
(3.30.8), both as in a finding.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from urllib.parse import quote

from procedure import __version__
from procedure.findings import Edit, Finding, Related
from procedure.report.json_report import fact_as_data
from procedure.rules import RULES, Rule
from procedure.wording import DEFER, SAFETY
from procedure.wording.visible import escaped

SCHEMA = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
LINE_ENDS = ["\r\n", "\n", "\r"]


def report(findings: Iterable[Finding], files: Iterable[str], unread: Iterable[str] = ()) -> str:
    """One run with all findings; ``unread`` are sentences on files that could not be read."""
    reasons = list(unread)
    numbers = {rule.name: number for number, rule in enumerate(RULES)}
    invocation: dict[str, Any] = {"executionSuccessful": not reasons}
    if reasons:
        invocation["toolExecutionNotifications"] = [
            {"level": "error", "message": {"text": reason}} for reason in reasons
        ]
    run = {
        "tool": {
            "driver": {
                "name": "Vatwright",
                "semanticVersion": __version__,
                "rules": [_rule(rule) for rule in RULES],
            }
        },
        "columnKind": "unicodeCodePoints",
        "newlineSequences": LINE_ENDS,
        "invocations": [invocation],
        "artifacts": [{"location": {"uri": uri(name)}} for name in dict.fromkeys(files)],
        "results": [_result(finding, numbers) for finding in findings],
    }
    log = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}
    return escaped(json.dumps(log, ensure_ascii=False, indent=2)) + "\n"


def uri(name: str) -> str:
    """The name of a file as a URI: relative where the name is, and percent-encoded (3.4.4)."""
    path = Path(name)
    if path.is_absolute():
        return path.as_uri()
    return quote(os.fsencode(path.as_posix()))  # a colon too, which would look like a scheme


def _rule(rule: Rule) -> dict[str, Any]:
    """A rule's own documentation as a reporting descriptor (3.49)."""
    safety = f"\n\n{DEFER}" if rule.family == SAFETY else ""
    examples = f"This trips it:\n\n{{}}\n\nThis puts it right:\n\n{{}}\n\nSource: {rule.source}."
    plain = examples.format(_indented(rule.trips), _indented(rule.cure))
    marked = examples.format(_fenced(rule.trips), _fenced(rule.cure))
    return {
        "id": rule.name,
        "shortDescription": {"text": rule.what},
        "fullDescription": {"text": f"{rule.what} {rule.why}".strip()},
        "help": {
            "text": f"{rule.what}\n\n{rule.why}\n\n{plain}{safety}",
            "markdown": f"{_escaped(rule.what)}\n\n{_escaped(rule.why)}\n\n{marked}{safety}",
        },
        "defaultConfiguration": {"level": rule.level},
        "properties": {"tags": [rule.family]},
    }


def _indented(text: str) -> str:
    return "\n".join(f"    {line}" for line in text.split("\n"))


def _fenced(text: str) -> str:
    return f"```text\n{text}\n```"


def _escaped(text: str) -> str:
    """Text in which Markdown sees no marks of its own."""
    return "".join(f"\\{c}" if c in "\\`*_[]<>#" else c for c in text)


def _result(finding: Finding, numbers: dict[str, int]) -> dict[str, Any]:
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "level": finding.level,
        "message": {"text": f"{finding.sentence} {finding.remedy}"},
        "locations": [
            {"physicalLocation": _place(finding.file, finding.line, finding.column, finding.to)}
        ],
        "properties": {"remedy": finding.remedy, "source": finding.source},
    }
    if finding.fact is not None:
        result["properties"]["fact"] = fact_as_data(finding.fact)
    if finding.rule in numbers:
        result["ruleIndex"] = numbers[finding.rule]
    if finding.related:
        result["relatedLocations"] = [
            _related(number, related) for number, related in enumerate(finding.related, 1)
        ]
    if finding.edit is not None:
        result["fixes"] = [_fix(finding.file, finding.edit, finding.remedy)]
    if finding.allowed:
        result["suppressions"] = [
            {"kind": "inSource", "status": "accepted", "justification": finding.allowed}
        ]
    return result


def _place(file: str, line: int, column: int, to: int) -> dict[str, Any]:
    return {"artifactLocation": {"uri": uri(file)}, "region": _region(line, column, to)}


def _region(line: int, column: int, to: int) -> dict[str, int]:
    return {"startLine": line, "startColumn": column, "endLine": line, "endColumn": max(to, column)}


def _related(number: int, related: Related) -> dict[str, Any]:
    return {
        "id": number,
        "message": {"text": related.sentence},
        "physicalLocation": _place(related.file, related.line, related.column, related.to),
    }


def _fix(file: str, edit: Edit, remedy: str) -> dict[str, Any]:
    replacement = {
        "deletedRegion": _region(edit.line, edit.column, edit.to),
        "insertedContent": {"text": edit.text},
    }
    change = {"artifactLocation": {"uri": uri(file)}, "replacements": [replacement]}
    return {"description": {"text": remedy}, "artifactChanges": [change]}
