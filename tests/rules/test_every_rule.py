"""Every rule is what its documentation says: the example trips it, the cure cures it."""

from __future__ import annotations

import pytest
from expecting import findings

from procedure.rules import RULES, Rule


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_example_trips_the_rule(rule: Rule) -> None:
    found = [finding for finding in findings(rule.trips) if finding.rule == rule.name]
    assert found, [(f.rule, f.sentence) for f in findings(rule.trips)]
    for finding in found:
        assert finding.sentence and finding.remedy and finding.source


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_cure_cures_it_and_leaves_nothing_amiss(rule: Rule) -> None:
    found = findings(rule.cure)
    assert [f for f in found if f.rule == rule.name] == []
    heavy = [(f.line, f.rule, f.sentence) for f in found if f.level != "note"]
    assert heavy == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_documentation_says_what_and_why(rule: Rule) -> None:
    assert rule.what.endswith(".")
    assert rule.name == rule.name.lower() and " " not in rule.name
    assert rule.level in ("error", "warning", "note")
    assert rule.source
