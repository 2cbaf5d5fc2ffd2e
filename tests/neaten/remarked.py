"""Texts with comments everywhere: what is written between and behind the lines of another."""

from __future__ import annotations

import re
from random import Random

_ENDS = re.compile(r"(\r\n|\r|\n)")
_GAPS = ("", "  ", "\t", "      ")


def remarked(text: str, seed: int) -> tuple[str, int]:
    """The text with comments and blank lines in many places, and how many comments there are."""
    random = Random(seed)
    parts = _ENDS.split(text.removeprefix("\ufeff"))
    lines, ends = parts[::2], [*parts[1::2], ""]
    end = ends[0] or "\n"
    made, count = ["\ufeff" if text.startswith("\ufeff") else ""], 0
    for line, after in zip(lines, ends, strict=True):
        if random.random() < 0.3:
            count += 1
            made.append(f'{random.choice(_GAPS)}# remark {count}: "so, 12 %{end}')
        if random.random() < 0.2:
            made.append(random.choice(_GAPS) + end)
        if line.strip() and "#" not in line and random.random() < 0.4:
            count += 1
            line += f"{random.choice(_GAPS)}#remark {count}: “so"
        made.append(line + after)
    return "".join(made), count


def remarks(text: str) -> list[str]:
    """The comments of a text that :func:`remarked` made, in order."""
    return re.findall(r"# ?remark [0-9]+: [^\r\n]*", text)
