"""What must not meet, where one of the two is used and never declared.

That a name is not declared is told anyway; what it would do in the bath cannot wait until it is.
Looked at only where there is such a name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Protocol

from procedure.facts.handling import called
from procedure.facts.study import Study
from procedure.findings import Named, Says, Word, plainly_said, say
from procedure.flow import FlowNode, Slip
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found
from procedure.trace import Moment, PotState
from procedure.vocabulary import vocabulary

Key = tuple[str, str]


class WhatComesOfIt(Protocol):
    """What comes of two things, as ``meetings`` has it from the data file."""

    @property
    def what(self) -> Says:
        """What happens."""
        ...

    @property
    def level(self) -> str:
        """How bad it is: error, warning or note."""
        ...

    @property
    def remedy(self) -> Says:
        """What to do instead."""
        ...

    @property
    def source(self) -> str:
        """Where it is published."""
        ...

    @property
    def kills(self) -> bool:
        """Whether it may kill."""
        ...


WorstOf = Callable[[frozenset[Key], frozenset[Key]], WhatComesOfIt | None]


class _Other(NamedTuple):
    """Something that is there: how it is called, and its names in the data file."""

    named: Named | Word
    keys: frozenset[Key]


def meetings_undeclared(
    study: Study, known: Mapping[str, frozenset[Key]], worst_of: WorstOf
) -> Iterator[Found]:
    """Errors of materials that no section declares with what is there, or was there before.

    ``worst_of`` gives the worst that comes of two things, by what each is called.
    """
    names = _by_node(study)
    left: dict[str, dict[str, _Other]] = {}
    held: dict[str, PotState] = {}  # as each pot was left, whether a step says it touches it or not
    seen: set[int] = set()
    for moment in study.moments if names else ():
        node = moment.node
        if node.id in seen:
            continue
        seen.add(node.id)
        pots = node.cleaned or _pots_of(study, moment)
        mine = names.get(node.id, {})
        there = _there(study, moment, pots, held, known) if mine else {}
        for pot in pots:
            there |= left.get(pot, {})
        for name, (slip, keys) in mine.items():
            found = _worst(keys, there, worst_of)
            there[name] = _Other(Word(_called(slip)), keys)
            if found is not None:
                yield _told(slip, found)
        if not mine and node.materials:
            yield from _declared_after(study, moment, there, known, worst_of)
        for pot in pots:
            if node.cleaned:
                left.pop(pot, None)
            for name in mine:
                left.setdefault(pot, {})[name] = there[name]
        held |= moment.after.pots


def _by_node(study: Study) -> dict[int, dict[str, tuple[Slip, frozenset[Key]]]]:
    """By the step that uses them, the undeclared names that the vocabulary knows as materials."""
    found: dict[int, dict[str, tuple[Slip, frozenset[Key]]]] = {}
    for slip in study.slips("not declared"):
        entry = vocabulary().material(slip.name.text.replace("-", " "))
        if slip.node is None or entry is None:
            continue
        keys = frozenset(
            (("material", entry.name), *(("role", role) for role in entry.words("role")))
        )
        found.setdefault(slip.node.id, {})[entry.name] = slip, keys
    return found


def _pots_of(study: Study, moment: Moment) -> tuple[str, ...]:
    """The pot that a step happens in; where no bath could be found, each pot that it names."""
    node, step = moment.node, moment.step
    bath = moment.bath_after or moment.bath_before
    pots = [node.pot, bath.pot if bath is not None else ""]
    if not any(pots):
        items = (step.within, step.to, *step.into)
        said = [item.name.text for item in items if item is not None and item.name is not None]
        pots = [node.names.get(name, name) for name in said]
    return tuple(dict.fromkeys(pot for pot in pots if pot in study.flow.pots))


def _there(
    study: Study,
    moment: Moment,
    pots: tuple[str, ...],
    held: Mapping[str, PotState],
    known: Mapping[str, frozenset[Key]],
) -> dict[str, _Other]:
    """What is declared and there: materials, also in a pot not cleaned, its metal, and fibre."""
    bath = moment.bath_after or moment.bath_before
    things = [thing for thing, _ in (*moment.node.materials, *moment.node.moved)]
    things += list(bath.contents) if bath is not None else []
    for pot in pots:
        things += [one.thing for one in held[pot].residues.values()] if pot in held else []
    found = {
        thing: _Other(called(study, thing), known[thing])
        for thing in dict.fromkeys(things)
        if thing in known
    }
    for lot in (*moment.node.lots, *moment.node.present):
        state = moment.before.lots.get(lot)
        kinds = [one.facts["class"] for one in state.fibres] if state is not None else []
        found[lot] = _Other(study.thing(lot), frozenset(("fibre class", kind) for kind in kinds))
    for pot in pots:
        metal = study.flow.pots[pot][0].metal if pot in study.flow.pots else None
        if metal is not None:
            found[pot] = _Other(study.thing(pot), frozenset((("pot", metal.name),)))
    return found


def _worst(
    keys: frozenset[Key], there: Mapping[str, _Other], worst_of: WorstOf
) -> tuple[WhatComesOfIt, _Other] | None:
    found: tuple[WhatComesOfIt, _Other] | None = None
    for other in there.values():
        row = worst_of(keys, other.keys)
        if row is None or row.level != "error":
            continue
        if row.kills:
            return row, other
        found = found or (row, other)
    return found


def _called(slip: Slip) -> str:
    return slip.name.text.replace("-", " ")


def _told(slip: Slip, found: tuple[WhatComesOfIt, _Other]) -> Found:
    return _found(slip.node, slip, _called(slip), *found)


def _declared_after(
    study: Study,
    moment: Moment,
    left: Mapping[str, _Other],
    known: Mapping[str, frozenset[Key]],
    worst_of: WorstOf,
) -> Iterator[Found]:
    """What is declared and comes to something undeclared that was put in before."""
    for thing, item in moment.node.materials:
        found = _worst(known[thing], left, worst_of) if thing in known else None
        if found is not None:
            yield _found(moment.node, item, called(study, thing), *found)
            return


def _found(
    node: FlowNode | None, at: object, one: Named | str, row: WhatComesOfIt, two: _Other
) -> Found:
    assert node is not None
    place = at.name.place if isinstance(at, Slip) else node.step.place
    return Found(
        node.procedure,
        place,
        say(
            "{one} and {other} meet: {what}.",
            one=one,
            other=two.named,
            what=plainly_said(row.what),
        ),
        say("{Remedy}.", remedy=plainly_said(row.remedy)),
        node.calls,
        level=row.level,
        source=row.source,
        firm=row.kills,
    )
