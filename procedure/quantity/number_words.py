"""Numbers as words: digits, fractions, ranges and lists, for every sentence and paper.

This is the lower of two layers. It knows nothing of units or readers. Above it,
:mod:`procedure.wording.numbers` says the typed values of findings in a reader's units, and
:mod:`procedure.paper.measures` the amounts of papers as a kitchen measures them; whatever
else prints a number uses one of the three.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from fractions import Fraction

from procedure.quantity.interval import ENDLESS

IN_TURN = (
    "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth".split()
)
UP_TO_TWELVE = "no one two three four five six seven eight nine ten eleven twelve".split()
_SIGNS = {
    Fraction(1, 8): "⅛",
    Fraction(1, 4): "¼",
    Fraction(3, 8): "⅜",
    Fraction(1, 2): "½",
    Fraction(5, 8): "⅝",
    Fraction(3, 4): "¾",
    Fraction(7, 8): "⅞",
}
# Parts of a whole as people say them.
SHARES = {
    Fraction(1, 2): "half",
    Fraction(1, 3): "a third",
    Fraction(2, 3): "two thirds",
    Fraction(1, 4): "a quarter",
    Fraction(3, 4): "three quarters",
    Fraction(1): "all",
}
# How many times a thing something is, in words: what weighs twice of the yarn.
_TIMES = (
    r"^((?:about )?(?:once|twice|thrice|half|\S+ times|(?:a|one|two|three) (?:third|quarter)s?))"
    r" of (?!the weight)"
)


# ------------------------------------------------------------------ one number


def plain(value: Fraction, digits: int = 3) -> str:
    """A number for a sentence, to a few significant figures."""
    text = f"{float(value):.{digits}g}"
    return f"{float(text):g}" if "e" not in text else f"{float(text):.0f}"


def by_weight(written: str) -> str:
    """A weight told by that of something else, as a sentence has it.

    ``twice of yarn`` becomes ``twice the weight of yarn``; any other text is left as it is.
    """
    return re.sub(_TIMES, r"\1 the weight of ", written) if " of " in written else written


def in_words(number: int) -> str:
    """A whole number in words up to twelve."""
    return UP_TO_TWELVE[number] if 0 <= number < len(UP_TO_TWELVE) else str(number)


def in_turn(number: int) -> str:
    """Which one it is, counted from 1, in a word up to the twelfth; empty beyond."""
    return IN_TURN[number - 1] if 0 < number <= len(IN_TURN) else ""


def decimal(value: Fraction) -> str:
    """A number of nothing or more that has an end as decimals, with all its places: ``0.125``."""
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
    return to_places(value, places)


def decimals(step: Fraction) -> int:
    """How many decimal places a step needs, at most six."""
    return next((n for n in range(6) if (step * 10**n).denominator == 1), 6)


def to_places(value: Fraction, places: int) -> str:
    """A number with at most so many decimal places and no zeros at its end."""
    whole = round(value * 10**places)
    sign = "-" if whole < 0 else ""
    left, right = divmod(abs(whole), 10**places)
    text = f"{sign}{left}.{right:0{places}d}" if places else f"{sign}{left}"
    return text.rstrip("0").rstrip(".") if places else text


def mixed(value: Fraction) -> str:
    """A number of whole ones and eighths: ``3½``, ``¼``, ``12``."""
    whole, part = divmod(value, 1)
    return f"{whole or ''}{_SIGNS.get(part, '')}" or "0"


def in_two(
    value: Fraction,
    per: Fraction | int,
    units: tuple[str, str],
    write: Callable[[Fraction], str] = decimal,
    space: str = " ",
) -> str:
    """A number of small units as large ones and what is left: ``1 lb 9.4 oz``.

    ``per`` small units make a large one; ``units`` are the names of the large and the small.
    """
    whole, rest = divmod(value, per)
    parts = [f"{whole}{space}{units[0]}"] if whole else []
    if rest or not whole:
        parts.append(f"{write(rest)}{space}{units[1]}")
    return space.join(parts)


# ------------------------------------------------------------------ several


def ranged(first: str, last: str) -> str:
    """Two ends that are written already: ``2 to 4``, or one of them where they read alike."""
    return first if first == last else f"{first} to {last}"


def between(low: Fraction | int, high: Fraction | int) -> str:
    """Whole numbers as ``3``, ``2 to 4``, or ``3 or more`` where there is no upper end."""
    if high == ENDLESS:
        return f"{low} or more"
    return ranged(f"{low}", f"{high}")


# Of more a reader is told the first, and how many more there are.
MOST_LISTED = 20


def beyond(count: int, most: int = MOST_LISTED) -> int:
    """How many of so many things are not named in a sentence; never one alone."""
    return count - most if count > most + 1 else 0


def listed(words: Sequence[str], last: str = "and") -> str:
    """Things one after another: ``a``, ``a and b``, ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"
