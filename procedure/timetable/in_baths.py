"""Fibre that lies in a bath: how long it may, and what may not be left with it over a night."""

from __future__ import annotations

from collections.abc import Iterable

from procedure.facts import left_overnight
from procedure.facts.liquor import metal_of, metals_in, stuff
from procedure.pipeline import Judged
from procedure.timetable.usual import Wait, waits
from procedure.timetable.written_out import Turn
from procedure.trace.states import BathState
from procedure.vocabulary import vocabulary


def in_a_bath(plan: Judged, turn: Turn, bath: str) -> Wait:
    """How long fibre that a step leaves in a bath may wait there for the next step."""
    rows = waits()
    found = rows["fibre in a bath"]
    for metal in sorted(_metals(plan, turn.moment.after.baths.get(bath))):
        row = rows.get(f"fibre in a bath of {metal}")
        if row is not None and row.most < found.most:
            found = row
    return found


def lies_in_a_bath(turn: Turn) -> bool:
    """Whether fibre is in a bath while a step goes on, and still when it is over."""
    return left_overnight.lies_in_a_bath(turn.moment)


def is_harsh(plan: Judged, turn: Turn) -> bool:
    """Whether the bath holds what spoils fibre that lies in it for longer than is written."""
    bath = turn.moment.bath_after or turn.moment.bath_before
    return left_overnight.harms_what_lies_in_it(plan.study, bath)


def harsh_metals(plan: Judged, turn: Turn) -> list[str]:
    """The metals in the bath of a step that spoil fibre which lies in it for long."""
    bath = turn.moment.bath_after or turn.moment.bath_before
    metals = metals_in(plan.study, bath.contents) if bath is not None else ()
    return sorted(each for each in metals if f"fibre in a bath of {each}" in waits())


def written_for_a_night(turn: Turn) -> bool:
    """Whether the text itself lets a step go on over a night: by the word, or by its time."""
    minutes = turn.moment.minutes
    if turn.step.manner & {"overnight", "until-next-day"}:
        return True
    return minutes is not None and minutes.high >= vocabulary().heats["overnight"].low


def spoils(plan: Judged, things: Iterable[str]) -> bool:
    """Whether one of these mordants harms fibre that waits with it unrinsed for days."""
    return any(f"fibre in a bath of {metal}" in waits() for metal in metals_in(plan.study, things))


def _metals(plan: Judged, bath: BathState | None) -> set[str]:
    if bath is None:
        return set()
    return {metal_of(one.entry) for one in stuff(plan.study, bath.contents)} - {""}
