"""Baths into which fibre goes at a lower heat than they have: they cool so far first.

The step that is written “from 63 °C” after one that has left its bath at 74 °C waits until the bath
has cooled so far. How long that takes is estimated, from when the plate is off.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.timetable.gathered import Gathered
from procedure.timetable.lengths import until_as_cool_as
from procedure.timetable.planned_words import span
from procedure.timetable.step_names import heat_told
from procedure.timetable.usual import LOSES_ITS_HEAT
from procedure.timetable.work import ActivityPlace, Lag
from procedure.timetable.written_out import Turn
from procedure.weigh import heating


def to_cool_first(plan: Judged, turns: Sequence[Turn]) -> dict[str, tuple[str, int]]:
    """The turns for which a bath cools first: since which turn, and for how many minutes."""
    found: dict[str, tuple[str, int]] = {}
    warm: dict[str, Turn] = {}
    for turn in turns:
        bath, since = turn.node.bath, warm.get(turn.node.bath)
        minutes = _minutes(plan, turn) if since is not None else 0
        if since is not None and minutes:
            found[turn.key] = since.key, minutes
        # A lift takes nothing of the heat of what stays.
        if bath and not turn.node.does.takes_out:
            warm[bath] = turn
    return found


def _minutes(plan: Judged, turn: Turn) -> int:
    """Minutes that a bath cools until fibre may go into it; nought where it need not."""
    start, bath, does = turn.moment.start, turn.moment.bath_before, turn.node.does
    enters = turn.moment.entering and does.puts_fibre_in and not does.dips
    if not enters or start is None or start.open or bath is None:
        return 0
    if bath.heat is None or bath.heat.open or bath.volume is None or bath.volume.open:
        return 0
    if float(bath.heat.low) - float(start.high) < heating.LITTLE:
        return 0
    return until_as_cool_as(plan, bath, float(start.high))


def cool_first(
    made: Gathered,
    plan: Judged,
    turns: Sequence[Turn],
    first_of: Mapping[str, str],
    last_of: Mapping[str, str],
) -> None:
    """Have baths cool before fibre goes into them, and say so at that step."""
    number = {each.key: i for i, each in enumerate(made.activities)}
    of_key = {turn.key: turn for turn in turns}
    for key, (since, minutes) in to_cool_first(plan, turns).items():
        turn = of_key[key]
        made.lags[:] = [
            _later(lag, minutes) if lag.after == first_of[key] else lag for lag in made.lags
        ]
        start = turn.moment.start
        assert start is not None
        made.lags.append(
            Lag(
                last_of[since],
                first_of[key],
                minutes,
                why=f"the bath is to cool to {heat_told(plan, start.high)} first",
                place=ActivityPlace(plan.file, turn.line),
            )
        )
        at = number[first_of[key]]
        each = made.activities[at]
        words = (
            f"The bath has cooled to {heat_told(plan, start.high)} by then, which takes about "
            f"{span(minutes)} with the plate off, as estimated: measure it first."
        )
        made.activities[at] = replace(each, cautions=(*each.cautions, words))


_OF_HEAT = (*LOSES_ITS_HEAT, "warm bath", "bath off the heat")


def _later(lag: Lag, minutes: int) -> Lag:
    """A wait for the sake of a heat that the bath is to lose first: overnight, if need be."""
    if lag.most is None or lag.kind not in _OF_HEAT:
        return lag
    return replace(lag, most=max(lag.most + minutes, A_DAY))
