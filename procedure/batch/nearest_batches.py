"""From a colour to the batches that came nearest to it, with what each needed."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from procedure.batch.folder import Batch, LotShade
from procedure.batch.line_values import colour as read_colour
from procedure.batch.measured_colours import NoColour, colour_of
from procedure.batch.methods import percent_of_fibre
from procedure.batch.record_lines import RecordEntry, RecordReader
from procedure.batch.record_words import words_of
from procedure.colour import Colour, ciede2000
from procedure.quantity.record import NamedTuple


class Near(NamedTuple):
    """A batch's lot, how far its colour is from the wanted one (CIEDE2000), what it needed.

    ``needs`` are materials as shares of the fibre's weight; ``lasts`` says whether the lot
    was tested in light or wash.
    """

    batch: Batch
    shade: LotShade
    difference: float
    needs: dict[str, Fraction]


def wanted(text: str) -> Colour:
    """A colour as a person writes it: ``#c8a232``, ``5Y 7/8``, ``Lab 70 5 60``.

    Raises ``ValueError`` with a sentence where it is none.
    """
    said = text.strip()
    tries = [said] if said.split(" ", 1)[0] in ("Lab", "XYZ", "sRGB", "hex", "Munsell") else []
    tries += [f'hex "{said}"', f'Munsell "{said}"'] if '"' not in said else []
    for one in tries:
        tokens, comment = words_of(f"colour {one}", 1)
        reader = RecordReader("", "colour")
        if not tokens:
            continue
        found = read_colour(reader, RecordEntry(2, list(tokens), comment), list(tokens[1:]))
        if found is None or any(finding.level == "error" for finding in reader.findings):
            continue
        if found.form == "meter":
            break
        try:
            return colour_of(found)
        except NoColour as reason:
            raise ValueError(str(reason)) from None
    raise ValueError(
        f"“{text[:40]}” is not a colour; write one as #c8a232, 5Y 7/8 or "
        "Lab 70 5 60 under D65 at 10°."
    )


def nearest(colour: Colour, batches: Sequence[Batch]) -> tuple[Near, ...]:
    """Every lot that has a colour, the nearest first."""
    found = [
        Near(batch, shade, ciede2000(colour, shade.colour), percent_of_fibre(batch.record))
        for batch in batches
        for shade in batch.shades
        if shade.colour is not None
    ]
    return tuple(sorted(found, key=lambda one: (one.difference, str(one.batch.path))))
