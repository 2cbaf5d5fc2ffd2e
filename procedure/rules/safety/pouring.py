"""Safety in pouring and heating: acid and alkali into water, and spirit off the heat.

Which they are is in ``meetings.csv``.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from procedure.facts.handling import (
    called,
    declared,
    strength,
)
from procedure.facts.study import Study
from procedure.findings import LEVELS, plainly_said, say
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.safety.meetings import Key, Meeting, known_meetings, meetings_of
from procedure.rules.safety.protection import FAMILY
from procedure.trace import BathState, Moment
from procedure.vocabulary.thresholds import threshold


def _dry(bath: BathState | None) -> bool:
    """Whether a bath holds no water yet."""
    return bath is not None and bath.volume is not None and bath.volume[1] == 0


def _waterless(moment: Moment, thing: str) -> bool:
    """Whether a material is in its pot before the water is, in the order of the text."""
    node = moment.node
    things = [name for name, _ in (*node.materials, *node.moved)]
    before = moment.bath_before
    if thing in things:
        if before is not None and not _dry(before):
            return False
        return "water" in things and things.index(thing) < things.index("water")
    return before is not None and thing in before.contents and _dry(before) and "water" in things


# What a turn of speech says of what is dissolved before it goes in (``turns.csv``).
_DISSOLVED_HOT = "dissolved in hot or warm water first"


def _hot_water(moment: Moment, thing: str) -> bool:
    """Whether a material goes into hot water."""
    node = moment.node
    if thing not in [name for name, _ in (*node.materials, *node.moved)]:
        return False
    if _DISSOLVED_HOT in moment.step.note:
        return True
    limit = threshold("hot water for lye").value
    before = moment.bath_before
    brought = (*node.materials, *node.moved)
    heats = [item.heat for name, item in brought if name == "water"]
    if any(each is not None and each.high is not None and each.high >= limit for each in heats):
        return True
    if before is not None and before.heat is not None and before.heat[1] >= limit:
        return True
    if before is not None and not heats:
        return False
    step = moment.step
    said = step.source or step.at
    quantity = said.quantity if said is not None else None
    return (
        quantity is not None
        and quantity.kind == "temperature"
        and quantity.high is not None
        and quantity.high >= limit
    )


def _scant(study: Study, moment: Moment, thing: str) -> bool:
    """Whether a material meets so little water that it is a paste, or heats it near the boil."""
    made = declared(study, thing)
    if made is None or not {thing, "water"} & {name for name, _ in moment.node.materials}:
        return False
    bath = moment.bath_after
    if bath is not None:
        content, water = bath.contents.get(thing), bath.volume
        grams = content.grams if content is not None else None
    else:
        brought = {name: amount for name, _, amount in moment.amounts if amount is not None}
        grams = brought[thing].grams if thing in brought else None
        water = brought["water"].litres if "water" in brought else None
    if grams is None or water is None or water[1] <= 0:
        return False
    share = made.strength.low if made.strength is not None else None
    percents = made.strength is not None and made.strength.kind == "percent"
    pure = grams[0] * share if percents and share is not None else grams[0]
    return pure > water[1] * threshold("too little water").value


@rule("wrong-order-of-pouring", level="error", family=FAMILY, source="common practice")
def wrong_order_of_pouring(study: Study) -> Iterator[Found]:
    """Water poured onto strong acid, lye, quicklime or a dry reducer; too little of it, or hot.

    What heats in water boils and spits, or catches fire, where there is little of it. It goes
    into plenty of cold water, a little at a time, and the text must say them in that order.

    Trips:
        materials
          vitriol: sulphuric acid, 96 %
        steps
          sour-bath: prepare in tub with vitriol 5 mL, water 5 L
          discard sour-bath to "foul drain"
    Cure:
        materials
          vitriol: sulphuric acid, 96 %
        steps
          sour-bath: prepare in tub with water 5 L, vitriol 5 mL
          discard sour-bath to "foul drain"
    """
    known = study.once(known_meetings)
    told: set[tuple[int, str]] = set()
    for moment in study.moments:
        bath = moment.bath_after
        put_in = [t for t, _ in (*moment.node.materials, *moment.node.moved)]
        for thing in dict.fromkeys((*put_in, *(bath.contents if bath is not None else ()))):
            keys = known.get(thing, frozenset())
            if (moment.node.id, thing) in told or not _minds_water(keys):
                continue
            hot, dry = _hot_water(moment, thing), _waterless(moment, thing)
            row = _wrong(keys, hot, dry) or _wrong(keys, hot, dry or _scant(study, moment, thing))
            if row is None:
                continue
            told.add((moment.node.id, thing))
            late = "is in the pot before the water" if dry else "meets too little water"
            how = "goes into hot water" if hot else late
            yield at_node(
                moment.node,
                say(
                    "{thing} {how}: {what}.",
                    thing=called(study, thing),
                    how=how,
                    what=plainly_said(row.what),
                ),
                say("{Remedy}.", remedy=plainly_said(row.remedy)),
                level=row.level,
                source=row.source,
            )


@lru_cache(maxsize=1024)
def _minds_water(keys: frozenset[Key]) -> bool:
    """Whether water is one of what a thing must not meet just so."""
    return any(row.second[0] == "water" for key in keys for row in meetings_of(key))


def _wrong(keys: frozenset[Key], hot: bool, waterless: bool) -> Meeting | None:
    """The worst of what happens to a thing in hot water, or with too little water."""
    happens = {"hot water": hot, "water": hot or waterless}
    found = [
        row
        for key in keys
        for row in meetings_of(key)
        if row.second[0] == "water" and happens.get(row.second[1], waterless)
    ]
    return min(found, key=lambda row: LEVELS.index(row.level), default=None)


@rule("spirit-on-the-heat", level="error", family=FAMILY, source="common practice")
def spirit_on_the_heat(study: Study) -> Iterator[Found]:
    """Spirit heated over a flame or a hotplate, or anything with spirit in it above 60 °C.

    Its vapour creeps along the table and catches fire. However little of it there is, hot
    it all goes into the air above the pot.

    Trips:
        materials
          spirit: methylated spirit
        steps
          red-bath: prepare in jar with spirit 500 mL, madder 50 g
          heat red-bath to 50 °C
          discard red-bath to "the hazardous waste point"
    Cure:
        materials
          spirit: methylated spirit
        steps
          red-bath: prepare in jar with spirit 500 mL, madder 50 g
          stand red-bath for 3 h covered labelled
          discard red-bath to "the hazardous waste point"
    """
    known = study.once(known_meetings)
    told: set[tuple[int, str]] = set()
    for moment in study.moments:
        # Fibre steps that say a heat are over the heater too, and so is a step with “on”.
        if not (moment.node.does.warms or moment.step.on is not None or _held_hot(moment)):
            continue
        bath = moment.bath_after
        for thing in bath.contents if bath is not None else ():
            for key in known.get(thing, ()):
                for row in meetings_of(key):
                    here = moment.node.id, thing
                    if row.second[0] != "heater" or here in told:
                        continue
                    percent = strength(bath, thing) if bath is not None else None
                    little = percent is not None and percent < threshold("spirit that burns").value
                    if little and not _hot(moment):
                        continue
                    told.add(here)
                    yield at_node(
                        moment.node,
                        say(
                            "{thing} is heated: {what}.",
                            thing=called(study, thing),
                            what=plainly_said(row.what),
                        ),
                        say("{Remedy}.", remedy=plainly_said(row.remedy)),
                        level=row.level,
                        source=row.source,
                    )


def _held_hot(moment: Moment) -> bool:
    does, step = moment.node.does, moment.step
    return does.held_hot and not step.left_unheated and _hot(moment)


def _hot(moment: Moment) -> bool:
    """Whether a step is hotter than anything with spirit in it may be."""
    if moment.heat is None:
        return bool(moment.node.does.heat)
    return moment.heat[1] > threshold("spirit heat").value


RULES = (
    wrong_order_of_pouring,
    spirit_on_the_heat,
)
