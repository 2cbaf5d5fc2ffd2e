"""Values of a record's lines: words, days, clock times, amounts, colours, with their findings."""

from __future__ import annotations

import re
from datetime import date, time, timedelta
from fractions import Fraction

from procedure.batch.loggers import HOTTEST
from procedure.batch.record_lines import LINE, RecordEntry, RecordReader
from procedure.batch.record_words import unquoted
from procedure.batch.recorded_amounts import NotAnAmount, meant, measured
from procedure.batch.types import Measured, Value
from procedure.colour.grades import GRADES
from procedure.colour.space import Light, from_hex, white_points
from procedure.findings import Says, listed, say
from procedure.language import Token
from procedure.model.quantity import Place, Quantity
from procedure.wording.samples import shown

# A name as in a procedure, and the number of a step, perhaps of a block or a followed file.
NAME = re.compile(r"[^\W\d_][^\W_]*(?:[-.][^\W_]+)*")
STEP = re.compile(r"[0-9]+(?:[.-]?[0-9a-z]+)*")
# A longer text is no amount that somebody wrote.
LONGEST_AMOUNT = 60
DECIMAL_COMMA = re.compile(r"[-−]?[0-9]+,[0-9]+")


def place_of(token: Token) -> Place:
    """Where a word is."""
    return Place(token.line, token.column, token.to)


def place_of_all(tokens: list[Token]) -> Place:
    """From the first word to the last on the same line."""
    first = tokens[0]
    last = next(token for token in reversed(tokens) if token.line == first.line)
    return Place(first.line, first.column, last.to)


def day(reader: RecordReader, token: Token) -> date | None:
    """A day; a finding where there is no such day."""
    if token.kind == "BLANK":
        return None
    if token.kind == "DATE":
        try:
            found = date.fromisoformat(token.text)
        except ValueError:
            pass
        else:
            _of_our_time(reader, token, found)
            return found
    reader.say(token, say("“{word}” is no day.", word=token.text[:40]), _day_meant(token.text))
    return None


# A clock may be wrong by some months, a record by centuries; nobody has records of dye baths by
# the Gregorian day from before the first. Both are the project's choice.
OLDEST, AHEAD = date(1582, 10, 15), timedelta(days=400)


def _of_our_time(reader: RecordReader, token: Token, found: date) -> None:
    if OLDEST <= found <= date.today() + AHEAD:
        return
    reader.say(
        token,
        say("{day} is no day of our time.", day=token.text),
        say("Look at the year again."),
        "unlikely",
        "warning",
        "common practice",
    )


def _day_meant(text: str) -> Says:
    """How a day is written, with the day that was meant where it can be told."""
    found = re.fullmatch(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})", text)
    back = re.fullmatch(r"(\d{4})[./-](\d{1,2})[./-](\d{1,2})", text)
    ways = set()
    if found is not None:
        one, two, year = map(int, found.groups())
        ways = {_iso(year, one, two), _iso(year, two, one)} - {""}
    elif back is not None:
        ways = {_iso(*map(int, back.groups()))} - {""}
    if len(ways) == 1:
        return say("Write year-month-day: {day}.", day=ways.pop())
    if ways:
        return say("Write {days}, whichever is meant.", days=listed(sorted(ways), last=" or "))
    return say("Write year-month-day: 2026-04-18.")


def _iso(year: int, month: int, of_month: int) -> str:
    try:
        return date(year, month, of_month).isoformat()
    except ValueError:
        return ""


def clock(reader: RecordReader, token: Token) -> time | None:
    """A time of day; a finding where there is no such time."""
    if token.kind == "BLANK":
        return None
    if token.kind == "CLOCK":
        try:
            hour, minute, second = (*map(int, token.text.split(":")), 0)[:3]
            return time(hour, minute, second)
        except ValueError:
            pass
    found = re.fullmatch(r"(\d{1,2})[.h](\d{2})", token.text)
    told = found is not None and int(found[1]) < 24 and int(found[2]) < 60
    meant = f"{int(found[1]):02}:{found[2]}" if found is not None and told else "09:55"
    reader.say(
        token,
        say("“{word}” is no time of day.", word=token.text[:40]),
        say("Write hours:minutes: {meant}.", meant=meant),
    )
    return None


def moment(reader: RecordReader, tokens: list[Token]) -> tuple[date | None, time] | None:
    """A time of day, perhaps with its day before it."""
    if not tokens:
        return None
    half = tokens[-1].text.casefold().replace(".", "")
    if half in ("am", "pm") and len(tokens) > 1:
        hour, colon, rest = tokens[-2].text.partition(":")
        hours = int(hour) % 12 + 12 * (half == "pm") if hour.isdecimal() else None
        meant = f": {hours:02}{colon}{rest or ':00'}" if hours is not None else ": 09:55"
        reader.say(
            tokens[-1],
            say("“{word}” is not read.", word=half),
            say("Write the time by 24 hours{meant}.", meant=meant),
        )
        return None
    found = day(reader, tokens[0]) if len(tokens) > 1 else None
    when = clock(reader, tokens[-1])
    if len(tokens) > 2:
        reader.say(tokens[1], "One time is enough here.", LINE)
    return None if when is None else (found, when)


def as_written(tokens: list[Token]) -> str:
    """Words of a line with single spaces, and none before a comma."""
    return " ".join(token.text for token in tokens).replace(" ,", ",")


def amount(reader: RecordReader, tokens: list[Token]) -> Value:
    """An amount, words in quotation marks, or None for a blank."""
    if all(token.kind == "BLANK" for token in tokens):
        return None
    if len(tokens) == 1 and tokens[0].kind == "STRING":
        return unquoted(tokens[0])
    try:
        return _possible(reader, _in_all(measured(tokens)))
    except NotAnAmount as fault:
        place = (fault.line, fault.column, fault.to)
        sentence: Says | str = fault.sentence
        remedy: Says | str = fault.remedy
        words = as_written(tokens)
        kinds = {token.kind for token in tokens}
        if kinds <= {"WORD", "PIECE", "LABEL"} and not any(mark.isdigit() for mark in words):
            sentence = say("“{words}” is no amount.", words=words[:40])
            remedy = say(
                'Write a number with its unit, or words in quotation marks: "{words}".', words=words
            )
        elif near_it := meant(words[:LONGEST_AMOUNT]):
            sentence = say("I do not know the unit in “{words}”.", words=words[:40])
            remedy = say("Did you mean “{meant}”?", meant=near_it)
        reader.say(place, sentence, remedy)
        return None


def _in_all(made: Quantity) -> Quantity:
    """The weight or volume of all pieces, of ``6 skeins of 60 g``; another amount as it is."""
    each = made.each
    ends = (made.low, made.high)
    if made.kind != "count" or each is None or each.low is None or each.high is None:
        return made
    if ends[0] is None or ends[1] is None:
        return made
    low, high = ends[0] * each.low, ends[1] * each.high
    return made._replace(kind=each.kind, low=low, high=high, unit=each.unit)


def _possible(reader: RecordReader, made: Quantity) -> Quantity | None:
    """An amount as it is; what cannot be is said and left out.

    Only a heat can be below nothing, and none is above :data:`HOTTEST`.
    """
    too = ""
    if made.kind == "temperature":
        if made.high is not None and made.high > HOTTEST:
            too = "“{amount}” is hotter than any dye bath."
    elif made.low is not None and made.low < 0:
        too = "“{amount}” is less than nothing."
    if not too:
        return made
    place = (made.place.line, made.place.column, made.place.to)
    reader.say(
        place, say(too, amount=made.text[:40]), "Write what was really there, or leave the blank."
    )
    return None


def done_and_planned(reader: RecordReader, tokens: list[Token]) -> tuple[Value, Value]:
    """What was done and what was planned: ``92 °C planned 85 °C``, each may be left out."""
    at = next((i for i, token in enumerate(tokens) if token.text == "planned"), len(tokens))
    done, plan = tokens[:at], tokens[at + 1 :]
    if at < len(tokens) and not plan:
        reader.say(tokens[at], "Nothing is written after planned.", LINE)
    was = amount(reader, done) if done else None
    meant = amount(reader, plan) if plan else None
    if isinstance(was, Quantity):
        _fits(reader, was, meant)
    return was, meant


def unlike(was: Value, meant: Value) -> bool:
    """True where an amount is of another kind than the plan beside it."""
    if not isinstance(was, Quantity) or not isinstance(meant, Quantity):
        return False
    return was.kind != meant.kind and not {"unstated", "loose"} & {was.kind, meant.kind}


_WITH_UNITS = ("temperature", "time", "mass", "volume")


def _fits(reader: RecordReader, was: Quantity, meant: Value) -> None:
    """Say where an amount is of another kind than its plan, or has no unit at all."""
    place = (was.place.line, was.place.column, was.place.to)
    if isinstance(meant, Quantity):
        if was.kind == "number" and meant.kind in _WITH_UNITS:
            said, plan = was.text[:40], meant.text[:40]
            remedy = say("Write it with its unit; the plan says {plan}.", plan=plan)
            reader.say(place, say("“{done}” has no unit.", done=said), remedy)
            return
        if unlike(was, meant):
            reader.say(
                place,
                say(
                    "“{done}” is not what was planned: “{plan}”.",
                    done=was.text[:40],
                    plan=meant.text[:40],
                ),
                "Write it with a unit of the same kind, or in words with quotation marks.",
            )


def with_unit(reader: RecordReader, was: Value, meant: Value = None) -> None:
    """Say where a weight or an amount has no unit; where a plan is beside it, that is said."""
    if isinstance(was, Quantity) and was.kind == "number" and not isinstance(meant, Quantity):
        place = (was.place.line, was.place.column, was.place.to)
        said = was.text[:40]
        reader.say(
            place,
            say("“{done}” has no unit.", done=said),
            shown("Write it with its unit: {done} {weight}.", done=said),
        )


def texts(reader: RecordReader, entry: RecordEntry, tokens: list[Token]) -> tuple[str, ...]:
    """Words in quotation marks, with commas between them."""
    made: list[str] = []
    for token in tokens:
        if token.kind in ("COMMA", "BLANK"):
            continue
        if token.kind == "STRING":
            made.append(unquoted(token))
            continue
        words = as_written(tokens)
        plain = not any(one.kind in ("STRING", "OPEN_STRING") for one in tokens)
        remedy = say("Put the words in quotation marks.")
        if token.kind == "OPEN_STRING":
            remedy = say("Close the quotation mark on the same line.")
        elif plain and len(words) < LONGEST_AMOUNT:
            shown = 'Put the words in quotation marks: {word} "{words}".'
            remedy = say(shown, word=entry.word, words=words)
        reader.say(
            token, say("I expected words in quotation marks after {word}.", word=entry.word), remedy
        )
        break
    return tuple(made)


def number(text: str) -> Fraction | None:
    """A plain number, or None."""
    from procedure.model.quantity import number as read

    bare = text.lstrip("-–−")
    if not bare or not all(mark in "0123456789./" for mark in bare):
        return None
    try:
        return read(text).value
    except (ValueError, ZeroDivisionError):
        return None


def grade(reader: RecordReader, token: Token, most: int = 5) -> str:
    """A grade from 1 to ``most`` with halves as ``4-5``; empty with a finding for none."""
    text = token.text.replace("–", "-")
    known = GRADES if most == 5 else blue_wool_grades()
    if text in known:
        return text
    if token.kind != "BLANK":
        scale = "1 to 5" if most == 5 else "1 to 8"
        reader.say(
            token,
            say("“{word}” is no grade.", word=token.text[:40]),
            say("Write {scale}, with halves as 3-4.", scale=scale),
        )
    return ""


def blue_wool_grades() -> tuple[str, ...]:
    """The grades of blue wool: 1, 1-2, 2 ... 8."""
    halves = [f"{n}-{n + 1}" for n in range(1, 8)]
    return tuple(one for n in range(1, 9) for one in (str(n), *halves[n - 1 : n]))


# ------------------------------------------------------------------ colours

_NUMBERS = {"Lab": 3, "XYZ": 3, "sRGB": 3}
FORMS = (*_NUMBERS, "hex", "Munsell", "meter")


def colour(reader: RecordReader, entry: RecordEntry, tokens: list[Token]) -> Measured | None:
    """A colour as it was written: ``Lab 62 8 55 under D65 at 10°``, ``hex "#c8a232"``, ..."""
    if not tokens or tokens[0].kind == "BLANK":
        if not tokens:
            hint = " A # begins a comment outside quotation marks." if entry.comment else ""
            reader.say(
                entry.first,
                say("A colour is missing.{word}", word=hint),
                'Write one: hex "#c8a232".',
            )
        return None
    form = tokens[0].text
    if form == "unstated" or (tokens[0].kind == "STRING" and not _LIKE_HEX.search(tokens[0].text)):
        return _in_words(reader, tokens)
    if tokens[0].kind == "STRING":
        form, rest = "hex", tokens
    else:
        rest = tokens[1:]
    if form not in FORMS:
        reader.say(
            tokens[0],
            say("“{form}” is no way to say a colour.", form=form[:40]),
            say(
                "Write one of {known}, or words in quotation marks: {line}.",
                known=", ".join(FORMS),
                line=f'{entry.word} "{as_written(tokens)[:40]}"',
            ),
        )
        return None
    if not rest:
        hint = " A # begins a comment outside quotation marks." if entry.comment else ""
        reader.say(
            tokens[0],
            say("Nothing is written after {form}.{word}", form=form, word=hint),
            'For example hex "#c8a232".',
        )
        return None
    if rest[0].kind == "BLANK":
        return None
    if form in _NUMBERS:
        return _numbers(reader, form, tokens[0], rest)
    return _notation(reader, form, tokens[0], rest)


_LIKE_HEX = re.compile(r"#|^.[0-9a-fA-F]*[0-9][0-9a-fA-F]*.$")


def _in_words(reader: RecordReader, tokens: list[Token]) -> Measured:
    """A colour in words, or one that nobody knows any more; neither can be compared."""
    if len(tokens) > 1:
        reader.say(tokens[1], say("“{word}” is too much here.", word=tokens[1].text[:40]), LINE)
    form, text = ("words", unquoted(tokens[0])) if tokens[0].kind == "STRING" else ("unstated", "")
    return Measured(form, (), text, "", None, place_of_all(tokens))


MOST = 10**12
# Beyond these no yarn lies: a* and b* as for a meter's file, and a fluorescent white is above 100.
_SPANS = {
    "Lab": ((0, 100), (-200, 200), (-200, 200)),
    "XYZ": ((0, 200), (0, 200), (0, 250)),
    "sRGB": ((0, 255),) * 3,
}


# What the number of white is; a meter's file of shares says 1.
_WHOLE = {"Lab": 100, "XYZ": 100, "sRGB": 255}


def _numbers(reader: RecordReader, form: str, head: Token, rest: list[Token]) -> Measured | None:
    figures = [token for token in rest if token.kind != "COMMA"]
    values = [number(token.text) for token in figures[: _NUMBERS[form]]]
    # A number without bounds has no place in any colour, and none as a float.
    found = [float(value) for value in values if value is not None and abs(value) < MOST]
    if len(found) < _NUMBERS[form]:
        remedy = say("Write them all: {line}.", line=_example(form))
        comma = next((one.text for one in figures if DECIMAL_COMMA.fullmatch(one.text)), "")
        if comma:
            remedy = say("Write decimals with a point: {it}.", it=comma.replace(",", "."))
        reader.say(head, say("{form} has three numbers.", form=form), remedy)
        return None
    for figure, value, (least, most) in zip(figures, found, _SPANS[form], strict=False):
        if not least <= value <= most:
            span = say(
                "This one goes from {least} to {most}. Look at the numbers again.",
                least=str(least), most=str(most),
            )  # fmt: skip
            reader.say(
                figure,
                say("{word} is no number of {form}.", word=figure.text[:40], form=form),
                span,
            )
            return None
    if max(map(abs, found)) <= 1 and any(value % 1 for value in found):
        whole = " ".join(f"{value * _WHOLE[form]:.4g}" for value in found)
        reader.say(
            head,
            say("{form} has numbers up to {most} here, and these are 1 at most: all but black.",
                form=form, most=f"{_WHOLE[form]}"),
            say("If they are shares of one, write {form} {whole}.", form=form, whole=whole),
            "unlikely", "warning", "CIE 15 (L* and Y of white are 100); IEC 61966-2-1 (0 to 255)",
        )  # fmt: skip
    light = _light(reader, form, head, figures[_NUMBERS[form] :])
    return Measured(form, tuple(found), "", "", light, place_of_all([head, *rest]))


def _example(form: str) -> str:
    return "sRGB 200 162 50" if form == "sRGB" else f"{form} 62.1 8.4 55 under D65 at 10°"


def _light(reader: RecordReader, form: str, head: Token, rest: list[Token]) -> Light | None:
    """The light behind a colour: ``under D65 at 10°``; None with a note where it is not said."""
    if form == "sRGB":
        if rest:
            reader.say(rest[0], "sRGB has its light by itself: D65 and 2°.", "Leave the rest out.")
        return None
    if not rest:
        reader.say(
            head,
            say(
                "The light that {form} was measured under is not said; D65 and 10° are taken.",
                form=form,
            ),
            "Write what the meter was set to: under D65 at 10°.",
            rule="light-unstated",
            level="note",
            source="common practice: most meters for textiles are set to D65 and 10°",
        )
        return None
    words = [token.text for token in rest]
    if len(words) == 4 and words[0] == "under" and words[2] == "at":
        degrees = words[3].rstrip("°")
        light = Light(words[1], int(degrees)) if degrees in ("2", "10") else None
        if light is not None and light in white_points():
            return light
    known = ", ".join(dict.fromkeys(light.illuminant for light in white_points()))
    reader.say(
        rest[0],
        say("I do not know the light “{word}”.", word=" ".join(words)[:40]),
        say(
            "Write it as under D65 at 10°; illuminants are {known}, observers 2° and 10°.",
            known=known,
        ),
    )
    return None


def _notation(reader: RecordReader, form: str, head: Token, rest: list[Token]) -> Measured | None:
    text = unquoted(rest[0])
    file = ""
    left = rest[1:]
    try:
        if form == "hex":
            from_hex(text)
            text = f"#{text.removeprefix('#').lower()}"
        elif form == "Munsell":
            from procedure.colour.munsell import written

            count = 1 if rest[0].kind == "STRING" else len(rest)
            text = written(" ".join(unquoted(token) for token in rest[:count]))
            left = rest[count:]
        else:
            file = text
            named = len(left) == 2 and left[0].text == "row"
            text = unquoted(left[1]) if named else ""
            left = [] if named else left
    except ValueError as reason:
        reader.say(
            rest[0],
            say("{Reason}.", reason=str(reason)),
            LINE,
        )
        return None
    if left:
        reader.say(left[0], say("“{word}” is too much here.", word=left[0].text[:40]), LINE)
    return Measured(form, (), text, file, None, place_of_all([head, *rest]))
