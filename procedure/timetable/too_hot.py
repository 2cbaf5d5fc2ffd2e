"""Baths that are too hot to be alone: for how long after a step somebody has to be there still.

Nothing hot is left while the place is closed, though its plate is off: a pot of hot liquor scalds
whoever knocks against it. So each step that leaves its bath hot ends so early that the bath is
below the heat of the row “unattended heat” in ``thresholds.csv`` before the place closes, unless
the next step on the bath comes at once. A bath that cools is hot at the beginning of its cooling;
one to which nothing is done but that it is strained, kept or the like, since it was last heated.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from procedure.pipeline import Judged
from procedure.timetable.gathered import Gathered
from procedure.timetable.lengths import until_bearable
from procedure.timetable.order_of_turns import bath_waits
from procedure.timetable.written_out import Turn

_AT_ONCE = 30
"""Minutes within which the next step on a hot bath takes over the care for it."""


def mark_hot(
    made: Gathered,
    plan: Judged,
    turns: Sequence[Turn],
    last_of: dict[str, str],
    too_hot: str,
    cooler: Collection[str],
) -> None:
    """Write at the last activity of each step for how long its bath is too hot after it.

    ``too_hot`` is the heat that counts, in the reader's words; ``cooler`` are the turns before
    which the bath is to cool, which may be over a night: they take over nothing.
    """
    hot: dict[str, int] = {}
    last: dict[str, Turn] = {}
    for turn in turns:
        bath = turn.node.bath
        before = last.get(bath)
        if before is not None and before.key in hot:
            wait = bath_waits(plan, before, turn)
            at_once = wait is not None and wait.most <= _AT_ONCE
            if at_once and turn.key not in cooler:
                del hot[before.key]
        if bath:
            last[bath] = turn
            minutes = 0 if turn.node.does.empties else until_bearable(plan, turn)
            if minutes and not _leaves_the_heat(turn):
                hot[turn.key] = minutes
    of_activity = {last_of[key]: minutes for key, minutes in hot.items()}
    for number, each in enumerate(made.activities):
        if each.key in of_activity:
            made.activities[number] = replace(
                each, hot_after=of_activity[each.key], too_hot=too_hot
            )


def _leaves_the_heat(turn: Turn) -> bool:
    """Whether a step does nothing to the heat of its bath, which cools since the step before."""
    does, before, after = turn.node.does, turn.moment.bath_before, turn.moment.bath_after
    if before is None or after is None or before.heat != after.heat or before.pot != after.pot:
        return False
    heats = does.warms or does.held_hot or does.keeps_heat or does.changes_heat
    return not heats and not does.puts_fibre_in and turn.step.at is None
