"""What was used in a year and what is left: the sums are those of the records, done by hand."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from fractions import Fraction
from pathlib import Path

import pytest

from procedure.batch.as_done import as_done
from procedure.batch.changed_since import match
from procedure.batch.folder import batch_of, records_in
from procedure.batch.form import form
from procedure.batch.from_plan import planned_batch
from procedure.batch.methods import Taken, used
from procedure.batch.record_reading import read
from procedure.batch.used_and_left import by_year, stock_of
from procedure.command.main import main
from procedure.pipeline import read as read_plan

ROOT = Path(__file__).parents[2]
RECORDS = ROOT / "examples" / "records"


@pytest.fixture
def circle(tmp_path: Path) -> Path:
    """The records of the examples with their procedure, in a folder of their own."""
    shutil.copy(ROOT / "examples" / "weld-yellow-wool.dye", tmp_path)
    shutil.copytree(RECORDS, tmp_path / "records")
    return tmp_path


def told(folder: Path, capsys: pytest.CaptureFixture[str], *more: str) -> str:
    assert main(["batches", str(folder / "records"), *more]) == 0
    return capsys.readouterr().out


def stocked(folder: Path, text: str) -> None:
    (folder / "vatwright.toml").write_text(f"[stock]\n{text}\n", encoding="utf-8")


def test_what_a_step_left_out_would_have_used_is_not_an_amount_unknown() -> None:
    """The batch of August left out the chalk; its blank beside the material says no more."""
    august = batch_of(RECORDS / "weld-7-hazel.batch").record
    assert "chalk" not in used(august)
    done = august._replace(steps=tuple(one._replace(skipped=None) for one in august.steps))
    assert used(done)["chalk"] is None


def test_each_year_by_itself(circle: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = circle / "records" / "weld-8-linden.batch"
    path.write_text(path.read_text("utf-8").replace("2026-09-2", "2027-09-2"), encoding="utf-8")
    years = by_year([batch_of(one) for one in records_in([circle / "records"])])
    assert [one.year for one in years] == [2026, 2027]
    # Seven batches: five of 36 g, one of 36.5 g, one of 30 g; then one of 36 g.
    grams = [{use.name: float(use.amount) for use in one.used} for one in years]
    assert grams[0]["alum"] == 5 * 36 + 36.5 + 30 and grams[1]["alum"] == 36
    assert grams[0]["weld"] == 6 * 300 + 290 and grams[1]["weld"] == 305
    out = told(circle, capsys)
    assert "Used in 2026:\n  alum: 246.5 g in 7 batches" in out
    assert "Used in 2027:\n  alum: 36 g in 1 batch\n" in out
    assert "In stock" not in out


def test_a_counted_stock_goes_down(circle: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # The vocabulary's name, the record's own name, and a thing that no record names.
    stocked(
        circle, 'counted = 2026-06-01\n"potassium alum" = "350 g"\nweld = "500 g"\nsoap = "1 L"'
    )
    out = told(circle, capsys, "--used")
    assert "potassium alum: 248 g left of 350 g on 2026-06-01" in out  # less 30, 36 and 36
    assert "weld: nothing by the count: 500 g on 2026-06-01, and 905 g used since" in out
    assert "soap: 1 L left of 1 L" in out
    rows = list(csv.DictReader(io.StringIO(told(circle, capsys, "--used", "--format", "csv"))))
    left = {row["material"]: row for row in rows if row["what"] == "left"}
    assert float(left["potassium alum"]["amount"]) == 248
    assert float(left["weld"]["used since"]) == 300 + 300 + 305
    used = {row["material"]: row for row in rows if row["what"] == "used"}
    assert used["alum"]["year"] == "2026" and float(used["alum"]["amount"]) == 282.5
    for made in (
        json.loads(told(circle, capsys, "--format", "json")),
        json.loads(told(circle, capsys, "--used", "--format", "json")),
    ):
        assert {one["material"]: one["left"] for one in made["stock"]}["weld"] == -405
        assert made["used_by_year"][0] == {
            "year": 2026, "material": "alum", "amount": 282.5, "unit": "g", "batches": 8,
            "records_without_amount": 0,
        }  # fmt: skip


def test_the_day_of_counting_itself_counts(circle: Path) -> None:
    batches = [batch_of(one) for one in records_in([circle / "records"])]
    for day, left in (("2026-09-26", 64), ("2026-09-27", 100)):
        stocked(circle, f'counted = "{day}"\nalum = "100 g"')
        assert [float(one.left) for one in stock_of(batches).left] == [left]


def test_a_stock_without_a_day_is_told_as_written(
    circle: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    stocked(circle, 'alum = "350 g"')
    out = told(circle, capsys)
    assert "alum: 350 g, as the workshop file says" in out and "Nothing is taken off" in out


def test_a_name_of_the_procedure_itself(circle: Path) -> None:
    """Where a procedure calls its alum “salt-one”, the record does too; it is still alum."""
    for path in (circle / "weld-yellow-wool.dye", circle / "records" / "weld-1-ash.batch"):
        text = path.read_text("utf-8")
        changed = text.replace("  alum: ", "  salt-one: ")
        assert changed != text, path
        path.write_text(changed, encoding="utf-8")
    stocked(circle, 'counted = 2026-01-01\nalum = "100 g"')
    left = stock_of([batch_of(circle / "records" / "weld-1-ash.batch")]).left
    assert [float(one.left) for one in left] == [64]


def test_what_cannot_be_taken_off_is_said(circle: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = circle / "records" / "weld-1-ash.batch"
    text = path.read_text("utf-8")
    path.write_text(text.replace("alum: 36 g planned", "alum: ____ planned"), encoding="utf-8")
    other = circle / "records" / "weld-2-rowan.batch"
    text = other.read_text("utf-8")
    other.write_text(text.replace("  day 2026-02-14 to 2026-02-15\n", ""), encoding="utf-8")
    stocked(circle, 'counted = 2026-01-01\nalum = "350 g"')
    out = " ".join(told(circle, capsys, "--used").split())
    # 282.5 g in all, less 36 g left blank and 36 g on no day.
    assert "alum: at most 139.5 g left of 350 g on 2026-01-01 (1 record cannot be" in out
    assert "1 record says no day" in out and "Used on days that no record says:" in out


def test_faults_of_the_stock(circle: Path, capsys: pytest.CaptureFixture[str]) -> None:
    stocked(circle, 'counted = "last May"\nalum = "some"\nweld = "1 kg"')
    out = " ".join(told(circle, capsys, "--used").split())
    assert "vatwright.toml:2: That is not a day." in out
    assert "no amount that I can read" in out and "weld: 1000 g, as the workshop file" in out
    assert main(["batches", str(RECORDS), "--used", "--book", "x.html"]) == 2


def test_litres_go_down_too(circle: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = circle / "records" / "weld-1-ash.batch"
    text = path.read_text("utf-8")
    text = text.replace("materials\n", "materials\n  vinegar: 150 mL\n  spirits: 20 g\n")
    path.write_text(text, encoding="utf-8")
    other = circle / "records" / "weld-2-rowan.batch"
    text = other.read_text("utf-8")
    other.write_text(
        text.replace("materials\n", "materials\n  vinegar: 0.1 L planned 100 mL\n"), "utf-8"
    )
    stocked(circle, 'counted = 2026-01-01\nvinegar = "1 L"\nspirits = "500 mL"')
    out = " ".join(told(circle, capsys, "--used").split())
    assert "vinegar: 0.25 L in 2 batches" in out
    assert "vinegar: 0.75 L left of 1 L on 2026-01-01" in out
    # 20 g of spirits cannot be taken off half a litre without its density.
    assert "spirits: at most 0.5 L left of 0.5 L on 2026-01-01 (1 record cannot be" in out
    assert "no litres)" in out


def test_the_list_for_the_shop_takes_off_what_was_used(
    circle: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    dye = str(circle / "weld-yellow-wool.dye")
    stocked(circle, 'counted = 2026-09-01\nalum = "60 g"\nweld = "1 kg"')
    assert main(["weigh", dye, "--shop"]) == 0
    out = capsys.readouterr().out
    # Batch 8, of 26 September, took 36 g of alum and 305 g of weld; 36 and 300 are wanted.
    assert "36 g; 24 g in stock, 12 g missing" in out
    assert "In stock, and enough:\n  weld tops (called weld), dried: 300 g; 695 g in stock\n" in out
    assert "counted on 2026-09-01; what the records used since is taken off" in out
    stocked(circle, 'alum = "60 g"')
    assert main(["weigh", dye, "--shop"]) == 0
    out = capsys.readouterr().out
    assert "(called alum): 36 g; 60 g in stock\n" in out and "does not say when" in out
    (circle / "records" / "weld-8-linden.batch").write_bytes(b"\xff\xfe")
    stocked(circle, 'counted = 2026-09-01\nalum = "60 g"')
    assert main(["weigh", dye, "--shop"]) == 0
    out = capsys.readouterr().out
    assert "is not UTF-8 text" in out and "What it used is not taken off the stock" in out


def test_what_is_gathered_is_not_used_twice() -> None:
    """The form asks how much was gathered and how much went into the pot: one plant, not two."""
    steps = '  step 1 "gather tansy"\n    with tansy 720 g\n'
    gathered, _ = read(f'batch "x"\nsteps\n{steps}')
    assert used(gathered)["tansy"] == Taken("mass", Fraction(720))
    steps += '  step 2 "tansy-bath: prepare in kettle"\n    with tansy 700 g\n'
    both, _ = read(f'batch "x"\nsteps\n{steps}')
    assert used(both)["tansy"] == Taken("mass", Fraction(700))


def test_what_is_added_in_rounds_is_used_as_often(tmp_path: Path) -> None:
    dye = tmp_path / "rounds.dye"
    dye.write_text(ROUNDS, encoding="utf-8")
    asked = form(planned_batch(read_plan(ROUNDS, str(dye), dye)))
    assert 'step 3 "add weld to bath, each round of step 2"' in asked
    asked = asked.replace("times ____ planned 3", "times 4")
    record, _ = read(asked.replace("weld ____ planned 50 g", "weld 40 g"))
    assert used(record)["weld"] == Taken("mass", Fraction(160))


def test_answers_of_other_lots_are_not_left_unsaid(tmp_path: Path) -> None:
    dye = tmp_path / "rounds.dye"
    dye.write_text(ROUNDS, encoding="utf-8")
    plan = read_plan(ROUNDS, str(dye), dye)
    planned = planned_batch(plan)
    early, late = form(planned).split("bath, moss")
    blank = "at ____ planned 80 °C"
    record, _ = read(
        f"{early.replace(blank, 'at 80 °C')}bath, moss{late.replace(blank, 'at 95 °C')}"
    )
    made = as_done(plan, record, match(record, planned))
    assert any("another way for each lot" in one.template for one in made.left_out)


ROUNDS = """procedure "Rounds"
fibre
  gold: wool yarn, 100 g, scoured
  moss: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
materials
  weld: weld tops, dried
steps
  bath: prepare in pot with water 6 L
  repeat 3 times
    add weld 50 g to bath
  for each lot in gold, moss
    dye lot in bath at 80 °C for 1 h
"""


def test_what_a_step_left_out_goes_with_is_told(
    circle: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of ten batches five left the chalk out and came out 6 darker; chance alone would part
    them so in 2 of 252 orders (10 choose 5)."""
    first = (circle / "records" / "weld-1-ash.batch").read_text("utf-8")
    for old in (circle / "records").iterdir():
        old.unlink()
    step = next(one for one in first.split("\n  step ") if "add chalk" in one)
    for number in range(10):
        left_out = number % 2 == 0
        lightness = 74 + number / 10 if left_out else 80 + number / 10
        text = re.sub(r"colour Lab \S+", f"colour Lab {lightness}", first)
        if left_out:
            text = text.replace(step, f'{step.splitlines()[0]}\n    skipped "by choice"')
        (circle / "records" / f"{number}.batch").write_text(text, encoding="utf-8")
    out = " ".join(told(circle, capsys).split())
    said = "“add chalk to weld-bath” left out and lightness: goes with it in 10 batches (-6.1 on"
    assert said in out
    found = json.loads(told(circle, capsys, "--format", "json"))["methods"][0]["associations"]
    ours = next(one for one in found if "left out" in one["what"])
    assert ours["strength_of"] == "means"
    assert ours["strength"] == pytest.approx(-6.1) and ours["chance"] == round(2 / 252, 6)


def test_the_parts_of_a_split_are_no_materials() -> None:
    text = (
        'batch "x"\nfibre\n  yarn: 200 g\nsteps\n  step 1 "split yarn"\n    with gold 100 g\n'
        '    with brown 100 g\n  step 2 "bath: prepare in pot"\n    with weld 80 g\n'
    )
    record, findings = read(text)
    assert not [one for one in findings if one.level == "error"]
    assert list(used(record)) == ["weld"]
