"""A new lot has a name of its own; where it has not, that is told and nothing else is lost."""

from pathlib import Path

import pytest

import procedure
from procedure.command.main import main

HEAD = """procedure "Names of new lots"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  weld: weld, dried
  bleach: chlorine bleach
steps
"""
APART = "split yarn into a-lot 50 g, b-lot 50 g"


def read(*lines: str) -> procedure.Plan:
    return procedure.read(HEAD + "".join(f"  {line}\n" for line in lines), "x.dye")


@pytest.mark.parametrize("name", ["yarn", "a-lot", "pot", "weld"])
def test_what_is_joined_under_a_name_that_is_taken_is_told(name: str) -> None:
    found = read(APART, f"join a-lot, b-lot as {name}", f"dry {name}").findings
    assert [one.rule for one in found if one.level == "error"] == ["declared-twice"]


@pytest.mark.parametrize("names", ["yarn 50 g, b-lot", "pot 50 g, b-lot", "a-lot 50 g, weld"])
def test_parts_under_a_name_that_is_taken_are_told(names: str) -> None:
    found = read(f"split yarn into {names}").findings
    assert [one.rule for one in found if one.level == "error"] == ["declared-twice"]


@pytest.mark.parametrize(
    ("line", "rule"),
    [
        ("rinse yarn in tub with water 5 L, bleach 5 mL at 30 °C", "must-not-meet"),
        ("weld-bath: prepare in pot with water 4 L, weld 3 of yarn", "cannot-be"),
        ("dye yarn in pot with water 4 L, weld 50 g at boil for 3 h stirring", "stirred-hot"),
    ],
)
@pytest.mark.parametrize("name", ["yarn", "all-yarn"])
def test_what_is_done_with_it_is_judged_all_the_same(line: str, rule: str, name: str) -> None:
    found = read(APART, f"join a-lot, b-lot as {name}", line.replace("yarn", name)).findings
    assert rule in [one.rule for one in found]


def test_what_was_measured_by_the_old_lot_still_is() -> None:
    plan = read(
        "weld-bath: prepare in pot with water 4 L, weld 50 % of yarn",
        "split yarn into a-lot 50 g, b-lot 30 g, c-lot",
        "join a-lot, b-lot as yarn",
    )
    (amount,) = [one for thing, _, one in plan.trace.moments[0].amounts if "weld" in thing]
    assert amount is not None
    assert amount.low == amount.high == 50


@pytest.mark.parametrize("paper", ["handout", "lots", "weigh", "chart"])
def test_papers_are_made_of_it(paper: str, tmp_path: Path) -> None:
    file = tmp_path / "x.dye"
    file.write_text(HEAD + f"  {APART}\n  join a-lot, b-lot as yarn\n  dry yarn\n")
    asked = [paper, str(file)]
    asked += ["-o", str(tmp_path / "x.txt")] if paper == "handout" else []
    asked += ["-o", str(tmp_path / "x.svg")] if paper == "chart" else []
    assert main(asked) in (0, 1)
