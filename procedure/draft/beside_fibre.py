"""What stands beside fibre where it is declared: "100 g of clean wool", "alum-mordanted silk".

It is no deed. What the fibre was mordanted with is declared; what else it is said to be stands in
quotation marks behind the lot, since the language has no state for it.
"""

from __future__ import annotations

import re
from functools import cache

from procedure.draft.course import Course
from procedure.draft.lexicon import materials, meanings, one_of
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.draft.shares import Lot
from procedure.draft.stock import Measured, role_of
from procedure.draft.things import Thing

MORDANTED = re.compile(
    r"\b(?:ready[\s-]+|pre-?)?(?P<first>[a-z]+)(?:\s*(?:and|&|/|\+|-)\s*(?P<second>[a-z]+))?"
    r"[\s-]+mordanted\b"
    r"|\b(?:ready[\s-]+|pre-?)?(?P<alumed>alumed)\b",
    re.I,
)
# "50 g of mordanted wool": with what, nobody says.
ALONE = re.compile(r"(?<![\w-])(?<!not )(?:ready[\s-]+|pre-?)?mordanted(?=\s+[a-z])", re.I)
JOIN = re.compile(r"[\s(]*(?:,\s*)?(?:(?:and|but|already|all|well|freshly|newly|of)\s+)*", re.I)
GAP = re.compile(r"(?:[\s,(]|\b(?:of|in|the|some|my|your|about|each|weighing|yarn)\b)*", re.I)


@cache
def _states() -> re.Pattern[str]:
    states = one_of(list(meanings("state of fibre")))
    return re.compile(rf"\b(?:well[\s-]+)?(?:{states})\b(?:\s+beforehand)?(?!-)", re.I)


def beside_fibre(course: Course, sentence: Sentence, lot: Lot) -> tuple[list[str], list[Span]]:
    """What is declared of a lot by the words about its weight or number, and where they stand.

    A mordanting that the words tell is noted with the lot.
    """
    low, high = _about(course, sentence, lot)
    if low >= high:
        return [], []
    high = _with_what_follows(course.text, high, sentence.end)
    spans = _mordanted(course, lot, low, high)
    states = [one.span() for one in _states().finditer(course.text, low, high)]
    said = dict.fromkeys(" ".join(course.text[a:b].split()).lower() for a, b in states)
    scoured = [one for one in said if "scoured" in one]
    rest = ", ".join(one for one in said if one not in scoured)
    told = [*(["scoured"] if scoured else []), *([f'"{rest}"'] if rest else [])]
    return told, [*spans, *states]


def _about(course: Course, sentence: Sentence, lot: Lot) -> Span:
    """From the first to the last word of a sentence about a lot; nothing where there is none."""
    told = [
        one
        for one in (lot.weight, lot.pieces, lot.each)
        if one is not None and sentence.start <= one.start < sentence.end
    ]
    if not told:
        return 0, 0
    low, high = min(one.start for one in told), max(one.end for one in told)
    things = [thing for part in sentence.parts for thing in part.things if thing.kind == "fibre"]
    for thing in sorted(things, key=lambda one: one.start):
        if thing.start >= high and _is_near(course.text, high, thing):
            high = max(high, thing.end)
    for thing in sorted(things, key=lambda one: -one.start):
        if thing.end <= low and GAP.fullmatch(course.text, thing.end, low):
            low = min(low, thing.start)
    ahead = _ahead(course.text, sentence.start, low)
    return (ahead[0][0] if ahead else low), high


def _is_near(text: str, end: int, thing: Thing) -> bool:
    """True where only words about the fibre stand between its amount and its name."""
    between = _states().sub("", MORDANTED.sub("", text[end : thing.start]))
    return GAP.fullmatch(between) is not None


def _ahead(text: str, start: int, end: int) -> list[Span]:
    """States right before what tells of the lot: "washed wool, 100 g"."""
    found = [one.span() for one in _states().finditer(text, start, end)]
    return [one for one in found if GAP.fullmatch(text, one[1], end)]


def _with_what_follows(text: str, at: int, end: int) -> int:
    """The end of the states that follow: "wool yarn, 100 g, washed and undyed"."""
    while join := JOIN.match(text, at, end):
        state = _states().match(text, join.end(), end)
        mordanted = MORDANTED.match(text, join.end(), end)
        if state is None and (mordanted is None or not _salts(mordanted)):
            break
        at = (mordanted or state).end()  # type: ignore[union-attr]
    return at


def _mordanted(course: Course, lot: Lot, low: int, high: int) -> list[Span]:
    """Where the words tell what the fibre was mordanted with; it is noted with the lot."""
    spans: list[Span] = []
    for match in MORDANTED.finditer(course.text, low, high):
        salts = _salts(match)
        if salts and not lot.is_mordanted:
            lot.is_mordanted = True
            lot.mordanted += [
                Measured(Thing("material", each, each, *match.span()), (), 0) for each in salts
            ]
        if salts:
            spans.append(match.span())
    plain = ALONE.search(course.text, low, high) if not lot.is_mordanted else None
    if plain is not None:
        lot.is_mordanted = True
        spans.append(plain.span())
    return spans


def _salts(match: re.Match[str]) -> list[str]:
    """The mordants of "alum-mordanted", "alum and tartar mordanted"; none where one is none."""
    said = ["alum"] if match["alumed"] else [match["first"], match["second"]]
    names = [materials().get(one.lower(), "") for one in said if one]
    things = [Thing("material", one, one, 0, 0) for one in names]
    known = all(role_of([Measured(one, (), 0)]) == "mordant" for one in things)
    return names if known and all(names) else []
