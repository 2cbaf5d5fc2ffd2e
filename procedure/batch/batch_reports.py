"""Batches told: a report to read, a table (CSV) and data (JSON)."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from io import StringIO
from pathlib import Path
from textwrap import fill
from typing import Any

from procedure.batch import telling_use
from procedure.batch.deviations import Deviation
from procedure.batch.fastness import Stood
from procedure.batch.folder import Batch, LotShade, by_day
from procedure.batch.methods import Method, consumption, methods
from procedure.batch.record_among import remarks
from procedure.batch.spread import FEWEST, GOES_WITH, NO_SIGN, sentence, spread
from procedure.colour import Colour, Light, called, ciede2000, compared, to_srgb
from procedure.findings import Count, Says, listed, say
from procedure.quantity.number_words import plain
from procedure.wording import said, visible

WIDTH = 88
_PAINTED = re.compile(r"(\x1b\[48;2;\d+;\d+;\d+m {4}\x1b\[0m )")
APPROXIMATE = "Colours on a screen or on paper are approximate; compare the yarn itself."


def report(batches: Sequence[Batch], colour: bool = False) -> str:
    """Batches by day, and each method with its spread. ``colour`` paints swatches on a terminal."""
    names = shown_names(batches)
    lines = [
        f"{len(batches)} batch{'es' if len(batches) != 1 else ''}.",
        "",
        *(line for batch in by_day(batches) for line in _batch(batch, names[batch.path], colour)),
    ]
    told = remarks(batches)
    if told:
        lines += ["", "To look at again:", *(_wrapped(said(one)) for one in told)]
    for method in methods(batches):
        lines += ["", *_method(method, names)]
    lines += telling_use.lines(batches)
    if any(shade.colour for batch in batches for shade in batch.shades):
        lines += ["", APPROXIMATE]
    return _all_visible("\n".join(lines) + "\n")


def _all_visible(text: str) -> str:
    """The report with nothing raw in it but the swatches that are painted on a terminal."""
    parts = _PAINTED.split(text)
    return "".join(part if at % 2 else visible.visible(part) for at, part in enumerate(parts))


def shown_names(batches: Sequence[Batch]) -> dict[Path, str]:
    """How each record is called: by its title, and where a day has several of it, by its file too.

    A record without a title is called by its file's name, and by its path where that recurs.
    """
    titles = Counter((one.day, one.record.title) for one in batches)
    files = Counter(one.path.name for one in batches)
    made: dict[Path, str] = {}
    for one in batches:
        file = one.path.name if files[one.path.name] == 1 else str(one.path)
        title = one.record.title
        alone = titles[one.day, title] == 1
        made[one.path] = file if not title else title if alone else f"{title} ({file})"
    return made


def _batch(batch: Batch, name: str, colour: bool) -> Iterator[str]:
    record = batch.record
    day = batch.day.isoformat() if batch.day else "no day said"
    edition = f", edition {record.edition}" if record.edition else ""
    who = f", by {' and '.join(record.by)}" if record.by else ""
    whose = "" if name == batch.method else f": {batch.method}"
    yield f"{day}  {name}{whose}{edition}{who}"
    for shade in batch.shades:
        yield f"    {shade_line(shade, colour)}"
    strayed = [one for one in batch.deviations if not one.small]
    for deviation in strayed[:3]:
        where = f"step {deviation.step}: " if deviation.step else ""
        yield _wrapped(f"{where}{deviation.sentence}", "    ")
    if len(strayed) > 3:
        yield f"    and {len(strayed) - 3} more; “vatwright record --check” tells them."
    for trouble in batch.trouble:
        yield _wrapped(trouble, "    ")
    errors = sum(one.level == "error" for one in batch.findings)
    if errors:
        yield f"    {errors} line{'s' if errors > 1 else ''} could not be read."
    for one in batch.findings:
        if one.level == "warning":
            yield _wrapped(f"line {one.line}: {one.sentence}", "    ")


def shade_line(shade: LotShade, colour: bool = False) -> str:
    """A lot with its colour and how it stood: “yarn ▇ #d2bb3a light yellow; light: blue wool 3”."""
    if shade.colour is None:
        words = [one.text for one in shade.result.colours if one.form == "words"]
        if words:
            return f"{shade.lot}: “{'”, “'.join(words)}”, in words alone"
        if shade.form == "unstated":
            return f"{shade.lot}: nobody knows the colour any more"
        return f"{shade.lot}: no colour was written down"
    shown = to_srgb(shade.colour)
    block = f"\x1b[48;2;{shown.red};{shown.green};{shown.blue}m    \x1b[0m " if colour else ""
    parts = [f"{shade.lot} {block}{shown.hex} {called(shade.colour)}", *stood_words(shade)]
    return "; ".join(parts)


def stood_words(shade: LotShade) -> list[str]:
    """How a lot stood its tests, a phrase each."""
    return [
        *(
            f"light{_how_long(stood, test.sun_hours)}: {', '.join(said)}"
            for stood, test in zip(shade.lights, shade.result.lights, strict=True)
            if (said := _grades(stood))
        ),
        *(
            f"wash: {', '.join(said)}"
            for stood, wash in zip(shade.washes, shade.result.washes, strict=True)
            if (said := [*_grades(stood), *(f"staining {c} {g}" for c, g in wash.staining)])
        ),
    ]


def _how_long(stood: Stood, sun: Fraction | None) -> str:
    days = f" in {stood.days} day{'s' * (stood.days != 1)}" if stood.days else ""
    return f"{days} with {plain(sun)} h of sun" if sun else days


def _grades(stood: Stood) -> list[str]:
    said = [f"change {stood.change}"] if stood.change else []
    return [*said, f"blue wool {stood.blue_wool}"] if stood.blue_wool else said


# Less than this is no difference to the eye (CIEDE2000; the colour words call it the same).
ALIKE = 0.5


def _method(method: Method, names: Mapping[Path, str]) -> Iterator[str]:
    yield f"{method.name}, {method.lot}"
    found = method.spread
    if found is None:
        yield "  no colour was written down"
        return
    count = found.batches
    shown = to_srgb(found.mean)
    mean = found.mean
    yield (
        f"  mean of {count} batch{'es' if count != 1 else ''}: {shown.hex} {called(mean)} "
        f"(L* {mean.lightness:.1f}, a* {mean.a:.1f}, b* {mean.b:.1f} under {mean.light})"
    )
    others = [one.light for one in method.colours if one.light != mean.light]
    if others:
        yield _wrapped(said(_lights(mean.light, others)))
    if count > 1:
        yield (
            f"  spread: {found.mcdm:.1f} on the mean, {found.furthest:.1f} at most "
            "(CIEDE2000; about 1 is just seen)"
        )
        at = found.each.index(found.furthest)
        far = method.batches[at]
        if found.furthest < ALIKE:
            yield "  all of them are the same to the eye"
        else:
            yield fill(
            f"furthest: {names[far.path]}, "
            f"{compared(mean, method.colours[at])} than the mean",
            WIDTH, initial_indent="  ", subsequent_indent="    ",
        )  # fmt: skip
    if len(method.editions) > 1:
        yield from _editions(method)
    if 1 < count < FEWEST:
        yield f"  what goes with what: {count} batches, too few to say"
    yield from _verdicts(method)


def _lights(light: Light, others: Sequence[Light]) -> Says:
    """What is to be known of a mean of colours that were measured under several lights."""
    return say(
        "{count} of them measured under {lights}, brought to {light} by the Bradford adaptation, "
        "which is an estimate: measure all under one light",
        count=Count(Fraction(len(others))),
        lights=listed(dict.fromkeys(str(one) for one in others)),
        light=str(light),
    )


def _editions(method: Method) -> Iterator[str]:
    """Each edition's mean beside the first edition's, with the number of batches of each."""
    yield f"  {len(method.editions)} editions:"
    first: Colour | None = None
    for edition in method.editions:
        some = [
            colour
            for batch, colour in zip(method.batches, method.colours, strict=True)
            if batch.record.edition == edition
        ]
        if not some:
            continue
        mean = spread(some).mean
        line = f"{edition}, {len(some)} batch{'es' if len(some) != 1 else ''}: {to_srgb(mean).hex}"
        if first is not None:
            line += f", {ciede2000(first, mean):.1f} from the first: {compared(first, mean)}"
        first = first or mean
        yield _wrapped(line, "    ")
    yield "    A difference between few batches may be chance; see the spread."


def _verdicts(method: Method) -> Iterator[str]:
    if not method.verdicts:
        return
    yield f"  what goes with what, {method.looked_at} pairs looked at together:"
    told = [one for one in method.verdicts if one.said == GOES_WITH]
    for one in told:
        yield fill(sentence(one), WIDTH, initial_indent="    ", subsequent_indent="      ")
    none = sum(one.said == NO_SIGN for one in method.verdicts)
    if none:
        other = "the others" if told else "all of them"
        batches = method.spread.batches if method.spread else 0
        yield fill(
            f"{other}: {batches} batches show no sign that chance alone would not give.",
            WIDTH, initial_indent="    ", subsequent_indent="      ",
        )  # fmt: skip
        if not told:
            best = method.verdicts[0].association
            yield fill(
                f"the strongest was {best.what} ({best.told}); one more year may tell.",
                WIDTH, initial_indent="    ", subsequent_indent="      ",
            )  # fmt: skip


# ------------------------------------------------------------------ tables and data

COLUMNS = (
    "file", "day", "title", "method", "edition", "by", "lot", "L*", "a*", "b*", "illuminant",
    "observer", "hex", "measured as", "difference from mean", "light change", "blue wool",
    "wash change", "deviations", "procedure",
)  # fmt: skip


def table(batches: Sequence[Batch]) -> str:
    """A line for each lot as CSV (RFC 4180)."""
    text = StringIO()
    writer = csv.DictWriter(text, COLUMNS)
    writer.writeheader()
    for row in _rows(batches):
        writer.writerow({column: _safe(row.get(column, "")) for column in COLUMNS})
    return text.getvalue()


def _safe(cell: Any) -> Any:
    """A text that a spreadsheet would take for a formula, made plain."""
    return visible.cell(cell)


def _rows(batches: Sequence[Batch]) -> Iterator[dict[str, Any]]:
    return (row for _, row in _rows_of(batches))


def _rows_of(batches: Sequence[Batch]) -> Iterator[tuple[Batch, dict[str, Any]]]:
    apart: dict[tuple[str, str], float] = {}
    for method in methods(batches):
        if method.spread is not None:
            for batch, each in zip(method.batches, method.spread.each, strict=True):
                apart[str(batch.path), method.lot] = round(each, 2)
    for batch in by_day(batches):
        record = batch.record
        for shade in batch.shades:
            row: dict[str, Any] = {
                "file": str(batch.path),
                "day": batch.day.isoformat() if batch.day else "",
                "title": record.title,
                "method": batch.method,
                "edition": record.edition,
                "by": ", ".join(record.by),
                "lot": shade.lot,
                "measured as": shade.form,
                "difference from mean": apart.get((str(batch.path), shade.lot), ""),
                "light change": "; ".join(one.change for one in shade.lights),
                "blue wool": "; ".join(one.blue_wool for one in shade.lights),
                "wash change": "; ".join(one.change for one in shade.washes),
                "deviations": sum(not one.small for one in batch.deviations),
                "procedure": batch.of_its_procedure,
            }
            if shade.colour is not None:
                lightness, a, b, light = shade.colour
                row |= {"L*": round(lightness, 2), "a*": round(a, 2), "b*": round(b, 2)}
                row |= {"illuminant": light.illuminant, "observer": light.observer}
                row["hex"] = to_srgb(shade.colour).hex
            yield batch, row


def data(batches: Sequence[Batch]) -> str:
    """The same and the methods as JSON."""
    made = {
        "batches": [
            {key: _or_null(row.get(key)) for key in COLUMNS}
            | {"strayed": [_deviation(one) for one in batch.deviations]}
            for batch, row in _rows_of(batches)
        ],
        "remarks": [said(one) for one in remarks(batches)],
        "methods": [_method_data(method) for method in methods(batches)],
        "consumption": [
            {
                "material": one.name,
                "amount": float(one.amount),
                "unit": one.unit,
                "batches": one.batches,
            }
            for one in consumption(batches)
        ],
        **telling_use.data(batches),
    }
    return visible.escaped(json.dumps(made, ensure_ascii=False, indent=2)) + "\n"


def _or_null(value: Any) -> Any:
    """What is not known is null, and never an empty text."""
    return None if value == "" else value


def _deviation(one: Deviation) -> dict[str, Any]:
    """A deviation as data; ``by`` is in °C, min, g, L, pH or a number of times."""
    return {
        "step": one.step or None,
        "step_words": one.words or None,
        "what": one.what,
        "name": one.name or None,
        "by": None if one.by is None else round(float(one.by), 4),
        "share": None if one.share is None else round(float(one.share), 4),
        "small": one.small,
        "line": one.line,
        "sentence": one.sentence,
    }


def _method_data(method: Method) -> dict[str, Any]:
    found = method.spread
    return {
        "method": method.name,
        "lot": method.lot,
        "batches": len(method.batches),
        "editions": list(method.editions),
        "mean": None if found is None else {
            "L*": round(found.mean.lightness, 3), "a*": round(found.mean.a, 3),
            "b*": round(found.mean.b, 3), "illuminant": found.mean.light.illuminant,
            "observer": found.mean.light.observer,
        },
        "mcdm": None if found is None else round(found.mcdm, 3),
        "furthest": None if found is None else round(found.furthest, 3),
        "looked_at": method.looked_at,
        "associations": [
            {
                "what": one.association.what,
                "batches": one.association.batches,
                "strength": round(one.association.strength, 4),
                "strength_of": "means" if one.association.means else "ranks",
                "chance": round(one.association.chance, 6),
                "chance_corrected": round(one.chance, 6),
                "said": one.said,
            }
            for one in method.verdicts
        ],
    }  # fmt: skip


def _wrapped(told: str, indent: str = "  ") -> str:
    return fill(told, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")
