"""Words that a line says already, or that say nothing that a line could hold.

"Turn off the heat" is said by the cooling that comes of it, "at that temperature" by a hold, and
"everything" is what is in the pot. Where no line of the sentence says it, the words are told of
as not read, like all others.
"""

from __future__ import annotations

import re

from procedure.draft.heat_off import HEAT_OFF
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Line

# "At that temperature", "at this heat": that of the step before.
AT_THAT = re.compile(
    r"\b(?:at|on)\s+(?:about\s+)?(?:that|this|the\s+same)\s+(?:temperature|heat|temp)\b|\b(?:maintain|keep|hold)\w*\s+(?:this|that|the)\s+(?:temperature|heat)\b",
    re.I,
)
# "Raise the temperature to 80 °C", "keep the heat at 80 °C": the words before a figure.
THE_HEAT_OF = re.compile(
    r"\b(?:temperature|temp|heat)(?:\s+(?:of\s+(?:the\s+)?\w+))?(?=\s+(?:[a-z]+ly\s+)?(?:to|at|around|about|up\s+to|below|between|under)\b)",
    re.I,
)
# "Leave the wool to cool", "allow to go cold": the second verb says what is done.
LEAVE_TO = re.compile(
    r"\b(?P<verb>leave|left|leaving|put|set|allow|allowed|let|hang|hung|lay|laid|spread|peg)(?:\s+up|\s+out)?\s+"
    r"(?:(?:it|them|everything|(?:the|your)\s+[\w-]+)\s+)?(?:up\s+|out\s+|overnight\s+)?(?:to\s+)?"
    r"(?=(?:soak|steep|cool|dry|drain|stand|settle|simmer|boil|rest|dissolve|wet|air|go)\b)",
    re.I,
)
GO_COLD = re.compile(r"\bgo(?:es)?(?=\s+(?:cold|cool)\b)", re.I)
SAYS_SO = {
    LEAVE_TO: ("",),
    GO_COLD: ("cool ", "hold "),
    HEAT_OFF: ("cool ", "lift ", "strain "),
    AT_THAT: ("hold ", "simmer ", "dye ", "mordant ", "boil ", "steep "),
    THE_HEAT_OF: ("heat ", "hold ", "cool ", "dye ", "mordant ", "simmer "),
}


def only_leaves(text: str, sentence: Sentence, word: str) -> bool:
    """True for the "leave" of "leave it to cool", where what is done is the second verb."""
    found = LEAVE_TO.finditer(text, sentence.start, sentence.end)
    return any(one["verb"].lower() == word.lower() for one in found)


def idle_spans(text: str, sentence: Sentence, lines: list[Line]) -> list[Span]:
    """The words of a sentence that its lines say already, or that say nothing to be done."""
    found: list[Span] = []
    if not lines:
        return found
    for pattern, verbs in SAYS_SO.items():
        if any(line.text.startswith(verbs) for line in lines):
            found += [m.span() for m in pattern.finditer(text, sentence.start, sentence.end)]
    words = re.compile(rf"(?<![\w'-])(?:{one_of(meanings('idle'))})(?![\w'-])", re.I)
    return found + [m.span() for m in words.finditer(text, sentence.start, sentence.end)]
