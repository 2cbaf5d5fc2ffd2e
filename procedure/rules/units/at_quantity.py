"""What the rules on quantities share: the kinds in words, and a finding at a quantity."""

from __future__ import annotations

from procedure.findings import Says
from procedure.model import Procedure, Written
from procedure.rules.rule import Found

KINDS = {
    "mass": "a weight",
    "volume": "a volume",
    "temperature": "a temperature",
    "time": "a time",
    "length": "a length",
    "percent": "a percentage",
    "ratio": "a ratio",
    "share": "a share",
    "concentration": "a strength",
    "concentration by volume": "a strength",
    "power": "a power",
    "count": "a number of pieces",
    "spoon": "a spoon or cup measure",
    "spoon by weight": "a spoon or cup measure",
    "spoon by volume": "a spoon or cup measure",
    "acidity": "a pH",
    "number": "a number",
}


def found(
    procedure: Procedure,
    written: Written,
    sentence: Says | str,
    remedy: Says | str,
    **more: object,
) -> Found:
    """What a rule found, at a quantity."""
    return Found(procedure, written.quantity.place, sentence, remedy, **more)  # type: ignore[arg-type]
