"""How far a time stands behind the last words on fibre or bath: what is far is asked about.

Two sets of recipes that the reader of that day had not seen (973 amounts, 9 in 100 wrong) showed
it: of the times on a bath in words that name nothing, with two sentences or more since the last
step that made, strained or moved something, 7 were right and 13 wrong.
"""

from __future__ import annotations

from procedure.draft import limits
from procedure.draft.sentences import Part
from procedure.draft.unsettled_steps import Step

EVENTS = frozenset(("dye", "mordant", "enter", "steep", "modify", "lift", "strain", "dip"))
KEEPS = frozenset(("hold", "stand", "boil", "simmer"))
NAMED = frozenset(("material", "part", "bath", "pot", "fibre"))


class FarBehind:
    """The place of the last event, from which the words of a step are counted."""

    def __init__(self) -> None:
        self.last = 0

    def notice(self, step: Step) -> None:
        """Take note of a step that makes a bath, strains it, or moves fibre, or names its stuff."""
        names = step.on == "bath" and step.part is not None and _names_stuff(step.part)
        names = names or step.on == "add"
        if step.on == "prepare" or step.verb in EVENTS or names:
            self.last = step.sentence

    def doubts(self, step: Step, inside: bool) -> bool:
        """True for a time on a bath that is too far behind to be sure what it is for."""
        if step.on != "bath" or step.verb not in KEEPS or not step.clauses.keys() & {"for", "over"}:
            return False
        if step.part is not None and any(thing.kind in NAMED for thing in step.part.things):
            return False
        return step.sentence - self.last > (
            limits.SENTENCES_BEHIND_WITH_FIBRE if inside else limits.SENTENCES_BEHIND_WITHOUT_FIBRE
        )


def _names_stuff(part: Part) -> bool:
    """True where a part names what is in a bath, and so which bath it is about."""
    return any(thing.kind in ("material", "part") for thing in part.things)
