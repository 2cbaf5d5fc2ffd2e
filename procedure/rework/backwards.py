"""Backwards: the most fibre that what is at hand can dye.

Every need grows evenly with the fibre (so much for each gram, and perhaps a part that
does not change), so the answer is exact. Where the procedure or the user gives a
range there are two answers: the fibre that is sure, and what luck allows.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from procedure.findings import Mass
from procedure.model import Quantity
from procedure.pipeline import Judged
from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.rework.scaling import lot_weight, restricted_in, scale
from procedure.rework.whole_skeins import one_piece, uncut
from procedure.rules.judging import reader_of
from procedure.vocabulary import near
from procedure.weigh.cannot import CannotWeigh
from procedure.weigh.weighing import Weighing, weigh
from procedure.wording.numbers import measured
from procedure.wording.reader import Reader

# Fibre of a lot whose weight is not written, to measure the needs by.
_MEASURE = Fraction(1000)


class LeftOver(NamedTuple):
    """What is left of a material with the sure amount of fibre: grams or litres."""

    called: str
    kind: str
    had: Interval
    low: Fraction
    high: Fraction


class Backwards(NamedTuple):
    """The most fibre, lot by lot in grams: for sure, and with luck.

    ``first`` names what runs out first for sure, ``first_with_luck`` with luck.
    ``fixed`` are the lots whose weight the user gave, and ``in_pieces`` those of ``sure`` that
    are whole pieces, which nobody rounds or cuts.
    """

    sure: Mapping[str, Fraction]
    with_luck: Mapping[str, Fraction]
    first: tuple[str, ...]
    first_with_luck: tuple[str, ...]
    left: tuple[LeftOver, ...]
    fixed: Mapping[str, Fraction]
    in_pieces: Mapping[str, Fraction]


class _Need(NamedTuple):
    """Low and high needs as a fixed part and a part for each measure of fibre."""

    low: tuple[Fraction, Fraction]
    high: tuple[Fraction, Fraction]


def most(
    plan: Judged,
    have: Mapping[str, Quantity],
    fixed: Mapping[str, Fraction],
    reader: Reader | None = None,
) -> Backwards:
    """The most fibre for what is at hand; ``fixed`` lots keep the weight (grams) given.

    ``have`` goes by the procedure's names of materials; ``reader`` is whoever is told why there
    is no answer, by itself one with the units of the procedure. Raises ``CannotWeigh`` where
    nothing limits the fibre, or where there is not enough for any.
    """
    measure = _measure(plan, fixed)
    restricted = restricted_in(plan) is not None
    if restricted:  # such a recipe is never worked out for more fibre than is written
        measure = {name: weight / 3 for name, weight in measure.items()}
    weighings = [_weighed(plan, measure, fixed, Fraction(t)) for t in (1, 2, 3)]
    things = {name: _thing(plan, weighings[0], name) for name in have}
    needs = {
        name: _need([_total(w, things[name], name, had) for w in weighings], name)
        for name, had in have.items()
    }
    sure = _limits({n: (needs[n].high, had.ends[0]) for n, had in have.items()}, have)
    luck = _limits({n: (needs[n].low, had.ends[1]) for n, had in have.items()}, have)
    best, most_of_all = min(sure.values(), default=None), min(luck.values(), default=None)
    if best is None or most_of_all is None:
        raise CannotWeigh(
            f"Nothing limits the fibre: {' and '.join(have)} "
            f"{'is' if len(have) == 1 else 'are'} needed in the same amount for any weight of it."
        )
    if best <= 0:
        short = next(name for name, limit in sure.items() if limit == best)
        raise CannotWeigh(
            f"{had_text(have[short])} of {short} is not enough for any fibre in this procedure."
        )
    surely, luckily = (
        {name: uncut(plan.model.lots[name], weight * many) for name, weight in measure.items()}
        for many in (best, most_of_all)
    )
    at_hand = next(f"{had_text(have[name])} of {name}" for name in sure if sure[name] == best)
    _enough_for_one(plan, measure, surely, best, at_hand, reader or reader_of(plan.model))
    if restricted:
        scale(plan, {**surely, **fixed})
    whole = surely != {name: weight * best for name, weight in measure.items()}
    taken = _weighed(plan, surely, fixed, Fraction(1)) if whole else None
    left = tuple(
        LeftOver(
            name, had.kind, had.ends, *_left(had, needs[name], best, taken, things[name], name)
        )
        for name, had in have.items()
    )
    return Backwards(
        surely,
        luckily,
        tuple(name for name, limit in sure.items() if limit == best),
        tuple(name for name, limit in luck.items() if limit == most_of_all),
        left,
        dict(fixed),
        {name: grams for name, grams in surely.items() if one_piece(plan.model.lots[name])},
    )


def _enough_for_one(
    plan: Judged,
    measure: Mapping[str, Fraction],
    found: Mapping[str, Fraction],
    best: Fraction,
    at_hand: str,
    reader: Reader,
) -> None:
    """Raises ``CannotWeigh`` where what is at hand is not enough for one piece of a lot."""
    for name, grams in found.items():
        piece = one_piece(plan.model.lots[name])
        if piece is not None and grams == 0:
            much, one = (measured(Mass(grams), reader) for grams in (measure[name] * best, piece))
            raise CannotWeigh(
                f"{at_hand} is enough for {much} of {name}, and one of them, which is not cut, "
                f"weighs {one}."
            )


def _left(
    had: Quantity, need: _Need, best: Fraction, taken: Weighing | None, thing: str, name: str
) -> tuple[Fraction, Fraction]:
    """What is left of a material: of what whole pieces take, or of the sums turned round."""
    if taken is not None:
        total = _total(taken, thing, name, had)
        return had.ends[0] - total.high, had.ends[1] - total.low
    low, high = need.low, need.high
    return had.ends[0] - high[0] - high[1] * best, had.ends[1] - low[0] - low[1] * best


def had_text(quantity: Quantity) -> str:
    """What the user said that there is."""
    return quantity.text


def _measure(plan: Judged, fixed: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """One measure of the fibre that is asked for: its lots in the proportion written."""
    lots = {name: lot for name, lot in plan.model.lots.items() if name not in fixed}
    if not lots:
        raise CannotWeigh(
            "The weight of all fibre is given, so there is none left to work out; "
            "leave out --fibre or --have."
            if plan.model.lots
            else "The procedure declares no fibre to work out."
        )
    weights = {name: lot_weight(lot) for name, lot in lots.items()}
    missing = [name for name, weight in weights.items() if weight is None]
    if len(lots) == 1:
        return {name: weight or _MEASURE for name, weight in weights.items()}
    if missing:
        raise CannotWeigh(
            f"The weight of {missing[0]} is not written, so the fibre cannot be shared out; "
            f"say “--fibre {missing[0]}=200 g”."
        )
    return {name: weight for name, weight in weights.items() if weight is not None}


def _weighed(
    plan: Judged, measure: Mapping[str, Fraction], fixed: Mapping[str, Fraction], t: Fraction
) -> Weighing:
    weights = {name: weight * t for name, weight in measure.items()}
    return weigh(scale(plan, {**weights, **fixed}).plan)


def _thing(plan: Judged, weighing: Weighing, name: str) -> str:
    things = {row.called: row.thing for row in weighing.rows if row.part in ("material", "water")}
    by_stuff = {row.material: row.thing for row in weighing.rows if row.material}
    taken = set(things.values())
    for thing, (material, _) in plan.flow.materials.items():
        if thing in taken:  # its name in the trade, without the part of the plant
            by_stuff.setdefault(material.called, thing)
    found = things.get(name) or by_stuff.get(name)
    if found is None:
        declared = name in plan.model.materials
        if declared:
            raise CannotWeigh(f"{name} is declared, but no step takes any of it.")
        meant = near(name, list(things))
        hint = f" Did you mean “{meant}”?" if meant else ""
        raise CannotWeigh(f"The procedure takes no “{name[:40]}”.{hint}")
    gap = next((row for row in weighing.rows if row.thing == found and row.gap), None)
    if gap is not None:
        raise CannotWeigh(
            f"Line {gap.line} does not say how much {gap.called} it takes, "
            f"so {name} cannot limit the fibre."
        )
    return found


def _total(weighing: Weighing, thing: str, name: str, had: Quantity) -> Interval:
    found = weighing.total(thing, had.kind)
    kinds = {row.kind for row in weighing.rows if row.thing == thing and row.counts and row.kind}
    if found is None or kinds != {had.kind}:
        wanted = "in litres or millilitres" if "volume" in kinds else "by weight"
        if len(kinds) > 1:
            wanted = "by weight and by volume both, which do not add up"
        raise CannotWeigh(f"The procedure takes {name} {wanted}, so “{had.text}” cannot limit it.")
    return found


def _need(totals: list[Interval], name: str) -> _Need:
    parts = []
    if any(total.open for total in totals):
        raise CannotWeigh(
            f"The procedure sets no upper end to how much {name} it takes (“at least”, or rounds "
            "without a number), so there is no sure bound on the fibre."
        )
    for one, two, three in zip(*totals, strict=True):
        if three - two != two - one:
            raise CannotWeigh(
                f"What the procedure takes of {name} does not grow evenly with the fibre, "
                "so the sum cannot be turned round."
            )
        parts.append((one - (two - one), two - one))
    return _Need(parts[0], parts[1])


def _limits(
    needs: Mapping[str, tuple[tuple[Fraction, Fraction], Fraction]], have: Mapping[str, Quantity]
) -> dict[str, Fraction]:
    """How many measures of fibre each material allows; those that set no limit are left out."""
    found: dict[str, Fraction] = {}
    for name, ((always, each), had) in needs.items():
        if each > 0:
            found[name] = (had - always) / each
        elif always > had:
            raise CannotWeigh(
                f"{have[name].text} of {name} is not enough for any fibre in this procedure."
            )
    return found
