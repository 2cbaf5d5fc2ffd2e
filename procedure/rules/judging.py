"""What rules found, as findings: with its place, its related places, and its words."""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping
from types import MappingProxyType

from procedure.facts.study import Study
from procedure.findings import Fact, Finding, Related, Says, plainly_said
from procedure.flow import Call
from procedure.model import Place, Procedure
from procedure.rules.rule import Found, Rule
from procedure.wording import Reader, of_units, said

Calls = Mapping[str, tuple[Call, ...]]
NO_CALLS: Calls = MappingProxyType({})


def found_by(
    rules: Iterable[Rule],
    study: Study,
    readers: dict[str, Reader] | None = None,
    followed: Calls | None = None,
) -> list[Finding]:
    """What rules find in a study; of what is found twice, the first.

    ``readers`` are those of the study's procedures, by key, and are added to: they are
    the same for all rules. ``followed`` are the steps that follow each, as the flow has them.
    """
    found: dict[tuple[object, ...], Finding] = {}
    readers = {} if readers is None else readers
    followed = study.flow.called if followed is None else followed
    for rule in rules:
        for one in rule.check(study):
            reader = readers.get(one.procedure.key)
            if reader is None:
                reader = readers[one.procedure.key] = reader_of(one.procedure)
            finding = finding_of(rule, one, reader, followed)
            key = (finding.rule, finding.key, finding.line, finding.column, finding.sentence)
            found.setdefault(key, finding)
    return list(found.values())


def timed(rules: Iterable[Rule], study: Study) -> dict[str, float]:
    """The seconds that each rule takes on a study, by its name, the slowest first.

    What several rules ask for is made for the first of them, and counted there.
    """
    taken: dict[str, float] = {}
    for rule in rules:
        start = time.perf_counter()
        for _ in rule.check(study):
            pass
        taken[rule.name] = time.perf_counter() - start
    return dict(sorted(taken.items(), key=lambda pair: -pair[1]))


def reader_of(procedure: Procedure) -> Reader:
    """The reader who has the units in which a procedure is written."""
    written = (one.quantity for one in procedure.written)
    each = (one if one.each is None else one.each for one in written)  # 4 skeins of 25 g
    return of_units(one.unit for one in each if one.unit is not None)


def finding_of(
    rule: Rule, found: Found, reader: Reader | None = None, followed: Calls = NO_CALLS
) -> Finding:
    """What a rule found as a finding, in words for a reader: by itself for its own file's.

    ``followed`` are the steps that follow a procedure, by the key of the procedure.
    """
    reader = reader or reader_of(found.procedure)
    fact = Fact(rule.name, plainly_said(found.sentence), plainly_said(found.remedy))
    return Finding(
        rule=rule.name,
        level=found.level or rule.level,
        file=found.procedure.file,
        line=found.place.line,
        column=found.place.column,
        to=found.place.to,
        sentence=said(fact.sentence, reader),
        remedy=said(fact.remedy, reader),
        source=found.source or rule.source,
        related=tuple(_related(found, reader, followed)),
        edit=found.edit,
        fact=fact,
        family=rule.family,
        key=found.procedure.key,
        firm=found.firm,
    )


def _related(found: Found, reader: Reader, followed: Calls) -> Iterable[Related]:
    for pointer in found.related:
        yield _pointing(pointer.procedure, pointer.place, pointer.says, reader)
    for call in reversed(found.calls or followed.get(found.procedure.key, ())):
        where = "That procedure is followed from here."
        yield _pointing(call.procedure, call.step.place, where, reader)
    workshop = found.procedure.workshop
    for name, declared in found.procedure.brought.items():
        thing = found.procedure.declared(name)
        if workshop is not None and thing is not None and thing.name.place == found.place:
            where = "The workshop declares it here, for all its procedures."
            yield _related_place(workshop.file, "", Place(*declared), where, reader)


def _pointing(procedure: Procedure, place: Place, words: Says | str, reader: Reader) -> Related:
    return _related_place(procedure.file, procedure.key, place, words, reader)


def _related_place(file: str, key: str, place: Place, words: Says | str, reader: Reader) -> Related:
    says = plainly_said(words)
    return Related(file, *place, said(says, reader), says, key)
