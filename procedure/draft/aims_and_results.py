"""Lines of a notebook or a leaflet that tell why it was done, or what came of it.

"Purpose.", "Obj.:", "Result:", "Obs.:" lead such a line; "combined extracts 1.1 L" sums up what is
there; "no addition (pH 7.4)" is what was read; what is in a cupboard, or to hand, is in no bath.
"""

from __future__ import annotations

import re

from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.quantity.ready_patterns import pattern

_ENDS = r"\s*(?:[.:]|-\s)"
AIM = pattern(
    rf"\W*(?:purpose|aims?|objects?|objectives?|obj|goals?|question|hypothesis|introduction|background|rationale)"
    rf"(?:\s+of\s+(?:the|this)\s+\w+)?{_ENDS}",
    re.I,
)
RESULT = pattern(
    r"\W*(?:results?|obs|observations?|conclusions?|findings?|outcome|verdict|discussion|summary|assessment|remarks?)"
    rf"(?:\s+and\s+(?:conclusions?|discussion|remarks?))?{_ENDS}",
    re.I,
)
# "The club's stock of iron liquor is 20 g in 1 litre", "in the cupboard: 200 g of alum".
OWNED = pattern(
    r"\W*(?:the|our|my|your)\s+(?:club|guild|tutor|teacher|workshop|school|group|studio|circle|class|society)(?:'s|s')?\s+stock\b"
    r"[^.;]*?\s(?:is|was|holds|contains|has)\b"
    r"|\W*(?:in|from|on)\s+(?:the|my|our)\s+(?:cupboard|shed|store(?:\s?room)?|larder|garage|drawer|shelf|pantry)\s*"
    r"(?:[:-]|(?:i|we)\s+(?:have|keep)\b|there\s+(?:is|are)\b)",
    re.I,
)
# "Equipment: two pans, muslin for straining", "you want to hand: a bucket, a line for drying".
TO_HAND = pattern(
    r"\W*(?:equipment|tools?|kit|utensils|apparatus|gear|(?:(?:you\s+(?:will\s+|'ll\s+)?(?:want|need|should\s+have)|have)\s+)"
    r"(?:ready\s+)?(?:to|at|on)\s+hand)\b[^.\n:]{0,24}:",
    re.I,
)
SUM = pattern(
    r"\W*(?:the\s+)?(?:combined|united|pooled|collected)\s+(?:extracts?|liquors?|decoctions?|liquids?|volumes?|filtrates?)\b",
    re.I,
)
TOTAL = pattern(r"\W*(?:the\s+)?total\s+(?:liquor|volume|extract|liquid|yield|decoction)s?\b", re.I)
# "No addition (pH 7.4)", "the pH was 6.8": what was read, and nothing waited for.
AS_READ = pattern(
    r"\b(?:no|without)\s+(?:addition|additive|acid|modifier|adjustment|mordant)s?\b|\bnothing\s+(?:was\s+)?added\b|\bunadjusted\b"
    r"|\bas\s+found\b|\bpH\s+(?:was|read|stood\s+at|measured|came\s+out)\b|\b(?:it|meter|strip|paper)\s+read\b|\bcontrol\s*:",
    re.I,
)
STUFF = frozenset(("mass", "volume", "spoon", "share", "strength"))


def lines_of_aims(text: str, told: list[Sentence]) -> set[int]:
    """The numbers of the sentences that tell an aim, and measure no stuff for it."""
    aims = _led_by(AIM, text, told)
    return {one.number for one in told if one.number in aims and not _measures_stuff(one)}


def what_is_only_told(text: str, told: list[Sentence]) -> dict[int, list[Span]]:
    """The stretches of results, sums, readings and lists of what is owned, by their sentence."""
    results = _led_by(RESULT, text, told)
    found: dict[int, list[Span]] = {}
    for sentence in told:
        if sentence.number in results or OWNED.match(sentence.text) or _sums_up(told, sentence):
            found[sentence.number] = [(sentence.start, sentence.end)]
        elif TO_HAND.match(sentence.text):
            found[sentence.number] = [(one.doing.start, one.doing.end) for one in sentence.parts]
        elif AS_READ.search(sentence.text):
            every = [amount for part in sentence.parts for amount in part.amounts]
            found[sentence.number] = [(a.start, a.end) for a in every if a.kind == "acidity"]
    return found


def _measures_stuff(sentence: Sentence) -> bool:
    """True for "Aim: cochineal at 8 %": how much of it goes in is said there alone."""
    return any(
        amount.kind in STUFF and (of := sentence.of.get(amount.start)) and of.kind == "material"
        for part in sentence.parts
        for amount in part.amounts
    )


def _led_by(head: re.Pattern[str], text: str, told: list[Sentence]) -> set[int]:
    """The numbers of the sentences that a head leads, and of the next where it stands alone.

    What comes behind a semicolon is still of the same sentence.
    """
    found: set[int] = set()
    alone = False
    for sentence in told:
        before = text[: sentence.start].rstrip(" \t")
        leads = head.match(sentence.text) if not before or before.endswith("\n") else None
        if leads is not None or (alone and not before.endswith("\n\n")):
            found.add(sentence.number)
        bare = leads is not None and not sentence.text[leads.end() :].strip(" \n")
        alone = bare or (sentence.number in found and sentence.text.endswith(";"))
    return found


def _sums_up(told: list[Sentence], sentence: Sentence) -> bool:
    """True for how much liquor there is in all, where its water has been measured before."""
    found = SUM.match(sentence.text)
    head = sentence.start + (found.end() if found else 0)
    if any(part.doing.act and part.doing.start >= head for part in sentence.parts):
        return False
    before = [one for one in told if one.number < sentence.number]
    measured = any(a.kind == "volume" for one in before for p in one.parts for a in p.amounts)
    return found is not None or (measured and TOTAL.match(sentence.text) is not None)
