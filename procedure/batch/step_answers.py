"""The steps of a record: what was answered, when, how hot, and what went otherwise."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction

from procedure.batch import line_values
from procedure.batch.record_lines import LINE, RecordEntry, RecordReader, below, once, unknown
from procedure.batch.record_words import unquoted
from procedure.batch.types import Answer, HeatReading, Log, StepDone
from procedure.findings import say
from procedure.language import Token
from procedure.model.quantity import Place, Quantity
from procedure.quantity.day import A_DAY
from procedure.vocabulary import near
from procedure.wording.samples import shown

CLAUSES = ("at", "from", "to", "over", "for", "until", "with", "times", "taken", "way")


@dataclass(slots=True)
class _Said:
    """What the lines of one step have said so far."""

    answers: list[Answer] = field(default_factory=list)
    begun: tuple[date | None, time] | None = None
    ended: tuple[date | None, time] | None = None
    heats: list[HeatReading] = field(default_factory=list)
    logs: list[Log] = field(default_factory=list)
    skipped: str | None = None
    otherwise: list[str] = field(default_factory=list)
    seen: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    photographs: list[str] = field(default_factory=list)


# What may be written more than once in a step.
_OFTEN = ("with", "heats", "logger", "otherwise", "seen", "note", "photograph")


def steps(reader: RecordReader) -> tuple[StepDone, ...]:
    """All steps of the record, in order."""
    made: list[StepDone] = []
    for entry in reader.of("steps"):
        if entry.word not in ("step", "added"):
            meant = near(entry.word, ["step", "added"])
            hint = say('Write step 4 "..." or added "...".')
            if meant:
                hint = say("Did you mean “{meant}”?", meant=meant)
            reader.say(entry.first, say("“{word}” begins no step.", word=entry.word[:40]), hint)
            continue
        made.append(_step(reader, entry))
    return tuple(made)


def _step(reader: RecordReader, entry: RecordEntry) -> StepDone:
    tokens = entry.tokens[1:]
    number = ""
    if entry.word == "step":
        if tokens and line_values.STEP.fullmatch(tokens[0].text):
            number = tokens[0].text
            tokens = tokens[1:]
        else:
            reader.say(entry.first, "I expected the number of the step.", 'step 4 "dye yarn"')
            if len(tokens) > 1 and tokens[0].kind == "BLANK":
                tokens = tokens[1:]
    words = ""
    if tokens and tokens[0].kind == "STRING":
        words = unquoted(tokens[0])
        tokens = tokens[1:]
    elif not tokens or tokens[0].kind != "BLANK":
        reader.say(entry.first, "I expected the step in quotation marks.", 'added "rinsed again"')
    if tokens and tokens[0].kind != "BLANK":
        reader.say(tokens[0], say("“{word}” is too much here.", word=tokens[0].text[:40]), LINE)
    said = _Said()
    once(reader, entry.block, *_OFTEN)
    for line in entry.block:
        _line(reader, line, said)
    if said.begun is not None and said.ended is not None:
        (first, began), (last, stopped) = said.begun, said.ended
        if first is not None and last is not None and (last, stopped) < (first, began):
            reader.say(
                entry.first, "The step ends before it begins.", "Look at its days and times again."
            )
    return StepDone(
        number,
        words,
        entry.word == "added",
        tuple(said.answers),
        said.begun,
        said.ended,
        tuple(said.heats),
        tuple(said.logs),
        said.skipped,
        tuple(said.otherwise),
        tuple(said.seen),
        tuple(said.notes),
        tuple(said.photographs),
        line_values.place_of(entry.first),
    )


def _line(reader: RecordReader, line: RecordEntry, said: _Said) -> None:
    below(reader, line)
    if line.word in CLAUSES:
        said.answers.append(_answer(reader, line))
        return
    taken = _LINES.get(line.word)
    if taken is None:
        unknown(reader, line.first, [*CLAUSES, *_LINES], "a step")
        return
    taken(reader, line, said)


def _answer(reader: RecordReader, line: RecordEntry) -> Answer:
    tokens = line.tokens[1:]
    name = ""
    if line.word == "with":
        if tokens and line_values.NAME.fullmatch(tokens[0].text):
            name = tokens[0].text
            tokens = tokens[1:]
        else:
            reader.say(line.first, "I expected a name after with.", "with alum 14.4 g")
            tokens = []
    if not tokens:
        reader.say(line.first, say("Nothing is written after {word}.", word=line.word), LINE)
        return Answer(line.word, name, None, None, line_values.place_of(line.first))
    if line.word == "taken" and tokens[0].text.casefold() in ("yes", "no"):
        tokens = [tokens[0]._replace(kind="STRING", text=f'"{tokens[0].text}"'), *tokens[1:]]
    elif line.word == "taken" and tokens[0].kind == "PIECE" and tokens[0].text != "unstated":
        said = say("“{word}” is neither yes nor no.", word=tokens[0].text[:40])
        reader.say(tokens[0], said, say("Write yes or no, and the rest as a note."))
        tokens = [tokens[0]._replace(kind="BLANK", text="____"), *tokens[1:]]
    done, planned = line_values.done_and_planned(reader, tokens)
    at = next((i for i, token in enumerate(tokens) if token.text == "planned"), len(tokens))
    where = line_values.place_of_all(tokens[:at] or tokens)
    if not line_values.unlike(done, planned):  # which is said already
        _kind(reader, line, done, where)
    return Answer(line.word, name, done, planned, where)


# What kinds of amount a clause can have; words in quotation marks are allowed for each.
_KINDS: dict[str, tuple[str, ...]] = {
    "at": ("temperature", "unstated"),
    "from": ("temperature", "unstated"),
    "over": ("time", "unstated"),
    "for": ("time", "unstated"),
    "to": ("temperature", "volume", "acidity", "unstated"),
    "until": ("temperature", "time", "acidity", "unstated"),
    "times": ("number", "unstated"),
    "taken": ("unstated",),
    "way": ("unstated",),
}


def _kind(reader: RecordReader, line: RecordEntry, done: object, where: Place) -> None:
    kinds = _KINDS.get(line.word)
    amount_of = isinstance(done, Quantity) and line.word == "with" and done.kind == "number"
    if amount_of or (isinstance(done, Quantity) and kinds is not None and done.kind not in kinds):
        assert isinstance(done, Quantity)
        kinds = kinds or ()
        wanted = {"temperature": "a heat", "time": "a time", "number": "a number"}
        meant = wanted.get(kinds[0], "words in quotation marks") if kinds else ""
        meant = "an amount with its unit" if amount_of else meant
        reader.say(
            (where.line, where.column, where.to),
            say(
                "“{done}” is not what {word} is for: {meant}.",
                done=done.text[:40],
                word=line.word,
                meant=meant,
            ),
            "Write it with its unit, or in words with quotation marks.",
        )


def _begun(reader: RecordReader, line: RecordEntry, said: _Said) -> None:
    said.begun = line_values.moment(reader, line.tokens[1:])


def _ended(reader: RecordReader, line: RecordEntry, said: _Said) -> None:
    said.ended = line_values.moment(reader, line.tokens[1:])


def _heats(reader: RecordReader, line: RecordEntry, said: _Said) -> None:
    """``heats 09:10 40 °C, 09:55 85 °C``; a time that is earlier is one of the next day."""
    part: list[Token] = []
    for token in (*line.tokens[1:], None):
        if token is not None and token.kind != "COMMA":
            part.append(token)
            continue
        if part and not all(one.kind == "BLANK" for one in part):
            _reading(reader, part, said)
        part = []


def _reading(reader: RecordReader, part: list[Token], said: _Said) -> None:
    when = line_values.clock(reader, part[0])
    if when is None:
        return
    if len(part) < 2:
        reader.say(part[0], "The heat is missing.", "heats 09:10 40 °C, 09:55 85 °C")
        return
    following = next((token for token in part[1:] if token.kind == "CLOCK"), None)
    if following is not None:
        remedy = "Part the readings with commas: heats 09:10 40 °C, 09:55 85 °C."
        reader.say(
            following, say("A comma is missing before {word}.", word=following.text[:40]), remedy
        )
        return
    heat = line_values.amount(reader, part[1:])
    if not isinstance(heat, Quantity) or heat.kind != "temperature" or heat.low is None:
        if isinstance(heat, Quantity) and heat.kind == "number":
            bare = heat.text[:40]
            reader.say(
                part[1],
                say("“{done}” has no unit.", done=bare),
                shown("Write it with its unit: {done} {degrees}.", done=bare),
            )
        elif heat is not None:
            reader.say(part[1], "I expected a heat such as 85 °C.", LINE)
        return
    minute = Fraction(when.hour * 60 + when.minute) + Fraction(when.second, 60)
    if said.heats:
        last = said.heats[-1].minute
        minute += last // A_DAY * A_DAY
        if minute == last:
            told = say("{clock} is there twice.", clock=part[0].text[:40])
            reader.say(part[0], told, "Keep one of the two heats, or put their times right.")
        if minute < last:
            minute += A_DAY
    assert heat.high is not None
    said.heats.append(HeatReading(minute, (heat.low + heat.high) / 2))


def _log(reader: RecordReader, line: RecordEntry, said: _Said) -> None:
    """``logger "kettle.csv" time "Time" heat "Probe 1"``; the columns may be left out."""
    tokens = line.tokens[1:]
    if not tokens or tokens[0].kind != "STRING":
        if not tokens or tokens[0].kind != "BLANK":
            reader.say(line.first, "I expected a file in quotation marks.", 'logger "kettle.csv"')
        return
    columns: dict[str, str] = {}
    rest = tokens[1:]
    while len(rest) >= 2 and rest[0].text in ("time", "heat") and rest[1].kind == "STRING":
        columns[rest[0].text] = unquoted(rest[1])
        rest = rest[2:]
    if rest:
        reader.say(rest[0], "I expected time or heat and a column’s name.", LINE)
    said.logs.append(
        Log(
            unquoted(tokens[0]),
            columns.get("time", ""),
            columns.get("heat", ""),
            line_values.place_of(tokens[0]),
        )
    )


def _skipped(reader: RecordReader, line: RecordEntry, said: _Said) -> None:
    rest = line.tokens[1:]
    if rest and all(token.kind == "BLANK" for token in rest):
        return
    said.skipped = ", ".join(line_values.texts(reader, line, rest))


def _gather(name: str) -> Callable[[RecordReader, RecordEntry, _Said], None]:
    def taken(reader: RecordReader, line: RecordEntry, said: _Said) -> None:
        getattr(said, name).extend(line_values.texts(reader, line, line.tokens[1:]))

    return taken


_LINES: dict[str, Callable[[RecordReader, RecordEntry, _Said], None]] = {
    "begun": _begun,
    "ended": _ended,
    "heats": _heats,
    "logger": _log,
    "skipped": _skipped,
    "otherwise": _gather("otherwise"),
    "seen": _gather("seen"),
    "note": _gather("notes"),
    "photograph": _gather("photographs"),
}
