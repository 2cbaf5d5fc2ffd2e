"""``vatwright compare``: text, JSON, a paper, standard input, what is followed, what cannot be."""

from __future__ import annotations

import io
import json
import re
import sys
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from test_same_meaning import TEXT, changed

from procedure.command.main import CANNOT_RUN, main

SCHEMA = json.loads((files("procedure.compare") / "compare.schema.json").read_text("utf-8"))
FINDINGS = json.loads((files("procedure.report") / "findings.schema.json").read_text("utf-8"))


@pytest.fixture
def pair(tmp_path: Path) -> tuple[str, str]:
    """An old version and a new one with more alum, a hotter dye bath, no gloves, no drying."""
    text = changed(
        ("alum 12 %", "alum 15 %"),
        ("dye yarn in weld-bath from 40 °C to 80 °C", "dye yarn in weld-bath from 40 °C to 95 °C"),
        ("  wearing gloves\n", ""),
        ("  dry yarn\n", ""),
    )
    old, new = tmp_path / "old.dye", tmp_path / "new.dye"
    old.write_text(TEXT, encoding="utf-8")
    new.write_text(text, encoding="utf-8")
    return str(old), str(new)


def test_the_report_says_what_differs_and_what_to_do(
    pair: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", *pair]) == 1
    shown = " ".join(capsys.readouterr().out.split())
    for part in (
        "4 differences of meaning",
        "alum: 15 %, not 12 % of yarn",
        "Take 15 g of alum.",
        "heat to reach: 95 °C, not 80 °C",
        "No longer wearing gloves",
        "“dry yarn” is gone",
        "The colour may come out otherwise",
        "Safety may be another",
    ):
        assert part in shown, part


def test_the_same_file_is_the_same(
    pair: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", pair[0], pair[0]]) == 0
    assert "Both mean the same." in " ".join(capsys.readouterr().out.split())


def test_units_of_another_reader(pair: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", *pair, "--units", "us"]) == 1
    shown = capsys.readouterr().out
    assert "203 °F, not 176 °F" in shown
    assert "0.529 oz of alum" in shown


def _json(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    main(["compare", *arguments, "--format", "json"])
    made: dict[str, Any] = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator(SCHEMA).validate(made)
    finding = {"$ref": "#/$defs/finding", "$defs": FINDINGS["$defs"]}
    for one in (*made["gained"], *made["lost"]):
        jsonschema.Draft202012Validator(finding).validate(one)
    return made


def test_json_keeps_to_its_schema(
    pair: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    made = _json(list(pair), capsys)
    assert not made["same"]
    kinds = [change["kind"] for change in made["changes"]]
    assert kinds == ["worn", "amount", "heat", "gone"]
    assert made["colour"]["may_change"] and made["safety"]["changes"]
    assert _json([pair[0], pair[0]], capsys)["same"]


@pytest.mark.parametrize("form", [".html", ".md", ".txt"])
def test_the_paper_has_both_versions(
    pair: tuple[str, str], form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / f"changes{form}"
    assert main(["compare", *pair, "-o", str(out)]) == 1
    page = out.read_text(encoding="utf-8")
    text = " ".join(re.sub("<[^>]+>", "", page).replace("\u00a0", " ").split())
    assert "15 %, not 12 % of yarn" in text
    assert "12 g of potassium alum" in text
    assert "15 g of potassium alum" in text
    if form == ".html":
        assert page.count('<th scope="col">') == 3
        assert "left out" in text


def test_hostile_words_stay_words(
    pair: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old, new = Path(pair[0]), Path(pair[1])
    new.write_text(TEXT.replace("foul drain", "<script>alert(1)</script>"), encoding="utf-8")
    out = tmp_path / "x.html"
    assert main(["compare", str(old), str(new), "-o", str(out)]) == 1
    assert "<script>alert" not in out.read_text(encoding="utf-8")


def test_an_earlier_version_comes_from_standard_input(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As from ``git show``: it stands where the named file stands, so what it follows is found."""
    method = TEXT.replace("steps\n  wet out", "steps\n  wet out")
    (tmp_path / "weld.dye").write_text(method, encoding="utf-8")
    plan = """procedure "A day"
  by "Fellside Dye Circle"
  revised 2026-07-05
  source "common practice"

fibre
  moss: wool yarn, 100 g, scoured

steps
  follow "weld.dye" with yarn = moss
"""
    main_file = tmp_path / "day.dye"
    main_file.write_text(plan, encoding="utf-8")
    given = io.TextIOWrapper(io.BytesIO(plan.replace("100 g", "200 g").encode()))
    monkeypatch.setattr(sys, "stdin", given)
    main(["compare", "-", str(main_file)])
    shown = capsys.readouterr().out
    assert "dry weight: 100 g, not 200 g" in shown
    assert "is new" not in shown and "is gone" not in shown


def test_a_change_in_what_is_followed_is_told_at_its_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = """procedure "A day"
  by "Fellside Dye Circle"
  revised 2026-07-05
  source "common practice"

fibre
  moss: wool yarn, 100 g, scoured

steps
  follow "weld.dye" with yarn = moss
"""
    for folder, text in (("old", TEXT), ("new", changed(("alum 12 %", "alum 15 %")))):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "weld.dye").write_text(text, encoding="utf-8")
        (tmp_path / folder / "day.dye").write_text(plan, encoding="utf-8")
    old, new = (str(tmp_path / folder / "day.dye") for folder in ("old", "new"))
    assert main(["compare", old, new]) == 1
    shown = capsys.readouterr().out
    assert "1 difference of meaning" in " ".join(shown.split())
    assert "weld.dye" in shown
    assert "alum: 15 %, not 12 %" in " ".join(shown.split())


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["-", "-"], "only one of the two"),
        (["missing.dye", "missing.dye"], "cannot be read"),
        (["OLD", "OLD", "-o", "x.png"], "does not say what to make"),
        (["OLD", "OLD", "-o", "x.html", "--format", "json"], "leave out"),
        (["OLD", "POEM"], "can be read as a procedure"),
    ],
)
def test_what_cannot_be_compared(
    arguments: list[str],
    said: str,
    pair: tuple[str, str],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    poem = tmp_path / "poem.txt"
    poem.write_text("The weld stood high,\nthe pot stood by.\n", encoding="utf-8")
    arguments = [str(poem) if one == "POEM" else one for one in arguments]
    given = [pair[0] if one == "OLD" else one for one in arguments]
    assert main(["compare", *given]) == CANNOT_RUN
    shown = capsys.readouterr()
    assert said in shown.err
    assert not shown.out


def test_faulty_files_are_compared_all_the_same(
    pair: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What can still be read of a faulty file is compared, and the checker says the rest."""
    faulty = tmp_path / "faulty.dye"
    faulty.write_text("fibre\n  wool: wool, 90 g\nweld is yellow\n", encoding="utf-8")
    for given in ([pair[0], str(faulty)], [str(faulty), pair[0]], [str(faulty), str(faulty)]):
        assert main(["compare", *given]) in (0, 1)
        assert capsys.readouterr().out


def test_a_nickname_hides_no_poison(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = changed(
        ("materials\n", "materials\n  use: monkshood leaves, dried\n"),
        ("weld 80 % of yarn", "weld 80 % of yarn, use 10 g"),
    )
    old, new = tmp_path / "old.dye", tmp_path / "new.dye"
    old.write_text(TEXT, encoding="utf-8")
    for one, two, said in (
        (TEXT, text, "Use use (monkshood) "),
        (text, TEXT, "Leave out use (monkshood)."),
        (text, text.replace("use 10 g", "use 30 g"), "Take 30 g of use (monkshood)."),
    ):
        old.write_text(one, encoding="utf-8")
        new.write_text(two, encoding="utf-8")
        main(["compare", str(old), str(new)])
        assert said in " ".join(capsys.readouterr().out.split())


IN_LITRES = TEXT.replace("in tub with water 30 : 1 of yarn", "in tub with water 5 L")


@pytest.mark.parametrize(
    ("old", "new", "told", "todo"),
    [
        (
            "rinse yarn in",
            "rinse yarn for 5 min in",
            "time: 5 min; before, none",
            "Rinse, for 5 min.",
        ),
        (" for 1 h", "", "time: no longer said (before: 1 h)", "Nothing is said of the time."),
        ("water 5 L", "water 8 L", "water: 8 L, not 5 L.", "Take 8 L of water."),
        (
            "stainless steel pot, 8 L",
            "stainless steel pot",
            "size: no longer said (before: 8 L)",
            "Nothing says of what size",
        ),
    ],
)
def test_what_was_not_said_before_or_is_no_longer_said(
    old: str,
    new: str,
    told: str,
    todo: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert old in IN_LITRES
    for name, text in (("old", IN_LITRES), ("new", IN_LITRES.replace(old, new, 1))):
        (tmp_path / f"{name}.dye").write_text(text, encoding="utf-8")
    assert main(["compare", str(tmp_path / "old.dye"), str(tmp_path / "new.dye")]) == 1
    shown = " ".join(capsys.readouterr().out.split())
    assert told in shown
    assert todo in shown


def test_what_is_to_be_done_otherwise_stands_once_with_all_its_numbers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, text in (("old", IN_LITRES), ("new", IN_LITRES.replace("water 5 L", "water 8 L"))):
        (tmp_path / f"{name}.dye").write_text(text, encoding="utf-8")
    assert main(["compare", str(tmp_path / "old.dye"), str(tmp_path / "new.dye")]) == 1
    shown = capsys.readouterr().out
    assert shown.count("Take 8 L of water.") == 1
    assert "1, 2 and 3. Take 8 L of water." in shown
