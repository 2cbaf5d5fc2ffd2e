"""Findings as facts: what a second person would get wrong, where, and with which numbers.

A rule gives a :class:`Fact`: two templates with typed values in their fields. Words are made
of it in one place, :mod:`procedure.wording`, which knows the reader's units, spelling and
form. Every number is in the base unit of its kind (°C, min, g, L) until then.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from procedure.quantity.record import NamedTuple

LEVELS = ("error", "warning", "note")


# ------------------------------------------------------------------ values


class Heat(NamedTuple):
    """A heat in °C, or a range of heats.

    A range that a heat word stands for is said by that word (the boil), unless it is not
    to be ``worded``.
    """

    low: Fraction
    high: Fraction | None = None
    worded: bool = True


class Measure(NamedTuple):
    """A number with an upper end where it is a range; the class of it says the unit."""

    low: Fraction
    high: Fraction | None = None


class Rate(Measure):
    """A change of heat in °C to the minute."""

    __slots__ = ()


class Warmer(Measure):
    """How much hotter one heat is than another, in °C."""

    __slots__ = ()


class Warmth(Measure):
    """How much warmth in all: degrees above a heat times hours, in °C h."""

    __slots__ = ()


class Span(Measure):
    """A time in minutes, or a range of times."""

    __slots__ = ()


class Mass(Measure):
    """A weight in grams, or a range of weights."""

    __slots__ = ()


class Volume(Measure):
    """A volume in litres, or a range of volumes."""

    __slots__ = ()


class Percent(Measure):
    """A share in hundredths: 12 is 12 %."""

    __slots__ = ()


class Liquor(Measure):
    """How much liquor there is to the fibre, in litres to the kilogram."""

    __slots__ = ()


class Strength(Measure):
    """How much of something is in each litre, in grams."""

    __slots__ = ()


class Count(Measure):
    """A number of things."""

    __slots__ = ()


class InUnit(NamedTuple):
    """An amount in a unit that the sentence is about, whoever reads it: 2.2 lb.

    ``low`` and ``high`` are in that unit, whose name is ``unit``.
    """

    low: Fraction
    high: Fraction | None
    unit: str


class Named(NamedTuple):
    """Something that the procedure names: ``kind`` is lot, bath, pot, material or thing.

    ``name`` is what the writer calls it. ``trade`` is its name in the trade, where it is
    another and the reader is to be told both.
    """

    kind: str
    name: str
    trade: str = ""


class LineNumber(NamedTuple):
    """A line of the procedure, by its number from 1."""

    number: int


class Word(NamedTuple):
    """Words that are said as they are: the writer's own, or those of the vocabulary."""

    text: str


class Sample(NamedTuple):
    """An amount in a line that shows how something is written, in round numbers of each system.

    ``kind`` is temperature, mass or volume, which says by which of their units a reader
    is shown one. ``us`` and ``imperial`` are alike for a heat and for a mass.
    """

    kind: str
    metric: str
    us: str
    imperial: str


class Way(NamedTuple):
    """The way through an ``if`` on which something is so; empty where it is so on every way."""

    path: str


class Several(NamedTuple):
    """A list of values, with what is said between two of them and between the last two.

    ``more`` is how many there are besides: of thousands none has them all.
    """

    values: tuple[Value, ...]
    between: str = ", "
    last: str = " and "
    more: int = 0


class Says(NamedTuple):
    """A sentence as a template: each ``{field}`` in it is one of the values.

    A field that begins with a capital is said with a capital, as at the start of a sentence.
    """

    template: str
    values: tuple[tuple[str, Value], ...] = ()


Measured = (
    Heat | Rate | Warmer | Warmth | Span | Mass | Volume | Percent | Liquor | Strength | Count
)
Value = Measured | InUnit | Named | LineNumber | Word | Sample | Way | Several | Says
NOTHING = Says("")


def say(template: str, **values: Value | str) -> Says:
    """A template with its values; a string is a :class:`Word`.

    Raises ``TypeError`` for a bare number: only a typed value knows its unit.
    """
    made: list[tuple[str, Value]] = []
    for name, value in values.items():
        if isinstance(value, str):
            made.append((name, Word(value)))
        elif isinstance(value, tuple):
            made.append((name, value))
        else:
            raise TypeError(f"{name} is {value!r}, which is no typed value")
    return Says(template, tuple(made))


def plainly_said(words: Says | str) -> Says:
    """Words as a template. A string is said as it is: a brace in it begins no field."""
    if isinstance(words, Says):
        return words
    return say("{words}", words=words) if "{" in words else Says(words)


MOST_IN_A_FACT = 100
"""Of each of a thousand baths a thousand things would be more than any program reads."""


def listed(words: Iterable[Value | str], last: str = " and ", more: int = 0) -> Several:
    """Values or words as a list: a, b and c; of many only the first are put into words.

    ``more`` are those that are not among the words, which are at most ``MOST_IN_A_FACT`` where
    there may be one list for each of many things.
    """
    values = tuple([Word(w) if isinstance(w, str) else w for w in words])
    return Several(values, last=last, more=more)


# ------------------------------------------------------------------ facts and findings


class Fact(NamedTuple):
    """What a rule found, apart from its place. ``kind`` is the name of the rule."""

    kind: str
    sentence: Says
    remedy: Says

    @property
    def values(self) -> dict[str, Value]:
        """Every value of the fact by its field."""
        return {**dict(self.remedy.values), **dict(self.sentence.values)}


class Related(NamedTuple):
    """A place that belongs to a finding, with what it has to do with it.

    ``says`` is the fact, ``sentence`` its words for the reader of the finding; ``file`` and
    ``key`` are as those of a :class:`Finding`.
    """

    file: str
    line: int
    column: int
    to: int
    sentence: str
    says: Says = NOTHING
    key: str = ""


class Edit(NamedTuple):
    """A change of text that is safe: columns ``column`` to ``to`` of a line become ``text``."""

    line: int
    column: int
    to: int
    text: str


class Finding(NamedTuple):
    """Something amiss, or missing.

    ``level`` is error (cannot be followed or computed as written, or someone may be
    hurt), warning (likely to spoil fibre or colour) or note (the reader must guess).
    Lines and columns count from 1, in characters; ``to`` is the column just after.
    ``sentence`` and ``remedy`` are the words of ``fact`` in the units of the file itself;
    :func:`procedure.wording.for_reader` gives them for another reader.
    ``source`` names where the fact comes from. ``allowed`` is the writer's reason
    where an ``allow`` turned the finding into a note. ``family`` is that of the rule.
    ``file`` is the name that a reader is shown, and ``key`` which file it is: its resolved
    path, or its name where the text is of no file. ``firm`` where no ``allow`` makes it lighter.
    """

    rule: str
    level: str
    file: str
    line: int
    column: int
    to: int
    sentence: str
    remedy: str
    source: str
    related: tuple[Related, ...] = ()
    edit: Edit | None = None
    allowed: str = ""
    fact: Fact | None = None
    family: str = ""
    key: str = ""
    firm: bool = False

    @property
    def order(self) -> tuple[str, int, int, int, str]:
        """Sorts findings by place, then by weight."""
        return self.file, self.line, self.column, LEVELS.index(self.level), self.rule


def at_least(level: str, least: str) -> bool:
    """True where a level weighs as much as another or more."""
    return LEVELS.index(level) <= LEVELS.index(least)
