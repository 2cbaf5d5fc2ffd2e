"""What hangs on the drying line: the dry weight of the lots that dry in a step."""

from __future__ import annotations

from fractions import Fraction

from procedure.trace import Moment


def grams_hung(moment: Moment) -> dict[str, Fraction]:
    """The lots that are hung up in a step, each with its grams, as far as these are known."""
    before, after = moment.before.lots, moment.after.lots
    found = {}
    for lot in moment.node.lots:
        was, now = before.get(lot), after.get(lot)
        if was is None or now is None or now.weight is None:
            continue
        if was.possibly("dry") is None and now.possibly("dry") is not None:
            found[lot] = now.weight.high
    return found
