"""Pictures are really drawn, with the wheel alone, with a system Graphviz, or not at all."""

from __future__ import annotations

import io
import os
import shutil
import stat
import struct
import subprocess
import sys
import zlib
from pathlib import Path
from xml.etree import ElementTree

import pytest
from drawn import TWO_LOTS, plan
from pypdf import PdfReader

from procedure.chart import NoGraphviz, NotDrawn, draw
from procedure.chart.render import render

RUN = "import sys; from procedure.command.main import main; sys.exit(main())"
SVG = "{http://www.w3.org/2000/svg}"


def command(*arguments: str, path: str, where: Path) -> subprocess.CompletedProcess[str]:
    """Run the command with no other programs than those in a folder."""
    return subprocess.run(
        [sys.executable, "-c", RUN, *arguments],
        cwd=where,
        env={**os.environ, "PATH": path, "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=False,
    )


def dark_share(png: bytes) -> float:
    """The share of bytes in a PNG's rows that are not white."""
    data, at = b"", 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"IDAT":
            data += png[at + 8 : at + 8 + length]
        at += length + 12
    raw = zlib.decompress(data)
    return 1 - (raw.count(0) + raw.count(255)) / len(raw)


def test_png() -> None:
    png = draw(plan(), "png")
    assert isinstance(png, bytes)
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    wide, tall = struct.unpack(">II", png[16:24])
    assert wide > 1000
    assert tall > 1000
    assert dark_share(png) > 0.01


def test_pdf_holds_real_text() -> None:
    pdf = draw(plan(), "pdf")
    assert isinstance(pdf, bytes)
    reader = PdfReader(io.BytesIO(pdf))
    assert reader.metadata is not None
    assert reader.metadata.title == "Gold and moss"
    said = " ".join(page.extract_text() for page in reader.pages)
    assert "mordant yarn" in said
    assert "28.8 g" in said


def test_svg_has_title_description_role_and_real_text() -> None:
    svg = draw(plan(), "svg")
    assert isinstance(svg, str)
    root = ElementTree.fromstring(svg)
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == "Gold and moss"
    description = root.findtext(f"{SVG}desc") or ""
    assert "3. mordant yarn." in description
    named = (root.get("aria-labelledby") or "").split()
    assert named == [root[0].get("id"), root[1].get("id")]
    texts = ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]
    assert "3. mordant yarn" in texts
    assert not list(root.iter(f"{SVG}image"))
    assert "xlink" not in svg


def test_a_very_long_png_is_folded_into_columns() -> None:
    steps = "".join(f"  rinse yarn in tub with water {n} L\n" for n in range(1, 230))
    text = TWO_LOTS.split("steps\n")[0] + "steps\n" + steps
    for sheet in ("a4", "roll"):
        png = draw(plan(text), "png", sheet=sheet)
        assert isinstance(png, bytes)
        wide, tall = struct.unpack(">II", png[16:24])
        assert max(wide, tall) <= 32_767  # what Cairo can draw
        assert dark_share(png) > 0.001


@pytest.mark.parametrize("form", ["svg", "png", "pdf", "dot"])
def test_a_machine_without_graphviz_draws_all_the_same(form: str, tmp_path: Path) -> None:
    (tmp_path / "plan.dye").write_text(TWO_LOTS)
    nothing = tmp_path / "nothing"
    nothing.mkdir()
    done = command("chart", "plan.dye", "-o", f"out.{form}", path=str(nothing), where=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == f"Wrote out.{form}.\n"
    assert (tmp_path / f"out.{form}").stat().st_size > 5_000


def test_without_any_graphviz_the_dot_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from procedure.command.main import main

    monkeypatch.setitem(sys.modules, "pygraphviz", None)
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "plan.dye").write_text(TWO_LOTS)
    assert main(["chart", "plan.dye", "-o", "out.png"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert "pip install pygraphviz" in said.err
    assert "out.dot" in said.err
    assert (tmp_path / "out.dot").read_text().startswith("//")
    assert not (tmp_path / "out.png").exists()
    with pytest.raises(NoGraphviz):
        draw(plan(), "svg")


def test_a_system_graphviz_serves_where_the_wheel_is_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stand-in for ``dot`` tells how it was called and gives back what it was told."""
    program = tmp_path / "dot"
    program.write_text('#!/bin/sh\necho "$@"\n/bin/cat\n')
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setitem(sys.modules, "pygraphviz", None)
    monkeypatch.setenv("PATH", str(tmp_path))
    drawn = render("digraph {}", "png", 150).decode()
    assert drawn == "-Knop2 -Tpng -Gdpi=150\ndigraph {}"


def test_a_system_graphviz_that_fails_is_quoted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program = tmp_path / "dot"
    program.write_text('#!/bin/sh\necho "no such format" >&2\nexit 1\n')
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setitem(sys.modules, "pygraphviz", None)
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(NotDrawn, match="no such format"):
        render("digraph {}", "svg")


@pytest.mark.skipif(shutil.which("dot") is None, reason="no system Graphviz here")
def test_a_real_system_graphviz(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pygraphviz", None)
    svg = draw(plan(), "svg")
    assert isinstance(svg, str)
    assert "3. mordant yarn" in svg


def test_a_check_loads_no_drawing_library() -> None:
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "import procedure, sys; procedure.read('procedure \"x\"').findings;"
            "slow = ('graphviz', 'pygraphviz', 'networkx', 'pypdf');"
            "print([module for module in slow if module in sys.modules])",
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout == "[]\n"
