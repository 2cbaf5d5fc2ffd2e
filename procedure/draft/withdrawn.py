"""What prose says and takes back: "half a pound I'd put back... no, that was the other".

A slip with its right amount beside it is put right in ``correcting.py``; here nothing comes in the
place of what was said.
"""

from __future__ import annotations

import re

from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.quantity.ready_patterns import pattern

_OH = r"(?:(?:no|oh|wait|sorry|actually|hang\s+on|but|well|ah)\b[,.!]*\s+)*"
_LEAVE = r"(?:never\s+mind|forget|ignore|scrap|strike|scratch|disregard|cross\s+out)"
_WHAT = (
    r"(?:that|it|this|what\s+i(?:'ve)?\s+(?:just\s+)?said)"
    r"(?:\s+(?:last\s+)?(?:bit|part|line|one))?"
)
_NO_THAT_WAS = (
    r"(?:i\s+tell\s+a\s+lie|i'm\s+(?:wrong|mistaken|muddling)|i\s+am\s+(?:wrong|mistaken|thinking\s+of)"
    r"|(?:that|it)(?:'s|\s+was|\s+is|\s+goes|\s+belongs)\s+(?:for\s+|with\s+|to\s+)?(?:the|my|another|a\s+different)\b"
    r"|leave\s+(?:that|it)\s+out)"
)
# A sentence that takes back the one before it; ``what`` is the stuff that it speaks of.
TAKES_BACK = pattern(
    rf"\W*{_OH}(?:{_LEAVE}\s+{_WHAT}|never\s+mind|leave\s+(?:that|it)\s+out)\s*(?:[,.!;:)]|$)"
    rf"|\W*(?:oh\s+|wait,?\s+|but\s+)*no\b[,.!]*\s+(?:{_NO_THAT_WAS}|{_LEAVE}\s+the\s+(?P<what>\w+))"
    r"|\W*or\s+was\s+(?:that|it)\s+(?:for\s+)?the\b",
    re.I,
)
# "I would have put it back, but no, leave that out": within one sentence.
TAKES_BACK_WITHIN = pattern(
    rf"(?:\.\.\.|,|-|\()\s*(?:but\s+|oh\s+|or\s+|wait,?\s+)*(?:no\b[,.!]*\s+(?:{_NO_THAT_WAS}|{_LEAVE}\s+{_WHAT}|never\s+mind)"
    r"|or\s+was\s+(?:that|it)\s+(?:for\s+)?the\b|was\s+(?:that|it)\s+(?:for\s+)?the\s+\w+\?)",
    re.I,
)
NO = pattern(r"\W*(?:oh,?\s+)?no\W*", re.I)
LAST_CLAUSE = pattern(r"[;:]\s|,?\s+(?:and|then)\s+(?:then\s+)?", re.I)
MEASURES = frozenset(("mass", "volume", "time", "spoon", "temperature", "share"))


def withdrawn(told: list[Sentence]) -> dict[int, list[Span]]:
    """The stretches that the prose takes back, by the number of their sentence."""
    found: dict[int, list[Span]] = {}
    for index, sentence in enumerate(told):
        within = TAKES_BACK_WITHIN.search(sentence.text)
        if within is not None and not _measures(sentence, sentence.start + within.start()):
            low = _last_clause(sentence.text[: within.start()])
            found.setdefault(sentence.number, []).append((sentence.start + low, sentence.end))
        cried = index > 0 and NO.fullmatch(told[index - 1].text) is not None
        taken = TAKES_BACK.match(f"no, {sentence.text}" if cried else sentence.text)
        if taken is None or _measures(sentence, sentence.start):
            continue
        found.setdefault(sentence.number, []).append((sentence.start, sentence.end))
        said = _what_is_meant(told[:index])
        if said is not None and not said.text.rstrip().endswith("?"):
            span = _taken_of(said, taken["what"])
            found.setdefault(said.number, []).extend([span] if span else [])
    return found


def _what_is_meant(before: list[Sentence]) -> Sentence | None:
    """The last sentence that does not take back another itself."""
    for one in reversed(before):
        if not TAKES_BACK.match(one.text) and not NO.fullmatch(one.text):
            return one
    return None


def _taken_of(said: Sentence, what: str | None) -> Span | None:
    """What of a sentence is taken back: of what broke off, the last clause."""
    if what is not None:
        names = [p for p in said.parts if any(what.lower() in t.words.lower() for t in p.things)]
        return (names[0].start, names[-1].end) if names else None
    broken = said.text.rstrip().endswith(("...", "-"))
    return said.start + (_last_clause(said.text.rstrip()) if broken else 0), said.end


def _last_clause(text: str) -> int:
    ends = [one.end() for one in LAST_CLAUSE.finditer(text)]
    return ends[-1] if ends else 0


def _measures(sentence: Sentence, at: int) -> bool:
    """True where an amount stands behind a place, which may be the right one."""
    return any(
        one.kind in MEASURES and one.start >= at for part in sentence.parts for one in part.amounts
    )
