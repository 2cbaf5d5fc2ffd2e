"""First aid for what a plan uses, beside what needs it; the statements are the regulation's.

What each hazard calls for is in the vocabulary (``procedure/vocabulary/first_aid.py``).
"""

from __future__ import annotations

from typing import NamedTuple

from procedure.facts.handling import hazards
from procedure.handout.cautions import used
from procedure.model import Material
from procedure.paper.pieces import Blank, Phrase, phrase
from procedure.pipeline import Judged
from procedure.vocabulary.first_aid import FirstAid, first_aid


class AidFor(NamedTuple):
    """What to do first where a thing has hurt someone, route by route in their order."""

    called: str
    aid: tuple[FirstAid, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """One plain sentence for each route."""
        return tuple(one.said for one in self.aid)


def aid_for(material: Material) -> AidFor:
    """The first aid for one material; it has no routes where nothing calls for any."""
    return AidFor(material.called, first_aid(one.name for one in hazards(material)))


def first_aid_of(plan: Judged) -> tuple[AidFor, ...]:
    """The first aid for each material that a plan uses, in the order of use, each once."""
    found: dict[str, AidFor] = {}
    for material in used(plan).values():
        made = aid_for(material)
        if made.aid:
            found.setdefault(made.called, made)
    return tuple(found.values())


def whom_to_call() -> Phrase:
    """The line that the group fills in before it begins."""
    return phrase(
        "Poison centre: ",
        Blank("number"),
        "; doctor: ",
        Blank("number"),
        "; emergency: ",
        Blank("number"),
        ". Fill this in before you begin.",
    )
