"""Every dependency does what is asked of it, once: run with the lowest versions and the newest.

A dependency without a trial here fails :func:`test_every_dependency_is_tried`.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from lowest import dependencies, lowest

import procedure
from procedure.command.main import main

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "first-onion-skins.dye"


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """The name of a procedure in a folder of its own, which is the present one."""
    (tmp_path / "plan.dye").write_bytes(EXAMPLE.read_bytes())
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return "plan.dye"


def test_lark_builds_the_table_that_is_stored() -> None:
    from procedure.language.table import build, table

    assert build((ROOT / "grammar" / "vatwright.lark").read_text("utf-8")) == table()


def test_networkx_has_the_flow(plan: str) -> None:
    assert len(procedure.load(plan).graph) > 3


@pytest.mark.parametrize("form", ["svg", "pdf", "png", "dot"])
def test_graphviz_pygraphviz_and_fonttools_draw(form: str, plan: str) -> None:
    assert main(["chart", plan, "-o", f"chart.{form}"]) == 0
    begins = {"svg": b"<?xml", "pdf": b"%PDF", "png": b"\x89PNG", "dot": b"//"}[form]
    assert Path(f"chart.{form}").stat().st_size > 500
    assert Path(f"chart.{form}").read_bytes().lstrip().startswith((begins, b"digraph", b"<svg"))


def test_typst_and_pypdf_make_pages(plan: str) -> None:
    from pypdf import PdfReader

    assert main(["handout", plan, "-o", "plan.pdf"]) == 0
    pages = PdfReader(BytesIO(Path("plan.pdf").read_bytes())).pages
    assert pages and "onion" in "".join(page.extract_text() for page in pages)


def test_segno_and_the_pictograms_are_on_cards_and_handouts(plan: str) -> None:
    card = ROOT / "examples" / "shade-card-madder.dye"
    assert main(["card", str(card), "-o", "card.html"]) == 0
    assert "<svg" in Path("card.html").read_text("utf-8")
    harmful = ROOT / "examples" / "indigo-lime-and-copperas-vat.dye"
    assert main(["handout", str(harmful), "-o", "vat.html"]) in (0, 1)
    assert "<svg" in Path("vat.html").read_text("utf-8")


def test_ortools_and_icalendar_plan_a_day(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["timetable", plan, "-o", "plan.ics"]) == 0
    assert Path("plan.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")
    assert main(["timetable", plan, "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out.partition("\n")[2])


def test_colour_science_and_numpy_know_munsell() -> None:
    from procedure.colour.munsell import colour_of

    # Value 7 is Y = 42.00 of the perfect diffuser (ASTM D1535): L* 70.9.
    yellow = colour_of("5Y 7/8")
    assert yellow.lightness == pytest.approx(70.9, abs=0.1) and 80 < yellow.hue < 100


def test_platformdirs_finds_a_cache(plan: str, tmp_path: Path) -> None:
    Path("other.dye").write_bytes(EXAMPLE.read_bytes())
    assert main(["check", plan, "other.dye"]) == 0
    if sys.platform == "linux":
        assert [*(tmp_path / "cache").rglob("*.sqlite")]


def test_argcomplete_answers_a_shell(plan: str) -> None:
    made = subprocess.run(
        [sys.executable, "-m", "procedure"],
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "_ARGCOMPLETE": "1",
            "COMP_LINE": "vatwright che",
            "COMP_POINT": "13",
            "_ARGCOMPLETE_STDOUT_FILENAME": "answer",
        },
        check=False,
    )
    assert made.returncode == 0 and "check" in Path("answer").read_text("utf-8")


def test_anyascii_writes_any_letter_in_latin_ones() -> None:
    from anyascii import anyascii

    from procedure.paper.letters import readable

    assert anyascii("물").isascii() and readable("rinse") == ("rinse", {})


def test_pygls_serves_an_editor() -> None:
    from procedure.command.language_server_lsp import server

    assert server().name


def test_every_dependency_is_tried() -> None:
    """Each has a lower bound that is one version, and a word in this file."""
    here = Path(__file__).read_text("utf-8")
    words = {"colour-science": "colour_science", "ghs-hazard-pictogram": "pictograms"}
    for each in dependencies():
        assert lowest(each)
        if each.name != "tzdata":  # data alone, and only where the system has none
            assert words.get(each.name, each.name) in here, each.name
