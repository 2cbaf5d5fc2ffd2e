"""Trace to findings: every rule of the checker, and the judging by them."""

from __future__ import annotations

from procedure.facts.study import Study
from procedure.findings import Finding
from procedure.rules import allowing, at_the_end, rinse, sharing, soak, stated_hours, workshop_file
from procedure.rules.allowing import allowed
from procedure.rules.colour import (
    amounts_of_assistants,
    amounts_of_dyestuff,
    amounts_of_mordant,
    baths_used_again,
    blue_and_other_colours,
    drawing_out,
    fibre_and_bath,
    heat_of_dyestuffs,
    mordants_and_tannin,
    order_of_baths,
    strength_of_vats,
    vats,
)
from procedure.rules.equipment import (
    metal_of_pots,
    plants_in_baths,
    pots_used_before,
    room_in_pots,
    vessels,
    what_pots_bear,
)
from procedure.rules.fibre_care import heat_and_felting, scouring_and_alkali
from procedure.rules.gathering import gathered
from procedure.rules.judging import finding_of, found_by
from procedure.rules.levels import levels_of, weighed
from procedure.rules.names_and_order import (
    beside_in_declarations,
    followed_plans,
    one_name_each,
    order_of_steps,
    said_of_things,
    side_by_side,
    what_is_written,
)
from procedure.rules.rule import Rule
from procedure.rules.safety import (
    careless_words,
    choice_of_materials,
    deadly,
    disposal,
    free_words,
    household_products,
    left_standing,
    live_vats,
    meetings,
    on_the_heat,
    plants,
    pouring,
    protection,
    spent_plants,
    which_material,
)
from procedure.rules.units import (
    cannot_be,
    ceilings,
    heats,
    of_what,
    quantities,
    sums_that_fail,
    units_and_readings,
    unlikely,
    unstated,
)
from procedure.rules.waiting import without_consequences

__all__ = ["FAMILIES", "RULES", "Rule", "Study", "judge", "judged", "rule_named"]

# Every rule there is, by the idea that it belongs to.
RULES: tuple[Rule, ...] = (
    *quantities.RULES,
    *of_what.RULES,
    *cannot_be.RULES,
    *ceilings.RULES,
    *sums_that_fail.RULES,
    *units_and_readings.RULES,
    *heats.RULES,
    *unstated.RULES,
    *unlikely.RULES,
    *what_is_written.RULES,
    *beside_in_declarations.RULES,
    *one_name_each.RULES,
    *order_of_steps.RULES,
    *side_by_side.RULES,
    *said_of_things.RULES,
    *followed_plans.RULES,
    *soak.RULES,
    *rinse.RULES,
    *at_the_end.RULES,
    *vessels.RULES,
    *room_in_pots.RULES,
    *what_pots_bear.RULES,
    *plants_in_baths.RULES,
    *pots_used_before.RULES,
    *metal_of_pots.RULES,
    *heat_and_felting.RULES,
    *scouring_and_alkali.RULES,
    *mordants_and_tannin.RULES,
    *heat_of_dyestuffs.RULES,
    *fibre_and_bath.RULES,
    *amounts_of_mordant.RULES,
    *amounts_of_dyestuff.RULES,
    *amounts_of_assistants.RULES,
    *drawing_out.RULES,
    *vats.RULES,
    *strength_of_vats.RULES,
    *baths_used_again.RULES,
    *blue_and_other_colours.RULES,
    *order_of_baths.RULES,
    *protection.RULES,
    *choice_of_materials.RULES,
    *which_material.RULES,
    *left_standing.RULES,
    *on_the_heat.RULES,
    *plants.RULES,
    *free_words.RULES,
    *household_products.RULES,
    *careless_words.RULES,
    *deadly.RULES,
    *disposal.RULES,
    *live_vats.RULES,
    *spent_plants.RULES,
    *meetings.RULES,
    *pouring.RULES,
    *stated_hours.RULES,
    *sharing.RULES,
    *allowing.RULES,
    *workshop_file.RULES,
)

FAMILIES: tuple[str, ...] = tuple(dict.fromkeys([rule.family for rule in RULES]))


def rule_named(name: str) -> Rule | None:
    """The rule of that name."""
    return next((rule for rule in RULES if rule.name == name), None)


def judge(study: Study) -> list[Finding]:
    """All findings of a study, in the order of the text; what is allowed is left out.

    They weigh what the workshop says, and what is amiss with its file is among them.
    """
    return judged(study, found_by(RULES, study))


def judged(study: Study, found: list[Finding]) -> list[Finding]:
    """What all the rules found in a study, as :func:`judge` gives it."""
    workshop = study.workshop
    levels, faults = levels_of(() if workshop is None else workshop.levels, RULES)
    kept = weighed(allowed(study, without_consequences(study, found), RULES), levels, RULES)
    kept = gathered(study, kept)
    if workshop is not None:
        kept += [
            finding_of(workshop_file.faulty, workshop_file.told(workshop, fault))
            for fault in (*workshop.faults, *faults)
        ]
    return sorted(kept, key=lambda finding: finding.order)
