"""Where a recipe speaks of some of its fibre: "two skeins", "lots 1 and 2", "the rest".

Only the words are told of here; which fibre they mean is worked out in ``lots_meant.py``.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from procedure.draft.lexicon import fibres, meanings, one_of
from procedure.draft.sentences import Part
from procedure.quantity.record import NamedTuple


class LotMention(NamedTuple):
    """Words that speak of some of the fibre.

    ``kind`` is labels, ordinals, each, count, share, rest, all, state, that, some or fibre.
    ``labels`` are the labels or the words of a state, ``many`` is how many pieces, ``share`` how
    much of all of it. ``pool`` is what it is some of: ``last`` for "of them", ``rest`` for
    "another", or a word that tells which are meant: "the yellow skeins".
    """

    kind: str
    start: int
    end: int
    labels: tuple[str, ...] = ()
    many: int = 0
    share: Fraction = Fraction(0)
    pool: str = ""


@cache
def _words() -> dict[str, str]:
    label = [word for word, means in meanings("label").items() if means.isdigit()]
    lots = one_of([*meanings("labelled lot"), *meanings("part of the fibre")])
    fibre = one_of([*fibres(), *meanings("fibre")])
    return {
        "n": rf"(?:{one_of(meanings('number'))}|\d{{1,2}}(?![\d.,/:]*\d|\s*[%°x]))",
        "ord": rf"(?:{one_of(label)}|last|next|final)",
        "first": one_of(label),
        "lot": rf"(?:{lots})(?:e?s)?\b(?!-)",
        "one": rf"(?:{lots})\b(?!-)",
        "fib": rf"(?:(?:{fibre})\b(?:\s+(?:yarn|wool|skeins?)\b)?|(?:{lots})(?:e?s)?\b)",
    }


# What follows a word that alone stands for some of the fibre: "the second in madder".
GOES_ON = (
    r"(?=\s*(?:[,;.:)]|$|\n|(?:in|into|at|for|to|with|went|goes?|was|were|came|out|i|we|and|is|are|stays?|stayed"
    r"|gets?|got|then|after|also|back|too|again|once|twice|three|through|aside|away|on|as|undyed|white|unmordanted)\b))"
)
NO_UNIT = (
    r"(?!\s*(?:g|kg|ml|l|oz|lbs?|h|hrs?|mins?|°|%|x|litres?|gallons?|hours?|minutes?|ounces?|pounds?|grams?"
    r"|days?|weeks?|nights?|seconds?|secs?|dips?|times?|rinses|more|last|by|at\s+a)\b"
    r"|\s*[%°]|[.,/:]\d)"
)
SOME = r"(?:take|took|taken|lift(?:ed)?|remov(?:e|ed)|put|set|pull(?:ed)?|keep|kept|leave|left|dip(?:ped)?|reserv(?:e|ed)|mordant(?:ed)?|dyed?|enter(?:ed)?|hold|hang|move|moved|transfer(?:red)?|return(?:ed)?|rinsed?|give|gave)"  # noqa: E501
# What is done to fibre only.
OF_FIBRE = (
    r"(?:lift(?:ed)?|take\s+out|took\s+out|rinsed?|wr[iu]ng|hang|hung|dry|dried|remove|wash|washed"
    r"|mordant|dye)"
)
JOINED = r"\s*(?:,\s*(?:and\s+)?|&|\+|and\s+)\s*(?:the\s+|then\s+)?"
# Not the rest of the bath, and not all of the alum: what is no fibre.
OF_NO_FIBRE = r"(?!\s+of\s+(?:the\s+|this\s+|your\s+)?(?!(?:them|these|those|it)\b|{fib}))"


# "Each dip is two minutes; each airing, ten": of no fibre.
NO_TIME = r"(?!\s+(?:airing|dip|dipping|rinse|rinsing|wash|time)\b)"


@cache
def _patterns() -> list[tuple[str, re.Pattern[str]]]:
    w = _words()
    n, order, first, lot, fib = w["n"], w["ord"], w["first"], w["lot"], w["fib"]
    label = rf"(?:\d{{1,2}}{NO_UNIT}|(?-i:[A-H])(?!['’\w])|{one_of(meanings('number'))}\b{NO_UNIT})"
    labels = rf"{label}(?:\s*(?:,\s*(?:and\s+)?|&|and\s|\+|-|–|to\s)\s*(?:{lot}\s+)?{label})*"
    of_no = OF_NO_FIBRE.format(fib=fib)
    n_dips = rf"(?:{n}|an?|only)\s+(?:(?:single|quick|short|long|brief|further)\s+)?dips?\b"
    listed = [
        ("count", rf"\b(?P<n>{n})\s+of\s+the\s+(?P<another>rest|others|remainder)\b"),
        ("each", rf"\b(?P<n>{n})\s+(?:{lot}\s+)?(?:of|from)\s+each\b(?:\s+(?:{fib}))?"),
        (
            "share",
            r"\b(?P<half>half)\s+(?:of\s+)?each\s+(?:fibre|fiber|yarn|lot|kind)\b",
        ),
        ("labels", rf"\b(?:{lot})\s+(?:nos?\.?\s*)?(?P<labels>{labels})(?![\w-])"),
        (
            "letters",
            r"(?<![\w'’°-])(?<!\d\s)(?P<labels>(?-i:[A-H])(?:\s*(?:,\s*(?:and\s+)?|&|and\s|-|–|\+|to\s)\s*(?-i:[A-H]))*"
            r"|(?-i:[a-h])\s*-\s*(?-i:[a-h]))(?=\s*(?:[,;:.)&+\n]|$|(?:and|into|in|for|to|goes?|went|gets?|got|is|stays?|with|together|alone)\b))",
        ),
        (
            "rest",
            rf"\b(?:the\s+)?(?:(?P<of>other|remaining)\s+(?:(?P<state>[a-z-]+)\s+{lot}|(?P<n>{n})\b(?:\s+{lot})?|half\b|third\b|(?:{fib})|ones?\b)"
            rf"|(?<=the\s)(?:rest|remainder|others|remaining|other)\b{of_no}(?:{GOES_ON}|(?=\s+(?:\d|an?\b|half\b|another\b)))"
            rf"|(?<=the\s)(?:rest|remainder)\s+of\s+(?:the\s+|your\s+|my\s+)?(?:{fib}))",
        ),
        (
            "share",
            rf"\b(?:(?P<other>the\s+(?:other|second))\s+half|(?P<half>(?:the\s+first\s+|one\s+)?half)"
            rf"|(?P<many>a|an|one|two|three|another|the\s+other)[\s-]+(?P<part>third|quarter|fourth|fifth)s?)\s*"
            rf"(?:(?:of\s+)?(?P<them>it|them|these|those)\b|(?:of\s+)?(?:the\s+|this\s+|that\s+|your\s+|my\s+|our\s+)?"
            rf"(?:(?P<state>[a-z-]+)\s+)?(?:{fib}|ones\b)|(?<=\s)(?=(?:out|in|into)\b))",
        ),
        (
            "share",  # "rinse one half, which is finished"
            rf"\b{OF_FIBRE}\s+(?:the\s+|out\s+|up\s+|off\s+)*(?:(?P<half>(?:one\s+|a\s+)?half)"
            r"|(?P<many>a|one|two)[\s-]+(?P<part>third|quarter|fourth)s?)(?=\s*(?:[.;,)]|$|(?:and|which|then|to|in)\b))",
        ),
        ("count", rf"\b(?P<n>{n})\s+of\s+(?P<them>them|these|those)\b"),
        ("count", rf"\b(?P<n>{n})\s+of\s+the\s+{n}\b(?!\s+{lot})"),  # "one of the two"
        (
            "count",  # "one came out then"
            rf"(?:^|(?<=[.;,:]\s)|(?<=\band\s)|(?<=\bthen\s)|(?<=\bbut\s))(?P<n>{n})(?=\s+(?:came|comes|went|stayed|stays|(?:had|got|gets|has)\s+{n_dips})\b)",
        ),
        (
            "count",
            rf"\b(?P<n>{n})\s+of\s+(?:the|your|my|our)\s+(?:{n}\s+)?(?:(?P<state>[a-z-]+)\s+)?(?:{fib}|ones\b)",
        ),
        (
            "count",
            rf"\b(?P<couple>an?\s+(?:couple|pair))\s+of\s+(?:(?P<them>them|these|those)\b"
            rf"|(?:(?:the|your|my|our)\s+)?(?:(?P<state>[a-z-]+)\s+)??(?:{lot}|ones\b))",
        ),
        (
            "some",  # how much is not told
            r"\b(?:some|most|part|several|many|a\s+few|a\s+little|a\s+bit)\s+of\s+(?:(?P<them>them|these|those)\b"
            rf"|(?:the|your|my|our|this|that|these|those)\s+(?:[a-z-]+\s+)?(?:{fib}|ones\b))",
        ),
        ("that", rf"\bth(?:is|at)\s+(?:(?P<half>half)|third|quarter|one\b|{w['one']})"),
        ("that", rf"\bth(?:ese|ose)\s+(?P<n>{n})\b(?:\s+{lot})?"),
        ("state", rf"\bthe\s+(?P<state>[a-z-]+(?:er|est))\s+(?:{n})\b{NO_UNIT}"),
        (
            "ordinals",
            rf"\b(?:the\s+|my\s+|our\s+|your\s+|then\s+)*(?P<labels>{order}(?:{JOINED}{first})*)\s+(?:{lot}|ones?\b|(?P<n>{n})\b{NO_UNIT}(?:\s+{lot})?|half\b|third\b)",
        ),
        ("ordinals", rf"\bthe\s+(?P<labels>{order}(?:{JOINED}{first})*)\b{GOES_ON}"),
        ("ordinals", rf"\bthe\s+(?P<labels>{order})(?=\s+(?:had\s+|got\s+)?{n_dips})"),
        (
            "gapped",  # "the first had an hour, the second half an hour, the third ten minutes"
            rf"(?:\A|(?<=[,;]\s)|(?<=\band\s))the\s+(?P<labels>{first})(?=\s+(?:\d|(?:about\s+)?(?:half\s+)?an?\s+\w|{n}\s+\w))",
        ),
        (
            "state",
            rf"\b(?:the|all\s+the)\s+(?P<state>[a-z-]+)\s+(?:{fib}|ones?\b)",
        ),
        ("state", r"\bthe\s+(?P<state>un-?mordanted)\b"),
        (
            "count",
            rf"\b(?:the\s+)?(?P<all>all\s+)(?:of\s+)?(?:the\s+)?(?P<n>{n})\b(?:\s+(?:of\s+(?:them|these)|{lot}))?",
        ),
        (
            "count",
            rf"\b(?:(?P<another>another|a\s+further)\s+)?(?P<n>{n})\s+(?:more\s+)?(?:(?P<state>[a-z-]+)\s+)??{lot}",
        ),
        ("count", rf"\b(?P<another>another)\s+(?:(?P<state>[a-z-]+)\s+)??{lot}"),
        (
            "count",
            rf"(?:(?<=\s)|^)(?P<n>{n})(?=\s+(?:with|in|into|out|aside|after\s+(?!another|the\s+other|one\b)|to\s+the|go|goes|back|through|unmordanted|undyed|white|yellow)\b)",
        ),
        ("count", r"\b(?P<another>another)(?=\s+(?:in|into|out|aside|for|back|through)\b)"),
        (
            "count",
            rf"\b{SOME}\s+(?:out\s+|aside\s+|back\s+)?(?P<n>{n})(?=\s*(?:[.;,)]|$|and\b|as\s+(?:it|they)\b|{n_dips}))",
        ),
        (
            "all",
            rf"\b(?:both|everything|each)\b{NO_TIME}(?:\s+(?:of\s+(?:the\s+)?)?(?:them\b|{fib}|ones?\b))?"
            rf"|\bevery\s+(?:one\b|{fib})|\btheir\s+own\s+(?:{fib})"
            rf"|(?<!\bat\s)(?<!\bin\s)(?<!\bof\s)\ball\b(?:\s+(?:of\s+)?(?:them\b|these\b|it\b|(?:the\s+|your\s+|my\s+)?(?:{fib}))|{GOES_ON})"
            rf"|\bthe\s+whole\b(?:\s+(?:{fib}|pound|lot))?",
        ),
    ]
    return [(kind, re.compile(pattern, re.I)) for kind, pattern in listed]


def lot_mentions(part: Part) -> list[LotMention]:
    """The words of a part that speak of some of the fibre, in order; those that run on, as one."""
    found: list[LotMention] = []
    for kind, pattern in _patterns():
        for match in pattern.finditer(part.words):
            low, high = part.start + match.start(), part.start + match.end()
            if any(low < one.end and one.start < high for one in found):
                continue
            if _is_an_amount(part, low, high):
                continue
            if kind == "count" and OF_WATER.match(part.words, match.end()):
                continue  # "in two lots of tepid water"
            if match.groupdict().get("them") and _of_stuff(part, low):
                continue  # "add a third of it", "avocado stones, five of them"
            if kind == "letters" and _of_vessel().search(part.words[: match.start()]):
                continue  # "pot A"
            if kind == "gapped":
                in_row = any(one.kind == "ordinals" and one.end <= low for one in found)
                if not in_row and not _is_piece(part, low):
                    continue
                kind = "ordinals"
            found.append(_mention(kind, match, low, high))
    return sorted(found, key=lambda one: one.start)


def _is_piece(part: Part, low: int) -> bool:
    """True at the head of a piece of a part, whose verb stands before it."""
    doing = part.doing
    return low == part.start == doing.start == doing.end


STUFF_GOES = re.compile(r"(?:add|pour|stir|sprinkl|tip)\w*(?:\s+in)?\s+(?:about\s+)?", re.I)
JUST_NAMED = re.compile(r"[\s,:(\u2013-]+(?:about\s+)?")


def _of_stuff(part: Part, at: int) -> bool:
    """True where "of them" is of the plants just named, or of what is added."""
    words, start = part.words, part.start
    if STUFF_GOES.fullmatch(words, max(part.doing.start - start, 0), at - start):
        return True
    named = [one for one in part.things if one.end <= at]
    if not named or named[-1].kind not in ("material", "part"):
        return False
    return JUST_NAMED.fullmatch(words, named[-1].end - start, at - start) is not None


OF_WATER = re.compile(r"\s+of\s+(?:[a-z-]+\s+){0,2}(?:water|liquor|suds)\b", re.I)


@cache
def _of_vessel() -> re.Pattern[str]:
    return re.compile(rf"\b(?:{one_of(meanings('labelled vessel'))})s?\s+\Z", re.I)


MAY_COUNT = frozenset(("number", "count", "odd", "figure", "loose", "relative"))


def _is_an_amount(part: Part, low: int, high: int) -> bool:
    """True for words that are of a time, a weight or a heat: "one hour", "half a pound"."""
    return any(
        one.start < high and low < one.end and one.kind not in MAY_COUNT for one in part.amounts
    )


def _mention(kind: str, match: re.Match[str], low: int, high: int) -> LotMention:
    said = {name: text.lower() for name, text in match.groupdict().items() if text}
    count = _number(said["n"]) if "n" in said else 1 if "another" in said else 0
    count = A_COUPLE if "couple" in said else count
    pool = said.get("state", "")
    if "them" in said:
        pool = "last"
    elif "another" in said and not pool:
        pool = "rest"
    if kind == "rest":
        return LotMention("rest", low, high, many=count, pool=pool)
    if kind == "share":
        if "other" in said or said.get("many") == "the other":
            return LotMention("rest", low, high)
        return LotMention("share", low, high, share=_fraction(said), pool=pool)
    if kind == "state":
        return LotMention("state", low, high, (pool,))
    if kind == "that":
        size = Fraction(1, 2) if "half" in said else Fraction(0)
        return LotMention("that", low, high, many=count or 1, share=size)
    if kind == "count" and "all" in said:
        return LotMention("all", low, high, many=count)
    if kind in ("labels", "letters", "ordinals"):
        return LotMention(kind, low, high, tuple(_labels(said["labels"])), count)
    return LotMention(kind, low, high, many=count, pool=pool)


A_COUPLE = 2
PARTS = {"third": 3, "quarter": 4, "fourth": 4, "fifth": 5}


def _fraction(said: dict[str, str]) -> Fraction:
    if "half" in said:
        return Fraction(1, 2)
    many = {"two": 2, "three": 3}.get(said["many"], 1)
    return Fraction(many, PARTS[said["part"]])


def _number(word: str) -> int:
    return int(meanings("number").get(word, word))


LABEL = re.compile(r"[a-z0-9]+|[-–]", re.I)
NO_LABELS = frozenset(("and", "the", "then", "to", *"–-"))


def _labels(said: str) -> list[str]:
    """The labels of "1, 2 and 4" and of "a-c", each as a figure; of ordinals the words too."""
    made: list[str] = []
    upto = False
    for word in LABEL.findall(said):
        label = _label(word)
        if word in ("-", "–", "to"):
            upto = bool(made)
        elif word in NO_LABELS or word in meanings("labelled lot") or not label:
            continue
        elif upto and label.isdigit() and made[-1].isdigit():
            made += [str(one) for one in range(int(made[-1]) + 1, int(label) + 1)]
            upto = False
        else:
            made.append(label)
    return made


def _label(word: str) -> str:
    if len(word) == 1 and word.isalpha():
        return str("abcdefgh".index(word) + 1) if word in "abcdefgh" else ""
    if word in ("last", "next", "final"):
        return "last" if word == "final" else word
    label = meanings("label").get(word, meanings("number").get(word, word))
    return label if label.isdigit() else ""
