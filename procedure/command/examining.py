"""The findings of many files: remembered where nothing has changed, else found on all cores."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from procedure.command.in_and_out import STANDARD_INPUT, plan_of
from procedure.command.main import FILES_A_SWEEP, CannotRun
from procedure.findings import Finding
from procedure.quantity.record import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from procedure.command.remembered import Memory
    from procedure.pipeline import Judged
    from procedure.report.stored import Stored

NO_TIMES: Mapping[str, float] = MappingProxyType({})
# The plan of a file that is checked alone, which is not taken apart before the process ends.
_alone: list[Judged] = []


class Examined(NamedTuple):
    """What was found in a file, or the sentences that say why it could not be read.

    ``times`` are the seconds of each rule where they are asked for; ``changed`` is true where
    the file was mended, or would be.
    """

    name: str
    findings: Sequence[Finding] = ()
    refused: tuple[str, ...] = ()
    times: Mapping[str, float] = NO_TIMES
    changed: bool = False


class _Answer(NamedTuple):
    """What a helper sends: why a file could not be read, or what was found in it as text.

    ``needs`` is what it was made from, where it may be remembered. ``found`` is None where it
    cannot be sent.
    """

    refused: tuple[str, ...] = ()
    found: Stored | None = None
    needs: str | None = None


def examined(
    names: Sequence[str], named: Sequence[str], *, facts: bool, remember: bool
) -> Iterator[Examined]:
    """What is found in each file, in order.

    ``named`` are the files and folders as the user named them. Without ``facts`` a finding may
    come without the fact behind its words. ``remember`` asks for the user's cache.
    """
    if len(names) < 2:
        for name in names:
            yield _read_alone(name)
        return
    memory = _memory(named) if remember else None
    try:
        known = {} if memory is None else _known(memory, names, facts)
        rest = [name for name in names if name not in known]
        new = _found(rest, memory, facts)
        for name in names:
            yield Examined(name, known.pop(name)) if name in known else next(new)
        if memory is not None:
            memory.close()
            memory = None
    finally:
        if memory is not None:
            memory.close()


def _memory(named: Sequence[str]) -> Memory | None:
    try:
        from procedure.command.remembered import memory_for
    except ImportError:  # a Python without SQLite
        return None
    return memory_for(named)


def _known(memory: Memory, names: Sequence[str], facts: bool) -> dict[str, list[Finding]]:
    known: dict[str, list[Finding]] = {}
    for name in names:
        found = None if name == STANDARD_INPUT else memory.findings(name, facts)
        if found is not None:
            known[name] = found
    return known


def _found(names: Sequence[str], memory: Memory | None, facts: bool) -> Iterator[Examined]:
    """What is found in files of which nothing is known."""
    from procedure.command.on_all_cores import helpers_for, side_by_side
    from procedure.report.stored import with_needed_facts

    helpers = 0 if STANDARD_INPUT in names else helpers_for(names)
    if not helpers:
        yield from _one_by_one(names, memory)
        return
    answers = side_by_side(_answer, names, helpers)
    for name, (refused, found, needs) in zip(names, answers, strict=True):
        if refused:
            yield Examined(name, refused=refused)
        elif found is None:
            yield _read(name)
        else:
            if memory is not None and needs is not None:
                memory.keep(name, needs, found)
            yield Examined(name, with_needed_facts(found, facts))


def _one_by_one(names: Sequence[str], memory: Memory | None) -> Iterator[Examined]:
    from contextlib import suppress

    from procedure.command.made_from import needs_of
    from procedure.report.stored import NotStored, stored

    for number, name in enumerate(names, 1):
        if number % FILES_A_SWEEP == 0:
            gc.collect()
        try:
            plan = plan_of(name)
        except CannotRun as cannot:
            yield Examined(name, refused=cannot.sentences)
            continue
        if memory is not None and name != STANDARD_INPUT:
            needs = needs_of(plan)
            with suppress(NotStored):
                if needs is not None:
                    memory.keep(name, needs, stored(plan.findings))
        yield Examined(name, plan.findings)


def _answer(name: str) -> _Answer:
    from procedure.command.made_from import needs_of
    from procedure.report.stored import NotStored, stored

    try:
        plan = plan_of(name)
    except CannotRun as cannot:
        return _Answer(cannot.sentences)
    try:
        return _Answer(found=stored(plan.findings), needs=needs_of(plan))
    except NotStored:
        return _Answer()


def _read(name: str) -> Examined:
    try:
        return Examined(name, plan_of(name).findings)
    except CannotRun as cannot:
        return Examined(name, refused=cannot.sentences)


def _read_alone(name: str) -> Examined:
    try:
        _alone[:] = [plan_of(name)]
    except CannotRun as cannot:
        return Examined(name, refused=cannot.sentences)
    return Examined(name, _alone[0].findings)
