"""``vatwright why``: the list of rules, and the page of each."""

from __future__ import annotations

import pytest

from procedure.command.main import main
from procedure.findings import LEVELS
from procedure.rules import FAMILIES, RULES, Rule


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(["why", *arguments]) == 0
    return capsys.readouterr().out


def test_why_alone_lists_every_rule_under_its_family(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys)
    lines = text.splitlines()
    for family in FAMILIES:
        assert family.capitalize() in lines
    listed = [line.split()[0] for line in lines if line.startswith("  ")]
    assert sorted(listed) == sorted(rule.name for rule in RULES)
    assert all(any(level in line for level in LEVELS) for line in lines if line.startswith("  "))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_page_of_a_rule(rule: Rule, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, rule.name)
    flat = " ".join(text.split())
    assert text.startswith(f"{rule.name} ({rule.level}; {rule.family})")
    for part in (rule.what, rule.why, rule.source):
        assert part and " ".join(part.split()) in flat
    for example in (rule.trips, rule.cure):
        for line in example.split("\n"):
            assert line.strip() in text
    assert max(len(line) for line in text.splitlines()) <= 100


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_rule_is_named_in_words(rule: Rule) -> None:
    assert rule.name.replace("-", "").isalpha() and rule.name.islower()
    assert rule.level in LEVELS and rule.family in FAMILIES
    assert rule.what.endswith(".") and rule.why.endswith(".")


def test_no_two_rules_share_a_name() -> None:
    assert len({rule.name for rule in RULES}) == len(RULES)


@pytest.mark.parametrize(
    ("name", "words"),
    [("which-galon", "Did you mean “which-gallon”?"), ("xyzzy", "lists them"), ("y" * 999, "")],
)
def test_a_rule_that_there_is_not(
    name: str, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["why", name]) == 2
    text = capsys.readouterr()
    assert words in text.err and text.err.count("\n") == 1 and len(text.err) < 200
    assert text.out == ""
