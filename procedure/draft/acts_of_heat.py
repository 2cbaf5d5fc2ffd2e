"""Heating, boiling, simmering, cooling, and leaving as it is."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.acts_of_stuff import gather, with_what_is_ready
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.heat_off import heat_is_off
from procedure.draft.heats_and_times import Phase
from procedure.draft.sentences import Part
from procedure.draft.stock import is_suds, part_played
from procedure.draft.supplies import stuff_of, supply
from procedure.draft.things import known_words
from procedure.draft.unsettled_steps import Bath, Step, allowed
from procedure.draft.working import (
    bath_phase,
    bring_fibre,
    fibre_out,
    go_on,
    goes_back,
    is_of_those_left,
    phases_of,
    speaks_of_bath,
    spoken,
    until_a_sign,
    wait_first,
    work_in,
)


def boil(course: Course, part: Part) -> None:
    """A bath, or what is to be in one, at the boil."""
    _heated(course, part, "boil")


def simmer(course: Course, part: Part) -> None:
    """A bath, or what is to be in one, just below the boil."""
    _heated(course, part, "simmer")


def heat(course: Course, part: Part) -> None:
    """A bath, or what is to be in one, to a heat; to a pH where that is what is said."""
    if course.free(part, "acidity") and not course.free(part, "temperature", "named heat"):
        stuff = [one for one in stuff_of(course, part) if one.thing.kind == "material"]
        if stuff:
            supply(course, part, stuff)
        timed = wait_first(course, phases_of(course, part)[0])
        if timed:
            bath_phase(course, timed)
        return  # "bring the pH to 9 with soda"
    _heated(course, part, "heat")


# "To 3 lb of wool": how much the stuff is for.
FOR_SO_MUCH = re.compile(r"\W*(?:to|for)\s+(?:each\s+|every\s+)?$", re.I)


def _without_what_it_is_for(course: Course, part: Part) -> Part:
    """The part without the wool of "to 3 lb of wool, 1 lb of bark boiled an hour and strained"."""
    sentence = course.sentence
    if sentence is None or not part.things or part.things[0].kind != "fibre":
        return part
    fibre, later = part.things[0], [p for p in sentence.parts if p.start > part.start]
    strained = bool(later) and later[0].doing.act == "strain"
    weights = [a for p in sentence.parts for a in p.amounts if course.of(a) == fibre]
    lead = course.text[sentence.start : weights[0].start] if weights else ""
    plant = any(one.kind in ("material", "part") for one in part.things)
    if not (strained and plant and FOR_SO_MUCH.fullmatch(lead)):
        return part
    return part._replace(things=part.things[1:])


def _heated(course: Course, part: Part, verb: str) -> None:
    part = _without_what_it_is_for(course, part)
    if _goes_on_scouring(course, part, verb) or _washed_hot(course, part, verb):
        return
    part = _of_what_is_ready(course, part)
    _turn_to_unknown_plant(course, part)
    if not course.names_fibre(part) and not ("it" in part.words and course.focus == "fibre"):
        course.leave_what_is_done()
    _bath_to_heat(course, part, verb)
    bring_fibre(course, part)
    bath = course.ready()
    found = phases_of(course, part)
    clauses = wait_first(course, found[0])
    if verb == "heat":
        if not clauses and part.doing.words.startswith("warm"):
            course.on_bath("heat").sign = ""
            course.steps[-1].clauses["to"] = _warm(part)
            course.used.add(part.doing.start)
        elif not clauses and until_a_sign(course, part, "heat"):
            course.used.update(one.start for one in part.amounts if one.start == part.doing.start)
        elif not clauses:
            course.not_followed.append((course.number, part.doing.words))
        bath_phase(course, clauses)
    else:
        own = {c: a for c, a in clauses.items() if not (c == "at" and a.unit == verb)}
        if "at" in clauses and "at" not in own:
            course.used.add(clauses["at"].start)
        step = course.on_bath(verb, own)
        step.spoken = spoken(part, verb)
        if "at" in clauses and "at" not in own:
            step.spoken.append(clauses["at"])
        course.used.update(a.start for a in step.spoken)
    go_on(course, found[1:])
    if bath.fibre:
        course.focus = "fibre"


def _of_what_is_ready(course: Course, part: Part) -> Part:
    """The part with the plant of "Grind the cochineal, and boil it in a pint of water"."""
    bath = course.bath
    if bath is None or not bath.had_fibre or course.readied is None:
        return part
    if course.readied[0] != course.number or not ITS.match(course.text, part.doing.end):
        return part
    return with_what_is_ready(course, part) or part


ITS = re.compile(r"\s+(?:it|them)\b", re.I)
SCOURS = frozenset(("scour", "degum"))


def _in_suds(step: Step) -> bool:
    """True for fibre washed in soap, or in soap and soda."""
    return step.verb == "wash" and is_suds([one.name for one in step.brought])


def _goes_on_scouring(course: Course, part: Part, verb: str) -> bool:
    """True for "scour it: soda, water, simmer 1 h", whose heat and time are of the scouring."""
    last = course.steps[-1] if course.steps else None
    if (
        last is None
        or last.sentence != course.number
        or not (last.verb in SCOURS or _in_suds(last))
    ):
        return False
    if any(one.kind not in ("water", "pot", "bath") for one in part.things):
        return False
    clauses = phases_of(course, part)[0].clauses
    for name, amount in clauses.items():
        last.clauses.setdefault("at" if name == "to" else name, amount)
    for amount in spoken(part, verb):
        last.clauses.setdefault("at", amount._replace(kind="named heat", unit=verb))
    course.used.update(one.start for one in last.clauses.values())
    return True


IN_SUDS = re.compile(
    r"\b(?:in|with)\s+(?:a\s+)?(?:[\w-]+\s+)?(?:soapy\s+water|soap\s+and\s+water|soap\s?suds|suds)\b",
    re.I,
)


def _washed_hot(course: Course, part: Part, verb: str) -> bool:
    """True for "boil in soapy water": the fibre is washed, or scoured before it has been dyed."""
    if not IN_SUDS.search(part.words) or not (course.lots or course.names_fibre(part)):
        return False
    if any(
        thing.kind in ("material", "part") and part_played(thing) == "dye" for thing in part.things
    ):
        return False
    worked = any(bath.kind and bath.had_fibre for bath in course.baths)
    fibre_out(course)
    step = course.on_lot("wash" if worked else "scour")
    step.clauses = wait_first(course, phases_of(course, part)[0])
    for amount in spoken(part, verb):
        step.clauses.setdefault("at", amount._replace(kind="named heat", unit=verb))
    course.used.update(one.start for one in step.clauses.values())
    return True


OBJECT = re.compile(r"\s+(?:the|your)\s+(?P<word>[a-z]{4,})\b", re.I)
NO_PLANT = frozenset(
    "whole mixture liquid liquor rest same water bath heat contents vessel goods stuff temperature"
    " temp pot pan kettle copper burner hob stove flame fire".split()
)


def _turn_to_unknown_plant(course: Course, part: Part) -> None:
    """Turn from a mordant's bath where a plant that no list knows is boiled: "boil the heath"."""
    found, bath = OBJECT.match(course.text, part.doing.end), course.bath
    if found is None or bath is None or bath.kind != "mordant" or not course.has_worked(bath):
        return
    word = found["word"].lower()
    if word in known_words()[1] or word in NO_PLANT:
        return
    course.begin()
    bath.had_fibre, bath.fibre = bath.had_fibre or bath.fibre, False
    course.bath = None
    listed = any(word in one.thing.words.lower().split() for one in course.stock.items)
    if listed:
        course.draw("dye")
    else:
        course.new_bath("dye")


def _warm(part: Part) -> Amount:
    """The heat of "warm it", which says no other."""
    doing = part.doing
    return Amount("named heat", None, None, "hand-hot", doing.words, doing.start, doing.end)


def _bath_to_heat(course: Course, part: Part, verb: str) -> None:
    """Turn to the bath that is heated: of what the part names, of the stock, or that at hand."""
    named = [t for t in part.things if t.kind in ("material", "part")]
    bath = course.bath
    if bath is not None and bath.begun and named and re.search(r"\bafresh|anew\b", part.words):
        bath = course.new_bath(bath.kind)
    if bath is not None and bath.fibre and named and not course.names_fibre(part):
        objects = part.doing.end <= named[0].start or part.doing.words.endswith("ed")
        inside = [course.plant_of(t) for t in named]
        held = any(t and bath.holds(course.material(t)) for t in inside)
        if objects and not held and any(t is None or part_played(t) == "dye" for t in inside):
            course.new_bath("dye")
    stuff = stuff_of(course, part)
    listed = bool(course.stock) and (bath is None or _is_done_with(course, bath, verb))
    solids = [m for m in stuff if part_played(m.thing) not in ("water", "assistant")]
    helped = not solids and any(m.thing.kind != "water" for m in stuff)
    if helped and listed and (named or course.focus == "material"):
        course.draw("dye" if course.stock.has("dye") else "")
    elif not solids and listed and not course.names_fibre(part) and not (bath and bath.fibre):
        course.draw("dye" if named and course.stock.has("dye") else "")
    supply(course, part, stuff)
    bath = course.bath
    if bath is None or (bath.begun and course.stock and not bath.fibre and bath.had_fibre):
        course.draw("" if bath is None else "dye")


def _is_done_with(course: Course, bath: Bath, verb: str) -> bool:
    """True for a bath that fibre has been in, or a mordant's where it is a plant that boils."""
    boils = verb in ("boil", "simmer") or course.has_worked(bath)
    return bath.had_fibre or (bath.kind == "mordant" and boils)


TURNED_DOWN = re.compile(r"(?:lower|reduce|turn\s+down)\w*\s+the\s+heat", re.I)


def cool(course: Course, part: Part) -> None:
    """A bath left to cool."""
    bare = all(one.kind == "verb heat" for one in part.amounts)
    if TURNED_DOWN.match(part.doing.words) and bare:
        return  # "lower the heat and let simmer": of the plate, and said by what comes next
    if _cooled_with_water(course, part) or _fibre_cools(course, part):
        return
    _keep_before_it_cools(course, part)
    found = phases_of(course, part)
    clauses = wait_first(course, found[0])
    if "at" in clauses and "to" not in clauses:
        clauses["to"] = clauses.pop("at")
    step = course.on_bath("cool", clauses)
    step.spoken = spoken(part, "cool")
    course.used.update(a.start for a in step.spoken)
    if not clauses.keys() & {"to", "for"}:
        step.sign = "it is cool"
    step.bath.clear = True  # type: ignore[union-attr]
    go_on(course, found[1:])


# "It sat there for an hour and then I let it cool": how long it was kept before.
SAT_BEFORE = re.compile(
    r"\W*(?:and\s+)?(?:it|they|that|this|all|everything|the\s+\w+)\s+(?:sat|stayed|stood|lay|was\s+left|was\s+kept)\b"
    r"[^.;]*?(?:,|\band)\s+(?:then|afterwards|after\s+(?:that|which))\b",
    re.I,
)


def _keep_before_it_cools(course: Course, part: Part) -> None:
    """A step for the time that a bath is kept for in the words before those that cool it."""
    found, bath = SAT_BEFORE.match(part.words), course.bath
    if found is None or bath is None or not bath.begun:
        return
    for amount in course.free(part, "time"):
        if amount.end <= part.start + found.end() <= part.doing.start:
            course.on_bath("hold" if bath.fibre else "stand", {"for": amount})


IN_THE_AIR = re.compile(
    r"\bin\s+the\s+(?:open\s+|fresh\s+|cool\s+)?air\b|\bout\s+of\s+doors\b"
    r"|\bon\s+(?:the|a)\s+(?:\w+\s+)?(?:line|rack|rail|horse|grass|hedge)\b",
    re.I,
)
THEM = re.compile(r"\b(?:them|these)\b", re.I)
OUT_OF_BATH = frozenset(("lift", "air", "rest"))


def _fibre_cools(course: Course, part: Part) -> bool:
    """True for "let them cool in the air": fibre that is out of its bath, or comes out for it."""
    bath, last = course.bath, course.steps[-1] if course.steps else None
    if last is None or not course.lots or speaks_of_bath(part):
        return False
    out = last.on == "lot" and last.verb in OUT_OF_BATH and not (bath is not None and bath.fibre)
    aired = IN_THE_AIR.search(part.words) is not None
    named = course.names_fibre(part) or THEM.search(part.words) is not None
    if not (out and course.last_on == "lot") and not (aired and named):
        return False
    clauses = wait_first(course, phases_of(course, part)[0])
    if clauses.keys() - {"for"}:
        return False
    fibre_out(course)
    course.on_lot("air" if aired else "rest", clauses)
    return True


WITH_WATER = re.compile(
    r"\b(?:with|by\s+(?:adding|pouring\s+in))\s+[^.;,]*?(?:\bwater\b|\bcold\b)", re.I
)


def _cooled_with_water(course: Course, part: Part) -> bool:
    """True for "cool the bath with a gallon of cold water", which is poured in."""
    bath = course.bath
    if bath is None or not bath.begun or not WITH_WATER.search(part.words):
        return False
    water = [one for one in stuff_of(course, part) if one.thing.kind == "water" and one.amounts]
    if len(water) != 1:
        return False
    supply(course, part, water)
    return True


def keep(course: Course, part: Part) -> None:
    """Heats and times of a list whose stuff has been brought already."""
    found = phases_of(course, part)
    course.ready()
    bath_phase(course, wait_first(course, found[0]))
    go_on(course, found[1:])


GIVES_IT = re.compile(r"\b(?:gives?|gave|giving)\s+(?:it|them|the\s+\w+)\s+(?:about\s+)?", re.I)


# "I gave one of them ten minutes in a pail of water with vinegar": it goes in there.
GIVES_SOME = re.compile(
    r"\b(?:gives?|gave|giving)\s+(?:one|two|some|half|it|them|both|the\s+\w+)\b(?:\s+of\s+\w+)?",
    re.I,
)


def _given(course: Course, part: Part) -> bool:
    """True for "take the wool out, stir in the rest, give it another half hour": it goes back."""
    bath = course.bath
    if bath is None or not bath.had_fibre or bath.fibre or course.focus != "fibre":
        return False
    found = GIVES_IT.search(part.words)
    times = [a for a in course.free(part, "time") if found and a.start == part.start + found.end()]
    if not times or any(t.kind in ("material", "part") for t in part.things):
        return False
    work_in(course, part, bath)
    return True


# "You keep your hulls until you have a bucketful": what is put by, and no bath that is kept.
SAVES = re.compile(
    r"keep\w*\s+[^.;,]{3,40}?\s(?:un)?till?\s+(?:you|we|i)(?:'ve|\s+(?:have|had|get|got))\b", re.I
)


def hold(course: Course, part: Part) -> None:
    """Heats and times without a verb of their own, or with one that only keeps."""
    if SAVES.match(course.text, part.doing.start) and not course.names_fibre(part):
        gather(course, part)
        return
    if (
        is_enough(course, part)
        or _takes(course, part)
        or _given(course, part)
        or _cooks(course, part)
    ):
        return
    if _rests(course, part, phases_of(course, part)):
        return
    damp = LIES_DAMP.search(part.words) and not IN_A_BATH.search(part.words)
    if course.last_on == "lot" and damp:
        clauses = wait_first(course, phases_of(course, part)[0])
        course.on_lot("rest", clauses)
        return
    stuff = stuff_of(course, part)
    timed = bool(phases_of(course, part)[0].clauses)
    if not any(m.amounts for m in stuff) and not timed and (stuff or course.bath is None):
        return  # "weld gives its best", "a pan kept for dyeing": spoken of, not done
    if course.bath is None and not (course.stock or course.lots or stuff):
        return  # "in that time we moved house": before there is anything to keep
    before = course.bath
    if stuff:
        supply(course, part, stuff)
    bath = course.bath
    if stuff and bath is not None and bath is not before and GIVES_SOME.search(part.words):
        work_in(course, part, bath)
        return
    if bath is None or (course.stock and bath.begun and not bath.fibre and not bath.kind):
        course.draw("")
    bath = course.ready()
    found = phases_of(course, part)
    if not bath.fibre and (
        course.names_fibre(part) or (course.lots and is_suds([one.name for one in bath.stuff]))
    ):
        work_in(course, part, bath, "", found)
        return
    clauses = wait_first(course, found[0])
    if not clauses:
        until_cold(course, part)
    bath_phase(course, clauses)
    go_on(course, found[1:])


COOKED = re.compile(r"cook|drawn (?:at|for)", re.I)


def _cooks(course: Course, part: Part) -> bool:
    """True for "cook the leaves an hour": a plant that is drawn out, how hot is not said."""
    bath = course.bath
    inside = bath is not None and bath.fibre
    if not COOKED.match(part.doing.words) or inside or course.names_fibre(part):
        return False
    if not (course.stock or any(t.kind in ("material", "part") for t in part.things)):
        return False
    course.leave_what_is_done()
    _bath_to_heat(course, part, "boil")
    course.ready()
    found = phases_of(course, part)
    bath_phase(course, wait_first(course, found[0]))
    go_on(course, found[1:])
    return True


# "Keep it damp two days": out of any bath.
LIES_DAMP = re.compile(
    r"\b(?:damp|moist|wet)\b|\bin\s+an?\s+(?:\w+\s+)?(?:bag|towel|cloth|sheet)\b", re.I
)
IN_A_BATH = re.compile(r"\b(?:bath|liquor|vat|pot|dye)\b", re.I)
TAKES = re.compile(
    r"\W*(?:(?:and|which|this|that|it)\s+)+(?:(?:should|will|may|ought\s+to|would|can)\s+)?"
    r"(?:takes?|took|be\s+done\s+in|be\s+done\s+over)\b",
    re.I,
)


def _takes(course: Course, part: Part) -> bool:
    """True for "this should take 40 minutes", which is how long the heating before it takes."""
    last = course.steps[-1] if course.steps else None
    times = course.free(part, "time")
    if len(times) != 1 or not TAKES.match(part.words) or last is None:
        return False
    if "to" not in last.clauses or "over" in last.clauses or "over" not in allowed(last.verb):
        return False
    last.clauses["over"] = times[0]
    course.used.add(times[0].start)
    return True


# "Five minutes is plenty": how long what the sentence before says is done.
IS_ENOUGH = re.compile(
    r"\s*(?:(?:is|are|was|will\s+be|should\s+be|ought\s+to\s+be)\s+(?:quite\s+|about\s+)?(?:plenty|enough|ample|sufficient|right"
    r"|all\s+(?:it|they)\s+needs?)|(?:will|would|should|ought\s+to)\s+(?:do|suffice)(?:\s+(?:it|nicely|well))?|does\s+(?:it|nicely)"
    r"|suffices?)\b(?:\s+for\s+(?:it|them|this|that))?\s*[.;,!:]*\s*",
    re.I,
)


def is_enough(course: Course, part: Part) -> bool:
    """True for the time of what was done in the sentence before: "five minutes is plenty"."""
    last = course.steps[-1] if course.steps else None
    times = course.free(part, "time", "named wait")
    if last is None or len(times) != 1 or last.sentence != course.number - 1:
        return False
    lead = course.text[part.start : times[0].start]
    if ABOUT_SO_LONG.fullmatch(lead) is None or "for" in last.clauses:
        return False
    fits = last.on in ("lot", "bath") and "for" in allowed(last.verb)
    if not fits or IS_ENOUGH.fullmatch(course.text, times[0].end, part.end) is None:
        return False
    last.clauses["for"] = times[0]
    course.used.add(times[0].start)
    return True


ABOUT_SO_LONG = re.compile(r"\s*(?:about|around|some|say|roughly)?\s*", re.I)
IS_SAID = re.compile(r"(?:\b(?:is|are|was|were|be|has|have|had|goes|gets|got)|'s)\s")


def until_cold(course: Course, part: Part) -> None:
    """ "Leave until cold": the bath cools, and the words are its sign."""
    for amount in course.free(part, "odd"):
        said = re.match(r"(?:until|till|til)\s+(.+)", amount.words, re.I)
        if said:
            step = course.on_bath("cool")
            sign = said[1].lower()
            step.sign = sign if IS_SAID.search(sign) else f"it is {sign}"
            step.spoken.append(amount)
            course.used.add(amount.start)


LAID = re.compile(r"lay|laid|place", re.I)
LAID_IN = re.compile(
    r"\bin(?:to)?\s+(?:an?|the|your)\s+(?:\w+\s+){0,2}(?:pot|pan|kettle|copper|vat|tub|boiler)\b",
    re.I,
)


def _dipped(course: Course, found: list[Phase]) -> bool:
    """True for the time of "dip the ribbons, and leave them five minutes", which the dip takes."""
    last = course.steps[-1] if course.steps else None
    if last is None or last.verb != "dip" or last.sentence != course.number or last.clauses:
        return False
    if len(found) != 1 or found[0].clauses.keys() != {"for"}:
        return False
    last.clauses = dict(found[0].clauses)
    course.used.add(last.clauses["for"].start)
    return True


WHAT_IS_LEFT = re.compile(r"\bwhat(?:ever)?\s+(?:was|is|'s)\s+\Z", re.I)


LEFT_OVER = re.compile(r"[\s-]+over\b(?!\s*-?\s*night)", re.I)  # "the yarn I had left over"


HEATED = frozenset(("heat", "simmer", "boil", "mordant", "dye", "hold"))
NIGHTS = frozenset(("overnight", "until-next-day"))


def _cools_over_a_night(course: Course, bath: Bath, clauses: dict[str, Amount]) -> bool:
    """True for "leave it in the pot till morning": what was hot, and nobody heats at night."""
    night = any(one.unit in NIGHTS for one in clauses.values())
    if not bath.fibre or not night or clauses.keys() & {"at", "to"}:
        return False
    last = [one for one in course.steps if one.bath is bath and one.verb != "enter"]
    warm = [one for one in last if one.verb in HEATED and one.clauses.keys() & {"to", "at", "for"}]
    hot = any(_is_hot(one.clauses) or one.verb in ("simmer", "boil") for one in warm)
    return hot and bool(last) and last[-1].verb in HEATED


def _is_hot(clauses: dict[str, Amount]) -> bool:
    """True where a heat of a step is above what a room may have."""
    heats = [clauses[name] for name in ("to", "at") if name in clauses]
    return any(one.low is None or one.low > limits.WARM_ROOM for one in heats)


def _lies_damp(course: Course, part: Part) -> bool:
    """True for "rinse it and leave it damp overnight": out of any bath."""
    damp = LIES_DAMP.search(part.words) is not None and IN_A_BATH.search(part.words) is None
    return damp and course.last_on == "lot"


IN_THERE = re.compile(r"\b(?:in|into|under)\s+(?:it|there|the)\b", re.I)
WHAT_IS_NEXT = re.compile(
    r"\bbefore\s+(?:(?:you|we|i|they)\s+(?:\w+\s+)?(?:dye|wash|rinse|mordant)\b"
    r"|(?:the\s+)?(?:first\s+)?(?:dyeing|washing|rinsing|mordanting|wash|rinse|dye-?\s?bath)\b)",
    re.I,
)


def _waits_to_be_washed(course: Course, part: Part) -> bool:
    """True for "dry it, and wait a week before the first wash with soap": into no bath.

    So does fibre that is out of its bath, "for a week before you dye it".
    """
    out = course.last_on == "lot" and not (course.bath and course.bath.fibre)
    end = course.sentence.end if course.sentence is not None else part.end
    if (
        out
        and not IN_THERE.search(part.words)
        and WHAT_IS_NEXT.search(course.text, part.doing.end, end)
    ):
        return True
    materials = [thing.name for thing in part.things if thing.kind == "material"]
    dried = bool(course.steps) and course.steps[-1].verb == "dry"
    return dried and bool(materials) and is_suds(materials)


LEAVES_OUT = re.compile(r"\bleave\b(?:\s+\w+){1,4}\s+out\b")


def _rests(course: Course, part: Part, found: list[Phase]) -> bool:
    """Fibre that lies damp or waits to be washed, out of any bath; False where it is not so."""
    if not (_lies_damp(course, part) or _waits_to_be_washed(course, part)):
        return False
    clauses = wait_first(course, found[0])
    if "for" in clauses:
        course.on_lot("rest", {"for": clauses["for"]})
    return True


def leave(course: Course, part: Part) -> None:
    """Fibre or a bath left for a time."""
    if LEAVES_OUT.search(part.words) or LEFT_OVER.match(course.text, part.doing.end):
        return
    if WHAT_IS_LEFT.search(course.text[: part.doing.start][-16:]):
        hold(course, part)  # "into what was left": a bath, and no deed
        return
    found = phases_of(course, part)
    if _dipped(course, found) or _rests(course, part, found):
        return
    bath = course.bath
    if LAID.match(part.doing.words) and LAID_IN.search(part.words) and course.names_fibre(part):
        supply(course, part, stuff_of(course, part))
        work_in(course, part, course.ready(), "", found)
        return
    resting = course.last_on == "lot" and not (bath and bath.fibre) and not speaks_of_bath(part)
    if resting and not any(t.kind in ("material", "part") for t in part.things):
        clauses = wait_first(course, found[0])
        if clauses:
            course.on_lot("rest", clauses)
        return
    supply(course, part, stuff_of(course, part))
    bath = course.ready()
    if course.names_fibre(part) and not bath.fibre and bath.stuff:
        work_in(course, part, bath, "", found)
        return
    clauses = wait_first(course, found[0])
    if not clauses:
        before = len(course.steps)
        until_cold(course, part)
        if len(course.steps) == before and bath.fibre:
            until_a_sign(course, part, "hold")
        return
    off = course.sentence is not None and heat_is_off(
        course.text, course.sentence.start, part.doing.start
    )
    off = off or _cools_over_a_night(course, bath, clauses)
    if off or (clauses.keys() & {"to", "from"} and "for" not in clauses):
        course.on_bath("cool", clauses)
    elif "for" in clauses and (goes_back(course, bath) or is_of_those_left(course, bath)):
        bath_phase(course, clauses)
    else:
        course.on_bath("hold" if bath.fibre else "stand", clauses)
    go_on(course, found[1:])
