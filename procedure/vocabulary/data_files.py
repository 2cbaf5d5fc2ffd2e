"""The data files, as rows of text."""

from __future__ import annotations

import csv
import os
from functools import cache, lru_cache

# To import pathlib takes as long as reading all these files.
DATA = os.path.join(os.path.dirname(__file__), "data")


def rows(table: str) -> list[dict[str, str]]:
    """The rows of one data file as dictionaries of text; none where the file is absent."""
    try:
        with open(f"{DATA}/{table}.csv", encoding="utf-8", newline="") as lines:
            reader = csv.reader(lines)
            header = next(reader)
            return [dict(zip(header, row, strict=True)) for row in reader]
    except FileNotFoundError:
        return []


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
    with open(f"{DATA}/{table}.csv", encoding="utf-8") as file:
        return tuple(file.read().split("\n"))


@lru_cache(maxsize=8192)
def parts(cell: str, between: str = ";") -> tuple[str, ...]:
    """A cell as a list; nothing where it is empty."""
    return tuple(map(str.strip, cell.split(between))) if cell.strip() else ()
