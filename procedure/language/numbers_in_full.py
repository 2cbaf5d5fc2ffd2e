"""Numbers that are written as words: “two thirds”, “a hundred and fifty”, “one and a quarter”.

Short ones are rows of :data:`NUMBERS`; :data:`IN_FULL` is the form of those made of several, which
:func:`number_said` adds up.
"""

from __future__ import annotations

from fractions import Fraction

from procedure.quantity.ready_patterns import pattern

UP_TO_TWELVE = "one two three four five six seven eight nine ten eleven twelve".split()
_TEENS = "thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
_DECADES = "twenty thirty forty fifty sixty seventy eighty ninety".split()
# Words with which a whole number begins.
WHOLE = frozenset(
    (
        *UP_TO_TWELVE,
        *_TEENS,
        *_DECADES,
        *[f"{ten}-{one}" for ten in _DECADES for one in UP_TO_TWELVE],
    )
)
PARTS = {
    "half": 2,
    "third": 3,
    "quarter": 4,
    "fourth": 4,
    "fifth": 5,
    "sixth": 6,
    "seventh": 7,
    "eighth": 8,
    "ninth": 9,
    "tenth": 10,
    "twelfth": 12,
    "twentieth": 20,
}
NUMBERS: dict[str, Fraction] = {
    **{word: Fraction(at) for at, word in enumerate(UP_TO_TWELVE, 1)},
    **{word: Fraction(at) for at, word in enumerate(_TEENS, 13)},
    **{word: Fraction(10 * at) for at, word in enumerate(_DECADES, 2)},
    **{
        f"{word}{joined}{one}": Fraction(10 * at + more)
        for at, word in enumerate(_DECADES, 2)
        for more, one in enumerate(UP_TO_TWELVE[:9], 1)
        for joined in "- "
    },
    **{f"{word}-hundred": Fraction(100 * at) for at, word in enumerate(UP_TO_TWELVE[:9], 1)},
    "a dozen": Fraction(12),
    "half a dozen": Fraction(6),
    "quarter of an": Fraction(1, 4),
    "a": Fraction(1),
    "an": Fraction(1),
    "half": Fraction(1, 2),
    "half a": Fraction(1, 2),
    "half an": Fraction(1, 2),
    "the same": Fraction(1),
    "once": Fraction(1),
    "once more": Fraction(1),
    "twice": Fraction(2),
    "double": Fraction(2),
    "treble": Fraction(3),
    "triple": Fraction(3),
    "thrice": Fraction(3),
    "twice more": Fraction(2),
    **{f"{word} {part}": Fraction(1, of) for part, of in PARTS.items() for word in ("a", "one")},
    **{
        f"{word} {part}s": Fraction(many, of)
        for part, of in PARTS.items()
        for many, word in enumerate(UP_TO_TWELVE[:of], 1)
        if 1 < many < of
    },
}
for _part, _share in (("a quarter", Fraction(1, 4)), ("three quarters", Fraction(3, 4))):
    NUMBERS |= {f"{_part} of an": _share, f"{_part} of a": _share}

# Measures that the language has not, so that what is wrong with “two pecks” is told of the peck.
OLD_MEASURES = "bushel peck dram drachm gill grain scruple hundredweight tonne month year".split()

_GROUPS = {"hundred": 100, "thousand": 1000, "dozen": 12}
_ONES = "|".join(UP_TO_TWELVE[:9])
_BELOW_HUNDRED = (
    rf"(?:(?:{'|'.join(_DECADES)})(?:[ -](?:{_ONES}))?|{'|'.join((*_TEENS, *UP_TO_TWELVE[::-1]))})"
)
_HUNDREDS = rf"(?:a|{_BELOW_HUNDRED})[ -]hundred(?:(?: and | |-and-){_BELOW_HUNDRED})?"
_THOUSANDS = rf"(?:a|{_BELOW_HUNDRED})[ -]thousand(?:(?: and | )(?:{_HUNDREDS}|{_BELOW_HUNDRED}))?"
_SHARE = r"(?:(?:a|one) (?:half|third|quarter)|two thirds|three quarters)"
_GROUPED = rf"(?:{_THOUSANDS}|{_HUNDREDS})"
# Of several words, and not in the table.
IN_FULL = rf"(?:{_GROUPED}(?: and {_SHARE})?|{_BELOW_HUNDRED} and {_SHARE})"


def number_said(text: str) -> Fraction | None:
    """What a number in words comes to; None for any other text, figures too."""
    if text in NUMBERS:
        return NUMBERS[text]
    figures, _, group = text.rpartition(" ")
    if group in _GROUPS and figures.replace(".", "", 1).isdigit():
        return Fraction(figures) * _GROUPS[group]
    if not text[:1].isalpha() or pattern(rf"{IN_FULL}\Z").match(text) is None:
        return None
    found = pattern(rf"(?:(.*) and )?({_SHARE})\Z").match(text)
    if found is not None and found[1]:
        return _whole(found[1]) + NUMBERS[found[2]]
    return Fraction(_whole(text))


def _whole(text: str) -> int:
    """A whole number of several words."""
    thousands = below = 0
    for word in text.replace("-", " ").split():
        if word == "thousand":
            thousands, below = below * 1000, 0
        elif word == "hundred":
            below *= 100
        elif word != "and":
            below += int(NUMBERS[word])
    return thousands + below


def group_said(text: str) -> int:
    """How many one of what a number in words counts is: 100 for “three hundred”; else 1."""
    return _GROUPS.get(text.rpartition(" ")[2], 1) if text.count(" ") == 1 else 1
