"""The fibre that a recipe names: its lots, their weights and their pieces."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.course import Course, plain_name
from procedure.draft.sentences import Part, Sentence
from procedure.draft.shares import SO_MANY, Lot, grams
from procedure.draft.things import Thing

# Words before a weight that make it the base of a ratio, or another lot than the one at hand.
PER = re.compile(r"\b(?:each|every|per|another|paler,|do another|a further)\s+$", re.I)
# "1 lb of wool in 4 oz skeins": how heavy each of them is.
IN_SO_HEAVY = re.compile(
    r"\b(?:in|into|as)\s+(?:(?:two|three|four|five|six|eight|ten|\d{1,2})\s+)?(?:equal\s+)?"
    r"(?:about\s+)?$",
    re.I,
)
ARE_SO_HEAVY = re.compile(
    r"[\s-]+(?:mini-?\s?)?(?:skeins|hanks|balls|cones|cops|pieces|strips|lengths|squares)\b", re.I
)
OF_EACH = re.compile(
    r"\b(?:skeins|hanks|balls|squares|scarves|napkins|towels|strips|lengths|swatches)\s+of\s*$|\b(?:skeins?|hanks?|balls?)\s*(?:@|at|à)\s*$"
    r"|[,(]\s*each\s+(?:about\s+)?$"
    r"|\beach\s+(?:weighing|weighs|weighed|of|being|about)\s+(?:about\s+)?$",
    re.I,
)
WEIGHED = re.compile(
    r"\b(?:(?:mine|it|they|these|this|that|(?:clean|dry|total)\s+weight)"
    r"\s+(?:was|is|were|weigh(?:s|ed)?|came to)"
    r"|\bi\s+(?:had|took|take|have))\s+(?:about\s+)?$",
    re.I,
)
ALONE = re.compile(r"^\(\s*|\s*\)[.:]?$")
FOR = re.compile(r"\b(?:for|per)\s+(?:about\s+)?$", re.I)
FOR_ONE = re.compile(r"\bfor\s+(?:one|a|another|a\s+further)\s+(?:more\s+)?$", re.I)
OTHER_STATE = re.compile(r"\b(?:dyed|finished|clean|dyes)\b", re.I)


def declare_fibre(course: Course, part: Part) -> None:
    """Note the lots of a part, with their weights, their pieces, and the weight of each piece."""
    for thing in part.things:
        if thing.kind == "fibre":
            if not _is_base(course, part, thing):
                course.focus = "fibre"
            lot_for(course, thing)
    for amount in part.amounts:
        amount, measured = _set_of_pieces(course, part, amount)
        measured = measured or _fibre_of(course, part, amount)
        if measured is None or amount.start in course.used:
            continue
        if _is_of_both(course, amount):
            continue
        lot = _other_fibre(course, amount, measured) or lot_for(course, measured)
        if _taken(course, amount, lot):
            course.used.add(amount.start)
            if not _is_base(course, part, measured):
                course.focus = "fibre"


def _other_fibre(course: Course, amount: Amount, thing: Thing) -> Lot | None:
    """A lot of its own for the silk of "150 g of merino and 50 g of silk"; None where none is."""
    lot = lot_for(course, thing)
    own = not thing.name.startswith("=") and thing.name != lot.fibre
    if amount.kind == "mass":
        listed = lot.weight is not None or _weighs_both(course, amount, lot.fibre)
        own = own and listed and _is_weight_of_lot(course, amount)
    else:
        counted = lot.pieces is not None and amount.unit == lot.pieces.unit
        own = own and amount.kind == "count" and counted  # "a skein of wool and a skein of silk"
    if not own or course.steps:
        return None
    made = Lot(plain_name(thing.name))
    made.fibre = thing.name
    course.lots.setdefault(made.name, made)
    return course.lots[made.name]


def _weighs_both(course: Course, amount: Amount, fibre: str) -> bool:
    """True where the sentence of a weight weighs the fibre of the other lot too."""
    parts = course.sentence.parts if course.sentence is not None else ()
    every = [one for part in parts for one in part.amounts if one.start != amount.start]
    of = [course.of(one) for one in every if one.kind == "mass"]
    return any(one is not None and one.name == fibre for one in of)


# "Cotton napkins (set of 8, 320 g)": pieces of the fibre before it.
SET_OF = re.compile(r"[(,]\s*(?:a\s+)?(?:set|pack|bundle)\s+of\s+\Z", re.I)


def _set_of_pieces(course: Course, part: Part, amount: Amount) -> tuple[Amount, Thing | None]:
    before = [one for one in part.things if one.kind == "fibre" and one.end <= amount.start]
    of = course.of(amount)
    if not before or amount.kind not in ("number", "count", "figure") or course.steps:
        return amount, None
    if of is not None and of.kind != "fibre":
        return amount, None
    if SET_OF.search(course.text[max(0, amount.start - 20) : amount.start]) is None:
        return amount, None
    return amount._replace(kind="count", unit="piece"), before[-1]


# "A skein of wool and a skein of silk, both about 100 g".
BOTH = re.compile(
    r"\b(?:both|each|all(?:\s+three|\s+four|\s+of\s+them)?)\s+(?:of\s+|weigh(?:ed|ing)?\s+|were\s+|are\s+)?"
    r"(?:about\s+|roughly\s+)?\Z",
    re.I,
)


def _is_of_both(course: Course, amount: Amount) -> bool:
    """True where a weight is that of each of several fibres, which all have it then."""
    lots = course.all_lots()
    if amount.kind != "mass" or len(lots) < LEAST_FIBRES or any(lot.weight for lot in lots):
        return False
    if any(lot.count > 1 for lot in lots) or not BOTH.search(course.text[: amount.start][-32:]):
        return False
    for lot in lots:
        lot.weight = amount
    course.used.add(amount.start)
    return True


LEAST_FIBRES = 2


FOR_SO_MUCH = re.compile(r"\b(?:for|to|per)\s+(?:about\s+|each\s+|every\s+|an?\s+)?$", re.I)


def _is_base(course: Course, part: Part, thing: Thing) -> bool:
    """True for the wool of "1 1/2 lb for 1 lb of wool", which only says how much goes with it."""
    for amount in part.amounts:
        of = course.of(amount)
        if of is not None and of.start == thing.start and amount.kind == "mass":
            before = course.text[max(0, amount.start - 16) : amount.start]
            return bool(FOR_SO_MUCH.search(before))
    return False


def _fibre_of(course: Course, part: Part, amount: Amount) -> Thing | None:
    of = course.of(amount)
    if of is not None:
        return of if of.kind == "fibre" else None
    if amount.kind == "mass":
        return _fibre_weighed(course, part, amount)
    if amount.kind == "count" and amount.words.lower().startswith("x"):
        return next((one for one in reversed(part.things) if one.kind == "fibre"), None)
    skeins = amount.kind == "count" and amount.unit == "skein"
    if skeins and (not part.doing.act or not course.steps):
        return Thing("fibre", "=yarn", "skeins", amount.start, amount.end)
    return None


def _fibre_weighed(course: Course, part: Part, amount: Amount) -> Thing | None:
    """The fibre of a weight that no word beside it says: what the recipe goes on about."""
    the_fibre = Thing("fibre", "=fibre", "fibre", amount.start, amount.end)
    skeins = Thing("fibre", "=yarn", "skeins", amount.start, amount.end)
    said = course.sentence.words if course.sentence is not None else ""
    alone = len(said) <= len(amount.words) + 5 and ALONE.sub("", said) == amount.words
    if alone and course.lots and not course.steps:
        return the_fibre  # beneath the title
    before = course.text[max(0, amount.start - 40) : amount.start]
    if course.lots and course.focus == "fibre":
        mine = WEIGHED.search(before[-20:]) and not _speaks_of_stuff(course, amount)
        if mine or ALL_ARE.search(before):
            return the_fibre  # "mine was 30 g", "all three are 30 g"
    if not amount.each and course.lots:
        fibre = _named_before(course, part, amount)
        if fibre is not None:
            return fibre
    if _is_of_all_of_it(course, part, amount) or _is_ones_own(course, amount):
        return the_fibre
    of_each = course.lots and (amount.each or OF_EACH.search(before[-16:]))
    return skeins if of_each or _in_brackets_behind_skeins(course, part, amount) else None


# "Five bits of wool, each as long as your arm (together 30 g)", "180 grams all together".
BEFORE_ALL = re.compile(
    r"\b(?:together|altogether|in\s+all|in\s+total|total(?:ling)?)[:,]?\s+$", re.I
)


def _is_of_all_of_it(course: Course, part: Part, amount: Amount) -> bool:
    """True for what all of the fibre weighs that is the one thing its sentence names."""
    if not course.lots or any(one.weight is not None for one in course.lots.values()):
        return False
    parts = course.sentence.parts if course.sentence is not None else ()
    things = [thing for one in parts for thing in one.things]
    if not any(one.kind == "fibre" for one in things) or any(one.kind != "fibre" for one in things):
        return False
    before = BEFORE_ALL.search(course.text[: amount.start][-16:])
    return before is not None or IN_ALL.match(course.text, amount.end) is not None


MY_OWN = re.compile(
    r"\b(?:for|with|on)\s+(?:my|our)\s+$|\b(?:quantit(?:y|ies)|amounts?|recipe|enough)"
    r"\s+for\s+(?:about\s+)?$",
    re.I,
)


def _is_ones_own(course: Course, amount: Amount) -> bool:
    """True for "20 % of weld, so for my 300 g that was 60 g", where no lot has been weighed."""
    unweighed = bool(course.lots) and all(one.weight is None for one in course.lots.values())
    return unweighed and MY_OWN.search(course.text[: amount.start][-28:]) is not None


def _speaks_of_stuff(course: Course, amount: Amount) -> bool:
    """True for "alum at 15 %, so that came to 37 g": of no fibre is it said what it weighs."""
    parts = course.sentence.parts if course.sentence is not None else ()
    things = [thing for part in parts for thing in part.things if thing.end <= amount.start]
    return bool(things) and things[-1].kind == "material"


def _in_brackets_behind_skeins(course: Course, part: Part, amount: Amount) -> bool:
    """True for the weight of "1 skein (100 g)"."""
    return any(
        one.kind == "count"
        and one.unit == "skein"
        and re.fullmatch(r"\s*\(\s*(?:about\s+|ca\.?\s+)?", course.text[one.end : amount.start])
        for one in part.amounts
        if one.end <= amount.start
    )


# "Silk crepe, 5 m, 250 g", "a scarf, about 40 cm square, weighing 20 g".
BETWEEN = re.compile(
    r"(?:[\s,(:]|\d[\d.,/]*\s?(?:m|cm|in|inch|inches|yards?|metres?|ft)\b|about|around|square|long|wide|by|x"
    r"|\d-?\s?ply|dk|aran|worsted|wt\.?|weight|dry|of\s+them|old|new|hanks?|skeins?|pieces?|in\s+number|each"
    r"|weighing|weighs|weighed|weigh|just|under|over|nearly|exactly|altogether|together"
    r"|in all|which|that|it"
    r"|(?:of\s+)?which\s+there\s+(?:are|is|were|was|should\s+be)|will|should)*",
    re.I,
)


def _named_before(course: Course, part: Part, amount: Amount) -> Thing | None:
    """The fibre that a weight behind it is of, where the lot has none yet."""
    before = [t for t in part.things if t.end <= amount.start]
    if not before or before[-1].kind != "fibre" or lot_for(course, before[-1]).weight is not None:
        return None
    gap = course.text[before[-1].end : amount.start]
    gap = re.sub(r"^\s+[a-z]+(?=,)", "", gap)  # "silk crepe,"
    for count in part.amounts:
        if count.kind in ("count", "length") and before[-1].end <= count.start < amount.start:
            gap = gap.replace(count.words, "")  # "six of them, 180 g"
    return before[-1] if BETWEEN.fullmatch(gap) else None


def _taken(course: Course, amount: Amount, lot: Lot) -> bool:
    if amount.bound or re.search(r"\blots?$", _thing_words(course, amount)):
        return False
    if amount.kind == "mass" and _is_weight_of_lot(course, amount):
        return _weight_taken(course, amount, lot)
    if not course.steps and _is_taken_so_often(amount, lot):
        return True
    return amount.kind == "count" and amount.low is not None and _count_taken(course, amount, lot)


def _weight_taken(course: Course, amount: Amount, lot: Lot) -> bool:
    if course.steps and FOR_ONE.search(course.text[: amount.start][-16:]):
        return False  # "enough for one 100 g skein": another time
    if FOR.search(course.text[: amount.start][-12:]) and (lot.weight or lot.pieces):
        return False  # what the other amounts are for
    told = lot.pieces
    begins = course.sentence.start if course.sentence is not None else 0
    listed = SO_MANY.match(amount.words) and not course.steps
    if listed and told is not None and told.start < begins:
        course.used.discard(told.start)  # "two skeins" of all; "1 x 50 g" of this fibre
        lot.pieces = None
    before = course.text[max(0, amount.start - 24) : amount.start]
    in_so_heavy = IN_SO_HEAVY.search(before) and ARE_SO_HEAVY.match(course.text, amount.end)
    if (in_so_heavy or _is_of_each(course, amount, lot)) and lot.each is None:
        lot.each = amount
        lot.wound_so_heavy = bool(in_so_heavy)
    elif not amount.each and lot.weight is None:
        lot.weight = amount
    elif not amount.each and lot.weight is not None and _is_told_again(course, lot, amount):
        lot.again.append(amount)
    elif not amount.each and not course.steps:  # later it is as often the same lot again
        another_lot(course, lot).weight = amount
    else:
        return False
    return True


def _count_taken(course: Course, amount: Amount, lot: Lot) -> bool:
    if course.steps and (lot.pieces is not None or lot.weight is not None):
        if lot.pieces is not None or not _is_weighed_here(course, lot, amount):
            return False  # some of what is there already
        lot.pieces = amount
        return True
    if not course.steps and lot.pieces is not None and _counts_the_same(lot.pieces, amount):
        course.used.discard(lot.pieces.start)  # "for two skeins ... 2 skeins of wool": no others
        lot.pieces = amount
        return True
    target = lot if _has_no_pieces_yet(course, lot, amount) else another_lot(course, lot)
    target.pieces = amount
    return True


def _is_weighed_here(course: Course, lot: Lot, count: Amount) -> bool:
    """True for "I do a pound of wool at a time, four skeins": both are of all there is."""
    sentence, weight = course.sentence, lot.weight
    if sentence is None or weight is None or any(part.doing.act for part in sentence.parts):
        return False
    return sentence.start <= weight.start < count.start


def _is_taken_so_often(amount: Amount, lot: Lot) -> bool:
    """True for the count of "50 g of wool x 4", which makes its weight that of each."""
    if amount.kind != "count" or not amount.words.lower().startswith("x") or lot.pieces is not None:
        return False
    if lot.weight is not None and lot.each is None and lot.weight.end <= amount.start:
        lot.each, lot.weight = lot.weight, None
    lot.pieces = amount
    return True


# "Of a quarter of a pound each", "(50 g wool each)", "all three are 50 g".
EACH_BEHIND = re.compile(
    r"\s+(?:of\s+)?(?:(?:wool|silk|cotton|linen|yarn|skeins?)\s+){0,2}(?:each|apiece)\b", re.I
)
ALL_OF = re.compile(r"[,(]\s*(?:all|both)\s+(?:of\s+)?(?:about\s+|roughly\s+)?\Z", re.I)
ALL_ARE = re.compile(
    r"\b(?:all|both)(?:\s+(?P<n>[a-z]+|\d{1,2}))?(?:\s+[a-z]+)?\s+(?:are|were|weigh(?:ed)?)\s+"
    r"(?:about\s+|roughly\s+)?\Z",
    re.I,
)


def _is_of_each(course: Course, amount: Amount, lot: Lot) -> bool:
    """True for the weight of one of several skeins, and not of them all."""
    before = course.text[max(0, amount.start - 40) : amount.start]
    if amount.each or OF_EACH.search(before[-24:]):
        return True
    if lot.count <= 1:
        return False
    every = ALL_ARE.search(before) or ALL_OF.search(before)
    return every is not None or EACH_BEHIND.match(course.text, amount.end) is not None


def _has_no_pieces_yet(course: Course, lot: Lot, count: Amount) -> bool:
    """True where a count is of a lot that has none, and not of another one."""
    if lot.pieces is not None:
        return False
    return lot.weight is None or (not course.steps and _is_said_of(course, lot.weight, count))


def _counts_the_same(first: Amount, other: Amount) -> bool:
    return (first.low, first.high, first.unit) == (other.low, other.high, other.unit)


def _is_told_again(course: Course, lot: Lot, amount: Amount) -> bool:
    """True for the wool of "Yield: 200 g of red wool. You need 200 g of wool": no other wool."""
    first = lot.weight
    if first is None or course.sentence is None or first.start >= amount.start:
        return False
    same = (first.low, first.high, first.unit) == (amount.low, amount.high, amount.unit)
    same = same or (grams(first) is not None and grams(first) == grams(amount))
    if same and not course.steps and _is_said_of(course, first, amount):
        return True
    if same and IN_ALL.match(course.text, amount.end):
        return True
    line = course.text.rfind("\n", 0, first.start) + 1
    earlier = first.start < course.sentence.start
    return same and earlier and YIELDS.match(course.text, line, first.start) is not None


# "200 g of wool (two skeins)", "100 g of wool, in two skeins": of the same wool, and no other.
ALSO = re.compile(r"\b(?:and|plus|also|another|more|or|then|with|further|other)\b|[.;\n&+]", re.I)
GOES_ON_OF_IT = re.compile(r"[(,:\u2013]|\s-\s|\b(?:in(?:to)?|as|so|which|that)\b", re.I)


def _is_said_of(course: Course, first: Amount, amount: Amount) -> bool:
    """True where an amount of fibre only says more of the one before it in its sentence."""
    gap = course.text[first.end : amount.start]
    return GOES_ON_OF_IT.search(gap) is not None and ALSO.search(gap) is None


# "Two 50 g skeins (so 100 g all together)".
IN_ALL = re.compile(
    r",?\s*(?:altogether|in\s+all|in\s+total|all\s+told|all\s+together|total)\b", re.I
)
YIELDS = re.compile(r"[\W]*(?:yields?|makes|dyes|enough\s+for|for|quantity|amount|batch)\b", re.I)


def another_lot(course: Course, like: Lot) -> Lot:
    """A further lot of the same fibre."""
    lot = Lot(f"{like.name.rstrip('-23456789')}-{len(course.lots) + 1}")
    lot.fibre, lot.form = like.fibre, like.form
    course.lots[lot.name] = lot
    return lot


def _thing_words(course: Course, amount: Amount) -> str:
    of = course.of(amount)
    return of.words.lower() if of else ""


def _is_weight_of_lot(course: Course, amount: Amount) -> bool:
    before = course.text[max(0, amount.start - 40) : amount.start].lower()
    of = course.of(amount)
    between = course.text[amount.end : of.start] if of else ""
    if OTHER_STATE.search(between) and not re.fullmatch(
        r"\.?\s*(?:of\s+)?clean\s+(?:(?:wet|dry|damp|white|(?:hand)?spun)\s+)*", between
    ):
        return False
    if amount.words.lower().startswith(("every", "each", "the ", "another", "per ")):
        return False
    return not PER.search(before)


def weighs_a_lot(text: str, sentence: Sentence) -> bool:
    """True where a sentence weighs fibre, and not only what other amounts are for."""
    for part in sentence.parts:
        for amount in part.amounts:
            of = sentence.of.get(amount.start)
            if amount.kind != "mass" or of is None or of.kind != "fibre":
                continue
            for_each = re.match(r"(?:every|each|the|per)\b", amount.words, re.I)
            before = text[max(0, amount.start - 16) : amount.start]
            if not for_each and not FOR_SO_MUCH.search(before):
                return True
    return False


def lot_for(course: Course, thing: Thing) -> Lot:
    """The lot that a thing of the prose is; declared at its first use."""
    name = thing.name.lstrip("=")
    kind = "" if thing.name.startswith("=") else thing.name
    for lot in reversed(course.lots.values()):
        if not kind or not lot.fibre or lot.fibre == kind:
            lot.fibre = lot.fibre or kind
            if not kind and not lot.form and name != "fibre":
                lot.form = name
            return lot
    if course.lots:
        return next(iter(course.lots.values()))
    lot = Lot("fibre-lot" if name == "fibre" else plain_name(name))  # "fibre" heads a section
    lot.fibre, lot.form = kind, "" if kind else name
    course.lots[lot.name] = lot
    return lot
