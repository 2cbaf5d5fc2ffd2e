"""The contents of a handout as blocks for ``paper.typ``."""

from __future__ import annotations

from procedure.findings import Finding
from procedure.handout import fixed_phrases as say
from procedure.handout.contents import Contents
from procedure.handout.pdf import Data, Run, runs, text, typeset
from procedure.handout.pictures import picture
from procedure.handout.sentences import Phrase
from procedure.handout.steps import Told


def paper(made: Contents, size: str = "a4") -> bytes:
    """The handout as PDF on a4 or letter. Raises :class:`procedure.handout.pdf.NotSet`."""
    return typeset("paper.typ", _Blocks(made).whole(size))


class _Blocks:
    def __init__(self, made: Contents) -> None:
        self.made = made
        self.voice = made.voice

    def own(self, said: str) -> list[Run]:
        return [text(self.voice.spelt(said))]

    def runs(self, said: Phrase) -> list[Run]:
        return runs(self.voice, said)

    def whole(self, size: str) -> Data:
        made = self.made
        head = [self.runs(line) for line in say.headlines(made)]
        fibre: Phrase = ("Worked out for ", *made.work.fibre, " of fibre.")
        sections = [
            (say.CAUTIONS, self.cautions()),
            (say.NEEDS, self.needs()),
            (say.BEFORE, self.before()),
            (say.STEPS, [{"kind": "steps", "steps": self.steps(made.work.steps, 0)}]),
            (say.CHART, self.chart()),
            (say.GATHERING, self.gathering()),
            (say.WRONG, self.wrong()),
            (say.SOURCES, [{"kind": "list", "items": [self.runs(x) for x in say.sources(made)]}]),
        ]
        return {
            "paper": "us-letter" if size == "letter" else "a4",
            "region": "US" if self.voice.spelling == "us" else "GB",
            "draft": say.DRAFT if made.draft else "",
            "title": text(made.title)["text"],
            "head": head,
            "remarks": [[text(remark)] for remark in made.remarks],
            "fibre": self.runs(fibre) if made.work.fibre else [],
            "worked": [text(made.worked_out)] if made.worked_out else [],
            "errors": self.errors(),
            "sections": [
                {"title": self.own(title), "blocks": blocks} for title, blocks in sections if blocks
            ],
        }

    def para(self, said: list[Run], style: str = "") -> Data:
        return {"kind": "para", "runs": said, "style": style}

    def errors(self) -> list[Data]:
        if not self.made.draft:
            return []
        items = [self.finding(error) for error in self.made.errors]
        title = self.own(say.errors_title(len(items)))
        return [
            {"kind": "heading", "runs": title},
            self.para(self.own(say.ERRORS)),
            {"kind": "list", "items": items},
        ]

    def finding(self, found: Finding) -> list[Run]:
        file = "" if found.file == self.made.plan_file else f"{found.file}, "
        said = [text(f"{file}{self.voice.spelt('line')} {found.line}: {found.sentence}")]
        if found.remedy:
            said.append(text(f" {found.remedy}"))
        if found.allowed:
            said.append(text(f" {self.voice.spelt('The writer’s reason:')} {found.allowed}"))
        return said

    def table(
        self,
        caption: str,
        columns: tuple[str, ...],
        widths: tuple[float, ...],
        rows: list[list[Data]],
    ) -> Data:
        return {
            "kind": "table",
            "caption": self.own(caption),
            "columns": [self.own(column) for column in columns],
            "widths": list(widths),
            "rows": rows,
        }

    def cell(self, said: list[Run], pictures: tuple[str, ...] = ()) -> Data:
        drawn = [{"svg": svg, "alt": code} for code in pictures if (svg := picture(code))]
        return {"runs": said, "pictures": drawn}

    def cautions(self) -> list[Data]:
        cautions = self.made.cautions
        blocks = [self.para(self.own(cautions.first), "strong")]
        if cautions.wear:
            blocks.append(self.para(self.runs(cautions.wear)))
        rows = []
        for one in cautions.dangers:
            name = self.own(one.called)
            if one.name != one.called:
                name.append(text(f" (“{one.name}”)"))
            said = [say.plainly(one)] if say.plainly(one) else []
            said += [say.statements(one)] if one.statements else []
            rows.append([self.cell(name, one.pictograms), self.cell(self.own(" ".join(said)))])
        if rows:
            blocks.append(self.table(say.DANGERS, say.DANGER_COLUMNS, (1, 3), rows))
        blocks.append({"kind": "list", "items": [self.runs(line) for line in cautions.general]})
        return blocks

    def needs(self) -> list[Data]:
        needs = self.made.work.needs
        blocks: list[Data] = []
        for title, lines, columns in (
            (say.FIBRE, needs.fibre, say.FIBRE_COLUMNS),
            (say.EQUIPMENT, needs.equipment, say.EQUIPMENT_COLUMNS),
            (say.MATERIALS, needs.materials, say.MATERIAL_COLUMNS),
        ):
            if lines:
                rows = [
                    [self.cell(self.runs(cell)) for cell in (n.name, n.what, n.amount, n.remark)]
                    for n in lines
                ]
                blocks.append(self.table(title, columns, (1.1, 2.2, 1.6, 1.3), rows))
        if needs.equipment:
            blocks.append(self.para(self.own(say.MARK)))
        return [*blocks, self.para(self.runs(needs.besides))]

    def before(self) -> list[Data]:
        before = self.made.before
        blocks = [self.para(self.runs(line)) for line in before.sentences]
        if len(before.days) > 1:
            items = [self.own(say.day(day)) for day in before.days]
            blocks.append({"kind": "list", "items": items})
        blocks.append({"kind": "heading", "runs": self.own(say.DAY_BEFORE)})
        return [*blocks, *(self.para(self.runs(line)) for line in before.day_before)]

    def steps(self, steps: tuple[Told, ...], depth: int) -> list[Data]:
        made: list[Data] = []
        for step in steps:
            blanks = [
                {
                    "label": self.voice.spelt(blank.what),
                    "unit": blank.unit,
                    "wide": blank.what == say.SAW,
                }
                for blank in step.blanks
            ]
            made.append(
                {
                    "number": step.number,
                    "depth": depth,
                    "boxes": step.boxes,
                    "runs": self.runs(step.text),
                    "notes": [[text(note)] for note in step.notes],
                    "blanks": blanks,
                    "opens": bool(step.inner),
                }
            )
            made += self.steps(step.inner, depth + 1)
        return made

    def chart(self) -> list[Data]:
        if self.made.no_chart:
            return [self.para(self.own(self.made.no_chart))]
        count = len(self.made.sheets)
        return [
            {
                "kind": "sheet",
                "svg": sheet.svg,
                "alt": text(sheet.says)["text"],
                "caption": self.own(say.sheet(i, count)),
                "first": i == 1,
            }
            for i, sheet in enumerate(self.made.sheets, 1)
        ]

    def gathering(self) -> list[Data]:
        gathering = self.made.gathering
        if gathering is None:
            return []
        weights = [self.voice.amount("mass", weight, weight) for weight in gathering.weights]
        rows = [
            [self.cell(self.runs(cell)) for cell in (name, *cells)]
            for name, cells in gathering.rows
        ]
        columns = (say.GATHERING_FIRST, *weights)
        widths = (1.2, *(1.0 for _ in weights))
        return [
            self.para(self.own(say.GROWS), "leads"),
            self.table(say.GATHERING_CAPTION, columns, widths, rows),
        ]

    def wrong(self) -> list[Data]:
        if not self.made.findings:
            return [self.para(self.own(say.NOTHING_WRONG))]
        items = [
            [*self.own(f"{say.LEVELS[found.level]} "), *self.finding(found)]
            for found in self.made.findings
        ]
        return [self.para(self.own(say.NOTES)), {"kind": "list", "items": items}]
