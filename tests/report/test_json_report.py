"""The JSON report: real output keeps to the schema that is published beside it."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from procedure import load, read
from procedure.report import json_report
from procedure.rules import RULES
from procedure.rules.example_kit import whole

SCHEMA = json.loads((files("procedure.report") / "findings.schema.json").read_text("utf-8"))
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").rglob("*.dye"))


def checked(text: str) -> dict[str, Any]:
    made: dict[str, Any] = json.loads(json_report.report(read(text, "a.dye").findings, ["a.dye"]))
    jsonschema.Draft202012Validator(SCHEMA).validate(made)
    return made


def test_the_schema_is_itself_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_every_rule_s_own_example_keeps_to_the_schema(rule: Any) -> None:
    made = checked(whole(rule.trips))
    assert sum(made["counts"].values()) == len(made["findings"])


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name)
def test_the_examples_keep_to_the_schema(example: Path) -> None:
    made = json.loads(json_report.report(load(example).findings, [str(example)]))
    jsonschema.Draft202012Validator(SCHEMA).validate(made)


def test_an_edit_and_a_related_place_are_in_it() -> None:
    made = checked(whole("soak: wet out yarn in tub with water 5 litters\nsoak: dry yarn"))
    assert any("edit" in finding for finding in made["findings"])
    assert any(finding["related"] for finding in made["findings"])


def test_the_schema_refuses_a_key_that_it_does_not_name() -> None:
    made = checked(whole("rinse yarm in tub with water 5 L"))
    made["findings"][0]["colour"] = "red"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(made, SCHEMA)
