"""The commonest mistakes of beginners: each has a sentence and a remedy of its own, said first.

``beginners/common.csv`` changes one thing in ``beginners/first-procedure.dye``; the sentences
were read one by one before they were entered.
"""

import csv
from pathlib import Path

import pytest

from procedure.findings import LEVELS
from procedure.pipeline import read

HERE = Path(__file__).parent / "beginners"
BASE = (HERE / "first-procedure.dye").read_text(encoding="utf-8")
PARTS = 8
LEAST = 60


def mistakes() -> list[dict[str, str]]:
    """The mistakes: what was, what is written for it, and what is said first."""
    with (HERE / "common.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("part", range(PARTS))
def test_each_common_mistake_is_answered_first(part: int) -> None:
    sound = {(one.rule, one.sentence) for one in read(BASE, "base").findings}
    for row in mistakes()[part::PARTS]:
        assert row["was"] in BASE, row["mistake"]
        text = BASE.replace(row["was"], row["now"], 1)
        found = [o for o in read(text, "x").findings if (o.rule, o.sentence) not in sound]
        found.sort(key=lambda one: (LEVELS.index(one.level), one.line))
        said = (found[0].sentence, found[0].remedy) if found else ("", "")
        assert said == (row["says"], row["remedy"]), row["mistake"]


def test_a_beginner_is_answered_in_sixty_ways() -> None:
    said = [(row["says"], row["remedy"]) for row in mistakes()]
    assert len(said) == len(set(said))
    assert len({sentence for sentence, _ in said}) >= LEAST


def test_the_first_procedure_is_sound() -> None:
    assert {one.level for one in read(BASE, "base").findings} <= {"note"}
