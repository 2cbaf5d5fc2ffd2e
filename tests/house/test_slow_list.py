"""The list of slow tests names what is there."""

from __future__ import annotations

import re

from slow_list import SLOW
from test_order_of_rooms import ROOT

TESTS = ROOT / "tests"


def test_every_line_of_the_list_is_a_folder_a_file_or_a_test() -> None:
    assert list(SLOW) == sorted(set(SLOW))
    for line in SLOW:
        file, _, test = line.partition("::")
        assert (TESTS / file).exists(), line
        if test:
            text = (TESTS / file).read_text(encoding="utf-8")
            assert re.search(rf"^(async )?def {test}\(", text, re.MULTILINE), line
