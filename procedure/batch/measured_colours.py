"""The colours of a record as CIELAB, whatever form they were written in."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from io import StringIO
from pathlib import Path

from procedure.batch.tables import text_of_table
from procedure.batch.types import Measured, Result
from procedure.collection.bytes_of import bytes_of
from procedure.colour import Colour, Light, from_hex, from_srgb, from_xyz
from procedure.colour.space import USUAL, white_points
from procedure.quantity.record import NamedTuple

MOST_BYTES = 20_000_000


# What a dyer says of a colour without measuring it: words, or that nobody knows any more.
UNMEASURED = ("words", "unstated")


class NoColour(ValueError):
    """A colour that cannot be worked out; the text is a plain sentence."""


def colour_of(
    measured: Measured, folder: Path | None = None, left_out: list[str] | None = None
) -> Colour:
    """A written colour as CIELAB under the light it was measured under.

    Where the record does not say the light, D65 and 10 degrees are taken. ``folder`` is where
    a meter's file is looked for; what its mean leaves out is added to ``left_out`` as a
    sentence. Raises :class:`NoColour`.
    """
    light = measured.light or USUAL
    if measured.form == "hex":
        return from_hex(measured.text)
    if measured.form == "Munsell":
        from procedure.colour.munsell import NotMunsell, colour_of

        try:
            return colour_of(measured.text)
        except NotMunsell as reason:
            raise NoColour(f"{reason}.") from None
    if measured.form == "meter":
        return _metered(measured, folder, [] if left_out is None else left_out)
    one, two, three = measured.values
    if measured.form == "sRGB":
        return from_srgb(one, two, three)
    if measured.form == "XYZ":
        return from_xyz((one, two, three), light)
    return Colour(one, two, three, light)


# The forms from the most to the least exact: a meter's figures go before a screen's.
_EXACT = ("meter", "Lab", "XYZ", "Munsell", "sRGB", "hex")


def of_result(
    result: Result, folder: Path | None = None
) -> tuple[Colour | None, str, tuple[str, ...]]:
    """The colour of a lot, the form it comes from, and why others could not be used.

    Where there are several, the mean of those in the most exact form is taken.
    """
    trouble: list[str] = []
    for form in _EXACT:
        found: list[Colour] = []
        for measured in result.colours:
            if measured.form != form:
                continue
            try:
                found.append(colour_of(measured, folder, trouble))
            except NoColour as reason:
                trouble.append(str(reason))
        if found:
            from procedure.batch.spread import spread

            return spread(found).mean, form, tuple(trouble)
    return (
        None,
        next((one.form for one in result.colours if one.form in UNMEASURED), ""),
        tuple(trouble),
    )


class _Row(NamedTuple):
    name: str
    colour: Colour


def _metered(measured: Measured, folder: Path | None, left_out: list[str]) -> Colour:
    """The mean of a meter's readings, of those of its row where the record names one."""
    path = (folder or Path()) / measured.file
    try:
        data = bytes_of(path, MOST_BYTES)
        if len(data) > MOST_BYTES:
            raise NoColour(f"{measured.file} is larger than a meter’s file can be.")
        text = text_of_table(data)
    except OSError as reason:
        said = (reason.strerror or str(reason)).lower()
        raise NoColour(f"{measured.file} cannot be read: {said}.") from None
    try:
        unread: list[str] = []
        rows = meter_rows(text, measured.light or USUAL, unread)
    except ValueError as reason:
        raise NoColour(f"{measured.file}: {reason}.") from None
    named = [row for row in rows if not measured.text or row.name == measured.text]
    if not named:
        raise NoColour(f"{measured.file} has no row “{measured.text}”.")
    missed = sum(not measured.text or name == measured.text for name in unread)
    if missed:
        many = f"{missed} readings are" if missed > 1 else "1 reading is"
        of = f" of row “{measured.text}”" if measured.text else ""
        left_out.append(f"{measured.file}: {many} no L*, a* and b*, and left out of the mean{of}.")
    from procedure.batch.spread import spread

    return spread([row.colour for row in named]).mean


def meter_rows(text: str, light: Light = USUAL, unread: list[str] | None = None) -> list[_Row]:
    """The readings in a colour meter's CSV: columns L*, a*, b* (or L, a, b), perhaps a name.

    Columns ``illuminant`` and ``observer`` say the light of a row where they are there.
    The names of rows that hold no such numbers are added to ``unread``. Raises ``ValueError``
    where the columns are missing or nothing can be read.
    """
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    head = lines.split("\n", 1)[0]
    mark = max(",;\t", key=head.count)
    try:
        table = list(csv.reader(StringIO(lines), delimiter=mark))
    except csv.Error as reason:
        raise ValueError(f"it is no CSV: {reason}") from None
    for at, row in enumerate(table[:50]):
        names = [cell.strip().casefold().replace("*", "") for cell in row]
        if {"l", "a", "b"} <= set(names):
            found = list(_readings(table[at + 1 :], names, mark, light, unread))
            if not found:
                raise ValueError("no line has L*, a* and b* as numbers")
            return found
    raise ValueError("no line names the columns L*, a* and b*")


def _readings(
    rows: list[list[str]], names: list[str], mark: str, light: Light, unread: list[str] | None
) -> Iterable[_Row]:
    places = [names.index(name) for name in "lab"]
    called = next((names.index(n) for n in ("name", "sample", "id") if n in names), None)
    for row in rows:
        name = row[called].strip() if called is not None and len(row) > called else ""
        figures = _figures(row, places, mark)
        if figures is not None:
            yield _Row(name, Colour(*figures, _light(row, names, light)))
        elif unread is not None and any(cell.strip() for cell in row):
            unread.append(name)


def _figures(row: list[str], places: list[int], mark: str) -> tuple[float, float, float] | None:
    """L*, a* and b* of a row; None where they are no numbers, or none that a yarn can have."""
    if len(row) <= max(places):
        return None
    cells = [row[at].strip().replace("−", "-") for at in places]
    if mark != ",":
        cells = [cell.replace(",", ".") for cell in cells]
    try:
        lightness, a, b = map(float, cells)
    except ValueError:
        return None
    known = 0 <= lightness <= 100 and abs(a) <= 200 and abs(b) <= 200
    return (lightness, a, b) if known else None


def _light(row: list[str], names: list[str], light: Light) -> Light:
    def cell(name: str) -> str:
        at = names.index(name) if name in names else len(row)
        return row[at].strip() if at < len(row) else ""

    illuminant, observer = cell("illuminant"), cell("observer").rstrip("° ")
    degrees = int(observer) if observer in ("2", "10") else light.observer
    said = Light(illuminant or light.illuminant, degrees)
    if said not in white_points() or observer not in ("", "2", "10"):
        known = ", ".join(dict.fromkeys(one.illuminant for one in white_points()))
        raise ValueError(
            f"the light {illuminant or light.illuminant} at {observer or degrees}° is not known; "
            f"illuminants are {known}, observers 2° and 10°"
        )
    return said
