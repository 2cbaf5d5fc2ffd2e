"""Nothing is dropped: a near miss of any word or number is told of, or means the same.

The quick test tries a sample, another each time the texts change but the same for the same
texts; the slow one tries them all (tens of thousands of texts).
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from near_misses import Miss, missed, misses, paths

from procedure.pipeline import read

SAMPLE = 4


def passing(path: Path, most: int | None) -> list[str]:
    """The near misses of a file that pass without a word."""
    text = path.read_text("utf-8")
    sound = read(text, path.name, path)
    every = list(misses(text))
    tried = every if most is None else random.Random(len(text)).sample(every, most)
    return [
        f"{one.line}:{one.column} “{one.was}” to “{one.now}”"
        for one in tried
        if missed(one, sound, path)
    ]


@pytest.mark.parametrize("path", paths(), ids=lambda path: path.stem)
def test_a_few_near_misses_of_each_example(path: Path) -> None:
    assert not passing(path, SAMPLE)


@pytest.mark.exhaustive
@pytest.mark.parametrize("path", paths(), ids=lambda path: path.stem)
def test_every_near_miss(path: Path) -> None:
    assert not passing(path, None)


def test_every_strength_below_nothing_is_told_of() -> None:
    path = Path("examples/weld-yellow-wool.dye")
    text = path.read_text("utf-8").replace("materials\n", "materials\n  sour: white vinegar, 5 %\n")
    text = text.rstrip("\n") + "\n  rinse yarn in tub with water 5 L, sour 50 mL\n"
    sound = read(text, path.name, path)
    changed = [one for one in misses(text) if one.was == "5" and "vinegar" in _line(one)]
    assert changed
    assert not [one for one in changed if missed(one, sound, path)]


def _line(miss: Miss) -> str:
    return miss.text.split("\n")[miss.line - 1]
