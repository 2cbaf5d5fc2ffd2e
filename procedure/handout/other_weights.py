"""How every amount of a paper goes with the fibre, found by scaling the plan with the sums.

The plan is scaled twice (:func:`procedure.rework.scaling.scale`), each of its papers made,
and their amounts compared one by one: an amount that lies on the line through the first
two at the third grows by that line. So the paper's own script can work out amounts for
any weight of fibre by the rules of the sums, and has none of its own.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import TypeVar

from procedure.paper.pieces import Figure, Grows
from procedure.pipeline import Judged
from procedure.quantity.interval import ENDLESS
from procedure.rework.scaling import lot_weight, scale, shared_out
from procedure.weigh.cannot import CannotWeigh

Part = TypeVar("Part")
DOUBLE, HALF = Fraction(2), Fraction(1, 2)


def fibre_of(plan: Judged) -> Fraction | None:
    """Grams of all the fibre that is declared; None where a lot's weight is not known."""
    weights = [lot_weight(lot) for lot in plan.model.lots.values()]
    if not weights or any(weight is None for weight in weights):
        return None
    return sum((weight for weight in weights if weight is not None), Fraction(0))


def grown(plan: Judged, made: Part, make: Callable[[Judged], Part]) -> tuple[Part, Fraction | None]:
    """A part of a paper with its amounts knowing how they grow, and the fibre it is for.

    ``make`` makes the same part of a scaled plan. The fibre is None, and the part as it
    was, where the plan cannot be scaled.
    """
    fibre = fibre_of(plan)
    if fibre is None:
        return made, None
    try:
        twice, half = (
            list(figures(make(scale(plan, shared_out(plan, fibre * by), judged=False).plan)))
            for by in (DOUBLE, HALF)
        )
    except CannotWeigh:
        return made, None
    here = list(figures(made))
    if not len(here) == len(twice) == len(half):
        return made, None
    lines = [
        _line(fibre, one, two, three) for one, two, three in zip(here, twice, half, strict=True)
    ]
    order = iter(lines)
    return changed(made, lambda figure: dataclasses.replace(figure, grows=next(order))), fibre


def _line(fibre: Fraction, one: Figure, two: Figure, half: Figure) -> Grows | None:
    if ENDLESS in (one.high, two.high, half.high):
        return None
    low_each, high_each = ((b - a) / fibre for a, b in ((one.low, two.low), (one.high, two.high)))
    grows = Grows(one.low - low_each * fibre, low_each, one.high - high_each * fibre, high_each)
    fits = grows.at(fibre * HALF) == (half.low, half.high)
    return grows if fits and one.kind == two.kind == half.kind else None


def figures(part: object) -> Iterator[Figure]:
    """All the amounts in a part of a paper, in order."""
    if isinstance(part, Figure):
        yield part
    elif isinstance(part, tuple):
        for piece in part:
            yield from figures(piece)
    elif dataclasses.is_dataclass(part) and not isinstance(part, type):
        for field in dataclasses.fields(part):
            yield from figures(getattr(part, field.name))


def changed(part: Part, change: Callable[[Figure], Figure]) -> Part:
    """The same part with each amount changed, in order."""
    if isinstance(part, Figure):
        return change(part)  # type: ignore[return-value]
    if isinstance(part, tuple):
        made = [changed(piece, change) for piece in part]
        return type(part)(*made) if hasattr(part, "_fields") else tuple(made)  # type: ignore[return-value]
    if dataclasses.is_dataclass(part) and not isinstance(part, type):
        fields = {
            field.name: changed(getattr(part, field.name), change)
            for field in dataclasses.fields(part)
        }
        return dataclasses.replace(part, **fields)
    return part
