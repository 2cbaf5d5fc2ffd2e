"""Quantities: an interval in the base unit of its kind, and how it was written."""

from fractions import Fraction

from procedure.language.numbers_in_full import number_said
from procedure.quantity.exact import exactly
from procedure.quantity.interval import ENDLESS, ZERO, Interval
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Unit

VULGAR = {
    "½": Fraction(1, 2),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5),
    "⅖": Fraction(2, 5),
    "⅗": Fraction(3, 5),
    "⅘": Fraction(4, 5),
    "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}
# A second reading may stray by half a unit of its last non-zero digit, but by no
# more than this (design 3.3).
READING_SHARE = Fraction(2, 100)
READING_DEGREES = Fraction(3)


class Place(NamedTuple):
    """A place in a file: line and columns from 1; ``to`` is the column just after."""

    line: int
    column: int
    to: int


class Number(NamedTuple):
    """A number as written: its value, and the unit of its last non-zero digit."""

    value: Fraction
    fineness: Fraction


@remembered(4096)
def number(text: str) -> Number:
    """Read a number: ``12``, ``1.5``, ``1/2``, ``1 1/2``, ``1½``, ``-5``, ``two thirds``.

    Raises ``ZeroDivisionError`` where a fraction has nothing below its line.
    """
    value, fineness = _read(text)
    return Number(exactly(value), exactly(fineness))


def _read(text: str) -> tuple[Fraction, Fraction]:
    said = number_said(text)
    if said is not None:
        # As fine as its figures are: two hundred is 200.
        return said, Fraction(1, said.denominator) if said.denominator > 1 else _read(f"{said}")[1]
    sign = -1 if text[0] in "-–—−" else 1
    text = text.lstrip("-–—−").strip()
    part = VULGAR.get(text[-1])
    if part is not None:
        whole = text[:-1].strip()
        return (
            sign * ((Fraction(whole) if whole else Fraction(0)) + part),
            Fraction(1, part.denominator),
        )
    if "/" in text:
        text = text.replace("-", " ").replace(" /", "/").replace("/ ", "/")
        whole, _, share = text.rpartition(" ")
        top, bottom = share.split("/")
        fraction = Fraction(int(top), int(bottom))
        return sign * ((int(whole) if whole else 0) + fraction), Fraction(1, int(bottom))
    value = Fraction(text)
    digits = text.rstrip("0") if "." in text else text
    if "." in digits and not digits.endswith("."):
        fineness = Fraction(1, 10 ** len(digits.split(".")[1]))
    else:
        whole = digits.rstrip(".")
        bare = whole.rstrip("0")
        fineness = Fraction(10 ** (len(whole) - len(bare))) if bare else Fraction(1)
    return sign * value, fineness


# A plain number before “of”, without a per cent sign or the line of a fraction.
_PLAIN = r"(?:about )?[0-9.]+(?: (?:to|[-–—]) [0-9.]+)?(?= (?:of|wof|owf)\b)"


# What is a part of something else, and what is measured by itself.
_SHARES = frozenset(("percent", "ratio", "share"))
_MEASURES = frozenset(("mass", "volume"))


class Quantity(NamedTuple):
    """How much of something.

    ``kind`` is the kind of its unit (mass, volume, temperature, time, length,
    percent, concentration, power, count, spoon, ...) or one of ``ratio``,
    ``share``, ``number`` (no unit), ``acidity``, ``loose``, ``unstated``, ``unknown``.
    ``low`` and ``high`` are in the base unit of the kind (g, L, °C, min, m, g/L,
    W, pieces; percent as a share of one; a ratio as parts to one) and are None
    where no number is known. ``base`` is the name after ``of``; ``of_fibre`` stands
    for ``wof``. ``slack_low`` and ``slack_high`` are what the writing of each end
    leaves open, in the base unit. ``text`` is the quantity as written. ``unit_place``
    is where a unit stands that is not known. ``bound`` is ``least`` or ``most`` where only
    one end is said: the other is then open (:data:`ENDLESS`), nothing, or for heats that of
    water as it comes and at the boil. ``more_bases`` are the names after the first in a sum
    of lots, ``held`` is True for a bound that is to hold from then on (never above). ``taken``
    is True where it does not say of what, and is taken of all the fibre, as dyers do; ``left``
    where it is a share of what is left of ``base`` after all that was used before.
    """

    kind: str
    low: Fraction | None
    high: Fraction | None
    text: str
    place: Place
    unit: Unit | None = None
    word: str = ""
    about: bool = False
    backwards: bool = False
    slack_low: Fraction = ZERO.low
    slack_high: Fraction = ZERO.low
    base: str = ""
    base_place: Place | None = None
    of_fibre: bool = False
    each: "Quantity | None" = None
    reading: "Quantity | None" = None
    unit_place: Place | None = None
    bound: str = ""
    held: bool = False
    loosely: bool = False
    more_bases: tuple[str, ...] = ()
    taken: bool = False
    left: bool = False

    @property
    def without_sign(self) -> str:
        """The number of ``12 of yarn``, which may be per cent, parts or grams; else empty."""
        found = pattern(_PLAIN).match(self.text) if self.kind == "share" else None
        return found.group() if found is not None else ""

    @property
    def of_two_kinds(self) -> bool:
        """True of ``75 g (15 % of yarn)`` and ``15 % of yarn (75 g)``: a share and a measure."""
        if self.reading is None:
            return False
        kinds = {self.kind in _SHARES, self.reading.kind in _SHARES}
        return len(kinds) == 2 and (self.kind in _MEASURES or self.reading.kind in _MEASURES)

    @property
    def bases(self) -> tuple[str, ...]:
        """All that it is measured by; nothing where it is alone."""
        return (self.base, *self.more_bases) if self.base else ()

    @property
    def known(self) -> bool:
        """True where it is a number."""
        return self.low is not None

    @property
    def ends(self) -> Interval:
        """Both ends in the base unit. Raises ``ValueError`` where no number is known."""
        if self.low is None or self.high is None:
            raise ValueError(f"“{self.text}” is not a number")
        return Interval(self.low, self.high)

    def agrees(self, other: "Quantity") -> bool:
        """True where two readings of one thing agree within what their writing leaves open."""
        if self.kind != other.kind:
            return False
        if self.low is None or self.high is None or other.low is None or other.high is None:
            return True
        if self.word or other.word:
            return self.low - READING_DEGREES <= other.high and other.low <= (
                self.high + READING_DEGREES
            )
        if self.bound or other.bound:
            return _overlaps(self, other)
        low = abs(_written(self, True) - _written(other, True))
        high = abs(_written(self, False) - _written(other, False))
        return low <= _slack(self, True) + _slack(other, True) and high <= (
            _slack(self, False) + _slack(other, False)
        )


def _overlaps(one: Quantity, other: Quantity) -> bool:
    """True where bounds may mean the same; an end that is not said agrees with any."""
    ends = [
        (one.high if end == "most" else one.low, other.high if end == "most" else other.low)
        for end in {one.bound, other.bound} - {""}
    ]
    return all(
        first is not None
        and second is not None
        and ENDLESS not in (first, second)
        and abs(first - second)
        <= (READING_DEGREES if one.kind == "temperature" else abs(first) * READING_SHARE)
        for first, second in ends
    )


def _written(quantity: Quantity, low: bool) -> Fraction:
    """An end as it was written, before ``about`` widened it."""
    assert quantity.low is not None and quantity.high is not None
    if not quantity.about:
        return quantity.low if low else quantity.high
    return quantity.low + quantity.slack_low * 2 if low else quantity.high - quantity.slack_high * 2


def _slack(quantity: Quantity, low: bool) -> Fraction:
    end = quantity.low if low else quantity.high
    slack = quantity.slack_low if low else quantity.slack_high
    assert end is not None
    if quantity.kind == "temperature":
        return min(slack, READING_DEGREES)
    return min(slack, abs(end) * READING_SHARE)
