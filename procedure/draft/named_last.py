"""What the prose named last before a heat or a time: a step on a bath without it is doubted.

"Add the alum and heat to 60 °C" is of the bath with the alum. Where a draft has it as a step of
the dye bath, the alum was taken to be somewhere else, and one of the two is not so.
"""

from __future__ import annotations

import re
from bisect import bisect_left

from procedure.draft import limits
from procedure.draft.course import Course, plain_name
from procedure.draft.sentences import Part
from procedure.draft.stock import LATER, part_played
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Step

# The fibre leaves the mordant, or had it before: "out of the alum", "alum-mordanted".
LEAVES = re.compile(
    r"\b(?:from|out\s+of|after|without|off|already|been|mordanted|rins\w*|squeez\w*|lift\w*)\b",
    re.I,
)
LEAVING = frozenset(("lift", "rinse", "squeeze", "mordant", "wash"))
SAYS_DYE = re.compile(r"\bdye", re.I)


class NamedLast:
    """The mordants, dyestuffs and parts of plants that a recipe names, in order."""

    def __init__(self, course: Course) -> None:
        self.text = course.text
        self.found: list[tuple[int, Thing, Part]] = sorted(
            (thing.start, thing, part)
            for sentence in course.told
            for part in sentence.parts
            for thing in part.things
            if _is_main(thing)
        )
        self.starts = [at for at, _, _ in self.found]

    def is_elsewhere(self, step: Step) -> bool:
        """True for a step on a dye bath where a mordant that it has not was named last."""
        bath, told = step.bath, [*step.clauses.values(), *step.spoken]
        if bath is None or bath.kind != "dye" or step.on not in ("lot", "bath") or not told:
            return False
        at = max(step.part.end if step.part else 0, *(one.start for one in told), 0)
        index = bisect_left(self.starts, at) - 1
        if index < 0:
            return False
        _, thing, part = self.found[index]
        if thing.kind != "material" or part_played(thing) != "mordant":
            return False
        if bath.holds(plain_name(thing.name)) or part.doing.act in LEAVING:
            return False
        if at - thing.end > limits.LETTERS_TO_WHAT_IS_NAMED:
            return False
        before = part.words[: thing.start - part.start]
        return not (LEAVES.search(before) or SAYS_DYE.search(self.text, thing.end, at))


def _is_main(thing: Thing) -> bool:
    """True for what makes a bath one of mordant or dye; salts that sadden go into either."""
    if thing.kind == "part":
        return True
    role = part_played(thing) if thing.kind == "material" else ""
    return role == "dye" or (role == "mordant" and not LATER.search(thing.name))
