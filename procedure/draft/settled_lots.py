"""The lots of a draft, once all of a recipe is read: each part that it tells apart has a name.

Where its parts are first told apart a lot is split, and every step names those that it is about.
"""

from __future__ import annotations

import itertools
from fractions import Fraction

from procedure.draft.amount import Amount
from procedure.draft.amount_writing import figure, written
from procedure.draft.coded_lots import name_of_part
from procedure.draft.course import Course, names_of
from procedure.draft.lots_meant import weight_of
from procedure.draft.shares import FibreShare, Lot, grams, union, whole
from procedure.draft.turning import GOES_IN, share_of
from procedure.draft.unsettled_steps import Bath, Step


def settle_lots(course: Course) -> None:
    """Give every step its lots by name, and part each lot before the first step on some of it."""
    shares = [one.share for one in course.steps if one.share is not None]
    if not shares:
        course.lots_told = [one for one in course.lots_told if one.of_all]
        if len(course.all_lots()) > 1:
            for step in course.steps:
                step.lot = names_of(course.all_lots())
        return
    everything = course.all_lots()
    lots = list(dict.fromkeys([*everything, *(lot for one in shares for lot in one.lots)]))
    parted = {lot: _blocks(lot, shares) for lot in lots}
    since: set[Lot] = set()
    names: dict[Lot, list[tuple[Lot, FibreShare]]] = {}
    weights = _weights(course)
    for lot, blocks in parted.items():
        names[lot] = [(_named(course, lot, at, share), share) for at, share in enumerate(blocks, 1)]
    at = 0
    while at < len(course.steps):
        step = course.steps[at]
        for lot in [one for one in lots if one not in since and len(parted[one]) > 1]:
            if step.share is None or not step.share.of(lot) or step.share.of(lot) == whole([lot]):
                continue
            added = _split(course, at, lot, names[lot], weights)
            since.add(lot)
            at += added
        step.lot = names_of(_lots_of(step, everything, names, since))
        at += 1


def _lots_of(
    step: Step,
    everything: list[Lot],
    names: dict[Lot, list[tuple[Lot, FibreShare]]],
    since: set[Lot],
) -> list[Lot]:
    share = step.share if step.share is not None else whole(everything)
    made: list[Lot] = []
    for lot in share.lots:
        if lot not in since:
            made.append(lot)
            continue
        made += [name for name, block in names[lot] if share.covers(block)]
    return made


def _named(course: Course, lot: Lot, at: int, share: FibreShare) -> Lot:
    made = Lot(name_of_part(course, lot, at, share))
    made.fibre = lot.fibre
    return made


def _blocks(lot: Lot, shares: list[FibreShare]) -> list[FibreShare]:
    """The parts of a lot that the shares tell apart, in order."""
    own = [share.of(lot) for share in shares]
    ends = sorted(
        {Fraction(0), Fraction(1), *(e for s in own for _, a, b in s.stretches for e in (a, b))}
    )
    atoms = [FibreShare([(lot, low, high)]) for low, high in itertools.pairwise(ends)]
    alike: dict[tuple[bool, ...], list[FibreShare]] = {}
    for atom in atoms:
        alike.setdefault(tuple(share.covers(atom) for share in own), []).append(atom)
    return [union(each) for each in alike.values()]


def _weights(course: Course) -> dict[Fraction, Amount]:
    """The weights by which parts of the one lot were spoken of, by how much of it they are."""
    lots = course.all_lots()
    total = weight_of(lots[0]) if len(lots) == 1 else None
    if total is None:
        return {}
    said = [one for one in course.picks if one.kind == "mass"]
    return {weight / total: one for one in said if (weight := grams(one)) is not None}


def _split(
    course: Course,
    at: int,
    lot: Lot,
    names: list[tuple[Lot, FibreShare]],
    weights: dict[Fraction, Amount],
) -> int:
    """Put the step that parts a lot before the step at this place; how many steps that are."""
    step = course.steps[at]
    split = Step("split", step.sentence, "split")
    said = [f"{name.name} {_how_much(lot, share.size, weights)}" for name, share in names[:-1]]
    split.name, split.lot = ", ".join([*said, names[-1][0].name]), lot.name
    sizes = [share.size for _, share in names]
    split.spoken = [one for one in course.picks if _says_one_of(one, lot, sizes)]
    course.picks = [one for one in course.picks if one not in split.spoken]
    added = [split]
    bath = _lies_in(course, at, lot)
    used = any(one.bath is bath for one in course.steps[at:]) or step.verb == "lift"
    if bath is not None and used:
        # In the language a lot that is divided comes out of its bath.
        back = Step("enter", step.sentence, "lot", bath)
        back.share = whole([lot])
        back.lot = names_of([name for name, _ in names])
        added.append(back)
    course.steps[at:at] = added
    return len(added)


def _says_one_of(amount: Amount, lot: Lot, sizes: list[Fraction]) -> bool:
    """True where an amount says how much one of the parts is."""
    if amount.kind == "mass":
        total, weight = weight_of(lot), grams(amount)
        return total is not None and weight is not None and weight / total in sizes
    low = amount.low
    return low is not None and (low in sizes or (low >= 1 and low / lot.count in sizes))


def _lies_in(course: Course, at: int, lot: Lot) -> Bath | None:
    for step in reversed(course.steps[:at]):
        if step.on == "lot" and share_of(course, step).of(lot):
            return step.bath if step.verb in GOES_IN else None
    return None


def _how_much(lot: Lot, size: Fraction, weights: dict[Fraction, Amount]) -> str:
    """How much goes into a part, as the language writes it."""
    if size in weights and (text := written(weights[size], "", "")):
        return text
    count = size * lot.count
    told = lot.pieces is not None or bool(lot.counted) or lot.of_a_weight_each[1] > 1
    if told and count.denominator == 1 and not lot.divided:
        noun = "piece" if lot.pieces is not None and lot.pieces.unit == "piece" else "skein"
        return f"{figure(count)} {noun}{'' if count == 1 else 's'}"
    return f"{figure(size)} of {lot.name}"
