"""What a line that cannot be read most likely says.

The line is told of as it is, and nobody's text is changed. But the rest of the procedure is
followed as if the line said what it most likely says, so that one slip is one finding, and no
train of baths never made and yarn never rinsed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from procedure.language.tree import Fault

# Lines of a text by their numbers.
Raws = tuple[tuple[int, str], ...]

# Behind these words stands what is in quotation marks; behind the last mostly an amount.
_BEFORE_WORDS = ("note", "because", "until", "if", "either", "follow", "do", "down", "to")
_LABEL = re.compile(r"\s*[\w’'-]+\s*:\s")
_CLAUSE = re.compile(
    r"\s+(?:covered|uncovered|labelled|gently|outdoors|note|wearing|for|at|allow)\b[^\"]*$"
)


def begins_anew(fault: Fault, raws: Raws) -> bool:
    """True where a fault is that a step is indented as if it went on with the one above."""
    place = next(((n, raw) for n, raw in raws[1:] if n == fault.line), None)
    if place is None:
        return False
    label = _LABEL.match(place[1])
    if label is not None:
        return fault.column <= label.end()
    told = fault.sentence.template.startswith("“{word}” looks like the start")
    return told and not place[1][: fault.column - 1].strip()


def likely(fault: Fault, raws: Raws) -> Iterator[Raws]:
    """The lines as they may have been meant, the likeliest first."""
    for at, (number, raw) in enumerate(raws):
        if number != fault.line:
            continue
        for other in _meant(fault, raw):
            yield (*raws[:at], (number, other), *raws[at + 1 :])


def _meant(fault: Fault, raw: str) -> Iterator[str]:
    if fault.meant:
        yield raw[: fault.column - 1] + fault.meant + raw[fault.to - 1 :]
    if raw.count('"') % 2 == 0:
        return
    if raw.rstrip().endswith('"'):
        yield from _first_mark(raw)
    # A lost last mark is before what goes on behind the words, or at the end of the line.
    words = raw.rpartition('"')[2]
    behind = _CLAUSE.search(words)
    if behind is not None:
        end = len(raw) - len(words) + behind.start()
        yield f'{raw[:end]}"{raw[end:]}'
    if words.strip():
        yield f'{raw.rstrip()}"'
    yield from _first_mark(raw)


def _first_mark(raw: str) -> Iterator[str]:
    """The line with the mark that was lost before its first words in marks."""
    said = raw.rpartition('"')[0]
    for word in _BEFORE_WORDS:
        at = said.rfind(f" {word} ")
        if at >= 0 and '"' not in said[at:]:
            begin = at + len(word) + 2
            yield f'{raw[:begin]}"{raw[begin:]}'
