"""The command: what people see, what programs read, and what is refused in one sentence."""

from __future__ import annotations

import csv
import io
import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from stored import Snapshot

from procedure.command.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"
TANSY = str(EXAMPLES / "tansy-gold-and-moss.dye")
SCHEMA = Path(__file__).parents[2] / "procedure" / "report" / "weigh.schema.json"


def weigh(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = main(["weigh", *arguments])
    said = capsys.readouterr()
    return status, said.out, said.err


# ------------------------------------------------------------------ what people see


def test_the_sheet_of_the_tansy_plan(
    capsys: pytest.CaptureFixture[str], snapshot: Snapshot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(EXAMPLES.parent)
    status, out, err = weigh(capsys, "examples/tansy-gold-and-moss.dye", "--explain")
    assert (status, err) == (0, "")
    snapshot("weigh-tansy-gold-and-moss.txt", out)


def test_the_sheet_for_what_was_gathered(
    capsys: pytest.CaptureFixture[str], snapshot: Snapshot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(EXAMPLES.parent)
    arguments = ("--have", "tansy=500 g", "--have", "alum=50 g", "--units", "both")
    status, out, err = weigh(capsys, "examples/tansy-gold-and-moss.dye", *arguments)
    assert (status, err) == (0, "")
    snapshot("weigh-tansy-gathered.txt", out)


def test_amounts_come_first_and_stand_in_a_column(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = weigh(capsys, str(EXAMPLES / "raven-grey.dye"))
    table = out.split("In the order of use\n")[1].split("\n\n")[0]
    rows = [line for line in table.split("\n") if not line.startswith("  line")]
    ends = {
        len(line) - len(line.lstrip().split("  ", 1)[1]) for line in rows if "  " in line.strip()
    }
    assert len(ends) == 1, table


def test_no_line_is_wider_than_a_page(capsys: pytest.CaptureFixture[str]) -> None:
    for file in sorted(EXAMPLES.glob("*.dye")):
        _, out, _ = weigh(capsys, str(file), "--units", "both")
        assert max(map(len, out.split("\n"))) <= 100, file


def test_estimates_are_called_estimates(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = weigh(capsys, TANSY)
    assert "Heat (estimates" in out and "(rough estimates)" in out


def test_more_fibre_than_the_pot_takes_is_told_and_the_status_says_so(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status, out, _ = weigh(capsys, TANSY, "--fibre", "1.2 kg")
    assert status == 1
    assert "Checked again with these amounts" in out and "pot-too-small" in out
    assert "batches" in out


def test_blanks_are_printed_for_what_is_unstated(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = weigh(capsys, str(EXAMPLES / "catechu-brown.dye"))
    blanks = [line for line in out.split("\n") if line.lstrip().startswith("______")]
    assert blanks and all("water" in line for line in blanks)


@pytest.mark.parametrize(
    ("units", "said"),
    [
        ("us", "US gal"),
        ("imperial", "imp gal"),
        ("both", "imp gal"),
    ],
)
def test_gallons_say_whose_they_are(
    capsys: pytest.CaptureFixture[str], units: str, said: str
) -> None:
    _, out, _ = weigh(capsys, TANSY, "--units", units)
    assert said in out
    assert not [w for w in out.replace("US gal", "").replace("imp gal", "").split() if w == "gal"]


def test_a_scale_that_tells_five_grams(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = weigh(capsys, TANSY, "--scale-step", "5 g", "--format", "csv")
    for row in csv.DictReader(io.StringIO(out)):
        if row["unit"] == "g":
            assert Fraction(row["low"]) % 5 == 0 and Fraction(row["high"]) % 5 == 0


# ------------------------------------------------------------------ what programs read


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*.dye")), ids=lambda file: file.stem)
@pytest.mark.parametrize("more", [(), ("--fibre", "900 g", "--units", "both")])
def test_json_keeps_to_its_schema(
    capsys: pytest.CaptureFixture[str], file: Path, more: tuple[str, ...]
) -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    status, out, err = weigh(capsys, str(file), "--format", "json", *more)
    assert status in (0, 1) and err == ""
    Draft202012Validator(schema).validate(json.loads(out))


def test_json_of_a_backward_sum_keeps_to_its_schema(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = weigh(capsys, TANSY, "--have", "tansy=500 g", "--format", "json")
    made = json.loads(out)
    Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8"))).validate(made)
    assert made["asked"]["backwards"]["first"] == ["tansy"]


def test_csv_and_json_say_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    _, text, _ = weigh(capsys, TANSY, "--format", "csv")
    _, data, _ = weigh(capsys, TANSY, "--format", "json")
    rows = [row for row in csv.DictReader(io.StringIO(text)) if row["section"] == "use"]
    made = json.loads(data)["rows"]
    assert [row["thing"] for row in rows] == [row["thing"] for row in made]
    for row, other in zip(rows, made, strict=True):
        if other["printed"]:
            assert float(row["low"]) == pytest.approx(other["printed"][0]["low"])
            assert row["amount"] == other["printed"][0]["text"]


# ------------------------------------------------------------------ what is refused


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--fibre", "silk=600 g"), "no fibre “silk”"),
        (("--fibre", "yrn=600 g"), "Did you mean “yarn”"),
        (("--fibre", "gold=600 g"), "give the weight of yarn"),
        (("--fibre", "600"), "no unit"),
        (("--fibre", "yarn=600"), "no unit"),
        (("--fibre", "0 g"), "nothing to work with"),
        (("--fibre=-5 g",), "less than nothing"),
        (("--fibre", "5 L"), "weighed"),
        (("--fibre", "500 to 600 g"), "is a range"),
        (("--fibre", "a lot"), "no amount"),
        (("--fibre", "5 stone"), "stone"),
        (("--fibre", "yarn=1 kg", "--fibre", "yarn=2 kg"), "given twice"),
        (("--fibre", "1/0 g"), "is no amount: it has"),
        (("--skeins", "0"), "nothing to dye"),
        (("--skeins", "-3"), "nothing to dye"),
        (("--skeins", "some"), "write for example “12”"),
        (("--skeins", "3 to 4"), "range"),
        (("--have", "tansy"), "does not fit --have"),
        (("--have", "tansy=800"), "no unit"),
        (("--have", "tansy=0 g"), "nothing to work with"),
        (("--have", "tansy=-3 g"), "less than nothing"),
        (("--have", "tansi=800 g"), "Did you mean “tansy”"),
        (("--have", "tansy=1 gal"), "US gal or imp gal"),
        (("--have", "tansy=800 g", "--have", "tansy=1 kg"), "twice"),
        (("--have", "tansy=800 g", "--fibre", "600 g"), "all fibre is given"),
        (("--swap", "alum"), "does not fit --swap"),
        (("--swap", "alum=copperas"), "another colour"),
        (("--swap", "alum=solution 10 %"), "by weight or by volume"),
        (("--scale-step", "0 g"), "nothing to work with"),
        (("--scale-step", "1"), "no unit"),
        (("--scale-step", "1 to 2 g"), "range"),
        (("--units", "furlongs"), "; it may be"),
    ],
)
def test_bad_input_is_one_plain_sentence_and_status_two(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], said: str
) -> None:
    status, out, err = weigh(capsys, TANSY, *arguments)
    assert (status, out) == (2, "")
    assert err.count("\n") == 1 and err.startswith("vatwright: ") and said in err, err
    assert "Traceback" not in err


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = weigh(capsys, "no-such.dye")
    assert (status, out) == (2, "") and err.count("\n") == 1


def test_nothing_limits_the_backward_sum(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "a.dye"
    file.write_text(
        'procedure "A"\nfibre\n  yarn: wool yarn, 100 g\nequipment\n  tub: plastic tub, 20 L\n'
        "steps\n  wet out yarn in tub with water 1/2 of tub for 1 h\n",
        encoding="utf-8",
    )
    status, out, err = weigh(capsys, str(file), "--have", "water=900 L")
    assert (status, out) == (2, "") and "Nothing limits the fibre" in err


@pytest.mark.parametrize("text", ["", "procedure", "steps\n  dye yarn", "\x00", "fibre\n  a: 5\n"])
def test_any_text_gives_a_sheet_or_a_sentence(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, text: str
) -> None:
    file = tmp_path / "any.dye"
    file.write_text(text, encoding="utf-8")
    status, out, err = weigh(capsys, str(file))
    assert status in (0, 2)
    assert (status == 0) == bool(out) and (status == 2) == (err.count("\n") == 1)


def test_lines_that_cannot_be_read_are_told(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "torn.dye"
    file.write_text(
        'procedure "A"\nfibre\n  yarn: wool yarn, 100 g\nequipment\n  tub: plastic tub, 20 L\n'
        "steps\n  wet out yarn in tub with water 5 L for 1 h\n  wsh yarn ( in tub\n",
        encoding="utf-8",
    )
    status, out, _ = weigh(capsys, str(file))
    assert status == 0 and "1 line could not be read" in out


def test_a_weight_asked_for_in_pounds_is_said_in_pounds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "first-onion-skins.dye").read_text(encoding="utf-8")
    path = tmp_path / "pounds.dye"
    path.write_text(re.sub(r'makes "[^"]*"', 'makes "1 lb of old gold"', text), "utf-8")
    main(["weigh", str(path), "--fibre", "2 lb"])
    said = capsys.readouterr().out
    assert "Worked out for 2 lb of " in said
    assert "907.18474" not in said
    assert "makes 1 lb" not in said.lower()
