"""A plan to a weighing: what each step needs of each thing, exactly, and what it comes to.

Rows are in the order of use. Amounts are intervals in grams or litres; what the
procedure does not say is a gap, never zero. Nothing is rounded here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.model import Block, Item, Material, Quantity, Step
from procedure.pipeline import Judged
from procedure.quantity.interval import ONE, Interval
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple
from procedure.trace import Moment
from procedure.trace.amounts import Amount, over_passes
from procedure.weigh import stock_solutions
from procedure.weigh.shown_arithmetic import working
from procedure.weigh.totals import fibres, totals
from procedure.weigh.weighed import ALL_OF_IT, LOOSE, Fibre, Row, Total, Weighing

__all__ = ["Fibre", "Row", "Total", "Weighing", "title", "weigh"]


def weigh(plan: Judged) -> Weighing:
    """Weigh out a plan; of a solution of unclear strength the amount is a gap."""
    rows = list(_as_one_stock(plan, _rows(plan)))
    used = {row.thing for row in rows if row.counts}
    shown = tuple(
        row if row.counts or row.thing in used or row.part != "material" else _counted(row)
        for row in rows
    )
    return Weighing(plan, tuple(fibres(plan)), shown, totals(plan, shown), _unmeasured(plan))


def _as_one_stock(plan: Judged, rows: Iterator[Row]) -> Iterator[Row]:
    """Rows of one stuff under one name, though several files of the plan declare it."""
    first: dict[object, str] = {}
    for row in rows:
        declared = plan.flow.materials.get(row.thing)
        if declared is None or row.part != "material":
            yield row
            continue
        strength = declared[0].strength
        key = (row.called, row.material, row.state, strength and strength.text)
        yield replace(row, thing=first.setdefault(key, row.thing))


def _counted(row: Row) -> Row:
    return replace(row, counts=True)


# ------------------------------------------------------------------ rows


class _Way(NamedTuple):
    """How often a node comes round, and on what condition."""

    times: Interval
    conditions: tuple[str, ...]
    ways: tuple[tuple[int, str], ...] = ()
    perhaps: bool = False


def _ways(
    nodes: list[FlowNode], way: _Way, found: dict[int, _Way], choice: int = -1
) -> dict[int, _Way]:
    """How often, and when, each node of the plan comes round."""
    for node in nodes:
        found[node.id] = way
        inner = way
        block = node.step
        if isinstance(block, Block) and node.kind == "if":
            conditions = (*way.conditions, f"if “{block.condition}”")
            inner = way._replace(conditions=conditions, perhaps=True)
        elif isinstance(block, Block) and node.kind == "way":
            conditions = (*way.conditions, f"on the way “{block.condition}”")
            inner = way._replace(conditions=conditions, ways=(*way.ways, (choice, block.condition)))
        elif isinstance(block, Block) and node.kind == "repeat":
            if block.times is None:
                said = f"each time round, until “{block.condition}”"
                inner = way._replace(conditions=(*way.conditions, said))
            else:
                times = Interval(*sorted(block.times))
                inner = way._replace(times=way.times.times(times))
        _ways(node.inner, inner, found, node.id)
    return found


def _moments(plan: Judged) -> Iterator[list[Moment]]:
    """The moments of each node, in the order in which nodes first happen."""
    found: dict[int, list[Moment]] = {}
    for moment in plan.trace.moments:
        found.setdefault(moment.node.id, []).append(moment)
    yield from found.values()


def _rows(plan: Judged) -> Iterator[Row]:
    ways = _ways(plan.flow.top, _Way(ONE, ()), {})
    met: set[str] = {""}
    for passes in _moments(plan):
        node = passes[0].node
        step = passes[0].step
        way = ways.get(node.id, _Way(ONE, ()))
        pressed = node.does.presses_plants
        readying = node.does.readies or (node.does.in_water and not node.makes)
        moved = {id(item) for _, item in node.moved}
        for i, (thing, item, _) in enumerate(passes[0].amounts):
            unweighed = item.quantity is None and (readying or pressed)
            if id(item) in moved and (_comes_out(node) or unweighed):
                continue
            amounts = [moment.amounts[i][2] for moment in passes]
            row = _row(plan, passes[0], step, thing, item, amounts, way)
            again = any(amount is not None and amount.again for amount in amounts)
            if again or (readying and id(item) in moved):
                row = _uncounted(row)
            yield row
        if node.does.tops_up and step.to is not None:
            topped = _topped_up(plan, passes[0], step, way)
            if topped is not None:
                yield topped
        kept = node.bath not in met and plan.flow.baths.get(node.bath, 0) < 0
        if kept or node.does.draws_off or (node.does.empties and _part_of(step) is not None):
            yield _of_its_bath(plan, passes[0], step, way)
        met |= {node.bath, *(thing for thing, _, _ in passes[0].amounts)}


def _part_of(step: Step) -> Quantity | None:
    """How much of its bath a step takes; None where it takes all of it, or does not say."""
    return step.objects[0].quantity if step.objects else None


def _of_its_bath(plan: Judged, moment: Moment, step: Step, way: _Way) -> Row:
    """What a step takes out of its bath, or a kept bath that is there for the first step on it."""
    node = moment.node
    takes = node.does.draws_off or node.does.empties
    quantity = _part_of(step) if takes else None
    ends = _of_volume(moment, quantity)
    kept = plan.flow.baths.get(node.bath, 0) < 0
    made = ", ".join(f"this is {plan.study.called(name)} from now on" for name in node.makes)
    how = "drawn off" if node.does.draws_off else "poured away" if takes else "as it was kept"
    return Row(
        node=node.id,
        file=node.procedure.file,
        line=step.place.line,
        step=title(plan, node),
        bath=plan.study.called(node.bath),
        pot=plan.study.called(node.pot),
        thing=node.bath,
        called=plan.study.called(node.bath),
        material="",
        state="",
        part="kept" if kept and not takes else "bath",
        kind="volume" if ends is not None else "",
        low=ends.low * way.times[0] if ends is not None else None,
        high=ends.high * way.times[1] if ends is not None else None,
        times=way.times,
        condition=", ".join(way.conditions),
        ways=way.ways,
        perhaps=way.perhaps,
        written=_share_written(quantity),
        working="",
        note="; ".join(word for word in (how, made) if word),
        gap=takes and ends is None,
        counts=kept and not takes,
        each=ends if ends is not None and way.times != ONE else None,
    )


def _share_written(quantity: Quantity | None) -> str:
    """How much of its bath is written: “half of vat”, and “400 mL” for so much of a bath."""
    if quantity is None:
        return ""
    return quantity.text.partition(" of ")[0] if quantity.kind == "volume" else quantity.text


def _of_volume(moment: Moment, quantity: Quantity | None) -> Interval | None:
    """The litres that a quantity is of the bath of a step; None where that is not known."""
    if quantity is None or not quantity.known:
        return None
    if quantity.kind == "volume":
        return quantity.ends
    bath = moment.bath_before
    shares = quantity.kind in ("share", "percent")
    if not shares or bath is None or bath.volume is None or quantity.ends.open:
        return None
    return Interval(quantity.ends.low * bath.volume.low, quantity.ends.high * bath.volume.high)


def _comes_out(node: FlowNode) -> bool:
    """True where plants come out of a bath or are thrown away: nobody weighs them for it."""
    return node.does.lifts_matter or node.does.throws_matter_out


def _uncounted(row: Row) -> Row:
    return replace(row, counts=False)


def _as_written(quantity: Quantity | None, part: str, amount: Amount | None) -> Iterator[str]:
    """What is to be said of the way in which an amount is written."""
    if quantity is None:
        if part in ("material", "water"):
            yield _without_amount(amount)
        return
    hand = quantity.unit is not None and quantity.unit.by_hand
    if quantity.kind == "spoon" and hand and quantity.unit is not None:
        yield f"a {quantity.unit.name} {LOOSE}, and does not grow with the fibre"
    elif quantity.kind in ("spoon", "spoon by weight", "spoon by volume"):
        name = quantity.unit.name if quantity.unit is not None else "spoon"
        cup = "cup" if name.endswith("cup") else "spoon"
        yield f"a {name if hand else cup} {LOOSE}"
    if quantity.kind == "unstated":
        yield "the source does not say"
    elif quantity.kind == "loose":
        yield f"written as “{quantity.text}”"
    elif amount is None:
        yield f"written as “{quantity.text}”, which cannot be worked out here"
    elif quantity.left:
        yield quantity.text


def _without_amount(amount: Amount | None) -> str:
    if amount is None:
        return "no amount is written"
    if amount.filled:
        return "what is missing to fill it up"
    return "the same as before, used again" if amount.again else "all that was made ready"


def _row(
    plan: Judged,
    moment: Moment,
    step: Step,
    thing: str,
    item: Item,
    amounts: list[Amount | None],
    way: _Way,
) -> Row:
    quantity = item.quantity
    amount = over_passes(amounts)
    note: list[str] = []
    part = "water" if thing == WATER else "material"
    material = plan.flow.materials.get(thing)
    if thing in plan.flow.baths:
        part = "kept" if plan.flow.baths[thing] < 0 else "bath"
        if quantity is None:
            other = moment.before.baths.get(thing)
            if other is not None and other.volume is not None:
                amount = Amount("volume", *other.volume)
            note.append(ALL_OF_IT)
    said = "" if quantity is None or quantity.left else quantity.text
    sum_line = "" if quantity is None else working(plan, quantity, amount, way.times)
    note += _as_written(quantity, part, amount)
    if material is not None and quantity is not None and amount is not None:
        poured = stock_solutions.poured(material[0], quantity, amount)
        if poured is not None:
            amount = poured.amount
            note.append(poured.note)
            sum_line = f"{sum_line}; {poured.working}" if poured.working else sum_line
    low = high = None
    if amount is not None:
        low, high = amount.low * way.times[0], amount.high * way.times[1]
    return Row(
        node=moment.node.id,
        file=moment.node.procedure.file,
        line=item.place.line,
        step=title(plan, moment.node),
        bath=plan.study.called(moment.node.bath),
        pot=plan.study.called(moment.node.pot),
        thing=thing,
        called=plan.study.called(thing),
        material=_material_name(material[0] if material else None),
        state=_state(material[0]) if material else "",
        part=part,
        kind=amount.kind if amount else _kind_of(quantity),
        low=low,
        high=high,
        times=way.times,
        condition=", ".join(way.conditions),
        ways=way.ways,
        perhaps=way.perhaps,
        written=said,
        working=sum_line,
        note="; ".join(note),
        gap=amount is None and (part in ("material", "water") or quantity is not None),
        counts=part != "bath",
        each=Interval(amount.low, amount.high) if amount and way.times != ONE else None,
    )


def _kind_of(quantity: Quantity | None) -> str:
    return quantity.kind if quantity is not None and quantity.kind in ("mass", "volume") else ""


def _topped_up(plan: Judged, moment: Moment, step: Step, way: _Way) -> Row | None:
    """Water that brings a bath up to a mark: what was taken off since, as far as is known."""
    assert step.to is not None
    if step.to.quantity is None or any(thing == WATER for thing, _, _ in moment.amounts):
        return None
    before, after = moment.bath_before, moment.bath_after
    low = high = None
    note = f"up to {step.to.quantity.text}, to make good what has boiled away"
    if before is not None and before.volume and after is not None and after.volume:
        least = after.volume[0] - before.volume[1]
        most = after.volume[1] - before.volume[0]
        if most > 0:
            low, high = max(least, Fraction(0)) * way.times[0], most * way.times[1]
            note = f"up to {step.to.quantity.text}, and what has boiled away besides"
    node = moment.node
    return Row(
        node=node.id,
        file=node.procedure.file,
        line=step.place.line,
        step=title(plan, node),
        bath=plan.study.called(node.bath),
        pot=plan.study.called(node.pot),
        thing=WATER,
        called=WATER,
        material="",
        state="",
        part="water",
        kind="volume",
        low=low,
        high=high,
        times=way.times,
        condition=", ".join(way.conditions),
        ways=way.ways,
        perhaps=way.perhaps,
        written=f"to {step.to.quantity.text}",
        working="",
        note=note,
        gap=False,
    )


def _state(made: Material) -> str:
    """Fresh, dried, or how strong it is: who pours must know it."""
    return made.state or (made.strength.text if made.strength is not None else "")


def _material_name(material: Material | None) -> str:
    return material.in_full if material is not None and material.entry is not None else ""


def title(plan: Judged, node: FlowNode) -> str:
    """A step in few words: its label, verb, fibre and pot."""
    step = node.step
    assert isinstance(step, Step)
    label = f"{step.label.text}: " if step.label else ""
    verb = step.verb.name if step.verb else "do"
    lots = [plan.study.called(lot) for lot in node.lots]
    target = plan.study.called(node.bath)
    named = step.label is not None and target == step.label.text
    words = [f"{label}{verb}"]
    if step.verb is not None and step.verb.group == "material":
        words.append(" and ".join(plan.study.called(thing) for thing, _ in node.moved))
    if lots:
        words.append(listed(lots))
    if step.verb is not None and step.verb.group == "bath" and target and not named:
        words += ["to", target] if node.does.adds else [target]
    elif target and not named:
        words.append(f"in {target}")
    elif node.pot:
        words.append(f"in {plan.study.called(node.pot)}")
    return " ".join(word for word in words if word)


def _unmeasured(plan: Judged) -> tuple[Row, ...]:
    """Steps that take clean water of which the text says nothing at all."""
    found = []
    for passes in _moments(plan):
        node = passes[0].node
        if not node.does.own_water or node.bath:
            continue
        if any(thing == WATER for thing, _, _ in passes[0].amounts):
            continue
        found.append(
            Row(
                node=node.id,
                file=node.procedure.file,
                line=node.step.place.line,
                step=title(plan, node),
                bath="",
                pot=plan.study.called(node.pot),
                thing=WATER,
                called=WATER,
                material="",
                state="",
                part="water",
                kind="volume",
                low=None,
                high=None,
                times=ONE,
                condition="",
                written="",
                working="",
                note="the water is not measured",
                gap=False,
            )
        )
    return tuple(found)
