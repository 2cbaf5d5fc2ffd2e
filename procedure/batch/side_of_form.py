"""What a procedure asks a record to hold: the side of a form that is filled by the procedure.

A room that follows procedures fills a :class:`PlannedBatch`; forms, questions and the
comparison of a record with its plan need nothing else of it.
"""

from __future__ import annotations

from fractions import Fraction

from procedure.model.quantity import Place
from procedure.quantity.record import NamedTuple

# The kinds of answer: an amount of such a unit, a number, one of several words, free words.
KINDS = ("temperature", "time", "mass", "volume", "acidity", "count", "choice", "words")


class FormBlank(NamedTuple):
    """One number or choice of a step, to be written down when it is done.

    ``word`` is the clause that says it in the procedure (at, from, to, over, for, until,
    with), or ``times`` (how often a block was done), ``taken`` (whether an ``if`` was) or
    ``way`` (which of several ways); ``name`` is the material after ``with``.
    ``text`` is the planned value as a person reads it, in numbers where there are any;
    ``low`` and ``high`` are the same in the base unit of ``kind`` (°C, min, g, L, pH), None
    at an open end. ``place`` is where the procedure says it, so that the rules can look at
    the procedure with what was done in its stead; None where it is worked out.
    """

    word: str
    name: str
    kind: str
    text: str
    low: Fraction | None = None
    high: Fraction | None = None
    choices: tuple[str, ...] = ()
    place: Place | None = None


class PlannedStep(NamedTuple):
    """A step that has something to write down. ``number`` is the one that the handout prints.

    ``words`` tell it in short; ``things`` are the lots, baths and materials that it names,
    by which a record finds the step again in a procedure that has changed. ``timed`` where
    its beginning and end are worth a line; ``line`` is 0 for a step of a followed file.
    """

    number: str
    words: str
    verb: str
    things: tuple[str, ...]
    blanks: tuple[FormBlank, ...]
    line: int = 0
    timed: bool = False


class PlannedUse(NamedTuple):
    """A lot or a material that the procedure takes, and how much of it (``96 g``).

    ``low`` and ``high`` are grams or litres by ``kind`` mass or volume. ``grown`` where it is
    a plant, whose harvest is worth a word.
    """

    name: str
    text: str
    low: Fraction | None = None
    high: Fraction | None = None
    grown: bool = False
    kind: str = "mass"


class PlannedBatch(NamedTuple):
    """A procedure as a record sees it.

    ``content`` is a hash of the procedure's text, ``edition`` its version or day of
    revision. ``others`` are the steps that ask for nothing (drain, clean, dry), which a
    record may speak of all the same.
    """

    file: str
    title: str
    edition: str
    content: str
    lots: tuple[PlannedUse, ...]
    materials: tuple[PlannedUse, ...]
    steps: tuple[PlannedStep, ...]
    results: tuple[str, ...] = ()
    others: tuple[PlannedStep, ...] = ()


def content_hash(text: str) -> str:
    """The hash of a procedure's text: the first 16 digits of its SHA-256.

    Line ends, spaces at the end of a line and a byte-order mark make no difference.
    """
    from hashlib import sha256

    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    plain = "\n".join(line.rstrip() for line in lines).strip("\n")
    return sha256(plain.encode("utf-8")).hexdigest()[:16]
