"""Lines that are written as one before them are read as if they were new."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest

from procedure.language import one_line, reading
from procedure.language.equal_lines import A_WORD, LONG, MOST, EqualLines
from procedure.language.kept_lines import Said
from procedure.language.tree import Line, Token

ROOT = Path(__file__).resolve().parent.parent.parent
FILES = sorted([*(ROOT / "examples").rglob("*.dye"), *(ROOT / "tests/trials").rglob("*.dye")])


def plain(tree: Any) -> Any:
    """A tree with its lines as plain data, which can be compared."""
    if isinstance(tree, Line):
        return [plain(getattr(tree, name)) for name in Line.__slots__]
    if isinstance(tree, (list, tuple)):
        return [type(tree).__name__, *map(plain, tree)]
    return tree


def anew(text: str) -> Any:
    """The tree of a text, of which no line is read as one before it."""
    with patch.object(EqualLines, "at", lambda *_: None):
        return plain(reading.read(text))


@pytest.mark.parametrize("path", FILES[::4], ids=lambda path: path.stem)
def test_in_the_same_place_and_in_another(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    reading.read(text)
    assert plain(reading.read(text)) == anew(text)
    lower = f"# a line more\n\n{text}"
    assert plain(reading.read(lower)) == anew(lower)
    assert plain(reading.read(text)) == anew(text)


def test_they_are_read_once() -> None:
    reading.read('procedure "One"\n\nsteps\n  clean the-one-and-only-pot\n')
    with patch.object(one_line, "plainly", side_effect=AssertionError):
        tree = reading.read('procedure "Two"\n\nsteps\n\n  clean the-one-and-only-pot\n')
    (line,) = tree.sections[-1].lines
    assert line.node is not None and line.first.line == 5


def test_names_that_the_text_has_made_are_asked_for_each_time() -> None:
    line = "  steep yarn in sour bath, soak and drain\n"
    with_bath = f'procedure "One"\n\nmaterials\n  sour-bath: kept bath\n\nsteps\n{line}'
    with_verbs = f'procedure "Two"\n\nmaterials\n  soak: neutral soap\n\nsteps\n{line}'
    for text in (with_bath, with_verbs, with_bath):
        assert plain(reading.read(text)) == anew(text)
    assert anew(with_bath)[1][-1] != anew(with_verbs)[1][-1]


def test_what_is_kept_has_an_end() -> None:
    kept = EqualLines()
    said = Said((), ())
    words = [Token("NAME", "pot", 1, 3)] * 20
    for number in range(3 * MOST // 200):
        kept.keep("step", f"  clean pot-{number}", 1, words, said)
    for number in range(1, LONG):  # each in so many places
        kept.at("step", "  clean pot-0", number)
        kept.at("step", f"  clean pot-{3 * MOST // 200 - 1}", number)
    held = [places for one in (kept._new, kept._old) for places in one.values()]
    assert sum(len(read.tokens) for places in held for read in places.values()) <= 2 * MOST / A_WORD
    assert kept.at("step", "  clean pot-0", 1) is None
    assert kept.at("step", f"  clean pot-{3 * MOST // 200 - 1}", 2) is not None


def test_few_long_lines_are_kept() -> None:
    kept = EqualLines()
    for number in range(3 * MOST // 4000):
        kept.keep("step", f'  do "{number} {"long " * 800}"', 1, [], Said((), ()))
    assert sum(len(raw) for one in (kept._new, kept._old) for _, raw in one) <= 2 * MOST + 2 * 4100
