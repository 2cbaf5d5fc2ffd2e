"""Signs that a placing may be wrong: none is sure by itself, and they are weighed together.

Each sign has a weight in ``signs_of_doubt.csv``, worked out from recipes that the reader of the
day had not seen, with how many were right and wrong there (``tests/draft/weighing_signs.py``).
Where the weights of one placing come to too great a chance that it is wrong
(``limits.ENOUGH_DOUBT``), it is taken back and told as not placed.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

from procedure.draft import limits
from procedure.draft.course import Course
from procedure.draft.placings import Placing, of_kind, placings
from procedure.draft.stock import LATER
from procedure.draft.unsettled_steps import Step

WEIGHTS = Path(__file__).with_name("signs_of_doubt.csv")
BASE = "any placing"  # the row with what holds where there is no sign
KEPT = frozenset(("boil", "simmer", "hold", "cool"))
OPENED_AIR = frozenset(("air", "dry", "rest"))
# "For not less than an hour" sets an end, and denies nothing.
DENIED = re.compile(
    r"\b(?:(?:not|no)\b(?!\s+(?:less|fewer|more|longer|later|sooner|under|over|below|above|beyond)\b)|\w+n't\b)",
    re.I,
)
# "Till it is no more than lukewarm": how far it cools.
NO_MORE = re.compile(
    r"\b(?:until|till?)\s[^.;,]*\b(?:no|not)\s+(?:more\s+than|\w+er\s+than|above|over)\s*$", re.I
)
ONE_OF = re.compile(r"\b(?:ones?|each|every)\b", re.I)
APART = re.compile(",")
DASHED = re.compile(r"--|\w\.-")  # "Lac.--Wool is mordanted": the dye that all is about
DAYS = frozenset(("d", "wk", "month"))


Sign = Callable[[Placing], bool]
SIGNS: dict[str, Sign] = {
    "a time that a bath is kept for": lambda one: one.on_bath and one.clause == "for",
    "much is done with one bath": lambda one: one.on_bath and one.done > limits.MUCH_DONE,
    "it": lambda one: one.by_it,
    "it is boiled, simmered or cooled": lambda one: one.by_it and one.step.verb in KEPT - {"hold"},
    "bath without fibre, and nothing was named for long": lambda one: (
        one.on_bath and not one.fibre_in and one.gap > limits.LETTERS_OF_IT
    ),
    "a deed beside it was not followed": lambda one: one.is_kept and one.missed,
    "much was not read since": lambda one: one.on_bath and one.since > limits.MUCH_NOT_READ,
    "another place is named": lambda one: (
        one.is_kept and one.step.verb not in OPENED_AIR and one.has_word("elsewhere", one.words)
    ),
    "days in a bath": lambda one: (
        one.is_kept and one.amount.unit in DAYS and one.step.verb not in OPENED_AIR
    ),
    "wetted": lambda one: one.is_kept and one.step.verb == "wet out",
    "soaked": lambda one: one.is_kept and one.act == "soak",
    "put": lambda one: one.is_kept and one.act == "put",
    "mordant kept without fibre": lambda one: (
        one.on_bath and one.kind == "mordant" and one.step.verb in KEPT and not one.fibre_in
    ),
    "mordanted": lambda one: one.is_kept and one.act == "mordant",
    "stuff that no list knows": lambda one: (
        not one.is_kept and one.amount.kind != "volume" and one.unknown
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
        one.is_kept and len(of_kind("labelled vessel").findall(one.sentence.words)) > 1
    ),
    "headed by a dash": lambda one: DASHED.search(one.sentence.words) is not None,
    "added to a dye bath with fibre in it": lambda one: (
        not one.is_kept and one.step.verb == "add" and one.kind == "dye" and one.fibre_in
    ),
    "words not read beside stuff": lambda one: (
        not one.is_kept and one.not_read >= limits.SOME_NOT_READ
    ),
    "no verb, and words not read": lambda one: (
        one.is_kept and one.step.on == "bath" and not one.act and one.not_read > 0
    ),
    "what may be": lambda one: one.has_word("may be", one.words),
    "what others say": lambda one: one.has_word("hearsay", one.sentence.words),
    "denied": lambda one: (
        DENIED.search(one.before) is not None and NO_MORE.search(one.before) is None
    ),
    "one or each of several": lambda one: ONE_OF.search(one.before) is not None,
    "recipe badly read": lambda one: one.is_kept and one.badly_read > limits.SHARE_BADLY_READ,
    "recipe mostly not read": lambda one: one.badly_read > limits.SHARE_MOSTLY_NOT_READ,
}


@cache
def weights() -> dict[str, float]:
    """The weight of each sign."""
    with WEIGHTS.open(encoding="utf-8", newline="") as file:
        return {row["sign"]: float(row["weight"]) for row in csv.DictReader(file)}


def signs_of(placing: Placing) -> list[str]:
    """The signs that a placing has."""
    return [name for name, holds in SIGNS.items() if holds(placing)]


def is_doubtful(placing: Placing) -> bool:
    """True where the signs of a placing come to too great a chance that it is wrong."""
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
