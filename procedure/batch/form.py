"""The form of a batch: what a procedure asks to be written down, each with its plan and a blank."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.batch.record_writing import quoted
from procedure.batch.side_of_form import FormBlank, PlannedBatch, PlannedStep, PlannedUse
from procedure.batch.types import BLANK

HEAD = """\
# Fill in the blanks, or let “vatwright record --ask” ask for them one by one.
# A blank may stay; “unstated” says that nobody knows any more.
# grammar/batch.md tells what else may be written: heats with their times, steps that were
# skipped or added, photographs, light and wash tests.
"""


def form(planned: PlannedBatch) -> str:
    """The text of an empty record for a procedure, ready to be filled in.

    It can be read as a record at once; its order and names are those of the procedure.
    """
    return "\n".join([HEAD, *_lines(planned)]) + "\n"


def _lines(planned: PlannedBatch) -> Iterator[str]:
    yield f"batch {quoted(planned.title) if planned.title else BLANK}"
    yield f"  of {quoted(planned.file)}"
    if planned.title:
        yield f"  titled {quoted(planned.title)}"
    if planned.edition:
        yield f"  edition {quoted(planned.edition)}"
    yield f"  content {quoted(planned.content)}"
    for word in ("day", "place", "by", "weather"):
        yield f"  {word} {BLANK}"
    yield from ("", "water", f"  source {BLANK}", f"  hardness {BLANK}", f"  pH {BLANK}")
    if planned.lots:
        yield from ("", "fibre", *(_use(lot) for lot in planned.lots))
    if planned.materials:
        yield from ("", "materials")
        for material in planned.materials:  # how much was used is asked where it is used
            grown = f", harvested {BLANK}, from {BLANK}" if material.grown else ""
            yield f"  {material.name}: supplier {BLANK}{grown}"
    if planned.steps:
        yield from ("", "steps")
        for step in planned.steps:
            yield from _step(step)
    if planned.results:
        yield from ("", "results")
        for lot in planned.results:
            yield f"  {lot}"
            for word in ("colour", "weight", "evenness", "hand"):
                yield f"    {word} {BLANK}"


def _use(used: PlannedUse) -> str:
    plan = f" planned {used.text}" if used.text else ""
    return f"  {used.name}: {BLANK}{plan}"


def _step(step: PlannedStep) -> Iterator[str]:
    yield f"  step {step.number} {quoted(step.words)}"
    for blank in step.blanks:
        yield f"    {_blank(blank)}"
    if step.timed:
        yield from (f"    begun {BLANK}", f"    ended {BLANK}")
    yield f"    seen {BLANK}"


def _blank(blank: FormBlank) -> str:
    name = f" {blank.name}" if blank.name else ""
    plan = ""
    if blank.kind in ("choice", "words"):
        text = " or ".join(blank.choices) if blank.choices else blank.text
        plan = f" planned {quoted(text)}" if text else ""
    elif blank.text:
        plan = f" planned {blank.text}"
    return f"{blank.word}{name} {BLANK}{plan}"
