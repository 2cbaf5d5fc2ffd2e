"""The units in which a record is written, for what is said of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from procedure.batch.types import Record, Value
from procedure.model.quantity import Quantity
from procedure.paper.measures import Voice
from procedure.vocabulary import Unit
from procedure.wording import Reader, of_units
from procedure.wording.reader import spelling_of


def reader_of_records(records: Iterable[Record]) -> Reader:
    """The reader who has the units in which records are written, what was planned among them."""
    units = [unit for record in records for unit in _units(record)]
    return of_units(units, spelling_of(units))


def voice_of_records(records: Iterable[Record]) -> Voice:
    """How a paper of records speaks: in their units, spelling and size of sheet."""
    reader = reader_of_records(records)
    if reader.mass == "metric" and reader.volume == "metric":
        return Voice("metric", reader.spelling, reader)
    return Voice("imperial" if reader.volume == "imperial" else "us", reader.spelling, reader)


def _units(record: Record) -> Iterator[Unit]:
    for value in _values(record):
        if isinstance(value, Quantity) and value.unit is not None:
            yield value.unit


def _values(record: Record) -> Iterator[Value]:
    for used in (*record.lots, *record.materials):
        yield from (used.amount, used.planned)
    for step in record.steps:
        for answer in step.answers:
            yield from (answer.done, answer.planned)
    for result in record.results:
        yield result.weight
