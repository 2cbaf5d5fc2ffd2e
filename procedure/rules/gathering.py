"""Like findings at one place, told once: six lots that go dry into one bath are one mistake.

Findings that differ in nothing but the one thing that they name become one, which names the
others behind its sentence. Its fact has them all, and so have the forms for other programs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable

from procedure.facts.study import Study
from procedure.findings import Fact, Finding, Says, Several
from procedure.rules.judging import reader_of
from procedure.wording import said
from procedure.wording.same_said import OF_OTHERS, Alike, by_thing


def gathered(study: Study, findings: list[Finding]) -> list[Finding]:
    """The findings, with those that are alike at one place as one, where the first of them is."""
    if max(Counter(map(_place, findings)).values(), default=1) == 1:
        return findings
    return [
        _as_one(study, one, alike) if alike else one for one, alike in by_thing(findings, _place)
    ]


def _place(one: Finding) -> Hashable:
    return one.key, one.rule, one.line, one.column, one.to, one.level, one.allowed


def _as_one(study: Study, first: Finding, alike: Alike) -> Finding:
    """The first finding, which tells of what else the same is true."""
    assert first.fact is not None
    sentence = Says(
        first.fact.sentence.template + OF_OTHERS,
        (*first.fact.sentence.values, ("others", Several(tuple(thing for _, thing in alike)))),
    )
    reader = reader_of(next(one for one in study.procedures if one.key == first.key))
    related = (other for one, _ in alike for other in one.related)
    return first._replace(
        sentence=said(sentence, reader),
        fact=Fact(first.fact.kind, sentence, first.fact.remedy),
        related=tuple(dict.fromkeys((*first.related, *related))),
        firm=first.firm or any(one.firm for one, _ in alike),
    )
