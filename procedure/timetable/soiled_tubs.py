"""Tubs that several share: nothing comes into what is left of iron, whose least trace dulls.

The text of one procedure says what comes before what; where several share a tub, or where waters
in it may change places, that is known only when there is a plan. So the plan is gone through tub
by tub. Where fibre would come into a tub in which iron, copper, tin or chrome was rinsed out
before it, with no cleaning between, the plan is made again: with the iron last, or with a cleaning
of the tub between, whichever is over sooner; and it says so.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from procedure.facts.left_in_waters import harmful_in, what_spoils, without
from procedure.facts.study import Study
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple
from procedure.timetable.gathered import Gathered
from procedure.timetable.planned import Timetable
from procedure.timetable.usual import usual
from procedure.timetable.warming import as_unknown
from procedure.timetable.work import Activity, Lag, Lasting, Need, VesselUse, Work
from procedure.timetable.written_out import Turn

CLEANED = " cleaned"


class _Meeting(NamedTuple):
    """What is left in a vessel, and what it would harm: two uses, and what meets what of which.

    ``cleaned`` is the activity that cleans the vessel between them, if any does; ``soils`` says
    that the second comes after the first, and none does.
    """

    one: VesselUse
    two: VesselUse
    what: str
    harms: str
    cleaned: str = ""
    soils: bool = False


# ------------------------------------------------------------------ what is left, from plans


def uses_of(
    made: Gathered, plan: Judged, turns: Sequence[Turn], first_of: Mapping[str, str]
) -> Iterator[VesselUse]:
    """The uses of the tubs and pots of a plan, as far as they leave or mind anything."""
    for turn in turns:
        node, key = turn.node, first_of[turn.key]
        for pot in node.cleaned:
            yield VesselUse(key, made.pot_key(plan, pot), cleans=True)
        pot = node.pot
        found = plan.flow.pots.get(pot)
        if node.cleaned or found is None or not found[0].holds:
            continue
        leaves, minds = _of_water(plan.study, turn) if node.own_water else ((), ())
        if not node.own_water and node.bath in node.makes:
            minds = _of_bath(plan, turn)
        if leaves or minds:
            yield VesselUse(key, made.pot_key(plan, pot), leaves, minds)


_Named = tuple[tuple[str, str], ...]


def _of_water(study: Study, turn: Turn) -> tuple[_Named, _Named]:
    """What water for rinsing or soaking takes out of fibre, and what would harm that fibre."""
    leaves: _Named = ()
    if turn.node.does.washes_out:
        leaves = tuple((m, study.called(lot)) for m, lot in harmful_in(study, turn.moment).items())
    minds = tuple(
        (metal, study.called(lots[0]))
        for metal in what_spoils()
        if (lots := without(study, turn.moment, metal))
    )
    return leaves, minds


def _of_bath(plan: Judged, turn: Turn) -> _Named:
    """What would harm a bath that is made up in a pot: metals that never come into it."""
    bath = turn.node.bath
    within = {
        entry.facts.get("metal", "")
        for moment in plan.study.moments
        for state in (moment.after.baths.get(bath),)
        if state is not None
        for thing in state.contents
        if thing in plan.flow.materials and (entry := plan.flow.materials[thing][0].entry)
    }
    return tuple((m, plan.study.called(bath)) for m in what_spoils() if m not in within)


# ------------------------------------------------------------------ what meets it, in a plan


def _meetings(made: Timetable) -> Iterator[_Meeting]:
    """Whatever might meet what is left of something else in a vessel, and whether it does."""
    vessels: dict[str, list[VesselUse]] = defaultdict(list)
    for use in made.work.waters:
        vessels[use.vessel].append(use)
    for uses in vessels.values():
        cleanings = [each.key for each in uses if each.cleans]
        for one in uses:
            for what, _ in one.leaves:
                for two in uses:
                    harms = dict(two.minds).get(what)
                    if harms is not None and two.key != one.key:
                        yield _meeting(made, one, two, what, harms, cleanings)


def _meeting(
    made: Timetable, one: VesselUse, two: VesselUse, what: str, harms: str, cleanings: list[str]
) -> _Meeting:
    since, until = made.at[one.key].end, made.at[two.key].start
    if until < since:
        return _Meeting(one, two, what, harms)
    for key in cleanings:
        if since <= made.at[key].start and made.at[key].end <= until:
            return _Meeting(one, two, what, harms, key)
    return _Meeting(one, two, what, harms, soils=not made.work.over(two.key))


def is_soiled(made: Timetable) -> bool:
    """Whether anything comes into a vessel with what harms it."""
    return any(each.soils for each in _meetings(made))


def kept_clean(made: Timetable) -> Timetable:
    """A plan in which nothing meets what harms it, with that order in its work, and told."""
    found = list(_meetings(made))
    if not found:
        return made
    work = replace(made.work, lags=_with(made.work, [_as_it_is(each) for each in found]))
    told = dict.fromkeys(_last_in_words(made, found))
    notes = tuple(dict.fromkeys((*work.notes, *told)))
    return replace(made, work=replace(work, notes=notes))


def ways_to_keep_clean(made: Timetable) -> Iterator[Work]:
    """The work with what is left in a vessel last, and with the vessel cleaned between."""
    work, found = as_unknown(made.work), list(_meetings(made))
    happened = work.happened
    if not any(each.soils and each.one.key in happened for each in found):
        last = [
            _as_it_is(each) if each.cleaned else Lag(each.two.key, each.one.key, near=False)
            for each in found
        ]
        yield replace(work, lags=_with(work, last))
    cleanings, lags = dict[str, Activity](), [_as_it_is(each) for each in found if not each.soils]
    waters = list(work.waters)
    soiled = [each for each in found if each.soils]
    for meeting in soiled:
        each = _cleaning(made, meeting, _first_harmed(made, meeting, soiled))
        if each.key not in cleanings:
            cleanings[each.key] = each
            waters.append(VesselUse(each.key, meeting.one.vessel, cleans=True))
        lags.append(Lag(meeting.one.key, each.key, near=False))
        lags.append(Lag(each.key, meeting.two.key, near=False))
    yield replace(
        work,
        activities=(*work.activities, *cleanings.values()),
        lags=_with(work, lags),
        between=work.between | cleanings.keys(),
        waters=tuple(waters),
    )


def _first_harmed(made: Timetable, meeting: _Meeting, soiled: list[_Meeting]) -> VesselUse:
    """The first use in the plan that a cleaning has to come before, after what soils."""
    same = [each.two for each in soiled if each.one.key == meeting.one.key]
    return min(same, key=lambda use: (made.at[use.key].start, use.key))


def _cleaning(made: Timetable, one: _Meeting, first: VesselUse) -> Activity:
    """A cleaning of a vessel before something comes into it, by whoever does that."""
    work, clean = made.work, usual("clean")
    step, vessel = work.activity[first.key], work.resource[one.one.vessel]
    what = "made up" if not step.lots else "put"
    harms = listed(step.lots) or one.harms
    return Activity(
        first.key + CLEANED,
        f"clean {vessel.name.removeprefix('the ')}",
        Lasting(clean.low, clean.high, said="common practice"),
        (Need(one.one.vessel),),
        hands=step.hands[:1],
        project=step.project,
        cautions=(
            f"{one.what.capitalize()} was rinsed out of {_lot_of(one)} in it, and {harms} "
            f"{'are' if len(step.lots) > 1 else 'is'} {what} in it next.",
        ),
    )


def _lot_of(each: _Meeting) -> str:
    return dict(each.one.leaves)[each.what]


def _as_it_is(each: _Meeting) -> Lag:
    """The order of two uses as it is in a plan, with the cleaning that is between."""
    if each.cleaned:
        return Lag(each.cleaned, each.two.key, near=False)
    if each.soils:
        return Lag(each.one.key, each.two.key, near=False)
    return Lag(each.two.key, each.one.key, near=False)


def _with(work: Work, lags: Sequence[Lag]) -> tuple[Lag, ...]:
    more = [lag for lag in lags if lag.before != lag.after]
    return tuple(dict.fromkeys((*work.lags, *more)))


# ------------------------------------------------------------------ told


def _last_in_words(made: Timetable, found: Sequence[_Meeting]) -> Iterator[str]:
    """That what leaves something harmful comes last on its day, where no text says so."""
    work = made.work
    days = {each.key: work.day_at(each.start) for each in made.placed}
    last: dict[tuple[str, str], list[_Meeting]] = {}
    for each in found:
        apart = work.activity[each.one.key].project != work.activity[each.two.key].project
        apart = apart and days[each.one.key] == days[each.two.key]
        if apart and not each.cleaned and not each.soils and not work.over(each.one.key):
            last.setdefault((each.one.key, each.what), []).append(each)
    for (key, what), which in last.items():
        vessel = work.resource[which[0].one.vessel].name
        before = list(dict.fromkeys(_named(work, m.two.key) for m in which))
        yield (
            f"{_named(work, key)} rinses out {what} in {vessel}, whose least trace harms what "
            f"comes after it: only when {listed(before)} "
            f"{'are' if len(before) > 1 else 'is'} over, or clean {vessel} first."
        )


def soiled_in_words(made: Timetable) -> Iterator[str]:
    """What comes into a vessel with what harms it, where no plan was found without."""
    for each in _meetings(made):
        if each.soils:
            vessel = made.work.resource[each.one.vessel].name
            yield (
                f"{each.harms} would come into {vessel} after {_lot_of(each)} was rinsed of its "
                f"{each.what} in it, whose least trace harms it, and there is no time in this plan "
                f"to clean it between: clean {vessel} before "
                f"{_named(made.work, each.two.key)} all the same, or take another."
            )


def _named(work: Work, key: str) -> str:
    each = work.activity[key]
    return f"“{each.name}”" + (f" ({each.printed})" if each.printed else "")
