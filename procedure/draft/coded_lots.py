"""Which fibre each code is that a recipe gives its lots, and turning to what a code heads."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft.amount import Amount
from procedure.draft.course import Course, LotWords, plain_name
from procedure.draft.lot_codes import Given
from procedure.draft.lot_mentions import LotMention
from procedure.draft.sentences import Part, Sentence
from procedure.draft.shares import FibreShare, Lot, grams, union, whole
from procedure.draft.turning import turn
from procedure.quantity.ready_patterns import pattern


def keep_weights_of_codes(course: Course, sentence: Sentence) -> None:
    """Keep the weights of "Hank A (300 g)" for their lots: they weigh no other fibre."""
    for given in _given_in(course, sentence):
        course.used.update(one.start for one in _weights(sentence, given))


def bind_codes(course: Course, sentence: Sentence) -> None:
    """Bind the codes that a sentence gives to the fibre they are of, where that is sure."""
    course.unbound += _given_in(course, sentence)
    for given in list(course.unbound):
        here = next(one for one in course.told if one.start <= given.start < one.end)
        bound = _BINDS[given.how](course, given, here)
        if not bound or any(code in course.of_code for code in bound):
            continue
        course.of_code |= bound
        course.unbound.remove(given)
        course.lots_told.append(LotWords(given.start, given.end, False))
        verb = GIVES.search(course.text, here.start, given.start)
        if verb is not None:
            course.lots_told.append(LotWords(verb.start(), verb.end("verb"), False))


# The verb before codes: "divide the wool into", "label them".
GIVES = pattern(
    r"\b(?P<verb>(?:divid|split|part|mark|label|letter|tag|call|nam|nicknam|number)(?:l?ed|t?ed|ing|s|e)?)"
    r"\b[^.;:\n]{0,60}\Z",
    re.I,
)


def _given_in(course: Course, sentence: Sentence) -> list[Given]:
    return [one for one in course.codes.given if sentence.start <= one.start < sentence.end]


def _weights(sentence: Sentence, given: Given) -> list[Amount]:
    every = [one for part in sentence.parts for one in part.amounts if one.kind == "mass"]
    ends = (*given.weights[1:], given.end) if given.weights else ()
    return [
        one
        for low, high in zip(given.weights, ends, strict=True)
        for one in every
        if low <= one.start < high
    ]


Bound = dict[str, FibreShare]


def _equal(course: Course, given: Given, sentence: Sentence) -> Bound:
    """Equal parts of all the fibre, or its pieces where there are as many."""
    lots, many = course.all_lots(), len(given.codes)
    if len(lots) == 1:
        return _parts_of(lots[0], given)
    pieces = whole(lots).pieces
    return dict(zip(given.codes, pieces, strict=True)) if len(pieces) == many else {}


def _parts_of(lot: Lot, given: Given) -> Bound:
    many = len(given.codes)
    if lot.count == 1 and many > 1:
        lot.divided = many
    pieces = whole([lot]).pieces
    return dict(zip(given.codes, pieces, strict=True)) if len(pieces) == many else {}


def _listed(course: Course, given: Given, sentence: Sentence) -> Bound:
    """The fibre that is listed right before its codes."""
    found: tuple[int, Lot] | None = None
    for lot in course.lots.values():
        for told in (lot.weight, lot.pieces, lot.each):
            if told is not None and sentence.start <= told.start < given.start:
                found = max(found or (-1, lot), (told.start, lot), key=lambda one: one[0])
    if found is None:
        return {}
    return _parts_of(found[1], given)


def _weighed(course: Course, given: Given, sentence: Sentence) -> Bound:
    """Parts of the one lot by their weights, or lots of their own where it is not weighed."""
    weights, lots = _weights(sentence, given), list(course.lots.values())
    if len(weights) != len(given.codes) or len(lots) != 1 or lots[0].count > 1:
        return {}
    lot, each = lots[0], [grams(one) or Fraction(0) for one in weights]
    if not all(each):
        return {}
    if lot.weight is None:
        made = {code: _lot_of_its_own(lot, given, code) for code in given.codes}
        for one, weight in zip(made.values(), weights, strict=True):
            one.weight = weight
        _now_apart(course, made)
        return {code: whole([one]) for code, one in made.items()}
    if grams(lot.weight) != sum(each):
        return {}
    course.picks += weights
    left, total = whole([lot]), sum(each, Fraction(0))
    bound: Bound = {}
    for code, so_heavy in zip(given.codes, each, strict=True):
        share = left.first(so_heavy / total) or FibreShare()
        bound[code], left = share, left - share
    return bound


def _each(course: Course, given: Given, sentence: Sentence) -> Bound:
    """Lots of their own, all as heavy and of as many pieces as the one that was told."""
    lots = list(course.lots.values())
    if len(lots) != 1 or lots[0].weight is None or course.steps:
        return {}
    made = {code: _lot_of_its_own(lots[0], given, code) for code in given.codes}
    for number, one in enumerate(made.values()):
        one.weight, one.pieces, one.each = (
            told and told._replace(start=told.start + number)
            for told in (lots[0].weight, lots[0].pieces, lots[0].each)
        )
    _now_apart(course, made)
    return {code: whole([one]) for code, one in made.items()}


_BINDS = {"equal": _equal, "listed": _listed, "weighed": _weighed, "each": _each}


def _lot_of_its_own(like: Lot, given: Given, code: str) -> Lot:
    noun = given.nouns[given.codes.index(code)] if given.nouns else ""
    lot = Lot(plain_name(f"{noun or like.name}-{code}"))
    lot.fibre, lot.form = like.fibre, like.form
    lot.is_mordanted, lot.mordanted = like.is_mordanted, like.mordanted
    return lot


def _now_apart(course: Course, made: dict[str, Lot]) -> None:
    course.lots = {lot.name: lot for lot in made.values()}
    course.lots_apart = True


def share_of_codes(course: Course, one: LotMention) -> FibreShare | None:
    """The fibre that codes stand for; None where one of them is of no fibre that is known."""
    shares = [course.of_code.get(code) for code in one.labels]
    known = [share for share in shares if share is not None]
    if len(known) < len(shares) or not known:
        return None
    if not one.share:
        return union(known)
    halves: list[FibreShare] = []
    for share in known:
        half = share.first(share.size * one.share)
        if half is None:
            return None
        halves.append(share - half if one.pool == "rest" else half)
    return union(halves)


def turn_to_heading(course: Course, part: Part) -> bool:
    """Turn to the lot whose code heads what a part says: "Q: iron, 1 %. Rinse twice."."""
    one = course.codes.heading(part.start)
    share = share_of_codes(course, one) if one is not None else None
    if share is None:
        return False
    everything = share == whole(course.all_lots())
    turn(course, None if everything else share)
    return True


def heads_a_bath(course: Course, part: Part) -> bool:
    """True for "Q: iron, 1 %", which tells of a bath for that lot alone."""
    one = course.codes.heading(part.start)
    heads = one is not None and part.start <= one.start < part.end and not part.doing.act
    return heads and any(thing.kind == "material" for thing in part.things)


# What a name adds to that of a lot which it is a part of.
NUMBERED = pattern(r"-\w+")


def name_of_part(course: Course, lot: Lot, at: int, share: FibreShare) -> str:
    """The name of a part of a lot that is told apart: by its codes, or by its number."""
    codes = [code for code, of in course.of_code.items() if share.covers(of) and of.lots == [lot]]
    covered = union(course.of_code[code] for code in codes)
    said = "-".join(codes) if codes and covered == share else str(at)
    stem = lot.name
    while any(NUMBERED.fullmatch(one.removeprefix(stem)) for one in course.lots if one != stem):
        stem += "-part"
    return plain_name(f"{stem}-{said}")


def codes_not_told(course: Course) -> list[tuple[int, int]]:
    """The stretches that speak of lots by their codes, of which no line of their sentence tells."""
    everything = whole(course.all_lots())
    done: dict[int, FibreShare] = {}
    for step in course.steps:
        if step.on == "lot" or step.share is not None:
            share = step.share if step.share is not None else everything
            done[step.sentence] = done.get(step.sentence, FibreShare()) | share
    silent: list[tuple[int, int]] = []
    for one in course.codes.mentions:
        meant = share_of_codes(course, one)
        here = done.get(course.sentence_at(one.start), FibreShare())
        if meant is None or not here.covers(meant):
            silent.append((one.start, one.end))
    named = everything.lots and not any(step.share is not None for step in course.steps)
    told = [(one.start, one.end) for one in course.codes.given if named or one in course.unbound]
    return sorted([*silent, *told])


__all__ = [
    "bind_codes",
    "codes_not_told",
    "heads_a_bath",
    "keep_weights_of_codes",
    "name_of_part",
    "share_of_codes",
    "turn_to_heading",
]
