"""The commands record, batches and match, as a person meets them."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from procedure.batch import read
from procedure.batch.curve import curve
from procedure.batch.heat_series import Band, planned_band
from procedure.batch.types import HeatReading
from procedure.command.main import main

ROOT = Path(__file__).parents[2]
WELD = ROOT / "examples" / "weld-yellow-wool.dye"
RECORDS = ROOT / "examples" / "records"


def said(capsys: pytest.CaptureFixture[str]) -> tuple[str, str]:
    out = capsys.readouterr()
    return out.out, out.err


def test_a_form_is_made_once_and_never_written_over(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "weld.batch"
    assert main(["record", str(WELD), "-o", str(out)]) == 0
    assert "blanks to fill in" in said(capsys)[0]
    before = out.read_bytes()
    assert (out.parent / read(before.decode())[0].of).resolve() == WELD
    assert main(["record", str(WELD), "-o", str(out)]) == 2
    assert "never written over" in said(capsys)[1]
    assert out.read_bytes() == before


def test_a_session_is_stopped_and_taken_up_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "weld.batch"
    main(["record", str(WELD), "-o", str(out)])
    for replies in (["2026-04-18", "?", "the shed", "stop"], ["soon", "Ash", "stop"]):
        monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(replies) + "\n"))
        assert main(["record", str(out), "--ask"]) == 0
    record, findings = read(out.read_text("utf-8"))
    assert findings == ()
    assert (record.location, record.by) == ("the shed", ("soon",))
    assert record.weather == ("Ash",)


def test_check_tells_deviations_the_rules_and_what_came_out(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["record", str(RECORDS / "weld-4-linden.batch"), "--check"]) == 1
    out, _ = said(capsys)
    assert "Reached 92 °C, planned 75 °C: 17 °C hotter." in out
    assert "above that for 68 min" in " ".join(out.split())
    assert "alum    12 %" in out and "approximate" in out
    assert "Traceback" not in out


def test_a_record_that_went_to_plan_gives_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", str(RECORDS / "weld-2-rowan.batch"), "--check"]) == 0
    assert "Nothing was done otherwise" in said(capsys)[0]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["record", "gone.batch"], "cannot be read"),
        (["record", str(WELD), "--check"], "is no record"),
        (["record", str(WELD), "-o", "x.txt"], "is no record"),
        (["record", str(RECORDS / "weld-2-rowan.batch"), "--curve", "3"], "has no heats"),
        (["batches", "gone"], "no file or folder"),
        (["batches", str(ROOT / "grammar")], "holds no records"),
        (["match", "bluish", str(RECORDS)], "is not a colour"),
        (["match", "#c8a232", str(RECORDS), "--most", "0"], "from 1 on"),
        (["batches", str(RECORDS), "--book", "book.docx"], "does not say what to make"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    out, err = said(capsys)
    assert out == "" and words in err and err.count("\n") == 1


def test_a_record_that_is_no_text_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "x.batch").write_bytes(b"\xff\xfe\x00")
    assert main(["record", str(tmp_path / "x.batch")]) == 2
    assert main(["batches", str(tmp_path)]) == 2
    assert "UTF-8" in said(capsys)[1]


def test_a_folder_with_one_bad_file_is_told_without_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good = RECORDS / "weld-2-rowan.batch"
    (tmp_path / "good.batch").write_bytes(good.read_bytes())
    (tmp_path / "bad.batch").write_bytes(b"\xff\xfe\x00")
    assert main(["batches", str(tmp_path)]) == 1
    out, err = said(capsys)
    assert "1 batch." in out and "bad.batch is not UTF-8 text" in err and "left out" in err
    assert main(["batches", str(tmp_path / "bad.batch"), str(tmp_path)]) == 2


def test_a_record_of_another_procedure_is_told_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = ROOT / "examples" / "tansy-gold-and-moss.dye"
    (tmp_path / "tansy.dye").write_bytes(other.read_bytes())
    text = (RECORDS / "weld-2-rowan.batch").read_text("utf-8")
    record = tmp_path / "x.batch"
    record.write_text(text.replace("../weld-yellow-wool.dye", "tansy.dye"), "utf-8")
    main(["record", str(record), "--check"])
    out = " ".join(said(capsys)[0].split())
    assert "could not be held against its plan" in out
    assert "no longer in the procedure" not in out and "What the rules say" not in out


def test_an_empty_form_is_not_said_to_have_kept_to_its_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "x.batch"
    main(["record", str(WELD), "-o", str(out)])
    assert main(["record", str(out), "--check"]) == 0
    assert "Nothing of what was done is written down yet." in said(capsys)[0]
    out.write_text(out.read_text("utf-8").replace("at ____ planned 30 °C", "at 30 °C", 1), "utf-8")
    main(["record", str(out), "--check"])
    assert "Nothing that is written down was done otherwise" in said(capsys)[0]


def test_the_year_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["batches", str(RECORDS)]) == 0
    out, _ = said(capsys)
    assert "8 batches." in out and "mean of 8 batches" in out and "spread: 1.8" in out
    assert "furthest: Weld yellow, 18 April" in out
    assert "pairs looked at together" in out
    assert "alum: 282.5 g" in out


def test_few_batches_are_too_few_to_say(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["batches", *map(str, sorted(RECORDS.glob("*.batch"))[:6])]) == 0
    assert "6 batches, too few to say" in said(capsys)[0]


def test_editions_are_held_against_the_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number, path in enumerate(sorted(RECORDS.glob("*.batch"))[:5]):
        text = path.read_text("utf-8")
        edition = "2026-07-05" if number < 3 else "2027-01-10"
        text = text.replace('edition "2026-07-05"', f'edition "{edition}"')
        (tmp_path / path.name).write_text(text, encoding="utf-8")
    main(["batches", str(tmp_path)])
    out, _ = said(capsys)
    assert "2 editions:" in out and "2026-07-05, 3 batches" in out
    assert "2027-01-10, 2 batches" in out and "from the first" in out


def test_table_and_data(capsys: pytest.CaptureFixture[str]) -> None:
    main(["batches", str(RECORDS), "--format", "csv"])
    rows = list(csv.DictReader(io.StringIO(said(capsys)[0])))
    assert len(rows) == 8 and rows[0]["hex"] == "#e2c843" and rows[0]["blue wool"] == "3"
    main(["batches", str(RECORDS), "--format", "json"])
    made = json.loads(said(capsys)[0])
    assert made["methods"][0]["batches"] == 8
    assert made["methods"][0]["mcdm"] == pytest.approx(1.82, abs=0.01)


@pytest.mark.parametrize("form", [".html", ".pdf", ".md", ".txt"])
def test_the_shade_book_in_every_form(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / f"book{form}"
    assert main(["batches", str(RECORDS), "--book", str(out)]) == 0
    data = out.read_bytes()
    if form == ".pdf":
        from pypdf import PdfReader

        text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
    else:
        text = data.decode("utf-8").replace("\\", "")
    assert "approximate" in text
    for hex_ in ("#d5b44e", "#e4cc54"):
        assert hex_ in text
    assert text.count("Weld yellow on wool") >= 8
    # By hue: the one that was dyed too hot is the reddest.
    assert text.index("#d5b44e") < text.index("#e4cc54")


def test_hostile_words_stay_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (RECORDS / "weld-2-rowan.batch").read_text("utf-8")
    text = text.replace('"Weld yellow, 14 February"', '"<script>alert(1)</script> #let x = 1"')
    text = text.replace('titled "Weld yellow on wool"', 'titled "=1+1"')
    (tmp_path / "x.batch").write_text(text, encoding="utf-8")
    for form in (".html", ".pdf"):
        assert main(["batches", str(tmp_path), "--book", str(tmp_path / f"book{form}")]) == 0
    assert "<script>" not in (tmp_path / "book.html").read_text("utf-8")
    capsys.readouterr()
    main(["batches", str(tmp_path), "--format", "csv"])
    assert "'=1+1" in said(capsys)[0]


def test_a_card_for_the_skein(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "card.html"
    record = str(RECORDS / "weld-4-linden.batch")
    assert main(["record", record, "--card", "-o", str(out)]) == 0
    text = out.read_text("utf-8")
    assert "Reached 92 °C, planned 75 °C" in text and "a little uneven" in text
    assert "approximate" in text


def test_the_nearest_batches_first(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["match", "#d5b44e", str(RECORDS), "--fibre", "wool", "--most", "2"]) == 0
    out, _ = said(capsys)
    assert "1. 0.1 away: #d5b44e, the same to the eye" in out or "1. 0.0 away" in out
    assert "alum 12 %" in out and "3. " not in out
    assert main(["match", "#d5b44e", str(RECORDS), "--fibre", "linen"]) == 0
    assert "No dyed lot of your own to rank" in said(capsys)[0]


def test_a_fibre_that_nothing_is_known_of(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["match", "#d5b44e", str(RECORDS), "--fibre", "wol"]) == 1
    assert "knows no fibre “wol”" in " ".join(said(capsys)[0].split())
    assert main(["match", "#d5b44e", str(RECORDS), "--fibre", "viscose"]) == 1
    assert "no published colours on viscose" in said(capsys)[0]


def test_published_colours_without_any_record(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["match", "#ed872d", str(tmp_path), "--fibre", "silk", "--most", "2"]) == 0
    out, _ = said(capsys)
    assert "flavin on silk: orange" in out and "Mairet 1938, ch. XI (13)" in out
    assert "tin is a harmful metal" in out and "Local rules" in out
    assert out.count("approximate") >= 2 and "3. " not in out


@pytest.mark.parametrize("colour", ["Lab 79 -4 64 under D65 at 10°", "sRGB 220 196 70", "#dc4"])
def test_colours_that_a_person_writes(colour: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["match", colour, str(RECORDS)]) == 0


def test_a_curve_is_drawn_with_its_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from xml.etree import ElementTree

    out = tmp_path / "c.svg"
    record = str(RECORDS / "weld-4-linden.batch")
    assert main(["record", record, "--curve", "14", "-o", str(out)]) == 0
    made = ElementTree.fromstring(out.read_text("utf-8"))
    name = "{http://www.w3.org/2000/svg}"
    assert made.find(f"{name}title") is not None
    described = made.find(f"{name}desc")
    assert described is not None and described.text is not None
    assert "92 °C at the hottest" in described.text and "up to 75 °C" in described.text
    dashed = [one for one in made.findall(f"{name}polyline") if one.get("stroke-dasharray")]
    assert len(dashed) == 1  # the plan, one heat at each time
    told = [text.text for text in made.findall(f"{name}text")]
    assert told[0] == "Step 14: dye yarn in weld-bath"
    assert len(made.findall(f"{name}circle")) >= 5


def test_a_curve_of_one_reading_and_of_none() -> None:
    from fractions import Fraction

    assert "<svg" in curve([HeatReading(Fraction(10), Fraction(40))])
    with pytest.raises(ValueError):
        curve([])
    # A plan that leaves room, 40 to 45 °C, is a band.
    band = [Band(Fraction(m), Fraction(40), Fraction(45)) for m in (0, 30)]
    assert "<polygon" in curve([HeatReading(Fraction(10), Fraction(40))], band)
    record, _ = read((RECORDS / "weld-2-rowan.batch").read_text("utf-8"))
    assert planned_band(record.steps[2]) == ()  # chalk was added, and nothing heated
