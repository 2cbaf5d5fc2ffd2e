"""Who works at which lot in a workshop: participants at their own, the teachers at all else.

A participant works at the lots that bear their name (``elder``, ``elder-sample``,
``elder.short``) and at nothing else. What belongs to several or to nobody is done by the
hands that are there besides: the teachers. A dip in a vat wants a teacher at the vat as well,
so that turns at a shared vat come one after another where there is one teacher (the
project's rule; whoever teaches may want it otherwise).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.timetable.work import HANDS, Need, Resource, Work
from procedure.timetable.written_out import Turn


class NoLotOf(ValueError):
    """A participant to whom no lot belongs; a plain sentence."""


def hands_of(plan: Judged, turn: Turn, participants: Sequence[str]) -> tuple[Need, ...]:
    """The people that a step takes: whose lots they are, a teacher at a vat, or a teacher."""
    owners = {owner_of(plan.study.called(lot), participants) for lot in turn.node.lots}
    if len(owners) != 1 or "" in owners:
        return (Need(HANDS),)
    own = Need(_key(owners.pop()))
    return (own, Need(HANDS)) if turn.node.does.dips else (own,)


def owner_of(lot: str, participants: Sequence[str]) -> str:
    """The participant whose name is in that of a lot, of several the longest name, or none."""
    parts = _words(lot)
    named = [each for each in participants if _has(parts, _words(each))]
    return max(named, key=lambda each: len(_words(each)), default="")


def _words(name: str) -> list[str]:
    return re.split(r"[-.\s]+", name.strip().lower())


def _has(parts: Sequence[str], words: Sequence[str]) -> bool:
    """Whether some words stand together among others."""
    count = len(words)
    return any(parts[i : i + count] == words for i in range(len(parts) - count + 1))


def resources_of(participants: Sequence[str]) -> tuple[Resource, ...]:
    """A pair of hands for each participant, by name."""
    return tuple(
        Resource(_key(each), each, "people", 1, (each,), one_more=False) for each in participants
    )


def without_a_step(work: Work, participants: Sequence[str]) -> tuple[str, ...]:
    """The participants who do nothing alone, since each step takes the lots of several."""
    busy = {need.resource for each in work.activities for need in each.hands}
    return tuple(each for each in participants if _key(each) not in busy)


def nothing_alone(work: Work, participants: Sequence[str]) -> list[str]:
    """A sentence on the participants who do nothing alone; none where each has steps."""
    idle = without_a_step(work, participants)
    if not idle:
        return []
    one = len(idle) == 1
    whose = "this person’s lots" if one else "their lots"
    teachers = listed(work.resource[HANDS].units)
    return [
        f"{listed(idle)} {'does' if one else 'do'} no step alone: each step with {whose} takes "
        f"those of others as well. That is planned for {teachers}; others may lend a hand, but "
        "no time is counted on for it."
    ]


def check_participants(plans: Sequence[Judged], participants: Sequence[str]) -> None:
    """Raises :class:`NoLotOf` for the first participant to whom no lot of the plans belongs."""
    lots = [plan.study.called(lot) for plan in plans for lot in plan.flow.lots]
    for each in participants:
        if not any(owner_of(lot, (each,)) for lot in lots):
            known = ", ".join(list(dict.fromkeys(lots))[:12])
            raise NoLotOf(
                f"No lot is {each}’s: name a lot after each participant; the lots are {known}."
            )


def _key(participant: str) -> str:
    return f"hands of {participant}"
