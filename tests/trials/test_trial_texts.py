"""The trials hold together: every answer points at words and lines that stand in its text.

What the program makes of the trials is measured elsewhere; this asks nothing of the program.
"""

import csv
import re
import tomllib
from pathlib import Path

import pytest

HERE = Path(__file__).parent
PHRASE_KINDS = {"accepted", "loose", "asked", "refused"}
LEVELS = {"error", "warning", "note"}


def answers(folder: str) -> list[Path]:
    """Every answer below a folder of trials, open and kept aside."""
    return sorted((HERE / folder).glob("*/*.toml"))


def named(path: Path) -> str:
    """The folder and name of a trial, for the test's report."""
    return f"{path.parent.name}/{path.stem}"


def run_together(text: str) -> str:
    """A text with white space and line ends run together, as the answers quote it."""
    joined = re.sub(r"(\w)-(?:\r\n|\r|\n)(\w)", r"\1-\2", text)
    return re.sub(r"\s+", " ", joined)


@pytest.mark.parametrize("path", answers("prose"), ids=named)
def test_amounts_of_prose_stand_in_the_text(path: Path) -> None:
    told = tomllib.loads(path.read_text(encoding="utf-8"))
    raw = path.with_suffix(".txt").read_bytes()
    code_page = "cp1252" if "1252" in told.get("text_form", "") else "utf-8-sig"
    text = run_together(raw.decode(code_page))
    missing = [one["words"] for one in told["amount"] if one["words"] not in text]
    missing += [one for one in told["not_amounts"] if run_together(one) not in text]
    assert not missing
    for one in told["amount"]:
        assert one.get("low", 0) <= one.get("high", float("inf"))


@pytest.mark.parametrize("path", answers("faults"), ids=named)
def test_fault_stands_on_its_line(path: Path) -> None:
    told = tomllib.loads(path.read_text(encoding="utf-8"))
    lines = path.with_suffix(".dye").read_text(encoding="utf-8").split("\n")
    assert lines[told["line"] - 1].strip() == told["text"]
    assert told["level"] in LEVELS
    assert told["says"]
    assert told["mentions"]
    sound = HERE / "faults" / "sound" / f"{told['sound']}.dye"
    assert sound.read_text(encoding="utf-8").split("\n") != lines


@pytest.mark.parametrize("path", answers("beginners"), ids=named)
def test_mistake_has_a_line_and_help(path: Path) -> None:
    told = tomllib.loads(path.read_text(encoding="utf-8"))
    lines = path.with_suffix(".dye").read_text(encoding="utf-8").split("\n")
    assert 1 <= told["line"] <= len(lines)
    assert told["helps"]
    assert told["mentions"]


@pytest.mark.parametrize("path", answers("handbook"), ids=named)
def test_recipe_declares_what_its_sums_name(path: Path) -> None:
    told = tomllib.loads(path.read_text(encoding="utf-8"))
    text = path.with_suffix(".dye").read_text(encoding="utf-8")
    materials = text.split("\nmaterials\n")[1].split("\n\n")[0]
    declared = {line.split(":")[0].strip() for line in materials.splitlines()}
    assert {one["name"] for one in told.get("material", [])} <= declared
    assert not re.search(r'^\s*do "', text, flags=re.MULTILINE)


@pytest.mark.parametrize("name", ["phrases.csv", "further_phrases.csv", "held_out/phrases.csv"])
def test_phrases_say_where_they_go(name: str) -> None:
    frame = (HERE / "phrases-frame.dye").read_text(encoding="utf-8")
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows
    for row in rows:
        assert f"# part: {row['part']}\n" in frame
        assert row["outcome"] in PHRASE_KINDS
        assert row["effect"]
