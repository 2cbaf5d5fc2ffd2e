"""Nothing is dropped: a near miss of any word or number is told of, or means the same.

The quick test tries a sample, another each time the texts change but the same for the same
texts; the slow one tries them all (tens of thousands of texts).
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from near_misses import missed, misses, paths

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
