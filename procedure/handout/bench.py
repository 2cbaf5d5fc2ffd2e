"""The bench sheet: large type for the wall, read from two metres, on as many pages as it needs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from procedure.facts.handling import deadly_words
from procedure.flow import FlowNode
from procedure.handout import fixed_phrases as say
from procedure.handout.before import before, lots_named, turns_of
from procedure.handout.cautions import CHILDREN, Danger, cautions
from procedure.handout.first_aid import aid_section, what_to_do_first
from procedure.handout.nights import NightWords
from procedure.handout.numbered_steps import NumberedStep, tell, titles_followed
from procedure.handout.phrasebook import Telling
from procedure.handout.prose_of_baths import said_heat
from procedure.handout.short import briefly, dangers
from procedure.handout.stages import Stage, stages
from procedure.handout.step_titles import acts_on_plants, in_short, told_in_title
from procedure.language.draft_comments import not_checked
from procedure.model import Step
from procedure.model.types import Name
from procedure.paper.blocks import Block, Heading, Paper, PaperSection, Para, StepCard, StepCards
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words, phrase, spaced
from procedure.paper.pieces import joined as listed
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed as in_a_list
from procedure.timetable.days_in_words import daily_in_words, day_in_words
from procedure.timetable.taking import time_taken

# A dot between two things never begins a line.
MIDDLE = "\u00a0· "
# Manners that are no word for a reader who has not the language.
_MANNERS = {"fixed": "these amounts for any weight of fibre"}
RULES = "Local rules come before this sheet. Dye pots and tools are never for food again."
PROPOSED = "The times of day are one way to do it; another may be as good."


@dataclass(frozen=True, slots=True)
class BenchLine:
    """A line of the sheet: a number, what is done, and the numbers and the notes that it takes.

    ``boxes`` are to tick, for what is done several times; what is done once has none.
    ``nights`` are what to mind of the night after it or before it, ``stage`` the heading that
    begins with it, with a remark.
    """

    number: str
    depth: int
    what: Phrase
    how: Phrase
    boxes: int = 0
    nights: tuple[Phrase, ...] = ()
    stage: Phrase = ()
    remark: Phrase = ()


@dataclass(frozen=True, slots=True)
class Bench:
    """A whole bench sheet.

    ``errors`` are what the checker has against it, ``dangers`` a line for each thing that burns,
    poisons or catches fire, ``aid`` what to do first, eyes before skin before the rest, ``days``
    which steps begin when, where the lines themselves do not say it, and that this is a
    proposal, ``nights`` which baths that harm stand over a night, ``unchecked`` that it is a draft
    from prose that nobody has checked.
    """

    title: str
    voice: Voice
    wear: Phrase
    fibre: Phrase
    lines: tuple[BenchLine, ...]
    draft: bool
    deadly: tuple[str, ...] = ()
    errors: tuple[str, ...] = ()
    dangers: tuple[str, ...] = ()
    aid: tuple[str, ...] = ()
    days: tuple[str, ...] = ()
    nights: tuple[str, ...] = ()
    unchecked: str = ""


def bench(plan: Judged, voice: Voice) -> Bench:
    """The bench sheet of a plan."""
    from procedure.handout.contents import telling_of
    from procedure.handout.other_weights import fibre_of
    from procedure.paper.pieces import Figure

    telling = telling_of(plan, voice)
    steps = tell(telling)
    planned = before(telling)
    every = [line for stage in stages(telling, steps) for line in _of_stage(telling, stage)]
    lines, days = _by_the_clock(telling, _with_nights(every, planned.at_steps))
    grams = fibre_of(plan)
    errors = [found for found in plan.findings if found.level == "error"]
    return Bench(
        title=plan.model.title.text if plan.model.title else "Untitled procedure",
        voice=voice,
        wear=cautions(plan).wear,
        fibre=phrase(Figure("mass", grams, grams), " of fibre") if grams is not None else (),
        lines=lines,
        days=days,
        nights=planned.nights,
        draft=bool(errors),
        deadly=deadly_words(plan.study),
        errors=tuple(f"Line {found.line}: {found.sentence}" for found in errors),
        dangers=tuple(_dangers(plan)),
        aid=what_to_do_first(plan),
        unchecked=not_checked(plan.text),
    )


def _dangers(plan: Judged) -> Iterator[str]:
    """Every danger, the gravest first; what is less than that is told together at the end."""
    graver: list[Danger] = []
    rest: dict[str, list[str]] = {}
    for one in dangers(plan):
        if one.signal == "Danger" or _a_plant(one):
            graver.append(one)
        else:
            rest.setdefault(briefly(one), []).append(one.called)
    yield from (f"{one.called}: {briefly(one)}" for one in graver)
    for said, names in rest.items():
        yield f"{in_a_list(names)}: {said}"
    general = [one for (one,) in cautions(plan).general if isinstance(one, str)]
    yield from (text for text in general if text == CHILDREN or "must never meet" in text)


def _a_plant(one: Danger) -> bool:
    return any("poison" in said or "kill" in said for said in one.plain)


def _by_the_clock(
    telling: Telling, lines: list[BenchLine]
) -> tuple[tuple[BenchLine, ...], tuple[str, ...]]:
    """The lines with the time at which the timetable has each step begin, the last of all.

    Where steps begin while others above them go on, clocks would run backwards down the sheet,
    and what is done with fibre that waits for days has no line: then it is told once, day by day,
    which steps begin when.
    """
    taken = time_taken(telling.plan)
    if isinstance(taken, str):
        return tuple(lines), ()
    proposed = f"{PROPOSED} It is planned for {taken.whose}."
    begins = [taken.begins[node] for node in sorted(taken.begins)]
    if begins != sorted(begins) or any(day.between for day in taken.days):
        titles = titles_followed(telling)
        the = lots_named(telling)
        of = turns_of(telling)
        told = (day_in_words(taken, day, telling.numbers, titles, the, of) for day in taken.days)
        return tuple(lines), (*told, proposed)
    clocks = {
        telling.numbers[node]: taken.clock_of(node).replace(" ", "\u00a0")
        for node in telling.numbers
    }
    daily: dict[str, str] = {}
    for left in (left for day in taken.days for left in day.left if left.node in telling.numbers):
        daily.setdefault(telling.numbers[left.node], daily_in_words(left))
    timed = (
        replace(line, how=_with_clock(line.how, clocks[line.number], daily.get(line.number, "")))
        if clocks.get(line.number)
        else line
        for line in lines
    )
    return tuple(timed), (proposed,) if begins else ()


def _with_clock(how: Phrase, clock: str, daily: str) -> Phrase:
    """When a step begins behind how it is done, and that it is seen to each day."""
    said = f"{clock}; {daily}" if daily else clock
    return phrase(how, MIDDLE if how else "", said)


def _of_stage(telling: Telling, stage: Stage) -> list[BenchLine]:
    """The lines of a stage, the first of them with its heading."""
    lines = _lines(telling, stage.steps, 0)
    return [replace(lines[0], stage=stage.title, remark=stage.remark), *lines[1:]] if lines else []


def _with_nights(lines: list[BenchLine], at_steps: tuple[NightWords, ...]) -> list[BenchLine]:
    return [
        replace(line, nights=tuple(one.beside((line.number,)) for one in here))
        if (here := [one for one in at_steps if one.number == line.number])
        else line
        for line in lines
    ]


def _lines(telling: Telling, steps: tuple[NumberedStep, ...], depth: int) -> list[BenchLine]:
    made: list[BenchLine] = []
    for told in steps:
        made += (BenchLine(gap.number, depth, gap.text, ()) for gap in told.before)
        node = telling.plan.flow.nodes[told.node]
        if told.inner or not isinstance(node.step, Step):
            text = told.text if told.number else phrase(told.text)
            made.append(BenchLine(told.number, depth, text, _and_minded((), told)))
            made += _lines(telling, told.inner, depth + 1)
        else:
            turned = replace(telling, turn=told.turn)
            how = _and_minded(_numbers(turned, node, node.step), told)
            boxes = told.boxes if told.boxes > 1 else 0
            made.append(BenchLine(told.number, depth, in_short(turned, node), how, boxes))
        made += (BenchLine(gap.number, depth, gap.text, ()) for gap in told.behind)
    return made


def _and_minded(how: Phrase, told: NumberedStep) -> Phrase:
    """How a step is done, then what to mind at it and the writer's own notes, nothing left out."""
    care: list[str | Words] = [one.removesuffix(".") for one in told.care]
    for said in (*care, *(Words(note.strip()) for note in told.notes)):
        how = phrase(how, MIDDLE if how else "", said)
    return how


def _numbers(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    parts = list(_where(telling, node, step))
    brings = telling.brings(node)
    if brings and not told_in_title(node):
        parts.append(brings)
    if step.does.splits:
        parts.append(listed(_part(telling, node, child) for child in node.makes))
    parts += _ends(telling, step)
    if step.does.heat and not any((step.at, step.to)):
        parts.append(phrase("at ", said_heat(telling, step)))
    if step.ceiling is not None:
        parts.append(telling.heat(step.ceiling, ""))
    if step.over is not None:
        parts.append(telling.time(step.over, "over"))
    parts += [telling.lasting(step), telling.until(step)]
    waits = telling.waits(step)
    said = [re.sub(r"\bthe ", "", wait) for wait in waits]
    written = [(name.text, name.text.replace("-", " ")) for name in step.manners]
    manners = [name for name, spoken in written if not any(spoken in wait for wait in said)]
    parts += [(_MANNERS.get(manner, manner),) for manner in manners]
    parts += [(f"wear {name.text}",) for name in step.wearing]
    made: Phrase = ()
    for part in parts:
        if part:
            made = phrase(made, MIDDLE if made else "", part)
    return made


def _where(telling: Telling, node: FlowNode, step: Step) -> Iterator[Phrase]:
    """The bath that something goes into or comes out of, the vessel that a bath goes into, else
    the pot; how much of a bath; and what it is strained through. None has an article, as in the
    titles of the steps."""
    part = step.objects[0].quantity if step.objects else None
    if part is not None and (step.does.draws_off or step.does.empties):
        yield telling.part_of_bath(node, part)
    if node.does.takes_out and node.left:
        baths = dict.fromkeys(node.left.values())
        yield phrase("from ", listed((telling.name(bath),) for bath in baths))
    elif node.bath and (node.does.bags or acts_on_plants(node)):
        way = "into" if node.does.bag_in else "in" if _stays_in(node) else "from"
        yield phrase(f"{way} ", telling.name(node.bath))
    elif node.lots and node.bath:
        yield phrase("in ", telling.name(node.bath))
    elif step.does.stores:
        vessel = step.within or next(iter(step.into), step.to)
        if vessel is not None:
            yield phrase("in ", _bare(telling, node, vessel.name) or telling.item(node, vessel))
    elif node.pot and not (step.does.cleans or step.does.adds):
        out = step.does.empties or step.does.draws_off
        yield phrase("from " if out else "in ", telling.name(node.pot))
    yield from (phrase("through ", said) for said in (_bare(telling, node, step.through),) if said)
    yield from _with_tools(telling, node, step)
    yield from _into(telling, node, step)


def _stays_in(node: FlowNode) -> bool:
    """True for a bag that is only moved or filled in its bath."""
    return node.does.bags and not node.does.bag_out and not node.does.throws_matter_out


def _with_tools(telling: Telling, node: FlowNode, step: Step) -> Iterator[Phrase]:
    if node.does.readies:
        tools = [(_bare(telling, node, one.name)) for one in step.using if one.name is not None]
        if tools:
            yield phrase("with ", listed(tools))


def _into(telling: Telling, node: FlowNode, step: Step) -> Iterator[Phrase]:
    """Where something goes that is not said yet, and the name that it has from then on."""
    if step.does.splits:
        return
    if step.does.joins:
        yield from (phrase("as one lot, ", telling.name(lot)) for lot in node.makes)
        return
    if node.does.bag_in and node.present:
        yield phrase("on top of ", listed((telling.name(lot),) for lot in node.present))
        return
    said = {node.bath, node.bag}
    for item in step.into if not step.does.stores else ():
        name = item.name
        if name is None or node.names.get(name.text, name.text) not in said:
            yield phrase("into ", _bare(telling, node, name) or telling.item(node, item))
    if step.named is not None:
        yield phrase("as “", Words(spaced(step.named.text)), "”")


def _bare(telling: Telling, node: FlowNode, name: Name | None) -> Phrase:
    """What a name of a step's file means, without an article; empty for none."""
    return (telling.name(node.names.get(name.text, name.text)),) if name is not None else ()


def _ends(telling: Telling, step: Step) -> Iterator[Phrase]:
    """From where to where: heats, acidity and words of the clauses from, at and to."""
    for word, item in (("from", step.source), ("at", step.at), ("to", step.to)):
        if item is not None and item.quantity is not None and item.name is None:
            kind = item.quantity.kind
            if kind in ("temperature", "unstated", "acidity"):
                yield telling.heat(item.quantity, word)
            else:
                yield phrase(f"{word} ", Words(item.quantity.text))
        elif item is not None and item.words is not None:
            yield (Words(item.words.text),)


def _part(telling: Telling, node: FlowNode, child: str) -> Phrase:
    from procedure.paper.pieces import Figure

    moments = telling.moments.get(node.id)
    lot = moments[0].after.lots.get(child) if moments else None
    if lot is None or lot.weight is None:
        return (telling.name(child),)
    return phrase(telling.name(child), " ", Figure("mass", *lot.weight))


def paper(made: Bench) -> Paper:
    """The bench sheet as a paper."""
    head = phrase(made.fibre, "." if made.fibre else "")
    return Paper(
        title=(Words(made.title),),
        voice=made.voice,
        look="bench",
        head=(
            *(Para((line,), "warning") for line in made.deadly),
            *((Para((made.unchecked,), "warning"),) if made.unchecked else ()),
            *(Para((Words(line),), "warning") for line in made.errors),
            *(Para((line,), "strong") for line in made.dangers),
            *(
                para
                for para in (Para(head), Para(made.wear, "strong"), Para((RULES,)), *_days(made))
                if any(para.text)
            ),
        ),
        # What to do first is right below what harms: who looks for it has no time to search.
        sections=(
            *aid_section(made.aid),
            PaperSection("lines", (say.STEPS,), tuple(_by_stages(made.lines))),
        ),
        stamp=say.DRAFT if made.draft or made.unchecked else "",
    )


def _days(made: Bench) -> Iterator[Para]:
    yield from (Para((said,)) for said in made.days)
    yield from (Para((said,), "strong") for said in made.nights)


def _by_stages(lines: tuple[BenchLine, ...]) -> Iterator[Block]:
    """The lines as step cards, those of each stage under its heading."""
    starts = sorted({0, *(at for at, line in enumerate(lines) if line.stage or line.remark)})
    for first, last in zip(starts, [*starts[1:], len(lines)], strict=True):
        if first < last and lines[first].stage:
            yield Heading(lines[first].stage)
        if first < last and lines[first].remark:
            yield Para(lines[first].remark, opens=True)
        yield StepCards(_nested(lines[first:last]))


def _nested(lines: tuple[BenchLine, ...]) -> tuple[StepCard, ...]:
    """Lines with their depths as step cards, the deeper within the one before them."""
    made: list[StepCard] = []
    at = 0
    while at < len(lines):
        line, end = lines[at], at + 1
        while end < len(lines) and lines[end].depth > line.depth:
            end += 1
        inner = _nested(lines[at + 1 : end])
        notes = (*((line.how,) if line.how else ()), *line.nights)
        made.append(StepCard(line.number, line.what, notes, boxes=line.boxes, inner=inner))
        at = end
    return tuple(made)
