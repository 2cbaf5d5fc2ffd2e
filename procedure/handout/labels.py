"""Labels for what is kept: what it is, how strong, what it does, whose, since when, not for food.

What a label holds and in which order follows Regulation (EC) No 1272/2008: whose it is, the
amount, what it is, pictograms, signal word, statements and what to do (Article 17);
pictograms by Article 26; supplemental words apart (Article 25). At most six precautionary
statements are given (Article 28). The law is for those who sell; a workshop follows it so
that everybody reads a jar alike.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from procedure.facts.handling import deadly_words, hazards, in_bath
from procedure.handout import fixed_phrases as say
from procedure.handout.as_paper import signs
from procedure.handout.cautions import Danger, danger, used
from procedure.handout.contents import telling_of
from procedure.handout.needs import about
from procedure.handout.phrasebook import Telling
from procedure.model import Material, Step
from procedure.paper.blocks import Block, Card, Cards, Paper, Para, Section
from procedure.paper.hazard_signs import pictograms as symbols
from procedure.paper.measures import Voice
from procedure.paper.pieces import (
    Blank,
    Figure,
    Phrase,
    Words,
    joined,
    phrase,
    plain_text,
    sentence,
    spaced,
)
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry
from procedure.vocabulary.first_aid import first_aid
from procedure.vocabulary.thresholds import threshold

DEFER = "Read the supplier's safety data sheet first. Keep from children and animals."
# Article 28(3): not more than six precautionary statements, unless the hazard asks for more.
MOST_STATEMENTS = 6


class Size(NamedTuple):
    """Labels on a sheet: how many across and down."""

    across: int
    down: int


# Sheets that stationers sell, by the number of labels on an A4 sheet (common practice). Only
# the largest is as large as Annex I, table 1.3, asks for packages up to 3 L (52 by 74 mm).
SIZES = {"8": Size(2, 4), "14": Size(2, 7), "21": Size(3, 7)}


@dataclass(frozen=True, slots=True)
class Label:
    """One label. ``title`` is the real name with its strength, ``own`` the writer's name;
    ``lines`` say what is in it and how much; ``danger`` what it does, ``aid`` what to do."""

    title: Phrase
    own: Phrase
    lines: tuple[Phrase, ...]
    danger: Danger | None
    aid: tuple[str, ...] = ()


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
    baths = [bath for bath, node in plan.flow.baths.items() if node >= 0 and _stays(plan, bath)]
    every = (*jars.values(), *(_bath(telling, bath) for bath in baths))
    title = plan.model.title.text if plan.model.title else "Untitled procedure"
    draft = any(found.level == "error" for found in plan.findings)
    whose = plan.model.by.text if plan.model.by else ""
    return Labels(title, voice, every, draft, whose, deadly_words(plan.study))


def _stays(plan: Judged, bath: str) -> bool:
    """True for a bath that is kept, is never emptied, or stands for a night."""
    gone = False
    for moment in plan.trace.moments:
        if moment.node.bath != bath or not isinstance(moment.step, Step):
            continue
        minutes = moment.minutes
        long = minutes is not None and minutes[1] >= threshold("left alone").value
        if moment.step.does.stores or long:
            return True
        gone = gone or moment.step.does.empties
    return not gone


def _jar(telling: Telling, thing: str) -> Label:
    material = telling.plan.flow.materials[thing][0]
    own = spaced(material.name.text)
    title: Phrase = (material.in_full,) if material.entry is not None else (Words(own),)
    strength = material.strength
    if strength is not None:
        title = phrase(title, " ", Words(strength.text))
    lines = [about(replace_strength(material))] if material.entry is not None else []
    plant = bool(material.roles) and "dyestuff" in material.roles
    lines.append(phrase("opened or gathered on " if plant else "opened on ", Blank("date")))
    found = hazards(material)
    return Label(
        title,
        (Words(own),) if material.entry is not None and own != material.in_full else (),
        tuple(line for line in lines if line),
        danger(material, found),
        _aid(found),
    )


def replace_strength(material: Material) -> Material:
    """A material without its strength, which the title of its label has."""
    return material._replace(strength=None)


def _aid(found: tuple[Entry, ...]) -> tuple[str, ...]:
    """First aid in brief, the gravest routes first, within what a label may hold."""
    said: list[str] = []
    codes = 0
    for one in first_aid(entry.name for entry in found):
        parts = len([*one.do, one.call]) if one.call else len(one.do)
        if codes + parts > MOST_STATEMENTS:
            break
        codes += parts
        said.append(
            f"{one.route[:1].upper()}{one.route[1:]}: {one.plain[:1].lower()}{one.plain[1:]}"
        )
    return tuple(said)


def _bath(telling: Telling, bath: str) -> Label:
    """A bath as it is when it was left: its liquor, and what is really in it."""
    plan = telling.plan
    state = next(
        (m.after.baths[bath] for m in reversed(plan.trace.moments) if bath in m.after.baths), None
    )
    lines: list[Phrase] = []
    found: list[Entry] = []
    if state is not None:
        inside: list[Phrase] = []
        for thing, content in state.contents.items():
            known = content.grams is not None
            amount = phrase(" ", Figure("mass", *content.grams)) if known else ()  # type: ignore[misc]
            inside.append(phrase(telling.real_name(thing), amount))
            found += in_bath(plan.study, state, thing)
        if state.volume is not None:
            lines.append(phrase(Figure("volume", *state.volume), " of liquor"))
        if inside:
            lines.append(sentence("in it: ", joined(inside)))
    lines.append(phrase("made on ", Blank("date"), ", by ", Blank("name")))
    unique = tuple({entry.name: entry for entry in found}.values())
    named = telling.name(bath).text
    return Label(
        (Words(named[:1].upper() + named[1:]),),
        (),
        tuple(lines),
        _bath_danger(plan, bath, unique),
        _aid(unique),
    )


def _bath_danger(plan: Judged, bath: str, found: tuple[Entry, ...]) -> Danger | None:
    if not found:
        return None
    ghs = [entry for entry in found if entry.table == "ghs"]
    signals = {entry.facts.get("signal", "") for entry in ghs}
    return Danger(
        name=plan.study.called(bath),
        called=plan.study.called(bath),
        statements=tuple(f"{entry.facts['statement']} ({entry.name})" for entry in ghs),
        plain=tuple(dict.fromkeys(entry.facts["plain"] for entry in found)),
        pictograms=symbols(ghs),
        signal="Danger" if "Danger" in signals else "Warning" if "Warning" in signals else "",
        remarks=(),
    )


def _hazard_text(one: Danger) -> str:
    # On a label there is room for the statements, or for the plain words where there are none.
    return "; ".join(one.statements) + "." if one.statements else say.plainly(one)


def paper(made: Labels, size: str = "8") -> Paper:
    """The labels as a paper of cards to cut out. Raises ``KeyError`` for a size not in SIZES."""
    across = SIZES[size].across
    # A small label has room for what is done first; the jar's large one has the rest.
    aids = None if size == "8" else 1
    cards = tuple(_card(replace(one, aid=one.aid[:aids]), made.whose) for one in made.labels)
    return Paper(
        title=phrase("Labels: ", Words(made.title)),
        voice=made.voice,
        look="labels",
        head=tuple(Para((line,), "warning") for line in made.deadly),
        sections=(Section("labels", (), (Cards(cards, across, "labels"),)),),
        stamp=say.DRAFT if made.draft else "",
        size=f"sheet-{size}",
    )


def _card(label: Label, whose: str) -> Card:
    blocks: list[Block] = []
    if label.own:
        blocks.append(Para(phrase("called “", label.own, "”"), "quiet"))
    blocks += [Para(line) for line in label.lines]
    if label.danger is not None:
        blocks += signs(label.danger.pictograms)
        if label.danger.signal:
            blocks.append(Para((label.danger.signal.upper(),), "strong"))
        blocks.append(Para((_hazard_text(label.danger),), "warning"))
    blocks += [Para((line,), "quiet") for line in label.aid]
    owner = Words(whose) if whose else Blank("whose")
    foot = (
        Para((say.NOT_FOR_FOOD,), "strong"),
        Para(phrase("Of ", owner, ", kept at ", Blank("place")), "quiet"),
        Para((DEFER,), "quiet"),
    )
    return Card(label.title, tuple(blocks), "label", foot=foot)
