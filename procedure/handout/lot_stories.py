"""Each finished lot's story: what it went through, in order, with how much; and the sum of all."""

from __future__ import annotations

from fractions import Fraction

from procedure.facts.handling import right_name
from procedure.facts.liquor import fibre_that_meets
from procedure.facts.used_baths import family, in_words, used_before
from procedure.handout.lot_rounds import (
    Round,
    before_it_began,
    how_hot,
    is_heat_said,
    rounds,
    until_what,
)
from procedure.model import Step
from procedure.paper.measures import Voice
from procedure.pipeline import Judged
from procedure.quantity.interval import ENDLESS, ONE, ZERO, Interval, hull
from procedure.quantity.number_words import between, listed, plain, ranged
from procedure.quantity.record import NamedTuple
from procedure.trace import LotState, Moment
from procedure.vocabulary.effects import NOTHING, Effect
from procedure.wording.reader import of_system

METRIC = Voice("metric", reader=of_system("metric"))


class Event(NamedTuple):
    """One thing that happened to a lot: a sentence without its full stop, and where it is said:
    the number of the step in the flow, and its line.

    ``does`` is what its verb does; ``took`` are the mordants and dyes that the lot met
    here; ``bath`` and ``minutes`` (None where not said) where and how long; ``times`` is
    how often it is done, least and most, and ``rounds`` what else is said of its rounds (again
    and again, every so often, until what); ``brief`` says the same for a small label. ``share`` is
    that of a single thing it took, as `` (12 %)``; ``used`` says that its bath had been used by
    other fibre before.
    """

    sentence: str
    node: int
    line: int
    does: Effect = NOTHING
    took: tuple[str, ...] = ()
    bath: str = ""
    minutes: Interval | None = None
    times: Interval = ONE
    rounds: str = ""
    condition: str = ""
    brief: str = ""
    share: str = ""
    used: str = ""

    @property
    def said(self) -> str:
        """The sentence with how often it happens, and on what condition."""
        return self._often(self.sentence)

    @property
    def in_brief(self) -> str:
        """The same in as few words as a small label has room for."""
        return self._often(self.brief or self.sentence)

    def _often(self, sentence: str) -> str:
        least, most = self.times
        times = f", {between(least, most)} times" if most > 1 else ""
        rounds = f", {self.rounds}" if self.rounds else ""
        condition = f", {self.condition}" if self.condition else ""
        return f"{sentence}{times}{rounds}{condition}"


class Story(NamedTuple):
    """A finished lot: its weight in grams (None where not said), its fibre, its history.

    ``before`` is what it was given before the procedure begins, as it is declared.
    """

    lot: str
    weight: Interval | None
    fibre: str
    made: str
    events: tuple[Event, ...]
    before: tuple[str, ...] = ()

    @property
    def short(self) -> str:
        """What gave it its colour, in a few words: materials in order, times and dips."""
        said = [f"{name} (before)" for name in self.before]
        dips: dict[str, Interval] = {}
        open_ended: set[str] = set()
        for number, event in enumerate(self.events):
            perhaps = " (perhaps)" if event.condition else ""
            if event.does.dips:
                name = " and ".join(event.took) or event.bath or "the vat"
                if name not in dips:
                    dips[name] = ZERO
                    said.append(f"\0{name}")
                often = event.times
                dips[name] = dips[name].plus(ZERO.hull(often) if event.condition else often)
                open_ended |= {name} if event.rounds else set()
            elif event.took:
                minutes = self._stayed(number)
                long = f" {_minutes(minutes)}" if minutes is not None else ""
                said.append(f"{' and '.join(event.took)}{long}{perhaps}")
        counted = {name: _dips(many, name in open_ended) for name, many in dips.items()}
        told = [f"{counted[one[1:]]} in {one[1:]}" if one[:1] == "\0" else one for one in said]
        return ", ".join(dict.fromkeys(told)) or "as it was"

    def _stayed(self, number: int) -> Interval | None:
        """How long the lot stayed in the bath that it went into at that event, while hot."""
        first = self.events[number]
        if first.minutes is None:
            return None
        minutes = first.minutes
        for event in self.events[number + 1 :]:
            if event.bath != first.bath or not event.does.keeps_heat:
                break
            if event.minutes is not None:
                minutes = minutes.plus(event.minutes)
        return minutes


def _dips(counted: Interval, more: bool) -> str:
    """How many dips: ``2 to 3 dips``, or ``1 or more dips`` in rounds until something is seen."""
    if more:
        return f"{between(counted.low, counted.low)} or more dips"
    return f"{between(*counted)} dip{'s' if counted.high != 1 else ''}"


class Account(NamedTuple):
    """What went in and what came out, in grams; None where a weight is not said.

    ``unknown`` are the lots without a weight; ``wrong`` the splits whose parts do not
    come to the lot, as sentences; ``divided`` tells whether any lot is split or joined.
    """

    declared: tuple[tuple[str, Interval | None], ...]
    finished: Interval | None
    lots: int
    unknown: tuple[str, ...]
    wrong: tuple[str, ...]
    divided: bool

    @property
    def went_in(self) -> Interval | None:
        """All the fibre that was declared."""
        return total([weight for _, weight in self.declared])

    @property
    def adds_up(self) -> bool | None:
        """Whether as much came out as went in; None where that cannot be known."""
        went_in, out = self.went_in, self.finished
        if went_in is None or out is None:
            return None
        return not self.wrong and went_in.overlaps(out)


def total(weights: list[Interval | None]) -> Interval | None:
    """The sum of weights in grams; None where one is not known."""
    whole = ZERO
    for weight in weights:
        if weight is None:
            return None
        whole = whole.plus(weight)
    return whole


def finished(plan: Judged) -> list[str]:
    """The lots that are left at the end, by the plan's names, in the order they were made."""
    gone = {part for origin in plan.flow.lots.values() for part in origin.parts}
    return [lot for lot in plan.flow.lots if lot not in gone and lot in plan.trace.final.lots]


def account(plan: Judged, voice: Voice = METRIC) -> Account:
    """The fibre of a plan, added up; what is wrong is said in the units of a voice."""
    final = plan.trace.final.lots
    declared = tuple(
        (origin.name, final[lot].weight if lot in final else None)
        for lot, origin in plan.flow.lots.items()
        if origin.declared is not None
    )
    lots = finished(plan)
    unknown = [plan.flow.lots[lot].name for lot in lots if final[lot].weight is None]
    wrong = [
        f"The parts of {plan.study.called(lot)} come to {grams(parts, voice)}, and it weighs "
        f"{grams(weight, voice)} ({where(plan, node.id, node.step.place.line)})."
        for node, lot, weight, parts in plan.trace.split_sums
    ]
    return Account(
        declared,
        total([final[lot].weight for lot in lots]),
        len(lots),
        tuple(unknown),
        tuple(dict.fromkeys(wrong)),
        any(origin.parts for origin in plan.flow.lots.values()),
    )


def stories(plan: Judged, voice: Voice = METRIC) -> list[Story]:
    """The story of each finished lot, its heats and weights in the units of a voice."""
    told = _told_by_lot(plan, voice)
    counted = rounds(plan)
    return [_story(plan, lot, told, counted) for lot in finished(plan)]


def _told_by_lot(plan: Judged, voice: Voice) -> dict[str, dict[int, Event]]:
    """What happens to every lot under its own name, by step, in order."""
    told: dict[str, dict[int, Event]] = {}
    passes: dict[int, list[Moment]] = {}
    for moment in plan.trace.moments:
        passes.setdefault(moment.node.id, []).append(moment)
    for moment, *_ in passes.values():
        node = moment.node
        lots = dict.fromkeys((*node.lots, *node.makes))
        if node.does.round_fibre:
            lots |= dict.fromkeys(node.present)
        for lot in lots:
            if lot not in plan.flow.lots:
                continue
            took = _took(plan, passes[node.id], lot, voice)
            used = _used(plan, moment, lot)
            told.setdefault(lot, {})[node.id] = Event(
                _sentence(plan, moment, lot, took, voice),
                node.id,
                moment.step.place.line,
                node.does,
                tuple(name for name, _ in took),
                plan.study.called(node.bath) if node.bath else "",
                moment.minutes,
                brief=_brief(moment, took, used, voice),
                share=took[0][1] if len(took) == 1 else "",
                used=used,
            )
    return told


def _story(
    plan: Judged,
    lot: str,
    told: dict[str, dict[int, Event]],
    counted: dict[int, Round],
) -> Story:
    state = plan.trace.final.lots[lot]
    events: dict[int, Event] = {}
    for one in family(plan.flow, lot):
        for node, event in told.get(one, {}).items():
            parted = event.does.splits and node == plan.flow.lots[one].node
            if event.does.splits and not parted:
                continue  # told of the part, not of the lot that was divided
            events.setdefault(node, event)
    return Story(
        plan.flow.lots[lot].name,
        state.weight,
        " and ".join(fibre.name for fibre in state.fibres) or "fibre",
        _made(plan, lot),
        tuple(
            events[node]._replace(
                times=counted[node].times,
                rounds=", ".join(counted[node].rounds),
                condition=counted[node].condition,
            )
            for node in sorted(events)
        ),
        before_it_began(plan, family(plan.flow, lot)),
    )


def where(plan: Judged, node: int, line: int) -> str:
    """Where a step is written: the line, and the file where it is another than the plan's."""
    if plan.own(node):
        return f"line {line}"
    file = plan.flow.nodes[node].procedure.file
    return f"{file.replace(chr(92), '/').rsplit('/', 1)[-1]}, line {line}"


def _made(plan: Judged, lot: str) -> str:
    origin = plan.flow.lots[lot]
    if origin.node is None:
        return "declared"
    node = plan.flow.nodes[origin.node]
    assert isinstance(node.step, Step)
    how = node.step.verb.name if node.step.verb is not None else "step"
    return f"made by the {how} on {where(plan, node.id, node.step.place.line)}"


def _sentence(
    plan: Judged, moment: Moment, lot: str, took: list[tuple[str, str]], voice: Voice
) -> str:
    node, step = moment.node, moment.step
    if step.verb is None:
        return step.words.text if step.words else "done by hand"
    if node.makes and lot in node.makes:
        parents = " and ".join(plan.study.called(part) for part in plan.flow.lots[lot].parts)
        return f"{step.verb.past} from {parents}"
    bath = plan.study.called(node.bath) if node.bath else ""
    if node.does.round_fibre and lot not in node.lots:
        said = [f"in {bath} while it was {step.verb.past}"]
        if node.does.adds:
            things = " and ".join(_right(plan, thing, voice) for thing, _ in node.moved)
            said = [f"in {bath} when {things or 'more'} was added"]
    else:
        said = [step.verb.past, *([f"in {bath}"] if bath else [])]
    if took:
        beside = dict(_beside(plan, moment, voice))
        met = {name: share or beside.get(name, "") for name, share in took}
        said.append("with " + listed([f"{name}{share}" for name, share in (met | beside).items()]))
        said += _after_others(plan, moment, lot, voice)
    own = [_in_full(plan, thing, voice) for thing, _, _ in moment.amounts if not node.bath]
    others = [name for name in own if name != "water"]
    if others and node.does.lifts_matter:
        said = [f"freed of {listed(others)}"]
    elif others:
        said.append(f"with {' and '.join(others)}")
    said += how_hot(plan, moment, voice)
    if moment.minutes is not None:
        said.append(_while_rising(moment) or f"for {_as_long(moment)}")
    said += until_what(plan, step, voice)
    return " ".join(said)


def _used(plan: Judged, moment: Moment, lot: str) -> str:
    """That other fibre had been in the bath before the lot met something there, in words."""
    state = moment.after.lots.get(lot)
    met = (*state.mordants.items(), *state.dyes.items()) if state is not None else ()
    here = [thing for thing, taken in met if taken.node == moment.node.id]
    uses = [used_before(plan.flow, moment, lot, thing) for thing in here]
    return in_words(max(uses, default=0))


def _brief(moment: Moment, took: list[tuple[str, str]], used: str, voice: Voice) -> str:
    """What a bath gave, how long and how hot: “madder (50 %) 60 min, 30 to 70 °C”.

    A used bath no longer holds the share that was weighed for it.
    """
    verb = moment.step.verb
    if verb is None:
        return ""
    gave = " and ".join(name if used else f"{name}{share}" for name, share in took)
    what = f"{gave} {used}," if gave and used else gave or verb.past
    long = f" {_minutes(moment.minutes)}" if moment.minutes is not None else ""
    dip = " dipped" if moment.node.does.dips else ""
    known = moment.heat is not None and is_heat_said(moment)
    heat = f", {_heat(moment.heat, voice)}" if known and moment.heat is not None else ""
    return f"{what}{dip}{long}{heat}"


def _after_others(plan: Judged, moment: Moment, lot: str, voice: Voice) -> list[str]:
    """That other fibre had the bath before, and how much."""
    before = moment.bath_before
    if before is None or not before.treated:
        return []
    if set(family(plan.flow, lot)) & set(before.treated):
        return []
    weight = before.served
    fibre = f"{grams(weight, voice)} of other fibre" if weight is not None else "other fibre"
    return [f"after {fibre}"]


def _right(plan: Judged, thing: str, voice: Voice) -> str:
    """What a thing is called on tags and in stories: what harms by its full name alone."""
    return voice.spelt(right_name(plan.study, thing)) or plan.study.called(thing)


def _in_full(plan: Judged, thing: str, voice: Voice) -> str:
    """What else went in: what harms by its full name, with the writer's own beside it."""
    own = plan.study.called(thing)
    right = voice.spelt(right_name(plan.study, thing))
    return f"{right} ({own} in the list)" if right and right != own else own


def _took(plan: Judged, passes: list[Moment], lot: str, voice: Voice) -> list[tuple[str, str]]:
    """The mordants and dyes that a lot met here, each with its share of the fibre in words.

    The share is of all the fibre that meets it in that bath, for that is what it was
    weighed for; where rounds add to it, from that of the first to that of the last. Where the
    bath holds neither mordant nor dye, what it holds is told.
    """
    first = passes[0]
    if lot not in first.after.lots or not first.node.does.meets_bath:
        return []
    grams: dict[str, Interval | None] = {}
    ways: dict[str, str] = {}
    for moment in passes:
        state: LotState | None = moment.after.lots.get(lot)
        met = (*state.mordants.items(), *state.dyes.items()) if state is not None else ()
        for thing, taken in met:
            if taken.node == first.node.id:
                grams[thing] = hull(grams.get(thing, taken.grams), taken.grams)
                ways[thing] = f" {taken.path}" if taken.path else ""
    bath = first.node.bath
    found = [
        (_right(plan, thing, voice), _share(plan, bath, thing, weight, voice) + ways[thing])
        for thing, weight in grams.items()
    ]
    if not found and first.bath_after is not None:
        found = [(_right(plan, thing, voice), "") for thing in first.bath_after.contents]
    return found


def _beside(plan: Judged, moment: Moment, voice: Voice) -> list[tuple[str, str]]:
    """What helps mordants and dyes in their bath (tartar, chalk, acid), with its share."""
    bath = moment.bath_after
    made: list[tuple[str, str]] = []
    for thing, content in bath.contents.items() if bath is not None else ():
        material = plan.flow.materials.get(thing)
        entry = material[0].entry if material is not None else None
        if entry is not None and entry.table == "assistants":
            share = _share(plan, moment.node.bath, thing, content.grams, voice)
            made.append((_right(plan, thing, voice), share))
    return made


def _share(plan: Judged, bath: str, thing: str, grams: Interval | None, voice: Voice) -> str:
    """What grams of a thing come to of the fibre that meets it in a bath: `` (12 %)``.

    What is measured by volume has no share: a liquid has its litres, and what nobody can weigh the
    spoon or the handful that was written.
    """
    brought = [
        (item.quantity, amount)
        for moment in plan.trace.moments
        if moment.node.bath == bath
        for name, item, amount in moment.amounts
        if name == thing
    ]
    if len(brought) == 1:
        (quantity, amount), *_ = brought
        if grams is None and amount is not None and amount.spooned and quantity is not None:
            return f" ({quantity.text}, a loose measure)"
        if grams is not None and amount is not None and amount.kind == "volume":
            return f" ({voice.amount('volume', *amount.litres)})"
    fibre = fibre_that_meets(plan.study, bath, thing)
    if grams is None or fibre is None or fibre.low <= 0:
        return ""
    return f" ({ends(grams.times(100).over(fibre))} %)"


def ends(interval: Interval) -> str:
    """An interval in words: one number where both ends print alike."""
    if interval.high == ENDLESS:
        return f"at least {plain(interval.low)}"
    return ranged(plain(interval.low), plain(interval.high))


def grams(weight: Interval, voice: Voice) -> str:
    """A weight as a voice has it."""
    return voice.amount("mass", *weight)


def _heat(heat: Interval, voice: Voice) -> str:
    if heat.high == ENDLESS:
        return f"at least {voice.heat(heat.low, heat.low)}"
    return voice.heat(*heat)


def _as_long(moment: Moment) -> str:
    """How long a step took: “about 30 s” as it is written, and no range that nobody wrote."""
    lasting = moment.step.lasting
    alone = lasting is not None and moment.step.over is None and not lasting.bound
    if lasting is not None and lasting.about and alone and lasting.kind == "time":
        return lasting.text
    assert moment.minutes is not None
    return _minutes(moment.minutes)


def _while_rising(moment: Moment) -> str:
    """How long a step that rises to its heat took for that, and how long it was kept there."""
    over, held = moment.step.over, moment.held
    if over is None or not over.known or over.kind != "time" or not moment.minutes:
        return ""
    there = f", then kept there for {_minutes(held)}" if held is not None and held.high else ""
    return f"over {_minutes(over.ends)}{there}"


def _minutes(minutes: Interval) -> str:
    if minutes.high < 1:
        return f"{ends(minutes.times(60))} s"
    unit, size = (
        ("h", Fraction(60)) if minutes[0] >= 60 and minutes[1] >= 120 else ("min", Fraction(1))
    )
    return f"{ends(Interval(minutes.low / size, minutes.high / size))} {unit}"
