"""DEVELOPERS.md tells the house as it is: its rooms in their order, and files that are there."""

from __future__ import annotations

import re
from pathlib import Path

from test_order_of_rooms import HOUSE, ORDER

PAGE = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
ROWS = re.findall(r"^\| `(\w+)` \| (.+?) \| (.+?) \|$", PAGE, flags=re.MULTILINE)


def test_the_rooms_are_in_the_order_that_imports_keep() -> None:
    assert tuple(name for name, _, _ in ROWS) == ORDER


def test_every_room_has_the_files_to_begin_with() -> None:
    for room, _, files in ROWS:
        home = HOUSE / room if (HOUSE / room).is_dir() else HOUSE
        for file in re.findall(r"`([\w./]+)`", files):
            assert (home / file).exists(), f"{room}: {file}"


def test_every_path_that_the_page_names_is_there() -> None:
    root = HOUSE.parent
    for path in re.findall(r"`((?:procedure|tests|grammar|examples)/[\w./-]+)`", PAGE):
        if "NAME" not in path:
            assert (root / path).exists(), path
