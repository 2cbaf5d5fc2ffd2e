"""What becomes of fibre: one function for each ``trace`` key of the effects on it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from procedure.flow.graph import FlowNode
from procedure.model import Quantity
from procedure.quantity.interval import ZERO, Interval, plus, total
from procedure.trace import liquor, reuse, uptake
from procedure.trace.amounts import Amount, Basis, amount_of
from procedure.trace.heat import is_said
from procedure.trace.moments import Happening, SplitSum
from procedure.trace.now import DAMP, DRY, WET, Now
from procedure.trace.readings import ROOM, cooled
from procedure.trace.states import BathState, Carried, LotState, State, join
from procedure.vocabulary import Entry
from procedure.vocabulary.thresholds import threshold

Handler = Callable[[Now, Happening], None]


def wet_lots(now: Now, node: FlowNode, minutes: Interval | None, heat: Interval | None) -> None:
    """The fibre of a step lies in liquor for so long, and has its heat where that is known."""
    for lot in node.lots:
        state = now.lots.get(lot)
        if state is None:
            continue
        soaked = state.soaked
        now.put(
            lot,
            wetness=WET,
            soaked=None if minutes is None or soaked is None else soaked + minutes.high,
            heat=heat or state.heat,
            bath="",
            last=node.id,
        )


# ------------------------------------------------------------------ water of its own


def _in_own_water(now: Now, it: Happening, bath: BathState, skip: tuple[str, ...] = ()) -> None:
    """Fibre meets the water of its step and takes its heat; unsaid, none is known."""
    node = it.node
    for lot in node.lots:
        now.meet(lot, bath, node, skip)
    wet_lots(now, node, it.minutes, it.end)
    if it.end is None:
        for lot in node.lots:
            now.put(lot, heat=None)
    elif node.bath in now.baths:  # suds that were prepared before
        suds = now.baths[node.bath]
        now.baths[node.bath] = suds._replace(heat=it.end, heat_said=is_said(suds, it.end))


def _loosened(now: Now, it: Happening, washing: bool, acid: bool) -> None:
    for lot in it.node.lots:
        state = now.lots.get(lot)
        if state is not None and state.carried:
            now.put(lot, carried=uptake.rinsed(state.carried, washing, acid))


def _wet(now: Now, it: Happening) -> None:
    _in_own_water(now, it, liquor.own_bath(now, it))


def _scour(now: Now, it: Happening) -> None:
    _wet(now, it)
    for lot in it.node.lots:
        now.put(lot, scoured=True)


def _rinse(now: Now, it: Happening) -> None:
    bath = liquor.own_bath(now, it)
    _loosened(now, it, washing=False, acid=uptake.has_role(now.flow, bath, "acid"))
    _in_own_water(now, it, bath, skip=("acid",))


def _wash(now: Now, it: Happening) -> None:
    bath = liquor.own_bath(now, it)
    _loosened(now, it, washing=True, acid=False)
    _in_own_water(now, it, bath)


# ------------------------------------------------------------------ into a bath, out of it


def take_in(now: Now, bath: BathState, node: FlowNode) -> BathState:
    """The bath with the lots of a step in it: what they take up, and what they bring along."""
    treated = bath.treated + tuple(x for x in node.lots if x not in bath.treated)
    served = _serves(now, bath, node.lots)
    return _used(now, bath, node)._replace(treated=treated, served=served)


def _used(now: Now, bath: BathState, node: FlowNode) -> BathState:
    coming = {
        lot: now.lots[lot]
        for lot in node.lots
        if lot in now.lots and now.lots[lot].bath != node.bath
    }
    if not coming:
        return bath
    bath = reuse.iron_from(now.flow, bath, coming, node.id)
    seen = set(bath.treated)
    new = [
        state for lot, state in coming.items() if lot not in seen and not now.comes_from(lot, seen)
    ]
    contents = reuse.drawn_on(now.flow, bath, new) if new else bath.contents
    return bath._replace(contents=contents, uses=bath.uses + 1)


def _serves(now: Now, bath: BathState, lots: tuple[str, ...]) -> Interval | None:
    """The dry weight that a bath has treated, with these lots; no fibre counts twice."""
    served = bath.served
    seen = set(bath.treated)
    for lot in lots:
        if lot in seen or now.comes_from(lot, seen):
            continue
        seen.add(lot)
        state = now.lots.get(lot)
        served = None if state is None else plus(served, state.weight)
    return served


def _lie_in_bath(now: Now, it: Happening) -> None:
    node, end = it.node, it.end
    if node.makes:
        liquor.make_bath(now, it)
    elif node.bath:
        liquor.fill(now, node, it.amounts)
    bath = now.baths.get(node.bath)
    if bath is not None:
        bath = take_in(now, bath, node)
        said = is_said(bath, end)
        if it.step.left_unheated and end not in (bath.heat, ROOM):
            said = False  # it has cooled, and nobody knows how far
        bath = bath._replace(heat=end or bath.heat, heat_said=said)
        now.baths[node.bath] = bath
    wet_lots(now, node, it.minutes, end)
    for lot in node.lots:
        now.put(lot, bath=node.bath)
        if bath is not None:
            now.meet(lot, bath, node)
            if uptake.is_vat(now.flow, bath):
                now.put(lot, aired=False, dipped=it.minutes)


def _dip(now: Now, it: Happening) -> None:
    _lie_in_bath(now, it)
    node = it.node
    vat = now.baths.get(node.bath)
    if vat is not None and (vat.made < 0 or uptake.is_vat(now.flow, vat)):
        now.baths[node.bath] = vat._replace(dips=vat.dips + 1, used=True)
    for lot in node.lots:
        now.put(lot, bath="", out_since=now.clock)
        if vat is not None and vat.made < 0:  # a kept bath that is dipped in is a vat
            now.put(lot, aired=False, dipped=it.minutes)


def _out(
    now: Now, it: Happening, wetness: Callable[[LotState], tuple[tuple[str, str], ...]]
) -> None:
    for lot in it.node.lots:
        state = now.lots.get(lot)
        if state is not None:
            now.put(lot, bath="", wetness=wetness(state), last=it.node.id, out_since=now.clock)


def _dripping(state: LotState) -> tuple[tuple[str, str], ...]:
    return state.wetness if state.possibly("wet") is None else WET


def _damp(state: LotState) -> tuple[tuple[str, str], ...]:
    return state.wetness if state.possibly("wet") is None else DAMP


def _lift(now: Now, it: Happening) -> None:
    _out(now, it, _dripping)


def _squeeze(now: Now, it: Happening) -> None:
    _out(now, it, _damp)


# ------------------------------------------------------------------ in the air


def _in_air(state: LotState, minutes: Interval | None) -> Mapping[tuple[str, str], Carried]:
    """What fibre still carries loose after an airing; the reducer of a vat spends itself."""
    if minutes is not None and minutes[0] < threshold("sure airing").value:
        return state.carried
    return {key: one for key, one in state.carried.items() if one.kind != "reducer"}


def _air(now: Now, it: Happening) -> None:
    for lot in it.node.lots:
        state = now.lots.get(lot)
        if state is not None:
            heat = cooled(state.heat, it.minutes)
            now.put(
                lot,
                carried=_in_air(state, it.minutes),
                wetness=_damp(state),
                bath="",
                last=it.node.id,
                aired=True,
                heat=heat,
                dipped=None,
            )


def _rest(now: Now, it: Happening) -> None:
    node = it.node
    for lot in node.lots:
        state = now.lots.get(lot)
        if state is not None:
            heat = cooled(state.heat, it.minutes)
            now.put(
                lot, bath=node.bath, last=node.id, heat=heat, aired=not node.bath or state.aired
            )


def _dry(now: Now, it: Happening) -> None:
    for lot in it.node.lots:
        now.put(
            lot,
            bath="",
            wetness=DRY,
            soaked=Fraction(0),
            dried_by=it.node.id,
            last=it.node.id,
            aired=True,
            heat=ROOM,
        )


# ------------------------------------------------------------------ lots of lots


def _part(share: Quantity | None, parent: LotState, basis: Basis) -> Interval | None:
    """What a part of a lot weighs, in grams; None where that is not said."""
    if share is None:
        return None
    if share.kind == "count" and parent.piece is not None:
        return share.ends.times(parent.piece)
    made: Amount | None = amount_of(share, basis)
    return None if made is None else made.grams


def _split(now: Now, it: Happening) -> None:
    node = it.node
    parent = now.lots.get(node.lots[0]) if node.lots else None
    if parent is None:
        return
    basis = now.basis(node)
    shares = {child: now.flow.lots[child].share for child in node.makes}
    weights = {child: _part(share, parent, basis) for child, share in shares.items()}
    for child, weight in weights.items():
        now.lots[child] = parent._replace(weight=weight, bath="", last=node.id)
    if parent.weight is None or not node.makes:
        return
    parts = total(weight for weight in weights.values() if weight is not None)
    rest = [child for child, share in shares.items() if share is None]
    unknown = any(weight is None for weight in weights.values())
    if len(rest) == 1:
        now.put(rest[0], weight=parent.weight.minus(parts))
        # What is left over cannot be less than nothing.
        unknown = parts.low <= parent.weight.high
    if not unknown and _apart(parts, parent.weight):
        now.split_sums.append(SplitSum(node, node.lots[0], parent.weight, parts))


def _apart(parts: Interval, whole: Interval) -> bool:
    """True where weights do not add up, by more than a scale would show."""
    finest = threshold("split scale share").value
    return not parts.overlaps(whole.times(Interval(1 - finest, 1 + finest)))


def _join(now: Now, it: Happening) -> None:
    node = it.node
    parts = [now.lots[lot] for lot in node.lots if lot in now.lots]
    if not parts or not node.makes:
        return
    weight: Interval | None = ZERO
    for part in parts:
        weight = plus(weight, part.weight)
    one = State({"": parts[0]}, {}, {})
    for part in parts[1:]:
        one = join(one, State({"": part}, {}, {}), "for part of the lot", "for part of the lot")
    fibres: dict[str, Entry] = {f.name: f for part in parts for f in part.fibres}
    now.lots[node.makes[0]] = one.lots[""]._replace(
        weight=weight, fibres=tuple(fibres.values()), bath="", last=node.id
    )


HANDLERS: dict[str, Handler] = {
    "wet": _wet,
    "scour": _scour,
    "rinse": _rinse,
    "wash": _wash,
    "lie in bath": _lie_in_bath,
    "dip": _dip,
    "lift": _lift,
    "squeeze": _squeeze,
    "air": _air,
    "rest": _rest,
    "dry": _dry,
    "split": _split,
    "join": _join,
}
"""By ``trace`` of ``effects.csv``: what a step does to fibre."""
