"""Numbered steps that stand one behind another in a line: each is put on a line of its own."""

from __future__ import annotations

import re

# A number that may head a step: at the start, or behind the end of a sentence.
MARK = re.compile(
    r"(?:\A|(?<=[.:;!?)\"])(?<!\d:)(?<!\d :)|(?<=\n))[ \n]*"
    r"\(?(?P<number>\d{1,2})[.)][ ](?=[A-Z\"(])"
)


def steps_apart(text: str) -> str:
    """The text with a line for each of the steps "1. ... 2. ... 3. ..." that share one.

    Only numbers that count up from one, two of them at the least, are taken for heads of steps.
    """
    found = list(MARK.finditer(text))
    heads: list[re.Match[str]] = []
    run: list[re.Match[str]] = []
    for one in [*found, None]:
        follows = one is not None and run and int(one["number"]) == len(run) + 1
        if not follows:
            heads += run if len(run) > 1 else []
            run = []
        if one is not None and int(one["number"]) == len(run) + 1:
            run.append(one)
    for one in reversed(heads):
        at = one.start("number")
        at -= text[at - 1 : at] == "("
        before = text[:at].rstrip(" ")
        if before and not before.endswith("\n"):
            text = before + "\n" + text[at:]
    return text
