"""Baths that are poured away: not hot, where nothing else wants the pot."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from procedure.pipeline import Judged
from procedure.timetable.lengths import until_hand_hot
from procedure.timetable.work import Lag, Place
from procedure.timetable.written_out import Turn
from procedure.vocabulary import vocabulary


def poured_hot(turn: Turn) -> bool:
    """Whether a step pours away a bath that is hot, as far as is known."""
    bath = turn.moment.bath_before
    if not turn.node.does.empties or bath is None or bath.heat is None:
        return False
    return bath.heat.low >= float(vocabulary().heats["hot"].low)


def cooled_first(
    plan: Judged, turns: Sequence[Turn], first_of: dict[str, str], last_of: dict[str, str]
) -> Iterator[Lag]:
    """The waits until hot baths have cooled that are poured away at leisure.

    That is a bath poured away whole, whose pot no other bath comes into afterwards.
    """
    last: dict[str, Turn] = {}
    for number, turn in enumerate(turns):
        bath, before = turn.node.bath, last.get(turn.node.bath)
        if before is not None and poured_hot(turn) and not _a_part(turn):
            wanted = any(later.node.pot == turn.node.pot for later in turns[number + 1 :])
            state = turn.moment.bath_before
            wait = until_hand_hot(plan, state) if state is not None and not wanted else 0
            if wait:
                yield Lag(
                    last_of[before.key],
                    first_of[turn.key],
                    wait,
                    why="it is poured away when it has cooled",
                    near=False,
                    place=Place(plan.file, turn.line),
                )
        if bath:
            last[bath] = turn


def _a_part(turn: Turn) -> bool:
    return bool(turn.step.objects) and turn.step.objects[0].quantity is not None
