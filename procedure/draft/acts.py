"""What is done, sentence by sentence: each act of the prose by a function of its name."""

from __future__ import annotations

import re
from collections.abc import Callable

from procedure.draft import acts_of_fibre, acts_of_heat, acts_of_stuff, limits
from procedure.draft.amount import Amount
from procedure.draft.answered_questions import SPEAKER, answered
from procedure.draft.called_baths import without_name_of_bath
from procedure.draft.coded_lots import bind_codes, keep_weights_of_codes
from procedure.draft.counted_lots import count_lots, tell_of_bath
from procedure.draft.course import Course, plain_name
from procedure.draft.deeds_that_are_none import has_nothing, without_what_is_none
from procedure.draft.dipping_rounds import (
    again,
    air_between,
    each_lasts,
    repeated_round,
    without_airing_between,
)
from procedure.draft.doings import Doing
from procedure.draft.done_or_said import (
    behind_caution,
    is_done,
    tells_what_is_to_come,
    weighs_fibre,
    what_is_done,
)
from procedure.draft.drawn_again import back_to, with_plants_drawn_again
from procedure.draft.drawn_off import with_what_goes_back
from procedure.draft.fibres import declare_fibre, lot_for
from procedure.draft.headings import announces
from procedure.draft.heats_and_times import bare_heat, time_clause
from procedure.draft.in_each_case import do_to_each_bath
from procedure.draft.in_vessels import (
    turn_to_vessel,
    turn_to_what_holds,
    without_what_is_for_each,
)
from procedure.draft.into_pans import with_its_verb
from procedure.draft.listed_lots import are_known, call_listed_lots
from procedure.draft.lots_in_turn import note_lots_in_turn
from procedure.draft.mordanting import mordant, was_done_too, without_what_was_before
from procedure.draft.moved_across import into_called_bath
from procedure.draft.named_lots import turn_to_lot, weigh_further_lot
from procedure.draft.order_of_deeds import in_order
from procedure.draft.other_ways import without_other_ways
from procedure.draft.own_baths import (
    ACT as OWN_BATH,
)
from procedure.draft.own_baths import (
    goes_through_it,
    own_bath,
    turn_from_what_is_apart,
    with_own_bath_whole,
)
from procedure.draft.parted_lots import (
    goes_on,
    is_kept_as_it_is,
    note_division,
    others_stay_in,
    pieces_by_lot,
    rows_joined,
    take_back,
    turn_to_those_meant,
)
from procedure.draft.sentences import Part, Sentence
from procedure.draft.shares import whole
from procedure.draft.soaking import soak
from procedure.draft.spoken_of import with_what_is_spoken_of
from procedure.draft.stock import is_suds, part_played
from procedure.draft.supplies import (
    as_listed,
    base_of_ratio,
    stuff_of,
    turn_to,
    turn_to_called,
)
from procedure.draft.things import Thing
from procedure.draft.thrown_away import goes_to_waste
from procedure.draft.times_to_get_there import with_times_to_get_there
from procedure.draft.treating import treat
from procedure.draft.turning import turn
from procedure.draft.unsettled_steps import Bath, allowed
from procedure.draft.vat_ready import come_to_a_vat
from procedure.draft.where_fibre_is import note_where_fibre_is
from procedure.draft.which_lot import (
    ask_which,
    asks_which,
    goes_into_unknown,
    goes_on_unknown,
    names_other_fibre,
)
from procedure.draft.without_a_verb import lay_by, without_verb

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
    "again": again,
    "treat": treat,
    OWN_BATH: own_bath,
}


def follow(course: Course, sentence: Sentence) -> None:
    """Follow one sentence."""
    course.number = sentence.number
    sentence = with_what_is_spoken_of(course, answered(course, sentence))
    sentence, offered = without_other_ways(course.text, sentence)
    sentence, none = without_what_is_none(sentence, course.none_done.get(sentence.number, []))
    course.not_followed += [(sentence.number, words) for words in (*offered, *none)]
    course.of_no_bath.update((sentence.number, words) for words in none)
    course.sentence = sentence
    course.told.append(sentence)
    if not _is_of_what_is_done(course, sentence):
        return
    _take_base(course, [amount for part in sentence.parts for amount in part.amounts])
    if LISTED.match(sentence.words) or _tells_what_comes_of_it(course, sentence):
        keep_weights_of_codes(course, sentence)
        _lay_by_list(course, sentence)
        bind_codes(course, sentence)
        return
    _notice_plants(course, sentence)
    _turn_to_plants(course, sentence)
    if announces(course, sentence) or _is_overview(course, sentence):
        return
    if not goes_to_waste(course, sentence):
        _do(course, sentence)


def _is_of_what_is_done(course: Course, sentence: Sentence) -> bool:
    """False where a sentence holds no deed; the fibre that its aim is about is declared."""
    if sentence.number in course.none_done and has_nothing(sentence):
        return False
    if sentence.number in course.aims:
        for part in sentence.parts:
            declare_fibre(course, part)
        return False
    if SPEAKER.fullmatch(sentence.words) or course.is_quoted(sentence):
        _notice_plants(course, sentence)
        return False
    return True


def _take_base(course: Course, every: list[Amount]) -> None:
    """Note what the amounts of a sentence are for: so much to the pound."""
    course.base = base_of_ratio(course, every)
    if course.base is None and not any(weighs_fibre(course, amount) for amount in every):
        course.base = course.base_of_all
    said = course.sentence.words if course.sentence is not None else ""
    if course.base is not None and _is_one_lot(course, every):
        course.base = None
    elif FOR_ALL.search(said) or _is_for_all(course, every):
        course.base_of_all = course.base
    if course.base is not None and course.base.end > course.base.start:
        course.bases[course.number] = course.base


def _do(course: Course, sentence: Sentence) -> None:
    """Follow the deeds of a sentence, those that it draws plants again with first."""
    sentence = with_what_goes_back(course, sentence)
    if not sentence.parts:
        return
    sentence, first = with_plants_drawn_again(course, with_own_bath_whole(course, sentence))
    if not sentence.parts:
        return
    come_to_a_vat(course, sentence)
    _goes_on_with_deed(course, sentence)
    keep_weights_of_codes(course, sentence)
    headed, course.heading = _headed(course, sentence), None
    begun = len(course.steps)
    _follow_parts(course, headed)
    do_to_each_bath(course, sentence, begun)
    back_to(course, first)
    note_division(course)
    bind_codes(course, sentence)
    _notice_focus(course, sentence)


def _is_overview(course: Course, sentence: Sentence) -> bool:
    """True where only what is to come is told; the one fibre that it names is declared."""
    if not tells_what_is_to_come(course, sentence):
        return False
    fibres = {one.name for part in sentence.parts for one in part.things if one.kind == "fibre"}
    for part in sentence.parts:
        if len(fibres) == 1:
            declare_fibre(course, part)
    return True


def _notice_plants(course: Course, sentence: Sentence) -> None:
    for part in sentence.parts:
        for thing in part.things:
            course.notice_plant(as_listed(course, thing))


def _follow_parts(course: Course, headed: Sentence) -> None:
    """Follow what a sentence says, deed by deed; what changes nothing is told as not followed."""
    said = course.base
    count_lots(course, headed)
    note_lots_in_turn(course, headed)
    pieces = _pieces(course, in_order(headed))
    for part, course.next_part in zip(pieces, [*pieces[1:], None], strict=True):
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
    rows = with_times_to_get_there(course.text, rows_joined(course, parts))
    by_vessel = [piece for part in rows for piece in course.vessels.pieces(part)]
    made: list[Part] = []
    for part in by_vessel:
        pieces = pieces_by_lot(course, part)
        made += pieces if len(pieces) > 1 else course.told_lots.pieces(part)
    return made


# "You will need: a big saucepan, 100 g wool, 10 g alum": nothing is done yet.
LISTED = re.compile(
    r"\W*(?:for\s+this\s+)?(?:(?:you(?:'ll|\s+will|\s+also|\s+may)*\s+(?:need|want))|what\s+you(?:'ll|\s+will)?\s+need"
    r"|needed|ingredients|materials|supplies)\b[^:.\n]{0,40}:\s*\S",
    re.I,
)


# "1 kg of roots gives a strong gold on 300 g of wool": nothing is done yet.
GIVES = re.compile(
    r"\b(?:gives?|yields?|will\s+give|makes?|will\s+make|(?:is|are)\s+enough)\s+(?:you\s+)?(?:an?\b|for\b|the\b|about\b|some\b)",
    re.I,
)


def _tells_what_comes_of_it(course: Course, sentence: Sentence) -> bool:
    """True where a sentence before the first step tells what so much of a plant gives."""
    deeds = [part.doing for part in sentence.parts if part.doing.act]
    if course.steps or any(not one.words.startswith(("giv", "mak", "yield")) for one in deeds):
        return False
    if any(one.kind == "time" for part in sentence.parts for one in part.amounts):
        return False
    things = {thing.kind for part in sentence.parts for thing in part.things}
    return {"fibre", "material"} <= things and GIVES.search(sentence.words) is not None


def _lay_by_list(course: Course, sentence: Sentence) -> None:
    """The fibre and the stuff of a list of what is needed, for the steps that use it."""
    for part in sentence.parts:
        for thing in part.things:
            course.notice_plant(thing)
        declare_fibre(course, part)
        call_listed_lots(course, part)
        lay_by(course, part, stuff_of(course, part))


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


# "Per 4 oz skein you will need", "for each 100 g hank": one piece, which is what is worked on.
ONE_PIECE = re.compile(
    r"[\s-]+(?:[a-z]+\s+){0,2}?(?:skein|hank|ball|scarf|shawl|square|napkin|shirt)\b", re.I
)
PIECES = re.compile(r"\b(?:skeins|hanks|balls|scarves|shawls|squares|napkins|shirts)\b", re.I)


def _is_one_lot(course: Course, every: list[Amount]) -> bool:
    """Take the fibre that all amounts are for as the lot, where it is one piece or a heading's.

    So is "To every ten pounds of goods.", alone above a recipe that weighs no other fibre: of its
    gallons, which may be of two sizes, nobody could say how many go with a pound.
    """
    base = course.base
    if base is None or base.end == base.start or course.steps or course.weighed:
        return False
    others = [one for one in every if one.kind in ("mass", "volume") and one.start != base.start]
    piece = ONE_PIECE.match(course.text, base.end) and not PIECES.search(course.text)
    if not piece and (others or base.low == 1 or base.unit != "lb"):
        return False
    thing = course.of(base) or Thing("fibre", "=yarn", "skein", base.start, base.end)
    lot = lot_for(course, thing)
    if lot.weight is not None or lot.count > 1:
        return False
    lot.weight = base
    course.used.add(base.start)
    return True


CLEANS = frozenset(("scour", "wash"))
KEEPS_HOT = frozenset(("boil", "simmer", "heat", "hold"))


def _goes_on_with_deed(course: Course, sentence: Sentence) -> None:
    """What the last sentence did is done with the amounts of this one, which names no deed.

    "Scour both. 10 litres of water, 10 g of soap, 50 °C, half an hour."
    """
    last = course.steps[-1] if course.steps else None
    if last is None or last.verb not in CLEANS or last.sentence != sentence.number - 1:
        return
    deeds = [part for part in sentence.parts if part.doing.act]
    if last.clauses or last.brought or any(part.doing.act not in KEEPS_HOT for part in deeds):
        return
    fibre = any(one.kind == "fibre" for part in deeds for one in part.things)
    if deeds and (deeds[0] is sentence.parts[0] or fibre):
        return
    stuff = [one for part in sentence.parts for one in stuff_of(course, part) if one.amounts]
    every = [one for part in sentence.parts for one in part.amounts]
    cleans = bool(stuff) and all(
        one.thing.kind == "water" or is_suds([one.thing.name]) or "soda" in one.thing.name
        for one in stuff
    )
    if cleans and any(one.kind in ("time", "temperature", "verb heat") for one in every):
        course.steps.pop()
        course.heading = Doing(last.verb, last.verb, sentence.start, sentence.start)


def _headed(course: Course, sentence: Sentence) -> Sentence:
    """The sentence with the act of the heading above it, where it names none itself.

    Of what is cleaned so, the heat may be a deed of its own: "soda 20 g, boil two hours".
    """
    if course.heading is None:
        return sentence
    acts = {part.doing.act for part in sentence.parts if part.doing.act}
    if acts - (KEEPS_HOT if course.heading.act in CLEANS else frozenset()):
        return sentence
    here = course.heading._replace(start=sentence.start, end=sentence.start)
    return sentence._replace(
        parts=tuple(p if p.doing.act else p._replace(doing=here) for p in sentence.parts)
    )


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
        and not part.doing.words.startswith(("tie", "tying"))  # in a bag, and in no bath yet
        and (any(one in part.things for one in plants) or not plants)
        for part in sentence.parts
    )
    if plants and not into and not any(bath.holds(plain_name(one.name)) for one in plants):
        course.begin()
        bath.fibre, bath.had_fibre = False, True
        course.bath = None


def _come_to(course: Course) -> tuple[int, ...]:
    """How far the draft has come: what changes where a part is followed."""
    held = sum(len(bath.stuff) for bath in course.baths)
    listed = len(course.stock.items)
    return len(course.steps), len(course.used), held, listed, len(course.not_followed)


# Acts before which a bath may be kept for a time: "after 24 hours add the lime".
WAITED_FOR = frozenset(("put", "dissolve", "strain", "fill up", "boil", "simmer", "heat"))


# "When cold, lift the wool out": the bath cools first.
WHEN_COLD = re.compile(
    r"\b(?:when|once|as\s+soon\s+as)\s+(?:(?:it|everything|the\s+[\w-]+)(?:'s|\s+is)\s+)?(?:quite\s+|completely\s+|stone\s+)?\Z",
    re.I,
)
COOLED_FIRST = frozenset(("lift", "strain", "rinse", "squeeze", "wash"))


def _cool_before(course: Course, part: Part) -> None:
    """The cooling of "when cold, strain", as a step before what is done then."""
    bath = course.bath
    if bath is None or not bath.begun or part.doing.act not in COOLED_FIRST:
        return
    if course.last_on != "bath":
        return
    for amount in course.free(part, "named heat"):
        low = max(part.start, amount.start - limits.LETTERS_TO_WHAT_IS_SAID)
        if amount.unit == "cold" and WHEN_COLD.search(course.text, low, amount.start):
            course.on_bath("cool", {"to": amount})
            return


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


# "While the wool is soaking, simmer the weld": what goes on beside it is in no bath of this one.
BESIDE_IT = re.compile(
    r"\b(?:while|whilst|as)\s+(?:the|your|my)\s+[^,;.]{3,40}?(?:\s(?:is|are)\s+(?:still\s+)?\w+ing|(?:s|ing))\b[^,;.]{0,30},",
    re.I,
)


def _without_what_is_beside(part: Part) -> Part:
    found = BESIDE_IT.match(part.words.lstrip())
    at = part.start + (found.end() + len(part.words) - len(part.words.lstrip()) if found else 0)
    if found is None or part.doing.start < at:
        return part
    return part._replace(things=tuple(one for one in part.things if one.start >= at))


# "Dried it, because the weld was not ready": why it is done, and nothing more that is done.
BECAUSE = re.compile(
    r",?\s+\bbecause\b|,\s+since\s+(?:(?:the|your|my|our)\s+)?(?:wool|silk|cotton|linen|yarn|cloth|fib(?:re|er))\s+"
    r"(?:does|doesn't|do|don't|can|can't|will|won't|is|isn't|hates|likes|dislikes|felts|suffers)\b",
    re.I,
)


def _without_why(part: Part) -> Part:
    found = BECAUSE.search(part.words)
    if found is None:
        return part
    at = part.start + found.start()
    return part._replace(
        things=tuple(one for one in part.things if one.start < at),
        amounts=tuple(one for one in part.amounts if one.start < at),
    )


# "Not dyed in the cochineal at all, it goes into the vat": what is denied goes in nowhere.
CLAUSE_ENDS = re.compile(r"[,;]")


def _without_what_is_denied(course: Course, part: Part) -> Part:
    sentence = course.sentence
    if sentence is None or not part.doing.act:
        return part
    for denied in sentence.left_out:
        ends = CLAUSE_ENDS.search(course.text, denied.end, part.doing.start)
        if denied.start < part.start or ends is None:
            continue
        part = part._replace(
            things=tuple(
                one
                for one in part.things
                if one.kind == "fibre" or not denied.start <= one.start < ends.start()
            )
        )
    return part


def _follow_part(course: Course, part: Part) -> None:
    part = _without_what_is_denied(course, _without_why(part))
    if course.sentence is None or SHOPPING.match(course.sentence.words):
        return
    if not is_done(course, course.sentence):
        for thing in part.things:
            if thing.kind == "fibre":
                lot_for(course, thing)
        return
    behind = behind_caution(course, part)
    if behind is None:
        return
    part = tell_of_bath(course, behind)
    part, named = _with_its_fibre(course, part)
    if _is_left_as_it_is(course, part, named) or was_done_too(course, part):
        return
    part = _without_what_is_beside(part)
    inside, baths = others_stay_in(course, part), len(course.baths)
    done = what_is_done(course, part)
    if done is None:
        return
    part = without_what_is_for_each(course, without_what_was_before(course, done))
    part = with_its_verb(course, without_name_of_bath(course, part))
    turn_to_vessel(course, part)
    turn_from_what_is_apart(course, part)
    if not part.doing.act:
        turn_to_what_holds(course, part)
    if part.doing.act in TURNS and not any(course.of(a) is not None for a in part.amounts):
        turn_to(course, part)
    if part.doing.act in INTO_BATHS and not any(a.kind == "mass" for a in part.amounts):
        turn_to_called(course, part)
    dips = any("dip" in a.words for a in course.free(part, "times"))
    if part.doing.act == "hold" and (dips or ONE_DIP.search(part.words)):
        part = part._replace(doing=part.doing._replace(act="dip"))
    part, between = without_airing_between(course, part)
    _work(course, part)
    air_between(course, between)
    _others_are_in(course, inside, baths)


def _is_left_as_it_is(course: Course, part: Part, named: bool) -> bool:
    """True where nothing is done: to fibre that is not known, or to some that is only kept."""
    before = course.share
    weigh_further_lot(course, part)
    if not named and course.share is before and _is_of_unknown(course, part):
        return True
    if named and goes_into_unknown(course, part):
        return True
    if named and is_kept_as_it_is(course, part):
        if take_back(course, part):
            course.of_no_bath.add((course.number, part.doing.words))
            course.declared.add((course.number, part.doing.words))
        course.not_followed.append((course.number, part.doing.words))
        return True
    return False


def _is_of_unknown(course: Course, part: Part) -> bool:
    """True where a part is done to some of the fibre and it can't be told to which: it is asked."""
    unknown = course.unknown
    if unknown is not None and asks_which(course, part, unknown):
        ask_which(course, part, " ".join(course.text[unknown.start : unknown.end].split()))
        return True
    other = names_other_fibre(course, part)
    if other:
        ask_which(course, part, other)
        return True
    if unknown is None and goes_on_unknown(course, part):
        ask_which(course, part, course.asked_last[1])
        return True
    return False


def _others_are_in(course: Course, inside: Bath | None, baths: int) -> None:
    """Turn back to the bath in which other fibre stayed, unless a new one has been made."""
    if inside is not None:
        inside.fibre = True
        course.bath = inside if len(course.baths) == baths else course.bath


def _with_its_fibre(course: Course, part: Part) -> tuple[Part, bool]:
    """The part with the fibre that its words mean, turned to; True where they mean some of it."""
    meant = turn_to_those_meant(course, part) if _tells_some_apart(course, part) else None
    declare_fibre(course, meant or part)
    if meant is None and not course.steps and (called := call_listed_lots(course, part)):
        turn(course, None if called == course.all_lots() else whole(called))
        return part, True
    if meant is None and turn_to_lot(course, part):
        course.unknown = None
    elif meant is None:
        meant = turn_to_those_meant(course, part)
        if meant is None:
            goes_on(course, part)
    return meant or part, meant is not None


def _tells_some_apart(course: Course, part: Part) -> bool:
    """True where what a part names may be some of the fibre, and no fibre that comes to it."""
    if course.steps or course.codes.within(part):
        return True
    if part.doing.act and are_known(course, part):
        return True
    fibre = [one for one in part.things if one.kind == "fibre"]
    return (
        bool(part.doing.act)
        and [lot.count > 1 for lot in course.all_lots()] == [True]
        and all(one.name.startswith("=") for one in fibre)
        and not any(one.kind == "mass" and course.names_fibre(part) for one in part.amounts)
    )


# "Gave one a single dip", "had only a quick dip".
ONE_DIP = re.compile(r"\b(?:a|one)\s+(?:single|quick|short|brief|long)\s+dip\b", re.I)

GOES_COLD = re.compile(r"\b(?:go(?:es|ne)?|went|get|gets)\s+(?:quite\s+|stone\s+)?cold\b", re.I)


def _work(course: Course, part: Part) -> None:
    """What a part says is done, with the wait before it and the pH behind it."""
    course.part = part
    if any(done(course, part) for done in (goes_through_it, into_called_bath, each_lasts)):
        course.part = None
        return
    _wait_before(course, part)
    _cool_before(course, part)
    if not repeated_round(course, part) and not acts_of_fibre.lies_in_a_towel(course, part):
        act = part.doing.act
        if (
            (act in ("", "hold", "leave") or part.doing.words in ("allow", "allowed"))
            and GOES_COLD.search(part.words)
            and course.bath is not None
        ):
            act = "cool"  # "let it go cold overnight"
        ACTS.get(act, without_verb)(course, part)
        repeated_round(course, part)
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
                and last.on in ("bath", "add")
                and "until" in allowed(last.verb)
            )
            and not last.sign
            and "until" not in last.clauses
        ):
            last.clauses["until"] = amount
            course.used.add(amount.start)
            continue
        course.on_bath("stand", {"until": amount})


__all__ = ["ACTS", "bare_heat", "follow"]
