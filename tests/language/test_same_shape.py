"""A step is read alike whether or not another of its shape was read before."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedure.language import one_line, reading, words
from procedure.language.equal_lines import EqualLines
from procedure.language.same_shape import MOST, PlainShapes, shape_of
from procedure.language.tree import Line, Tree

ROOT = Path(__file__).parents[2]
TRIALS = ROOT / "tests" / "trials"
FILES = sorted([*(ROOT / "examples").rglob("*.dye"), *TRIALS.rglob("*.dye")])


class NoShapes(PlainShapes):
    """Knows no shape, so that every step is looked through."""

    def __contains__(self, shape: object) -> bool:
        return False


def told(tree: Tree) -> list[Any]:
    """A tree as values that can be compared."""

    def line(one: Line) -> Any:
        kept = (one.node, one.first, one.opens, one.said, one.names, one.written)
        return (*kept, [line(inner) for inner in one.block])

    lines = [(s.name, s.title, [line(one) for one in s.lines]) for s in tree.sections]
    return [lines, tree.faults, tree.said_of]


@pytest.fixture
def read_with(monkeypatch: pytest.MonkeyPatch) -> Callable[[PlainShapes, str], Any]:
    """Reads a text with the shapes that are known so far; no line is known by its words."""

    def read(shapes: PlainShapes, text: str) -> Any:
        monkeypatch.setattr(one_line, "_PLAIN", shapes)
        monkeypatch.setattr(one_line, "_EQUAL", EqualLines())
        return told(reading.read(text))

    return read


def typed() -> list[str]:
    """Texts with what people typed, ten lines each, as steps of one procedure."""
    said: list[str] = []
    for path in sorted(TRIALS.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as lines:
            for row in csv.DictReader(lines):
                said += [one for key in ("text", "said", "means") for one in (row.get(key) or "",)]
    steps = [line for one in said for line in one.split("\n") if line.strip()]
    begun = 'procedure "x"\n\nfibre\n  lot-1: wool yarn, 100 g\n\nsteps\n'
    return [
        begun + "".join(f"  {one.strip()}\n" for one in steps[at : at + 10])
        for at in range(0, len(steps), 10)
    ]


def test_every_text_is_read_as_where_no_shape_is_known(
    read_with: Callable[[PlainShapes, str], Any],
) -> None:
    texts = [path.read_text("utf-8") for path in FILES] + typed()
    none, known = NoShapes(), PlainShapes()
    plain = [read_with(none, text) for text in texts]
    for _ in range(2):  # at first as they come to be known, then all known
        for text, one in zip(texts, plain, strict=True):
            assert read_with(known, text) == one, text[:200]
    assert len(known._known) > 500


NUMBERS = st.sampled_from(["1", "3", "20", "3000", "1.5", "0.25", "3/4", "2 1/2"])
NAMES = st.sampled_from(
    "lot-1 lot-22 gold-skein dye-bath alum-vat2 scrub-water t-shirt x-bath rose-madder yarn".split()
)


@given(
    st.lists(st.tuples(NAMES, NAMES, NUMBERS, NUMBERS), max_size=12),
    st.sampled_from(
        (
            "dye {a} in {b} at {n} °C for {m} min",
            "prepare in {a} with water {n} L, {b} {m} % of {a}",
            "put {a} in {b} and simmer {m} min",
            "add {n} g of {a} to {b}, then stir",
            "steep {a} in {b} with {n} times its weight of water",
            "add water {n} times the weight of {a} to {b}",
            "leave {a} to cool to {n} °C",
            "rinse {a} in {b} {m} times",
        )
    ),
)
def test_numbers_and_names_play_no_part(rows: list[tuple[str, str, str, str]], said: str) -> None:
    steps = "".join(f"  {said.format(a=a, b=b, n=n, m=m)}\n" for a, b, n, m in rows)
    text = f'procedure "x"\n\nfibre\n  lot-1: wool yarn, 100 g\n\nsteps\n{steps}'
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(one_line, "_EQUAL", EqualLines())
        patch.setattr(one_line, "_PLAIN", NoShapes())
        plain = told(reading.read(text))
        patch.setattr(one_line, "_EQUAL", EqualLines())
        patch.setattr(one_line, "_PLAIN", PlainShapes())
        assert told(reading.read(text)) == plain


def shape(line: str, *sorts: str) -> tuple[str, ...]:
    """The shape of a step."""
    return shape_of(words.step_words(line, 1, []), sorts)


def test_what_a_shape_tells_apart() -> None:
    assert shape("dye lot-1 in dye-bath at 60 °C") == shape("dye lot-22 in dye-bath at 85 °C")
    assert shape("dye gold-skein in vat") == shape("dye moss-skein in vat")
    assert shape("add water 3 times the weight of a-1") != shape(
        "add water 1.5 times the weight of a-1"
    )
    # The end of a name may say what sort of thing it is, and a word of a table is no name.
    assert shape("dye gold-skein in vat") != shape("dye gold-hank in vat")
    assert shape("dye lot-1 in vat") != shape("dye yarn in vat")
    assert shape("dye yarn in my-vat1") != shape("dye yarn in my-vat")
    assert shape("dye t-shirt in vat") != shape("dye o-shirt in vat")
    assert shape("dye x-ray in vat") != shape("dye y-ray in vat")
    # What the text itself gives a meaning has no shape.
    assert shape("dye lot-1 in vat", "lot-1") == ()


def test_only_so_many_are_kept() -> None:
    shapes = PlainShapes()
    last = MOST // 1000 + 1
    for at in range(last + 1):
        shapes.add((f"{at:1000}",))
    assert (f"{last:1000}",) in shapes
    assert (f"{0:1000}",) not in shapes
