"""Prose to sentences, and each sentence to what is done in it: a verb, its things, its amounts."""

from __future__ import annotations

import itertools
import re
from bisect import bisect_left, bisect_right
from functools import cache

from procedure.draft.amounts import Amount, amounts
from procedure.draft.lexicon import fibres, materials, meanings, one_of
from procedure.quantity.record import NamedTuple

# Kinds of amounts that measure stuff, and so belong to a thing.
STUFF = frozenset(
    {
        "mass",
        "volume",
        "spoon",
        "share",
        "strength",
        "ratio",
        "loose",
        "odd",
        "count",
        "relative",
        "full",
    }
)


class Thing(NamedTuple):
    """A thing that the prose names: ``kind`` is material, fibre, water, bath, pot or part.

    ``name`` is what the vocabulary calls it.
    """

    kind: str
    name: str
    words: str
    start: int
    end: int


class Doing(NamedTuple):
    """A verb of the prose with the act it stands for; ``act`` is empty where no verb is said."""

    act: str
    words: str
    start: int
    end: int


class Part(NamedTuple):
    """A stretch of a sentence about one verb, with all that is named in it."""

    doing: Doing
    things: tuple[Thing, ...]
    amounts: tuple[Amount, ...]
    start: int
    end: int
    words: str


class Sentence(NamedTuple):
    """A sentence. ``of`` gives for the start of each amount of stuff the thing it measures."""

    number: int
    words: str
    start: int
    end: int
    parts: tuple[Part, ...]
    of: dict[int, Thing]
    left_out: tuple[Doing, ...]


NOT = re.compile(
    r"(?:\b(?:not|never|don't|do not|without|nor|avoid|no|cannot|can't|instead of|before|if|when it|than)\s+(?:to\s+|be\s+|even\s+|\w+ly\s+)?)$",  # noqa: E501
    re.I,
)
NONE = re.compile(r"\b(?:no|not even|not any|without(?: any| the)?|nor|never any|not)\s+$", re.I)
THROUGH = re.compile(r"\bthrough\s+(?:an?\s+|the\s+)?(?:\w+\s+)?$", re.I)
OUT = re.compile(r"\s+(?:it|them|the\s+[\w-]+|[\w-]+)\s+out\b", re.I)
NOUN = re.compile(
    r"\b(?:an?|the|scalding|gentle|boiling|same|strong|moderate|low|high|slow|good|this|that|full|steady|gentler|of)\s+$",
    re.I,
)
ADJECTIVE = re.compile(
    r"(?:^|\b(?:the|of|your|a|an|some|with|into|and|my|fresh|dry|wet)\s+)$", re.I
)
STOP = re.compile(r"[.!?]+[\")\]]*(?=\s|$)|\n\s*\n|;|\n(?=\s*(?:[-*]|\(?\d+[.)])\s)|\n(?=[A-Z>@])")


# A line that ends early ends what it says: a table, a list, a heading.
SHORT_LINE = re.compile(r"(?m)^.{1,52}\n")


@cache
def _words() -> tuple[re.Pattern[str], dict[str, tuple[str, str]]]:
    known: dict[str, tuple[str, str]] = {}
    for kind in ("part", "pot", "water", "bath"):
        for word, means in meanings(kind).items():
            known[word] = (kind, means)
    for word, means in materials().items():
        known.setdefault(word, ("material", means))
    for word, means in fibres().items():
        known[word] = ("fibre", means)
    for word, means in meanings("fibre").items():
        known.setdefault(word, ("fibre", f"={means}"))
    for word, means in meanings("material").items():
        known[word] = ("material", means)
    for word, means in meanings("verb").items():
        known.setdefault(word, ("verb", means))
    return re.compile(rf"(?<![\w'-])(?:{one_of(list(known))})(?![\w'])", re.I), known


def _both(word: str) -> str | None:
    """The act of a word that may be a verb as well as a thing."""
    return meanings("verb").get(word)


def sentences(text: str) -> list[Sentence]:
    """The sentences of an even text."""
    found = amounts(text)
    starts = [0, *(match.end() for match in SHORT_LINE.finditer(text))]
    begun = [one.start for one in found]
    for match in STOP.finditer(text):
        near = bisect_right(begun, match.start()) - 1
        inside = found[near] if near >= 0 and match.start() < found[near].end else None
        follows = text[match.end() :].lstrip()[:1]
        dot = match[0].startswith(".")
        if dot and re.search(
            r"(?:^|\n)\s*\(?\d{1,2}$", text[max(0, match.start() - 8) : match.start()]
        ):
            continue  # the number of a step
        opened = text.rfind("(", max(0, match.start() - 60), match.start())
        if match[0] == ";" and opened > text.rfind(")", 0, match.start()):
            continue
        if inside is not None and dot and not (follows.isupper() and inside.end <= match.end()):
            continue
        if (
            dot
            and not follows.isupper()
            and not _ends_line(text, match.end())
            and follows.isalpha()
        ) and re.search(
            r"\b(?:approx|imp|lb|oz|gal|hr|min|tsp|st|mrs|mr|dr|e\.g|i\.e)$",
            text[max(0, match.start() - 12) : match.start()],
            re.I,
        ):
            continue
        starts.append(match.end())
    starts = [*sorted(set(starts)), len(text)]
    made: list[Sentence] = []
    for start, end in itertools.pairwise(starts):
        if text[start:end].strip(" \n\r\t.;"):
            start += len(text[start:end]) - len(text[start:end].lstrip())
            here = found[bisect_left(begun, start) : bisect_left(begun, end)]
            made.append(_sentence(len(made) + 1, text, start, end, here))
    return made


def _ends_line(text: str, at: int) -> bool:
    return at >= len(text) or text[at] == "\n"


def _sentence(number: int, text: str, start: int, end: int, here: list[Amount]) -> Sentence:
    things, doings, left_out = _named(text, start, end, here)
    parts: list[Part] = []
    begins = [one.start for one in doings]
    if begins and _stands_alone(text[start : begins[0]], here, begins[0]):
        doings.insert(0, Doing("", "", start, start))
        begins.insert(0, start)
    marks = [start, *begins[1:], end] if begins else [start, end]
    for index in range(1, len(doings)):
        marks[index] = _with_subject(text, doings[index - 1].end, doings[index], things)
        for close in reversed([a for a in here if a.kind == "time"]):
            gap = text[close.end : doings[index].start]
            before = text[max(0, close.start - 8) : close.start].rstrip().lower()
            if close.start >= doings[index - 1].end and not gap.strip() and "\n" not in gap:  # noqa: SIM102
                if (
                    gap
                    and not before.endswith(("for", "after", "over", "about"))
                    and close.words[-1] != "."
                ):
                    marks[index] = min(marks[index], close.start)
    for index, (low, high) in enumerate(itertools.pairwise(marks)):
        doing = doings[index] if doings else Doing("", "", start, start)
        parts.append(
            Part(
                doing,
                tuple(t for t in things if low <= t.start < high),
                tuple(a for a in here if low <= a.start < high),
                low,
                high,
                text[low:high],
            )
        )
    return Sentence(
        number,
        " ".join(text[start:end].split()),
        start,
        end,
        tuple(parts),
        _belonging(text, things, here, start, end),
        tuple(left_out),
    )


PASSIVE = re.compile(
    r"ed$|^(?:goes|go|went|enters|gets|get|kept|left|put|laid|is|takes|has|lies|in)\b|\bin$"
)


def _with_subject(text: str, low: int, doing: Doing, things: list[Thing]) -> int:
    """Where the part of a verb begins: at its subject where that comes before it."""
    if not PASSIVE.search(doing.words):
        return doing.start
    breaks = list(re.finditer(r",\s|\band\b|\bthen\b|:", text[low : doing.start]))
    if not breaks:
        return doing.start
    at = low + breaks[-1].end()
    subject = [
        t for t in things if at <= t.start < doing.start and t.kind in ("fibre", "material", "part")
    ]
    return at if subject else doing.start


def _stands_alone(before: str, here: list[Amount], first: int) -> bool:
    """True where what comes before the first verb is a list of its own."""
    stuff = any(a.start < first and a.kind in (*STUFF, "time", "temperature") for a in here)
    return stuff and bool(re.search(r"[,:)]\s*(?:then\s+|and\s+)?$", before))


# How far back a word is looked for that turns the meaning; a sentence is seldom longer.
LOOK_BACK = 600


def _named(
    text: str, start: int, end: int, here: list[Amount]
) -> tuple[list[Thing], list[Doing], list[Doing]]:
    pattern, known = _words()
    things: list[Thing] = []
    doings: list[Doing] = []
    left_out: list[Doing] = []
    at = start
    while match := pattern.search(text, at, end):
        at = match.end()
        over = next((a for a in here if a.start < match.end() and match.start() < a.end), None)
        if over is not None and over.kind not in ("relative", "odd"):
            at = max(over.end, match.start() + 1)
            continue
        word = " ".join(match[0].lower().split())
        kind, means = known[word]
        act = means if kind == "verb" else _both(word)
        if act is not None and over is None and _is_verb(text, match, start, kind):
            if word in (
                "take",
                "took",
                "pull",
                "draw",
                "bring",
                "brought",
                "get",
                "taken",
            ) and OUT.match(text[match.end() : end]):
                act = "lift"
            doing = Doing(act, word, match.start(), match.end())
            (
                left_out
                if NOT.search(text[max(start, match.start() - LOOK_BACK) : match.start()])
                else doings
            ).append(doing)
            inner = pattern.search(text, match.start(), match.end() - 1) if " " in word else None
            if inner and known[inner[0].lower()][0] in ("fibre", "material"):
                things.append(Thing(*known[inner[0].lower()], inner[0], inner.start(), inner.end()))
        elif kind == "verb" and word.endswith(" in") and word[:-3] in known:
            things.append(Thing(*known[word[:-3]], word[:-3], match.start(), match.end() - 3))
        elif (
            kind == "fibre"
            and THROUGH.search(text[max(start, match.start() - LOOK_BACK) : match.start()])
        ) or (
            kind != "verb"
            and NONE.search(text[max(start, match.start() - LOOK_BACK) : match.start()])
        ):
            continue
        elif kind != "verb" and (over is None or over.kind == "relative" or kind == "material"):
            things.append(Thing(kind, means, word, match.start(), match.end()))
    return things, doings, left_out


def _is_verb(text: str, match: re.Match[str], start: int, kind: str) -> bool:  # noqa: C901
    before, behind = (
        text[max(start, match.start() - LOOK_BACK) : match.start()],
        text[match.end() : match.end() + 25],
    )
    word = match[0].lower()
    if word in (
        "heat",
        "boil",
        "simmer",
        "rest",
        "stand",
        "cool",
        "press",
        "scald",
    ) and NOUN.search(before):
        return False
    if word in ("wet", "wetted", "damp", "dampened") and re.match(
        r"\s+(?:\w+\s+)?(?:wool|yarn|silk|cotton|skeins?|fibre|cloth|goods|linen|hanks?)", behind
    ):
        return False
    if word in meanings("kind of bath") and re.search(r"\w\s+to\s+$", before):
        return False
    if (
        word in meanings("state or deed")
        and re.match(r"\s*[,;]|\s+(?:in|and|mind|wool|yarn|silk|cotton)\b", behind)
        and before.strip()
    ):
        return word == "dry" and bool(re.search(r"(?:[,.;]|and|then)\s*$", before))
    if word.endswith(" in") and word not in ("put in", "pop in", "slip in", "stir in"):  # noqa: SIM102
        if not re.match(
            r"\s*(?:[.,;:]|$|for\b|at\b|and\b|then\b|wet\b|boiling|together|\d+/?\d*\s*(?:h|m)|a?n? ?hour)",  # noqa: E501
            behind,
        ):
            return False
    if kind != "verb" and re.search(
        r"\b(?:the|of|a|an|with|some|mild|in|your|no|into|from|dye|this|their|and)\s+$",
        before,
        re.I,
    ):
        return False
    if (
        kind != "verb"
        and before.strip()
        and not re.search(r"[.,;:)]\s*$|\b(?:then|to)\s+$", before)
    ):
        return False
    if word in ("dye", "soap", "air", "feed", "rest", "press", "need", "buy") and re.search(
        r"\b(?:the|a|of|in|into|your|with|some|to the)\s+$", before, re.I
    ):
        return False
    following = re.match(r"\s+(?:\w+\s+)?(\w[\w-]*)", behind)
    adjective = word.endswith(("ed", "t", "n", "y", "d")) and word not in (
        "put",
        "melt",
        "lift",
        "wet out",
        "add",
        "let",
        "take",
    )
    direct = re.match(r"\s+([\w-]+)", behind)
    if adjective and ADJECTIVE.search(before) and direct and following:
        known = _words()[1]
        if known.get(direct[1].lower(), ("", ""))[0] in (
            "material",
            "fibre",
            "water",
            "bath",
            "part",
        ):
            return False
    if re.match(r"\s+(?:it\s+)?for\s", behind) and word.endswith("ing") and word != "dyeing":
        return True
    return not (
        word.endswith("ing")
        and re.search(r"\b(?:before|after|for|of|while|the|natural)\s+$", before, re.I)
    )


SKIPPED = r"(?:of|the|a|an|your|my|our|this|that|same|clean|fresh|dried|dry|wet|damp|wetted|soft|green|good|best|clear|crushed|ground|powdered|chopped|young|small|flowering|fallen|mild|household|freshly|finely|old|whole|strained|finest|white|pure|neutral|cold|hot|warm|boiling|tepid|lukewarm|more|another|ripe|raw|greasy|dry weight of|lightly|scoured|prepared|well|spent|some|natural|mordanted|undyed|black|red|yellow|brown|new)"  # noqa: E501


def _belonging(  # noqa: C901
    text: str, things: list[Thing], here: list[Amount], start: int, end: int
) -> dict[int, Thing]:
    """Which thing each amount of stuff measures, by what is next to it."""
    of: dict[int, Thing] = {}
    named = [
        one for one in things if one.kind in ("material", "fibre", "water", "part", "bath", "pot")
    ]
    for one in here:
        if one.kind not in STUFF and one.kind != "number":
            continue
        ahead = next((t for t in named if t.start >= one.end), None)
        back = next((t for t in reversed(named) if t.end <= one.start), None)
        between = text[one.end : ahead.start] if ahead else "!"
        behind = text[back.end : one.start] if back else "!"
        per = re.search(r"\b(?:per|for|to|every|each)\b|/", one.words) and one.kind in (
            "share",
            "strength",
            "ratio",
        )
        if per and ahead and ahead.kind in ("fibre", "water", "bath"):
            ahead = None
            of_what = re.search(r"\bof\s+([\w ]+?)\s+(?:per|for|to)\b", one.words)
            inside = [t for t in things if of_what and t.words in of_what[1].lower()]
            if of_what and not inside:
                of[one.start] = Thing("part", "part", of_what[1], one.start, one.end)
                continue
        if (
            one.kind == "share"
            and ahead
            and re.match(r"\s+(?:bath|solution|rinse|dip)\b", text[ahead.end : ahead.end + 12])
        ):
            continue  # the strength of a bath
        if ahead and re.search(r"\s(?:The|A|Then)\s", between):
            ahead = None
        if ahead and re.fullmatch(
            rf"\s*\(?(?:us|imp\.?|imperial)?\)?(?:\s*(?:of\s+)?(?:{SKIPPED}\s+)*(?:\w+\s+)?)?",
            between,
            re.I,
        ):
            of[one.start] = _whole(ahead, named, text)
        elif (
            one.kind == "volume"
            and back
            and back.kind == "material"
            and re.search(r"\b(?:to|in|with|into)\s*(?:about\s*)?$", behind)
        ):
            continue
        elif back and re.fullmatch(
            r"[\s,:=(/-]*(?:(?:was|is|were|weighing|weighs|about|around|at|say|approx|of|to|in all|each|dry|powder|paste|used|use|take|ca|x|full|last|max|noil|extract|that|had|to begin with|only|just|it|its|now)[\s.,]*)*[(\"]*\s*(?:\([^()]{0,40}[,:]?\s*)?",  # noqa: E501
            behind,
            re.I,
        ):
            of[one.start] = back
        elif back and one.kind != "loose":
            # A second measure of one thing: "2 tsp, 0.35 oz", "250 g (20 %)".
            earlier = next(
                (e for e in reversed(here) if e.end <= one.start and e.start in of), None
            )
            if earlier and {earlier.kind, one.kind} == {"mass", "volume"}:
                continue  # so much of a solid, and so much water
            if earlier and re.fullmatch(
                r"[\s,()=/-]*(?:or\s+)?(?:about\s+)?", text[earlier.end : one.start]
            ):
                of[one.start] = of[earlier.start]
    return of


def _whole(thing: Thing, named: list[Thing], text: str) -> Thing:
    """The plant rather than its part, for "the bark of alder", and silk for "silk scarf"."""
    later = next((t for t in named if t.start >= thing.end), None)
    if later and thing.kind == "part" and later.kind == "material":  # noqa: SIM102
        if re.fullmatch(r"\s+of\s+(?:the\s+)?", text[thing.end : later.start]):
            return later
    return thing
