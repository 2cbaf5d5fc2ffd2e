"""Findings mark their step in words, and are listed below the chart."""

from __future__ import annotations

import re
from pathlib import Path

from drawn import TWO_LOTS, dot_of, of_steps, plan

from procedure import load

UNRINSED = TWO_LOTS.replace(
    '  rinse yarn in tub with water 10 L until "the water runs clear"\n', ""
)


def test_a_finding_marks_its_step_in_words() -> None:
    made = of_steps(
        "alum-bath: prepare in kettle with water 2 gal, alum 10 g\n"
        "hold alum-bath for 1 h\n"
        'discard alum-bath to "foul drain"\n'
    )
    vague = next(f for f in made.findings if "gal" in f.sentence and f.level == "error")
    drawn = dot_of(made, lanes="none")
    marks = drawn.says("step 1 mark")
    number = next(label.split(".")[0] for label in drawn.labels("note") if vague.sentence in label)
    assert re.search(rf"error(s [\d, and]*)? {number}\b", marks), marks
    assert marks.startswith("see ")


def test_each_finding_is_listed_with_its_step_and_line() -> None:
    made = plan(UNRINSED)
    heavy = [f for f in made.findings if f.level != "note"]
    assert heavy
    listed = dot_of(made).labels("note")
    for finding in heavy:
        sentence = " ".join(finding.sentence.split())
        assert any(sentence in label and f"line {finding.line})" in label for label in listed)


def test_a_sound_step_has_no_mark() -> None:
    drawn = dot_of(plan())
    made = plan()
    lines = {f.line for f in made.findings if f.level != "note"}
    for node in made.flow.nodes:
        if node.kind == "step" and node.step.place.line not in lines:
            assert not drawn.has(f"step {node.step.number} mark")


def test_lighter_findings_are_marked_when_asked_for() -> None:
    made = of_steps("rinse yarn in tub with water some\n")
    notes = [f for f in made.findings if f.level == "note"]
    assert notes
    few = dot_of(made).labels("note")
    all_of_them = dot_of(made, at_least="note").labels("note")
    assert not any(notes[0].sentence in label for label in few)
    assert any("lighter remark" in label for label in few)
    assert any(notes[0].sentence in label for label in all_of_them)


def test_a_line_that_cannot_be_read_marks_its_own_box_and_no_step() -> None:
    made = of_steps("rinse yarn in tub with water 5 L\nrince yarn in tub\n")
    unread = next(f for f in made.findings if f.rule == "cannot-read")
    drawn = dot_of(made)
    told = next(label for label in drawn.labels("note") if unread.sentence in label)
    assert "step 2," in told and drawn.says("step 2 mark") == "see error 1"
    assert not drawn.has("step 1 mark")


def test_a_draft_says_so() -> None:
    made = of_steps("alum-bath: prepare in kettle with water 2 gal, alum 10 g\n")
    assert any("DRAFT" in label for label in dot_of(made).labels("document"))
    assert not any("DRAFT" in label for label in dot_of(plan()).labels("document"))


def test_a_finding_in_a_followed_file_marks_the_follow(tmp_path: Path) -> None:
    (tmp_path / "vatwright.toml").write_text("")
    (tmp_path / "inner.dye").write_text(
        'procedure "Inner"\nfibre\n  wool: wool yarn, 100 g, scoured\n'
        "equipment\n  tub: plastic tub, 20 L, for dyeing only\n"
        "steps\n  wet out wool in tub with water 2 gal for 1 h\n"
    )
    outer = tmp_path / "outer.dye"
    outer.write_text(
        'procedure "Outer"\nfibre\n  yarn: wool yarn, 100 g, scoured\n'
        "equipment\n  tub: plastic tub, 20 L, for dyeing only\n"
        'steps\n  follow "inner.dye" with wool = yarn, tub = tub\n  dry yarn\n'
    )
    made = load(outer)
    folded = dot_of(made)
    assert folded.node("step 1").symbol == "predefined"
    assert folded.says("step 1 mark").startswith("see ")
    # A paper names a procedure by its title, and no file.
    assert any("line 7 of “Inner”" in label for label in folded.labels("note"))
    words = " ".join((folded.says("step 1"), folded.says("step 1 details")))
    assert words == "1. Inner with yarn as its wool; with tub"
    assert not any(".dye" in label for kind in ("note", "details") for label in folded.labels(kind))
    assert not any("wet out" in label for label in folded.labels("process"))
    opened = dot_of(made, opened=True)
    assert opened.says("step 1.1") == "1.1. wet out wool"
    assert opened.says("step 1.1 mark").startswith("see ")


def test_the_caution_is_on_every_chart() -> None:
    for made in (plan(), of_steps("dry yarn\n")):
        said = " ".join(dot_of(made).labels("note"))
        assert "safety data sheet come before" in said
        assert "licensed" in said
