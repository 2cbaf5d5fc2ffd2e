"""The timetable as JSON; ``timetable.schema.json`` beside this file is its schema."""

from __future__ import annotations

import json
from typing import Any

from procedure.timetable.agenda import Agenda, AgendaEntry
from procedure.timetable.giving import Room, rooms
from procedure.timetable.hours import clock
from procedure.timetable.planned_words import saving
from procedure.timetable.reasons import NoPlan
from procedure.timetable.refused_words import refusal
from procedure.timetable.relief import Relief
from procedure.timetable.shared_out import where
from procedure.timetable.unsure import hot_until, may_take
from procedure.wording.visible import escaped

FORM = 1
_Object = dict[str, Any]


def report(agenda: Agenda, reliefs: tuple[Relief, ...] = ()) -> str:
    """A plan as one JSON object, ended by a line feed."""
    made = agenda.made
    rooms_of = {each.key: each for each in rooms(made)}
    document = {
        "form": FORM,
        "title": made.work.title,
        "cautions": list(made.work.cautions),
        "notes": list(made.work.notes),
        "possible": True,
        "begins": _clock(agenda, 0),
        "finishes": _clock(agenda, made.finish),
        "minutes": made.finish - made.work.now,
        "proven_least_minutes": max(0, made.bound - made.work.now),
        "shortest": made.shortest,
        "within": round(made.within, 4),
        "fewest_days": made.fewest_days,
        "days_with_hands": made.days,
        "searched": made.searched,
        "cut_short": made.cut_short,
        "steps": [
            _step(agenda, key, rooms_of.get(key))
            for key in sorted(agenda.numbers, key=agenda.numbers.__getitem__)
        ],
        "days": [
            {
                "date": _clock(agenda, day.windows[0].opens)[:10],
                "open": [
                    {"from": _clock(agenda, w.opens), "to": _clock(agenda, w.closes)}
                    for w in day.windows
                ],
                "entries": [_entry(agenda, entry) for entry in day.entries],
                "goes_on": [agenda.numbers[key] for key in day.leaves],
            }
            for day in agenda.days
        ],
        "rows": [
            {
                "resource": row.resource.key,
                "kind": row.resource.kind,
                "name": row.name,
                "taken": [
                    {
                        "from": _clock(agenda, bar.start),
                        "to": _clock(agenda, bar.end),
                        "step": agenda.numbers.get(bar.key),
                        "how": bar.how,
                    }
                    for bar in row.bars
                ],
            }
            for row in agenda.rows
        ],
        "one_more": [_relief(agenda, each) for each in reliefs],
    }
    return escaped(json.dumps(document, indent=2, ensure_ascii=False)) + "\n"


def refused(unfit: NoPlan) -> str:
    """Why there is no plan, as one JSON object of the same schema."""
    work = unfit.work
    document = {
        "form": FORM,
        "title": work.title,
        "possible": False,
        "reason": {
            "words": refusal(unfit),
            "smallest": unfit.smallest,
            "finish_asked_for": unfit.has("finish"),
            "steps": [
                {
                    "step": each.name,
                    "minutes": each.lasting.most,
                    "file": each.place.file,
                    "line": each.place.line,
                }
                for each in unfit.activities
            ],
            "waits": [
                {
                    "before": work.activity[lag.before].name,
                    "after": work.activity[lag.after].name,
                    "least_minutes": lag.least,
                    "most_minutes": lag.most,
                    "why": lag.why,
                }
                for lag in unfit.lags
            ],
            "resources": [
                work.resource[part.key].name for part in unfit.parts if part.kind == "resource"
            ],
        },
    }
    return escaped(json.dumps(document, indent=2, ensure_ascii=False)) + "\n"


def _clock(agenda: Agenda, minute: int) -> str:
    assert agenda.made.work.begins is not None
    return clock(agenda.made.work.begins, minute).isoformat(timespec="minutes")


def _step(agenda: Agenda, key: str, room: Room | None) -> _Object:
    made = agenda.made
    each, placed, hot = made.work.activity[key], made.at[key], hot_until(made, key)
    return {
        "number": agenda.numbers[key],
        "printed_number": agenda.printed(key),
        "key": key,
        "step": each.name,
        "procedure": each.project,
        "lots": list(each.lots),
        "amounts": list(each.amounts),
        "starts": _clock(agenda, placed.start),
        "ends": _clock(agenda, placed.end),
        "minutes": placed.end - placed.start,
        "range_minutes": [each.lasting.least, each.lasting.most],
        "may_take_minutes": may_take(made, key) or None,
        "length_from": each.lasting.said,
        "attendance": each.attendance.value,
        "look_every_minutes": each.every or None,
        "hot_until": _clock(agenda, hot) if hot is not None else None,
        "cold_minutes": dict(made.work.cold).get(key),
        "overnight": each.overnight,
        "where": list(where(made, key)),
        "file": each.place.file,
        "line": each.place.line,
        "done": made.work.over(key),
        "may_begin_later_minutes": room.later if room else 0,
    }


def _entry(agenda: Agenda, entry: AgendaEntry) -> _Object:
    return {
        "at": _clock(agenda, entry.minute),
        "kind": entry.kind,
        "step": entry.number or None,
        "until": _clock(agenda, entry.until),
        "hands_until": _clock(agenda, entry.hands_until) if entry.hands_until else None,
        "who": list(entry.who),
        "stay_near": [agenda.numbers[key] for key in entry.watched],
    }


def _relief(agenda: Agenda, each: Relief) -> _Object:
    return {
        "resource": each.resource.key,
        "more": each.more,
        "saves_least_minutes": each.least,
        "saves_most_minutes": each.most,
        "proven": each.proven,
        "finishes": _clock(agenda, each.finish),
        "words": saving(each),
    }
