"""How wide letters are: what fits here fits wherever it is drawn."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from pypdf import PdfReader

from procedure.chart.lettering import width, wrap

SAID = "in weld-bath; from 40 °C (104 °F) to 75 °C (167 °F); over 45 min, for 15 min"
FONTS = [
    Path("/usr/share/fonts/truetype/dejavu") / f"DejaVuSans{bold}.ttf" for bold in ("", "-Bold")
]


def test_some_widths_of_the_face() -> None:
    """DejaVu Sans 2.37, horizontal advances of 2048 to the em: space 651, m 1995, M 1767."""
    for letter, advance in ((" ", 651), ("m", 1995), ("M", 1767)):
        assert width(letter, 2048) == pytest.approx(advance * 1.03, abs=1.5)


@pytest.mark.parametrize("bold", [False, True])
def test_the_table_is_that_of_the_face(bold: bool) -> None:
    """Held against the face itself, where this machine has it."""
    from fontTools.ttLib import TTFont

    path = FONTS[bold]
    if not path.is_file():
        pytest.skip("no DejaVu Sans here")
    font = TTFont(path)
    names, advances = font.getBestCmap(), font["hmtx"]
    real = sum(advances[names[ord(letter)]][0] for letter in SAID) / font["head"].unitsPerEm
    assert width(SAID, 10, bold) == pytest.approx(real * 10 * 1.03, rel=0.002)


def test_helvetica_is_narrower() -> None:
    """Adobe's core metrics of Helvetica: e 556, t 278, w 722 thousandths."""
    for letter, advance in (("e", 556), ("t", 278), ("w", 722)):
        assert width(letter, 1000) > advance


@pytest.mark.parametrize("size", [7.0, 7.5, 8.5, 9.0, 12.0])
def test_graphviz_sets_no_line_wider(size: float) -> None:
    """In the sizes that are used; measured in its PDF with poppler, where that is."""
    from procedure.chart.dot import dot
    from procedure.chart.render import render
    from procedure.chart.sheet import BoxedWords, Sheet

    if shutil.which("pdftotext") is None:
        pytest.skip("no poppler here")
    sheet = Sheet(700, 40)
    sheet.write(BoxedWords("one", 0, 0, 700, (SAID,), size))
    pdf = render(dot([sheet], "x", 10), "pdf")
    assert len(PdfReader(io.BytesIO(pdf)).pages) == 1
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )

    ends = [tuple(map(float, each)) for each in
            re.findall(r'xMin="([\d.]+)".*?xMax="([\d.]+)"', done.stdout.decode())]  # fmt: skip
    assert max(e for _, e in ends) - min(b for b, _ in ends) <= width(SAID, size)


@pytest.mark.parametrize("whole", ["= 6 L", "30 : 1", "day 3", "day 2–3", "step 4"])
def test_a_number_stays_with_what_goes_before_it(whole: str) -> None:
    for room in range(20, 90):
        assert (
            any(whole in line for line in wrap(f"water of the bath {whole} of yarn", room, 7.0))
            or width(whole, 7.0) > room
        )
