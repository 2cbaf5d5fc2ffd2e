"""A record held against its procedure: the rules look again, at what was done."""

from __future__ import annotations

from pathlib import Path

from procedure.batch.as_done import as_done, new_findings
from procedure.batch.changed_since import match, with_plan
from procedure.batch.deviations import deviations
from procedure.batch.folder import Batch
from procedure.batch.from_plan import planned_batch
from procedure.findings import Finding, Says, say
from procedure.pipeline import NotText, read, text_of
from procedure.quantity.record import NamedTuple
from procedure.wording import said


class AsJudged(NamedTuple):
    """What the rules say of a batch as it was done and did not say of the plan.

    ``fits`` are sentences about a procedure that has changed since, is not to be found, or
    about what the rules could not be shown. ``batch`` is the batch with the procedure's plan
    where the record itself says none; ``held`` is False where there is no such plan.
    """

    findings: tuple[Finding, ...]
    fits: tuple[str, ...]
    procedure: str
    batch: Batch
    held: bool = True


def judged_as_done(batch: Batch) -> AsJudged:
    """Find the procedure of a record and judge it as it was done; nothing is written."""
    named = batch.record.of
    if not named:
        unnamed = say("The record does not say of which procedure it is.")
        return _not_held(batch, unnamed, held=True)
    path = batch.path.parent / named
    try:
        text = text_of(path)
    except NotText as reason:
        return _not_held(batch, say("{reason}", reason=str(reason)))
    except OSError:
        missing = "{file} is not where the record says; the rules could not look at what was done."
        return _not_held(batch, say(missing, file=named), held=True)
    shown = named if Path(named).is_absolute() else str(path)
    plan = read(text, shown, path)
    planned = planned_batch(plan)
    matched = match(batch.record, planned)
    if matched.other:
        return _not_held(batch, *matched.says)
    done = as_done(plan, batch.record, matched, dict(batch.logs))
    record = with_plan(batch.record, matched, planned)
    again = read(done.text, shown, path)
    return AsJudged(
        new_findings(plan.findings, again.findings, batch.record),
        tuple(said(one) for one in (*matched.says, *done.left_out)),
        shown,
        batch._replace(record=record, deviations=deviations(record, batch.logs)),
    )


def _not_held(batch: Batch, *says: Says, held: bool = False) -> AsJudged:
    """A record that was held against no plan but, where ``held``, the one that it says itself."""
    return AsJudged((), tuple(said(one) for one in says), "", batch, held)
