"""sRGB, XYZ and CIELAB against their standards and a reference library."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedure.colour import (
    Colour,
    Light,
    adapted,
    from_hex,
    from_srgb,
    from_xyz,
    to_hex,
    to_srgb,
    to_xyz,
)
from procedure.colour.space import SCREEN, white_points

# IEC 61966-2-1:1999: the primaries and white of sRGB have these xy and Y in its matrix.
PRIMARIES = {
    (255, 0, 0): (0.64, 0.33, 0.2126),
    (0, 255, 0): (0.30, 0.60, 0.7152),
    (0, 0, 255): (0.15, 0.06, 0.0722),
    (255, 255, 255): (0.3127, 0.3290, 1.0),
}


@pytest.mark.parametrize("channels", PRIMARIES)
def test_the_primaries_of_srgb_have_their_chromaticity(channels: tuple[int, int, int]) -> None:
    white = (95.05, 100.0, 108.9)  # the sum of the rows of the standard's matrix
    x, y, z = to_xyz(from_srgb(*channels), white)
    total = x + y + z
    wanted = PRIMARIES[channels]
    assert (x / total, y / total) == pytest.approx(wanted[:2], abs=3e-4)
    assert y / 100 == pytest.approx(wanted[2], abs=1e-6)


def test_the_curve_of_srgb_has_its_two_pieces() -> None:
    # IEC 61966-2-1:1999: below 0.04045 a straight line of 12.92, above a power of 2.4.
    dark = to_xyz(from_srgb(10, 10, 10), (95.05, 100.0, 108.9))[1]
    assert dark / 100 == pytest.approx(10 / 255 / 12.92, abs=1e-9)
    middle = to_xyz(from_srgb(128, 128, 128), (95.05, 100.0, 108.9))[1]
    assert middle / 100 == pytest.approx(((128 / 255 + 0.055) / 1.055) ** 2.4, abs=1e-9)


@given(st.integers(0, 255), st.integers(0, 255), st.integers(0, 255))
def test_a_screen_colour_comes_back_as_it_was(red: int, green: int, blue: int) -> None:
    shown = to_srgb(from_srgb(red, green, blue))
    assert shown == (red, green, blue, False)
    assert from_hex(shown.hex) == from_srgb(red, green, blue)


@pytest.mark.parametrize("light", white_points(), ids=str)
def test_white_is_white_under_every_light(light: Light) -> None:
    assert from_xyz(white_points()[light], light)[:3] == pytest.approx((100, 0, 0))
    assert adapted(Colour(100, 0, 0, light), SCREEN)[:3] == pytest.approx((100, 0, 0), abs=1e-9)


@given(st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100))
def test_to_xyz_and_back(lightness: float, a: float, b: float) -> None:
    colour = Colour(lightness, a, b)
    assert from_xyz(to_xyz(colour))[:3] == pytest.approx(colour[:3], abs=1e-6)


def test_cielab_and_whites_agree_with_colour_science() -> None:
    # colour-science 0.4: XYZ_to_Lab, and the tristimulus values of CIE 015:2018 that it carries.
    numpy = pytest.importorskip("numpy")
    science = pytest.importorskip("colour")
    for light, white in white_points().items():
        year = 1931 if light.observer == 2 else 1964
        table = science.TVS_ILLUMINANTS[f"cie_{light.observer}_{year}"]
        assert white == pytest.approx(tuple(table[light.illuminant]))
        x, y, z = white
        for xyz in ((20.65, 12.19, 5.14), (50.0, 60.0, 10.0), (0.3, 0.2, 0.1)):
            theirs = science.XYZ_to_Lab(numpy.array(xyz) / 100, [x / (x + y + z), y / (x + y + z)])
            assert from_xyz(xyz, light)[:3] == pytest.approx(tuple(map(float, theirs)), abs=1e-6)


def test_srgb_agrees_with_colour_science() -> None:
    numpy = pytest.importorskip("numpy")
    science = pytest.importorskip("colour")
    for channels in ((200, 162, 50), (17, 34, 51), (250, 250, 240)):
        xyz = 100 * science.sRGB_to_XYZ(numpy.array(channels) / 255)
        ours = to_xyz(from_srgb(*channels), (95.05, 100.0, 108.9))
        assert ours == pytest.approx(tuple(map(float, xyz)), abs=0.02)


def test_the_bradford_adaptation_agrees_with_colour_science() -> None:
    science = pytest.importorskip("colour")
    one = Colour(60, 30, 50, Light("D65", 10))
    white, other = white_points()[one.light], white_points()[Light("A", 10)]
    moved = science.adaptation.chromatic_adaptation_VonKries(
        to_xyz(one), white, other, transform="Bradford"
    )
    ours = to_xyz(adapted(one, Light("A", 10)))
    assert ours == pytest.approx(tuple(map(float, moved)), abs=1e-6)


def test_a_colour_that_no_screen_shows_says_so() -> None:
    assert to_srgb(Colour(50, 0, -120)).outside
    assert not to_srgb(Colour(50, 10, 20)).outside


@pytest.mark.parametrize("wrong", ["", "#12", "c8a23g", "#c8a2322", "–12345"])
def test_what_is_no_hex_is_refused(wrong: str) -> None:
    with pytest.raises(ValueError, match="not a colour"):
        from_hex(wrong)


def test_hex_of_three_digits() -> None:
    assert from_hex("#fa0") == from_hex("#ffaa00")
    assert to_hex(from_hex("c8a232")) == "#c8a232"
