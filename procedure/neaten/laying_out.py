"""A whole text in its neat layout, with every comment, and with the meaning that it had.

Each line is laid out by itself, and only so that it is read as the same words. Then the
whole is read again: a line that would mean something else is laid out more cautiously, and
a text of which nothing else is known for certain stays as it is.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator

from procedure.findings import Says
from procedure.language import Line, Section, Token, Tree, read
from procedure.language.reading import TAB
from procedure.language.words import (
    Scanner,
    declaration_words,
    header_words,
    heading_words,
    step_words,
)
from procedure.model import Block, Procedure, Step, build
from procedure.model.types import Workshop
from procedure.neaten.lines import INDENT, Laid, WrittenLine, comment_at, ways
from procedure.neaten.meaning import lines_that_differ, meaning
from procedure.quantity.record import NamedTuple

_ENDS = re.compile(r"(\r\n|\r|\n)")
_SCANNERS: dict[str, Scanner] = {"procedure": header_words, "steps": step_words}
# A name longer than this does not push the descriptions of all others to the right.
_LONGEST_ALIGNED = 20
_MOST_ROUNDS = 6


class Neat(NamedTuple):
    """A text laid out; ``same`` holds where it was neat before.

    ``faulty`` are the lines that cannot be read, which stay as they are; ``careful`` those
    that would mean something else in their neatest form, and are in a less neat one.
    """

    text: str
    same: bool
    faulty: tuple[int, ...] = ()
    careful: tuple[int, ...] = ()


def neat(text: str, workshop: Workshop | None = None) -> Neat:
    """Lay out a text: any text, faulty ones too; what cannot be read stays as it is.

    The model before and after is equal, and a text that was laid out is laid out already.
    Comments and free words are kept to the letter, and so are line ends, a byte-order mark
    and amounts. ``workshop`` is that of the collection the text belongs to.
    """
    tree = read(text)
    before = build(tree, "", workshop)
    faulty = tuple(sorted({fault.line for fault in tree.faults}))
    layout = _Layout(text, tree, before)
    caution: dict[int, int] = {}
    said = meaning(before)
    for _ in range(_MOST_ROUNDS):
        made = layout.written(caution)
        again = read(made)
        after = build(again, "", workshop)
        if said == meaning(after) and _faults(tree) == _faults(again):
            return Neat(made, made == text, faulty, tuple(sorted(caution)))
        differ = lines_that_differ(before, after) or set(layout.numbers())
        for line in differ:
            caution[line] = caution.get(line, 0) + 1
    return Neat(text, True, faulty, tuple(layout.numbers()))


def _faults(tree: Tree) -> list[tuple[Says, Says]]:
    return [(fault.sentence, fault.remedy) for fault in tree.faults]


class _Raw(NamedTuple):
    """A line of the text as it is: without its line end, its indentation counted."""

    text: str
    indent: int

    @property
    def blank(self) -> bool:
        return not self.text.strip()

    @property
    def remark(self) -> bool:
        """True for a line that is a comment alone."""
        return self.text.strip()[:1] == "#"


class _Out(NamedTuple):
    """A line as it will be written; ``old`` is the number of the line it comes from."""

    text: str
    old: int


class _Level(NamedTuple):
    """How far a line is indented, if it is the first of what is said, if each is a step."""

    margin: int
    first: bool
    apart: bool


class _Found(NamedTuple):
    """What is read on a line: a heading where ``line`` is None, else a line of a section."""

    section: Section
    line: Line | None
    depth: int


class _Layout:
    """The lines of one text, what is said on them, and how they are put down again."""

    def __init__(self, text: str, tree: Tree, procedure: Procedure) -> None:
        self.mark = "\ufeff" if text.startswith("\ufeff") else ""
        parts = _ENDS.split(text.removeprefix("\ufeff"))
        self.ends = parts[1::2]
        self.raws = [_Raw(raw, _indent(raw)) for raw in parts[::2]]
        self.faulty = {fault.line for fault in tree.faults}
        self.verbs: dict[int, list[str]] = {}
        for number, verb in _verbs(procedure.body):
            self.verbs.setdefault(number, []).append(verb)
        self.said: dict[int, WrittenLine] = {}
        self.heading_lines: set[int] = set()
        self.label_width: dict[int, int] = {}
        self._take(tree)
        self.starts = sorted(self.said)

    def numbers(self) -> Iterator[int]:
        """The numbers of the lines where something is said."""
        yield from self.said

    def _before(self, number: int) -> int:
        """The line on which what is said last before a line begins; 0 where nothing is."""
        at = bisect_left(self.starts, number)
        return self.starts[at - 1] if at else 0

    def _after(self, number: int) -> int:
        """The line on which what is said next begins; 0 where nothing is."""
        at = bisect_right(self.starts, number)
        return self.starts[at] if at < len(self.starts) else 0

    # ------------------------------------------------------------ what is said where

    def _take(self, tree: Tree) -> None:
        found: dict[int, list[_Found]] = {}
        for section in tree.sections:
            if section.heading.text:
                found.setdefault(section.heading.line, []).append(_Found(section, None, -1))
            for line, depth in _deep(section.lines, 0):
                found.setdefault(line.first.line, []).append(_Found(section, line, depth))
        begins = sorted(found)
        for at, number in enumerate(begins):
            end = begins[at + 1] if at + 1 < len(begins) else len(self.raws) + 1
            if found[number][0].line is None:
                self.heading_lines.add(number)
            self.said[number] = self._one(number, end, found[number])
        for section in tree.sections:
            if section.name in ("fibre", "equipment", "materials"):
                self._align(section)

    def _one(self, number: int, end: int, found: list[_Found]) -> WrittenLine:
        """What begins on a line, with the deeper lines that continue it.

        A line that says several steps, or rounds, is found once for each of them.
        """
        section, line, depth = found[0]
        indent = self.raws[number - 1].indent
        numbers = [number]
        beside = line is not None and line.first.kind == "MEANWHILE"
        if line is not None and (not line.opens or (len(found) > 1 and not beside)):
            for further in range(number + 1, end):
                raw = self.raws[further - 1]
                if raw.blank or raw.remark:
                    continue
                if raw.indent <= indent:
                    break
                numbers.append(further)
        raws = tuple((n, self._words(n)) for n in numbers)
        between = range(number, numbers[-1])
        broken = any(self.raws[n - 1].remark or self._comment(n) for n in between)
        scanner = _heading if line is None else _SCANNERS.get(section.name, declaration_words)
        readable = self.faulty.isdisjoint(numbers) and all(
            one.line.node is not None if one.line is not None else section.title is not None
            for one in found
        )
        steps = tuple(one.line.said for one in found if one.line is not None and one.line.said)
        return WrittenLine(raws, depth, scanner, readable, broken, () if beside else steps)

    def _words(self, number: int) -> str:
        raw = self.raws[number - 1].text
        return raw[: comment_at(raw)].rstrip()

    def _comment(self, number: int) -> str:
        raw = self.raws[number - 1].text
        return raw[comment_at(raw) :].rstrip()

    def _align(self, section: Section) -> None:
        lines = [line for line in section.lines if line.node is not None]
        labels = [line.first for line in lines if line.first.kind == "LABEL"]
        widths = [len(token.text.rstrip(": \t")) + 1 for token in labels]
        width = max((w for w in widths if w <= _LONGEST_ALIGNED), default=0)
        for token in labels:
            self.label_width[token.line] = width

    # ------------------------------------------------------------ putting it down

    def written(self, caution: dict[int, int]) -> str:
        """The text, each line laid out as neatly as its caution allows."""
        laid: dict[int, Laid] = {}
        home: dict[int, WrittenLine] = {}
        for number, said in self.said.items():
            width = self.label_width.get(number, 0)
            # The last way, as it is, is always there.
            for at, way in enumerate(ways(said, self.verbs.get(number, ()), width)):
                laid[number] = way
                if at == caution.get(number, 0):
                    break
            home |= {line: said for line, _ in said.raws}
        texts = {line: words for one in laid.values() for line, words in one.lines}
        firsts = {one.first for one in laid.values()}
        apart = {line for one in laid.values() if one.apart for line, _ in one.lines}
        out: list[_Out] = []
        for number, raw in enumerate(self.raws, 1):
            if raw.blank:
                self._gap(out, number)
                continue
            if raw.remark:
                self._heading_gap(out, number)
                out.append(_Out(" " * self._remark_indent(number) + raw.text.strip(), number))
                continue
            if number not in home:  # a line that cannot be read, and belongs to nothing
                out.append(_Out(raw.text.rstrip(), number))
                continue
            if number in self.heading_lines:
                self._heading_gap(out, number)
            level = _Level(_margin(home[number]), number in firsts, number in apart)
            self._put(out, number, level, texts[number])
        while out and not out[-1].text:
            out.pop()
        return self.mark + "".join(one.text + self._end(one.old) for one in out)

    def _put(self, out: list[_Out], number: int, level: _Level, words: tuple[str, ...]) -> None:
        comment = self._comment(number)
        lines = list(words)
        if comment:
            if lines:
                lines[-1] = f"{lines[-1]}  {comment}"
            else:
                lines = [comment]
        for at, line in enumerate(lines):
            deeper = (at > 0 or not level.first) and not level.apart
            out.append(_Out(" " * (level.margin + INDENT * deeper) + line, number))

    def _end(self, number: int) -> str:
        """The line end of an old line; that of the line before where it had none."""
        if number - 1 < len(self.ends):
            return self.ends[number - 1]
        return self.ends[-1] if self.ends else "\n"

    def _gap(self, out: list[_Out], number: int) -> None:
        """A blank line: one, and none at the top, below a heading or inside of what is said."""
        if not out or not out[-1].text:
            return
        before = self._before(number)
        inside = before and number < self.said[before].raws[-1][0]
        below = before in self.heading_lines and out[-1].old == before
        if not inside and not below:
            out.append(_Out("", number))

    def _heading_gap(self, out: list[_Out], number: int) -> None:
        """A blank line before a heading, and before the comment that is right above it."""
        last = out[-1] if out else None
        if last is None or not last.text or last.text[0] == "#":
            return
        while number <= len(self.raws) and self.raws[number - 1].remark:
            if self._remark_indent(number):
                return
            number += 1
        if number in self.heading_lines:
            out.append(_Out("", last.old))

    def _remark_indent(self, number: int) -> int:
        """Where a comment line goes: to the line it is with, the next one or one before."""
        indent = self.raws[number - 1].indent
        after = self._after(number)
        before = self._before(number)
        if before and number < self.said[before].raws[-1][0]:
            return _margin(self.said[before]) + INDENT
        levels: list[tuple[int, int]] = []
        if after:
            levels.append((self.raws[after - 1].indent, _margin(self.said[after])))
        levels += self._open_at(before)
        if not levels:
            return 0
        return min(levels, key=lambda level: abs(level[0] - indent))[1]

    def _open_at(self, number: int) -> list[tuple[int, int]]:
        """The old and new indentation of a line and of the blocks round it."""
        found: list[tuple[int, int]] = []
        least = -1
        at = bisect_right(self.starts, number)
        while at:
            at -= 1
            before = self.starts[at]
            said = self.said[before]
            if least < 0 or said.depth < least:
                found.append((self.raws[before - 1].indent, _margin(said)))
                least = said.depth
            if said.depth <= 0:
                break
        if found and number in self.heading_lines:
            found.append((INDENT, INDENT))
        return found


def _heading(raw: str, number: int, before: list[Token]) -> list[Token]:
    return [*before, *heading_words(raw, number)]


def _margin(said: WrittenLine) -> int:
    return INDENT * (said.depth + 1)


def _indent(raw: str) -> int:
    return len(raw[: len(raw) - len(raw.lstrip())].expandtabs(TAB))


def _deep(lines: list[Line], depth: int) -> Iterator[tuple[Line, int]]:
    for line in lines:
        yield line, depth
        yield from _deep(line.block, depth + 1)


def _verbs(body: tuple[Step | Block, ...]) -> Iterator[tuple[int, str]]:
    """The plain verb of each step, by the line it begins on."""
    for step in body:
        if isinstance(step, Block):
            yield from _verbs(step.body)
        elif step.verb is not None:
            yield step.place.line, step.verb.name
