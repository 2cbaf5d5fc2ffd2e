"""The steps of a plan in their order, numbered, each with its sentences and its blanks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import PurePath

from procedure.batch.asked import SEEN, blanks_of, takes_time
from procedure.batch.side_of_form import FormBlank as Asked
from procedure.facts.unread_lines import words_of_unread
from procedure.flow import FlowNode
from procedure.flow.printed_numbers import printed_numbers
from procedure.handout.metal_waters import metal_notes
from procedure.handout.phrasebook import Telling
from procedure.handout.prose import step_text
from procedure.handout.step_titles import in_short
from procedure.handout.tagged import TAGS, first_together
from procedure.model import Block, Step
from procedure.paper.blocks import StepCard
from procedure.paper.measures import unit_of
from procedure.paper.pieces import (
    Blank,
    Phrase,
    Words,
    joined,
    phrase,
    sentence,
    spaced,
)
from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import in_words
from procedure.quantity.record import NamedTuple

# So many tick boxes are printed for a step that is repeated; beyond, one and a count.
MOST_BOXES = 12
NOT_UNDERSTOOD = "This step was not understood"
ASK_THE_WRITER = "Ask whoever wrote it what is meant."


class Gap(NamedTuple):
    """A line of the steps that could not be read: its number, and what is said of it."""

    number: str
    text: Phrase


@dataclass(frozen=True, slots=True)
class NumberedStep:
    """A step to print. ``number`` is 7 or 14.2; ``inner`` the steps of a block.

    ``blanks`` are what to write down on the day; ``boxes`` how many ticks it takes;
    ``notes`` the writer's own remarks; ``node`` its number in the flow; ``key`` which file it
    is written in; ``turn`` the thing that is spoken of as this one; ``turns`` what to write
    down for each value of a ``for each`` whose steps are told once, in short words; ``care`` is
    what to mind at the step, in whole sentences; ``before`` and ``behind`` are the lines above and
    below it that could not be read.
    """

    number: str
    text: Phrase
    node: int
    key: str
    line: int
    notes: tuple[str, ...] = ()
    blanks: tuple[Blank, ...] = ()
    boxes: int = 1
    inner: tuple[NumberedStep, ...] = ()
    turn: str = ""
    turns: tuple[NumberedStep, ...] = ()
    care: tuple[str, ...] = ()
    before: tuple[Gap, ...] = ()
    behind: tuple[Gap, ...] = ()

    def every(self) -> Iterator[NumberedStep]:
        """The step and all within it."""
        yield self
        for step in self.inner:
            yield from step.every()


def tell(telling: Telling) -> tuple[NumberedStep, ...]:
    """All the steps of a plan."""
    telling.numbers.update(printed_numbers(telling.plan.flow.top))
    notes = metal_notes(telling)
    return tuple(_cared(told, notes) for told in _body(telling, telling.plan.flow.top, 1))


def _cared(told: NumberedStep, notes: dict[object, str]) -> NumberedStep:
    """A step, and all within it, with what to mind at it."""
    key = (told.key, told.line) if told.turn else told.node
    care = (notes[key],) if key in notes and not told.inner else ()
    return replace(told, care=care, inner=tuple(_cared(one, notes) for one in told.inner))


def last_number(telling: Telling, node: FlowNode) -> str:
    """The number of the last step within a block, or of the step itself.

    What is followed counts as one step: its own steps have numbers of their own.
    """
    inner = [one for one in node.inner if one.kind != "end" and node.kind != "follow"]
    return last_number(telling, inner[-1]) if inner else telling.numbers[node.id]


def _body(telling: Telling, nodes: list[FlowNode], boxes: int) -> tuple[NumberedStep, ...]:
    shown = [node for node in nodes if node.kind != "end"]
    made: list[NumberedStep] = []
    for i, node in enumerate(shown):
        following = shown[i + 1] if i + 1 < len(shown) else None
        made.append(_told(telling, node, boxes, following))
    return _with_gaps(telling, shown, made)


def _with_gaps(
    telling: Telling, nodes: list[FlowNode], made: list[NumberedStep]
) -> tuple[NumberedStep, ...]:
    """Steps of one list with the lines between them that could not be read.

    What is unread at the end of a block is told after that block.
    """
    if not nodes or not nodes[0].procedure.unread_steps:
        return tuple(made)
    own = nodes[0].step.number
    prefix = telling.numbers[nodes[0].id].removesuffix(f"{own}")
    whole = nodes[0] in telling.plan.flow.top or bool(prefix)
    # In a block, what is unread above its first step is told in front of that step.
    past = 0 if whole else own - 2
    for at, node in enumerate(nodes):
        first, last = node.step.number, _last_of(node)
        made[at] = replace(made[at], before=_gaps(telling, node, prefix, past, first))
        past = last
    if whole:
        made[-1] = replace(made[-1], behind=_gaps(telling, nodes[-1], prefix, past, None))
    return tuple(made)


def _last_of(node: FlowNode) -> int:
    """The number, in its own file, of the last step within a step."""
    inner = [one for one in node.inner if one.kind != "end"]
    return _last_of(inner[-1]) if inner and node.kind != "follow" else node.step.number


def _gaps(
    telling: Telling, node: FlowNode, prefix: str, past: int, until: int | None
) -> tuple[Gap, ...]:
    """What could not be read between two numbers of a file."""
    text = telling.plan.text if node.procedure is telling.plan.model else ""
    found = []
    for one in node.procedure.unread_steps:
        if past < one.number and (until is None or one.number < until):
            written = words_of_unread(text, one)
            said = phrase(*((" “", Words(written), "”") if written else ()))
            told = phrase(NOT_UNDERSTOOD, ":" if said else "", said, ". ", ASK_THE_WRITER)
            found.append(Gap(f"{prefix}{one.number}", told))
    return tuple(found)


def gap_cards(gaps: tuple[Gap, ...]) -> Iterator[StepCard]:
    """What could not be read as cards of its own, each with its number."""
    yield from (StepCard(number=gap.number, text=gap.text, boxes=0) for gap in gaps)


def _told(telling: Telling, node: FlowNode, boxes: int, following: FlowNode | None) -> NumberedStep:
    step = node.step
    if isinstance(step, Block):
        text = _block(telling, node, step, following)
        if node.kind == "for":
            inner, turns = _each(telling, node, step, boxes)
            return replace(_made(telling, node, text, 0, inner), turns=turns)
        most = _most_rounds(step) if node.kind == "repeat" else 1
        each = boxes * max(most, 1)
        inner = _body(telling, node.inner, each if each <= MOST_BOXES else 1)
        return replace(_made(telling, node, text, 0, inner), blanks=_blanks(telling, node))
    if node.kind == "follow":
        inner = _body(telling, node.inner, boxes)
        told = _made(telling, node, _follow(telling, node, step), 0, inner)
        known = {note.text for note in telling.plan.model.notes}  # at the head of the paper
        besides = (note for note in _of_the_followed(node) if note not in known)
        return replace(told, notes=(*told.notes, *besides))
    made = _made(telling, node, step_text(telling, node), boxes)
    if telling.plan.study.once(first_together).get(node.id):
        made = replace(made, notes=(*made.notes, TAGS))
    return replace(made, blanks=_blanks(telling, node))


def _made(
    telling: Telling, node: FlowNode, text: Phrase, boxes: int, inner: tuple[NumberedStep, ...] = ()
) -> NumberedStep:
    step = node.step
    notes = (step.note,) if isinstance(step, Step) and step.note else ()
    number = telling.numbers[node.id]
    line = step.place.line
    key = node.procedure.key
    return NumberedStep(number, text, node.id, key, line, notes, (), boxes, inner, telling.turn)


def _each(
    telling: Telling, node: FlowNode, block: Block, boxes: int
) -> tuple[tuple[NumberedStep, ...], tuple[NumberedStep, ...]]:
    """The steps of a ``for each``: told once where they are alike for every value.

    Then what to write down is after them, for one value after the other, as it is done.
    """
    shown = [one for one in node.inner if one.kind != "end"]
    values = [value.name.text for value in block.values if value.name is not None]
    count = len(shown) // len(values) if values else 0
    if not count or count * len(values) != len(shown):
        return _body(telling, shown, boxes), ()
    turns = [shown[i : i + count] for i in range(0, len(shown), count)]
    alike = [
        _body(replace(telling, turn=_meant(turn, block)), turn, boxes * len(values))
        for turn in turns
    ]
    texts = [[(told.text, told.notes) for one in body for told in one.every()] for body in alike]
    once = not telling.apart and all(text == texts[0] for text in texts)
    each = replace(telling, apart=telling.apart or once)
    one_by_one = tuple(
        replace(
            _made(
                telling,
                turn[0],
                phrase("Write down for " if once else "For ", Words(spaced(value)), ":"),
                0,
                _body(each, turn, boxes),
            ),
            number="",
        )
        for value, turn in zip(values, turns, strict=True)
    )
    if not once:
        return one_by_one, ()
    return alike[0], _to_write(each, one_by_one)


def _to_write(telling: Telling, steps: tuple[NumberedStep, ...]) -> tuple[NumberedStep, ...]:
    """The blanks of steps, each step in a few words."""
    made: list[NumberedStep] = []
    for told in steps:
        inner = _to_write(telling, told.inner)
        if told.blanks or inner:
            text = (
                told.text if told.inner else in_short(telling, telling.plan.flow.nodes[told.node])
            )
            made.append(replace(told, text=text, notes=(), boxes=0, inner=inner))
    return tuple(made)


def _meant(turn: list[FlowNode], block: Block) -> str:
    """The plan's name of the thing that a turn of a ``for each`` is for."""
    assert block.variable is not None
    return _named(turn, block.variable.text)


def _named(nodes: list[FlowNode], name: str) -> str:
    """The plan's name of what steps call so; what they follow may have a name of its own for it."""
    for node in nodes:
        found = node.names.get(name) or _named(node.inner, name)
        if not found and node.kind == "follow" and isinstance(node.step, Step):
            for item in node.step.using:
                if item.given is not None and item.given.text == name and item.name is not None:
                    found = found or _named(node.inner, item.name.text)
        if found:
            return found
    return ""


# ------------------------------------------------------------------ blocks


def _inside(telling: Telling, node: FlowNode) -> str:
    """``step 5``, ``steps 5 and 6``, ``steps 5 to 8``: what a block holds."""
    inner = [one for one in node.inner if one.kind != "end"]
    unread = [one.number for one in node.procedure.unread_steps]
    if not inner:
        return "what comes next" if node.step.number + 1 in unread else "nothing"
    first, last = telling.numbers[inner[0].id], last_number(telling, inner[-1])
    own = f"{inner[0].step.number}"
    if node.step.number + 1 in unread:  # the block begins with what could not be read
        first = f"{first.removesuffix(own)}{node.step.number + 1}"
    if first == last:
        return f"step {first}"
    near = first.isdigit() and last.isdigit() and int(last) == int(first) + 1
    return f"steps {first} {'and' if near else 'to'} {last}"


def _block(telling: Telling, node: FlowNode, block: Block, following: FlowNode | None) -> Phrase:
    steps = _inside(telling, node)
    if node.kind == "if":
        on = f"go on to step {telling.numbers[following.id]}" if following else "leave it out"
        return phrase("If ", Words(block.condition), f", do {steps}. If not, {on}.")
    if node.kind == "either":
        ways = [one for one in node.inner if one.kind == "way"]
        return phrase(f"Choose one of these {in_words(len(ways))} ways, and do only that:")
    if node.kind == "way":
        return phrase("Way “", Words(block.condition), f"”: do {steps}.")
    if node.kind == "repeat":
        until = phrase("until ", Words(block.condition)) if block.condition else ()
        every = telling.time(block.every, "every") if block.every else ()
        if block.times is None:
            again = phrase(f"Do {steps} again and again, ", *every, " " if every else "")
            over = phrase(f"Do {steps} over and over", ", " if every else "", *every, ".")
            return phrase(again, until, ".") if until else over
        said = phrase(f"Do {steps} ", _times(*block.times), ", " if every else "", *every)
        return phrase(said, ", " if until else "", until, ".")
    values = [(Words(spaced(value.name.text)),) for value in block.values if value.name is not None]
    return phrase(f"Do {steps} for ", joined(values), ", one after the other.")


def _most_rounds(block: Block) -> int:
    """How many boxes to tick a step of a repeat is given: the least, where no most is said."""
    if block.times is None:
        return 1
    low, high = block.times
    return int(low if high == ENDLESS else high)


def _times(low: Fraction, high: Fraction) -> str:
    if high == ENDLESS:
        return f"at least {_times(low, low)}"
    if low == high:
        if low == 1:
            return "once"
        return "twice" if low == 2 else f"{_count(low)} times"
    return f"{_count(low)} to {_count(high)} times"


def _count(number: Fraction) -> str:
    return in_words(int(number)) if number.denominator == 1 else str(float(number))


def _of_the_followed(node: FlowNode) -> tuple[str, ...]:
    """What the head of a followed procedure says besides; it stands where that is followed."""
    inner = next((one for one in node.inner if one.kind != "end"), None)
    return tuple(note.text for note in inner.procedure.notes) if inner is not None else ()


def _follow(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    """What is followed here, by its title; its steps say themselves what they are done to."""
    inner = next((one for one in node.inner if one.kind != "end"), None)
    ours = [
        lot
        for item in step.using
        if item.given is not None
        for lot, made in telling.plan.flow.lots.items()
        if inner is not None and item.name is not None and inner.names.get(item.name.text) == lot
        if made
    ]
    with_what = phrase(", with ", telling.the_all(tuple(ours))) if ours else ()
    return sentence("now comes “", Words(_title(node, step)), "”", with_what)


def _title(node: FlowNode, step: Step) -> str:
    """The title of what a step follows; the name of its file where it has none."""
    assert step.words is not None
    inner = next((one for one in node.inner if one.kind != "end"), None)
    title = inner.procedure.title.text if inner is not None and inner.procedure.title else ""
    return title or spaced(PurePath(step.words.text).stem)


def titles_followed(telling: Telling) -> dict[str, str]:
    """The titles of the procedures that a plan follows, by the printed number of the step."""
    return {
        telling.numbers[node.id]: _title(node, node.step)
        for node in telling.plan.flow.nodes
        if node.kind == "follow" and isinstance(node.step, Step) and node.id in telling.numbers
    }


# ------------------------------------------------------------------ blanks


_IN_UNITS = ("temperature", "mass", "volume")


def _planned(telling: Telling, asked: Asked) -> str:
    """What the procedure says where a blank is, in the units of the paper."""
    if any(mark.isdigit() for mark in asked.text) and asked.kind in _IN_UNITS:
        low, high = asked.low, asked.high
        if low is None or high is None:
            return ""
        if asked.kind == "temperature":
            return telling.voice.heat(low, high)
        return telling.voice.amount(asked.kind, low, high)
    if asked.kind == "choice" or not asked.text:
        return ""
    return f"“{asked.text}”" if asked.kind == "words" else asked.text


def _blanks(telling: Telling, node: FlowNode) -> tuple[Blank, ...]:
    """What is worth writing down on the day: what the record of a batch asks, in its words."""
    moments = telling.moments.get(node.id)
    units = {
        "temperature": telling.voice.heat_unit,
        "mass": telling.voice.mass_unit,
        "volume": telling.voice.volume_unit,
    }
    found: list[Blank] = []
    for asked in blanks_of(node, moments[0] if moments else None):
        what = " or ".join(asked.choices) if asked.choices else asked.name
        if asked.name:
            what = telling.in_full(node.names.get(asked.name, asked.name), what)
        what = spaced(what)
        label = f"{asked.word} {what}" if asked.name else asked.word
        if asked.choices:
            label = f"{asked.word}, {what}"
        planned = _planned(telling, asked)
        # What is written down is in the unit of its plan: gallons beside gallons.
        unit = (unit_of(planned) or units[asked.kind]) if asked.kind in units else ""
        found.append(Blank(label, unit, planned=planned))
    if takes_time(node):
        found += [Blank("begun"), Blank("ended")]
    if found:
        found.append(Blank(SEEN, wide=True))
    return tuple(found)
