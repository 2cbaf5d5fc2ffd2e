"""Prose to sentences, and each sentence to what is done in it: a verb, its things, its amounts."""

from __future__ import annotations

import itertools
import re
from bisect import bisect_left, bisect_right

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.belonging import STUFF, belonging
from procedure.draft.doings import TO_THE, Doing, named
from procedure.draft.how_many import with_counts
from procedure.draft.leftovers import unread
from procedure.draft.line_ends import breaks
from procedure.draft.listed_for import listed_for
from procedure.draft.no_quantities import without_quantity
from procedure.draft.of_each import of_each
from procedure.draft.plant_by_part import with_unknown_plants
from procedure.draft.prose_amounts import amounts
from procedure.draft.restated import GOES_ON, give_restated
from procedure.draft.things import Thing, known_words
from procedure.draft.unit_again import with_units_again
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary


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
    text: str


STOP = re.compile(
    r"(?<=[A-Za-z]{2})\.-+\s*(?=[A-Z])|[.!?]+[\")\]]*(?=\s|$)|\n\s*\n|;|\s·(?=\s)|(?:-+>|=>|→)(?!\s*\d)"
)


def sentences(text: str) -> list[Sentence]:
    """The sentences of an even text."""
    found = amounts(text)
    starts = [0, *breaks(text)]
    begun = [one.start for one in found]
    for match in STOP.finditer(text):
        near = bisect_right(begun, match.start()) - 1
        inside = found[near] if near >= 0 and match.start() <= found[near].end else None
        follows = text[match.end() :].lstrip()[:1]
        dot = match[0].startswith(".")
        if dot and re.search(
            r"(?:^|\n)\s*\(?\d{1,2}$", text[max(0, match.start() - 8) : match.start()]
        ):
            continue  # the number of a step
        if (")" in match[0] and follows.islower()) or (dot and GOES_ON.match(text, match.end())):
            continue  # an aside that ends with its own mark; "8 % of galls. So 28 g."
        if dot and _is_a_short_form(text, match.start()):
            continue
        opened = text.rfind("(", max(0, match.start() - 60), match.start())
        bracketed = opened > text.rfind(")", 0, match.start())
        if match[0] == ";" and (bracketed or _is_in_a_card(text, match)):
            continue
        ends = inside is None or inside.end <= match.end()
        goes_on = not (ends and (follows.isupper() or not follows))
        if (
            inside is not None
            and dot
            and goes_on
            and (
                match.start() < inside.end
                or SHORT.search(inside.words)
                or SCALE.search(inside.words)
            )
        ):
            continue
        if inside is not None and dot and _unit_before_thing(text, inside, match.end()):
            continue
        if (
            dot
            and not follows.isupper()
            and not _ends_line(text, match.end())
            and follows.isalpha()
        ) and re.search(
            r"\b(?:approx|imp|lbs?|ozs?|gals?|pts?|qts?|hrs?|mins?|tsps?|mrs|mr|dr|e\.g|i\.e|o\.w\.f|w\.o\.f)$",
            text[max(0, match.start() - 12) : match.start()],
            re.I,
        ):
            continue
        if (
            dot
            and (follows.isdigit() or follows in "(=")
            and SHORT_BEFORE_FIGURE.search(text[max(0, match.start() - 12) : match.start()])
        ):
            continue
        starts.append(match.end())
    starts = [*(at for at in sorted(set(starts)) if not _amid(found, begun, at)), len(text)]
    starts = [one for pair in itertools.pairwise(starts) for one in _cut(text, *pair, found, begun)]
    starts.append(len(text))
    made: list[Sentence] = []
    for start, end in itertools.pairwise(starts):
        if text[start:end].strip(" \n\r\t.;"):
            start += len(text[start:end]) - len(text[start:end].lstrip())
            here = found[bisect_left(begun, start) : bisect_left(begun, end)]
            made.append(_sentence(len(made) + 1, text, start, end, here))
    return made


def _is_in_a_card(text: str, stop: re.Match[str]) -> bool:
    """True for a semicolon in a row of a card, "MORDANT: alum 12 %; 80 °C; 1 h"."""
    figures = FIGURES.match(text, stop.end()) is not None
    return figures and CARD.match(text, text.rfind("\n", 0, stop.start()) + 1) is not None


def _is_a_short_form(text: str, dot: int) -> bool:
    """True for the dot of "St. Ives", "C. of tartar" and "sulph. of iron"."""
    titled = re.search(r"\b(?:St|Mrs|Mr|Dr)$", text[max(0, dot - 4) : dot])
    return titled is not None or OF_WHAT.match(text, dot - 1) is not None


# A word shortened to its first letters before what it is of.
OF_WHAT = re.compile(r"(?:(?<![A-Za-z])C|(?<=sulp)h|(?<=bicar)b|(?<=chlo)r)\.\s+of\s", re.I)
FIGURES = re.compile(r"\s*(?:\d|LR\b)")
# The head of a row of a card, in capitals.
CARD = re.compile(r"[A-Z]{3,}(?:[ -][A-Z]+){0,2}:[ \t]")
# "Logwood ext. 3 %": words that are shortened before a figure.
SHORT_BEFORE_FIGURE = re.compile(
    r"\b(?:l\.r|ext|approx|ca|abt|powd|cryst|pkt|wt|(?<!\d)(?<!\d\s)(?:min|max))$", re.I
)
CUT = re.compile(r"[,;]\s|\n|\s(?=(?:and|then)\s)")


def _cut(text: str, start: int, end: int, found: list[Amount], begun: list[int]) -> list[int]:
    """Where the pieces of a stretch without a full stop begin, none of them too long."""
    made = [start]
    while end - made[-1] > limits.LONGEST_SENTENCE:
        low, high = made[-1] + limits.LONGEST_SENTENCE // 2, made[-1] + limits.LONGEST_SENTENCE
        places = [one.end() for one in CUT.finditer(text, low, high)]
        places = places or [one.end() for one in re.compile(r"\s").finditer(text, low, high)]
        free = [at for at in places if not _amid(found, begun, at)]
        made.append(free[-1] if free else high)
    return made


SHORT = re.compile(
    r"(?:[ow]\.?[ow]\.?f|p\.?c|lbs?|ozs?|grs?|gals?|pts?|qts?|grms?|drs?|cwt|per\s+cent)\.?$", re.I
)


SCALE = re.compile(r"\d\s?°?\s?[CF]$")  # "at 110 F. for a day"


MEASURED_ITSELF = re.compile(r"[^\S\n]*:?[^\S\n]*[\d½¼¾]")  # "BATH 150 GAL. ALUM 5 LB."


def _unit_before_thing(text: str, inside: Amount, at: int) -> bool:
    """True for "2 lbs. Fustic": the unit is shortened, and what it measures has a capital."""
    if inside.kind not in ("mass", "volume", "odd") or not SHORT.search(inside.words):
        return False
    pattern, known = known_words()
    gap = re.compile(r"\s*").match(text, at)
    found = pattern.match(text, gap.end() if gap else at)
    if found is None or MEASURED_ITSELF.match(text, found.end()):
        return False
    kind = known[" ".join(found[0].lower().split())][0]
    return kind in ("material", "fibre", "part", "water")


def _amid(found: list[Amount], begun: list[int], at: int) -> bool:
    """True where a place lies within an amount, which belongs to one sentence."""
    near = bisect_left(begun, at) - 1
    return near >= 0 and found[near].start < at < found[near].end


def _ends_line(text: str, at: int) -> bool:
    return at >= len(text) or text[at] == "\n"


def _sentence(number: int, text: str, start: int, end: int, here: list[Amount]) -> Sentence:
    things, doings, left_out = named(text, start, end, here)
    things = with_unknown_plants(text, things, start)
    listed = listed_for(text, start, end, here, things)
    if listed is not None:
        things, doings, left_out = [listed[0]], [], []
    here = [*here, *_spoken_heats(text, start, end, here, doings, left_out)]
    spans = [(one.start, one.end) for one in here]
    spans += [(one.start, one.end) for one in things]
    spans += [(one.start, one.end) for one in (*doings, *left_out) if not _says_how_much(one, here)]
    here = [*here, *unread(text, start, end, spans, things)]
    here.sort(key=lambda one: one.start)
    parts: list[Part] = []
    begins = [one.start for one in doings]
    first = _time_before(text, here, begins[0]) if begins else start
    if begins and _stands_alone(text[start:first], here, first):
        doings.insert(0, Doing("", "", start, start))
        begins.insert(0, start)
    marks = [start, *begins[1:], end] if begins else [start, end]
    for index in range(1, len(doings)):
        marks[index] = _with_subject(text, doings[index - 1], doings[index], things)
        so_warm = WHEN_SO_WARM.search(text, doings[index - 1].end, doings[index].start)
        marks[index] = min(marks[index], so_warm.start("when")) if so_warm else marks[index]
        for close in reversed([a for a in here if a.kind == "time"]):
            gap = text[close.end : doings[index].start]
            before = text[max(0, close.start - 8) : close.start].rstrip().lower()
            own = not text[doings[index - 1].end : close.start].strip()  # "simmered ten minutes"
            behind = close.start >= doings[index - 1].end and not own
            if behind and not gap.strip() and "\n" not in gap:
                rise = RISE_BEFORE.search(text, max(0, close.start - 24), close.start)
                if rise and doings[index].act in RISES_NEXT:
                    marks[index] = min(marks[index], rise.start())
                if (
                    gap
                    and not before.endswith(("for", "after", "over", "about"))
                    and close.words[-1] != "."
                ):
                    marks[index] = min(marks[index], close.start)
    of = belonging(text, things, here, start, end)
    if listed is not None:
        of[listed[1].start] = listed[0]
    give_restated(text, here, things, of)
    for one in here:
        if one.kind == "volume" and OF_IT.match(text, one.end) and one.start in of:
            del of[one.start]  # "add 120 ml of it to 4 litres of water"
    here = [without_quantity(text, one, things, start) for one in here]
    here = with_units_again(text, of_each(text, here, things, of), of)
    here = with_counts(text, here, things, of)
    here = [
        _counted(text, one if _is_said(text, one, things, of) else one._replace(kind="figure"), of)
        for one in here
    ]
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
        of,
        tuple(left_out),
        text[start:end],
    )


OF_IT = re.compile(r"\s+of\s+(?:it|this|that|them)\b", re.I)
# "Over the next hour bring it to a simmer": the time is that of the verb behind it.
RISE_BEFORE = re.compile(
    r"\b(?:over|in|within|during)\s+(?:the\s+(?:next|course\s+of)\s+|about\s+)?$", re.I
)
RISES_NEXT = frozenset(("heat", "boil", "simmer", "cool"))
PASSIVE = re.compile(
    r"ed(?: about)?$|^(?:goes|go|went|enters|gets|get|kept|left|put|laid|is|takes|has|lies|in)\b"
    r"|\bin$|^lain"
)


RELATIVE = re.compile(r"\b(?:which|that)\s+(?:has|have|had|was|were)\s+(?:\w+\s+)?\Z", re.I)


# "Let the skeins sit in it": what is let stands before the verb that says what it does.
LET = re.compile(
    r"\b(?:let|leave|allow)\s+(?:the|your|my|all|those|these)\s+(?:[\w-]+\s+){1,3}?(?:to\s+)?\Z",
    re.I,
)


# "My skeins, which weighed 300 g together, went into the pot", "the wool, 300 g, is put in".
WHICH_IS = re.compile(r",\s[^,;.:!?]{1,48},\s*(?:is|are|was|were|then|all|now)?\s*\Z", re.I)
# "Boil it an hour, and when it is lukewarm put in the wool": the heat is that of the next deed.
WHEN_SO_WARM = re.compile(
    r"(?:[,;]\s*|\b)(?:(?:and|then)\s+)+(?P<when>(?:when|once|as\s+soon\s+as)\s+(?:it|they|that|the\s+[\w-]+)"
    r"(?:'s|\s+(?:is|are|feels?))\s+(?:but\s+|just\s+|only\s+|about\s+|at\s+|no\s+more\s+than\s+)*[^,;.]{2,20}?)"
    r"\s*,?\s*(?:then\s+)?\Z",
    re.I,
)
NO_DEEDS = frozenset(("", "gather"))


def _with_subject(text: str, last: Doing, doing: Doing, things: list[Thing]) -> int:
    """Where the part of a verb begins: at its subject where that stands before it."""
    low = last.end
    let = LET.search(text, low, doing.start)
    if let and any(let.start() <= t.start < doing.start for t in things):
        return let.start()
    rinsed = [t for t in things if low <= t.start and t.kind == "material" and t.end < doing.start]
    if rinsed and doing.act in ("rinse", "dip") and text[rinsed[-1].end : doing.start].isspace():
        return rinsed[-1].start  # "a vinegar rinse (4 ml/L)"
    if not PASSIVE.search(doing.words):
        return doing.start
    related = RELATIVE.search(text, low, doing.start)
    if related and doing.act == "leave":
        near = [t for t in things if low <= t.start and t.end <= related.start()]
        return near[-1].start if near and near[-1].kind == "fibre" else doing.start
    told = None
    if last.act in NO_DEEDS:
        told = WHICH_IS.search(text, text.rfind("\n", 0, doing.start) + 1, doing.start)
    named = [t for t in things if t.kind == "fibre" and told and t.end == told.start()]
    if named:
        return named[0].start
    breaks = list(re.finditer(r",\s|\band\b|\bthen\b|:", text[low : doing.start]))
    if not breaks:
        return doing.start
    at = low + breaks[-1].end()
    subject = [
        t for t in things if at <= t.start < doing.start and t.kind in ("fibre", "material", "part")
    ]
    return at if subject else doing.start


def _time_before(text: str, here: list[Amount], first: int) -> int:
    """Where the time of "15 min airing" begins, or else the verb itself."""
    near = [a.start for a in here if a.kind == "time" and a.end <= first]
    near = [at for at, a in ((a.start, a) for a in here if a.start in near) if a.end + 1 == first]
    return near[-1] if near else first


def _stands_alone(before: str, here: list[Amount], first: int) -> bool:
    """True where what comes before the first verb is a list of its own."""
    stuff = any(a.start < first and a.kind in (*STUFF, "time", "temperature") for a in here)
    return stuff and bool(
        re.search(
            r"[,:;).\n]\s*(?:(?:and|then|so|you|we|i|one|it|they|let|just|now)\s+)*$", before, re.I
        )
    )


# Verbs that say how much by themselves: "cover with water", "top up".
HOW_MUCH = re.compile(r"cover|fill|top(?:ped|ping)? up|submerg|drizzle|dribble", re.I)


def _says_how_much(doing: Doing, here: list[Amount]) -> bool:
    """True for "cover with water", where no amount of the water is said."""
    if not HOW_MUCH.match(doing.words):
        return False
    return not any(
        a.kind in STUFF and 0 <= a.start - doing.end <= limits.LETTERS_TO_WHAT_IS_SAID for a in here
    )


HEATS = frozenset(("temperature", "named heat", "number"))
HEAT_WORD = re.compile(r"(?<![\w-])(?:boil|simmer|seeth|scald|stew)\w*", re.I)


LIQUOR = re.compile(r"\b(?:liquor|ratio|m:l|l\.?r|bath|water|goods)\b", re.I)


def _is_of_bath(text: str, one: Amount) -> bool:
    """False for a ratio such as "vinegar 1:50", which is no ratio of liquor to fibre."""
    if one.kind != "ratio" or not re.fullmatch(r"[\d.]+\s*:\s*[\d.]+", one.words):
        return True
    if (one.low or 0) >= limits.LEAST_LIQUOR and "%" in text[max(0, one.start - 40) : one.start]:
        return True  # "30 % of osage, 1:20, 90 °C"
    return bool(LIQUOR.search(text[max(0, one.start - 30) : one.end + 20]))


TO_FIBRE = re.compile(
    r"\s*(?:to|with|of)\s+(?:the\s+|dry\s+)*(?:weight\s+of\s+(?:the\s+)?)?"
    r"(?:fib(?:re|er)|wool|yarn|silk|cotton|linen|cloth|fleece|goods|wof)\b",
    re.I,
)
# "To the pound of weld": what so much is for.
FOR_WHAT = re.compile(r"\s+of\s+(?:the\s+|dry\s+|dried\s+|fresh\s+)*")


def _is_said(text: str, one: Amount, things: list[Thing], of: dict[int, Thing]) -> bool:
    """False for a share of what is no fibre, which the language has no words for."""
    if one.kind == "ratio" and one.start in of and text[: one.start].rstrip().endswith("("):
        return of[one.start].kind in ("material", "part")  # 240 g of hulls (2 : 1)
    if (
        one.kind == "ratio"
        and not one.reading
        and one.start in of
        and TO_FIBRE.match(text, one.end)
    ):
        return of[one.start].kind in ("material", "part")  # eucalyptus leaves, 2:1 to fibre
    if not one.per and not (one.kind == "ratio" and one.reading):
        return _is_of_bath(text, one)
    whose = FOR_WHAT.match(text, one.end)
    return whose is None or not any(
        thing.start == whose.end() and thing.kind in ("material", "part") for thing in things
    )


# "4 silk scarves": what is counted stands behind the fibre that it is of.
COUNTED = re.compile(
    r"\s+(?:[a-z-]+\s+){0,2}?(?P<what>(?:[a-z]-)?[a-z]+s)\b(?!\s+of\b(?!\s+(?:about\s+)?\d))",
    re.I,
)


# "The skins of five avocados" are no five avocados.
OF_SO_MANY = re.compile(r"[a-z]s\s+of\s+$", re.I)


NUMBERED_ALONE = re.compile(r"\s*(?:[,)]|x\b|of\b)")


def _in_brackets(text: str, one: Amount, thing: Thing) -> bool:
    """True for the six of "tea towels (6, about 60 g each)"."""
    return (
        thing.kind == "fibre"
        and re.fullmatch(r"\s*\(\s*", text[thing.end : one.start]) is not None
        and NUMBERED_ALONE.match(text, one.end) is not None
    )


def _counted(text: str, one: Amount, of: dict[int, Thing]) -> Amount:
    """A number of things is a count of pieces, and of skeins where it is of yarn."""
    thing = of.get(one.start)
    if one.kind == "number" and thing is not None and _in_brackets(text, one, thing):
        return one._replace(kind="count", unit="skein" if thing.name == "=yarn" else "piece")
    if _marked_behind_fibre(text, one, of):
        return one._replace(kind="count", unit="piece")
    if one.kind != "number" or thing is None:
        return one
    if thing.kind == "fibre" and thing.end <= one.start and (what := _counted_behind(text, one)):
        return one._replace(kind="count", unit=what)
    if thing.start < one.end or thing.kind not in ("material", "part", "fibre"):
        return one
    if not thing.words.lower().endswith("s") and one.low != 1:
        if thing.kind == "fibre" and (what := _counted_behind(text, one)):
            return one._replace(kind="count", unit=what)
        return one  # "vat 2 weld": nothing that is counted
    if thing.kind == "material" and (one.low == 1 or OF_SO_MANY.search(text[: one.start][-8:])):
        return one
    return one._replace(kind="count", unit="skein" if thing.name == "=yarn" else "piece")


def _counted_behind(text: str, one: Amount) -> str:
    """What is counted, skein or piece: "4 silk scarves", "in three equal skeins"; or nothing."""
    behind = COUNTED.match(text, one.end)
    kind, name = known_words()[1].get(behind["what"].lower(), ("", "")) if behind else ("", "")
    return ("skein" if name == "=yarn" else "piece") if kind == "fibre" else ""


def _marked_behind_fibre(text: str, one: Amount, of: dict[int, Thing]) -> bool:
    """True for "silk scarf x 3", "50 g of wool x 4": so many of them."""
    if one.kind != "times" or not one.words.lower().startswith("x"):
        return False
    before = known_words()[0].finditer(text, text.rfind("\n", 0, one.start) + 1, one.start)
    last = max(before, key=lambda match: match.end(), default=None)
    if last is None or text[last.end() : one.start].strip():
        return False
    return known_words()[1].get(" ".join(last[0].lower().split()), ("", ""))[0] == "fibre"


def _spoken_heats(
    text: str, start: int, end: int, here: list[Amount], doings: list[Doing], denied: list[Doing]
) -> list[Amount]:
    """The heats that words alone say: of the verbs to boil and to simmer, and any word like them.

    Each is an amount, so that none is lost: what no line says is told of as not placed.
    """
    covered = _Covered(start, end)
    for one in here:
        covered.cover(one.start, one.end)
    made: list[Amount] = []
    for doing in [*doings, *denied]:
        if doing.act in ("boil", "simmer") and not covered.has(doing.start, doing.end):
            made.append(_verb_heat(doing.act, doing.words, doing.start, doing.end))
            covered.cover(doing.start, doing.end)
    ends = [*(doing.start for doing in doings[1:]), end]
    for doing, close in zip(doings, ends, strict=False):
        if doing.act not in ("heat", "cool") or covered.has(doing.start, doing.end):
            continue
        if not any(a.kind in HEATS and doing.start <= a.start < close for a in here):
            unit = doing.act if doing.act == "cool" else ""
            made.append(_verb_heat(unit, doing.words, doing.start, doing.end))
            covered.cover(doing.start, doing.end)
    for doing in denied:
        if doing.act in ("heat", "cool") and not covered.has(doing.start, doing.end):
            made.append(_verb_heat("", doing.words, doing.start, doing.end))
            covered.cover(doing.start, doing.end)
    for match in HEAT_WORD.finditer(text, start, end):
        if covered.has(match.start(), match.end()):
            continue
        word = match[0].lower()
        if word in ("boil", "simmer") and TO_THE.search(
            text[max(start, match.start() - 40) : match.start()]
        ):
            heat = vocabulary().heats[word]
            made.append(
                Amount(
                    "named heat", heat.low, heat.high, word, match[0], match.start(), match.end()
                )
            )
        else:
            made.append(_verb_heat("", match[0], match.start(), match.end()))
    return made


class _Covered:
    """The letters of a sentence that an amount has already."""

    def __init__(self, start: int, end: int) -> None:
        self.start, self.letters = start, bytearray(end - start)

    def cover(self, start: int, end: int) -> None:
        low, high = max(start - self.start, 0), min(end - self.start, len(self.letters))
        self.letters[low:high] = b"\x01" * max(high - low, 0)

    def has(self, start: int, end: int) -> bool:
        """True where an amount has a letter between two places."""
        return any(self.letters[max(start - self.start, 0) : max(end - self.start, 0)])


def _verb_heat(unit: str, words: str, start: int, end: int) -> Amount:
    return Amount("verb heat", None, None, unit, words, start, end)
