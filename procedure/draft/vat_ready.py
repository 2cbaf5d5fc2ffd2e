"""The vat that a recipe comes to after another bath: the blue over a yellow, or under it."""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.dipping_rounds import is_vat
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Brought
from procedure.vocabulary import vocabulary

# "Have your indigo vat ready", "prepare the woad vat", "I took the wool to the vat".
READY = re.compile(
    r"\b(?:have|get|prepare|make|set\s+up|warm|heat|bring|mix|start)\s+(?:up\s+)?(?:an?|the|your|my|our)\s+"
    r"(?:[a-z-]+\s+){0,2}?(?P<of>indigo|woad)?\s*(?<!pot\s)vat\b"
    r"|\b(?:take|took|carry|carried|move|moved|bring|brought)\b[^.;]*?\bto\s+(?:the|your|my|our)\s+"
    r"(?P<into>indigo|woad)?\s*vat\b",
    re.I,
)
# "My vat lives in a barrel", "our vat stands in the shed": it has been made long since.
STANDS = re.compile(
    r"\b(?:the|my|our|her|his)\s+(?:(?:old|big|small|own|blue|trusty|fermentation|fructose|henna|hydros)\s+){0,2}"
    r"(?P<of>indigo|woad)?\s*(?<!pot\s)vat\s+(?:(?:always|now|still|just|usually)\s+)?"
    r"(?:lives?|lived|stands?|stood|sits?|sat|waits?|waited|is\s+(?:kept|always|ready|still|alive|in|already)|was\s+(?:ready|still|in|already|awake))\b",
    re.I,
)
NOT_NAMED = "what the vat is made of, which the prose does not name"
IN_PROSE = re.compile(r"\b(indigo|woad)\b", re.I)


def come_to_a_vat(course: Course, sentence: Sentence) -> None:
    """Turn to a vat that no step has made yet, where the bath at hand is another one.

    What it is made of is unstated, unless the prose lists it: the vat stands ready. One whose dye
    no words name is a bath of its own all the same, with that as what has to be filled in.
    """
    stands = STANDS.search(sentence.words)
    bath, found = course.bath, stands or READY.search(sentence.words)
    if found is None or bath is None or not (bath.begun or bath.stuff) or is_vat(bath):
        return
    if any(is_vat(one) for one in course.baths):
        return
    listed = next((one for one in course.stock.items if _dyes_in_a_vat(one.thing.name)), None)
    said = (
        found["of"] or found.groupdict().get("into") or "".join(IN_PROSE.findall(course.text)[:1])
    )
    if listed is None and not said and stands is None:
        return
    course.begin()
    bath.fibre = False
    vat = course.new_bath("dye")
    if listed is None:
        name = said.lower() or "of-the-vat"
        course.materials.setdefault(name, said.lower() or NOT_NAMED)
        vat.stuff.append(Brought(name, ()))
        vat.stands_ready = not said


def _dyes_in_a_vat(name: str) -> bool:
    entry = vocabulary().material(name)
    return entry is not None and entry.facts.get("dye_class") == "vat"
