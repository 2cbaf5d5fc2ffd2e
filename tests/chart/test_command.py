"""The command ``vatwright chart`` and ``Plan.chart``."""

from __future__ import annotations

from pathlib import Path

import pytest
from drawn import TWO_LOTS, plan, read_dot

from procedure import load
from procedure.chart.placed_symbols import figures
from procedure.command.main import main
from procedure.timetable.taking import days_of

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own with a procedure in a folder below it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "methods").mkdir()
    (tmp_path / "methods" / "gold.dye").write_text(TWO_LOTS)
    return tmp_path


def test_it_writes_an_svg_into_the_current_folder(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["chart", "methods/gold.dye"]) == 0
    assert capsys.readouterr().out == "Wrote gold.svg.\n"
    assert (here / "gold.svg").read_text().startswith("<?xml")


@pytest.mark.parametrize(
    ("suffix", "start"),
    [("svg", b"<?xml"), ("png", b"\x89PNG"), ("pdf", b"%PDF"), ("dot", b"//"), ("SVG", b"<?xml")],
)
def test_the_suffix_says_what_it_is(here: Path, suffix: str, start: bytes) -> None:
    assert main(["chart", "methods/gold.dye", "-o", f"out.{suffix}"]) == 0
    assert (here / f"out.{suffix}").read_bytes().startswith(start)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["methods/none.dye"], "methods/none.dye cannot be read: no such file or directory."),
        (["methods"], "methods is a folder"),
        (["methods/gold.dye", "-o", "out.gif"], ".svg, .png, .pdf, .dot"),
        (["methods/gold.dye", "-o", "nowhere/out.svg"], "nowhere/out.svg cannot be written"),
        (["methods/gold.dye", "--lanes", "colour"], "; it may be"),
        ([], "FILE is missing"),
    ],
)
def test_bad_input_is_one_sentence(
    here: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    assert main(["chart", *arguments]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert said in told.err
    assert told.err.count("\n") == 1


def test_a_procedure_with_errors_is_drawn_as_a_draft(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "bad.dye").write_text(TWO_LOTS.replace("water 30 : 1 of yarn", "water 2 gal"))
    assert main(["chart", "bad.dye"]) == 0
    assert "DRAFT" in (here / "bad.svg").read_text()


def test_the_python_interface(tmp_path: Path) -> None:
    made = plan()
    svg = made.chart()
    assert isinstance(svg, str)
    assert svg.startswith("<?xml")
    out = tmp_path / "gold.png"
    png = made.chart(out, lanes="pot")
    assert isinstance(png, bytes)
    assert out.read_bytes() == png
    assert made.chart(tmp_path / "gold.dot", "none") == (tmp_path / "gold.dot").read_text()
    for wrong in ({"lanes": "colour"}, {"form": "gif"}, {"sheet": "a9"}):
        with pytest.raises(ValueError, match="is none of"):
            made.chart(**wrong)  # type: ignore[arg-type]


@pytest.mark.parametrize("text", ["", "steps\n", 'procedure "x"\nsteps\n  rince\n', "\x01"])
def test_any_text_is_drawn(text: str) -> None:
    for lanes in ("lot", "pot", "none"):
        assert "<svg" in str(plan(text).chart(lanes=lanes))


def test_the_days_at_the_side_are_those_of_the_handout(tmp_path: Path) -> None:
    """Steps that another day than the nights in the text would have them on."""
    drawn = tmp_path / "gold.dot"
    file = EXAMPLES / "old-gold.dye"
    assert main(["chart", str(file), "-o", str(drawn)]) == 0
    made = load(file)
    begun = days_of(made)
    assert begun is not None and max(begun.values()) > 1
    steps = {node.name: node.says for node in read_dot(drawn.read_text()).nodes}
    marks = [name.split(" sheet ") for name in steps if name.startswith("day ")]
    names = {f.name: f.key for f in figures(made.flow, made.trace).figures.values()}
    assert marks
    for day, where in marks:
        figure = where.split(" ", 1)[1]
        assert day == f"day {begun[names[figure]]}"
