"""What was used and what is left, told: lines to read, a table (CSV) and data (JSON)."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from fractions import Fraction
from io import StringIO
from textwrap import fill
from typing import Any

from procedure.batch.folder import Batch
from procedure.batch.methods import Consumption
from procedure.batch.own_units import reader_of_records
from procedure.batch.used_and_left import LeftInStock, Stock, Year, by_year, stock_of
from procedure.findings import Mass, Volume, say
from procedure.quantity.number_words import plain
from procedure.wording import Reader, said

WIDTH = 88
COLUMNS = (
    "what", "year", "material", "amount", "unit", "batches", "records without amount",
    "stock counted on", "stock then", "used since", "file",
)  # fmt: skip


def lines(batches: Sequence[Batch]) -> Iterator[str]:
    """What was used in each year, then what is left of the stock where one is stated; in the
    units in which the records are written."""
    reader = reader_of_records(one.record for one in batches)
    for year in by_year(batches):
        if year.used:
            yield ""
            yield f"Used in {year.year}:" if year.year else "Used on days that no record says:"
            yield from (f"  {_used(one, reader)}" for one in year.used)
    stock = stock_of(batches)
    if stock.left:
        yield ""
        yield "In stock:"
        for one in stock.left:
            yield fill(_left(one, reader), WIDTH, initial_indent="  ", subsequent_indent="    ")
        if any(one.counted is None for one in stock.left):
            yield fill(
                "Nothing is taken off, because the workshop file does not say when that was "
                "counted; write it under [stock] as in counted = 2026-01-01.",
                WIDTH, initial_indent="  ", subsequent_indent="  ",
            )  # fmt: skip
    for amiss in stock.amiss:
        yield fill(amiss, WIDTH)


def _used(one: Consumption, reader: Reader) -> str:
    many = f"{one.batches} batch{'es' if one.batches != 1 else ''}"
    unsaid = f"{one.unknown} do{'es' if one.unknown == 1 else ''} not say how much"
    if not one.batches:
        return f"{one.name}: {unsaid}"
    return f"{one.name}: {_in_units(one.kind, one.amount, reader)} in {many}" + (
        f" ({unsaid})" if one.unknown else ""
    )


def _left(one: LeftInStock, reader: Reader) -> str:
    held = _in_units(one.kind, one.held, reader)
    if one.counted is None:
        return f"{one.name}: {held}, as the workshop file says"
    then = f"{held} on {one.counted.isoformat()}"
    if one.left < 0:
        used = _in_units(one.kind, one.used, reader)
        return f"{one.name}: nothing by the count: {then}, and {used} used since; count again"
    most = "at most " if one.unknown else ""
    told = f"{one.name}: {most}{_in_units(one.kind, one.left, reader)} left of {then}"
    if one.unknown:
        told += (
            f" ({one.unknown} record{'s' * (one.unknown > 1)} cannot be taken off: no {_word(one)})"
        )
    return told


def _word(one: LeftInStock) -> str:
    return "grams" if one.kind == "mass" else "litres"


def _unit(one: LeftInStock) -> str:
    return "g" if one.kind == "mass" else "L"


def _in_units(kind: str, amount: Fraction, reader: Reader) -> str:
    """Grams or litres to four figures, or the same in ounces and gallons."""
    if kind == "volume":
        metric = reader.volume == "metric"
        return f"{plain(amount, 4)} L" if metric else said(say("{it}", it=Volume(amount)), reader)
    metric = reader.mass == "metric"
    return f"{plain(amount, 4)} g" if metric else said(say("{it}", it=Mass(amount)), reader)


def table(batches: Sequence[Batch]) -> str:
    """A line for each material of a year and for each thing in stock as CSV (RFC 4180)."""
    text = StringIO()
    writer = csv.DictWriter(text, COLUMNS)
    writer.writeheader()
    writer.writerows(_rows(by_year(batches), stock_of(batches)))
    return text.getvalue()


def _rows(years: Sequence[Year], stock: Stock) -> Iterator[dict[str, Any]]:
    for year in years:
        for one in year.used:
            yield {
                "what": "used", "year": year.year or "", "material": _safe(one.name),
                "amount": float(one.amount) if one.batches else "", "unit": one.unit,
                "batches": one.batches, "records without amount": one.unknown,
            }  # fmt: skip
    for left in stock.left:
        yield {
            "what": "left", "material": _safe(left.name), "amount": float(left.left),
            "unit": _unit(left), "batches": left.batches, "records without amount": left.unknown,
            "stock counted on": left.counted.isoformat() if left.counted else "",
            "stock then": float(left.held), "used since": float(left.used),
            "file": _safe(str(left.file)),
        }  # fmt: skip


def _safe(cell: str) -> str:
    """A text that a spreadsheet would take for a formula, made plain."""
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t") else cell


def data(batches: Sequence[Batch]) -> dict[str, Any]:
    """The same for JSON; an amount is null where no record says it."""
    stock = stock_of(batches)
    return {
        "used_by_year": [
            {
                "year": year.year, "material": one.name,
                "amount": float(one.amount) if one.batches else None, "unit": one.unit,
                "batches": one.batches, "records_without_amount": one.unknown,
            }
            for year in by_year(batches)
            for one in year.used
        ],
        "stock": [
            {
                "file": str(one.file), "material": one.name, "unit": _unit(one),
                "counted": one.counted.isoformat() if one.counted else None,
                "stated": float(one.held), "used_since": float(one.used),
                "left": float(one.left), "records_without_amount": one.unknown,
            }
            for one in stock.left
        ],
        "stock_amiss": list(stock.amiss),
    }  # fmt: skip
