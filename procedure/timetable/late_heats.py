"""Baths that have cooled since their last step was done, which is longer ago than they keep warm.

A plan has the next step on a hot bath come at once, with the plate on. Where that has not been so,
the bath is cold by now: whoever goes on turns the plate on again and brings it to its heat first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.timetable.heat_of_vats import as_if_known, minutes_a_degree
from procedure.timetable.how_baths_cool import loses_heat
from procedure.timetable.lengths import bearable_in
from procedure.timetable.plates import Plates, heating_needs, named_plate
from procedure.timetable.step_names import heat_told
from procedure.timetable.usual import LOSES_ITS_HEAT, usual, waits
from procedure.timetable.work import Activity, Attendance, Lag, LosesHeat, Need, WarmAgain
from procedure.timetable.written_out import Turn
from procedure.trace import uptake
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold

_FIVE = 5


class FromCold(NamedTuple):
    """What brings a bath to its heat from that of the room: minutes, and what of the plates.

    ``hot_after`` are the minutes after the step before for which it is ``too_hot`` to be alone.
    ``heat`` is what it is brought to, ``a_degree`` are the minutes for each °C, and ``loses`` is
    how it cools; nothing is known of that where its volume is not.
    """

    minutes: int
    needs: tuple[Need, ...]
    hot_after: int
    too_hot: str
    heat: float
    a_degree: float = 0.0
    loses: LosesHeat | None = None

    def after(self, minutes: int) -> int:
        """The minutes of heating so long after it was last hot: it is no colder than it can be."""
        if self.loses is None:
            return self.minutes
        lost = self.heat - self.loses.coldest(self.heat, minutes)
        return min(self.minutes, math.ceil(lost * self.a_degree / _FIVE) * _FIVE)


def from_cold(plan: Judged, plates: Plates, turns: Sequence[Turn]) -> dict[str, FromCold]:
    """The steps on baths that are hot before them and stay so, by their keys.

    What fibre comes into is no such step: see :mod:`procedure.timetable.standing_baths`.
    """
    found: dict[str, FromCold] = {}
    warm = float(vocabulary().heats["hand-hot"].high)
    for turn in turns:
        does, bath = turn.node.does, as_if_known(plan, turn.moment.bath_before)
        on_heat = does.warms or does.held_hot or does.keeps_heat
        if turn.step.left_unheated:
            continue
        if not on_heat or turn.moment.entering or bath is None or bath.heat is None:
            continue
        if bath.heat.open or bath.heat.low <= warm or not uptake.heatable(plan.flow, bath.pot):
            continue
        minutes, a_degree, loses = usual("", "warming").high, 0.0, None
        heat = float(bath.heat.high)
        if bath.volume is not None and not bath.volume.open and bath.volume.low > 0:
            rise = heat - float(threshold("cool room").value)
            a_degree, loses = minutes_a_degree(plan, turn, bath)[1], loses_heat(plan, bath)
            minutes = math.ceil(rise * a_degree / _FIVE) * _FIVE
        found[turn.key] = FromCold(
            minutes,
            heating_needs(plates, named_plate(plan, turn)),
            bearable_in(plan, turn.moment.bath_before),
            heat_told(plan, threshold("unattended heat").value),
            heat,
            a_degree,
            loses,
        )
    return found


def heated_again(
    activities: Iterable[Activity], late: Sequence[Lag], cold: Mapping[str, FromCold]
) -> Iterator[Activity]:
    """The activities, of which those that begin in a bath grown cold turn its plate on.

    Nothing has taken over the care for it since the step before, which left it hot.
    """
    again = to_heat_again(late, cold)
    after, left = {each.after for each in again}, {each.before: each.after for each in again}
    for each in activities:
        if each.key in left and not each.hot_after:
            by = cold[left[each.key]]
            each = replace(each, hot_after=by.hot_after, too_hot=by.too_hot)
        if each.key not in after:
            yield each
            continue
        needs = tuple(dict.fromkeys((*each.needs, *cold[each.key].needs)))
        by_hand = each.attendance in (Attendance.NOW_AND_THEN, Attendance.ENDS)
        start = usual("", "turning on").low if by_hand and not each.at_start else each.at_start
        yield replace(each, needs=needs, at_start=start)


def to_heat_again(late: Sequence[Lag], cold: Mapping[str, FromCold]) -> tuple[WarmAgain, ...]:
    """That the baths of late steps are heated first: for as long as it takes by then.

    Where there is no time for them now and they are done at last, that is from the cold.
    """
    keeps = waits()["bath at its heat"]
    return tuple(
        WarmAgain(
            lag.before,
            lag.after,
            keeps.most,
            cold[lag.after].after(lag.most or 0),
            from_cold=cold[lag.after].minutes,
        )
        for lag in late
        if lag.after in cold and lag.kind in LOSES_ITS_HEAT
    )
