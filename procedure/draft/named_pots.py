"""What the prose says of its pots: what they are made of, and that nobody cooks in them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from procedure.draft.course import NO_POT, Course
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence

MADE_OF = re.compile(
    r"\b(?P<of>stainless[\s-]+steel|stainless|enamel(?:l?ed)?|alumini?um|copper|brass|cast[\s-]+iron|iron)\s+"
    r"(?:[a-z-]+\s+)?(?P<vessel>pot|pan|kettle|saucepan|cauldron|boiler|stockpot|dye\s*pot|canner|vessel)(?P<several>s?)\b",
    re.I,
)
# The words of the prose for what a pot is made of, where they are not those of the language.
CALLED = {"stainless": "stainless steel", "enamelled": "enamel", "enameled": "enamel"}
CALLED |= {"aluminum": "aluminium"}
SAUCEPANS = frozenset(("pan", "saucepan"))
# "An old saucepan you don't cook in", "kept for dyeing".
FOR_DYEING_ONLY = re.compile(
    r"\b(?:(?:kept|used|reserved|set\s+aside)\s+(?:only|solely|just)?\s*for\s+dye(?:ing|s)?\b(?:\s+only)?"
    r"|not\s+the\s+ones?\s+(?:that\s+)?you\s+cook\s+(?:in|with)"
    r"|only\s+(?:used\s+)?for\s+dyeing|(?:never|not|no\s+longer)\s+(?:to\s+be\s+)?(?:used\s+)?for\s+(?:food|cooking)"
    r"|(?:you\s+|we\s+|i\s+|nobody\s+)(?:don['’]t|do\s+not|never|no\s+longer)\s+(?:use\s+for\s+(?:food|cooking)|cook\s+(?:in|with)))",
    re.I,
)
# "If you have a copper pan", "never an iron pot": there is none here, or may be none.
NOT_SO = re.compile(
    r"\b(?:if|never|not|no|don['’]t|avoid|without|unless|or|like)\b[^.;:()\n]{0,32}$", re.I
)


def name_pots(course: Course, told: Iterable[Sentence]) -> list[Span]:
    """Call each pot by what it is made of, where a sentence says so; the words that say it.

    What is said of a pot is said of the one that the same sentence fills, or the next one.
    """
    spans: list[Span] = []
    filled = [
        (bath.prepared.sentence, bath.pot)
        for bath in course.baths
        if bath.prepared is not None and course.pots.get(bath.pot) == NO_POT
    ]
    for sentence in told:
        for match in MADE_OF.finditer(sentence.text):
            if NOT_SO.search(sentence.text[: match.start()]):
                continue
            near = [pot for number, pot in filled if number >= sentence.number]
            free = [pot for pot in near if course.pots[pot] == NO_POT]
            if not free:
                continue
            for pot in free if match["several"] else free[:1]:
                course.pots[pot] = _called(match)
            low, high = match.span("of")
            spans.append((sentence.start + low, sentence.start + high))
        for match in FOR_DYEING_ONLY.finditer(sentence.text):
            for pot, words in course.pots.items():
                if not words.endswith("only"):
                    course.pots[pot] = f"{words}, for dyeing only"
            spans.append((sentence.start + match.start(), sentence.start + match.end()))
    return spans


def _called(match: re.Match[str]) -> str:
    of = " ".join(re.split(r"[\s-]+", match["of"].lower()))
    vessel = "pan" if match["vessel"].lower() in SAUCEPANS else "pot"
    return f"{CALLED.get(of, of)} {vessel}"
