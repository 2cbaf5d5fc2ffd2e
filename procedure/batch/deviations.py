"""What was done otherwise than planned: each deviation in words and numbers.

The plan is what the record itself says after ``planned``, so that a record can be read by
itself, whatever has become of the procedure since.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from procedure.batch import heat_series
from procedure.batch.own_units import reader_of_records
from procedure.batch.times_taken import AgainstClock, times_told
from procedure.batch.types import Answer, HeatReading, Record, StepDone, Used
from procedure.findings import (
    NOTHING,
    Heat,
    Percent,
    Rate,
    Says,
    Span,
    Value,
    Warmer,
    say,
)
from procedure.model.quantity import Quantity
from procedure.quantity.record import NamedTuple
from procedure.quantity.rounding import two_figures
from procedure.wording import Reader, said

# Less than this is not worth a word at the pot (common practice): a share of an amount or a
# time, and degrees of heat.
SMALL_SHARE = Fraction(5, 100)
SMALL_DEGREES = Fraction(2)
# What rounding alone may do where a plan is in ounces and the scale in grams: half of the last
# figure of each, yet no more than this share of an amount, or these degrees (one °F).
ROUNDING_SHARE = Fraction(1, 100)
ROUNDING_DEGREES = Fraction(5, 9)


class Deviation(NamedTuple):
    """Something done otherwise than planned.

    ``step`` and ``words`` name the step (empty for lots and materials). ``what`` is the
    clause, ``time``, ``skipped``, ``added``, ``otherwise``, ``lot`` or ``material``; ``name``
    the material or lot. ``by`` is how far outside the planned interval it was, in the base
    unit (°C, min, g, L, ...); ``share`` the same as a share of the plan, and None for heats and
    where nothing can be counted. ``small`` where it is not worth a word. ``says`` is what there
    is to say, ``sentence`` its words in the units of the record.
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
    says: Says = NOTHING


def deviations(
    record: Record, logs: Sequence[tuple[str, tuple[HeatReading, ...]]] = ()
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
    return _worded(found, reader_of_records([record])) if found else ()


def _worded(found: Sequence[Deviation], reader: Reader) -> tuple[Deviation, ...]:
    return tuple(one._replace(sentence=said(one.says, reader)) for one in found)


def _used(used: Used, what: str) -> Iterator[Deviation]:
    done, planned = used.amount, used.planned
    if isinstance(done, Quantity) and isinstance(planned, Quantity):
        apart = _outside(done, planned)
        if apart is not None:
            by, share = apart
            says = _beside(say("{name}:", name=used.name), done, planned, apart)
            yield Deviation(
                "", "", what, used.name, by, share, _small(planned.kind, by, share), "",
                used.place.line, says,
            )  # fmt: skip


def _step(step: StepDone, logged: tuple[HeatReading, ...]) -> Iterator[Deviation]:
    def plainly(what: str, template: str, **values: Value | str) -> Deviation:
        says = say(template, **values)
        return Deviation(
            step.number, step.words, what, "", None, None, False, "", step.place.line, says
        )

    if step.added:
        yield plainly("added", "“{step}” was done besides.", step=step.words)
        return
    if step.skipped:
        yield plainly("skipped", "This step was left out: {why}.", why=step.skipped)
    elif step.skipped is not None:
        yield plainly("skipped", "This step was left out.")
    for answer in step.answers:
        yield from _answer(step, answer)
    for told in times_told(step):
        yield _of_times(step, told)
    yield from _heats(step, logged or step.heats)
    for words in step.otherwise:
        yield plainly("otherwise", "It was done otherwise: {how}.", how=words)


def _of_times(step: StepDone, told: AgainstClock) -> Deviation:
    share = told.by / told.of if told.of else None
    small = share is not None and abs(share) <= SMALL_SHARE
    return Deviation(
        step.number, step.words, "time", "", told.by, share, small, "", step.place.line, told.says
    )


_SAID = {
    "to": "Reached", "at": "Was at", "from": "Began at", "over": "Took", "for": "Lasted",
}  # fmt: skip


def _answer(step: StepDone, answer: Answer) -> Iterator[Deviation]:
    done, planned = answer.done, answer.planned
    if isinstance(done, str) and isinstance(planned, str):
        # Of a choice the plan is what there is to choose from.
        if answer.word in ("way", "taken") and done.casefold() not in planned.casefold().split(
            " or "
        ):
            says = say("The way taken was “{way}”, planned “{plan}”.", way=done, plan=planned)
            yield Deviation(
                step.number, step.words, answer.word, "", None, None, False, "",
                answer.place.line, says,
            )  # fmt: skip
        return
    if not isinstance(done, Quantity) or not isinstance(planned, Quantity):
        return
    apart = _outside(done, planned)
    if apart is None:
        return
    by, share = apart
    if answer.word == "times":
        says = say("It was done {done} times, planned {plan}.", done=done.text, plan=planned.text)
    elif answer.word == "with":
        says = _beside(say("{Name}", name=answer.name), done, planned, apart)
    else:
        says = _beside(say(_SAID.get(answer.word, answer.word)), done, planned, apart)
    yield Deviation(
        step.number, step.words, answer.word, answer.name, by, share,
        _small(planned.kind, by, share), "", answer.place.line, says,
    )  # fmt: skip


def _outside(done: Quantity, planned: Quantity) -> tuple[Fraction, Fraction | None] | None:
    """How far a done amount lies outside the planned interval; None where it lies within.

    Above nought is more than planned. An open end of a plan is never passed, and what rounding
    alone can do is nothing.
    """
    if done.kind != planned.kind or done.low is None or done.high is None:
        return None
    low, high = planned.low, planned.high
    by = Fraction(0)
    if high is not None and done.low > high:
        by = done.low - high
    elif low is not None and done.high < low:
        by = done.high - low
    edge = high if by > 0 else low
    if not by or abs(by) <= _rounding(done, planned, edge or Fraction(0)):
        return None
    if planned.kind in ("temperature", "acidity") or not edge:
        return by, None
    return by, by / edge


def _rounding(done: Quantity, planned: Quantity, edge: Fraction) -> Fraction:
    """How far two amounts may be apart only because each is written to its last figure.

    In one unit that is half of the last decimal of the plan, for a plan of whole numbers is
    exact; in two units of weight, volume or heat it is half of the last figure of either.
    """
    one, other = done.unit, planned.unit
    slack = max(planned.slack_low, planned.slack_high)
    if other is None or planned.kind not in ("mass", "volume", "temperature"):
        return Fraction(0)
    most = ROUNDING_DEGREES if planned.kind == "temperature" else abs(edge) * ROUNDING_SHARE
    if one is not None and one.name == other.name:
        # A plan of 1.4 oz may be worked out; nobody writes an exact one so finely.
        return slack if slack < other.factor / 2 else Fraction(0)
    return min(slack, most) + min(max(done.slack_low, done.slack_high), most)


def _small(kind: str, by: Fraction, share: Fraction | None) -> bool:
    if kind == "temperature":
        return abs(by) <= SMALL_DEGREES
    if kind == "number":
        return False
    return share is not None and abs(share) <= SMALL_SHARE


def _beside(
    what: Says, done: Quantity, planned: Quantity, apart: tuple[Fraction, Fraction | None]
) -> Says:
    """What was done beside its plan, and how far: “7 °C hotter”, “25 min longer”, “4 % less”."""
    by, share = apart
    size = abs(by)
    values: dict[str, Value | str] = {"what": what, "done": done.text, "plan": planned.text}
    if planned.kind == "temperature":
        more, less = "hotter", "cooler"
        values["far"] = Warmer(size)
    elif planned.kind == "time":
        more, less = "longer", "shorter"
        values["far"] = Span(size)
    elif share is not None:
        more, less = "more", "less"
        values["far"] = Percent(two_figures(abs(share) * 100))
    else:
        return say("{what} {done}, planned {plan}.", **values)
    values["more"] = more if by > 0 else less
    return say("{what} {done}, planned {plan}: {far} {more}.", **values)


def _to_the_minute(minutes: Fraction) -> Fraction:
    """A time to the minute, a shorter one to the second: no pot is watched more closely."""
    return Fraction(round(minutes)) if minutes >= 1 else Fraction(round(minutes * 60), 60)


def _heats(step: StepDone, series: Sequence[HeatReading]) -> Iterator[Deviation]:
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
        says = say(
            "The thermometer reached {top}, planned {limit} at most, and was above that for "
            "{above}.",
            top=Heat(top.heat, worded=False),
            limit=Heat(limit, worded=False),
            above=Span(_to_the_minute(heat_series.time_above(series, limit))),
        )
        yield Deviation(
            step.number, step.words, "heats", "", top.heat - limit, None,
            top.heat - limit <= SMALL_DEGREES, "", step.place.line, says,
        )  # fmt: skip
    rise = heat_series.fastest_rise(series)
    if rise is not None and len(band) > 1 and band[0].high < band[1].low:
        length = band[1].minute - band[0].minute
        fastest = (band[1].high - band[0].low) / length
        # Twice as fast as planned is a slip of the dial; a little faster is any hotplate.
        if rise.rate > 2 * fastest:
            says = say(
                "The heat rose by {rate} at the fastest, planned {plan}.",
                rate=Rate(rise.rate),
                plan=Rate(fastest),
            )
            yield Deviation(
                step.number, step.words, "rise", "", rise.rate - fastest, rise.rate / fastest - 1,
                False, "", step.place.line, says,
            )  # fmt: skip
