"""What has to be bought or gathered for a plan, what is in stock, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from procedure.collection.shop import Price, StockHeld
from procedure.model import Material
from procedure.pipeline import Judged
from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold
from procedure.weigh.weighed import Total, Weighing

CENT = Fraction(1, 100)
FIRE = "a hotplate or a stove"


class Errand(NamedTuple):
    """One thing to get.

    ``how`` is buy, gather or keep; ``need`` grams or litres by ``kind`` (None where the
    procedure does not say all of it); ``stock`` what the workshop has and ``missing`` what
    it lacks, both None where the stock is not known; ``cost`` is that of what the batch
    uses, None where there is no price. ``state`` is how it is declared: dried, ground, 5 %.
    """

    name: str
    own: str
    how: str
    kind: str
    need: Interval | None
    stock: Fraction | None
    missing: Interval | None
    cost: Interval | None
    currency: str
    condition: str
    state: str = ""


class Vessel(NamedTuple):
    """A pot or a tool: its nickname, what it is, and the litres it holds, None if not said."""

    name: str
    what: str
    holds: Interval | None


class Errands(NamedTuple):
    """All errands of a plan, and what to have at hand. ``fibre`` is in grams, None if not known.

    ``vessels`` are the pots and tools, ``at_hand`` all else that is not bought for the batch.
    ``priced`` holds where the workshop has prices, be they of these things or of others.
    """

    errands: tuple[Errand, ...]
    vessels: tuple[Vessel, ...]
    at_hand: tuple[str, ...]
    fibre: Fraction | None
    priced: bool = False

    @property
    def costs(self) -> dict[str, Interval]:
        """What the batch uses costs, by currency; only what has a price counts.

        Each cost counts as it is printed, to the hundredth, so that whoever adds the list up
        comes to the same sum.
        """
        found: dict[str, Interval] = {}
        for one in self.errands:
            if one.cost is not None and not one.condition:
                sum_, cost = found.get(one.currency), in_hundredths(one.cost)
                found[one.currency] = cost if sum_ is None else sum_.plus(cost)
        return found


def in_hundredths(cost: Interval) -> Interval:
    """A sum of money to the hundredth: cents, pence, whatever the currency has."""
    return Interval(*(round(end / CENT) * CENT for end in cost))


def errands(
    plan: Judged, weighing: Weighing, left: Mapping[str, StockHeld] | None = None
) -> Errands:
    """What a plan needs from the shop, the garden and the shelf.

    ``left`` is what is left of the workshop's stock; the stock as it is written where None.
    """
    shop = plan.study.workshop
    prices: Mapping[str, Price] = shop.prices if shop is not None else {}
    stock: Mapping[str, StockHeld] = shop.stock if shop is not None else {}
    there = dict(stock if left is None else left)  # what one takes is there for no other
    made = tuple(
        _errand(plan, total, prices, there) for total in weighing.totals if total.how != "draw"
    )
    weights = [one.grams for one in weighing.fibres if not one.of]
    known = [weight[1] for weight in weights if weight is not None]
    fibre = sum(known, Fraction(0)) if known and len(known) == len(weights) else None
    return Errands(made, tuple(_vessels(plan)), tuple(_at_hand(plan)), fibre, bool(prices))


def _errand(
    plan: Judged, total: Total, prices: Mapping[str, Price], there: dict[str, StockHeld]
) -> Errand:
    """What is needed of a thing; what it takes of the stock is no longer ``there``."""
    found = plan.flow.materials.get(total.thing)
    real = found[0].in_full if found is not None else total.called
    own = found[0].name.text if found is not None else total.called
    names = _names(found[0], total.material) if found is not None else (own, total.material)
    meant = found[0].entry.name if found is not None and found[0].entry is not None else ""
    price = prices.get(_key_of(names, meant, prices))
    shelf = _key_of(names, meant, there)
    held = there.get(shelf)
    need = Interval(total.low, total.high) if total.kind and not total.gaps else None
    cost = missing = in_stock = None
    if need is not None and price is not None and price.held.kind == total.kind:
        cost = Interval(price.of(need[0]), price.of(need[1]))
    if held is not None and held.kind == total.kind:
        in_stock = held.amount
        if need is not None:
            low, high = (max(end - held.amount, Fraction(0)) for end in need)
            missing = Interval(low, high)
            if not total.condition:
                left = max(held.amount - need.high, Fraction(0))
                there[shelf] = held._replace(amount=left)
    currency = price.currency if price is not None else ""
    state = ""
    if found is not None:
        entries = (vocabulary().find(word, "state") for word in found[0].words)
        words = [entry.name for entry in entries if entry is not None]
        strength = found[0].strength
        state = ", ".join((*words, *((strength.text,) if strength is not None else ())))
    return Errand(
        name=real,
        own=own,
        how=total.how,
        kind=total.kind,
        need=need,
        stock=in_stock,
        missing=missing,
        cost=cost,
        currency=currency,
        condition=total.condition,
        state=state,
    )


def _key_of(names: tuple[str, ...], meant: str, table: Mapping[str, object]) -> str:
    """The key under which a thing has its price or stock: one of its names, or another word for
    it, as “alum” is for potassium alum; empty where it has none."""
    found = next((name for name in names if name in table), "")
    if found or not meant:
        return found
    known = ((key, vocabulary().material(key.replace("-", " "))) for key in table)
    return next((key for key, entry in known if entry is not None and entry.name == meant), "")


def _names(made: Material, called: str) -> tuple[str, ...]:
    """The names under which a material may have its stock and price, the surest last.

    Its nickname counts where it means no other material: a followed file may call a detergent
    soap.
    """
    own, entry = made.name.text, made.entry
    meant = vocabulary().material(own.replace("-", " "))
    nickname = meant is None or entry is None or meant.name == entry.name
    said = (own, own.replace("-", " ")) if nickname else ()
    return tuple(dict.fromkeys((*said, made.in_full, called, *((entry.name,) if entry else ()))))


def _vessels(plan: Judged) -> Iterator[Vessel]:
    """The pots and tools; of two that are alike by name in several files the first."""
    told: set[str] = set()
    for pot, _ in plan.flow.pots.values():
        name = pot.name.text.replace("-", " ")
        if name in told:
            continue
        told.add(name)
        uses = [word for word in pot.words if vocabulary().find(word, "use") is not None]
        what = [word for word in pot.words if word not in uses]
        if pot.power is not None:
            what.append(pot.power.text)
        size = pot.capacity
        holds = size.ends if size is not None and size.known else None
        said = ", ".join(_stuff_first(what))
        yield Vessel(name, "" if said == name else said, holds)


def _stuff_first(words: Sequence[str]) -> list[str]:
    """Words of a pot: ``stainless steel`` and ``pot`` are one, the rest apart."""
    tables = ("metals", "vessel", "heater", "tool")
    stuff = [word for word in words if vocabulary().find(word, *tables) is not None]
    return [*([" ".join(stuff)] if stuff else []), *(word for word in words if word not in stuff)]


def _at_hand(plan: Judged) -> Iterator[str]:
    """What is worn, and what the work is measured with."""
    yield from dict.fromkeys(
        name.text for procedure in plan.study.procedures for name in procedure.wearing
    )
    written = [said.quantity.kind for made in plan.study.procedures for said in made.written]
    for kind, tool in (("mass", "scales"), ("temperature", "a thermometer"), ("time", "a clock")):
        if kind in written:
            yield tool
    if "acidity" in written:
        yield "pH papers"
    if wants_a_fire(plan):
        yield FIRE
    yield "something to stir with"
    yield "labels and a waterproof pen"


def wants_a_fire(plan: Judged) -> bool:
    """True where something is heated, and nothing is declared to heat it on."""
    kinds = {pot.kind.table for pot, _ in plan.flow.pots.values() if pot.kind is not None}
    if "heater" in kinds:
        return False
    warm = threshold("scalding bath").value
    return any(
        bath.heat is not None and bath.heat[1] >= warm
        for moment in plan.trace.moments
        for bath in moment.after.baths.values()
    )
