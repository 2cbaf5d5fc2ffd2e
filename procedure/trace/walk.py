"""The plan followed once: blocks in their order, each step from the state before to the one after.

What a step does is found by the ``trace`` key of its verb's effect, in
:mod:`procedure.trace.on_fibre` and :mod:`procedure.trace.on_baths`.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from procedure.flow.graph import WATER, Flow, FlowNode
from procedure.flow.places import on_the_way
from procedure.model import Block, Item, Quantity, Step
from procedure.quantity.interval import Interval, hull, middle
from procedure.quantity.record import TYPE_CHECKING
from procedure.trace import heat, on_baths, on_fibre, on_matter, readings, uptake
from procedure.trace.amounts import Amount, Basis, amount_of, with_reading
from procedure.trace.boiling import boiling_point
from procedure.trace.moments import Brought, Happening, Moment, Trace
from procedure.trace.now import Now
from procedure.trace.readings import ROOM, heat_of
from procedure.trace.states import BathState, State, join
from procedure.trace.stocks import Stocks
from procedure.trace.used_again import PlantsInHand
from procedure.vocabulary import vocabulary
from procedure.vocabulary.effects import fit
from procedure.vocabulary.thresholds import threshold

if TYPE_CHECKING:
    from typing import Any

# A repeat is followed until nothing changes; this many passes are always enough,
# since each pass can only add facts, but a bound keeps a mistake from hanging.
MOST_PASSES = 8
# Of a stated number of rounds so many are followed, each with what it adds to a bath.
MOST_ROUNDS = 24
# Repeats inside repeats multiply their passes; where the moments outgrow the plan so
# far, each repeat is followed once.
MOST_MOMENTS_A_STEP = 20

HANDLERS = {**on_fibre.HANDLERS, **on_baths.HANDLERS, **on_matter.HANDLERS}
fit("trace", HANDLERS, "procedure/trace")


def trace(flow: Flow) -> Trace:
    """Follow the plan once and keep what happens at each step."""
    walk = _Walk(flow)
    walk.now.begin()
    walk.run(flow.top)
    now = walk.now
    return Trace(flow, walk.boiling, tuple(walk.moments), now.everything(), tuple(now.split_sums))


class _Walk:
    def __init__(self, flow: Flow) -> None:
        self.flow = flow
        self.boiling = boiling_point(flow.procedure.altitude)
        self.now = Now(flow)
        self.moments: list[Moment] = []
        self.stocks = Stocks(flow)
        self.in_hand = PlantsInHand()
        self.wearing = frozenset(name.text for name in flow.procedure.wearing)

    # ------------------------------------------------------------ blocks

    def run(self, nodes: list[FlowNode]) -> None:
        for node in nodes:
            if node.kind == "if":
                self.choice(node)
            elif node.kind == "either":
                self.either(node)
            elif node.kind == "repeat":
                self.repeat(node)
            elif node.kind in ("for", "follow", "way"):
                self.run(node.inner)
            elif node.kind != "end":
                self.happen(node)

    def choice(self, node: FlowNode) -> None:
        assert isinstance(node.step, Block)
        before, _ = self.changes(node)
        condition = node.step.condition
        taken = f"when “{condition}” holds"
        passed = f"when “{condition}” does not hold"
        self.now.update(join(self.now.only(before), before, taken, passed))

    def either(self, node: FlowNode) -> None:
        """Ways that exclude each other, each from the same beginning; then all of them joined."""
        now = self.now
        clock = longest = now.clock
        ends: list[tuple[str, State]] = []
        for way in (one for one in node.inner if one.kind == "way"):
            assert isinstance(way.step, Block)
            before, made = self.logged(way)
            ends.append((on_the_way([way.step.condition]), now.only(made)))
            longest, now.clock = max(longest, now.clock), clock
            now.back_to(before, made)
        now.clock = longest
        self.join_ways(ends)

    def join_ways(self, ends: list[tuple[str, State]]) -> None:
        """Put all that the ways leave in place of the present states, with the way in words."""
        if not ends:
            return
        now = self.now
        touched = State(
            {name: one for _, end in ends for name, one in end.lots.items()},
            {name: one for _, end in ends for name, one in end.baths.items()},
            {name: one for _, end in ends for name, one in end.pots.items()},
        )
        old = now.only(touched.there(now.lots, now.baths, now.pots))
        way, end = ends[0]
        joined = State(
            {**old.lots, **end.lots}, {**old.baths, **end.baths}, {**old.pots, **end.pots}
        )
        for other, end in ends[1:]:
            whole = State(
                {**old.lots, **end.lots}, {**old.baths, **end.baths}, {**old.pots, **end.pots}
            )
            joined = join(joined, whole, way, other)
            way = f"{way} or {other.removeprefix('on the way ')}"
        now.update(joined)

    def logged(self, node: FlowNode) -> tuple[State, State]:
        """Run a block once; gives what it changed as that was before, and all that it changed."""
        now = self.now
        lots, baths, pots = now.lots.watch(), now.baths.watch(), now.pots.watch()
        self.run(node.inner)
        now.lots.unwatch(lots)
        now.baths.unwatch(baths)
        now.pots.unwatch(pots)
        before = State(
            {name: one for name, one in lots.items() if one is not None},
            {name: two for name, two in baths.items() if two is not None},
            {name: three for name, three in pots.items() if three is not None},
        )
        return before, State(
            {name: now.lots[name] for name in lots},
            {name: now.baths[name] for name in baths},
            {name: now.pots[name] for name in pots},
        )

    def repeat(self, node: FlowNode) -> None:
        assert isinstance(node.step, Block)
        times = node.step.times
        passes = MOST_PASSES if times is None else _rounds(times)
        done = 0
        before = State({}, {}, {})
        for _ in range(max(passes, 1)):
            began = self.now.clock
            before, made = self.changes(node)
            done += 1
            cooled = done < passes and self.stand_until_next(node.step, began, before)
            if not made and not cooled and _settled(before, self.now.only(before)):
                break
            if len(self.moments) > MOST_MOMENTS_A_STEP * len(self.flow.nodes):
                break
        if times is not None:
            self.count_on(before, int(times[0]) - done)

    def stand_until_next(self, block: Block, began: Fraction, before: State) -> bool:
        """Let the baths of a round stand until the next begins; gives whether any may be cooler."""
        every = block.every
        if every is None or not every.known:
            return False
        idle = began + every.ends.low - self.now.clock
        if idle <= 0:
            return False
        self.now.clock += idle
        baths = {name: self.now.baths[name] for name in before.baths if name in self.now.baths}
        cooler = {name: heat.stood_until_next(bath, idle) for name, bath in baths.items()}
        if cooler == baths:
            return False
        for name, bath in cooler.items():
            self.now.baths[name] = bath._replace(touched=self.now.clock)
        return True

    def count_on(self, before: State, more: int) -> None:
        """Counts of use after passes that are not followed because they change nothing else."""
        for name, was in before.baths.items() if more > 0 else ():
            now = self.now.baths[name]
            self.now.baths[name] = now._replace(
                uses=now.uses + more * max(now.uses - was.uses, 0),
                dips=now.dips + more * max(now.dips - was.dips, 0),
            )

    def changes(self, node: FlowNode) -> tuple[State, bool]:
        """Run a block once; gives what it changed, as that was before, and if it made anything."""
        before, after = self.logged(node)
        return before, sum(map(len, before)) < sum(map(len, after))

    # ------------------------------------------------------------ one step

    def happen(self, node: FlowNode) -> None:
        """The step happens, and its moment is kept."""
        step, now = node.step, self.now
        assert isinstance(step, Step)
        self.cool_out(node)
        self.cool_alone(node)
        before = now.touched(node)
        found = before.baths.get(node.bath)
        minutes = readings.minutes(step)
        heats = readings.heats(step, found.heat if found is not None else None, self.boiling)
        end = readings.end_heat(step, heats)
        it = Happening(node, step, self.amounts(node, step), minutes, heats, end)
        entering = _entering(node, before)
        start = self.start_heat(node, step, before)
        if step.verb is not None:
            HANDLERS[step.does.trace](now, it)
        nowhere = step.does.puts_fibre_in and node.bath not in now.baths
        if nowhere or readings.says_no_heat(step):
            self.forget_heat(node)
        on_baths.soil(now, node)
        labelled = self.label(node, step)
        after = now.touched(node)
        met = found.heat if step.left_unheated and found is not None else heats
        peak = readings.peak_heat(step, met)
        self.moments.append(
            Moment(
                node=node,
                step=step,
                before=before,
                after=after,
                bath_before=found,
                bath_after=after.baths.get(node.bath),
                entering=entering,
                minutes=minutes,
                heat=heats,
                start=start,
                peak=peak,
                hottest=middle(peak),  # which many rules ask for, each of every moment
                held=readings.held(step),
                amounts=it.amounts,
                wearing=self.worn(node, step),
                covered="covered" in step.manner,
                labelled=labelled,
                attended=readings.attended(step, minutes),
                setting=self.setting(node, step),
            )
        )
        if minutes is not None:
            now.clock += minutes.low
        bath = now.baths.get(node.bath)
        if bath is not None:
            now.baths[node.bath] = bath._replace(touched=now.clock)

    def amounts(self, node: FlowNode, step: Step) -> Brought:
        """What each item that the step brings comes to; water first, for g/L needs it."""
        brought = [*node.materials, *node.moved]
        if not brought:
            return ()
        found: dict[int, Amount | None] = {}
        beside: dict[str, Amount] = {}
        basis = self.now.basis(node)
        if len(brought) > 1:
            basis = basis._replace(beside=beside)
        for i in _in_order_of_sums(brought, basis):
            thing, item = brought[i]
            liquid = thing == WATER
            basis = self.by_whole(basis, thing)
            made = None
            if item.quantity is not None and self.of_itself(thing, item.quantity, node):
                made = self.stocks.share(thing, item.quantity, node, self.moments, basis)
            elif item.quantity is not None:
                made = amount_of(item.quantity, basis, liquid, self.stuff(thing))
                if item.quantity.of_two_kinds:
                    made = with_reading(made, item.quantity, basis, liquid)
            elif node.does.adds or node.does.makes_bath or node.does.bags:
                made = self.stocks.made_ready(thing, node, self.moments, basis)
                made = made or self.once_more(thing)
            elif liquid and node.does.tops_up:
                made = self.up_to(node, step, basis)
            found[i] = made
            if made is not None and thing in self.flow.materials:
                beside[thing] = made
            if liquid and made is not None and (step.does.makes_bath or basis.bath is None):
                basis = basis._replace(bath=BathState(node.pot, made.litres, None))
        return tuple((thing, item, found[i]) for i, (thing, item) in enumerate(brought))

    def up_to(self, node: FlowNode, step: Step, basis: Basis) -> Amount | None:
        """The water that fills a bath “to 4 L”; None where it is not known how much is there."""
        full = step.to.quantity if step.to is not None else None
        bath = self.now.baths.get(node.bath)
        made = None if full is None else amount_of(full, basis, liquid=True)
        if made is None or made.kind != "volume" or bath is None or bath.volume is None:
            return None
        there = bath.volume
        nothing = Fraction(0)
        low, high = max(made.low - there.high, nothing), max(made.high - there.low, nothing)
        return Amount("volume", low, high, filled=True)

    def once_more(self, thing: str) -> Amount | None:
        """All of a plant that came out of a bath, where a step takes it and says no amount."""
        if not uptake.is_solid(self.flow, thing):
            return None
        found = self.in_hand.of(thing, self.moments)
        return None if found is None else found.amount

    def of_itself(self, thing: str, quantity: Quantity, node: FlowNode) -> bool:
        """True for half of the alum, and for the rest of it: a share of the material itself."""
        if thing not in self.flow.materials or thing in self.flow.baths:
            return False
        base = node.names.get(quantity.base, quantity.base)
        return quantity.left or (quantity.kind in ("share", "percent") and base == thing)

    def by_whole(self, basis: Basis, thing: str) -> Basis:
        """The basis by which a share of a bath is poured: of the bath as it was made."""
        bath = basis.baths.get(thing)
        if thing not in self.flow.baths or bath is None or bath.whole is None:
            return basis
        return basis._replace(baths={**basis.baths, thing: bath._replace(volume=bath.whole)})

    def stuff(self, thing: str) -> str:
        """A material's name in the vocabulary; empty for what has none."""
        made = self.flow.materials.get(thing)
        return made[0].called if made is not None else ""

    def start_heat(self, node: FlowNode, step: Step, before: State) -> Interval | None:
        """The heat that fibre meets first: said with ``from``, or that of bath or water.

        Where a step has ``at`` and ``to``, as “at 70 °C to 80 °C over 1 h”, it begins at the first.
        """
        said = heat_of(step.source)
        if said is None and step.at is not None and step.over is not None:
            said = heat_of(step.at) if heat_of(step.to) is not None else None
        if said is not None:
            return said
        if node.bath in before.baths and not node.makes:
            bath = before.baths[node.bath]
            return bath.heat if bath.heat_said else None
        # Water is poured in at the heat said, but a pot that can be heated may start cold.
        if step.does.poured_at_its_heat or not uptake.heatable(self.flow, node.pot):
            return heat_of(step.at)
        return None

    def cool_alone(self, node: FlowNode) -> None:
        """A bath that nothing was done to for a while is no longer as hot as it was."""
        bath = self.now.baths.get(node.bath)
        if bath is None or bath.touched is None or node.present:
            return
        if bath.touched < self.now.clock:
            self.now.baths[node.bath] = heat.left_alone(bath, self.now.clock - bath.touched)

    def cool_out(self, node: FlowNode) -> None:
        """Fibre that has been out of its bath for a while is no longer as hot as it was."""
        if node.does.still_hot:
            return
        for lot in node.lots:
            state = self.now.lots.get(lot)
            if state is None or state.out_since is None:
                continue
            long = self.now.clock - state.out_since >= threshold("cooled in air").value
            self.now.put(lot, heat=hull(ROOM, state.heat) if long else state.heat, out_since=None)

    def forget_heat(self, node: FlowNode) -> None:
        """Where the source does not say how hot, the heat before the step says nothing after it."""
        bath = self.now.baths.get(node.bath)
        if bath is not None:
            self.now.baths[node.bath] = bath._replace(heat=None)
        for lot in node.lots:
            self.now.put(lot, heat=None)

    def label(self, node: FlowNode, step: Step) -> bool:
        """Whether what the step leaves has a label; a label once put on a bath stays on it."""
        said = step.labelled
        bath = self.now.baths.get(node.bath)
        if bath is None:
            return said
        if said and not bath.labelled:
            self.now.baths[node.bath] = bath._replace(labelled=True)
        return said or bath.labelled

    def worn(self, node: FlowNode, step: Step) -> frozenset[str]:
        """What is worn at a step: as the plan, its own file and the step itself say."""
        own = step.wearing
        if node.procedure is not self.flow.procedure:
            own = (*node.procedure.wearing, *own)
        return self.wearing.union([name.text for name in own]) if own else self.wearing

    def setting(self, node: FlowNode, step: Step) -> str:
        """Where the step happens: as it says itself, or as its file or the plan says."""
        for name in step.manners:
            if name.text in vocabulary().tables["place"]:
                return name.text
        for procedure in (node.procedure, self.flow.procedure):
            if procedure.setting is not None:
                return procedure.setting.text
        return ""


def _in_order_of_sums(brought: Sequence[tuple[str, Item]], basis: Basis) -> list[int]:
    """The places of what a step brings, each behind what it is measured by.

    Water comes first, for g/L needs it; tartar that is half of the alum comes after the alum.
    """
    things = [thing for thing, _ in brought]
    here = frozenset(things)
    waiting: dict[str, list[int]] = {}
    order = sorted(range(len(brought)), key=lambda at: things[at] != WATER)
    free: list[int] = []
    for rank, at in enumerate(order):
        thing, item = brought[at]
        base = item.quantity.base if item.quantity is not None else ""
        base = basis.names.get(base, base)
        if base in here and base != thing:
            waiting.setdefault(base, []).append(rank)
        else:
            free.append(rank)
    return [order[rank] for rank in _freed(free, waiting, [things[at] for at in order])]


def _freed(free: list[int], waiting: dict[str, list[int]], things: list[str]) -> list[int]:
    """The places of things, each behind what it waits for, else as they stand.

    ``free`` are those that wait for nothing, ``waiting`` the others by what they wait for. What
    waits for itself in a ring stays as it is written.
    """
    if not waiting:
        return free
    from heapq import heappop, heappush

    left = sorted((at for each in waiting.values() for at in each), reverse=True)
    placed: dict[int, None] = {}
    while len(placed) < len(things):
        while left and left[-1] in placed:
            left.pop()
        at = heappop(free) if free else left[-1]
        if at in placed:
            continue
        placed[at] = None
        for one in waiting.pop(things[at], ()):
            heappush(free, one)
    return list(placed)


def _entering(node: FlowNode, before: State) -> tuple[str, ...]:
    """The lots that go into the bath or the water of a step."""
    does = node.does
    if does.in_air or does.makes_lots or not (node.bath or node.own_water):
        return ()
    return tuple(
        lot
        for lot in node.lots
        if lot in before.lots and (before.lots[lot].bath != node.bath or not node.bath)
    )


def _rounds(times: tuple[Fraction, Fraction]) -> int:
    """How many rounds are followed: all of a stated number, and fewer of an open one."""
    most = MOST_ROUNDS if times[0] == times[1] else MOST_PASSES
    return int(min(times[1], Fraction(most)))


# What every pass of a repeat changes, however often it is done.
_COUNTED: dict[str, Any] = {"volume": None, "whole": None, "uses": 0, "dips": 0, "touched": None}


def _settled(before: State, after: State) -> bool:
    """True where another pass through a repeat would find the same facts."""
    return (
        before.pots == after.pots
        and {n: b._replace(**_COUNTED) for n, b in before.baths.items()}
        == {n: b._replace(**_COUNTED) for n, b in after.baths.items()}
        and {n: lot._replace(soaked=None, out_since=None) for n, lot in before.lots.items()}
        == {n: lot._replace(soaked=None, out_since=None) for n, lot in after.lots.items()}
    )
