"""Files are known by their resolved path and steps by their number, never by a display name."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

import pytest

import procedure
from procedure import Plan
from procedure.rework.scaling import scale
from procedure.rules.example_kit import whole

EXAMPLES = Path(__file__).parents[2] / "examples"
INNER = """procedure "Wet wool"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  place outdoors
fibre
  wool: wool yarn, 100 g, scoured
equipment
  basin: plastic tub, 20 L, for dyeing only
steps
  wet out wool in basin with water 5 L for 1 h
"""
OUTER = """wetting: follow "inner.dye" with wool = yarn, basin = tub
dry yarn"""


def doubled(plan: Plan) -> procedure.pipeline.Judged:
    weights = {name: Fraction(200) for name in plan.model.lots}
    return scale(plan, weights).plan


@pytest.fixture(scope="module")
def following() -> Path:
    """An example that follows others, whose plan is larger than its own steps."""
    plans = [path for path in sorted(EXAMPLES.rglob("*.dye")) if "follow " in path.read_text()]
    sizes = {path: len(procedure.load(path).flow.procedures) for path in plans}
    return max(sizes, key=lambda path: sizes[path])


def test_a_scaled_plan_keeps_what_it_follows_whatever_its_text_is_called(following: Path) -> None:
    plan = procedure.read(following.read_text("utf-8"), "untitled.dye", following)
    assert len(plan.flow.procedures) > 1
    assert len(doubled(plan).flow.nodes) == len(plan.flow.nodes)
    assert len(doubled(plan).flow.edges) == len(plan.flow.edges)


def test_a_scaled_plan_keeps_what_it_follows_when_the_folder_changes(
    following: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(following.parent)
    plan = procedure.load(following.name)
    monkeypatch.chdir(tmp_path)
    assert len(doubled(plan).flow.nodes) == len(plan.flow.nodes)


def test_two_files_with_one_display_name_are_two_files(tmp_path: Path) -> None:
    (tmp_path / "inner.dye").write_text(INNER + "  bewitch wool\n", encoding="utf-8")
    # The main text goes by the very name that the followed file is shown with.
    shown = os.path.relpath(tmp_path / "inner.dye")
    plan = procedure.read(whole(OUTER), shown, tmp_path / "main.dye")
    assert len(plan.study.procedures) == len(plan.study.trees) == 2
    faulty = [f for f in plan.findings if f.rule == "cannot-read"]
    assert [f.line for f in faulty] == [INNER.count("\n") + 1]


def test_a_circle_is_seen_under_any_display_name(tmp_path: Path) -> None:
    text = whole('again: follow "main.dye" with yarn')
    (tmp_path / "main.dye").write_text(text, encoding="utf-8")
    plan = procedure.read(text, "untitled.dye", tmp_path / "main.dye")
    assert "follows-itself" in {f.rule for f in plan.findings}


def test_a_step_of_a_followed_file_is_scaled_by_its_number(tmp_path: Path) -> None:
    inner = INNER + "  tint: prepare in basin with water 3 L\n  discard tint\n"
    (tmp_path / "inner.dye").write_text(inner, encoding="utf-8")
    plan = procedure.read(whole(OUTER), "untitled.dye", tmp_path / "main.dye")
    waters = [
        item.quantity.low
        for node in doubled(plan).flow.nodes
        for _, item in node.materials
        if item.quantity is not None
    ]
    assert waters[0] == 10  # litres: 5 L for 100 g is 10 L for 200 g


# ------------------------------------------------------------------ unsaved texts


def test_an_unsaved_text_wins_over_the_disk(tmp_path: Path) -> None:
    (tmp_path / "inner.dye").write_text(INNER, encoding="utf-8")
    main = tmp_path / "main.dye"
    on_disk = procedure.read(whole(OUTER), "main.dye", main)
    longer = INNER + "  dry wool\n"
    shown = procedure.read(whole(OUTER), "main.dye", main, {tmp_path / "inner.dye": longer})
    assert len(shown.flow.nodes) == len(on_disk.flow.nodes) + 1


def test_a_text_that_is_on_no_disk_can_be_followed(tmp_path: Path) -> None:
    main = tmp_path / "main.dye"
    assert "cannot-follow" in {f.rule for f in procedure.read(whole(OUTER), "m", main).findings}
    plan = procedure.read(whole(OUTER), "m", main, {tmp_path / "inner.dye": INNER})
    assert "cannot-follow" not in {f.rule for f in plan.findings}
    assert len(plan.study.procedures) == 2


def test_an_unsaved_workshop_file_wins_and_its_faults_are_findings(tmp_path: Path) -> None:
    file = tmp_path / "vatwright.toml"
    file.write_text("[rooms]\n", encoding="utf-8")
    text = whole("wet out yarn in basin with water 5 L for 1 h")
    sound = {file: '[equipment]\nbasin = "plastic tub, 20 L, for dyeing only"\n'}
    plan = procedure.read(text, "main.dye", tmp_path / "main.dye", sound)
    assert {"faulty-workshop-file", "not-declared"}.isdisjoint({f.rule for f in plan.findings})
    faulty = {file: '\n[equipment]\nbasin = "plastik tub"\n'}
    plan = procedure.read(text, "main.dye", tmp_path / "main.dye", faulty)
    (finding,) = [f for f in plan.findings if f.rule == "faulty-workshop-file"]
    assert (finding.line, finding.column) == (3, 1)


def test_an_unsaved_workshop_file_marks_a_collection(tmp_path: Path) -> None:
    (tmp_path / "below").mkdir()
    (tmp_path / "inner.dye").write_text(INNER, encoding="utf-8")
    text, main = whole(OUTER.replace("inner", "../inner")), tmp_path / "below" / "main.dye"
    assert "cannot-follow" in {f.rule for f in procedure.read(text, "main.dye", main).findings}
    plan = procedure.read(text, "main.dye", main, {tmp_path / "vatwright.toml": ""})
    assert len(plan.study.procedures) == 2


def test_mending_keeps_the_unsaved_texts(tmp_path: Path) -> None:
    from procedure.rework.mend import mend

    main = tmp_path / "main.dye"
    text = whole(OUTER + "\nsqueeze yrn")
    plan = procedure.read(text, "main.dye", main, {tmp_path / "inner.dye": INNER})
    assert len(mend(plan, main).plan.study.procedures) == 2
