"""What is done with ingredients and liquors: taken, added, dissolved, strained, thrown out."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.course import Course, plain_name
from procedure.draft.last_water import into_last_rinse
from procedure.draft.own_water import has_water_of_a_bath
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, part_played, role_of
from procedure.draft.supplies import (
    HEADED,
    IT_INTO,
    is_for_the_same_bath,
    make_liquor,
    other_liquor,
    stuff_of,
    supply,
    water_heat,
)
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Bath, Brought, Step
from procedure.draft.working import bath_phase, bring_fibre, go_on, phases_of, wait_first, work_in

ADDED = re.compile(r"add|put|pop|place|drop|throw|layer|lay|chuck|tip|in with|stir in|slip", re.I)


# "I take a separate pan, three litres of water, some iron": what is taken is in it.
APART = re.compile(
    r"\b(?:take|taking|took|get|use)\s+an?(?:other)?\s+(?:\w+\s+)?(?:pot|pan|kettle|bucket|tub|bowl|jar|basin)\b",
    re.I,
)


def gather(course: Course, part: Part, dried: bool = False) -> None:
    """What is taken or listed before it is used; what is dried has its time for itself."""
    stuff = stuff_of(course, part)
    found = phases_of(course, part)
    amounts_for_what_is_in(course, stuff)
    picked = PICKED.match(part.doing.words) is not None
    plants = [m for m in stuff if (m.amounts or picked) and part_played(m.thing) == "dye"]
    if len(plants) == 1 == len(stuff) and not any(t.kind == "fibre" for t in part.things):
        course.readied = course.number, plants[0].thing  # "Use 200 g of madder. Put it in a bag"
    solid = any(m.thing.kind == "material" for m in stuff)
    if solid and (found[0].has("for", "at") or APART.search(part.words)):
        supply(course, part, stuff)
        course.ready()
    else:
        for item in stuff:
            if item.amounts and not course.listed_already(item):
                course.stock.put(item)
                course.used.update(a.start for a in item.amounts)
                if item.thing.kind == "material":
                    course.focus = "material"
        if any(t.kind == "part" for t in part.things) and not course.names_fibre(part):
            course.focus = "material"  # roots of a plant that no list knows
    dries = dried and not found[0].has("at", "to", "from")
    if course.bath is not None and not dries and any(one.clauses for one in found):
        bath_phase(course, wait_first(course, found[0]))
        go_on(course, found[1:])


def amounts_for_what_is_in(course: Course, stuff: list[Measured]) -> None:
    """An amount that comes after its material has been put in without one."""
    for item in list(stuff):
        for bath in course.baths:
            for one in bath.stuff:
                if one.name == plain_name(item.thing.name) and not one.amounts and item.amounts:
                    one.amounts = item.amounts
                    course.used.update(a.start for a in item.amounts)
                    if item in stuff:
                        stuff.remove(item)


PICKED = re.compile(r"gather|collect|pick|forage|harvest|save|keep", re.I)
PUT_BACK = re.compile(r"\W*\w+\s+(?:it|them|the\s+\w+|everything)\s+back\b", re.I)


THEM_INTO = re.compile(
    r"\W*(?:and\s+)?\w+\s+(?:it|them),?\s+(?:without\s+[a-z ]{3,24},\s+)?"
    r"(?:straight\s+|back\s+)?(?:in|into|through)\s",
    re.I,
)


def _poured(course: Course, part: Part) -> bool:
    """True where a part pours the liquor that its sentence has made into the bath."""
    since = course.number - course.liquor[0]
    if since > 1 or not course.liquor[1] or not POURED.match(part.words):
        return False
    liquor, course.liquor = course.liquor[1], (0, "")
    if course.bath is not None and not course.bath.begun:
        course.begin()  # the bath is made of it
        return True
    pour = Step("add", course.number, "add", course.bath)
    pour.name = liquor
    course.add(pour)
    return True


PLAIN_WATER = re.compile(r"\bin(?:to)?\s+(?:an?\s+\w+\s+of\s+)?(?:[a-z-]+\s+){0,2}water\b", re.I)
NO_PLAIN_WATER = re.compile(r"\b(?:the|that|this|alum|mordant|dye)\s+(?:[a-z-]+\s+)?water\b", re.I)


def _wetted(course: Course, part: Part) -> bool:
    """True where fibre is wetted: "put the yarn in warm water for half an hour"."""
    stuff = stuff_of(course, part)
    if not course.names_fibre(part) or not _into_plain_water(course, part, stuff):
        return False
    wet_out(course, part, stuff)
    return True


def _into_plain_water(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """True for a part with water alone and a time, while no bath waits with something in it."""
    bath = course.bath
    if not PLAIN_WATER.search(part.words) or NO_PLAIN_WATER.search(part.words):
        return False
    if any(m.thing.kind != "water" for m in stuff) or (bath is not None and bath.stuff):
        return False
    found = phases_of(course, part)
    return found[0].clauses.keys() <= {"for", "at"} and found[0].has("for")


def wet_out(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Fibre into water alone, in a vessel of its own."""
    heat = water_heat(course, part)
    found = phases_of(course, part)
    step = Step("wet out", course.number, "lot")
    step.vessel = course.tub()
    step.brought = [Brought(course.material(m.thing), m.amounts) for m in stuff if m.amounts]
    if step.brought and not any(one.name == "water" for one in step.brought):
        step.brought.insert(0, Brought("water", ()))
    step.clauses = wait_first(course, found[0])
    if heat is not None:
        step.clauses.setdefault("at", heat)
    course.a_lot()
    course.add(step)
    course.last_on, course.focus = "lot", "fibre"


def put(course: Course, part: Part) -> None:
    """Stuff into a bath, or fibre where it is fibre that goes in."""
    if any(done(course, part) for done in OTHERWISE_DONE):
        return
    if MAKES_UP.search(part.words) and not any(t.kind == "material" for t in part.things):
        fill_up(course, part)
        return
    part = with_what_is_ready(course, part) or part
    stuff = stuff_of(course, part) or _tied_up(course, part)
    fibre = course.names_fibre(part) and not _named_in_a_clause(course, part)
    if fibre and course.bath is not None and not any(m.amounts for m in stuff):
        stuff = [m for m in stuff if m.thing.kind != "water"]  # "into the parsley water"
    if not stuff and fibre:
        if ADDED.match(part.doing.words) or _to_bath(part) or phases_of(course, part)[0].clauses:
            work_in(course, part, course.ready())
        return
    into = _bath_it_goes_into(course, part, stuff) if course.lots else None
    if into is not None:
        work_in(course, part, into)
        return
    solids = [m for m in stuff if m.thing.kind != "water"]
    if stuff and not solids and course.plant and any(t.kind == "part" for t in part.things):
        plant = course.material(course.plant)
        if not any(one.thing.name == course.plant.name for one in course.stock.items) and (
            course.bath is None or not course.bath.holds(plant) or HEADED.match(part.words)
        ):
            stuff = [Measured(course.plant, (), course.number), *stuff]
            solids = stuff[:1]
    if not solids and is_for_the_same_bath(course, part):
        stuff = [*stuff, *course.stock.of_sentence(course.number)]
    elif course.stock and not solids and free_for_more(course):
        course.draw(_role_named(course, part))
    of_fibre = course.focus == "fibre" and bool(course.lots)
    supply(course, part, stuff)
    _note_what_is_dissolved(course, part, stuff)
    if fibre and ADDED.match(part.doing.words) and _fibre_goes_in(course, part):
        return
    into_it = of_fibre and not fibre and stuff and IT_INTO.match(course.text, part.doing.end)
    (work_in(course, part, course.ready()) if into_it else _then(course, part))


FILLS_ANEW = re.compile(
    r"fill\w*\s+(?:up\s+)?(?:the|your)\s+(?:same\s+)?(?:boiler|pot|pan|kettle|copper|vat|tub)\s+(?:up\s+)?"
    r"(?:afresh|anew|again|with\s+(?:fresh|clean|new)\s+(?:\w+\s+)?water)\b",
    re.I,
)


def _filled_anew(course: Course, part: Part) -> bool:
    """True for "then fill the boiler afresh": what comes next is in a bath of its own."""
    bath = course.bath
    if bath is None or bath.fibre or not bath.had_fibre:
        return False
    if FILLS_ANEW.match(course.text, part.doing.start) is None:
        return False
    course.begin()
    course.new_bath()
    supply(course, part, stuff_of(course, part))
    course.ready()
    return True


def _tied_up(course: Course, part: Part) -> list[Measured]:
    """The plant of "tie the chips in muslin", where it is listed: what is said next is of it."""
    plant = course.plant
    if plant is None or not part.doing.words.startswith(("tie", "tying")):
        return []
    listed = any(one.thing.name == plant.name for one in course.stock.items)
    named = any(one.kind == "part" for one in part.things)
    return [Measured(plant, (), course.number)] if listed and named else []


ALSO = re.compile(
    r"\s*(?:,|&|and\b|then\b|\+)\s*(?:and\s+|then\s+)?(?:the\s+|your\s+)?(?:\w+\s+)?", re.I
)


CLAUSE_OF_ITS_OWN = re.compile(r"\b(?:if|unless|so\s+that)\b", re.I)


def _named_in_a_clause(course: Course, part: Part) -> bool:
    """True for the fibre of "add more water if the wool has not room", which goes in nowhere."""
    fibre = [one.start for one in part.things if one.kind == "fibre"]
    if not fibre or fibre[0] < part.doing.end:
        return False
    return CLAUSE_OF_ITS_OWN.search(course.text, part.doing.end, fibre[0]) is not None


def _fibre_goes_in(course: Course, part: Part) -> bool:
    """Put the fibre in that is added with stuff; True where nothing is left to be told of."""
    behind = [t for t in part.things if t.start > part.doing.end]
    thing = next((t for t in behind if t.kind == "fibre"), None)
    brought = [t for t in behind if t.kind == "material"]
    if thing is None:
        return False
    layered = part.doing.words.startswith("layer")
    if not brought or layered or phases_of(course, part)[0].has("for"):
        work_in(course, part, course.ready())
        return True
    also = brought[-1].end <= thing.start and ALSO.fullmatch(
        course.text, brought[-1].end, thing.start
    )
    if also or all(thing.start < one.start for one in brought):
        bring_fibre(course, part)  # “add the wool and half an ounce of alum”
    return False


def _is_with_a_lid(course: Course, part: Part) -> bool:
    """True for "put the silk in, cover and leave", where nothing is said to cover it with."""
    bath = course.bath
    if part.doing.words not in ("cover", "covered") or bath is None or not bath.fibre:
        return False
    return not part.things and not course.free(part, "volume", "mass", "loose", "odd")


def _bath_it_goes_into(course: Course, part: Part, stuff: list[Measured]) -> Bath | None:
    """The bath for the fibre that "it" or "them" means, or that the words leave out."""
    bath, fibre = course.bath, course.focus == "fibre"
    if fibre and course.last_on == "lot" and THEM_INTO.match(part.words):
        supply(course, part, stuff)  # "put them into the copperas"
        return course.ready()
    held = _liquor_that_holds(course, part, stuff) if fibre else None
    if held is not None:
        return held
    if stuff:
        return None
    named = bath is not None and (bath.clear or _to_bath(part))
    if fibre and named and re.search(r"\b(?:it|them)\b", part.words):
        return course.ready()
    other = other_liquor(course, part) if fibre else None
    if other is not None:
        return other
    out = bath is not None and bath.had_fibre and not bath.fibre
    return bath if out and PUT_BACK.match(part.words) else None


INTO_ITS_LIQUOR = re.compile(
    r"\b(?:in|into|to)\s+the\s+(?:[\w-]+\s+){1,2}(?:liquor|bath|pot|dye|decoction|broth|brew|vat)\b"
    r"|\b(?:it|them)\s+(?:straight\s+)?(?:in|into|to)\s+the\s+[a-z-]+\s*(?:[.,;]|\band\b|$)",
    re.I,
)


def _liquor_that_holds(course: Course, part: Part, stuff: list[Measured]) -> Bath | None:
    """The bath of "lifted, and put straight into the heather liquor", which holds heather."""
    if course.last_on != "lot" or not stuff or any(one.amounts for one in stuff):
        return None
    if not INTO_ITS_LIQUOR.search(part.words):
        return None
    names = {course.material(one.thing) for one in stuff if one.thing.kind == "material"}
    holds = [bath for bath in course.baths if names and all(bath.holds(name) for name in names)]
    return holds[0] if len(holds) == 1 else None


def _role_named(course: Course, part: Part) -> str:
    """What is drawn on where a part names skins or leaves: the dyestuff that is listed."""
    plants = any(t.kind == "part" for t in part.things)
    return "dye" if plants and course.stock.has("dye") else ""


def free_for_more(course: Course) -> bool:
    """True where what is at hand goes into a bath of its own: there is none, or it is done with."""
    bath = course.bath
    if bath is None or (bath.begun and bath.had_fibre and not bath.fibre):
        return True
    return bath.kind == "mordant" and course.has_worked(bath) and course.stock.has("dye")


TO_VOLUME = re.compile(
    r"\bto\s+(?:about\s+|around\s+|a\s+total\s+of\s+|(?:make|bring|give)\s+(?:(?:it|them|the\s+\w+)\s+)?"
    r"(?:up\s+)?(?:to\s+)?(?:about\s+)?)?$",
    re.I,
)
# "Add enough water to make 4 gallons": the bath is brought up to so much.
MAKES_UP = re.compile(
    r"\bwater\s+to\s+(?:make|bring|give)\s+(?:(?:it|them|the\s+\w+)\s+)?(?:up\s+)?(?:to\s+)?(?:about\s+)?(?=[\d½¼¾]|an?\b|[a-z]+\s+(?:gal|lit|pint|quart))",
    re.I,
)


def fill_up(course: Course, part: Part) -> None:
    """A bath brought up to a volume, or stuff into it where no volume is said to be reached."""
    bath = course.bath
    whole = [
        a
        for a in course.free(part, "volume")
        if TO_VOLUME.search(course.text[max(0, a.start - 24) : a.start])
    ]
    if bath is None and course.stock and whole:
        course.draw("")
        bath = course.bath
    if len(whole) != 1 or bath is None or not (bath.begun or bath.stuff):
        if not MAKES_UP.search(part.words):
            put(course, part)
        return
    _turn_to_what_is_filled(course, part, whole[0])
    heat = water_heat(course, part)
    enough = course.free(part, "loose") if MAKES_UP.search(part.words) else []
    step = course.on_bath("top up", {"to": whole[0]} | ({"at": heat} if heat is not None else {}))
    step.spoken = enough  # "enough water to make 4 gallons"
    _then(course, part)


def _turn_to_what_is_filled(course: Course, part: Part, volume: Amount) -> None:
    """Turn to the one bath that holds what is made up to so much: "top up the madder to 10 L"."""
    named = {
        course.plain_of(one)
        for one in part.things
        if one.kind == "material" and part.doing.end <= one.start < volume.start
    }
    holding = [one for one in course.baths if any(one.holds(name) for name in named)]
    if len(holding) == 1 and holding[0] is not course.bath:
        course.begin()
        course.bath = holding[0]


def _to_bath(part: Part) -> bool:
    return any(t.kind == "bath" for t in part.things)


def _then(course: Course, part: Part) -> None:
    """The heats, times and acidities that follow on what has been put in."""
    found = phases_of(course, part)
    if course.bath is not None and any(one.clauses for one in found):
        course.ready()
        clauses = wait_first(course, found[0])
        if clauses.keys() == {"for"} and not course.bath.fibre:
            course.on_bath("stand", clauses)
        else:
            bath_phase(course, clauses)
        go_on(course, found[1:])
    for amount in course.free(part, "acidity")[:1]:
        if course.bath is not None:
            course.on_bath("stand", {"until": amount})


UNTIL = re.compile(r"\b(?:un)?till?\s+(?:\w+\s+){0,3}$", re.I)


def dissolve(course: Course, part: Part) -> None:
    """Something dissolved in water of its own: a liquor that goes into the bath."""
    stuff = stuff_of(course, part)
    if not stuff and UNTIL.search(course.text[: part.doing.start][-24:]):
        return  # "stir until dissolved": a sign of what has been put in
    water = [m for m in stuff if m.thing.kind == "water"]
    last = course.steps[-1] if course.steps else None
    solids = [m for m in stuff if m.thing.kind != "water"]
    if water and last and last.on == "add" and last.sentence == course.number and not solids:
        heat = water_heat(course, part)
        _liquor(course, last, water[0])
        if heat is not None:
            course.steps[-2].clauses["at"] = heat
        return
    if not solids and course.stock:
        course.draw("")
    if water and solids and _is_poured(course, part):
        _liquor_of(course, stuff, water_heat(course, part))
        return
    own = has_water_of_a_bath(course, part, stuff) or _is_of_a_new_bath(course, part)
    if water and role_of(solids) == "mordant" and own:
        course.begin()
        course.new_bath("mordant")
    supply(course, part, stuff)
    _note_what_is_dissolved(course, part, stuff)
    _then(course, part)


MIXES = re.compile(r"mix|stir|melt", re.I)


def mixed_apart(course: Course, part: Part) -> bool:
    """True for "mix the alum with hot water in a jar", which is poured into a bath next.

    The verb may be left out: "2 g of iron in a cupful of hot water, and stir that into the bath".
    """
    mixed = not part.doing.act or MIXES.match(part.doing.words) is not None
    if not mixed or not _is_poured(course, part):
        return False
    stuff = stuff_of(course, part)
    kinds = {one.thing.kind for one in stuff}
    if kinds != {"material", "water"} or role_of(stuff) == "dye":
        return False
    _liquor_of(course, stuff, water_heat(course, part))
    return True


def _note_what_is_dissolved(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Note that a bath that is not begun has its stuff dissolved in the water that it has."""
    bath = course.bath
    water = any(one.thing.kind == "water" for one in stuff)
    mixed = MIXES.match(part.doing.words) is not None and role_of(stuff) == "mordant"
    if bath is not None and not bath.begun and water and len(stuff) > 1:
        bath.dissolved = course.number if mixed or part.doing.act == "dissolve" else 0


POURED_INTO_WATER = re.compile(
    r"\W*(?:and\s+|then\s+)*(?:add|pour|stir|tip|put)\w*\s+(?:(?:it|this|that|the\s+solution)\s+)?(?:in)?to\s",
    re.I,
)


def _is_of_a_new_bath(course: Course, part: Part) -> bool:
    """True where the words go on with "and pour it into 4 litres of warm water", of no bath yet."""
    bath, after = course.bath, _part_behind(course, part)
    if bath is None or not bath.had_fibre or after is None:
        return False
    into = POURED_INTO_WATER.match(after.words) is not None
    return into and any(one.kind == "volume" for one in after.amounts)


def _part_behind(course: Course, part: Part) -> Part | None:
    """The next part of the sentence."""
    if course.sentence is None:
        return None
    return next((one for one in course.sentence.parts if one.start > part.start), None)


A_LIQUOR = (
    r"(?:it|this|that|the\s+(?:dissolved\s+)?(?:solution|mixture|liquid|alum|iron|copper|tin|chalk|soda|tartar"
    r"|lime|salt)(?:\s+(?:solution|water|mixture))?)"
)
POURED = re.compile(
    rf"\W*(?:and\s+|then\s+|now\s+)*(?:add|pour|stir|tip)\w*\s+(?:{A_LIQUOR}\s+)?(?:in)?to\s+"
    r"(?:(?:the|your)\s+(?:[a-z-]+\s+)?)?(?:dye\s*-?)?(?:bath|pot|pan|kettle|vat|liquor|dye)\b",
    re.I,
)
# "Dissolve the iron in a cup of hot water. Lift the wool and add this to the dye."
POURED_NEXT = re.compile(
    r"\W*(?:(?:lift|take|remove|pull)\b[^.;]{0,40}?(?:,|,?\s+and|,?\s+then)\s+)?(?:then\s+|now\s+)*"
    rf"(?:add|pour|stir|tip)\w*\s+{A_LIQUOR}\s+(?:in)?to\s+"
    r"(?:the|your)\s+(?:[a-z-]+\s+)?(?:dye\s*-?)?(?:bath|pot|pan|kettle|vat|liquor|dye)\b",
    re.I,
)
IN_A_JUG = re.compile(r"\bin\s+an?\s+(?:[a-z]+\s+)?(?:jug|jar|cup|mug|bowl|basin|glass)\b", re.I)


def _is_poured(course: Course, part: Part) -> bool:
    """True where the words go on with "add to the bath": what is dissolved is no bath itself."""
    bath, after = course.bath, _part_behind(course, part)
    if after is None and course.sentence is not None and bath is not None and bath.begun:
        return POURED_NEXT.match(course.text, course.sentence.end) is not None
    if after is None or POURED.match(after.words) is None:
        return False
    if any(one.kind == "volume" for one in after.amounts):
        return False  # "pour it into the big pan with 3 gallons of cold water"
    if bath is not None and (bath.begun or bath.holds("water")):
        return True
    return IN_A_JUG.search(part.words) is not None


def _liquor_of(course: Course, stuff: list[Measured], heat: Amount | None) -> None:
    """A liquor of its own, which the next part of the sentence pours into the bath at hand."""
    brought: list[Brought] = []
    for item in stuff:
        listed = None if item.amounts else course.stock.named(item.thing.name)
        amounts = listed.amounts if listed else item.amounts
        brought.append(Brought(course.material(item.thing), amounts))
    bath, role = course.bath or course.new_bath(), role_of(stuff)
    if role and not bath.kind:
        course.name_kind(bath, role)
    if bath.holds("water"):
        course.begin()  # "fill the pot with 5 litres of water; dissolve the alum in ..."
    made = make_liquor(course, brought, heat)
    course.liquor = course.number, made.name
    bath.stuff += made.brought if not bath.begun else [b for b in made.brought if b.name != "water"]


def _liquor(course: Course, added: Step, water: Measured) -> None:
    """Turn "add X to the bath" into a liquor of X, added."""
    course.steps.remove(added)
    made = make_liquor(course, [*added.brought, Brought("water", water.amounts)], None)
    pour = Step("add", course.number, "add", added.bath)
    pour.name = made.name
    course.add(pour)


# "Strain both": the two liquors that stand ready.
BOTH = re.compile(
    r"\s+both\b(?:\s+(?:of\s+them|(?:the\s+)?(?:liquors|baths|dye-?baths|pots|pans|dyes)))?\s*(?:[.,;]|$)",
    re.I,
)


def strain(course: Course, part: Part) -> None:
    """The solids out of a bath."""
    if course.bath is None and course.stock:
        course.draw("")
    waiting = [one for one in course.baths if one.stuff and not one.clear and not one.had_fibre]
    if BOTH.match(course.text, part.doing.end) and len(waiting) == len(("this", "that")):
        for course.bath in waiting:
            course.on_bath("strain")
            course.bath.clear = True
        return
    if course.bath is not None:
        found = phases_of(course, part)
        step = course.on_bath("strain")
        if step.bath is not None:
            step.bath.clear = True
        go_on(course, found if found[0].clauses else [])
    supply(course, part, stuff_of(course, part))


EMPTIED_INTO = re.compile(
    r"\s+(?:(?:it|them|this|(?:the|your)\s+[\w-]+(?:\s+[\w-]+)?)\s+)?(?:gently\s+|slowly\s+|carefully\s+)?"
    r"(?:in|into|under|beneath|below)\b",
    re.I,
)


PLANTS_AWAY = re.compile(r"\s+(?:them|these|those|(?:the\s+)?(?:solids|plants?|bits))\b", re.I)


def discard(course: Course, part: Part) -> None:
    """A bath thrown away."""
    bath = course.bath
    if EMPTIED_INTO.match(course.text, part.doing.end):
        return  # "empty it under the surface": into the bath, and not away
    kept = re.search(r"pour\w* off|decant", part.doing.words) and bath and not bath.had_fibre
    if kept or re.search(r"\bpour\w* off\s+(?:from|the\s+(?:liquor|clear))", part.words):
        strain(course, part)  # the liquor from what it was drawn out of
        return
    if bath is not None and all(a.kind == "loose" for a in part.amounts) and not bath.fibre:
        if PLANTS_AWAY.match(course.text, part.doing.end):
            return  # "squeeze out the plants and discard them"
        if any(t.kind in ("part", "material") for t in part.things):
            return
        course.on_bath("discard")
        course.bath = None


def ready(course: Course, part: Part) -> None:
    """Plants made ready: they wait for what is done with them."""
    for item in stuff_of(course, part):
        unused = part_played(item.thing) == "dye" and not _is_at_hand(course, item)
        if item.amounts or unused:
            course.stock.put(item)
    plants = [t for t in part.things if t.kind == "material" and part_played(t) == "dye"]
    named = NAMED.match(course.text, part.doing.end)
    if named and course.plant and named[1].lower() in course.plant.words.lower().split():
        plants = plants or [course.plant]  # "the cabbage", where red cabbage has been named
    if not plants and course.plant and any(t.kind == "part" for t in part.things):
        plants = [course.plant]  # "chop the root", where rhubarb root is listed
    if len(plants) == 1:
        course.readied = course.number, plants[0]
        _cut_up(course, part, plants[0])
    course.focus = "material"


CHOPPED = re.compile(r"(?:chop|cut|shred|tear|tore|break|broke)", re.I)


def _cut_up(course: Course, part: Part, plant: Thing) -> None:
    """A step for a plant that is chopped or ground before it goes into a bath."""
    verb = "chop" if CHOPPED.match(part.doing.words) else "grind"
    if verb == "grind" and not part.doing.words.startswith("grind"):
        return  # bruised, mashed: what is done with the hand or a mallet has no verb of its own
    step = Step(verb, course.number, "stuff")
    step.name = course.material(plant)
    course.add(step)


def plant_washed(course: Course, part: Part) -> None:
    """A plant washed: the language has no step for it, and it is the one that is gone on with."""
    named = [t for t in part.things if t.kind == "material" and part_played(t) == "dye"]
    plant = named[0] if named else course.plant
    if plant is not None:
        course.readied = course.number, plant
        course.of_no_bath.add((course.number, part.doing.words))


NAMED = re.compile(r"\s+(?:the|your|all\s+the)\s+(\w+)", re.I)


def with_what_is_ready(course: Course, part: Part) -> Part | None:
    """The part with the plant of "Chop the weld. Put it in the pot"; None where fibre is meant."""
    ready = course.readied
    if ready is None or course.number - ready[0] > 1 or course.names_fibre(part):
        return None
    if any(t.kind in ("material", "part") for t in part.things) or not MEANT.search(part.words):
        return None
    plant = ready[1]._replace(start=part.doing.end, end=part.doing.end)
    return part._replace(things=(plant, *part.things))


MEANT = re.compile(r"\b(?:it|them|all|everything)\b", re.I)


def _is_at_hand(course: Course, item: Measured) -> bool:
    """True where a bath holds a material, or it is laid by."""
    name = course.material(item.thing)
    listed = any(one.thing.name == item.thing.name for one in course.stock.items)
    return listed or any(bath.holds(name) for bath in course.baths)


# Ways of putting that are read by themselves: each is true where it has followed the part.
OTHERWISE_DONE = (_is_with_a_lid, into_last_rinse, _poured, _wetted, mixed_apart, _filled_anew)
