"""Labels for what is kept: what it is, how strong, what it does, whose, since when, not for food.

What a label holds and in which order follows Regulation (EC) No 1272/2008: whose it is, the
amount, what it is, pictograms, signal word, statements and what to do (Article 17);
pictograms by Article 26; supplemental words apart (Article 25). At most six precautionary
statements are given (Article 28). The law is for those who sell; a workshop follows it so
that everybody reads a jar alike. How the labels lie on a sheet is in ``labels_paper.py``.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, replace

from procedure.facts.handling import deadly_words, hazards
from procedure.handout.cautions import danger, used
from procedure.handout.contents import telling_of
from procedure.handout.label import Label, aid
from procedure.handout.labels_of_baths import bath_label
from procedure.handout.needs import about
from procedure.handout.nights import harms, over_night, stand_a_night
from procedure.handout.phrasebook import Telling
from procedure.model import Material, Step
from procedure.paper.measures import Voice
from procedure.paper.pieces import (
    Blank,
    Phrase,
    Words,
    article,
    joined,
    phrase,
    plain_text,
    spaced,
)
from procedure.pipeline import Judged
from procedure.timetable.taking import days_of
from procedure.trace import Moment
from procedure.vocabulary.data_files import parts
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import threshold

# Roles that say nothing of what a thing is for.
_NO_USE = ("other", "bath", "water")
# The ways of disposal_ways.csv on which waste is carried in something that wants a label.
CARRIED = ("one vessel", "waste point")


@dataclass(frozen=True, slots=True)
class Labels:
    """All the labels of a plan: its jars, then its baths. ``whose`` is who made the plan."""

    title: str
    voice: Voice
    labels: tuple[Label, ...]
    draft: bool
    whose: str = ""
    deadly: tuple[str, ...] = ()


def labels(plan: Judged, voice: Voice) -> Labels:
    """A label for each material that is used and each bath that is kept or left standing."""
    telling = telling_of(plan, voice)
    jars: dict[str, Label] = {}
    for thing in used(plan):
        made = _jar(telling, thing)
        key = plain_text((*made.title, "|", *made.lines[0]) if made.lines else made.title, voice)
        before = jars.get(key)
        if before is not None and made.own and made.own != before.own:
            made = replace(before, own=joined((before.own, made.own), "or", " or "))
        jars[key] = made
    baths = _standing(plan)
    every = (*_told_apart(tuple(jars.values())), *(bath_label(telling, bath) for bath in baths))
    title = plan.model.title.text if plan.model.title else "Untitled procedure"
    draft = any(found.level == "error" for found in plan.findings)
    whose = plan.model.by.text if plan.model.by else ""
    return Labels(title, voice, every, draft, whose, deadly_words(plan.study))


def _told_apart(jars: tuple[Label, ...]) -> tuple[Label, ...]:
    """The jars without a nickname that two of them have: it would tell nobody which is which."""
    nicknames = Counter(jar.own for jar in jars if jar.own)
    return tuple(replace(jar, own=()) if nicknames[jar.own] > 1 else jar for jar in jars)


def _standing(plan: Judged) -> list[str]:
    """The baths that want a label: what stays, and what stands a night in the plan.

    Where no plan can be made, every bath that harms may stand.
    """
    baths = [bath for bath, node in plan.flow.baths.items() if node >= 0]
    found = {bath for bath in baths if _stays(plan, bath)}
    if len(found) < len(baths):
        days = days_of(plan)
        if days is not None:
            found.update(one.bath for one in over_night(plan, days))
        if any(harms(plan, bath) for bath in baths if bath not in found):
            found.update(stand_a_night(plan, days))
    return [bath for bath in baths if bath in found]


def _stays(plan: Judged, bath: str) -> bool:
    """True for a vat, and for a bath that is kept, carried away, never emptied or left a night."""
    gone = False
    if _is_a_vat(plan, bath):
        return True
    for moment in plan.trace.moments:
        if moment.node.bath != bath or not isinstance(moment.step, Step):
            continue
        minutes = moment.minutes
        long = minutes is not None and minutes[1] >= threshold("left alone").value
        if moment.step.does.stores or long or _carried_away(moment.step):
            return True
        gone = gone or moment.step.does.empties
    return not gone


def _is_a_vat(plan: Judged, bath: str) -> bool:
    """True where it holds a dyestuff that goes on in a vat."""
    made = plan.flow.nodes[plan.flow.baths[bath]]
    held = {thing for moment in plan.trace.moments for thing in _held(moment, bath)}
    held |= {thing for thing, _ in made.materials}
    entries = [plan.flow.materials[one][0].entry for one in held if one in plan.flow.materials]
    return any(one is not None and one.facts.get("dye_class") == "vat" for one in entries)


def _held(moment: Moment, bath: str) -> tuple[str, ...]:
    state = moment.after.baths.get(bath)
    return tuple(state.contents) if state is not None else ()


def _carried_away(step: Step) -> bool:
    """True where it is emptied into a vessel, or brought to where hazardous waste is taken."""
    if not step.does.empties or step.to is None or step.to.words is None:
        return False
    said = step.to.words.text.casefold()
    return any(
        re.search(rf"(?<!\w){re.escape(word)}s?(?!\w)", said)
        for row in rows("disposal_ways")
        if row["way"] in CARRIED
        for word in parts(row["words"])
    )


def _jar(telling: Telling, thing: str) -> Label:
    material = telling.plan.flow.materials[thing][0]
    own = spaced(material.name.text)
    title: Phrase = (material.in_full,) if material.entry is not None else (Words(own),)
    strength = material.strength
    if strength is not None:
        title = phrase(title, " ", Words(strength.text))
    lines = [about(replace_strength(material))] if material.entry is not None else []
    found = hazards(material)
    if not found:  # there is room for what else one asks of a jar
        lines += [_used_as(material), phrase("from\u00a0", Blank("shop or place", wide=True))]
    lines.append(phrase("opened\u00a0on\u00a0", Blank("date", wide=not found)))
    return Label(
        title,
        (Words(own),) if material.entry is not None and own != material.in_full else (),
        tuple(line for line in lines if line),
        danger(material, found),
        aid(found),
    )


def _used_as(material: Material) -> Phrase:
    """``used as a mordant``: what it is for, by its roles in the vocabulary."""
    roles = [role for role in material.roles if role not in _NO_USE]
    named = ((role if " " in role else f"{article(role)} {role}",) for role in roles)
    return phrase("used as ", joined(named, "or", ", ")) if roles else ()


def replace_strength(material: Material) -> Material:
    """A material without its strength, which the title of its label has."""
    return material._replace(strength=None)
