"""The stages of a plan: parts of its work under headings, as its writer or its verbs part it."""

from __future__ import annotations

from procedure.handout.phrasebook import Telling
from procedure.handout.steps import Told
from procedure.model import Step
from procedure.paper.pieces import Phrase, Words, spaced
from procedure.quantity.record import NamedTuple

# A comment of so many letters is a heading; of a longer one the first sentence is.
LONGEST = 80
# “Moss: half of the gold goes into the vat” has a name of at most so many letters, and a remark.
LONGEST_NAME = 30


class Stage(NamedTuple):
    """A heading (empty for none), a remark under it, and its steps."""

    title: Phrase
    remark: Phrase
    steps: tuple[Told, ...]


def stages(telling: Telling, told: tuple[Told, ...]) -> tuple[Stage, ...]:
    """The steps of a plan under their headings, in order.

    The writer's comments between the steps are the headings; where there are none, each
    mordant, each bath of colour and the finish have one.
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


def _comments(telling: Telling, told: tuple[Told, ...]) -> dict[int, tuple[Phrase, Phrase]]:
    """Headings by the place of the step that they are above."""
    lines = telling.plan.text.split("\n")
    made: dict[int, tuple[Phrase, Phrase]] = {}
    for place, step in enumerate(told):
        if step.key != telling.plan.model.key:
            continue
        found: list[str] = []
        at = step.line - 2
        while 0 <= at < len(lines) and (not lines[at].strip() or lines[at].lstrip()[0] == "#"):
            found.append(lines[at].strip().lstrip("#").strip())
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


def _by_verbs(telling: Telling, told: tuple[Told, ...]) -> dict[int, tuple[Phrase, Phrase]]:
    """A heading where the work turns to another bath of mordant or colour, and at the finish."""
    titles = [_title(telling, step) for step in told]
    mains = [place for place, title in enumerate(titles) if title]
    made: dict[int, tuple[Phrase, Phrase]] = {}
    before = -1
    for place in mains:
        title = titles[place]
        start = _start(telling, told, before + 1, place)
        if before < 0 or title != titles[before]:
            made[0 if before < 0 else start] = (title, ())
        before = place
    finish = _finish(telling, told, before)
    if before >= 0 and finish < len(told):
        made[finish] = (("Finish",), ())
    return made if len(made) > 1 else {}


def _title(telling: Telling, told: Told) -> Phrase:
    """What a step of mordanting or colouring is a stage of; empty for any other step."""
    for one in told.every():
        node = telling.plan.flow.nodes[one.node]
        step = node.step
        if not isinstance(step, Step) or not step.does.main or not node.lots:
            continue
        if step.does.splits or step.does.joins or step.verb is None:
            continue
        if step.does.prepares_fibre:
            return ("Mordant",)
        if node.bath:
            name = spaced(telling.plan.study.called(node.bath))
            return (Words(name[:1].upper() + name[1:]),)
    return ()


def _start(telling: Telling, told: tuple[Told, ...], first: int, last: int) -> int:
    """Where a stage begins: at the first step after the main one before that makes ready."""
    for place in range(first, last):
        node = telling.plan.flow.nodes[told[place].node]
        does = node.does
        if does.prepares or does.readies or does.wets or does.splits or does.makes_bath:
            return place
    return last


def _finish(telling: Telling, told: tuple[Told, ...], last: int) -> int:
    """The first step after the last bath of colour at which fibre is washed for good."""
    for place in range(last + 1, len(told)):
        does = telling.plan.flow.nodes[told[place].node].does
        if does.washes or does.joins:
            return place
    return len(told)
