"""Trace to findings: every rule of the checker, and the judging by them."""

from __future__ import annotations

from collections.abc import Mapping

from procedure.facts.study import Study
from procedure.findings import Finding, Related
from procedure.flow import Call
from procedure.rules import allowing, fibre_care, rinse, sharing, soak, workshop_file
from procedure.rules.allowing import allowed
from procedure.rules.colour import (
    baths_used_again,
    colour_on_fibre,
    order_of_baths,
    shares,
    vats,
)
from procedure.rules.equipment import pots_and_metals, vessels
from procedure.rules.levels import levels_of, weighed
from procedure.rules.names_and_order import following, names
from procedure.rules.rule import Found, Rule
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
    *workshop_file.RULES,
)

FAMILIES: tuple[str, ...] = tuple(dict.fromkeys(rule.family for rule in RULES))


def rule_named(name: str) -> Rule | None:
    """The rule of that name."""
    return next((rule for rule in RULES if rule.name == name), None)


def judge(study: Study) -> list[Finding]:
    """All findings of a study, in the order of the text; what is allowed is left out.

    They weigh what the workshop says, and what is amiss with its file is among them.
    """
    workshop = study.workshop
    levels, faults = levels_of(() if workshop is None else workshop.levels, RULES)
    found: dict[tuple[object, ...], Finding] = {}
    for rule in RULES:
        for one in rule.check(study):
            finding = _finding(rule, one, study.flow.called)
            key = (finding.rule, finding.file, finding.line, finding.column, finding.sentence)
            found.setdefault(key, finding)
    kept = weighed(allowed(study, list(found.values()), RULES), levels, RULES)
    if workshop is not None:
        kept += [
            _finding(workshop_file.faulty, workshop_file.told(workshop, fault), {})
            for fault in (*workshop.faults, *faults)
        ]
    return sorted(kept, key=lambda finding: finding.order)


def _finding(rule: Rule, found: Found, followed: Mapping[str, tuple[Call, ...]]) -> Finding:
    related = [
        Related(pointer.procedure.file, *pointer.place, pointer.sentence)
        for pointer in found.related
    ]
    for call in reversed(found.calls or followed.get(found.procedure.key, ())):
        related.append(
            Related(call.procedure.file, *call.step.place, "That procedure is followed from here.")
        )
    workshop = found.procedure.workshop
    for name, declared in found.procedure.brought.items():
        thing = found.procedure.declared(name)
        if workshop is not None and thing is not None and thing.name.place == found.place:
            said = "The workshop declares it here, for all its procedures."
            related.append(Related(workshop.file, *declared, said))
    return Finding(
        rule=rule.name,
        level=found.level or rule.level,
        file=found.procedure.file,
        line=found.place.line,
        column=found.place.column,
        to=found.place.to,
        sentence=found.sentence,
        remedy=found.remedy,
        source=found.source or rule.source,
        related=tuple(related),
        edit=found.edit,
    )
