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

# Behind these words stands what is in quotation marks.
_QUOTED = r"\b(?:to|until|note|because|if|either|or|do|follow|down)\s+"
_LOST_FIRST = re.compile(rf'({_QUOTED})([^"]+")')
_CLAUSE = re.compile(
    r"\s+(?:covered|uncovered|labelled|gently|outdoors|note|wearing|for|at|allow)\b[^\"]*$"
)


def begins_anew(fault: Fault, raws: Raws) -> bool:
    """True where a fault is that a step is indented as if it went on with the one above."""
    place = next(((n, raw) for n, raw in raws[1:] if n == fault.line), None)
    if place is None or not fault.sentence.template.startswith("“{word}” looks like the start"):
        return False
    return not place[1][: fault.column - 1].strip()


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
    # A lost last mark is before what goes on behind the words, or at the end of the line.
    words = raw.rpartition('"')[2]
    behind = _CLAUSE.search(words)
    if behind is not None:
        end = len(raw) - len(words) + behind.start()
        yield f'{raw[:end]}"{raw[end:]}'
    yield f'{raw.rstrip()}"'
    found = _LOST_FIRST.search(raw)
    if found is not None:
        yield f'{raw[: found.start(2)]}"{raw[found.start(2) :]}'
