"""Sharing: what a stranger must be told to get the same colour, and to know whose it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from procedure.facts.colour_meant import words_of_colour
from procedure.facts.study import Study
from procedure.findings import Named, Percent, listed, say
from procedure.model import Material, Name, Place, Procedure
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.library import rows

FAMILY = "sharing"
# Fresh plants weigh several times what they weigh dried, so amounts of a plant that is
# used both ways say nothing until the state is known.
STATES = frozenset(("fresh", "dried", "ground"))


def _start(procedure: Procedure) -> Place:
    return procedure.title.place if procedure.title is not None else Place(1, 1, 2)


@rule("origin-unstated", level="note", family=FAMILY, source="common practice")
def origin_unstated(study: Study) -> Iterator[Found]:
    """A procedure that does not say whose it is, how old, from where, or what it makes.

    Whoever finds a fault in it has nobody to tell, and cannot know whether theirs is
    the newest. All that is missing is in one finding.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          place outdoors
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          source "our own workshop"
          makes "a skein wet through"
          place outdoors
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        if procedure.title is None:
            continue
        lines: list[tuple[Name | None, str, str]] = [
            (procedure.by, "who wrote it", 'by "..."'),
            (procedure.revised or procedure.version, "when it was last revised", "revised DATE"),
            (procedure.source, "where it comes from", 'source "..."'),
            (procedure.makes, "what it makes", 'makes "..."'),
        ]
        unread = _header_words_unread(study, procedure)
        missing = [
            (what, line)
            for (said, what, line), about in zip(lines, _SAID_WITH, strict=True)
            if said is None and unread.isdisjoint(about)
        ]
        if missing:
            yield Found(
                procedure,
                _start(procedure),
                say("It is not said {missing}.", missing=listed(what for what, _ in missing)),
                say(
                    "Write under the title: {lines}.",
                    lines="; ".join(line for _, line in missing),
                ),
            )


# The words with which people begin a line that says who, when, where from and what; a line that
# begins so and cannot be read has its own finding.
_SAID_WITH = (
    frozenset(("by", "author", "writer", "who", "name")),
    frozenset(("revised", "version", "date", "written", "updated")),
    frozenset(("source",)),
    frozenset(("makes", "serves", "yield", "yields", "result")),
)


def _header_words_unread(study: Study, procedure: Procedure) -> frozenset[str]:
    """The first words of the lines below the title that could not be read, in small letters."""
    tree = study.trees.get(procedure.key)
    sections = tree.sections if tree is not None else ()
    lines = [line for one in sections if one.name == "procedure" for line in one.lines]
    return frozenset(line.first.text.rstrip(": ").lower() for line in lines if line.node is None)


def _plants(study: Study) -> Iterator[tuple[str, Material, Procedure, Entry]]:
    for thing, (material, procedure) in study.flow.materials.items():
        if material.entry is not None and material.entry.table == "dyestuffs":
            yield thing, material, procedure, material.entry


def _usual(entry: Entry, state: str) -> Percent:
    """The usual amounts of a plant in a state, in % of the fibre."""
    low, high = entry.number(f"{state}_low"), entry.number(f"{state}_high")
    return Percent(low or Fraction(0), high)


@rule("plant-state-unstated", level="note", family=FAMILY, source="common practice")
def plant_state_unstated(study: Study) -> Iterator[Found]:
    """A plant that is used fresh or dried, without a word on which.

    Fresh plants weigh several times what they weigh dried, so the amount may be
    several times too much or too little.

    Trips:
        materials
          weld: weld tops
        steps
          gold-bath: prepare in kettle with water 3 L, weld 50 g
          discard gold-bath to "foul drain"
    Cure:
        materials
          weld: weld tops, dried
        steps
          gold-bath: prepare in kettle with water 3 L, weld 50 g
          discard gold-bath to "foul drain"
    """
    for thing, material, procedure, entry in _plants(study):
        facts = entry.facts
        both = facts.get("fresh_low") and facts.get("dried_low")
        if not both or material.state or STATES & set(material.words):
            continue
        if any(word in " ".join(material.words) for word in STATES):
            continue
        yield Found(
            procedure,
            material.name.place,
            say(
                "It is not said whether {material} is fresh or dried. Usual amounts are {fresh} "
                "of the fibre fresh, {dried} dried.",
                material=study.thing(thing),
                fresh=_usual(entry, "fresh"),
                dried=_usual(entry, "dried"),
            ),
            "Write “fresh” or “dried”.",
            source=facts["source"],
        )


@cache
def _organs() -> dict[str, str]:
    return {row["part"]: row["organ"] for row in rows("plant_parts")}


@rule("plant-part-unstated", level="note", family=FAMILY, source="common practice")
def plant_part_unstated(study: Study) -> Iterator[Found]:
    """A plant of which different parts dye differently, without a word on which part.

    Leaves, bark, fruit and root of one plant give other colours at other strengths.

    Trips:
        materials
          walnut: walnut, dried
        steps
          brown-bath: prepare in kettle with water 3 L, walnut 50 g
          discard brown-bath to "foul drain"
    Cure:
        materials
          walnut: walnut hulls, dried
        steps
          brown-bath: prepare in kettle with water 3 L, walnut 50 g
          discard brown-bath to "foul drain"
    """
    for thing, material, procedure, entry in _plants(study):
        parts = entry.words("part")
        organs = {_organs()[part] for part in parts if part in _organs()}
        if len(organs) < 2 or material.part or entry.name.endswith("berry"):
            continue
        said = " ".join(material.words)
        if any(re.search(rf"\b{re.escape(part)}\b", said) for part in parts):
            continue
        yield Found(
            procedure,
            material.name.place,
            say("It is not said which part of {material} is used.", material=study.thing(thing)),
            say(
                "Write it after the name, such as “{plant} {part}”.",
                plant=entry.name,
                part=parts[0],
            ),
            source=entry.facts["source"],
        )


@rule("gathered-without-a-day", level="note", family=FAMILY, source="common practice")
def gathered_without_a_day(study: Study) -> Iterator[Found]:
    """A gathered plant without the day on which it was gathered.

    The same plant gives another colour before it flowers and after.

    Trips:
        materials
          weld: weld tops, fresh, gathered
        steps
          gold-bath: prepare in kettle with water 3 L, weld 100 g
          discard gold-bath to "foul drain"
    Cure:
        materials
          weld: weld tops, fresh, gathered 2026-06-12
        steps
          gold-bath: prepare in kettle with water 3 L, weld 100 g
          discard gold-bath to "foul drain"
    """
    for thing, (material, procedure) in study.flow.materials.items():
        if "gathered" in material.words and not material.gathered:
            yield Found(
                procedure,
                material.name.place,
                say("It is not said when {material} was gathered.", material=study.thing(thing)),
                "Write the day after “gathered”, such as gathered 2026-06-12.",
            )


@cache
def _water_matters() -> dict[str, dict[str, str]]:
    return {row["dyestuff"]: row for row in rows("water_matters")}


_WATER_SAID = (
    r"(?i)\b(hard|soft|rain|tap|spring|well|mains|distilled|de-?ionised|limy|chalky|peaty)"
    r"[- ]?water|\bwater\b[^.;]*\b(hard|soft|limy|chalky)\b"
)


def _kinds() -> dict[str, Entry]:
    return vocabulary().tables["water"]


def _is_meant(study: Study, moment: Moment, row: dict[str, str]) -> bool:
    """True where the colour that the water matters for is meant, or nobody says which is."""
    words = words_of_colour(study, moment)
    return not words or not words.isdisjoint(row["for"].split("; "))


def _says_water(procedure: Procedure, study: Study) -> bool:
    return procedure.water is not None or procedure.key in study.once(_water_said)


def _water_said(study: Study) -> frozenset[str]:
    """The keys of the procedures whose steps or notes say what water it is."""
    steps = [moment.step for moment in study.moments]
    kinds = {one.water for step in steps for one in (*step.using, *step.objects) if one.water}
    if not kinds.isdisjoint(_kinds()):
        return frozenset(procedure.key for procedure in study.procedures)
    said = [(made.key, note.text) for made in study.procedures for note in made.notes]
    said += [(m.node.procedure.key, m.step.note) for m in study.moments if m.step.note]
    return frozenset(key for key, text in said if pattern(_WATER_SAID).search(text))


@rule("water-kind-unstated", level="note", family=FAMILY, source="common practice")
def water_kind_unstated(study: Study) -> Iterator[Found]:
    """A dye whose colour hangs on the hardness of the water, and no word on the water.

    Madder is red in hard water and brick in soft, and a reader's tap decides. Chalk in
    the bath, or a note on the water, is enough.

    Trips:
        red-bath: prepare in kettle with water 3 L, madder 50 g
        discard red-bath to "foul drain"
    Cure:
        red-bath: prepare in kettle with water 3 L, madder 50 g note "hard tap water"
        discard red-bath to "foul drain"
    """
    told: set[str] = set()
    for moment in study.moments:
        for thing, _ in (*moment.node.materials, *moment.node.moved):
            found = study.flow.materials.get(thing)
            entry = found[0].entry if found is not None else None
            row = _water_matters().get(entry.name) if entry is not None else None
            if row is None or thing in told or moment.node.does.readies:
                continue
            told.add(thing)
            if not _is_meant(study, moment, row):
                continue
            if _says_water(moment.node.procedure, study) or thing in study.once(_chalked):
                continue
            yield at_node(
                moment.node,
                say(
                    "It is not said whether the water is hard or soft, and {material} "
                    "needs it {wants}: {why}.",
                    material=study.thing(thing),
                    wants=row["wants"],
                    why=row["why"],
                ),
                'Say it in a note, such as: note "soft rain water".'
                if row["wants"] == "soft"
                else 'Say it in a note, such as: note "hard tap water".',
                source=row["source"],
            )


def _chalked(study: Study) -> frozenset[str]:
    """What is in a bath that is made hard with chalk."""
    buffers = {thing for thing, (made, _) in study.flow.materials.items() if "buffer" in made.roles}
    baths = [moment.bath_after for moment in study.moments] if buffers else []
    return frozenset(
        thing
        for bath in baths
        if bath is not None and not buffers.isdisjoint(bath.contents)
        for thing in bath.contents
    )


@rule("clean-or-not-unstated", level="note", family=FAMILY, source="common practice")
def clean_or_not_unstated(study: Study) -> Iterator[Found]:
    """Fibre of which it is not said whether it is scoured, and that no step scours.

    Grease and size keep mordant and dye out in patches.

    Trips:
        fibre
          yarn: wool yarn, 100 g
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    scoured = {
        lot
        for m in study.moments
        if (m.node.does.scours or m.node.does.washes)
        for lot in m.node.lots
    }
    for name, origin in study.flow.lots.items():
        lot = origin.declared
        if lot is None or lot.scoured is not None or name in scoured or not lot.fibres:
            continue
        if lot.mordanted:
            continue
        yield Found(
            origin.procedure,
            lot.name.place,
            say("It is not said whether {lot} is scoured.", lot=Named("lot", origin.name)),
            "Write “scoured” or “unscoured”.",
        )


RULES = (
    origin_unstated,
    plant_state_unstated,
    plant_part_unstated,
    gathered_without_a_day,
    water_kind_unstated,
    clean_or_not_unstated,
)
