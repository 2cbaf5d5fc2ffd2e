"""Forms from procedures, and records held against the rules as the work was done."""

from __future__ import annotations

from pathlib import Path

import pytest

from procedure.batch import read
from procedure.batch.as_done import as_done
from procedure.batch.changed_since import match
from procedure.batch.folder import absent_photographs, batch_of
from procedure.batch.form import form
from procedure.batch.from_plan import planned_batch
from procedure.batch.held_against_plan import judged_as_done
from procedure.batch.side_of_form import content_hash
from procedure.command.main import main
from procedure.pipeline import Judged, text_of
from procedure.pipeline import read as read_plan

ROOT = Path(__file__).parents[2]
SOUND = sorted(path for path in (ROOT / "examples").rglob("*.dye") if "faulty" not in path.parts)
WELD = ROOT / "examples" / "weld-yellow-wool.dye"
TANSY = ROOT / "examples" / "tansy-gold-and-moss.dye"
MADDER = ROOT / "examples" / "madder-red-wool.dye"


def plan_of(path: Path) -> Judged:
    return read_plan(text_of(path), str(path), path)


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_every_example_has_a_form_that_is_read_and_fits_it(path: Path) -> None:
    plan = plan_of(path)
    planned = planned_batch(plan)
    record, findings = read(form(planned))
    assert [one for one in findings if one.level == "error"] == []
    wanted = [(blank.word, blank.name) for step in planned.steps for blank in step.blanks]
    assert [(one.word, one.name) for one in record.open_answers] == wanted
    matched = match(record, planned)
    assert matched.sentences == () and not matched.changed
    # An empty form changes nothing of the procedure.
    assert as_done(plan, record, matched).text.rstrip() == plan.text.rstrip()


def filled(path: Path, *answers: tuple[str, str]) -> str:
    """The form of an example with some blanks filled in, each by the line that holds it."""
    text = form(planned_batch(plan_of(path)))
    for blank, answer in answers:
        assert blank in text, blank
        text = text.replace(blank, blank.replace("____", answer), 1)
    return text


def done(path: Path, *answers: tuple[str, str]) -> str:
    plan = plan_of(path)
    record, _ = read(filled(path, *answers))
    return as_done(plan, record, match(record, planned_batch(plan))).text


def test_what_was_done_stands_in_place_of_what_was_planned() -> None:
    text = done(
        WELD,
        ("to ____ planned 85 °C", "91 °C"),
        ("with alum ____ planned 36 g", "30 g"),
        ("yarn: ____ planned 300 g", "280 g"),
        ("for ____ planned overnight", "3 h"),
    )
    assert "from 40 °C to 91 °C over 45 min for 1 h" in text  # the second reading goes as well
    assert "alum 30 g, tartar 6 % of yarn" in text
    assert "yarn: wool yarn, 280 g, 3 skeins" in text
    assert "cool alum-bath to 30 °C for 3 h covered" in text
    assert len(text.split("\n")) == len(WELD.read_text("utf-8").split("\n"))


def test_a_heat_that_was_left_blank_is_taken_from_the_thermometer() -> None:
    plan = plan_of(MADDER)
    text = filled(MADDER).replace(
        "    to ____ planned 70 °C\n",
        "    to ____ planned 70 °C\n    heats 09:10 30 °C, 10:40 88 °C, 11:40 80 °C\n",
    )
    record, findings = read(text)
    assert findings == ()
    made = as_done(plan, record, match(record, planned_batch(plan)))
    assert "from 25 °C to 88 °C over" in made.text
    assert any("thermometer" in one.template for one in made.left_out)


def test_ways_and_rounds_that_were_taken() -> None:
    assert 'if "the green is too yellow"' not in done(TANSY, ("taken ____ planned", '"no"'))
    assert "repeat 1 times" in done(TANSY, ("taken ____ planned", '"yes"'))
    assert "repeat 5 times" in done(TANSY, ("times ____ planned 3", "5"))


def test_a_step_that_was_left_out_is_gone_with_its_lines() -> None:
    plan = plan_of(WELD)
    text = filled(WELD).replace(
        '  step 13 "add chalk to weld-bath"\n',
        '  step 13 "add chalk to weld-bath"\n    skipped "none"\n',
    )
    record, _ = read(text)
    made = as_done(plan, record, match(record, planned_batch(plan))).text
    assert "add chalk" not in made and "strain weld-bath" in made


def judged(tmp_path: Path, path: Path, *answers: tuple[str, str]) -> list[str]:
    (tmp_path / path.name).write_text(path.read_text("utf-8"), encoding="utf-8")
    text = filled(path, *answers).replace(str(path), path.name)
    (tmp_path / "x.batch").write_text(text, encoding="utf-8")
    found = judged_as_done(batch_of(tmp_path / "x.batch"))
    assert found.fits == ()
    return [f"{one.level} {one.sentence}" for one in found.findings if one.level != "note"]


def test_the_rules_look_again_at_what_was_done(tmp_path: Path) -> None:
    said = judged(tmp_path, MADDER, ("to ____ planned 70 °C", "92 °C"))
    assert any("madder is kept at 92 °C" in one for one in said)
    assert judged(tmp_path, MADDER, ("to ____ planned 70 °C", "68 °C")) == []


def test_too_much_of_a_mordant_is_told(tmp_path: Path) -> None:
    said = judged(tmp_path, MADDER, ("with alum ____ planned 60 g", "300 g"))
    assert any("alum" in one for one in said)


def test_a_changed_procedure_is_matched_by_meaning() -> None:
    old = plan_of(WELD)
    record, _ = read(filled(WELD, ("to ____ planned 85 °C", "91 °C")))
    text = old.text.replace(
        "  clean pot\n", '  clean pot\n  do "open the window"\n  do "have some tea" for 5 min\n', 1
    ).replace("  add chalk 2 % of yarn to weld-bath stirring\n", "")
    changed = read_plan(text, str(WELD), WELD)
    matched = match(record, planned_batch(changed))
    assert matched.changed
    said = " ".join(matched.sentences)
    assert "“add chalk to weld-bath” is no longer in the procedure" in said
    assert "have some tea" in said
    dyed = next(pair for pair in matched.pairs if pair.done.words == "dye yarn in weld-bath")
    assert dyed.planned is not None and dyed.planned.number != dyed.done.number


def test_a_step_that_asks_for_nothing_is_known_all_the_same(tmp_path: Path) -> None:
    planned = planned_batch(plan_of(WELD))
    text = form(planned).replace(
        '  step 8 "weld-bath',
        '  step 6 "discard alum-bath"\n    skipped "kept it"\n  step 8 "weld-bath',
    )
    record, _ = read(text)
    matched = match(record, planned)
    assert matched.sentences == ()
    without = as_done(plan_of(WELD), record, matched).text
    assert "discard alum-bath" in plan_of(WELD).text and "discard alum-bath" not in without


def test_the_plan_is_the_procedure_s_where_the_record_says_none(tmp_path: Path) -> None:
    (tmp_path / WELD.name).write_bytes(WELD.read_bytes())
    path = tmp_path / "by-hand.batch"
    text = """batch "By hand"
  of "weld-yellow-wool.dye"
steps
  step 3 "mordant yarn in alum-bath"
    to 95 °C
    for 1 h
  step 14 "dye yarn in weld-bath"
    to 95 °C planned 94 °C
"""
    path.write_text(text, encoding="utf-8")
    told = judged_as_done(batch_of(path)).batch.deviations
    assert [(one.step, one.sentence) for one in told] == [
        ("3", "Reached 95 °C, planned 85 °C: 10 °C hotter."),
        ("14", "Reached 95 °C, planned 94 °C: 1 °C hotter."),
    ]
    # What has changed since is no plan of what was done before.
    later = text.replace('dye"\nsteps', 'dye"\n  content "0123456789abcdef"\nsteps')
    path.write_text(later, encoding="utf-8")
    told = judged_as_done(batch_of(path)).batch.deviations
    assert [one.step for one in told] == ["14"]


def test_the_whole_of_a_material_is_held_against_the_procedure(tmp_path: Path) -> None:
    """12 % of 300 g of wool are 36 g (the example itself)."""
    (tmp_path / WELD.name).write_bytes(WELD.read_bytes())
    path = tmp_path / "totals.batch"
    text = """batch "Totals"
  of "weld-yellow-wool.dye"
fibre
  yarn: 330 g
materials
  alum: 72 g
  tartar: 18 g
"""
    path.write_text(text, encoding="utf-8")
    told = judged_as_done(batch_of(path)).batch.deviations
    assert [one.sentence for one in told] == [
        "yarn: 330 g, planned 300 g: 10 % more.",
        "alum: 72 g, planned 36 g: 100 % more.",
    ]


def test_photographs_that_are_not_there_are_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "there.jpg").write_bytes(b"")
    path = tmp_path / "seen.batch"
    path.write_text(
        """batch "Seen"
  photograph "there.jpg", "gone.jpg"
steps
  step 1 "wet out yarn in tub"
    photograph "tub.jpg"
results
  yarn
    photograph "gone.jpg"
""",
        encoding="utf-8",
    )
    assert absent_photographs(batch_of(path)) == ("gone.jpg", "tub.jpg")
    main(["record", str(path), "--check"])
    out = capsys.readouterr().out
    assert out.count("The photograph “gone.jpg” is not beside the record.") == 1
    assert "there.jpg" not in out


def test_the_hash_knows_a_change_and_not_a_line_end() -> None:
    text = WELD.read_text("utf-8")
    assert content_hash(text) == content_hash("\ufeff" + text.replace("\n", "\r\n") + "\n")
    assert content_hash(text) != content_hash(text.replace("75 °C", "76 °C"))


def test_the_examples_know_their_procedure() -> None:
    for path in sorted((ROOT / "examples" / "records").glob("*.batch")):
        batch = batch_of(path)
        now = content_hash(WELD.read_text("utf-8"))
        assert batch.record.content == now, "the procedure has changed: write its hash anew"
        fits = judged_as_done(batch).fits
        assert not any("no longer" in one or "changed" in one for one in fits)


def test_a_record_without_its_procedure_says_so(tmp_path: Path) -> None:
    for text, said in (
        ('batch "x"\n', "does not say of which procedure"),
        ('batch "x"\n  of "gone.dye"\n', "is not where the record says"),
    ):
        (tmp_path / "x.batch").write_text(text, encoding="utf-8")
        found = judged_as_done(batch_of(tmp_path / "x.batch"))
        assert said in found.fits[0] and found.findings == ()
