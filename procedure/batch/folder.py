"""All records of a folder, each with its colours, its loggers' heats and its deviations."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from procedure.batch.deviations import Deviation, deviations
from procedure.batch.fastness import Stood, stood_light, stood_wash
from procedure.batch.loggers import BadLog, from_logger
from procedure.batch.measured_colours import UNMEASURED, NoColour, colour_of, of_result
from procedure.batch.record_lines import is_procedure
from procedure.batch.record_reading import read
from procedure.batch.tables import text_of_table
from procedure.batch.types import HeatReading, Measured, Record, Result
from procedure.collection.bytes_of import bytes_of
from procedure.colour import Colour
from procedure.findings import Finding
from procedure.quantity.record import NamedTuple

SUFFIX = ".batch"
LARGEST = 5_000_000


class LotShade(NamedTuple):
    """One lot's colour: what came out, in which form it was measured, and how it stood.

    ``lights`` and ``washes`` are what its tests say; ``colour`` is None where none was written.
    """

    lot: str
    result: Result
    colour: Colour | None
    form: str
    lights: tuple[Stood, ...]
    washes: tuple[Stood, ...]


class Batch(NamedTuple):
    """A record with all that follows from it. ``trouble`` are sentences about files beside it.

    ``of_its_procedure`` says how it stands to the procedure that it names, where that was looked
    at: same, changed, missing, other or unnamed (:mod:`procedure.batch.record_among`).
    """

    path: Path
    record: Record
    findings: tuple[Finding, ...]
    logs: tuple[tuple[str, tuple[HeatReading, ...]], ...]
    deviations: tuple[Deviation, ...]
    shades: tuple[LotShade, ...]
    trouble: tuple[str, ...]
    of_its_procedure: str = ""

    @property
    def day(self) -> date | None:
        """The first day of the batch."""
        return self.record.begun or self.record.ended

    @property
    def method(self) -> str:
        """What tells its method from others: the procedure's title, else its file."""
        return self.record.titled or Path(self.record.of).name or "a method without a name"


class CannotRead(ValueError):
    """A record's file that cannot be read; the text is a plain sentence."""


def text_of(path: Path) -> str:
    """The text of a record's file. Raises :class:`CannotRead`."""
    try:
        data = bytes_of(path, LARGEST)
        if len(data) > LARGEST:
            raise CannotRead(
                f"{path} is larger than {LARGEST // 1_000_000} MB, which no record is."
            )
        return data.decode("utf-8")
    except OSError as reason:
        raise CannotRead(
            f"{path} cannot be read: {(reason.strerror or str(reason)).lower()}."
        ) from None
    except UnicodeDecodeError:
        raise CannotRead(f"{path} is not UTF-8 text. Save the file as UTF-8.") from None


def batch_of(path: Path) -> Batch:
    """A record's file with what lies beside it. Raises :class:`CannotRead`."""
    text = text_of(path)
    if is_procedure(text):
        raise CannotRead(f"{path} is a procedure, and no record of a batch; name it .dye again.")
    record, findings = read(text, str(path))
    trouble: list[str] = []
    logs = tuple(_logs(record, path.parent, trouble))
    shades = tuple(_shade(result, path.parent, trouble) for result in record.results)
    return Batch(path, record, findings, logs, deviations(record, logs), shades, tuple(trouble))


def absent_photographs(batch: Batch) -> tuple[str, ...]:
    """The photographs that a record names and that are not beside it, in its order."""
    record = batch.record
    named = [*record.photographs]
    for step in record.steps:
        named += step.photographs
    for result in record.results:
        named += result.photographs
    folder = batch.path.parent
    return tuple(name for name in dict.fromkeys(named) if not _is_there(folder / name))


def _is_there(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name that no file can have
        return False


def records_in(names: Sequence[Path], amiss: list[str] | None = None) -> list[Path]:
    """The records that names stand for; a folder stands for every record below it.

    A sentence for each folder that cannot be looked into, each link that leads nowhere, and each
    pipe and device is added to ``amiss``.
    """
    told = [] if amiss is None else amiss
    found: dict[Path, None] = {}
    for name in names:
        if name.is_dir():
            found.update(dict.fromkeys(sorted(_below(name, told))))
        else:
            found.setdefault(name)
    return list(found)


def _below(folder: Path, amiss: list[str]) -> Iterator[Path]:
    def unreadable(reason: OSError) -> None:
        said = (reason.strerror or str(reason)).lower()
        amiss.append(f"The folder {reason.filename} cannot be looked into: {said}.")

    for home, _, names in os.walk(folder, onerror=unreadable):
        for name in names:
            path = Path(home, name)
            if not name.endswith(SUFFIX):
                continue
            if not os.path.exists(path):  # noqa: PTH110 - that of a Path may raise
                amiss.append(f"{path} cannot be read: nothing is there that may be looked at.")
            elif path.is_file():
                yield path
            else:
                amiss.append(f"{path} cannot be read: it is no file.")


def by_day(batches: Sequence[Batch]) -> list[Batch]:
    """Batches by their day; those without one come last."""
    return sorted(batches, key=lambda one: (one.day is None, one.day or date.max, str(one.path)))


def _logs(
    record: Record, folder: Path, trouble: list[str]
) -> Iterator[tuple[str, tuple[HeatReading, ...]]]:
    for step in record.steps:
        readings: list[HeatReading] = []
        for log in step.logs:
            try:
                path = folder / log.file
                data = bytes_of(path, LARGEST)
                if len(data) > LARGEST:
                    raise BadLog(f"it is larger than {LARGEST // 1_000_000} MB")
                made = from_logger(text_of_table(data), log.time, log.heat)
            except OSError as reason:
                said = (reason.strerror or str(reason)).lower()
                trouble.append(f"{log.file} cannot be read: {said}.")
            except BadLog as reason:
                trouble.append(f"{log.file} is not read as a logger’s file: {reason}.")
            else:
                readings += made.readings
                if made.unread:
                    lines = ", ".join(map(str, made.unread[:5]))
                    more = " and more" if len(made.unread) > 5 else ""
                    trouble.append(f"{log.file}: no time and heat on line {lines}{more}.")
        if readings:
            yield step.number, tuple(sorted(readings))


def _shade(result: Result, folder: Path, trouble: list[str]) -> LotShade:
    colour, form, amiss = of_result(result, folder)
    trouble += amiss

    def known(measured: Measured | None) -> Colour | None:
        try:
            if measured is None or measured.form in UNMEASURED:
                return None
            return colour_of(measured, folder)
        except NoColour as reason:
            trouble.append(str(reason))
            return None

    return LotShade(
        result.lot,
        result,
        colour,
        form,
        tuple(
            stood_light(test, known(test.covered), known(test.exposed)) for test in result.lights
        ),
        tuple(stood_wash(test, known(test.before), known(test.after)) for test in result.washes),
    )
