"""What is amiss with a collection's workshop file, ``vatwright.toml``."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.quantity.record import TYPE_CHECKING
from procedure.rules.rule import Found, rule

if TYPE_CHECKING:
    from procedure.collection.workshop import WorkshopFault, WorkshopFile

FAMILY = "names and order"
NAME = "faulty-workshop-file"


@rule(NAME, level="error", family=FAMILY, source="the page on the workshop file")
def faulty(study: Study) -> Iterator[Found]:
    """A line of the collection's workshop file that cannot be followed.

    A misspelt rule would quietly lose its level, and a pot that is not understood would
    be missing from every procedure.

    Trips:
        wet out yarn in tub with water 5 L for 1 h

        # saved as: vatwright.toml
        [equipment]
        kettle = "stainles steel pot, 15 L, for dyeing only"
    Cure:
        wet out yarn in tub with water 5 L for 1 h

        # saved as: vatwright.toml
        [equipment]
        kettle = "stainless steel pot, 15 L, for dyeing only"
    """
    # The names of rules are judged when all rules are known, in ``judge``.
    yield from ()


def told(workshop: WorkshopFile, fault: WorkshopFault) -> Found:
    """What the rule found, at the place of a fault in the workshop file."""
    return Found(workshop.procedure, fault.place, fault.sentence, fault.remedy)


RULES = (faulty,)
