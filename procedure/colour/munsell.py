"""Munsell notation to CIELAB, by the renotation data that colour-science carries."""

from __future__ import annotations

import re

from procedure.colour.space import Colour, Light, from_xyz
from procedure.quantity.kept_answers import remembered

# The renotation is for illuminant C and the observer of 2 degrees (Newhall, Nickerson and
# Judd, Journal of the Optical Society of America 33 (1943), page 385).
RENOTATION = Light("C", 2)
_HUES = "RP|YR|GY|BG|PB|R|Y|G|B|P"
_SHAPE = re.compile(
    rf"(?P<step>10(?:\.0)?|[0-9](?:\.[0-9]+)?)\s*(?P<hue>{_HUES})\s*"
    r"(?P<value>10(?:\.0)?|[0-9](?:\.[0-9]+)?)\s*/\s*(?P<chroma>[0-9]+(?:\.[0-9]+)?)"
    r"|N\s*(?P<grey>10(?:\.0)?|[0-9](?:\.[0-9]+)?)\s*/?"
)


class NotMunsell(ValueError):
    """A text that is no Munsell notation, or a colour outside the renotation."""


def written(text: str) -> str:
    """A notation as it is usually written: ``5Y 7/8``, ``N 5/``. Raises :class:`NotMunsell`.

    Only its form is looked at; :func:`colour_of` says whether there is such a colour.
    """
    found = _SHAPE.fullmatch(text.strip().upper())
    if found is None:
        raise NotMunsell(f"“{text[:40]}” is no Munsell notation such as 5Y 7/8 or N 5/")
    if found["grey"]:
        return f"N {found['grey']}/"
    return f"{found['step']}{found['hue']} {found['value']}/{found['chroma']}"


@remembered(512)
def colour_of(text: str) -> Colour:
    """The colour of a Munsell notation, under C and 2 degrees. Raises :class:`NotMunsell`.

    The first call takes seconds, because colour-science is imported.
    """
    import warnings

    said = written(text)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            import colour
        except ImportError:
            raise NotMunsell(
                "Munsell notations need colour-science; “pip install colour-science” brings it"
            ) from None
        name = f"N{said[2:-1]}" if said.startswith("N") else said
        try:
            x, y, bright = (float(one) for one in colour.munsell_colour_to_xyY(name))
        except (AssertionError, ValueError, RuntimeError, KeyError):
            raise NotMunsell(f"“{said}” lies outside the Munsell renotation") from None
    # The renotation is of magnesium oxide, Y = 102.57 of it; colour-science has taken that out.
    xyz = (100 * bright * x / y, 100 * bright, 100 * bright * (1 - x - y) / y)
    return from_xyz(xyz, RENOTATION)
