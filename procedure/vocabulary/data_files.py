"""The data files, as rows of text."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

DATA = Path(__file__).parent / "data"


def rows(table: str) -> list[dict[str, str]]:
    """The rows of one data file as dictionaries of text; none where the file is absent."""
    path = DATA / f"{table}.csv"
    if not path.exists():
        return []
    with path.open(encoding="utf-8", newline="") as lines:
        reader = csv.reader(lines)
        header = next(reader)
        return [dict(zip(header, row, strict=True)) for row in reader]


def rows_with(table: str, word: str) -> list[dict[str, str]]:
    """The rows of one data file in which a word is written, whatever the cell.

    No cell of such a file holds a line end. For a long file of which a procedure concerns a
    few rows: to find those takes a tenth of the time that reading them all does.
    """
    header, *lines = _lines(table)
    reader = csv.reader([header, *[line for line in lines if word in line]])
    columns = next(reader)
    return [dict(zip(columns, row, strict=True)) for row in reader]


@cache
def _lines(table: str) -> tuple[str, ...]:
    return tuple((DATA / f"{table}.csv").read_text(encoding="utf-8").split("\n"))


def parts(cell: str, between: str = ";") -> tuple[str, ...]:
    """A cell as a list; nothing where it is empty."""
    return tuple(map(str.strip, cell.split(between))) if cell.strip() else ()
