"""Findings that wait until a line can be read: they are most likely no more than its consequences.

A step that nobody can read may be the very one that wets the yarn, empties the pot or uses the
alum. What is found of its lots, baths, pots and materials by rules that ask for such a step is
held back, and the line's own finding says so. What may hurt somebody is never held back.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from procedure.facts.liquor import ancestors
from procedure.facts.study import Study
from procedure.findings import Finding, Named, Related, Says, Value, Word
from procedure.language import Line
from procedure.model import Block, Step
from procedure.wording import said

# The rules that speak where a step is missing.
ASK_FOR_A_STEP = frozenset(
    (
        *("never-used", "bath-left-over", "bath-without-fibre", "pot-not-free", "left-wet"),
        *("fibre-still-in-it", "ends-unrinsed", "mordant-not-rinsed", "entered-dry"),
        *("soaked-too-briefly", "no-mordant", "heat-shock", "bath-still-hot", "vat-not-aired"),
        *("plants-left-loose", "vat-time-unstated", "pot-left-dirty", "used-after-emptied"),
        *("no-tannin", "pot-not-rinsed", "wrong-direction", "plants-taken-out-cold"),
        *("nothing-to-dye-with", "not-in-that-bath"),
    )
)
# Those that speak where a material is missing, which a line among the materials may declare.
ASK_FOR_A_MATERIAL = frozenset(
    ("no-mordant", "no-tannin", "nothing-to-dye-with", "vat-without-alkali", "vat-without-reducer")
)


def without_consequences(study: Study, findings: list[Finding]) -> list[Finding]:
    """The findings but for those that wait for a line; that line's finding says of what."""
    waiting = _unread_names(study, "steps")
    lacking = dict(_lacking(study))
    if not waiting and not lacking:
        return findings
    beside = dict(_beside(study, waiting))
    kept: list[Finding] = []
    held: dict[tuple[str, int], list[Finding]] = {}
    for one in findings:
        names = [*_about(one), *_at_its_line(study, one)]
        about = [name for name in names if (one.key, name) in waiting]
        about += [name for name in names if beside.get((one.key, name), one.line) < one.line]
        undeclared = [lacking[one.key, name] for name in names if (one.key, name) in lacking]
        if one.rule in ASK_FOR_A_MATERIAL and undeclared:
            line = undeclared[0]
        elif one.rule in ASK_FOR_A_STEP and about:
            line = waiting.get((one.key, about[0])) or beside[one.key, about[0]]
        else:
            kept.append(one)
            continue
        held.setdefault((one.key, line), []).append(one)
    return [_told(one, held.get((one.key, one.line), [])) for one in kept]


def _unread_names(study: Study, section: str) -> dict[tuple[str, str], int]:
    """The names in the unread lines of a section, by the key of their text, each with its line."""
    return {
        (key, name): line.first.line
        for key, tree in study.trees.items()
        for one in tree.sections
        if one.name == section
        for line in _unread(one.lines)
        for name in line.names
    }


def _lacking(study: Study) -> Iterator[tuple[tuple[str, str], int]]:
    """The baths, and the fibre, of steps that bring what an unread line among the materials
    may declare, each with that line."""
    unread = _unread_names(study, "materials")
    if not unread:
        return
    baths: dict[str, int] = {}
    for node in study.flow.nodes:
        key = node.procedure.key
        for name in _brought(node.step) if node.bath else ():
            if (line := unread.get((key, name))) is not None:
                baths.setdefault(node.bath, line)
        if node.bath in baths:
            for name in (node.bath, *node.lots, *node.present):
                yield (key, name.rpartition(".")[2]), baths[node.bath]


def _brought(step: Step | Block) -> list[str]:
    """The names of what a step is done to and with."""
    items = (*step.using, *step.objects) if isinstance(step, Step) else ()
    return [one.name.text for one in items if one.name is not None]


def _where(step: Step | Block) -> list[str]:
    """The names of the places of a step, whatever they are."""
    items = (step.within, step.source, *step.into) if isinstance(step, Step) else ()
    return [one.name.text for one in items if one is not None and one.name is not None]


def _beside(
    study: Study, waiting: Mapping[tuple[str, str], int]
) -> Iterator[tuple[tuple[str, str], int]]:
    """What waits with something else, with the line that it waits for.

    The pots of the baths that wait and the fibre in them, and the parts of a lot that waits.
    """
    for lot, origin in study.flow.lots.items():
        key = origin.procedure.key
        for whole in ancestors(study, lot):
            line = waiting.get((key, study.called(whole)))
            if line is not None:
                yield (key, origin.name), line
    for node in study.flow.nodes:
        key = node.procedure.key
        names = [node.bath.rpartition(".")[2], *(_where(node.step) if not node.bath else ())]
        line = next((waiting[key, one] for one in names if (key, one) in waiting), None)
        for name in (node.pot, *node.lots, *node.present) if line is not None else ():
            if name and line is not None:
                yield (key, name.rpartition(".")[2]), line


def _at_its_line(study: Study, finding: Finding) -> list[str]:
    """The baths of the step that a finding is at, where its sentence names no thing."""
    values = () if finding.fact is None else finding.fact.sentence.values
    if any(isinstance(value, Named) for _, value in values):
        return []
    nodes = (
        node
        for node in study.flow.nodes
        if node.procedure.key == finding.key and node.step.place.line == finding.line
    )
    return [node.bath.rpartition(".")[2] for node in nodes if node.bath]


def _unread(lines: list[Line]) -> Iterator[Line]:
    for line in lines:
        if line.node is None:
            yield line
        yield from _unread(line.block)


def _about(finding: Finding) -> Iterator[str]:
    """The names of what a finding is about; of a part of a lot that of the part."""
    values = () if finding.fact is None else finding.fact.sentence.values
    for _, value in values:
        yield from _names(value)


def _names(value: Value) -> Iterator[str]:
    if isinstance(value, Named):
        yield value.name.rpartition(".")[2]
    elif isinstance(value, Word):
        yield value.text.rpartition(".")[2]


def _told(finding: Finding, held: list[Finding]) -> Finding:
    """The finding of a line with the places of what waits for it, each line once."""
    if finding.rule != "cannot-read" or not held:
        return finding
    waits = Says("What is found here waits until that line can be read.")
    places = {one.line: one for one in held[::-1]}
    more = tuple(
        Related(one.file, line, one.column, one.to, said(waits), waits, one.key)
        for line, one in sorted(places.items())
    )
    return finding._replace(related=(*finding.related, *more))
