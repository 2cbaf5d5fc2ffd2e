"""Safety in choosing: salts better not used, metals in the waste, plants that mislead."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import (
    called,
    handled,
    hazards,
    plainly,
    plants,
    sources,
)
from procedure.facts.study import Pointer, Study
from procedure.findings import Says, Several, listed, plainly_said, say
from procedure.model import Material, Procedure, Step
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, rule
from procedure.rules.safety.audience import for_children
from procedure.rules.safety.protection import FAMILY, GHS
from procedure.vocabulary import Entry


def _materials(study: Study) -> Iterator[tuple[str, Material, Procedure, Entry]]:
    for thing, (material, procedure) in study.flow.materials.items():
        for entry in (material.entry, *material.mixed):
            if entry is not None:
                yield thing, material, procedure, entry


def _first_use(study: Study, thing: str) -> tuple[Pointer, ...]:
    use = next((one for one in handled(study) if one.thing == thing), None)
    return study.at(use.moment.node.id, "It is first used here.") if use is not None else ()


@rule("restricted-salt", level="error", family=FAMILY, source=GHS)
def restricted_salt(study: Study) -> Iterator[Found]:
    """Salts of chromium(VI), lead or arsenic.

    They cause cancer or lasting harm, are restricted by law in many countries, and
    no colour needs them. Who still means to, says so with “allow” and a reason; the
    finding then stays as a note.

    Trips:
        chrome-bath: prepare in kettle with water 3 L, chrome 3 g
        discard chrome-bath to "the hazardous waste point"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for thing, material, procedure, entry in _materials(study):
        why = entry.facts.get("restricted", "")
        if why:
            yield Found(
                procedure,
                material.name.place,
                say(
                    "{thing} is not to be used: {why}.",
                    thing=called(study, thing),
                    why=plainly_said(why),
                ),
                say("Safer: {safer}.", safer=entry.facts["safer"]),
                related=_first_use(study, thing),
                source=sources(
                    tuple(hazard for hazard in hazards(material) if hazard.name in why), material
                )
                or entry.facts["source"],
            )


@rule("metal-in-the-waste", level="note", family=FAMILY, source="common practice")
def metal_in_the_waste(study: Study) -> Iterator[Found]:
    """Copper, tin and other metals that harm, though no law forbids them to a dyer.

    What the fibre does not take goes out with the waste water and stays in it.

    Trips:
        tin-bath: prepare in kettle with water 3 L, tin 4 g
        discard tin-bath to "the hazardous waste point"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for thing, material, procedure, entry in _materials(study):
        harms = hazards(material)
        if entry.facts.get("restricted") or not any(h.name == "harmful metal" for h in harms):
            continue
        first = _first_use(study, thing)
        if not first and study.moments and not _in_a_line_unread(material.name.text, procedure):
            continue  # declared and never used, which is told of
        metal = entry.facts.get("metal", "metal")
        safer = entry.facts.get("safer", "")
        yield Found(
            procedure,
            material.name.place,
            say(
                "{thing} leaves {metal} in fibre and waste: {harm}.",
                thing=called(study, thing),
                metal=metal,
                harm=plainly_said(plainly(harms)),
            ),
            say(
                "Weigh it closely, use the bath up, and ask where its waste goes.{safer}",
                safer=say(" Gentler: {safer}.", safer=safer) if safer else Says(""),
            ),
            related=first,
            source=sources(harms, material),
        )


def _in_a_line_unread(name: str, procedure: Procedure) -> bool:
    """True where a line that could not be read has the name: it may be used there."""
    lines = (words.text.split() for words in procedure.unread_words)
    return any(name in (word.strip(".,;:") for word in words) for words in lines)


def _foraged(study: Study, thing: str, material: Material) -> bool:
    if "bought" in material.words:
        return False
    if material.gathered or "gathered" in material.words:
        return True
    return thing in study.once(_gathered)


def _gathered(study: Study) -> frozenset[str]:
    """What a step gathers."""
    gathering = [moment.node.moved for moment in study.moments if moment.node.does.gathers]
    return frozenset(moved for node in gathering for moved, _ in node)


def _said_of(study: Study, thing: str, material: Material, procedure: Procedure) -> str:
    """All that the writer says in free words about a material, its gathering and the whole."""
    said = [*material.words, *(note.text for note in procedure.notes)]
    for moment in study.moments:
        if any(moved == thing for moved, _ in (*moment.node.moved, *moment.node.materials)):
            said.append(moment.step.note)
    return " ".join(said).lower()


_POISONS = frozenset(("deadly", "poisonous"))


@rule("easily-confused", level="note", family=FAMILY, source="common practice")
def easily_confused(study: Study) -> Iterator[Found]:
    """A gathered plant that has a harmful look-alike.

    Whoever follows the procedure gathers their own. A word on how to tell the two
    apart, in the declaration or a note, is enough. It is a warning where children gather
    it and the other poisons.

    Trips:
        materials
          leaves: mullein leaves, fresh, gathered 2026-06-12
        steps
          green-bath: prepare in kettle with water 3 L, leaves 100 g
          discard green-bath to "foul drain"
    Cure:
        materials
          leaves: mullein leaves, fresh, gathered 2026-06-12, "not foxglove, not henbane"
        steps
          green-bath: prepare in kettle with water 3 L, leaves 100 g
          discard green-bath to "foul drain"
    """
    for thing, (material, procedure) in study.flow.materials.items():
        table = material.entry.table if material.entry is not None else "dyestuffs"
        if table not in ("dyestuffs", "mordants") or not _foraged(study, thing, material):
            continue
        from procedure.facts.lookalikes import lookalikes_of

        alike = lookalikes_of(material)
        said = _said_of(study, thing, material, procedure)
        untold = [
            plant
            for plant in alike
            if not any(name in said for name in (plant.name, *plant.words("aliases")))
        ]
        if not untold:
            continue
        names = listed((plant.name for plant in untold), last=" or ")
        care = Several(
            tuple(
                say("{plant}: {care}", plant=plant.name, care=plant.facts["care"])
                for plant in untold[:2]
            ),
            "; ",
            "; ",
        )
        yield Found(
            procedure,
            material.name.place,
            say(
                "{thing} may be mistaken for {names}, which is harmful{too}.",
                thing=called(study, thing),
                names=names,
                too=" too" if plants(study, thing) else "",
            ),
            say("Say how to tell them apart. {Care}.", care=care),
            level="warning"
            if for_children(procedure) and any(plant.facts["level"] in _POISONS for plant in untold)
            else "note",
            source="; ".join(dict.fromkeys(plant.facts["source"] for plant in untold)),
        )


_SPARING = r"windfall|fallen|storm|grown|grow it|garden|leave|permission|licen"


@rule("protected-plant", level="note", family=FAMILY, source="common practice")
def protected_plant(study: Study) -> Iterator[Found]:
    """A plant or lichen that is rare, slow to grow, or protected by law.

    Many lichens grow a few millimetres a year, and one dye pot strips a wall of fifty
    years. Say that it was bought, fallen or grown.

    Trips:
        materials
          crottle: crottle, dried
        steps
          brown-bath: prepare in kettle with water 3 L, crottle 100 g
          discard brown-bath to "foul drain"
    Cure:
        materials
          crottle: crottle, dried, "windfalls after a storm"
        steps
          brown-bath: prepare in kettle with water 3 L, crottle 100 g
          discard brown-bath to "foul drain"
    """
    for thing, material, procedure, entry in _materials(study):
        if "protected" not in entry.words("hazards") or "bought" in material.words:
            continue
        if pattern(_SPARING).search(_said_of(study, thing, material, procedure)):
            continue
        more = entry.facts.get("cautions", "") or entry.facts.get("safer", "")
        yield Found(
            procedure,
            material.name.place,
            say(
                "{thing} is rare or protected where it grows{more}.",
                thing=called(study, thing),
                more=say(": {more}", more=more) if more else Says(""),
            ),
            "Use windfalls, grow it, buy it from a grower, or choose another.",
            source=entry.facts["source"],
        )


# Where a plant is somebody's, is counted, or has no time to grow again.
_NOT_THERE = (
    r"\b(?:church ?yard|grave ?(?:yard|stone)s?|cemetery|nature reserve|national park"
    r"|wildlife reserve|protected (?:area|site|land)|sssi"
    r"|conservation area|botanic(?:al)? gardens?)\b"
)
_LEAVE = r"(?<!without )(?:permission|leave (?:of|from)|licen[cs]e|licen[cs]ed|allowed)"


@rule("gathered-where-kept", level="warning", family=FAMILY, source="common practice")
def gathered_where_kept(study: Study) -> Iterator[Found]:
    """A plant gathered in a nature reserve, a churchyard or the like, with no word of leave.

    What grows there is kept for a reason, often by law: without the owner's leave nothing is
    taken, and lichens on old stones are never scraped off.

    Trips:
        materials
          tops: goldenrod tops, fresh, gathered 2026-08-12, from "the nature reserve"
        steps
          gold-bath: prepare in kettle with water 3 L, tops 100 g
          discard gold-bath to "foul drain"
    Cure:
        materials
          tops: goldenrod tops, fresh, gathered 2026-08-12, from "our own dye garden"
        steps
          gold-bath: prepare in kettle with water 3 L, tops 100 g
          discard gold-bath to "foul drain"
    """
    gathered = _told_where_gathered(study)
    for thing, (material, procedure) in study.flow.materials.items():
        if "bought" in material.words:
            continue
        said = " ".join((*material.words, *gathered.get(thing, ()))).lower()
        where = pattern(_NOT_THERE).search(said)
        if where is None:
            continue
        if pattern(_LEAVE).search(_said_of(study, thing, material, procedure) + said):
            continue
        yield Found(
            procedure,
            material.name.place,
            say(
                "{thing} comes from a place where nothing is taken without leave: “{where}”.",
                thing=called(study, thing),
                where=where.group(),
            ),
            "Gather it elsewhere, or say whose leave you have: “with the owner's permission”.",
            source="Wildlife and Countryside Act 1981, section 13; common practice",
        )


def _told_where_gathered(study: Study) -> dict[str, list[str]]:
    """What the steps that gather a material say, by the material."""
    found: dict[str, list[str]] = {}
    for moment in study.moments:
        if moment.node.does.gathers:
            taken = (*moment.node.moved, *moment.node.materials)
            for thing in dict.fromkeys(moved for moved, _ in taken):
                found.setdefault(thing, []).append(_told_at(moment.step))
    return found


def _told_at(step: Step) -> str:
    """The free words of a step: its note and where it says that a plant comes from."""
    place = step.source.words.text if step.source is not None and step.source.words else ""
    return " ".join((step.note, place))


RULES = (
    gathered_where_kept,
    restricted_salt,
    metal_in_the_waste,
    easily_confused,
    protected_plant,
)
