"""Whether a timetable keeps to what a procedure says, read from the procedure itself.

Beside :mod:`verifying`, which holds times against the work, this holds them against the text,
its flow graph and its trace, and shares no code with what makes work of a procedure: the order
of what goes through the same lots, baths, bags and materials; fibre not left in its bath over
closed hours, nor in iron for longer than is written; “overnight” from one evening to the next
morning; no bath of a plant left to go sour; what is attended in opening hours; nothing begun
while nobody is there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from procedure.flow import FlowNode
from procedure.pipeline import Judged
from procedure.timetable.work import Work
from procedure.trace import Moment
from procedure.trace.states import BathState

Times = Mapping[str, tuple[int, int]]
_SPOILS = ("iron", "tin", "copper", "chromium")
_HOT = 60
"""A heat in °C that scalds; a pot on a table takes a minute at the least to lose a degree."""
_NIGHTS = {"overnight", "until-next-day"}


def wrongs_of_plan(plan: Judged, work: Work, times: Times, loose: bool = False) -> list[str]:
    """Everything by which the times break what is written.

    With ``loose``, fibre may lie in a mild bath over one night, which the plan has to say.
    """
    spans = _spans(plan, work, times)
    found = [*_out_of_order(plan, spans), *_free_words(plan, spans)]
    for moment in plan.trace.moments:
        if moment.node.id in spans:
            found += [
                f"line {moment.step.place.line}: {wrong}"
                for wrong in _wrongs_of_step(plan, work, moment, spans[moment.node.id], loose)
            ]
    found += _begun_late(plan, work, spans)
    found += _left_in_iron(plan, work, spans)
    found += _turns_at_vats(plan, work, times)
    found += _dipped_cold(plan, work, times)
    found += _entered_too_hot(plan, spans)
    found += [] if loose else [*_left_to_go_sour(plan, spans), *_made_up_early(plan, spans)]
    return sorted(set(found))


def _spans(plan: Judged, work: Work, times: Times) -> dict[int, tuple[int, int]]:
    """From when to when each step goes on that comes once, by its node."""
    by_line: dict[int, list[str]] = {}
    for each in work.activities:
        by_line.setdefault(each.place.line, []).append(each.key)
    nodes: dict[int, list[int]] = {}
    for moment in plan.trace.moments:
        if not moment.node.calls:
            nodes.setdefault(moment.step.place.line, []).append(moment.node.id)
    found = {}
    for line, ids in nodes.items():
        own = [key for key in by_line.get(line, []) if not key.endswith(" warmed")]
        keys = [key for key in own if not key.endswith(" heated")]
        heated = [f"{keys[0]} heated"] if keys and f"{keys[0]} heated" in times else []
        if len(keys) == 1 and len(set(ids)) == 1:
            ends = [times[key][1] for key in (*keys, *heated)]
            found[ids[0]] = (times[keys[0]][0], max(ends))
    return found


def _out_of_order(plan: Judged, spans: dict[int, tuple[int, int]]) -> Iterator[str]:
    for edge in plan.flow.edges:
        before = plan.flow.nodes[edge.before]
        material = edge.kind == "material" and (before.does.readies or before.does.bags)
        told = edge.kind in ("lot", "bath", "matter", "order") or material
        if told and edge.before != edge.after:
            one, two = spans.get(edge.before), spans.get(edge.after)
            after = plan.flow.nodes[edge.after]
            turns = _verb(before) == _verb(after) == "dip" and not {*before.lots} & {*after.lots}
            if turns and edge.kind in ("bath", "matter", "order"):
                continue  # lots may take turns at a vat; see _turns_at_vats
            if one and edge.kind == "bath" and _verb(before) == "lift" and _verb(after) == "hold":
                one = (one[0], one[0])  # the time of those left in goes on while some come out
            if one and two and two[0] < one[1] and not before.calls and not after.calls:
                lines = before.step.place.line, after.step.place.line
                yield f"line {lines[1]} begins before line {lines[0]} is over ({edge.thing})"


def _turns_at_vats(plan: Judged, work: Work, times: Times) -> Iterator[str]:
    """One turn at a time in a vat; each lot's own dips and airings as they are written."""
    written = {
        moment.step.place.line: moment
        for moment in plan.trace.moments
        if _verb(moment.node) in ("dip", "air") and not moment.node.calls
    }
    in_vat: dict[str, list[tuple[int, int, int]]] = {}
    of_lot: dict[str, list[tuple[int, int, int]]] = {}
    for each in work.activities:
        line, (start, end) = each.place.line, times[each.key]
        moment = written.get(line)
        if moment is None or each.project != (plan.model.title and plan.model.title.text):
            continue
        if _verb(moment.node) == "dip":
            in_vat.setdefault(moment.node.bath, []).append((start, end, line))
        elif moment.minutes is not None and end - start < moment.minutes.high:
            yield f"line {line} airs for {end - start} min"
        for lot in each.lots:
            of_lot.setdefault(lot, []).append((start, end, line))
    for vat, dips in in_vat.items():
        for one, two in pairwise(sorted(dips)):
            if two[0] < one[1]:
                yield f"lines {one[2]} and {two[2]} are in {vat} at once"
    for lot, turns in of_lot.items():
        for one, two in pairwise(turns):
            if two[0] < one[1]:
                yield f"{lot}: line {two[2]} begins before line {one[2]} is over"


_COOLER = 3
"""How many °C cooler than is written a vat may be by these sums, which know no lid."""


def _dipped_cold(plan: Judged, work: Work, times: Times) -> Iterator[str]:
    """Each dip is over before its vat has cooled below the heat that is written.

    A cylinder as high as it is wide loses 12 W/(m² K) to a room of 17.5 °C.
    """
    title = plan.model.title and plan.model.title.text
    of_line = {m.step.place.line: m for m in plan.trace.moments if not m.node.calls}
    warm: dict[str, list[tuple[int, float]]] = {}
    dips = []
    for each in work.activities:
        moment = of_line.get(each.place.line)
        if moment is None or each.project != title or "rounds" in each.name:
            continue
        bath, heat = moment.bath_after, moment.heat
        if bath is None or bath.heat is None or bath.volume is None or bath.volume.open:
            continue
        by_plate = each.key.endswith((" heated", " warmed"))
        if _verb(moment.node) == "dip" and not by_plate:
            if moment.step.at is not None and heat is not None and heat.low >= 40:
                dips.append((times[each.key], moment))
        elif by_plate or _verb(moment.node) not in ("stand", "dip") or moment.step.at is not None:
            warm.setdefault(moment.node.bath, []).append(
                (times[each.key][1], float(bath.heat.high))
            )
    for (start, end), moment in dips:
        bath, heat = moment.bath_before, moment.heat
        pot = plan.flow.pots[bath.pot][0] if bath is not None else None
        before = [each for each in warm.get(moment.node.bath, []) if each[0] <= start]
        if bath is None or heat is None or not before or pot is None or pot.metal is None:
            continue
        litres = float(bath.volume.high) if bath.volume is not None else 0.0
        size = float(pot.capacity.ends.high) if pot.capacity is not None else litres
        wide = (4 * size / 1000 / math.pi) ** (1 / 3)
        since, was = max(before)
        slows = 4180 * litres / (12 * 1.5 * math.pi * wide**2) / 60
        left = 17.5 + (was - 17.5) * math.exp(-(end - since) / slows)
        if left < min(float(heat.low), float(heat.high) - 5) - _COOLER:
            yield f"line {moment.step.place.line} is in a vat of {left:.0f} °C"


def _verb(node: FlowNode) -> str:
    verb = getattr(node.step, "verb", None)
    return verb.name if verb is not None else ""


def _free_words(plan: Judged, spans: dict[int, tuple[int, int]]) -> Iterator[str]:
    """A step in free words comes after the step before it and after all such steps.

    One that is done with lots comes after what was done to these.
    """
    last_free: FlowNode | None = None
    before: FlowNode | None = None
    last_of: dict[str, FlowNode] = {}
    for node in plan.flow.nodes:
        if node.id not in spans:
            before = None
            continue
        free = node.kind == "do"
        others = [last_of.get(lot) for lot in node.lots] if node.lots else [last_free, before]
        for other in others if free else ():
            if other is not None and spans[node.id][0] < spans[other.id][1]:
                yield f"line {node.step.place.line} comes before line {other.step.place.line}"
        last_of |= dict.fromkeys((*node.lots, *node.present, *node.makes), node)
        if not free:
            before = node
        elif not node.lots:
            last_free = node


def _left_to_go_sour(plan: Judged, spans: dict[int, tuple[int, int]]) -> Iterator[str]:
    """A bath in which a plant is or was is not left for more than three days."""
    last: dict[str, int] = {}
    for moment in plan.trace.moments:
        if moment.node.id not in spans:
            last.clear()
            continue
        start, end = spans[moment.node.id]
        bath = moment.node.bath
        if bath in last and start - last[bath] > 3 * 24 * 60:
            yield f"line {moment.step.place.line}: {bath} has stood for {start - last[bath]} min"
        last.pop(bath, None)
        state = moment.after.baths.get(bath)
        things = state.contents if state is not None else ()
        known = [plan.flow.materials[thing][0] for thing in things if thing in plan.flow.materials]
        if any({"dyestuff", "tannin"} & set(each.roles) for each in known):
            last[bath] = end


def _made_up_early(plan: Judged, spans: dict[int, tuple[int, int]]) -> Iterator[str]:
    """A bath is not made up days before anything is done to it."""
    made_up: dict[str, int] = {}
    for moment in plan.trace.moments:
        bath = moment.node.bath
        if moment.node.kind == "do":
            made_up.clear()  # nobody knows what is done with which bath
        if moment.node.id not in spans or not bath:
            made_up.pop(bath, None)
            continue
        start, end = spans[moment.node.id]
        if bath in made_up and start - made_up[bath] > 24 * 60:
            line = moment.step.place.line
            yield f"line {line}: {bath} was made up {start - made_up[bath]} min before"
        made_up.pop(bath, None)
        if _verb(moment.node) == "prepare":
            made_up[bath] = end


def _a_night(work: Work) -> int:
    pairs = zip(work.windows, work.windows[1:], strict=False)
    nights = [b.opens - a.closes for a, b in pairs if b.day == a.day + 1]
    return max(16 * 60, max(nights, default=0) + 2 * 60)


def _wrongs_of_step(
    plan: Judged, work: Work, moment: Moment, span: tuple[int, int], loose: bool
) -> Iterator[str]:
    start, end = span
    manner = moment.step.manner
    if not any(w.opens <= start <= w.closes for w in work.windows):
        yield "begins while nobody is there"
    inside = any(w.opens <= start and end <= w.closes for w in work.windows)
    if "attended" in manner and not inside and not loose:
        yield "is attended, and goes on while the place is closed"
    longest = moment.minutes.high if moment.minutes is not None and not loose else 24 * 60
    hot = math.ceil(_too_hot(moment)) if moment.node.does.cools else 0
    if "overnight" in manner:
        # A night and two hours of its evening and morning, where nothing in the bath does harm;
        # from when a hot bath may be left alone, no more than three hours after it was turned off.
        longest = 16 * 60 if _metal_in(plan, moment.bath_after) else _a_night(work)
        longest = 24 * 60 if loose else longest + bool(hot) * 3 * 60
    if hot and not any(w.opens <= start and start + hot <= w.closes for w in work.windows):
        yield "is hot while the place is closed"
    if manner & _NIGHTS and not 8 * 60 <= end - start <= longest:
        yield f"is overnight for {end - start} min"
    lots = [*moment.node.lots, *moment.node.present]
    # At midday fibre may be in a bath that goes on by itself; that is no night.
    inside = inside or any(
        a.opens <= start and end <= b.closes
        for a in work.windows
        for b in work.windows
        if a.day == b.day
    )
    lies = any(moment.after.lots[lot].bath for lot in lots if lot in moment.after.lots)
    written = moment.minutes is not None and moment.minutes.high >= 8 * 60
    if lies and not inside and not manner & _NIGHTS and not written and not loose:
        yield "has fibre in its bath while the place is closed"


def _too_hot(moment: Moment) -> float:
    """By how many °C a step begins with a bath that is too hot for anybody to leave it alone."""
    heat = moment.bath_before.heat if moment.bath_before is not None else None
    if heat is None or heat.open:
        return 0.0
    return max(0.0, float(heat.low + heat.high) / 2 - _HOT)


def _begun_late(plan: Judged, work: Work, spans: dict[int, tuple[int, int]]) -> Iterator[str]:
    """A bath cools, or stands, since what was done to it last is over, if that has happened."""
    over = {work.activity[each.key].place.line for each in work.done if work.over(each.key)}
    last: dict[str, FlowNode] = {}
    for moment in plan.trace.moments:
        node, before = moment.node, last.get(moment.node.bath)
        if not node.bath or _verb(node) == "lift":
            continue
        last[node.bath] = node
        line = moment.step.place.line
        known = before is not None and {before.id, node.id} <= spans.keys()
        if not known or before is None or _verb(node) not in ("cool", "stand") or line in over:
            continue
        left = spans[before.id][1]
        if before.step.place.line in over and left <= work.now and spans[node.id][0] != left:
            yield f"line {line} begins at {spans[node.id][0]}, and has gone on since {left}"


def _entered_too_hot(plan: Judged, spans: dict[int, tuple[int, int]]) -> Iterator[str]:
    """Fibre goes in “from” a heat when its bath has had a minute for each degree down to that."""
    left: dict[str, tuple[int, float]] = {}
    for moment in plan.trace.moments:
        node, after = moment.node, moment.bath_after
        if node.id not in spans:
            left.clear()
            continue
        start, end = spans[node.id]
        heat = moment.start
        if node.bath in left and heat is not None and moment.entering and _verb(node) != "dip":
            since, was = left[node.bath]
            cooler = was - float(heat.high)
            if cooler > 5 and not heat.open and start - since < cooler:
                line = moment.step.place.line
                yield f"line {line}: the bath is {cooler:.0f} °C too hot {start - since} min after"
        if node.bath and after is not None and after.heat is not None and _verb(node) != "lift":
            left[node.bath] = end, float(after.heat.low)


def _left_in_iron(plan: Judged, work: Work, spans: dict[int, tuple[int, int]]) -> Iterator[str]:
    """Fibre in a bath that spoils it is taken out soon after it has been there as written."""
    since: dict[str, tuple[int, int]] = {}
    for moment in plan.trace.moments:
        if moment.node.id not in spans:
            since.clear()
            continue
        start, end = spans[moment.node.id]
        for lot in dict.fromkeys((*moment.node.lots, *moment.node.present, *moment.node.left)):
            if lot in since and start - since[lot][0] > 15:
                line = moment.step.place.line
                yield f"line {line}: {lot} lies in metal for {start - since[lot][0]} min too long"
            since.pop(lot, None)
            state = moment.after.lots.get(lot)
            bath = moment.after.baths.get(state.bath) if state is not None else None
            if _metal_in(plan, bath):
                since[lot] = (end, start)


def _metal_in(plan: Judged, bath: BathState | None) -> bool:
    """Whether a bath holds what spoils fibre that lies in it for long."""
    things = bath.contents if bath is not None else ()
    metals = {
        material[0].entry.facts.get("metal", "")
        for thing in things
        if (material := plan.flow.materials.get(thing)) and material[0].entry
    }
    return bool(metals & set(_SPOILS))


def soiled(plans: Sequence[Judged], work: Work, times: Times) -> list[str]:
    """Fibre that comes into a tub after iron was rinsed out in it, with no cleaning between.

    Read from the text alone: which lots were in a bath with iron before they are rinsed, and which
    never were; tubs of one name are one, whichever procedure uses them.
    """
    of_line = {
        ((plan.model.title and plan.model.title.text), moment.step.place.line): (plan, moment)
        for plan in plans
        for moment in plan.trace.moments
    }
    uses: list[tuple[int, int, str, str, int]] = []
    for each in work.activities:
        start, end = times[each.key]
        if each.name.startswith("clean ") and each.key.endswith(" cleaned"):
            uses.append((start, end, each.name.removeprefix("clean "), "clean", 0))
        plan, moment = of_line.get((each.project, each.place.line), (None, None))
        if plan is None or moment is None:
            continue
        for pot in moment.node.cleaned:
            uses.append((start, end, plan.study.called(pot), "clean", 0))
        if not moment.node.own_water or not moment.node.pot or not moment.node.lots:
            continue
        ironed = [_iron_taken(plan, moment, lot) for lot in moment.node.lots]
        pot = plan.study.called(moment.node.pot)
        if not all(ironed):
            uses.append((start, end, pot, "other", each.place.line))
        if any(ironed) and _verb(moment.node) in ("rinse", "wash"):
            uses.append((start, end, pot, "iron", each.place.line))
    found, iron_in = [], dict[str, int]()
    for start, _, pot, what, line in sorted(uses):
        if what == "clean":
            iron_in.pop(pot, None)
        elif what == "iron":
            iron_in[pot] = line
        elif pot in iron_in:
            found.append(f"line {line} at {start} is in {pot} after the iron of {iron_in[pot]}")
    return found


def _iron_taken(plan: Judged, moment: Moment, lot: str) -> bool:
    things = moment.before.lots[lot].mordants if lot in moment.before.lots else ()
    entries = [plan.flow.materials[thing][0].entry for thing in things]
    return any(entry is not None and entry.facts.get("metal") == "iron" for entry in entries)
