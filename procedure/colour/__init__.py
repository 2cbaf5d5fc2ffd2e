"""Colour as it is measured: CIELAB and its kin, differences, grades, and words for them.

The formulas are short and are our own, because a library of colour takes seconds to
import; the tests hold them against the published tables and against colour-science.
Munsell notation, which needs thousands of measured samples, is left to that library.
"""

from procedure.colour.colour_words import called, compared
from procedure.colour.difference import Parts, ciede2000, cielab_difference, parts
from procedure.colour.grades import Grade, change_grade, graded, staining_grade
from procedure.colour.space import (
    Colour,
    Light,
    Srgb,
    adapted,
    from_hex,
    from_srgb,
    from_xyz,
    to_hex,
    to_srgb,
    to_xyz,
)

__all__ = [
    "Colour",
    "Grade",
    "Light",
    "Parts",
    "Srgb",
    "adapted",
    "called",
    "change_grade",
    "ciede2000",
    "cielab_difference",
    "compared",
    "from_hex",
    "from_srgb",
    "from_xyz",
    "graded",
    "parts",
    "staining_grade",
    "to_hex",
    "to_srgb",
    "to_xyz",
]
