"""The same plants drawn out again: "boil the dregs twice more", "same roots again with 4 L".

What comes of it is more of the same liquor, in a bath of its own with the plants that the first
one had. The first stays the one that all the rest is done in; how the liquors come together is
told as not followed, since no line says it.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.sentences import Part, Sentence
from procedure.draft.stock import trade_role
from procedure.draft.unsettled_steps import Bath, Brought

PLANTS = (
    r"(?:dregs|marc|grounds|sediment|residue|sludge|solids|roots?|rootlets|chips|shavings|bark|skins|peel(?:ings)?|leaves"
    r"|flowers|heads|tops|hulls|husks|shells|cones|berries|insects|powder|pulp|mush|plants?|plant\s+matter|dyestuff|stuff|wood)"
)
THE = r"(?:the|those|these|your|my)"
USED = r"(?:same|spent|used|strained|exhausted|drained|old)"
OLD = rf"(?:{THE}\s+)?{USED}\s+(?:[a-z]+\s+)?{PLANTS}"
DREGS = rf"{THE}\s+(?:dregs|marc|grounds|sediment|residue|sludge|solids)"
AGAIN = (
    r"(?:(?:once|twice|thrice|(?:two|three|2|3)\s+times)\s+more|again|afresh|a\s+(?:second|third)\s+time|another\s+time"
    r"|(?:with|in)\s+(?:another|fresh|more|new|the\s+same)|(?:with|in|w\.?)\s*(?:a\s+further\s+)?[\d½]|another\s+[\d½a-z]+\s*(?:l|litres?|liters?|pints?|gallons?|ml)\b)"
)
DRAWN_AGAIN = re.compile(
    rf"\b(?:{OLD}|{DREGS})\b[^.;]{{0,48}}?\b{AGAIN}|\b{AGAIN}\s+(?:[a-z]+\s+){{0,3}}?(?:{OLD}|{DREGS})\b",
    re.I,
)
# "Second boil of the coreopsis, 2 L", "2nd extract, same plant material: 2.0 L".
A_SECOND = re.compile(
    r"\b(?:second|third|2nd|3rd|another)\s+(?:boil(?:ing)?|extract(?:ion)?|drawing|simmer(?:ing)?|brew(?:ing)?|steep(?:ing)?)\b",
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


def with_plants_drawn_again(course: Course, sentence: Sentence) -> tuple[Sentence, Bath | None]:
    """Turn to a bath for plants that are drawn again; with the bath to go back to afterwards."""
    bath = course.bath
    if bath is None or bath.kind != "dye" or not bath.clear or bath.had_fibre:
        return sentence, None
    before = course.told[-2] if len(course.told) > 1 else None
    goes_on = before is not None and CUT_SHORT.search(before.words) is not None
    again = DRAWN_AGAIN.search(sentence.words) or A_SECOND.search(sentence.words) or goes_on
    if again and any(one.kind == "volume" for part in sentence.parts for one in part.amounts):
        plants = [one.name for one in bath.stuff if _is_plant(course, one.name)]
        sentence = _with_water_alone(course, sentence, plants)
        drawn = course.new_bath("dye")
        drawn.plants_alone = True
        drawn.stuff += [Brought(name, ()) for name in plants]
        return sentence, bath
    cut = CUT_SHORT.search(sentence.words) is not None
    mixed = LIQUORS.match(sentence.words) is not None
    if not (again or cut or mixed):
        return sentence, None
    kept = sentence.parts[1:] if mixed and not (again or cut) else ()
    for part in sentence.parts[: len(sentence.parts) - len(kept)]:
        _tell(course, part)
    return sentence._replace(parts=kept), None


def _with_water_alone(course: Course, sentence: Sentence, plants: list[str]) -> Sentence:
    """The sentence without the plants that are drawn again; its volumes are of the water."""
    theirs = [
        one.start
        for part in sentence.parts
        for one in part.things
        if one.kind == "part" or (one.kind == "material" and course.material(one) in plants)
    ]
    parts = tuple(
        part._replace(things=tuple(one for one in part.things if one.start not in theirs))
        for part in sentence.parts
    )
    kept = {at: thing for at, thing in sentence.of.items() if thing.start not in theirs}
    course.sentence = sentence._replace(parts=parts, of=kept)
    return course.sentence


def _is_plant(course: Course, name: str) -> bool:
    return name != "water" and trade_role(course.materials.get(name, name)) == "dyestuff"


def back_to(course: Course, bath: Bath | None) -> None:
    """Go back to the bath that the first liquor is in."""
    if bath is not None:
        course.begin()
        course.bath = bath


def _tell(course: Course, part: Part) -> None:
    """Tell of a verb that is not followed, and which moves no fibre."""
    if part.doing.act:
        course.not_followed.append((course.number, part.doing.words))
        course.of_no_bath.add((course.number, part.doing.words))
