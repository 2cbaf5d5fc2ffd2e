"""The heats, times and amounts that steps have, each with the words and the steps about it.

Here it is only told; which of it makes a placing doubtful is in ``signs_of_doubt.py``.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator
from functools import cache

from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.sentences import Sentence
from procedure.draft.stock import is_tannin, trade_role
from procedure.draft.things import Thing, known_words
from procedure.draft.unsettled_steps import Bath, Step
from procedure.draft.words_not_read import words_not_read
from procedure.vocabulary import vocabulary

EVENTS = frozenset(("strain", "lift", "dip", "dye", "mordant", "enter", "steep", "modify"))
INTO = frozenset(("dye", "mordant", "enter", "steep", "modify"))
CLAUSE = re.compile(r"[.;:!?()\n]|,\s")
IT = re.compile(r"\bit\b", re.I)


class Placing:
    """A heat, a time or an amount as a step has it, with the words about it."""

    step: Step
    amount: Amount
    clause: str
    sentence: Sentence
    before: str
    words: str
    not_read: int
    since: int
    badly_read: float
    last: Thing | None
    gap: int
    between: str
    roles: set[str]
    unknown: bool
    of_base: bool
    names: set[str]
    act: str
    kind: str
    fibre_in: bool
    missed: bool
    done: int

    def __init__(self, ways: _Ways, at: int, step: Step, amount: Amount, clause: str) -> None:
        text = ways.course.text
        self.step, self.amount, self.clause = step, amount, clause
        self.sentence = ways.sentence_of(amount)
        low = ways.clause_ends[max(bisect_right(ways.clause_ends, amount.start) - 1, 0)]
        after = bisect_left(ways.clause_begins, amount.end)
        high = ways.clause_begins[after] if after < len(ways.clause_begins) else len(text)
        self.before, self.words = text[low : amount.start], text[low:high]
        self.not_read = ways.not_read_between(low, high)
        self.since = ways.not_read_since(at, self.sentence)
        self.badly_read = ways.badly_read
        self.last = ways.named_before(amount)
        self.gap = amount.start - self.last.end if self.last else 0
        self.of_base = ways.is_beside_a_base(amount)
        of = self.sentence.of.get(amount.start)
        ends = (of.end, amount.end) if of is not None else (0, 0)
        begins = (of.start, amount.start) if of is not None else (0, 0)
        self.between = text[min(ends) : max(begins)]
        called = [ways.called(one.name) for one in step.brought if one.name != "water"]
        # What gives tannin is boiled with a dye plant as often as it mordants.
        self.roles = {trade_role(one) for one in called if not is_tannin(one)}
        self.unknown = any(is_unknown(one) for one in called)
        self.names = {one.kind for one in step.part.things} if step.part is not None else set()
        self.act = step.part.doing.act if step.part is not None else ""
        self.kind = step.bath.kind if step.bath is not None else ""
        self.fibre_in = step.bath is not None and ways.holds_fibre[at] is step.bath
        self.missed = step.sentence in ways.missed
        self.done = ways.done_with.get(self.step.bath, 0)

    @property
    def is_kept(self) -> bool:
        """True for a heat or a time, and not for an amount of stuff."""
        return bool(self.clause)

    @property
    def on_bath(self) -> bool:
        """True for the heat or time of a bath."""
        return self.is_kept and self.step.on == "bath"

    @property
    def by_it(self) -> bool:
        """True where "it" alone says which bath is meant."""
        return self.on_bath and not self.names and IT.search(self.before) is not None

    def has_word(self, kind: str, words: str) -> bool:
        """True where words have one of a kind in the list of words."""
        return of_kind(kind).search(words) is not None


def is_unknown(called: str) -> bool:
    """True for stuff that no list knows, if no part of a plant says what it is: chestnut bark."""
    of_plant = known_words()[1].get(called.rsplit(" ", 1)[-1], ("", ""))[0] == "part"
    return vocabulary().material(called) is None and not (of_plant and " " in called)


@cache
def of_kind(kind: str) -> re.Pattern[str]:
    """A pattern for the words of a kind in the list of words."""
    return re.compile(rf"(?<![\w'-])(?:{one_of(meanings(kind))})(?![\w'-])", re.I)


class _Ways:
    """What a course tells of the words about its placings, looked up and not worked out anew."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self.starts = [one.start for one in course.told]
        self.clause_ends = [0, *(one.end() for one in CLAUSE.finditer(course.text))]
        self.clause_begins = [one.start() for one in CLAUSE.finditer(course.text)]
        self.things = sorted(
            (thing.start, thing)
            for sentence in course.told
            for part in sentence.parts
            for thing in part.things
            if thing.kind in ("material", "part")
        )
        self.places = [at for at, _ in self.things]
        none = course.none_done
        spans = [
            span
            for one in course.told
            for span in words_not_read(course.text, one, none.get(one.number, ()))
        ]
        self.not_read = [(low, high, len(course.text[low:high].split())) for low, high in spans]
        self.not_read_at = [low for low, _, _ in self.not_read]
        every = sum(count for _, _, count in self.not_read)
        self.badly_read = every / max(len(course.text.split()), 1)
        self.done_with = Counter(step.bath for step in course.steps)
        self.missed = {one[0] for one in course.not_followed if one not in course.of_no_bath}
        self.last_event: list[int] = []
        self.holds_fibre: list[Bath | None] = []  # at each step, the bath that the fibre is in
        last, inside = 0, None
        for step in course.steps:
            self.last_event.append(last)
            self.holds_fibre.append(inside)
            if step.on == "lot":
                inside = step.bath if step.verb in INTO else None
            if step.on in ("prepare", "lot") or step.verb in EVENTS:
                last = max(last, step.sentence)

    def called(self, name: str) -> str:
        """What the prose calls a material of the draft, whose name has no apostrophe."""
        return self.course.materials.get(name, name.replace("-", " "))

    def sentence_of(self, amount: Amount) -> Sentence:
        return self.course.told[max(bisect_right(self.starts, amount.start) - 1, 0)]

    def not_read_between(self, low: int, high: int) -> int:
        """The words of every stretch that was not read and has a letter between two places."""
        near = bisect_left(self.not_read_at, high)
        count = 0
        for start, end, words in reversed(self.not_read[:near]):
            if end <= low:
                break
            count += words if start < high else 0
        return count

    def not_read_since(self, at: int, sentence: Sentence) -> int:
        """The words not read from the last event before a step to a sentence."""
        last = self.last_event[at]
        if not last:
            return 0
        told = self.course.told
        begins = next((one.start for one in told if one.number >= last), 0)
        near = bisect_left(self.not_read_at, begins)
        return sum(words for low, _, words in self.not_read[near:] if low < sentence.end)

    def named_before(self, amount: Amount) -> Thing | None:
        near = bisect_right(self.places, amount.start) - 1
        while near >= 0 and self.things[near][1].end > amount.start:
            near -= 1
        return self.things[near][1] if near >= 0 else None

    def is_beside_a_base(self, amount: Amount) -> bool:
        """True where only other sentences say for how much fibre their amounts are."""
        bases = self.course.bases
        return bool(bases) and self.sentence_of(amount).number not in bases


def placings(course: Course) -> Iterator[Placing]:
    """The heats, times and amounts of stuff of every step."""
    ways = _Ways(course)
    for at, step in enumerate(course.steps):
        for clause, amount in step.clauses.items():
            yield Placing(ways, at, step, amount, clause)
        for brought in step.brought:
            for amount in brought.amounts:
                yield Placing(ways, at, step, amount, "")
