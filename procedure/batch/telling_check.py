"""One record told: what was done otherwise than planned, what the rules say of it, its colours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from textwrap import fill

from procedure.batch.batch_reports import APPROXIMATE, WIDTH, shade_line
from procedure.batch.folder import Batch, absent_photographs
from procedure.batch.heat_series import fastest_rise, integral, planned_band, planned_integral
from procedure.batch.held_against_plan import AsJudged
from procedure.batch.methods import percent_of_fibre
from procedure.batch.own_units import reader_of_records
from procedure.batch.types import Record
from procedure.findings import (
    NOTHING,
    Count,
    Finding,
    Heat,
    Percent,
    Rate,
    Says,
    Value,
    Warmth,
    listed,
    say,
)
from procedure.quantity.rounding import two_figures
from procedure.wording import Reader, said


def check_report(
    batch: Batch, judged: AsJudged, findings: Sequence[Finding], small: bool = False
) -> str:
    """A record against its plan, in words: deviations, what the rules say of them, colours."""
    record = batch.record
    reader = reader_of_records([record])
    name = record.title or batch.path.name
    lines = [name if name == batch.method else f"{name}: {batch.method}"]
    lines += [_of_line(one) for one in batch.findings]
    lines += [_wrapped(told) for told in (*judged.fits, *batch.trouble)]
    lines += [
        _wrapped(said(say("The photograph “{name}” is not beside the record.", name=name)))
        for name in absent_photographs(batch)
    ]
    lines += _deviations(judged, small)
    lines += _series(batch, reader)
    if findings:
        lines += ["", "What the rules say of that:"]
        for one in findings:
            lines.append(
                _wrapped(
                    f"{one.level}, line {one.line} of the procedure: {one.sentence} {one.remedy}"
                )
            )
            lines.append(f"    source: {one.source}")
    lines += _amounts(batch, reader)
    if batch.shades:
        lines += ["", "What came out:", *(f"  {shade_line(shade)}" for shade in batch.shades)]
    if any(shade.colour is not None for shade in batch.shades):
        lines.append(f"  {APPROXIMATE}")
    left = len(record.open_answers)
    if left:
        lines += ["", f"{left} blank{'s' if left > 1 else ''} left in the steps."]
    return "\n".join(lines) + "\n"


def _of_line(one: Finding) -> str:
    """What is said of a line of the record: what cannot be read, and what can hardly be."""
    return _wrapped(f"line {one.line}: {one.sentence} {one.remedy}")


def _deviations(judged: AsJudged, small: bool) -> Iterator[str]:
    batch = judged.batch
    told = [one for one in batch.deviations if small or not one.small]
    hidden = len(batch.deviations) - len(told)
    if told:
        yield from ("", "Done otherwise than planned:")
    else:
        nothing = said(_nothing_told(judged))
        yield from ("", nothing) if nothing else ()
    words = ""
    for deviation in told:
        if deviation.words != words and deviation.step:
            yield f"  step {deviation.step}, {deviation.words}"
        words = deviation.words
        yield _wrapped(deviation.sentence, "    ")
    if hidden:
        yield f"  {hidden} small difference{'s' if hidden > 1 else ''}; --all shows them."


def _nothing_told(judged: AsJudged) -> Says:
    """What may be said of a record that tells of no deviation; nothing where it is said."""
    record, batch = judged.batch.record, judged.batch
    if not judged.held:
        return NOTHING
    if batch.trouble or not record.of:  # without its plan nobody can say so
        return say("What was done could not be held against a plan.")
    unread = any(one.level == "error" for one in batch.findings)
    if not written_down(record):
        if unread:
            return say("Nothing of what was done could be read.")
        return say("Nothing of what was done is written down yet.")
    if unread:
        return say("Of what could be read, nothing was done otherwise than planned.")
    if record.open_answers:
        return say("Nothing that is written down was done otherwise than planned.")
    return say("Nothing was done otherwise than planned.")


def written_down(record: Record) -> bool:
    """True where a record says anything at all of what was done."""
    return any(
        one.heats or one.logs or one.begun or one.ended or one.seen or one.notes or one.added
        or any(answer.done is not None for answer in one.answers)
        for one in record.steps
    ) or any(used.amount is not None for used in (*record.lots, *record.materials))  # fmt: skip


# Warmth is counted from the heat of a room (common practice).
ROOM = Fraction(20)


def _series(batch: Batch, reader: Reader) -> list[str]:
    """What each series of heats comes to: its span, its fastest rise, its warmth."""
    logs = dict(batch.logs)
    told: list[str] = []
    for step in batch.record.steps:
        series = logs.get(step.number) or step.heats
        if len(series) < 2:
            continue
        heats = [one.heat for one in series]
        parts: list[Value] = [say("{span}", span=Heat(min(heats), max(heats), worded=False))]
        rise = fastest_rise(series)
        if rise is not None:
            parts.append(say("fastest rise {rate}", rate=Rate(two_figures(rise.rate))))
        warmth = say(
            "{warmth} above {room}",
            warmth=Warmth(integral(series, ROOM)),
            room=Heat(ROOM, worded=False),
        )
        band = planned_band(step)
        if band:
            low, high = planned_integral(band, ROOM)
            warmth = say("{warmth}, planned {plan}", warmth=warmth, plan=Warmth(low, high))
        says = say(
            "step {number}, {step} ({readings} readings): {parts}",
            number=step.number,
            step=step.words,
            readings=Count(Fraction(len(series))),
            parts=listed([*parts, warmth])._replace(between="; ", last="; "),
        )
        told.append(_wrapped(said(says, reader)))
    return ["", "Heats as they were measured:", *told] if told else []


def _wrapped(told: str, indent: str = "  ") -> str:
    return fill(told, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")


def _amounts(batch: Batch, reader: Reader) -> list[str]:
    """What was really used, back to percent of the fibre."""
    found = percent_of_fibre(batch.record)
    if not found:
        return []
    width = max(map(len, found))
    told = [
        f"  {name:<{width}}  {said(say('{share}', share=Percent(share * 100)), reader)}"
        for name, share in found.items()
    ]
    return ["", "Used, as a share of the fibre's weight:", *told]
