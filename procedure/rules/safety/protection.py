"""Safety of the people: what they wear and breathe, and who must keep away.

What is better not used or gathered is in ``choosing``, what is left standing in
``left_standing``, what is poured together or away in ``meetings`` and ``disposal``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from procedure.facts.handling import (
    OPEN_AIR,
    Handled,
    called,
    declared,
    grave,
    handled,
    hazards,
    instead,
    plainly,
    plants,
    sources,
)
from procedure.facts.study import Study
from procedure.findings import Says, plainly_said, say
from procedure.model import Name, Procedure
from procedure.model.harm import level_of
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.rules.safety.audience import for_whom
from procedure.rules.safety.further import further, own_allow
from procedure.vocabulary import Entry

FAMILY = "safety"
GHS = "Regulation (EC) No 1272/2008, Annexes I and III; common practice"


def _lacking(
    meetings: Iterable[Handled], wanted: Callable[[Handled], tuple[Entry, ...]], rule: str
) -> Iterator[tuple[Handled, tuple[Entry, ...], list[Handled]]]:
    """Each material with the first step that lacks what is wanted, and the steps after it.

    A step that allows the rule is by itself.
    """
    by_thing: dict[tuple[str, int], list[tuple[Handled, tuple[Entry, ...]]]] = {}
    for one in meetings:
        found = wanted(one)
        if found:
            key = one.thing, own_allow(one.moment.node, rule)
            by_thing.setdefault(key, []).append((one, found))
    for lacking in by_thing.values():
        first = lacking[0][0]
        everything = tuple({entry.name: entry for _, more in lacking for entry in more}.values())
        rest = [one for one, _ in lacking[1:] if one.moment.node.id != first.moment.node.id]
        yield first, everything, rest


def _unprotected(
    study: Study,
    rule: str,
    word: str,
    column: str,
    hows: tuple[str, ...],
    worn: frozenset[str],
    sentence: str,
) -> Iterator[Found]:
    """Findings for one thing to wear that a hazard calls for."""

    def wanted(one: Handled) -> tuple[Entry, ...]:
        if one.how not in hows or one.moment.wearing & worn:
            return ()
        does = one.moment.node.does
        cut = (does.readies and not does.gathers) or does.presses_plants
        return tuple(
            entry
            for entry in one.hazards
            if entry.yes(column) and (cut or not entry.facts.get(column + "_when"))
        )

    for first, found, rest in _lacking(handled(study), wanted, rule):
        node = first.moment.node
        related = further(
            study, [one.moment for one in rest], say("So here: no {word} either.", word=word)
        )
        yield at_node(
            node,
            say(
                sentence,
                thing=called(study, first.thing),
                way=on_way(first.path),
                harm=plainly_said(plainly(found)),
            ),
            say(
                "Write “wearing {word}” here, or at the head for the whole work.{instead}",
                word=word,
                instead=instead(study, first.thing),
            ),
            related=related,
            level="error" if any(grave(one) for one in found) else "warning",
            source=sources(found, declared(study, first.thing)),
        )


@rule("no-gloves", level="error", family=FAMILY, source=GHS)
def no_gloves(study: Study) -> Iterator[Found]:
    """Something that harms the skin, or is poisonous, handled without gloves.

    A toxic plant calls for gloves from gathering and chopping to the last wash; a salt,
    lye or acid wherever it is weighed, and in the bath as long as it is strong. It is
    a warning where it only makes skin sore.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
        steps
          gather tansy 100 g
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, tansy 100 g wearing gloves
          strain gold-bath wearing gloves
          throw out tansy to "a closed heap, out of reach of children and animals" wearing gloves
          dye yarn in gold-bath at 85 °C for 1 h wearing gloves
          wash yarn in tub with water 5 L, soap 3 g wearing gloves
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain" wearing gloves
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
        steps
          gather tansy 100 g wearing gloves
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, tansy 100 g wearing gloves
          strain gold-bath wearing gloves
          throw out tansy to "a closed heap, out of reach of children and animals" wearing gloves
          dye yarn in gold-bath at 85 °C for 1 h wearing gloves
          wash yarn in tub with water 5 L, soap 3 g wearing gloves
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain" wearing gloves
    """
    yield from _unprotected(
        study,
        "no-gloves",
        "gloves",
        "gloves",
        ("sold", "ground", "bath", "fibre", "pot"),
        frozenset(("gloves",)),
        "{thing} calls for gloves, and none are worn here{way}: {harm}.",
    )


@rule("no-eye-protection", level="error", family=FAMILY, source=GHS)
def no_eye_protection(study: Study) -> Iterator[Found]:
    """Something that harms the eyes, handled without eye protection.

    Lime, lye, soda and most acids splash or fly as dust, and an eye has no second
    chance. It is a warning where it only makes eyes sore.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves
        steps
          soda-bath: prepare in kettle with water 3 L, soda 20 g
          discard soda-bath to "foul drain"
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
        steps
          soda-bath: prepare in kettle with water 3 L, soda 20 g
          discard soda-bath to "foul drain"
    """
    yield from _unprotected(
        study,
        "no-eye-protection",
        "eye protection",
        "eyes",
        ("sold", "ground", "bath"),
        frozenset(("eye protection", "face shield")),
        "{thing} calls for eye protection, and none is worn here{way}: {harm}.",
    )


def _kept_out(study: Study, thing: str, hazard: Entry) -> bool:
    """Whether a mask keeps it out of the lungs: a powder's dust, and no vapour or gas."""
    made = declared(study, thing)
    entry = made.entry if made is not None else None
    gas = hazard.name.startswith(("H2", "EUH0", "EUH2"))
    wet = entry is not None and (
        entry.facts.get("sold") == "in water" or "solvent" in entry.words("role")
    )
    return not gas and not wet


def _bad_air(study: Study, one: Handled) -> tuple[Entry, ...]:
    """The hazards that call for fresh air here; a mask keeps out dust, but no steam or gas.

    It is no answer to what hurts badly: there a mask is worn beside the fresh air.
    """
    if one.moment.setting in OPEN_AIR or one.how not in ("sold", "steam", "bath"):
        return ()
    if one.moment.node.does.gathers and one.moment.setting not in one.moment.step.manner:
        return ()  # plants grow out of doors, whatever the head says of the dyeing
    from procedure.facts.hot_baths import gas_given_off

    masked = "mask" in one.moment.wearing
    found = []
    for hazard in one.hazards:
        if not hazard.yes("air") or hazard.name == "dust":
            continue
        if hazard.table == "hazards":
            when = hazard.facts["air_when"]
            # What a poisonous plant is in is worked with in the open from first to last.
            loose = one.how != "bath" or bool(hazard.facts.get("plant_level"))
            fits = one.how == "steam" if when == "hot" else not when and loose
        else:
            kept_out = masked and not grave(hazard) and _kept_out(study, one.thing, hazard)
            fits = one.how != "steam" and not kept_out
        if fits:
            found.append(hazard)
    return (*found, *gas_given_off(study, one))


@rule("no-fresh-air", level="error", family=FAMILY, source=GHS)
def no_fresh_air(study: Study) -> Iterator[Found]:
    """Something that is bad to breathe, used in a closed room or nobody knows where.

    The steam of a toxic plant or of oxalic acid fills a kitchen in minutes. A mask
    keeps out a powder's dust, where that does no grave harm; against steam and gas, and
    beside a powder that can kill, only a draught or the open air helps.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place indoors
          wearing gloves, eye protection
        steps
          gold-bath: prepare in kettle with water 3 L, tansy 100 g
          simmer gold-bath for 1 h covered
          discard gold-bath to "foul drain"
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place indoors
          wearing gloves, eye protection
        steps
          gold-bath: prepare in kettle with water 3 L, tansy 100 g outdoors
          simmer gold-bath for 1 h covered outdoors
          cool gold-bath to 20 °C outdoors
          discard gold-bath to "foul drain" outdoors
    """
    for first, found, rest in _lacking(handled(study), partial(_bad_air, study), "no-fresh-air"):
        from procedure.facts.hot_baths import gas_source

        where = "indoors" if first.moment.setting else "in a place that is not stated"
        how = "steams" if first.how == "steam" else "is handled"
        yield at_node(
            first.moment.node,
            say(
                "{thing} {how} {where}{way}: {harm}.",
                thing=called(study, first.thing),
                how=how,
                where=where,
                way=on_way(first.path),
                harm=plainly_said(plainly(found)),
            ),
            say(
                "Do it “outdoors” or “ventilated”, and write so here or as the place at the "
                "head.{instead}",
                instead=instead(study, first.thing),
            ),
            related=further(study, [one.moment for one in rest], "So here."),
            level="error" if any(grave(one) for one in found) else "warning",
            source="; ".join(
                (
                    sources(found, declared(study, first.thing)),
                    *dict.fromkeys(why for one in (first, *rest) for why in gas_source(study, one)),
                )
            ),
        )


# How grave the dust of a plant is, by the level of the plant.
_NO_DUST = {"deadly": "error", "poisonous": "warning"}
_DAMP = r"(?i)\b(damp|wet|moist|water)"


@rule("dust-in-the-air", level="warning", family=FAMILY, source="common practice")
def dust_in_the_air(study: Study) -> Iterator[Found]:
    """A dry powder ground or weighed where its dust is breathed.

    Fine dust of insects, woods, tannin and salts goes deep into the lungs, and may
    bring on asthma. A mask or a little water keeps it out of them.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
        steps
          grind madder
          red-bath: prepare in kettle with water 3 L, madder 50 g
          discard red-bath to "foul drain"
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
        steps
          grind madder wearing mask
          red-bath: prepare in kettle with water 3 L, madder 50 g
          discard red-bath to "foul drain"
    """
    yield from _plants_ground(study)
    told: set[tuple[str, int]] = set()
    for moment in study.moments:
        step, node = moment.step, moment.node
        own = own_allow(node, "dust-in-the-air")
        grinding = step.does.raises_dust
        if "mask" in moment.wearing or (step.note and pattern(_DAMP).search(step.note)):
            continue
        things = [*node.moved, *node.materials] if grinding else [*node.materials, *node.moved]
        if grinding and any(item.name and item.name.text == "water" for item in step.using):
            continue
        for thing, _ in things:
            found = study.flow.materials.get(thing)
            if found is None or (thing, own) in told or found[0].entry is None:
                continue
            if grinding and level_of(found[0]) in _NO_DUST:
                continue
            dusty = tuple(one for one in hazards(found[0]) if one.yes("air"))
            words = {one.name for one in dusty}
            powder = found[0].entry.table in ("mordants", "assistants")
            if grinding and (powder or "dust when ground" in words or "dust" in words):
                what = "is ground"
            elif not grinding and "dust" in words and moment.setting not in OPEN_AIR:
                what = "is weighed out"
            else:
                continue
            told.add((thing, own))
            why = plainly(dusty) if dusty else "fine dust of any salt is bad to breathe"
            yield at_node(
                node,
                say(
                    "{thing} {what} without a mask: {why}.",
                    thing=called(study, thing),
                    what=what,
                    why=plainly_said(why),
                ),
                "Write “wearing mask” here, or damp it and say so in a note.",
                level="error" if any(grave(one) for one in dusty) else "warning",
                source=sources(dusty, found[0]) or "common practice",
            )


def _plants_ground(study: Study) -> Iterator[Found]:
    """A plant that poisons, ground without a mask; damp or not, as its powder dries."""
    told: set[tuple[str, int]] = set()
    for moment in study.moments:
        node = moment.node
        own = own_allow(node, "dust-in-the-air")
        if not moment.step.does.raises_dust or "mask" in moment.wearing:
            continue
        for thing, _ in (*node.moved, *node.materials):
            made = declared(study, thing)
            level = level_of(made) if made is not None else ""
            if level not in _NO_DUST or (thing, own) in told:
                continue
            told.add((thing, own))
            yield at_node(
                node,
                say(
                    "{thing} is ground without a mask, and it is {level}.",
                    thing=called(study, thing),
                    level=Says(level),
                ),
                "Write “wearing mask” here, or leave it whole.",
                level=_NO_DUST[level],
                source=sources(hazards(made), made) or "common practice",
            )


@rule("children-near-hazard", level="error", family=FAMILY, source=GHS)
def children_near_hazard(study: Study) -> Iterator[Found]:
    """Work for children with something that harms them, or for beginners with a poisonous plant.

    Whom it is for stands in the audience, or a title or a note tells it: for expectant mothers,
    for the pupils of year four. Some plants and salts harm a child that is not yet born. A child's
    hands go to the mouth and the eyes, and who dyes for the first time does not know what
    to look out for. Alum, soap, vinegar and a kitchen's plants are enough to teach with.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
          audience children
        steps
          gold-bath: prepare in kettle with water 3 L, tansy 100 g
          discard gold-bath to "foul drain"
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
          audience children
        steps
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          discard gold-bath to "foul drain"
    """

    for procedure in study.procedures:
        inside = [
            one
            for one in handled(study)
            if procedure is study.procedure or one.moment.node.procedure is procedure
        ]
        for word, who in for_whom(study, procedure):

            def wanted(one: Handled, who: str = who) -> tuple[Entry, ...]:
                return _kept_from(study, one, who)

            for first, found, _ in _lacking(inside, wanted, "children-near-hazard"):
                yield Found(
                    procedure,
                    word.place,
                    say(
                        "This is for {who}, and {thing} is in it: {harm}.",
                        who=_READERS.get(who, who) if word not in procedure.audience else word.text,
                        thing=called(study, first.thing),
                        harm=plainly_said(plainly(found)),
                    ),
                    say(
                        "Leave it to {others}, or choose another.{instead}",
                        others=_OTHERS[who],
                        instead=instead(study, first.thing),
                    ),
                    related=study.at(first.moment.node.id, "It is first handled here."),
                    level="error" if any(grave(one) for one in found) else "warning",
                    source="; ".join(_told_in(study, first.thing, who))
                    or sources(found, declared(study, first.thing)),
                )
            if who == "children":
                yield from _unknown_to_children(study, procedure, word)


def _unknown_to_children(study: Study, procedure: Procedure, word: Name) -> Iterator[Found]:
    """A dyestuff that is told in free words alone: what is not known is not harmless."""
    for thing, (made, owner) in study.flow.materials.items():
        known = made.entry is not None or made.suspects
        if owner is not procedure or known or "dyestuff" not in made.roles:
            continue
        yield Found(
            procedure,
            word.place,
            say(
                "This is for {who}, and I do not know what {thing} is, nor whether it harms.",
                who=word.text if word in procedure.audience else "children",
                thing=study.thing(thing),
            ),
            "Write the name that dyers call it by, or its Latin name; what nobody has named "
            "is nothing for children.",
            level="warning",
        )


# Who is kept away from what: the columns of hazards.csv and ghs.csv that say so.
_KEPT_FROM = {
    "children": ("children", "no_children"),
    "beginners": ("no_beginners",),
    "expecting": ("expecting",),
}
_OTHERS = {
    "children": "adults",
    "beginners": "those who know the work",
    "expecting": "those who expect no child",
}

_READERS = {"expecting": "those who expect a child"}


def _told_in(study: Study, thing: str, who: str) -> tuple[str, ...]:
    """The sources that keep those who expect a child from a plant."""
    if who != "expecting":
        return ()
    return tuple(one.facts["source"] for one in plants(study, thing) if one.yes("expecting"))


def _kept_from(study: Study, one: Handled, who: str) -> tuple[Entry, ...]:
    """The hazards of what is handled that keep somebody away from it."""
    if who == "expecting" and any(plant.yes("expecting") for plant in plants(study, one.thing)):
        return one.hazards
    columns = _KEPT_FROM[who]
    return tuple(h for h in one.hazards if any(h.yes(column) for column in columns))


RULES = (
    no_gloves,
    no_eye_protection,
    no_fresh_air,
    dust_in_the_air,
    children_near_hazard,
)
