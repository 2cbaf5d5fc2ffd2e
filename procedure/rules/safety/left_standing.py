"""Safety of the baths: what is left standing, kept, or on the heat."""

from collections.abc import Iterator, Mapping
from functools import cache

from procedure.facts.handling import (
    called,
    declared,
    grave,
    hazards,
    in_bath,
    instead,
    plainly,
    sources,
)
from procedure.facts.study import Study
from procedure.findings import Says, listed, plainly_said, say
from procedure.model import Step
from procedure.quantity.day import A_DAY
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.rules.lids import and_lidded
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.rules.safety.food_places import kept_with_food
from procedure.rules.safety.further import own_allow
from procedure.rules.safety.protection import FAMILY
from procedure.trace import Content, Moment
from procedure.vocabulary import Entry
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import related, threshold

BOTH_WORN = (frozenset(("gloves",)), frozenset(("eye protection", "face shield")))


class Standing(NamedTuple):
    """A material in something that a step leaves standing, with its hazards there."""

    moment: Moment
    thing: str
    hazards: tuple[Entry, ...]
    solid: bool
    path: str


def _contents(moment: Moment) -> Mapping[str, Content]:
    """What is left at a step: the contents of its bath, or what soaks in its pot."""
    bath = moment.bath_after or moment.bath_before
    if bath is not None:
        return bath.contents
    if not moment.node.pot:
        return {}
    return {
        thing: Content(None, moment.node.id, "", solid=True)
        for thing, _ in (*moment.node.moved, *moment.node.materials)
    }


def standing(study: Study) -> list[Standing]:
    """Every hazard that is left with nobody beside it, or kept for another day."""
    return study.once(_all_standing)


def _all_standing(study: Study) -> list[Standing]:
    found: list[Standing] = []
    seen: set[int] = set()
    for moment in study.moments:
        does = moment.node.does
        left = does.left_standing and not moment.attended
        if not (left or does.stores) or moment.node.id in seen:
            continue
        seen.add(moment.node.id)
        bath = moment.bath_after or moment.bath_before
        for thing, content in _contents(moment).items():
            listed = (
                in_bath(study, bath, thing) if bath is not None else hazards(declared(study, thing))
            )
            if bath is not None:  # fumes need no strength to leave a pot
                listed += tuple(
                    one
                    for one in hazards(declared(study, thing))
                    if one.yes("cover") and not one.facts["air_when"] and one not in listed
                )
            if listed:
                found.append(Standing(moment, thing, listed, content.solid, content.path))
    return found


def how_long(step: Step) -> Says:
    """For how long a step leaves something alone, in words: overnight, unattended, for 12 h."""
    for word in ("overnight", "unattended"):
        if word in step.manner:
            return Says(word)
    if "until-next-day" in step.manner:
        return Says("until the next day")
    return (
        say("for {lasting}", lasting=step.lasting.text)
        if step.lasting is not None
        else Says("with nobody by")
    )


def _left_as(study: Study, one: Standing) -> Says:
    """What is left, in words: a bath, and whether the plant is still in it."""
    node = one.moment.node
    thing = called(study, one.thing)
    if not node.bath:
        return say("The soaking {thing}", thing=thing)
    bath = study.thing(node.bath)
    with_it = (
        say("{thing} still in it", thing=thing) if one.solid else say("{thing} in it", thing=thing)
    )
    return say("{bath}, with {with_it},", bath=bath, with_it=with_it)


@rule("left-uncovered", level="error", family=FAMILY, source="common practice")
def left_uncovered(study: Study) -> Iterator[Found]:
    """A toxic plant or bath left standing, kept or heated without a lid.

    A child, a dog or a cat comes by, and a bath of plants looks and smells like food.
    Indoors it also fills the room with what it gives off. It is a warning where the
    bath is caustic or holds a metal that harms. What harms who breathes it in is told of as well
    where it is written “uncovered” over a hot bath.

    Trips:
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        simmer gold-bath for 1 h covered
        strain gold-bath
        throw out tansy to "a closed heap, out of reach of children and animals"
        cool gold-bath to 20 °C overnight labelled
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        simmer gold-bath for 1 h covered
        strain gold-bath
        throw out tansy to "a closed heap, out of reach of children and animals"
        cool gold-bath to 20 °C overnight covered labelled
        discard gold-bath to "foul drain"
    """
    yield from _heated_open(study)
    for one in standing(study):
        moment, node = one.moment, one.moment.node
        if moment.covered or (node.does.stores and not _a_plant(one)):
            continue
        open_to = tuple(h for h in one.hazards if h.yes("cover") or grave(h))
        if not open_to:
            continue
        toxic = any(h.yes("cover") and grave(h) for h in open_to)
        inside = " indoors" if moment.setting == "indoors" else ""
        yield at_node(
            node,
            say(
                "{that} is {left}{inside} without a lid{way}: {harm}.",
                that=_left_as(study, one),
                left=_left(moment),
                inside=inside,
                way=on_way(one.path),
                harm=plainly_said(plainly(open_to)),
            ),
            say(
                "Write “covered”, and put the lid on or a board over it.{lidded}",
                lidded=and_lidded(study, moment),
            ),
            level="error" if toxic else "warning",
            source=sources(open_to, declared(study, one.thing)),
        )


def _a_plant(one: Standing) -> bool:
    return any(hazard.facts.get("plant_level") for hazard in one.hazards)


def _left(moment: Moment) -> Says:
    """How a bath is left: kept, or left for so long."""
    if moment.node.does.stores:
        return Says("kept")
    return say("left {time}", time=how_long(moment.step))


def _heated_open(study: Study) -> Iterator[Found]:
    """A plant that harms, on the heat without a lid, or what harms who breathes it in, where its
    lid is said to be off; the first step of each bath."""
    told: set[tuple[str, str, int]] = set()
    for moment in study.moments:
        node, bath = moment.node, moment.bath_after or moment.bath_before
        own = own_allow(node, "left-uncovered")
        steams = "uncovered" in moment.step.manner and _steams(moment)
        if not (node.does.warms or steams) or moment.covered or bath is None:
            continue
        for thing, content in bath.contents.items():
            found = tuple(
                hazard
                for hazard in hazards(declared(study, thing))
                if (hazard.facts.get("plant_level") and hazard.yes("cover"))
                or (steams and _breathed_in(hazard))
            )
            if not found or (node.bath, thing, own) in told:
                continue
            told.add((node.bath, thing, own))
            yield at_node(
                node,
                say(
                    "{bath} is heated without a lid, with {thing} in it{way}: {harm}.",
                    bath=study.thing(node.bath),
                    thing=called(study, thing),
                    way=on_way(content.path),
                    harm=plainly_said(plainly(found)),
                ),
                say(
                    "Write “covered”, and put the lid on.{lidded}{instead}",
                    lidded=and_lidded(study, moment),
                    instead=instead(study, thing),
                ),
                level="error" if any(map(grave, found)) else "warning",
                source=sources(found, declared(study, thing)),
            )


def _open_for_days(moment: Moment) -> bool:
    """True where a step leaves a bath standing for a day or more with its lid said to be off."""
    open_to_all = "uncovered" in moment.step.manner
    return open_to_all and moment.minutes is not None and moment.minutes.low >= A_DAY


def _breathed_in(hazard: Entry) -> bool:
    """True for what harms who breathes it: by its H code (H330 to H334), or a gas or steam."""
    return hazard.name.startswith(("H33", "bad fumes")) and hazard.name != "H335"


def _steams(moment: Moment) -> bool:
    return moment.hottest is not None and moment.hottest >= threshold("fumes heat").value


def _label_on_pot(study: Study, moment: Moment) -> bool:
    bath = moment.bath_after or moment.bath_before
    pot = study.flow.pots.get(bath.pot if bath is not None else moment.node.pot)
    return pot is not None and "label" in " ".join(pot[0].words)


@rule("left-unlabelled", level="warning", family=FAMILY, source="common practice")
def left_unlabelled(study: Study) -> Iterator[Found]:
    """A poisonous or caustic bath left alone or kept without a label.

    Whoever finds it must know what it is. It is an error with a plant that harms, and a
    note where the bath is only poisonous if eaten.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        copper-bath: prepare in kettle with water 3 L, copper 4 g
        mordant yarn in copper-bath at 80 °C for 1 h
        wash yarn in tub with water 5 L, soap 3 g
        rinse yarn in tub with water 5 L
        keep copper-bath as copper-store covered
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        copper-bath: prepare in kettle with water 3 L, copper 4 g
        mordant yarn in copper-bath at 80 °C for 1 h
        wash yarn in tub with water 5 L, soap 3 g
        rinse yarn in tub with water 5 L
        keep copper-bath as copper-store covered labelled
    """
    told: set[tuple[str, str, int]] = set()
    for one in standing(study):
        moment = one.moment
        key = moment.node.bath, one.thing, own_allow(moment.node, "left-unlabelled")
        if moment.labelled or _label_on_pot(study, moment):
            continue
        unsaid = tuple(h for h in one.hazards if grave(h) or h.yes("no_children"))
        if not unsaid or key in told:
            continue
        told.add(key)
        yield at_node(
            moment.node,
            say(
                "{that} is {left} without a label{way}: {harm}.",
                that=_left_as(study, one),
                left=_left(moment),
                way=on_way(one.path),
                harm=plainly_said(plainly(unsaid)),
            ),
            "Write “labelled”, and on the label what is in it, the date, and who to ask.",
            level="error"
            if _a_plant(one)
            else "warning"
            if any(grave(h) for h in unsaid)
            else "note",
            source=sources(unsaid, declared(study, one.thing)),
        )


@cache
def _taken_for_food() -> dict[str, str]:
    return {row["dyestuff"]: row["source"] for row in rows("taken_for_food")}


@rule("looks-like-food", level="note", family=FAMILY, source="common practice")
def looks_like_food(study: Study) -> Iterator[Found]:
    """A bath of something that kitchens also have, left alone or kept without a label.

    Onion, tea, berries and turmeric in a pot look like soup or a drink; with a
    mordant in it, it is neither. It is a warning where such a bath stands open for days. What
    harms, in a bottle, pan or cupboard of food by the
    words beside it, is swallowed sooner still: an error where it is grave.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g, alum 12 g
        simmer gold-bath for 1 h
        cool gold-bath to 20 °C overnight covered
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g, alum 12 g
        simmer gold-bath for 1 h
        cool gold-bath to 20 °C overnight covered labelled
        discard gold-bath to "foul drain"
    """
    yield from kept_with_food(study)
    told: set[str] = set()
    for moment in study.moments:
        does, node = moment.node.does, moment.node
        alone = does.stores or (does.left_standing and not moment.attended)
        if not alone or moment.labelled or _label_on_pot(study, moment):
            continue
        for thing in _contents(moment):
            made = declared(study, thing)
            entry = made.entry if made is not None else None
            if entry is None or entry.name not in _taken_for_food() or thing in told:
                continue
            told.add(thing)
            if any(h.yes("no_children") for h in hazards(made)):
                continue  # left-unlabelled speaks of it
            yield at_node(
                node,
                say(
                    "{thing} is left here without a label and may be taken for food.",
                    thing=called(study, thing),
                ),
                "Label it as dye, and keep it out of the kitchen.",
                source=_taken_for_food()[entry.name],
                level="warning" if _open_for_days(moment) else "",
            )
            break


@rule("hot-alkali", level="warning", family=FAMILY, source="common practice")
def hot_alkali(study: Study) -> Iterator[Found]:
    """Soda, lye or lime near the boil, without gloves and eye protection.

    Even weak alkali blinds and burns when it spits hot. It is an error with lye and
    lime.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing eye protection
        steps
          scour cloth in kettle with water 5 L, soda 5 g at 95 °C for 1 h
          rinse cloth in tub with water 5 L
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
        steps
          scour cloth in kettle with water 5 L, soda 5 g at 95 °C for 1 h
          rinse cloth in tub with water 5 L
    """
    told: set[tuple[str, int]] = set()
    limit = threshold("hot alkali")
    for moment in study.moments:
        own = own_allow(moment.node, "hot-alkali")
        hot = moment.heat is not None and moment.heat[1] >= limit.value
        if not (hot or (moment.heat is None and moment.node.does.heat)):
            continue
        if all(moment.wearing & worn for worn in BOTH_WORN):
            continue
        things = list(_contents(moment))
        things += [thing for thing, _ in moment.node.materials if thing not in things]
        for thing in things:
            made = declared(study, thing)
            strong = made.entry.facts.get("strength", "") if made and made.entry else ""
            if made is None or (thing, own) in told or "alkali" not in made.roles:
                continue
            if strong not in ("moderate", "strong"):
                continue
            told.add((thing, own))
            missing = [
                word
                for word, worn in zip(("gloves", "eye protection"), BOTH_WORN, strict=True)
                if not moment.wearing & worn
            ]
            yield at_node(
                moment.node,
                say(
                    "{thing} is used near the boil without {missing}.",
                    thing=called(study, thing),
                    missing=listed(missing, last=" or "),
                ),
                say(
                    "Write “wearing {things}”; stand back when the lid comes off.",
                    things=listed(missing, last=", "),
                ),
                level="error" if strong == "strong" else "warning",
                source=limit.source,
            )


@rule("gas-shut-in", level="warning", family=FAMILY, source="common practice")
def gas_shut_in(study: Study) -> Iterator[Found]:
    """A bath that goes on giving off gas, put away under a lid for another day.

    Peroxide gives off oxygen and zinc in a vat hydrogen for as long as there is any left; a
    vessel that is shut tight bursts, and hydrogen under a lid catches fire.

    Trips:
        materials
          white: hydrogen peroxide, 3 %
        steps
          pale-bath: prepare in kettle with water 3 L, white 100 mL
          keep pale-bath as white-store covered labelled
    Cure:
        materials
          white: hydrogen peroxide, 3 %
        steps
          pale-bath: prepare in kettle with water 3 L, white 100 mL
          keep pale-bath as white-store covered labelled note "the lid lies loose"
    """
    for moment in study.moments:
        node, bath = moment.node, moment.bath_after or moment.bath_before
        if not (node.does.stores and moment.covered) or bath is None:
            continue
        if pattern(_LOOSE).search((moment.step.note or "").lower()):
            continue
        for thing, content in bath.contents.items():
            made = declared(study, thing)
            entry = made.entry if made is not None else None
            for gas in related("gives off", entry.name) if entry is not None else ():
                yield at_node(
                    node,
                    say(
                        "{bath} is kept under a lid, and {thing} in it gives off {gas}{way}.",
                        bath=study.thing(node.bath),
                        thing=called(study, thing),
                        gas=gas.second,
                        way=on_way(content.path),
                    ),
                    'Never shut it tight: write “note "the lid lies loose"”, or get rid of it.',
                    source=gas.source,
                )


_LOOSE = r"\b(loose(ly)?|ajar|vent(ed)?|not shut|not tight)\b"

RULES = (
    gas_shut_in,
    left_uncovered,
    left_unlabelled,
    looks_like_food,
    hot_alkali,
)
