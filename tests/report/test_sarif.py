"""SARIF 2.1.0: valid by its schema, and what it says is what the findings say."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from expecting import plan_of

from procedure import Plan, read
from procedure.findings import Finding
from procedure.report import sarif
from procedure.rules import RULES
from procedure.rules.example_kit import whole

SCHEMA = json.loads((Path(__file__).parent / "sarif-2.1.0.schema.json").read_text("utf-8"))
# The schema asks for draft 4 of JSON Schema.
VALID = jsonschema.Draft4Validator(SCHEMA, format_checker=jsonschema.Draft4Validator.FORMAT_CHECKER)


@cache
def tool_is_valid(tool: str) -> bool:
    """Whether a log with nothing but that tool keeps to the schema; one tool is looked at once."""
    VALID.validate({"version": "2.1.0", "runs": [{"tool": json.loads(tool), "results": []}]})
    return True


def log(plan: Plan, *unread: str) -> dict[str, Any]:
    """The log of a plan, each part of which keeps to the schema.

    All rules with their documentation are in each log, the same each time.
    """
    made: dict[str, Any] = json.loads(sarif.report(plan.findings, [plan.file], unread))
    (run,) = made["runs"]
    assert tool_is_valid(json.dumps(run["tool"]))
    VALID.validate({**made, "runs": [{**run, "tool": {"driver": {"name": "Vatwright"}}}]})
    return made


def test_a_whole_log_keeps_to_the_schema() -> None:
    VALID.validate(log(read(whole("rinse yarm in tub with water 5 L"))))
    spoilt = log(read(whole("dry yarn")))
    spoilt["runs"][0]["tool"]["driver"]["rules"][0]["id"] = 1
    with pytest.raises(jsonschema.ValidationError):
        tool_is_valid(json.dumps(spoilt["runs"][0]["tool"]))


def run_of(text: str, file: str = "plans/a.dye") -> dict[str, Any]:
    run: dict[str, Any] = log(read(text, file))["runs"][0]
    return run


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_s_own_example_gives_a_valid_log(rule: Any) -> None:
    run = log(plan_of(rule.trips))["runs"][0]
    assert rule.name in {result["ruleId"] for result in run["results"]}


def test_the_schema_refuses_what_is_not_sarif() -> None:
    made = log(read(whole("rinse yarm in tub with water 5 L")))
    made["runs"][0]["results"][0]["level"] = "grave"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(made, SCHEMA)


def test_an_empty_run_is_valid_and_says_that_it_went_well() -> None:
    run = json.loads(sarif.report([], ["a.dye"]))["runs"][0]
    assert run["results"] == []
    assert run["invocations"] == [{"executionSuccessful": True}]


def test_a_file_that_could_not_be_read_is_in_the_log() -> None:
    run = log(read(whole("dry yarn")), "b.dye is not a text file.")["runs"][0]
    assert not run["invocations"][0]["executionSuccessful"]
    assert "b.dye is not a text file." in json.dumps(run["invocations"])


def test_rules_bring_their_own_documentation() -> None:
    descriptors = run_of(whole("dry yarn"))["tool"]["driver"]["rules"]
    assert [one["id"] for one in descriptors] == [rule.name for rule in RULES]
    by_name = {one["id"]: one for one in descriptors}
    for rule in RULES:
        said = by_name[rule.name]
        assert said["shortDescription"]["text"] == rule.what
        assert said["defaultConfiguration"]["level"] == rule.level
        for text in (said["help"]["text"], said["help"]["markdown"]):
            assert rule.trips.split("\n")[0].strip() in text
            assert rule.source in text


def test_each_result_points_at_its_rule() -> None:
    run = run_of(whole("rinse yarm in tub with water 5 litters"))
    for result in run["results"]:
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]


def test_columns_are_characters_and_end_after_the_place() -> None:
    # A character outside the Basic Multilingual Plane is one code point and two UTF-16
    # units; SARIF 2.1.0, 3.14.17 lets the run say which is counted.
    line = '  do "\U0001f9f6 \U0001f9f6" note "x" wearing glvoes'
    text = whole("dry yarn") + line + "\n"
    run = run_of(text)
    assert run["columnKind"] == "unicodeCodePoints"
    result = next(r for r in run["results"] if r["ruleId"] == "unknown-word")
    region = result["locations"][0]["physicalLocation"]["region"]
    written = text.split("\n")[region["startLine"] - 1]
    assert written[region["startColumn"] - 1 : region["endColumn"] - 1] == "glvoes"


def test_a_safe_edit_is_a_fix_that_mends_the_text() -> None:
    text = whole("wet out yarn in tub with water 5 litters for 1 h\ndry yarn")
    run = run_of(text)
    result = next(r for r in run["results"] if r["ruleId"] == "unknown-unit")
    change = result["fixes"][0]["artifactChanges"][0]
    assert change["artifactLocation"]["uri"] == "plans/a.dye"
    (replacement,) = change["replacements"]
    region = replacement["deletedRegion"]
    lines = text.split("\n")
    line = lines[region["startLine"] - 1]
    lines[region["startLine"] - 1] = (
        line[: region["startColumn"] - 1]
        + replacement["insertedContent"]["text"]
        + line[region["endColumn"] - 1 :]
    )
    mended = run_of("\n".join(lines))
    assert "unknown-unit" not in {r["ruleId"] for r in mended["results"]}


def test_related_places_are_related_locations() -> None:
    run = run_of(whole("soak: wet out yarn in tub with water 5 L for 1 h\nsoak: dry yarn"))
    result = next(r for r in run["results"] if r["ruleId"] == "declared-twice")
    (related,) = result["relatedLocations"]
    assert (
        related["physicalLocation"]["region"]["startLine"]
        < (result["locations"][0]["physicalLocation"]["region"]["startLine"])
    )
    assert related["message"]["text"]


def test_what_a_writer_allows_is_suppressed_with_the_reason() -> None:
    finding = Finding(
        "not-declared", "note", "a.dye", 2, 3, 7, "Something.", "Do it.", "x", (), None, "we know"
    )
    (result,) = json.loads(sarif.report([finding], ["a.dye"]))["runs"][0]["results"]
    assert result["suppressions"] == [
        {"kind": "inSource", "status": "accepted", "justification": "we know"}
    ]


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("plans/a.dye", "plans/a.dye"),
        ("plans/grün & gelb.dye", "plans/gr%C3%BCn%20%26%20gelb.dye"),
        ("a:b.dye", "a%3Ab.dye"),
        ("100%.dye", "100%25.dye"),
        ("../a.dye", "../a.dye"),
        ("/srv/dye works/a.dye", "file:///srv/dye%20works/a.dye"),
        ("standard input", "standard%20input"),
    ],
)
def test_names_of_files_are_uris(name: str, said: str) -> None:
    # RFC 3986: spaces, percent signs and non-ASCII letters are percent-encoded.
    assert sarif.uri(name) == said
    assert re.fullmatch(r"[A-Za-z0-9._~/%:@!$&'()*+,;=-]+", said)
