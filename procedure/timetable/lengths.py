"""How long each step of a plan takes, and how much of a person: as written, else estimated.

Where nothing is written, heating is estimated by :mod:`procedure.weigh.heating`, cooling by
:mod:`procedure.timetable.how_baths_cool`, and the rest is what is usual (``hands_on_times.csv``).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from procedure.facts.handling import deadly, declared, hazards, in_bath, plants_left_in
from procedure.facts.left_overnight import longest_overnight, no_longer_than_written
from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.quantity.interval import Interval
from procedure.quantity.number_words import listed
from procedure.timetable.heat_of_vats import may_be_warm
from procedure.timetable.how_baths_cool import loses_heat
from procedure.timetable.in_baths import harsh_metals, is_harsh, lies_in_a_bath, written_for_a_night
from procedure.timetable.usual import Usual, usual
from procedure.timetable.work import Attendance, Lasting
from procedure.timetable.written_out import Turn
from procedure.trace import uptake
from procedure.trace.states import BathState
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.thresholds import threshold
from procedure.weigh import heating

_STEP = 5
"""Estimates are rounded to so many minutes, outwards; what nobody has timed is no shorter."""
NOW_AND_THEN = "now and then"
_KEPT_MOVING = frozenset(("stirring", "working"))
_WRITTEN, _ESTIMATED, _USUAL = "as written", "estimated", "common practice"


@dataclass(frozen=True, slots=True)
class Course:
    """How a step goes: its length, how much of a person it takes, and what it needs.

    ``heating`` are minutes of heating before the step itself, where it is not part of its
    length; ``on_heat`` says whether it stands on a plate, ``overnight``, ``night`` and
    ``at_a_pinch`` are as in :class:`~procedure.timetable.work.Activity`. ``lid`` holds where
    it may go on at night only with the lid on, which is not written. ``itself`` and
    ``hot_for``, ``plants_in``, ``breaks`` and ``no_lid`` are as in
    :class:`~procedure.timetable.work.Activity`. ``watts`` are enough for a rise that is written
    to take so long; None where none is, or nobody knows. What is warmed ``off_the_plate`` has
    gone cold in a vessel that bears none.
    """

    lasting: Lasting
    usual: Usual
    heating: Lasting | None = None
    on_heat: bool = False
    overnight: bool = False
    night: bool = False
    lid: bool = False
    warms: bool = False
    at_a_pinch: int = 0
    itself: int = 0
    hot_for: int = 0
    plants_in: bool = False
    breaks: bool = False
    no_lid: bool = False
    watts: int | None = None
    off_the_plate: bool = False
    by_day_since: str = ""


def courses(
    plan: Judged, turns: tuple[Turn, ...], night: int = 0, breaks: bool = False
) -> dict[str, Course]:
    """How each turn goes, by its key.

    ``night`` are the minutes that the place is closed from one day to the next, nought where it
    is never open on two days running. With ``breaks`` it is closed at midday as well.
    """
    heated = {each.node: each for each in heating.heatings(plan, whichever=True)}
    return {
        turn.key: _course(plan, turn, heated.get(turn.node.id), night, breaks) for turn in turns
    }


def _course(
    plan: Judged, turn: Turn, heated: heating.Heating | None, closed: int, breaks: bool
) -> Course:
    does, moment = turn.node.does, turn.moment
    overnight = _overnight(turn)
    heated = heated if _grows_hotter(plan, turn) else None
    on_heat = _on_heat(plan, turn, heated)
    common = usual(turn.node.effect, *_cases(turn, on_heat))
    off_the_plate = _cold_off_the_plate(plan, turn)
    warming = _warming(turn, heated, usual("", "warming"), off_the_plate)
    lasting = _lasting(plan, turn, common)
    if common.attendance is not Attendance.WHOLE or does.warms:
        if warming is not None and _warms_first(turn):
            lasting = Lasting(
                lasting.least + warming.least, _up(lasting.most + warming.most), said=_ESTIMATED
            )
        elif warming is not None and moment.minutes is None and does.to_a_heat:
            lasting = warming
        warming = None
    if overnight:
        as_it_is = no_longer_than_written(plan.study, moment)
        longest = lasting.most if as_it_is else max(lasting.most, longest_overnight(closed))
        lasting = replace(lasting, most=lasting.least, stretch=longest)
    open_pot = common.night and not _may_be_left(plan, turn)
    lid = open_pot and _has_lid(plan, turn) and not _kept_warm(turn)
    night = common.night and (lid or not open_pot) and not _kept_warm(turn)
    over_a_night = max(int(vocabulary().heats["overnight"].high), longest_overnight(closed))
    at_a_pinch = _at_a_pinch(plan, turn, lasting, over_a_night) if night else 0
    if open_pot and not night and _cools_alone(plan, turn):
        at_a_pinch = max(lasting.most, over_a_night)
    harm = () if overnight else _plants_in(plan, turn)
    if night and harm:
        # It is taken out before a night; at a pinch that is told, but what kills never stays.
        night, at_a_pinch = False, 0 if any(map(deadly, harm)) else max(lasting.longest, A_DAY)
    if "attended" in turn.step.manner:
        common, night = _stayed_with(common), False
    common = _moved(turn, common)
    if night and lies_in_a_bath(turn) and not written_for_a_night(turn):
        night, lasting = False, _as_written(plan, turn, lasting)
    if overnight and does.settles and not does.cools and not common.at_start:
        # Somebody is there in the evening, to put the lid on.
        common = common._replace(at_start=_STEP)
    breaks = breaks and not night and _over_a_break(turn, common, open_pot and not lid)
    hot_for = _hot_at_first(plan, turn) if night or at_a_pinch or breaks else 0
    cools = does.cools or turn.step.left_unheated
    if hot_for and cools and not is_harsh(plan, turn):
        # Its night begins when it may be left: until then it cools while somebody is there.
        lasting = replace(lasting, stretch=lasting.longest + hot_for) if overnight else lasting
        at_a_pinch += hot_for if at_a_pinch else 0
    elif hot_for and cools and overnight:
        # What spoils fibre is kept to the longest night there is, if that can be done at all.
        at_a_pinch = lasting.longest + hot_for
    itself, lasting = _on_fives(turn, lasting, common)
    return Course(
        lasting,
        common,
        warming,
        on_heat,
        overnight,
        night,
        lid,
        heated is not None,
        at_a_pinch,
        itself,
        hot_for,
        bool(harm),
        breaks,
        open_pot and not lid and not night and not _kept_warm(turn),
        _watts(heated),
        off_the_plate,
        "" if night else _why_by_day(plan, turn, on_heat, bool(harm), open_pot and not lid),
    )


def _why_by_day(plan: Judged, turn: Turn, on_heat: bool, plants: bool, open_pot: bool) -> str:
    """Why a step may not go on at night; empty where that goes without saying."""
    if on_heat or _kept_warm(turn):
        return "somebody sees to its heat"
    if open_pot and _may_be_left(plan, turn, though_hot=True):
        return "it is hot and has no lid on"
    if open_pot and usual(turn.node.effect, *_cases(turn, on_heat)).night:
        return "what is in it can harm whoever comes by, and it has no lid on"
    if plants:
        return "a plant that harms is not left in its bath at night"
    if is_harsh(plan, turn) and lies_in_a_bath(turn):
        return f"{listed(harsh_metals(plan, turn))} in it harms fibre that lies there for longer"
    return ""


def _watts(heated: heating.Heating | None) -> int | None:
    """What a plate has to give for a rise that is written to take so long, at the most."""
    if heated is None or heated.said is None or heated.energy is None or heated.said[0] <= 0:
        return None
    return math.ceil(heated.energy[1] / (heated.said[0] / 60) * 1000)


def _grows_hotter(plan: Judged, turn: Turn) -> bool:
    """Whether the bath of a step is colder before it, so that it is heated whatever the plan."""
    return heating.rises(plan, turn.moment) and not may_be_warm(plan, turn)


def _over_a_break(turn: Turn, common: Usual, open_pot: bool) -> bool:
    """Whether it goes on by itself while the place is closed at midday, which is no night."""
    alone = common.attendance in (Attendance.ENDS, Attendance.NONE)
    return common.night and alone and not open_pot and not _kept_warm(turn)


def _on_fives(turn: Turn, lasting: Lasting, common: Usual) -> tuple[int, Lasting]:
    """Work that is written in odd minutes is planned with the minutes up to the next five.

    Nobody comes back at two minutes past nine. Fibre is in its bath for no longer than is
    written even so, which is told. With the planned length come the minutes of the step
    itself, nought where they are the same.
    """
    most = lasting.most
    whole = common.attendance is Attendance.WHOLE or most <= common.at_start + common.at_end
    if not whole or turn.bundle is not None or most % _STEP == 0 or lasting.elastic:
        return 0, lasting
    least = lasting.least if lasting.least < most else _up(most)
    return most, Lasting(least, _up(most), said=lasting.said)


def _stayed_with(common: Usual) -> Usual:
    """What is usual, of a step that is written “attended”: somebody is near all the while."""
    if common.attendance is Attendance.WHOLE:
        return common
    return common._replace(attendance=Attendance.NOW_AND_THEN, every=common.every or 15)


def _kept_moving(turn: Turn) -> bool:
    """Whether fibre or liquor is moved all the while: what is stirred now and then is left.

    To work fibre is to move it about in its bath, by hand where that is not too hot.
    """
    step = turn.step
    alone = "unattended" in step.manner or "overnight" in step.manner
    by_hand = turn.node.does.moves_fibre and _hottest(turn) < _hot() and not alone
    moved = bool(step.manner & _KEPT_MOVING) or by_hand
    return moved and NOW_AND_THEN not in step.manner


def _moved(turn: Turn, common: Usual) -> Usual:
    """What is usual; but fibre that is to be kept moving has somebody at it all the while."""
    if not (_kept_moving(turn) and lies_in_a_bath(turn)):
        return common
    return common._replace(attendance=Attendance.WHOLE, at_start=0, at_end=0, ending="")


def _at_a_pinch(plan: Judged, turn: Turn, lasting: Lasting, over_a_night: int) -> int:
    """How long fibre may be left in its bath for a night, or a night last, if need be."""
    if is_harsh(plan, turn):
        return 0
    if lies_in_a_bath(turn) and not written_for_a_night(turn):
        return max(lasting.most, over_a_night) if turn.node.does.settles else 0
    if "attended" in turn.step.manner:
        return lasting.longest if not turn.node.lots else 0
    return max(lasting.longest, A_DAY) if _overnight(turn) else 0


def _as_written(plan: Judged, turn: Turn, lasting: Lasting) -> Lasting:
    """The length of a step with fibre in its bath: no longer than is written or usual.

    Where nothing is written, what spoils fibre works for as short as is usual.
    """
    if turn.moment.minutes is None and not turn.node.does.cools and is_harsh(plan, turn):
        return replace(lasting, most=lasting.least, stretch=lasting.least)
    return replace(lasting, stretch=lasting.most)


def _cases(turn: Turn, on_heat: bool) -> tuple[str, ...]:
    """The cases that a step may be, as the data tells them apart, the closest first.

    Fibre that is put into a bath for a time that is written is left there: nobody stands with
    both hands in a hot bath for three quarters of an hour.
    """
    when = _when(turn, on_heat)
    left = turn.moment.minutes is not None and lies_in_a_bath(turn)
    return (f"left {when}", when) if left else (when,)


def _when(turn: Turn, on_heat: bool) -> str:
    """Whether a step is hot, cold, or worked by hand, as the data tells its cases apart.

    Hot is also what a plate keeps warm for its whole length: a plate that is on is looked at,
    however mild the bath, and is off at night.
    """
    if _kept_moving(turn) and _hottest(turn) < _hot():
        return "worked"
    if _overnight(turn) or (not on_heat and _stands_for_a_night(turn)):
        return "cold"
    if _until_a_sign(turn):
        return "until a sign"
    if turn.step.left_unheated:
        return "cold"
    kept_up = on_heat and _hottest(turn) > float(vocabulary().heats["hand-hot"].high)
    return "hot" if kept_up or _raised(turn) or _hottest(turn) >= _hot() else "cold"


def _overnight(turn: Turn) -> bool:
    return bool(turn.step.manner & {"overnight", "until-next-day"})


def _stands_for_a_night(turn: Turn) -> bool:
    """Whether a bath is left by itself, off the plate, for as long as a night or longer."""
    minutes, does = turn.moment.minutes, turn.node.does
    by_itself = does.settles and not does.cools and turn.step.at is None
    night = vocabulary().heats["overnight"].low
    return by_itself and minutes is not None and minutes.low >= night


def _until_a_sign(turn: Turn) -> bool:
    """Whether fibre lies in the air until it looks or feels right, and no time is written."""
    until = turn.step.until
    signed = until is not None and until.words is not None and turn.moment.minutes is None
    return signed and turn.node.does.in_air and not lies_in_a_bath(turn)


def _raised(turn: Turn) -> bool:
    """Whether a bath is brought to a heat of which nobody knows how high it is."""
    at = turn.step.at
    unstated = at is not None and at.quantity is not None and at.quantity.kind == "unstated"
    return unstated and turn.node.does.held_hot


def _hot() -> float:
    return float(threshold("unattended heat").value)


def _hottest(turn: Turn) -> float:
    heat = turn.moment.peak or turn.moment.heat
    if heat is not None:
        return float(heat.high)
    word = vocabulary().heats.get(turn.node.does.heat)
    return float(word.high) if word is not None else 0.0


def _on_heat(plan: Judged, turn: Turn, heated: heating.Heating | None) -> bool:
    """Whether a pot stands on a plate while it goes on."""
    does = turn.node.does
    if not turn.node.pot or not uptake.heatable(plan.flow, turn.node.pot):
        return False
    warm = float(vocabulary().heats["hot"].low)
    if heated is not None or _raised(turn):
        return True
    if turn.step.left_unheated:
        return False
    return (does.warms or does.held_hot or does.keeps_heat) and _hottest(turn) > warm


def _warms_first(turn: Turn) -> bool:
    """Whether the time written is that at the heat, which it has to be brought to first."""
    step = turn.step
    return step.over is None and step.lasting is not None


def _cold_off_the_plate(plan: Judged, turn: Turn) -> bool:
    """Whether a bath that fibre wants warm has gone cold in a vessel that goes on no plate."""
    does, moment = turn.node.does, turn.moment
    bath, wanted = moment.bath_before, moment.heat
    enters = does.dips or (does.puts_fibre_in and moment.entering)
    if not enters or bath is None or bath.heat is None or wanted is None or turn.step.at is None:
        return False
    warm = float(vocabulary().heats["hand-hot"].low)
    if wanted.open or bath.heat.open or wanted.low < warm:
        return False
    cold = float(bath.heat.high) <= float(wanted.low) - heating.LITTLE
    return cold and not uptake.heatable(plan.flow, bath.pot)


def _warming(
    turn: Turn, heated: heating.Heating | None, common: Usual, off_the_plate: bool
) -> Lasting | None:
    if off_the_plate and turn.step.over is None:
        return Lasting(common.low, common.high, said=_USUAL)
    if heated is None or turn.step.over is not None:
        return None
    if heated.minutes is None:
        return Lasting(common.low, common.high, said=_USUAL)
    low, high = heated.minutes
    return Lasting(_down(low), _up(high), said=_ESTIMATED)


def _up(minutes: float) -> int:
    return max(_STEP, math.ceil(minutes / _STEP) * _STEP)


def _down(minutes: float) -> int:
    return max(_STEP, math.floor(minutes / _STEP) * _STEP)


def _lasting(plan: Judged, turn: Turn, common: Usual) -> Lasting:
    # For how long a bath is kept is no time of the step that puts it away.
    minutes = turn.moment.minutes if not turn.node.does.stores else None
    if minutes is not None and minutes.high > 0:
        least = max(1, math.ceil(minutes.low))
        if minutes.open:
            most = least + _longest_rise(turn)
            return Lasting(least, most, most + _or_more(least))
        about = turn.step.lasting is not None and turn.step.lasting.about
        most = _up(float(minutes.high)) if about else max(least, math.ceil(minutes.high))
        by_day = least < vocabulary().heats["overnight"].low and not _overnight(turn)
        long = most - least >= threshold("left alone").value
        if turn.node.does.wets and long and by_day:
            # “For 30 min to 12 h”: fibre is wet when it has soaked for the shortest time, and
            # longer does it no harm; what takes a night at the least is left for one.
            return Lasting(least, least, _stretch(turn, most), written=most)
        stretch = _stretch(turn, most)
        told = stretch > most and not turn.node.does.dries
        return Lasting(least, most, stretch, written=most if told or _overnight(turn) else 0)
    if turn.node.does.cools:
        cooled = _cooling(plan, turn)
        if cooled is not None:
            least, most, slowest = cooled
            return Lasting(least, most, max(most, A_DAY), _ESTIMATED, slowest)
        middle, slowest = _up((common.low + common.high) / 2), _up(common.high)
        return Lasting(common.low, middle, middle + A_DAY, _USUAL, slowest)
    most = _up(common.high)
    return Lasting(common.low, most, _stretch(turn, most), _USUAL)


def _or_more(least: int) -> int:
    """How much longer than “at least” so long it may be: days to the next day on which it suits."""
    return A_DAY if least < A_DAY else max(least, 7 * A_DAY)


def _longest_rise(turn: Turn) -> int:
    """How many minutes longer a rise may take than its least, of which the step has but that."""
    over = turn.step.over
    if over is None or over.kind != "time" or not over.known or over.ends.open:
        return 0
    low, high = over.ends
    return math.ceil(high - low)


def _stretch(turn: Turn, most: int) -> int:
    """How long a step may be let go on where it suits: what lies in water, cools or dries.

    What rests in the air is damp, and how long it may be so is a wait.
    """
    does = turn.node.does
    if does.in_air and does.left_standing:
        return most
    if does.wets or does.cools:
        return most + A_DAY
    waiting = does.takes_time and not (does.rinses or does.washes) and not does.settles
    return most + A_DAY if waiting else most


def _cooling(plan: Judged, turn: Turn) -> tuple[int, int, int] | None:
    """Minutes that a bath takes to cool: the quickest, what is planned, and the slowest."""
    before, after = turn.moment.bath_before, turn.moment.bath_after
    if before is None or after is None or before.volume is None or before.volume.open:
        return None
    start, end = before.heat, after.heat
    if start is None or end is None or start.high <= end.low:
        return None
    said = turn.step.to.quantity if turn.step.to is not None else None
    # “To at most 40 °C” is reached at 40 °C.
    until = float(end.high) if said is not None and said.bound == "most" else _middle(end)
    return _from_to(plan, before, _middle(start), until)


def _hot_at_first(plan: Judged, turn: Turn) -> int:
    """Minutes from its start for which the bath of a step is too hot to be alone."""
    return bearable_in(plan, turn.moment.bath_before)


def until_bearable(plan: Judged, turn: Turn) -> int:
    """Minutes from its end for which the bath of a step is too hot to be alone."""
    return bearable_in(plan, turn.moment.bath_after)


def bearable_in(plan: Judged, bath: BathState | None) -> int:
    """Minutes until a bath that cools may be left; what is usual where its volume is not known."""
    if bath is None or bath.heat is None:
        return 0
    start = float(bath.heat.low if bath.heat.open else bath.heat.middle)
    if start <= _hot():
        return 0
    if bath.volume is None or bath.volume.open:
        return usual("cool").low
    return _from_to(plan, bath, start, _hot())[1]


def until_as_cool(plan: Judged, bath: BathState, word: str) -> int:
    """Minutes until a bath is no hotter than a word for a heat tells; nought where not known."""
    return until_as_cool_as(plan, bath, float(vocabulary().heats[word].high))


def until_as_cool_as(plan: Judged, bath: BathState, wanted: float) -> int:
    """Minutes until a bath is no hotter than so many °C; nought where not known."""
    if bath.heat is None or bath.volume is None or bath.volume.open:
        return 0
    if _middle(bath.heat) <= wanted:
        return 0
    return _from_to(plan, bath, _middle(bath.heat), wanted)[1]


def surely_as_cool(plan: Judged, bath: BathState, word: str) -> int:
    """Minutes until a bath is so cool even if it cools slowly; two days where nobody knows."""
    if bath.heat is None or bath.volume is None or bath.volume.open:
        return 2 * A_DAY
    start = float(bath.heat.low if bath.heat.open else bath.heat.high)
    return _from_to(plan, bath, start, float(vocabulary().heats[word].high))[2]


def _from_to(plan: Judged, before: BathState, start: float, end: float) -> tuple[int, int, int]:
    """Minutes from one heat to another: the quickest, what is planned, and the slowest.

    The slowest is planned only where that costs no night. What is nearly as cold as the room
    hardly gets any colder: no cooling is planned for more than two days.
    """
    quick, usual_time, slow = loses_heat(plan, before).minutes(start, end)
    most = min(_up(usual_time), 2 * A_DAY)
    return min(_down(quick), most), most, min(_up(slow), 2 * A_DAY)


def _middle(heat: Interval) -> float:
    return float(heat.middle)


def _kept_warm(turn: Turn) -> bool:
    """Whether a bath is to stand at a heat that it does not keep by itself."""
    warm = float(vocabulary().heats["hand-hot"].high)
    does = turn.node.does
    return does.settles and not does.cools and turn.step.at is not None and _hottest(turn) > warm


def _has_lid(plan: Judged, turn: Turn) -> bool:
    pot = plan.flow.pots.get(turn.node.pot)
    return pot is not None and pot[0].lidded


def _plants_in(plan: Judged, turn: Turn) -> tuple[Entry, ...]:
    """The plants that harm and that are in the bath of a step when it is over."""
    bath = turn.moment.bath_after
    return plants_left_in(plan.study, bath) if bath is not None else ()


def _cools_alone(plan: Judged, turn: Turn) -> bool:
    """Whether a bath may cool over a night without a lid, when somebody was there while hot."""
    spoils = is_harsh(plan, turn) and lies_in_a_bath(turn)
    cools = turn.node.does.cools or (turn.step.left_unheated and written_for_a_night(turn))
    return cools and not spoils and _may_be_left(plan, turn, though_hot=True)


def _may_be_left(plan: Judged, turn: Turn, though_hot: bool = False) -> bool:
    """Whether it may go on at night: nothing hot or poisonous stands there without a lid."""
    moment = turn.moment
    bath = moment.bath_after or moment.bath_before
    if moment.covered or (bath is not None and bath.covered):
        return True
    start = moment.bath_before.heat if moment.bath_before is not None else None
    hot = start is not None and start.high >= float(threshold("unattended heat").value)
    if hot and not though_hot:
        return False
    if bath is None:
        return True
    return not any(
        each.yes("cover")
        for thing in bath.contents
        for each in (*in_bath(plan.study, bath, thing), *hazards(declared(plan.study, thing)))
        if each.table == "hazards"
    )
