"""``vatwright handout`` from the command line: files, exit status, plain sentences."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from papers import EXAMPLES

from procedure.command.main import main

TANSY = str(next(path for path in EXAMPLES if path.stem == "tansy-gold-and-moss"))
FAULTY = """procedure "Hot"
  by "Fellside Dye Circle"

equipment
  pot: steel pot, 8 L, for dyeing only

steps
  a: prepare in pot with water 4 L at 130 °C
  discard a to "foul drain"
"""


@pytest.mark.parametrize("name", ["out.html", "out.md", "out.pdf", "OUT.HTML"])
def test_the_suffix_says_what_is_made(tmp_path: Path, name: str) -> None:
    out = tmp_path / name
    assert main(["handout", TANSY, "-o", str(out), "--no-chart"]) == 0
    head = out.read_bytes()[:15]
    assert head.startswith((b"<!DOCTYPE html>", b"# Tansy gold an", b"%PDF"))


@pytest.mark.parametrize("kind", ["--bench", "--labels"])
@pytest.mark.parametrize("suffix", ["html", "pdf"])
def test_bench_sheet_and_labels(tmp_path: Path, kind: str, suffix: str) -> None:
    out = tmp_path / f"out.{suffix}"
    assert main(["handout", TANSY, kind, "-o", str(out)]) == 0
    assert out.stat().st_size > 3000


def test_a_bench_sheet_is_read_from_two_metres(tmp_path: Path) -> None:
    from pypdf import PdfReader

    for path in EXAMPLES[::8]:
        out = tmp_path / f"{path.stem}.pdf"
        assert main(["handout", str(path), "--bench", "-o", str(out)]) == 0
        sizes: set[float] = set()

        def seen(text: str, *rest: object, sizes: set[float] = sizes) -> None:
            # The foot of a sheet, in the margin of 13 mm, is for whoever has it in hand.
            height = float((*rest[0],)[5] + (*rest[1],)[5])  # type: ignore[misc]
            if re.search(r"[a-z]", text) and height > 13 / 25.4 * 72:
                sizes.add(float(str(rest[3])))

        pages = PdfReader(out).pages
        for page in pages:
            page.extract_text(visitor_text=seen)
        # An inch of letter for each 30 feet (Manual on Uniform Traffic Control Devices, FHWA):
        # 5.56 mm for two metres. Capitals of Libertinus Serif are 0.645 of its size.
        assert min(sizes) * 0.645 / 72 * 25.4 >= 2000 / (30 * 12), path.stem
        assert len(pages) <= 10, path.stem


def test_more_fibre_makes_larger_amounts(tmp_path: Path) -> None:
    out = tmp_path / "out.md"
    assert main(["handout", TANSY, "--fibre", "480 g", "-o", str(out), "--units", "metric"]) in (
        0,
        1,
    )
    said = out.read_text("utf-8").replace("\u00a0", " ")
    # 12 % of 480 g is 57.6 g.
    assert "57.6 g of potassium alum" in said and "480 g" in said


def test_a_faulty_procedure_makes_a_draft(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tmp_path / "hot.dye"
    source.write_text(FAULTY, encoding="utf-8")
    for name in ("out.html", "out.md", "out.pdf"):
        assert main(["handout", str(source), "-o", str(tmp_path / name)]) == 1
    assert "is a draft" in capsys.readouterr().err
    from pypdf import PdfReader

    pages = PdfReader(tmp_path / "out.pdf").pages
    assert all("DRAFT" in page.extract_text().replace(" ", "") for page in pages)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["-o", "{}/nowhere/out.html"], "cannot be written"),
        (["-o", "{}"], "does not say what to make"),
        (["-o", "{}/out.doc"], "does not say what to make"),
        (["-o", "{}/out.svg", "--bench"], "does not say what to make"),
        (["-o", "{}/folder.html"], "is a folder"),
        (["-o", "{}/out.html", "--fibre", "0 g"], "is nothing"),
        (["-o", "{}/out.html", "--fibre", "silk=40 g"], "declares no fibre"),
        (["-o", "{}/out.html", "--units", "stone"], "; it may be"),
    ],
)
def test_what_cannot_be_made_is_said_and_nothing_is_left(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], said: str
) -> None:
    (tmp_path / "folder.html").mkdir()
    given = [one.format(tmp_path) for one in arguments]
    assert main(["handout", TANSY, *given]) == 2
    error = capsys.readouterr().err
    assert said in error and error.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["folder.html"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_without_write_permission(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    assert main(["handout", TANSY, "-o", str(tmp_path / "out.html")]) == 2


def test_a_missing_file_is_one_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["handout", "nowhere.dye", "-o", "out.html"]) == 2
    assert "cannot be read" in capsys.readouterr().err
