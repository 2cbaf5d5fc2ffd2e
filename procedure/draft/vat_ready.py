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
IN_PROSE = re.compile(r"\b(indigo|woad)\b", re.I)


def come_to_a_vat(course: Course, sentence: Sentence) -> None:
    """Turn to a vat that no step has made yet, where the bath at hand is another one.

    What it is made of is unstated, unless the prose lists it: the vat stands ready.
    """
    bath, found = course.bath, READY.search(sentence.words)
    if found is None or bath is None or not (bath.begun or bath.stuff) or is_vat(bath):
        return
    if any(is_vat(one) for one in course.baths):
        return
    listed = next((one for one in course.stock.items if _dyes_in_a_vat(one.thing.name)), None)
    said = found["of"] or found["into"] or "".join(IN_PROSE.findall(course.text)[:1])
    if listed is None and not said:
        return
    course.begin()
    bath.fibre = False
    vat = course.new_bath("dye")
    if listed is None:
        name = said.lower()
        course.materials.setdefault(name, name)
        vat.stuff.append(Brought(name, ()))


def _dyes_in_a_vat(name: str) -> bool:
    entry = vocabulary().material(name)
    return entry is not None and entry.facts.get("dye_class") == "vat"
