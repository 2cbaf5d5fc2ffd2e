"""Lots that are told apart on the way: "take out half the skeins", "the second into the madder".

The words of each deed say which of the fibre it is done to. What that makes of the lots is settled
when all has been read (``settled_lots.py``).
"""

from __future__ import annotations

import itertools
import re

from procedure.draft.amount import Amount
from procedure.draft.coded_lots import heads_a_bath, turn_to_heading
from procedure.draft.course import Course, LotWords
from procedure.draft.doings import Doing
from procedure.draft.last_water import is_of_water
from procedure.draft.lexicon import fibres, meanings, one_of
from procedure.draft.listed_fibres import is_measured_for_it, pieces_for_each
from procedure.draft.lot_mentions import LotMention, lot_mentions
from procedure.draft.lots_meant import by_weight, fibre_meant, share_meant, weight_of
from procedure.draft.out_of_vessels import NAMED, fibre_in, left_vessel, so_much_of
from procedure.draft.sentences import Part
from procedure.draft.shares import FibreShare, Lot, union, whole
from procedure.draft.stock import part_played
from procedure.draft.things import Thing
from procedure.draft.turning import bath_of, inside, share_of, turn
from procedure.draft.unsettled_steps import Bath

# What is done to fibre where it is: left, taken out of its bath.
STAYS = frozenset(("leave", "lift", "hold"))
WORKED = frozenset(
    ("dip", "enter", "put", "lift", "mordant", "dye", "modify", "soak", "simmer", "boil", "hold")
)


# Mentions.


def pieces_by_lot(course: Course, part: Part) -> list[Part]:
    """A part in pieces, one for each of the lots that it speaks of one after another."""
    if not course.lots:
        return [part]
    for_each = pieces_for_each(course.text, part) if len(course.all_lots()) > 1 else []
    if for_each:
        return [course.told_lots.piece(part, *span) for span in for_each]
    then = _then(course, part)
    if then is not None:
        return [
            course.told_lots.piece(part, *one) for one in ((part.start, then), (then, part.end))
        ]
    groups = [one for one in _groups(course, part) if not _is_for_each(course, one[0])]
    behind = _goes_in_next(course, part, groups)
    if behind is not None:
        return behind
    heads = [_head(part, one[0].start) for one in groups[1:]]
    cuts = [one for one in heads if one is not None]
    if not cuts or len(groups) < LEAST_GROUPS:
        return [part]
    marks = [part.start, *cuts, part.end]
    made = [course.told_lots.piece(part, low, high) for low, high in itertools.pairwise(marks)]
    return _with_what_is_for_each(made)


# "Cotton: galls 8 % for 2 hours, then alum 6 % for an hour": one bath after another.
THEN_ANOTHER = re.compile(r"[,;]\s*(?:and\s+)?then\s+", re.I)


def _then(course: Course, part: Part) -> int | None:
    """Where what a verbless part tells of a second bath begins; None where it tells of one."""
    found = THEN_ANOTHER.search(part.words)
    if part.doing.act not in ("", "mordant") or found is None:
        return None
    at = part.start + found.end()
    for low, high in ((part.start, at), (at, part.end)):
        here = [one for one in part.amounts if low <= one.start < high]
        timed = any(one.kind in ("time", "named wait") for one in here)
        if not timed or not any(one.kind in ("share", "mass") for one in here):
            return None
    behind = [one for one in part.things if one.start >= at]
    stuff = [one for one in behind if one.kind == "material" and part_played(one) == "mordant"]
    return at if stuff and all(one.kind != "fibre" for one in behind) else None


# "The silk came out, then the wool for an hour": the wool goes in where the silk has been.
THEN = re.compile(
    r"[^,;:]{0,24}[,;]\s*(?:and\s+)?then\s+(?:the\s+)?\Z|[^,;:]{0,24}\band\s+then\s+(?:the\s+)?\Z",
    re.I,
)
TAKEN_OUT = frozenset(("lift", "rinse", "squeeze"))


def _goes_in_next(course: Course, part: Part, groups: list[list[LotMention]]) -> list[Part] | None:
    """The deed of one lot and the entering of the next, where one part tells of both."""
    if len(groups) != 1 or part.doing.act not in TAKEN_OUT:
        return None
    at = groups[0][0].start
    if at < part.doing.end or not THEN.match(course.text[part.doing.end : at]):
        return None
    if not any(one.kind == "time" and one.start > at for one in part.amounts):
        return None
    out, goes_in = (
        course.told_lots.piece(part, *span) for span in ((part.start, at), (at, part.end))
    )
    return [out, goes_in._replace(doing=goes_in.doing._replace(act="enter", words="enter"))]


ROW_GOES_ON = re.compile(r"\s*(?:\band|&|,)\s+(?:the\s+)?", re.I)


def rows_joined(course: Course, parts: list[Part]) -> list[Part]:
    """The parts, "put the wool and the" and "silk in for an hour" made one."""
    made: list[Part] = []
    for part in parts:
        last = made[-1] if made else None
        row = last.things[-1] if last is not None and last.things else None
        named, _, behind = part.doing.words.lower().partition(" ")
        fibre_in = behind == "in" and (named in fibres() or named in meanings("fibre"))
        fibre_in = fibre_in and part.doing.start == part.start
        goes_on_row = (
            row is not None
            and row.kind == "fibre"
            and ROW_GOES_ON.fullmatch(course.text, row.end, part.start) is not None
        )
        if last is None or not fibre_in or not goes_on_row:
            made.append(part)
            continue
        made[-1] = last._replace(
            things=(*last.things, *part.things),
            amounts=(*last.amounts, *part.amounts),
            end=part.end,
            words=course.text[last.start : part.end],
        )
    return made


LEAST_GROUPS = 2
HEADS = re.compile(
    r"(?:^|[,;:.(\n–-]|\b(?:and|but|then|while|put))\s*(?:(?:then|and|but|now|leave|put|the|dip)\s+)*"
    r"(?P<after>after\s+[\w½¼ -]{1,20}\s)?\Z",
    re.I,
)
FOR_EACH = re.compile(r"\b(?:each|both|all)\b|,\s*(?=for\b)", re.I)


def _is_for_each(course: Course, one: LotMention) -> bool:
    """True for the word of "and two with iron, each for an hour", which is of them all."""
    return one.kind == "all" and KEPT_FOR.match(course.text, one.end) is not None


KEPT_FOR = re.compile(r"\s*(?:for|at)\b", re.I)


def _head(part: Part, at: int) -> int | None:
    """Where the words about a lot begin that is named at a place; None where it heads none."""
    found = HEADS.search(part.words[: at - part.start])
    if found is None:
        return None
    return part.start + found.start("after") if found["after"] else at


def _with_what_is_for_each(pieces: list[Part]) -> list[Part]:
    """The pieces, all with the times that the last one says for each of them."""
    last = pieces[-1]
    found = FOR_EACH.search(last.words)
    if found is None:
        return pieces
    at = last.start + found.start()
    shared = [one for one in last.amounts if one.start > at and one.kind in KEPT]
    made: list[Part] = []
    for index, piece in enumerate(pieces[:-1], 1):
        own = any(one.kind in KEPT for one in piece.amounts)
        copies = [one._replace(start=one.start + index) for one in shared if not own]
        made.append(piece._replace(amounts=(*piece.amounts, *copies)))
    return [*made, last]


KEPT = frozenset(("time", "temperature", "named heat", "named wait"))
ROW = re.compile(r"[ \t]*(?:,|&|\+|,?[ \t]*\band\b)?[ \t]*(?:the\s+|one\s+)?", re.I)
# "As with the first", "when the second comes out": of another lot than the one at hand.
ASIDE = re.compile(
    r"\b(?:as\s+(?:with|for)|like|than|after|before|until|when|once|as|from)\s+(?:the\s+)?\Z", re.I
)


def _groups(course: Course, part: Part) -> list[list[LotMention]]:
    """The mentions of a part, those that stand in a row together."""
    coded = [one for one in course.codes.within(part) if not _is_of_others(part, one)]
    found = [*coded, *lot_mentions(part), *_fibres(course, part)]
    groups: list[list[LotMention]] = []
    for one in sorted(found, key=lambda each: each.start):
        if ASIDE.search(part.words[: one.start - part.start]) or is_of_water(course, part, one):
            continue
        if one.kind in ("labels", "letters") and course.text[: one.start].endswith("("):
            continue  # "given 20 minutes more (sample B)": what it is called afterwards
        if any(a.start < one.end and one.start < a.end for group in groups for a in group):
            continue
        last = groups[-1][-1] if groups else None
        gap = course.text[last.end : one.start] if last else ""
        same = last is not None and (last.kind == one.kind or "state" in (last.kind, one.kind))
        if last is not None and same and ROW.fullmatch(gap):
            groups[-1].append(one)
        else:
            groups.append([one])
    return groups


# "Wetted them in the stream, and nearly lost the pale one": it is done to them, and not to that.
DONE_TO_THEM = re.compile(r"\s+(?:them|these|those|it|all|everything)\b[^,;]*,", re.I)


def _is_of_others(part: Part, one: LotMention) -> bool:
    """True for a code that is named in an aside behind what the deed is done to."""
    if not part.doing.act:
        return False
    them = DONE_TO_THEM.match(part.words, part.doing.end - part.start)
    return them is not None and part.start + them.end() <= one.start


SOAP = re.compile(r"\s+(?:soap|wash|detergent|shampoo)\b", re.I)


def _fibres(course: Course, part: Part) -> list[LotMention]:
    """The fibres that a part names, where the recipe has several."""
    lots = course.all_lots()
    if len(lots) < LEAST_GROUPS or course.by_label:
        return []
    return [
        LotMention("fibre", one.start, one.end, (one.name,))
        for one in part.things
        if one.kind == "fibre"
        and any(lot.fibre == one.name for lot in lots)
        and not SOAP.match(course.text, one.end)
    ]


# Turning.


def turn_to_those_meant(course: Course, part: Part) -> Part | None:
    """Turn to the fibre that the words of a part mean; the part with it named, None where not."""
    course.unknown = None
    if not course.lots:
        return None
    if ONE_BY_ONE.search(part.words):
        course.unknown = _into_each(part)
        return None
    part = _with_deed_before(course, part)
    if _weighed(course, part) is not None:
        return _turn_by_weight(course, part)
    groups = _groups(course, part)
    if not groups and course.next_part is not None and _is_bare(part):
        groups = _groups(course, course.next_part)  # "rinse and dry lots A and B"
    vessel = left_vessel(course, part)
    if vessel is not None and not any(one.kind in NAMED for one in itertools.chain(*groups[:1])):
        return _turn_to_what_leaves(course, part, vessel, groups)
    return _turn_to_groups(course, part, groups)


def _turn_to_groups(course: Course, part: Part, groups: list[list[LotMention]]) -> Part | None:
    """Turn to the fibre that the first mentions of a part mean, with what goes beside it."""
    shares: list[FibreShare] = []
    course.picked.from_end = _is_kept_plain(part)
    for one in groups[0] if groups else []:
        share = fibre_meant(course, one.labels[0]) if one.kind == "fibre" else None
        share = share if one.kind == "fibre" else share_meant(course, one)
        if share is None:
            course.unknown = one
            return None
        shares.append(share)
        if one.start < part.end:
            _note(course, part, one)
    if not shares:
        return None
    shares += _beside(course, part, groups[1:])
    if SET_APART.search(part.words):
        course.picked.apart = course.picked.apart | union(shares)
    part = _taken_out(part)
    if part.doing.act:
        course.deed = course.number, part.doing
    _turn_to(course, part, union(shares))
    part = _without_what_tells_apart(part, groups[0])
    first, last = groups[0][0], groups[0][-1]
    if first.kind == "all" and not first.many and union(shares) == whole(course.all_lots()):
        return part  # "boil it all for an hour" may be of plants
    return _naming(part, first.start, last.end)


def _turn_to_what_leaves(
    course: Course, part: Part, vessel: LotMention, groups: list[list[LotMention]]
) -> Part | None:
    """Turn to the fibre that comes out of a vessel; the part with it named, None where not."""
    one = groups[0][0] if groups else None
    held = fibre_in(course, vessel)
    if one is None and (held == whole(course.all_lots()) or _is_not_known(course, vessel)):
        return None  # it is all in there
    share = so_much_of(held, one) if held else None
    if share is None:
        course.unknown = vessel if one is None else one
        return None
    if one is not None:
        _note(course, part, one)
    course.picked.pick(share)
    course.lots_told.append(LotWords(vessel.start, vessel.end, False))
    part = _taken_out(part)
    _turn_to(course, part, share)
    where = bath_of(course, share)
    if part.doing.act in STAYS and where is course.bath and where is not None:
        where.fibre, course.last_on = True, "bath"
    return _naming(part, *((one.start, one.end) if one is not None else (part.start, part.start)))


OUT = re.compile(r"\bout\b", re.I)
# "After 20 minutes pull one skein", "M1 and half of S in."
BARE_DEEDS = (
    ("lift", re.compile(r"\b(?P<said>pull)(?:ed|s)?\s", re.I)),
    ("dip", re.compile(r"\b(?P<said>had|got|gets|has)\s+(?:\w+\s+){1,2}dips?\b", re.I)),
    ("enter", re.compile(r"\w\)?\s+(?P<said>in)\W*\Z", re.I)),
)


def _taken_out(part: Part) -> Part:
    """The part of "take lot 1 out", whose verb is of what is gathered where no fibre is named."""
    for verb, said in BARE_DEEDS if not part.doing.act else ():
        found = said.search(part.words)
        if found is not None:
            low, high = part.start + found.start("said"), part.start + found.end("said")
            return part._replace(doing=Doing(verb, found["said"], low, high))
    if part.doing.act != "gather" or OUT.search(part.words) is None:
        return part
    return part._replace(doing=part.doing._replace(act="lift"))


def _is_not_known(course: Course, vessel: LotMention) -> bool:
    """True for a vessel of which no bath is known, where the fibre has not been told apart."""
    return vessel.labels[0] not in course.in_vessel and not any(one.share for one in course.steps)


def _without_what_tells_apart(part: Part, group: list[LotMention]) -> Part:
    """The part without the alum of "one alum skein", which is only what tells the skein."""
    return part._replace(
        things=tuple(
            one
            for one in part.things
            if one.kind != "material"
            or not any(each.start <= one.start and one.end <= each.end for each in group)
        )
    )


def _with_deed_before(course: Course, part: Part) -> Part:
    """The part with the deed of the lot before it: "dip the first once; the second, twice"."""
    number, deed = course.deed
    if part.doing.act or not deed.act or course.number - number != 1:
        return part
    sentence = course.sentence
    if sentence is None or part.start != sentence.start or sentence.start == 0:
        return part
    if not course.text[: sentence.start].rstrip().endswith(";"):
        return part
    return part._replace(doing=deed._replace(start=part.start, end=part.start))


def _into_each(part: Part) -> LotMention | None:
    """The words for so much of the fibre as goes into each of several vessels."""
    if not INTO_EACH.search(part.words):
        return None
    counted = [one for one in lot_mentions(part) if one.kind == "count"]
    weighed = [
        LotMention("vessel", one.start, one.end)
        for one in part.amounts
        if one.kind == "mass" and OF_FIBRE_IN_EACH.match(part.words, one.end - part.start)
    ]
    return (counted + weighed)[0] if counted or weighed else None


def _beside(course: Course, part: Part, groups: list[list[LotMention]]) -> list[FibreShare]:
    """The fibre that the same deed is done to, told behind it."""
    shares: list[FibreShare] = []
    for group in groups:
        beside = share_meant(course, group[0]) if _goes_with(part, group[0]) else None
        if beside is not None:
            _note(course, part, group[0])
            shares.append(beside)
    return shares


# "Skein D goes into the vat, with skein C".
WITH = re.compile(r",?\s*(?:(?:together|along)\s+)?with\s+(?:the\s+)?\Z", re.I)


def _goes_with(part: Part, one: LotMention) -> bool:
    deed = part.doing.act in WORKED
    return (
        deed
        and one.kind != "fibre"
        and WITH.search(part.words[: one.start - part.start]) is not None
    )


BARE = re.compile(r"\W*(?:and|then|,|&|\s)*", re.I)


def _is_bare(part: Part) -> bool:
    """True for "rinse and", which says nothing but what is done."""
    behind = part.words[max(part.doing.end - part.start, 0) :]
    return bool(part.doing.act) and BARE.fullmatch(behind) is not None and not part.amounts


def _naming(part: Part, low: int, high: int) -> Part:
    """A part in which the words between two places name fibre."""
    if any(one.kind == "fibre" and one.start < high and low < one.end for one in part.things):
        return part
    if low >= part.end:
        return part
    named = Thing("fibre", "=fibre", "fibre", low, high)
    return part._replace(things=tuple(sorted((*part.things, named), key=lambda one: one.start)))


# One after another, or so much in each of several baths: no one lot is meant.
ONE_BY_ONE = re.compile(
    r"\b(?:at\s+a\s+time|by\s+one|after\s+(?:another(?=\s*[.,;:]|\s*\Z|\s+(?:in|into|and|for)\b)|the\s+other)|in(?:to)?\s+each\b)",
    re.I,
)
# "Put one skein in each jar": which of them goes into which is not said.
INTO_EACH = re.compile(r"\bin(?:to)?\s+each\b", re.I)
# "100 g of wool in each".
OF_FIBRE_IN_EACH = re.compile(
    rf"\s+(?:of\s+)?(?:the\s+)?(?:{one_of([*fibres(), *meanings('fibre')])})\b"
    r"[^.;,]{0,24}?\bin(?:to)?\s+each\b",
    re.I,
)
SET_APART = re.compile(
    r"\b(?:reserv(?:e|ed|ing)|kept?|keep)\b"
    r"|\b(?:set|put|lay|laid)\b[^.;,]{0,40}?\b(?:aside|by|back|away|apart|to\s+one\s+side)\b",
    re.I,
)


def _note(course: Course, part: Part, one: LotMention) -> None:
    """Keep the words of a mention as read, and its amounts for the next step."""
    here = [
        each
        for each in part.amounts
        if one.start <= each.start < one.end and each.start not in course.used
    ]
    course.used.update(each.start for each in here)
    course.picks += here
    course.lots_told.append(LotWords(one.start, one.end, one.kind == "all"))


def _turn_to(course: Course, part: Part, share: FibreShare) -> None:
    everything = whole(course.all_lots())
    if share == everything:
        _turn_to_all(course, part)
        return
    other = course.share is not None and not course.share & share
    turn(course, share)
    where = bath_of(course, share)
    moved = where is not None and where.kind == "mordant" and _has_dyed(course)
    if part.doing.act in STAYS and where is not None and not moved and where is not course.bath:
        course.begin()
        course.bath, where.fibre, course.last_on = where, True, "bath"
    elif (
        _goes_into_stuff(part) or heads_a_bath(course, part) or (other and where is not course.bath)
    ):
        _turn_to_own_bath(course, part)


# "Dip one of each in iron": into a bath of its own.
INTO_STUFF = re.compile(
    r"\b(?:in|into|through)\s+(?:(?:the|an?|some|another|weak|strong|mild|dilute|cold|cool|warm|hot|fresh|separate|second)\s+){0,3}\Z"
    r"|\b(?:in|into)\s+(?:about\s+)?\d[\d.,/]*\s?(?:g|kg|oz|lbs?|grams?)\s+of\s+(?:[a-z]+\s+)?\Z",
    re.I,
)


def _goes_into_stuff(part: Part) -> list[Thing]:
    """The materials that some of the fibre goes into, as a part tells of it."""
    return [
        one
        for one in part.things
        if one.kind == "material"
        and one.start >= part.doing.start
        and INTO_STUFF.search(part.words[: one.start - part.start])
    ]


def _has_dyed(course: Course) -> bool:
    return any(one.kind == "dye" and one.begun for one in course.baths)


def _turn_to_all(course: Course, part: Part) -> None:
    if course.share is not None and course.bath is not None and part.doing.act in WORKED - STAYS:
        course.bath.had_fibre = course.bath.had_fibre or course.bath.fibre
        course.bath.fibre = False
    turn(course, None)


def _turn_to_own_bath(course: Course, part: Part) -> None:
    """Out of the bath of another lot, where the words name what this one goes into."""
    names = [
        course.plain_of(one)
        for one in _goes_into_stuff(part) or part.things
        if one.kind == "material" and part_played(one) in ("dye", "mordant")
    ]
    bath = course.bath
    if bath is None or not names:
        return
    if SAME_BATH.search(part.words):
        return
    if any(bath.holds(one) for one in names):
        if _is_measured_anew(course, part, bath) or is_measured_for_it(course.text, part):
            course.begin()
            course.bath = None
        return
    course.begin()
    held = [one for one in course.baths if any(one.holds(name) for name in names)]
    course.bath = held[-1] if held else None


# "For the second lot I used the same bath with 10 g of copper added".
SAME_BATH = re.compile(
    r"\b(?:the|that)\s+same\s+(?:dye\s*-?)?(?:bath|liquor|pot|vat|dye)\b|\bsame\s+(?:dye\s*-?)?bath\b",
    re.I,
)


def _is_measured_anew(course: Course, part: Part, bath: Bath) -> bool:
    """True where what other fibre is in already is measured once more, for this lot."""
    into = {one.start: course.plain_of(one) for one in _goes_into_stuff(part)}
    own = [
        into[of.start]
        for one in part.amounts
        if one.kind in MEASURES and (of := course.of(one)) is not None and of.start in into
    ]
    taken = {one.name for one in bath.stuff if one.amounts}
    return bath.begun and any(name in taken for name in own)


MEASURES = frozenset(("mass", "share", "spoon"))

DIPS = re.compile(r"\bdips?\b", re.I)

# "Leave the other half unmordanted", "keep two yellow": nothing is done to these.
KEEPS = re.compile(r"\b(?:keep|kept|leave|left|reserv(?:e|ed)|stays?|stayed)\b", re.I)
KEPT_AS = re.compile(r"\b(?:un-?mordanted|un-?dyed|undipped|untreated|white|plain|aside)\b", re.I)
KEPT_IN = re.compile(r"\b(?:in|into|under)\b(?!\s+(?:reserve|hand)\b)", re.I)


def is_kept_as_it_is(course: Course, part: Part) -> bool:
    """True where some of the fibre is only kept: it lies in no bath, and is put into none."""
    share = course.share
    if share is None or part.doing.act in ("lift", "air", "dry"):
        return False
    if not KEEPS.fullmatch(part.doing.words) or KEPT_IN.search(part.words):
        return False
    if part.doing.start == part.doing.end and DIPS.search(part.words):
        return False  # "one stayed white, one had a single dip": the verb is of the other
    if KEPT_AS.search(part.words):
        return True
    kept = not any(one.kind in KEPT for one in part.amounts)
    return kept and bath_of(course, share) is None


# "Mordant the skeins. Keep one back unmordanted": it was never in that bath.
NEVER_IN = {
    "mordant": re.compile(r"\b(?:un-?mordanted|without\s+mordant)\b", re.I),
    "dye": re.compile(r"\b(?:un-?dyed|undipped)\b", re.I),
}
SENTENCES_BEHIND = 1


def _is_kept_plain(part: Part) -> bool:
    return KEEPS.fullmatch(part.doing.words) is not None and KEPT_AS.search(part.words) is not None


def take_back(course: Course, part: Part) -> bool:
    """Take fibre that is kept unmordanted out of the mordanting of all that was just told.

    True where there was one.
    """
    kept, everything, taken = course.share, whole(course.all_lots()), False
    if kept is None or not everything - kept:
        return False
    last = [one for one in course.steps if one.on == "lot" and one.bath is not None]
    for kind, pattern in NEVER_IN.items():
        if not pattern.search(part.words) or not last or last[-1].bath is None:
            continue
        bath = last[-1].bath
        if bath.kind != kind or course.number - last[-1].sentence > SENTENCES_BEHIND:
            continue
        for step in course.steps:
            if step.bath is bath and step.on == "lot" and (step.share or everything) & kept:
                step.share, taken = (step.share or everything) - kept, True
    return taken


IT = re.compile(r"\b(?:it|them|these)\b", re.I)


def goes_on(course: Course, part: Part) -> None:
    """Turn back to all of the fibre, unless a part goes on with what was named last."""
    if turn_to_heading(course, part):
        return
    if course.number != course.lot_turned and _turn_to_what_is_left(course, part):
        return
    if course.share is None:
        return
    if course.number == course.lot_turned:
        lies_in = bath_of(course, course.share)
        if lies_in is None and part.doing.act != "lift" and _goes_into_stuff(part):
            _turn_to_own_bath(course, part)  # "took half out, and into a gram of iron in a litre"
        return
    if course.by_label and not ALL.search(part.words):
        return  # lots with a name of their own are at hand until another one is named
    said = course.sentence.words if course.sentence is not None else ""
    near = course.number - course.lot_turned == 1
    if near and _are_more(course, part):
        turn(course, None)
        return
    them = THE_LOTS.search(part.words) is not None and len(course.share.pieces) == 1
    if near and not them and (IT.search(said) or part.doing.act in ("air", "hold")):
        if IT_IS_DONE.search(said) and len(course.share.pieces) == 1:
            course.lot_turned = course.number  # "let it so continue one hour; take it up"
        return
    turn(course, None)


THEM = re.compile(r"\b(?:them|they|these)\b", re.I)


def _are_more(course: Course, part: Part) -> bool:
    """True for "them" of what one word was for: "the wool stayed in. I rinsed them", the silk too.

    A lot of several skeins is "them", and so is one that was named in the plural.
    """
    share = course.share
    if share is None or len(share.pieces) > 1 or not THEM.search(part.words):
        return False
    told = [course.text[one.start : one.end] for one in course.lots_told[-1:]]
    return bool(told) and not told[0].lower().rstrip().endswith("s")


# What is done to the yarn that stayed in a bath, and what is put back.
BACK = re.compile(r"\b(?:back|return\w*|re-?enter\w*)\b", re.I)


def _turn_to_what_is_left(course: Course, part: Part) -> bool:
    """Turn to the fibre that is in the bath still, or out of it, where "the yarn" is only that.

    "Take half out. Add iron and leave the yarn": the other half is what stays, and is taken out.
    """
    bath, act = course.bath, part.doing.act
    if bath is None or ALL.search(part.words) or THEM_ALL.search(part.words):
        return False
    lifted = [one for one in course.steps if one.on == "lot"][-1:]
    share = FibreShare()
    if act in STAYS:
        share = inside(course, bath)
        share = share if bath.fibre else FibreShare()
    elif act in ("enter", "put", "dye", "again") and BACK.search(part.words):
        share = share_of(course, lifted[0]) if lifted and lifted[0].verb == "lift" else share
    if not share or share == whole(course.all_lots()) or course.by_label:
        return False
    if share != course.share:
        turn(course, share)
    return True


THEM_ALL = re.compile(r"\b(?:the\s+two|together)\b", re.I)


# What is done to "it", which is the lot named last.
IT_IS_DONE = re.compile(
    r"\b(?:let|take|took|lift(?:ed)?|wash(?:ed)?|air(?:ed)?|keep|kept|turn(?:ed)?|leave|left|put|rinsed?)"
    r"\s+it\b",
    re.I,
)


# "Enter lot 1. Turn the lots in it": of more than the one that was named last.
THE_LOTS = re.compile(r"\bthe\s+(?:lots|skeins|hanks|batches|pieces|samples|squares)\b", re.I)
ALL = re.compile(
    r"\b(?:both|all|everything|every|each|the\s+(?:lots|skeins|hanks|batches|pieces|samples|squares))\b",
    re.I,
)


def others_stay_in(course: Course, part: Part) -> Bath | None:
    """The bath in which other fibre stays when that at hand is taken out of it."""
    bath = course.bath
    if part.doing.act != "lift" or course.share is None or bath is None or not bath.fibre:
        return None
    return bath if inside(course, bath) - course.share else None


# Weights.

OF_IT = re.compile(r"\s*(?:of\s+(?:the|it|this|your|my)\b|in\b|into\b|for\b)", re.I)
TAKES = re.compile(
    r"\b(?:put|enter|dye|dip|take|mordant|use|simmer|boil|leave)\s+(?:in\s+)?(?:the\s+)?(?P<rest>remaining\s+|other\s+|another\s+|last\s+)?\Z"
    r"|\b(?:the\s+(?:remaining|other|last)|another)\s+\Z",
    re.I,
)


def _weighed(course: Course, part: Part) -> Amount | None:
    """The weight of so much of the one lot as a part is about."""
    lots = course.all_lots()
    if len(lots) != 1 or weight_of(lots[0]) is None or part.doing.act not in WORKED:
        return None
    for one in course.free(part, "mass"):
        of = course.of(one)
        before = course.text[max(0, one.start - 40) : one.start]
        if one.each or one.bound or one.per or (of is not None and of.kind != "fibre"):
            continue
        if of is not None and not re.match(r"\s+of\s+(?:the|my|your)\b", course.text[one.end :]):
            continue
        if TAKES.search(before) and (of is not None or OF_IT.match(course.text, one.end)):
            return one
    return None


def _turn_by_weight(course: Course, part: Part) -> Part | None:
    one = _weighed(course, part)
    share = by_weight(course, one) if one is not None else None
    if one is None or share is None:
        return None
    course.used.add(one.start)
    course.picks.append(one)
    course.lots_told.append(LotWords(one.start, one.end, False))
    course.deed = course.number, part.doing
    _turn_to(course, part, share)
    return _naming(part, one.start, one.end)


# Division.

DIVIDES = re.compile(
    r"\b(?:divid\w*|split\w*|part(?:ed)?|separat\w*|cut|wind|wound|made?)\b[^.;]{0,40}?\b(?:in(?:to)?)\s+(?P<said>[^.;,]{1,40})",
    re.I,
)
# "Have one pound of worsted in two equal portions".
IN_PORTIONS = re.compile(
    r"\b(?:have|take|took|weigh\w*)\b[^.;,]{0,30}\bin\s+(?P<said>(?:two|three|four|five|six|\d)\s+"
    r"(?:equal\s+|even\s+)?(?:parts|lots|portions|parcels|halves|thirds|quarters|lengths))\b",
    re.I,
)
SO_MANY = re.compile(
    r"(?:(?P<n>[a-z]+|\d{1,2})(?:\s+|$))?(?:equal\s+|even\s+|smaller\s+|\d[\d.]*\s?(?:g|oz)\s+)*(?P<what>parts?|lots?|portions?|parcels?|lengths?|strips?|skeins?|hanks?|pieces?|batches|balls?|halves|thirds|quarters|$)",
    re.I,
)


def note_division(course: Course) -> None:
    """Note into how many equal parts the sentence divides the one lot."""
    sentence = course.sentence
    lots = course.all_lots()
    if sentence is None or len(lots) != 1:
        return
    for found in (*DIVIDES.finditer(sentence.words), *IN_PORTIONS.finditer(sentence.words)):
        low = sentence.start + found.start("said")
        high = sentence.start + found.end("said")
        count = _count_of_parts(course, lots[0], found["said"].strip())
        if count < LEAST_GROUPS or (lots[0].count > 1 and lots[0].count != count):
            continue
        lots[0].divided = count
        here = [
            one
            for part in sentence.parts
            for one in part.amounts
            if low <= one.start < high and one.start not in course.used
        ]
        course.used.update(one.start for one in here)
        course.picks += here
        course.lots_told.append(LotWords(sentence.start + found.start(), high, False))


PARTS = {"halves": 2, "thirds": 3, "quarters": 4}
MANY = re.compile(r"(?P<n>\d{1,2})\s*x\s*\d", re.I)


def _count_of_parts(course: Course, lot: Lot, said: str) -> int:
    many = MANY.match(said)
    if many:
        return int(many["n"])
    found = SO_MANY.match(said)
    if found is None:
        return 0
    if found["what"].lower() in PARTS:
        return PARTS[found["what"].lower()]
    word = (found["n"] or "").lower()
    return int(meanings("number").get(word, word if word.isdigit() else "0"))
