"""How a bath in its pot loses heat while nothing warms it.

A pot loses heat in proportion to how much hotter it is than the room, through its surface
(Newton's law of cooling); so t = C ÷ (h A) × ln((T₀ − T) ÷ (T₁ − T)), with the heat capacity C
of its liquor. The figures for h and A are in ``estimates.csv``, those of rooms in
``thresholds.csv``.
"""

from __future__ import annotations

import math

from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.trace.states import BathState
from procedure.vocabulary.estimates import figure, water_at
from procedure.vocabulary.thresholds import threshold
from procedure.weigh import heating

_NEAR = 2.0
"""Within so many degrees (°C) of the room a bath is as cold as it: it never quite comes to it."""


class Loses(NamedTuple):
    """How a bath loses heat: minutes in which what it has over the room falls to 1/e, and the room.

    ``quick`` is of the largest of usual pots with the greatest of all losses in a cool room,
    ``slow`` of the smallest with the least in a warm one.
    """

    quick: float
    slow: float
    cool_room: float
    warm_room: float

    def minutes(self, start: float, end: float) -> tuple[float, float, float]:
        """From one heat in °C to another: the quickest, what is usual, and the slowest.

        What is usual is the middle in proportion: the slowest of all rooms and pots with the
        least of all losses is hardly anybody's.
        """
        quick = self._newton(self.quick, self.cool_room, start, end)
        slow = self._newton(self.slow, self.warm_room, start, end)
        return quick, math.sqrt(max(1.0, quick) * max(1.0, slow)), slow

    def coldest(self, start: float, minutes: float) -> float:
        """The heat in °C that a bath has so many minutes later at the least."""
        over = start - self.cool_room
        return start if over <= 0 else self.cool_room + over * math.exp(-minutes / self.quick)

    @staticmethod
    def _newton(slows: float, room: float, start: float, end: float) -> float:
        over = max(end - room, _NEAR)
        if start - room <= over:
            return 0.0
        return slows * math.log((start - room) / over)


def loses_heat(plan: Judged, bath: BathState) -> Loses:
    """How a bath of known volume loses heat in its pot; one of unknown size is full."""
    assert bath.volume is not None
    pot = plan.flow.pots.get(bath.pot)
    capacity = pot[0].capacity.ends if pot and pot[0].capacity and pot[0].capacity.known else None
    if capacity is None:
        capacity = bath.volume
    area = heating.surface((float(capacity.low), float(capacity.high)))
    # The sides of a cylinder are four times its lid, by its height over its width.
    proportions = (float(each) for each in figure("pot proportions"))
    whole = sorted(a * (1 + 4 / each) for a, each in zip(area, proportions, strict=True))
    lost = figure("heat lost by a pot")
    water = water_at(50)
    holds = [float(each) * water.density * water.heat_capacity * 1000 for each in bath.volume]
    return Loses(
        holds[0] / (float(lost.high) * whole[1]) / 60,
        holds[1] / (float(lost.low) * whole[0]) / 60,
        float(threshold("cool room").value),
        float(threshold("warm room").value),
    )
