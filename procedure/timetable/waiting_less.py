"""Among plans of one length: with as little as can be of waits that are longer than is wished.

Where hours are few, some waits may be longer than is good for what lies there: fibre is hung up to
dry and wetted out again, a dye bath is kept in the cold. The plan says so of each. None of them is
to be so for nothing, nor for longer than it has to; a bath, which goes sour, least of all.
"""

from __future__ import annotations

from dataclasses import replace

from procedure.quantity.day import A_DAY
from procedure.timetable.planned import Timetable
from procedure.timetable.programme import build
from procedure.timetable.searching import VERY_MUCH, hint, search
from procedure.timetable.work import Lag

_OF_WHAT_SPOILS = 5
"""What a minute of a wait weighs that is only ever so long where there is no other plan."""


def longer_than_wished(made: Timetable) -> dict[int, int]:
    """The waits that are longer than is wished, by their numbers, with their minutes.

    Fibre that waits already and is wanted within a day is not dried any more.
    """
    happened = made.work.happened
    found = {}
    for number, lag in enumerate(made.work.lags):
        if not lag.gives or lag.wished is None or lag.after in happened:
            continue
        took = took_of(made, lag)
        from_now = made.moment(lag.after, lag.reaches) - made.work.now
        too_late = lag.before in happened and lag.dried and from_now <= A_DAY
        if took > lag.wished and not too_late:
            found[number] = took
    return found


def took_of(made: Timetable, lag: Lag) -> int:
    """The minutes of a wait in a plan."""
    return made.moment(lag.after, lag.reaches) - made.moment(lag.before, lag.leaves)


def waiting_less(made: Timetable, effort: float) -> Timetable:
    """The same with its long waits as few and as short as they are found to be.

    Its work lets no wait be longer by more than the hours of a day any more.
    """
    long = longer_than_wished(made)
    if not long or len(made.work.activities) > VERY_MUCH:
        return made
    tight = replace(
        made.work,
        lags=tuple(
            lag if number in long else _no_longer(made, lag)
            for number, lag in enumerate(made.work.lags)
        ),
    )
    programme = build(tight, (), made.finish)
    model = programme.model
    weighs = []
    for number in long:
        lag = tight.lags[number]
        assert lag.wished is not None
        wait = programme.moment(lag.after, lag.reaches) - programme.moment(lag.before, lag.leaves)
        beyond = model.new_int_var(0, made.finish, f"beyond {number}")
        model.add(beyond >= wait - lag.wished)
        is_long = model.new_bool_var(f"long {number}")
        model.add(beyond == 0).only_enforce_if(is_long.negated())
        weighs.append((_OF_WHAT_SPOILS if lag.at_last is not None else 1) * beyond)
        weighs.append(A_DAY * is_long)
    model.minimize(sum(weighs))
    hint(programme, made.placed)
    found = search(programme, effort)
    made = replace(made, placed=found.placed or made.placed)
    lags = tuple(
        _give_or_take_a_day(made, lag) if number in long else lag
        for number, lag in enumerate(tight.lags)
    )
    return replace(made, work=replace(tight, lags=lags))


def _give_or_take_a_day(made: Timetable, lag: Lag) -> Lag:
    """A long wait that may be as long as it is now, give or take the hours of a day."""
    assert lag.most is not None
    day = max((each.closes - each.opens for each in made.work.spells), default=0)
    return replace(lag, most=min(lag.most, took_of(made, lag) + day))


def _no_longer(made: Timetable, lag: Lag) -> Lag:
    """A wait that is no longer than is wished, which it need not be."""
    if not lag.gives or lag.wished is None or lag.before in made.work.happened:
        return lag
    return replace(lag, most=lag.wished) if took_of(made, lag) <= lag.wished else lag
