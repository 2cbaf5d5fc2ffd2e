"""Which pot each bath is in, from the step that fills it until it is free and clean."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace

from procedure.facts.left_in_waters import spoiling_metals
from procedure.pipeline import Judged
from procedure.timetable.gathered import Gathered
from procedure.timetable.usual import usual
from procedure.timetable.work import Attendance, Hold, Lag, Need, Point
from procedure.timetable.written_out import Turn
from procedure.trace import uptake

_TWO = 2


def _poured_away(turn: Turn, bath: str) -> bool:
    """Whether all of a bath is poured away, which the step itself still has as it was."""
    return turn.node.does.empties and turn.node.bath == bath


def clean_between(made: Gathered) -> None:
    """Have a pot cleaned that one procedure leaves as it was and another uses.

    The step that empties it is longer by what cleaning takes, and says so.
    """
    users: dict[str, set[str]] = defaultdict(set)
    project = {each.key: each.project for each in made.activities}
    for each in made.activities:
        for need in each.needs:
            users[need.resource].add(each.project)
    for hold in made.holds:
        users[hold.need.resource].add(project[hold.first])
    cleaning = usual("clean")
    for number, each in enumerate(made.activities):
        pot = made.unclean.get(each.key, "")
        if len(users[pot]) < _TWO or each.attendance is not Attendance.WHOLE:
            continue
        lasting = replace(
            each.lasting,
            least=each.lasting.least + cleaning.low,
            most=each.lasting.most + cleaning.high,
            stretch=each.lasting.longest + cleaning.high,
        )
        words = f"Then clean {made.pots[pot]}: another procedure uses it too."
        made.activities[number] = replace(each, lasting=lasting, cautions=(*each.cautions, words))


@dataclass
class _Segment:
    bath: str
    pot: str
    first: str
    begins: Point
    last: str = ""
    ends: Point = Point.END
    inside: list[str] = field(default_factory=list)
    cleaned: bool = False


class Holding:
    """Follows which pot each bath is in, and holds the pot for it until it is free and clean."""

    def __init__(self, made: Gathered, plan: Judged) -> None:
        self.made = made
        self.plan = plan
        self.open: dict[str, _Segment] = {}
        self.shut: list[_Segment] = []
        # What was last in a pot that is empty now, which is its own until it is clean.
        self.to_clean: dict[str, _Segment] = {}
        self.before_cleaning: list[tuple[str, Turn]] = []
        # What left a pot so that it harms others, though its own procedure goes on with it.
        self.left_so: list[_Segment] = []

    def turn(self, turn: Turn) -> tuple[Need, ...]:
        """Take a turn into account; gives what it needs of pots for itself alone."""
        node, moment = turn.node, turn.moment
        needs: list[Need] = []
        for pot in node.cleaned:
            if not self._cleaned(turn, pot) and self._holds(pot) and not self._busy(pot):
                needs.append(Need(self._pot(pot)))
        baths = [node.bath] if node.bath else []
        baths += [each for each in node.makes if each in moment.after.baths and each not in baths]
        for bath in baths:
            self._bath(turn, bath)
        if not baths and node.pot and self._holds(node.pot) and not self._busy(node.pot):
            needs.append(Need(self._pot(node.pot)))
            self._taken(turn, node.pot)
        return tuple(dict.fromkeys(needs))

    def _bath(self, turn: Turn, bath: str) -> None:
        after, before = turn.moment.after.baths.get(bath), turn.moment.before.baths.get(bath)
        segment = self.open.get(bath)
        if segment is None:
            state = after or before
            pot = state.pot if state is not None else turn.node.pot
            if not pot:
                return
            emptied = self._taken(turn, pot, bath)
            if emptied is not None and emptied.bath == bath:
                segment = emptied  # a part of it was poured away
                segment.cleaned = False
                self.shut.remove(segment)
            else:
                segment = _Segment(bath, pot, turn.key, Point.START)
            self.open[bath] = segment
        segment.inside.append(turn.key)
        segment.last = turn.key
        moved = after.pot if after is not None and after.pot else segment.pot
        if moved != segment.pot:
            self._shut(segment)
            self._taken(turn, moved)
            self.open[bath] = _Segment(bath, moved, turn.key, Point.START, turn.key)
        elif after is None or turn.node.does.stores or _poured_away(turn, bath):
            self._shut(self.open.pop(bath))

    def _taken(self, turn: Turn, pot: str, bath: str = "") -> _Segment | None:
        """Take a pot as its last bath left it; what that was, if the pot is not clean."""
        emptied = self.to_clean.pop(pot, None)
        state = turn.moment.before.pots.get(pot)
        left = state.residues if state is not None else {}
        if emptied is not None and emptied.bath != bath:
            full = [thing for thing, residue in left.items() if residue.left == "full"]
            if spoiling_metals(self.plan.study, full):
                self.left_so.append(emptied)
        return emptied

    def _shut(self, segment: _Segment) -> None:
        self.shut.append(segment)
        self.to_clean[segment.pot] = segment

    def _cleaned(self, turn: Turn, pot: str) -> bool:
        """Whether a cleaning belongs to a bath that was in the pot, which is held until then."""
        segment = self.to_clean.get(pot)
        if segment is None or self._busy(pot):
            return False
        self.before_cleaning += [(inside, turn) for inside in dict.fromkeys(segment.inside)]
        segment.last = turn.key
        segment.inside.append(turn.key)
        segment.cleaned = True
        return True

    def _busy(self, pot: str) -> bool:
        return any(segment.pot == pot for segment in self.open.values())

    def _holds(self, pot: str) -> bool:
        found = self.plan.flow.pots.get(pot)
        return found is not None and found[0].holds

    def _pot(self, pot: str) -> str:
        key = self.made.pot_key(self.plan, pot)
        self.made.pots.setdefault(key, key.removeprefix("pot "))
        if not uptake.heatable(self.plan.flow, pot):
            self.made.tubs.add(key)
        if not self.plan.flow.pots[pot][0].lidded:
            self.made.lidless.add(key)
        return key

    def finish(self, first_of: dict[str, str], last_of: dict[str, str]) -> None:
        """All holds, those of baths that are never emptied as well."""
        for key, cleaning in self.before_cleaning:
            before, after = last_of[key], first_of[cleaning.key]
            if before != after:
                self.made.lags.append(
                    Lag(before, after, why="a pot is cleaned when it is empty", near=False)
                )
        for segment in (*self.left_so, *self.to_clean.values()):
            if segment.cleaned:
                continue  # by its own procedure
            if self._holds(segment.pot) and segment.ends is Point.END:
                self.made.unclean.setdefault(last_of[segment.last], self._pot(segment.pot))
        for number, segment in enumerate([*self.shut, *self.open.values()]):
            if not self._holds(segment.pot):
                continue
            inside = dict.fromkeys(
                key for turn in segment.inside for key in (first_of[turn], last_of[turn])
            )
            self.made.holds.append(
                Hold(
                    f"{first_of[segment.first]} hold {number}",
                    Need(self._pot(segment.pot)),
                    first_of[segment.first],
                    last_of[segment.last],
                    segment.begins,
                    segment.ends,
                    name=self.plan.study.called(segment.bath),
                    inside=tuple(inside),
                    cleaned=segment.cleaned,
                )
            )
