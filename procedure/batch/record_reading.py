"""A text to a record: any text gives a record, and a finding for all that could not be read."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from procedure.batch import line_values
from procedure.batch.own_units import reader_of_records
from procedure.batch.record_lines import LINE, RecordEntry, RecordReader, below, once, unknown
from procedure.batch.record_words import unquoted
from procedure.batch.recorded_amounts import hardness
from procedure.batch.results import results
from procedure.batch.step_answers import steps
from procedure.batch.types import Record, Used, Value, Water
from procedure.batch.unlikely_record import unlikely
from procedure.findings import Finding, Says, say
from procedure.language import Token
from procedure.wording import for_reader


def read(text: str, file: str = "record") -> tuple[Record, tuple[Finding, ...]]:
    """The record that a text says, and the findings about it, by place.

    ``file`` is the name that findings show. Nothing is raised, whatever the text.
    """
    reader = RecordReader(text, file)
    if reader.is_procedure:
        return Record(file), tuple(reader.findings)
    said: dict[str, Any] = {}
    _heading(reader, said)
    once(reader, [*reader.of("batch")], *_OFTEN)
    once(reader, [*reader.of("water")], "note")
    for entry in reader.of("batch"):
        _header_line(reader, entry, said)
    record = Record(
        file,
        water=_water(reader),
        lots=_all_used(reader, "fibre"),
        materials=_all_used(reader, "materials"),
        steps=steps(reader),
        results=results(reader),
        **said,
    )
    for one in unlikely(record):
        reader.say(
            (one.place.line, one.place.column, one.place.to), one.says, one.remedy, "unlikely",
            "warning", "common practice",
        )  # fmt: skip
    # What an amount looks like is shown in the units of the record itself.
    units = reader_of_records([record])
    worded = [for_reader(one, units) for one in reader.findings]
    return record, tuple(sorted(worded, key=lambda one: one.order))


def _heading(reader: RecordReader, said: dict[str, Any]) -> None:
    first = next((one for one in reader.sections if one.name == "batch"), None)
    if first is None or first.heading.word != "batch":
        reader.say((1, 1, 2), "A record begins with batch and its title.", 'batch "Spring gold"')
        return
    tokens = first.heading.tokens[1:]
    if tokens and tokens[0].kind == "STRING":
        said["title"] = unquoted(tokens[0])
        tokens = tokens[1:]
    elif not tokens or tokens[0].kind != "BLANK":
        reader.say(first.heading.first, "The batch has no title.", 'batch "Spring gold"')
        return
    for token in tokens[:1] if tokens and tokens[0].kind != "BLANK" else []:
        reader.say(token, say("“{word}” is too much here.", word=token.text[:40]), LINE)


# ------------------------------------------------------------------ the header


def _text(reader: RecordReader, entry: RecordEntry, said: dict[str, Any], field: str) -> None:
    found = line_values.texts(reader, entry, entry.tokens[1:])
    if field in said:
        reader.say(
            entry.first, say("{word} is there twice.", word=entry.word), "Keep one of the two."
        )
    if found:
        said[field] = ", ".join(found)


def _texts(reader: RecordReader, entry: RecordEntry, said: dict[str, Any], field: str) -> None:
    found = line_values.texts(reader, entry, entry.tokens[1:])
    said[field] = (*said.get(field, ()), *found)


def _edition(reader: RecordReader, entry: RecordEntry, said: dict[str, Any], field: str) -> None:
    tokens = entry.tokens[1:]
    if len(tokens) != 1:
        reader.say(entry.first, say("I expected one word after {word}.", word=entry.word), LINE)
    elif tokens[0].kind != "BLANK":
        said[field] = unquoted(tokens[0])


def _days(reader: RecordReader, entry: RecordEntry, said: dict[str, Any], field: str) -> None:
    tokens = entry.tokens[1:]
    ends = [token for token in tokens if token.text != "to"]
    if not ends or len(ends) > 2 or len(tokens) != 2 * len(ends) - 1:
        reader.say(entry.first, "I expected a day, or two with to between them.", "day 2026-04-18")
        return
    said["begun"] = line_values.day(reader, ends[0])
    said["ended"] = line_values.day(reader, ends[1]) if len(ends) == 2 else None
    begun, ended = said["begun"], said["ended"]
    if begun is not None and ended is not None and ended < begun:
        reader.say(ends[1], "The last day is before the first.", "Look at the days again.")


_HEADER: dict[str, tuple[Callable[[RecordReader, RecordEntry, dict[str, Any], str], None], str]] = {
    "of": (_text, "of"),
    "titled": (_text, "titled"),
    "edition": (_edition, "edition"),
    "content": (_edition, "content"),
    "day": (_days, "begun"),
    "place": (_text, "location"),
    "by": (_texts, "by"),
    "weather": (_texts, "weather"),
    "photograph": (_texts, "photographs"),
    "note": (_texts, "notes"),
}


# What may be written more than once at the head, and (the first three) what is said where it is.
_OFTEN = ("of", "titled", "place", "by", "weather", "photograph", "note")


def _header_line(reader: RecordReader, entry: RecordEntry, said: dict[str, Any]) -> None:
    found = _HEADER.get(entry.word)
    if found is None:
        unknown(reader, entry.first, list(_HEADER), "a batch")
        return
    below(reader, entry)
    taken, field = found
    taken(reader, entry, said, field)


# ------------------------------------------------------------------ water


def _water(reader: RecordReader) -> Water:
    source, written = "", ""
    hard = acidity = None
    notes: tuple[str, ...] = ()
    for entry in reader.of("water"):
        tokens = entry.tokens[1:]
        blank = bool(tokens) and all(token.kind == "BLANK" for token in tokens)
        if entry.word in ("source", "note"):
            found = line_values.texts(reader, entry, tokens)
            if entry.word == "note":
                notes += found
            else:
                source = ", ".join(found)
        elif entry.word == "hardness" and not blank:
            text = " ".join(unquoted(token) for token in tokens)
            written = text
            quoted = len(tokens) == 1 and tokens[0].kind == "STRING"
            try:
                hard = None if quoted else hardness(text)
            except ValueError as reason:
                remedy: Says = say("Put soft, hard and the like in quotation marks.")
                if "," in text:
                    remedy = say("Write decimals with a point: {it}.", it=text.replace(",", "."))
                reader.say(entry.first, say("{reason}.", reason=str(reason)), remedy)
                written = ""
        elif entry.word == "pH" and not blank:
            acidity = line_values.number(tokens[0].text) if len(tokens) == 1 else None
            if acidity is None or not 0 <= acidity <= 14:
                comma = len(tokens) == 1 and line_values.DECIMAL_COMMA.fullmatch(tokens[0].text)
                meant = tokens[0].text.replace(",", ".") if comma else "7.2"
                reader.say(
                    entry.first,
                    "I expected a number from 0 to 14.",
                    say("Write it as pH {meant}.", meant=meant),
                )
                acidity = None
        elif not blank:
            unknown(reader, entry.first, ["source", "hardness", "pH", "note"], "the water")
    return Water(source, hard, written, acidity, notes)


# ------------------------------------------------------------------ lots and materials

_DESCRIBING = ("supplier", "lot", "harvested", "from", "age", "note")


def _parts(tokens: list[Token]) -> list[list[Token]]:
    """The words between commas."""
    made: list[list[Token]] = [[]]
    for token in tokens:
        if token.kind == "COMMA":
            made.append([])
        else:
            made[-1].append(token)
    return [part for part in made if part]


def _all_used(reader: RecordReader, section: str) -> tuple[Used, ...]:
    """The lots or materials of a section; a line without a name is said and left out."""
    made: list[Used] = []
    for entry in reader.of(section):
        if entry.first.kind != "LABEL":
            reader.say(entry.first, "I expected a name and a colon.", "weld: 98 g")
            continue
        if any(used.name == entry.word for used in made):
            name = entry.word[:40]
            reader.say(
                entry.first,
                say("“{name}” is there twice.", name=name),
                "Give each a name of its own.",
            )
        made.append(_used(reader, entry))
    return tuple(made)


def _used(reader: RecordReader, entry: RecordEntry) -> Used:
    """A lot or a material: ``weld: 98 g planned 100 g, supplier "...", harvested 2025-07-20``."""
    below(reader, entry)
    amount: Value = None
    planned: Value = None
    said: dict[str, str] = {}
    harvested: date | None = None
    words: list[str] = []
    for part in _parts(entry.tokens[1:]):
        word = part[0].text
        if word == "harvested" and len(part) == 2:
            harvested = line_values.day(reader, part[1])
        elif word == "harvested":
            reader.say(part[0], "I expected one day after harvested.", "harvested 2025-07-20")
        elif word in _DESCRIBING and len(part) == 2 and part[1].kind in ("STRING", "BLANK"):
            if part[1].kind == "BLANK":
                continue
            if word == "note":
                words.append(unquoted(part[1]))
            else:
                said[word] = unquoted(part[1])
        elif word in _DESCRIBING:
            reader.say(
                part[0], say("I expected words in quotation marks after {word}.", word=word), LINE
            )
        elif len(part) == 1 and part[0].kind == "STRING":
            words.append(unquoted(part[0]))
        elif part[0].kind in ("WORD", "PIECE", "BLANK", "CLOCK", "DATE"):
            amount, planned = line_values.done_and_planned(reader, part)
            line_values.with_unit(reader, amount, planned)
        else:
            reader.say(part[0], say("“{word}” is too much here.", word=part[0].text[:40]), LINE)
    return Used(
        entry.word,
        amount,
        planned,
        said.get("supplier", ""),
        said.get("lot", ""),
        harvested,
        said.get("from", ""),
        said.get("age", ""),
        tuple(words),
        line_values.place_of(entry.first),
    )
