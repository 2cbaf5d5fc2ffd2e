"""The bench sheet: no clock that runs backwards, vessels as they are, and labels for vats."""

from __future__ import annotations

from papers import EXAMPLES, METRIC, loaded, plan_of

from procedure.handout import bench, labels_paper
from procedure.handout.bench import PROPOSED
from procedure.handout.labels import labels
from procedure.paper import in_text

SIX = next(path for path in EXAMPLES if path.stem == "six-lots-three-baths")
STRAIGHT = next(path for path in EXAMPLES if path.stem == "gall-grey-linen")


def sheet(example: str) -> str:
    return in_text.page(bench.paper(bench.bench(plan_of(example), METRIC)))


def labelled(example: str) -> str:
    return in_text.page(labels_paper.paper(labels(plan_of(example), METRIC)))


def test_where_the_clock_would_run_backwards_the_days_are_told_at_the_head() -> None:
    made = bench.bench(loaded(SIX), METRIC)
    assert made.days[0].startswith("Day 1, ") and made.days[-1] == PROPOSED
    assert not any(
        "day " in part for line in made.lines for part in line.how if isinstance(part, str)
    )


def test_where_it_runs_on_each_step_has_its_time() -> None:
    made = bench.bench(loaded(STRAIGHT), METRIC)
    assert made.days == (PROPOSED,)
    timed = [line for line in made.lines if any("day " in str(part) for part in line.how)]
    assert len(timed) == len(made.lines)


def test_a_bath_is_kept_in_its_jar_and_not_in_the_pot() -> None:
    steps = (
        "a: prepare in kettle with water 3 L, alum 10 g\n"
        "keep a as old-mordant in jar labelled\nclean kettle"
    )
    assert "in the jar · as “old mordant”" in sheet(steps)
    assert "called “old mordant”" in labelled(steps)


def test_a_vat_has_a_label_and_so_has_what_is_carried_away() -> None:
    vat = "v: prepare in kettle with water 3 L, indigo 3 g, soda 5 g, fructose 5 g\n"
    assert "Vat of indigo 1 g/L" in labelled(f'{vat}discard v to "foul drain"')
    bath = "a: prepare in kettle with water 3 L, iron 3 g\n"
    assert "Bath of ferrous sulphate" not in labelled(f'{bath}discard a to "foul drain"')
    carried = f'{bath}discard a to "the collection point, in a can"'
    assert "Bath of ferrous sulphate 1 g/L" in labelled(carried)
