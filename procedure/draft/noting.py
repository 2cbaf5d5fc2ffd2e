"""What the language has no form for, as a note at its step: by the clock, so often, next day."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Line

CLOCK = re.compile(r"\d{1,2}[:.]\d\d\b|o'clock|\b\d{1,2}\s?[ap]\.?m\b|\b(?:noon|midnight)\b", re.I)
BY_CLOCK = re.compile(r"\b(?:at|by|till|until)\s+$", re.I)
EVERY = re.compile(r"\b(?:every|each|once\s+an?|twice\s+an?)\s+$", re.I)
EVERY_SO_OFTEN = re.compile(
    r"^(?:every|each)\b|\b(?:once|twice|thrice|times)\s+(?:an?|per|each|every)\s"
    r"|^(?:half-)?(?:hourly|daily)\b",
    re.I,
)
DAYS = re.compile(
    r"\b(?:(?:the\s+)?(?:next|following)\s+(?:day|morning|evening)|(?:the\s+)?(?:day|night|evening)\s+(?:before|after)"
    r"|tomorrow|yesterday|morning|evening|afternoon|tonight|last\s+night)\b",
    re.I,
)
PART_OF_DAY = re.compile(r"(?:morning|evening|afternoon)", re.I)
IN_THE = re.compile(r"\b(?:in|by|on|until|till|next|this|following)\s+(?:the\s+)?$", re.I)
SAME = re.compile(r"\b(?:same|like)\s+(?:heat|temperature)\b", re.I)
CLAUSE_END = re.compile(r"[.;:!?](?=\s|$)|[,()\n]|\s-\s")
WORDS_END = frozenset("and or then but so to the a an of in at for with".split())


class Note:
    """A stretch of a sentence that is kept as a note, with the amounts in it."""

    def __init__(self, words: str, amounts: tuple[Amount, ...]) -> None:
        self.words, self.amounts = words, amounts


OR_ELSE = re.compile(r"\bor\s+(?:else\s+)?(?:for\s+)?$", re.I)


def is_for_a_note(text: str, amount: Amount) -> bool:
    """True for what the language has no form for and a dyer must know at the step."""
    before = text[max(0, amount.start - 16) : amount.start]
    if amount.kind == "rate" or CLOCK.search(amount.words) or EVERY_SO_OFTEN.search(amount.words):
        return True
    if amount.kind == "time" and EVERY.search(before):
        return True
    if amount.kind in ("time", "named wait") and OR_ELSE.search(before):
        return True  # "for 2 hours, or overnight if it suits you"
    if amount.kind in ("number", "figure") and BY_CLOCK.search(before):
        clock = re.compile(r"\s*(?:o'clock|[ap]\.?m\b)", re.I).match(text, amount.end)
        return clock is not None
    if PART_OF_DAY.fullmatch(amount.words) and not IN_THE.search(before):
        return False
    if amount.kind in ("named wait", "figure", "odd"):
        return bool(DAYS.search(amount.words) or SAME.search(amount.words))
    return bool(SAME.search(amount.words))


def noted(text: str, sentence: Sentence, left: list[Amount], lines: list[Line]) -> dict[int, Note]:
    """The notes of a sentence by the index of the line that each belongs to."""
    made: dict[int, Note] = {}
    steps = [at for at, line in enumerate(lines) if not line.text.startswith("repeat ")]
    for amount in left:
        weighed = _beside_its_weight(text, sentence, amount, lines)
        if weighed is not None:
            add_note(made, *weighed, amount)
            continue
        if not steps or not is_for_a_note(text, amount):
            continue
        low, high = _clause(text, sentence, amount)
        words = " ".join(text[low:high].split()).replace('"', "'").strip(" -'")
        if (
            not words
            or len(words) > limits.LONGEST_NOTE
            or amount.words.replace('"', "'") not in words
        ):
            continue
        if OR_ELSE.search(text[max(0, amount.start - 16) : amount.start]):
            at_time = _time_before(lines, steps, amount)
            if at_time is not None:
                add_note(made, at_time, words, amount)
            continue
        beside = [at for at in steps if any(low <= one.start < high for one in lines[at].placed)]
        if len(beside) != 1 and EVERY_SO_OFTEN.search(_interval(text, amount)):
            beside = _step_before(lines, steps, amount) or beside
        if len(steps) > 1 and len(beside) != 1 and DAYS.fullmatch(amount.words):
            beside = _deed_of_the_day(text, sentence, lines, steps, amount)
        if len(steps) > 1 and len(beside) != 1:
            continue  # of several steps it is not sure which one is meant
        at = beside[0] if beside else steps[0]
        add_note(made, at, words, amount)
    return made


LEADS = re.compile(
    r"(?:^|[.,;:(\n]|\band|\bthen|\bbut)\s*(?:(?:on|in|by|then)\s+)?(?:the\s+)?\Z", re.I
)


def _deed_of_the_day(
    text: str, sentence: Sentence, lines: list[Line], steps: list[int], amount: Amount
) -> list[int]:
    """The step of "the next day": of the deed behind it where it leads, else of that before it."""
    ahead = text[sentence.start : amount.start]
    begun = [at for at in steps if 0 < lines[at].begins <= amount.start]
    later = [at for at in steps if lines[at].begins > amount.start]
    if LEADS.search(ahead):
        return later[:1]
    return begun[-1:]


def add_note(made: dict[int, Note], at: int, words: str, *amounts: Amount) -> None:
    """Adds words to the note of a line, with the amounts in them, where there is room."""
    before = made.get(at)
    if before is None:
        made[at] = Note(words, amounts)
    elif words in before.words:
        made[at] = Note(before.words, (*before.amounts, *amounts))
    elif len(before.words) + len(words) < limits.LONGEST_NOTE:
        made[at] = Note(f"{before.words}; {words}", (*before.amounts, *amounts))


# What stands between "12 %" and "60 g" where both say the one amount, beside its thing.
THAT_IS = re.compile(
    r"[\s,;:=(/-]*(?:\b(?:that|which)\s+(?:is|makes|comes\s+to)\b|\bi\.?e\.?|\b(?:of|or|so|equals?|being|makes)\b"
    r"|[\s,;:=(/-])*",
    re.I,
)
SHARES = frozenset(("share", "ratio"))


def _beside_its_weight(
    text: str, sentence: Sentence, share: Amount, lines: list[Line]
) -> tuple[int, str] | None:
    """The line that has the weight of what this is the share of, and how both are noted there."""
    thing = sentence.of.get(share.start)
    if share.kind not in SHARES or thing is None:
        return None
    for at, line in enumerate(lines):
        for weight in line.placed:
            of = sentence.of.get(weight.start)
            if weight.kind != "mass" or of is None or of.name != thing.name:
                continue
            low, high = min(share.end, weight.end), max(share.start, weight.start)
            between = text[low:high].replace(thing.words, "", 1)
            if THAT_IS.fullmatch(between):
                return at, f"{thing.words}: {share.words}, {weight.words}".replace('"', "'")
    return None


def _interval(text: str, amount: Amount) -> str:
    """The words of an amount with the "every" before it."""
    found = EVERY.search(text[max(0, amount.start - 16) : amount.start])
    return f"{found[0] if found else ''}{amount.words}"


def _step_before(lines: list[Line], steps: list[int], amount: Amount) -> list[int]:
    """The step whose heat or time was said last before "turning it every ten minutes"."""
    said = [(one.start, at) for at in steps for one in lines[at].placed if one.start < amount.start]
    return [max(said)[1]] if said else []


def _time_before(lines: list[Line], steps: list[int], amount: Amount) -> int | None:
    """The step that has the time to which this one is the other choice; None where none has it."""
    times = [
        (one.start, at)
        for at in steps
        for one in lines[at].placed
        if one.start < amount.start and one.kind in ("time", "named wait")
    ]
    return max(times)[1] if times else None


def _clause(text: str, sentence: Sentence, amount: Amount) -> tuple[int, int]:
    """Where the clause about an amount begins and ends."""
    low = sentence.start
    for mark in CLAUSE_END.finditer(text, sentence.start, amount.start):
        low = mark.end()
    end = CLAUSE_END.search(text, amount.end, sentence.end)
    return low, end.start() if end else sentence.end
