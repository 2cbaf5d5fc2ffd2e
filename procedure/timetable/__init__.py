"""When: a timetable by the clock, by the pot, by the ring and by the person.

The room in one look::

    work = Work(activities, lags, holds, resources, windows, begins, ...)    # work.py
    made = plan(work)                  # a Timetable, or Unfit with the smallest reason
    facts = agenda(made)               # by day: what to do, what goes on, when to be back
    text.report(facts, reliefs(made))  # and table, as_json, icalendar_file, drawing

``work`` has the types that whoever asks for a timetable fills in; ``faults`` says in
sentences what cannot be planned as it is given. ``listing`` makes a first plan at once,
``programme`` states the work for the solver, ``solving`` asks it for the best plan, ``warming``
knows which baths have stood and are warmed again, and ``planning`` puts that together.
``reasons``, ``relief`` and ``giving`` explain: why there is no plan, what holds it up, what
can give. ``hours`` knows the clock, ``sharing`` who does what. Nothing here knows
of procedures; OR-Tools is imported when something is to be solved.
"""

from __future__ import annotations

from procedure.timetable.agenda import Agenda, agenda
from procedure.timetable.planned import HowFound, Placed, Timetable
from procedure.timetable.planning import Fitted, eased, fitted, noted, plan
from procedure.timetable.reasons import NoPlan
from procedure.timetable.relief import Relief, reliefs
from procedure.timetable.solving import NotKnown
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.work import (
    Activity,
    ActivityPlace,
    Attendance,
    Done,
    Hold,
    Lag,
    Lasting,
    Need,
    Point,
    Resource,
    Window,
    Work,
)

__all__ = [
    "Activity",
    "ActivityPlace",
    "Agenda",
    "Attendance",
    "CannotPlan",
    "Done",
    "Fitted",
    "Hold",
    "HowFound",
    "Lag",
    "Lasting",
    "Need",
    "NoPlan",
    "NotKnown",
    "Placed",
    "Point",
    "Relief",
    "Resource",
    "Timetable",
    "Window",
    "Work",
    "agenda",
    "eased",
    "fitted",
    "noted",
    "plan",
    "reliefs",
]
