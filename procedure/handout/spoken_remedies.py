"""Remedies as papers have them: what a dyer can do, without what a writer would write.

A remedy of the checker speaks to whoever writes the text: it has words to write, in quotation
marks, and says where to write them. Whoever works from a paper has no text to write in. So a
remedy is parted into its clauses, those for the writer alone are left out whole, and no sentence
loses a piece from its middle.
"""

from __future__ import annotations

import re

from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary import vocabulary

_QUOTED = pattern(r"(?<!\()“([^“”]*)”")
# Words to write that only show once more what is said: behind a colon, or between commas.
_SHOWN = pattern(r"(?:: |, (?:such as |as in |as with )?)\0(?=$|[.,;])")
_OF_SENTENCES = pattern(r"(?<=[.!?]) (?=[^a-z])")
_OF_CLAUSES = pattern(
    r"(; (?:or |else |otherwise )?|, (?:or|and) |: | and (?=write\b)|, (?=write\b))"
)
# What a writer does to a text; “write down” is what anybody does on the day.
_TO_A_TEXT = pattern(
    r"(?:^|, )(?:write|say|name|end with|begin|declare|state|did you mean|remove|choose another "
    r"name|move the line|put it in where|put fewer|give \S+(?: \S+)? a\b|"
    r"leave (?:out )?(?:its name|this step|the amount|the line|the word))(?! down)\b"
    r"|\bwrites\b|\bbelongs? (?:at the head|in the)|\bgets its name\b"
    r"|\b(?:on a|above that|of that) line\b|\bon a line\b",
    re.I,
)


def to_be_done(remedy: str) -> str:
    """What somebody can do who works from a paper; empty where all of it is for the writer."""
    masked = _SHOWN.sub("", _QUOTED.sub(_hidden, remedy))
    said = (_of_sentence(one) for one in _OF_SENTENCES.split(masked))
    return " ".join(one for one in said if one)


def _hidden(found: re.Match[str]) -> str:
    """Words to write as one mark; where a thing is done, “outdoors”, is as well said as written."""
    return found[1] if found[1] in vocabulary().tables["place"] else "\0"


def _of_sentence(sentence: str) -> str:
    """A sentence with the clauses that tell a dyer something.

    Where it begins with what is for the writer, what follows hangs on that, up to a semicolon.
    """
    body = sentence.rstrip(".")
    first, *rest = _OF_CLAUSES.split(body)
    # “If it is stainless, write ...” says nothing without what is written.
    hangs = first.startswith("If ") and bool(rest) and _is_written(rest[1])
    made = "" if hangs or _is_written(first) else first
    for between, clause in zip(rest[::2], rest[1::2], strict=True):
        if _is_written(clause) or not (made or between.startswith(";")):
            continue
        made = f"{made}{between}{clause}" if made else clause[:1].upper() + clause[1:]
    return f"{made}." if made else ""


def _is_written(clause: str) -> bool:
    return "\0" in clause or _TO_A_TEXT.search(clause) is not None
