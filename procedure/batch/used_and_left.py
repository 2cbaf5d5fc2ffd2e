"""What was used in each year, and what is left of a workshop's stock.

Amounts used are those that the records say, in grams or litres. The stock is what the workshop file
above a record says under ``[stock]``; where it says on which day that was counted, what the
records used from that day on is taken off.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path

from procedure.batch.folder import Batch, CannotRead, batch_of, records_in
from procedure.batch.methods import Consumption, Taken, consumption, used
from procedure.collection.files import WORKSHOP_FILE, root_of
from procedure.collection.nearest import workshop_of
from procedure.collection.shop import StockHeld
from procedure.findings import plainly_said
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary
from procedure.wording import said


class Year(NamedTuple):
    """What was used in a year; ``year`` is None for batches that say no day."""

    year: int | None
    used: tuple[Consumption, ...]


class LeftInStock(NamedTuple):
    """A material in stock.

    ``held`` is what the workshop file ``file`` says, in grams or litres by ``kind`` mass or
    volume; ``used`` what ``batches`` batches used of it since ``counted``, and ``unknown``
    how many records name it without an amount of that kind. ``left`` is in the unit of
    ``held``, and below 0 where more was used than was counted.
    """

    file: Path
    name: str
    kind: str
    held: Fraction
    counted: date | None
    used: Fraction
    batches: int
    unknown: int

    @property
    def left(self) -> Fraction:
        """What is left by the count; as the file says where it tells no day of counting."""
        return self.held - self.used


class Stock(NamedTuple):
    """All stock of the workshops that records belong to; ``amiss`` are sentences about files."""

    left: tuple[LeftInStock, ...]
    amiss: tuple[str, ...]


def by_year(batches: Sequence[Batch]) -> tuple[Year, ...]:
    """What was used in each year, the first year first; batches without a day come last."""
    groups: dict[int | None, list[Batch]] = defaultdict(list)
    for batch in batches:
        groups[batch.day.year if batch.day else None].append(batch)
    years = sorted(groups, key=lambda year: (year is None, year or 0))
    return tuple(Year(year, consumption(groups[year])) for year in years)


def stock_of(batches: Sequence[Batch]) -> Stock:
    """What is left of the stock of every workshop that the batches belong to."""
    groups: dict[Path, list[Batch]] = defaultdict(list)
    for batch in batches:
        groups[root_of(batch.path)].append(batch)
    left: list[LeftInStock] = []
    amiss: list[str] = []
    for root, group in sorted(groups.items()):
        shop = workshop_of(group[0].path)
        if shop is None:
            continue
        file = root / WORKSHOP_FILE
        for fault in shop.faults:
            words = [said(plainly_said(one)) for one in (fault.sentence, fault.remedy)]
            amiss.append(f"{file}:{fault.place.line}: {' '.join(words)}")
        if not shop.stock:
            continue
        since, undated = _since(group, shop.counted)
        amiss += _undated(undated)
        left += _left(file, shop.stock, shop.counted, since)
    return Stock(tuple(left), tuple(amiss))


def stock_now(procedure: Path) -> Stock:
    """What is left today of the stock of a procedure's workshop.

    Where the stock was counted on a day, all records of the collection are read for it; one
    that cannot be read is said.
    """
    shop = workshop_of(procedure)
    if shop is None or not shop.stock:
        return Stock((), ())
    root = root_of(procedure)
    batches: list[Batch] = []
    amiss: list[str] = []
    for path in records_in([root]) if shop.counted is not None else ():
        if root_of(path) != root:
            continue
        try:
            batch = batch_of(path)
        except CannotRead as reason:
            amiss.append(f"{reason} What it used is not taken off the stock.")
            continue
        batches.append(batch)
        if any(one.level == "error" for one in batch.findings):
            amiss.append(f"{path} has lines that cannot be read, so more may have been used.")
    since, undated = _since(batches, shop.counted)
    amiss += _undated(undated)
    left = tuple(_left(root / WORKSHOP_FILE, shop.stock, shop.counted, since))
    amiss += [
        f"{one.name}: {one.unknown} record{'s do' if one.unknown > 1 else ' does'} not say how "
        "much of it was used, so there may be less."
        for one in left
        if one.unknown
    ]
    return Stock(left, tuple(amiss))


def _undated(count: int) -> Iterator[str]:
    if count:
        yield (
            f"{count} record{'s say' if count > 1 else ' says'} no day, so what "
            f"{'they' if count > 1 else 'it'} used is not taken off the stock."
        )


def _since(batches: Sequence[Batch], counted: date | None) -> tuple[list[Batch], int]:
    """The batches from the day of counting on, and how many say no day."""
    if counted is None:
        return [], 0
    dated = [(batch.day, batch) for batch in batches]
    since = [batch for day, batch in dated if day is not None and day >= counted]
    return since, sum(day is None for day, _ in dated)


def _left(
    file: Path, stock: Mapping[str, StockHeld], counted: date | None, since: Sequence[Batch]
) -> list[LeftInStock]:
    """Each thing of a stock with what the batches used of it."""
    taken: dict[str, list[Taken | None]] = defaultdict(list)
    declared: dict[Path, dict[str, tuple[str, ...]]] = {}
    for batch in since:
        path = batch.path.parent / batch.record.of
        if path not in declared:
            declared[path] = _declared(path) if batch.record.of else {}
        for name, amount in used(batch.record).items():
            names = (*_names(name), *declared[path].get(name, ()))
            held = next((one for one in stock if set(_names(one)) & set(names)), None)
            if held is not None:
                taken[held].append(amount)
    made: list[LeftInStock] = []
    for name, (kind, had) in sorted(stock.items()):
        known = [one.amount for one in taken[name] if one is not None and one.kind == kind]
        total = sum(known, Fraction(0))
        unknown = len(taken[name]) - len(known)
        made.append(LeftInStock(file, name, kind, had, counted, total, len(known), unknown))
    return made


def _names(name: str) -> tuple[str, ...]:
    """A name as written, in plain words, and as the vocabulary has it."""
    plain = name.replace("-", " ").casefold()
    entry = vocabulary().material(plain)
    return (name, plain) if entry is None else (name, plain, entry.name)


def _declared(procedure: Path) -> dict[str, tuple[str, ...]]:
    """The full names of a procedure's materials; none where it cannot be read."""
    from procedure.pipeline import NotText, read, text_of

    try:
        model = read(text_of(procedure), str(procedure), procedure).model
    except (OSError, NotText):
        return {}
    return {
        name: (one.in_full, *((one.entry.name,) if one.entry is not None else ()))
        for name, one in model.materials.items()
    }
