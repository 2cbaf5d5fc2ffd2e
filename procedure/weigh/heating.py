"""Estimates of heat: how long a heating takes, what it uses, what boils away.

All are estimates with a spread, from the figures in ``estimates.csv``: heat = mass ×
heat capacity × rise (liquor, fibre, plants and pot), divided by the plate's power and
by how much of it gets into the bath; steam by how fast vapour leaves an open bath
(vapour density at its heat × transfer × surface), never more than the plate can boil.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.model import Step
from procedure.pipeline import Judged
from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.trace import BathState, Moment, uptake
from procedure.trace.readings import heat_of
from procedure.vocabulary import vocabulary
from procedure.vocabulary.estimates import figure, water_at
from procedure.vocabulary.thresholds import threshold
from procedure.weigh.weighing import title

Span = tuple[float, float]
# Of water vapour, J/(kg K): the gas constant over the molar mass (CODATA 2018, CIAAW).
VAPOUR_GAS = 8.314462618 / 0.018015
# A rise or fall of less than this (°C) needs no line of its own.
LITTLE = 5
# Effects whose own water is brought to the heat in the pot, not poured in warm.
# Below this heat (°C) a bath hardly steams.
STEAMS = 60


class Heating(NamedTuple):
    """A heating: heats in °C, minutes, kWh, and the minutes that the text allows for it.

    ``minutes`` and ``energy`` are None where no hotplate with its watts is declared.
    ``least`` is how many minutes felting fibre must be given, None where there is none.
    """

    node: int
    line: int
    step: str
    bath: str
    start: Span
    end: Span
    heater: str
    watts: Span | None
    minutes: Span | None
    energy: Span | None
    said: Span | None
    least: Span | None


class Steaming(NamedTuple):
    """What boils away in a step: litres without a lid and with one; ``lid`` if it says covered."""

    node: int
    line: int
    step: str
    bath: str
    heat: Span
    minutes: Span
    open: Span
    lidded: Span
    lid: bool
    litres: Span


class Cooling(NamedTuple):
    """Felting fibre in a bath that cools: heats in °C and the least minutes it must take.

    ``said`` is the heat that the text cools it to, where it is left until it is colder than that.
    """

    node: int
    line: int
    step: str
    bath: str
    start: Span
    end: Span
    least: Span
    said: Span | None = None


def _span(ends: Interval) -> Span:
    return float(ends[0]), float(ends[1])


def heater_of(plan: Judged, node: FlowNode) -> tuple[str, Span] | None:
    """The hotplate of a step and its watts: what ``on`` names, else the only one there is."""
    heaters = _heaters(plan, node)
    if len(heaters) != 1:
        return None
    name, watts = next(iter(heaters.items()))
    return plan.study.called(name), watts


def plate_of(plan: Judged, node: FlowNode) -> tuple[str, Span] | None:
    """The hotplate of a step and its watts, or those of the weakest and strongest it may be on.

    A plate of which no watts are said is supposed to have those of ``estimates.csv``.
    """
    return heater_of(plan, node) or _whichever(plan, node) or _supposed(plan)


def _supposed(plan: Judged) -> tuple[str, Span] | None:
    return ("", _span(figure("supposed plate power"))) if without_watts(plan) else None


def without_watts(plan: Judged) -> list[str]:
    """The hotplates and gas rings that are declared without their power, as they are called."""
    return [
        plan.study.called(name)
        for name, (pot, _) in plan.flow.pots.items()
        if pot.kind is not None
        and pot.kind.table == "heater"
        and (pot.power is None or not pot.power.known)
    ]


def gets_in() -> Span:
    """The share of a plate's power that gets into a bath."""
    return _span(figure("hotplate efficiency"))


def _whichever(plan: Judged, node: FlowNode) -> tuple[str, Span] | None:
    """The plates that a step may be on, with the watts of the weakest and of the strongest."""
    watts = _heaters(plan, node).values()
    if not watts:
        return None
    return "", (min(low for low, _ in watts), max(high for _, high in watts))


def _heaters(plan: Judged, node: FlowNode) -> dict[str, Span]:
    """The hotplates of known power that a step may be on, by their names in the flow."""
    heaters = {
        name: pot
        for name, (pot, _) in plan.flow.pots.items()
        if pot.kind is not None
        and pot.kind.table == "heater"
        and pot.power is not None
        and pot.power.known
        and pot.power.ends[0] > 0
    }
    step = node.step
    if isinstance(step, Step) and step.on is not None:
        named = node.names.get(step.on.text, "")
        heaters = {name: pot for name, pot in heaters.items() if name == named}
    return {name: _span(pot.power.ends) for name, pot in heaters.items() if pot.power is not None}


def _firsts(plan: Judged) -> Iterator[Moment]:
    seen: set[int] = set()
    for moment in plan.trace.moments:
        if moment.node.id not in seen:
            seen.add(moment.node.id)
            yield moment


def _liquor(moment: Moment) -> BathState | None:
    """The bath of a step, or the water that it brings itself and heats."""
    if moment.node.bath:
        return moment.bath_after
    litres = [amount for thing, _, amount in moment.amounts if thing == WATER]
    if not moment.node.does.heats_own_water or not litres or litres[0] is None:
        return None
    return BathState(moment.node.pot, litres[0].litres, None)


def _change(moment: Moment) -> tuple[Span, Span] | None:
    before, after = moment.bath_before, moment.bath_after
    if not moment.node.bath and moment.node.does.heats_own_water and moment.peak:
        cold = vocabulary().heats["cold"]
        said = moment.step.source
        start = said.quantity.ends if said and said.quantity and said.quantity.known else None
        return _span(start or Interval(cold.low, cold.high)), _span(moment.peak)
    if before is None or after is None or before.heat is None or after.heat is None:
        return None
    return _span(before.heat), _span(after.heat)


def rises(plan: Judged, moment: Moment) -> bool:
    """Whether a bath grows hotter in a step by so much that it is worth telling."""
    change, top = _change(moment), float(plan.trace.boiling)
    return change is not None and _rise(change, top) >= LITTLE


def _rise(change: tuple[Span, Span], top: float) -> float:
    """The middle of how many °C hotter a bath grows, which boils at ``top``."""
    start, end = change
    return sum(min(each, top) for each in end) / 2 - sum(start) / 2


def heatings(plan: Judged, whichever: bool = False) -> list[Heating]:
    """Every step in which a bath grows hotter, in order.

    Minutes are known where the hotplate is; with ``whichever``, also where it may be any of
    several: from the strongest of them to the weakest.
    """
    found = []
    for moment in _firsts(plan):
        change, bath = _change(moment), _liquor(moment)
        if change is None or bath is None or bath.volume is None:
            continue
        if not uptake.heatable(plan.flow, bath.pot):
            continue  # hot water is poured into it
        start, end = change
        top = float(plan.trace.boiling)
        end = (min(end[0], top), min(end[1], top))
        if _rise(change, top) < LITTLE:
            continue
        rise = (max(end[0] - start[1], 0.0), end[1] - start[0])
        heater = (plate_of if whichever else heater_of)(plan, moment.node)
        minutes = energy = None
        if heater is not None:
            heat = heat_needed(plan, moment, bath, rise)
            share = gets_in()
            energy = (heat[0] / share[1] / 3600, heat[1] / share[0] / 3600)
            watts = heater[1]
            minutes = (energy[0] / watts[1] * 60_000, energy[1] / watts[0] * 60_000)
        step = moment.step
        said = None
        if step.over is not None and step.over.kind == "time" and step.over.known:
            said = _span(step.over.ends)
        found.append(
            Heating(
                moment.node.id,
                step.place.line,
                title(plan, moment.node),
                plan.study.called(moment.node.bath),
                start,
                end,
                heater[0] if heater else "",
                heater[1] if heater else None,
                minutes,
                energy,
                said,
                _least(plan, moment, start, end),
            )
        )
    return found


def coolings(plan: Judged) -> list[Cooling]:
    """Every step in which felting fibre lies in a bath that grows cooler, in order."""
    found = []
    for moment in _firsts(plan):
        change = _change(moment)
        if change is None or sum(change[0]) / 2 - sum(change[1]) / 2 < LITTLE:
            continue
        lying = [lot for lot in moment.before.lots.values() if lot.bath == moment.node.bath]
        least = _least(plan, moment, *change)
        if least is not None and lying:
            found.append(
                Cooling(
                    moment.node.id,
                    moment.step.place.line,
                    title(plan, moment.node),
                    plan.study.called(moment.node.bath),
                    *change,
                    least,
                    _said_warmer(moment, change[1]),
                )
            )
    return found


def _said_warmer(moment: Moment, end: Span) -> Span | None:
    """The heat that a step cools to by its text, where the bath gets colder than that."""
    said = heat_of(moment.step.to) or heat_of(moment.step.at)
    return _span(said) if said is not None and float(said.low) > end[1] else None


def _least(plan: Judged, moment: Moment, start: Span, end: Span) -> Span | None:
    """The least minutes for felting fibre in the bath to change so much (thresholds.csv)."""
    lots = [moment.before.lots[lot] for lot in moment.node.present if lot in moment.before.lots]
    if not any(fibre.facts.get("felts") == "yes" for lot in lots for fibre in lot.fibres):
        return None
    fastest = float(threshold("fastest change").value)
    low, high = sorted((abs(end[0] - start[1]), abs(end[1] - start[0])))
    return low / fastest, high / fastest


def heat_needed(plan: Judged, moment: Moment, bath: BathState, rise: Span) -> Span:
    """Kilojoules that liquor, fibre, plants and pot take for a rise in °C."""
    assert bath.volume is not None
    water = water_at(20)
    litres = _span(bath.volume)
    each = water.density * water.heat_capacity
    low, high = litres[0] * each, litres[1] * each
    fibre, plants = _span(figure("fibre heat capacity")), _span(figure("plant heat capacity"))
    for name in moment.node.present or moment.node.lots:
        lot = moment.before.lots.get(name)
        if lot is not None and lot.weight is not None:
            grams = _span(lot.weight)
            low += grams[0] / 1000 * fibre[0]
            high += grams[1] / 1000 * fibre[1]
    for content in bath.contents.values():
        if content.solid and content.grams is not None:
            grams = _span(content.grams)
            low += grams[0] / 1000 * plants[0]
            high += grams[1] / 1000 * plants[1]
    pot = plan.flow.pots.get(bath.pot)
    if pot is not None and pot[0].capacity is not None and pot[0].capacity.known:
        metal, holds = _span(figure("pot heat capacity")), _span(pot[0].capacity.ends)
        low, high = low + holds[0] * metal[0], high + holds[1] * metal[1]
    return low * rise[0], high * rise[1]


def surface(capacity: Span) -> Span:
    """Square metres of liquor in a pot of so many litres, of usual proportions."""
    wide = _span(figure("pot proportions"))

    def area(litres: float, proportion: float) -> float:
        across: float = (4 * proportion * litres / 1000 / math.pi) ** (1 / 3)
        return math.pi / 4 * across**2

    return area(capacity[0], wide[0]), area(capacity[1], wide[1])


def steam(heat: Span, minutes: Span, area: Span, watts: Span | None) -> Span:
    """Litres of water that leave an open bath; no more than the plate has heat for."""
    moves = _span(figure("vapour transfer"))

    def kilograms(at: float, transfer: float, metres: float, length: float) -> float:
        vapour = water_at(at).vapour_pressure * 1000 / (VAPOUR_GAS * (at + 273.15))
        return vapour * transfer * metres * length * 60

    low = kilograms(heat[0], moves[0], area[0], minutes[0])
    high = kilograms(heat[1], moves[1], area[1], minutes[1])
    if watts is not None:
        latent = _span(figure("latent heat"))
        boils = watts[1] * gets_in()[1] / 1000 / latent[0] * minutes[1] * 60
        low, high = min(low, boils), min(high, boils)
    return low, high


def steamings(plan: Judged) -> list[Steaming]:
    """Every step in which a hot bath steams for a stated time, in order."""
    found = []
    through = _span(figure("through a lid"))
    for moment in _firsts(plan):
        bath = _liquor(moment) or moment.bath_before
        heat, minutes = moment.heat, moment.held or moment.minutes
        if bath is None or heat is None or minutes is None or moment.node.does.cools:
            continue
        hottest = _span(moment.peak or heat)
        pot = plan.flow.pots.get(bath.pot)
        known = pot is not None and pot[0].capacity is not None and pot[0].capacity.known
        if hottest[1] < STEAMS or minutes[1] <= 0 or not known or bath.volume is None:
            continue
        assert pot is not None and pot[0].capacity is not None
        heater = heater_of(plan, moment.node)
        top = float(plan.trace.boiling)
        hottest = (min(hottest[0], top), min(hottest[1], top))
        lost = steam(
            hottest,
            _span(minutes),
            surface(_span(pot[0].capacity.ends)),
            heater[1] if heater else None,
        )
        found.append(
            Steaming(
                moment.node.id,
                moment.step.place.line,
                title(plan, moment.node),
                plan.study.called(moment.node.bath),
                hottest,
                _span(minutes),
                lost,
                (lost[0] * through[0], lost[1] * through[1]),
                moment.covered,
                _span(bath.volume),
            )
        )
    return found
