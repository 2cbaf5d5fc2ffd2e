"""The same plants drawn out again: "boil the dregs twice more", "same roots again with 4 L".

What comes of it is more of the same liquor. The plants have been strained off and no line says
where they are, so it makes no step: its waters and times are told of as not placed, and the bath
at hand stays the one that all the rest is done in.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.sentences import Part, Sentence

PLANTS = (
    r"(?:dregs|marc|grounds|sediment|residue|sludge|solids|roots?|rootlets|chips|shavings|bark|skins|peel(?:ings)?|leaves"
    r"|flowers|heads|tops|hulls|husks|shells|cones|berries|insects|powder|pulp|mush|plants?|plant\s+matter|dyestuff|stuff|wood)"
)
OLD = rf"(?:(?:the|those|these|your|my)\s+)?(?:same|spent|used|strained|exhausted|drained|old)\s+(?:[a-z]+\s+)?{PLANTS}"
DREGS = r"(?:the|those|these|your|my)\s+(?:dregs|marc|grounds|sediment|residue|sludge|solids)"
AGAIN = (
    r"(?:(?:once|twice|thrice|(?:two|three|2|3)\s+times)\s+more|again|afresh|a\s+(?:second|third)\s+time|another\s+time"
    r"|(?:with|in)\s+(?:another|fresh|more|new|the\s+same)|(?:with|in|w\.?)\s*(?:a\s+further\s+)?[\d½]|another\s+[\d½a-z]+\s*(?:l|litres?|liters?|pints?|gallons?|ml)\b)"
)
DRAWN_AGAIN = re.compile(
    rf"\b(?:{OLD}|{DREGS})\b[^.;]{{0,48}}?\b{AGAIN}|\b{AGAIN}\s+(?:[a-z]+\s+){{0,3}}?(?:{OLD}|{DREGS})\b",
    re.I,
)
# "w." at the end of a sentence, where the figure that it is with comes in the next.
CUT_SHORT = re.compile(rf"\b(?:{OLD}|{DREGS})\s+again\s+w\.\s*\Z", re.I)
LIQUORS = re.compile(
    r"\W*(?:(?:then|now|and|i|you|we)\s+)*(?:put|pour(?:ed)?|mix(?:ed)?|combine[ds]?|add(?:ed)?|tip(?:ped)?|unite[ds]?)?\s*"
    r"(?:(?:all|both|the|these|those|two|three|four|first|second|and|of)\s+)*"
    r"(?:(?:liquors?|extracts?|baths?|waters?|lots?|decoctions?|strainings?|batches?|brews?)\s+(?:all\s+)?)?together\b",
    re.I,
)


def without_what_is_drawn_again(course: Course, sentence: Sentence) -> Sentence:
    """The sentence without what is done to plants that have been drawn out and strained off."""
    bath = course.bath
    drawn = bath is not None and bath.kind == "dye" and bath.clear and not bath.had_fibre
    if not drawn:
        return sentence
    before = course.told[-2] if len(course.told) > 1 else None
    goes_on = before is not None and CUT_SHORT.search(before.words) is not None
    again = DRAWN_AGAIN.search(sentence.words) or CUT_SHORT.search(sentence.words) or goes_on
    mixed = LIQUORS.match(sentence.words) if not again else None
    if not again and not mixed:
        return sentence
    kept = [] if again else sentence.parts[1:]
    for part in sentence.parts[: len(sentence.parts) - len(kept)]:
        _tell(course, part)
    return sentence._replace(parts=tuple(kept))


def _tell(course: Course, part: Part) -> None:
    """Tell of a verb that is not followed, and which moves no fibre."""
    if part.doing.act:
        course.not_followed.append((course.number, part.doing.words))
        course.of_no_bath.add((course.number, part.doing.words))
