"""Turns at one vat: several lots that are dipped again and again, one while another airs.

Between two other steps on a vat (it is warmed, it rests, it is fed) come its dips. A dip comes
after the last dip of its own lots, and the first, second, third dip of some lots after the first,
second, third of those before them in the text; apart from that the dips of several lots may come
in any order, one at a time. What is done to the vat next comes when all of them are over.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from procedure.pipeline import Judged
from procedure.timetable.alike_baths import bath_called
from procedure.timetable.work import Activity, Need, Resource
from procedure.timetable.written_out import Turn, turn_of

_TURN = "turn in "


@dataclass
class _Strand:
    """The dips of some lots one after another."""

    lots: set[str]
    dips: list[Turn]


@dataclass
class _Run:
    """The dips between two other steps on a vat, by the lots; ``since`` is the step before."""

    since: Turn | None
    strands: list[_Strand] = field(default_factory=list)


class TurnsAtVats:
    """Follows each vat from dip to dip."""

    def __init__(self) -> None:
        self.runs: dict[str, _Run] = {}
        self.taken_in: dict[str, None] = {}

    def turn(self, turn: Turn, before: Turn | None) -> Iterator[tuple[Turn, bool]]:
        """The steps on the bath of a turn that come before it, and whether its wait is theirs.

        ``before`` is the step on the bath that is the last of the text.
        """
        bath = turn.node.bath
        if not turn.node.does.dips:
            run = self.runs.pop(bath, None)
            for strand in run.strands if run is not None else ():
                if strand.dips[-1] is not before:
                    yield strand.dips[-1], False
            if before is not None:
                yield before, True
            return
        run = self.runs.setdefault(bath, _Run(before))
        own = [each for each in run.strands if each.lots & {*turn.node.lots}]
        several = len(run.strands) > (1 if own else 0)
        again = bool(own) or any(len(each.dips) > 1 for each in run.strands)
        if several and again:
            self.taken_in[bath] = None
        if own:
            yield from ((each.dips[-1], True) for each in own)
            joined = _Strand({*turn.node.lots}.union(*(x.lots for x in own)), own[0].dips)
            place = run.strands.index(own[0])
            run.strands = [joined if x is own[0] else x for x in run.strands if x not in own[1:]]
            ahead = run.strands[place - 1].dips if place else []
            if len(ahead) > len(joined.dips):
                yield ahead[len(joined.dips)], False
            joined.dips.append(turn)
            return
        found = run.strands[-1].dips[0] if run.strands else run.since
        if found is not None:
            yield found, True
        run.strands.append(_Strand({*turn.node.lots}, [turn]))


def turns_in_words(plan: Judged, vats: TurnsAtVats) -> list[str]:
    """That the dips of several lots may come in another order than in the text."""
    return [
        f"Lots that are dipped more than once in {bath_called(plan, bath)} take turns there, one "
        "while another airs; each has its own dips and airings as they are written."
        for bath in vats.taken_in
    ]


def one_at_a_time(
    plan: Judged, prefix: str, turns: Sequence[Turn], activities: list[Activity]
) -> list[Resource]:
    """Have each vat in which several lots are dipped take one of its turns at a time.

    What is dipped in one step is dipped together. Gives the room in the vats.
    """
    lots: dict[str, set[tuple[str, ...]]] = {}
    dips: dict[str, str] = {}
    begins: dict[int, str] = {}
    for turn in turns:
        # Many rounds told at once are named after the first step of them.
        bundle = begins.setdefault(turn.bundle.number, turn.key) if turn.bundle else turn.key
        if turn.node.does.dips and turn.node.bath:
            lots.setdefault(turn.node.bath, set()).add(turn.node.lots)
            dips[bundle] = turn.node.bath
    shared = {
        bath: Resource(
            f"{_TURN}{prefix}{bath}",
            f"turn at a time in {bath_called(plan, bath)}",
            "turn",
            one_more=False,
        )
        for bath, each in lots.items()
        if len(each) > 1
    }
    for number, each in enumerate(activities):
        bath = dips.get(turn_of(each.key), "")
        if bath in shared:
            needs = (*each.needs, Need(shared[bath].key))
            activities[number] = replace(each, needs=needs)
    return list(shared.values())
