"""Fibre that was wetted before it goes in: "put in the yarn, which has lain a night in water"."""

from __future__ import annotations

import re

from procedure.draft.doings import Doing
from procedure.draft.sentences import Sentence
from procedure.draft.things import Thing

_BEEN = (
    r"(?:(?:must|should|will|ought|may|has|have|had|having|been|be|to|already|previously|first|by|now|then|beforehand"
    r"|just)\s+)+"
)
_LAY = (
    r"(?:lain|lyen|laid|lying|soak(?:ed|ing)|steep(?:ed|ing)|stood|standing|kept|left|wetted|been"
    r"|had|in)\b"
)
# How long, and in what water: "all night in plain water", "in a bucket of tepid water an hour".
_WATER = (
    r"(?:(?!\bthe\b|\band\b|\bwith\b)[^.;,:()])*?\bin\s+(?:an?\s+\w+\s+of\s+)?(?:[a-z-]+\s+){0,2}?"
    r"(?:rain)?water\b"
)
WETTED = re.compile(
    rf"[\s,]*(?:\b(?:which|that|it|they)\s+{_BEEN}|\b(?=having|previously|already|first){_BEEN}){_LAY}"
    rf"{_WATER}(?!\s+(?:of|with|and)\b)[^.;,:()]*",
    re.I,
)
GOES_IN = frozenset(("put", "enter", "dye", "dip", "mordant"))


def with_wetting_first(sentence: Sentence) -> Sentence:
    """The sentence with the wetting of fibre that goes in as a deed of its own, before that."""
    for fibre in [t for p in sentence.parts for t in p.things if t.kind == "fibre"]:
        found = WETTED.match(sentence.text, fibre.end - sentence.start)
        before = [n for n, one in enumerate(sentence.parts) if one.doing.start < fibre.start]
        if found is None or not before or sentence.parts[before[-1]].doing.act not in GOES_IN:
            continue
        if _tells_how_long(sentence, found):
            return _turned(sentence, before[-1], fibre, found)
    return sentence


def _within(sentence: Sentence, found: re.Match[str], start: int) -> bool:
    return found.start() <= start - sentence.start < found.end()


def _tells_how_long(sentence: Sentence, found: re.Match[str]) -> bool:
    """True where a time stands in the words, and nothing but water is named in them."""
    things = [t for p in sentence.parts for t in p.things if _within(sentence, found, t.start)]
    times = [
        a
        for p in sentence.parts
        for a in p.amounts
        if a.kind in ("time", "named wait") and _within(sentence, found, a.start)
    ]
    return len(times) == 1 and all(one.kind == "water" for one in things)


def _turned(sentence: Sentence, index: int, fibre: Thing, found: re.Match[str]) -> Sentence:
    low, high = sentence.start + found.start(), sentence.start + found.end()
    parts = sentence.parts
    goes_in = parts[index]
    inside = [p for p in parts[index + 1 :] if low <= p.doing.start < high]
    rest = [p for p in parts[index + 1 :] if p not in inside]
    every = [goes_in, *inside]
    wetting = goes_in._replace(
        doing=Doing("soak", "wetted", low, low),
        things=(fibre, *[t for p in every for t in p.things if low <= t.start < high]),
        amounts=tuple(a for p in every for a in p.amounts if low <= a.start < high),
        start=low,
        end=high,
        words=found[0],
    )
    kept = goes_in._replace(
        things=tuple(t for p in every for t in p.things if not low <= t.start < high),
        amounts=tuple(a for p in every for a in p.amounts if not low <= a.start < high),
        words=sentence.text[goes_in.start - sentence.start : found.start()],
    )
    return sentence._replace(parts=(*parts[:index], wetting, kept, *rest))
