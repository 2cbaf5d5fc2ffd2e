"""Which of the fibre is meant: what was picked out of what, and what has become of it so far.

Nothing is guessed: words that do not fit how many skeins or parts there are mean nothing here,
and what they say stays a comment.
"""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft.amount import Amount
from procedure.draft.coded_lots import share_of_codes
from procedure.draft.course import Course, plain_name
from procedure.draft.lexicon import materials, meanings, one_of
from procedure.draft.lot_mentions import LotMention
from procedure.draft.shares import FibreShare, Lot, grams, union, whole
from procedure.draft.turning import inside
from procedure.draft.unsettled_steps import Bath, Step
from procedure.quantity.ready_patterns import pattern

MORDANTED = frozenset(("mordanted",))
UNMORDANTED = frozenset(("unmordanted", "un-mordanted"))
APART = frozenset(("reserved", "remaining", "spare"))
PAIR = 2
PLAIN = frozenset(("same", "whole", "wet", "damp", "dry", "dyed", "scoured", "rinsed", "washed"))


def all_of_it(course: Course) -> FibreShare:
    """All of the fibre that the recipe tells apart."""
    return whole(course.all_lots())


def share_meant(course: Course, one: LotMention) -> FibreShare | None:
    """What a mention means; None where that is not sure."""
    picked = course.picked
    everything = all_of_it(course)
    if not picked.scope or not everything.covers(picked.scope) or picked.taken == everything:
        last = picked.last
        picked.turn(everything)
        if last and everything.covers(last) and one.pool == "last":
            picked.last = last  # "the last two stay in; take one of those"
    if not everything:
        return None
    ways = {
        "coded": share_of_codes,
        "labels": _by_label,
        "letters": _by_letter,
        "ordinals": _by_order,
        "each": _of_each,
        "count": _by_count,
        "share": _by_fraction,
        "rest": _the_rest,
        "all": _all,
        "state": _by_state,
        "that": _that,
        "some": _unknown,
    }
    known = picked.by_words
    if one.start not in known or one.kind not in PICKS:
        share = ways[one.kind](course, one)
        if share is None:
            return None
        known[one.start] = share
    return known[one.start]


# Several deeds may share the words, and mean the same fibre: "rinse and dry two of them".
PICKS = frozenset(("count", "share", "each"))


def _all(course: Course, one: LotMention) -> FibreShare | None:
    picked, everything = course.picked, all_of_it(course)
    if one.many:
        fits = [
            share
            for share in (picked.last, picked.scope, everything)
            if len(share.pieces) == one.many
        ]
        if not fits:
            return None
        share = fits[0]
    else:
        share = everything
    return picked.turn(share) if share == everything else share


# Of which each is one of so many: a "lot 2" may be of any weight.
COUNTED = frozenset(("skein", "hank"))
SO_MANY_SKEINS = pattern(
    rf"\b(?:\d+|{one_of(meanings('number'))})\s+(?:[a-z]+\s+)?(?:skeins|hanks)\b", re.I
)


def _count_by_labels(course: Course) -> None:
    """How many skeins the one lot is of, where a recipe tells it by their labels alone.

    "Skein one is dipped once. Skein two is dipped six times": of two.
    """
    lots = course.all_lots()
    if len(lots) != 1 or lots[0].count > 1 or lots[0].weight or lots[0].pieces or lots[0].each:
        return
    told = [each for each in course.told_lots.mentions if each.kind == "number"]
    labels = {each.label for each in told}
    skeins = all(each.noun.rstrip("s") in COUNTED for each in told)
    if not skeins or len(labels) < LEAST_GROUPS or labels != set("12345678"[: len(labels)]):
        return
    if SO_MANY_SKEINS.search(course.text) is None:
        lots[0].counted, lots[0].by_labels = len(labels), True


def _by_label(course: Course, one: LotMention) -> FibreShare | None:
    if not course.by_label:
        _count_by_labels(course)
    made: list[FibreShare] = []
    for label in one.labels:
        lot = course.by_label.get(label) or course.by_label.get(
            "abcdefgh"[int(label) - 1 : int(label)]
        )
        if lot is not None:
            made.append(whole([lot]))
            continue
        pieces = all_of_it(course).pieces
        if course.by_label or not 0 < int(label) <= len(pieces) or len(pieces) == 1:
            return None
        made.append(pieces[int(label) - 1])
    return course.picked.pick(union(made))


# "Skeins A, B and C", "(a) alum": letters stand for lots where they are once said to.
LETTERED = re.compile(
    r"\b(?:lots?|skeins?|hanks?|batch(?:es)?|pieces?|samples?|squares?|balls?)\s*:?\s*(?-i:[A-H])\b"
    r"|(?m:^)\s*\(?(?-i:[a-hA-H])[):]",
    re.I,
)


def is_lettered(course: Course) -> bool:
    """True where letters or figures are once said to be of lots."""
    return bool(course.by_label) or LETTERED.search(course.text) is not None


def _by_letter(course: Course, one: LotMention) -> FibreShare | None:
    return _by_label(course, one) if LETTERED.search(course.text) else None


def _by_order(course: Course, one: LotMention) -> FibreShare | None:
    picked, made = course.picked, []
    for label in one.labels:
        pieces = all_of_it(course).pieces
        left = picked.scope - picked.taken
        if one.many > 1 and label in ("1", "last"):
            share = _at_one_end(pieces, one.many, label)
        elif label == "next":
            share = _next(course, picked.size)
        elif label == "last":
            alone = len(left.pieces) == 1 or (left.size == picked.size and bool(picked.taken))
            share = left if left and alone else pieces[-1]
            share = share if len(pieces) > 1 or share is left else None
        elif label in course.by_label:
            share = whole([course.by_label[label]])
        elif len(pieces) == 1 and (part := _fraction_named(course, one)):
            share = _at_its_place(all_of_it(course), part, int(label))
        elif len(pieces) == 1 and picked.taken and picked.size:
            share = _next(course, picked.size)  # "a third of the yarn ... the second third"
        else:
            fits = not course.by_label and 1 < len(pieces) >= int(label)
            share = pieces[int(label) - 1] if fits else None
        if share is None or not share:
            return None
        made.append(share)
        picked.pick(share)
    share = union(made)
    course.picked.last = share
    return share


FRACTIONS = {"half": Fraction(1, 2), "third": Fraction(1, 3), "quarter": Fraction(1, 4)}


def _fraction_named(course: Course, one: LotMention) -> Fraction:
    """How much the last word of a mention stands for; 0 where it is no fraction."""
    return FRACTIONS.get(course.text[one.start : one.end].lower().split()[-1], Fraction(0))


def _at_its_place(everything: FibreShare, part: Fraction, place: int) -> FibreShare | None:
    """The first, second or third of so many equal parts: "the first half went into the weld"."""
    upto, before = everything.first(part * place), everything.first(part * (place - 1))
    return upto - before if upto is not None and before is not None else None


def _at_one_end(pieces: list[FibreShare], many: int, label: str) -> FibreShare | None:
    """So many from the beginning or the end: "the last two"."""
    if not many < len(pieces):
        return None
    return union(pieces[-many:] if label == "last" else pieces[:many])


def _next(course: Course, size: Fraction) -> FibreShare | None:
    left = course.picked.scope - course.picked.taken
    return left.first(size) if size else None


def _of_each(course: Course, one: LotMention) -> FibreShare | None:
    picked = course.picked
    now = picked.groups if len(picked.groups) >= LEAST_GROUPS else picked.before
    groups = [share for share in now if len(share.pieces) > one.many]
    if not groups and len(course.all_lots()) > 1:
        groups = [whole([lot]) for lot in course.all_lots() if lot.count > one.many]
    if len(groups) < LEAST_GROUPS:
        return None
    course.picked.turn(union(groups))
    return course.picked.pick(union(p for group in groups for p in group.pieces[: one.many]))


LEAST_GROUPS = 2


def _pool(course: Course, one: LotMention) -> FibreShare | None:
    """What a mention picks from."""
    picked = course.picked
    if one.pool == "last":
        return picked.turn(picked.last)
    left = picked.scope - picked.taken
    if one.pool in ("", "rest"):
        return left
    if one.pool in ("remaining", "rest"):
        return left
    described = _described(course, one.pool)
    if described is None:
        return None
    return described - picked.taken if described - picked.taken else described


def _by_count(course: Course, one: LotMention) -> FibreShare | None:
    pool = _pool(course, one)
    if pool is None:
        return None
    pieces = pool.pieces
    if len(pieces) < one.many and not one.pool:
        course.picked.turn(all_of_it(course))
        pieces = course.picked.scope.pieces
    if one.many == len(pieces) and one.many > 1:
        return course.picked.pick(union(pieces))
    if not 0 < one.many < len(pieces) and not (
        one.many == 1 == len(pieces) and course.picked.taken
    ):
        return None
    picked = pieces[-one.many :] if course.picked.from_end else pieces[: one.many]
    return course.picked.pick(union(picked))


def _by_fraction(course: Course, one: LotMention) -> FibreShare | None:
    pool = _pool(course, one)
    if pool is None or not pool:
        return None
    told_apart = one.pool not in ("", "last", "rest", "remaining")
    if told_apart and _described(course, one.pool) != pool:
        return None  # "half of the green ones", of which some have been taken already
    made = []
    for lot in pool.lots:
        of = pool if one.pool not in ("", "rest") else course.picked.scope
        share = pool.of(lot).first(of.of(lot).size * one.share)
        if share is None:
            return None
        made.append(share)
    return course.picked.pick(union(made))


def _the_rest(course: Course, one: LotMention) -> FibreShare | None:
    picked = course.picked
    if one.pool and (described := _described(course, one.pool)) is not None:
        other = described - picked.taken  # "the other alum skein"
        return picked.pick(other) if other and len(other.pieces) == 1 else None
    left = picked.scope - picked.taken
    again = not picked.taken and picked.scope != all_of_it(course)  # "the others", still the same
    if not (picked.taken or again):
        inside = _still_in(course)
        return picked.turn(inside) if inside and one.many in (0, len(inside.pieces)) else None
    if not left or (one.many and len(left.pieces) != one.many):
        return None
    return left if again else picked.turn(left)


def _still_in(course: Course) -> FibreShare | None:
    """What lies in the bath still from which some fibre was lifted last; None for nothing."""
    lifted = next((one for one in reversed(course.steps) if one.on == "lot"), None)
    if lifted is None or lifted.verb != "lift" or lifted.share is None:
        return None
    before = course.steps[: course.steps.index(lifted)]
    for step in reversed(before):
        if step.on == "lot" and step.bath is not None and _share_of(course, step) & lifted.share:
            return inside(course, step.bath) or None
    return None


def _by_state(course: Course, one: LotMention) -> FibreShare | None:
    share = _described(course, one.labels[0])
    if share is None or (len(share.pieces) > 1 and _is_of_one(course, one)):
        return None
    course.picked.last = share
    return share


def _that(course: Course, one: LotMention) -> FibreShare | None:
    """What was spoken of last: "that half", "those two"; None where it is not as many."""
    last, everything = course.picked.last, all_of_it(course)
    if one.share:
        return last if last.size == one.share and len(last.lots) == 1 else None
    if not last or last == everything:
        noun = course.text[one.start : one.end].lower().split()[-1]
        alone = len(everything.pieces) == one.many or noun in WHOLE
        return everything if alone else None
    return last if len(last.pieces) == one.many else None


WHOLE = frozenset(("lot", "batch", "yarn"))


def _unknown(_course: Course, _one: LotMention) -> None:
    """Of "some of the yarn" nobody can say how much it is."""


def _is_of_one(course: Course, one: LotMention) -> bool:
    """True for "the yellow skein", which is one of them."""
    last = course.text[one.start : one.end].lower().split()[-1]
    return last == "one" or last in meanings("labelled lot")


def _described(course: Course, word: str) -> FibreShare | None:
    """The fibre that a word tells from the rest by what was done to it; None where it does not."""
    everything = all_of_it(course)
    share: FibreShare | None = None
    if word in PLAIN:
        return None
    if word in APART:
        share = course.picked.apart
    elif word in MORDANTED or word in UNMORDANTED:
        salted = union(_share_of(course, step) for step in course.steps if step.verb == "mordant")
        share = salted if word in MORDANTED else everything - salted
    elif word in meanings("label") and word.endswith("er") and len(everything.pieces) != PAIR:
        return None  # "the smaller ones": of how many that is nothing says
    elif word in meanings("label"):
        # A colour tells nothing apart where all that was dyed is of one bath.
        dyed = [step for step in course.steps if step.verb in ("dye", "dip")]
        baths = {step.bath for step in dyed}
        share = union(_share_of(course, step) for step in dyed) if len(baths) == 1 else None
        share = _of_its_first_colour(course, share, baths) if share == everything else share
    else:
        name = materials().get(word) or meanings("material").get(word, "")
        share = union(
            _share_of(course, step)
            for step in course.steps
            if name
            and step.on == "lot"
            and step.bath is not None
            and step.bath.holds(plain_name(name))
        )
    return share if share else None


def _of_its_first_colour(course: Course, dyed: FibreShare, baths: set[Bath | None]) -> FibreShare:
    """What of all that was dyed has gone into no other liquor since; all of it where none has."""
    first = next(at for at, step in enumerate(course.steps) if step.bath in baths)
    entered = next(at for at, one in enumerate(course.steps) if one.verb in ("dye", "dip"))
    changed = union(
        _share_of(course, step)
        for step in course.steps[max(first, entered) :]
        if step.on == "lot"
        and step.bath is not None
        and (step.verb == "modify" or step.bath not in baths)
    )
    left = dyed - changed
    return left or dyed


def _share_of(course: Course, step: Step) -> FibreShare:
    return step.share if step.share is not None else all_of_it(course)


def fibre_meant(course: Course, name: str) -> FibreShare | None:
    """The lots of a fibre, where the recipe has others too."""
    lots = course.all_lots()
    own = [lot for lot in lots if lot.fibre == name]
    return whole(own) if own and len(own) < len(lots) else None


def by_weight(course: Course, amount: Amount) -> FibreShare | None:
    """So much of the one lot as an amount of it weighs."""
    lots = course.all_lots()
    if len(lots) != 1 or amount.low is None or amount.high not in (None, amount.low):
        return None
    total = weight_of(lots[0])
    part = grams(amount)
    if total is None or part is None or not 0 < part < total:
        return None
    if not course.picked.scope:
        course.picked.turn(whole(lots))
    share = (course.picked.scope - course.picked.taken).first(part / total)
    if share is None:
        course.picked.turn(whole(lots))
        share = course.picked.scope.first(part / total)
    return course.picked.pick(share) if share is not None else None


def weight_of(lot: Lot) -> Fraction | None:
    """What a lot weighs, in grams."""
    if lot.weight is not None:
        return grams(lot.weight)
    if lot.each is not None and lot.count > 1 and (one := grams(lot.each)) is not None:
        return one * lot.count
    return None
