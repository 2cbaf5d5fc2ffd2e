"""What stands in a recipe without a verb: lists, and what they are for."""

from __future__ import annotations

import re

from procedure.draft import acts_of_fibre, acts_of_heat, acts_of_stuff
from procedure.draft.course import Course
from procedure.draft.in_vessels import is_of_new_vessel
from procedure.draft.last_water import into_last_rinse
from procedure.draft.mordanting import mordant
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, part_played, role_of
from procedure.draft.supplies import AS_OTHER, stuff_of, supply
from procedure.draft.unsettled_steps import Bath, Brought
from procedure.draft.working import fibre_out, phases_of

COUNTED = {"rinse": acts_of_fibre.rinse, "dip": acts_of_fibre.dip, "wash": acts_of_fibre.wash}


def without_verb(course: Course, part: Part) -> None:
    """What a list without a verb stands for."""
    said = course.sentence
    if said is not None and said.left_out and not NOTHING_ADDED.search(said.words):
        return  # its verb is denied
    counted = _verb_of_count(course, part)
    if counted:
        COUNTED[counted](course, part)
        return
    if into_last_rinse(course, part) or acts_of_heat.is_enough(course, part):
        return
    if ONLY_WHEN.fullmatch(part.words):
        return  # what is done then is said in the next sentence
    if IN_THE_AIR.search(part.words) and course.lots and course.free(part, "time"):
        acts_of_fibre.air(course, part)
        return
    if acts_of_stuff.mixed_apart(course, part):
        return
    stuff = stuff_of(course, part)
    if any(told(course, part, stuff) for told in (_is_told_of, _is_rinsed_sour, _has_a_pot)):
        return
    timed = any(one.clauses for one in phases_of(course, part))
    bath = course.bath
    if _had_mordant(course, part, stuff):
        mordant(course, part)
        if BEEN.search(part.words):
            _leave_what_was_done(course, bath)
        return
    if stuff and not timed and _goes_on_list(course, part, stuff):
        supply(course, part, stuff)
        return
    goes_on = _open(course) or _is_addition(course, stuff) or _is_by_the_last(course, part)
    if timed and not goes_on and _draws_what_is_listed(course, stuff):
        acts_of_heat.keep(course, part)
        return
    _listed_or_brought(course, part, stuff, timed, goes_on)


# "Second bath: without adding anything, skein B, an hour": the verb that is denied is no deed.
NOTHING_ADDED = re.compile(
    r"\bwithout\s+(?:adding|putting)\s+(?:anything|more|any\s+more|nothing)\b", re.I
)


# "The iron bath was 16 g of ferrous sulphate in 20 litres of water": it is made of that.
BATH_WAS = re.compile(
    r"\W*(?:the|our|my|her|his|an?)\s+(?:[\w-]+\s+){1,2}?(?:bath|dip|dye-?bath|pot)\s+"
    r"(?:was|were|is|had|has|held|holds|contained|contains|took)\s",
    re.I,
)


def _is_told_of(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """Make the bath of which the words say what is in it, water and all."""
    kinds = {one.thing.kind for one in stuff if one.amounts}
    bath, role = course.bath, role_of(stuff)
    if kinds != {"material", "water"} or not role or BATH_WAS.match(part.words) is None:
        return False
    if bath is not None and (bath.begun or bath.stuff):
        course.begin()
        bath.fibre = False
        course.new_bath(role)
    return supply(course, part, stuff)


# "Madder: 100 g in 4 litres of water in one pot. Weld: 100 g in 4 litres in another."
POT_OF_ITS_OWN = re.compile(
    r"\bin(?:to)?\s+(?:one|another|a\s+second|a\s+third|a\s+separate|a\s+different|its\s+own|the\s+other)\s+(?:\w+\s+)?"
    r"(?:pot|pan|bath|vessel|vat|kettle|bucket|tub|bowl|jar)\b",
    re.I,
)


def _has_a_pot(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """Make the bath of stuff that is listed with its water and with a pot of its own."""
    kinds = {one.thing.kind for one in stuff if one.amounts}
    if kinds != {"material", "water"} or POT_OF_ITS_OWN.search(part.words) is None:
        return False
    if any(one.clauses for one in phases_of(course, part)):
        return False
    course.begin()
    course.new_bath(role_of(stuff))
    return supply(course, part, stuff)


def _is_sour_rinse(course: Course, stuff: list[Measured]) -> bool:
    """True for "vinegar bath, 100 ml in 10 litres": what dyed fibre is rinsed in at the end."""
    dyed = any(bath.kind == "dye" and bath.had_fibre for bath in course.baths)
    water = [one for one in stuff if one.thing.kind == "water" and one.amounts]
    solids = [one for one in stuff if one.thing.kind != "water"]
    sour = [one for one in solids if one.amounts and "vinegar" in one.thing.name]
    return dyed and len(water) == 1 and len(sour) == 1 and len(solids) == 1


def _is_rinsed_sour(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """Rinse dyed fibre in what is sour; False for other stuff."""
    if not _is_sour_rinse(course, stuff):
        return False
    acts_of_fibre.rinse(course, part)
    return True


IN_THE_AIR = re.compile(r"\bin\s+the\s+(?:open\s+|fresh\s+)?air\b", re.I)
# "The night before.", "Next morning:": a heading of what follows, and no time of a bath.
ONLY_WHEN = re.compile(
    r"\W*(?:(?:the|on\s+the)\s+(?:night|day|evening|week)\s+before"
    r"|(?:in|on|by)\s+the\s+(?:next\s+)?(?:morning|evening|afternoon)"
    r"|(?:the\s+)?(?:next|following)\s+(?:day|morning|evening))\W*",
    re.I,
)


def _listed_or_brought(
    course: Course, part: Part, stuff: list[Measured], timed: bool, goes_on: bool
) -> None:
    """Lay stuff by or bring it to the bath at hand, and keep that for the times that are said."""
    if stuff and (course.bath is None or not goes_on):
        lay_by(course, part, stuff)
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


# "2. Alum + tartar in 15 L.", "alum, 15 L of water", with the things and the amount as letters.
ONLY_STUFF = re.compile(
    r"[\W\d]*(?:(?:then|next|now|and)\s+)?t(?:\s*(?:\+|and|&|,|with)\s*t)*\s*(?:bath|liquor)?\s*"
    r"(?:,|:|-|\bin(?:to)?|\bplus|\+)\s*(?:(?:about|some|the)\s+)?a(?:\s*(?:of\s+)?t)?\W*"
)


def _begins_of_what_is_listed(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """Begin the bath of "alum + tartar in 15 L", where alum and tartar were weighed above."""
    solids = [one for one in stuff if one.thing.kind == "material"]
    waters = [one for one in stuff if one.thing.kind == "water" and one.amounts]
    listed = {one.thing.name for one in course.stock.items}
    if len(waters) != 1 or not solids or course.names_fibre(part):
        return False
    if any(one.amounts or one.thing.name not in listed for one in solids):
        return False
    letters = list(part.words)
    for start, end, letter in [(t.start, t.end, "t") for t in part.things] + [
        (a.start, a.end, "a") for a in part.amounts if a.kind != "figure"
    ]:
        letters[start - part.start : end - part.start] = [letter] + [""] * (end - start - 1)
    if ONLY_STUFF.fullmatch("".join(letters).lower()) is None:
        return False
    role = role_of(solids)
    waits = course.bath
    if waits is None or waits.begun or waits.stuff:
        course.begin()
        course.new_bath(role)
    return True


def _verb_of_count(course: Course, part: Part) -> str:
    """The verb of "three rinses", "two dips"; empty where nothing of the kind is said."""
    for amount in course.free(part, "times"):
        said = amount.words.lower()
        for stem, verb in (("rins", "rinse"), ("dip", "dip"), ("wash", "wash")):
            if stem in said:
                return verb
    return ""


def _goes_on_list(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """True for what goes into the bath at hand, a new one, or that of a vessel just named."""
    return (
        _begins_of_what_is_listed(course, part, stuff)
        or is_of_new_vessel(course, stuff)
        or _is_next_of_list(course, stuff)
    )


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


# "For this batch I had 2 kg of hulls": how much was in the bath that was told of.
HAD_SO_MUCH = re.compile(r"\b(?:i|we|she|he|they)\s+(?:had|used|weighed|took|needed)\b", re.I)


def lay_by(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Lay by what is listed, for the steps that use it."""
    if HAD_SO_MUCH.search(part.words):
        plants = [one for one in stuff if part_played(one.thing) == "dye"]
        given = list(plants)
        acts_of_stuff.amounts_for_what_is_in(course, plants)
        stuff = [one for one in stuff if one in plants or one not in given]
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
