"""Dye baths that stand before fibre goes into them: how long they are warm, and what warms them.

How long a bath stands is known only when there is a plan. Until it is too cold for what comes next
it cools as :mod:`procedure.timetable.how_baths_cool` says; what warms it again has to do so from
the heat of the room, since nobody knows beforehand whether it stands for an afternoon or for days.
"""

from __future__ import annotations

import math

from procedure.pipeline import Judged
from procedure.timetable.heat_of_vats import as_if_known, minutes_a_degree
from procedure.timetable.how_baths_cool import loses_heat
from procedure.timetable.usual import usual, waits
from procedure.timetable.written_out import Turn
from procedure.trace import uptake
from procedure.vocabulary.thresholds import threshold
from procedure.weigh import heating

_FIVE = 5
_COLDER = 2 * heating.LITTLE
"""So many °C colder than is written a bath is warmed first; what is less the rise makes good."""


def warm_for(plan: Judged, made_warm: Turn, turn: Turn) -> tuple[int, int]:
    """Minutes for which a bath is warm enough for fibre, and those that warm it again after that.

    Where nobody knows how much it is, or no plate can warm it, as is usual. To warm what was only
    made up takes no less than is usual either, so that no bath is made up the evening before to
    save some minutes.
    """
    bath, start = as_if_known(plan, made_warm.moment.bath_after), turn.moment.start
    there = as_if_known(plan, turn.moment.bath_before)
    if bath is None or there is None or start is None or start.open:
        return _as_usual()
    if not uptake.heatable(plan.flow, there.pot):
        return _as_usual()
    if any(x is None or x.open or x.low <= 0 for x in (bath.volume, there.volume, bath.heat)):
        return _as_usual()
    assert bath.heat is not None
    wanted = float(start.low)
    _, keeps, _ = loses_heat(plan, bath).minutes(float(bath.heat.middle), wanted - _COLDER)
    rise = max(0.0, wanted - float(threshold("cool room").value))
    _, slowest = minutes_a_degree(plan, turn, there)
    least = waits()["bath at its heat"].most
    warm = max(least, math.floor(keeps / _FIVE) * _FIVE)
    usual_time = usual("", "warming").low if made_warm.node.does.prepares else _FIVE
    return warm, max(usual_time, math.ceil(rise * slowest / _FIVE) * _FIVE)


def _as_usual() -> tuple[int, int]:
    return waits()["warm bath"].most, usual("", "warming").low
