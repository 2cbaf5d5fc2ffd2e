"""Mending: the safe edits of the findings, put into the text until none is left."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from procedure.findings import Edit, Finding, at_least
from procedure.pipeline import Judged, read
from procedure.quantity.record import NamedTuple

# An edit may uncover a fault that has an edit of its own. More rounds than this
# would mean that two edits undo each other.
ROUNDS = 20
_LINE_END = re.compile(r"\r\n|\r|\n")


class Mended(NamedTuple):
    """A text after mending: the text, its plan, and the findings whose edits were made."""

    text: str
    plan: Judged
    made: tuple[Finding, ...]


def mend(plan: Judged, path: Path | None = None, least: str = "note") -> Mended:
    """Make the safe edits of a plan's findings of level ``least`` and above.

    Only the plan's own file is mended, not those that it follows. Nothing but the
    columns of an edit changes: line ends, a byte-order mark, spaces and a missing last
    newline stay as they are.
    """
    seen = {plan.text}
    made: list[Finding] = []
    for _ in range(ROUNDS):
        able = [
            finding
            for finding in plan.findings
            if finding.edit is not None and finding.key == plan.model.key and not finding.allowed
        ]
        taken = _apart(finding for finding in able if at_least(finding.level, least))
        text = edited(plan.text, [finding.edit for finding in taken if finding.edit])
        if text in seen:
            break
        seen.add(text)
        made += taken
        plan = read(text, plan.file, path, plan.unsaved)
    return Mended(plan.text, plan, tuple(made))


def _apart(findings: Iterable[Finding]) -> list[Finding]:
    """Findings whose edits do not touch; of those that do, the first by place, then by weight.

    What is left out comes in the next round, if it still holds.
    """
    kept: list[Finding] = []
    for finding in sorted(findings, key=_place):
        edit = finding.edit
        last = kept[-1].edit if kept else None
        if edit is None or (
            last is not None
            and edit.line == last.line
            and edit.column < max(last.to, last.column + 1)
        ):
            continue
        kept.append(finding)
    return kept


def _place(finding: Finding) -> tuple[int, int, int, object]:
    edit = finding.edit
    assert edit is not None
    return edit.line, edit.column, edit.to, finding.order


def edited(text: str, edits: Iterable[Edit]) -> str:
    """The text with edits that do not overlap; lines and columns are those of the findings."""
    start = 1 if text.startswith("\ufeff") else 0  # a byte-order mark has no column
    starts = [start, *(end.end() for end in _LINE_END.finditer(text))]
    for edit in sorted(edits, reverse=True):
        first = starts[edit.line - 1] + edit.column - 1
        last = starts[edit.line - 1] + edit.to - 1
        text = text[:first] + edit.text + text[last:]
    return text


def preview(before: str, after: str, name: str, called: str = "mended") -> str:
    """The change as a unified diff; empty where there is none. ``called`` is what was done."""
    import difflib

    old, new = (
        _LINE_END.sub("\n", text).removeprefix("\ufeff").split("\n") for text in (before, after)
    )
    shown = difflib.unified_diff(old, new, name, f"{name} ({called})", lineterm="")
    return "".join(f"{line}\n" for line in shown)
