"""The data files, as rows of text."""

from __future__ import annotations

import csv
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


def parts(cell: str, between: str = ";") -> tuple[str, ...]:
    """A cell as a list; nothing where it is empty."""
    return tuple(part.strip() for part in cell.split(between)) if cell.strip() else ()
