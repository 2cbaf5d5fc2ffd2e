"""Trace to findings: every rule of the checker, and the judging by them."""

from __future__ import annotations

from collections.abc import Mapping

from procedure.facts.study import Study
from procedure.findings import Finding
from procedure.rules import allowing, fibre_care, rinse, sharing, soak
from procedure.rules.allowing import allowed
from procedure.rules.colour import (
    baths_used_again,
    colour_on_fibre,
    order_of_baths,
    shares,
    vats,
)
from procedure.rules.equipment import pots_and_metals, vessels
from procedure.rules.judging import found_by
from procedure.rules.levels import NO_LEVELS, Weight, weighed
from procedure.rules.names_and_order import following, names
from procedure.rules.rule import Rule
from procedure.rules.safety import (
    choice_of_materials,
    disposal,
    left_standing,
    meetings,
    protection,
)
from procedure.rules.units import quantities, unlikely

__all__ = ["FAMILIES", "RULES", "Rule", "Study", "judge", "rule_named"]

RULES: tuple[Rule, ...] = (
    *quantities.RULES,
    *unlikely.RULES,
    *names.RULES,
    *following.RULES,
    *soak.RULES,
    *rinse.RULES,
    *vessels.RULES,
    *pots_and_metals.RULES,
    *fibre_care.RULES,
    *colour_on_fibre.RULES,
    *shares.RULES,
    *vats.RULES,
    *baths_used_again.RULES,
    *order_of_baths.RULES,
    *protection.RULES,
    *choice_of_materials.RULES,
    *left_standing.RULES,
    *disposal.RULES,
    *meetings.RULES,
    *sharing.RULES,
    *allowing.RULES,
)

FAMILIES: tuple[str, ...] = tuple(dict.fromkeys(rule.family for rule in RULES))


def rule_named(name: str) -> Rule | None:
    """The rule of that name."""
    return next((rule for rule in RULES if rule.name == name), None)


def judge(study: Study, levels: Mapping[str, Weight] = NO_LEVELS) -> list[Finding]:
    """All findings of a study, in the order of the text; what is allowed is left out.

    ``levels`` are those that the house gives to rules by name.
    """
    found = found_by(RULES, study)
    kept = weighed(allowed(study, found, RULES), levels, RULES)
    return sorted(kept, key=lambda finding: finding.order)
