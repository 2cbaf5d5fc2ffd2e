"""One thing said, with the lines that it runs over, and the ways to lay it out, best first."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from procedure.language import Token
from procedure.language.clauses_unsaid import may_be_short
from procedure.language.everyday_order import in_plain_order
from procedure.language.words import Scanner
from procedure.neaten.neat_words import filled, in_order, in_plain_words, joined, spelled
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.everyday import readings_of

# A line longer than this is broken where it can be.
WIDTH = 120
INDENT = 2
_BEFORE_COMMENT = re.compile(r'(?:[^#"“]|"[^"]*"|“[^”]*”)*')


class WrittenLine(NamedTuple):
    """A heading, a declaration or a step as it was written.

    ``raws`` are its lines by number, without comment lines between them; ``depth`` is how
    many blocks it is inside of, and 0 for a heading; ``readable`` is False for a faulty line.
    ``steps`` are the steps of a line that says several, each in plain order.
    """

    raws: tuple[tuple[int, str], ...]
    depth: int
    scanner: Scanner | None
    readable: bool
    broken_by_comment: bool
    steps: tuple[tuple[Token, ...], ...] = ()

    @property
    def first(self) -> int:
        """The number of its first line."""
        return self.raws[0][0]


class Laid(NamedTuple):
    """A way to write it: for each of its old lines the new ones, without indentation.

    ``apart`` holds where each new line is a step of its own and continues none.
    """

    lines: tuple[tuple[int, tuple[str, ...]], ...]
    apart: bool = False

    @property
    def first(self) -> int:
        """The number of the old line that its first words are on."""
        return next(number for number, words in self.lines if words)


def comment_at(raw: str) -> int:
    """Where the comment of a line begins; the length of the line where it has none."""
    found = _BEFORE_COMMENT.match(raw)
    end = found.end() if found is not None else 0
    return end if raw[end : end + 1] == "#" else len(raw)


def ways(said: WrittenLine, verbs: Sequence[str], label_width: int) -> Iterator[Laid]:
    """The ways to lay it out that say the same words, from the neatest to the one as it is.

    ``verbs`` are the plain verbs that its steps were read as, none where it is no step.
    """
    verb = verbs[0] if verbs else ""
    if said.steps and len(said.steps) == len(verbs) and not said.broken_by_comment:
        yield _apart(said, verbs)
    if said.readable and said.scanner is not None:
        tokens = _scanned(said.scanner, [raw for _, raw in said.raws], said.first)
        if tokens is not None:
            for words in _wordings(said, tokens, verb):
                laid = _laid(said, words, label_width)
                if laid is not None:
                    yield laid
    yield Laid(tuple((number, (raw.strip(),)) for number, raw in said.raws))


def _apart(said: WrittenLine, verbs: Sequence[str]) -> Laid:
    """Each step of the line in a line of its own; all in the place of its last line."""
    indent = INDENT * (said.depth + 1)
    texts: list[str] = []
    for step, verb in zip(said.steps, verbs, strict=True):
        words = next(_plainly(step, verb), None) or in_order(spelled(step))
        first, *further = filled(words, WIDTH - indent, WIDTH - indent - INDENT)
        texts += [joined(first), *(" " * INDENT + joined(line) for line in further)]
    before = tuple((number, ()) for number, _ in said.raws[:-1])
    return Laid((*before, (said.raws[-1][0], tuple(texts))), apart=True)


def _plainly(tokens: Sequence[Token], verb: str) -> Iterator[list[Token]]:
    """A step with its clauses in order, said with the plain verb that its own is read as."""
    head = next((token for token in tokens[:2] if token.kind != "LABEL"), None)
    if head is not None and head.kind == "VERB" and verb and head.word != verb:
        for reading in readings_of(head.word):
            if reading.verb == verb:
                yield in_order(in_plain_words(spelled(tokens), reading))


def _scanned(scanner: Scanner, raws: Sequence[str], first: int) -> list[Token] | None:
    tokens: list[Token] = []
    for number, raw in enumerate(raws, first):
        tokens += scanner(raw, number, tokens)
    return tokens or None


def _wordings(said: WrittenLine, tokens: list[Token], verb: str) -> Iterator[list[Token]]:
    """The words of a line: in plain words and in order, in order, spelled plainly, spaced."""
    if said.steps or said.scanner is None or said.scanner.__name__ != "step_words":
        yield spelled(tokens)
        yield tokens
        return
    if may_be_short(tokens):
        from procedure.language.shorthand import in_whole_words

        whole = in_whole_words(tokens)
        if whole != tokens:
            yield from _wordings(
                said, [one._replace(text=one.word, meant="") for one in whole], verb
            )
    plain = in_plain_order(tokens)
    head = next((token for token in plain[:2] if token.kind != "LABEL"), None)
    # Comments between its lines belong to what is there, so nothing is moved past them.
    move = list if said.broken_by_comment else in_order
    if head is not None and head.kind == "VERB" and verb and head.word != verb:
        for reading in readings_of(head.word):
            if reading.verb == verb:
                yield move(in_plain_words(spelled(plain), reading))
    yield move(spelled(plain))
    yield spelled(tokens)
    yield tokens


def _laid(said: WrittenLine, words: list[Token], label_width: int) -> Laid | None:
    """These words in lines; None where they would not be read as these words."""
    assert said.scanner is not None
    numbers = [number for number, _ in said.raws]
    indent = INDENT * (said.depth + 1) if said.depth >= 0 else 0
    at_home = all(a.line <= b.line for a, b in pairwise(words))
    single = len(numbers) == 1
    if at_home and not single:
        parts = [[t for t in words if said.first + i == t.line] for i in range(len(numbers))]
        rows = [[part] for part in parts]
    else:
        # On the last of its lines, where its comment is.
        rows = [*([] for _ in numbers[1:]), filled(words, WIDTH - indent, WIDTH - indent - INDENT)]
    texts = [[_aligned(line, label_width) for line in row if line] for row in rows]
    flat = [text for row in texts for text in row]
    read = _scanned(said.scanner, flat, 1)
    if read is None or _words(said, read) != _words(said, words):
        return None
    return Laid(tuple(zip(numbers, map(tuple, texts), strict=True)))


def _words(said: WrittenLine, tokens: list[Token]) -> list[tuple[str, str]]:
    assert said.scanner is not None
    if said.scanner.__name__ == "step_words":
        tokens = in_plain_order(tokens)
    return [(token.kind, " ".join(token.text.split())) for token in spelled(tokens)]


def _aligned(line: list[Token], label_width: int) -> str:
    text = joined(line)
    if not label_width or line[0].kind != "LABEL" or len(line) == 1:
        return text
    return f"{line[0].text:<{label_width}} {joined(line[1:])}"
