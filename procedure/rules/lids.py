"""The lid of a pot that is to be covered: where it is declared without one, that is said too."""

from __future__ import annotations

from procedure.facts.liquor import pot_here, pot_of
from procedure.facts.study import Study
from procedure.findings import Says, say
from procedure.trace import Moment


def and_lidded(study: Study, moment: Moment) -> Says:
    """What a remedy that asks for “covered” adds where the pot has no lid as declared."""
    pot = moment.node.to_pot or pot_here(moment)
    thing = pot_of(study, pot)
    if thing is None or thing.lidded:
        return Says("")
    return say(" If {pot} has a lid, write “lidded” where it is declared.", pot=study.thing(pot))
