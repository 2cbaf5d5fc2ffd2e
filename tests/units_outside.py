"""The units as pint has them: one registry for all tests, since to make one takes half a second."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint


@cache
def units_of_pint() -> pint.UnitRegistry[float]:
    """The one registry; pint itself is read only where a test asks for it."""
    from pint import UnitRegistry

    return UnitRegistry(autoconvert_offset_to_baseunit=True)
