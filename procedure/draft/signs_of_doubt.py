"""Signs that a placing may be wrong: none is sure by itself, and they are weighed together.

Each sign has a weight in ``signs_of_doubt.csv``, worked out from recipes that the reader of the
day had not seen, with how many were right and wrong there. Where the weights of one placing come
to more than one chance in six that it is wrong, it is taken back and told as not placed: a wrong
placing is worth as much as five right ones.
"""

from __future__ import annotations

import csv
import re
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.sentences import Sentence
from procedure.draft.stock import LATER, trade_role
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Step
from procedure.draft.words_not_read import words_not_read
from procedure.vocabulary import vocabulary

WEIGHTS = Path(__file__).with_name("signs_of_doubt.csv")
BASE = "any placing"  # the row with what holds where there is no sign
EVENTS = frozenset(("strain", "lift", "dip", "dye", "mordant", "enter", "steep", "modify"))
KEPT = frozenset(("boil", "simmer", "hold", "cool"))
OPENED_AIR = frozenset(("air", "dry", "rest"))
CLAUSE = re.compile(r"[.;:!?()\n]|,\s")
IT = re.compile(r"\bit\b", re.I)
DENIED = re.compile(r"\b(?:not|no|\w+n't)\b", re.I)
ONE_OF = re.compile(r"\b(?:ones?|each|every)\b", re.I)
APART = re.compile(r"[,:]")
DASHED = re.compile(r"--|\w\.-")  # "Lac.--Wool is mordanted": the dye that all is about
DAYS = frozenset(("d", "wk", "month"))


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
    of_base: bool
    names: set[str]
    act: str
    kind: str

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
        self.roles = {
            trade_role(one.name.replace("-", " ")) for one in step.brought if one.name != "water"
        }
        self.names = {one.kind for one in step.part.things} if step.part is not None else set()
        self.act = step.part.doing.act if step.part is not None else ""
        self.kind = step.bath.kind if step.bath is not None else ""

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
        return _pattern(kind).search(words) is not None


@cache
def _pattern(kind: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w'-])(?:{one_of(meanings(kind))})(?![\w'-])", re.I)


def _is_unknown(name: str) -> bool:
    return name != "water" and vocabulary().material(name.replace("-", " ")) is None


Sign = Callable[[Placing], bool]
SIGNS: dict[str, Sign] = {
    "it": lambda one: one.by_it,
    "it is boiled, simmered or cooled": lambda one: one.by_it and one.step.verb in KEPT - {"hold"},
    "bath, and nothing was named for long": lambda one: (
        one.on_bath and one.gap > limits.LETTERS_OF_IT
    ),
    "much was not read since": lambda one: one.on_bath and one.since > limits.MUCH_NOT_READ,
    "another place is named": lambda one: (
        one.is_kept and one.step.verb not in OPENED_AIR and one.has_word("elsewhere", one.words)
    ),
    "days in a bath": lambda one: (
        one.is_kept and one.amount.unit in DAYS and one.step.verb not in OPENED_AIR
    ),
    "no verb, and words not read": lambda one: (
        one.is_kept and one.step.on == "bath" and not one.act and one.not_read > 0
    ),
    "rinsed": lambda one: one.is_kept and one.step.verb == "rinse",
    "wetted": lambda one: one.is_kept and one.step.verb == "wet out",
    "soaked": lambda one: one.is_kept and one.act == "soak",
    "put": lambda one: one.is_kept and one.act == "put",
    "mordant kept": lambda one: one.is_kept and one.kind == "mordant" and one.step.verb in KEPT,
    "mordanted": lambda one: one.is_kept and one.act == "mordant",
    "stuff that no list knows": lambda one: (
        not one.is_kept
        and one.amount.kind != "volume"
        and any(_is_unknown(each.name) for each in one.step.brought)
    ),
    "other amounts are for so much fibre": lambda one: not one.is_kept and one.of_base,
    "dye and mordant in one bath from the first": lambda one: (
        not one.is_kept and one.step.on == "prepare" and {"dyestuff", "mordant"} <= one.roles
    ),
    "mordant added to a dye bath": lambda one: (
        not one.is_kept
        and one.step.verb == "add"
        and one.kind == "dye"
        and "mordant" in one.roles
        and not any(LATER.search(each.name) for each in one.step.brought)
    ),
    "set apart by a comma": lambda one: not one.is_kept and APART.search(one.between) is not None,
    "several vessels are named": lambda one: (
        one.is_kept and len(_pattern("labelled vessel").findall(one.sentence.words)) > 1
    ),
    "headed by a dash": lambda one: DASHED.search(one.sentence.words) is not None,
    "added to a dye bath": lambda one: (
        not one.is_kept and one.step.verb == "add" and one.kind == "dye"
    ),
    "words not read beside stuff": lambda one: (
        not one.is_kept and one.not_read >= limits.SOME_NOT_READ
    ),
    "what may be": lambda one: one.has_word("may be", one.words),
    "what others say": lambda one: one.has_word("hearsay", one.sentence.words),
    "denied": lambda one: DENIED.search(one.before) is not None,
    "one or each of several": lambda one: ONE_OF.search(one.before) is not None,
    "recipe badly read": lambda one: one.is_kept and one.badly_read > limits.SHARE_BADLY_READ,
    "recipe mostly not read": lambda one: one.badly_read > limits.SHARE_MOSTLY_NOT_READ,
}


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
        spans = [span for one in course.told for span in words_not_read(course.text, one)]
        self.not_read = [(low, high, len(course.text[low:high].split())) for low, high in spans]
        self.not_read_at = [low for low, _, _ in self.not_read]
        every = sum(count for _, _, count in self.not_read)
        self.badly_read = every / max(len(course.text.split()), 1)
        self.last_event: list[int] = []
        last = 0
        for step in course.steps:
            self.last_event.append(last)
            if step.on in ("prepare", "lot") or step.verb in EVENTS:
                last = max(last, step.sentence)

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


@cache
def weights() -> dict[str, float]:
    """The weight of each sign."""
    with WEIGHTS.open(encoding="utf-8", newline="") as file:
        return {row["sign"]: float(row["weight"]) for row in csv.DictReader(file)}


def placings(course: Course) -> Iterator[Placing]:
    """The heats, times and amounts of stuff of every step."""
    ways = _Ways(course)
    for at, step in enumerate(course.steps):
        for clause, amount in step.clauses.items():
            yield Placing(ways, at, step, amount, clause)
        for brought in step.brought:
            for amount in brought.amounts:
                yield Placing(ways, at, step, amount, "")


def signs_of(placing: Placing) -> list[str]:
    """The signs that a placing has."""
    return [name for name, holds in SIGNS.items() if holds(placing)]


def is_doubtful(placing: Placing) -> bool:
    """True where the signs of a placing come to more than one chance in six that it is wrong."""
    known = weights()
    return known[BASE] + sum(known[name] for name in signs_of(placing)) > limits.ENOUGH_DOUBT


def leave_what_signs_speak_against(course: Course) -> None:
    """Take back every placing that has too many signs against it."""
    for one in [each for each in placings(course) if is_doubtful(each)]:
        course.guessed[one.amount.start] = _guess(one.step)
        if one.is_kept:
            one.step.clauses.pop(one.clause, None)
            continue
        for brought in one.step.brought:
            brought.amounts = tuple(each for each in brought.amounts if each is not one.amount)


def _guess(step: Step) -> str:
    """What a placing would have been for, in the words of the draft."""
    if step.bath is None:
        return step.verb
    return f"{step.verb} {step.bath.name}"
