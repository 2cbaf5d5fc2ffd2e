"""Which thing each amount of stuff measures, by what stands next to it in the sentence."""

from __future__ import annotations

import itertools
import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.lexicon import meanings
from procedure.draft.not_read import SMALL
from procedure.draft.things import Thing, known_words
from procedure.quantity.ready_patterns import pattern

# Kinds of amounts that measure stuff, and so belong to a thing.
STUFF = frozenset(
    (
        "mass",
        "volume",
        "spoon",
        "share",
        "strength",
        "ratio",
        "loose",
        "odd",
        "count",
        "relative",
        "full",
    )
)
# Words that part an amount from what follows: it is not an amount of that.
PARTS = frozenset(
    "in into with to for at on from per over under till until after before by through and or but"
    " then when while if as it them they he she we i you is are was were be been has have had"
    " will would which that who whom whose than upon about between around within during"
    " every each not no never so just".split()
)
# Words between a thing and the amount that comes after it.
LINKS = frozenset(
    "do did was is were are weighing weighs weighed about around at say approx approximately"
    " roughly of to in all each dry add powder paste used use take ca x full last max noil"
    " extract that had has begin only just it its now i we you comes came a the total"
    " altogether maybe perhaps should weigh some or so nearly almost weight by measures wt pdr"
    " pwdr powd"
    " measuring holds holding which needs need takes wants want gets get for right oh well so"
    " ok um er like go by reckon allow together dried fresh chopped ground crushed whole only"
    " there here bought picked they them these those both".split()
)
# How a thing is made ready: "cochineal, pounded fine 1½ oz".
MADE = frozenset(
    "pounded chipped sliced grated shredded bruised broken powdered sifted picked shelled peeled"
    " washed fine finely small roughly well coarsely natural pair".split()
)
# How a plant is: "hulls, fresh and green, half a bushel".
AS_IT_IS = frozenset("and green ripe young fallen rotten withered faded mature dried fresh".split())
# In brackets between an amount and its thing: "4 gallons (imp.) of water", "12 g (dry weight) of".
SIZE = re.compile(
    r"\s*\((?:us|imp\.?|imperial|uk|(?:dry|wet|fresh|washed|raw|clean)(?:\s+(?:weight|wt\.?))?)\)",
    re.I,
)
MEASURED = frozenset(("material", "fibre", "water", "part", "bath", "pot"))
# What an unknown stuff is never called.
NO_STUFF = frozenset(
    "today tomorrow yesterday tonight lastly like yours mine ours hers theirs".split()
    + "thats ish ur so back away aside over up down".split()
    + "more total batch time times way weight size minutes hours heat side ends day days lot fibre"
    " example yield batch goods amount quantity note"
    " together altogether apiece should would could think say maybe perhaps please later earlier"
    " well too also very quite rather ready enough anyway instead already least most respectively"
    " rest same other others extra each water thing things bit one two longer less again".split()
)
ADJECTIVES = frozenset(
    "greasy clean wet dry fresh dried new old hot cold warm soft hard strong weak large small big"
    " good best fine coarse whole half full empty light dark deep pale raw ripe young white black"
    " red yellow blue green brown grey pink orange purple makes gives altogether apiece dyed"
    " finished undyed scoured washed clear done left over used needed required available thick"
    " thin long short high low heaped level"
    " equal even separate little matching smaller".split()
)
STUFF_KINDS = frozenset(("mass", "volume", "spoon", "share", "loose", "odd", "count"))


SIGN = re.compile(r"(?:un)?till?\b", re.I)  # "until cold": of no stuff


class _Near:
    """An amount with the things before and behind it, and whether each may be what it measures."""

    def __init__(self, amount: Amount, ahead: Thing | None, back: Thing | None) -> None:
        self.amount, self.ahead, self.back = amount, ahead, back


def belonging(
    text: str, things: list[Thing], here: list[Amount], start: int, end: int
) -> dict[int, Thing]:
    """The thing of each amount of stuff, by where the amount begins."""
    of: dict[int, Thing] = {}
    listed = [one for one in things if one.kind in MEASURED]
    stuff = [
        one
        for one in here
        if (one.kind == "number" and not _counts_a_step(text, one))
        or (one.kind in STUFF and not SIGN.match(one.words))
    ]
    unsure: list[_Near] = []
    for one in stuff:
        within = _named_within(one) or _before_liquor(text, one, listed)
        if within:
            of[one.start] = within
            continue
        near = _near(text, one, listed, here, of)
        if near.ahead and near.back:
            unsure.append(near)
        elif near.ahead:
            of[one.start] = _whole(near.ahead, listed, text)
        elif near.back:
            if one.kind == "volume" and _is_measured(near.back, of, here, text):
                continue
            comma = "," in text[near.back.end : one.start] or re.match(
                r"\s+of\s+(?!(?:it|them|this|these|those|each)\b)[a-z]",
                text[one.end : one.end + 12],
            )
            other = unknown_stuff(text, one, things, here, start, end) if comma else None
            of[one.start] = other or near.back
    _settle(text, unsure, of, start)
    _settle_rows(text, listed, stuff, of, (start, end))
    _second_measures(text, stuff, of)
    _of_what_is_in_water(text, listed, stuff, of)
    for one in stuff:
        if one.start not in of:
            unknown = unknown_stuff(text, one, things, here, start, end)
            if unknown is None and not one.each and one.kind in ("mass", "spoon", "share", "odd"):
                unknown = _unknown_head(text, one, things, start)
            if unknown:
                of[one.start] = unknown
    return of


def _of_what_is_in_water(
    text: str, listed: list[Thing], stuff: list[Amount], of: dict[int, Thing]
) -> None:
    """The 30 g/L of "alum water, 30 g to the litre" are of the alum."""
    for one in stuff:
        water = of.get(one.start)
        if one.kind != "strength" or water is None or water.kind != "water":
            continue
        before = [each for each in listed if each.end <= water.start]
        if before and before[-1].kind == "material":  # noqa: SIM102
            if not text[before[-1].end : water.start].strip():
                of[one.start] = before[-1]


# "3 Add the vinegar": the number of a step, without a mark behind it.
STEP = re.compile(r"\s+(?P<word>[A-Z][a-z]+)\b")


def _counts_a_step(text: str, one: Amount) -> bool:
    """True for a number at the head of a line whose next word is a verb with a capital."""
    found = STEP.match(text, one.end)
    head = not text[text.rfind("\n", 0, one.start) + 1 : one.start].strip()
    return head and found is not None and found["word"].lower() in meanings("verb")


START = re.compile(r"\s*(?:[-*•]\s+|\(?\d{1,2}[.)]\s+)?")
HEAD = re.compile(
    r"((?:[A-Za-z][\w'-]*\s){0,2}[A-Za-z][\w'-]+)\s*(?:[-:,(=]|\s)\s*(?:about\s+|some\s+|say\s+)?\(?$"
)


def _unknown_head(text: str, one: Amount, things: list[Thing], start: int) -> Thing | None:
    """A thing that no list knows at the head of a line, before its amount: "Oakmoss - 1 kg"."""
    lead = START.match(text, start)
    begin = lead.end() if lead else start
    found = HEAD.fullmatch(text, begin, one.start) if one.start - begin < 60 else None
    if found is None:
        return None
    words = found[1].lower().split()
    if words[0] in meanings("number"):
        return None
    if not _names_stuff(words) or any(t.start < found.end(1) and begin < t.end for t in things):
        return None
    return Thing("material", " ".join(words), " ".join(words), begin, found.end(1))


# What is said of oneself, of books and of days names no stuff: "my book says 5 g".
TALK = frozenset(
    "says said told reads book like yours mine today tomorrow yesterday really actually someone"
    " people everyone nobody nothing something anything yes maybe thanks please guess".split()
)


def _names_stuff(words: list[str]) -> bool:
    """True where words can be the name of a stuff: no verb, no preposition, not only adjectives."""
    if set(words) & (NO_STUFF | PARTS | SMALL | TALK) or any(
        word in meanings("verb") for word in words
    ):
        return False
    return len(words[-1]) > 2 and words[-1] not in ADJECTIVES


IN_LIQUOR = re.compile(
    r"\s+(?:in|to|into)\s+(?:about\s+)?(?:\d|an?\s+(?:litre|liter|gallon|quart|pint|bucket))", re.I
)
FOR_EACH = re.compile(r"(?:every|each|per)\b", re.I)
RINSE_OF = re.compile(r"\s+(?:rinse|wash|dip|bath)\s*[(,:]\s*(?:about\s+)?", re.I)
OF_THEM = re.compile(r"\s+of\s+(?:them|it|these|those)\b", re.I)


def _before_liquor(text: str, one: Amount, listed: list[Thing]) -> Thing | None:
    """The vinegar of "a vinegar rinse (50 ml in 5 l)"; the skins of "skins, a pound of them"."""
    before = [t for t in listed if t.end <= one.start and t.kind in ("material", "part", "fibre")]
    if before and one.kind in ("number", "count") and OF_THEM.match(text, one.end):
        near = one.start - before[-1].end <= limits.LETTERS_TO_LIQUOR
        return before[-1] if near and before[-1].kind != "fibre" else None  # "stones, five of them"
    if before and one.kind == "strength" and RINSE_OF.fullmatch(text, before[-1].end, one.start):
        return before[-1]  # "a vinegar rinse (4 ml/L)"
    if not before or one.kind not in ("volume", "mass", "spoon") or FOR_EACH.match(one.words):
        return None
    if OF_THEM.match(text, one.end):
        return before[-1]
    near = before[-1].kind == "material" and one.start - before[-1].end <= limits.LETTERS_TO_LIQUOR
    poured = one.kind == "volume" and IN_LIQUOR.match(text, one.end)
    return before[-1] if near and poured else None


def _named_within(one: Amount) -> Thing | None:
    """The thing of "half a pound of madder to the pound", which the amount's own words name."""
    found = re.search(r"\bof\s+([\w ]+?)\s+(?:per|for|to|in)\b", one.words) if _per(one) else None
    if found is None:
        return None
    pattern, known = known_words()
    inner = pattern.search(found[1])
    if inner is None or known[inner[0].lower()][0] not in MEASURED:
        return Thing("material", found[1].lower(), found[1].lower(), one.start, one.end)
    kind, means = known[inner[0].lower()]
    return Thing(kind, means, inner[0].lower(), one.start, one.end)


def _near(
    text: str, one: Amount, listed: list[Thing], here: list[Amount], of: dict[int, Thing]
) -> _Near:
    ahead = next((t for t in listed if t.start >= one.end), None)
    back = next((t for t in reversed(listed) if t.end <= one.start), None)
    if ahead and not _reaches(text, one, ahead, here):
        ahead = None
    if back and not _comes_from(text, one, back, here):
        back = None
    if one.kind == "mass" and back and back.kind == "water":
        back = _ground_with(back, listed, text) or back
    if one.kind == "share" and ahead and back and back.kind == "fibre":
        back = None  # "wool (12 % alum)"
    if back and ahead is None and back.kind == "bath" and one.kind in ("volume", "mass", "spoon"):
        back = _stuff_of_bath(back, listed, text)
    if back and ahead is None and back.kind == "part":
        back = _plant_before(back, listed, text)
    return _Near(one, ahead, back)


GROUND_WITH = pattern(
    r"[\s,]+(?:[\w-]+[\s,]+){0,4}?(?:ground|rubbed|mixed|moistened|wetted|damped|slaked|pounded|worked|made\s+\w+)"
    r"\s+(?:up\s+|fine\s+|smooth\s+)?(?:with|in)\s+(?:a\s+little\s+|some\s+)?(?:\w+\s+)?",
    re.I,
)


def _ground_with(water: Thing, listed: list[Thing], text: str) -> Thing | None:
    """The indigo of "indigo, well ground with water, half a pound", rather than the water."""
    before = [t for t in listed if t.kind == "material" and t.end <= water.start]
    ground = before and GROUND_WITH.fullmatch(text, before[-1].end, water.start)
    return before[-1] if ground else None


def _stuff_of_bath(bath: Thing, listed: list[Thing], text: str) -> Thing:
    """The vinegar of "vinegar bath, 100 ml", rather than the bath."""
    before = [t for t in listed if t.kind == "material" and t.end <= bath.start]
    if before and not text[before[-1].end : bath.start].strip(" -"):
        return before[-1]
    return bath


def _plant_before(part: Thing, listed: list[Thing], text: str) -> Thing:
    """The plant of "tansy (leaves and flowers)" rather than its part."""
    before = [t for t in listed if t.kind == "material" and t.end <= part.start]
    if before and re.fullmatch(r"[\s('s-]*(?:\w+\s+and\s+)?", text[before[-1].end : part.start]):
        return before[-1]
    return part


ENDS_ROW = re.compile(r"(?:\S[ \t]{2,}|[|:=][ \t]*)$")  # the gap of a column before an amount


def _reaches(text: str, one: Amount, ahead: Thing, here: list[Amount]) -> bool:
    """True where the amount may be one of the thing behind it."""
    gap = text[one.end : ahead.start]
    if "\n" in gap and ENDS_ROW.search(text[max(0, one.start - 24) : one.start]):
        return False  # at the end of a row of a table: what begins the next row is another thing
    per = one.kind in ("share", "strength", "ratio") and _per(one)
    if per and ahead.kind in ("fibre", "water", "bath"):
        return False
    if one.kind == "relative" and ahead.kind == "fibre" and "weight" in one.words:
        return False  # what it is weighed against
    if one.kind == "share":
        if re.match(r"\s+(?:bath|solution|rinse|dip)\b", text[ahead.end : ahead.end + 12]):
            return False  # the strength of a bath
        if ahead.kind == "fibre":
            return False
    if any(
        one.end <= other.start < ahead.start
        for other in here
        if other.kind != "named heat" and not PLY.match(text, other.end)
    ):
        return False
    gap = re.sub(r"^\s*\)", "", SIZE.sub("", gap, count=1))
    if re.search(r"[.,;:!?()\[\]]|\s-\s", gap):
        return False
    gap = re.sub(r"^\s+of\s+(?:that|this|these|those)\b", " of", gap)
    if one.kind == "relative":
        gap = re.sub(r"^\s+in\b", "", gap)  # "twice the weight of the wool in fresh leaves"
    words = re.findall(r"[\w'-]+", gap.lower())
    return (
        len(words) <= limits.WORDS_TO_THING_BEHIND and not PARTS & set(words) and not _verbs(words)
    )


PLY = re.compile(r"-?\s?ply\b", re.I)  # "12 g of two-ply silk"


def _is_measured(back: Thing, of: dict[int, Thing], here: list[Amount], text: str) -> bool:
    """True for the litres of "100 % weld, 25 L", where the weld has its amount already."""
    mine = [a for a in here if a.start in of and of[a.start].start == back.start]
    if back.kind not in ("material", "part"):
        return False
    before = [a for a in here if 0 <= back.start - a.end <= limits.LETTERS_TO_OWN_THING]
    if any(a.kind in ("mass", "share", "count") for a in before):
        return True
    return any(a.kind in ("mass", "share", "count", "ratio") for a in mine)


# "A cup of boiling water": what the water is, and nothing that is done.
STATE_OF_WATER = frozenset(("boiling", "simmering", "running", "warm", "standing"))


def _verbs(words: list[str]) -> bool:
    """True where a word is a plain verb and no adjective made of one."""
    acts = meanings("verb")
    return any(
        word in acts
        and not word.endswith(("ed", "t", "n", "d"))
        and word not in STATE_OF_WATER
        and word not in ADJECTIVES
        for word in words
    )


def _per(one: Amount) -> bool:
    return bool(re.search(r"\b(?:per|for|to|every|each)\b|/", one.words))


# "The vinegar is added 5 mL", "chalk is put in, 5 g": how much of it, behind the verb.
IS_ADDED = re.compile(
    r"\s+(?:is|are|was|were)\s+(?:then\s+|now\s+|also\s+)?(?:added|put\s+in|stirred\s+in|thrown\s+in|poured\s+in|used"
    r"|taken|given|mixed\s+in)\s*[,:(]?\s*(?:about\s+)?",
    re.I,
)
BOUND = re.compile(
    r"\b(?:at\s+(?:least|most)|up\s+to|not\s+(?:less|more)\s+than|min\.?|max\.?)\s*$", re.I
)


def _comes_from(text: str, one: Amount, back: Thing, here: list[Amount]) -> bool:
    """True where the amount may be one of the thing before it."""
    gap = text[back.end : one.start]
    if one.kind == "loose" or re.search(r",\s*(?:and\s+|then\s+)*add\s+$", gap):
        return False
    between = [o for o in here if back.end <= o.start < one.start]
    if any(o.kind in (*STUFF, "time", "temperature") for o in between):
        return False
    if one.kind == "volume" and back.kind in ("material", "part", "fibre"):  # noqa: SIM102
        if re.search(
            r"(?:\b(?:to|in|with|into|of)|\+|&|/)\s*(?:about\s*|the\s*|same\s*|fresh\s*|another\s*)*$",
            gap,
        ):
            return False
    if re.search(r"[;!?\]]|\.\s+[A-Z]", gap):
        return False
    if IS_ADDED.fullmatch(gap):
        return True
    gap = BOUND.sub("", gap)
    if re.search(r"\)", gap) and not re.match(r"\s*(?:\([^()]*\)|\))", gap):
        return False
    gap = re.sub(r"\([^()]{0,40}\)|\([^()]{0,40}$|^[^()]{0,24}\)", " ", gap)
    words = re.findall(r"[a-z][a-z'-]*", gap.lower())
    return len(words) <= limits.WORDS_TO_THING_BEFORE and all(
        word in LINKS or word in MADE or word in AS_IT_IS for word in words
    )


def _settle(text: str, unsure: list[_Near], of: dict[int, Thing], start: int) -> None:
    """Amounts between two things: the one that "of" names, or the way the others of it go."""
    taken = {thing.start for thing in of.values()}
    for near in unsure:
        one = near.amount
        assert near.ahead is not None and near.back is not None
        ahead_gap = text[one.end : near.ahead.start]
        back_gap = text[near.back.end : one.start]
        if (
            re.search(r"\bfor\s*$", back_gap)  # "galls (adapted for 5 lb yarn)"
            or (near.back.kind in ("bath", "pot") and near.ahead.kind not in ("bath", "pot"))
            or re.match(r"\s+of\b", ahead_gap)
            or one.words.lower().endswith(" of")
            or near.back.start in taken
            or (ahead_gap == " " and _announces(text, near.back))
            or BRACKET_CLOSES.match(back_gap)
        ) or _listed_behind(text, near):
            way = near.ahead
        elif "|" in ahead_gap and "|" not in back_gap:
            way = near.back  # in a cell of its own: "| alpaca, 150 g | water |"
        elif re.match(r"\s*[(:=]", back_gap) or re.search(r"\t", back_gap):
            way = near.back
        elif (
            re.search(r"\b(?:of|to|for)\s*$", back_gap)
            or re.search(r"[,.]", back_gap)
            or (near.ahead.kind == "part" and near.back.kind == "material")
        ):
            way = near.ahead
        elif _first_is_thing(text, near, start):
            way = near.back
        else:
            way = near.ahead
        of[one.start] = way
        taken.add(way.start)


# "200 g linen (lot 1), 150 g cotton": what stands in brackets ends what is said of the linen.
BRACKET_CLOSES = pattern(r"\s+\([^()]{1,40}\)\s*[,;\n]")
ANNOUNCES = re.compile(r"\b(?:with|using|from|for|of|vats?)\s+(?:the\s+)?$", re.I)


def _announces(text: str, thing: Thing) -> bool:
    """True for the fructose of "I make it with fructose: 30 g indigo, 60 g lime"."""
    before = text[max(0, thing.start - 24) : thing.start]
    return text[thing.end : thing.end + 1] == ":" and ANNOUNCES.search(before) is not None


GAP_IN_ROW = re.compile(r"[\s,:=|-]*")
LEAST_PAIRS = 2


def _settle_rows(
    text: str,
    listed: list[Thing],
    stuff: list[Amount],
    of: dict[int, Thing],
    within: tuple[int, int],
) -> None:
    """Each amount to the thing before it in a row that goes from thing to amount throughout.

    "Wool 100 g alum 12 % madder 50 %": the row begins with a thing and ends with an amount.
    """
    row: list[Thing | Amount] = []
    tokens: list[Thing | Amount] = sorted([*listed, *stuff], key=lambda one: one.start)
    for token in [*tokens, None]:
        if token is not None:
            fits = isinstance(token, Thing) != (bool(row) and isinstance(row[-1], Thing))
            near = not row or GAP_IN_ROW.fullmatch(text, row[-1].end, token.start)
            if fits and near:
                row.append(token)
                continue
        if len(row) % 2 == 0 and len(row) // 2 >= LEAST_PAIRS and _fills_line(text, row, within):
            for thing, amount in zip(row[::2], row[1::2], strict=True):
                if isinstance(thing, Thing):
                    of[amount.start] = thing
        row = [token] if isinstance(token, Thing) else []


ROW_BEGINS = re.compile(r"(?:\A|\n)\s*(?:\(?\w{1,2}[.):]?\s)?\s*$")
HEADING = re.compile(r"\s*(?:[A-Z][\w ]{0,20}(?::|\.?\s?-+)\s*)?")  # "Mordant: ", "Dye.--"
ROW_ENDS = re.compile(r"[ \t.,;]*(?:\n|\Z)")


def _fills_line(text: str, row: list[Thing | Amount], within: tuple[int, int]) -> bool:
    """True where a row of things and amounts has a line, or its sentence, for itself."""
    if not isinstance(row[0], Thing):
        return False
    begins = HEADING.fullmatch(text, within[0], row[0].start) or ROW_BEGINS.search(
        text[max(0, row[0].start - 24) : row[0].start]
    )
    ends = not text[row[-1].end : within[1]].strip(" .;\t\n")
    return bool(begins and (ends or ROW_ENDS.match(text, row[-1].end)))


def _listed_behind(text: str, near: _Near) -> bool:
    """True for the soda of "scour the napkins: 8 g soda ash": what is listed for the fibre."""
    assert near.ahead is not None and near.back is not None
    close = not text[near.amount.end : near.ahead.start].strip()
    colon = ":" in text[near.back.end : near.amount.start]
    return near.back.kind == "fibre" and near.ahead.kind == "material" and close and colon


def _first_is_thing(text: str, near: _Near, start: int) -> bool:
    """True for "alum 12 g tartar 6 g", where what is measured comes first."""
    assert near.ahead is not None and near.back is not None
    behind = text[near.ahead.end : near.ahead.end + 12]
    return bool(re.match(r"[\s:]*[\d½¼¾]", behind)) and not re.search(
        r"\d\s*\w*\s*$", text[start : near.back.start]
    )


OPENS = re.compile(r"\s*[(=]\s*(?:=\s*)?")
SECOND = re.compile(
    r"(?:\s+(?:dry|dried|fresh)(?=\s*\())?[\s,()=/-]*(?:so\s+|or\s+|say\s+|perhaps\s+|i\.?e\.?,?\s+|(?:that|which)(?:'s|\s+is)\s+)?(?:about\s+|around\s+)?"
)


def _second_measures(text: str, stuff: list[Amount], of: dict[int, Thing]) -> None:
    """A second measure of one thing: "2 tsp, 0.35 oz", "250 g (20 %)", "20 % (250 g) of weld"."""
    for earlier, one in itertools.pairwise(stuff):
        if earlier.kind in ("share", "mass") and earlier.start not in of and one.start in of:
            if OPENS.fullmatch(text, earlier.end, one.start):
                of[earlier.start] = of[one.start]
            continue
        if one.start in of or earlier.start not in of or one.kind == "loose":
            continue
        if one.kind == "volume" and earlier.kind in ("mass", "share", "count"):
            continue  # so much of a solid, and so much water
        if SECOND.fullmatch(text, earlier.end, one.start):
            of[one.start] = of[earlier.start]


def _whole(thing: Thing, named: list[Thing], text: str) -> Thing:
    """The plant rather than its part, for "the bark of alder"."""
    later = next((t for t in named if t.start >= thing.end), None)
    if later and thing.kind == "part" and later.kind == "material":  # noqa: SIM102
        if re.fullmatch(r"\s+of\s+(?:the\s+)?", text[thing.end : later.start]):
            return later
    return thing


# What stands before an item of a list, or before what is taken: "..., 60 g bog myrtle".
ITEM_BEGINS = re.compile(
    r"(?:\A|[\n,;:.(•*+&|-]|\b(?:and|with|add|use|used|take|took|gather|plus|put|boil|simmer|need|get|got|in"
    r"|have|had|weigh|chop|steep|soak|of|to|then))\s*(?:about\s+|some\s+|roughly\s+|say\s+|the\s+|another\s+)?$",
    re.I,
)
PHRASE = re.compile(r"\s*(?P<of>of\s+)?(?:the\s+|some\s+|our\s+|my\s+|your\s+)?", re.I)


def unknown_stuff(
    text: str, one: Amount, things: list[Thing], here: list[Amount], start: int, end: int
) -> Thing | None:
    """A thing that no list knows, where an amount of it is said: "60 g of bog myrtle"."""
    if one.kind not in STUFF_KINDS or one.each or _per(one):
        return None
    lead = PHRASE.match(text, one.end, end)
    assert lead is not None
    if one.kind in ("odd", "loose", "count", "volume", "share") and not lead["of"]:
        return None
    if not lead["of"] and not ITEM_BEGINS.search(text[max(start, one.start - 24) : one.start]):
        return None  # "let's say 250 g like yours"
    at, words = lead.end(), []
    while match := re.compile(r"([A-Za-z][\w'-]*)(?:[ \n]|(?=[.,;:)]|$))").match(text, at, end):
        word = match[1].lower()
        if word in PARTS or word in meanings("verb") or word in ("of", "this", "these", "those"):
            break
        if any(o.start < match.end(1) and match.start(1) < o.end for o in here):
            break
        if any(t.start < match.end(1) and match.start(1) < t.end for t in things):
            return None
        words.append(word)
        at = match.end()
        if len(words) == 3:
            break
    if not words or not _names_stuff(words):
        return None
    return Thing("material", " ".join(words), " ".join(words), lead.end(), at)
