"""In which units and which spelling a paper of a procedure speaks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from procedure.paper.measures import Voice
from procedure.vocabulary import Unit
from procedure.wording.reader import Reader, of_system, of_units, spelling_of

if TYPE_CHECKING:
    from procedure.pipeline import Judged


def voice_of(plan: Judged, units: str | None, spelling: str | None = None) -> Voice:
    """How a paper of a plan speaks: in the units asked for, else in those of its own file."""
    american = units == "us" or (units in ("both", None) and _american(plan))
    spelt = spelling or ("us" if american else "british")
    if units == "both":
        return Voice("both", spelt)
    if units is not None:
        return Voice(units, spelt, of_system(units, spelt))
    written = [said.quantity.unit for said in plan.model.written]
    reader = _reader_of([unit for unit in written if unit is not None], spelt)
    if reader.mass == "metric" and reader.volume == "metric":
        return Voice("metric", spelt, reader, both_as_written=True)
    imperial = any(unit is not None and unit.name.startswith("imp ") for unit in written)
    british = reader.volume == "imperial" or (imperial and not american)
    return Voice("imperial" if british else "us", spelt, reader, both_as_written=True)


def _reader_of(units: list[Unit], spelling: str) -> Reader:
    """The reader of a paper: a single heat does not tell its scale where the amounts tell another.

    Where only one heat is written in degrees, and the rest in words or not at all, a paper in
    litres and grams gives its other heats in °C.
    """
    reader = of_units(units, spelling)
    amounts = [unit for unit in units if unit.kind in ("mass", "volume")]
    if not amounts or sum(unit.kind == "temperature" for unit in units) > 1:
        return reader
    return reader._replace(heat=of_units(amounts, spelling).heat)


def _american(plan: Judged) -> bool:
    """True where the procedure itself is written in US gallons, quarts, pints or ounces."""
    written = [said.quantity for made in plan.study.procedures for said in made.written]
    return spelling_of(one.unit for one in written) == "us"
