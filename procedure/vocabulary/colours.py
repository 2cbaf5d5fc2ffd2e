"""The colours that dyestuffs give, from ``data/colours.csv`` and ``data/lightfastness.csv``."""

from __future__ import annotations

from functools import cache

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.library import rows

# What the table says where a fibre has met no mordant.
NO_MORDANT = "none"
# The classes of fibre, as a dyer speaks of them.
FIBRES = {"protein": "wool", "cellulose": "cotton and linen", "silk": "silk"}


class Shade(NamedTuple):
    """A colour that a dyestuff gives on a class of fibre (protein, silk, cellulose).

    ``mordant`` is the mordant's metal or none, ``after`` what was done besides (``alkali``,
    ``overdye: indigo``) or empty. ``hex`` is an approximate swatch like #c8a232, empty
    where there is none; ``family`` is one of the plain colours. ``part`` are the parts of the
    plant that were used, empty where the source does not say. ``estimate`` is true of what no
    source tells and is worked out from two colours, one over the other.
    """

    dyestuff: str
    fibre: str
    mordant: str
    after: str
    colour: str
    family: str
    hex: str
    source: str
    part: str = ""
    estimate: bool = False


@cache
def shades() -> tuple[Shade, ...]:
    """Every colour of the table, in its order."""
    return tuple(
        Shade(
            row["dyestuff"],
            row["fibre"],
            row["mordant"] or NO_MORDANT,
            row["after"],
            row["colour"],
            row["family"],
            row["hex"],
            row["source"],
            row["part"],
        )
        for row in rows("colours")
    )


@cache
def _by_key() -> dict[tuple[str, str, str, str], tuple[Shade, ...]]:
    found: dict[tuple[str, str, str, str], tuple[Shade, ...]] = {}
    for one in shades():
        key = (one.dyestuff, one.fibre, one.mordant, one.after)
        found[key] = (*found.get(key, ()), one)
    return found


def colour_of(
    dyestuff: str, fibre: str, mordant: str = NO_MORDANT, after: str = "", part: str = ""
) -> Shade | None:
    """What the table gives for just that; None where it gives nothing.

    ``part`` is that of the plant which was used; a birch's bark gives red, its leaves yellow.
    Where the parts that the table knows give several colours and it is none of them, or it is
    not said which, there is no telling.
    """
    known = _by_key().get((dyestuff, fibre, mordant, after), ())
    if part:
        own = next((one for one in known if part in one.part.split("; ")), None)
        if own is not None:
            return own
    any_part = next((one for one in known if not one.part), None)
    alike = len({one.colour for one in known}) == 1
    return any_part or (known[0] if alike else None)


def colours_of(
    dyestuff: str, fibre: str = "", mordant: str = "", after: str = ""
) -> tuple[Shade, ...]:
    """Every colour of a dyestuff; what is named besides must fit."""
    return tuple(
        one
        for one in shades()
        if one.dyestuff == dyestuff
        and fibre in ("", one.fibre)
        and mordant in ("", one.mordant)
        and after in ("", one.after)
    )


def families() -> tuple[str, ...]:
    """The plain colours of the table, in the order of their names."""
    return tuple(sorted({one.family for one in shades()}))


class Fastness(NamedTuple):
    """How fast a dyestuff is to light: good, fair, poor or fugitive; ``grade`` as measured."""

    mordant: str
    fibre: str
    grade: str
    word: str
    source: str


def fastness(dyestuff: str) -> tuple[Fastness, ...]:
    """What is published on a dyestuff's fastness to light."""
    return tuple(
        Fastness(row["mordant"], row["fibre"], row["grade"], row["word"], row["source"])
        for row in rows("lightfastness")
        if row["dyestuff"] == dyestuff
    )
