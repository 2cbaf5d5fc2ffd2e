"""The title of a draft: the heading of the recipe, or what is dyed with what.

How a letter begins ("Dear Maud", "You asked how I got that yellow") is no title.
"""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.course import Course
from procedure.draft.sentences import Sentence
from procedure.draft.stock import trade_role
from procedure.vocabulary import vocabulary

# "Hi Jo,": whom a letter greets is no title.
GREETING = re.compile(
    r"\W*(?:hi|hello|hey|dear|hiya|greetings|good\s+(?:morning|day|evening|afternoon))\b(?:\W+\w+){0,4}\W*",
    re.I,
)
ENDS = (".", ";", ":", ",", "?")


def title_of(course: Course, told: list[Sentence]) -> str:
    """A title of at most ``limits.LONGEST_TITLE`` letters, in which no word is cut."""
    first = next((one for one in told if not GREETING.fullmatch(one.words)), told[0])
    greeted = first is not told[0]
    if (not greeted and not _is_a_remark(first)) or _is_heading(course, first):
        return _plain(first.words) or "A recipe"
    return _of_what(course) or _plain(first.words) or "A recipe"


def _is_heading(course: Course, sentence: Sentence) -> bool:
    """True for a line of its own, which ends without a full stop."""
    alone = course.text[sentence.end - 1 : sentence.end + 1].strip(" !")[:1] in ("\n", "")
    short = len(sentence.words) <= limits.LONGEST_TITLE
    return alone and short and not sentence.words.rstrip("\"')").endswith(ENDS)


REMARK = re.compile(r"\b(?:i|you|we|me|us|my|your|our)\b", re.I)


def _is_a_remark(sentence: Sentence) -> bool:
    """True for a sentence to somebody that measures nothing and names nothing that is worked on."""
    spoken = REMARK.search(sentence.words) is not None
    return spoken and not any(part.amounts or part.things for part in sentence.parts)


def _of_what(course: Course) -> str:
    """What is dyed with what: "Weld on wool"; empty where no dye or no fibre is told of."""
    known = [name for name in course.materials.values() if vocabulary().material(name)]
    dyes = [name for name in known if trade_role(name) == "dyestuff"]
    fibres = [lot.fibre or lot.form for lot in course.lots.values()]
    fibres = [name for name in dict.fromkeys(fibres) if name not in ("", "fibre")]
    if not dyes:
        return ""
    said = _row(dyes) + (f" on {_row(fibres)}" if fibres else "")
    return _plain(said[:1].upper() + said[1:])


def _row(names: list[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last


def _plain(words: str) -> str:
    """The words on one line, without quotation marks, up to the last word that has room."""
    said = " ".join(words.split()).replace('"', "'")
    if len(said) > limits.LONGEST_TITLE:
        cut, _, rest = said[: limits.LONGEST_TITLE + 1].rpartition(" ")
        said = cut or rest
    return said.strip(" .:;,-–—(")
