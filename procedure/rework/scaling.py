"""Scaling: the same procedure for more or less fibre, as a new plan that is judged again.

What grows with the fibre: the lots and what is split from them in grams or pieces, and every
weight and volume of material and water, by the fibre that its bath treats. What does
not: percentages and ratios (they follow by themselves), heats, times, pots.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from procedure.flow import Flow, FlowNode
from procedure.flow.poured_on import treated_further_on
from procedure.model import Item, Lot, Material, Procedure, Quantity, Step
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple
from procedure.rework.rewriting import again, rewritten, times
from procedure.rework.staying import drawn_for_fibre, steps_that_stay
from procedure.vocabulary import Entry, vocabulary
from procedure.weigh.cannot import CannotWeigh
from procedure.weigh.shown_arithmetic import exact, short

# Kinds of quantity that are absolute and grow with the fibre.
_ABSOLUTE = frozenset(("mass", "volume", "spoon"))


class Scaled(NamedTuple):
    """A scaled plan and what it was scaled by, lot by lot (None where it had no weight)."""

    plan: Judged
    factors: Mapping[str, Fraction | None]
    weights: Mapping[str, Fraction]

    @property
    def sentence(self) -> str:
        """One line on what scaled and what did not."""
        parts = [
            f"{_as_asked(weight)} of {lot}"
            + ("" if (by := self.factors[lot]) is None else f" (× {short(by)})")
            for lot, weight in self.weights.items()
        ]
        loose = [lot for lot, by in self.factors.items() if by is None]
        said = (
            f"Worked out for {listed(parts)}: materials and water grow with the fibre; "
            "heats, times and pots stay as they are."
        )
        if loose:
            said += (
                f" The file does not say how much {listed(loose)} its own grams and litres "
                "are for, so those stay as written too."
            )
        return said


# Weights in pounds are asked for in halves, quarters, eighths and tenths of them, and in ounces
# in thousandths.
_FINEST, _THOUSAND = 16, 1000


def _as_asked(weight: Fraction) -> str:
    """Grams as they are asked for: in kilos, pounds or ounces where that is the round number."""
    units = vocabulary().units
    pounds, ounces = weight / units["lb"].factor, weight / units["oz"].factor
    if weight.denominator == 1:
        return f"{exact(weight)} g" if weight % 1000 else f"{exact(weight / 1000)} kg"
    if pounds >= 1 and pounds.denominator <= _FINEST:
        return f"{exact(pounds)} lb"
    return f"{exact(weight)} g" if _THOUSAND % ounces.denominator else f"{exact(ounces)} oz"


def lot_weight(lot: Lot) -> Fraction | None:
    """The middle of a lot's declared weight in grams, or None where there is none."""
    if lot.weight is None or not lot.weight.known or lot.weight.kind != "mass":
        return None
    weight = lot.weight.ends.middle
    return weight if weight > 0 else None


def scale(plan: Judged, weights: Mapping[str, Fraction], judged: bool = True) -> Scaled:
    """The plan with these dry weights (grams) of the main procedure's lots.

    It is judged again, unless only its amounts are wanted.

    Raises ``CannotWeigh`` for a weight that is not above nothing, and where a followed
    procedure is used twice on lots that scale differently.
    """
    for name, weight in weights.items():
        if weight <= 0:
            raise CannotWeigh(f"{exact(weight)} g of {name} is no fibre to dye.")
    factors: dict[str, Fraction | None] = {}
    lots: dict[str, Lot] = {}
    for name, lot in plan.model.lots.items():
        if name not in weights:
            factors[name] = Fraction(1)
            continue
        old = lot_weight(lot)
        factors[name] = None if old is None else weights[name] / old
        lots[name] = _weighing(lot, weights[name], factors[name])
    _not_for_more(plan, factors)
    by_step = _step_factors(plan, factors)
    parted = _weights_of_parts(plan)
    cut = _cut_skeins(plan, by_step, factors)

    def change(procedure: Procedure, step: Step, item: Item, quantity: Quantity) -> Quantity:
        factor = by_step.get((procedure.key, step.number), Fraction(1))
        if step.does.splits and quantity.kind == "count" and item.name is not None and factor != 1:
            grams = parted.get((procedure.key, step.number, item.name.text))
            weighed = (procedure.key, step.number) in cut
            return _more_pieces(quantity, grams, factor, weighed)
        if quantity.kind not in _ABSOLUTE or quantity.low is None or factor == 1:
            return quantity
        if quantity.unit is not None and quantity.unit.by_hand:
            return quantity  # a handful that is not said to be per what stays a handful
        return times(quantity, factor, factor, f"{quantity.text} × {short(factor)}")

    models = {
        procedure.key: rewritten(
            procedure,
            change,
            lots if procedure.key == plan.model.key else None,
            dict(_stocks(plan, procedure, by_step)),
        )
        for procedure in plan.study.procedures
    }
    chosen = {lot: factors[lot] for lot in weights}
    return Scaled(again(plan, models, judged), chosen, dict(weights))


def _weights_of_parts(plan: Judged) -> dict[tuple[str, int, str], Fraction]:
    """The grams of each part that a step parts off by its skeins or pieces, as written."""
    found: dict[tuple[str, int, str], Fraction] = {}
    for moment in plan.trace.moments:
        step = moment.step
        for item in step.into if step.does.splits else ():
            name = item.name.text if item.name is not None else ""
            part = moment.after.lots.get(moment.node.names.get(name, name))
            if part is not None and part.weight is not None:
                key = (moment.node.procedure.key, step.number, name)
                found[key] = part.weight.middle
    return found


def _cut_skeins(
    plan: Judged,
    by_step: Mapping[tuple[str, int], Fraction],
    factors: Mapping[str, Fraction | None],
) -> frozenset[tuple[str, int]]:
    """The steps that part a lot of which a skein would be cut, in all or in any of its parts."""
    cut = {
        name
        for name, lot in plan.model.lots.items()
        if lot.pieces is not None and not _whole_by(lot.pieces, factors[name] or Fraction(1))
    }
    steps: dict[tuple[str, int], set[str]] = {}
    known: dict[str, frozenset[str]] = {}
    for node in plan.flow.nodes:
        step = node.step
        if not isinstance(step, Step) or not step.does.splits:
            continue
        key = (node.procedure.key, step.number)
        roots = {root for lot in node.lots for root in _roots(plan.flow, lot, known)}
        steps.setdefault(key, set()).update(roots)
        counts = [item.quantity for item in step.into if item.quantity is not None]
        if not all(_whole_by(count, by_step.get(key, Fraction(1))) for count in counts):
            cut |= roots
    return frozenset(key for key, roots in steps.items() if roots & cut)


def _whole_by(count: Quantity, factor: Fraction) -> bool:
    """Whether a number of pieces stays whole when it grows; what is no number of them does."""
    if count.kind != "count" or not count.known:
        return True
    return all((end * factor).denominator == 1 for end in count.ends)


def _roots(flow: Flow, lot: str, known: dict[str, frozenset[str]]) -> frozenset[str]:
    """The declared lots that a lot is of; those that are found on the way are known afterwards."""
    waiting = [lot]
    while waiting:
        one = waiting[-1]
        origin = flow.lots.get(one)
        parts = origin.parts if origin is not None and origin.declared is None else ()
        unknown = [part for part in parts if part not in known]
        if one in known or not unknown:
            waiting.pop()
            of_parts = [known[part] for part in parts]
            known.setdefault(one, frozenset().union(*of_parts) if parts else frozenset((one,)))
        else:
            waiting += unknown
    return known[lot]


def _more_pieces(
    quantity: Quantity, grams: Fraction | None, factor: Fraction, weighed: bool
) -> Quantity:
    """So many skeins of a part, grown as its lot has: as many more, or their weight where a
    skein would be cut of it or of the other parts."""
    text = f"{quantity.text} × {short(factor)}"
    grown = times(quantity, factor, factor, text)
    if grams is None or (grown.known and not weighed):
        return grown
    weight = grams * factor
    return grown._replace(kind="mass", low=weight, high=weight, unit=vocabulary().units["g"])


def _not_for_more(plan: Judged, factors: Mapping[str, Fraction | None]) -> None:
    """Raises ``CannotWeigh`` where a recipe with a restricted salt is to be made for more fibre."""
    if all(by is not None and by <= 1 for by in factors.values()):
        return
    entry = restricted_in(plan)
    if entry is not None:
        raise CannotWeigh(
            f"A recipe with {entry.name} is not worked out for more fibre than it was "
            f"written for: it is kept as history. {entry.facts['restricted']}. "
            f"Safer: {entry.facts['safer']}."
        )


def restricted_in(plan: Judged) -> Entry | None:
    """The first restricted salt that a recipe takes, if any."""
    entries = (material.entry for material, _ in plan.flow.materials.values())
    return next((one for one in entries if one is not None and one.facts.get("restricted")), None)


def _weighing(lot: Lot, grams: Fraction, factor: Fraction | None) -> Lot:
    """The lot at another weight; its pieces grow with it while they stay whole."""
    text = f"{exact(grams)} g"
    if lot.weight is not None:
        weight = lot.weight._replace(
            kind="mass",
            low=grams,
            high=grams,
            text=text,
            about=False,
            reading=None,
            slack_low=Fraction(0),
            slack_high=Fraction(0),
            word="",
        )
    else:
        weight = Quantity("mass", grams, grams, text, lot.name.place)
    pieces = lot.pieces
    if pieces is not None and pieces.known and factor is not None:
        low, high = (end * factor for end in pieces.ends)
        whole = low.denominator == high.denominator == 1
        pieces = (
            times(pieces, factor, factor, f"{low} {pieces.text.split()[-1]}") if whole else None
        )
    made: Lot = lot._replace(weight=weight, pieces=pieces)
    return made


# ------------------------------------------------------------------ factors by step


def lots_of_node(flow: Flow) -> dict[int, tuple[str, ...]]:
    """The fibre that each step's amounts are for, by the plan's names of the lots.

    A bath is for all the fibre that it treats, and a solution for what the bath that
    it goes into treats; a step on a material alone is for all who use that material.
    """
    treats = treated_further_on(flow)
    found: dict[int, tuple[str, ...]] = {}
    users: dict[str, dict[str, None]] = {}
    waiting: list[FlowNode] = []
    for node in flow.nodes:
        lots = tuple(treats.get(node.bath, ())) if node.bath else ()
        lots = lots or node.lots
        if not lots:
            waiting.append(node)
            continue
        found[node.id] = lots
        for thing, _ in (*node.materials, *node.moved):
            users.setdefault(thing, {}).update(dict.fromkeys(lots))
    for node in waiting:
        together: dict[str, None] = {}
        for thing, _ in (*node.moved, *node.materials):
            together.update(users.get(thing, {}))
        found[node.id] = tuple(together)
    return found


def _step_factors(
    plan: Judged, factors: Mapping[str, Fraction | None]
) -> dict[tuple[str, int], Fraction]:
    flow = plan.flow
    known: dict[str, Fraction | None] = {}

    def weight_of(lot: str) -> Fraction | None:
        state = plan.trace.final.lots.get(lot)
        if state is None or state.weight is None:
            return None
        return state.weight.middle

    def together(lots: tuple[str, ...]) -> Fraction | None:
        """What fibre of several lots grows by: all of it after over all of it before."""
        roots = [lot for lot in lots if not set(flow.lots[lot].parts) & set(lots)]
        by = [factor_of(lot) for lot in roots]
        if not by or any(one is None for one in by):
            return None
        sure = [one for one in by if one is not None]
        return _mean(sure, [weight_of(lot) for lot in roots])

    def factor_of(lot: str) -> Fraction | None:
        if lot not in known:
            origin = flow.lots[lot]
            if origin.declared is not None:
                main = origin.procedure.key == plan.model.key
                known[lot] = factors.get(origin.declared.name.text) if main else Fraction(1)
            else:
                known[lot] = together(origin.parts)
        return known[lot]

    everything = together(tuple(n for n, o in flow.lots.items() if o.declared is not None))
    found: dict[tuple[str, int], Fraction] = {}
    staying, drawn = steps_that_stay(flow), drawn_for_fibre(flow)
    for number, treated in lots_of_node(flow).items():
        node = flow.nodes[number]
        lots = drawn.get(number, treated)
        factor = together(lots) if lots else everything
        if number in staying:
            factor = Fraction(1)
        if factor is None:
            factor = Fraction(1)
        key = (node.procedure.key, node.step.number)
        if found.setdefault(key, factor) != factor and _has_absolute(node):
            raise CannotWeigh(
                f"{node.procedure.file}, line {node.step.place.line}, is followed for lots that "
                "grow differently; give its amounts as a percentage of the fibre instead."
            )
    return found


def _stocks(
    plan: Judged, procedure: Procedure, by_step: Mapping[tuple[str, int], Fraction]
) -> Iterator[tuple[str, Material]]:
    """The materials of which a file says how much there is in all: that grows as their use does."""
    for thing, (made, where) in plan.flow.materials.items():
        stock = made.stock
        if where.key != procedure.key or stock is None or stock.kind not in _ABSOLUTE:
            continue
        uses: list[tuple[Fraction, Fraction]] = []
        for moment in plan.trace.moments:
            key = (moment.node.procedure.key, moment.step.number)
            for other, _, amount in moment.amounts:
                taken = amount is not None and not amount.again
                if other == thing and amount is not None and taken and not moment.node.does.readies:
                    uses.append((by_step.get(key, Fraction(1)), amount.grams.low))
        factor = _mean([by for by, _ in uses], [grams for _, grams in uses]) if uses else None
        if factor is not None and factor != 1 and stock.known:
            text = f"{stock.text} × {short(factor)}"
            yield made.name.text, made._replace(stock=times(stock, factor, factor, text))


def _mean(factors: list[Fraction], weights: list[Fraction | None]) -> Fraction | None:
    """The mean of factors by weight; None where they differ and a weight is not known."""
    if all(one == factors[0] for one in factors):
        return factors[0]
    known = [weight for weight in weights if weight is not None]
    whole = sum(known, Fraction(0))
    if len(known) < len(weights) or not whole:
        return None
    return sum((w * f for w, f in zip(known, factors, strict=True)), Fraction(0)) / whole


def _has_absolute(node: FlowNode) -> bool:
    step = node.step
    if not isinstance(step, Step):
        return False
    items = (*step.objects, *step.using, *step.into)
    return any(item.quantity is not None and item.quantity.kind in _ABSOLUTE for item in items)


# ------------------------------------------------------------------ what the user asks for


def shared_out(plan: Judged, total: Fraction) -> dict[str, Fraction]:
    """So much fibre in all, shared over the lots in the proportion that is written."""
    lots = plan.model.lots
    if not lots:
        raise CannotWeigh("The procedure declares no fibre to work out amounts for.")
    if len(lots) == 1:
        return dict.fromkeys(lots, total)
    weights = {name: lot_weight(lot) for name, lot in lots.items()}
    missing = [name for name, weight in weights.items() if weight is None]
    if missing:
        raise CannotWeigh(
            f"The weight of {missing[0]} is not written, so the fibre cannot be shared out; "
            f"say “--fibre {missing[0]}=200 g” and so on for each lot."
        )
    written = sum((weight for weight in weights.values() if weight is not None), Fraction(0))
    return {n: total * weight / written for n, weight in weights.items() if weight is not None}
