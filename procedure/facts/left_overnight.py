"""A night: how long overnight may be in a place, and what may not lie for longer than written."""

from __future__ import annotations

from fractions import Fraction

from procedure.facts.liquor import metals_in
from procedure.facts.study import Study
from procedure.quantity.day import A_DAY
from procedure.trace import BathState, Moment
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import threshold


def longest_overnight(closed: int) -> int:
    """The most minutes of overnight where a place is closed for so many; nought without any.

    It is from the evening to the morning, so it is no longer than the place is closed and so
    much of its evening and morning (``thresholds.csv``, “evening and morning”).
    """
    beyond = int(threshold("evening and morning").value)
    return min(A_DAY, closed + beyond) if closed else 0


def harms_what_lies_in_it(study: Study, bath: BathState | None) -> bool:
    """Whether a bath holds a metal that spoils fibre that lies in it for longer than is written."""
    if bath is None:
        return False
    limited = {row["what"] for row in rows("waits")}
    metals = metals_in(study, bath.contents)
    return any(f"fibre in a bath of {metal}" in limited for metal in metals)


def lies_in_a_bath(moment: Moment) -> bool:
    """Whether fibre is in a bath while a step goes on, and still when it is over."""
    lots = dict.fromkeys((*moment.node.lots, *moment.node.present))
    states = (moment.after.lots.get(lot) for lot in lots)
    return any(state is not None and state.bath for state in states)


def no_longer_than_written(study: Study, moment: Moment) -> bool:
    """Whether what is to go on overnight may not go on for longer than the text says.

    Overnight by itself is until somebody comes in the morning. A time that is written beside it,
    or a bath that spoils what lies in it, is kept to.
    """
    bath = moment.bath_after or moment.bath_before
    harsh = lies_in_a_bath(moment) and harms_what_lies_in_it(study, bath)
    return harsh or moment.step.lasting is not None


def warmest_by_morning(dipped: bool) -> Fraction:
    """The °C that a pot off the heat has in the morning at the most; more is wanted warm.

    A vat that is ``dipped`` in is mostly as cold as the room, and a dip warms nothing: what is
    wanted so much warmer than a warm room (``thresholds.csv``, “too cold to dip”) is not there.
    """
    if not dipped:
        return threshold("heat by morning").value
    return threshold("warm room").value + threshold("too cold to dip").value
