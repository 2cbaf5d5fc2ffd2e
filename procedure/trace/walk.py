"""The walk: each step takes the state before it and gives the state after."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, NamedTuple

from procedure.flow.graph import WATER, Flow, FlowNode
from procedure.flow.undo_log import Watched
from procedure.model import Block, Item, Lot, Quantity, Step
from procedure.quantity.interval import ZERO, Interval, hull
from procedure.trace import reuse, uptake
from procedure.trace.amounts import Amount, Basis, amount_of
from procedure.trace.boiling import boiling_point
from procedure.trace.states import BathState, Content, LotState, PotState, Residue, State, join
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold

# A repeat is followed until nothing changes; this many passes are always enough,
# since each pass can only add facts, but a bound keeps a mistake from hanging.
MOST_PASSES = 8
# Repeats inside repeats multiply their passes; where the moments outgrow the plan so
# far, each repeat is followed once.
MOST_MOMENTS_A_STEP = 20
# Where a bath or fibre stands overnight it comes to the heat of the room.
ROOM: Interval = (threshold("cool room").value, threshold("warm room").value)
# By these fibre goes into the bath that they name; a bath that nobody made has no heat.
INTO_BATH = frozenset(("treat", "dip", "enter"))
DRY = (("dry", ""),)
WET = (("wet", ""),)
DAMP = (("damp", ""),)


class Moment(NamedTuple):
    """One step as it happens: the states of what it touches (only those), before and after.

    ``bath_before`` and ``bath_after`` are the step's bath as it finds and leaves it;
    ``entering`` are the lots that go into the bath here; ``minutes`` is how long the
    step lasts and ``heat`` the heats it passes through, both None where not said;
    ``start`` is the heat that fibre meets first, ``peak`` the hottest that the step says
    and ``held`` how many minutes it stays at its last heat;
    ``amounts`` what each item brings, in the order of the step's items. ``wearing`` and
    ``setting`` (the place; '' where not said) are what holds at this step, from the step
    itself or from the head of its file or of the plan; ``labelled`` holds where the bath
    has a label; ``attended`` fails where a step leaves the work alone for long.
    """

    node: FlowNode
    step: Step
    before: State
    after: State
    bath_before: BathState | None
    bath_after: BathState | None
    entering: tuple[str, ...]
    minutes: Interval | None
    heat: Interval | None
    start: Interval | None
    peak: Interval | None
    held: Interval | None
    amounts: tuple[tuple[str, Item, Amount | None], ...]
    wearing: frozenset[str]
    covered: bool
    labelled: bool = False
    attended: bool = True
    setting: str = ""


class Trace:
    """The plan as it happens: every moment in order, and how everything ends.

    ``passes`` of a repeat give several moments of one node; :attr:`moments` holds
    them all.
    """

    def __init__(self, flow: Flow, boiling: Fraction) -> None:
        self.flow = flow
        self.boiling = boiling
        self.moments: list[Moment] = []
        self.final: State = State({}, {}, {})
        self.split_sums: list[tuple[FlowNode, str, Interval, Interval]] = []


def trace(flow: Flow) -> Trace:
    """Follow the plan once and keep what happens at each step."""
    walk = _Walk(flow)
    walk.start()
    walk.run(flow.top)
    walk.trace.final = walk.state
    return walk.trace


def attended(step: Step, minutes: Interval | None) -> bool:
    """False where a step leaves its bath alone: said so, overnight, or a long standing."""
    manner = step.manner
    if "unattended" in manner:
        return False
    if "attended" in manner:
        return True
    if any(word in manner for word, heat in vocabulary().heats.items() if heat.kind == "wait"):
        return False
    if step.effect in ("heat", "simmer", "boil") or minutes is None:
        return True
    return minutes[1] < threshold("left alone").value


def _interval(quantity: Quantity | None) -> Interval | None:
    if quantity is None or quantity.low is None or quantity.high is None:
        return None
    return quantity.low, quantity.high


def _piece(lot: Lot) -> Interval | None:
    """The weight of one piece of a lot that is counted in pieces of a kind, in grams."""
    weight, pieces = _interval(lot.weight), _interval(lot.pieces)
    if weight is None or pieces is None or pieces[0] <= 0:
        return None
    return weight[0] / pieces[1], weight[1] / pieces[0]


def _heat(item: Item | None) -> Interval | None:
    if item is None or item.quantity is None or item.quantity.kind != "temperature":
        return None
    return _interval(item.quantity)


def _unsaid(item: Item | None) -> bool:
    """True where a heat is unstated, or is a number of which nobody knows what it counts."""
    return (
        item is not None
        and item.quantity is not None
        and item.quantity.kind in ("unstated", "number", "unknown")
    )


def _stands_long(step: Step) -> bool:
    """True where a bath stands for as long as a night, and so comes to the heat of the room."""
    known = _interval(step.lasting)
    if step.effect not in ("stand", "cool") or known is None:
        return False
    return known[0] >= vocabulary().heats["overnight"].low


class _Walk:
    def __init__(self, flow: Flow) -> None:
        self.flow = flow
        self.trace = Trace(flow, boiling_point(flow.procedure.altitude))
        self.watched = Watched[LotState](), Watched[BathState](), Watched[PotState]()
        self.state = State(*self.watched)
        self.capacities: dict[str, Interval] = {}
        self.wearing = frozenset(name.text for name in flow.procedure.wearing)
        self.clock = Fraction(0)

    def start(self) -> None:
        for name, origin in self.flow.lots.items():
            if origin.declared is not None:
                lot = origin.declared
                self.state.lots[name] = LotState(
                    weight=_interval(lot.weight),
                    piece=_piece(lot),
                    fibres=lot.fibres,
                    wetness=DRY,
                    soaked=Fraction(0),
                    heat=ROOM,
                    scoured=lot.scoured,
                    mordanted=lot.mordanted,
                )
        for name, (pot, _) in self.flow.pots.items():
            self.state.pots[name] = PotState()
            capacity = _interval(pot.capacity)
            if capacity is not None:
                self.capacities[name] = capacity
        for name, maker in self.flow.baths.items():
            if maker < 0:
                self.state.baths[name] = BathState("", None, ROOM)

    # ------------------------------------------------------------ order

    def run(self, nodes: list[FlowNode]) -> None:
        for node in nodes:
            if node.kind == "if":
                self.choice(node)
            elif node.kind == "repeat":
                self.repeat(node)
            elif node.kind in ("for", "follow"):
                self.run(node.inner)
            elif node.kind != "end":
                self.happen(node)

    def choice(self, node: FlowNode) -> None:
        assert isinstance(node.step, Block)
        before, _ = self.changes(node)
        condition = node.step.condition
        taken = f"when “{condition}” holds"
        passed = f"when “{condition}” does not hold"
        joined = join(self.state.only(before), before, taken, passed)
        self.state.update(joined)

    def repeat(self, node: FlowNode) -> None:
        assert isinstance(node.step, Block)
        times = node.step.times
        passes = MOST_PASSES if times is None else min(int(times[1]), MOST_PASSES)
        done = 0
        before = State({}, {}, {})
        for _ in range(max(passes, 1)):
            before, made = self.changes(node)
            done += 1
            if not made and _settled(before, self.state.only(before)):
                break
            if len(self.trace.moments) > MOST_MOMENTS_A_STEP * len(self.flow.nodes):
                break
        if times is not None:
            self.count_on(before, int(times[0]) - done)

    def count_on(self, before: State, more: int) -> None:
        """Counts of use after passes that are not followed because they change nothing else."""
        for name, was in before.baths.items() if more > 0 else ():
            now = self.state.baths[name]
            self.state.baths[name] = now._replace(
                uses=now.uses + more * max(now.uses - was.uses, 0),
                dips=now.dips + more * max(now.dips - was.dips, 0),
            )

    def changes(self, node: FlowNode) -> tuple[State, bool]:
        """Run a block once; gives what it changed, as that was before, and if it made anything."""
        logs = [states.watch() for states in self.watched]
        self.run(node.inner)
        for states, log in zip(self.watched, logs, strict=True):
            states.unwatch(log)  # type: ignore[attr-defined]
        made = any(before is None for log in logs for before in log.values())
        kept = [{name: was for name, was in log.items() if was is not None} for log in logs]
        return State(*kept), made  # type: ignore[arg-type]

    # ------------------------------------------------------------ one step

    def happen(self, node: FlowNode) -> None:
        step = node.step
        assert isinstance(step, Step)
        self.cool_out(node)
        before = self.touched(node)
        amounts = self.amounts(node, step)
        minutes = self.minutes(step)
        heat = self.heats(step, before.baths.get(node.bath))
        entering = self.entering(node, before)
        start = self.start_heat(node, step, before)
        handler = getattr(self, f"do_{step.effect.replace(' ', '_')}", None)
        if handler is not None and step.verb is not None:
            handler(node, step, amounts, minutes, heat)
        nowhere = step.effect in INTO_BATH and node.bath not in self.state.baths
        if nowhere or any(_unsaid(item) for item in (step.at, step.to, step.until)):
            self.forget_heat(node)
        self.soil(node)
        covered = "covered" in step.manner
        labelled = self.label(node, step)
        after = self.touched(node)
        moment = Moment(
            node=node,
            step=step,
            before=before,
            after=after,
            bath_before=before.baths.get(node.bath),
            bath_after=after.baths.get(node.bath),
            entering=entering,
            minutes=minutes,
            heat=heat,
            start=start,
            peak=self.peak_heat(step, heat),
            held=self.held(step),
            amounts=amounts,
            wearing=self.wearing
            | frozenset(name.text for name in (*node.procedure.wearing, *step.wearing)),
            covered=covered,
            labelled=labelled,
            attended=attended(step, minutes),
            setting=self.setting(node, step),
        )
        self.trace.moments.append(moment)
        if minutes is not None:
            self.clock += minutes[0]

    def label(self, node: FlowNode, step: Step) -> bool:
        """Whether what the step leaves has a label; a label once put on a bath stays on it."""
        said = "labelled" in step.manner or "label" in step.note.lower()
        bath = self.state.baths.get(node.bath)
        if bath is None:
            return said
        if said and not bath.labelled:
            self.state.baths[node.bath] = bath._replace(labelled=True)
        return said or bath.labelled

    def setting(self, node: FlowNode, step: Step) -> str:
        """Where the step happens: as it says itself, or as its file or the plan says."""
        for name in step.manners:
            if name.text in vocabulary().tables["place"]:
                return name.text
        for procedure in (node.procedure, self.flow.procedure):
            if procedure.setting is not None:
                return procedure.setting.text
        return ""

    def cool_out(self, node: FlowNode) -> None:
        """Fibre that has been out of its bath for a while is no longer as hot as it was."""
        for lot in node.lots:
            state = self.state.lots.get(lot)
            if state is None or state.out_since is None or node.effect in ("lift", "squeeze"):
                continue
            out = self.clock - state.out_since
            heat = state.heat
            if out >= threshold("cooled in air").value:
                heat = hull(ROOM, heat)
            self.put(lot, heat=heat, out_since=None)

    def touched(self, node: FlowNode) -> State:
        """The present states of what a step touches."""
        lots = (*node.lots, *node.present, *node.left, *node.makes)
        bath_names = [node.bath, *node.makes, *node.left.values()]
        bath_names += [thing for thing, _ in (*node.moved, *node.materials)]
        baths = {n: self.state.baths[n] for n in bath_names if n in self.state.baths}
        pots = (node.pot, node.to_pot, *node.cleaned, *[bath.pot for bath in baths.values()])
        return State(
            {n: self.state.lots[n] for n in lots if n in self.state.lots},
            baths,
            {n: self.state.pots[n] for n in pots if n in self.state.pots},
        )

    def entering(self, node: FlowNode, before: State) -> tuple[str, ...]:
        if not node.bath and not node.own_water:
            return ()
        return tuple(
            lot
            for lot in node.lots
            if lot in before.lots
            and (before.lots[lot].bath != node.bath or not node.bath)
            and node.effect not in ("lift", "air", "dry", "squeeze", "rest", "split", "join")
        )

    def basis(self, node: FlowNode) -> Basis:
        return Basis(
            self.state.lots,
            self.state.baths,
            self.capacities,
            node.names,
            self.treated(node),
            self.state.baths.get(node.bath),
        )

    def treated(self, node: FlowNode) -> tuple[str, ...]:
        """All the fibre that a step's bath is to treat; no fibre counts twice after a split."""
        lots = tuple(self.flow.treats.get(node.bath, ())) or node.lots
        among = set(lots)
        return tuple(lot for lot in lots if among.isdisjoint(self.ancestors(lot)))

    def amounts(self, node: FlowNode, step: Step) -> tuple[tuple[str, Item, Amount | None], ...]:
        """What each item that the step brings comes to; water first, for g/L needs it."""
        brought = [*node.materials, *node.moved]
        found: dict[int, Amount | None] = {}
        basis = self.basis(node)
        order = sorted(range(len(brought)), key=lambda i: brought[i][0] != WATER)
        for i in order:
            thing, item = brought[i]
            quantity = item.quantity
            liquid = thing == WATER
            made = None if quantity is None else amount_of(quantity, basis, liquid)
            found[i] = made
            if liquid and made is not None and node.effect in ("prepare", "dissolve", "soak"):
                fresh = BathState(node.pot, made.litres, None)
                basis = basis._replace(bath=fresh)
            elif liquid and made is not None and basis.bath is None:
                basis = basis._replace(bath=BathState(node.pot, made.litres, None))
        return tuple((thing, item, found[i]) for i, (thing, item) in enumerate(brought))

    def minutes(self, step: Step) -> Interval | None:
        """How long a step lasts: ``over`` and ``for`` together, or a named wait."""
        low = high = Fraction(0)
        said = False
        for quantity in (step.over, step.lasting):
            if quantity is not None and quantity.kind == "time" and quantity.low is not None:
                assert quantity.high is not None
                low, high, said = low + quantity.low, high + quantity.high, True
        for manner in step.manners:
            wait = vocabulary().heats.get(manner.text)
            if wait is not None and wait.kind == "wait":
                low, high, said = low + wait.low, high + wait.high, True
        return (low, high) if said else None

    def heats(self, step: Step, bath: BathState | None) -> Interval | None:
        """The heats that a step passes through, lowest and highest."""
        ends = [_heat(step.source), _heat(step.at), _heat(step.to), _heat(step.until)]
        if step.effect in ("simmer", "boil"):
            word = vocabulary().heats[step.effect]
            if _heat(step.at) is None and _heat(step.to) is None:
                top = self.trace.boiling
                high = min(word.high, top)
                ends.append((min(word.low, high), high))
        known = [end for end in ends if end is not None]
        if not known:
            return bath.heat if bath is not None else None
        return min(low for low, _ in known), max(high for _, high in known)

    def end_heat(self, step: Step, heat: Interval | None) -> Interval | None:
        """The heat at the end of a step."""
        for item in (step.to, step.until, step.at):
            found = _heat(item)
            if found is not None:
                return found
        if "overnight" in step.manner or _stands_long(step):
            return ROOM
        if _heat(step.source) is not None:
            return None
        return heat

    def forget_heat(self, node: FlowNode) -> None:
        """Where the source does not say how hot, the heat before the step says nothing after it."""
        bath = self.state.baths.get(node.bath)
        if bath is not None:
            self.state.baths[node.bath] = bath._replace(heat=None)
        for lot in node.lots:
            self.put(lot, heat=None)

    def start_heat(self, node: FlowNode, step: Step, before: State) -> Interval | None:
        """The heat that fibre meets first: said with ``from``, or that of bath or water."""
        said = _heat(step.source)
        if said is not None:
            return said
        if node.bath in before.baths and not node.makes:
            bath = before.baths[node.bath]
            return bath.heat if bath.heat_said else None
        # Water is poured in at the heat said, but a pot that can be heated may start cold.
        if node.effect in ("wet", "rinse", "wash") or not uptake.heatable(self.flow, node.pot):
            return _heat(step.at)
        return None

    def peak_heat(self, step: Step, heat: Interval | None) -> Interval | None:
        """The hottest that a step says; of a step that says none, the heat of its bath."""
        ends = [_heat(item) for item in (step.source, step.at, step.to, step.until)]
        known = [end for end in ends if end is not None]
        if step.effect == "cool":
            return None
        if step.effect in ("simmer", "boil") or not known:
            return heat if not known else max(known, key=sum)
        return max(known, key=sum)

    def held(self, step: Step) -> Interval | None:
        """How long a step stays at its last heat."""
        low = high = Fraction(0)
        said = step.over is not None
        if step.lasting is not None:
            known = _interval(step.lasting)
            if known is None or step.lasting.kind != "time":
                return None
            low, high, said = known[0], known[1], True
        for manner in step.manners:
            wait = vocabulary().heats.get(manner.text)
            if wait is not None and wait.kind == "wait":
                low, high, said = low + wait.low, high + wait.high, True
        return (low, high) if said else None

    def cooled(self, heat: Interval | None, minutes: Interval | None) -> Interval | None:
        """The heat of fibre that has lain in the air for so long."""
        if minutes is not None and minutes[0] >= threshold("cooled in air").value:
            return ROOM
        return hull(ROOM, heat)

    # ------------------------------------------------------------ fibre

    def put(self, lot: str, **changes: object) -> None:
        state = self.state.lots.get(lot)
        if state is not None:
            self.state.lots[lot] = state._replace(**changes)  # type: ignore[arg-type]

    def wet_lots(self, node: FlowNode, minutes: Interval | None, heat: Interval | None) -> None:
        for lot in node.lots:
            state = self.state.lots.get(lot)
            if state is None:
                continue
            soaked = state.soaked
            soaked = None if minutes is None or soaked is None else soaked + minutes[1]
            self.put(
                lot,
                wetness=WET,
                soaked=soaked,
                heat=heat or state.heat,
                bath="",
                last=node.id,
                story=(*state.story, node.id) if node.id not in state.story else state.story,
            )

    def own_bath(self, node: FlowNode, amounts, heat: Interval | None) -> BathState:  # type: ignore[no-untyped-def]
        """The water that a step brings for itself, with what is in it."""
        if node.bath and node.bath in self.state.baths:
            return self.state.baths[node.bath]
        contents = {
            thing: Content(amount.grams if amount else None, node.id, "")
            for thing, _, amount in amounts
            if thing != WATER
        }
        volume = next((a.litres for t, _, a in amounts if t == WATER and a), None)
        return BathState(node.pot, volume, heat, contents)

    def do_wet(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        bath = self.own_bath(node, amounts, heat)
        for lot in node.lots:
            self.meet(lot, bath, node)
        self.own_heat(node, step, minutes, heat)

    def do_scour(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.do_wet(node, step, amounts, minutes, heat)
        for lot in node.lots:
            self.put(lot, scoured=True)

    def do_rinse(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        bath = self.own_bath(node, amounts, heat)
        acid = uptake.has_role(self.flow, bath, "acid")
        for lot in node.lots:
            self.loosen(lot, washing=False, acid=acid)
            self.meet(lot, bath, node, skip=("acid",))
        self.own_heat(node, step, minutes, heat)

    def do_wash(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        bath = self.own_bath(node, amounts, heat)
        for lot in node.lots:
            self.loosen(lot, washing=True, acid=False)
            self.meet(lot, bath, node)
        self.own_heat(node, step, minutes, heat)

    def own_heat(self, node: FlowNode, step: Step, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        """Fibre takes the heat of water that a step brings; where nobody says it, none is known."""
        end = self.end_heat(step, heat)
        self.wet_lots(node, minutes, end)
        if end is None:
            for lot in node.lots:
                self.put(lot, heat=None)

    def loosen(self, lot: str, washing: bool, acid: bool) -> None:
        state = self.state.lots.get(lot)
        if state is not None and state.carried:
            self.put(lot, carried=uptake.rinsed(state.carried, washing, acid))

    def meet(self, lot: str, bath: BathState, node: FlowNode, skip: tuple[str, ...] = ()) -> None:
        """The lot takes up what the bath holds, and carries some of it loose."""
        state = self.state.lots.get(lot)
        if state is not None and bath.contents:
            met = uptake.meet(self.flow, state, bath, node.id, skip)
            self.state.lots[lot] = met

    def do_enter(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.do_treat(node, step, amounts, minutes, heat)

    def do_treat(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        if node.makes:
            self.make_bath(node, amounts, self.end_heat(step, heat))
        elif node.bath:
            self.fill(node, amounts)
        bath = self.state.baths.get(node.bath)
        end = self.end_heat(step, heat)
        if bath is not None:
            treated = bath.treated + tuple(x for x in node.lots if x not in bath.treated)
            served = self.serves(bath, node.lots)
            said = bath.heat_said or end is not None
            bath = self.used(bath, node)
            bath = bath._replace(
                heat=end or bath.heat, treated=treated, served=served, heat_said=said
            )
            self.state.baths[node.bath] = bath
        self.wet_lots(node, minutes, end)
        for lot in node.lots:
            self.put(lot, bath=node.bath)
            if bath is not None:
                self.meet(lot, bath, node)
                if uptake.is_vat(self.flow, bath):
                    self.put(lot, aired=False, dipped=minutes)

    def used(self, bath: BathState, node: FlowNode) -> BathState:
        """The bath after fibre goes into it: what the new lots take up, and bring along."""
        coming = {
            lot: self.state.lots[lot]
            for lot in node.lots
            if lot in self.state.lots and self.state.lots[lot].bath != node.bath
        }
        if not coming:
            return bath
        bath = reuse.iron_from(self.flow, bath, coming, node.id)
        seen = set(bath.treated)
        new = [
            state
            for lot, state in coming.items()
            if lot not in seen and seen.isdisjoint(self.ancestors(lot))
        ]
        contents = reuse.drawn_on(self.flow, bath, new) if new else bath.contents
        return bath._replace(contents=contents, uses=bath.uses + 1)

    def serves(self, bath: BathState, lots: tuple[str, ...]) -> Interval | None:
        """The dry weight that a bath has treated, with these lots; no fibre counts twice."""
        served = bath.served
        seen = set(bath.treated)
        for lot in lots:
            if lot in seen or not seen.isdisjoint(self.ancestors(lot)):
                continue
            seen.add(lot)
            state = self.state.lots.get(lot)
            served = None if state is None else _plus(served, state.weight)
        return served

    def ancestors(self, lot: str) -> set[str]:
        """The lots that a lot was split or joined from."""
        found: set[str] = set()
        waiting = [lot]
        while waiting:
            origin = self.flow.lots.get(waiting.pop())
            for part in origin.parts if origin is not None else ():
                if part not in found:
                    found.add(part)
                    waiting.append(part)
        return found

    def do_dip(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.do_treat(node, step, amounts, minutes, heat)
        vat = self.state.baths.get(node.bath)
        if vat is not None and (vat.made < 0 or uptake.is_vat(self.flow, vat)):
            self.state.baths[node.bath] = vat._replace(dips=vat.dips + 1, used=True)
        for lot in node.lots:
            self.put(lot, bath="", out_since=self.clock)
            bath = self.state.baths.get(node.bath)
            if bath is not None and bath.made < 0:  # a kept bath that is dipped in is a vat
                self.put(lot, aired=False, dipped=minutes)

    def do_lift(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        for lot in node.lots:
            state = self.state.lots.get(lot)
            if state is not None:
                wet = state.wetness if state.possibly("wet") is None else WET
                self.put(lot, bath="", wetness=wet, last=node.id, out_since=self.clock)

    def do_air(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        for lot in node.lots:
            state = self.state.lots.get(lot)
            if state is not None:
                wetness = DAMP if state.possibly("wet") is not None else state.wetness
                heat = self.cooled(state.heat, minutes)
                self.put(
                    lot, wetness=wetness, bath="", last=node.id, aired=True, heat=heat, dipped=None
                )

    def do_squeeze(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        for lot in node.lots:
            state = self.state.lots.get(lot)
            if state is not None:
                wetness = DAMP if state.possibly("wet") is not None else state.wetness
                self.put(lot, bath="", wetness=wetness, last=node.id, out_since=self.clock)

    def do_rest(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        for lot in node.lots:
            state = self.state.lots.get(lot)
            cooler = self.cooled(state.heat if state else None, minutes)
            aired = not node.bath or state is None or state.aired
            self.put(lot, bath=node.bath, last=node.id, heat=cooler, aired=aired)

    def do_dry(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        for lot in node.lots:
            self.put(
                lot,
                bath="",
                wetness=DRY,
                soaked=Fraction(0),
                dried_by=node.id,
                last=node.id,
                aired=True,
                heat=ROOM,
            )

    def do_split(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        if not node.lots:
            return
        parent = self.state.lots.get(node.lots[0])
        if parent is None:
            return
        basis = self.basis(node)
        low = high = Fraction(0)
        known = True
        rest: list[str] = []
        for child in node.makes:
            share = self.flow.lots[child].share
            made = None if share is None else amount_of(share, basis)
            if share is not None and share.kind == "count" and parent.piece is not None:
                low_count, high_count = share.ends
                made = Amount("mass", low_count * parent.piece[0], high_count * parent.piece[1])
            if made is None and share is None:
                rest.append(child)
            if made is None:
                known = False
                weight = None
            else:
                weight = made.grams
                low, high = low + weight[0], high + weight[1]
            self.state.lots[child] = parent._replace(weight=weight, bath="", last=node.id)
        if parent.weight is not None and len(rest) == 1:
            left = (
                max(parent.weight[0] - high, Fraction(0)),
                max(parent.weight[1] - low, Fraction(0)),
            )
            self.put(rest[0], weight=left)
            known = low > parent.weight[1]  # what is left over cannot be less than nothing
        if known and node.makes and parent.weight is not None:
            whole = low <= parent.weight[1] and high >= parent.weight[0]
            if not whole:
                self.trace.split_sums.append((node, node.lots[0], parent.weight, (low, high)))

    def do_join(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        parts = [self.state.lots[lot] for lot in node.lots if lot in self.state.lots]
        if not parts or not node.makes:
            return
        weight: Interval | None = ZERO
        for part in parts:
            weight = (
                None
                if weight is None or part.weight is None
                else (weight[0] + part.weight[0], weight[1] + part.weight[1])
            )
        one = State({"": parts[0]}, {}, {})
        for part in parts[1:]:
            one = join(one, State({"": part}, {}, {}), "for part of the lot", "for part of the lot")
        fibres = tuple(dict.fromkeys(f.name for part in parts for f in part.fibres))
        by_name = {f.name: f for part in parts for f in part.fibres}
        self.state.lots[node.makes[0]] = one.lots[""]._replace(
            weight=weight,
            fibres=tuple(by_name[name] for name in fibres),
            bath="",
            last=node.id,
        )

    # ------------------------------------------------------------ baths

    def make_bath(self, node: FlowNode, amounts, heat: Interval | None) -> None:  # type: ignore[no-untyped-def]
        self.state.baths[node.bath] = BathState(
            pot=node.pot,
            volume=None,
            heat=heat or ROOM,
            made=node.id,
            heat_said=heat is not None,
            traces=self.traces(node.pot),
            came=node.id,
        )
        self.fill(node, amounts, first=True)

    def traces(self, pot: str) -> dict[str, Residue]:
        """What a pot still has of what it held."""
        state = self.state.pots.get(pot)
        return state.residues if state is not None else {}

    def fill(self, node: FlowNode, amounts, first: bool = False) -> None:  # type: ignore[no-untyped-def]
        """Put what the step brings into its bath."""
        bath = self.state.baths.get(node.bath)
        if bath is None:
            return
        contents = dict(bath.contents)
        volume = ZERO if first else bath.volume
        solids = bath.solids
        for thing, _, amount in amounts:
            if thing == WATER:
                litres = amount.litres if amount else None
                volume = _plus(volume, litres)
            elif thing in self.flow.baths:
                other = self.state.baths.get(thing)
                if other is None or thing == node.bath:
                    continue
                volume = _plus(volume, amount.litres if amount else other.volume)
                solids = solids or other.solids
                for name, content in other.contents.items():
                    part = reuse.poured(content, amount, other.volume)
                    had = contents.get(name)
                    contents[name] = part._replace(
                        node=node.id,
                        grams=_plus(had.grams, part.grams) if had else part.grams,
                        left=_plus(had.left, part.left) if had else part.left,
                    )
                if amount is not None:
                    self.take_away(thing, amount)
            else:
                grams = left = amount.grams if amount else None
                earlier = contents.get(thing)
                if earlier is not None:
                    grams = _plus(earlier.grams, grams)
                    left = _plus(earlier.left, left)
                solid = uptake.is_solid(self.flow, thing)
                contents[thing] = Content(grams, node.id, "", solid=solid, left=left)
                solids = solids or solid
        bath = reuse.fed(self.flow, bath, [thing for thing, _, _ in amounts])
        self.state.baths[node.bath] = bath._replace(contents=contents, volume=volume, solids=solids)

    def take_away(self, bath: str, amount: Amount) -> None:
        state = self.state.baths[bath]
        if state.volume is not None:
            low, high = amount.litres
            left = (
                max(state.volume[0] - high, Fraction(0)),
                max(state.volume[1] - low, Fraction(0)),
            )
            self.state.baths[bath] = state._replace(volume=left)
            if state.volume[0] > 0:
                gone = low / state.volume[1], min(high / state.volume[0], Fraction(1))
                self.take_contents(bath, gone)

    def take_contents(self, bath: str, gone: Interval) -> None:
        """What is dissolved goes with the liquor that is taken away, by shares."""
        state = self.state.baths[bath]
        contents = {
            name: content._replace(
                grams=reuse.scaled(content.grams, gone), left=reuse.scaled(content.left, gone)
            )
            if content.grams is not None and not content.solid
            else content
            for name, content in state.contents.items()
        }
        self.state.baths[bath] = state._replace(contents=contents)

    def present_meet(self, node: FlowNode) -> None:
        """Lots that lie in the bath meet what it now holds."""
        bath = self.state.baths.get(node.bath)
        if bath is None:
            return
        for lot in node.present:
            self.meet(lot, bath, node)

    def do_prepare(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.make_bath(node, amounts, self.end_heat(step, heat))
        bath = self.state.baths[node.bath]
        self.state.baths[node.bath] = bath._replace(covered="covered" in step.manner)

    def do_dissolve(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        if node.makes:
            self.make_bath(node, amounts, self.end_heat(step, heat))

    do_soak = do_dissolve

    def do_add(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.fill(node, amounts)
        bath = self.state.baths.get(node.bath)
        if bath is None:
            return
        if node.lots:
            self.wet_lots(node, minutes, bath.heat)
            treated = bath.treated + tuple(x for x in node.lots if x not in bath.treated)
            served = self.serves(bath, node.lots)
            bath = self.used(bath, node)
            self.state.baths[node.bath] = bath._replace(treated=treated, served=served)
            for lot in node.lots:
                self.put(lot, bath=node.bath)
        self.present_meet(node)

    def do_top_up(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.fill(node, amounts)
        bath = self.state.baths.get(node.bath)
        to = step.to.quantity if step.to is not None else None
        if bath is not None and to is not None:
            made = amount_of(to, self.basis(node), liquid=True)
            if made is not None and made.kind == "volume":
                self.state.baths[node.bath] = bath._replace(volume=made.litres)
        self.present_meet(node)

    def warm(
        self, node: FlowNode, step: Step, minutes: Interval | None, heat: Interval | None
    ) -> None:
        """A bath changes heat, and with it the fibre that lies in it."""
        bath = self.state.baths.get(node.bath)
        if bath is None:
            return
        end = self.end_heat(step, heat)
        covered = "covered" in step.manner
        said = bath.heat_said or end is not None
        self.state.baths[node.bath] = bath._replace(
            heat=end or bath.heat, covered=covered, heat_said=said
        )
        for lot in node.present:
            state = self.state.lots.get(lot)
            if state is not None and state.bath == node.bath:
                soaked = state.soaked
                soaked = None if minutes is None or soaked is None else soaked + minutes[1]
                self.put(lot, heat=end or state.heat, soaked=soaked)

    def do_heat(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.fill(node, amounts)
        self.warm(node, step, minutes, heat)

    def do_hold(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.warm(node, step, minutes, heat)

    do_simmer = do_heat
    do_boil = do_heat

    def do_stand(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.warm(node, step, minutes, heat)
        self.rest_bath(node, minutes)

    do_cool = do_stand

    def rest_bath(self, node: FlowNode, minutes: Interval | None) -> None:
        """A vat settles while nobody dips in it."""
        bath = self.state.baths.get(node.bath)
        if bath is not None and (bath.dips or bath.used):
            self.state.baths[node.bath] = reuse.rested(self.flow, bath, minutes, node.id)

    def do_strain(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        bath = self.state.baths.get(node.bath)
        if bath is not None:
            pot = node.to_pot or bath.pot
            contents = {
                thing: content._replace(solid=False) if content.solid else content
                for thing, content in bath.contents.items()
            }
            labelled = bath.labelled and pot == bath.pot
            self.state.baths[node.bath] = bath._replace(
                solids=False, pot=pot, contents=contents, labelled=labelled
            )
            if node.to_pot:
                self.moved_to(node.bath, node)

    def moved_to(self, bath: str, node: FlowNode) -> None:
        """A bath comes into another pot and meets what that pot still holds."""
        traces = self.traces(node.to_pot)
        self.state.baths[bath] = self.state.baths[bath]._replace(traces=traces, came=node.id)

    def do_draw_off(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        bath = self.state.baths.get(node.bath)
        if bath is None or not step.objects:
            return
        item = step.objects[0]
        made = None if item.quantity is None else amount_of(item.quantity, self.basis(node), True)
        if made is not None:
            self.take_away(node.bath, made)
        elif item.quantity is not None and item.quantity.kind in ("share", "percent"):
            gone = _interval(item.quantity)
            of_bath = node.names.get(item.quantity.base) == node.bath
            if gone is not None and of_bath and 0 <= gone[0] <= gone[1] <= 1:
                self.take_contents(node.bath, gone)
        for name in node.makes:
            self.state.baths[name] = bath._replace(
                pot=node.to_pot,
                volume=made.litres if made else None,
                made=node.id,
                labelled=False,
                contents={
                    thing: content._replace(grams=self.drawn(node.bath, thing, content), left=None)
                    for thing, content in bath.contents.items()
                },
            )
            if node.to_pot:
                self.moved_to(name, node)

    def drawn(self, bath: str, thing: str, content: Content) -> Interval | None:
        """How much of a thing went with the liquor that was drawn off a bath."""
        left = self.state.baths[bath].contents.get(thing)
        if left is None or left.grams is None or content.grams is None or content.solid:
            return None
        return (
            max(content.grams[0] - left.grams[1], Fraction(0)),
            max(content.grams[1] - left.grams[0], Fraction(0)),
        )

    def do_discard(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        item = step.objects[0] if step.objects else None
        if item is not None and item.quantity is not None:
            self.do_draw_off(node, step, amounts, minutes, heat)

    def do_keep(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        self.rest_bath(node, None)
        bath = self.state.baths.get(node.bath)
        if bath is not None and node.to_pot:
            self.state.baths[node.bath] = bath._replace(pot=node.to_pot, labelled=False)
            self.moved_to(node.bath, node)

    def do_clean(self, node, step, amounts, minutes, heat) -> None:  # type: ignore[no-untyped-def]
        for pot in node.cleaned:
            kept = {}
            if uptake.holds_traces(self.flow, pot):
                before = self.state.pots.get(pot, PotState()).residues
                kept = {thing: one._replace(left="scrubbed") for thing, one in before.items()}
            self.state.pots[pot] = PotState(kept, node.id)

    def soil(self, node: FlowNode) -> None:
        """A pot keeps traces of what has been in it until it is cleaned."""
        bath = self.state.baths.get(node.bath)
        pot = bath.pot if bath is not None else node.pot
        state = self.state.pots.get(pot)
        if state is None or node.cleaned:
            return
        if bath is None and not node.own_water and not node.materials:
            return
        things = bath.contents if bath is not None else [t for t, _ in node.materials]
        held = {t for t in things if t != WATER and t not in self.flow.baths}
        residues = {
            thing: one._replace(left="rinsed") if one.left == "full" and thing not in held else one
            for thing, one in state.residues.items()
        }
        for thing in held:
            if thing not in residues or residues[thing].left != "full":
                residues[thing] = Residue(thing, node.id, "", "full")
        if residues != state.residues:
            self.state.pots[pot] = state._replace(residues=residues)


def _plus(one: Interval | None, two: Interval | None) -> Interval | None:
    return None if one is None or two is None else (one[0] + two[0], one[1] + two[1])


# What every pass of a repeat changes, however often it is done.
_COUNTED: dict[str, Any] = {"volume": None, "uses": 0, "dips": 0}


def _settled(before: State, after: State) -> bool:
    """True where another pass through a repeat would find the same facts."""
    return (
        before.pots == after.pots
        and {n: b._replace(**_COUNTED) for n, b in before.baths.items()}
        == {n: b._replace(**_COUNTED) for n, b in after.baths.items()}
        and {n: lot._replace(soaked=None, out_since=None) for n, lot in before.lots.items()}
        == {n: lot._replace(soaked=None, out_since=None) for n, lot in after.lots.items()}
    )
