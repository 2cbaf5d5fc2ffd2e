"""What people type on their first day is read as meant, or asked about once and usefully.

The numbers are floors (and, of what is useless, ceilings): change them when the program reads
more. No line may be read as something else. What is kept aside is counted by
``python -m tests.trials.first_day`` alone.
"""

from collections import Counter

import pytest
from first_day import answer, answers, first_files, rows

# The most that may be useless of each open file of lines.
USELESS = {"open": 0, "further_": 6, "later_": 9}
WITHOUT_A_TRAIN = 6


@pytest.mark.parametrize("half", USELESS)
def test_lines_of_the_first_day_are_read_or_asked_about(half: str) -> None:
    met = {row["text"]: answer(row) for row in rows(half)}
    counted = Counter(one.met for one in met.values())
    assert not {text: one.said for text, one in met.items() if one.met == "wrong"}
    assert counted["useless"] <= USELESS[half], {
        text: one.said for text, one in met.items() if one.met == "useless"
    }


def test_first_files_bring_no_train_of_findings() -> None:
    made = {one.name: answers(one) for one in first_files("open")}
    assert not {name: one["said"] for name, one in made.items() if one["silent"]}
    clean = [one for one in made.values() if not (one["too many"] or one["differs"])]
    assert len(clean) >= WITHOUT_A_TRAIN, made
