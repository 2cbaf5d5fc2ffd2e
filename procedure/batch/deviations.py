"""What was done otherwise than planned: each deviation in words and numbers.

The plan is what the record itself says behind ``planned``, so that a record can be read by
itself, whatever has become of the procedure since.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from procedure.batch import heat_series
from procedure.batch.types import Answer, Done, Reading, Record, Used
from procedure.model.quantity import Quantity
from procedure.quantity.number_words import plain
from procedure.quantity.record import NamedTuple

# Less than this is not worth a word at the pot (common practice): a share of an amount or a
# time, and degrees of heat.
SMALL_SHARE = Fraction(5, 100)
SMALL_DEGREES = Fraction(2)


class Deviation(NamedTuple):
    """Something done otherwise than planned.

    ``step`` and ``words`` name the step (empty for lots and materials). ``what`` is the
    clause, ``skipped``, ``added``, ``otherwise``, ``lot`` or ``material``; ``name`` the
    material or lot. ``by`` is how far outside the planned interval it was, in the base unit
    (°C, min, g, L, ...); ``share`` the same as a share of the plan, and None for heats and
    where nothing can be counted. ``small`` where it is not worth a word.
    """

    step: str
    words: str
    what: str
    name: str
    by: Fraction | None
    share: Fraction | None
    small: bool
    sentence: str
    line: int


def deviations(
    record: Record, logs: Sequence[tuple[str, tuple[Reading, ...]]] = ()
) -> tuple[Deviation, ...]:
    """All that a record says was done otherwise than planned, in its order.

    ``logs`` gives the readings of loggers' files by the number of their step.
    """
    more = dict(logs)
    found: list[Deviation] = []
    for part, what in ((record.lots, "lot"), (record.materials, "material")):
        for used in part:
            found += _used(used, what)
    for step in record.steps:
        found += _step(step, more.get(step.number, ()))
    return tuple(found)


def _used(used: Used, what: str) -> Iterator[Deviation]:
    done, planned = used.amount, used.planned
    if isinstance(done, Quantity) and isinstance(planned, Quantity):
        apart = _outside(done, planned)
        if apart is not None:
            by, share = apart
            yield Deviation(
                "", "", what, used.name, by, share, _small(planned.kind, by, share),
                f"{used.name}: {done.text}, planned {planned.text}{_by(planned.kind, by, share)}",
                used.place.line,
            )  # fmt: skip


def _step(step: Done, logged: tuple[Reading, ...]) -> Iterator[Deviation]:
    def plainly(what: str, sentence: str) -> Deviation:
        return Deviation(
            step.number, step.words, what, "", None, None, False, sentence, step.place.line
        )

    if step.added:
        yield plainly("added", f"“{step.words}” was done besides.")
        return
    if step.skipped is not None:
        why = f": {step.skipped}" if step.skipped else ""
        yield plainly("skipped", f"This step was left out{why}.")
    for answer in step.answers:
        yield from _answer(step, answer)
    yield from _heats(step, logged or step.heats)
    for words in step.otherwise:
        yield plainly("otherwise", f"It was done otherwise: {words}.")


_SAID = {"to": "reached", "at": "was at", "from": "began at", "over": "took", "for": "lasted"}


def _answer(step: Done, answer: Answer) -> Iterator[Deviation]:
    done, planned = answer.done, answer.planned
    if isinstance(done, str) and isinstance(planned, str):
        # Of a choice the plan is what there is to choose from.
        if answer.word in ("way", "taken") and done.casefold() not in planned.casefold().split(
            " or "
        ):
            said = f"The way taken was “{done}”, planned “{planned}”."
            yield Deviation(
                step.number, step.words, answer.word, "", None, None, False, said,
                answer.place.line,
            )  # fmt: skip
        return
    if not isinstance(done, Quantity) or not isinstance(planned, Quantity):
        return
    apart = _outside(done, planned)
    if apart is None:
        return
    by, share = apart
    verb = answer.name if answer.word == "with" else _SAID.get(answer.word, answer.word)
    if answer.word == "times":
        sentence = f"It was done {done.text} times, planned {planned.text}."
    else:
        sentence = (
            f"{verb[:1].upper()}{verb[1:]} {done.text}, planned {planned.text}"
            f"{_by(planned.kind, by, share)}"
        )
    yield Deviation(
        step.number, step.words, answer.word, answer.name, by, share,
        _small(planned.kind, by, share), sentence, answer.place.line,
    )  # fmt: skip


def _outside(done: Quantity, planned: Quantity) -> tuple[Fraction, Fraction | None] | None:
    """How far a done amount lies outside the planned interval; None where it lies within.

    Above nought is more than planned. An open end of a plan is never passed.
    """
    if done.kind != planned.kind or done.low is None or done.high is None:
        return None
    low, high = planned.low, planned.high
    by = Fraction(0)
    if high is not None and done.low > high:
        by = done.low - high
    elif low is not None and done.high < low:
        by = done.high - low
    if not by:
        return None
    edge = high if by > 0 else low
    if planned.kind in ("temperature", "acidity") or not edge:
        return by, None
    return by, by / edge


def _small(kind: str, by: Fraction, share: Fraction | None) -> bool:
    if kind == "temperature":
        return abs(by) <= SMALL_DEGREES
    if kind == "number":
        return False
    return share is not None and abs(share) <= SMALL_SHARE


def _by(kind: str, by: Fraction, share: Fraction | None) -> str:
    """How far, in words: “7 °C hotter”, “25 min longer”, “4 % less”."""
    size = abs(by)
    if kind == "temperature":
        return f": {plain(size)} °C {'hotter' if by > 0 else 'cooler'}."
    if kind == "time":
        return f": {minutes(size)} {'longer' if by > 0 else 'shorter'}."
    if share is not None:
        return f": {plain(abs(share) * 100, 2)} % {'more' if by > 0 else 'less'}."
    return "."


def minutes(size: Fraction) -> str:
    """A time in min, h or d: ``25 min``, ``1 h 30 min``."""
    if size < 1:
        return f"{plain(size * 60, 2)} s"
    whole = int(size + Fraction(1, 2))
    hours, rest = divmod(whole, 60)
    if hours >= 48:
        return f"{plain(Fraction(whole, 1440), 2)} d"
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def _heats(step: Done, series: Sequence[Reading]) -> Iterator[Deviation]:
    """What a series of heats says against the plan: how long above the most, how fast."""
    band = heat_series.planned_band(step)
    ends = [
        answer.planned
        for answer in step.answers
        if answer.word in ("to", "at") and isinstance(answer.planned, Quantity)
    ]
    highest = [one.high for one in ends if one.kind == "temperature" and one.high is not None]
    if not series or not highest:
        return
    limit = max(highest)
    top = heat_series.hottest(series)
    if top.heat > limit:
        above = heat_series.time_above(series, limit)
        yield Deviation(
            step.number, step.words, "heats", "", top.heat - limit, None,
            top.heat - limit <= SMALL_DEGREES,
            f"The thermometer reached {plain(top.heat)} °C, planned {plain(limit)} °C at most, "
            f"and was above that for {minutes(above)}.",
            step.place.line,
        )  # fmt: skip
    rise = heat_series.fastest_rise(series)
    if rise is not None and len(band) > 1 and band[0].high < band[1].low:
        length = band[1].minute - band[0].minute
        fastest = (band[1].high - band[0].low) / length
        # Twice as fast as planned is a slip of the dial; a little faster is any hotplate.
        if rise.rate > 2 * fastest:
            yield Deviation(
                step.number, step.words, "rise", "", rise.rate - fastest, rise.rate / fastest - 1,
                False,
                f"The heat rose by {plain(rise.rate, 2)} °C a minute at the fastest, planned "
                f"{plain(fastest, 2)}.",
                step.place.line,
            )  # fmt: skip
