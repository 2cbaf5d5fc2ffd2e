"""The handout as Markdown (CommonMark, with the tables and task lists of GFM).

Everything that a procedure says is escaped sign by sign, so that it is read as the
letters that it is and never as markup, a link or HTML.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from procedure.findings import Finding
from procedure.handout import fixed_phrases as say
from procedure.handout.contents import Contents
from procedure.handout.sentences import Blank, Figure, Phrase, Words, clean
from procedure.handout.steps import Told

RULE = "\\_\\_\\_\\_\\_\\_"
_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~$^=])")
# What a renderer may take for an address by itself, and signs that begin a list.
_ADDRESS = re.compile(r"(?i)(?<=[a-z])(:)(?=//|[a-z])|(?<=www)(\.)|(@)")
_AT_START = re.compile(r"^(\s*)([-+]|\d+(?=[.)]))")


def escaped(text: str) -> str:
    """A text that shows as it is, wherever it stands in a line."""
    text = " ".join(clean(text).split(" "))
    text = _SIGNS.sub(r"\\\1", text).replace("&", "&amp;")
    text = _ADDRESS.sub(lambda found: "\\" + found.group(), text)
    return _AT_START.sub(_started, text)


def _started(found: re.Match[str]) -> str:
    sign = found.group(2)
    return f"{found.group(1)}\\{sign}" if sign in "-+" else f"{found.group(1)}&#8203;{sign}"


def page(made: Contents) -> str:
    """The whole handout as Markdown text."""
    return _Page(made).text()


class _Page:
    def __init__(self, made: Contents) -> None:
        self.made = made
        self.voice = made.voice

    def own(self, text: str) -> str:
        return escaped(self.voice.spelt(text))

    def said(self, phrase: Phrase) -> str:
        made: list[str] = []
        for piece in phrase:
            if isinstance(piece, str):
                made.append(self.voice.spelt(piece).replace("*", "\\*"))
            elif isinstance(piece, Words):
                made.append(escaped(piece.text))
            elif isinstance(piece, Figure):
                made.append(self.voice.amount(piece.kind, piece.low, piece.high, piece.about))
            else:
                made.append(self.blank(piece))
        return "".join(made)

    def blank(self, blank: Blank) -> str:
        return f"{RULE}\u00a0{blank.unit}" if blank.unit else RULE

    def text(self) -> str:
        made = self.made
        parts = [f"# {escaped(made.title)}"]
        if made.draft:
            parts.append(f"**{say.DRAFT}**")
            parts += self.errors()
        parts += [self.said(line) for line in say.headlines(made)]
        parts += [f"*{escaped(remark)}*" for remark in made.remarks]
        if made.work.fibre:
            parts.append(f"**Worked out for {self.said(made.work.fibre)} of {self.own('fibre')}.**")
        if made.worked_out:
            parts.append(self.own(made.worked_out))
        for title, inside in (
            (say.CAUTIONS, self.cautions()),
            (say.NEEDS, self.needs()),
            (say.BEFORE, self.before()),
            (say.STEPS, [self.steps(made.work.steps, 0)]),
            (say.CHART, [escaped(made.no_chart)] if made.no_chart else []),
            (say.GATHERING, self.gathering()),
            (say.WRONG, self.wrong()),
            (say.SOURCES, [self.items(self.said(line) for line in say.sources(made))]),
        ):
            if inside:
                mark = f" ({say.DRAFT})" if made.draft else ""
                parts += [f"## {self.own(title)}{mark}", *inside]
        return "\n\n".join(part for part in parts if part) + "\n"

    def items(self, lines: Iterable[str]) -> str:
        return "\n".join(f"- {line}" for line in lines)

    def table(self, title: str, columns: Iterable[str], rows: Iterable[Iterable[str]]) -> list[str]:
        heads = [self.own(column) for column in columns]
        lines = [
            f"| {' | '.join(heads)} |",
            f"|{'---|' * len(heads)}",
            *(f"| {' | '.join(row)} |" for row in rows),
        ]
        return [f"### {self.own(title)}", "\n".join(lines)]

    def errors(self) -> list[str]:
        lines = [f"{i}. {self.finding(one)}" for i, one in enumerate(self.made.errors, 1)]
        title = self.own(say.errors_title(len(lines)))
        return [f"## {title}", self.own(say.ERRORS), "\n".join(lines)]

    def finding(self, found: Finding) -> str:
        file = "" if found.file == self.made.plan_file else f"{escaped(found.file)}, "
        said = f"{file}line {found.line}: {escaped(found.sentence)}"
        if found.remedy:
            said += f" *{escaped(found.remedy)}*"
        if found.allowed:
            said += f" The writer's reason: {escaped(found.allowed)}"
        return said

    def cautions(self) -> list[str]:
        cautions = self.made.cautions
        parts = [f"**{self.own(cautions.first)}**"]
        if cautions.wear:
            parts.append(self.said(cautions.wear))
        if cautions.dangers:
            rows = []
            for one in cautions.dangers:
                name = f"**{self.own(one.called)}**"
                if one.name != one.called:
                    name += f" (“{escaped(one.name)}”)"
                said = [say.plainly(one)] if say.plainly(one) else []
                said += [say.statements(one)] if one.statements else []
                rows.append([name, self.own(" ".join(said))])
            parts += self.table(say.DANGERS, say.DANGER_COLUMNS, rows)
        parts.append(self.items(self.said(line) for line in cautions.general))
        return parts

    def needs(self) -> list[str]:
        needs = self.made.work.needs
        parts: list[str] = []
        for title, lines, columns in (
            (say.FIBRE, needs.fibre, say.FIBRE_COLUMNS),
            (say.EQUIPMENT, needs.equipment, say.EQUIPMENT_COLUMNS),
            (say.MATERIALS, needs.materials, say.MATERIAL_COLUMNS),
        ):
            if lines:
                cells = [
                    [self.said(cell) for cell in (n.name, n.what, n.amount, n.remark)]
                    for n in lines
                ]
                parts += self.table(title, columns, cells)
        if needs.equipment:
            parts.append(self.own(say.MARK))
        return [*parts, self.said(needs.besides)]

    def before(self) -> list[str]:
        before = self.made.before
        parts = [" ".join(self.said(line) for line in before.sentences)]
        if len(before.days) > 1:
            parts.append(self.items(self.own(say.day(day)) for day in before.days))
        day_before = " ".join(self.said(line) for line in before.day_before)
        return [*parts, f"### {self.own(say.DAY_BEFORE)}", day_before]

    def steps(self, steps: tuple[Told, ...], depth: int) -> str:
        pad = "  " * depth
        lines: list[str] = []
        for step in steps:
            boxes = " ".join("☐" for _ in range(step.boxes))
            number = f"**{step.number}** " if step.number else ""
            lines.append(f"{pad}- {number}{boxes}{' ' if boxes else ''}{self.said(step.text)}")
            lines += [f"{pad}  *{escaped(note)}*" for note in step.notes]
            if step.blanks:
                filled = " · ".join(
                    f"{self.own(blank.what)} {self.blank(blank)}" for blank in step.blanks
                )
                lines.append(f"\n{pad}  {filled}\n")
            if step.inner:
                lines.append(self.steps(step.inner, depth + 1))
        return "\n".join(lines)

    def gathering(self) -> list[str]:
        gathering = self.made.gathering
        if gathering is None:
            return []
        weights = [self.voice.amount("mass", weight, weight) for weight in gathering.weights]
        rows = [
            [self.said(name), *(self.said(cell) for cell in cells)]
            for name, cells in gathering.rows
        ]
        columns = (say.GATHERING_FIRST, *weights)
        return [self.own(say.GROWS), *self.table(say.GATHERING_CAPTION, columns, rows)]

    def wrong(self) -> list[str]:
        if not self.made.findings:
            return [self.own(say.NOTHING_WRONG)]
        lines = [
            f"**{self.own(say.LEVELS[found.level])}** {self.finding(found)}"
            for found in self.made.findings
        ]
        return [self.own(say.NOTES), self.items(lines)]
