"""The parts of a sentence in the order of what happens, whatever the order of its words."""

from __future__ import annotations

import re

from procedure.draft.doings import Doing
from procedure.draft.made_for_fibre import with_baths_made_first
from procedure.draft.sentences import Part, Sentence
from procedure.draft.wetted_before import with_wetting_first

PREPARES = frozenset(("boil", "simmer", "soak", "heat", "dissolve", "mordant"))
ASIDE = frozenset(("dye", "mordant", "enter", "dip", "soak", "put"))


def _asides_first(sentence: Sentence) -> list[Part]:
    """The parts with what stands in brackets before the verb that it explains.

    "Dye in weld (60 g, boiled half an hour) for an hour": the weld is boiled first, and the
    hour is that of the dyeing.
    """
    parts = _list_about_an_aside(sentence)
    base = sentence.start
    for index in range(1, len(parts)):
        outer, text = parts[index - 1], sentence.text
        opened = text.rfind("(", outer.doing.end - base, parts[index].doing.start - base)
        closed = text.find(")", parts[index].doing.start - base)
        between = text[opened : parts[index].doing.start - base]
        if outer.doing.act not in ASIDE or parts[index].doing.act not in PREPARES:
            continue
        if opened < 0 or closed < 0 or ")" in between:
            continue
        if (outer.doing.act, parts[index].doing.act) == ("put", "dissolve") and outer.amounts:
            continue  # "add 10 g of iron (dissolved in hot water)": a liquor of what is added
        inside = [p for p in parts[index:] if p.doing.start - base < closed]
        return _turned(parts, index, len(inside), base + opened, base + closed)
    return parts


DONE_BEFORE = frozenset(("scour", "mordant", "wash", "soak"))


def _list_about_an_aside(sentence: Sentence) -> list[Part]:
    """The parts with a list apart from what its brackets say was done before.

    "You get 20 g of wool (scoured, mordanted with 10 % alum), half a cabbage, vinegar".
    """
    parts, text, base = list(sentence.parts), sentence.text, sentence.start
    first = parts[0].doing
    opened = text.rfind("(", 0, max(first.start - base, 0))
    closed = text.find(")", first.end - base)
    if (
        first.act not in DONE_BEFORE
        or opened < 0
        or closed < 0
        or ")" in text[opened : first.start - base]
    ):
        return parts
    inner = [one for one in parts if one.doing.start - base < closed]
    last = inner[-1]
    at = base + closed
    if any(not one.doing.words.endswith("ed") for one in inner) or not any(
        a.start > at for a in last.amounts
    ):
        return parts
    things = tuple(t for t in last.things if t.start > at)
    outer = last._replace(
        doing=Doing("", "", at, at),
        things=things,
        amounts=tuple(a for a in last.amounts if a.start > at),
        start=at,
        words=text[closed : last.end - base],
    )
    inner[-1] = last._replace(
        things=tuple(t for t in last.things if t.start < at),
        amounts=tuple(a for a in last.amounts if a.start < at),
        end=at,
        words=text[last.start - base : closed],
    )
    return [*inner, outer, *parts[len(inner) :]]


def _turned(parts: list[Part], index: int, count: int, opened: int, closed: int) -> list[Part]:
    outer, inner = parts[index - 1], parts[index : index + count]
    every = [outer, *inner]
    things = [t for p in every for t in p.things]
    amounts = [a for p in every for a in p.amounts]
    outside = outer._replace(
        things=tuple(t for t in things if not opened < t.start < closed),
        amounts=tuple(a for a in amounts if not opened < a.start < closed),
    )
    first = inner[0]._replace(
        things=tuple(t for t in things if opened < t.start < inner[0].end and t.start < closed),
        amounts=tuple(a for a in amounts if opened < a.start < inner[0].end and a.start < closed),
    )
    done = inner[0].doing.act == "mordant"  # "wool (mordanted with 10 % alum)"
    named = [
        t for t in outer.things if t.kind == ("fibre" if done else "material") and t.end <= opened
    ]
    first = first._replace(things=(*named[-1:], *first.things))
    rest = [
        p._replace(
            things=tuple(t for t in p.things if t.start < closed),
            amounts=tuple(a for a in p.amounts if a.start < closed),
        )
        for p in inner[1:]
    ]
    return [*parts[: index - 1], first, *rest, outside, *parts[index + count :]]


def _mordanted_first(entry: Part, mordant: Part) -> bool:
    """True for "add premordanted wool (alum 12 %)": what was done before, and what is done."""
    into = entry.doing.act in ("put", "enter") and not entry.things and not entry.amounts
    done = mordant.doing.act == "mordant" and mordant.doing.words.endswith("mordanted")
    return into and done and any(t.kind == "fibre" for t in mordant.things)


# "Once it has cooled", but not "rinse once and enter it".
WHEN = re.compile(
    r"\b(?:when|once(?!\s+(?:and|or|then|more|again|in|with|at|an?|per|only)\b)|as soon as)\b"
    r"[^,;.]*$"
)
# "..., and when it has simmered": what comes next in its own time.
OWN_CLAUSE = re.compile(r"(?:[,;]|\band|\bthen)\s*$", re.I)


# "Lay it in when it is blood warm and let it ...": the clause is whole, and what comes is next.
ITS_OWN = re.compile(
    r"(?:when|once|as\s+soon\s+as)\s+(?:it|they|that|(?:the|your)\s+\w+)\s+(?:is|are|was|were|feels?|looks?|has\s+been|have\s+been)\s+"
    r"(?:[\w-]+\s+){1,6}?(?:and|then)\s",
    re.I,
)


# "Already scoured and well rinsed": a second state behind the first.
AND_SO = re.compile(r"\s*(?:,|,?\s*\band\b)\s+(?:(?:\w+ly|well)\s+)?", re.I)
STATE_ENDS = ("ed", "wrung", "spun")


def _states_end(sentence: Sentence, parts: list[Part], index: int) -> int:
    """The part behind the last that says how fibre was made ready, from one that does."""
    end = index + 1
    while end < len(parts):
        low, high = parts[end - 1].doing.end, parts[end].doing.start
        gap = sentence.text[low - sentence.start : high - sentence.start]
        joined = AND_SO.fullmatch(gap)
        if joined is None or not parts[end].doing.words.endswith(STATE_ENDS):
            break
        end += 1
    return end


def _with_its_stuff(made_ready: Part, used: Part) -> list[Part]:
    """Two parts in order, and the chips of "dye with 4 lb of chips, previously boiled" boiled."""
    stuff = [t for t in used.things if t.kind == "material" and t.start > used.doing.end]
    own = any(t.kind in ("material", "fibre") for t in made_ready.things)
    if made_ready.doing.act not in PREPARES - {"mordant"} or own or not stuff:
        return [made_ready, used]
    if not any(a.kind in ("time", "volume") for a in made_ready.amounts):
        return [used]  # "chips, previously extracted": how they come
    first = stuff[0].start
    theirs = [a for a in used.amounts if a.kind in ("mass", "share", "count")]
    before = [a.start for a in theirs if used.doing.end <= a.start < first]
    at = min([first, *before[-1:]])
    made_ready = made_ready._replace(
        things=(*(t for t in used.things if t.start >= at), *made_ready.things),
        amounts=(*(a for a in used.amounts if a.start >= at), *made_ready.amounts),
    )
    used = used._replace(
        things=tuple(t for t in used.things if t.start < at),
        amounts=tuple(a for a in used.amounts if a.start < at),
    )
    return [made_ready, used]


def in_order(sentence: Sentence) -> list[Part]:
    """The parts in the order of what happens: what has been done before comes first."""
    parts = _asides_first(with_wetting_first(sentence))
    turned = 0  # parts that have been put in their place already
    for index in range(1, len(parts)):
        if index < turned:
            continue
        before = parts[index - 1].words.lower()
        if _mordanted_first(parts[index - 1], parts[index]):
            fibre = tuple(t for t in parts[index].things if t.kind == "fibre")
            entry = parts[index - 1]._replace(things=fibre)
            parts[index - 1], parts[index] = parts[index], entry
            turned = index + 2
            continue
        if parts[index - 1].doing.act == "gather":
            continue  # "you need two skeins, already mordanted": how they come
        when = WHEN.search(before)
        when = None if when is not None and ITS_OWN.match(when[0]) else when
        led = when is not None and not before[: when.start()].strip(" \n-*")
        if (when and not led and not OWN_CLAUSE.search(before[: when.start()])) or re.search(
            r"\b(?:ha(?:s|ve|d)\s+(?:previously\s+|already\s+|first\s+)?been|previously|having\s+been"
            r"|already)\s+"
            r"(?:(?:\w+ly|well|first|just)\s+)?$",
            before,
        ):
            end = _states_end(sentence, parts, index) if when is None else index + 1
            if when is None and end == index + 1:
                parts[index - 1 : end] = _with_its_stuff(parts[index], parts[index - 1])
            else:
                parts[index - 1 : end] = [*parts[index:end], parts[index - 1]]
            turned = end + 1
    return with_baths_made_first(sentence, parts)
