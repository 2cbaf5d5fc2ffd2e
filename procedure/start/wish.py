"""What a first procedure is asked for, and the one answer besides a text: why there is none."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry
from procedure.vocabulary.data_files import parts, rows


class NoMethod(Exception):
    """There is no sound method of this kind; its text says why not and what would serve."""


class NotUnderstood(ValueError):
    """An answer that names nothing known; its text is one plain sentence with a remedy."""


class Wish(NamedTuple):
    """What is asked for.

    ``weight`` is grams of dry fibre, and ``amount`` how that was said, if it was: “4 skeins of
    25 g”; ``units`` is metric, us or imperial; ``mordant`` None for none; ``after`` the salt
    of a last bath that changes the colour; ``over`` the vat dye that goes on first. ``scoured``
    is False for fibre that still has its grease. ``pots`` are descriptions as the equipment section
    has them; ``here`` says where the file will be, so that its workshop is known.
    """

    title: str
    fibre: Entry
    form: str
    weight: Fraction
    dye: Entry
    mordant: Entry | None
    by: str = ""
    day: str = ""
    units: str = "metric"
    after: Entry | None = None
    over: Entry | None = None
    scoured: bool = True
    pots: tuple[str, ...] = ()
    here: Path | None = None
    amount: str = ""

    @property
    def plant_fibre(self) -> bool:
        """True for fibre of cellulose."""
        return self.fibre.facts["class"].endswith("cellulose")

    @property
    def wants_tannin(self) -> bool:
        """True for fibre that holds a mordant only on tannin."""
        return self.fibre.facts["tannin"] == "wanted"

    @property
    def in_vat(self) -> bool:
        """True where the dye itself is dyed in a vat."""
        return self.dye.facts["dye_class"] == "vat"

    @property
    def with_vat(self) -> bool:
        """True where there is a vat, for the dye itself or under it."""
        return self.in_vat or self.over is not None

    @property
    def extract(self) -> bool:
        """True for a dyestuff that dissolves, so that no plant has to be strained out."""
        return "extract" in self.dye.name or self.dye.facts["dye_class"] == "acid extract"

    @property
    def with_plants(self) -> bool:
        """True where plants go into the dye bath and out of it again."""
        return not self.in_vat and not self.extract


def usual(name: str) -> Fraction:
    """A number of a usual method, in the unit of its row. Raises ``KeyError`` for another name."""
    return Fraction(_row(name)["value"])


def usual_sizes(name: str) -> tuple[Fraction, ...]:
    """A list of numbers of a usual method."""
    return tuple(map(Fraction, parts(_row(name)["value"])))


def _row(name: str) -> dict[str, str]:
    return _usual_method()[name]


@cache
def _usual_method() -> dict[str, dict[str, str]]:
    return {row["name"]: row for row in rows("usual_method")}


def usual_range(entry: Entry, column: str) -> tuple[Fraction, Fraction] | None:
    """The usual amounts of a material in % of the fibre; None where none are known."""
    low, high = entry.facts.get(f"{column}_low", ""), entry.facts.get(f"{column}_high", "")
    return (Fraction(low), Fraction(high)) if low and high else None


def up_the_range(entry: Entry, column: str, share: Fraction) -> Fraction:
    """An amount so far up the usual range, in %, as round as a person would weigh it.

    Raises ``KeyError`` where no range is known.
    """
    found = usual_range(entry, column)
    if found is None:
        raise KeyError(f"{entry.name}: no {column}")
    low, high = found
    return min(max(roundly(low + (high - low) * share), low), high)


def roundly(value: Fraction) -> Fraction:
    """A number as people choose them: 15 for 16.5, 3 for 3.2, 0.6 for 0.613."""
    step = Fraction(5) if value >= 10 else Fraction(1) if value >= 2 else Fraction(1, 10)
    return round(value / step) * step


def minutes(value: Fraction) -> str:
    """A time in whole hours where it is some, else in minutes."""
    return f"{number(value / 60)} h" if value % 60 == 0 else f"{number(value)} min"


def number(value: Fraction) -> str:
    """A number as the language has it, to three figures."""
    return f"{float(f'{float(value):.3g}'):g}"
