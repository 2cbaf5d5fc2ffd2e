"""Baths that are poured away: not hot, where nothing else wants the pot."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from procedure.pipeline import Judged
from procedure.timetable.lengths import surely_as_cool, until_as_cool
from procedure.timetable.work import ActivityPlace, Lag
from procedure.timetable.written_out import Turn
from procedure.trace.states import BathState
from procedure.vocabulary import vocabulary

_COLD = re.compile(r"\bcold\b", re.IGNORECASE)


def poured_hot(turn: Turn) -> bool:
    """Whether a step pours away a bath that is hot, as far as is known, and may be so."""
    empties = turn.node.does.empties and not _until_cold(turn)
    return empties and _is_hot(turn.moment.bath_before)


def hot_still(plan: Judged, turn: Turn) -> int:
    """Minutes after it was heated for which a bath that is poured away may be hot; else nought."""
    bath = turn.moment.bath_before
    if bath is None or not poured_hot(turn):
        return 0
    return surely_as_cool(plan, bath, "hand-hot")


def cooled_first(
    plan: Judged, turns: Sequence[Turn], first_of: dict[str, str], last_of: dict[str, str]
) -> Iterator[Lag]:
    """The waits until hot baths have cooled that are poured away at leisure.

    That is a bath poured away whole, whose pot no other bath comes into afterwards. How hot
    it is, is seen from the last step on it: what the text tells in between may come later in
    the plan. What is to be cold when it is poured away, by its own words, cools so far in any
    case.
    """
    last: dict[str, Turn] = {}
    for number, turn in enumerate(turns):
        bath, before = turn.node.bath, last.get(turn.node.bath)
        if before is not None and turn.node.does.empties and not poured_in_part(turn):
            wanted = any(later.node.pot == turn.node.pot for later in turns[number + 1 :])
            wait = 0 if wanted and not _until_cold(turn) else _cooling(plan, before, turn)
            if wait:
                yield Lag(
                    last_of[before.key],
                    first_of[turn.key],
                    wait,
                    why="it is poured away when it has cooled",
                    near=False,
                    place=ActivityPlace(plan.file, turn.line),
                )
        if bath:
            last[bath] = turn


def _cooling(plan: Judged, before: Turn, turn: Turn) -> int:
    """Minutes from the step before on the same bath until it may be poured away."""
    states = (before.moment.bath_after, turn.moment.bath_before)
    hot = [state for state in states if state is not None and _is_hot(state)]
    wanted = "room temperature" if _until_cold(turn) else "hand-hot"
    return max((until_as_cool(plan, state, wanted) for state in hot), default=0)


def _is_hot(bath: BathState | None) -> bool:
    if bath is None or bath.heat is None:
        return False
    return bath.heat.low >= float(vocabulary().heats["hot"].low)


def _until_cold(turn: Turn) -> bool:
    """Whether the place that a bath is poured to says that it is to be cold (“once it is cold”)."""
    to = turn.step.to
    return to is not None and to.words is not None and bool(_COLD.search(to.words.text))


def poured_in_part(turn: Turn) -> bool:
    """Whether a step pours away a part of a bath, and what lies in the rest is in it still."""
    return bool(turn.step.objects) and turn.step.objects[0].quantity is not None
