"""Numbers in figures and in words."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from procedure.draft.lexicon import meanings, numbers, one_of

VULGAR = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}


def number(words: str) -> Fraction:
    """What a number in figures or words comes to. Raises ``ValueError`` where it is none."""
    text = words.lower().replace("-", " ").replace("&", "and").strip()
    text = re.sub(r"\band one (?=half|quarter|third|fourth|eighth)", "and a ", text)
    for sign, figures in VULGAR.items():
        text = text.replace(sign, f" {figures}")
    total = Fraction(0)
    last: Fraction | None = None
    for word in text.split():
        if word in ("and", "of", "a", "an"):
            if word in ("a", "an") and last is None:
                last = Fraction(1)
                total = last
            continue
        value = numbers().get(word)
        if value is None:
            # A comma before one or two figures is a decimal mark; before three, none.
            decimal = re.fullmatch(r"\d+,\d{1,2}", word)
            value = Fraction(word.replace(",", "." if decimal else ""))
        if last is not None and (value < 1 and last >= 1 and last.denominator == 1):
            # "two thirds" multiplies, "one and a half" and "1 1/2" add.
            multiplies = word in meanings("part of one") and "and" not in text.split()
            total = total - last + (last * value if multiplies else last + value)
        elif last is not None and last < 1 and value >= 1:
            total = total - last + last * value  # half a dozen
        elif word in meanings("group") or word == "hundred":
            total = (total or Fraction(1)) * value
        else:
            total += value
        last = value
    if last is None:
        raise ValueError(words)
    return total


@cache
def number_pattern() -> str:
    """A pattern for a number, in figures or in words."""
    vulgar = "".join(VULGAR)
    figures = rf"(?:\d+,\d{{1,2}}(?![\d/])|\d+[\s-]+\d+/\d+|\d+/\d+|\d+\s?[{vulgar}]|\d{{1,3}}(?:,\d{{3}})+|\d*\.?\d+|[{vulgar}])"  # noqa: E501
    plain = one_of(list(meanings("number")))
    part = one_of(list(meanings("part of one")))
    group = one_of(list(meanings("group")))
    tens = "twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety"
    ones = "one|two|three|four|five|six|seven|eight|nine"
    words = (
        rf"(?:(?:{plain})[\s-]+(?:and|&)[\s-]+(?:a|one)[\s-]+(?:{part})"
        rf"|(?:{ones})[\s-]and[\s-](?:{tens})"
        rf"|(?:a|{ones})[\s-]hundred(?:\s+and\s+(?:(?:{tens})(?:[\s-](?:{ones}))?|{plain}))?|(?:{plain})[\s-]+(?:{part})"
        rf"|half\s+a\s+dozen|a\s+(?:{part})|half(?:[\s-]+an?\b)?|(?:(?:a|{plain})\s+)?(?:{group})(?:\s+of)?(?=\W|$)"
        rf"|quarter(?=[\s-]+(?:of\b|an?\b|hour|pound|ounce|lb|oz|pint|gallon|cup|tea|tsp|tbsp))"
        rf"|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)[\s-](?:{plain})"
        rf"|(?:{plain})(?:\s+hundred)?)"
    )
    return rf"(?:{figures}|\b{words}\b)"
