"""A language server that runs for days holds what is open, and no more for all it has seen."""

from __future__ import annotations

import gc
import tracemalloc
from pathlib import Path

from procedure.service.again import MOST_TEXTS
from procedure.service.answers import answer
from procedure.service.desk import Desk

EXAMPLES = Path(__file__).parents[2] / "examples"
TEXT = (EXAMPLES / "tansy-gold-and-moss.dye").read_text("utf-8")
FOLLOWS = EXAMPLES / "plans" / "workshop-day.dye"


def named(number: int) -> str:
    """The example with names of lots and baths that no other has."""
    return TEXT.replace("tansy-bath", f"bath-{number}").replace("moss", f"moss-{number}")


def known(desk: Desk) -> set[str]:
    """The files of which anything is kept."""
    again = desk._again
    return {*again._files, *again._lines, *again._kept}


def test_of_a_closed_text_nothing_is_kept() -> None:
    desk = Desk()
    desk.put(FOLLOWS, FOLLOWS.read_text("utf-8"))
    one = EXAMPLES / "tansy-gold-and-moss.dye"
    desk.put(one, TEXT)
    for path in (FOLLOWS, one):
        assert "findings" in answer(desk, path, {"ask": "findings"})
    assert len(known(desk)) > 2
    desk.close(FOLLOWS)
    assert known(desk) == {str(one)}
    desk.close(one)
    assert known(desk) == set()


def test_plans_of_only_so_many_texts_are_kept(tmp_path: Path) -> None:
    desk = Desk()
    paths = [tmp_path / f"{number}.dye" for number in range(MOST_TEXTS + 5)]
    for path in paths:
        path.write_text('procedure "One"\n', "utf-8")
        desk.plan(path)  # asked of, and never opened
    assert known(desk) == {str(path.resolve()) for path in paths[5:]}
    desk.plan(paths[5])
    desk.plan(paths[0])
    assert str(paths[5].resolve()) in known(desk)  # it was asked of since
    assert str(paths[6].resolve()) not in known(desk)


def grown(texts: int, desk: Desk, path: Path, of: int) -> int:
    """The bytes by which all has grown while a long note was typed in so many texts."""
    gc.collect()
    tracemalloc.start()
    for number in range(texts):
        note = f'  dry yarn note "{f"it was sour {of}{number} and smelt " * 120}"\n'
        answer(desk, path, {"ask": "findings", "text": TEXT + note})
        for ask in ("clauses", "outline"):
            answer(desk, path, {"ask": ask, "line": 20, "column": 5})
    gc.collect()
    size, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return size


def test_long_lines_that_are_typed_leave_nothing_behind(tmp_path: Path) -> None:
    desk, path = Desk(), tmp_path / "one.dye"
    grown(5, desk, path, 1)  # what is worked out once, and what is kept of the last texts
    # Nearly four thousand letters, of which a dozen things are asked. What leaks does so each time;
    # what is worked out once for all that is written (tables, patterns) does not.
    more = [grown(30, desk, path, of) - grown(10, desk, path, of + 1) for of in (2, 4, 6)]
    assert min(more) < 20 * 12_000
