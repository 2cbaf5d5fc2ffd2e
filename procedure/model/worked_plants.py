"""Plants that free words have somebody work: by a part of them, or by what is done to them.

Names of plants that only upset or irritate are names of shades, boxes and brooms too, so that the
name alone says little; with “leaves” beside it or “chop” before it, the plant is meant.
"""

from __future__ import annotations

import re
from functools import lru_cache

from procedure.model.harm import clauses_of, plants_named
from procedure.quantity.kept_answers import remembered
from procedure.vocabulary import Entry
from procedure.vocabulary.plant_parts import parts_of_plants

# Things and shades that bear the name of a plant: of these only a part of the plant counts.
_THINGS_TOO = frozenset(("box", "broom", "cherry", "fig", "peach", "plum", "anemone", "cyclamen"))
_WORKED = (
    r"\b(add|boil|brew|chop|crush|cut( up)?|cook|dig( up)?|gather|grate|grind|heat|infuse|lay|"
    r"mash|mix( in)?|pick|pound|press|pull( up)?|put( in)?|shred|simmer|soak|squeeze|steep|stew|"
    r"stir( in)?|strip|tear( up)?|throw( in)?|tip( in)?|use|with)"
)
_HOW_MUCH = (
    r"( (in|up|the|some|a|an|any|few|more|your|our|this|these|fresh|freshly|dried|dry|young|old|"
    r"green|ripe|raw|unripe|whole|wild|picked|chopped|handfuls?|bunch|bunches|basket|bag|bucket|"
    r"armful|armfuls|lots|plenty|half|bit|kilo|pound|little|of))*"
)
# “Daffodil yellow”, “rhubarb crumble”: a shade or a dish.
_NOT_BEHIND = (
    r"(?! (colou?r\w*|shades?|yellow|pink|red|blue|green|brown|wool|yarn|skeins?|cloth)\b)"
)


@lru_cache(maxsize=512)
def _patterns(plant: Entry) -> tuple[str, ...]:
    names = "|".join(re.escape(name.replace("-", " ")) for name in _names(plant))
    own = "|".join(re.escape(part) for part in plant.words("parts"))
    others = "|".join(re.escape(part) for part in parts_of_plants() - {*plant.words("parts")})
    found = [
        rf"\b(?:{names})(?:['’]?s)?(?: (?:{own}))\b",
        rf"\b(?:{own}) (?:of|from) (?:(?:the|some|an?|our|fresh) )*(?:{names})s?\b",
    ]
    if plant.name not in _THINGS_TOO:
        found.append(
            rf"{_WORKED}{_HOW_MUCH} (?:{names})s?\b(?! (?:{others})\b){_NOT_BEHIND}",
        )
    return tuple(found)


def _names(plant: Entry) -> tuple[str, ...]:
    return (plant.name, *plant.words("aliases"), *plant.facts["botanical"].lower().split(" and "))


@remembered(1024)
def worked(text: str) -> tuple[Entry, ...]:
    """The plants of the level harmful that words have somebody work, and do not deny."""
    named = [plant for plant, _ in plants_named(text) if plant.facts["level"] == "harmful"]
    if not named:
        return ()
    plain = text.lower().replace("-", " ")
    clauses = [one for one in clauses_of(plain) if one]
    return tuple(
        plant
        for plant in dict.fromkeys(named)
        if any(re.search(pattern, one) for pattern in _patterns(plant) for one in clauses)
    )
