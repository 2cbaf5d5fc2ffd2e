"""Mean, spread and what goes with what, against scipy and by hand."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from procedure.batch.spread import (
    FEWEST,
    GOES_WITH,
    NO_SIGN,
    TOO_FEW,
    differs,
    goes_with,
    rank_correlation,
    ranks,
    sentence,
    spread,
    verdicts,
)
from procedure.colour import Colour, Light, ciede2000

_values = st.lists(st.integers(0, 9).map(float), min_size=2, max_size=7)


def test_equal_values_share_their_ranks() -> None:
    assert ranks([10, 20, 20, 5]) == [2, 3.5, 3.5, 1]


@given(st.data())
def test_the_rank_correlation_is_that_of_scipy(data: st.DataObject) -> None:
    # scipy 1.17, stats.spearmanr: a general reference library.
    stats = pytest.importorskip("scipy.stats")
    one = data.draw(_values)
    other = data.draw(st.lists(st.integers(0, 9).map(float), min_size=len(one), max_size=len(one)))
    assume(len(set(one)) > 1 and len(set(other)) > 1)
    assert rank_correlation(one, other) == pytest.approx(stats.spearmanr(one, other).statistic)


def test_the_exact_tests_are_those_of_scipy() -> None:
    # scipy 1.17, stats.permutation_test over all orders; two-sided by the size.
    stats = pytest.importorskip("scipy.stats")
    numpy = pytest.importorskip("numpy")
    one, other = [3.0, 1, 4, 1, 5, 9], [2.0, 7, 1, 8, 2, 8]
    theirs = stats.permutation_test(
        (one,),
        lambda values: abs(stats.spearmanr(values, other).statistic),
        permutation_type="pairings",
        alternative="greater",
        n_resamples=numpy.inf,
    )
    assert goes_with("x", one, other).chance == pytest.approx(theirs.pvalue, abs=1e-9)
    first, second = [1.0, 2.5, 3.0], [4.0, 2.0, 5.5, 7.0]
    means = stats.permutation_test(
        (first, second),
        lambda a, b: abs(numpy.mean(a) - numpy.mean(b)),
        n_resamples=numpy.inf,
        alternative="greater",
    )
    assert differs("y", first, second).chance == pytest.approx(means.pvalue, abs=1e-9)


def test_a_perfect_order_of_seven_by_hand() -> None:
    # Two of the 7! = 5040 orders are as strong: the same and the reverse.
    found = goes_with("heat", list(range(7)), list(range(7)))
    assert found.strength == pytest.approx(1)
    assert (found.exact, found.orders) == (True, 5040)
    assert found.chance == pytest.approx(2 / 5040)


def test_many_batches_are_drawn_and_always_alike() -> None:
    one, other = list(range(12)), [n * n for n in range(12)]
    first, again = goes_with("x", one, other), goes_with("x", one, other)
    assert first == again and not first.exact and first.chance < 0.001


def test_six_batches_are_too_few_to_say() -> None:
    (verdict,) = verdicts([goes_with("heat", list(range(6)), list(range(6)))])
    assert verdict.said == TOO_FEW and FEWEST == 7
    assert sentence(verdict) == "heat: 6 batches, too few to say."


def test_the_more_is_looked_at_the_stronger_it_must_be() -> None:
    # By hand: the chance of 0.0325... of one order alone stands, of two it is doubled.
    one = goes_with("heat", [1, 2, 3, 4, 5, 6, 7], [1, 3, 2, 5, 4, 7, 6])
    weak = goes_with("time", [1, 2, 3, 4, 5, 6, 7], [4, 1, 7, 2, 6, 3, 5])
    alone, both = verdicts([one]), verdicts([weak, one])
    assert alone[0].chance == pytest.approx(one.chance)
    assert both[0].association is one and both[0].chance == pytest.approx(2 * one.chance)
    assert both[0].said == GOES_WITH and both[1].said == NO_SIGN
    assert "7 batches" in sentence(both[0]) and "no proof" in sentence(both[0])
    assert "no sign" in sentence(both[1])


def test_chance_alone_is_seldom_called_a_cause() -> None:
    # Of series that have nothing to do with each other at most about 5 in 100 may be called so.
    from random import Random

    chance = Random(8)
    called = 0
    for _ in range(60):
        one = [chance.random() for _ in range(7)]
        found = [goes_with(str(n), one, [chance.random() for _ in range(7)]) for n in range(3)]
        called += verdicts(found)[0].said == GOES_WITH
    assert called <= 8


def test_mean_and_spread_by_hand() -> None:
    colours = [Colour(70, 10, 50), Colour(72, 10, 50)]
    found = spread(colours)
    assert found.mean == Colour(71, 10, 50)
    assert found.mcdm == pytest.approx(
        (ciede2000(found.mean, colours[0]) + ciede2000(found.mean, colours[1])) / 2
    )
    assert (found.batches, found.furthest) == (2, max(found.each))


@given(
    st.lists(
        st.builds(
            Colour, st.floats(5, 95), st.floats(-60, 60), st.floats(-60, 60), st.just(Light("A", 2))
        ),
        min_size=1,
        max_size=9,
    )
)
def test_alike_colours_have_no_spread_and_others_some(colours: list[Colour]) -> None:
    assert spread([colours[0]] * 3).mcdm == pytest.approx(0, abs=1e-6)
    found = spread(colours)
    assert 0 <= found.mcdm <= found.furthest + 1e-9
    assert found.mean.light == Light("A", 2)


def test_nothing_has_no_mean() -> None:
    with pytest.raises(ValueError):
        spread([])
    with pytest.raises(ValueError):
        goes_with("x", [1], [1])
    with pytest.raises(ValueError):
        differs("x", [], [1])
