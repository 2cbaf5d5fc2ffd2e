"""A record as a dyer understands it: what was planned beside what was done."""

from __future__ import annotations

from datetime import date, time
from fractions import Fraction

from procedure.colour.space import Light
from procedure.model.quantity import Place, Quantity
from procedure.quantity.record import NamedTuple

# What stands for an answer: an amount, words, or nothing yet.
Value = Quantity | str | None


# A blank in a form, as on paper.
BLANK = "____"


class Answer(NamedTuple):
    """One thing that a step was asked for: what was done beside what was planned.

    ``word`` is a clause of the language of procedures (at, from, to, over, for, until,
    with) or times, way, taken; ``name`` the material after ``with``. ``done`` is None
    where the blank was left; ``place`` is where the answer or its blank is.
    """

    word: str
    name: str
    done: Value
    planned: Value
    place: Place


class HeatReading(NamedTuple):
    """One reading of a thermometer: minutes since midnight of the first day, and °C."""

    minute: Fraction
    heat: Fraction


class Log(NamedTuple):
    """A logger's file named in a record, and the columns that it says hold time and heat."""

    file: str
    time: str
    heat: str
    place: Place


class StepDone(NamedTuple):
    """One step as it went: ``number`` and ``words`` as the form had them.

    ``added`` where the procedure had no such step; ``skipped`` and ``otherwise`` are the
    words that say why and how.
    """

    number: str
    words: str
    added: bool
    answers: tuple[Answer, ...]
    begun: tuple[date | None, time] | None
    ended: tuple[date | None, time] | None
    heats: tuple[HeatReading, ...]
    logs: tuple[Log, ...]
    skipped: str | None
    otherwise: tuple[str, ...]
    seen: tuple[str, ...]
    notes: tuple[str, ...]
    photographs: tuple[str, ...]
    place: Place

    def answer(self, word: str, name: str = "") -> Answer | None:
        """The answer of that word, and for ``with`` of that material."""
        return next((one for one in self.answers if (one.word, one.name) == (word, name)), None)


class Used(NamedTuple):
    """A lot or a material as it was really taken."""

    name: str
    amount: Value
    planned: Value
    supplier: str
    lot: str
    harvested: date | None
    origin: str
    age: str
    words: tuple[str, ...]
    place: Place


class Water(NamedTuple):
    """The water: where it comes from, mg of calcium carbonate in a litre, its pH."""

    source: str
    hardness: Fraction | None
    hardness_written: str
    acidity: Fraction | None
    notes: tuple[str, ...]


class Measured(NamedTuple):
    """A colour as it was written down.

    ``form`` is Lab, XYZ, sRGB, hex, Munsell, meter, words or unstated; ``values`` its numbers;
    ``text`` the words, the notation, the hex digits or the row of the meter's file ``file``.
    ``light`` is None where the record does not say it.
    """

    form: str
    values: tuple[float, ...]
    text: str
    file: str
    light: Light | None
    place: Place


class BlueWool(NamedTuple):
    """A blue wool reference in a light test: its number 1 to 8 and its grade of change."""

    number: int
    change: str


class LightTest(NamedTuple):
    """A light test with one half covered, beside blue wool references (ISO 105-B02).

    ``grade`` is the blue wool grade that the dyer gave, 1 to 8 with halves (``4-5``).
    """

    begun: date | None
    ended: date | None
    sun_hours: Fraction | None
    covered: Measured | None
    exposed: Measured | None
    change: str
    references: tuple[BlueWool, ...]
    grade: str
    notes: tuple[str, ...]
    place: Place


class WashTest(NamedTuple):
    """A wash test: how it was washed, the colour before and after, the cloths washed along."""

    day: date | None
    washed: str
    before: Measured | None
    after: Measured | None
    change: str
    staining: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    place: Place


class Result(NamedTuple):
    """What came out of one lot."""

    lot: str
    colours: tuple[Measured, ...]
    weight: Value
    evenness: str
    hand: str
    washes: tuple[WashTest, ...]
    lights: tuple[LightTest, ...]
    notes: tuple[str, ...]
    photographs: tuple[str, ...]
    place: Place


class Record(NamedTuple):
    """A whole record, as one file says it."""

    file: str
    title: str = ""
    of: str = ""
    titled: str = ""
    edition: str = ""
    content: str = ""
    begun: date | None = None
    ended: date | None = None
    location: str = ""
    by: tuple[str, ...] = ()
    weather: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    photographs: tuple[str, ...] = ()
    water: Water = Water("", None, "", None, ())
    lots: tuple[Used, ...] = ()
    materials: tuple[Used, ...] = ()
    steps: tuple[StepDone, ...] = ()
    results: tuple[Result, ...] = ()

    @property
    def open_answers(self) -> tuple[Answer, ...]:
        """The blanks that are still to be filled in."""
        return tuple(one for step in self.steps for one in step.answers if one.done is None)
