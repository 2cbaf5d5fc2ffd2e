"""Which line ends of a text end what is said, and which are only where a line was full."""

from __future__ import annotations

import itertools
import re

from procedure.draft import limits

BULLET = re.compile(
    r"\s*(?:[-*•·☐□]\s|\(?\d{1,2}[.)]\s|\d{1,2}[:.]\d\d\s+[A-Za-z]"  # "02:45 the mordant"
    r"|[A-Za-z][\w ]{0,24}:\s|[A-Z][\w ]{2,16}\s-\s|@|>)"
)
ENDS = re.compile(r"[.!?:;][\")\]]*\s*$")
COLUMNS = re.compile(r"\t|\s\|\s|(?:,\S[^,]*){3}|\S {3,}\S")  # a row of a table
ROW = re.compile(r"(?:,\S[^,\n]*){3}|\S {3,}\S.* {3,}\S")  # with three columns or more


def breaks(text: str) -> list[int]:
    """The places after those line ends that end a sentence.

    Lines that were filled up to a width go on in the next: a line was full where the first
    word of the next would not have gone into it. Lists, tables and headings have lines that
    end early, and each of their lines says something of its own.
    """
    found: list[int] = []
    for block in re.finditer(r"(?:[^\n]*\S[^\n]*\n?)+", text):
        found += _of_block(block[0], block.start())
    return found


def _of_block(block: str, offset: int) -> list[int]:
    lines = block.splitlines(keepends=True)
    lengths = sorted(len(" ".join(line.split())) for line in lines)
    width = lengths[-1] if len(lengths) < 3 else lengths[-2]
    early = [_ends_early(line, after, width) for line, after in itertools.pairwise(lines)]
    filled = [len(" ".join(line.split())) * 5 >= width * 4 for line in lines[:-1]]
    lower = sum(line.lstrip()[:1].islower() for line in lines[1:]) * 3 >= len(lines) - 1
    prose = (
        lower
        and sum(filled) * 5 >= len(filled) * 3
        and width >= limits.SHORTEST_WRAP
        and len(lines) > 2
    )
    listed = not prose and (sum(early) * 4 > len(early) * 3 or width < limits.SHORTEST_WRAP)
    columned = sum(bool(COLUMNS.search(line)) for line in lines)
    listed = listed or columned * 5 >= len(lines) * 4
    found: list[int] = []
    at = offset
    for index, line in enumerate(lines[:-1]):
        at += len(line)
        after = lines[index + 1]
        rows = bool(ROW.search(line)) and bool(ROW.search(after))
        if (
            listed
            or rows
            or (index and bool(ROW.search(line)) and bool(ROW.search(lines[index - 1])))
            or (early[index] and _new_thought(line, after, width))
            or BULLET.match(after)
            or (ENDS.search(line) and not SHORTENED.search(line + after[:1]))
        ):
            found.append(at)
    return found


# A shortened word at the end of a line does not end what is said.
SHORTENED = re.compile(
    r"(?:°\s*[CF]|[\d½¼¾⅓⅔⅛a-z]\s*\b(?:lbs?|ozs?|gals?|mins?|hrs?|pts?|qts?))\.\s*\n[a-z]"
)
OPEN_END = re.compile(
    r"(?:[,-]|\b(?:in|of|the|a|an|and|or|with|to|for|at|on|from|into|it|is|are|was|then|by|per))\s*$",
    re.I,
)


def _new_thought(line: str, after: str, width: int) -> bool:
    """True where the next line does not go on with this one."""
    if OPEN_END.search(line):
        return False
    goes_on = after.lstrip()[:1].islower()
    return not goes_on or len(line.rstrip()) * 2 < width


def _ends_early(line: str, after: str, width: int) -> bool:
    """True where the next line's first word would have gone into this one."""
    first = after.split(maxsplit=1)[0] if after.strip() else ""
    return len(" ".join(line.split())) + 1 + len(first) <= width
