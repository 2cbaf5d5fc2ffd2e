"""Lines to a tree: sections, blocks by indentation, and every fault on the way."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from procedure.findings import Count, Says, Word, say
from procedure.language.by_node import may_come_again
from procedure.language.called import Called
from procedure.language.chained import chained
from procedure.language.clauses_unsaid import (
    may_be_short,
    short_in_declaration,
    with_clauses,
    without_particle,
)
from procedure.language.equal_lines import LONG, EqualLines, Read
from procedure.language.everyday_order import heads, in_plain_order, slip_behind_to
from procedure.language.kept_lines import Held, Lines, Part, Said
from procedure.language.parsing import Refusal, parse
from procedure.language.same_shape import PlainShapes, shape_of
from procedure.language.table import table
from procedure.language.tree import Fault, Line, Node, SaidOf, Section, Token, Tree, written_as
from procedure.language.turns import described, plainly, rounds
from procedure.language.words import (
    HEADER_WORDS,
    SECTIONS,
    Scanner,
    declaration_words,
    header_words,
    heading_words,
    step_words,
)
from procedure.vocabulary import near

LONGEST_LINE = 4000
LONGEST_NAME = 60
DEEPEST = 20
MOST_FAULTS = 1000
# Lines that one step or declaration may go on for.
MOST_LINES = 4000
# In a text with so many faulty lines nobody looks at what the others say.
MOST_GUESSED = 50
# Words of a step that may be said in everyday words; the longest that people wrote had forty.
MOST_EVERYDAY_WORDS = 400
TAB = 4
# A first line of so many words, before any heading, is prose.
PROSE_FROM = 2

_BLOCKS = {word: word.lower() for word in ("REPEAT", "IF", "FOR", "EITHER", "OR", "MEANWHILE")}
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
# What people put in front of the lines of a list.
_LIST_MARK = r"\s+([-*•–—]|\d{1,2}[.)])(?=\s+[^\W\d])"
_SCANNERS: dict[str, tuple[str, Scanner]] = {
    "procedure": ("header", header_words),
    "fibre": ("declaration", declaration_words),
    "equipment": ("declaration", declaration_words),
    "materials": ("declaration", declaration_words),
    "steps": ("step", step_words),
}
_START = {scanner: start for start, scanner in _SCANNERS.values()}
_EQUAL = EqualLines()
_PLAIN = PlainShapes()


def read(text: str, lines: Lines | None = None) -> Tree:
    """Read a whole text. Every faulty line is in the tree's faults; reading never stops.

    With ``lines`` those that have not changed are not read again; their nodes are the same.

    Windows and old Macintosh line ends, a byte-order mark and a missing last
    newline make no difference.
    """
    if lines is not None:
        lines.turn()
    return _Reader(text, lines).tree


class _Reader:
    """One reading: the sections so far, the lines open above the present one."""

    def __init__(self, text: str, kept: Lines | None = None) -> None:
        self.table = table()
        self.kept = kept
        # The pending line and those that continue it, as they were written.
        self.raws: tuple[tuple[int, str], ...] = ()
        self.sections: list[Section] = []
        self.said_of: list[SaidOf] = []
        self.faults: list[Fault] = []
        # The lines that a deeper one may continue or be under: indentation and line.
        self.open: list[tuple[int, Line | None]] = []
        self.pending: list[Token] = []
        self.pending_indent = 0
        self.too_deep = False
        self.prose = False
        self.called = Called(None if kept is None else kept.once)
        # What is kept of the line that is finished now.
        self.held = Held()
        # The one step that a line says, in plain words; empty where it says more.
        self.plain_already: list[Token] = []
        # What is known of a line that is written as one before it.
        self.equal: Read | None = None
        self.told_of_margin = False
        # The sections without a heading, once they are looked for, and those told of.
        self.lacking: tuple[str, ...] | None = None
        self.told_of_headings: set[str] = set()
        # The last line at the margin that is no heading that is known, with what is said of it.
        self.stray: tuple[str, Fault] | None = None
        # How far the lines of this section are indented; nought before the first of them.
        self.usual = 0
        self.told_of_marks = False
        self.given_up = False
        # The first word of what goes on for too many lines, once that is told.
        self.told_of_length: Token | None = None
        # Blocks whose steps are not indented, which were told of.
        self.told_of_blocks: set[int] = set()
        text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        lines = text.split("\n")
        if all(f"\n{name}" in text for name in SECTIONS):
            self.lacking = ()
        self.lines = lines
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
        _, scanner = _SCANNERS[self.sections[-1].name]
        if self.pending and indent > self.pending_indent and not _opens(self.pending):
            self.go_on(scanner, raw, number)
            return
        self.finish()
        if self.lacking != () and self.begun_without_heading(raw, number):
            self.usual = indent
            _, scanner = _SCANNERS[self.sections[-1].name]
        self.pending = self.scanned(scanner, raw, number)
        self.raws = ((number, raw),)
        self.pending_indent = indent

    def go_on(self, scanner: Scanner, raw: str, number: int) -> None:
        """A deeper line, which goes on with the one above."""
        if len(self.raws) < MOST_LINES:
            self.pending = [*self.pending, *self.scanned(scanner, raw, number)]
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
        found = re.match(_LIST_MARK, raw) if begun in "-*•–—" or begun.isdigit() else None
        if found is None or self.sections[-1].name == "procedure":
            return raw
        if not self.told_of_marks:
            self.told_of_marks = True
            at, to = found.start(1) + 1, found.end(1) + 1
            sentence = Says("The lines of a list have no mark or number: their order is the order.")
            remedy = say("Take “{mark}” away, and so below.", mark=found[1])
            self.fault(number, at, to, sentence, remedy)
        return raw[: found.start(1)] + " " * len(found[1]) + raw[found.end(1) :]

    def scanned(self, scanner: Scanner, raw: str, number: int) -> list[Token]:
        """The tokens of a line that continues the pending one, if any."""
        before = self.pending
        if self.kept is None:
            self.equal = None if before else self.equal_to(_START[scanner], raw, number)
            return scanner(raw, number, before) if self.equal is None else self.equal.tokens
        key = (scanner, raw, number, before[-1].kind if before else "")
        tokens: list[Token] = self.kept.once(key, lambda: scanner(raw, number, before))
        return tokens

    def fault(self, line: int, column: int, to: int, sentence: Says, remedy: Says) -> None:
        self.faults.append(Fault(line, column, to, sentence, remedy))

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
        first = tokens[0]
        if first.kind == "PROCEDURE":
            name, start = "procedure", "title"
        elif first.kind == "SECTION":
            name, start = first.word.rstrip(":").rstrip(), "section"
            tokens = self.alone(raw, number, tokens, name)
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

    def alone(self, raw: str, number: int, tokens: list[Token], name: str) -> list[Token]:
        """A heading without the words after it, which are told of where they say nothing."""
        if len(tokens) == 1:
            return tokens
        from procedure.language.titles import heading_alone

        fault = heading_alone(raw, number, tokens, name)
        if fault is None:
            return tokens
        self.faults.append(fault)
        return tokens[:1]

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
        fault = self.note(raw, tokens) or _refused(Refusal(0, expected), tokens, "section")
        self.faults.append(fault)
        self.stray = (raw, fault)
        for name in ("procedure", *SECTIONS):
            begun = ("meant", Word(name)) in fault.remedy.values
            if begun and (name != "procedure" or not self.sections):
                self.sections.append(Section(name, tokens[0], None, []))
                self.open = []

    def note(self, raw: str, tokens: list[Token]) -> Fault | None:
        """The fault of a sentence below the title; None for anything else."""
        if not self.sections or self.sections[-1].name != "procedure":
            return None
        if raw != self.lines[tokens[0].line - 1]:
            return None  # a word that is written twice is told of first
        from procedure.language.titles import note_meant

        return note_meant(raw, tokens[0].line, tokens)

    def without_heading(self, tokens: list[Token]) -> bool:
        """Begin the section of a line at the margin whose heading is missing; it is told once."""
        if not self.sections or self.prose or len(tokens) == 1:
            return False
        here = self.sections[-1].name
        if not self.told_of_headings and (here == "steps" or _lost_from(here, tokens[0])):
            return self.lacking != () and self.begun_in_place_of(tokens)
        from procedure.language.without_headings import section_of

        name = section_of(tokens)
        if not name:
            return False
        if name != here:
            self.begin_without_heading(name, tokens[0])
            self.told_of_margin = True
        return True

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
        _, scanner = _SCANNERS[self.sections[-1].name]
        self.pending = self.scanned(scanner, raw, number)
        self.raws = ((number, raw),)
        if self.open and self.open[0][0] > 0 and not _opens(self.pending):
            return  # it belongs where the line above it does
        if self.unfilled(0) is not None and self.pending[0].kind != "OR":
            self.pending_indent = 1  # what a block at the margin holds
            return
        beside = not self.open and self.pending_indent not in (0, LONGEST_LINE)
        self.open = []
        # A block it may open; what is deeper than the lines above it continues it.
        deep = self.pending_indent if beside else LONGEST_LINE
        self.pending_indent = self.usual if _opens(self.pending) else deep

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
        start, _ = _SCANNERS[section.name]
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
        start, _ = _SCANNERS[self.sections[-1].name]
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

    def again(self, raws: tuple[tuple[int, str], ...]) -> list[Token]:
        """The tokens of some lines, read for themselves."""
        _, scanner = _SCANNERS[self.sections[-1].name]
        tokens: list[Token] = []
        for number, raw in raws:
            tokens = [*tokens, *scanner(raw, number, tokens)]
        return tokens

    def guessed(self, start: str, fault: Fault) -> Node | None:
        """What a line that cannot be read most likely says, where that is one thing."""
        if start in ("title", "section") or len(self.faults) > MOST_GUESSED:
            return None
        from procedure.language.guessing import in_the_text, likely

        for raws in likely(fault, self.raws):
            tokens = in_the_text(self.again(raws), raws, self.raws)
            if tokens and start == "step":
                tokens = self.in_full(tokens)
                tokens = self.called.in_one_word(plainly(tokens))
                steps = list(chained(tokens, self.called))
                tokens = rounds(self.plain(steps[0]))[1] if len(steps) == 1 else []
            elif start == "declaration":
                tokens = described(tokens)
            found = parse(self.table, start, tokens) if tokens else None
            if isinstance(found, Node):
                return found
        return None

    def said(self, start: str, tokens: list[Token]) -> Said:
        """What a line says, as it was read last where that must be the same."""
        if self.kept is None:
            return self.once_read(start, tokens)
        self.held = self.kept.once((start, self.raws), Held)
        if self.held.said is None or self.held.names is not self.called.state:
            self.held.names = self.called.state
            self.held.said = self.made_of(start, tokens)
        return self.held.said

    def once_read(self, start: str, tokens: list[Token]) -> Said:
        """What a line says, as it was read where the same words stood before."""
        if self.equal is not None and self.equal.tokens is tokens:
            return self.equal.said
        self.called.asked = False
        said = self.made_of(start, tokens)
        if len(self.raws) == 1 and not self.called.asked:
            number, raw = self.raws[0]
            _EQUAL.keep(self.by_sorts(start), raw, number, tokens, said)
        return said

    def equal_to(self, start: str, raw: str, number: int) -> Read | None:
        """What a line was read as where the same words stood before."""
        return _EQUAL.at(self.by_sorts(start), raw, number)

    def by_sorts(self, start: str) -> str:
        """A start symbol; for steps with the words that mean the only thing of a sort."""
        return self.called.sorts() if start == "step" else start

    def made_of(self, start: str, tokens: list[Token]) -> Said:
        """What a line says, by its words and the names of the text so far."""
        if start == "step" and len(tokens) > 1 and tokens[-1].kind == "COLON" and _opens(tokens):
            tokens = tokens[:-1]  # repeat 3 times:
        if start != "step":
            tokens = _described(tokens) if start != "header" else tokens
            return Said((self.part(start, tokens),), (), tuple(tokens))
        if len(tokens) > MOST_EVERYDAY_WORDS:
            return Said((self.at_length(tokens),), _labels(tokens))
        if len(self.raws) > 1:
            return self.in_the_words_of_the_grammar(tokens)
        shape = shape_of(tokens, self.called.only_of_their_sort())
        if shape in _PLAIN:
            return Said((self.part(start, tokens),), _labels(tokens))
        asked, self.called.asked = self.called.asked, False
        said = self.in_the_words_of_the_grammar(tokens)
        if shape and self.plain_already == tokens and not self.called.asked:
            _PLAIN.add(shape)
        self.called.asked |= asked
        return said

    def in_the_words_of_the_grammar(self, written: list[Token]) -> Said:
        """What a step says, everyday words put into those of the grammar."""
        tokens = self.in_full(written)
        if any(token.word == "all" for token in tokens):
            tokens = self.called.all_of_a_sort(tokens)
        tokens = self.called.in_one_word(plainly(tokens))
        of_things: tuple[SaidOf, ...] = ()
        if len(tokens) < len(written):
            from procedure.language.read_over import left_out

            of_things = left_out(written, tokens)
        self.plain_already = []
        parts = tuple(self.steps_of(tokens))
        return Said(parts, _labels(tokens), of_things=of_things)

    def at_length(self, tokens: list[Token]) -> Part:
        """A step that goes on and on, in the words of the language alone: a list of materials."""
        part = self.part("step", tokens)
        if part.node is not None:
            return part
        sentence = say(
            "This step has {long} words and marks; more than {most} are not read as everyday "
            "words.",
            long=Count(Fraction(len(tokens))),
            most=Count(Fraction(MOST_EVERYDAY_WORDS)),
        )
        last = [one for one in tokens if one.line == tokens[0].line][-1]
        remedy = Says("Make several steps of it, each in a line of its own.")
        return part._replace(
            faults=(Fault(tokens[0].line, tokens[0].column, last.to, sentence, remedy),)
        )

    def steps_of(self, tokens: list[Token]) -> Iterator[Part]:
        """The steps of one line, and the blocks that it makes of them."""
        count, block = 0, -1
        if tokens[0].kind == "MEANWHILE" and len(tokens) > 1:
            # “meanwhile rinse silk in tub”: a block of one step, in one line.
            yield self.part("step", tokens[:1])
            count, block = 1, 0
            tokens = tokens[1:]
        if any(token.kind == "TIMES" for token in tokens):
            from procedure.language.in_between import each_time, in_between

            tokens = each_time(tokens)
            if (found := in_between(tokens)) is not None:
                again, step = rounds(in_plain_order(found[0]))
                yield self.part("step", again, block)
                yield self.part("step", step, count)
                yield self.part("step", found[1], count)
                return
        slips: tuple[Fault, ...] = ()
        if (slip := slip_behind_to(tokens, self.called)) is not None:
            from procedure.language.faults import no_verb

            tokens = [slip if one.column == slip.column else one for one in tokens]
            slips = (no_verb(slip),)
        steps = [self.plain(one) for one in chained(tokens, self.called)]
        for one in steps:
            again, step = rounds(one)
            # “rinse yarn twice in tub”: a block of one step, in one line.
            within = block
            if again:
                yield self.part("step", again, block)
                count, within = count + 1, count
            if len(steps) == 1 and not (again or slips):
                self.plain_already = step
            part = self.part("step", step, within)
            if slips:
                part, slips = part._replace(faults=(*slips, *part.faults)), ()
            yield part._replace(said=tuple(one)) if len(steps) > 1 else part
            count += 1

    def in_full(self, tokens: list[Token]) -> list[Token]:
        """The tokens of a step with what is written short in full."""
        if not may_be_short(tokens):
            return without_particle(tokens, self.called)
        from procedure.language.shorthand import spelt_out

        return spelt_out(tokens, self.called)

    def plain(self, tokens: list[Token]) -> list[Token]:
        """One step of a line in the order and with the clauses of the language."""
        return with_clauses(in_plain_order(without_particle(tokens, self.called)))

    def part(self, start: str, tokens: list[Token], under: int = -1) -> Part:
        """A part of a line, parsed."""
        before = len(self.faults)
        node = self.parsed(start, tokens)
        faults = tuple(self.faults[before:])
        del self.faults[before:]
        unread: tuple[str, ...] = ()
        written = ""
        if node is None:
            unread = tuple([one.name for one in tokens if one.kind in ("LABEL", "NAME")])
            written = written_as(tokens, self.raws)
        return Part(tokens[0], _opens(tokens), node, faults, under, names=unread, written=written)

    def label_of_no_bath(self, tokens: list[Token]) -> None:
        """Tell of “optional:” and its like, which would be the name of a step and say nothing."""
        first = tokens[0]
        remedy = _NO_LABELS.get(first.name.lower()) if first.kind == "LABEL" else None
        if remedy is not None:
            said = say("“{word}” is read as the name of a step here.", word=first.name)
            self.fault(first.line, first.column, first.to, said, Says(remedy))

    def hang(self, section: Section, part: Part, block: Line | None = None) -> Line | None:
        """Put a part of a line into the block that it belongs to, or into ``block``."""
        self.faults += part.faults
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

    def parsed(self, start: str, tokens: list[Token]) -> Node | None:
        for token in tokens:
            kind = token.kind
            if kind == "NAME":
                letters = len(token.text)
            elif kind == "LABEL":
                letters = len(token.name)  # the colon of a label is no part of its name
            else:
                continue
            if letters > LONGEST_NAME:
                sentence = say(
                    "This name is {long} characters long; {most} is the most.",
                    long=Count(Fraction(letters)),
                    most=Count(Fraction(LONGEST_NAME)),
                )
                remedy = Says("Choose a shorter name.")
                self.fault(token.line, token.column, token.to, sentence, remedy)
                return None
        found = self.understood(start, tokens)
        if isinstance(found, Fault) and start == "header" and len(self.raws) == 1:
            found = self.note(self.raws[0][1], tokens) or found
        if isinstance(found, Fault):
            self.faults.append(found)
            return self.guessed(start, found)
        return found

    def understood(self, start: str, tokens: list[Token]) -> Node | Fault:
        """What the tokens of one line make, or why they make nothing."""
        # A heading has no pending line, and is one of a few.
        kept = self.kept is not None and start not in ("title", "section")
        key = tuple(map(_meaning, tokens)) if kept else ()
        made = self.held.made.get(key) if kept else None
        if made is None:
            found = parse(self.table, start, tokens)
            raws = self.raws
            made = _refused(found, tokens, start, raws) if isinstance(found, Refusal) else found
            if kept:
                self.held.made[key] = made
        return made


def _anew(said: Said, raws: tuple[tuple[int, str], ...]) -> Fault | None:
    """The fault of a line that is indented as if it went on with the one above; None for none."""
    faults = [fault for part in said.parts for fault in part.faults]
    if not faults:
        return None
    from procedure.language.guessing import begins_anew

    return next((fault for fault in faults if begins_anew(fault, raws)), None)


def _refused(
    why: Refusal, tokens: list[Token], start: str, raws: tuple[tuple[int, str], ...] = ()
) -> Fault:
    """The fault of a line that cannot be read; its words are loaded where there is one."""
    from procedure.language.faults import refused

    return refused(why, tokens, start, raws)


def _described(tokens: list[Token]) -> list[Token]:
    """The words of a declaration, with what is written short in full."""
    if short_in_declaration(tokens):
        from procedure.language.shorthand import described_in_full

        tokens = described_in_full(tokens)
    return described(tokens)


def _lost_from(section: str, first: Token) -> bool:
    """True where a line at the margin may be one of that section, by its first word."""
    if section == "steps":
        word = first.text.lower()
        return first.kind == "LABEL" or word in heads() or word in _BLOCKS.values()
    if section == "procedure":
        return first.text.rstrip(":").lower() in HEADER_WORDS
    return first.kind == "LABEL"


def _seems_doubled(raw: str) -> bool:
    """True where a line may hold a word twice over; it is looked at closely only then."""
    words = raw.replace(",", " ").split()  # a comma stands twice in most lists
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


def _meaning(token: Token) -> tuple[int, int, str]:
    """What a token is in its line, where names of several words are read as one."""
    return token.line, token.column, token.word


def _labels(tokens: list[Token]) -> tuple[Token, ...]:
    """The labels of a line, and the names after “as”."""
    kinds = [token.kind for token in tokens]
    if "LABEL" not in kinds and "AS" not in kinds:
        return ()
    behind = zip(tokens, ("", *kinds), strict=False)
    return tuple([one for one, before in behind if one.kind == "LABEL" or before == "AS"])


def _variable(each: Node) -> Token:
    """The new name of “for each skein in gold, moss”."""
    return next(one for one in each.children if isinstance(one, Token) and one.kind == "NAME")


def _opens(tokens: list[Token]) -> str:
    """The block that a line opens by its first word after the label, if any."""
    first = tokens[1] if tokens[0].kind == "LABEL" and len(tokens) > 1 else tokens[0]
    return _BLOCKS.get(first.kind, "")
