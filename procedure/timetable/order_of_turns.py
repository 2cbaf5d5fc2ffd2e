"""What comes after what, and how long it may wait in between."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.pipeline import Judged
from procedure.timetable.gathered import Gathered
from procedure.timetable.turns import Turn
from procedure.timetable.usual import Wait, waits
from procedure.timetable.work import Lag, Place
from procedure.trace import Moment
from procedure.vocabulary import vocabulary

_A_NIGHT = 12 * 60


class Order:
    """What comes after what, and how long it may wait in between."""

    def __init__(
        self,
        made: Gathered,
        plan: Judged,
        first_of: dict[str, str],
        last_of: dict[str, str],
    ) -> None:
        self.made = made
        self.plan = plan
        self.first_of = first_of
        self.last_of = last_of
        self.lots: dict[str, Turn] = {}
        self.baths: dict[str, Turn] = {}
        self.materials: dict[str, Turn] = {}
        self.hard: dict[str, Turn] = {}
        self.soft: dict[str, list[Turn]] = {}
        self.labels: dict[str, Turn] = {}

    def turn(self, turn: Turn) -> None:
        """Take a turn into account: waits from what came before on the same things."""
        befores: dict[str, Wait | None] = {}
        for before, wait in (
            *self._of_lots(turn),
            *self._of_baths(turn),
            *self._of_pots(turn),
            *self._of_materials(turn),
            *self._by_hand(turn),
        ):
            if before.key == turn.key:
                continue
            known = befores.get(before.key)
            if before.key not in befores or (wait and (known is None or wait.most < known.most)):
                befores[before.key] = wait or known
        for key, wait in befores.items():
            self.made.lags.append(
                Lag(
                    self.last_of[key],
                    self.first_of[turn.key],
                    0,
                    wait.most if wait is not None else None,
                    why=wait.why if wait is not None else "",
                    # What may wait for a night is not hurried.
                    near=wait is not None and wait.most < _A_NIGHT,
                    place=Place(self.plan.file, turn.line),
                )
            )
        if turn.step.label is not None:
            self.labels[turn.step.label.text] = turn

    def _of_lots(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        lots = dict.fromkeys((*node.lots, *node.present, *node.left))
        for lot in lots:
            before = self.lots.get(lot)
            if before is not None:
                yield before, _fibre_waits(before, turn, lot)
            self.lots[lot] = turn
        for made in node.makes:
            if made in self.plan.flow.lots:
                self.lots[made] = turn

    def _of_baths(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        moved = [thing for thing, _ in (*node.moved, *node.materials) if thing in self.baths]
        baths = dict.fromkeys((node.bath, *node.left.values(), *moved))
        for bath in filter(None, baths):
            before = self.baths.get(bath)
            if before is not None:
                own = bath == node.bath
                yield before, _bath_waits(before, turn) if own else None
            self.baths[bath] = turn
        for made in node.makes:
            self.baths[made] = turn

    def _of_pots(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        """A pot is used in the order of the text; waters in a tub may change places."""
        node = turn.node
        hard = {*node.cleaned}
        if node.makes and node.pot and node.bath in node.makes:
            hard.add(node.pot)
        if node.does.empties and node.pot:
            hard.add(node.pot)
        if node.to_pot:
            hard.add(node.to_pot)
        for pot in sorted(hard):
            for before in (*self.soft.pop(pot, ()), *filter(None, (self.hard.get(pot),))):
                yield before, None
            self.hard[pot] = turn
        if node.own_water and node.pot and node.pot not in hard:
            before = self.hard.get(node.pot)
            if before is not None:
                yield before, None
            self.soft.setdefault(node.pot, []).append(turn)

    def _of_materials(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        prepares = turn.step.verb is not None and turn.step.verb.group == "material"
        for thing, _ in (*node.moved, *node.materials):
            before = self.materials.get(thing)
            if before is not None:
                yield before, _material_waits(before)
            if prepares:
                self.materials[thing] = turn

    def _by_hand(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        for name in turn.step.after:
            before = self.labels.get(name.text)
            if before is not None:
                yield before, None


def _fibre_waits(before: Turn, turn: Turn, lot: str) -> Wait | None:
    """How long a lot may wait between two steps."""
    one, two = before.node.does, turn.node.does
    if one.dips and two.airs:
        return waits()["fibre to the air"]
    if one.airs and two.dips:
        return waits()["aired fibre"]
    state = before.moment.after.lots.get(lot)
    if state is None or state.bath or state.possibly("dry") == "":
        return None
    if one.wets:
        return waits()["damp fibre"]
    if state.mordants and not state.dyes:
        return waits()["mordanted fibre"]
    if one.rinses or one.washes:
        return waits()["rinsed fibre"]
    return waits()["damp fibre"]


def _bath_waits(before: Turn, turn: Turn) -> Wait | None:
    """How long a bath may wait between two steps."""
    one, two = before.node.does, turn.node.does
    hot = _ends_hot(before.moment)
    if two.dips and (one.warms or (one.settles and before.step.at is not None)):
        # A vat that is brought to a heat, or stands at one, is dipped in before it cools.
        return waits()["bath at its heat"]
    if one.dips or two.dips:
        return waits()["reduced vat"] if one.settles or one.dips else None
    if hot and two.cools:
        return Wait(0, 0, "the plate is off", "")
    kept = two.settles and turn.step.at is not None and not two.cools
    if hot and (two.warms or two.held_hot or two.keeps_heat or kept):
        return waits()["bath at its heat"]
    if any(content.solid for content in _contents(before.moment)):
        return waits()["bath in its pot"]
    return None


def _ends_hot(moment: Moment) -> bool:
    heat = moment.bath_after.heat if moment.bath_after is not None else None
    return heat is not None and heat.low >= float(vocabulary().heats["hot"].low)


def _contents(moment: Moment):  # type: ignore[no-untyped-def]
    return moment.bath_after.contents.values() if moment.bath_after is not None else ()


def _material_waits(before: Turn) -> Wait | None:
    does = before.node.does
    if does.gathers:
        return waits()["plant gathered"]
    if does.in_water:
        return waits()["plant in water"]
    return waits()["plant made ready"] if does.readies else None
