"""What a step says by itself of its heats and times: plain readings, without any state."""

from __future__ import annotations

from fractions import Fraction
from operator import attrgetter

from procedure.model import Item, Lot, Quantity, Step
from procedure.quantity.interval import ZERO, Interval, known
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold

# Where a bath or fibre stands overnight it comes to the heat of the room.
ROOM = Interval(threshold("cool room").value, threshold("warm room").value)


def interval(quantity: Quantity | None) -> Interval | None:
    """The ends of a quantity in its base unit; None where it has no number."""
    return None if quantity is None else known(quantity.low, quantity.high)


def more_than_nothing(quantity: Quantity | None) -> Interval | None:
    """The ends of a weight; None where it is less than nothing, which a rule tells."""
    ends = interval(quantity)
    return None if ends is None or ends.low < 0 else ends


def piece(lot: Lot) -> Interval | None:
    """The weight of one piece of a lot that is counted in pieces of a kind, in grams."""
    weight, pieces = interval(lot.weight), interval(lot.pieces)
    if weight is None or pieces is None or pieces.low <= 0:
        return None
    return weight.over(pieces)


def heat_of(item: Item | None) -> Interval | None:
    """The heat in °C that a clause says; None where it says something else."""
    if item is None or item.quantity is None or item.quantity.kind != "temperature":
        return None
    return interval(item.quantity)


def unsaid(item: Item | None) -> bool:
    """True where a heat is unstated, or is a number of which nobody knows what it counts."""
    return (
        item is not None
        and item.quantity is not None
        and item.quantity.kind in ("unstated", "number", "unknown")
    )


def says_no_heat(step: Step) -> bool:
    """True where a heat belongs in the step and its source leaves it out."""
    return unsaid(step.at) or unsaid(step.to) or unsaid(step.until_measured)


def _waits(step: Step) -> list[Interval]:
    """The waits that a step names, such as overnight, in minutes."""
    if not step.manners:
        return []
    found = (vocabulary().heats.get(manner.text) for manner in step.manners)
    return [Interval(one.low, one.high) for one in found if one is not None and one.kind == "wait"]


def _waits_besides(step: Step) -> list[Interval]:
    """The named waits that come on top of what is written in hours.

    Who writes “for 10 to 12 h overnight” means one time and not two; after an hour, a night is
    another.
    """
    lasting = interval(step.lasting)
    if lasting is None or step.lasting is None or step.lasting.kind != "time":
        return _waits(step)
    return [wait for wait in _waits(step) if lasting.low < wait.low]


def _together(times: list[Interval]) -> Interval | None:
    if not times:
        return None
    first, *others = times
    for other in others:
        first = first.plus(other)
    return first


def minutes(step: Step) -> Interval | None:
    """How long a step lasts: ``over`` and ``for`` together, or a named wait."""
    said = _waits_besides(step)
    for one in (step.lasting, step.over):
        if one is not None and one.kind == "time":
            ends = known(one.low, one.high)
            said = said if ends is None else [ends, *said]
    return _together(said)


def held(step: Step) -> Interval | None:
    """How many minutes a step stays at its last heat; None where it is not said."""
    if step.poured_hot:
        return None  # it cools from the first minute
    said: list[Interval] = []
    if step.over is not None:
        said.append(ZERO)
    if step.lasting is not None:
        lasting = interval(step.lasting)
        if lasting is None or step.lasting.kind != "time":
            return None
        said = [lasting]
    return _together([*said, *_waits_besides(step)])


def attended(step: Step, minutes: Interval | None) -> bool:
    """False where a step leaves its bath alone: said so, overnight, or a long standing."""
    manner = step.manner
    if "unattended" in manner:
        return False
    if "attended" in manner:
        return True
    if _waits(step):
        return False
    if step.does.warms or minutes is None:
        return True
    return minutes.high < threshold("left alone").value


def heats(step: Step, bath: Interval | None, boiling: Fraction) -> Interval | None:
    """The heats that a step passes through, lowest and highest; those of its bath if none."""
    said = _heats_said(step)
    if step.does.heat and heat_of(step.at) is None and heat_of(step.to) is None:
        said.append(heat_of_verb(step, boiling))
    if len(said) < 2:
        return said[0] if said else _as_it_cools(step, bath)
    return Interval(min([one.low for one in said]), max([one.high for one in said]))


def heat_of_verb(step: Step, boiling: Fraction) -> Interval:
    """The heats in °C of a verb that says one: a simmer, no hotter than a ceiling beside it.

    High up, water boils before it is as hot as the word says.
    """
    word = vocabulary().heats[step.does.heat]
    heat = Interval(word.low, word.high).capped(boiling)
    most = step.ceiling.high if step.ceiling is not None else None
    return heat if most is None or most < heat.low else heat.capped(most)


def _as_it_cools(step: Step, bath: Interval | None) -> Interval | None:
    """The heats of the bath of a step that says none: of one left unheated down to the room's."""
    if bath is None or not step.left_unheated or bath.high <= ROOM.high:
        return bath
    long = minutes(step)
    short = not step.has_sign if long is None else long.low < threshold("bath cools alone").value
    return bath if short else bath.hull(ROOM)


def _heats_said(step: Step) -> list[Interval]:
    """The heats in °C that a step says, in the order in which it comes to them."""
    said = _HEATS(step)
    if said == _NO_HEATS:
        return []  # most steps
    return [heat for item in said if item is not None and (heat := heat_of(item)) is not None]


_HEATS = attrgetter("source", "at", "to", "until_measured")
_NO_HEATS = (None, None, None, None)


def end_heat(step: Step, heat: Interval | None) -> Interval | None:
    """The heat at the end of a step that passes through ``heat``.

    What is left standing for a night is as cold as the room in the morning, whatever is
    written of it.
    """
    if (step.does.settles or step.left_unheated) and (_waits(step) or _stands_long(step)):
        return ROOM
    if step.poured_hot:
        return _poured_and_left(step)
    for item in (step.to, step.until_measured, step.at):
        said = None if item is None else heat_of(item)
        if said is not None:
            return said
    if step.until is not None and (seen := _heat_seen(step.until)) is not None:
        return seen
    if "overnight" in step.manner:
        return ROOM
    if step.does.cools and step.until is not None and heat is not None:
        return heat.hull(ROOM)  # until a sign: somewhere on its way
    return None if heat_of(step.source) is not None else heat


def _heat_seen(until: Item) -> Interval | None:
    """The heat in °C that a sign tells: what is “cool” can be touched; None for other signs."""
    words = until.words.text if until.words is not None else ""
    for looks in ("it is ", "they are ", "it "):
        words = words.removeprefix(looks)
    sign = vocabulary().find(words, "sign") if words else None
    if sign is None or not sign.facts.get("low"):
        return None
    return Interval(Fraction(sign.facts["low"]), Fraction(sign.facts["high"]))


def _poured_and_left(step: Step) -> Interval | None:
    """The heat in the end where hot water is poured in and left: down to that of the room."""
    heat, long = heat_of(step.at), minutes(step)
    if _waits(step):
        return ROOM
    if heat is None or long is None or long.low < threshold("bath cools alone").value:
        return heat
    return heat.hull(ROOM)


def _stands_long(step: Step) -> bool:
    """True where a bath stands for as long as a night, and so comes to the heat of the room."""
    lasting = interval(step.lasting)
    if lasting is None:
        return False
    return lasting.low >= vocabulary().heats["overnight"].low


def peak_heat(step: Step, heat: Interval | None) -> Interval | None:
    """The hottest that a step says; of a step that says none, the heat of its bath."""
    if step.does.cools:
        return None
    said = _heats_said(step)
    if len(said) < 2:
        return said[0] if said else heat
    return max(said, key=lambda one: one.middle)


def cooled(heat: Interval | None, minutes: Interval | None) -> Interval | None:
    """The heat of fibre that has lain in the air for so long."""
    if minutes is not None and minutes.low >= threshold("cooled in air").value:
        return ROOM
    return None if heat is None else ROOM.hull(heat)
