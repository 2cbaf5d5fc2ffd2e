"""Lots of fibre, and shares of them: "two of the skeins", "a third of the yarn", "the rest".

A lot is a stretch from 0 to 1, and a share is stretches of one lot or of several. So halves,
skeins and weights of one lot can be spoken of beside each other, and which parts of it a recipe
tells apart is worked out when all of it has been read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction

from procedure.draft.amount import Amount
from procedure.draft.lexicon import meanings
from procedure.draft.stock import Measured
from procedure.vocabulary import vocabulary

SO_MANY = re.compile(
    r"(?P<n>[a-z]+|\d{1,2})(?:\s+(?:[x×]\s*)?|\s*[x×]\s*)\d+(?:\.\d+)?\s?-?(?:g|oz|lb|kg)", re.I
)


def grams(amount: Amount) -> Fraction | None:
    """A weight in grams; None for what is no plain weight."""
    unit = vocabulary().units.get(amount.unit)
    if amount.kind != "mass" or unit is None or amount.low is None:
        return None
    return amount.low * unit.factor if unit.factor == unit.factor_high else None


class Lot:
    """A lot of fibre as the prose names it."""

    def __init__(self, name: str) -> None:
        self.name, self.fibre, self.form = name, "", ""
        self.weight: Amount | None = None
        self.pieces: Amount | None = None
        self.each: Amount | None = None
        self.wound_so_heavy = False  # "1 lb of wool in 4 oz skeins": ``each`` parts the weight
        self.again: list[Amount] = []  # its weight, told a second time
        self.is_mordanted = False  # before the recipe begins, and with what
        self.mordanted: list[Measured] = []
        self.counted = 0  # of how many skeins it is, where they are only told of lot by lot
        self.by_labels = False  # where only their labels tell how many, and no word counts them
        self.divided = 0  # into how many equal parts the prose divides it, where it says so

    @property
    def of_a_weight_each(self) -> tuple[Amount | None, int]:
        """The weight that is told by its pieces, "four 25 g skeins", and how many; else None, 1."""
        for told in (self.weight, *self.again):
            many = SO_MANY.match(told.words) if told is not None else None
            word = many["n"].lower() if many else ""
            count = meanings("number").get(word, word if word.isdigit() else "1")
            if count.isdigit() and int(count) > 1:
                return told, int(count)
        return None, 1

    @property
    def as_many_as_weigh_it(self) -> int | None:
        """How many pieces of the weight of each make up the whole, where they do without a rest."""
        if self.weight is None or self.each is None or not self.wound_so_heavy:
            return None
        whole, each = grams(self.weight), grams(self.each)
        many = whole / each if whole and each else Fraction(0)
        return int(many) if many > 1 and many.denominator == 1 else None

    @property
    def count(self) -> int:
        """How many skeins or equal parts it is of; 1 where the prose does not say."""
        if self.divided:
            return self.divided
        pieces = self.pieces
        if pieces is None:
            return self.counted or self.as_many_as_weigh_it or self.of_a_weight_each[1]
        if pieces is None or pieces.about or pieces.low is None or pieces.low.denominator != 1:
            return 1
        return int(pieces.low) if pieces.high in (None, pieces.low) else 1


Stretch = tuple[Lot, Fraction, Fraction]


class FibreShare:
    """Some of one lot or of several, as stretches that do not overlap."""

    def __init__(self, stretches: Iterable[Stretch] = ()) -> None:
        self.stretches = tuple(_merged(stretches))

    def __bool__(self) -> bool:
        return bool(self.stretches)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, FibreShare) and set(self.stretches) == set(other.stretches)

    def __hash__(self) -> int:
        return hash(frozenset(self.stretches))

    def __or__(self, other: FibreShare) -> FibreShare:
        return FibreShare((*self.stretches, *other.stretches))

    def __sub__(self, other: FibreShare) -> FibreShare:
        left = list(self.stretches)
        for lot, low, high in other.stretches:
            left = [piece for one in left for piece in _without(one, lot, low, high)]
        return FibreShare(left)

    def __and__(self, other: FibreShare) -> FibreShare:
        return self - (self - other)

    def covers(self, other: FibreShare) -> bool:
        """True where all of another share is in this one."""
        return not other - self

    def of(self, lot: Lot) -> FibreShare:
        """What it has of one lot."""
        return FibreShare(one for one in self.stretches if one[0] is lot)

    @property
    def lots(self) -> list[Lot]:
        """The lots that it has some of, in order."""
        return list(dict.fromkeys(one[0] for one in self.stretches))

    @property
    def size(self) -> Fraction:
        """How much it is, in whole lots."""
        return sum((high - low for _, low, high in self.stretches), Fraction())

    @property
    def pieces(self) -> list[FibreShare]:
        """Its skeins, or the equal parts that its lots were divided into."""
        made: list[FibreShare] = []
        for lot, low, high in self.stretches:
            step = Fraction(1, lot.count)
            at = low
            while at < high:
                end = min(at + step, high)
                made.append(FibreShare([(lot, at, end)]))
                at = end
        return made

    def first(self, fraction: Fraction) -> FibreShare | None:
        """Its first so much, in whole lots, of the one lot that it is of; None where it has not."""
        made: list[Stretch] = []
        for lot, low, high in self.stretches:
            if fraction <= 0:
                break
            end = min(low + fraction, high)
            made.append((lot, low, end))
            fraction -= end - low
        return FibreShare(made) if fraction == 0 else None


class Picked:
    """What has been picked so far, and out of what."""

    def __init__(self) -> None:
        self.scope = FibreShare()  # what is picked from
        self.taken = FibreShare()  # of it
        self.last = FibreShare()  # what was spoken of last
        self.size = Fraction()  # how much was picked last
        self.groups: list[FibreShare] = []  # the picks of this scope, in order
        self.before: list[FibreShare] = []  # those of the scope before
        self.apart = FibreShare()  # what was set aside
        self.by_words: dict[int, FibreShare] = {}  # what was meant, by where the words begin
        self.from_end = False  # whether the last pieces are picked, and the first are gone on with

    def pick(self, share: FibreShare) -> FibreShare:
        """Note a share as picked."""
        self.taken = self.taken | share
        self.groups.append(share)
        self.last, self.size = share, share.size
        return share

    def turn(self, scope: FibreShare) -> FibreShare:
        """Pick from this share from here on."""
        self.before = self.groups or self.before
        self.scope, self.taken, self.last, self.groups = scope, FibreShare(), scope, []
        return scope


def whole(lots: Iterable[Lot]) -> FibreShare:
    """All of these lots."""
    return FibreShare((lot, Fraction(0), Fraction(1)) for lot in lots)


def union(shares: Iterable[FibreShare]) -> FibreShare:
    """All that is in any of these shares."""
    return FibreShare(one for share in shares for one in share.stretches)


def _without(stretch: Stretch, lot: Lot, low: Fraction, high: Fraction) -> list[Stretch]:
    own, begins, ends = stretch
    if own is not lot or high <= begins or ends <= low:
        return [stretch]
    sides = [(own, begins, low), (own, high, ends)]
    return [one for one in sides if one[1] < one[2]]


def _merged(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Stretches in order, those that touch or overlap made one."""
    every = list(stretches)
    order = {id(lot): at for at, lot in enumerate(dict.fromkeys(one[0] for one in every))}
    made: list[Stretch] = []
    for lot, low, high in sorted(every, key=lambda one: (order[id(one[0])], one[1])):
        if made and made[-1][0] is lot and low <= made[-1][2]:
            made[-1] = (lot, made[-1][1], max(high, made[-1][2]))
        else:
            made.append((lot, low, high))
    return made
