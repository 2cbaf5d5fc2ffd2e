"""Amounts as people say them: bounds, numbers in words, “per”, and articles.

``at most 60 °C``, ``1 h or more``, ``half an hour``, ``two thirds of kettle``, ``1 oz to the
gallon``: each is one token here, so that the grammar stays that of figures and units. Which
words make a bound is in :data:`BOUNDS` and :data:`BEYOND`; what a number in words comes to
is told in :mod:`procedure.language.numbers_in_full`.
"""

from __future__ import annotations

import re
from functools import cache

from procedure.language.numbers_in_full import (
    IN_FULL,
    NUMBERS,
    OLD_MEASURES,
    PARTS,
    UP_TO_TWELVE,
    WHOLE,
)
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"

# Words that widen an amount by its last digit.
ABOUT = ("about", "approximately", "approx", "roughly", "around", "circa", "ca")
_ABOUT = f"(?:{'|'.join(ABOUT)})\\.?"

# Before an amount: which end it says, and whether it is held over the steps that follow.
BOUNDS: dict[str, str] = {
    **dict.fromkeys(
        (
            *("at least", "at the least", "no less than", "not less than", "not under", "above"),
            *("no fewer than", "not below", "no cooler than", "more than", "hotter than"),
            *("upwards of", "no shorter than", "longer than", "never below", "never under"),
            *("at the very least", "a minimum of", "minimum", "just over", "well over", "over"),
            *("not cooler than", "not shorter than", "not lower than", "no lower than", "min"),
            *(">", ">=", "≥"),
        ),
        "least",
    ),
    **dict.fromkeys(
        (
            *("at most", "at the most", "no more than", "not more than", "not over", "not above"),
            *("below", "under", "less than", "up to", "no hotter than", "no longer than"),
            *("cooler than", "never above", "never over", "never more than", "never hotter than"),
            *("at the very most", "a maximum of", "maximum", "max", "just under", "just below"),
            *("not hotter than", "not longer than", "not higher than", "no higher than"),
            *("<", "<=", "≤"),
        ),
        "most",
    ),
}
# How little an amount may be exceeded by; how much that is, nobody says.
_SLIGHTLY = ("a bit", "a little", "a touch", "a little bit", "slightly", "somewhat", "even", "much")
_LONGER = ("more", "longer", "hotter", "above", "over", "warmer")
_SHORTER = ("less", "below", "cooler", "shorter", "under", "fewer")
# Behind an amount.
BEYOND: dict[str, str] = {
    **dict.fromkeys(
        (
            *[f"or {word}" for word in _LONGER],
            *[f"or {by} {word}" for by in _SLIGHTLY for word in _LONGER],
            *("and more", "and longer", "and above", "at the least", "at least", "and over"),
            *("at the very least", "minimum", "and a bit", "plus a bit", "and a little more"),
        ),
        "least",
    ),
    **dict.fromkeys(
        (
            *[f"or {word}" for word in _SHORTER],
            *[f"or {by} {word}" for by in _SLIGHTLY for word in _SHORTER],
            *("at the most", "at most", "and below", "and no more", "and no hotter"),
            *("and no longer", "but no more", "but no hotter", "but no longer"),
            *("at the very most", "maximum", "max"),
        ),
        "most",
    ),
    **dict.fromkeys(("or so", "or thereabouts", "give or take"), "about"),
}
# The first words of all of these: others need not be looked at.
FIRST_WORDS = frozenset(
    [
        phrase.split(" ", 1)[0]
        for phrase in (*BOUNDS, *BEYOND, *NUMBERS, *"weight times the per to for as".split())
    ]
)
_BY_WEIGHT = tuple(
    f"{times}the {dry}weight of " for times in ("", "times ") for dry in ("", "dry ")
)
_THE_WEIGHT_OF = r"(?:times )?the (?:dry )?weight of(?=\s)"
_ARTICLE = r"\s+[^\W\d_]"


class Spoken(NamedTuple):
    """A token found: its kind, and where it ends. An article is of kind ``SKIP``."""

    kind: str
    stop: int


# Units that are words of another kind in a line.
_LIKE_WORDS = frozenset(("in",))


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    """Bounds before an amount, bounds after one, numbers in words, and an amount."""
    words = vocabulary()
    heats = "|".join(_longest(words.heats))
    # “one in weld-bath” is a lot in a bath and no inch: units of a letter or two are left out.
    of_hours = (unit for unit in words.units if len(unit) > 2 or unit == "hr")
    units = "|".join(map(re.escape, _longest(of_hours)))
    loose = "|".join(_longest(words.names("loose")))
    numbers = "|".join((IN_FULL, *_longest(NUMBERS)))
    many = "|".join((IN_FULL, *_longest(NUMBERS.keys() - {"a", "an"})))
    amount = (
        rf"(?:{_ABOUT}\s+)?(?:[0-9.{VULGAR}]|(?:{heats}|{loose}|pH)\b"
        rf"|(?:{numbers})\s+(?:{units})\b|(?:twice|thrice)\b)"
    )
    # “<80 °C” needs no blank between.
    ahead = rf"(?:(?=\s+{amount})|(?<=[<>=≤≥])(?=[0-9.{VULGAR}]))"
    before = pattern(rf"(?:{'|'.join(_longest(BOUNDS))}){ahead}")
    after = pattern(rf"(?:{'|'.join(_longest(BEYOND))})\b")
    further = rf"(?:\s+(?:or|to)\s+(?:{many}))?"
    # “thirty °C” and “two oz”, but an article may be before a name of one letter.
    short = "|".join(re.escape(unit) for unit in _longest(words.units.keys() - _LIKE_WORDS))
    in_short = rf"(?:{many})(?={further}\s+(?:{short})(?![\w-]))"
    others = "wof|owf|times|of|full|waters|changes|weight as|the (?:dry )?weight of"
    behind = rf"(?:{units}|(?:{'|'.join(OLD_MEASURES)})s?|{others})"
    measured = rf"(?={further}\s+{behind}(?![\w-]))"
    parts = "|".join(f"(?:a|one) {part}" for part in PARTS)
    # “half its weight”, “twice the yarn's weight”, “one part”; “a heavy weight” counts nothing.
    of_weight = r"(?:the )?(?:[^\W\d_]\S* )?(?:own |dry )?weight\b|parts?\b"
    weighed = rf"(?:{many})(?=\s+(?:{of_weight}))"
    counted_out = rf"(?:{numbers}){measured}|{weighed}|{in_short}|(?:{parts})(?=\s+part of\s)"
    return before, after, pattern(counted_out), pattern(_AMOUNT)


def _longest(phrases: object) -> list[str]:
    return sorted(phrases, key=len, reverse=True)  # type: ignore[call-overload,no-any-return]


_NUMBER = rf"(?:[0-9]+[\s-]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.?[0-9]+\s?[{VULGAR}]?|[{VULGAR}])"
_AMOUNT = (
    rf"\s*(?:{_ABOUT}\s+)?{_NUMBER}(?:\s*(?:to|[-–—])\s*{_NUMBER})?\s*"
    r"(?P<unit>%|[°℃℉]?\s?(?:deg(?:rees)? )?[^\W\d_]+|[°℃℉])"
)
_SPOKEN = rf"{IN_FULL}|(?:half )?an?|{'|'.join(sorted(WHOLE, key=len, reverse=True))}"
# Behind these a bound belongs to the amount of the clause that they open.
_OPENS_AMOUNT = frozenset(
    "AT FOR TO OVER UNTIL FROM LPAR OF REPEAT EVERY COMMA AND WITH VERB PER".split()
)
# Words that say a bound behind these alone.
_BEGINS_BOUND = {"over": ("FOR",), "min": ("FOR", "AT", "OVER")}
_MAY_END_AMOUNT = frozenset("UNIT HEAT WAIT NUMBER BASIS TIMES BEYOND NAME".split())


def spoken(word: str, text: str, at: int, previous: str) -> Spoken | None:
    """The spoken phrase that starts with ``word``, one of ``FIRST_WORDS``, at ``at``, or None."""
    if not text.startswith(_openings()[word], at):
        return None
    # The patterns hold every unit and heat: they are made only for a line that needs them.
    # Over an hour, after “for”; “over 45 min” by itself is a clause, and so is “min” a unit.
    begun = text.startswith(_begun(BOUNDS, word), at) and previous in _BEGINS_BOUND.get(
        word, (previous,)
    )
    if begun and (found := _patterns()[0].match(text, at)):
        if text.startswith(_heats_with_a_bound(), at):
            return None
        return Spoken(_bound(text, found.end(), previous), found.end())
    ended = previous in _MAY_END_AMOUNT or (previous == "COMMA" and word == "or")
    begun = ended and text.startswith(_begun(BEYOND, word), at)
    if begun and (found := _patterns()[1].match(text, at)):
        return Spoken("BEYOND", found.end())
    return (
        _per(text, at, previous)
        or _as_long(text, at)
        or _number(word, text, at, previous)
        or _article(word, text, at)
    )


@cache
def _heats_with_a_bound() -> tuple[str, ...]:
    """Names of heats that begin as a bound does: just below the boil is a heat with both ends."""
    bounds = tuple(f"{bound} " for bound in BOUNDS if bound.isascii())
    return tuple(name for name in vocabulary().heats if name.startswith(bounds))


@cache
def _all_begun() -> dict[tuple[int, str], tuple[str, ...]]:
    found: dict[tuple[int, str], tuple[str, ...]] = {}
    for table in (BOUNDS, BEYOND, NUMBERS):
        for phrase in table:
            key = (id(table), phrase.split(" ", 1)[0])
            found[key] = (*found.get(key, ()), phrase)
    return found


def _begun(table: object, word: str) -> tuple[str, ...]:
    """The phrases of a table that begin with a word; none where there are none."""
    return _all_begun().get((id(table), word), ())


# How what is told apart below begins, besides the phrases of the tables.
_TOLD_APART = (
    *("per", "a", "an", "to the", "for each", "to each", "for every", "to every", "as long as"),
    *("weight as", "the", "times the", "once", "twice", "thrice"),
)


@cache
def _openings() -> dict[str, tuple[str, ...]]:
    """How a phrase of spoken amounts can begin, by its first word; most words begin none."""
    found: dict[str, tuple[str, ...]] = dict.fromkeys(FIRST_WORDS, ())
    for phrase in (*_TOLD_APART, *BOUNDS, *BEYOND, *NUMBERS):
        word = phrase.split(" ", 1)[0]
        found[word] = (*found[word], phrase)
    return found


def counted(text: str) -> bool:
    """True where a text begins with a whole number in words."""
    return text.split(" ", 1)[0] in WHOLE or pattern(IN_FULL).match(text) is not None


def _bound(text: str, end: int, previous: str) -> str:
    """A bound of the amount of its clause, or a clause of its own: a heat or a time."""
    if previous == "PH":  # pH at least 8
        return "BOUND"
    if previous in _OPENS_AMOUNT - {"COMMA", "AND", "WITH", "VERB"}:
        return "BOUND"
    heat_or_time = _kind_ahead(text, end) in ("temperature", "time", "")
    return "LIMIT" if heat_or_time else "BOUND"


def _kind_ahead(text: str, end: int) -> str:
    """The kind of the unit of the amount at ``end``; empty for a heat word."""
    found = _patterns()[3].match(text, end)
    if found is None:
        words = text[end:].split()
        loose = vocabulary().names("loose")
        spoon = any(text[end:].lstrip().startswith(f"{one} ") for one in loose)
        if words[:1] in (["twice"], ["thrice"]):
            return "rounds"
        return "loose" if spoon or words[:1] == ["pH"] else ""
    unit = vocabulary().units.get(found["unit"].strip())
    return unit.kind if unit is not None else "unknown"


def _per(text: str, at: int, previous: str) -> Spoken | None:
    """``per lb``, ``to the gallon``; after an amount only."""
    if previous not in ("UNIT", "NAME", "LOOSE"):
        return None
    if text.startswith("per ", at):
        return Spoken("PER", at + 3)
    if previous == "UNIT" and text.startswith(("a ", "an "), at):
        return Spoken("PER", text.index(" ", at)) if _measured(text, text.index(" ", at)) else None
    if text.startswith(("to the ", "for each ", "to each ", "for every ", "to every "), at):
        end = text.index(" ", text.index(" ", at) + 1)
        unit = pattern(r"\s+([^\W\d_]+(?: [^\W\d_]+)?)").match(text[end:])
        known = vocabulary().units
        if unit and (unit[1] in known or unit[1].split(" ")[0] in known):
            return Spoken("PER", end)
    return None


def _measured(text: str, at: int) -> bool:
    """True where a unit of weight or volume comes next: the litre of “3 g a litre”."""
    found = pattern(r"\s+([^\W\d_]+)").match(text[at:])
    unit = vocabulary().units.get(found[1]) if found else None
    return unit is not None and unit.kind in ("mass", "volume")


def _as_long(text: str, at: int) -> Spoken | None:
    found = pattern(_AS_LONG).match(text, at) if text.startswith("as long as ", at) else None
    return Spoken("AS_LONG", found.end() - 1) if found else None


# “as long as it was dipped” says no more than “as long as dipped”.
_AS_LONG = r"as long as (?:(?:it|they|the \w+) (?:was|were|is|are|has been|have been|had been) )?"


def _number(word: str, text: str, at: int, previous: str) -> Spoken | None:
    if previous == "REPEAT":
        for phrase in ("once more", "twice more", "once", "twice", "thrice"):
            if text.startswith(phrase, at) and not text[at + len(phrase) :][:1].isalnum():
                return Spoken("OFTEN", at + len(phrase))
    if previous == "BOUND" and word in ("twice", "thrice"):  # at least twice the weight of yarn
        measured = number_in_words(word, text, at)
        return Spoken("NUMBER", measured) if measured else Spoken("OFTEN", at + len(word))
    if text.startswith("weight as ", at):
        return Spoken("OF", at + 9) if previous == "NUMBER" else None
    if text.startswith(_BY_WEIGHT, at):
        found = pattern(_THE_WEIGHT_OF).match(text, at)
        return Spoken("OF", found.end()) if found and previous == "NUMBER" else None
    end = number_in_words(word, text, at)
    return Spoken("NUMBER", end) if end else None


def number_in_words(word: str, text: str, at: int) -> int:
    """Where the number in words ends that starts with ``word`` at ``at``; 0 where none does.

    What it counts or measures must come next: ``half a pound``, ``two skeins``.
    """
    if not _begun(NUMBERS, word):
        return 0
    found = _patterns()[2].match(text, at)
    return found.end() if found else 0


def number_of_vessels(word: str, text: str, at: int) -> int:
    """Where the number ends in “two stainless steel pots” or “four burners”; 0 where none does.

    ``word`` stands at ``at`` among the words that describe a thing.
    """
    if word not in UP_TO_TWELVE:
        return 0
    described = text[at + len(word) :].split(",", 1)[0].split()[:4]
    if not described or described[0][0].isdigit():
        return 0  # two 10 litre tubs: the next number would be lost behind it
    known = vocabulary()
    named = any(known.find(one, "vessel") or known.find(one, "heater") for one in described)
    return at + len(word) if named else 0


def _article(word: str, text: str, at: int) -> Spoken | None:
    """“the” before a name says nothing: it is read over."""
    if word != "the" or not pattern(_ARTICLE).match(text, at + 3):
        return None
    named = any(
        text.startswith(heat, at) and not text[at + len(heat) :][:1].isalpha()
        for heat in vocabulary().heats
        if heat[:4] == "the "
    )
    return None if named else Spoken("SKIP", at + 3)


def range_of_measures(text: str, at: int, unit: str) -> bool:
    """True where ``to`` at ``at`` goes on with another amount of the kind of ``unit``.

    So ``1 h to 1 h 30 min`` is a range; ``40 °C to 80 °C`` stays two clauses.
    """
    known = vocabulary().units
    if unit not in known or known[unit].kind not in ("time", "mass", "percent"):
        return False
    end = at + (2 if text.startswith("to", at) else 1)
    found = re.match(rf"\s*(?:{_NUMBER}|{_SPOKEN})\s*(%|[^\W\d_]+)", text[end:])
    return found is not None and found[1] in known and known[found[1]].kind == known[unit].kind
