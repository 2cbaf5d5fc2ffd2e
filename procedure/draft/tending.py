"""What is done to a bath now and then while it is kept: stirred, turned, pushed under.

A sentence that says nothing else ("Turn the wool every ten minutes.") is no step of its own. It
stays as a note of the step before it, where that one keeps fibre or a bath.
"""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.noting import Note
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Line
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple

THE_FIBRE = (
    r"(?:it|them|everything|(?:the|your|my)\s+(?:wool|yarn|skeins?|hanks?|silk|cotton|linen|cloth|fabric"
    r"|fibre|fiber|fleece|scar(?:f|ves)|pieces?|bath|pot|dye|liquor|vat|temperature|heat|water))"
)
TENDS = pattern(
    r"\W*(?:\d{1,2}[.)]\s*)?(?:(?:and|then|now|also|i|we|you|can|should|need\s+to|must|please|gently|remember\s+to|be\s+sure\s+to|carefully|always|just|occasionally|it\s+helps\s+to|slowly)\s+)*"
    rf"(?:(?:stir|turn|agitate|swirl|move|push|poke|press|prod|rotate)(?:s|red|ed|d|ped)?\b(?!\s+(?:in\b|off|on\b|up|down\s+the|out|the\s+(?:heat|stove)))"
    rf"(?!\s+(?:\w+\s+){{1,3}}(?:in|into|out|off|to)\b(?!\s+(?:time|turn|it|them)))"
    r"|(?:do|work)\s+(?:(?:this|it|that)\s+)?(?:outside|outdoors|in\s+the\s+open|with\s+(?:a|the)\s+windows?\s+open|near\s+an?\s+open)\b|open\s+(?:a|the)\s+windows?\b"
    r"|(?:top\s+up|add\s+(?:a\s+little\s+|some\s+)?more\s+water)\b[^.;]*\b(?:if|as|so\s+that|when|to\s+keep|whenever)\b"
    rf"|give\s+{THE_FIBRE}\s+an?\s+(?:\w+\s+)?(?:stir|turn|swirl)|gave\s+{THE_FIBRE}\s+an?\s+(?:\w+\s+)?(?:stir|turn|swirl)"
    rf"|keep\s+{THE_FIBRE}\s+(?:moving|under|below|submerged|covered)|keep\s+(?:an?\s+eye|checking|stirring|turning|moving)"
    rf"|weigh(?:ed)?\s+{THE_FIBRE}\s+down|(?:make\s+sure|see|check)\s+(?:that\s+)?{THE_FIBRE}\s+(?:is|are|stays?|remains?)\s+(?:all\s+|fully\s+|well\s+|completely\s+)?(?:under|below|covered|submerged|immersed)"
    r"|(?:be\s+careful|take\s+care|try)\s+not\s+to\s+\w+)",
    re.I,
)
WHILE_KEPT = (
    *("hold", "heat", "simmer", "boil", "dye", "mordant", "enter", "steep", "modify", "stand"),
    *("cool", "dip", "air", "add", "scour", "prepare"),
)
VERB = pattern(r"\s*(?:[\w-]+: )?(?P<verb>\w+)\b")
MEASURES = frozenset(
    ("mass", "volume", "spoon", "share", "temperature", "acidity", "ratio", "strength")
)


class Tended(NamedTuple):
    """The notes by the place of their line, the amounts in them, and the sentences they hold."""

    notes: dict[int, Note]
    amounts: tuple[Amount, ...]
    said: tuple[int, ...]


def tended(told: list[Sentence], lines: list[Line]) -> Tended:
    """The notes of what is done now and then, each at the line that it is about."""
    found = Tended({}, (), ())
    amounts: list[Amount] = []
    said_in: list[int] = []
    by_sentence: dict[int, list[int]] = {}
    for at, line in enumerate(lines):
        by_sentence.setdefault(line.sentence, []).append(at)
    placed = {one.start for line in lines for one in line.placed}
    before: int | None = None
    for sentence in told:
        here = by_sentence.get(sentence.number, [])
        if here:
            before = here[-1]
            continue
        said = " ".join(sentence.words.replace('"', "'").split()).strip(" .;-")
        if before is None or not _only_tends(sentence) or len(said) > limits.LONGEST_NOTE:
            continue
        verb = VERB.match(lines[before].text)
        if verb is None or verb["verb"] not in WHILE_KEPT:
            continue
        last = found.notes.get(before)
        words = f"{last.words}; {said}" if last else said
        if len(words) > limits.LONGEST_NOTE:
            continue
        every = [one for part in sentence.parts for one in part.amounts]
        inside = tuple(one for one in every if one.start not in placed)
        if any(not sentence.start <= one.start < sentence.end for one in inside):
            continue  # put right by another sentence
        found.notes[before] = Note(words, (*(last.amounts if last else ()), *inside))
        amounts += inside
        said_in.append(sentence.number)
    return Tended(found.notes, tuple(amounts), tuple(said_in))


def _only_tends(sentence: Sentence) -> bool:
    """True for a sentence of nothing but stirring and turning, and of no stuff."""
    if not TENDS.match(sentence.words) or sentence.words.rstrip(")\"' ").endswith("?"):
        return False
    things = [thing for part in sentence.parts for thing in part.things]
    if any(thing.kind in ("material", "part") for thing in things):
        return False
    return not any(one.kind in MEASURES for part in sentence.parts for one in part.amounts)
