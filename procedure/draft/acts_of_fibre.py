"""What is done to fibre: wetting, mordanting, dyeing, lifting, washing, drying."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.acts_of_stuff import (
    PUT_BACK,
    free_for_more,
    gather,
    plant_washed,
    put,
    with_what_is_ready,
)
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.dipping_rounds import is_vat
from procedure.draft.headings import turn_to_section
from procedure.draft.heats_and_times import Phase
from procedure.draft.last_water import with_the_last
from procedure.draft.mordanting import only_heads
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, part_played, role_of
from procedure.draft.supplies import is_modifier, stuff_of, supply, turn_to_called, water_heat
from procedure.draft.things import Thing
from procedure.draft.told_times import time_since_the_first
from procedure.draft.turning import share_of
from procedure.draft.unsettled_steps import Brought, Step
from procedure.draft.working import (
    bath_phase,
    fibre_out,
    go_on,
    phases_of,
    until_a_sign,
    wait_first,
    work_in,
)


def enter(course: Course, part: Part) -> None:
    """Fibre into a bath, or stuff where it is stuff that goes in."""
    if BATH_GOES.search(course.text[max(0, part.doing.start - 48) : part.doing.start]):
        return  # "the rest of the bath goes back into the barrel"
    plant_in = with_what_is_ready(course, part)
    if plant_in is not None:
        put(course, plant_in)
        return
    stuff = stuff_of(course, part)
    if LIQUOR.match(course.text, part.doing.end) and not course.names_fibre(part):
        return  # "lower in the stock": what goes in is no fibre
    into = part.doing.words.endswith((" in", "into", " to"))  # "put it in a jar"
    if not into and VESSEL_GOES.match(course.text, part.doing.end):
        return  # "lower the jug under the surface"
    if not course.names_fibre(part):
        if any(m.thing.kind == "material" for m in stuff):
            put(course, part)
            return
        at_hand = course.bath is not None and bool(course.bath.stuff)
        if course.focus == "material" and (course.stock or not at_hand):
            put(course, part)
            return
    if stuff:
        supply(course, part, stuff)
    if (
        course.bath is not None
        and course.bath.had_fibre
        and REMAINS.search(course.text, part.start, part.end + len(" remains"))
    ):
        work_in(course, part, course.bath)
        return
    _turn_to_what_waits(course)
    back = RETURNS.search(part.doing.words) or PUT_BACK.match(course.text, part.doing.start)
    if course.bath is None or (
        course.stock and (not course.bath.stuff or (_left(course) and not back))
    ):
        course.draw("")
    plant = None if course.lots or course.names_fibre(part) or stuff else course.plant
    if plant and not any(bath.holds(course.material(plant)) for bath in course.baths):
        supply(course, part, [Measured(plant, (), course.number)])
        return
    work_in(course, part, course.ready())


# "Enter the second hank in what remains": in the bath at hand, whatever is listed besides.
REMAINS = re.compile(
    r"\b(?:in|into)\s+(?:what(?:ever)?\s+(?:remains|is\s+left|was\s+left)|the\s+(?:rest|remains|remainder)(?!\s+of\s+the\s+(?!bath|liquor|dye))"
    r"|the\s+(?:same|spent|used)\s+(?:bath|liquor|pot|dye\w*|water))",
    re.I,
)
BATH_GOES = re.compile(
    r"\b(?:rest|remainder|remains|half)\s+of\s+(?:the|this|that)\s+(?:\w+\s+)?(?:bath|liquor|dye|liquid|vat|water|stock)\s+$"
    r"|(?:^|[.;\n]\s*)the\s+(?:\w+\s+)?(?:bath|liquor|liquid|dyebath|stock)\s+$",
    re.I,
)


def _turn_to_what_waits(course: Course) -> None:
    """Out of a mordant of an earlier sentence, into the one dye bath that waits for the fibre."""
    bath = course.bath
    if bath is None or bath.kind != "mordant" or not bath.fibre:
        return
    if course.steps and course.steps[-1].sentence == course.number:
        return
    waiting = [one for one in course.baths if one.kind == "dye" and one.clear and not one.had_fibre]
    if len(waiting) == 1:
        course.on_lot("lift")
        fibre_out(course)
        course.bath = waiting[0]


LIQUOR = re.compile(
    r"\s+(?:in\s+)?(?:the|your|this)\s+(?:lid|cover|water|stock|paste|concentrate|solution|mixture|mix|liquid|contents)\b",
    re.I,
)
VESSEL_GOES = re.compile(
    r"\s+(?:back\s+)?(?:the|your|this|a)\s+(?:\w+\s+)?(?:jug|jar|bottle|cup|ladle|pan|pail|bucket|bowl|basin|thermometer|flower|bloom|scum|froth|lid)\b",
    re.I,
)
RETURNS = re.compile(r"re-?enter|return|again|back|replace", re.I)


def _left(course: Course) -> bool:
    """True where the fibre has been in the bath at hand, and out again."""
    bath = course.bath
    return bath is not None and bath.had_fibre and not bath.fibre


def lift(course: Course, part: Part) -> None:
    """Fibre out of its bath."""
    bath = course.bath
    if bath is not None and _went_in_unsaid(course, part):
        course.on_lot("lift")
        fibre_out(course)
        bath.lifted = True
        return
    if bath is not None and bath.begun and _solids_out(course, part):
        course.on_bath("strain")
        bath.clear = True
        return
    found = phases_of(course, part)
    if _was_never_in(course):
        return  # "skein B came out after half an hour": it is not told that it went in
    since = time_since_the_first(course, found[0])
    if since is None:
        if bath is not None and bath.fibre and bath.begun and course.lifted_after is not None:
            course.last_on = "bath"  # of the lots that are in it still
        wait_first(course, found[0])
    worked = bath is not None and bath.kind == "mordant" and course.has_worked(bath)
    if bath is not None and (bath.fibre or (worked and course.lots and course.last_on == "bath")):
        step = course.on_lot("lift")
        if since is not None:
            step.note = f"after {since.words}", (since,)
            course.used.add(since.start)
        if "first" in found[0].clauses:
            course.lifted_after = course.number, found[0].clauses["first"]
        fibre_out(course)
    stuff = [m for m in stuff_of(course, part) if m.amounts]
    if any(GOES_IN_THERE.match(course.text, m.thing.end) for m in stuff):
        part = part._replace(doing=part.doing._replace(words="add"))
    supply(course, part, stuff)


RINSES = frozenset(("rinse", "wash", "squeeze", "air", "dry"))


def _went_in_unsaid(course: Course, part: Part) -> bool:
    """True for "hold 45 min. Lift it out and rinse": what is rinsed was in the bath.

    A plant that is taken out is named, or thrown away; nobody rinses it.
    """
    bath, sentence = course.bath, course.sentence
    if bath is None or sentence is None or bath.kind != "dye" or bath.had_fibre or not course.lots:
        return False
    if any(one.kind in ("material", "part") for one in part.things) or course.names_fibre(part):
        return False
    behind = [one for one in sentence.parts if one.start > part.start and one.doing.act]
    rinsed = bool(behind) and behind[0].doing.act in RINSES and not behind[0].things
    kept = [one for one in course.steps if one.bath is bath and one.verb in ("hold", "heat")]
    return rinsed and any("for" in one.clauses for one in kept)


def _was_never_in(course: Course) -> bool:
    """True where a part takes out some of the fibre, by name, that no step has put in."""
    share = course.share
    if share is None or course.lot_turned != course.number:
        return False
    went_in = [one for one in course.steps if one.on == "lot" and one.bath is not None]
    return not any(share & share_of(course, one) for one in went_in)


GOES_IN_THERE = re.compile(r"\s+(?:stirred\s+)?in\b", re.I)  # "lift the wool, 1 g iron in"


def _solids_out(course: Course, part: Part) -> bool:
    """True where what comes out is the plant: it is named, or no fibre has been in."""
    bath = course.bath
    if course.names_fibre(part) or bath is None:
        return False
    behind = [t for t in part.things if t.start >= part.doing.end]
    if behind and behind[0].kind in ("material", "part"):
        return not re.search(r"[,.;]", course.text[part.doing.end : behind[0].start])
    return not bath.had_fibre and bath.kind == "dye" and not bath.clear


def rinse(course: Course, part: Part) -> None:
    """Fibre rinsed."""
    _washed(course, part, "rinse")


def wash(course: Course, part: Part) -> None:
    """Fibre washed."""
    _washed(course, part, "wash")


def _of_plants(course: Course, part: Part) -> bool:
    """True where what is rinsed is the plant, before there is any fibre to rinse."""
    if _washes_plants(course, part) or _plant_is_washed(course, part):
        return True
    started = any(bath.had_fibre for bath in course.baths)
    if course.names_fibre(part) or started or course.focus == "fibre":
        return False
    return not course.lots or bool(re.search(r"\bthem\b", part.words))


# "Wash the avocado stones", "rinse the hulls": the plant is what stands behind the verb.
WHAT_IS_WASHED = re.compile(
    r"\s+(?:off\s+)?(?:(?:the|your|all|these|those|any|of)\s+)*\s*(?:of\s+)?(?:\w+ed\s+|fresh\s+|dry\s+)?"
)


def _washes_plants(course: Course, part: Part) -> bool:
    first = next((one for one in part.things if one.start >= part.doing.end), None)
    if first is None or course.names_fibre(part):
        return False
    gap = course.text[part.doing.end : first.start]
    for amount in part.amounts:
        gap = gap.replace(amount.words, "")  # "wash 50 g of avocado stones"
    if not WHAT_IS_WASHED.fullmatch(gap):
        return False
    return first.kind == "part" or (first.kind == "material" and part_played(first) == "dye")


def _plant_is_washed(course: Course, part: Part) -> bool:
    """True for "Madder: 100 g, washed in cold water": what is measured before it is a plant."""
    sentence = course.sentence
    if sentence is None or not part.doing.words.endswith("ed") or course.names_fibre(part):
        return False
    named = [one for each in sentence.parts for one in each.things if one.end <= part.doing.start]
    if not named or any(one.kind not in ("material", "part", "water") for one in named):
        return False
    acts = [one.doing for one in sentence.parts if one.doing.act and one.start < part.start]
    plant = named[-1].kind == "part" or (
        named[-1].kind == "material" and part_played(named[-1]) == "dye"
    )
    return plant and not acts


def _washed(course: Course, part: Part, verb: str) -> None:
    stuff = stuff_of(course, part)
    if _of_plants(course, part):
        if _washes_plants(course, part) or _plant_is_washed(course, part):
            plant_washed(course, part)
        water_heat(course, part)  # of the water that they are washed in, and of no bath
        supply(course, part, [m for m in stuff if m.thing.kind != "water" or m.amounts])
        return
    course.a_lot()
    course.begin()
    step = Step(verb, course.number, "lot")
    counts = course.free(part, "times")
    step.brought = _for_washing(course, part, stuff)
    heat = water_heat(course, part)
    found = phases_of(course, part)
    step.clauses = dict(found[0].clauses)
    first = step.clauses.pop("first", None)
    if first is not None:
        _lies_before(course, first)
    if heat is not None:
        step.clauses.setdefault("at", heat)
    last = with_the_last(course, part, step, counts[0] if counts else None)
    if last is None:
        _repeated(step, counts[:1])
    if step.brought:
        step.vessel = course.tub()
    course.add(step)
    if last is not None:
        course.add(last)
    fibre_out(course)
    if course.bath is not None and course.bath.had_fibre and not course.bath.kind:
        course.bath = None  # suds and lyes are done with once the fibre is rinsed
    for phase in found[1:]:
        course.on_lot(verb, phase.clauses)


WAITS = frozenset(("air", "dry", "rest"))


def _lies_before(course: Course, time: Amount) -> None:
    """The days of "hung up, and washed after 3 days": fibre that is out of its bath waits."""
    last = course.steps[-1] if course.steps else None
    if last is None or last.on != "lot" or (last.bath is not None and last.verb != "dip"):
        return
    if last.verb in WAITS and "for" not in last.clauses:
        last.clauses["for"] = time
        last.verb = "dry" if last.verb == "air" and time.unit in LONG else last.verb
        course.used.add(time.start)
        return
    course.on_lot("rest", {"for": time})


def _repeated(step: Step, counts: list[Amount]) -> None:
    for count in counts:
        if count.bound or count.low is None:
            continue
        if count.low > 1:
            step.repeat = count._replace(kind="times", unit="times")
        else:
            step.spoken.append(count)


def _with(course: Course, item: Measured) -> bool:
    """True where the words before a thing bring it: "with soap flakes", and not "of the iron"."""
    before = course.text[max(0, item.thing.start - 24) : item.thing.start]
    return bool(
        re.search(r"\b(?:with|in|using|and|plus|of)\s+(?:[\w-]+\s+){0,2}$|[,+]\s*$", before)
    ) and not re.search(r"\bbecause of\s+(?:[\w-]+\s+)?$", before)


def _for_washing(course: Course, part: Part, stuff: list[Measured]) -> list[Brought]:
    brought: list[Brought] = []
    for item in stuff:
        name = course.material(item.thing) if item.amounts or _with(course, item) else ""
        amounts = item.amounts
        if not name or (name == "water" and not amounts):
            continue
        if part_played(item.thing) in ("dye", "mordant"):
            continue  # nobody washes in a dye: what it is for is asked
        brought.append(Brought(name, amounts or _as_was_listed(course, item)))
    if part.doing.words.startswith("soap") and not any("soap" in one.name for one in brought):
        strength = course.free(part, "strength", "mass", "spoon", "share")
        name = course.material(Thing("material", "neutral soap", "soap", 0, 0))
        brought.append(Brought(name, tuple(strength[:1])))
    return brought


def _as_was_listed(course: Course, item: Measured) -> tuple[Amount, ...]:
    """How much of it a list has, where it has any: it is used now."""
    listed = course.stock.named(item.thing.name)
    return listed.amounts if listed else ()


def scour(course: Course, part: Part) -> None:
    """Fibre scoured, or silk freed of its gum."""
    stuff = stuff_of(course, part)
    verb = "degum" if re.search("degum|boil", part.doing.words) else "scour"
    step = Step(verb, course.number, "lot")
    course.a_lot()
    course.begin()
    step.vessel = course.tub()
    step.brought = [
        Brought(course.material(one.thing), one.amounts or _as_was_listed(course, one))
        for one in stuff
    ]
    heat = water_heat(course, part)
    found = phases_of(course, part)
    step.clauses = wait_first(course, found[0])
    if heat is not None:
        step.clauses.setdefault("at", heat)
    course.add(step)
    course.last_on, course.focus = "lot", "fibre"


THEN_IN = re.compile(r"\bthen\s+(?:put\s+)?(?:in|into|through)\s+the\s+\w", re.I)


# "Press it under": the fibre stays in its bath.
UNDER = re.compile(r"\W*[\w-]+\s+(?:(?:it|them|everything|the\s+\w+)\s+)?(?:under|down)\b", re.I)


def squeeze(course: Course, part: Part) -> None:
    """The liquor pressed out of the fibre."""
    if UNDER.match(part.words[part.doing.start - part.start :]):
        return
    if THEN_IN.search(part.words) and not course.names_fibre(part):
        here = course.bath
        turn_to_called(course, part)
        fibre_out(course)
        course.on_lot("squeeze")
        if course.bath is not None and course.bath is not here:
            work_in(course, part, course.bath)
        return  # where the bath is not known, its time is left
    _simple(course, part, "squeeze")


def dry(course: Course, part: Part) -> None:
    """Fibre dried."""
    _simple(course, part, "dry")


LONG = frozenset(("d", "wk", "month"))  # what hangs for so long dries
OFTEN = re.compile(r"\b(?:often|now and then|occasionally|frequently|from time to time)\b", re.I)


def air(course: Course, part: Part) -> None:
    """Fibre in the air."""
    if OFTEN.search(part.words):
        return  # while it is in its bath; told of as not followed
    hung = part.doing.words.startswith(("hang", "hung", "lay", "laid", "leave", "left", "spread"))
    times = course.free(part, "time")
    long = any(a.kind == "time" and a.unit in LONG for a in times)
    ends = not times and HUNG_TO_DRY.search(part.words) is not None and _is_rinsed(course)
    _simple(course, part, "dry" if hung and (long or ends) else "air")


# "Hang it in the shade", "hang them on the line", once it has been rinsed: there it dries.
HUNG_TO_DRY = re.compile(
    r"\b(?:in\s+(?:the\s+)?shade|out\s+of\s+(?:the\s+|direct\s+)?sun|away\s+from\s+(?:the\s+|direct\s+)?sun|on\s+(?:the|a)\s+"
    r"(?:washing\s+)?(?:line|rack|rail|horse)|outside|outdoors)\b",
    re.I,
)


def _is_rinsed(course: Course) -> bool:
    """True where the fibre was rinsed or washed in the last step, or squeezed out of that."""
    done = [one.verb for one in course.steps if one.on == "lot" and one.verb != "squeeze"]
    return bool(done) and done[-1] in ("rinse", "wash")


# "It is better for lying a day in a damp towel": out of its bath, and not dried.
IN_A_TOWEL = re.compile(
    r"\b(?:in|inside|under)\s+(?:(?:an?|the|some)\s+)?(?:(?:damp|wet|moist|dry|clean|old|plastic|polythene|closed|sealed)\s+)*"
    r"(?:towel|sheet|blanket|(?:plastic|polythene)\s+bag|bag)\b",
    re.I,
)


def lies_in_a_towel(course: Course, part: Part) -> bool:
    """True where fibre is kept for a time in a towel or a bag, which is a step of its own."""
    times = course.free(part, "time", "named wait")
    kept = part.doing.act in ("", "hold", "leave", "soak", "enter", "dip", "air")
    towel = IN_A_TOWEL.search(part.words) if kept and times and course.lots else None
    if towel is None or any(one.kind == "material" for one in part.things):
        return False
    fibre_out(course)
    course.on_lot("rest", wait_first(course, phases_of(course, part)[0]))
    return True


BESIDE = re.compile(r"\bwith\s+(?:all\s+)?(?:the|its|their)\s+$", re.I)


IT_BEFORE = re.compile(r"\b(?:it|them)\s*$", re.I)


def _only_beside(course: Course, part: Part, plants: list[Thing]) -> bool:
    """True for the petals of "let it dry with the petals on"."""
    if course.focus != "fibre":
        return False
    before = course.text[max(0, plants[0].start - 24) : plants[0].start]
    object_first = course.text[max(0, part.doing.start - 12) : part.doing.start]
    it = IT_BEFORE.search(object_first) or part.doing.words.endswith((" it dry", " them dry"))
    return bool(it) or BESIDE.search(before) is not None


def _simple(course: Course, part: Part, verb: str) -> None:
    plants = [t for t in part.things if t.kind in ("material", "part")]
    if not course.names_fibre(part) and plants and not _only_beside(course, part, plants):
        gather(course, part, dried=True)  # leaves hung up to dry are no fibre
        return
    strained = bool(course.steps) and course.steps[-1].verb == "strain"
    if verb == "squeeze" and strained and not any(bath.had_fibre for bath in course.baths):
        return  # leaves are pressed out
    fibre_out(course)
    found = phases_of(course, part)
    course.on_lot(verb, wait_first(course, found[0]))


def dip(course: Course, part: Part) -> None:
    """Fibre into a vat and out again."""
    counts = [a for a in course.free(part, "times") if not OTHER_COUNT.search(a.words)]
    stuff = stuff_of(course, part)
    if not stuff:
        _turn_to_the_vat(course)
    other = course.bath is not None and role_of(stuff) == "dye"
    if other and not any(course.bath.holds(course.material(m.thing)) for m in stuff):  # type: ignore[union-attr]
        course.new_bath("dye")
    elif _has_own_water(course, stuff):
        course.new_bath(role_of(stuff))
    supply(course, part, stuff)
    bath = course.ready()
    found = phases_of(course, part)
    step = Step("dip", course.number, "lot", bath)
    step.clauses = wait_first(course, found[0])
    _repeated(step, counts[:1])
    course.a_lot()
    course.add(step)
    bath.had_fibre = True
    course.last_on, course.focus = "lot", "fibre"
    for phase in found[1:]:
        course.on_lot("air", phase.clauses)
    for count in [a for a in course.free(part, "times") if "rins" in a.words.lower()]:
        _repeated(course.on_lot("rinse"), [count])
        course.used.add(count.start)


def _turn_to_the_vat(course: Course) -> None:
    """Back to the one vat from a mordant's or a dye's bath that the fibre has left."""
    bath = course.bath
    vats = [one for one in course.baths if is_vat(one)]
    if bath is None or len(vats) != 1 or bath is vats[0] or bath.fibre or not bath.had_fibre:
        return
    if bath.kind in ("mordant", "dye"):
        course.begin()
        course.bath = vats[0]


OTHER_COUNT = re.compile(r"rins|wash|water", re.I)  # "dip, 2 rinses"


def _has_own_water(course: Course, stuff: list[Measured]) -> bool:
    """True for "dip it in a litre of water with a spoon of soda", where the fibre has been dyed."""
    bath = course.bath
    measured = [one for one in stuff if one.amounts]
    water = any(one.thing.kind == "water" for one in measured)
    used = bath is not None and bath.had_fibre
    if bath is not None and bath.fibre:
        used = course.has_worked(bath) and all(one.amounts for one in stuff)
    return used and water and any(one.thing.kind == "material" for one in stuff)


ANNOUNCES = re.compile(r":\s*$")


DRAWS = frozenset(("soak", "boil", "simmer", "strain", "dissolve"))


HEADS = re.compile(r":|\s-\s")  # "Dye: ...", "Dye - ..."


def _plant_first(course: Course, part: Part) -> bool:
    """True for "Dye: madder 60 %, soaked overnight, boiled": the plant is drawn out first."""
    if course.sentence is None or not HEADS.match(course.text, part.doing.end):
        return False
    later = [one for one in course.sentence.parts if one.start > part.start]
    return bool(later) and later[0].doing.act in DRAWS and not course.names_fibre(later[0])


def _draw_what_is_listed(course: Course, stuff: list[Measured]) -> None:
    """The weld of "weld 100 g. Dye the wool in 4 litres of water" into a bath."""
    water_alone = bool(stuff) and all(m.thing.kind == "water" and m.amounts for m in stuff)
    if course.stock.has("dye") and (not stuff or (water_alone and free_for_more(course))):
        course.draw("dye")


def _is_extracted(course: Course, part: Part, found: list[Phase]) -> bool:
    """True for the heat and time of "dye: osage chips, 90 °C 1 h to extract", without fibre."""
    if not TO_EXTRACT.search(part.words) or course.names_fibre(part):
        return False
    course.ready()
    bath_phase(course, wait_first(course, found[0]))
    go_on(course, found[1:])
    return True


TO_EXTRACT = re.compile(r"\bto\s+(?:extract|draw\s+out)\b", re.I)  # "90 °C 1 h to extract"


def dye(course: Course, part: Part) -> None:
    """Fibre dyed."""
    if only_heads(course, part):
        turn_to_section(course, "dye")
        return
    stuff = stuff_of(course, part)
    found = phases_of(course, part)
    timed = any(one.clauses for one in found)
    _draw_what_is_listed(course, stuff)
    at_hand = course.bath is not None and course.bath.begun
    if stuff and not timed and not at_hand and not any(m.amounts for m in stuff):
        return  # "to dye brown with alder": spoken of, not done
    if not timed and _lists_plants(course, part, stuff):
        for item in stuff:
            if item.amounts:
                course.stock.put(item)
                course.used.update(one.start for one in item.amounts)
        turn_to_section(course, "dye")
        course.focus = "material"
        return
    supply(course, part, stuff)
    if timed and _is_extracted(course, part, found):
        return
    if not timed and (ANNOUNCES.search(part.words) or _plant_first(course, part)):
        if any(m.thing.kind == "material" for m in stuff):
            course.focus = "material"
        return  # "dye with weld: soak it ...": the fibre goes in when the bath is ready
    if course.bath is None and not timed:
        return
    bath = course.ready()
    if bath.fibre and not timed:
        until_a_sign(course, part, "hold")
        return
    if not timed and not stuff and not bath.stuff:
        return  # spoken of, not done
    work_in(course, part, bath, "dye", found)


def _lists_plants(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """True for "Dye: 1 kg of tansy.": a heading with what its bath is made of, and no deed."""
    if course.text[part.doing.end : part.doing.end + 1] != ":" or course.names_fibre(part):
        return False
    own = [one for one in stuff if one.amounts and one.thing.kind == "material"]
    behind = course.text[part.end : part.end + limits.LETTERS_TO_FIBRE_GOES_IN]
    goes_in = GOES_IN_LATER.search(behind.split("\n\n")[0])
    return bool(own and goes_in) and not any(one.thing.kind == "water" for one in stuff)


# The bath is made first where the words behind a heading strain it or put the fibre in.
GOES_IN_LATER = re.compile(
    r"\b(?:strain|sieve|filter|enter(?:ing)?|introduce|immerse|(?:put|add)\s+(?:in\s+)?(?:the|your|wet|damp))\b",
    re.I,
)


def modify(course: Course, part: Part) -> None:
    """A colour changed in an after-bath."""
    if only_heads(course, part):
        return  # "Sadden: add ...": its verbs come behind it
    stuff = stuff_of(course, part)
    supply(course, part, stuff)
    work_in(course, part, course.ready(), "modify" if is_modifier(course, stuff) else "")
