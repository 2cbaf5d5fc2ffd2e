"""The weigh sheet for people: aligned, amounts first, in the order of use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from textwrap import wrap

from procedure.facts.handling import deadly_words, right_name
from procedure.facts.pot_fit import Fit
from procedure.findings import Finding
from procedure.quantity.interval import ENDLESS, Interval
from procedure.quantity.number_words import between, by_weight, listed, ranged
from procedure.quantity.record import NamedTuple
from procedure.quantity.rounding import MASS_STEPS, at_most, sensible_step
from procedure.report import text as findings_text
from procedure.report.weigh_measures import BLANK, ScaleStep, ounce_of
from procedure.report.weigh_sheet import ShownAmount, WeighSheet, alone, amount_text, sheet
from procedure.rework.backwards import Backwards
from procedure.vocabulary import vocabulary
from procedure.weigh.heating import Cooling, Heating, Span, Steaming
from procedure.weigh.weighed import ALL_OF_IT, LOOSE
from procedure.weigh.weighing import Fibre, Row, Total, Weighing
from procedure.wording import Reader
from procedure.wording import said as in_words
from procedure.wording.spelling import in_spelling

METRIC = Reader()

WIDTH = 88
WIDEST_AMOUNT = 40


class Estimates(NamedTuple):
    """Heat, cooling and steam."""

    heatings: list[Heating]
    coolings: list[Cooling]
    steamings: list[Steaming]


class Request(NamedTuple):
    """What the user asked for, in sentences, and what the new numbers brought up."""

    sentences: tuple[str, ...]
    backwards: Backwards | None
    findings: tuple[Finding, ...]


def report(
    weighing: Weighing,
    fits: list[Fit],
    estimates: Estimates,
    asked: Request,
    system: str = "metric",
    scale_step: ScaleStep | None = None,
    explain: bool = False,
    reader: Reader = METRIC,
) -> str:
    """The whole sheet as text; heats and advice in the measures of the reader."""
    made = sheet(weighing, system, scale_step)
    plan = weighing.plan
    heading = plan.model.title.text if plan.model.title else "A procedure without a title"
    parts: list[list[str]] = [[heading, plan.file]]
    parts += [list(wrap(line, WIDTH)) for line in deadly_words(plan.study)]
    if asked.backwards is not None:
        parts.append(list(_backwards(asked.backwards, system, scale_step)))
    parts += [list(wrap(sentence, WIDTH)) for sentence in asked.sentences]
    width = _width(made)
    if made.fibres:
        parts.append([in_spelling("Fibre", reader.spelling), *_fibres(made, width)])
    if made.rows:
        parts.append(["In the order of use", *_rows(made, width, explain, reader.spelling)])
    if not made.fibres and not made.rows:
        parts.append(["There is nothing to weigh in it."])
    parts += _totals(made, width, reader.spelling)
    if made.uneven:
        names = ", ".join(made.uneven)
        said = f"Each line is rounded for itself, and so is each sum; the last digits of {names} "
        parts.append(wrap(said + "do not add up.", WIDTH))
    unread = sum(finding.rule == "cannot-read" for finding in plan.findings)
    if unread:
        lines = "line" if unread == 1 else "lines"
        said = f"{unread} {lines} could not be read; what is there is counted as it was most "
        parts.append(wrap(f"{said}likely meant, or not at all.", WIDTH))
    if weighing.unmeasured:
        lines = ", ".join(f"line {row.line} ({row.step})" for row in weighing.unmeasured)
        parts.append(wrap(f"Water that is not measured, as much as it takes: {lines}.", WIDTH))
    if fits or made.rows:
        parts.append(["Pots", *_pots(weighing, fits, system, reader)])
    parts += _heat(estimates, system, reader)
    if asked.findings:
        told = findings_text.report(asked.findings).rstrip("\n").split("\n")
        parts.append(["Checked again with these amounts", *told])
    errors = sum(finding.level == "error" for finding in plan.findings)
    if errors and not asked.findings:
        word = "error" if errors == 1 else "errors"
        parts.append(wrap(f"The procedure has {errors} {word}: check it before you weigh.", WIDTH))
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def _width(made: WeighSheet) -> int:
    amounts = [amount_text(shown) for shown in (*made.rows, *made.totals, *made.fibres)]
    return min(max(map(len, amounts), default=8), WIDEST_AMOUNT) + 4


def _line(amount: str, width: int, said: str) -> list[str]:
    lead = f"{amount:>{width}}  "
    if len(lead) > width + 2:
        return [lead.rstrip(), *_indented(said, width)]
    first, *rest = wrap(said, max(WIDTH - len(lead), 30)) or [""]
    return [lead + first, *(" " * len(lead) + line for line in rest)]


def _indented(said: str, width: int) -> list[str]:
    return [" " * (width + 2) + line for line in wrap(said, max(WIDTH - width - 2, 30))]


# ------------------------------------------------------------------ fibre, rows, totals


def _fibres(made: WeighSheet, width: int) -> Iterator[str]:
    for fibre, shown in zip(made.weighing.fibres, made.fibres, strict=True):
        yield from _line(amount_text(shown), width, _fibre(fibre))


def _fibre(fibre: Fibre) -> str:
    said = fibre.called
    if fibre.of:
        return f"{said}, from {' and '.join(fibre.of)}"
    if fibre.words:
        said += f": {fibre.words}"
    if fibre.pieces is not None:
        low, high = fibre.pieces
        said += f", {between(low, high)} {fibre.unit}s" if high != 1 else f", 1 {fibre.unit}"
    return said


def _rows(made: WeighSheet, width: int, explain: bool, spelling: str) -> Iterator[str]:
    last = -1
    for row, shown in zip(made.weighing.rows, made.rows, strict=True):
        if row.node != last:
            last = row.node
            where = (
                f"line {row.line}"
                if made.weighing.plan.own(row.node)
                else (f"{row.file}, line {row.line}")
            )
            yield f"  {where}  {row.step}"
        amount = amount_text(shown, row.without_figure)
        yield from _line(amount, width, _row(made, row, amount, spelling))
        if explain and row.working and row.working != row.written:
            yield from _line("=", width, row.working)


def _row(made: WeighSheet, row: Row, amount: str, spelling: str) -> str:
    said = [_named(made.weighing, row, spelling)]
    written = row.written
    if (
        written not in ("", amount)
        and not row.gap
        and (LOOSE in row.note or any(mark in written for mark in ("%", ":", "/", "of", "×")))
    ):
        said.append(by_weight(written) if row.kind == "mass" else written)
    if row.note and row.note != amount:
        said.append(row.note)
    if row.each is not None:
        said.append(f"{row.rounds} {alone(row.each, row.kind, made.system, made.scale_step)}")
    if row.condition:
        said.append(row.condition)
    if not row.counts and row.part == "material" and row.written:
        said.append("made ready here, used below")
    return "; ".join(said)


def _named(weighing: Weighing, one: Row | Total, spelling: str) -> str:
    """What is weighed; what harms by its full name, with the writer's own beside it."""
    right = in_spelling(right_name(weighing.plan.study, one.thing), spelling)
    if right and right != one.called:
        words = [one.called + " in the list", one.state]
        return f"{right} ({', '.join(word for word in words if word)})"
    material = in_spelling(one.material, spelling)
    told = [one.state, material if material != one.called else ""]
    words = [word for word in told if word]
    return f"{one.called} ({' '.join(words)})" if words else one.called


_HOW = {
    "buy": "To buy, or from the shelf",
    "gather": "To gather",
    "draw": "Water in all",
    "keep": "Kept from before",
}


def _totals(made: WeighSheet, width: int, spelling: str) -> Iterator[list[str]]:
    for how, heading in _HOW.items():
        lines: list[str] = []
        for total, shown in zip(made.weighing.totals, made.totals, strict=True):
            if total.how == how:
                lines += _line(
                    _total_amount(total, shown), width, _total(made.weighing, total, spelling)
                )
        if lines:
            yield [heading, *lines]


def _total_amount(total: Total, shown: tuple[ShownAmount, ...]) -> str:
    return amount_text(shown, ALL_OF_IT if total.how == "keep" and not total.gaps else "")


def _total(weighing: Weighing, total: Total, spelling: str) -> str:
    said = _named(weighing, total, spelling)
    if total.how == "gather" and not total.state:
        said += ", fresh or dried not said"
    if total.gaps and total.kind:
        said += f", and {BLANK} that the text leaves open"
    if total.condition:
        said += f", more: {total.condition}"
    return said


# ------------------------------------------------------------------ pots, heat, steam


def _number(value: float) -> str:
    return f"{value:.0f}" if value >= 10 else f"{value:.1f}".removesuffix(".0")


def _between(span: Span, unit: str) -> str:
    if span[1] == ENDLESS:
        return f"at least {_number(span[0])} {unit}"
    low, high = _number(span[0]), _number(span[1])
    return f"{ranged(low, high)} {unit}"


def _pots(weighing: Weighing, fits: list[Fit], system: str, reader: Reader) -> Iterator[str]:
    if not fits:
        yield "  No pot has both its capacity and its liquor stated."
    study = weighing.plan.study
    unit = {"us": "US gal", "imperial": "imp gal"}.get(system, "L")
    litres = float(vocabulary().units[unit].factor)
    for same in _alike(fits):
        fit = same[0]
        full = (float(fit.full[0]) / litres, float(fit.full[1]) / litres)
        share = (float(fit.share[0]) * 100, float(fit.share[1]) * 100)
        lines = list(dict.fromkeys(str(study.node(one.node).step.place.line) for one in same))
        what = f"the water of line{'s' if len(lines) > 1 else ''} {', '.join(lines)}"
        if fit.bath:
            what = study.called(fit.bath)
        said = (
            f"{study.called(fit.pot)} with {what}: {_between(full, unit)} of "
            f"{_number(float(fit.capacity[0]) / litres)} {unit}, {_between(share, '%')} full"
        )
        if fit.lots and fit.grams[0] > 0:
            ratio = (
                float(fit.liquor[0] / fit.grams[1]) * 1000,
                float(fit.liquor[1] / fit.grams[0]) * 1000,
            )
            said += f"; liquor {_between(ratio, ': 1')}"
        if fit.verdict != "fits":
            said += f". {fit.verdict.capitalize()}. {in_words(fit.advised, reader)}"
        yield from wrap(said, WIDTH, initial_indent="  ", subsequent_indent="      ")


def _alike(fits: list[Fit]) -> list[list[Fit]]:
    """Rinsing waters that are the same in the same tub belong in one line."""
    found: dict[object, list[Fit]] = {}
    for fit in fits:
        key: object = fit.node if fit.bath else (fit.pot, fit.full, fit.pieces, fit.grams)
        found.setdefault(key, []).append(fit)
    return list(found.values())


def _minutes(span: Span) -> str:
    if span[1] >= 120:
        return _between((span[0] / 60, span[1] / 60), "h")
    return _between(span, "min")


def _heat(estimates: Estimates, system: str, reader: Reader) -> Iterator[list[str]]:
    lines: list[str] = []
    for heating in estimates.heatings:
        said = (
            f"line {heating.line}  {heating.step}, {_degrees(heating.start, reader)} up to "
            f"{_degrees(heating.end, reader)}: "
        )
        if heating.minutes is None or heating.energy is None:
            said += "no one hotplate with its watts is declared, so the time is not known"
        else:
            said += (
                f"about {_minutes(heating.minutes)} on {heating.heater}, "
                f"about {_between(heating.energy, 'kWh')}"
            )
            if heating.said is not None and heating.minutes[0] > heating.said[1]:
                said += f"; longer than the {_minutes(heating.said)} of the text"
        if heating.least is not None:
            said += f". Wool and its like: no faster than in {_minutes(heating.least)}"
        lines += wrap(said + ".", WIDTH, initial_indent="  ", subsequent_indent="      ")
    for cooling in estimates.coolings:
        end = _degrees(cooling.end, reader)
        if cooling.said is not None:
            end = (
                f"{_degrees(cooling.said, reader)}, and by the morning to that of the room ({end})"
            )
        lines += wrap(
            f"line {cooling.line}  {cooling.step}, {_degrees(cooling.start, reader)} down to "
            f"{end}. Wool and its like: no faster than in {_minutes(cooling.least)}.",
            WIDTH,
            initial_indent="  ",
            subsequent_indent="      ",
        )
    if lines:
        yield ["Heat (estimates; the spread is of plates, pots and rooms)", *lines]
    lines = []
    for one in estimates.steamings:
        shut = "covered, as the text has it: " if one.lid else ""
        open_, lidded = (_lost(span, system) for span in (one.open, one.lidded))
        said = (
            f"{shut}{lidded}; {open_} without a lid"
            if one.lid
            else (f"{open_} without a lid, {lidded} with one")
        )
        lines += wrap(
            f"line {one.line}  {one.step}, {_minutes(one.minutes)} at "
            f"{_degrees(one.heat, reader)}: {said}.",
            WIDTH,
            initial_indent="  ",
            subsequent_indent="      ",
        )
    if lines:
        yield ["Boils away, to be topped up with hot water (rough estimates)", *lines]


def _degrees(span: Span, reader: Reader) -> str:
    """A heat on the reader's scale; both scales are not asked of an estimate."""
    if reader.heat == "°F":
        return _between((span[0] * 1.8 + 32, span[1] * 1.8 + 32), "°F")
    return _between(span, "°C")


def _lost(span: Span, system: str) -> str:
    """Litres that boil away, in the measures of a system."""
    if system in ("metric", "both"):
        return _litres(span)
    unit = "US fl oz" if system == "us" else "imp fl oz"
    ounce = float(vocabulary().units[unit].factor)
    return _between((max(span[0] / ounce, 1), max(span[1] / ounce, 1)), unit)


def _litres(span: Span) -> str:
    if span[1] == ENDLESS:
        return f"at least {_litres((span[0], span[0]))}"
    if span[1] < 1:
        low, high = (max(round(end * 100) * 10, 10) for end in span)
        return f"about {low} mL" if low == high else f"{low} to {high} mL"
    return f"{span[0]:.1f} to {span[1]:.1f} L"


# ------------------------------------------------------------------ backwards


def _listed(names: Iterable[str]) -> str:
    return listed(list(names))


def _backwards(found: Backwards, system: str, scale_step: ScaleStep | None) -> Iterator[str]:
    def weighed(lots: Mapping[str, Fraction]) -> str:
        told = at_most(lots, ounce_of(system))
        least = min(told.values(), default=Fraction(1))
        fine = ScaleStep("mass", sensible_step(least, MASS_STEPS)) if system == "metric" else None
        return _listed(
            f"{alone(Interval.of(grams), 'mass', system, scale_step or fine)} of {lot}"
            for lot, grams in told.items()
        )

    had = _listed(
        f"{alone(left.had, left.kind, system, scale_step)} of {left.called}" for left in found.left
    )
    sure, luck = weighed(found.sure), weighed(found.with_luck)
    said = f"With {had}" + (f", and beside {weighed(found.fixed)}" if found.fixed else "")
    verb = "runs" if len(found.first) == 1 else "run"
    yield from wrap(f"{said}, the most fibre is {sure} for sure.", WIDTH)
    if found.sure != found.with_luck:
        yield from wrap(f"With luck, at the other end of every range, {luck}.", WIDTH)
    tail = ""
    if found.first_with_luck != found.first:
        tail = f" (with luck it is {_listed(found.first_with_luck)})"
    yield from wrap(f"{_listed(found.first)} {verb} out first{tail}.", WIDTH)
    for left in found.left:
        if left.called in found.first and left.low == left.high:
            continue
        rest = alone(Interval(max(left.low, Fraction(0)), left.high), left.kind, system, scale_step)
        yield f"  {rest} of {left.called} is left over."
