"""A word written twice: “the the bath”, “wet out wet out yarn”, which is read as once.

The eye passes over it, and so it is told of: what is doubled may be a slip for another word.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from procedure.findings import Says, say
from procedure.language.spoken import BEYOND, BOUNDS
from procedure.language.tree import Fault
from procedure.quantity.ready_patterns import pattern

_WORD = r"(?:[^\W\d_][\w'’-]*|%|°[CF])"
# Free words and comments are passed over; “in” after a number is an inch.
_DOUBLED = pattern(
    r"\"[^\"]*\"|“[^”]*”|[\"“#].*"
    rf"|(?P<inch>\d\s+in\s+in\b)|(?<![\w.'’-])(?P<once>{_WORD}(?:\s+{_WORD})?)"
    r"(?P<again>\s+(?P=once))(?![\w'’:-])"
)


def without_doubled(raw: str, number: int) -> tuple[str, list[Fault]]:
    """A line with blanks in the place of what is written again, and a fault for each of it."""
    faults: list[Fault] = []
    written = raw
    while (found := next(_doubled(raw), None)) is not None:
        # The first goes where the second begins a bound: at at least 30 °C.
        again = raw[found.start("again") :].lstrip()
        a_bound = any(f"{again} ".startswith(f"{phrase} ") for phrase in (*BOUNDS, *BEYOND))
        begin, end = found.span("once" if a_bound else "again")
        raw = raw[:begin] + " " * (end - begin) + raw[end:]
        once = found["once"]
        if a_bound and once == "at":
            continue  # at at most 60 °C says what it says
        sentence = say("“{word}” is written twice.", word=once)
        at = found.start("once") + 1
        to = found.end("again") + 1
        twice = written[at - 1 : to - 1]
        faults.append(Fault(number, at, to, sentence, Says("Write it once."), twice, once))
    return raw, faults


def _doubled(raw: str) -> Iterator[re.Match[str]]:
    return (found for found in _DOUBLED.finditer(raw) if found["once"])
