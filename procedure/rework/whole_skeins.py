"""Fibre asked for by the skein or piece: so many in all, none of them cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from procedure.model import Lot
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.rework.scaling import lot_weight
from procedure.vocabulary import vocabulary
from procedure.weigh.cannot import CannotWeigh

# Forms of fibre: yarn is wound into other skeins and balls, and a scarf is not cut.
_WOUND, _MADE_UP = "yarn", "garment"


def in_pieces(plan: Judged, name: str, count: Fraction) -> Fraction:
    """Grams of a lot that has so many pieces of the weight that one has as written.

    Raises ``CannotWeigh`` where it is not counted in pieces, or where the lots that it is
    split into would have whole pieces as written and not any more.
    """
    weight, pieces = _counted(plan, name)
    piece = weight / pieces
    parts = list(_parts(plan, name, piece))
    if any((many * count / pieces).denominator != 1 for _, many in parts):
        told = listed([f"{part} {_number(many * count / pieces)}" for part, many in parts])
        raise CannotWeigh(
            f"{_number(count)} skeins of {name} cannot be shared out whole: {told}. "
            f"{_can_be(pieces, [many for _, many in parts], count)}"
        )
    return piece * count


def pieces_shared_out(plan: Judged, count: Fraction) -> dict[str, Fraction]:
    """So many pieces in all, shared over the lots as they are written, none of them cut.

    Raises ``CannotWeigh`` where it cannot be, with what each would get and what can be.
    """
    lots = list(plan.model.lots)
    if not lots:
        raise CannotWeigh("The procedure declares no fibre.")
    if len(lots) == 1:
        return {lots[0]: in_pieces(plan, lots[0], count)}
    written = {lot: _counted(plan, lot)[1] for lot in lots}
    whole = sum(written.values(), Fraction(0))
    shares = {lot: count * pieces / whole for lot, pieces in written.items()}
    if any(share.denominator != 1 for share in shares.values()):
        told = listed([f"{lot} {_number(share)}" for lot, share in shares.items()])
        raise CannotWeigh(
            f"{_number(count)} skeins cannot be shared out whole over the lots: {told}. "
            f"{_can_be(whole, list(written.values()), count)} "
            f"Or say how many each gets: --skeins {lots[0]}=2."
        )
    return {lot: in_pieces(plan, lot, share) for lot, share in shares.items()}


def whole_pieces(plan: Judged, weights: Mapping[str, Fraction]) -> list[str]:
    """How many whole skeins or pieces these grams of each lot hold, where one would be cut."""
    told: list[str] = []
    cut = False
    for name, grams in weights.items():
        lot = plan.model.lots[name]
        weight, pieces = lot_weight(lot), lot.pieces
        if weight is None or pieces is None or not pieces.known or pieces.ends.middle <= 0:
            continue
        many = grams * pieces.ends.middle / weight
        cut = cut or many.denominator != 1
        told.append(f"{many // 1} of {name}")
    return [f"In whole skeins or pieces, none of them cut: {listed(told)}."] if cut else []


def one_piece(lot: Lot) -> Fraction | None:
    """Grams of one piece of a lot that nobody cuts, as a scarf; None for any other fibre."""
    weight, counted = lot_weight(lot), lot.pieces
    counted_in = counted.text.split() if counted is not None else ()
    # The wool of a wool shawl is its fibre, and no yarn besides.
    words = (word for word in lot.words if vocabulary().find(word, "fibres") is None)
    found = (vocabulary().find(word, "form") for word in (*words, *counted_in))
    forms = {form.name for form in found if form is not None}
    if weight is None or _WOUND in forms:
        return None
    if counted is not None and counted.known and counted.ends.middle > 0:
        return weight / counted.ends.middle
    return weight if _MADE_UP in forms else None


def uncut(lot: Lot, grams: Fraction) -> Fraction:
    """So many grams of a lot, or as many whole pieces as are in them where none is cut."""
    piece = one_piece(lot)
    return grams if piece is None else grams // piece * piece


def _counted(plan: Judged, name: str) -> tuple[Fraction, Fraction]:
    """The weight in grams of a lot, and its pieces, as written."""
    lot = plan.model.lots[name]
    weight = lot_weight(lot)
    if lot.pieces is None or not lot.pieces.known or lot.pieces.ends[0] <= 0:
        raise CannotWeigh(
            f"{name} is not counted in pieces; write for example “{name}: wool yarn, 240 g, "
            f"4 skeins”, or give its weight with “--fibre {name}=600 g”."
        )
    if weight is None:
        raise CannotWeigh(f"The weight of {name} is not written, so its pieces have none.")
    return weight, lot.pieces.ends.middle


def _parts(plan: Judged, name: str, piece: Fraction) -> Iterator[tuple[str, Fraction]]:
    """The lots that a lot is split into, each with its whole number of pieces as written."""
    for moment in plan.trace.moments:
        if not moment.node.does.splits or moment.node.lots[:1] != (name,):
            continue
        for part in moment.node.makes:
            weight = moment.after.lots[part].weight
            many = weight.low / piece if weight is not None and weight.low == weight.high else None
            if many is None or many.denominator != 1:
                return
            yield plan.study.called(part), many


def _can_be(whole: Fraction, parts: list[Fraction], count: Fraction) -> str:
    """The nearest numbers of pieces that can be shared out whole, below and above."""
    from math import gcd

    step = whole / gcd(*(int(part) for part in parts))
    below = count // step * step
    can = [many for many in (below, below + step) if many > 0]
    return f"{' or '.join(map(_number, can))} can be."


def _number(value: Fraction) -> str:
    return f"{float(value):g}"
