"""The results of a record: colour, hand and evenness of each lot, light and wash tests."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from procedure.batch import line_values
from procedure.batch.record_lines import LINE, RecordEntry, RecordReader, below, once, unknown
from procedure.batch.record_words import unquoted
from procedure.batch.types import BlueWool, LightTest, Measured, Result, Value, WashTest
from procedure.findings import say
from procedure.language import Token
from procedure.model.quantity import Quantity

_LINES = ("colour", "weight", "evenness", "hand", "wash", "light", "note", "photograph")
_LIGHT = ("begun", "ended", "sun", "covered", "exposed", "change", "reference", "grade", "note")
_WASH = ("day", "washed", "before", "after", "change", "cloth", "note")


def results(reader: RecordReader) -> tuple[Result, ...]:
    """The results of every lot, in order."""
    made: list[Result] = []
    for entry in reader.of("results"):
        if not line_values.NAME.fullmatch(entry.word):
            reader.say(entry.first, "I expected the name of a lot.", LINE)
            continue
        if len(entry.tokens) > 1:
            word = entry.tokens[1]
            reader.say(word, "A lot’s results are on lines below its name.", LINE)
        if any(entry.word == one.lot for one in made):
            remedy = "Put the results of a lot below one line with its name."
            reader.say(
                entry.first, say("The lot “{word}” is there twice.", word=entry.word[:40]), remedy
            )
        made.append(_result(reader, entry))
    return tuple(made)


def _result(reader: RecordReader, entry: RecordEntry) -> Result:
    colours: list[Measured] = []
    weight: Value = None
    one_line: dict[str, str] = {}
    washes: list[WashTest] = []
    lights: list[LightTest] = []
    notes: list[str] = []
    photographs: list[str] = []
    once(reader, entry.block, "colour", "color", "note", "photograph", "light", "wash")
    for line in entry.block:
        rest = line.tokens[1:]
        if line.word == "light":
            lights.append(_light_test(reader, line))
            continue
        if line.word == "wash":
            washes.append(_wash_test(reader, line))
            continue
        below(reader, line)
        if line.word in ("colour", "color"):  # as American dyers spell it
            found = line_values.colour(reader, line, rest)
            colours += [found] if found is not None else []
        elif line.word == "weight":
            weight, planned = line_values.done_and_planned(reader, rest)
            line_values.with_unit(reader, weight, planned)
        elif line.word in ("evenness", "hand"):
            one_line[line.word] = ", ".join(line_values.texts(reader, line, rest))
        elif line.word == "note":
            notes += line_values.texts(reader, line, rest)
        elif line.word == "photograph":
            photographs += line_values.texts(reader, line, rest)
        else:
            unknown(reader, line.first, list(_LINES), "a lot’s results")
    return Result(
        entry.word,
        tuple(colours),
        weight,
        one_line.get("evenness", ""),
        one_line.get("hand", ""),
        tuple(washes),
        tuple(lights),
        tuple(notes),
        tuple(photographs),
        line_values.place_of(entry.first),
    )


def _test_heading(reader: RecordReader, line: RecordEntry) -> None:
    words = [token.text for token in line.tokens[1:]]
    if words != ["test"]:
        reader.say(
            line.first, say("I expected {word} test alone on its line.", word=line.word), LINE
        )


def _one_day(reader: RecordReader, line: RecordEntry) -> date | None:
    rest = line.tokens[1:]
    if len(rest) != 1:
        reader.say(
            line.first, say("I expected one day after {word}.", word=line.word), "day 2026-05-02"
        )
        return None
    return line_values.day(reader, rest[0])


def _one_grade(reader: RecordReader, line: RecordEntry, most: int = 5) -> str:
    rest = line.tokens[1:]
    if len(rest) != 1:
        reader.say(
            line.first,
            say("I expected one grade after {word}.", word=line.word),
            say("{word} 3-4", word=line.word),
        )
        return ""
    return line_values.grade(reader, rest[0], most)


def _sun(reader: RecordReader, line: RecordEntry) -> Fraction | None:
    rest = line.tokens[1:]
    found = line_values.amount(reader, rest) if rest else None
    if isinstance(found, Quantity) and found.kind == "time" and found.low is not None:
        assert found.high is not None
        return (found.low + found.high) / 2 / 60
    if not rest or found is not None:
        reader.say(line.first, "I expected hours of sun.", "sun 310 h")
    return None


def _light_test(reader: RecordReader, entry: RecordEntry) -> LightTest:
    _test_heading(reader, entry)
    days: dict[str, date | None] = {}
    halves: dict[str, Measured | None] = {}
    sun: Fraction | None = None
    grades: dict[str, str] = {}
    references: list[BlueWool] = []
    notes: list[str] = []
    once(reader, entry.block, "note", of_each=("reference",))
    for line in entry.block:
        below(reader, line)
        if line.word in ("begun", "ended"):
            days[line.word] = _one_day(reader, line)
        elif line.word == "sun":
            sun = _sun(reader, line)
        elif line.word in ("covered", "exposed"):
            halves[line.word] = line_values.colour(reader, line, line.tokens[1:])
        elif line.word == "change":
            grades["change"] = _one_grade(reader, line)
        elif line.word == "grade":
            grades["grade"] = _one_grade(reader, line, 8)
        elif line.word == "reference":
            references += _reference(reader, line)
        elif line.word == "note":
            notes += line_values.texts(reader, line, line.tokens[1:])
        else:
            unknown(reader, line.first, list(_LIGHT), "a light test")
    begun, ended = days.get("begun"), days.get("ended")
    if begun is not None and ended is not None and ended < begun:
        reader.say(entry.first, "The light test ends before it begins.", "Look at its days again.")
    return LightTest(
        begun,
        ended,
        sun,
        halves.get("covered"),
        halves.get("exposed"),
        grades.get("change", ""),
        tuple(references),
        grades.get("grade", ""),
        tuple(notes),
        line_values.place_of(entry.first),
    )


def _reference(reader: RecordReader, line: RecordEntry) -> list[BlueWool]:
    """``reference 4 change 3-4``: a blue wool reference and how far it changed."""
    rest = line.tokens[1:]
    if len(rest) == 3 and rest[0].text in "12345678" and rest[1].text == "change":
        change = line_values.grade(reader, rest[2])
        return [BlueWool(int(rest[0].text), change)] if change else []
    reader.say(line.first, "I expected a blue wool reference.", "reference 4 change 3-4")
    return []


def _wash_test(reader: RecordReader, entry: RecordEntry) -> WashTest:
    _test_heading(reader, entry)
    day: date | None = None
    washed = change = ""
    colours: dict[str, Measured | None] = {}
    staining: list[tuple[str, str]] = []
    notes: list[str] = []
    once(reader, entry.block, "note", of_each=("cloth",))
    for line in entry.block:
        below(reader, line)
        rest = line.tokens[1:]
        if line.word == "day":
            day = _one_day(reader, line)
        elif line.word == "washed":
            washed = ", ".join(line_values.texts(reader, line, rest))
        elif line.word in ("before", "after"):
            colours[line.word] = line_values.colour(reader, line, rest)
        elif line.word == "change":
            change = _one_grade(reader, line)
        elif line.word == "cloth":
            staining += _cloth(reader, line, rest)
        elif line.word == "note":
            notes += line_values.texts(reader, line, rest)
        else:
            unknown(reader, line.first, list(_WASH), "a wash test")
    return WashTest(
        day,
        washed,
        colours.get("before"),
        colours.get("after"),
        change,
        tuple(staining),
        tuple(notes),
        line_values.place_of(entry.first),
    )


def _cloth(reader: RecordReader, line: RecordEntry, rest: list[Token]) -> list[tuple[str, str]]:
    """``cloth "cotton" staining 4-5``: a white cloth that was washed along."""
    if len(rest) == 3 and rest[0].kind == "STRING" and rest[1].text == "staining":
        grade = line_values.grade(reader, rest[2])
        return [(unquoted(rest[0]), grade)] if grade else []
    reader.say(line.first, "I expected a cloth and its grade.", 'cloth "cotton" staining 4-5')
    return []
