"""Rounds of a repeat: when the next begins, and many of them told at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil

from procedure.model import Block
from procedure.quantity.day import A_DAY
from procedure.timetable.gathered import Gathered
from procedure.timetable.printed import run_of_numbers
from procedure.timetable.step_names import each_once
from procedure.timetable.unplannable import MOST_ACTIVITIES, CannotPlan
from procedure.timetable.work import Activity, ActivityPlace, Attendance, Lag, Lasting, Point
from procedure.timetable.written_out import Bundle, Turn

_AT_A_TIME = 120
"""Rounds are told so many at once as go into about so many minutes."""
_SLACK, _SLACK_OF_DAYS = 15, 12 * 60


class Rounds:
    """Keeps the time from the start of one round to the start of the next (“every 2 h”)."""

    def __init__(self, made: Gathered) -> None:
        self.made = made
        self.last: dict[int, str] = {}

    def turn(self, turn: Turn, first: Activity) -> None:
        """Take a turn into account that begins with an activity."""
        block = turn.begins_round
        if block is None:
            return
        # Of a repeat for each of several lots, the rounds of each lot are its own.
        every, before = _every(block), self.last.get(turn.node.id)
        self.last[turn.node.id] = first.key
        if every is None or before is None:
            return
        round_takes = self._since(before)
        # Nobody comes in the middle of the night: what is to be done each day is done on it.
        slack = _SLACK_OF_DAYS if every >= A_DAY // 2 else _SLACK
        self.made.lags.append(
            Lag(
                before,
                first.key,
                max(0, every - (slack if slack > _SLACK else 0)),
                every + slack if round_takes <= every + slack else None,
                Point.START,
                Point.START,
                "it is written so",
                place=ActivityPlace(first.place.file, block.place.line),
            )
        )

    def _since(self, key: str) -> int:
        """How long the steps of the round before take, one after another."""
        keys = [each.key for each in self.made.activities]
        round_before = self.made.activities[keys.index(key) : -1]
        return sum(each.lasting.most for each in round_before)


def _every(block: Block) -> int | None:
    """Minutes from the start of a round to that of the next; None where nothing is written."""
    if block.every is None or block.every.low is None:
        return None
    return max(1, round(float(block.every.low)))


def many_rounds(
    bundle: Bundle, turns: Sequence[Turn], pieces: Sequence[Activity]
) -> Iterator[Activity]:
    """All rounds of a repeat as a few activities, each of some rounds, in their full length.

    Raises :class:`CannotPlan` where they are too many even so.
    """
    rounds = {turn.key: turn.rounds for turn in turns}
    often = [rounds[each.key.removesuffix(" heated")] for each in pieces]
    least = sum(n * each.lasting.least for n, each in zip(often, pieces, strict=True))
    most = sum(n * each.lasting.most for n, each in zip(often, pieces, strict=True))
    every = _every(bundle.block)
    if every is not None:
        least, most = max(least, every * bundle.rounds), max(most, every * bundle.rounds)
    line = bundle.block.place.line
    if most / _AT_A_TIME > MOST_ACTIVITIES:
        raise CannotPlan(
            f"Line {line}: {bundle.rounds:,} rounds take {ceil(most / 60):,} hours; "
            "that is too long for one timetable."
        )
    count = min(bundle.rounds, max(1, ceil(most / _AT_A_TIME)))
    name = each_once([each.name for each in pieces])
    hands = [each for each in pieces if each.attendance is Attendance.WHOLE]
    base = (hands or [each for each in pieces if each.every] or list(pieces))[0]
    done = 0
    for number in range(count):
        upto = bundle.rounds * (number + 1) // count
        share = (upto - done) / bundle.rounds
        which = f"{done + 1} to {upto}" if upto > done + 1 else f"{upto}"
        told = f"{name}, round{'s' * (upto > done + 1)} {which} of {bundle.rounds:,}"
        first = pieces[0].key
        yield replace(
            base,
            key=first if not number else f"{first} from round {done + 1}",
            name=told,
            lasting=Lasting(ceil(least * share), ceil(most * share), said=base.lasting.said),
            needs=tuple(dict.fromkeys(need for each in pieces for need in each.needs)),
            lots=tuple(dict.fromkeys(lot for each in pieces for lot in each.lots)),
            place=pieces[0].place,
            printed=run_of_numbers(pieces[0].printed, pieces[-1].printed),
            amounts=(),
            round=(0, 0),
        )
        done = upto
