"""Munsell notation, by the renotation of 1943 as colour-science carries it."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest

from procedure.colour import munsell
from procedure.colour.space import to_xyz


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("5Y 7/8", "5Y 7/8"),
        ("2.5 yr 5/10", "2.5YR 5/10"),
        ("N 5/", "N 5/"),
        ("n9", "N 9/"),
        ("10GY 6.5/4", "10GY 6.5/4"),
    ],
)
def test_a_notation_is_read_by_its_form(text: str, said: str) -> None:
    assert munsell.written(text) == said


@pytest.mark.parametrize("text", ["", "yellow", "5Q 7/8", "5Y 7", "5Y /8", "12R 5/5", "N"])
def test_what_is_no_notation_is_refused(text: str) -> None:
    with pytest.raises(munsell.NotMunsell):
        munsell.written(text)


def test_colours_of_notations() -> None:
    pytest.importorskip("colour")
    # Value 5 is 19.77 % of magnesium oxide (ASTM D1535: Y = 19.27 of the perfect diffuser,
    # which is L* 51.0 within the rounding).
    grey = munsell.colour_of("N 5/")
    assert grey.lightness == pytest.approx(51.0, abs=0.6)
    assert grey.chroma < 1
    yellow = munsell.colour_of("5Y 7/8")
    assert 80 < yellow.hue < 100 and 50 < yellow.chroma < 70
    with pytest.raises(munsell.NotMunsell):
        munsell.colour_of("5Y 7/60")


def test_the_library_gives_the_notation_back() -> None:
    science = pytest.importorskip("colour")
    pytest.importorskip("scipy")  # which colour-science asks for on the way back alone
    for said in ("5Y 7/8", "2.5R 4/10", "7.5BG 6/4"):
        x, y, z = to_xyz(munsell.colour_of(said))
        total = x + y + z
        back = science.xyY_to_munsell_colour([x / total, y / total, y / 100])
        step, value, chroma = map(float, re.findall(r"[0-9.]+", back))
        wanted = [float(one) for one in re.findall(r"[0-9.]+", said)]
        assert [step, value, chroma] == pytest.approx(wanted, abs=0.1), (said, back)
        assert "".join(re.findall("[A-Z]+", back)) == "".join(re.findall("[A-Z]+", said))


def test_scipy_is_not_needed() -> None:
    # colour-science can do without, and no dependency of ours brings it.
    code = (
        "import sys; sys.modules['scipy'] = None\n"
        "from procedure.colour.munsell import colour_of; print(round(colour_of('N 5/').lightness))"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "51"


def test_colour_is_read_without_any_large_library() -> None:
    code = (
        "import sys, procedure.colour as c, procedure.colour.munsell as m; m.written('5Y 7/8');"
        "c.ciede2000(c.from_hex('#c8a232'), c.from_hex('#c0a030'));"
        "print([n for n in ('numpy', 'scipy', 'colour') if n in sys.modules])"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "[]"
