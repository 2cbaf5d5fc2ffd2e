"""What free words say is done and used: with their places, and the things that harm in them."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.flow import Call
from procedure.model import Material, Place, Procedure
from procedure.model.harm import plants_in, plants_named
from procedure.model.substances import grave, put_in, substances_named
from procedure.model.types import Block, Name, Step
from procedure.model.worked_plants import worked
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.thresholds import threshold


class WordsAtStep(NamedTuple):
    """Free words with their place; ``here`` are the materials that are there at that step.

    ``done`` holds where the words are what is done, and not a note for the reader; ``scalds``
    where they are beside a bath that scalds; ``at_head`` of a note to the whole plan.
    """

    text: str
    procedure: Procedure
    place: Place
    calls: tuple[Call, ...] = ()
    done: bool = False
    here: frozenset[str] = frozenset()
    scalds: bool = False
    at_head: bool = False


def said(study: Study) -> list[WordsAtStep]:
    """All free words of a plan that are no declaration of a material, with their places."""
    return study.once(_said)


def _said(study: Study) -> list[WordsAtStep]:
    found: list[WordsAtStep] = []
    for moment in study.moments:
        node, step = moment.node, moment.step
        if step.words is not None:
            found.append(
                WordsAtStep(step.words.text, node.procedure, step.words.place, node.calls, True)
            )
        until = step.until.words if step.until is not None else None
        if until is not None:
            found.append(WordsAtStep(until.text, node.procedure, until.place, node.calls, True))
        if step.note:
            things = [thing for thing, _ in (*node.materials, *node.moved)]
            bath = moment.bath_after or moment.bath_before
            here = frozenset((*things, *(bath.contents if bath is not None else ())))
            hot = moment.hottest is not None and moment.hottest >= threshold("scalding heat").value
            found.append(
                WordsAtStep(step.note, node.procedure, step.place, node.calls, False, here, hot)
            )
    for made in study.procedures:
        found += [
            WordsAtStep(block.condition, made, block.place, (), True)
            for block in _blocks(made.body)
            if block.condition
        ]
        found += [WordsAtStep(note.text, made, note.place, at_head=True) for note in made.notes]
        for thing in made.lots.values():
            found += [WordsAtStep(text, made, thing.name.place) for text in thing.words]
        for pot in made.equipment.values():
            found += [WordsAtStep(text, made, pot.name.place) for text in pot.words]
    return list(dict.fromkeys(found))


def _blocks(body: tuple[Step | Block, ...]) -> Iterator[Block]:
    """The blocks of some steps, with those that are in them."""
    for one in body:
        if isinstance(one, Block):
            yield one
            yield from _blocks(one.body)


def plants_meant(text: str, done: bool) -> tuple[Entry, ...]:
    """The plants that harm and that words have in the work; those that only upset or irritate
    where they are what is done, and not a note, and somebody works them there."""
    grave_ones = [plant for plant, _ in plants_named(text) if plant.facts["level"] != "harmful"]
    return tuple(dict.fromkeys((*grave_ones, *(worked(text) if done else ()))))


def told_in_words(study: Study) -> tuple[Material, ...]:
    """What harms and is in free words alone, as if it were declared: plants that poison, and
    salts, acids, lyes and bleaches that are put in. A line that could not be read is in free
    words too, and nobody knows whether what it names is put in: it counts.

    Papers warn of these as of what is declared; rules say that each is to be declared.
    """
    return tuple(made for made, _ in study.once(_told_in_words))


def told_in_steps(study: Study) -> tuple[Material, ...]:
    """The same, of what is in the words of what is done or of a line that could not be read."""
    return tuple(made for made, done in study.once(_told_in_words) if done)


def _told_in_words(study: Study) -> tuple[tuple[Material, bool], ...]:
    """Each thing that harms and is in free words alone, and whether those are of a step."""
    declared = [made for made, _ in study.flow.materials.values()]
    known = {plant.name for made in declared for plant in plants_in(made)}
    known |= {made.entry.name for made in declared if made.entry is not None}
    every = [(one.text, one.place, put_in(one.text), one.done) for one in said(study)]
    for made_in in study.procedures:
        for words in made_in.unread_words:
            maybe = tuple(thing for thing, _ in substances_named(words.text) if grave(thing))
            every.append((words.text, words.place, maybe, True))
    for slip in study.slips("not declared", "wrong kind"):
        text = slip.name.text
        if not slip.procedure.declared(text):  # what is declared is told of as what it is
            maybe = tuple(thing for thing, _ in substances_named(text) if grave(thing))
            every.append((text, slip.name.place, maybe, True))
    found: dict[str, Material] = {}
    in_steps: set[str] = set()
    for text, place, substances, done in every:
        for thing in (*plants_meant(text, done), *substances):
            if thing.name not in known:
                found.setdefault(thing.name, _as_if_declared(thing, place))
                in_steps |= {thing.name} if done else set()
    return tuple((made, name in in_steps) for name, made in found.items())


def _as_if_declared(thing: Entry, place: Place) -> Material:
    entry = vocabulary().material(thing.name)
    return Material(
        name=Name(thing.name, place),
        entry=entry or thing,
        roles=tuple((entry or thing).words("role")),
        state="",
        gathered="",
        strength=None,
        strength_by="",
        words=(),
        line=place.line,
    )
