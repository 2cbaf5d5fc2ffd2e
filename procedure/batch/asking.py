"""A session at the pot: the blanks of a form, asked one by one, each answer saved at once.

The form itself is the memory of the session. Every answer is put into the text in place of
its blank, and the file is written whole or not at all; whatever stops the session, the next
one goes on at the first blank. Nothing here knows what is asked or why.
"""

from __future__ import annotations

import os
import re
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

from procedure.batch.line_values import FORMS
from procedure.batch.record_lines import SECTIONS
from procedure.batch.record_reading import read
from procedure.batch.record_words import unquoted, words_of
from procedure.language import Token
from procedure.quantity.record import NamedTuple

# What stands for a thing that nobody can say any more.
UNKNOWN = "unstated"
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?|[0-9]+/[0-9]+|[0-9]+ [0-9]+/[0-9]+")
# Lines whose answer is words, which a person at the pot need not put in quotation marks.
_WORDS = frozenset(
    "of titled place by weather photograph note source seen otherwise skipped evenness hand "
    "washed taken way supplier lot from age until".split()
)
# Lines where words would say nothing that can be used.
_NUMBERS_ONLY = frozenset("times pH day sun begun ended harvested change grade".split())


class Question(NamedTuple):
    """A blank to be filled in.

    ``where`` tells the section or the step, ``what`` the line, ``planned`` what was planned
    (empty where nothing was). ``kind`` is words, amount, day, clock, colour or number.
    ``line``, ``column`` and ``to`` are the place of the blank, from 1; ``written`` the line
    as it stands, by which the blank is found again.
    """

    where: str
    what: str
    kind: str
    planned: str
    unit: str
    line: int
    column: int
    to: int
    written: str


class AnswerRefused(ValueError):
    """An answer that does not fit there; the text is a sentence and a remedy."""


def questions(text: str) -> tuple[Question, ...]:
    """Every blank of a form, in its order."""
    return tuple(_questions(text))


def _questions(text: str) -> Iterator[Question]:
    section = step = ""
    for number, raw in enumerate(_lines(text), 1):
        tokens, _ = words_of(raw, number)
        if not tokens:
            continue
        first = tokens[0].text.rstrip(": \t")
        if tokens[0].column == 1 and first in SECTIONS:
            section, step = first, ""
        elif first in ("step", "added") or (section == "results" and _depth(raw) <= 2):
            step = " ".join(unquoted(token) for token in tokens if token.kind != "BLANK")
        head = tokens[:1]
        for part in _parts(tokens):
            at = next((i for i, one in enumerate(part) if one.text == "planned"), len(part))
            planned = raw[part[at].to : part[-1].to - 1].strip() if at < len(part) else ""
            for token in (one for one in part[:at] if one.kind == "BLANK"):
                before = [one for one in part[:at] if one.column < token.column]
                named = before if before and before[0] is tokens[0] else [*head, *before]
                yield Question(
                    step or section,
                    " ".join(unquoted(one).rstrip(": \t") for one in named),
                    _kind(section, first, named[-1].text, planned),
                    planned,
                    _unit(planned),
                    number,
                    token.column,
                    token.to,
                    raw,
                )


def _parts(tokens: tuple[Token, ...]) -> Iterator[tuple[Token, ...]]:
    """The words of a line between its commas."""
    part: list[Token] = []
    for token in tokens:
        if token.kind == "COMMA":
            yield tuple(part)
            part = []
        else:
            part.append(token)
    yield tuple(part)


def _lines(text: str) -> list[str]:
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _depth(raw: str) -> int:
    return len(raw) - len(raw.lstrip())


def _kind(section: str, first: str, last: str, planned: str) -> str:
    if last in ("harvested", "day", "to") and (section in ("batch", "materials") or last == "day"):
        return "day"
    if first in ("begun", "ended"):
        return "clock" if section == "steps" else "day"
    if first in ("colour", "color", "covered", "exposed", "before", "after"):
        return "colour"
    if section == "batch" or planned.startswith(('"', "“")):
        return "words"
    if last in _WORDS and not (section == "steps" and last == "from"):
        return "words"
    return "amount"


def _unit(planned: str) -> str:
    """The unit after the last number of a planned amount: a bare number is in it."""
    found = _UNIT.search(planned)
    return found[1] if found else ""


# A unit is one word, but for those of the two countries: US gal, imp fl oz.
_UNIT = re.compile(
    r"[0-9½¼¾⅛⅜⅝⅞]\s*((?:(?:US|imp)\s+)?(?:fl\s+)?[^\s0-9()\"“,]+(?:/[^\s]+)?)\s*(?:\(.*\))?$"
)


def filled(text: str, question: Question, reply: str) -> str:
    """The text with a blank filled in. Raises :class:`AnswerRefused` where the reply does not fit.

    Words are put into quotation marks, and a bare number takes the unit of the plan. What
    makes an answer good is that the record can still be read.
    """
    said = " ".join(reply.split())
    if not said:
        raise AnswerRefused("Nothing was said. Write an answer, or leave the blank for later.")
    if "#" in said and question.kind == "amount":
        raise AnswerRefused("A # would make a comment of the rest. Write the amount without it.")
    trouble = ""
    for attempt in _ways(said, question):
        changed = _put(text, question, attempt)
        trouble = _trouble(text, changed, question.line)
        if not trouble:
            return changed
    raise AnswerRefused(trouble)


def _ways(said: str, question: Question) -> Iterator[str]:
    bare = _NUMBER.fullmatch(said) is not None
    if question.kind == "words":
        names = [name.strip() for name in said.split(",") if name.strip()]
        if question.what == "by" and '"' not in said and names:  # each name for itself
            yield ", ".join(_quoted(name) for name in names)
        yield _quoted(said)
        return
    if question.kind == "colour" and re.fullmatch(r"#[0-9a-fA-F]{3,6}", said):
        yield f'hex "{said}"'
        return
    if bare and question.unit:
        yield f"{said} {question.unit}"
    if '"' in said or "“" in said:
        yield said
        return
    yield said
    if question.kind == "colour" and said.split()[0] in FORMS:
        return  # Lab without its numbers is no colour in words
    first = question.written.split(maxsplit=1)[0]
    if first not in _NUMBERS_ONLY and not any(mark.isdigit() for mark in said):
        yield _quoted(said)  # soft, cold to the hand: words serve where no number is known


def _quoted(said: str) -> str:
    if len(said) > 1 and said[0] in '"“' and said[-1] in '"”':
        said = said[1:-1]
    return '"{}"'.format(said.replace('"', "”")) if '"' in said else f'"{said}"'


def _put(text: str, question: Question, answer: str) -> str:
    starts = [1 if text.startswith("\ufeff") else 0]
    starts += [end.end() for end in re.finditer(r"\r\n|\r|\n", text)]
    first = starts[question.line - 1] + question.column - 1
    last = starts[question.line - 1] + question.to - 1
    return f"{text[:first]}{answer}{text[last:]}"


def _trouble(before: str, after: str, line: int) -> str:
    """What the record says amiss of a line that it did not say before."""
    # By what they say, not by their words: an answer may change the units that those are in.
    old = Counter(one.fact for one in read(before)[1])
    for one in read(after)[1]:
        old[one.fact] -= 1
        if old[one.fact] < 0 and one.level == "error":
            return f"{one.sentence} {one.remedy}"
    left = len(questions(before)) - len(questions(after))
    return "" if left == 1 else f"The line {line} would no longer read as it did."


# ------------------------------------------------------------------ the session

# Gives the answer to a question, "" to leave it for later, or None to end.
Ask = Callable[[Question, int, int], str | None]


def session(path: Path, ask: Ask, say: Callable[[str], None]) -> int:
    """Ask for every blank of a file until none is left or the person stops.

    ``ask`` is given a question with its place among those left and their number; ``say``
    shows a sentence. Every answer is saved before the next question. The file may be edited
    meanwhile: it is read anew before each question and before each saving. Gives the number
    of blanks left. Raises ``OSError`` where the file cannot be read or written.
    """
    left: set[tuple[str, str, str]] = set()
    while True:
        text = _read(path)
        waiting = [one for one in questions(text) if _key(one) not in left]
        if not waiting:
            return len(questions(text))
        question = waiting[0]
        reply = ask(question, 1, len(waiting))
        if reply is None:
            return len(questions(_read(path)))
        if not reply.strip():
            left.add(_key(question))
            continue
        text = _read(path)
        same = next((one for one in questions(text) if _same(one, question)), None)
        if same is None:
            say("The file has changed meanwhile, and this blank is gone. Nothing was written.")
            continue
        try:
            changed = filled(text, same, reply)
        except AnswerRefused as reason:
            say(str(reason))
            continue
        save(path, changed)


def _key(question: Question) -> tuple[str, str, str]:
    return question.where, question.what, question.written


def _same(one: Question, other: Question) -> bool:
    return _key(one) == _key(other) and one.column == other.column


def _read(path: Path) -> str:
    # Line ends stay as they are.
    with path.open(encoding="utf-8", newline="") as file:
        return file.read()


def save(path: Path, text: str) -> None:
    """Write a file whole or not at all, and wait until the disk has it. Raises ``OSError``."""
    target = path.resolve()
    descriptor, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            Path(temporary).chmod(target.stat().st_mode & 0o777)
        Path(temporary).replace(target)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
