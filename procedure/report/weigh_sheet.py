"""A weighing as it is printed: each amount rounded in its measures, and the exact totals."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from procedure.quantity.interval import Interval
from procedure.quantity.interval import total as total_of
from procedure.quantity.number_words import decimals, to_places
from procedure.quantity.record import NamedTuple
from procedure.quantity.rounding import nearest
from procedure.report.weigh_measures import (
    BLANK,
    ScaleStep,
    UnitOfSheet,
    as_a_kitchen_has_it,
    as_printed,
    measures,
    rounded,
    text_of,
)
from procedure.weigh.weighing import Row, Weighing


class ShownAmount(NamedTuple):
    """An amount in one measure: its rounded ends in that unit, the unit, and the text."""

    low: Fraction
    high: Fraction
    unit: str
    text: str


class WeighSheet(NamedTuple):
    """A weighing with the rounded amounts of its rows, totals and lots, in the same order.

    Each has one :class:`ShownAmount` for each measure, and none where it is not known. Every row
    and every total is rounded for itself, as finely as its own size asks, so that one amount is
    printed one way here and on every other paper; ``uneven`` names the things of which the
    printed rows differ from the printed total in the last digit. ``system`` and ``scale_step``
    are those that were asked for.
    """

    weighing: Weighing
    rows: tuple[tuple[ShownAmount, ...], ...]
    totals: tuple[tuple[ShownAmount, ...], ...]
    fibres: tuple[tuple[ShownAmount, ...], ...]
    uneven: tuple[str, ...] = ()
    system: str = "metric"
    scale_step: ScaleStep | None = None


def sheet(
    weighing: Weighing, system: str = "metric", scale_step: ScaleStep | None = None
) -> WeighSheet:
    """Round a weighing for print; ``system`` is metric, us, imperial or both."""
    cooks = _as_cooks_say(system, scale_step)
    rows: list[tuple[ShownAmount, ...]] = [()] * len(weighing.rows)
    totals: list[tuple[ShownAmount, ...]] = [()] * len(weighing.totals)
    uneven: list[str] = []
    of_each: dict[tuple[str, str], list[int]] = {}
    for i, row in enumerate(weighing.rows):
        if _known(row):
            of_each.setdefault((row.thing, row.kind), []).append(i)
    with_total: dict[tuple[str, str, str], list[int]] = {}
    for at, total in enumerate(weighing.totals):
        with_total.setdefault((total.thing, total.kind, total.condition), []).append(at)
    for (_, kind), here in of_each.items():
        ends = {i: _ends(weighing.rows[i]) for i in here}
        largest = max(high for _, high in ends.values())
        for measure in measures(system, kind, largest):
            for together in _adding_up(weighing, here):
                exact = [ends[i].over(measure.factor) for i in together]
                steps = [rounded([ends[i]], measure, scale_step).step for i in together]
                made = [nearest(one, step) for one, step in zip(exact, steps, strict=True)]
                for i, value, true, step in zip(together, made, exact, steps, strict=True):
                    rows[i] = (*rows[i], _shown(value, true, measure, step, cooks))
                of_whole = total_of([ends[i] for i in together])
                step = rounded([of_whole], measure, scale_step).step
                whole = nearest(total_of(exact), step)
                first = weighing.rows[together[0]]
                known = with_total.get((first.thing, first.kind, first.condition), ())
                for at in known if first.counts else ():
                    shown = _shown(whole, total_of(exact), measure, step, cooks)
                    totals[at] = (*totals[at], shown)
                    parts = [rows[i][-1].text for i in together]
                    adds_up = total_of(made) == whole
                    if not (_as_read(parts, shown.text, adds_up) if cooks else adds_up):
                        uneven.append(weighing.totals[at].called)
    fibres = _fibres(weighing, system, scale_step)
    names = tuple(dict.fromkeys(uneven))
    return WeighSheet(weighing, tuple(rows), tuple(totals), fibres, names, system, scale_step)


def _as_read(parts: list[str], whole: str, otherwise: bool) -> bool:
    """True where the parts come to the whole as they are printed; ``otherwise`` for ranges."""
    ends = [as_printed(text) for text in (*parts, whole)]
    known = [end for end in ends if end is not None]
    return sum(known[:-1]) == known[-1] if len(known) == len(ends) else otherwise


def _fibres(
    weighing: Weighing, system: str, scale_step: ScaleStep | None
) -> tuple[tuple[ShownAmount, ...], ...]:
    """The lots, each rounded for itself as finely as the whole that they are parts of."""
    cooks = _as_cooks_say(system, scale_step)
    found: dict[str, tuple[ShownAmount, ...]] = {}
    families: dict[tuple[str, ...], list[tuple[str, Interval]]] = {}
    for fibre in weighing.fibres:
        if fibre.grams is not None:
            families.setdefault(fibre.of or (fibre.lot,), []).append((fibre.lot, fibre.grams))
    for parents, family in families.items():
        weights = [grams for _, grams in family]
        whole = total_of(weights)
        for measure in measures(system, "mass", whole[1]):
            step = rounded([whole], measure, scale_step).step
            exact = [weight.over(measure.factor) for weight in weights]
            for (lot, _), true in zip(family, exact, strict=True):
                fine = (lot,) != parents
                shown = _shown(nearest(true, step), true, measure, step, cooks, fine)
                found[lot] = (*found.get(lot, ()), shown)
    return tuple(found.get(fibre.lot, ()) for fibre in weighing.fibres)


def _as_cooks_say(system: str, scale_step: ScaleStep | None) -> bool:
    """Whether amounts are printed as cooks say them.

    Beside grams they are for comparison, and who names the step of a scale wants its figures.
    """
    return system in ("us", "imperial") and scale_step is None


def _known(row: Row) -> bool:
    return row.low is not None


def _ends(row: Row) -> Interval:
    assert row.low is not None and row.high is not None
    return Interval(row.low, row.high)


def _adding_up(weighing: Weighing, here: list[int]) -> list[list[int]]:
    """The rows that have one total, and each row that has none."""
    groups: dict[tuple[str, int], list[int]] = {}
    for i in here:
        row = weighing.rows[i]
        groups.setdefault((row.condition, -1 if row.counts else i), []).append(i)
    return list(groups.values())


def _shown(
    value: Interval,
    exact: Interval,
    measure: UnitOfSheet,
    step: Fraction,
    cooks: bool,
    fine: bool = False,
) -> ShownAmount:
    said = as_a_kitchen_has_it(exact, measure, fine) if cooks else ""
    if said:
        text = said
    elif value[1] == 0 and exact[1] > 0:
        text = f"under {to_places(step, decimals(step))} {measure.name}"
    else:
        text = text_of(value, measure, step)
    return ShownAmount(value[0], value[1], measure.name, text)


def _alone(
    ends: Interval, kind: str, system: str, scale_step: ScaleStep | None
) -> tuple[ShownAmount, ...]:
    found = []
    cooks = _as_cooks_say(system, scale_step)
    for measure in measures(system, kind, ends[1]):
        made = rounded([ends], measure, scale_step)
        inside = ends.over(measure.factor)
        found.append(_shown(made.rows[0], inside, measure, made.step, cooks))
    return tuple(found)


def amount_text(shown: Sequence[ShownAmount], without: str = "") -> str:
    """An amount as text: the first measure, the others in brackets.

    Where it is not known, what stands for it ``without`` a figure, else a blank.
    """
    if not shown:
        return without or BLANK
    others = ", ".join(one.text for one in shown[1:])
    return f"{shown[0].text} ({others})" if others else shown[0].text


def alone(ends: Interval, kind: str, system: str, scale_step: ScaleStep | None = None) -> str:
    """One amount (grams or litres) as text in a system of measures."""
    return amount_text(_alone(ends, kind, system, scale_step))
