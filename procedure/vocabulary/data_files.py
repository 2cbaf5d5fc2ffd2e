"""The data files, as rows of text."""

from __future__ import annotations

import io
import os
from fractions import Fraction
from functools import cache, lru_cache

from procedure.quantity.exact import exactly
from procedure.quantity.kept_ready import kept_ready, kept_together
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import TypeVar

    Made = TypeVar("Made")

# To import pathlib takes as long as reading all these files.
DATA = os.path.join(os.path.dirname(__file__), "data")


def rows(table: str) -> list[dict[str, str]]:
    """The rows of one data file as dictionaries of text; none where the file is absent."""
    try:
        found: list[dict[str, str]] = kept_ready(f"{DATA}/{table}.csv", _rows)
    except FileNotFoundError:
        return []
    return found


def _rows(data: bytes) -> list[dict[str, str]]:
    """The rows of a file with those bytes; to load them so takes a third of making them so."""
    import csv

    header, *found = csv.reader(io.StringIO(data.decode("utf-8"), newline=""))
    return [dict(zip(header, row, strict=True)) for row in found]


def tables() -> list[str]:
    """The names of all data files, in their order."""
    return sorted(name[:-4] for name in os.listdir(DATA) if name.endswith(".csv"))


def as_text(table: str) -> str:
    """All of one data file as it is written."""
    with open(f"{DATA}/{table}.csv", encoding="utf-8") as file:
        return file.read()


def kept_of_tables(made: Callable[[], Made]) -> Callable[[], Made]:
    """Makes a function that works something out of the tables work it out but once.

    What it gives is kept as Python keeps code, until a table changes, or a file of its room or
    of this one: so it is of tuples, sets that do not change, dictionaries, text and numbers,
    and the same in whatever order sets are walked. A function that asks a third room must not
    be kept.
    """
    file = made.__code__.co_filename
    name = f"{made.__module__.removeprefix('procedure.')}-{made.__name__.strip('_')}.kept"

    @cache
    def kept() -> Made:
        folders = (os.path.dirname(file), os.path.dirname(__file__), DATA)
        found: Made = kept_together(f"{DATA}/{name}", made, folders)
        return found

    KEPT[name] = made
    return kept


# By the name of what is kept, the functions that make it.
KEPT: dict[str, Callable[[], object]] = {}


# Cells are read again for every plan, and there are only so many of them.
@lru_cache(maxsize=8192)
def exact(cell: str) -> Fraction:
    """A cell as an exact number."""
    return exactly(int(cell) if cell.isdecimal() else Fraction(cell))


@lru_cache(maxsize=8192)
def parts(cell: str, between: str = ";") -> tuple[str, ...]:
    """A cell as a list; nothing where it is empty."""
    return tuple(map(str.strip, cell.split(between))) if cell.strip() else ()
