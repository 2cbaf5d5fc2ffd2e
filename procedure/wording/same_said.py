"""Which findings say the same of different things, so that a reader need be told only once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterator

from procedure.findings import Finding, Named, Says, Several, Value, Word

Thing = Named | Word
Alike = list[tuple[Finding, Thing]]
# What is said behind the sentence of a finding that is about several things.
OF_OTHERS = " The same is true of {others}."
# Stands for the thing in what two findings have in common.
_ANY = Named("any", "")


def by_thing(
    findings: list[Finding], place: Callable[[Finding], Hashable]
) -> Iterator[tuple[Finding, Alike]]:
    """Each finding with the others that say just the same of another thing, and that thing.

    Only those of one ``place`` are held together. A finding with an edit stays by itself: each
    is made where it is.
    """
    said: dict[Hashable, dict[Thing, Alike]] = {}
    places = [place(one) for one in findings]
    often = Counter(places)
    for one, where in zip(findings, places, strict=True):
        for thing in _things(one) if often[where] > 1 else ():
            of_things = said.setdefault((where, *_but_for(one, thing)), {})
            of_things.setdefault(thing, []).append((one, thing))
    told: set[int] = set()
    for one, where in zip(findings, places, strict=True):
        if id(one) in told:
            continue
        if often[where] < 2:
            yield one, []
            continue
        each = [_others(said[where, *_but_for(one, thing)], thing, told) for thing in _things(one)]
        alike = max(each, key=len, default=[])
        told.update([id(other) for other, _ in alike])
        yield one, alike


def all_of(finding: Finding, thing: Thing) -> list[Thing]:
    """The thing that a finding says something of, and the others of which it says the same."""
    others = () if finding.fact is None else finding.fact.sentence.values[-1:]
    more = [value for name, value in others if name == "others" and isinstance(value, Several)]
    return [thing, *(one for each in more for one in each.values if isinstance(one, Named | Word))]


def how_many(finding: Finding) -> int:
    """Of how many things a finding says the same."""
    return len(all_of(finding, _ANY))


def _others(said: dict[Thing, Alike], thing: Thing, told: set[int]) -> Alike:
    """What says the same of other things, and is not told of yet."""
    if len(said) == 1:
        return []
    others = [pair for named, pairs in said.items() if named != thing for pair in pairs]
    return [pair for pair in others if id(pair[0]) not in told]


def _things(finding: Finding) -> list[Thing]:
    """The things that a finding is about, each once.

    A word of the writer's is one where its sentence begins with it in quotation marks.
    """
    if finding.fact is None or finding.edit is not None:
        return []
    template, values = finding.fact.sentence.template, finding.fact.sentence.values
    found: list[Thing] = []
    for name, value in values:
        quoted = isinstance(value, Word) and template.startswith(f"“{{{name}}}”")
        if isinstance(value, Named) or (quoted and isinstance(value, Word)):
            found.append(value)
    return list(dict.fromkeys(found))


def _but_for(finding: Finding, thing: Thing) -> tuple[object, ...]:
    """All that a finding says, without the name of a thing."""
    fact = finding.fact
    if fact is None:
        return (finding.sentence,)
    template, values = fact.sentence
    if template.endswith(OF_OTHERS):
        template, values = template.removesuffix(OF_OTHERS), values[:-1]
    masked = _without(Says(template, values), thing), _without(fact.remedy, thing)
    return (*masked, finding.source, type(thing))


def _without(value: Value, thing: Thing) -> Value:
    name = thing.text if isinstance(thing, Word) else thing.name
    if value == thing or (isinstance(value, Word) and value.text == name):
        return _ANY
    if isinstance(value, Says):
        return Says(value.template, tuple((key, _without(one, thing)) for key, one in value.values))
    if isinstance(value, Several):
        return value._replace(values=tuple(_without(one, thing) for one in value.values))
    return value
