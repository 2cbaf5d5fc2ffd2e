"""What one person has to do and to know: a participant's own lots, or a teacher's work.

A participant is told what is done to the lots of their own, by them or by others, and when they
are free; the pots and the lots of others are not theirs to mind. Whoever works at anything
is told what goes on by itself as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from procedure.timetable.agenda import Agenda, AgendaEntry, Day
from procedure.timetable.giving import LEAST_FREE
from procedure.timetable.work import HANDS


def of_one(agenda: Agenda, who: str) -> Agenda:
    """The facts of a plan for one of its people."""
    own = _own_lots(agenda, who)
    if not own:
        days = (
            replace(day, entries=tuple(e for e in day.entries if not e.who or who in e.who))
            for day in agenda.days
        )
        return replace(agenda, days=tuple(days))
    made = (_day(agenda, day, who, own) for day in agenda.days)
    return replace(agenda, days=tuple(day for day in made if day.entries), who=who)


def _own_lots(agenda: Agenda, who: str) -> set[str]:
    """The lots that nobody else of the participants works at; none of who works at anything."""
    work = agenda.made.work
    theirs = {each.key for each in work.resources if each.kind == "people" and who in each.units}
    if HANDS in theirs:
        return set()
    return {
        lot
        for each in work.activities
        if theirs & {need.resource for need in each.hands}
        for lot in (*each.lots, *each.makes)
    }


def _day(agenda: Agenda, day: Day, who: str, own: set[str]) -> Day:
    known = agenda.made.work.activity
    entries = [
        each
        for each in day.entries
        if who in each.who or (each.kind in ("begin", "over") and own & {*known[each.key].lots})
    ]
    entries += _free(entries, who, max(day.windows[0].opens, agenda.made.work.now))
    entries.sort(key=lambda each: (each.minute, each.kind != "free", each.number, each.kind))
    return replace(
        day,
        entries=tuple(entries),
        leaves=tuple(key for key in day.leaves if own & {*known[key].lots}),
        stands=(),
        wet=tuple((lot, until) for lot, until in day.wet if lot in own),
        too_long=(),
    )


def _free(entries: list[AgendaEntry], who: str, opens: int) -> Iterator[AgendaEntry]:
    """The pauses before and between what one person does by hand."""
    until = opens
    for each in sorted(entries, key=lambda entry: entry.minute):
        if who not in each.who:
            continue
        if each.minute - until >= LEAST_FREE:
            yield AgendaEntry(until, "free", until=each.minute)
        until = max(until, each.hands_until)
