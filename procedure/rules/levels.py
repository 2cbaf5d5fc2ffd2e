"""The house's levels: rules that a collection takes more or less to heart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from procedure.findings import LEVELS, Finding
from procedure.rules.allowing import NEVER_SILENT
from procedure.rules.rule import Rule

HIDDEN = "hidden"
# From the heaviest to the lightest.
WEIGHTS = (*LEVELS, HIDDEN)


class Weight(NamedTuple):
    """The level that the house gives a rule, and its reason where it needs one."""

    level: str
    because: str = ""


NO_LEVELS: Mapping[str, Weight] = MappingProxyType({})


def lighter(level: str, other: str) -> bool:
    """True where a level weighs less than another."""
    return WEIGHTS.index(level) > WEIGHTS.index(other)


def weighed(
    findings: list[Finding], levels: Mapping[str, Weight], rules: tuple[Rule, ...]
) -> list[Finding]:
    """The findings with the house's levels.

    A rule may speak of lighter and of heavier things. A level below the rule's own is
    the most that its findings weigh, and one above it is the least. A finding of the
    safety family is never hidden: someone else's child may read the procedure.
    """
    if not levels:
        return findings
    by_name = {rule.name: rule for rule in rules}
    return [kept for finding in findings for kept in _one(finding, levels, by_name)]


def _one(
    finding: Finding, levels: Mapping[str, Weight], rules: Mapping[str, Rule]
) -> Iterator[Finding]:
    weight, rule = levels.get(finding.rule), rules.get(finding.rule)
    if weight is None or rule is None:
        yield finding
        return
    if lighter(weight.level, rule.level):
        level = max(weight.level, finding.level, key=WEIGHTS.index)
        if level == HIDDEN and rule.family in NEVER_SILENT:
            level = "note"
    elif finding.allowed:  # the writer's reason has the last word
        level = finding.level
    else:
        level = min(weight.level, finding.level, key=WEIGHTS.index)
    if level != HIDDEN:
        because = weight.because if lighter(level, finding.level) else ""
        yield finding._replace(level=level, allowed=finding.allowed or because)
