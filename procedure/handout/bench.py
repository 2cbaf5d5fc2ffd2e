"""The bench sheet: one page in large type for the wall, no more words than the work needs."""

from __future__ import annotations

from dataclasses import dataclass

from procedure.flow import FlowNode
from procedure.handout import fixed_phrases as say
from procedure.handout.cautions import cautions
from procedure.handout.html import document, el, put, spoken
from procedure.handout.measures import Voice
from procedure.handout.pdf import Data, runs, text, typeset
from procedure.handout.phrasebook import Telling
from procedure.handout.prose_of_baths import word_heat
from procedure.handout.sentences import Phrase, Words, clean, phrase
from procedure.handout.sentences import joined as listed
from procedure.handout.steps import Told, tell
from procedure.model import Step
from procedure.pipeline import Judged

MIDDLE = " · "


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the sheet: a number, what is done, and the numbers that it takes."""

    number: str
    depth: int
    what: Phrase
    how: Phrase


@dataclass(frozen=True, slots=True)
class Bench:
    """A whole bench sheet."""

    title: str
    voice: Voice
    wear: Phrase
    fibre: Phrase
    lines: tuple[Line, ...]
    draft: bool


def bench(plan: Judged, voice: Voice) -> Bench:
    """The bench sheet of a plan."""
    from procedure.handout.contents import telling_of
    from procedure.handout.other_weights import fibre_of
    from procedure.handout.sentences import Figure

    telling = telling_of(plan, voice)
    steps = tell(telling)
    grams = fibre_of(plan)
    return Bench(
        title=plan.model.title.text if plan.model.title else "Untitled procedure",
        voice=voice,
        wear=cautions(plan).wear,
        fibre=phrase(Figure("mass", grams, grams), " of fibre") if grams is not None else (),
        lines=tuple(_lines(telling, steps, 0)),
        draft=any(found.level == "error" for found in plan.findings),
    )


def _lines(telling: Telling, steps: tuple[Told, ...], depth: int) -> list[Line]:
    made: list[Line] = []
    for told in steps:
        node = telling.plan.flow.nodes[told.node]
        if told.inner or not isinstance(node.step, Step):
            text = told.text if told.number else phrase(told.text)
            made.append(Line(told.number, depth, text, ()))
            made += _lines(telling, told.inner, depth + 1)
        else:
            what, how = _short(telling, node, node.step)
            made.append(Line(told.number, depth, what, how))
    return made


def _short(telling: Telling, node: FlowNode, step: Step) -> tuple[Phrase, Phrase]:
    """A step as a verb with its objects, and its numbers one after another."""
    if step.verb is None:
        return (Words(step.words.text if step.words else ""),), _numbers(telling, node, step)
    things: list[Phrase] = [(telling.name(lot),) for lot in node.lots]
    if not things and node.bath and not step.does.adds:
        things = [(telling.name(node.bath),)]
    if node.cleaned:
        things = [(telling.name(pot),) for pot in node.cleaned]
    verb = step.verb.name[:1].upper() + step.verb.name[1:]
    return phrase(verb, " " if things else "", listed(things)), _numbers(telling, node, step)


def _numbers(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    parts: list[Phrase] = []
    if node.lots and node.bath:
        parts.append((telling.name(node.bath),))
    elif node.pot and not step.does.cleans:
        parts.append((telling.name(node.pot),))
    brings = telling.brings(node)
    if brings:
        parts.append(brings)
    if step.does.splits:
        parts.append(listed(_part(telling, node, child) for child in node.makes))
    for word, item in (("from", step.source), ("at", step.at), ("to", step.to)):
        if item is not None and item.quantity is not None and item.name is None:
            kind = item.quantity.kind
            if kind in ("temperature", "unstated", "acidity"):
                parts.append(telling.heat(item.quantity, word))
            else:
                parts.append(phrase(f"{word} ", Words(item.quantity.text)))
        elif item is not None and item.words is not None:
            parts.append((Words(item.words.text),))
    if step.does.heat and not any((step.at, step.to)):
        parts.append(word_heat(telling, step))
    if step.over is not None:
        parts.append(telling.time(step.over, "over"))
    parts += [telling.lasting(step), telling.until(step)]
    waits = telling.waits(step)
    parts += [(name.text,) for name in step.manners if not any(name.text in w for w in waits)]
    parts += [(f"wear {name.text}",) for name in step.wearing]
    made: Phrase = ()
    for part in parts:
        if part:
            made = phrase(made, MIDDLE if made else "", part)
    return made


def _part(telling: Telling, node: FlowNode, child: str) -> Phrase:
    from procedure.handout.sentences import Figure

    moments = telling.moments.get(node.id)
    lot = moments[0].after.lots.get(child) if moments else None
    if lot is None or lot.weight is None:
        return (telling.name(child),)
    return phrase(telling.name(child), " ", Figure("mass", *lot.weight))


def as_pdf(made: Bench, size: str = "a4") -> bytes:
    """The sheet as PDF, in the largest type that one page holds. Raises ``NotSet``."""
    data: Data = {
        "paper": "us-letter" if size == "letter" else "a4",
        "region": "US" if made.voice.spelling == "us" else "GB",
        "draft": say.DRAFT if made.draft else "",
        "title": text(made.title)["text"],
        "wear": runs(made.voice, made.wear),
        "fibre": runs(made.voice, made.fibre),
        "lines": [
            {
                "number": line.number,
                "depth": line.depth,
                "what": runs(made.voice, line.what),
                "how": runs(made.voice, line.how),
            }
            for line in made.lines
        ],
    }
    return typeset("bench.typ", data)


def as_html(made: Bench) -> str:
    """The sheet as an HTML page."""
    items = []
    for line in made.lines:
        item = el(
            "li",
            {"class": f"deep{min(line.depth, 3)}"},
            el("span", {"class": "number"}, line.number),
            " ",
            el("strong", {}, *spoken(made.voice, line.what)),
        )
        if line.how:
            put(item, " ", el("span", {"class": "how"}, *spoken(made.voice, line.how)))
        items.append(item)
    many = "many" if len(items) > 24 else "some" if len(items) > 12 else "few"
    head = el("header", {}, el("h1", {}, clean(made.title)))
    if made.draft:
        put(head, el("p", {"class": "stamp"}, say.DRAFT))
    if made.fibre:
        put(head, el("p", {}, *spoken(made.voice, made.fibre)))
    if made.wear:
        put(head, el("p", {"class": "wear"}, *spoken(made.voice, made.wear)))
    body = el("body", {"class": many}, head, el("main", {}, el("ol", {}, *items)))
    return document(made.title, made.voice, body, "bench.css")
