"""Vats in which fibre is dipped at a heat that is written: what makes them warm, and how they cool.

Nothing stands under a vat while it is dipped in. How long it has stood since it was warm is known
only when there is a plan (:mod:`procedure.timetable.warmed_between`); here is what that asks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from procedure.pipeline import Judged
from procedure.quantity.interval import Interval
from procedure.timetable.alike_baths import bath_called
from procedure.timetable.how_baths_cool import loses_heat
from procedure.timetable.plates import Plates, heating_needs, named_plate, ring_needs
from procedure.timetable.step_names import heat_told
from procedure.timetable.usual import usual
from procedure.timetable.work import WATCH, Activity, DipAtHeat, Need, VatHeat
from procedure.timetable.written_out import HEATED, Turn
from procedure.trace import uptake
from procedure.trace.states import BathState
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold
from procedure.weigh import heating


def wanted_heat(plan: Judged, turn: Turn) -> tuple[float, float] | None:
    """The heats between which a dip is written, of a vat that can be warmed on a plate; else None.

    One heat alone, or a narrow range, reaches as far down as a fall that is too little to tell.
    """
    bath, heat = as_if_known(plan, turn.moment.bath_before), turn.moment.heat
    if not turn.node.does.dips or turn.step.at is None or turn.bundle is not None:
        return None
    if bath is None or bath.volume is None or bath.volume.open or heat is None or heat.open:
        return None
    if bath.volume.low <= 0:
        return None  # “up to 4 L” may be next to nothing, and how that cools nobody can say
    if not uptake.heatable(plan.flow, bath.pot):
        return None
    high = min(float(heat.high), float(plan.trace.boiling))
    low = min(float(heat.low), high - heating.LITTLE)
    return (low, high) if low >= float(vocabulary().heats["tepid"].high) else None


def as_if_known(plan: Judged, bath: BathState | None) -> BathState | None:
    """The bath; a kept one of which nobody says how much it is fills its pot to half or more."""
    pot = plan.flow.pots.get(bath.pot) if bath is not None else None
    if bath is None or bath.volume is not None or pot is None:
        return bath
    holds = pot[0].capacity
    if holds is None or not holds.known:
        return bath
    low, high = holds.ends
    return bath._replace(volume=Interval(low / 2, high))


def may_be_warm(plan: Judged, turn: Turn) -> bool:
    """Whether a vat may still be at the heat that a dip is written at, from what came before."""
    wanted, bath = wanted_heat(plan, turn), turn.moment.bath_before
    return bool(wanted and bath and bath.heat is not None and float(bath.heat.high) >= wanted[0])


def vats_of(
    plan: Judged,
    plates: Plates,
    turns: Sequence[Turn],
    last_of: Mapping[str, str],
    activities: Mapping[str, Activity],
) -> Iterator[VatHeat]:
    """The vats of a plan in which fibre is dipped at a heat, each with its dips."""
    by_bath: dict[str, list[Turn]] = {}
    for turn in turns:
        if turn.node.bath:
            by_bath.setdefault(turn.node.bath, []).append(turn)
    for bath, own in by_bath.items():
        wanted = {turn.key: wanted_heat(plan, turn) for turn in own}
        dips = tuple(_dips(plan, own, wanted, last_of))
        if not dips:
            continue
        first = next(turn for turn in own if wanted[turn.key] is not None)
        made_warm = [
            (last_of[turn.key], heat)
            for turn in own
            if wanted[turn.key] is None and (heat := _left_at(turn)) is not None
        ]
        heated = [(each.key + HEATED, each.high) for each in dips]
        made_warm += [each for each in heated if each[0] in activities]
        state = as_if_known(plan, first.moment.bath_before)
        assert state is not None
        named = named_plate(plan, first)
        yield VatHeat(
            bath_called(plan, bath),
            tuple(made_warm),
            dips,
            loses_heat(plan, state),
            minutes_a_degree(plan, first, state),
            (*ring_needs(plates, named), *heating_needs(plates, named), Need(WATCH)),
        )


def _dips(
    plan: Judged,
    own: Sequence[Turn],
    wanted: Mapping[str, tuple[float, float] | None],
    last_of: Mapping[str, str],
) -> Iterator[DipAtHeat]:
    """The dips at a heat, each with what was done to its vat last."""
    before = ""
    for turn in own:
        heats = wanted[turn.key]
        if heats is not None:
            told = heat_told(plan, heats[1])
            yield DipAtHeat(last_of[turn.key], *heats, told, before)
        elif not turn.node.does.dips:
            before = last_of[turn.key]


def _left_at(turn: Turn) -> float | None:
    """The heat in °C at which a step leaves its vat, where it does anything to it; else None.

    What a vat loses while it stands by itself is worked out from how long it does.
    """
    does, before, after = turn.node.does, turn.moment.bath_before, turn.moment.bath_after
    if after is None or after.heat is None or after.heat.open:
        return None
    if does.settles and turn.step.at is None:
        return None
    if before is not None and before.heat == after.heat and not does.changes_heat:
        return None
    return float(after.heat.middle)


def minutes_a_degree(plan: Judged, turn: Turn, bath: BathState) -> tuple[float, float]:
    """The minutes in which a vat is one °C warmer: the quickest and the slowest."""
    plate = heating.plate_of(plan, turn.node)
    if plate is None:
        common, most = usual("", "warming"), float(vocabulary().heats["simmer"].high)
        rise = most - float(threshold("cool room").value)
        return common.low / rise, common.high / rise
    low, high = heating.heat_needed(plan, turn.moment, bath, (1.0, 1.0))
    gets_in = heating.gets_in()
    watts = plate[1]
    return (
        low * 1000 / (watts[1] * gets_in[1]) / 60,
        high * 1000 / (watts[0] * gets_in[0]) / 60,
    )
