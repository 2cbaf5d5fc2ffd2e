"""The lines of a record as blocks: sections, lines, and what is below them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from procedure.batch.record_words import words_of
from procedure.findings import Count, Fact, Finding, Says, plainly_said, say
from procedure.language import Token
from procedure.vocabulary import near
from procedure.wording import said

SECTIONS = ("batch", "water", "fibre", "materials", "steps", "results")
LONGEST_LINE = 4000
TAB = 4
LINE = "Write the line again; grammar/batch.md shows each of them."
# The first words of lines that hold deeper lines of their own. Any name does in results.
_OPENS = ("step", "added", "wash", "light")
_RULE = "cannot-read"


# How the other kind of file of this family begins.
_OTHER = "procedure"


def is_procedure(text: str) -> bool:
    """True where the first line that says anything is the heading of a procedure."""
    lines = (raw for raw in text.split("\n") if raw.strip() and not raw.lstrip().startswith("#"))
    return re.match(rf"{_OTHER}\b", next(lines, "")) is not None


@dataclass(slots=True)
class RecordEntry:
    """A line with its continuations, and the block below it."""

    indent: int
    tokens: list[Token]
    comment: bool
    block: list[RecordEntry] = field(default_factory=list)

    @property
    def first(self) -> Token:
        """Its first word."""
        return self.tokens[0]

    @property
    def word(self) -> str:
        """Its first word without a colon."""
        return self.first.text.rstrip(": \t")


@dataclass(slots=True)
class RecordSection:
    """A section: its heading line and the lines in it."""

    name: str
    heading: RecordEntry
    lines: list[RecordEntry]


class RecordReader:
    """One reading of a text; ``findings`` grow as it goes."""

    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.findings: list[Finding] = []
        self.sections: list[RecordSection] = []
        self.open: list[RecordEntry] = []
        plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        self.is_procedure = is_procedure(plain)
        if self.is_procedure:
            line = next(n for n, raw in enumerate(plain.split("\n"), 1) if raw.startswith(_OTHER))
            self.say(
                (line, 1, 1 + len(_OTHER)),
                "This is a procedure, and no record of a batch.",
                "Give it back its suffix .dye; “vatwright record” makes the form of its record.",
            )
            return
        for number, raw in enumerate(plain.split("\n"), 1):
            self._take(raw, number)

    def say(
        self,
        place: Token | tuple[int, int, int],
        sentence: Says | str,
        remedy: Says | str,
        rule: str = _RULE,
        level: str = "error",
        source: str = "the language of batch records",
    ) -> None:
        """Note a finding at a token or at a line with its columns.

        A remedy that is no sentence is an example of the line that was expected.
        """
        line, column, to = (
            (place.line, place.column, place.to) if isinstance(place, Token) else place
        )
        to = max(to, column + 1)
        what, cure = plainly_said(sentence), plainly_said(remedy)
        if not cure.template.endswith((".", "?")):
            cure = say("For example: {line}", line=cure)
        self.findings.append(
            Finding(
                rule, level, self.file, line, column, to, said(what), said(cure), source,
                fact=Fact(rule, what, cure),
            )
        )  # fmt: skip

    def _take(self, raw: str, number: int) -> None:
        if "\0" in raw:
            place = (number, raw.index("\0") + 1, raw.index("\0") + 2)
            self.say(place, "A character here belongs to no text (NUL).", "Write the line again.")
            raw = raw.replace("\0", "\ufffd")
        if len(raw) > LONGEST_LINE:
            self.say(
                (number, 1, 2),
                say(
                    "This line is {long} characters long; {most} is the most.",
                    long=Count(Fraction(len(raw))),
                    most=Count(Fraction(LONGEST_LINE)),
                ),
                "Break it into shorter lines.",
            )
            return
        tokens, comment = words_of(raw, number)
        if not tokens:
            return
        margin = raw[: len(raw) - len(raw.lstrip())]
        indent = len(margin.expandtabs(TAB))
        entry = RecordEntry(indent, list(tokens), comment)
        if indent == 0:
            self._heading(entry)
            return
        if not self.sections:
            self.sections.append(RecordSection("batch", entry, []))
        while self.open and self.open[-1].indent >= indent:
            self.open.pop()
        above = self.open[-1] if self.open else None
        if above is None:
            self.sections[-1].lines.append(entry)
        elif self._holds(above):
            above.block.append(entry)
        else:
            above.tokens += tokens
            above.comment = above.comment or comment
            return
        self.open.append(entry)

    def _holds(self, entry: RecordEntry) -> bool:
        if entry.word in _OPENS:
            return True
        section = self.sections[-1]
        return section.name == "results" and any(entry is line for line in section.lines)

    def _heading(self, entry: RecordEntry) -> None:
        self.open = []
        name = entry.word
        if name in SECTIONS and (name == "batch" or len(entry.tokens) == 1):
            if any(section.name == name for section in self.sections):
                self.say(
                    entry.first,
                    say("The section {name} is there twice.", name=name),
                    "Put its lines together; both are read.",
                )
            self.sections.append(RecordSection(name, entry, []))
            return
        meant = near(name, list(SECTIONS))
        hint = say("Sections are {known}.", known=", ".join(SECTIONS))
        if meant:
            hint = say("Did you mean “{meant}”?", meant=meant)
        self.say(
            entry.first,
            say("“{name}” is at the margin, where a section begins.", name=name[:40]),
            say("{hint} Other lines are indented.", hint=hint),
        )
        if meant:
            self.sections.append(RecordSection(meant, entry, []))

    def of(self, name: str) -> Iterator[RecordEntry]:
        """The lines of every section of that name."""
        for section in self.sections:
            if section.name == name:
                yield from section.lines


def unknown(reader: RecordReader, token: Token, known: list[str], what: str) -> None:
    """Say that a word begins no line there, with the nearest that does."""
    word = token.text.rstrip(": \t")
    meant = near(word, known)
    hint = say("Lines there begin with {known}.", known=", ".join(known))
    if meant:
        hint = say("Did you mean “{meant}”?", meant=meant)
    reader.say(
        token, say("I do not know the line “{word}” of {what}.", word=word[:40], what=what), hint
    )


def below(reader: RecordReader, entry: RecordEntry) -> None:
    """Say of lines below a line that holds none."""
    for line in entry.block:
        reader.say(line.first, say("Nothing can be below {word}.", word=entry.word), LINE)


def once(
    reader: RecordReader, lines: list[RecordEntry], *often: str, of_each: tuple[str, ...] = ()
) -> None:
    """Say of a line that is there twice, since only one of the two can count.

    Lines that begin with one of ``often`` may be there more than once, and those of
    ``of_each`` once for each thing that they name. A blank is no second one.
    """
    seen: set[str] = set()
    for line in lines:
        rest = line.tokens[1:]
        if line.word in often or not rest or rest[0].kind == "BLANK":
            continue
        what = f"{line.word} {rest[0].text}" if line.word in of_each else line.word
        if what in seen:
            reader.say(
                line.first, say("{what} is there twice.", what=what[:40]), "Keep one of the two."
            )
        seen.add(what)
