"""What a part brings, and into which bath it goes."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.belonging import ADJECTIVES, LINKS, NO_STUFF, PARTS
from procedure.draft.course import NO_VESSEL, Course, plain_name
from procedure.draft.heats_and_times import bare_heat, of_water
from procedure.draft.lexicon import meanings, numbers
from procedure.draft.relative import by_fibre, by_other
from procedure.draft.restated import says_again
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, is_suds, part_played, role_of, trade_role
from procedure.draft.things import Thing, known_words
from procedure.draft.unsettled_steps import Bath, Brought, Step
from procedure.quantity.number_words import IN_TURN
from procedure.vocabulary import vocabulary

BROUGHT = ("material", "water", "part")
FRESH = re.compile(
    r"\b(?:fresh|second|another|new|clean|separate|different|other)\s+(?:\w+\s+)?"
    r"(?:pot|pan|bath|vessel|vat|kettle|dyebath|dye\s?pot|bucket|tub|water|bowl)\b|\bmeanwhile\b"
    r"|\bin the mean\s?time\b|^\W*separately\b"
    r"|\bwhile (?:that|this|it|they)\b|(?<!with )\banother (?:\w+ ){0,3}(?:gallon|litre|pint|quart)"
    r"|\b(?:in|into|through)\s+an?\s+(?:[\w%]+\s+){0,3}(?:bath|solution|decoction)\b"
    r"|\b(?:in|into)\s+(?:an?|\d\S*|half\s+a|two|three)\s+(?:[\w-]+\s+){0,2}?(?:of\s+)?(?:[a-z]+\s+)?water\s+with\b"
    r"|\bin(?:to)?\s+(?:its|their)\s+own\s+(?:pot|pan|bath|jar|bowl|bucket|vessel|kettle)\b"
    r"|\bafter-?\s?baths?\b|\bafresh\b|\banew\b",
    re.I,
)
HOLDS = re.compile(r"\b(?:holds?|holding|takes?|capacity(?:\s+of)?)\s+(?:about\s+|some\s+)?$", re.I)
OURS_HOLDS = re.compile(
    r"\b(?:ours|mine|which|that|it|pot|pan|bucket|jar|vat)\s+(?:just\s+)?(?:holds?|takes)\s+(?:about\s+)?$",
    re.I,
)
HEADED = re.compile(r"\s*(?:[\w-]+\s+){0,2}(?:[\w]+-)?(?:bath|dip|vat|rinse)\s*[:.-]", re.I)
ADDED_TO = re.compile(r"\b(?:add|stir|sprinkl)", re.I)
# "Dissolve the iron in 5 litres of water": an after-bath of its own, and no part of the old one.
OWN_WATER = re.compile(
    r"\b(?:dissolv\w*|melt\w*)\b[^.;]*?\b(?:in|into)\s+[^.;,]{1,24}?(?:litres?|liters?|l|gallons?|gal)\b"
    r"|\b(?:add|put|stir|sprinkle)\b[^.;,]*?\b(?:to|into)\s+[^.;,]{1,24}?(?:litres?|liters?|l|gallons?|gal|quarts?)\b",
    re.I,
)
# "The wool is wet. Put it in a bath of 50 g of weld", "lay it overnight in alum water": the fibre.
IT_INTO = re.compile(
    r"\s+(?:it|them)\s+(?:straight\s+|all\s+|over\s?night\s+|for\s+[\w ]{3,20}?\s+)?(?:in|into)\s+"
    r"(?:an?|\d\S*|(?:(?:cold|cool|tepid|warm|hot|weak|strong)\s+)?[a-z]+\s+water\b)",
    re.I,
)
MAKES = re.compile(r"prepare|make|made|fill|draw", re.I)
INTO_THAT = re.compile(
    r"\b(?:to|into|in)\s+(?:(?:hot|warm|strained)\s+dye[ -]?(?:bath|liquor)"
    r"|it|this|that|the\s+(?:same|\w*\s?bath|pot|liquor|dye\w*|vat))\b",
    re.I,
)
ADDS = re.compile(
    r"(?:add|stir|sprinkle|pour|throw|drop|tip|put|dose|feed|supply|strew|mix|dissolv|melt|return)",
    re.I,
)
LATER_MORDANTS = re.compile(r"iron|ferrous|copper|chrom|tin|stannous", re.I)


# "20 g of dried heads (or 100 g fresh)": one or the other, and never both.
AND_NOT_BOTH = re.compile(r"\(\s*or\s+(?:else\s+)?(?:about\s+)?$", re.I)


def _is_none_brought(before: str) -> bool:
    """True for what has come of it, and for how much a pot holds."""
    return HAVE_NOW.search(before) is not None or OURS_HOLDS.search(before) is not None


def stuff_of(course: Course, part: Part) -> list[Measured]:
    """Materials and water of a part with their amounts; a volume of nothing is of water."""
    spoken: list[Thing] = [as_listed(course, t) for t in part.things if t.kind in BROUGHT]
    for thing in spoken:
        course.notice_plant(thing)
    owned: dict[int, list[Amount]] = {}
    stray: list[Amount] = []
    for amount in part.amounts:
        if amount.start in course.used:
            continue
        if amount.kind == "volume" and _is_none_brought(course.text[: amount.start][-48:]):
            continue
        if AND_NOT_BOTH.search(course.text[: amount.start][-16:]):
            continue
        of = course.of(amount)
        if (
            amount.kind == "number"
            and course.sentence
            and bare_heat(course.text, course.sentence, amount)
        ):
            continue
        of = as_listed(course, of) if of is not None and not amount.base else of
        if of is not None and of.kind in BROUGHT:
            owned.setdefault(of.start, []).append(amount)
            if of not in spoken:
                spoken.append(of)
                course.notice_plant(of)
        elif _is_water(course.text, amount, of, spoken) and not HOLDS.search(
            course.text[: amount.start][-24:]
        ):
            stray.append(amount)
    spoken = [t for t in spoken if t.start in owned or not _is_there_already(course.text, t)]
    made = _measured(course, spoken, owned)
    for amount in stray:
        water = next((m for m in made if m.thing.kind == "water" and not m.amounts), None)
        if water is not None:
            made.remove(water)
        thing = Thing("water", "water", "water", amount.start, amount.end)
        amount = course.resolved(_by_base(course, amount), thing)
        made.append(Measured(thing, (amount,), course.number))
    return [one._replace(purpose=_purpose(course.text, one)) for one in made]


# "As our water is soft", "in the same water", "the water goes brown": none that is brought.
OUR = re.compile(r"\b(?:our|my|same|this|that|these)\s+$", re.I)
DOES = re.compile(
    r"\s+(?:here\s+|itself\s+)?(?:is|was|goes|turns?|gets|becomes|looks|runs?|has|comes|should|must|will|may)\b",
    re.I,
)


def _is_there_already(text: str, thing: Thing) -> bool:
    """True for water that the words speak of, and that is not poured in."""
    if thing.kind != "water":
        return False
    before = OUR.search(text[max(0, thing.start - 12) : thing.start])
    return before is not None or DOES.match(text, thing.end) is not None


# "5 L of water for the mordant", "2 tsp soda ash, for the dye bath".
PURPOSE = re.compile(
    r"\s*,?\s*(?:\(\s*)?for\s+(?:the\s+|your\s+)?(?:(?P<mordant>mordant\w*|alum(?:ing)?)|(?P<dye>dye\w*|colou?r))\b",
    re.I,
)


# "Water, mordant: 8 L", "mordant water 8 L", "water (dye) 10 L": of which bath it is, in a list.
OF_WHICH = re.compile(
    r"water\s*[,(]\s*(?:for\s+(?:the\s+)?)?(?:(?P<mordant>mordant)|(?P<dye>dye))\b[\W]*(?=\d)", re.I
)
CALLED_FOR = re.compile(r"(?:^|[\n:;,])\W*(?:(?P<mordant>mordant)|(?P<dye>dye))[\s-]+$", re.I)


def _purpose(text: str, item: Measured) -> str:
    """The kind of bath that something is said to be for; empty where that is not said."""
    if not item.amounts:
        return ""
    if item.thing.kind == "water":
        low = item.thing.start
        of = OF_WHICH.match(text, low) or CALLED_FOR.search(text[max(0, low - 12) : low])
        if of is not None:
            return "mordant" if of["mordant"] else "dye"
    found = PURPOSE.match(text, max(item.thing.end, *(one.end for one in item.amounts)))
    return "" if found is None else "mordant" if found["mordant"] else "dye"


def as_listed(course: Course, thing: Thing) -> Thing:
    """A thing that is named by one word of what is listed: the soda, where soda ash is."""
    if thing.kind != "material" or " " in thing.words:
        return thing
    items = course.stock.items
    if any(one.thing.name == thing.name for one in items):
        return thing
    word = thing.words.lower()
    like = [one.thing for one in items if word in one.thing.words.lower().split()]
    names = {one.name for one in like}
    if len(names) == 1:
        return thing._replace(name=like[0].name, words=like[0].words)
    held = {one.name for bath in course.baths for one in bath.stuff}
    if plain_name(thing.name) in held:
        return thing
    said = [name for name in held if word in course.called.get(name, ())]
    return thing._replace(name=said[0].replace("-", " ")) if len(said) == 1 else thing


DOWN_TO = re.compile(
    r"\b(?:reduc\w+|(?:boil|simmer|cook)\w*\s+(?:\w+\s+)?(?:down|away)|concentrat\w+|wast\w+)\s+to\s+(?:about\s+)?$",
    re.I,
)


VESSEL_BEHIND = re.compile(
    r"[\s-]+(?:[a-z-]+\s+)?(?:jugs?|jars?|bowls?|basins?|containers?|kettles?|saucepans?|tubs?|buckets?|pans?|pots?)"
    r"\s*(?:[,.;:)\n]|$|\band\b|\bor\b|\bwith\s+(?:a|its)\s+lid)",
    re.I,
)


# "A 16-quart enamel or stainless steel kettle": what is joined by a hyphen sizes what follows.
SIZED = re.compile(
    r"\s+(?:[a-z-]+\s+){0,5}?(?:kettle|pot|pan|saucepan|bucket|tub|jug|jar|bowl|basin|pail|bath|copper|boiler)s?\b",
    re.I,
)
# "A 1 litre glass jar", "in a 40 litre bin": an article before it, and the vessel behind.
ONE_OF_SIZE = re.compile(
    r"\s+(?:(?:glass|stone|plastic|steel|stainless|enamel|enamelled|big|large|old|tall|deep|clean|lidded|copper|brass|aluminium)\s+){0,3}"
    r"(?:kettle|pot|pan|saucepan|bucket|tub|jug|jar|bowl|basin|pail|bin|drum|crock|stockpot|vat|boiler|cauldron"
    r"|carboy|demijohn|dish|tank|barrel)\b(?!\s+of\b)",
    re.I,
)
# "For one bucket of 10 litres", where no water is named behind it.
VESSEL_OF = re.compile(
    r"\b(?:kettle|pot|pan|saucepan|bucket|tub|bowl|basin|pail|bin|crock|copper|boiler|vessel|tank)\s+of\s+(?:about\s+|some\s+)?$",
    re.I,
)
AN = re.compile(r"\b(?:an?|the|your|my|one|our|another)\s+(?:[a-z]+\s+)?$", re.I)
# "You should have 5 gallons": what has come of it, and nothing that is brought.
HAVE_NOW = re.compile(
    r"\b(?:(?:should|will|ought\s+to|'ll)\s+(?:now\s+)?(?:have|get|be\s+left\s+with)|end(?:ed)?\s+up\s+with"
    r"|(?:am|is|are|was|were)\s+left\s+with|(?:this|that|it|which)\s+(?:should\s+|will\s+)?(?:gives?|gave|yields?|yielded|makes?"
    r"|made|leaves?|left|comes?\s+to|came\s+to)(?:\s+(?:me|us|you|up))?(?:\s+with)?"
    r"|(?:from\s+(?:this|that|it|these|them),?|out\s+of\s+(?:this|that|it|these|them),?)\s+(?:i|we|you)\s+(?:got|get))"
    r"\s+(?:(?:about|some|around|roughly|only|just|nearly|almost|a\s+good|just\s+(?:under|over))\s+)?$",
    re.I,
)


def is_size_of_vessel(text: str, amount: Amount) -> bool:
    """True for the litres of "one bucket of 10 litres", which name no stuff themselves."""
    return VESSEL_OF.search(text[max(0, amount.start - 24) : amount.start]) is not None


def _sizes_a_pot(text: str, amount: Amount) -> bool:
    if "-" in amount.words and SIZED.match(text, amount.end) is not None:
        return True
    if is_size_of_vessel(text, amount):
        return True
    before = text[max(0, amount.start - 24) : amount.start]
    return ONE_OF_SIZE.match(text, amount.end) is not None and AN.search(before) is not None


# "Jar A got 10 mL of the stock, jar B 20 mL, and jar C 40 mL": no water.
TO_THE_NEXT = (
    r"(?:and\s+|then\s+)*(?:to\s+|into\s+)?(?:the\s+)?(?:(?:beaker|jar|pot|pan|bowl|vessel|jug|bucket|bath|cup|glass|tube|flask)s?\s+\w{1,3}"
    rf"|(?:{'|'.join(IN_TURN[:6])}|next|last|other)(?:\s+one)?|[a-f])\s+"
)
GOES_ON_WITH_IT = re.compile(
    rf"\d\s*[a-z]+\s+of\s+(?!(?:[a-z]+\s+)?water)(?:[a-z-]+\s+){{0,3}}?[a-z-]+\s*[,;]\s*"
    rf"(?:{TO_THE_NEXT}[\d.,]+\s*[a-z]+\s*[,;]?\s*)*{TO_THE_NEXT}$",
    re.I,
)


def _is_water(text: str, amount: Amount, of: Thing | None, spoken: list[Thing]) -> bool:
    """True for an amount of liquor that names no stuff."""
    if amount.kind == "volume":
        if of is None and (VESSEL_BEHIND.match(text, amount.end) or _sizes_a_pot(text, amount)):
            return False  # "a 2 litre jug": how large it is
        if of is None and DOWN_TO.search(text[max(0, amount.start - 40) : amount.start]):
            return False  # "till it be reduced to a gallon": none is brought
        if of is None and GOES_ON_WITH_IT.search(text[max(0, amount.start - 160) : amount.start]):
            return False  # of what stands before: which vessel gets it is asked
        return of is None or of.kind in ("bath", "fibre")
    if of is not None and of.kind != "bath":
        return False
    if amount.kind == "relative":
        return "volume" in amount.words
    if amount.kind == "ratio":
        named = any(0 <= amount.start - t.end <= 2 for t in spoken)  # "vinegar 1:50"
        liquor = of is not None or ((amount.low or 0) >= limits.LEAST_LIQUOR and not named)
        return liquor or not spoken or any(t.kind == "water" for t in spoken)
    return amount.kind == "full"


def _measured(
    course: Course, spoken: list[Thing], owned: dict[int, list[Amount]]
) -> list[Measured]:
    made: list[Measured] = []
    for thing in spoken:
        thing = _of_unknown_plant(course, thing) if thing.start in owned else thing
        mine = tuple(_by_base(course, a) for a in owned.get(thing.start, ()))
        named = course.plant_of(thing)
        if named is None or not (mine or thing.kind != "part"):
            continue
        mine = tuple(course.resolved(_as_other(course, a, named), named) for a in mine)
        made.append(Measured(named, mine, course.number))
        if mine and named.kind == "material":
            course.last_measured = course.number, mine[0], named
    return made


AS_OTHER = re.compile(
    r"(?:half|twice|as|double|three\s+times|(?:a\s+)?quarter|a\s+third)\s+as\s+much|"
    r"(?:the\s+)?(?:same|equal|like)\s+(?:amount|quantity)|an\s+equal\s+(?:amount|quantity)|as\s+much|"
    r"(?:half|twice|double)\s+the\s+(?:amount|quantity)",
    re.I,
)


def _as_other(course: Course, amount: Amount, thing: Thing) -> Amount:
    """An amount by that of the stuff named just before: "alum 30 g and half as much tartar"."""
    if amount.kind != "relative" or thing.kind != "material" or course.sentence is None:
        return amount
    if not AS_OTHER.fullmatch(amount.words) or by_fibre(amount):
        return amount
    before = [
        (a, course.sentence.of.get(a.start))
        for part in course.sentence.parts
        for a in part.amounts
        if a.end <= amount.start and a.kind in ("mass", "volume", "spoon", "share", "relative")
    ]
    if not before and course.last_measured and course.last_measured[0] >= course.number - 1:
        before = [course.last_measured[1:]]
    if not before:
        return amount
    other, of = before[-1]
    if of is None or of.kind != "material" or of.name == thing.name or other.kind == "relative":
        return amount
    made = by_other(amount, other)
    return amount if made is None else made


BEFORE_PART = re.compile(r"([a-z][a-z'-]+)\s+$", re.I)


def _of_unknown_plant(course: Course, thing: Thing) -> Thing:
    """Gardenia pods, where only another plant has been named: a material of that name."""
    found = BEFORE_PART.search(course.text, max(0, thing.start - 24), thing.start)
    if thing.kind != "part" or course.plant is None or found is None:
        return thing
    word = found[1].lower()
    known = word in known_words()[1] or word in meanings("unit") or word in numbers()
    if known or word in ADJECTIVES | PARTS | NO_STUFF | LINKS or word in course.plant.name:
        return thing
    if word.endswith(("ed", "ing", "ly", "er", "est")) or word in meanings("verb"):
        return thing
    name = f"{word} {thing.words}"
    return Thing("material", name, name, found.start(1), thing.end)


def _by_base(course: Course, amount: Amount) -> Amount:
    """A weight for so much fibre, as so much per so much."""
    base = course.base
    if says_again(course.text, amount):
        return amount  # "2 oz to the pound, = 1 oz for us"
    if amount.kind == "volume" and base is not None and base is course.base_of_all:
        return _litres_by_base(amount, base)
    if base is None or amount.low is None or amount.bound or amount.kind != "mass" or not base.low:
        return amount
    if base.low == 1:
        return amount._replace(per=base.unit)
    if base.low.denominator == 1 and base.unit in ("g", "kg", "lb", "oz"):
        return amount._replace(per=f"{base.low.numerator} {base.unit}")
    units = vocabulary().units
    each = base.low * units[base.unit].factor / units[amount.unit].factor
    share = amount.low / each
    if share < 1:
        high = (amount.high or amount.low) / each * 100
        return amount._replace(kind="share", low=share * 100, high=high, unit="%")
    return amount._replace(kind="ratio", low=share, high=None, unit=": 1")


def _litres_by_base(amount: Amount, base: Amount) -> Amount:
    """Water for so much fibre, where all figures are for so much: litres to the kilogram."""
    units = vocabulary().units
    if amount.low is None or amount.bound or not base.low:
        return amount
    if units[amount.unit].vague:
        return amount._replace(kind="figure")  # of which gallon is not said: no ratio is known
    litres = amount.low * units[amount.unit].factor / units["L"].factor
    kilograms = base.low * units[base.unit].factor / units["kg"].factor
    most = None if amount.high is None else litres / kilograms * (amount.high / amount.low)
    return amount._replace(kind="ratio", low=litres / kilograms, high=most, unit=": 1")


def base_of_ratio(course: Course, amounts: list[Amount]) -> Amount | None:
    """The weight of fibre that amounts are for: "for each 100 g of yarn"."""
    for amount in amounts:
        of = course.of(amount)
        before = course.text[max(0, amount.start - 12) : amount.start].lower()
        if (
            (of is None or of.kind == "fibre")
            and amount.kind == "mass"
            and (
                re.search(r"\b(?:each|every|per)\s+$", before)
                or amount.words.lower().startswith(("every", "each", "per "))
            )
        ):
            return amount
        if amount.per and amount.base == "wof" and not amount.per[0].isdigit():
            unit = amount.per
            return Amount("mass", Fraction(1), Fraction(1), unit, "", amount.start, amount.start)
    return None


def supply(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """Bring the stuff of a part into a bath: the one at hand, or a new one."""
    if not stuff:
        return False
    words, first, beside = _parted(part, stuff)
    if beside:
        supply(course, part._replace(words=words), first)
        course.begin()
        course.new_bath(role_of(beside))
        stuff = beside
    _turn_to_the_dye(course, stuff)
    bath = bath_for(course, part, role_of(stuff), stuff)
    if not bath.begun:
        for listed in course.stock.of_sentence(course.number):
            bath.stuff.append(Brought(course.material(listed.thing), listed.amounts))
            kind = role_of([listed])
            if kind and not bath.kind:
                course.name_kind(bath, kind)
    if not bath.begun and not bath.stuff and not any(m.thing.kind == "water" for m in stuff):
        water = course.stock.named("water", bath.kind)
        if water is not None:
            bath.stuff.append(Brought("water", water.amounts))
    heat = water_heat(course, part)
    if heat is not None and _is_of_the_smaller(course, heat, stuff):
        course.used.discard(heat.start)
        heat = None  # "dissolved in a little hot water and stirred into 4 litres"
    _pour_what_is_dissolved(course, part, bath, stuff)
    poured_into = bath.holds("water") and any(_is_measured_water(item) for item in stuff)
    for item in stuff:
        heat = _bring(course, part, bath, item, heat)
    if not bath.begun and poured_into:
        bath.heat = heat  # "dissolved in a jar of boiling water, poured into 10 L of cold"
    elif heat is not None and not bath.begun:
        bath.heat = bath.heat or heat
    course.focus = "bath"
    course.last_on = "bath"
    return True


def _is_of_the_smaller(course: Course, heat: Amount, stuff: list[Measured]) -> bool:
    """True for the heat of "a little hot water" where a measured water comes behind it."""
    waters = [one for one in stuff if one.thing.kind == "water" and one.amounts]
    behind = [one for one in waters if one.thing.start > heat.end]
    return (
        len(behind) > 1
        and not _is_measured_water(behind[0])
        and any(_is_measured_water(one) for one in behind[1:])
    )


INTO_WATER = re.compile(r"\b(?:in)?to\s+(?:[\w-]+\s+){0,4}$", re.I)


def _pour_what_is_dissolved(course: Course, part: Part, bath: Bath, stuff: list[Measured]) -> None:
    """Make a liquor of its own of what was dissolved and goes into other water now.

    "Dissolve the alum in a cup of hot water and stir it into 6 litres of warm water".
    """
    waters = [one for one in stuff if one.thing.kind == "water"]
    starts = [one.thing.start for one in waters] + [a.start for one in waters for a in one.amounts]
    at = min(starts, default=part.start)
    before = course.text[part.start : at]
    if (
        bath.begun
        or not bath.dissolved
        or bath.dissolved not in (course.number, course.number - 1)
        or part.doing.act == "dissolve"
        or INTO_WATER.search(before) is None
    ):
        return
    listed = _listed_before(course, bath)
    make_liquor(course, bath.stuff, bath.heat)
    if listed and not waters[0].amounts:
        bath.stuff.append(Brought("water", listed))
    bath.heat, bath.dissolved = None, 0


def _listed_before(course: Course, bath: Bath) -> tuple[Amount, ...]:
    """The water of a list, taken back from "dissolve it in boiling water", that is for the bath."""
    told = next((one for one in course.told if one.number == bath.dissolved), None)
    water = next((one for one in bath.stuff if one.name == "water"), None)
    if told is None or water is None or any(one.start >= told.start for one in water.amounts):
        return ()
    listed, water.amounts = water.amounts, ()
    return listed


def make_liquor(course: Course, brought: list[Brought], heat: Amount | None) -> Step:
    """The step that dissolves stuff in water of its own, which the bath at hand gets then."""
    brought = [one for one in brought if not one.within]
    brought.sort(key=lambda one: one.name == "water")
    course.pots.setdefault("jar", NO_VESSEL)
    said = course.bath.dissolved if course.bath is not None else 0
    made = Step("dissolve", said or course.number, "dissolve", course.bath)
    made.name, made.vessel, made.brought = f"{brought[0].name}-liquor", "jar", brought
    if heat is not None:
        made.clauses["at"] = heat
    for one in brought:
        one.within = made.name
    return course.add(made)


def _is_measured_water(item: Measured) -> bool:
    return item.thing.kind == "water" and any(one.kind == "volume" for one in item.amounts)


BESIDE = re.compile(
    r"\bin(?:to)?\s+(?:another|a\s+second|a\s+separate|the\s+other)\s+(?:\w+\s+)?"
    r"(?:pot|pan|bath|vessel|vat|kettle|bucket|tub|bowl|jar)\b"
    r"|(?<=,\s)(?:and\s+)?in\s+another\b(?=\s+(?:about\s+)?\d)",
    re.I,
)


def _parted(part: Part, stuff: list[Measured]) -> tuple[str, list[Measured], list[Measured]]:
    """What goes into one vessel, with its words, and what "in another tub" goes into a second."""
    found = BESIDE.search(part.words)
    if found is None:
        return part.words, stuff, []
    at = part.start + found.start()
    first = [one for one in stuff if one.thing.start < at]
    beside = [one for one in stuff if one.thing.start >= at]
    solid = all(
        any(one.thing.kind != "water" and one.amounts for one in side) for side in (first, beside)
    )
    return (part.words[: found.start()], first, beside) if solid else (part.words, stuff, [])


INTO_THE = re.compile(r"\b(?:in|into|through)\s+the\s+(?:hot\s+|warm\s+|cold\s+)?([a-z]+)\b", re.I)


INTO_THE_DYE = re.compile(
    r"\b(?:in|into|to)\s+the\s+(?:same\s+|spent\s+|first\s+)?dye(?:[ -]?(?:bath|pot|liquor))?"
    r"(?=\s*[.,;]|\s+(?:for|at|again|and|until)\b|\s*\Z)",
    re.I,
)


def turn_to_called(course: Course, part: Part) -> None:
    """Turn to the bath that a word of its stuff stands for: "dip the rags in the lead"."""
    if INTO_THE_DYE.search(part.words) and course.bath is not None and course.bath.kind != "dye":
        dyes = [bath for bath in course.baths if bath.kind == "dye" and bath.had_fibre]
        if len(dyes) == 1 and course.bath.begun:
            course.bath.fibre = False
            course.bath = dyes[0]
            return
    found = INTO_THE.search(part.words)
    if found is None or course.bath is None:
        return
    word = found[1].lower()
    named = [
        bath
        for bath in course.baths
        if any(word in course.called.get(one.name, ()) for one in bath.stuff)
    ]
    if len(named) == 1 and named[0] is not course.bath:
        course.begin()
        course.bath.fibre = False
        course.bath = named[0]


def _turn_to_the_dye(course: Course, stuff: list[Measured]) -> None:
    """Water alone after a mordanting is for the dyestuff at hand: "Weld 60 g. Into 3 L."."""
    bath = course.bath
    if bath is None or bath.kind != "mordant" or not course.stock.has("dye"):
        return
    if all(one.thing.kind == "water" for one in stuff) and course.has_worked(bath):
        course.draw("dye")


THE_WATER = re.compile(r"\bthe\s+(?:(?:hot|warm|cold|boiling|rain|soft)\s*)?water\b", re.I)


def _bring(
    course: Course, part: Part, bath: Bath, item: Measured, heat: Amount | None
) -> Amount | None:
    """Bring one thing; the heat of water is handed back where it is not yet said."""
    name = course.material(item.thing)
    amounts = item.amounts
    if not amounts and item.thing.kind != "water":
        listed = course.stock.named(item.thing.name)
        amounts = listed.amounts if listed else ()
    elif not amounts and (bath.prepared is None or THE_WATER.search(part.words)):
        listed = course.stock.named("water", bath.kind)
        amounts = listed.amounts if listed else ()
    course.used.update(a.start for a in amounts)
    again = _listed_above(course, item)
    if bath.prepared is None:
        known = next((one for one in bath.stuff if one.name == name and not one.within), None)
        if known is not None and (not amounts or not known.amounts):
            known.amounts = known.amounts or amounts
        else:
            bath.stuff.append(Brought(name, amounts))
            bath.stuff[-1].again = again
        return heat
    if not amounts and _named_again(course, part, bath, name):
        return heat
    if name == "water" and amounts and _is_its_water(course, bath, amounts[0]):
        bath.heat = bath.heat or heat
        return None
    one = Brought(name, amounts)
    one.again = again
    bath.stuff.append(one)
    step = Step("add", course.number, "add", bath)
    step.brought = [one]
    if heat is not None and name == "water":
        step.clauses["at"] = heat
        heat = None
    course.add(step)
    return heat


IN_SO_MUCH = re.compile(r"\b(?:in|using)\s+(?:about\s+)?$", re.I)


def _is_its_water(course: Course, bath: Bath, amount: Amount) -> bool:
    """Measure the water of a bath that the same sentence has made without saying how much.

    "Mordanted with 15 g of alum, simmered an hour in 3 litres of water". True where it is that.
    """
    made = bath.prepared
    before = course.text[max(0, amount.start - 24) : amount.start]
    if made is None or made.sentence != course.number or not IN_SO_MUCH.search(before):
        return False
    bare = [one for one in made.brought if one.name == "water" and not one.amounts]
    for one in bare:
        one.amounts = (amount,)
        bath.stuff.append(one)
    return bool(bare)


THE = re.compile(r"\b(?:the|that|those|all)\s+$", re.I)


def _listed_above(course: Course, item: Measured) -> tuple[Amount, ...]:
    """The amounts of a list that are those of "stir in the 20 g of alum", taken from it."""
    if not item.amounts or not THE.search(course.text[: item.amounts[0].start][-8:]):
        return ()
    listed = course.stock.the_same(item.thing.name, item.amounts)
    return listed.amounts if listed is not None else ()


LIQUOR_OF = re.compile(r"(?P<of>[a-z]{3,})-(?:milk|juice)")


def _named_again(course: Course, part: Part, bath: Bath, name: str) -> bool:
    """True where a thing without an amount is one that is in a bath already."""
    poured = part.doing.act in ("put", "dissolve", "fill up")
    if name == "water":
        return not poured or _goes_with_what_is_in(course, part, bath)
    liquor = LIQUOR_OF.fullmatch(name)
    if liquor and any(one.name.startswith(liquor["of"]) for one in bath.stuff):
        return True  # "put the cotton in the soy milk", where the soya beans have been strained
    return any(known.holds(name) for known in course.baths)


def _goes_with_what_is_in(course: Course, part: Part, bath: Bath) -> bool:
    """True for the water of "tip root and water together into the copper", both in the bath."""
    others = [one for one in part.things if one.kind in ("material", "part") and one.end]
    if not bath.holds("water") or not others:
        return False
    return all(
        one.kind == "part" or bath.holds(plain_name(one.name)) for one in others
    ) and not course.free(part, "named heat")


def is_for_the_same_bath(course: Course, part: Part) -> bool:
    """True where a sentence says, up to the end of a part, that the bath at hand is used again."""
    begins = course.sentence.start if course.sentence is not None else part.start
    said = course.text[min(begins, part.start) : part.end]
    begun = course.bath is not None and course.bath.begun
    return begun and IN_THE_SAME_BATH.search(said) is not None


# "I used the same bath again with 10 g of copper sulphate added".
IN_THE_SAME_BATH = re.compile(
    r"\b(?:us(?:e|ed|ing)|in(?:to)?|to|with)\s+(?:the|that)\s+same\s+(?:dye\s*-?)?(?:bath|liquor|vat)\b",
    re.I,
)


def bath_for(course: Course, part: Part, role: str, stuff: list[Measured]) -> Bath:
    """The bath that stuff goes into: the one at hand, one made before, or a new one."""
    bath = course.bath
    said = part.words
    if bath is None:
        return course.new_bath(role)
    if is_for_the_same_bath(course, part):
        return bath
    if (
        FRESH.search(said)
        and not (not bath.begun and (not bath.stuff or _lacks_this_water(bath, stuff)))
        and not _just_made(course, stuff)
    ):
        return course.new_bath(role)
    adds = bool(ADDS.match(part.doing.words)) or part.doing.act == "fill up"
    adding = adds and not MAKES.search(part.doing.words) and not _goes_in(course, part)
    listed = {one.thing.name for one in course.stock.items if part_played(one.thing) == "dye"}
    measured = any(one.amounts or one.thing.name in listed for one in stuff)
    if _calls_for_new(course, bath, role, adding, measured, said, stuff):
        return course.new_bath(role)
    if role and not bath.kind and not bath.had_fibre:
        course.name_kind(bath, role)
    return bath


def _goes_in(course: Course, part: Part) -> bool:
    """True for "squeeze it and put it in 15 % alum": the fibre goes in, and the alum is there."""
    if course.focus != "fibre" or not course.lots:
        return False
    if part.doing.words.endswith((" it in", " them in", " it into", " them into")):
        return True
    return IT_INTO.match(course.text, part.doing.end) is not None


def _lacks_this_water(bath: Bath, stuff: list[Measured]) -> bool:
    """True for the fresh water that what is laid by for a bath has still to get."""
    return not bath.holds("water") and all(one.thing.kind == "water" for one in stuff)


def _just_made(course: Course, stuff: list[Measured]) -> bool:
    """True where the bath at hand was made by this very sentence and nothing is done with it."""
    bath = course.bath
    if bath is not None and not bath.begun:
        return all(bath.holds(plain_name(one.thing.name)) for one in stuff)
    last = course.steps[-1] if course.steps else None
    return last is not None and last.on == "prepare" and last.sentence == course.number


# "Put 50 g of bran in 10 L of water and turn the linen in it": in no bath that it lay in before.
TURNED_IN_IT = re.compile(
    r"\b(?:in|into|with)\s+(?:about\s+)?(?:\d\S*|an?|two|three|four|five|six|ten)\s*"
    r"(?:litres?|liters?|l|gallons?|gal|quarts?)\b[^.;]*?"
    r"\b(?:turn|work|soak|steep|enter|dip|lay|put|place|wash|rinse)\b[^.;]*?\b(?:in|into)\s+(?:it|this)\b",
    re.I,
)


def _goes_into_it_next(course: Course) -> bool:
    return course.sentence is not None and TURNED_IN_IT.search(course.sentence.words) is not None


def _is_no_dye_bath(bath: Bath, role: str, over: bool) -> bool:
    """True for suds, and for milk or starch that the fibre has left: it is dyed in another."""
    if role == "dye" and not bath.kind and over:
        return True
    suds = bath.had_fibre and is_suds([one.name for one in bath.stuff])
    return role in ("mordant", "dye") and suds


INTO_SO_MUCH = re.compile(r"\bin(?:to)?\s+(?:about\s+)?$", re.I)


def _is_in_water_of_its_own(course: Course, stuff: list[Measured]) -> bool:
    """True for "5 g of iron into 8 litres of water": as much water as a bath has is one."""
    solids = [one for one in stuff if one.thing.kind == "material" and one.amounts]
    for one in stuff:
        for amount in one.amounts if one.thing.kind == "water" else ():
            before = course.text[max(0, amount.start - 12) : amount.start]
            litres = _litres(amount)
            enough = litres is not None and litres >= limits.LEAST_LITRES_OF_A_BATH
            enough = enough and not _is_added_next(course, amount)
            behind = bool(solids) and solids[0].thing.start < amount.start
            if enough and behind and INTO_SO_MUCH.search(before):
                return True
    return False


ADDED_NEXT = re.compile(
    r"[\s,;]*(?:and\s+|then\s+)*(?:add|pour|stir|tip)\w*\s+(?:half|some|it|this|that|a)\b", re.I
)


def _is_added_next(course: Course, water: Amount) -> bool:
    """True for "in a gallon of boiling water, add half of it to the dye"."""
    parts = course.sentence.parts if course.sentence is not None else ()
    behind = [one.doing.start for one in parts if one.doing.act and one.doing.start > water.end]
    return any(ADDED_NEXT.match(course.text, at) is not None for at in behind[:1])


def _litres(amount: Amount) -> Fraction | None:
    unit = vocabulary().units.get(amount.unit)
    if amount.kind != "volume" or unit is None or amount.low is None:
        return None
    return amount.low * unit.factor


def _calls_for_new(
    course: Course,
    bath: Bath,
    role: str,
    adding: bool,
    measured: bool,
    said: str,
    stuff: list[Measured],
) -> bool:
    """True where what is brought cannot be meant for the bath at hand."""
    over = bath.had_fibre and not bath.fibre
    if _is_no_dye_bath(bath, role, over and not INTO_THAT.search(said)):
        return True
    own = bath.begun and _is_in_water_of_its_own(course, stuff)
    if (HEADED.match(said) and bath.begun) or (
        bath.had_fibre and (own or _goes_into_it_next(course))
    ):
        return True
    if over and measured and role in ("mordant", "") and OWN_WATER.search(said):
        return True
    if role == bath.kind == "mordant" and measured and not adding and course.has_worked(bath):
        return True
    if over and measured and not adding:
        return True
    if role == "dye" and bath.kind == "mordant":
        return (bath.begun or bath.had_fibre) and not (
            adding and bath.fibre and ADDED_TO.search(said)
        )
    if role == "mordant" and bath.kind == "dye":
        own = any(one.thing.kind == "water" for one in stuff)
        if adding and ADDED_TO.search(said) and bath.clear and not own:
            return False  # "strain, and add the tannin"
        if own and measured and not adding and not INTO_THAT.search(said):
            return True  # "an iron dip, 1 tsp in a gallon of water"
        if over and adding:
            return False
        later = all(
            LATER_MORDANTS.search(one.thing.name) or part_played(one.thing) != "mordant"
            for one in stuff
        )
        if bath.fibre and (adding or later):
            return False
        return bath.begun and not (adding and later) and not INTO_THAT.search(said)
    return False


def water_heat(course: Course, part: Part) -> Amount | None:
    """A named heat that stands before water or a bath: cold water, a hot bath."""
    for amount in course.free(part, "named heat"):
        if of_water(course.text, amount):
            course.used.add(amount.start)
            return amount
    return None


def turn_to(course: Course, part: Part) -> None:
    """Go back to a bath that was made before, where the part names it or what is in it."""
    said = part.words.lower()
    named = {plain_name(t.name) for t in part.things if t.kind == "material"}
    if course.plant and any(t.kind == "part" for t in part.things):
        named.add(plain_name(course.plant.name))
    kind = _kind_named(said)
    here = course.bath
    for bath in reversed(course.baths):
        holds = {one.name for one in bath.stuff} & named
        if bath is here or not (holds or (kind and bath.kind == kind)):
            continue
        if here is not None and ((here.kind == bath.kind and not holds) or _has(here, named)):
            return
        if here is not None:
            course.begin()
            here.fibre = False
        course.bath = bath
        return


INTO_LIQUOR = re.compile(
    r"\b(?:in|into)\s+the\s+(?P<called>[a-z]+\s+)?(?:dye\s+)?(?:liquor|bath|decoction|dye)\b", re.I
)


def other_liquor(course: Course, part: Part) -> Bath | None:
    """The bath that fibre from the mordant goes into: "put it straight into the bark liquor"."""
    found, here = INTO_LIQUOR.search(part.words), course.bath
    if found is None or here is None or here.kind != "mordant" or not here.had_fibre or here.fibre:
        return None
    if meanings("kind of bath").get((found["called"] or "").strip().lower()) == "mordant":
        return None
    waiting = [
        bath
        for bath in course.baths
        if bath.begun and bath.kind != "mordant" and not bath.had_fibre
    ]
    return waiting[0] if len(waiting) == 1 else None


def _has(bath: Bath, named: set[str]) -> bool:
    return any(one.name in named for one in bath.stuff)


def _kind_named(said: str) -> str:
    if re.search(
        r"\b(?:the|that|this)\s+dye\b(?!\s*-?(?:bath|pot|stuff))"
        r"|\bdye[ -]?(?:bath|pot|liquor|liquid|water|vat)\b(?! for)"
        r"|\w-water|bean water|\bcolou?r\s?bath\b",
        said,
    ):
        return "dye"
    if re.search(r"\b(?:mordant|alum)[ -]?(?:bath|liquor|liquid|solution|pot|water)\b", said):
        return "mordant"
    return ""


def is_modifier(course: Course, stuff: list[Measured]) -> bool:
    """True where stuff is for an after-bath: the fibre has been dyed, and no dyestuff comes."""
    dyed = any(bath.kind == "dye" and bath.had_fibre for bath in course.baths)
    return dyed and not any(trade_role(one.thing.name) == "dyestuff" for one in stuff)
