"""What holds for every procedure: forwards and backwards, scaling, ranges, totals, measures."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from bench import plan_of
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from procedure.quantity.interval import Interval
from procedure.quantity.rounding import shared, shared_ranges
from procedure.report.weigh_measures import ScaleStep
from procedure.report.weigh_sheet import sheet
from procedure.rework import amounts_asked_for
from procedure.rework.backwards import most
from procedure.rework.scaling import scale
from procedure.rework.swapping import swap
from procedure.weigh.weighing import Weighing, weigh

steady = settings(
    deadline=None,
    max_examples=20,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)

positive = st.fractions(Fraction(1, 8), 200, max_denominator=8)
shares = st.fractions(Fraction(1, 4), 60, max_denominator=4)
factors = st.fractions(Fraction(1, 5), 12, max_denominator=9)
weights = st.integers(20, 3000)


def decimal(value: Fraction) -> str:
    """A number that the language reads exactly."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


@st.composite
def ranged(draw: st.DrawFn, of: st.SearchStrategy[Fraction]) -> tuple[Fraction, Fraction]:
    low, high = sorted((draw(of), draw(of)))
    return low, high


def said(ends: tuple[Fraction, Fraction]) -> str:
    low, high = ends
    return decimal(low) if low == high else f"{decimal(low)} to {decimal(high)}"


@st.composite
def procedures(draw: st.DrawFn) -> str:
    """Two lots, three baths, a stock and a split, in amounts of every kind."""
    yarn, silk = draw(weights), draw(weights)
    alum, tartar, weld = draw(ranged(shares)), draw(shares), draw(ranged(shares))
    water, chalk, soap = draw(st.integers(10, 60)), draw(positive), draw(positive)
    madder = draw(ranged(shares))
    part = draw(st.integers(1, yarn - 1))
    return f"""fibre
  yarn: wool yarn, {yarn} g, scoured
  silk: silk yarn, {silk} g, scoured
materials
  madder: madder, dried
  chalk: chalk
steps
  alum-bath: prepare in kettle with water {water} : 1 of yarn, alum {said(alum)} % wof, tartar {
        decimal(tartar)
    } % of yarn
  mordant yarn, silk in alum-bath at 80 °C for 1 h
  lift yarn, silk from alum-bath
  discard alum-bath to "foul drain"
  stock: dissolve chalk {decimal(chalk)} g in jar with water 1 L
  gold-bath: prepare in pan with water 20 L, weld {said(weld)} % of silk
  add stock to gold-bath
  dye silk in gold-bath at 80 °C for 1 h
  lift silk from gold-bath
  discard gold-bath to "foul drain"
  split yarn into deep {part} g, pale {yarn - part} g
  red-bath: prepare in kettle with water 1/2 of kettle, madder {said(madder)} % of deep
  dye deep in red-bath at 70 °C for 1 h
  lift deep from red-bath
  discard red-bath to "foul drain"
  wash deep, pale in tub with water 9 L, soap {decimal(soap)} g
"""


def needs(weighing: Weighing) -> dict[tuple[str, str], tuple[Fraction, Fraction]]:
    return {(t.called, t.kind): (t.low, t.high) for t in weighing.totals if t.kind}


@steady
@given(procedures(), factors, factors)
def test_scaling_by_a_and_then_by_b_is_scaling_by_ab(
    example: str, a: Fraction, b: Fraction
) -> None:
    plan = plan_of(example)
    lots = {name: lot.weight.ends[0] for name, lot in plan.model.lots.items() if lot.weight}
    once = scale(plan, {name: w * a * b for name, w in lots.items()}).plan
    first = scale(plan, {name: w * a for name, w in lots.items()}).plan
    twice = scale(first, {name: w * a * b for name, w in lots.items()}).plan
    assert needs(weigh(once)) == needs(weigh(twice))


@steady
@given(procedures(), factors, factors)
def test_lots_may_be_scaled_one_after_the_other(example: str, a: Fraction, b: Fraction) -> None:
    plan = plan_of(example)
    lots = {name: lot.weight.ends[0] for name, lot in plan.model.lots.items() if lot.weight}
    both = {"yarn": lots["yarn"] * a, "silk": lots["silk"] * b}
    together = scale(plan, both).plan
    apart = scale(scale(plan, {"yarn": both["yarn"]}).plan, {"silk": both["silk"]}).plan
    assert needs(weigh(together)) == needs(weigh(apart))


@steady
@given(procedures(), factors)
def test_materials_grow_as_the_fibre_does(example: str, a: Fraction) -> None:
    plan = plan_of(example)
    lots = {name: lot.weight.ends[0] for name, lot in plan.model.lots.items() if lot.weight}
    before = needs(weigh(plan))
    after = needs(weigh(scale(plan, {name: w * a for name, w in lots.items()}).plan))
    for key, (low, high) in before.items():
        if key[0] != "water":  # water by the kettle's size stays
            assert after[key] == (low * a, high * a), key


@steady
@given(procedures(), factors)
def test_forwards_then_backwards_gives_the_fibre(example: str, a: Fraction) -> None:
    plan = plan_of(example)
    lots = {name: lot.weight.ends[0] * a for name, lot in plan.model.lots.items() if lot.weight}
    forward = needs(weigh(scale(plan, lots).plan))
    have = {
        name: amounts_asked_for.amount(f"{decimal(forward[name, 'mass'][1])} g", name)
        for name in ("alum", "tartar", "weld", "madder", "chalk", "soap")
    }
    found = most(plan, have, {})
    assert dict(found.sure) == lots
    for name in lots:
        assert found.with_luck[name] >= found.sure[name]
    for left in found.left:
        assert left.low >= 0


@steady
@given(procedures(), factors)
def test_backwards_for_one_lot_beside_another_that_is_given(example: str, a: Fraction) -> None:
    plan = plan_of(example)
    silk = plan.model.lots["silk"].weight
    yarn = plan.model.lots["yarn"].weight
    assert silk is not None and yarn is not None
    wanted = {"yarn": yarn.ends[0] * a, "silk": silk.ends[0]}
    alum = needs(weigh(scale(plan, wanted).plan))["alum", "mass"][1]
    have = {"alum": amounts_asked_for.amount(f"{decimal(alum)} g", "alum")}
    assert most(plan, have, {"silk": silk.ends[0]}).sure["yarn"] == wanted["yarn"]


@steady
@given(
    st.integers(1, 500),
    ranged(shares),
    ranged(shares),
    st.tuples(*[st.fractions(0, 1, max_denominator=7)] * 4),
)
def test_a_range_holds_the_exact_answer_for_any_choice_in_it(
    fibre: int,
    alum: tuple[Fraction, Fraction],
    liquor: tuple[Fraction, Fraction],
    at: tuple[Fraction, Fraction, Fraction, Fraction],
) -> None:
    def chosen(ends: tuple[Fraction, Fraction], share: Fraction) -> tuple[Fraction, Fraction]:
        one = ends[0] + (ends[1] - ends[0]) * share
        return one, one

    def text(
        grams: tuple[Fraction, Fraction], a: tuple[Fraction, Fraction], w: tuple[Fraction, Fraction]
    ) -> str:
        return f"""fibre
  yarn: wool yarn, {said(grams)} g, scoured
steps
  alum-bath: prepare in kettle with water {said(w)} : 1 of yarn, alum {said(a)} % of yarn, tartar {
            said(a)
        } g/L
  mordant yarn in alum-bath at 80 °C for 1 h
  repeat 2 to 3 times
    add alum 1/10 of yarn to alum-bath
  top up alum-bath with water {said(w)} L
"""

    whole = (Fraction(fibre), Fraction(fibre + 40))
    wide = needs(weigh(plan_of(text(whole, alum, liquor))))
    narrow = needs(
        weigh(plan_of(text(chosen(whole, at[0]), chosen(alum, at[1]), chosen(liquor, at[2]))))
    )
    for key, (low, high) in narrow.items():
        assert wide[key][0] <= low and high <= wide[key][1], key


@steady
@given(
    st.lists(st.tuples(positive, positive), min_size=1, max_size=9),
    st.sampled_from(
        [
            Fraction(1, 10),
            Fraction(1),
            Fraction(1, 100),
            Fraction(1, 2),
            Fraction(5),
            Fraction("28.349523125"),
        ]
    ),
)
def test_rounded_rows_add_up_and_none_strays_a_whole_step(
    ends: list[tuple[Fraction, Fraction]], step: Fraction
) -> None:
    ranges = [Interval(min(pair), max(pair)) for pair in ends]
    made = shared_ranges(ranges, step)
    for side in (0, 1):
        total = sum((pair[side] for pair in ranges), Fraction(0))
        printed = sum((pair[side] for pair in made), Fraction(0))
        assert abs(printed - total) <= step / 2
    for (low, high), (first, last) in zip(ranges, made, strict=True):
        assert first <= last
        assert abs(first - low) < step and abs(last - high) < step
        assert first / step == int(first / step)


def test_three_thirds_are_a_whole() -> None:
    assert sum(shared([Fraction(100, 3)] * 3, Fraction(1))) == 100


@pytest.mark.parametrize("system", ["metric", "us", "imperial", "both"])
@steady
@given(
    example=procedures(),
    step=st.sampled_from([None, Fraction(1, 10), Fraction(1), Fraction(25, 10)]),
)
def test_equal_amounts_print_alike_and_rows_that_do_not_add_up_are_told(
    system: str, example: str, step: Fraction | None
) -> None:
    made = sheet(weigh(plan_of(example)), system, ScaleStep("mass", step) if step else None)
    for total, shown in zip(made.weighing.totals, made.totals, strict=True):
        for i, one in enumerate(shown):
            rows = [
                printed[i]
                for row, printed in zip(made.weighing.rows, made.rows, strict=True)
                if printed and row.thing == total.thing and row.kind == total.kind and row.counts
            ]
            assert {row.unit for row in rows} == {one.unit}
            ends = (sum(row.low for row in rows), sum(row.high for row in rows))
            if ends != (one.low, one.high):
                assert total.called in made.uneven
    texts: dict[tuple[object, ...], set[tuple[str, ...]]] = {}
    for row, printed in zip(made.weighing.rows, made.rows, strict=True):
        key = (row.thing, row.kind, row.low, row.high)
        texts.setdefault(key, set()).add(tuple(one.text for one in printed))
    assert all(len(said) == 1 for said in texts.values())


@steady
@given(
    st.integers(1, 12).map(lambda halves: 8 * halves), shares, st.integers(1, 7), st.integers(1, 9)
)
def test_a_procedure_in_ounces_and_gallons_prints_the_same_grams_and_litres(
    fibre: int, share: Fraction, extra: int, gallons: int
) -> None:
    ounce, gallon = Decimal("28.349523125"), Decimal("4.54609")

    def text(grams: str, more: str, water: str) -> str:
        return f"""fibre
  yarn: wool yarn, {grams}, scoured
steps
  alum-bath: prepare in kettle with water {water}, alum {decimal(share)} % of yarn
  mordant yarn in alum-bath at 80 °C for 1 h
  add alum {more} to alum-bath
"""

    in_grams = text(
        *(
            f"{(many * of).normalize():f} {unit}"
            for many, of, unit in ((fibre, ounce, "g"), (extra, ounce, "g"), (gallons, gallon, "L"))
        )
    )
    in_ounces = text(f"{fibre} oz", f"{extra} oz", f"{gallons} imp gal")
    metric = sheet(weigh(plan_of(in_grams)), "metric")
    customary = sheet(weigh(plan_of(in_ounces)), "metric")
    assert metric.rows == customary.rows
    assert metric.totals == customary.totals
    assert metric.fibres == customary.fibres


@steady
@given(procedures())
def test_a_swap_and_the_swap_back_give_the_first_amounts(example: str) -> None:
    plan = plan_of(example)
    there = swap(plan, "alum", "aluminium sulphate").plan
    back = swap(there, "alum", "potassium alum").plan
    assert needs(weigh(back)) == needs(weigh(plan))
    assert needs(weigh(there))["alum", "mass"][0] < needs(weigh(plan))["alum", "mass"][0]


def test_the_same_amount_is_printed_the_same_way_each_time() -> None:
    steps = "".join(
        f"  rinse yarn in tub with water 3 imp gal at {heat} °C\n" for heat in (30, 25, 20)
    )
    made = sheet(weigh(plan_of(f"fibre\n  yarn: wool yarn, 100 g\nsteps\n{steps}")))
    assert [one.text for (one,) in made.rows] == ["13.6 L"] * 3  # 3 imperial gallons: 13.638 L
    assert [one.text for (one,) in made.totals] == ["41 L"]
    assert made.uneven == ("water",)
