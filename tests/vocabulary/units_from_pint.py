"""Units from outside the trade, as pint has them, without waiting for pint.

``python tests/vocabulary/units_from_pint.py`` writes ``foreign_units.csv``.
"""

import csv
from collections.abc import Iterator
from fractions import Fraction
from io import StringIO
from typing import Any

from data_tables import DATA
from pint import UnitRegistry
from pint.errors import PintError

FILE = DATA / "foreign_units.csv"
BASES = {"[mass]": "g", "[volume]": "L", "[time]": "min", "[length]": "m"}
PREFIXED = ("gram", "liter", "litre", "meter", "metre", "second")
# What has one name and two sizes: bushel and hundredweight of Britain, the dram of apothecaries.
OTHER_SIZES = ("imperial_", "apothecary_", "long_")
PREFIXES = ("nano", "micro", "milli", "centi", "deci", "deca", "hecto", "kilo", "mega")


def words(registry: Any) -> Iterator[str]:
    """Every name, symbol and alias that pint has in one word, with its other sizes, and the
    everyday prefixes."""
    yield from (name for name in registry._units if name.isalpha())
    for other in OTHER_SIZES:
        sizes = (name for name in registry._units if name.startswith(other))
        yield from (name for name in sizes if name.removeprefix(other) in registry._units)
    yield from (prefix + unit for unit in PREFIXED for prefix in PREFIXES)


def amount(registry: Any, word: str) -> tuple[Fraction, str] | None:
    """How much one is, exactly, and of which base unit; None where it is no amount of these."""
    try:
        one = registry.Quantity(Fraction(1), word)
        base = next((base for kind, base in BASES.items() if one.check(kind)), "")
        return (Fraction(one.to(base).magnitude), base) if base else None
    except (PintError, AttributeError, ValueError, TypeError, SyntaxError):
        return None


def text() -> str:
    """The data file as it should be."""
    from procedure.vocabulary import vocabulary

    registry: Any = UnitRegistry(non_int_type=Fraction)
    found = {word: amount(registry, word) for word in words(registry)}
    made = StringIO()
    writer = csv.writer(made, lineterminator="\n")
    writer.writerow(("name", "amount", "of", "source"))
    for word, one in sorted(found.items()):
        if one is not None and word.replace("_", " ") not in vocabulary().units:
            writer.writerow((word.replace("_", " "), one[0], one[1], "pint"))
    return made.getvalue()


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
