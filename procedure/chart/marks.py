"""Findings on the chart: which figure each belongs to, and the words that mark it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from procedure.chart.placed_symbols import Drawing
from procedure.findings import LEVELS, Finding
from procedure.quantity.number_words import listed


@dataclass(frozen=True, slots=True)
class Marks:
    """The findings by their numbers on the chart, and the words of each mark by figure."""

    listed: tuple[tuple[int, str], ...]
    by_figure: dict[int, str]
    counts: dict[str, int]
    about: dict[int, int]
    """The figure that each finding is about, by the finding's number; none for some."""

    def among(self, shown: Collection[int]) -> Marks:
        """Those about some figures or none, with the numbers that they have in the whole chart."""
        listed = [one for one in self.listed if one[0] not in self.about
                  or self.about[one[0]] in shown]  # fmt: skip
        on = {key: words for key, words in self.by_figure.items() if key in shown}
        return replace(self, listed=tuple(listed), by_figure=on)


def marks(drawing: Drawing, findings: Iterable[Finding]) -> Marks:
    """Number the findings in the order given, and mark the figures that they are about."""
    starts = _starts(drawing)
    spans = {
        procedure.key: procedure.section_lines.get("steps", (0, 0))
        for procedure in drawing.flow.procedures
    }
    titles = {one.key: one.title for one in drawing.flow.procedures}
    said: list[tuple[int, str]] = []
    on: dict[int, dict[str, list[int]]] = {}
    counts = dict.fromkeys(LEVELS, 0)
    about: dict[int, int] = {}
    for number, finding in enumerate(findings, 1):
        counts[finding.level] += 1
        own = finding.key == drawing.flow.procedure.key
        key = drawing.unread.get(finding.line) if own else None
        if key is None:
            key = _figure_of(finding, starts, spans)
        where = f"line {finding.line}"
        if finding.file != drawing.flow.procedure.file:
            title = titles.get(finding.key)
            name = finding.file.replace("\\", "/").rsplit("/", 1)[-1]
            where += f" of {f'“{title.text}”' if title is not None else name}"
        if key is not None:
            about[number] = key
            on.setdefault(key, {}).setdefault(finding.level, []).append(number)
            where = f"step {drawing.figures[key].number}, {where}"
        allowed = f" The writer allows it: {finding.allowed}" if finding.allowed else ""
        said.append(
            (
                number,
                f"{number}. {finding.level.capitalize()} ({where}): "
                f"{finding.sentence} {finding.remedy}{allowed}",
            )
        )
    return Marks(tuple(said), {key: _words(levels) for key, levels in on.items()}, counts, about)


def _starts(drawing: Drawing) -> dict[str, list[tuple[int, int]]]:
    """For each file, the first line of each step with the figure that shows it, in order."""
    found: dict[str, list[tuple[int, int]]] = {}
    for node in drawing.flow.nodes:
        if node.kind != "end" and node.id in drawing.stands_for:
            line = (node.step.place.line, drawing.stands_for[node.id])
            found.setdefault(node.procedure.key, []).append(line)
    return {file: sorted(lines) for file, lines in found.items()}


# A line that could not be read is no step, and says nothing of the step above it.
UNREAD = "cannot-read"


def _figure_of(
    finding: Finding,
    starts: dict[str, list[tuple[int, int]]],
    spans: dict[str, tuple[int, int]],
) -> int | None:
    """The figure of the last step that begins at or above the finding's line, among the steps."""
    first, last = spans.get(finding.key, (0, 0))
    if finding.rule == UNREAD or not first <= finding.line <= last:
        return None
    found = None
    for line, key in starts.get(finding.key, ()):
        if line == finding.line:
            return key
        if line > finding.line:
            break
        found = key
    return found


def _words(levels: dict[str, list[int]]) -> str:
    """The words of a mark: see error 1 and warnings 2 and 3."""
    parts = []
    for level in LEVELS:
        numbers = levels.get(level)
        if numbers:
            plural = "s" if len(numbers) > 1 else ""
            parts.append(f"{level}{plural} {listed([str(n) for n in numbers])}")
    return f"see {listed(parts)}"
