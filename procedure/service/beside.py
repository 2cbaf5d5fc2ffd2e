"""Amounts worked out, to be shown beside the words: ``12 % of yarn`` comes to 28.8 g."""

from __future__ import annotations

from functools import lru_cache

from procedure.findings import Mass, Volume, say
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.rules.judging import reader_of
from procedure.trace.amounts import Amount, over_passes
from procedure.wording import Reader, said


class Beside(NamedTuple):
    """An amount and the place just behind the words that it belongs to."""

    line: int
    column: int
    text: str


def besides(plan: Judged, first: int = 1, last: int = 10**9) -> tuple[Beside, ...]:
    """The amounts of some lines of the plan's own file that the words do not say themselves.

    Passes of a repeat give the least to the most.
    """
    reader = reader_of(plan.model)
    found: dict[tuple[int, int], list[Amount | None]] = {}
    for moment in plan.trace.moments:
        if moment.node.procedure is not plan.model:
            continue
        for _, item, amount in moment.amounts:
            quantity = item.quantity
            if quantity is None or amount is None or amount.of is None:
                continue
            if first <= item.place.line <= last:
                found.setdefault((item.place.line, item.place.to), []).append(amount)
    made = []
    for (line, column), amounts in sorted(found.items()):
        whole = over_passes(amounts)
        if whole is not None:
            made.append(Beside(line, column, f"= {amount_said(whole, reader)}"))
    return tuple(made)


@lru_cache(maxsize=4096)  # with every keystroke most amounts are said again
def amount_said(amount: Amount, reader: Reader) -> str:
    """An amount in the reader's units."""
    high = None if amount.high == amount.low else amount.high
    value = Mass(amount.low, high) if amount.kind == "mass" else Volume(amount.low, high)
    return said(say("{value}", value=value), reader)
