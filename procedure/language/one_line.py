"""What one line says: a title, a heading, a declaration, or steps in the words of the grammar."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from procedure.findings import Count, Says, say
from procedure.language.called import Called
from procedure.language.chained import chained
from procedure.language.clauses_unsaid import (
    may_be_short,
    short_in_declaration,
    with_clauses,
    without_particle,
)
from procedure.language.equal_lines import EqualLines, Read
from procedure.language.everyday_order import in_plain_order, slip_behind_to, verbs_at_once
from procedure.language.kept_lines import Held, Lines, Part, Said
from procedure.language.numbers_in_full import NUMBERS
from procedure.language.parsing import Refusal, parse
from procedure.language.same_shape import PlainShapes, shape_of
from procedure.language.table import table
from procedure.language.tree import BATHS, Fault, Node, SaidOf, Section, Token, written_as
from procedure.language.turns import described, left_so_long, plainly, round_of_several, rounds
from procedure.language.words import Scanner, declaration_words, header_words, step_words

LONGEST_NAME = 60
# In a text with so many faulty lines nobody looks at what the others say.
MOST_GUESSED = 50
# Words of a step that may be said in everyday words; the longest that people wrote had forty.
MOST_EVERYDAY_WORDS = 400

BLOCKS = {word: word.lower() for word in ("REPEAT", "IF", "FOR", "EITHER", "OR", "MEANWHILE")}
SCANNERS: dict[str, tuple[str, Scanner]] = {
    "procedure": ("header", header_words),
    "fibre": ("declaration", declaration_words),
    "equipment": ("declaration", declaration_words),
    "materials": ("declaration", declaration_words),
    "steps": ("step", step_words),
}
# Behind these a number may be that of vessels: “in 2 pots”, “clean 2 pots”.
_BEFORE_VESSELS = frozenset(("IN", "INTO", "FROM", "TO", "THROUGH", "VERB"))
_START = {scanner: start for start, scanner in SCANNERS.values()}
_EQUAL = EqualLines()
_PLAIN = PlainShapes()


class LineReader:
    """Reads the pending line of a text, by the sections and the names above it."""

    def __init__(self, lines: list[str], kept: Lines | None) -> None:
        self.table = table()
        self.kept = kept
        self.lines = lines
        self.sections: list[Section] = []
        self.faults: list[Fault] = []
        self.called = Called(None if kept is None else kept.once)
        # The pending line and those that continue it: its tokens, and as they were written.
        self.pending: list[Token] = []
        self.raws: tuple[tuple[int, str], ...] = ()
        # What is kept of the line that is finished now.
        self.held = Held()
        # The one step that a line says, in plain words; empty where it says more.
        self.plain_already: list[Token] = []
        # What is known of a line that is written as one before it.
        self.equal: Read | None = None

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
        """Note a place that could not be read, by its columns."""
        self.faults.append(Fault(line, column, to, sentence, remedy))

    def note(self, raw: str, tokens: list[Token]) -> Fault | None:
        """The fault of a sentence below the title; None for anything else."""
        if not self.sections or self.sections[-1].name != "procedure":
            return None
        if raw != self.lines[tokens[0].line - 1]:
            return None  # a word that is written twice is told of first
        from procedure.language.titles import note_meant

        return note_meant(raw, tokens[0].line, tokens)

    def again(self, raws: tuple[tuple[int, str], ...]) -> list[Token]:
        """The tokens of some lines, read for themselves."""
        _, scanner = SCANNERS[self.sections[-1].name]
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
            if isinstance(found, Node) and opens(tokens) == opens(self.again(self.raws)):
                return found  # what would open a block and does not is no step either
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
        if start == "step" and len(tokens) > 1 and tokens[-1].kind == "COLON" and opens(tokens):
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
        if written[0].kind == "REPEAT" and (behind := _behind_rounds(written)):
            return self.repeated(written[: behind - 1], written[behind:])
        tokens = self.in_full(written)
        if any(token.word == "all" for token in tokens):
            tokens = self.called.all_of_a_sort(tokens)
        if [token.kind for token in tokens].count("OF") > 1:
            tokens = self.called.named_with_of(tokens)
        if _counts_vessels(tokens):
            from procedure.language.counted_vessels import counted

            tokens = counted(tokens, self.called.vessels)
        # A line of nothing but what is left out elsewhere (“for later use”) is asked about.
        tokens = self.called.in_one_word(plainly(tokens)) or written
        of_things: tuple[SaidOf, ...] = ()
        if len(tokens) < len(written):
            from procedure.language.read_over import left_out

            of_things = left_out(written, tokens)
        self.plain_already = []
        parts = tuple(self.steps_of(tokens))
        return Said(parts, _labels(tokens), of_things=of_things)

    def repeated(self, rounds: list[Token], written: list[Token]) -> Said:
        """What “3x: rinse yarn in tub” says: a block, and in it what stands behind."""
        block = self.part("step", rounds)
        said = self.in_the_words_of_the_grammar(written)
        inner = tuple([one._replace(under=max(one.under + 1, 0)) for one in said.parts])
        self.plain_already = []
        return said._replace(parts=(block, *inner))

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
        if any(token.kind == "TIMES" or token.word in _ROUNDS for token in tokens):
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
        if verbs_at_once(tokens):
            from procedure.language.faults import of_which_verb

            slips = (*slips, of_which_verb(tokens))
        steps = [self.plain(one) for one in chained(tokens, self.called)]
        begins, steps, round_of = round_of_several(left_so_long(steps))
        for at, one in enumerate(steps):
            if at == begins:  # “lift it, air it and put it back three times”
                yield self.part("step", round_of, block)
                count, block = count + 1, count
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
            kinds = ("LABEL", "NAME") if start == "step" else ("LABEL", "NAME", "WORD")
            unread = tuple([one.name for one in tokens if one.kind in kinds])
            unread += _baths_of_two_words(tokens)
            written = written_as(tokens, self.raws)
        return Part(tokens[0], opens(tokens), node, faults, under, names=unread, written=written)

    def parsed(self, start: str, tokens: list[Token]) -> Node | None:
        """The node of some tokens; None where they cannot be read, which is noted."""
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
            made = refused(found, tokens, start, raws) if isinstance(found, Refusal) else found
            if kept:
                self.held.made[key] = made
        return made


def refused(
    why: Refusal, tokens: list[Token], start: str, raws: tuple[tuple[int, str], ...] = ()
) -> Fault:
    """The fault of a line that cannot be read; its words are loaded where there is one."""
    from procedure.language.faults import refused

    return refused(why, tokens, start, raws)


_ROUNDS = frozenset(("twice", "thrice"))


def _behind_rounds(tokens: list[Token]) -> int:
    """Where what is repeated begins in one line with how often it is done; 0 for other lines."""
    for at in range(2, len(tokens) - 1):
        if tokens[at].kind == "COLON" and tokens[at - 1].kind in ("TIMES", "OFTEN"):
            return at + 1
    return 0


def _counts_vessels(tokens: list[Token]) -> bool:
    """True where a number, or a word that may be one, is where a number of vessels may be."""
    before = ""
    for kind, text, *_ in tokens:
        if before in _BEFORE_VESSELS and (kind == "NUMBER" or text in NUMBERS):
            return True
        before = kind
    return False


def _described(tokens: list[Token]) -> list[Token]:
    """The words of a declaration, with what is written short in full."""
    if short_in_declaration(tokens):
        from procedure.language.shorthand import described_in_full

        tokens = described_in_full(tokens)
    return described(tokens)


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


def _baths_of_two_words(tokens: list[Token]) -> tuple[str, ...]:
    """The alum-bath of “alum bath - 4 L water”, which a step below may call so."""
    return tuple(
        [
            f"{one.word}-{after.word}"
            for one, after in pairwise(tokens)
            if one.kind == after.kind == "NAME" and after.word in BATHS
        ]
    )


def opens(tokens: list[Token]) -> str:
    """The block that a line opens by its first word after the label, if any."""
    first = tokens[1] if tokens[0].kind == "LABEL" and len(tokens) > 1 else tokens[0]
    return BLOCKS.get(first.kind, "")
