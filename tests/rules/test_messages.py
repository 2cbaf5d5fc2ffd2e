"""What every rule says of its own example, kept as text to be read and reviewed.

``pytest tests/rules/test_messages.py --accept`` stores what is said now.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path
from textwrap import wrap

import pytest
from expecting import findings
from stored import Snapshot

import procedure.rules
from procedure.findings import Finding, Says, Several, Value, say
from procedure.rules import FAMILIES, RULES, Rule
from procedure.wording import for_reader, of_system
from procedure.wording.spelling import american

HERE = Path(procedure.rules.__file__).parent
US = of_system("us", "us")


def said_of(finding: Finding) -> list[str]:
    """What a report says of a finding, without the names of files."""
    lines = [f"{finding.level}: {finding.sentence}", finding.remedy]
    return lines + [f"line {related.line}: {related.sentence}" for related in finding.related]


def message(rule: Rule) -> str:
    """What a rule says of its example, and what of that is another for a reader in the US."""
    lines = [rule.name]
    for finding in findings(rule.trips):
        if finding.rule != rule.name:
            continue
        lines.append("")
        for own, other in zip(said_of(finding), said_of(for_reader(finding, US)), strict=True):
            lines += wrap(own, 96, initial_indent="  ", subsequent_indent="    ")
            if other != own:
                lines += wrap(f"US: {other}", 96, initial_indent="  ", subsequent_indent="    ")
    return "\n".join(lines)


@pytest.mark.parametrize("family", FAMILIES)
def test_messages(family: str, snapshot: Snapshot) -> None:
    said = [message(rule) for rule in RULES if rule.family == family]
    snapshot(f"messages-{family.replace(' ', '-')}.txt", "\n\n\n".join(said) + "\n")


@pytest.mark.parametrize("family", FAMILIES)
def test_our_own_words_are_in_the_readers_spelling(family: str) -> None:
    """What is in quotation marks is to be written so, and keeps its spelling."""
    said = [
        line
        for rule in RULES
        if rule.family == family
        for finding in findings(rule.trips)
        for line in said_of(for_reader(finding, US))
    ]
    ours = [re.sub("“[^”]*”", "“”", line) for line in said]
    assert [line for line in ours if american(line) != line] == []


METRIC = re.compile(
    r"\d\s?(?:°C|g|kg|mL|L|mg)\b"
    r"|\b(?:grams?|lit(?:re|er)s?|kilograms?|millilit(?:re|er)s?|kilos?)\b"
)
# Where both measures are what it is about, or the writer's own words are repeated.
ABOUT_BOTH = {
    *("readings-disagree", "which-gallon", "ounces-of-water", "hotter-than-boiling"),
    *("unlikely-size", "follow-needs", "other-than-meant"),
}


@pytest.mark.parametrize("family", FAMILIES)
def test_a_reader_in_the_us_is_told_of_no_metric_measure(family: str) -> None:
    """But for what stands in quotation marks, since it is written so."""
    metric = {
        rule.name: line
        for rule in RULES
        if rule.family == family
        for finding in findings(rule.trips)
        if finding.rule == rule.name
        for line in said_of(for_reader(finding, US))
        if METRIC.search(re.sub("“[^”]*”", "“”", line))
    }
    assert {name: line for name, line in metric.items() if name not in ABOUT_BOTH} == {}


def fields_of(says: Says) -> list[Value]:
    """Every value in a template and in what stands in its fields."""
    found: list[Value] = []
    waiting = [value for _, value in says.values]
    while waiting:
        value = waiting.pop()
        found.append(value)
        if isinstance(value, Says):
            waiting += [inner for _, inner in value.values]
        if isinstance(value, Several):
            waiting += value.values
    return found


def sources() -> list[Path]:
    """The modules of the rules; the kit of their examples writes procedures, not messages."""
    return [path for path in sorted(HERE.rglob("*.py")) if path.name != "example_kit.py"]


def is_a_key(text: ast.JoinedStr, parents: dict[ast.AST, ast.AST]) -> bool:
    """True where a formatted string is no message: a key, a pattern, a column, an edit."""
    node: ast.AST = text
    while node in parents:
        node = parents[node]
        if isinstance(node, ast.Raise):
            return True
        if isinstance(node, ast.Call):
            name = ast.unparse(node.func)
            return name in KEYED or name.startswith("re.")
        if isinstance(node, ast.stmt):
            return any(part in ast.unparse(node) for part in ("columns = ", "found += [f'strong"))
    return False


# Calls whose formatted strings are keys or text for the file, and never said to a reader.
KEYED = ("entry.number", "one.entry.number", "study.slips", "Edit")


@pytest.mark.parametrize("path", sources(), ids=lambda path: path.name)
def test_no_rule_writes_a_number_itself(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    parents = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            assert node.module != "procedure.quantity.number_words", path
        if isinstance(node, ast.Call):
            text = ast.unparse(node)
            # A dimension is a key of a table, and no number.
            assert not text.startswith(("str(", "format(")) or text == "str(one.dimensionality)"
        if isinstance(node, ast.JoinedStr):
            assert is_a_key(node, parents), f"{path.name}: {ast.unparse(node)}"


def test_a_number_is_refused_where_no_unit_is_known() -> None:
    with pytest.raises(TypeError, match="no typed value"):
        say("It is {heat}.", heat=85)  # type: ignore[arg-type]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_finding_keeps_its_fact(rule: Rule) -> None:
    for finding in findings(rule.trips):
        fact = finding.fact
        assert fact is not None and fact.kind == finding.rule
        for says in (fact.sentence, fact.remedy, *(related.says for related in finding.related)):
            assert isinstance(says, Says) and says.template
            assert all(isinstance(value, tuple) for value in fields_of(says))
