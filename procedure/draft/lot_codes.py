"""Lots that a recipe gives a code or a word of its own: "marked P, Q and R", "Hank A (300 g)".

Only words are told of here: where codes are given, where they are spoken of, and how far what is
headed by one goes. Which fibre each of them is, ``coded_lots.py`` works out.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from procedure.draft.lexicon import meanings, one_of
from procedure.draft.lot_mentions import GOES_ON, LotMention
from procedure.draft.sentences import Part
from procedure.draft.told_apart import ToldApart
from procedure.quantity.record import NamedTuple

LEAST = 2
CODE = r"(?-i:[A-Z]\d{0,2})(?![\w'’°-])"
JOINED = r"\s*(?:,\s*(?:and\s+)?|and\s+|&\s*|\+\s*|/)\s*(?:the\s+)?"
UPTO = r"\s*(?:to|-|\u2013)\s*"
WEIGHT = r"(?:about\s+|ca\.?\s+)?\d[\d.,/]*\s?(?:g|kg|oz|lbs?|grams?|ounces?|pounds?)\b"


class Given(NamedTuple):
    """Codes where they are given.

    ``how`` says of what: ``equal`` parts of the fibre, parts as ``weighed`` there, what is
    ``listed`` right before, or lots of which ``each`` is as heavy. ``weights`` are the places
    of their weights, ``nouns`` the kinds of lot they are said of.
    """

    how: str
    codes: tuple[str, ...]
    start: int
    end: int
    weights: tuple[int, ...] = ()
    nouns: tuple[str, ...] = ()


@cache
def _words() -> dict[str, str]:
    lots = one_of([*meanings("labelled lot"), *meanings("part of the fibre"), *LENGTHS])
    noun = rf"(?:{lots}|hal(?:f|ves))(?:e?s)?\b"
    code = rf"(?:{noun}\s+)?{CODE}"
    return {
        "noun": noun,
        "row": rf"(?:{code}(?:{JOINED}{code})+|{code}{UPTO}{code})",
        "names": rf"(?-i:[A-Z][a-z]{{2,}})(?:{JOINED}(?-i:[A-Z][a-z]{{2,}}))+",
        "figures": rf"\d{{1,2}}(?:{JOINED}\d{{1,2}}|{UPTO}\d{{1,2}})+(?![\d.,/:]*\d|\s*[%°])",
        "n": rf"(?:{one_of(meanings('number'))}|\d{{1,2}})",
        "the": r"the\s+[a-z]+(?:\s*,\s*(?:and\s+)?the\s+[a-z]+|\s+and\s+the\s+[a-z]+)+",
    }


LENGTHS = ("length",)


@cache
def _patterns() -> dict[str, re.Pattern[str]]:
    w = _words()
    noun, row = w["noun"], w["row"]
    return {
        name: re.compile(said, re.I)
        for name, said in {
            "marked": r"\b(?:mark|label+|letter|tag|tagg|ticket|number)(?:ed|s)?\b"
            rf"[^.;:\n]{{0,60}}?\s(?P<row>{row}|{w['figures']})",
            "called": r"\b(?:call|name|nickname)(?:e?d)?\b[^.;:\n]{0,40}?\s"
            rf"(?P<row>{row}|{w['names']})",
            "counted": rf"\b(?P<n>{w['n']})\s+(?:[\w-]+\s+){{0,4}}?{noun}[^.;:\n]{{0,24}}?"
            rf"[,:(\u2013-]\s*(?:the\s+)?(?P<row>{row})",
            "described": rf"\b(?P<n>{w['n']})\s+(?:[\w-]+\s+){{0,3}}?{noun}[^.;\n]{{0,50}}?"
            rf"[,:(\u2013-]\s*(?P<row>{w['the']})(?=\s*[.;,)\n])",
            "listed": rf"\(\s*(?P<row>{row}|{CODE})\s*\)",
            "weighed": rf"\b(?:(?P<noun>{noun})\s+(?P<code>{CODE}|\d(?!\w))"
            rf"|an?\s+(?P<word>[a-z]+)\s+(?:{noun}|one))\s*\(\s*(?P<weight>{WEIGHT})\s*\)",
            "each": rf"\beach\s+(?:{noun})\s+(?:is|weighs|was|weighed|has|of)\s+{WEIGHT}",
        }.items()
    }


class Codes:
    """The codes that a text gives its lots, and where it speaks of them."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.given = list(_given(text))
        told = [(one.start, one.end) for one in self.given]
        self.codes = tuple(dict.fromkeys(code for one in self.given for code in one.codes))
        found = list(self._mentions()) if self.codes else []
        self.mentions = [one for one in found if not any(a <= one.start < b for a, b in told)]
        self.headed = _headed(text, self.mentions)

    def within(self, part: Part) -> list[LotMention]:
        """The words of a part that speak of lots by their codes."""
        return [one for one in self.mentions if part.start <= one.start < part.end]

    def heading(self, at: int) -> LotMention | None:
        """The code that heads what is said at a place; None where none does."""
        return next((one for low, high, one in self.headed if low <= at < high), None)

    def _mentions(self) -> Iterator[LotMention]:
        known = {code.lower(): code for code in self.codes}
        noun = _words()["noun"]
        half = r"(?P<part>(?:(?:one|the\s+other|other|the)\s+)?half\s+of\s+)?"
        taken: list[tuple[int, int]] = []
        for pattern, is_apart in (
            (_of_codes([one for one in self.codes if _is_letter(one)], noun, half), False),
            (
                _of_codes(
                    [one for one in self.codes if one[:1].isupper() and not _is_letter(one)],
                    noun,
                    half,
                ),
                False,
            ),
            (_of_words([one for one in self.codes if one.islower()], noun), True),
            (_of_figures([one for one in self.codes if one.isdigit()], noun), False),
        ):
            for found in pattern.finditer(self.text) if pattern is not None else ():
                low, high = found.span()
                if any(low < b and a < high for a, b in taken):
                    continue
                if is_apart and not _stands_for_lots(self.text, found):
                    continue
                taken.append((low, high))
                labels = tuple(_spelt_out(found["row"], known, self.codes))
                said = (found.groupdict().get("part") or "").lower()
                share = Fraction(1, 2) if said else Fraction(0)
                yield LotMention(
                    "coded", low, high, labels, 0, share, "rest" if "other" in said else ""
                )


def _is_letter(code: str) -> bool:
    return re.fullmatch(r"[A-Z]\d{0,2}", code) is not None


# What follows a letter that is no code of its own kind of word: "A careless girl".
BEHIND = (
    r"(?=\s*(?:[,;:.)&+/\n]|$|(?:and|into|in|for|to|goes|go|went|gets?|got|is|was|are|were|stays?"
    r"|stayed|remains?|with|alone|out|no|then|also|had|has|only|come|comes|came|back)\b))"
)


NO_UNIT = r"(?<!\d\s)"  # "40 C"


def _of_codes(codes: list[str], noun: str, half: str) -> re.Pattern[str] | None:
    if not codes:
        return None
    word = "|".join(
        ("" if len(one) > 1 else NO_UNIT)
        + re.escape(one)
        + (BEHIND if one in ("A", "I") else r"(?![\w'’°-])")
        for one in codes
    )
    one = rf"(?:{noun}\s+)?(?-i:{word})"
    return re.compile(rf"(?<![\w'’°-]){half}(?P<row>{one}(?:(?:{JOINED}|{UPTO}){one})*)", re.I)


def _of_words(codes: list[str], noun: str) -> re.Pattern[str] | None:
    if not codes:
        return None
    one = rf"(?:the\s+)?(?:{'|'.join(map(re.escape, codes))})"
    behind = rf"(?:\s+(?:ones?|{noun})|{GOES_ON})"
    return re.compile(rf"\b(?P<row>{one}(?:{JOINED}{one})*)\b{behind}", re.I)


def _of_figures(codes: list[str], noun: str) -> re.Pattern[str] | None:
    if not codes:
        return None
    one = rf"(?:{'|'.join(map(re.escape, sorted(codes, key=len, reverse=True)))})(?!\w)"
    more = rf"(?:nos?\.?\s*)?{one}"
    heads = rf"\b(?:nos?\.?\s*|numbers?\s+|{noun}\s+)"
    return re.compile(rf"{heads}(?P<row>{one}(?:(?:{JOINED}|{UPTO}){more})*)", re.I)


BEGINS = re.compile(r"(?:^|[.;:!?\n(])\s*(?:and\s+|but\s+|then\s+)?\Z")


def _stands_for_lots(text: str, found: re.Match[str]) -> bool:
    """True for "the dark", "the dark one", and "Dark and mid" at the head of what is said."""
    behind = found[0][len(found["row"]) :].strip()
    the = found["row"].lower().startswith("the ")
    return the or bool(behind) or BEGINS.search(text[: found.start()]) is not None


WORD = re.compile(r"[A-Za-z0-9]+|[-\u2013]")


def _spelt_out(row: str, known: dict[str, str], codes: tuple[str, ...]) -> list[str]:
    """The codes of a row, with those that "W1 to W4" leaves out."""
    made: list[str] = []
    upto = False
    for word in WORD.findall(row):
        code = known.get(word.lower())
        if word.lower() in ("to", "-", "\u2013"):
            upto = bool(made)
        elif code is None:
            continue
        elif upto:
            low, high = codes.index(made[-1]), codes.index(code)
            made += codes[low + 1 : high + 1]
            upto = False
        else:
            made.append(code)
    return list(dict.fromkeys(made))


# Where codes are given.


def _given(text: str) -> Iterator[Given]:
    taken: list[tuple[int, int]] = []
    for how, one in itertools.chain(_equal(text), _weighed(text), _listed(text), _each(text)):
        if any(one.start < high and low < one.end for low, high in taken):
            continue
        taken.append((one.start, one.end))
        yield one._replace(how=how)


def _equal(text: str) -> Iterator[tuple[str, Given]]:
    for name in ("marked", "called", "counted", "described"):
        for found in _patterns()[name].finditer(text):
            codes = tuple(_codes_of(found["row"], name))
            count = found.groupdict().get("n")
            if len(codes) < LEAST or (count is not None and _number(count) != len(codes)):
                continue
            yield "equal", Given("", codes, found.start("row"), found.end("row"))


def _number(word: str) -> int:
    said = meanings("number").get(word.lower(), word)
    return int(said) if said.isdigit() else 0


RANGE = re.compile(rf"(?P<kind>[A-Z]?)(?P<low>\d{{1,2}}){UPTO}(?P=kind)(?P<high>\d{{1,2}})", re.I)
LETTERS = re.compile(rf"(?P<low>[A-Z]){UPTO}(?P<high>[A-Z])\Z")


def _codes_of(row: str, how: str) -> Iterator[str]:
    """The codes that a row gives, one after another."""
    figures, letters = RANGE.fullmatch(row), LETTERS.match(row)
    if figures is not None:
        low, high = int(figures["low"]), int(figures["high"])
        yield from (f"{figures['kind']}{number}" for number in range(low, high + 1))
    elif letters is not None:
        yield from map(chr, range(ord(letters["low"]), ord(letters["high"]) + 1))
    else:
        said = [word for word in WORD.findall(row) if word.lower() not in ("and", "the")]
        nouns = {**meanings("labelled lot"), **meanings("part of the fibre")}
        yield from (
            word for word in said if how == "described" or word.lower().rstrip("s") not in nouns
        )


def _weighed(text: str) -> Iterator[tuple[str, Given]]:
    found = list(_patterns()["weighed"].finditer(text))
    rows = [list(group) for _, group in itertools.groupby(found, key=lambda one: _line(text, one))]
    for row in rows:
        codes = tuple(one["code"] or one["word"].lower() for one in row)
        if len(set(codes)) < LEAST or len(set(codes)) != len(codes):
            continue
        weights = tuple(one.start("weight") for one in row)
        nouns = tuple((one["noun"] or "").lower() for one in row)
        yield "weighed", Given("", codes, row[0].start(), row[-1].end(), weights, nouns)


def _line(text: str, found: re.Match[str]) -> int:
    return text.count("\n", 0, found.start())


def _listed(text: str) -> Iterator[tuple[str, Given]]:
    found = [
        one
        for one in _patterns()["listed"].finditer(text)
        if LISTED.search(text[max(0, one.start() - 50) : one.start()])
    ]
    made = [(one, tuple(_codes_of(one["row"], "listed"))) for one in found]
    codes = [code for _, some in made for code in some]
    if len(codes) < LEAST or len(set(codes)) != len(codes):
        return
    for one, some in made:
        yield "listed", Given("", some, one.start(), one.end())


LISTED = re.compile(rf"{WEIGHT}[^,;.()\n]{{0,40}}\Z", re.I)


def _each(text: str) -> Iterator[tuple[str, Given]]:
    told = ToldApart(text, "labelled lot").mentions
    labels = sorted({one.label.upper() for one in told if one.kind == "letter"})
    labels = labels or sorted({one.label for one in told if one.kind == "number"})
    nouns = tuple(next(iter([one.noun for one in told]), "lot") for _ in labels)
    for found in _patterns()["each"].finditer(text) if len(labels) >= LEAST else ():
        yield "each", Given("", tuple(labels), found.start(), found.end(), (), nouns)


# How far a code heads what is said.

LINE_BEGINS = re.compile(r"(?:^|\n)[^\w\n]*(?:\d{1,2}[:.]\d\d\s+)?[^\w\n]*\Z")
SENTENCE_BEGINS = re.compile(r"[.;]\s+\Z")
COLON = re.compile(r"\s*(?:\([^()\n]{1,30}\)\s*)?(?::|\s-\s|\s\u2013\s|$)")
BLANK = re.compile(r"\n\s*\n|\Z")
LONGEST_HEADING = 4


def _headed(text: str, mentions: list[LotMention]) -> list[tuple[int, int, LotMention]]:
    """What each code heads: "Q: iron, 1 %", to the end of its line, or of what is below it."""
    heads = []
    for one in sorted(mentions, key=lambda each: each.start):
        before = text[: one.start]
        opens = LINE_BEGINS.search(before) or SENTENCE_BEGINS.search(before[-3:])
        if opens and not one.share and COLON.match(text[one.end :].split("\n")[0]):
            heads.append(one)
    made: list[tuple[int, int, LotMention]] = []
    for one, after in itertools.zip_longest(heads, heads[1:]):
        ends = text.find("\n", one.end)
        ends = len(text) if ends < 0 else ends
        rest = text[one.end : ends]
        if len(rest.split()) <= LONGEST_HEADING and not any(each.isdigit() for each in rest):
            blank = BLANK.search(text, ends + 1 if ends < len(text) else ends)
            ends = blank.start() if blank else len(text)
        if after is not None:
            ends = min(ends, after.start)
        made.append((one.start, ends, one))
    return made


__all__ = ["Codes", "Given"]
