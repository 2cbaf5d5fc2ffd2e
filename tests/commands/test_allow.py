"""``allow RULE because "..."``: on a step, a declaration, a section, the whole procedure."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import procedure
from procedure import Finding
from procedure.command.main import main
from procedure.rules import RULES
from procedure.rules.example_kit import HEADER, KIT, whole

BECAUSE = 'because "the liquor goes to the next class"'
LEFT = f"allow bath-left-over {BECAUSE}"
HEAD = f"""{HEADER}
fibre
  yarn: {KIT["fibre"]["yarn"]}

equipment
  kettle: {KIT["equipment"]["kettle"]}
  pan: {KIT["equipment"]["pan"]}
  tub: {KIT["equipment"]["tub"]}

"""
# Two baths that are left over.
TWO = """steps
  wet out yarn in tub with water 5 L for 1 h
  one: prepare in kettle with water 3 L
  two: prepare in pan with water 3 L
  dry yarn
"""


def found(text: str, *rules: str) -> list[Finding]:
    return [f for f in procedure.read(text, "a.dye").findings if f.rule in rules]


def lines(text: str, *rules: str) -> list[int]:
    return [f.line for f in found(text, *rules)]


ABOUT = ("bath-left-over", "nothing-to-allow", "no-such-rule", "allow-without-reason")
ONE_LINE = (HEAD + TWO).split("\n").index("  one: prepare in kettle with water 3 L") + 1


def test_without_an_allow_both_baths_are_found() -> None:
    assert lines(HEAD + TWO, *ABOUT) == [ONE_LINE, ONE_LINE + 1]


def test_on_a_step_it_speaks_for_that_step_only() -> None:
    text = (HEAD + TWO).replace("kettle with water 3 L", f"kettle with water 3 L {LEFT}")
    assert lines(text, *ABOUT) == [ONE_LINE + 1]


def test_on_the_lines_that_a_step_goes_on_over() -> None:
    text = (HEAD + TWO).replace(
        "kettle with water 3 L", f"kettle\n      with water 3 L\n      {LEFT}"
    )
    assert lines(text, *ABOUT) == [ONE_LINE + 3]


def test_on_a_section_it_speaks_for_the_section() -> None:
    text = (HEAD + TWO).replace("steps\n", f"steps\n  {LEFT}\n")
    assert lines(text, *ABOUT) == []


def test_of_a_section_it_does_not_reach_another() -> None:
    text = (HEAD + TWO).replace("equipment\n", f"equipment\n  {LEFT}\n")
    assert [f.rule for f in found(text, *ABOUT)] == [
        "nothing-to-allow", "bath-left-over", "bath-left-over",
    ]  # fmt: skip


def test_on_the_whole_procedure_it_reaches_every_section() -> None:
    text = (HEAD + TWO).replace("  place outdoors\n", f"  place outdoors\n  {LEFT}\n")
    assert lines(text, *ABOUT) == []


def test_on_a_declaration_it_speaks_for_that_declaration() -> None:
    bare = (HEAD + TWO).replace(", for dyeing only", "")
    assert len(found(bare, "use-unstated")) == 3
    allowed = bare.replace(
        "kettle: stainless steel pot, 15 L, lidded",
        f"kettle: stainless steel pot, 15 L, lidded allow use-unstated {BECAUSE}",
    )
    assert len(found(allowed, "use-unstated")) == 2
    assert not found(allowed, "nothing-to-allow")


def test_inside_a_block_it_speaks_for_its_step() -> None:
    text = (
        HEAD
        + f"""steps
  wet out yarn in tub with water 5 L for 1 h
  if "there is a second class"
    one: prepare in kettle with water 3 L {LEFT}
    two: prepare in pan with water 3 L
  dry yarn
"""
    )
    assert lines(text, *ABOUT) == [ONE_LINE + 2]


def test_of_several_the_narrowest_is_used_and_the_others_said_to_be_idle() -> None:
    text = (HEAD + TWO).replace("kettle with water 3 L", f"kettle with water 3 L {LEFT}")
    text = text.replace("pan with water 3 L", f"pan with water 3 L {LEFT}")
    text = text.replace("steps\n", f"steps\n  {LEFT}\n")
    (idle,) = found(text, *ABOUT)
    assert idle.rule == "nothing-to-allow" and idle.level == "note"
    assert text.split("\n")[idle.line - 1] == f"  {LEFT}"


def test_two_rules_may_be_allowed_on_one_step() -> None:
    more = f"{LEFT} allow water-unstated {BECAUSE}"
    text = (HEAD + TWO).replace("kettle with water 3 L", f"kettle {more}")
    assert lines(text, "water-unstated", *ABOUT) == [ONE_LINE + 1]


def test_another_rule_stays() -> None:
    text = (HEAD + TWO).replace(
        "kettle with water 3 L", f"kettle with water 3 L allow never-used {BECAUSE}"
    )
    assert {f.rule for f in found(text, *ABOUT)} == {"bath-left-over", "nothing-to-allow"}


def test_a_misspelt_rule_silences_nothing_and_suggests_the_near_one() -> None:
    text = (HEAD + TWO).replace(
        "kettle with water 3 L", f"kettle with water 3 L allow bath-left-ovr {BECAUSE}"
    )
    faults = found(text, *ABOUT)
    assert [f.rule for f in faults] == ["bath-left-over", "no-such-rule", "bath-left-over"]
    wrong = faults[1]
    assert wrong.level == "error" and "“bath-left-over”" in wrong.remedy
    assert text.split("\n")[wrong.line - 1][wrong.column - 1 : wrong.to - 1] == "bath-left-ovr"


@pytest.mark.parametrize("reason", ["", " ", "\t"])
def test_a_reason_is_required(reason: str) -> None:
    text = (HEAD + TWO).replace(
        "kettle with water 3 L", f'kettle with water 3 L allow bath-left-over because "{reason}"'
    )
    assert {f.rule for f in found(text, *ABOUT)} == {"bath-left-over", "allow-without-reason"}


def test_without_because_the_line_cannot_be_read() -> None:
    text = (HEAD + TWO).replace("kettle with water 3 L", "kettle allow bath-left-over")
    (fault,) = found(text, "cannot-read")
    assert "because" in fault.sentence


CHROME = "chrome-bath: prepare in kettle with water 3 L, chrome 2 % of yarn"


def safety_errors(text: str) -> list[Finding]:
    family = {rule.name: rule.family for rule in RULES}
    return [
        f for f in procedure.read(text).findings
        if family[f.rule] == "safety" and (f.level == "error" or f.allowed)
    ]  # fmt: skip


def test_a_safety_error_stays_as_a_note_with_the_reason() -> None:
    text = whole(f'{CHROME}\nwet out yarn in tub with water 5 L\ndiscard chrome-bath to "depot"')
    errors = safety_errors(text)
    assert errors  # chromium(VI) is an error (issue: restricted substances)
    for rule in {f.rule for f in errors}:
        allowed = text.replace(
            "  place outdoors\n", f"  place outdoors\n  allow {rule} {BECAUSE}\n"
        )
        left = [f for f in safety_errors(allowed) if f.rule == rule]
        assert [f.level for f in left] == ["note"] * len([f for f in errors if f.rule == rule])
        assert {f.allowed for f in left} == {"the liquor goes to the next class"}


def test_the_reason_stands_in_every_form_of_report(
    tmp_path: object, capsys: pytest.CaptureFixture[str]
) -> None:
    text = whole(f'{CHROME}\nwet out yarn in tub with water 5 L\ndiscard chrome-bath to "depot"')
    rule = safety_errors(text)[0].rule
    file = Path(str(tmp_path)) / "a.dye"
    file.write_text(
        text.replace("  place outdoors\n", f"  place outdoors\n  allow {rule} {BECAUSE}\n"), "utf-8"
    )
    reason = "the liquor goes to the next class"
    main(["check", "--at-least", "note", str(file)])
    assert f"The writer allows it: {reason}" in " ".join(capsys.readouterr().out.split())
    main(["check", "--at-least", "note", "--format", "json", str(file)])
    said = json.loads(capsys.readouterr().out)["findings"]
    assert reason in {finding.get("allowed") for finding in said}
    main(["check", "--at-least", "note", "--format", "sarif", str(file)])
    results = json.loads(capsys.readouterr().out)["runs"][0]["results"]
    assert any(r.get("suppressions", [{}])[0].get("justification") == reason for r in results)


def test_an_allow_in_a_followed_file_speaks_for_that_file(tmp_path: object) -> None:
    folder = Path(str(tmp_path))
    inner = (HEAD + TWO).replace("kettle with water 3 L", f"kettle with water 3 L {LEFT}")
    (folder / "inner.dye").write_text(inner, "utf-8")
    outer = HEAD + 'steps\n  follow "inner.dye" with yarn\n'
    (folder / "outer.dye").write_text(outer, "utf-8")
    left = [f for f in procedure.load(folder / "outer.dye").findings if f.rule in ABOUT]
    assert [(Path(f.file).name, f.line) for f in left] == [("inner.dye", ONE_LINE + 1)]


def test_an_allow_does_not_reach_into_a_followed_file(tmp_path: object) -> None:
    folder = Path(str(tmp_path))
    (folder / "inner.dye").write_text(HEAD + TWO, "utf-8")
    outer = HEAD.replace("  place outdoors\n", f"  place outdoors\n  {LEFT}\n")
    (folder / "outer.dye").write_text(outer + 'steps\n  follow "inner.dye" with yarn\n', "utf-8")
    left = [f.rule for f in procedure.load(folder / "outer.dye").findings if f.rule in ABOUT]
    assert left.count("bath-left-over") == 2 and left.count("nothing-to-allow") == 1


def test_a_file_is_told_by_its_path_and_not_by_the_name_it_is_shown_under(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "part.dye").write_text(HEAD + TWO, "utf-8")
    monkeypatch.chdir(tmp_path)
    main = HEAD.replace("  place outdoors\n", f"  place outdoors\n  {LEFT}\n")
    main += 'steps\n  follow "part.dye" with yarn\n'
    plan = procedure.read(main, "part.dye", tmp_path / "main.dye")
    left = [f for f in plan.findings if f.rule in ABOUT]
    assert [f.rule for f in left].count("bath-left-over") == 2
    assert [f.rule for f in left].count("nothing-to-allow") == 1
    assert {Path(f.key).name for f in left} == {"part.dye", "main.dye"}
