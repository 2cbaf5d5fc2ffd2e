"""Sentences of the data files, with the heats in them as values for any reader."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.findings import Heat, Says, say
from procedure.quantity.ready_patterns import pattern

_HEAT = r"(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? °C"


def told(text: str) -> Says:
    """Words of a data file as a template: “never above 60 °C” is 140 °F for who reads °F."""
    heats: dict[str, Heat] = {}

    def field(found: re.Match[str]) -> str:
        low, high = found.groups()
        name = f"heat{len(heats) + 1}"
        heats[name] = Heat(Fraction(low), Fraction(high) if high else None, worded=False)
        return f"{{{name}}}"

    return say(pattern(_HEAT).sub(field, text) if "°C" in text else text, **heats)
