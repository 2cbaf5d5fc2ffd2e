"""Which pots a first procedure uses: those at hand, those of the workshop, or usual ones."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.collection.nearest import workshop_of
from procedure.model import Equipment
from procedure.pipeline import read
from procedure.quantity.record import NamedTuple
from procedure.start.wish import NoMethod, Wish, number, usual, usual_range, usual_sizes
from procedure.vocabulary.thresholds import threshold

_VOLUME = re.compile(r",?\s*(\d+(?:\.\d+)?)\s*(.*\S)\s*$")


class Pots(NamedTuple):
    """The names of what is used, and the lines that declare what no workshop declares.

    ``bag`` is what holds plants back; ``why`` tells of pots of the workshop that do not serve.
    """

    pot: str
    tub: str
    bag: str
    lines: tuple[str, ...]
    why: str = ""


def litres(asked: Wish) -> tuple[Fraction, Fraction]:
    """How large the pot and the tub must be: room for the liquor, the fibre and the plants."""
    kilos = asked.weight / 1000
    liquor = usual("vat liquor" if asked.with_vat else "liquor")
    plants = Fraction(0)
    if not asked.in_vat:
        found = usual_range(asked.dye, "dried") or usual_range(asked.dye, "fresh")
        plants = found[1] / 100 if found is not None else plants
    room = liquor + threshold("fibre displacement").value
    room += plants * threshold("plant displacement").value
    tub = usual("liquor") + threshold("fibre displacement").value
    return (
        kilos * room / threshold("pot fill share").value,
        kilos * tub / threshold("water fill share").value,
    )


def chosen(asked: Wish) -> Pots:
    """The pots for what is asked. Raises :class:`NoMethod` where those at hand are too small."""
    pot, tub = litres(asked)
    if asked.pots:
        return _at_hand(asked, pot, tub)
    shop = workshop_of(asked.here)
    if shop is not None and shop.workshop.equipment:
        return _of_workshop(asked, shop.workshop.equipment, pot, tub)
    return _usual(asked, pot, tub)


def _usual(asked: Wish, pot: Fraction, tub: Fraction, why: str = "") -> Pots:
    sizes = [_size(asked, needed) for needed in (pot, tub)]
    lines = (
        f"pot: stainless steel pot, {sizes[0]} L, lidded, for dyeing only",
        f"tub: plastic tub, {sizes[1]} L, for dyeing only",
        *_bag(asked),
    )
    return Pots("pot", "tub", "bag", lines, why)


def _size(asked: Wish, needed: Fraction) -> str:
    sizes = usual_sizes("pot sizes")
    found = next((size for size in sizes if size >= needed), None)
    if found is None:
        most = asked.weight * sizes[-1] / needed / 1000
        raise NoMethod(
            f"{number(asked.weight / 1000)} kg needs a pot of {number(needed)} L, larger than any "
            f"that is sold for this; do it in lots of {number(Fraction(int(most * 2), 2))} kg."
        )
    return number(found)


# ------------------------------------------------------------------ pots at hand


def _at_hand(asked: Wish, pot: Fraction, tub: Fraction) -> Pots:
    lines = [_line(n, said) for n, said in enumerate(asked.pots, 1)]
    model = read("equipment\n" + "".join(f"  {line}\n" for line in lines)).model
    known = dict(model.equipment)
    for line, said in zip(lines, asked.pots, strict=True):
        made = known.get(line.split(":")[0])
        if made is None or made.capacity is None:
            raise NoMethod(f"“{said}” is no pot; write it as “stainless steel pot 10 L”.")
        if made.use != "dyeing":
            raise NoMethod(
                f"“{said}” is used for food, and what has held dye never is again; name pots that "
                "are kept for dyeing."
            )
    first, second = _pot(known, pot), _tub(known, tub, _pot(known, pot))
    if first is None:
        raise NoMethod(
            f"none of these can take the bath: {number(asked.weight)} g of fibre needs a pot of "
            f"{number(pot)} L that may be heated, such as one of stainless steel."
        )
    if second is None:
        raise NoMethod(
            f"beside the pot, {number(asked.weight)} g of fibre needs a tub or bucket of "
            f"{number(tub)} L to be wetted and rinsed in."
        )
    used = [line for line in lines if line.split(":")[0] in (first, second)]
    return Pots(first, second, "bag", (*used, *_bag(asked)))


def _bag(asked: Wish, name: str = "bag") -> tuple[str, ...]:
    """The line of a bag that holds plants back; none where there are no plants."""
    return (f"{name}: net bag, for dyeing only",) if asked.with_plants else ()


def _line(place: int, said: str) -> str:
    """A pot as the equipment section has it: ``stainless steel pot 10 L`` is kept for dyeing."""
    words = " ".join(said.split())
    found = _VOLUME.search(words)
    what, size = (words[: found.start()], f"{found[1]} {found[2]}") if found else (words, "")
    kept = "" if re.search(r"\b(cooking|food|kitchen)\b", words) else ", for dyeing only"
    lid = "" if "lid" in words or "pot" not in words else ", lidded"
    return f"pot-{place}: {what.strip(' ,')}, {size}{lid}{kept}"


# ------------------------------------------------------------------ pots of the workshop


def _of_workshop(asked: Wish, known: dict[str, Equipment], pot: Fraction, tub: Fraction) -> Pots:
    first = _pot(known, pot)
    second = _tub(known, tub, first)
    bag = next((name for name, one in known.items() if one.bag and one.use == "dyeing"), None)
    lines = []
    why = []
    for found, line, needed in (
        (first, "stainless steel pot, {} L, lidded, for dyeing only", pot),
        (second, "plastic tub, {} L, for dyeing only", tub),
    ):
        name = "pot" if needed == pot else "tub"
        if found is None:
            size = next((size for size in usual_sizes("pot sizes") if size >= needed), needed)
            own = name if name not in known else f"larger-{name}"
            lines.append(f"{own}: {line.format(number(size))}")
            why.append(f"The workshop has no {name} of {number(needed)} L that serves.")
            first, second = (own, second) if name == "pot" else (first, own)
    if bag is None:
        lines += _bag(asked, "dye-bag")
    assert first is not None and second is not None
    return Pots(first, second, bag or "dye-bag", tuple(lines), " ".join(why))


def _pot(known: dict[str, Equipment], needed: Fraction) -> str | None:
    """The smallest pot that is large enough, may be heated and does nothing to the dye."""
    fit = [
        (one.capacity.low, name)
        for name, one in known.items()
        if _holds(one, needed) and one.lidded and _may_be_heated(one) and _inert(one)
        if one.capacity is not None and one.capacity.low is not None
    ]
    return min(fit)[1] if fit else None


def _tub(known: dict[str, Equipment], needed: Fraction, besides: str | None) -> str | None:
    """The smallest other vessel for water that is large enough."""
    fit = [
        (one.capacity.low, name)
        for name, one in known.items()
        if name != besides and _holds(one, needed) and _inert(one)
        if one.capacity is not None and one.capacity.low is not None
    ]
    return min(fit)[1] if fit else None


def _holds(one: Equipment, needed: Fraction) -> bool:
    capacity = one.capacity.low if one.capacity is not None else None
    return one.holds and one.use == "dyeing" and capacity is not None and capacity >= needed


def _may_be_heated(one: Equipment) -> bool:
    known = one.metal is not None and one.metal.facts.get("heatable") == "yes"
    return known and (one.kind is None or one.kind.facts.get("meaning") != "unheated vessel")


def _inert(one: Equipment) -> bool:
    """True for a vessel whose stuff neither acts as a mordant nor suffers from a bath."""
    return one.metal is not None and not (
        one.metal.facts.get("acts_as") or one.metal.facts.get("attacked_by")
    )
