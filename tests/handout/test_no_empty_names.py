"""No paper prints an empty name where something that it tells of is not there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from papers import METRIC, in_words

from procedure.handout import bench, lots_paper
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.paper.printers import printed
from procedure.pipeline import Judged, read

EXAMPLE = Path("examples/weld-yellow-wool.dye").read_text("utf-8")
# A gap, or a word that waits for a name, before a stop.
GAP = re.compile(r"\S {2,}\S|\b(?:of|the|in|into|to|from|with|and) ?[.,;:](?= |$)| [.,;]|, ,")


def without_each_line() -> list[str]:
    """The example without each of its declarations, and without each of its steps."""
    lines = EXAMPLE.split("\n")
    begins = lines.index("fibre")
    return [
        "\n".join([*lines[:at], *lines[at + 1 :]])
        for at in range(begins + 1, len(lines))
        if lines[at].startswith("  ")
    ]


def with_its_lot_gone() -> list[str]:
    """The example with its yarn thrown away before each of its steps."""
    lines = EXAMPLE.split("\n")
    first = lines.index("steps") + 1
    steps = [at for at in range(first, len(lines)) if lines[at].startswith("  ")]
    gone = '  discard yarn to "bin"'
    return ["\n".join([*lines[:at], gone, *lines[at:]]) for at in steps]


def sentences(plan: Judged) -> list[str]:
    steps = tell(telling_of(plan, METRIC))
    return [in_words(one.text) for step in steps for one in step.every()]


def gaps(text: str) -> list[str]:
    plan = read(text, "gone.dye")
    said = sentences(plan)
    papers = (bench.paper(bench.bench(plan, METRIC)), lots_paper.paper(plan, METRIC))
    said += [line for one in papers for line in printed(one, ".md", "a4").decode().split("\n")]
    return [one for one in said if GAP.search(one.strip())]


@pytest.mark.parametrize("text", [*without_each_line(), *with_its_lot_gone()])
def test_no_paper_has_a_gap_where_a_name_belongs(text: str) -> None:
    assert set(gaps(text)) <= set(gaps(EXAMPLE))


@pytest.mark.parametrize(
    ("step", "said"),
    [
        ("dye wool-x in dye-bath for 1 h", "Dye “wool-x” in the dye bath for 1 hour."),
        ("rinse wool-x in tub with water 5 L", "Rinse “wool-x” in 5 L of water in the tub."),
        ("add sulphur 2 g to dye-bath", "Add “sulphur” (2 g) to the dye bath."),
        ("clean pan-x", "Clean “pan-x” until"),
        ("chop madder-x", "Chop “madder-x” small."),
        ("put madder-x in bag-x", "“madder-x”"),
        ("wash yarn with soap 5 g at 35 °C", "Wash the yarn with 5 g of neutral soap, at 35 °C"),
    ],
)
def test_what_is_not_there_is_told_as_it_is_written(step: str, said: str) -> None:
    text = (
        'procedure "Gone"\nfibre\n  yarn: wool yarn, 100 g, scoured\n  silk: silk yarn, 50 g\n'
        "equipment\n  pot: stainless steel pot, 12 L\n  tub: plastic tub, 20 L\n"
        "materials\n  soap: neutral soap\n  skins: onion skins\nsteps\n"
        f"  dye-bath: prepare in pot with water 6 L, skins 50 g\n  {step}\n"
    )
    told = sentences(read(text))
    assert any(said in one for one in told), told
