"""What is done, sentence by sentence: each act of the prose by a function of its name."""

from __future__ import annotations

import re
from collections.abc import Callable

from procedure.draft import acts_of_fibre, acts_of_heat, acts_of_stuff, limits
from procedure.draft.amount import Amount
from procedure.draft.course import Course, plain_name
from procedure.draft.doings import Doing
from procedure.draft.fibres import declare_fibre, lot_for
from procedure.draft.headings import announces
from procedure.draft.heats_and_times import bare_heat, time_clause
from procedure.draft.in_vessels import (
    is_of_new_vessel,
    turn_to_vessel,
    turn_to_what_holds,
    without_what_is_for_each,
)
from procedure.draft.mordanting import mordant
from procedure.draft.named_lots import turn_to_lot
from procedure.draft.sentences import Part, Sentence
from procedure.draft.soaking import soak
from procedure.draft.spoken_of import with_what_is_spoken_of
from procedure.draft.stock import Measured, part_played, role_of
from procedure.draft.supplies import (
    AS_OTHER,
    base_of_ratio,
    stuff_of,
    supply,
    turn_to,
    turn_to_called,
)
from procedure.draft.unsettled_steps import Bath, Brought, allowed
from procedure.draft.where_fibre_is import note_where_fibre_is
from procedure.draft.working import fibre_out, phases_of

SHOPPING = re.compile(r"(?:buy|to buy|shopping|shopping list)\b\s*:", re.I)
# "All figures are per 100 g dry fibre."
FOR_ALL = re.compile(
    r"\b(?:figures|amounts|quantities|weights|measures)\b[^.]*\b(?:per|for\s+(?:each|every))\s",
    re.I,
)
TURNS = frozenset(("enter", "dye", "boil", "simmer", "strain", "hold", "leave", "put", "heat"))

INTO_BATHS = frozenset(("dip", "enter", "put", "soak"))

Act = Callable[[Course, Part], None]

ACTS: dict[str, Act] = {
    "boil": acts_of_heat.boil,
    "simmer": acts_of_heat.simmer,
    "heat": acts_of_heat.heat,
    "cool": acts_of_heat.cool,
    "hold": acts_of_heat.hold,
    "leave": acts_of_heat.leave,
    "enter": acts_of_fibre.enter,
    "soak": soak,
    "lift": acts_of_fibre.lift,
    "rinse": acts_of_fibre.rinse,
    "wash": acts_of_fibre.wash,
    "scour": acts_of_fibre.scour,
    "squeeze": acts_of_fibre.squeeze,
    "dry": acts_of_fibre.dry,
    "air": acts_of_fibre.air,
    "dip": acts_of_fibre.dip,
    "mordant": mordant,
    "dye": acts_of_fibre.dye,
    "modify": acts_of_fibre.modify,
    "gather": acts_of_stuff.gather,
    "put": acts_of_stuff.put,
    "fill up": acts_of_stuff.fill_up,
    "dissolve": acts_of_stuff.dissolve,
    "strain": acts_of_stuff.strain,
    "discard": acts_of_stuff.discard,
    "ready": acts_of_stuff.ready,
    "again": acts_of_stuff.again,
}


def follow(course: Course, sentence: Sentence) -> None:
    """Follow one sentence."""
    course.number = sentence.number
    sentence = with_what_is_spoken_of(course, _answered(course, sentence))
    course.sentence = sentence
    course.told.append(sentence)
    if SPEAKER.fullmatch(sentence.words) or course.is_quoted(sentence):
        _notice_plants(course, sentence)
        return
    every = [amount for part in sentence.parts for amount in part.amounts]
    course.base = base_of_ratio(course, every)
    if course.base is None and not any(_weighs_fibre(course, amount) for amount in every):
        course.base = course.base_of_all
    if FOR_ALL.search(sentence.words) or _is_for_all(course, every):
        course.base_of_all = course.base
    if course.base is not None and course.base.end > course.base.start:
        course.bases[course.number] = course.base
    if LISTED.match(sentence.words):
        _lay_by(course, sentence)
        return
    _notice_plants(course, sentence)
    _turn_to_plants(course, sentence)
    if announces(course, sentence):
        return
    headed, course.heading = _headed(course, sentence), None
    _follow_parts(course, headed)
    _notice_focus(course, sentence)


def _notice_plants(course: Course, sentence: Sentence) -> None:
    for part in sentence.parts:
        for thing in part.things:
            course.notice_plant(thing)


def _follow_parts(course: Course, headed: Sentence) -> None:
    """Follow what a sentence says, deed by deed; what changes nothing is told as not followed."""
    said = course.base
    for part in _pieces(course, _in_order(headed)):
        before = _come_to(course)
        own = said is not None and said.start == said.end  # "3 oz to the pound": of its own verb
        beside = said is not None and part.start <= said.start
        course.base = said if not own or beside else course.base_of_all
        _follow_part(course, part)
        if part.doing.act and before == _come_to(course):
            course.not_followed.append((headed.number, part.doing.words))
            note_where_fibre_is(course, part)


def _pieces(course: Course, parts: list[Part]) -> list[Part]:
    """The parts, each that is about several vessels or lots in a piece for each of them."""
    by_vessel = [piece for part in parts for piece in course.vessels.pieces(part)]
    return [piece for part in by_vessel for piece in course.told_lots.pieces(part)]


# "You will need: a big saucepan, 100 g wool, 10 g alum": nothing is done yet.
LISTED = re.compile(
    r"\W*(?:for\s+this\s+)?(?:(?:you(?:'ll|\s+will|\s+also|\s+may)*\s+(?:need|want))|what\s+you(?:'ll|\s+will)?\s+need"
    r"|needed|ingredients|materials|supplies)\b[^:.\n]{0,40}:\s*\S",
    re.I,
)


def _lay_by(course: Course, sentence: Sentence) -> None:
    """The fibre and the stuff of a list of what is needed, for the steps that use it."""
    for part in sentence.parts:
        for thing in part.things:
            course.notice_plant(thing)
        declare_fibre(course, part)
        _list(course, part, stuff_of(course, part))


def _is_for_all(course: Course, every: list[Amount]) -> bool:
    """True for the pound of "for every pound of silk" where no fibre of the recipe is weighed.

    What is said for ten or a hundred pounds is as often a lot as what the amounts are for,
    unless a heading says it, which weighs nothing else.
    """
    base = course.base
    if base is None or base.end == base.start or course.steps or course.weighed:
        return False
    others = [one for one in every if one.kind in ("mass", "volume") and one.start != base.start]
    return base.low == 1 or not others


def _headed(course: Course, sentence: Sentence) -> Sentence:
    """The sentence with the act of the heading above it, where it names none itself."""
    if course.heading is None or any(part.doing.act for part in sentence.parts):
        return sentence
    here = course.heading._replace(start=sentence.start, end=sentence.start)
    return sentence._replace(parts=tuple(p._replace(doing=here) for p in sentence.parts))


SPEAKER = re.compile(r"[A-Z][.:]?")  # "Q." and "A."
HOW_MUCH = re.compile(
    r"\bhow\s+(?:much|many|heavy)\b|\bwhat\s+(?:weight\b|about\b)|\band\s+the\s+\w+\s*\?", re.I
)


def _answered(course: Course, sentence: Sentence) -> Sentence:
    """The sentence with its amount as one of what the question before it asks for.

    "How much wool was that for?" "Two hundred grams.": no other thing is weighed.
    """
    asked, course.asked = course.asked, course.asked if SPEAKER.fullmatch(sentence.words) else None
    things = [t for part in sentence.parts for t in part.things]
    if sentence.words.rstrip("\"'").endswith("?"):
        measured = HOW_MUCH.search(sentence.words) and [
            t for t in things if t.kind in ("fibre", "material", "water")
        ]
        course.asked = measured[0] if measured else None
        return sentence
    bare = [a for p in sentence.parts for a in p.amounts if a.kind in ("mass", "volume", "share")]
    if asked is None or things or len(bare) != 1 or any(p.doing.act for p in sentence.parts):
        return sentence
    (amount,) = bare
    here = asked._replace(start=amount.start, end=amount.start)
    parts = tuple(
        p._replace(things=(*p.things, here)) if amount in p.amounts else p for p in sentence.parts
    )
    return sentence._replace(of=sentence.of | {amount.start: here}, parts=parts)


def _notice_focus(course: Course, sentence: Sentence) -> None:
    """What "it" will mean after a sentence that only speaks of stuff: the last thing named."""
    if any(part.doing.act for part in sentence.parts):
        return
    within = [(a.start, a.end) for p in sentence.parts for a in p.amounts if a.kind == "relative"]
    named = [
        thing
        for part in sentence.parts
        for thing in part.things
        if thing.kind in ("material", "part", "fibre")
        and not any(low <= thing.start < high for low, high in within)
    ]
    if named and named[-1].kind != "fibre":
        course.focus = "material"


def _turn_to_plants(course: Course, sentence: Sentence) -> None:
    """Turn from a mordanting that has had its time, where the prose goes on to a dyestuff."""
    bath = course.bath
    if bath is None or bath.kind != "mordant" or not course.has_worked(bath):
        return
    plants = [
        thing
        for part in sentence.parts
        for thing in part.things
        if thing.kind == "part" or (thing.kind == "material" and part_played(thing) == "dye")
    ]
    into = any(
        part.doing.act in ("put", "enter", "modify", "fill up")
        and (any(one in part.things for one in plants) or not plants)
        for part in sentence.parts
    )
    if plants and not into and not any(bath.holds(plain_name(one.name)) for one in plants):
        course.begin()
        bath.fibre, bath.had_fibre = False, True
        course.bath = None


def _come_to(course: Course) -> tuple[int, ...]:
    """How far the draft has come: what changes where a part is followed."""
    held = sum(len(bath.stuff) for bath in course.baths) + len(course.stock.items)
    return len(course.steps), len(course.used), held, len(course.not_followed)


# What is asked, wished or done by others is told of and not drafted as done.
NOT_DONE = re.compile(
    r"\W*(?:(?:but|and|or|so|well|now|oh|right|ok|okay|also|yes|no)\b,?\s+)*(?:if\b(?!\s+(?:necessary|needed))|should\s+(?:you|it|the)\b"
    r"|some\s+(?:people|dyers|folks?|say|use|add|of\s+us)\b|others\b"
    r"|(?:you|one)\s+(?:can|could|may|might)\b|proceed\s+as\b|otherwise\b|alternatively\b"
    r"|the\s+(?:colour|color|shade)\s+(?:can|may|might|could)\b"
    r"|(?:i|we|you)(?:'ve|\s+have)?\s+never\b"
    r"|not\s+(?:for|at|in|with|to|more|over|as)\b|left-?over\b|the\s+left-?over\b"
    r"|(?:i|we|they|she|he)\s+(?:was|were|am|are)\s+going\s+to\b(?!.*\bbut\b)|(?:see\s+you|write\s+to\s+me)\b"
    r"|(?:(?:but|and|my|the|her|his|their|another|that|this|your|some|old)\s+)+"
    r"(?:books?|blogs?|leaflets?|labels?|packets?|web\s?sites?|videos?|forums?)\s+"
    r"(?:says?|said|tells?|told|suggests?|gives?|gave|calls?|wants?|has|have|recommends?)\b"
    r"|(?:hottest|coldest|warmest)\b|next\s+time\b|(?:i|we)\s+(?:once|usually|would|might|could)\b"
    r"|my\s+teacher\b|(?:my|your|her|his|our)\s+(?:\w+\s+)?(?:mother|aunt|friend|neighbour|sister|brother|gran|granny"
    r"|grandmother|cousin|husband|wife|uncle)\b)",
    re.I,
)


# "Can be dyed with privet": talk of what is possible, before anything is done.
CAN_BE = re.compile(r"\b(?:can|could|may|might)\s+(?:also\s+)?be\s+(?:\w+ly\s+)?$", re.I)


def _is_mere_talk(course: Course, part: Part) -> bool:
    """True for what is said to be possible before the first step, with nothing measured for it."""
    if course.steps or not CAN_BE.search(course.text[: part.doing.start][-40:]):
        return False
    return all(_weighs_fibre(course, a) or a.kind in ("figure", "loose") for a in part.amounts)


# "In the last minutes one can give 5 g of copper": what may be done or left.
MAY = re.compile(
    r"\b(?:(?:you|one|we|i|they)\s+(?:can|could|may|might)\s+(?:also\s+|always\s+|\w+ly\s+)?"
    r"|(?:was|were)\s+(?:going|meant|supposed|about)\s+to\s+|(?:meant|intended|hoped|planned|wanted)\s+to\s+)$",
    re.I,
)
# "Write to me in a month": what is asked of a reader, and nothing that is done to fibre.
TO_ME = re.compile(
    r"\b(?:write|wrote|tell|told|ask|asked|phone|ring|call|email|see|meet|visit|remind)\s+(?:to\s+)?(?:me|us|you|him|her|them|again)\b",
    re.I,
)
FOR_ANOTHER = re.compile(
    r"\W*(?:for|to\s+(?:get|make))\s+(?:an?\s+)?(?:deeper|darker|paler|lighter|stronger|richer|redder|browner"
    r"|greyer|brighter|yellower)\b",
    re.I,
)


# "The orange comes in the last 20 minutes": what is seen, and nothing that is done.
# "Lot B stays as it is", "jar A was left as it was".
AS_IT_IS = re.compile(r"\bas\s+(?:it|they)\s+(?:is|are|was|were)\b", re.I)
COLOUR_COMES = re.compile(
    r"\bthe\s+(?:colou?r|shade|orange|red|yellow|blue|green|brown|grey|purple|pink)\s+"
    r"(?:comes|appears|develops|shows|deepens|arrives)\b",
    re.I,
)


def _is_left_open(course: Course, part: Part) -> bool:
    """True for what may be done, and for another time that a bath may have."""
    sentence = course.sentence
    if sentence is None:
        return False
    if COLOUR_COMES.search(part.words) or (AS_IT_IS.search(part.words) and not part.amounts):
        return True
    if MAY.search(course.text[max(sentence.start, part.doing.start - 40) : part.doing.start]):
        return True
    asks = TO_ME.search(part.words)
    if asks and all(one.start > part.start + asks.start() for one in part.amounts):
        return True
    every = [amount for one in sentence.parts for amount in one.amounts]
    timed = every and all(one.kind in ("time", "number", "loose") for one in every)
    return bool(timed and FOR_ANOTHER.match(sentence.words))


BUT = re.compile(r"\bbut\b", re.I)


def _behind_but(course: Course, part: Part) -> Part | None:
    """The part behind "but" of what was only meant: "I was going to stop, but gave it an hour"."""
    found = BUT.search(part.words)
    if found is None:
        return None
    at = part.start + found.end()
    amounts = tuple(one for one in part.amounts if one.start >= at)
    things = tuple(one for one in part.things if one.start >= at)
    return part._replace(amounts=amounts, things=things) if amounts else None


def _what_is_done(course: Course, part: Part) -> Part | None:
    """The part, or what of it is done; None where it is talk, or left open."""
    if _is_mere_talk(course, part):
        return None
    return _behind_but(course, part) if _is_left_open(course, part) else part


def _weighs_fibre(course: Course, amount: Amount) -> bool:
    of = course.of(amount)
    return amount.kind == "mass" and of is not None and of.kind == "fibre"


# "Want it redder? Add a teaspoon of soda.": a condition in two sentences.
WANTED = re.compile(r"\W*(?:want|prefer|too|not|need|fancy|would\s+you\s+like)\b.*\?\W*", re.I)


def _is_done(course: Course, sentence: Sentence) -> bool:
    """False for a question, a condition, an aside on what others do."""
    before = course.told[-2] if len(course.told) > 1 else None
    if before is not None and WANTED.fullmatch(before.words):
        return False
    return not (NOT_DONE.match(sentence.words) or sentence.words.rstrip(")\"' ").endswith("?"))


# Acts before which a bath may be kept for a time: "after 24 hours add the lime".
WAITED_FOR = frozenset(("put", "dissolve", "strain", "fill up", "boil", "simmer", "heat"))


def _wait_before(course: Course, part: Part) -> None:
    """The time that goes by before something is added, as a step before it."""
    bath = course.bath
    if bath is None or not bath.begun or part.doing.act not in WAITED_FOR:
        return
    if course.last_on != "bath":
        return
    for amount in course.free(part, "time"):
        if amount.start < part.doing.start and time_clause(course.text, amount) == "first":
            course.on_bath("hold" if bath.fibre else "stand", {"for": amount})


CAUTION = re.compile(
    r"[\W]*(?:take\s+care|careful|be\s+careful|caution|warning|care|note|nb|n\.b|always|never"
    r"|remember|mind|wear|do\s+not|don't)\b",
    re.I,
)


def _behind_caution(course: Course, part: Part) -> Part | None:
    """The part without what stands in brackets as a caution; None where nothing else is left.

    "(always add the acid to the water)" is nothing that is done; what comes after it goes on
    with the verb before it.
    """
    opened = course.text.rfind(
        "(", max(0, part.doing.start - limits.LETTERS_OF_A_CAUTION), part.doing.start
    )
    closed = course.text.find(")", opened, part.end)
    if opened < 0 or 0 <= closed < part.doing.start or not CAUTION.match(course.text, opened):
        return part
    sentence = course.sentence
    before = [p.doing for p in sentence.parts if p.doing.start < opened] if sentence else []
    amounts = tuple(a for a in part.amounts if a.start > closed > 0)
    if not before or not amounts:
        return None
    things = tuple(t for t in part.things if t.start > closed)
    doing = before[-1]._replace(start=closed, end=closed)
    return part._replace(doing=doing, things=things, amounts=amounts, start=closed)


def _follow_part(course: Course, part: Part) -> None:
    if course.sentence is not None and SHOPPING.match(course.sentence.words):
        return
    if course.sentence is not None and not _is_done(course, course.sentence):
        for thing in part.things:
            if thing.kind == "fibre":
                lot_for(course, thing)
        return
    behind = _behind_caution(course, part)
    if behind is None:
        return
    part = behind
    declare_fibre(course, part)
    turn_to_lot(course, part)
    done = _what_is_done(course, part)
    if done is None:
        return
    part = without_what_is_for_each(course, done)
    turn_to_vessel(course, part)
    if not part.doing.act:
        turn_to_what_holds(course, part)
    if part.doing.act in TURNS and not any(course.of(a) is not None for a in part.amounts):
        turn_to(course, part)
    if part.doing.act in INTO_BATHS and not any(a.kind == "mass" for a in part.amounts):
        turn_to_called(course, part)
    if part.doing.act == "hold" and any("dip" in a.words for a in course.free(part, "times")):
        part = part._replace(doing=part.doing._replace(act="dip"))
    act = ACTS.get(part.doing.act)
    course.part = part
    _wait_before(course, part)
    if act is None:
        _without_verb(course, part)
    else:
        act(course, part)
    _acidity(course, part)
    course.part = None


def _acidity(course: Course, part: Part) -> None:
    """A pH is a sign on the last step of the bath, or on a step of its own."""
    for amount in course.free(part, "acidity"):
        if course.bath is None or not course.bath.begun:
            continue
        last = course.steps[-1]
        if (
            (
                last.sentence == course.number
                and last.bath is course.bath
                and last.on == "bath"
                and "until" in allowed(last.verb)
            )
            and not last.sign
            and "until" not in last.clauses
        ):
            last.clauses["until"] = amount
            course.used.add(amount.start)
            continue
        course.on_bath("stand", {"until": amount})


def _without_verb(course: Course, part: Part) -> None:
    """What a list without a verb stands for."""
    if course.sentence is not None and course.sentence.left_out:
        return  # its verb is denied
    counted = _verb_of_count(course, part)
    if counted:
        ACTS[counted](course, part)
        return
    if acts_of_stuff.LAST_RINSE.search(part.words):
        acts_of_stuff.into_last_rinse(course, part)
        return
    stuff = stuff_of(course, part)
    timed = any(one.clauses for one in phases_of(course, part))
    bath = course.bath
    if _had_mordant(course, part, stuff):
        mordant(course, part)
        if BEEN.search(part.words):
            _leave_what_was_done(course, bath)
        return
    if stuff and not timed and _goes_on_list(course, stuff):
        supply(course, part, stuff)
        return
    goes_on = _open(course) or _is_addition(course, stuff) or _is_by_the_last(course, part)
    if timed and not goes_on and _draws_what_is_listed(course, stuff):
        acts_of_heat.keep(course, part)
        return
    _listed_or_brought(course, part, stuff, timed, goes_on)


def _listed_or_brought(
    course: Course, part: Part, stuff: list[Measured], timed: bool, goes_on: bool
) -> None:
    """Lay stuff by or bring it to the bath at hand, and keep that for the times that are said."""
    if stuff and (course.bath is None or not goes_on):
        _list(course, part, stuff)
        if not timed:
            return
        course.draw("")
        if course.bath is not None and not course.names_fibre(part):
            acts_of_heat.keep(course, part)
            return
    elif any(one.amounts for one in stuff) or (stuff and timed):
        supply(course, part, stuff)
    if (timed and course.bath is not None) or (timed and course.stock):
        acts_of_heat.hold(course, part)


def _draws_what_is_listed(course: Course, stuff: list[Measured]) -> bool:
    """True for "Extract: weld, 5 L water, 80 °C, 1 h", where the weld was weighed above.

    It has then gone into a bath of its own, with what is measured here.
    """
    listed = {one.thing.name for one in course.stock.items if one.thing.kind == "material"}
    drawn = [one for one in stuff if not one.amounts and one.thing.name in listed]
    if not drawn or not any(one.amounts for one in stuff):
        return False
    bath = course.new_bath(role_of(stuff))
    for one in stuff:
        item = one if one.amounts else course.stock.named(one.thing.name)
        if item is not None:
            bath.stuff.append(Brought(course.material(one.thing), item.amounts))
            course.used.update(a.start for a in item.amounts)
    return True


def _verb_of_count(course: Course, part: Part) -> str:
    """The verb of "three rinses", "two dips"; empty where nothing of the kind is said."""
    for amount in course.free(part, "times"):
        said = amount.words.lower()
        for stem, verb in (("rins", "rinse"), ("dip", "dip"), ("wash", "wash")):
            if stem in said:
                return verb
    return ""


def _goes_on_list(course: Course, stuff: list[Measured]) -> bool:
    """True for what goes into the bath at hand, or into that of a vessel just named."""
    return is_of_new_vessel(course, stuff) or _is_next_of_list(course, stuff)


def _is_next_of_list(course: Course, stuff: list[Measured]) -> bool:
    """True for "Stir in the sugar, then the indigo; last the lime", all of them listed above."""
    last = course.steps[-1] if course.steps else None
    adds = last is not None and last.on == "add" and course.number - last.sentence <= 1
    into = course.sentence is not None and INTO_WATER.search(course.sentence.words)
    if not adds and not into:
        return False
    listed = {one.thing.name for one in course.stock.items}
    solids = [one for one in stuff if one.thing.kind != "water"]
    return bool(solids) and all(
        not one.amounts and one.thing.name in listed for one in (solids if into else stuff)
    )


# "Fructose into hot water, then lime."
INTO_WATER = re.compile(
    r"\b(?:in(?:to)?|to)\s+(?:the\s+)?(?:\w+\s+)?(?:water|vat|bucket|pot|pan|jar|tub)\b", re.I
)


def _list(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Lay by what is listed, for the steps that use it."""
    for item in stuff:
        if item.amounts and not course.listed_already(item):
            course.stock.put(item)
            course.used.update(a.start for a in item.amounts)
            if item.thing.kind == "material" and not course.names_fibre(part):
                course.focus = "material"


HAD = re.compile(
    r"\b(?:had|has|have|alumed|mordanted)\b|\b(?:they|it)'(?:ve|d|s)\s+(?:already\s+)?(?:been|had)\b",
    re.I,
)
BEEN = re.compile(r"(?:\b(?:had|has|have)|'(?:ve|d|s))\s+(?:already\s+)?been\b", re.I)
WITH = re.compile(r"\bwith\b|\(", re.I)
THEY = re.compile(r"\W*(?:\d+[.:]?\d*\s+)?(?:they|it)\b", re.I)


def _had_mordant(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """True for fibre that has its mordant: "wool with 10 % alum on it"."""
    measured = any(one.amounts for one in stuff)
    roles = {part_played(one.thing) for one in stuff}
    fibre = course.names_fibre(part) or (course.focus == "fibre" and THEY.match(part.words))
    named = fibre and "mordant" in roles and not roles & {"dye", "water"}
    said = HAD.search(part.words) or (course.steps and WITH.search(part.words))
    return bool(named and measured and said)


def _leave_what_was_done(course: Course, before: Bath | None) -> None:
    """Turn from a mordanting that is over: "it had been in the alum four days".

    A dye's bath that waited ``before`` is gone on with.
    """
    bath = course.bath
    if bath is None or bath.kind != "mordant" or not bath.fibre:
        return
    course.on_lot("lift")
    fibre_out(course)
    waits = before is not None and before.kind == "dye" and not before.had_fibre
    course.bath = before if waits else None
    course.last_on = "bath" if waits else "lot"


def _is_addition(course: Course, stuff: list[Measured]) -> bool:
    """True for what can only go into the dye bath at hand: soda, thiox, chalk."""
    bath = course.bath
    if bath is None or bath.kind != "dye" or not bath.begun or bath.had_fibre:
        return False
    return {part_played(one.thing) for one in stuff} == {"assistant"}


def _is_by_the_last(course: Course, part: Part) -> bool:
    """True for "sumach, half as much", which goes where what is measured before it has gone."""
    bath = course.bath
    if bath is None or not bath.begun or bath.had_fibre or bath.fibre:
        return False
    return any(AS_OTHER.fullmatch(one.words) for one in part.amounts if one.kind == "relative")


def _open(course: Course) -> bool:
    """True while a list can go on with what the bath at hand holds."""
    bath = course.bath
    if bath is None:
        return False
    if not bath.begun or (not bath.kind and not course.has_worked(bath)):
        return True
    last = course.steps[-1] if course.steps else None
    if last is None:
        return False
    going_on = (last.bath is bath and last.on in ("add", "prepare")) or last.verb == "heat"
    listed = going_on and last.sentence >= course.number - 1 and not course.has_worked(bath)
    return bath.fibre or last.sentence == course.number or listed


PREPARES = frozenset(("boil", "simmer", "soak", "heat", "dissolve", "mordant"))
ASIDE = frozenset(("dye", "mordant", "enter", "dip", "soak", "put"))


def _asides_first(sentence: Sentence) -> list[Part]:
    """The parts with what stands in brackets before the verb that it explains.

    "Dye in weld (60 g, boiled half an hour) for an hour": the weld is boiled first, and the
    hour is that of the dyeing.
    """
    parts = _list_about_an_aside(sentence)
    base = sentence.start
    for index in range(1, len(parts)):
        outer, text = parts[index - 1], sentence.text
        opened = text.rfind("(", outer.doing.end - base, parts[index].doing.start - base)
        closed = text.find(")", parts[index].doing.start - base)
        between = text[opened : parts[index].doing.start - base]
        if outer.doing.act not in ASIDE or parts[index].doing.act not in PREPARES:
            continue
        if opened < 0 or closed < 0 or ")" in between:
            continue
        inside = [p for p in parts[index:] if p.doing.start - base < closed]
        return _turned(parts, index, len(inside), base + opened, base + closed)
    return parts


DONE_BEFORE = frozenset(("scour", "mordant", "wash", "soak"))


def _list_about_an_aside(sentence: Sentence) -> list[Part]:
    """The parts with a list apart from what its brackets say was done before.

    "You get 20 g of wool (scoured, mordanted with 10 % alum), half a cabbage, vinegar".
    """
    parts, text, base = list(sentence.parts), sentence.text, sentence.start
    first = parts[0].doing
    opened = text.rfind("(", 0, max(first.start - base, 0))
    closed = text.find(")", first.end - base)
    if (
        first.act not in DONE_BEFORE
        or opened < 0
        or closed < 0
        or ")" in text[opened : first.start - base]
    ):
        return parts
    inner = [one for one in parts if one.doing.start - base < closed]
    last = inner[-1]
    at = base + closed
    if any(not one.doing.words.endswith("ed") for one in inner) or not any(
        a.start > at for a in last.amounts
    ):
        return parts
    things = tuple(t for t in last.things if t.start > at)
    outer = last._replace(
        doing=Doing("", "", at, at),
        things=things,
        amounts=tuple(a for a in last.amounts if a.start > at),
        start=at,
        words=text[closed : last.end - base],
    )
    inner[-1] = last._replace(
        things=tuple(t for t in last.things if t.start < at),
        amounts=tuple(a for a in last.amounts if a.start < at),
        end=at,
        words=text[last.start - base : closed],
    )
    return [*inner, outer, *parts[len(inner) :]]


def _turned(parts: list[Part], index: int, count: int, opened: int, closed: int) -> list[Part]:
    outer, inner = parts[index - 1], parts[index : index + count]
    every = [outer, *inner]
    things = [t for p in every for t in p.things]
    amounts = [a for p in every for a in p.amounts]
    outside = outer._replace(
        things=tuple(t for t in things if not opened < t.start < closed),
        amounts=tuple(a for a in amounts if not opened < a.start < closed),
    )
    first = inner[0]._replace(
        things=tuple(t for t in things if opened < t.start < inner[0].end and t.start < closed),
        amounts=tuple(a for a in amounts if opened < a.start < inner[0].end and a.start < closed),
    )
    done = inner[0].doing.act == "mordant"  # "wool (mordanted with 10 % alum)"
    named = [
        t for t in outer.things if t.kind == ("fibre" if done else "material") and t.end <= opened
    ]
    first = first._replace(things=(*named[-1:], *first.things))
    rest = [
        p._replace(
            things=tuple(t for t in p.things if t.start < closed),
            amounts=tuple(a for a in p.amounts if a.start < closed),
        )
        for p in inner[1:]
    ]
    return [*parts[: index - 1], first, *rest, outside, *parts[index + count :]]


def _mordanted_first(entry: Part, mordant: Part) -> bool:
    """True for "add premordanted wool (alum 12 %)": what was done before, and what is done."""
    into = entry.doing.act in ("put", "enter") and not entry.things and not entry.amounts
    done = mordant.doing.act == "mordant" and mordant.doing.words.endswith("mordanted")
    return into and done and any(t.kind == "fibre" for t in mordant.things)


# "..., and when it has simmered": what comes next in its own time.
OWN_CLAUSE = re.compile(r"(?:[,;]|\band|\bthen)\s*$", re.I)


def _in_order(sentence: Sentence) -> list[Part]:
    """The parts in the order of what happens: what has been done before comes first."""
    parts = _asides_first(sentence)
    swapped = False
    for index in range(1, len(parts)):
        if swapped:
            swapped = False
            continue
        before = parts[index - 1].words.lower()
        if _mordanted_first(parts[index - 1], parts[index]):
            fibre = tuple(t for t in parts[index].things if t.kind == "fibre")
            entry = parts[index - 1]._replace(things=fibre)
            parts[index - 1], parts[index] = parts[index], entry
            swapped = True
            continue
        when = re.search(r"\b(?:when|once|as soon as)\b[^,;.]*$", before)
        led = when is not None and not before[: when.start()].strip(" \n-*")
        if (when and not led and not OWN_CLAUSE.search(before[: when.start()])) or re.search(
            r"\b(?:has been|have been|had been|previously|having been|already)\s+(?:\w+ly\s+)?$",
            before,
        ):
            parts[index - 1], parts[index] = parts[index], parts[index - 1]
            swapped = True
    return parts


__all__ = ["ACTS", "bare_heat", "follow"]
