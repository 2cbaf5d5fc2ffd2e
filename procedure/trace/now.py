"""The present state of everything while the plan is followed, and questions asked of it.

The states themselves are never changed in place: a new one is put under the old name.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from procedure.flow.graph import Flow, FlowNode
from procedure.flow.poured_on import treated_further_on
from procedure.flow.undo_log import Watched
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.record import TYPE_CHECKING
from procedure.trace import uptake
from procedure.trace.amounts import Basis
from procedure.trace.moments import SplitSum
from procedure.trace.readings import ROOM, interval, more_than_nothing, piece
from procedure.trace.states import BathState, LotState, PotState, Residue, State, TakenUp

if TYPE_CHECKING:
    from typing import Any, TypeVar

    Thing = TypeVar("Thing")

DRY = (("dry", ""),)
WET = (("wet", ""),)
DAMP = (("damp", ""),)


class Now:
    """Every lot, bath and pot as it is now, and the minute of the plan (``clock``)."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow
        self.lots: Watched[LotState] = Watched()
        self.baths: Watched[BathState] = Watched()
        self.pots: Watched[PotState] = Watched()
        self.capacities: dict[str, Interval] = {}
        self.clock = ZERO.low
        self.split_sums: list[SplitSum] = []
        self.further_on: dict[str, dict[str, None]] | None = None

    def begin(self) -> None:
        """What is there before the first step: declared lots, empty pots, kept baths."""
        for name, origin in self.flow.lots.items():
            if origin.declared is not None:
                lot = origin.declared
                self.lots[name] = LotState(
                    weight=more_than_nothing(lot.weight),
                    piece=piece(lot),
                    fibres=lot.fibres,
                    wetness=DAMP if lot.damp else DRY,
                    soaked=None if lot.damp else ZERO.low,
                    heat=ROOM,
                    scoured=lot.scoured,
                    mordanted=lot.mordanted,
                )
                self._past(name)
        for name, (pot, _) in self.flow.pots.items():
            self.pots[name] = PotState()
            capacity = interval(pot.capacity)
            if capacity is not None:
                self.capacities[name] = capacity
        for name, maker in self.flow.baths.items():
            if maker < 0:
                self.baths[name] = BathState("", None, ROOM)

    def _past(self, name: str) -> None:
        """What a lot was treated with before is on it from the first."""
        lot = self.lots[name]
        mordants, dyes = dict(lot.mordants), dict(lot.dyes)
        for thing, past in self.flow.past.get(name, ()):
            made = self.flow.materials[thing][0]
            share = interval(past.share) if past.share is not None else None
            grams = share
            if share is not None and past.share is not None and past.share.kind != "mass":
                grams = None if lot.weight is None else share.times(lot.weight)
            taken = TakenUp(grams, lot.weight, -1, "")
            if "dyestuff" in made.roles or "dye" in made.roles:
                dyes[thing] = taken
            if {"mordant", "tannin", "modifier"} & set(made.roles):
                mordants[thing] = taken
        self.lots[name] = lot._replace(mordants=mordants, dyes=dyes)

    # ------------------------------------------------------------ all of it

    def everything(self) -> State:
        """All states as they are now."""
        return State(dict(self.lots), dict(self.baths), dict(self.pots))

    def only(self, names: State) -> State:
        """The present states of the things that another state names."""
        return State(
            {name: self.lots[name] for name in names.lots},
            {name: self.baths[name] for name in names.baths},
            {name: self.pots[name] for name in names.pots},
        )

    def update(self, states: State) -> None:
        """Put these states in the place of the present ones."""
        for lot, one in states.lots.items():
            self.lots[lot] = one
        for bath, two in states.baths.items():
            self.baths[bath] = two
        for pot, three in states.pots.items():
            self.pots[pot] = three

    def back_to(self, before: State, changed: State) -> None:
        """Undo a change: put back what was, and take away what was not there."""
        _undo(self.lots, before.lots, changed.lots)
        _undo(self.baths, before.baths, changed.baths)
        _undo(self.pots, before.pots, changed.pots)

    def touched(self, node: FlowNode) -> State:
        """The present states of what a step touches."""
        lots = (*node.lots, *node.present, *node.left, *node.makes)
        bath_names = [node.bath, *node.makes, *node.left.values()]
        bath_names += [thing for thing, _ in (*node.moved, *node.materials)]
        known, held, kept = self.lots, self.baths, self.pots
        baths = {n: held[n] for n in bath_names if n in held}
        pots = (
            node.pot,
            node.to_pot,
            node.bag,
            *node.cleaned,
            *[bath.pot for bath in baths.values()],
        )
        return State(
            {n: known[n] for n in lots if n in known},
            baths,
            {n: kept[n] for n in pots if n in kept},
        )

    # ------------------------------------------------------------ one thing

    def put(self, lot: str, **changes: Any) -> None:
        """The lot with some of what it is changed; nothing where there is no such lot."""
        state = self.lots.get(lot)
        if state is not None:
            self.lots[lot] = state._replace(**changes)

    def meet(self, lot: str, bath: BathState, node: FlowNode, skip: tuple[str, ...] = ()) -> None:
        """The lot takes up what the bath holds, and carries some of it loose."""
        state = self.lots.get(lot)
        if state is not None and bath.contents:
            self.lots[lot] = uptake.meet(self.flow, state, bath, node.id, skip)

    def traces(self, pot: str) -> Mapping[str, Residue]:
        """What a pot still has of what it held."""
        state = self.pots.get(pot)
        return state.residues if state is not None else {}

    def comes_from(self, lot: str, among: Collection[str]) -> bool:
        """True where a lot was split or joined from one of those."""
        if not among:
            return False
        # What is older than all of them was not made from any of them.
        oldest = min(map(self._made_at, among))
        found: set[str] = set()
        waiting = [lot]
        while waiting:
            origin = self.flow.lots.get(waiting.pop())
            for part in origin.parts if origin is not None else ():
                if part in among:
                    return True
                if part not in found and self._made_at(part) >= oldest:
                    found.add(part)
                    waiting.append(part)
        return False

    def _made_at(self, lot: str) -> int:
        """The step that made a lot; before all of them for one that is declared."""
        origin = self.flow.lots.get(lot)
        return -1 if origin is None or origin.node is None else origin.node

    # ------------------------------------------------------------ what amounts go by

    def basis(self, node: FlowNode) -> Basis:
        """What the amounts of a step may be measured by."""
        return Basis(
            self.lots,
            self.baths,
            self.capacities,
            node.names,
            self._treated(node),
            self.baths.get(node.bath),
        )

    def _treated(self, node: FlowNode) -> tuple[str, ...]:
        """All the fibre that a step's bath is to treat; no fibre counts twice after a split."""
        lots = tuple(self.flow.treats.get(node.bath, ())) or node.lots
        if not lots and node.bath:
            if self.further_on is None:
                self.further_on = treated_further_on(self.flow)
            lots = tuple(self.further_on.get(node.bath, ()))
        if len(lots) < 2:
            return lots
        among = set(lots)
        return tuple(lot for lot in lots if not self.comes_from(lot, among))


def _undo(known: Watched[Thing], before: Mapping[str, Thing], changed: Mapping[str, Thing]) -> None:
    for name in changed:
        if name in before:
            known[name] = before[name]
        else:
            del known[name]
