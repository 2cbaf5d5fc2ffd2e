"""Fibre that is left in the bath it was scoured in, since the next step lets that bath cool.

Fibre comes out of its scouring at the end of it. But where the bath is written to cool between the
scouring and the rinse, that is for the sake of the fibre, which a sudden cold would felt or crease:
it stays in, the rinse waits for it, and it is taken out when the bath has cooled. What reads the
text in its order does just that (common practice).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from procedure.pipeline import Judged
from procedure.timetable.usual import usual
from procedure.timetable.work import TURN_OFF, Activity, Attendance
from procedure.timetable.written_out import Turn


def cooled_with_fibre(turns: Sequence[Turn]) -> dict[str, Turn]:
    """The steps that cool a bath with the fibre in it that was scoured there, by their keys.

    With each is the scouring. Nothing is done in between to that bath or to the fibre, which is
    rinsed or washed next.
    """
    found: dict[str, Turn] = {}
    scoured: dict[str, Turn] = {}
    for i, turn in enumerate(turns):
        bath, does = turn.node.bath, turn.node.does
        if does.cools and bath in scoured and not turn.node.present:
            lots = set(scoured[bath].node.lots)
            after = next((one for one in turns[i + 1 :] if lots & {*one.node.lots}), None)
            if after is not None and (after.node.does.rinses or after.node.does.washes):
                found[turn.key] = scoured[bath]
        for name, before in list(scoured.items()):
            if name == bath or {*before.node.lots} & {*turn.node.lots}:
                del scoured[name]
        if turn.node.does.scours and bath and turn.bundle is None:
            scoured[bath] = turn
    return found


def with_fibre_in(plan: Judged, each: Activity, turn: Turn, cooled: Mapping[str, Turn]) -> Activity:
    """The activity of a step, where fibre stays in its bath or has stayed in it."""
    if any(turn.key == scouring.key for scouring in cooled.values()):
        return replace(each, ending=TURN_OFF, fibre_in=True)
    if turn.key not in cooled:
        return each
    scouring, lasting = cooled[turn.key], each.lasting
    taken_out = usual(scouring.node.effect)
    as_it_is = each.overnight or each.attendance is not Attendance.ENDS
    return replace(
        each,
        lots=tuple(plan.study.called(lot) for lot in scouring.node.lots),
        fibre_in=True,
        at_end=taken_out.at_end,
        ending=taken_out.ending,
        night=each.night and as_it_is,
        at_a_pinch=each.at_a_pinch if as_it_is else lasting.longest,
        lasting=lasting if as_it_is else replace(lasting, stretch=lasting.most),
    )
