"""Lines to a tree: sections, blocks by indentation, and every fault on the way."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.findings import Count, Says, Word, say
from procedure.language.by_node import may_come_again
from procedure.language.equal_lines import LONG
from procedure.language.everyday_order import heads
from procedure.language.kept_lines import Lines, Part, Said
from procedure.language.one_line import BLOCKS, SCANNERS, LineReader, opens, refused
from procedure.language.parsing import Refusal
from procedure.language.tree import UNNAMED, Fault, Line, Node, SaidOf, Section, Token, Tree
from procedure.language.words import (
    HEADER_WORDS,
    SECTIONS,
    Scanner,
    heading_words,
)
from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary import near, vocabulary

LONGEST_LINE = 4000
DEEPEST = 20
MOST_FAULTS = 1000
# Lines that one step or declaration may go on for.
MOST_LINES = 4000
TAB = 4
# A first line of so many words, before any heading, is prose.
PROSE_FROM = 2

# What people write before a colon that is no name, and what to write for it.
_NO_LABELS = {
    **dict.fromkeys(
        ("optional", "optionally", "if-you-like", "if-wanted"),
        'Put it below a line such as: if "a darker colour is wanted".',
    ),
    **dict.fromkeys(
        ("note", "tip", "warning", "caution", "important", "remember"),
        'Put words for the reader after a step: “note "turn it gently"”.',
    ),
}
# How a heading among the steps begins: day, week, part, stage, phase, session, morning, evening.
_HEADS_OF_STEPS = frozenset(("day ", "week", "part", "stag", "phas", "sess", "morn", "even"))
# What people put in front of the lines of a list.
_LIST_MARK = r"\s+([-*•–—]|\d{1,2}[.)]|[Ss]tep \d{1,2}[.):]?)(?=\s+[^\W\d])"


def read(text: str, lines: Lines | None = None) -> Tree:
    """Read a whole text. Every faulty line is in the tree's faults; reading never stops.

    With ``lines`` those that have not changed are not read again; their nodes are the same.

    Windows and old Macintosh line ends, a byte-order mark and a missing last
    newline make no difference.
    """
    if lines is not None:
        lines.turn()
    return _Reader(text, lines).tree


class _Reader(LineReader):
    """One reading: the sections so far, the lines open above the present one."""

    def __init__(self, text: str, kept: Lines | None = None) -> None:
        text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        lines = text.split("\n")
        super().__init__(lines, kept)
        self.said_of: list[SaidOf] = []
        # The lines that a deeper one may continue or be under: indentation and line.
        self.open: list[tuple[int, Line | None]] = []
        self.pending_indent = 0
        self.too_deep = False
        self.prose = False
        self.told_of_margin = False
        self.told_beside = False
        # The sections without a heading, once they are looked for, and those told of.
        self.lacking: tuple[str, ...] | None = None
        self.told_of_headings: set[str] = set()
        # The last line at the margin that is no heading that is known, with what is said of it.
        self.stray: tuple[str, Fault] | None = None
        # How far the lines of this section are indented; nought before the first of them.
        self.usual = 0
        self.told_of_marks = False
        self.told_of_parts = False
        self.given_up = False
        # The first declaration without a name and a colon in front.
        self.unnamed: Fault | None = None
        # The first word of what goes on for too many lines, once that is told.
        self.told_of_length: Token | None = None
        # Blocks whose steps are not indented, which were told of.
        self.told_of_blocks: set[int] = set()
        if all(f"\n{name}" in text for name in SECTIONS):
            self.lacking = ()
        may_come_again(kept is not None or len(lines) < LONG)
        for number, raw in enumerate(lines, 1):
            stripped = raw.strip()
            if stripped and stripped[0] != "#":
                if len(self.faults) > MOST_FAULTS:
                    self.give_up(number)
                    break
                self.take(raw, number)
        self.finish()
        self.tree = Tree(self.sections, self.faults, len(lines), self.said_of)

    def give_up(self, number: int) -> None:
        """Say that the text is read no further: nobody puts right so much of it at once."""
        self.pending = []
        if self.given_up:
            return
        self.given_up = True
        sentence = (
            "More than {most} places above cannot be read. The rest of the text was not read."
        )
        said = say(sentence, most=Count(Fraction(MOST_FAULTS)))
        self.fault(number, 1, 2, said, Says("Put those right first."))

    def take(self, raw: str, number: int) -> None:
        """One line of text that is neither blank nor a comment."""
        if len(raw) > LONGEST_LINE:
            said = say(
                "This line is {long} characters long; {most} is the most.",
                long=Count(Fraction(len(raw))),
                most=Count(Fraction(LONGEST_LINE)),
            )
            self.fault(number, 1, 2, said, Says("Break it into shorter lines."))
            return
        if _seems_doubled(raw) and not self.prose:
            from procedure.language.doubled import without_doubled

            raw, doubled = without_doubled(raw, number)
            self.faults += doubled
        margin = raw[: len(raw) - len(raw.lstrip())]
        indent = len(margin.expandtabs(TAB)) if margin else 0
        if indent == 0:
            self.finish()
            self.heading(raw, number)
            return
        if self.prose:
            return
        if not self.sections:
            self.finish()
            self.sections.append(Section("procedure", Token("PROCEDURE", "", number, 1), None, []))
        if self.is_inner_heading(raw.strip().rstrip(":").rstrip().lower()):
            self.finish()
            self.inner_heading(raw, number)
            return
        self.usual = self.usual or indent
        raw = self.unmarked(raw, number)
        raw = self.unheaded(raw, number, indent)
        if not raw:
            self.finish()
            return
        _, scanner = SCANNERS[self.sections[-1].name]
        if self.pending and indent > self.pending_indent and not opens(self.pending):
            self.go_on(scanner, raw, number)
            return
        self.finish()
        if self.lacking != () and self.begun_without_heading(raw, number):
            self.usual = indent
            _, scanner = SCANNERS[self.sections[-1].name]
        tokens = self.scanned(scanner, raw, number)
        if not tokens:
            return  # "steps" with nothing but a separator of lines behind it
        self.pending = tokens
        self.raws = ((number, raw),)
        self.pending_indent = indent

    def go_on(self, scanner: Scanner, raw: str, number: int) -> None:
        """A deeper line, which goes on with the one above."""
        if len(self.raws) < MOST_LINES:
            more = self.scanned(scanner, raw, number)
            if len(self.raws) == 1:
                self.pending = [*self.pending]  # those of the first line may be kept elsewhere
            self.pending += more
            self.raws = (*self.raws, (number, raw))
            return
        first = self.pending[0]
        if self.told_of_length is not first:
            self.told_of_length = first
            said = say(
                "This goes on for more than {most} lines. The rest of them was not read.",
                most=Count(Fraction(MOST_LINES)),
            )
            self.fault(first.line, first.column, first.to, said, Says("Make several of it."))

    def is_inner_heading(self, said: str) -> bool:
        """True for a heading that is indented, where it stands nowhere at the margin."""
        here = self.sections[-1].name
        return said in SECTIONS and (here == "procedure" or said in self.headings_lacking())

    def inner_heading(self, raw: str, number: int) -> None:
        """A heading that stands below the title, as if it belonged to it: told, and read."""
        said = raw.strip()
        column = len(raw) - len(raw.lstrip()) + 1
        sentence = say("“{heading}” is a heading, and is below another.", heading=said)
        self.fault(number, column, column + len(said), sentence, Says("Begin it at the margin."))
        self.told_of_headings.add(said.rstrip(": ").lower())
        self.heading(said, number)

    def unmarked(self, raw: str, number: int) -> str:
        """A line without the mark of a list in front, which is told of once; its width stays."""
        begun = raw.lstrip()[0]
        numbered = begun.isdigit() or raw.lstrip()[:5] in ("step ", "Step ")
        found = pattern(_LIST_MARK).match(raw) if begun in "-*•–—" or numbered else None
        if found is None or self.sections[-1].name == "procedure":
            return raw
        if not self.told_of_marks:
            self.told_of_marks = True
            at, to = found.start(1) + 1, found.end(1) + 1
            sentence = Says("The lines of a list have no mark or number: their order is the order.")
            remedy = say("Take “{mark}” away, and so below.", mark=found[1])
            self.fault(number, at, to, sentence, remedy)
        return raw[: found.start(1)] + " " * len(found[1]) + raw[found.end(1) :]

    def unheaded(self, raw: str, number: int, indent: int) -> str:
        """A line of steps without the “Day 2:” in front, which is told of once; empty where no
        more is in it."""
        if self.sections[-1].name != "steps" or not may_head_steps(raw):
            return raw
        from procedure.language.heads_of_steps import headed

        goes_on = bool(self.pending) and indent > self.pending_indent and not opens(self.pending)
        found = headed(raw, number, self.lines[number:], goes_on)
        if found is None:
            return raw
        remedy = _NO_LABELS.get("-".join(raw.strip().rstrip(": ").lower().split()))
        if remedy is not None:
            self.faults.append(found.fault._replace(remedy=Says(remedy)))
        elif not self.told_of_parts:
            self.told_of_parts = True
            self.faults.append(found.fault)
        return found.rest

    def of_a_list(self, raw: str, number: int) -> bool:
        """Read a line at the margin that begins with the mark of a list; it is told of once."""
        begun = raw[0] in "-*•–—" or raw[0].isdigit()
        found = re.match(_LIST_MARK.removeprefix(r"\s+"), raw) if begun else None
        if found is None or not self.sections or self.sections[-1].name == "procedure":
            return False
        if self.numbers_a_heading(raw[found.end() :], number):
            return False
        blank = self.unmarked(f" {raw}", number)[1:]
        if self.told_of_marks and self.faults and self.faults[-1].line == number:
            fault = self.faults[-1]
            self.faults[-1] = fault._replace(column=fault.column - 1, to=fault.to - 1)
        self.told_of_margin = True
        self.indented(blank, number)
        return True

    def numbers_a_heading(self, said: str, number: int) -> bool:
        """True for “1. Materials” at the margin: a heading, or words with deeper lines below."""
        words = said.lower().rstrip(": ").split()
        if len(words) == 1:
            meant = _heading_meant(heading_words(words[0], number))
            name = words[0] if words[0] in SECTIONS else meant
            return bool(name) and name != self.sections[-1].name
        here = next((line for line in self.lines[number:] if line.strip()), "")
        before = next((line for line in self.lines[number - 2 :: -1] if line.strip()), "")
        declares = self.sections[-1].name != "steps" and not self.told_of_margin
        return declares and here[:1].isspace() and before[:1].isspace() and ":" not in said

    def heading(self, raw: str, number: int) -> None:
        if self.of_a_list(raw, number):
            return
        tokens = heading_words(raw, number)
        first, beside = tokens[0], ""
        if first.kind == "PROCEDURE":
            name, start = "procedure", "title"
        elif first.kind == "SECTION":
            name, start = first.word.rstrip(":").rstrip(), "section"
            tokens, beside = self.alone(raw, number, tokens, name)
        elif _is_title(tokens):
            name, start = "procedure", "title"
            sentence = say(
                "A procedure begins with “procedure”, not with “{word}”.", word=first.text
            )
            remedy = say("Write: procedure {title}.", title=tokens[1].text)
            wrong = Fault(number, first.column, first.to, sentence, remedy, first.text, "procedure")
            self.faults.append(wrong)
            tokens = [first._replace(kind="PROCEDURE"), *tokens[1:]]
        elif not self.sections and (titled := self.untitled(raw, number, tokens)) is not None:
            name, start, tokens = "procedure", "title", titled
            if not tokens:
                return
        elif self.without_heading(tokens):
            self.indented(raw, number)
            return
        elif self.begun_at_margin(tokens):
            self.told_of_margin = True
            self.indented(raw, number)
            return
        else:
            self.stray_heading(tokens, raw)
            return
        self.usual = 0
        if start == "title":
            tokens = self.titled(raw, number, tokens)
        found = self.parsed(start, tokens)
        self.sections.append(Section(name, first, found, []))
        self.open = []
        self.prose = False
        if beside:
            self.indented(beside, number)

    def titled(self, raw: str, number: int, tokens: list[Token]) -> list[Token]:
        """The title as it is meant, where its quotation marks are not as they should be."""
        if [token.kind for token in tokens] == ["PROCEDURE", "STRING"]:
            return tokens
        from procedure.language.titles import no_title

        fault = no_title(raw, number)
        if fault is None:
            return tokens
        self.faults.append(fault)
        return heading_words(fault.meant, number)

    def untitled(self, raw: str, number: int, tokens: list[Token]) -> list[Token] | None:
        """The title that a first line means; nothing where it is told of, None for other lines."""
        from procedure.language import titles

        first, below = tokens[0].text.rstrip(": ").lower(), self.lines[number:]
        if self.prose:
            return None
        if first in HEADER_WORDS and tokens[1:] and tokens[1].kind in ("STRING", "DATE"):
            self.sections.append(Section("procedure", Token("PROCEDURE", "", number, 1), None, []))
            return None
        alone = first != "procedure" and near(first, ["procedure", *SECTIONS]) is not None
        if alone or _heading_meant(tokens):
            return None
        if titles.begins_a_procedure(below):
            self.prose = True
            self.faults.append(titles.above_the_title(raw, number))
            return []
        if first != "procedure" and not titles.has_sections(below):
            return None
        titled = self.titled(raw, number, tokens)
        if titled is not tokens:
            return titled
        self.faults.append(titles.prose_above(tokens[0]))
        self.sections.append(Section("procedure", tokens[0], None, []))
        return []

    def alone(
        self, raw: str, number: int, tokens: list[Token], name: str
    ) -> tuple[list[Token], str]:
        """A heading without the words after it, which are told of; and the line of what they
        declare or do, where they do."""
        if len(tokens) == 1:
            return tokens, ""
        from procedure.language.titles import heading_alone

        fault = heading_alone(raw, number, tokens, name)
        if fault.meant or not self.told_beside:
            self.faults.append(fault)
        if fault.meant:
            return tokens[:1], ""
        self.told_beside = True
        begun = tokens[1].column - 1
        return tokens[:1], " " * begun + raw.partition("#")[0][begun:].rstrip()

    def stray_heading(self, tokens: list[Token], raw: str) -> None:
        """A line at the margin that is no section: a misspelt one, or a lost indentation."""
        first = tokens[0]
        meant = _heading_meant(tokens)
        if meant:
            from procedure.language.titles import heading_called

            self.faults.append(heading_called(raw, first.line, meant))
            self.sections.append(Section(meant, first, None, []))
            self.open = []
            self.prose = False
            return
        if self.prose or self.told_of_prose(tokens):
            return
        if len(tokens) > 1 or tokens[0].kind != "WORD":
            expected = frozenset(("PROCEDURE", "SECTION"))
        else:
            expected = frozenset(("SECTION",))
        fault = self.note(raw, tokens) or refused(Refusal(0, expected), tokens, "section")
        self.faults.append(fault)
        self.stray = (raw, fault)
        for name in ("procedure", *SECTIONS):
            begun = ("meant", Word(name)) in fault.remedy.values
            if begun and (name != "procedure" or not self.sections):
                self.sections.append(Section(name, tokens[0], None, []))
                self.open = []

    def without_heading(self, tokens: list[Token]) -> bool:
        """Begin the section of a line at the margin whose heading is missing; it is told once."""
        if not self.sections or self.prose or (len(tokens) == 1 and not self.one_word(tokens[0])):
            return False
        here = self.sections[-1].name
        if not self.told_of_headings and (here == "steps" or _lost_from(here, tokens[0])):
            return self.lacking != () and self.begun_in_place_of(tokens)
        from procedure.language.without_headings import section_of

        name = section_of(tokens)
        if not name or (tokens[0].kind != "LABEL" and self.deeper_below(tokens[0].line)):
            return False
        if name != here:
            self.begin_without_heading(name, tokens[0])
            self.told_of_margin = True
        return True

    def deeper_below(self, number: int) -> bool:
        """True for a line with deeper lines below it, as a heading has, and no declaration."""
        below = next((line for line in self.lines[number:] if line.strip()), "")
        return below[:1].isspace()

    def one_word(self, token: Token) -> bool:
        """True for a material alone on its line, in a text that has no headings."""
        known = vocabulary().material(token.word.lower())
        return bool(self.told_of_headings) and known is not None and _heading_meant([token]) == ""

    def begun_without_heading(self, raw: str, number: int) -> bool:
        """Begin the section of an indented line whose heading is missing."""
        if self.open and self.open[0][0] > 0:
            return False
        return self.begun_in_place_of(heading_words(raw, number))

    def begun_in_place_of(self, tokens: list[Token]) -> bool:
        """Begin the section that a line is one of, and not of the one above, by its words."""
        from procedure.language.without_headings import begins

        name = begins(tokens, self.sections[-1].name, self.headings_lacking())
        if name:
            self.begin_without_heading(name, tokens[0])
        return bool(name)

    def headings_lacking(self) -> tuple[str, ...]:
        """The sections that have no heading in the whole text."""
        if self.lacking is None:
            from procedure.language.without_headings import without

            self.lacking = without(self.lines)
        return self.lacking

    def begin_without_heading(self, name: str, first: Token) -> None:
        """Go on in the section that a line belongs to; that its heading is missing is told."""
        lacking = len(self.headings_lacking())
        told = self.told_of_headings
        if self.stray is not None and self.stray[1] is self.faults[-1] and name not in told:
            from procedure.language.titles import heading_called

            raw, fault = self.stray  # it is the heading, by another name
            self.faults[-1] = heading_called(raw, fault.line, name)
        elif name not in told and (lacking < len(SECTIONS) or not told):
            from procedure.language.without_headings import no_heading

            self.faults.append(no_heading(first, name, lacking))
        told.add(name)
        begun = [one for one in self.sections if one.name == name]
        self.sections = [one for one in self.sections if one.name != name]
        self.sections += begun or [Section(name, first, None, [])]
        self.open = []
        self.usual = 0

    def begun_at_margin(self, tokens: list[Token]) -> bool:
        """True for a line that lost its indentation; told once, for it is one mistake."""
        first = tokens[0]
        here = self.sections[-1].name if self.sections else ""
        # A heading that is misspelt is no line that lost its place.
        if not here or len(tokens) == 1:
            return False
        lost = _lost_from(here, first)
        if lost and not self.told_of_margin:
            said = first.text.rstrip(": ")
            sentence = say("“{word}” is at the margin, where only headings are.", word=said)
            block = self.unfilled(0) if self.open and self.open[0][0] else None
            remedy = (
                say(
                    "Indent what belongs to “{block}”: begin its lines two blanks deeper.",
                    block=block.opens,
                )
                if block is not None
                else Says(
                    "Indent what belongs to a heading: begin each of its lines with two blanks."
                )
            )
            self.fault(first.line, first.column, first.to, sentence, remedy)
        return lost

    def indented(self, raw: str, number: int) -> None:
        """Read a line that lost its indentation as if it had it, so that nothing else is amiss."""
        _, scanner = SCANNERS[self.sections[-1].name]
        tokens = self.scanned(scanner, raw, number)
        if not tokens:
            return  # "steps" with nothing but a separator of lines behind it
        self.pending = tokens
        self.raws = ((number, raw),)
        if self.open and self.open[0][0] > 0 and not opens(self.pending):
            return  # it belongs where the line above it does
        if self.unfilled(0) is not None and self.pending[0].kind != "OR":
            self.pending_indent = 1  # what a block at the margin holds
            return
        beside = not self.open and self.pending_indent not in (0, LONGEST_LINE)
        self.open = []
        # A block it may open; what is deeper than the lines above it continues it.
        deep = self.pending_indent if beside else LONGEST_LINE
        self.pending_indent = self.usual if opens(self.pending) else deep

    def told_of_prose(self, tokens: list[Token]) -> bool:
        """Tell of a text in prose, and nothing more."""
        first = tokens[0]
        if self.sections or len(tokens) < PROSE_FROM or near(first.text, ["procedure", *SECTIONS]):
            return False
        self.prose = True
        sentence = Says("This is prose, and not yet a procedure: it has no title and no sections.")
        remedy = Says('Begin it with a line such as: procedure "Golden onion skins".')
        self.fault(first.line, first.column, first.to, sentence, remedy)
        return True

    def finish(self) -> None:
        """Close the pending line: parse it and hang it where its indentation says."""
        tokens, self.pending = self.pending, []
        if not tokens:
            return
        section = self.sections[-1]
        start, _ = SCANNERS[section.name]
        said = self.said(start, tokens)
        if len(self.raws) > 1 and self.in_two(said):
            return
        if all(part.node is not None for part in said.parts):
            self.said_of += said.of_things
        self.called.declare(section.name, said.described)
        if start == "step":
            self.label_of_no_bath(tokens)
        hung: list[Line | None] = []
        for part in said.parts:
            hung.append(self.hang(section, part, hung[part.under] if part.under >= 0 else None))
        for token in said.labels:
            self.called.last = (self.called.make(token),)
            self.called.hold(token.name)
        for part in said.parts:
            if part.opens == "for" and part.node is not None:
                self.called.make(_variable(part.node))

    def in_two(self, said: Said) -> bool:
        """Read a line that is indented as if it went on with the one above for itself.

        It is told of, and True is the answer; False where the lines belong together.
        """
        raws, indent = self.raws, self.pending_indent
        found = _anew(said, raws)
        if found is None:
            return False
        while found is not None:
            self.faults.append(found)
            if len(self.faults) > MOST_FAULTS:
                self.give_up(found.line)
                return True
            above = sum(one[0] < found.line for one in raws)
            self.close(raws[:above], indent)
            raws = raws[above:]
            found = self.next_anew(raws)
        self.close(raws, indent)
        return True

    def next_anew(self, raws: tuple[tuple[int, str], ...]) -> Fault | None:
        """What is told of the next of some lines that begins anew.

        It is looked for in a few lines, then in twice as many: where each of a thousand begins
        anew, the rest is not read again for each.
        """
        start, _ = SCANNERS[self.sections[-1].name]
        count = 1
        while count < len(raws):
            count *= 2
            self.raws = raws[:count]
            if (found := _anew(self.said(start, self.again(self.raws)), self.raws)) is not None:
                return found
        return None

    def close(self, raws: tuple[tuple[int, str], ...], indent: int) -> None:
        """Finish some lines as one."""
        self.raws, self.pending_indent = raws, indent
        self.pending = self.again(raws)
        self.finish()

    def label_of_no_bath(self, tokens: list[Token]) -> None:
        """Tell of “optional:” and its like, which would be the name of a step and say nothing."""
        first = tokens[0]
        remedy = _NO_LABELS.get(first.name.lower()) if first.kind == "LABEL" else None
        if remedy is not None:
            said = say("“{word}” is read as the name of a step here.", word=first.name)
            self.fault(first.line, first.column, first.to, said, Says(remedy))

    def hang(self, section: Section, part: Part, block: Line | None = None) -> Line | None:
        """Put a part of a line into the block that it belongs to, or into ``block``."""
        self.faults += self.told_once(section, part)
        line = Line(part.node, part.first, part.opens, part.said)
        if part.node is None:
            line.names = (*part.names, *self.called.last)
            line.written = part.written
        place = block.block if block is not None else self.place(section, part.first)
        if place is None:
            return None
        place.append(line)
        if part.opens and block is None:
            self.open.append((self.pending_indent, line))
        return line

    def told_once(self, section: Section, part: Part) -> tuple[Fault, ...]:
        """The faults of a part; that what is declared has no name in front is told once.

        The first such line shows how all are written.
        """
        faults = part.faults
        if part.node is not None or section.name in ("procedure", "steps") or len(faults) != 1:
            return faults
        if faults[0].sentence != UNNAMED:
            return faults
        first = self.unnamed
        if first is None:
            self.unnamed = faults[0]
            return faults
        if first in self.faults:
            said = Says(
                first.remedy.template
                + " Write each line below that has no name in front in the same way.",
                first.remedy.values,
            )
            self.faults[self.faults.index(first)] = first._replace(remedy=said)
        return ()

    def unfilled(self, least: int) -> Line | None:
        """The block above that has nothing in it yet, if its indentation is so much or more."""
        if not self.open or self.open[-1][0] < least:
            return None
        line = self.open[-1][1]
        return line if line is not None and line.opens and not line.block else None

    def unindented(self, section: Section, first: Token) -> bool:
        """True for a line that is no deeper than a block with nothing in it: it is the block's.

        It is told once for the ways of one choice.
        """
        block = self.unfilled(self.pending_indent)
        if block is None or block.node is None or first.kind == "OR":
            return False
        if self.open[-1][0] != self.pending_indent or self.pending_indent == 0:
            return False
        above = self.open[-2][1] if len(self.open) > 1 else None
        beside = section.lines if above is None else above.block
        at = beside.index(block)
        told = block.opens == "or" and at > 0 and id(beside[at - 1]) in self.told_of_blocks
        self.told_of_blocks.add(id(block))
        if not told and not self.told_of_margin:
            from procedure.language.faults import nothing_below

            self.faults.append(nothing_below(block))
        return True

    def place(self, section: Section, first: Token) -> list[Line] | None:
        """The block that a line of the pending indentation belongs to."""
        indent = self.pending_indent
        if not self.unindented(section, first):
            while self.open and indent <= self.open[-1][0]:
                self.open.pop()
        if len(self.open) >= DEEPEST:
            if not self.too_deep:
                sentence = say(
                    "Blocks are inside one another more than {most} deep here.",
                    most=Count(Fraction(DEEPEST)),
                )
                remedy = Says("Put the inner steps into a file of their own and follow it.")
                self.fault(first.line, first.column, first.to, sentence, remedy)
            self.too_deep = True
            return None
        self.too_deep = False
        above = self.open[-1][1] if self.open else None
        return section.lines if above is None else above.block


def _anew(said: Said, raws: tuple[tuple[int, str], ...]) -> Fault | None:
    """The fault of a line that is indented as if it went on with the one above; None for none."""
    faults = [fault for part in said.parts for fault in part.faults]
    if not faults:
        return None
    from procedure.language.guessing import begins_anew

    return next((fault for fault in faults if begins_anew(fault, raws)), None)


def _lost_from(section: str, first: Token) -> bool:
    """True where a line at the margin may be one of that section, by its first word."""
    if section == "steps":
        word = first.text.lower()
        return first.kind == "LABEL" or word in heads() or word in BLOCKS.values()
    if section == "procedure":
        return first.text.rstrip(":").lower() in HEADER_WORDS
    return first.kind == "LABEL"


def may_head_steps(raw: str) -> bool:
    """True for a line that may be a heading among the steps: “Day 2”, “Mordanting:”."""
    said = raw.strip()
    return said[-1:] == ":" or said[:4].lower() in _HEADS_OF_STEPS


def _seems_doubled(raw: str) -> bool:
    """True where a line may hold a word twice over; it is looked at closely only then."""
    words = raw.replace(",", " ").split()  # a comma stands twice in most lists
    if len(set(words)) == len(words):
        return False
    return any(map(str.__eq__, words, words[1:])) or any(map(str.__eq__, words, words[2:]))


def _is_title(tokens: list[Token]) -> bool:
    """True for a first line such as: recipe "Golden onion skins"."""
    words = ("recipe", "title", "project", "name", "dye", "pattern")
    kinds = [token.kind for token in tokens]
    return kinds in (["WORD", "STRING"], ["LABEL", "STRING"]) and (
        tokens[0].text.rstrip(": ").lower() in words
    )


def _heading_meant(tokens: list[Token]) -> str:
    """The section that a heading of another name means; empty where none is known."""
    from procedure.language.mistakes import HEADINGS

    return HEADINGS.get(tokens[0].text.rstrip(": ").lower(), "") if len(tokens) == 1 else ""


def _variable(each: Node) -> Token:
    """The new name of “for each skein in gold, moss”."""
    return next(one for one in each.children if isinstance(one, Token) and one.kind == "NAME")
