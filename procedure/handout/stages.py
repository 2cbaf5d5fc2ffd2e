"""The stages of a plan: parts of its work under headings, as its writer or its verbs part it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from procedure.facts.handling import declared
from procedure.flow import FlowNode
from procedure.handout.numbered_steps import NumberedStep
from procedure.handout.phrasebook import Telling
from procedure.language.draft_comments import is_of_a_draft
from procedure.model import Step
from procedure.paper.pieces import Phrase, Words, spaced
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple

# A comment of so many letters is a heading; of a longer one the first sentence is.
LONGEST = 80
# “Moss: half of the gold goes into the vat” has a name of at most so many letters, and a remark.
LONGEST_NAME = 30
# A heading names at most so many baths.
MOST_NAMES = 3
# Work that goes to and fro between baths has one heading where it has no more steps than these
# (the project's choice: as many as go on half a printed page).
LONGEST_STAGE = 16
# What is made ready first has its own heading in a longer stage, where it is so many steps.
LEAST_READY = 4
# What a bath without a dyestuff is made for, by what is in it.
_PREPARING = frozenset(("mordant", "tannin"))


class Stage(NamedTuple):
    """A heading (empty for none), a remark under it, and its steps."""

    title: Phrase
    remark: Phrase
    steps: tuple[NumberedStep, ...]


def stages(telling: Telling, told: tuple[NumberedStep, ...]) -> tuple[Stage, ...]:
    """The steps of a plan under their headings, in order.

    The writer's comments between the steps are the headings, but for those of a draft from prose;
    where there are none, each mordant, each bath of colour and the finish have one.
    """
    written = _comments(telling, told)
    named = written or _by_verbs(telling, told)
    if len(told) <= 1 or not named:
        return (Stage((), (), told),)
    starts = sorted(named)
    made = [Stage((), (), told[: starts[0]])] if starts[0] else []
    for first, last in zip(starts, [*starts[1:], len(told)], strict=True):
        title, remark = named[first]
        made.append(Stage(title, remark, told[first:last]))
    return tuple(made)


# ------------------------------------------------------------ the writer's comments


def _comments(telling: Telling, told: tuple[NumberedStep, ...]) -> dict[int, tuple[Phrase, Phrase]]:
    """Headings by the place of the step that they are above."""
    lines = telling.plan.text.split("\n")
    made: dict[int, tuple[Phrase, Phrase]] = {}
    for place, step in enumerate(told):
        if step.key != telling.plan.model.key:
            continue
        found: list[str] = []
        at = step.line - 2
        while 0 <= at < len(lines) and (not lines[at].strip() or lines[at].lstrip()[0] == "#"):
            comment = lines[at].strip().lstrip("#").strip()
            if not is_of_a_draft(comment):
                found.append(comment)
            at -= 1
        text = " ".join(line for line in reversed(found) if line).rstrip(".")
        if text:
            made[place] = _heading(text)
    return made


def _heading(text: str) -> tuple[Phrase, Phrase]:
    name, colon, more = text.partition(": ")
    if colon and len(name) <= LONGEST_NAME and ". " not in name:
        return (Words(name),), (Words(f"{more[:1].upper()}{more[1:]}."),)
    if len(text) <= LONGEST:
        return (Words(text),), ()
    first, stop, rest = text.partition(". ")
    if stop and len(first) <= LONGEST:
        return (Words(first),), (Words(f"{rest}."),)
    return (), (Words(f"{text}."),)


# ------------------------------------------------------------ the verbs


def _by_verbs(telling: Telling, told: tuple[NumberedStep, ...]) -> dict[int, tuple[Phrase, Phrase]]:
    """A heading where the work turns to another bath of mordant or colour, and at the finish.

    Where the work goes to and fro between baths, they have one heading with all their names;
    where that would be very long, each turn to another bath has its own all the same.
    """
    mains = [(place, names) for place, step in enumerate(told) if (names := _names(telling, step))]
    parts: list[_Part] = []
    for place, names in mains:
        if parts and set(names) <= set(parts[-1].names):
            parts[-1].last = place
            continue
        start = _start(telling, told, parts[-1].last + 1, place) if parts else 0
        parts.append(_Part(start, place, place, list(names)))
    if not parts:
        return {}
    finish = _finish(telling, told, parts[-1])
    ends = [*(part.start for part in parts[1:]), finish]
    spans = [told[part.start : end] for part, end in zip(parts, ends, strict=True)]
    made: dict[int, tuple[Phrase, Phrase]] = {}
    for one in _together(telling, parts, spans):
        made[one.start] = (_title(one.names), ())
    opening = parts[0]
    if len(spans[0]) > LONGEST_STAGE and opening.first >= LEAST_READY:
        made[opening.first] = made[0]
        made[0] = (("Getting ready",), ())
    if finish < len(told):
        made[finish] = (("Finish",), ())
    return made if len(made) > 1 else {}


@dataclass(slots=True)
class _Part:
    """A part of the work: the places of its first step, its first main one and its last main
    one, and its names."""

    start: int
    first: int
    last: int
    names: list[str]


def _together(
    telling: Telling, parts: list[_Part], spans: list[tuple[NumberedStep, ...]]
) -> Iterator[_Part]:
    """The parts; those as one between which the work goes to and fro."""
    held = [_works_on(telling, span) for span in spans]
    mains = [_works_on(telling, span, mains=True) for span in spans]
    bound: set[int] = set()  # each such part goes with the one before it
    for place, things in enumerate(held):
        others = [
            other
            for thing in things.keys() - mains[place].keys()
            for other in [number for number, main in enumerate(mains) if thing in main][-1:]
            if other > place or things[thing]  # not what is only strained before it goes
        ]
        for other in others:
            bound.update(range(min(place, other) + 1, max(place, other) + 1))
    groups: list[list[int]] = []
    for place in range(len(parts)):
        if groups and place in bound:
            groups[-1].append(place)
        else:
            groups.append([place])
    for group in groups:
        steps = sum(1 for place in group for told in spans[place] for _ in told.every())
        if len(group) > 1 and steps > LONGEST_STAGE:
            yield from (parts[place] for place in group)
            continue
        whole = parts[group[0]]
        for place in group[1:]:
            whole.names += [name for name in parts[place].names if name not in whole.names]
        yield whole


def _works_on(
    telling: Telling, span: tuple[NumberedStep, ...], mains: bool = False
) -> dict[str, bool]:
    """The baths and the lots that some steps work on, but for pouring away and cleaning.

    With each goes whether there is fibre in it, which is so of a lot.
    """
    found: dict[str, bool] = {}
    for told in span:
        for one in told.every():
            node = telling.plan.flow.nodes[one.node]
            if not isinstance(node.step, Step) or node.does.empties or node.cleaned:
                continue
            if node.does.splits or node.does.joins or (mains and not _name(telling, node)):
                continue
            if node.bath:
                fibre = bool(node.lots or node.present)
                found[node.bath] = fibre or found.get(node.bath, False)
            if mains or not node.bath:
                found.update(dict.fromkeys(node.lots, True))
    return found


def _title(names: list[str]) -> Phrase:
    rest = len(names) - MOST_NAMES
    said = listed([*names[:MOST_NAMES], *((f"{rest} more",) if rest > 0 else ())])
    return (Words(said[:1].upper() + said[1:]),)


def _names(telling: Telling, told: NumberedStep) -> tuple[str, ...]:
    """What a step of mordanting or colouring is a stage of; empty for any other step."""
    nodes = (telling.plan.flow.nodes[one.node] for one in told.every())
    return tuple(dict.fromkeys(name for node in nodes if (name := _name(telling, node))))


def _name(telling: Telling, node: FlowNode) -> str:
    step = node.step
    if not isinstance(step, Step) or step.does.splits or step.does.joins or step.verb is None:
        return ""
    if not step.does.main:
        return _lies_in(telling, node)
    if not node.lots:
        return ""
    if step.does.prepares_fibre:
        return "mordant"
    if not node.bath:
        return ""
    name = spaced(telling.plan.study.called(node.bath))
    lay_there = all(not one.entering for one in telling.moments.get(node.id, ()))
    return (_lies_in(telling, node) or name) if lay_there else name


def _lies_in(telling: Telling, node: FlowNode) -> str:
    """What a bath is a stage of that fibre lies in without a verb that says what for: that of a
    mordant, or by its name where it has a dyestuff in it or the fibre has its colour."""
    lots = (*node.lots, *node.present)
    if not node.bath or not lots or node.does.own_water or not node.does.gives_colour:
        return ""
    for moment in telling.moments.get(node.id, ()):
        bath = moment.after.baths.get(node.bath)
        found = [declared(telling.plan.study, thing) for thing in bath.contents] if bath else []
        roles = {role for made in found if made is not None for role in made.roles}
        states = [state for lot in lots if (state := moment.after.lots.get(lot)) is not None]
        coloured = any(state.dyes for state in states)
        if "dyestuff" in roles or (roles & _PREPARING and coloured):
            return spaced(telling.plan.study.called(node.bath))
        if roles & _PREPARING:
            return "mordant"
    return ""


def _start(telling: Telling, told: tuple[NumberedStep, ...], first: int, last: int) -> int:
    """Where a stage begins: at the first step after the main one before that makes ready.

    Where none does, at the steps on its bath just before its own main one.
    """
    for place in range(first, last):
        node = telling.plan.flow.nodes[told[place].node]
        does = node.does
        if does.prepares or does.readies or does.wets or does.splits or does.makes_bath:
            return place
    flow = telling.plan.flow
    bath = flow.nodes[told[last].node].bath
    while bath and last > first and flow.nodes[told[last - 1].node].bath == bath:
        last -= 1
    return last


def _finish(telling: Telling, told: tuple[NumberedStep, ...], part: _Part) -> int:
    """The first step after the last part at which fibre is washed for good, or lots are joined;
    where none is, the first after a bath of colour at which it is rinsed."""
    rinsed = len(told)
    for place in range(part.last + 1, len(told)):
        every = [telling.plan.flow.nodes[one.node].does for one in told[place].every()]
        if any(does.washes or does.joins for does in every):
            return place
        if part.names != ["mordant"] and any(does.rinses for does in every):
            rinsed = min(rinsed, place)
    return rinsed
