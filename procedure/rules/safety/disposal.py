"""Safety in pouring away: where a bath goes, and what may not go there."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache

from procedure.facts.handling import (
    called,
    declared,
    hazards,
)
from procedure.facts.study import Study
from procedure.findings import say
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.rules.safety.protection import FAMILY
from procedure.trace import Content, Moment
from procedure.vocabulary.library import rows

_NOT = re.compile(r"\b(never|not|no|nor|without|away from|out of|nowhere|don't|avoid)\b")
# What is said of the plants that were strained out is not said of the liquor.
_SOLIDS = re.compile(r"\b(spent|strained|plants?|tops|chips|skins|leaves|roots|solids)\b")


@cache
def _ways() -> list[tuple[str, str]]:
    found = [
        (word.strip(), row["way"])
        for row in rows("disposal_ways")
        for word in row["words"].split(";")
    ]
    return sorted(found, key=lambda pair: -len(pair[0]))


def ways_out(text: str) -> dict[str, str]:
    """The ways that words of disposal name, each with the word that named it.

    What is denied (“never the garden”) and what is said of the spent plants is left
    out; words that name no known way give nothing.
    """
    found: dict[str, str] = {}
    for part in re.split(r"[;,.:()]|\bbut\b", text.lower()):
        if _NOT.search(part) or _SOLIDS.search(part):
            continue
        for word, way in _ways():
            taken = re.sub(rf"\b{re.escape(word)}s?\b", " ", part)
            if taken != part:
                part = taken
                found.setdefault(way, word)
    return found


@cache
def _refusals() -> dict[tuple[str, str], dict[str, str]]:
    return {(row["what"], row["way"]): row for row in rows("disposal")}


def _kinds(study: Study, thing: str) -> list[str]:
    """What a material is to those who take waste, the gravest first."""
    made = declared(study, thing)
    if made is None:
        return []
    entry = made.entry
    listed = {hazard.name for hazard in hazards(made)}
    found = []
    if entry is not None and entry.facts.get("restricted"):
        found.append("restricted")
    if "harmful metal" in listed:
        found.append("harmful metal")
    if listed & {"H400", "H410", "H411"}:
        found.append("water poison")
        if entry is not None and entry.table == "mordants":
            found.append("mordant that kills water life")
    if "toxic plant" in listed:
        found.append("toxic plant")
    strong = entry is not None and entry.facts.get("strength", "") in ("moderate", "strong")
    found += [f"strong {role}" for role in ("acid", "alkali") if strong and role in made.roles]
    found += [role for role in ("oxidiser", "mordant", "dyestuff") if role in made.roles]
    return found


GRAVE_WASTE = frozenset(("restricted", "harmful metal", "water poison", "toxic plant"))


def _discards(study: Study) -> Iterator[tuple[Moment, Mapping[str, Content]]]:
    seen: set[int] = set()
    for moment in study.moments:
        node = moment.node
        if node.does.empties and node.bath and node.id not in seen:
            seen.add(node.id)
            yield moment, moment.bath_before.contents if moment.bath_before else {}


@rule("no-disposal", level="warning", family=FAMILY, source="common practice")
def no_disposal(study: Study) -> Iterator[Found]:
    """A bath that is thrown away, and it is not said where to.

    Whoever has a garden tips it there. It is an error with a metal that harms, a
    toxic plant, or what kills water life.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard gold-bath
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard gold-bath to "foul drain"
    """
    for moment, contents in _discards(study):
        if moment.step.to is not None:
            continue
        bad = [thing for thing in contents if GRAVE_WASTE & set(_kinds(study, thing))]
        name = study.thing(moment.node.bath)
        what = say(", and {bad} is in it", bad=called(study, bad[0])) if bad else ""
        path = on_way(contents[bad[0]].path) if bad else ""
        yield at_node(
            moment.node,
            say(
                "It is not said where {name} is thrown away{what}{way}.",
                name=name,
                what=what,
                way=path,
            ),
            say(
                'Write “discard {name} to "..."”, such as the foul drain or a waste point.',
                name=name,
            ),
            level="error" if bad else "warning",
        )


@rule("wrong-way-out", level="error", family=FAMILY, source="common practice")
def wrong_way_out(study: Study) -> Iterator[Found]:
    """A bath thrown away where what is in it harms: garden, stream, septic tank, drain.

    Metals stay in soil for good, acids and lye burn what lives in it, and almost
    nothing from a dye pot belongs in open water.

    Trips:
        copper-bath: prepare in kettle with water 3 L, copper 4 g
        discard copper-bath to "the garden"
    Cure:
        copper-bath: prepare in kettle with water 3 L, copper 4 g
        discard copper-bath to "the hazardous waste point"
    """
    weight = {"error": 0, "warning": 1, "note": 2}
    for moment, contents in _discards(study):
        to = moment.step.to
        words = to.words or to.name if to is not None else None
        if words is None:
            continue
        found = [
            (weight[row["level"]], thing, row, word)
            for way, word in ways_out(words.text).items()
            for thing in contents
            for kind in _kinds(study, thing)
            if (row := _refusals().get((kind, way))) is not None
        ]
        if not found:
            continue
        _, thing, row, word = min(found, key=lambda one: one[0])
        yield at_node(
            moment.node,
            say(
                "{bath} goes to “{word}” with {thing} in it{way}: {why}.",
                bath=study.thing(moment.node.bath),
                word=word,
                thing=called(study, thing),
                way=on_way(contents[thing].path),
                why=row["why"],
            ),
            "Ask where such waste is taken, and name that place.",
            level=row["level"],
            source=row["source"],
        )


RULES = (no_disposal, wrong_way_out)
