"""The timetable as CSV (RFC 4180): a row for each step, in the order of the starts.

``number`` is the step's number on the handout of its procedure. ``may_take_minutes`` is the long
end of an estimate of which the middle is planned; until ``hot_until`` somebody stays near.
``cold_minutes`` are those in which a bath that has cooled before the step would be warm again, for
which the plan has no time.
"""

from __future__ import annotations

import csv
import io

from procedure.timetable.agenda import Agenda
from procedure.timetable.hours import clock
from procedure.timetable.shared_out import where, who_at
from procedure.timetable.unsure import hot_until, may_take
from procedure.timetable.work import Attendance
from procedure.wording.visible import cell

COLUMNS = (
    "number",
    "procedure",
    "step",
    "starts",
    "ends",
    "minutes",
    "least_minutes",
    "attendance",
    "look_every_minutes",
    "hands_at_start_minutes",
    "hands_at_end_minutes",
    "who",
    "where",
    "lots",
    "overnight",
    "file",
    "line",
    "length_from",
    "amounts",
    "may_take_minutes",
    "hot_until",
    "cold_minutes",
)


def report(agenda: Agenda) -> str:
    """Rows with times as ISO 8601 with the zone's offset, or local without one."""
    made = agenda.made
    assert made.work.begins is not None
    people = who_at(made, agenda.rows)
    cold = dict(made.work.cold)
    out = io.StringIO()
    lines = csv.writer(out)
    lines.writerow(COLUMNS)
    for placed in sorted(made.placed, key=lambda each: agenda.numbers[each.key]):
        each = made.work.activity[placed.key]
        who = dict.fromkeys(
            name for (key, _), names in people.items() if key == each.key for name in names
        )
        whole = each.attendance is Attendance.WHOLE
        attended = each.attendance is not Attendance.NONE
        hot = hot_until(made, each.key)
        lines.writerow(
            cell(value)
            for value in (
                agenda.printed(each.key),
                each.project,
                each.name,
                clock(made.work.begins, placed.start).isoformat(timespec="minutes"),
                clock(made.work.begins, placed.end).isoformat(timespec="minutes"),
                placed.end - placed.start,
                each.lasting.least,
                each.attendance.value,
                each.every or "",
                placed.end - placed.start if whole else each.at_start * attended,
                0 if whole else each.at_end * attended,
                "; ".join(who),
                "; ".join(where(made, each.key)),
                "; ".join(each.lots),
                "yes" if each.overnight else "",
                each.place.file,
                each.place.line or "",
                each.lasting.said,
                "; ".join(each.amounts),
                may_take(made, each.key) or "",
                clock(made.work.begins, hot).isoformat(timespec="minutes") if hot else "",
                cold.get(each.key, ""),
            )
        )
    return out.getvalue()
