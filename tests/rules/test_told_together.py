"""Findings that differ in the thing alone: one at a place, and told once where a reader reads."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from expecting import plan_of

from procedure import Finding
from procedure.command.main import main
from procedure.report import json_report, text
from procedure.report.stored import findings_of, may_be_alike, stored, with_needed_facts

LOTS = ("ash", "birch", "cedar", "dogwood", "elm", "fir")
HEAD = "fibre\n" + "".join(f"  {lot}: wool yarn, 50 g, scoured\n" for lot in LOTS) + "steps\n"
TOGETHER = (
    HEAD + f"  wet out {', '.join(LOTS)} in tub with water 10 L at 30 °C for 5 min\n"
    "  bath: prepare in kettle with water 10 L, weld 300 g at 30 °C\n  strain bath\n"
    f"  dye {', '.join(LOTS)} in bath at 30 °C for 1 h\n"
)
ONE_BY_ONE = HEAD + "".join(
    f"  wet out {lot} in tub with water 5 L at 30 °C for 1 h\n  dry {lot}\n"
    f"  steep {lot} in bath for 1 h\n  lift {lot}\n"
    for lot in LOTS
).replace("  steep", "  bath: prepare in kettle with water 5 L, alum 30 g at 30 °C\n  steep", 1)


def of_rule(source: str, rule: str) -> list[Finding]:
    return [one for one in plan_of(source).findings if one.rule == rule]


@pytest.mark.parametrize("rule", ["no-mordant", "soaked-too-briefly", "ends-unrinsed"])
def test_six_lots_at_one_place_are_one_finding(rule: str) -> None:
    (found,) = of_rule(TOGETHER, rule)
    assert found.sentence.startswith("ash ")
    assert found.sentence.endswith("The same is true of birch, cedar, dogwood, elm and fir.")


def test_every_lot_is_in_the_fact_that_other_programs_get() -> None:
    (found,) = of_rule(TOGETHER, "no-mordant")
    values = json_report.as_data(found)["fact"]["values"]
    assert values["lot"] == {"type": "lot", "name": "ash"}
    assert [one["name"] for one in values["others"]["values"]] == list(LOTS[1:])


def test_lots_on_lines_of_their_own_keep_their_places_and_are_told_once() -> None:
    found = of_rule(ONE_BY_ONE, "dried-before-bath")
    assert len(found) == len({one.line for one in found}) == len(LOTS)
    told = text.report(found)
    assert told.count("Warning.") == 1
    assert f"{len(LOTS)} warnings" in told
    for one, lot in zip(found[1:], LOTS[1:], strict=True):
        assert f"{lot} (line {one.line})" in " ".join(told.split())


def test_the_same_is_told_of_findings_that_were_kept() -> None:
    found = of_rule(ONE_BY_ONE, "dried-before-bath")
    kept = stored(found)
    assert may_be_alike(findings_of(kept, facts=False))
    assert text.report(with_needed_facts(kept, facts=False)) == text.report(found)


def test_what_differs_in_more_than_the_thing_stays_apart() -> None:
    other = TOGETHER.replace("fir: wool yarn", "fir: silk yarn")
    assert len(of_rule(other, "soaked-too-briefly")) == 2


def test_the_json_of_findings_is_whole() -> None:
    found = of_rule(ONE_BY_ONE, "dried-before-bath")
    data = json.loads(json_report.report(found, ["x.dye"]))
    assert len(data["findings"]) == data["counts"]["warning"] == len(LOTS)


def test_a_thousand_findings_are_held_together_at_once() -> None:
    many = of_rule(TOGETHER, "no-mordant") * 2000
    spread = [one._replace(line=at) for at, one in enumerate(many)]
    assert text.report(spread).count("Warning.") == len(spread)  # it is the same lot each time


def test_a_report_begins_with_what_is_to_be_mended_first() -> None:
    source = (
        "  wet out yarn in tub with water 5 L\n"  # a note: for how long
        "  bath: prepare in kettle with water 4 L, weld 100 g\n  enter yarn in bath\n"
        "  rinse yarn in tub with water 5\n  simer bath for 1 h\n"
    )
    found = plan_of(source).findings
    told = [line for line in text.report(found).split("\n") if line.startswith("  line ")]
    levels = [line.split(": ")[1].split(".")[0] for line in told]
    assert "simer" in told[0]
    assert levels == sorted(levels, key=["Error", "Warning", "Note"].index)
    assert {"Error", "Warning", "Note"} == set(levels)
    assert [one.line for one in found] == sorted(one.line for one in found)


def test_pairs_and_single_lots_are_told_in_one() -> None:
    source = HEAD + (
        "  bath: prepare in kettle with water 9 L, alum 30 g at 30 °C\n"
        "  enter ash in bath\n  enter birch, cedar in bath\n  enter dogwood, elm, fir in bath\n"
    )
    found = of_rule(source, "entered-dry")
    assert len(found) == 3
    told = " ".join(text.report(found).split())
    assert told.count("Warning.") == 1
    assert f"birch and cedar (line {found[1].line}) and dogwood, elm and fir (line" in told


def test_like_faults_of_the_workshop_file_at_one_place_are_all_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """They are no findings of a procedure, and what they hide is worse than they are."""
    (tmp_path / "vatwright.toml").write_text(
        'levels = { zzzzzzzz = "note", qqqqqww = "note" }\n', encoding="utf-8"
    )
    file = tmp_path / "bare.dye"
    file.write_text('procedure "Bare"\nsteps\n  rinse yarn\n', encoding="utf-8")
    assert main(["check", str(file)]) == 2
    said = capsys.readouterr().err
    assert "zzzzzzzz" in said and "qqqqqww" in said
