"""The vocabulary's data files and the reference files beside these tests, read as text."""

from __future__ import annotations

import csv
from pathlib import Path

DATA = Path(__file__).parents[2] / "procedure" / "vocabulary" / "data"
REFERENCE = Path(__file__).parent / "reference"

Row = dict[str, str]


def rows(table: str, folder: Path = DATA) -> list[Row]:
    """Every row of one file; a row with too many or too few cells raises ValueError."""
    with (folder / f"{table}.csv").open(encoding="utf-8", newline="") as lines:
        header, *body = csv.reader(lines)
    return [dict(zip(header, cells, strict=True)) for cells in body]


def by_name(table: str) -> dict[str, Row]:
    """The rows of one file under the text of their first cell."""
    return {next(iter(row.values())): row for row in rows(table)}


def words(cell: str) -> list[str]:
    """A list cell: its words, without the ``; `` between them."""
    return cell.split("; ") if cell else []
