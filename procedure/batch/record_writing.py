"""A record to its text; what is read from that text is the same record again."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time
from fractions import Fraction

from procedure.batch.types import (
    BLANK,
    Answer,
    LightTest,
    Measured,
    Record,
    Result,
    StepDone,
    Used,
    Value,
    WashTest,
    Water,
)
from procedure.quantity.number_words import plain


def write(record: Record) -> str:
    """The text of a record, every part in its usual order.

    A record that a person wrote is not to be replaced by this: comments are not in it.
    """
    lines = [f"batch {quoted(record.title) if record.title else BLANK}", *_header(record)]
    for name, part in (
        ("water", list(_water(record.water))),
        ("fibre", [_used(one) for one in record.lots]),
        ("materials", [_used(one) for one in record.materials]),
        ("steps", [line for step in record.steps for line in _step(step)]),
        ("results", [line for one in record.results for line in _result(one)]),
    ):
        if part:
            lines += ["", name, *part]
    return "\n".join(lines) + "\n"


def quoted(text: str) -> str:
    """Words in quotation marks, whatever marks are in them."""
    plain_text = " ".join(text.split())
    if '"' not in plain_text:
        return f'"{plain_text}"'
    if "”" not in plain_text:
        return f"“{plain_text}”"
    return '"{}"'.format(plain_text.replace('"', "”"))


def _several(word: str, texts: tuple[str, ...], indent: str = "  ") -> Iterator[str]:
    for text in texts:
        yield f"{indent}{word} {quoted(text)}"


def _header(record: Record) -> Iterator[str]:
    for word, text in (("of", record.of), ("titled", record.titled), ("edition", record.edition)):
        if text:
            yield f"  {word} {quoted(text)}"
    if record.content:
        yield f"  content {quoted(record.content)}"
    if record.begun is not None or record.ended is not None:
        yield f"  day {_day(record.begun)}" + (
            f" to {_day(record.ended)}" if record.ended is not None else ""
        )
    if record.location:
        yield f"  place {quoted(record.location)}"
    if record.by:
        yield f"  by {', '.join(quoted(one) for one in record.by)}"
    yield from _several("weather", record.weather)
    yield from _several("photograph", record.photographs)
    yield from _several("note", record.notes)


def _day(day: date | None) -> str:
    return BLANK if day is None else day.isoformat()


def _water(water: Water) -> Iterator[str]:
    if water.source:
        yield f"  source {quoted(water.source)}"
    if water.hardness_written:
        bare = water.hardness is not None
        yield f"  hardness {water.hardness_written if bare else quoted(water.hardness_written)}"
    if water.acidity is not None:
        yield f"  pH {_number(water.acidity)}"
    yield from _several("note", water.notes)


def _number(value: Fraction) -> str:
    return str(value.numerator) if value.denominator == 1 else _decimal(value)


def _decimal(value: Fraction) -> str:
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return f"{value.numerator}/{value.denominator}"
    digits = 0
    while (value * 10**digits).denominator != 1:
        digits += 1
    return f"{float(value):.{digits}f}"


def value(said: Value) -> str:
    """An amount as it was written, words in quotation marks, or a blank."""
    if said is None:
        return BLANK
    return quoted(said) if isinstance(said, str) else said.text


def _used(used: Used) -> str:
    parts = []
    if used.amount is not None or used.planned is not None:
        parts.append(_beside(used.amount, used.planned))
    for word, text in (("supplier", used.supplier), ("lot", used.lot)):
        if text:
            parts.append(f"{word} {quoted(text)}")
    if used.harvested is not None:
        parts.append(f"harvested {used.harvested.isoformat()}")
    for word, text in (("from", used.origin), ("age", used.age)):
        if text:
            parts.append(f"{word} {quoted(text)}")
    parts += [quoted(text) for text in used.words]
    return f"  {used.name}: {', '.join(parts)}".rstrip()


def _beside(done: Value, planned: Value) -> str:
    return value(done) + (f" planned {value(planned)}" if planned is not None else "")


def _answer(answer: Answer) -> str:
    name = f"{answer.name} " if answer.name else ""
    return f"    {answer.word} {name}{_beside(answer.done, answer.planned)}"


def _moment(moment: tuple[date | None, time]) -> str:
    day, when = moment
    clock = when.isoformat("seconds" if when.second else "minutes")
    return f"{day.isoformat()} {clock}" if day is not None else clock


def _clock(minute: Fraction) -> str:
    seconds = round(minute * 60)
    hours, rest = divmod(seconds, 3600)
    said = f"{hours % 24:02}:{rest // 60:02}"
    return f"{said}:{rest % 60:02}" if rest % 60 else said


def _step(step: StepDone) -> Iterator[str]:
    words = quoted(step.words) if step.words else BLANK
    yield f"  added {words}" if step.added else f"  step {step.number or BLANK} {words}"
    if step.begun is not None:
        yield f"    begun {_moment(step.begun)}"
    yield from map(_answer, step.answers)
    if step.heats:
        told = ", ".join(f"{_clock(one.minute)} {_number(one.heat)} °C" for one in step.heats)
        yield f"    heats {told}"
    for log in step.logs:
        columns = "".join(
            f" {word} {quoted(text)}"
            for word, text in (("time", log.time), ("heat", log.heat))
            if text
        )
        yield f"    logger {quoted(log.file)}{columns}"
    if step.ended is not None:
        yield f"    ended {_moment(step.ended)}"
    if step.skipped is not None:
        yield f"    skipped {quoted(step.skipped)}" if step.skipped else "    skipped"
    yield from _several("otherwise", step.otherwise, "    ")
    yield from _several("seen", step.seen, "    ")
    yield from _several("photograph", step.photographs, "    ")
    yield from _several("note", step.notes, "    ")


def colour(measured: Measured) -> str:
    """A colour as it is written."""
    if measured.form == "words":
        return quoted(measured.text)
    if measured.form == "unstated":
        return "unstated"
    if measured.form == "hex":
        return f'hex "{measured.text}"'
    if measured.form == "Munsell":
        return f'Munsell "{measured.text}"'
    if measured.form == "meter":
        row = f" row {quoted(measured.text)}" if measured.text else ""
        return f"meter {quoted(measured.file)}{row}"
    numbers = " ".join(f"{one:.10g}" for one in measured.values)
    light = measured.light
    under = f" under {light.illuminant} at {light.observer}°" if light is not None else ""
    return f"{measured.form} {numbers}{under}"


def _result(result: Result) -> Iterator[str]:
    yield f"  {result.lot}"
    for one in result.colours:
        yield f"    colour {colour(one)}"
    if result.weight is not None:
        yield f"    weight {value(result.weight)}"
    for word, text in (("evenness", result.evenness), ("hand", result.hand)):
        if text:
            yield f"    {word} {quoted(text)}"
    for wash in result.washes:
        yield from _wash(wash)
    for light in result.lights:
        yield from _light(light)
    yield from _several("photograph", result.photographs, "    ")
    yield from _several("note", result.notes, "    ")


def _halves(pairs: tuple[tuple[str, Measured | None], ...]) -> Iterator[str]:
    for word, one in pairs:
        if one is not None:
            yield f"      {word} {colour(one)}"


def _wash(test: WashTest) -> Iterator[str]:
    yield "    wash test"
    if test.day is not None:
        yield f"      day {test.day.isoformat()}"
    if test.washed:
        yield f"      washed {quoted(test.washed)}"
    yield from _halves((("before", test.before), ("after", test.after)))
    if test.change:
        yield f"      change {test.change}"
    for cloth, grade in test.staining:
        yield f"      cloth {quoted(cloth)} staining {grade}"
    yield from _several("note", test.notes, "      ")


def _light(test: LightTest) -> Iterator[str]:
    yield "    light test"
    for word, day in (("begun", test.begun), ("ended", test.ended)):
        if day is not None:
            yield f"      {word} {day.isoformat()}"
    if test.sun_hours is not None:
        yield f"      sun {plain(test.sun_hours, 6)} h"
    yield from _halves((("covered", test.covered), ("exposed", test.exposed)))
    if test.change:
        yield f"      change {test.change}"
    for one in test.references:
        yield f"      reference {one.number} change {one.change}"
    if test.grade:
        yield f"      grade {test.grade}"
    yield from _several("note", test.notes, "      ")
