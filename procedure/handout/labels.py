"""Labels for jars and baths: what it is, how strong, since when, what it does, not for food."""

from __future__ import annotations

from dataclasses import dataclass

from procedure.facts.handling import deadly_words, hazards, in_bath
from procedure.handout import fixed_phrases as say
from procedure.handout.as_paper import signs
from procedure.handout.cautions import Danger, danger, used
from procedure.handout.contents import telling_of
from procedure.handout.needs import described
from procedure.handout.phrasebook import Telling
from procedure.model import Step
from procedure.paper.blocks import Block, Card, Cards, Paper, Para, Section
from procedure.paper.hazard_signs import pictograms as symbols
from procedure.paper.measures import Voice
from procedure.paper.pieces import Blank, Figure, Phrase, Words, phrase, spaced
from procedure.pipeline import Judged
from procedure.vocabulary import Entry
from procedure.vocabulary.first_aid import first_aid

DEFER = "Read the supplier's safety data sheet first. Keep from children and animals."


@dataclass(frozen=True, slots=True)
class Label:
    """One label. ``lines`` say what is in it and how much; ``danger`` what it does."""

    title: Phrase
    lines: tuple[Phrase, ...]
    danger: Danger | None


@dataclass(frozen=True, slots=True)
class Labels:
    """All the labels of a plan: its jars, then its baths."""

    title: str
    voice: Voice
    labels: tuple[Label, ...]
    draft: bool
    deadly: tuple[str, ...] = ()


def labels(plan: Judged, voice: Voice) -> Labels:
    """A label for each material that is used and each bath that is made."""
    telling = telling_of(plan, voice)
    made = [_jar(telling, thing) for thing in used(plan)]
    made += [_bath(telling, bath, node) for bath, node in plan.flow.baths.items() if node >= 0]
    title = plan.model.title.text if plan.model.title else "Untitled procedure"
    draft = any(found.level == "error" for found in plan.findings)
    return Labels(title, voice, tuple(made), draft, deadly_words(plan.study))


def _jar(telling: Telling, thing: str) -> Label:
    material = telling.plan.flow.materials[thing][0]
    lines = [described(material)]
    dated = (
        "opened or gathered on "
        if material.roles and "dyestuff" in material.roles
        else ("opened on ")
    )
    lines.append(phrase(dated, Blank("date")))
    found = hazards(material)
    own = (Words(spaced(material.name.text)),)
    # What harms is told by its right name; the nickname helps to find it in the list.
    title = own if not found or material.entry is None else (material.in_full,)
    if title != own and spaced(material.name.text) != material.in_full:
        lines.insert(0, phrase("called ", own, " in the list"))
    return Label(title, tuple(lines), danger(material, found))


def _bath(telling: Telling, bath: str, number: int) -> Label:
    """A bath as it is when it was made: its liquor, what is in it, its pot."""
    plan = telling.plan
    state = next(
        (m.after.baths[bath] for m in reversed(plan.trace.moments) if bath in m.after.baths), None
    )
    lines: list[Phrase] = []
    found: list[Entry] = []
    if state is not None:
        if state.volume is not None:
            lines.append(phrase(Figure("volume", *state.volume), " of liquor"))
        inside: list[Phrase] = []
        for thing, content in state.contents.items():
            if content.grams is None:
                inside.append((telling.name(thing),))
            else:
                inside.append(phrase(telling.name(thing), " ", Figure("mass", *content.grams)))
            found += in_bath(plan.study, state, thing)
        if inside:
            lines.append(_listed(inside))
    lines.append(phrase("made on ", Blank("date"), ", by ", Blank("name")))
    node = plan.flow.nodes[number]
    step = node.step
    pot = plan.study.called(node.pot) if node.pot else ""
    where = phrase("in the ", Words(spaced(pot))) if pot else ()
    if where and isinstance(step, Step):
        lines.append(phrase(where, ", step ", telling_number(telling, number)))
    return Label((telling.name(bath),), tuple(lines), _bath_danger(plan, bath, tuple(found)))


def telling_number(telling: Telling, node: int) -> str:
    """The printed number of a step."""
    step = telling.plan.flow.nodes[node].step
    return telling.numbers.get(node, str(step.number))


def _listed(parts: list[Phrase]) -> Phrase:
    made: Phrase = ()
    for part in parts:
        made = phrase(made, ", " if made else "", part)
    return made


def _bath_danger(plan: Judged, bath: str, found: tuple[Entry, ...]) -> Danger | None:
    unique = {entry.name: entry for entry in found}
    if not unique:
        return None
    ghs = [entry for entry in unique.values() if entry.table == "ghs"]
    signals = {entry.facts.get("signal", "") for entry in ghs}
    return Danger(
        name=plan.study.called(bath),
        called=plan.study.called(bath),
        statements=tuple(f"{entry.facts['statement']} ({entry.name})" for entry in ghs),
        plain=tuple(dict.fromkeys(entry.facts["plain"] for entry in unique.values())),
        pictograms=symbols(ghs),
        signal="Danger" if "Danger" in signals else "Warning" if "Warning" in signals else "",
        remarks=(),
        first_aid=tuple(one.said for one in first_aid(unique)),
    )


def _hazard_text(label: Label) -> str:
    if label.danger is None:
        return ""
    # On a label there is room for the statements, or for the plain words where there are none.
    return say.statements(label.danger) if label.danger.statements else say.plainly(label.danger)


def paper(made: Labels) -> Paper:
    """The labels as a paper of cards to cut out, eight on a page."""
    return Paper(
        title=phrase("Labels: ", Words(made.title)),
        voice=made.voice,
        look="labels",
        head=tuple(Para((line,), "warning") for line in made.deadly),
        sections=(
            Section("labels", (), (Cards(tuple(_card(one) for one in made.labels), 2, "labels"),)),
        ),
        stamp=say.DRAFT if made.draft else "",
    )


def _card(label: Label) -> Card:
    blocks: list[Block] = [Para(line) for line in label.lines if line]
    blocks += signs(label.danger.pictograms if label.danger else ())
    if _hazard_text(label):
        blocks.append(Para((_hazard_text(label),), "warning"))
    if label.danger is not None and label.danger.first_aid:
        blocks.append(Para((" ".join(label.danger.first_aid),), "quiet"))
    foot = (Para((say.NOT_FOR_FOOD,), "strong"), Para((DEFER,), "quiet"))
    return Card(label.title, tuple(blocks), "label", foot=foot)
