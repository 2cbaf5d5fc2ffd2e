"""What is done to fibre: wetting, mordanting, dyeing, lifting, washing, drying."""

from __future__ import annotations

import re

from procedure.draft.acts_of_heat import until_cold
from procedure.draft.acts_of_stuff import gather, put, wet_out
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.headings import turn_to_section
from procedure.draft.lexicon import meanings
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, part_played, role_of
from procedure.draft.supplies import is_modifier, stuff_of, supply, turn_to_called, water_heat
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Bath, Brought, Step
from procedure.draft.working import (
    bath_phase,
    fibre_out,
    go_on,
    phases_of,
    speaks_of_bath,
    wait_first,
    wet_before,
    work_in,
)

BEFORE = re.compile(
    r"(?:\b(?:i|we|you|they|she|he)'d|\b(?:been|had|has|have|having|previously|already|(?:which|that)\s+(?:was|were)|beforehand|first))"
    r"\s+(?:\w+ly\s+)?$",
    re.I,
)


def enter(course: Course, part: Part) -> None:
    """Fibre into a bath, or stuff where it is stuff that goes in."""
    stuff = stuff_of(course, part)
    if LIQUOR.match(course.text, part.doing.end) and not course.names_fibre(part):
        return  # "lower in the stock": what goes in is no fibre
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
    _turn_to_what_waits(course)
    back = RETURNS.search(part.doing.words) is not None
    if course.bath is None or (
        course.stock and (not course.bath.stuff or (_left(course) and not back))
    ):
        course.draw("")
    plant = None if course.lots or course.names_fibre(part) or stuff else course.plant
    if plant and not any(bath.holds(course.material(plant)) for bath in course.baths):
        supply(course, part, [Measured(plant, (), course.number)])
        return
    work_in(course, part, course.ready())


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
    r"\s+(?:in\s+)?(?:the|your|this)\s+(?:stock|paste|concentrate|solution|mixture|mix|liquid|contents)\b",
    re.I,
)
RETURNS = re.compile(r"re-?enter|return|again|back|replace", re.I)


def _left(course: Course) -> bool:
    """True where the fibre has been in the bath at hand, and out again."""
    bath = course.bath
    return bath is not None and bath.had_fibre and not bath.fibre


IT = re.compile(r"\b(?:it|them)\b", re.I)


def soak(course: Course, part: Part) -> None:
    """Fibre wetted or steeped, or stuff soaked in a bath of its own."""
    stuff = stuff_of(course, part)
    materials = [m for m in stuff if m.thing.kind != "water"]
    if materials and _was_done_before(course, part):
        course.not_followed.append((course.number, part.doing.words))
        return
    fibre = course.names_fibre(part) or (
        course.focus == "fibre" and not materials and not any(t.kind == "part" for t in part.things)
    )
    if course.focus == "material" and not course.names_fibre(part):
        fibre = False
    done = course.focus == "fibre" and course.last_on == "lot" and role_of(materials) == ""
    meant = course.focus == "fibre" and role_of(materials) == ""
    done = bool(done and course.steps) or (meant and IT.search(part.words) is not None)
    if materials and course.lots and (role_of(materials) == "mordant" or done):
        fibre = True  # nobody soaks alum: what is soaked in it is the fibre
    bath = course.bath
    if bath is not None and bath.fibre and not materials and not course.names_fibre(part):
        _state_or_time(course, part, stuff)
        return
    ready = bath is not None and bath.kind == "mordant" and not bath.had_fibre
    dyed = any(other.kind == "dye" and other.had_fibre for other in course.baths)
    ready = ready and bath is not None and (bath.begun or (dyed and bool(bath.stuff)))
    if ready and course.lots and not materials and not any(m.amounts for m in stuff):
        work_in(course, part, course.ready(), "modify" if dyed else "steep")
        return
    waits = bath is not None and not bath.had_fibre and _holds_stuff(bath)
    steeps = waits and part.doing.words.startswith(("steep", "lie", "lay", "lye"))
    if fibre and course.lots and steeps and not materials and not any(m.amounts for m in stuff):
        work_in(course, part, course.ready(), "" if bath and bath.kind else "steep")
        return
    if fibre and not materials:
        after = [t for t in part.things if t.start > part.doing.start]
        made = bath is not None and bath.begun and bool(bath.stuff) and not bath.had_fibre
        spoken_of = speaks_of_bath(part._replace(things=tuple(after)))
        into = not STATE.match(part.doing.words) or spoken_of
        steeped = made and bath is not None and into and (bath.clear or spoken_of)
        again = bath is not None and bath.begun and any(t.kind == "bath" for t in after)
        if (steeped or again) and not any(m.amounts for m in stuff):
            work_in(course, part, course.ready(), "steep")
        else:
            wet_out(course, part, stuff)
        return
    if fibre:
        own = any(m.thing.kind == "water" and m.amounts for m in stuff)
        if own and bath is not None and bath.begun and role_of(materials) != "dye":
            _in_a_bath_beside(course, part, stuff)
            return
        supply(course, part, stuff)
        work_in(course, part, course.ready(), "steep")
        return
    if not materials and course.stock:
        course.draw("dye" if course.stock.has("dye") else "")
    elif materials and bath is not None and bath.kind == "mordant" and bath.begun:
        course.new_bath("dye")
    supply(course, part, stuff)
    course.ready()
    found = phases_of(course, part)
    clauses = wait_first(course, found[0])
    if clauses.keys() & {"for"}:
        course.on_bath("stand", clauses)
    else:
        bath_phase(course, clauses)
        until_cold(course, part)
    go_on(course, found[1:])


def _holds_stuff(bath: Bath) -> bool:
    """True where a bath has something in it besides water."""
    return any(one.name != "water" for one in bath.stuff)


def _in_a_bath_beside(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Fibre steeped in a bath of its own; the one at hand is gone on with when it comes out."""
    waiting = course.bath
    course.new_bath(role_of(stuff))
    supply(course, part, stuff)
    beside = course.ready()
    if waiting is not None and not waiting.had_fibre:
        beside.before = waiting
    work_in(course, part, beside, "steep")


def _was_done_before(course: Course, part: Part) -> bool:
    """True for "which I'd washed and soaked in soya milk the week before": before the recipe."""
    sentence = course.sentence
    if sentence is None or not part.doing.words.endswith("ed"):
        return False
    said = course.text[sentence.start : part.doing.start]
    told = BEFORE.search(said) or re.search(r"(?:\b(?:had|been)|'d)\s+[^.;,]{0,40}\band\s+$", said)
    return bool(told)


STATE = re.compile(r"(?:pre-?)?(?:wet|wetted|soaked|damped|dampened)(?: out)?$", re.I)


def _state_or_time(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Fibre that is in its bath: it steeps there, or it had been wetted before it went in."""
    found = phases_of(course, part)
    if not STATE.match(part.doing.words):
        bath_phase(course, wait_first(course, found[0]))
        go_on(course, found[1:])
        return
    if not found[0].clauses and not any(m.amounts for m in stuff):
        here = [n for n, one in enumerate(course.steps) if one.on == "lot"]
        wet_before(course, part.doing.words, here[-1] if here else len(course.steps))
        return
    bath, at = course.bath, len(course.steps)
    entered = [one for one in course.steps if one.bath is bath and one.on == "lot"]
    wet_out(course, part, stuff)
    wetted = course.steps.pop()
    course.steps.insert(course.steps.index(entered[-1]) if entered else at, wetted)
    course.last_on = "bath"


def lift(course: Course, part: Part) -> None:
    """Fibre out of its bath."""
    bath = course.bath
    if bath is not None and bath.begun and _solids_out(course, part):
        course.on_bath("strain")
        bath.clear = True
        return
    found = phases_of(course, part)
    wait_first(course, found[0])
    worked = bath is not None and bath.kind == "mordant" and course.has_worked(bath)
    if bath is not None and (bath.fibre or (worked and course.lots and course.last_on == "bath")):
        course.on_lot("lift")
        fibre_out(course)
    supply(course, part, [m for m in stuff_of(course, part) if m.amounts])


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
    started = any(bath.had_fibre for bath in course.baths)
    if course.names_fibre(part) or started or course.focus == "fibre":
        return False
    return not course.lots or bool(re.search(r"\bthem\b", part.words))


def _washed(course: Course, part: Part, verb: str) -> None:
    stuff = stuff_of(course, part)
    if _of_plants(course, part):
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
    step.clauses.pop("first", None)
    if heat is not None:
        step.clauses.setdefault("at", heat)
    _repeated(step, counts[:1])
    if step.brought:
        step.vessel = course.tub()
    course.add(step)
    fibre_out(course)
    if course.bath is not None and course.bath.had_fibre and not course.bath.kind:
        course.bath = None  # suds and lyes are done with once the fibre is rinsed
    for phase in found[1:]:
        course.on_lot(verb, phase.clauses)


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
        if not amounts:
            listed = course.stock.named(item.thing.name)
            amounts = listed.amounts if listed else ()
        brought.append(Brought(name, amounts))
    if part.doing.words.startswith("soap") and not any("soap" in one.name for one in brought):
        strength = course.free(part, "strength", "mass", "spoon", "share")
        name = course.material(Thing("material", "neutral soap", "soap", 0, 0))
        brought.append(Brought(name, tuple(strength[:1])))
    return brought


def scour(course: Course, part: Part) -> None:
    """Fibre scoured, or silk freed of its gum."""
    stuff = stuff_of(course, part)
    verb = "degum" if re.search("degum|boil", part.doing.words) else "scour"
    step = Step(verb, course.number, "lot")
    course.a_lot()
    course.begin()
    step.vessel = course.tub()
    step.brought = [Brought(course.material(m.thing), m.amounts) for m in stuff]
    found = phases_of(course, part)
    step.clauses = wait_first(course, found[0])
    course.add(step)
    course.last_on, course.focus = "lot", "fibre"


THEN_IN = re.compile(r"\bthen\s+(?:put\s+)?(?:in|into|through)\s+the\s+\w", re.I)


def squeeze(course: Course, part: Part) -> None:
    """The liquor pressed out of the fibre."""
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
    hung = part.doing.words.startswith(("hang", "hung"))
    long = any(a.kind == "time" and a.unit in LONG for a in course.free(part, "time"))
    _simple(course, part, "dry" if hung and long else "air")


BESIDE = re.compile(r"\bwith\s+(?:all\s+)?(?:the|its|their)\s+$", re.I)


def _only_beside(course: Course, plants: list[Thing]) -> bool:
    """True for the petals of "let it dry with the petals on"."""
    before = course.text[max(0, plants[0].start - 24) : plants[0].start]
    return course.focus == "fibre" and BESIDE.search(before) is not None


def _simple(course: Course, part: Part, verb: str) -> None:
    plants = [t for t in part.things if t.kind in ("material", "part")]
    if not course.names_fibre(part) and plants and not _only_beside(course, plants):
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
    counts = course.free(part, "times")
    stuff = stuff_of(course, part)
    other = course.bath is not None and role_of(stuff) == "dye"
    if other and not any(course.bath.holds(course.material(m.thing)) for m in stuff):  # type: ignore[union-attr]
        course.new_bath("dye")
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


# Mordanting that was done before the recipe begins.
DONE = re.compile(
    r"\bpre-?(?:mordanted|alumed)\b|\b(?:had|have|has)\s+(?:already\s+|been\s+)*(?:\w+ly\s+)?"
    r"(?:mordanted|alumed|galled|chromed)\b|\balready\s+(?:mordanted|alumed|galled|chromed)\b",
    re.I,
)


def mordant(course: Course, part: Part) -> None:
    """Fibre mordanted, at this place of the recipe or before it."""
    _mordant(course, part)
    said = course.text[max(part.start, part.doing.start - 30) : part.end]
    if DONE.search(said) and course.bath is not None and course.bath.kind == "mordant":
        course.on_lot("lift")
        fibre_out(course)


DAY_BEFORE = re.compile(
    r"\bthe\s+(?:night|day|evening|week)\s+before\b|\bbeforehand\b|\bearlier\b", re.I
)


def _lists_for_bath(course: Course, part: Part) -> bool:
    """True for "Mordant: 10 g of alum.": a heading with what its bath is made of, and no deed."""
    if course.text[part.doing.end : part.doing.end + 1] != ":" or part.doing.words.endswith("ed"):
        return False
    stuff = stuff_of(course, part)
    timed = any(one.clauses for one in phases_of(course, part))
    solid = any(m.amounts and m.thing.kind == "material" for m in stuff)
    return solid and not timed and not course.names_fibre(part)


def _only_heads(course: Course, part: Part) -> bool:
    """True for the first word of "Mordant: dissolve the alum in ...", whose verbs come behind it."""
    sentence = course.sentence
    if sentence is None or course.text[part.doing.end : part.doing.end + 1] != ":":
        return False
    first = not sentence.text[: part.doing.start - sentence.start].strip(" -*•0123456789.()")
    later = [one for one in sentence.parts if one.start > part.start and one.doing.act]
    return first and bool(later) and not (part.things or part.amounts)


def _mordant(course: Course, part: Part) -> None:
    if _only_heads(course, part):
        turn_to_section(course, "mordant")
        return
    if _lists_for_bath(course, part):
        turn_to_section(course, "mordant")
        for item in stuff_of(course, part):
            if item.amounts:
                course.stock.put(item)
                course.used.update(a.start for a in item.amounts)
        course.focus = "material"
        return
    before = course.text[max(0, part.doing.start - 24) : part.doing.start]
    bath = course.bath
    waits = bath is not None and bath.kind == "dye" and bath.begun and not bath.had_fibre
    told = course.names_fibre(part) or before.rstrip().endswith(",")
    done = waits and part.doing.words.endswith("ed") and told
    done = done or (waits and DAY_BEFORE.search(part.words) is not None)
    earlier = bath if BEFORE.search(before) or done else None
    if earlier is None:
        _mordant_now(course, part)
        return
    fibre = earlier.fibre
    _mordant_now(course, part)
    if course.bath is not None and course.bath is not earlier:
        course.on_lot("lift")
        course.bath.fibre = False
    course.bath, earlier.fibre = earlier, fibre
    course.last_on = "bath"


def _alum_of_verb(course: Course, part: Part) -> list[Measured]:
    """The alum of "alumed with 3 oz", which the verb names."""
    if not part.doing.words.startswith("alum"):
        return []
    unsaid = [a for a in course.free(part, "mass", "share", "spoon") if course.of(a) is None]
    if not unsaid:
        return []
    thing = Thing(
        "material", meanings("material")["alum"], "alum", part.doing.start, part.doing.end
    )
    return [Measured(thing, tuple(unsaid[:1]), course.number)]


def _mordant_now(course: Course, part: Part) -> None:
    stuff = stuff_of(course, part) or _alum_of_verb(course, part)
    found = phases_of(course, part)
    told = stuff or course.names_fibre(part) or any(one.clauses for one in found)
    if not told and not course.stock.has("mordant"):
        return  # spoken of, not done
    bath = course.bath
    if not stuff or not any(m.amounts for m in stuff):
        if course.stock.has("mordant"):
            course.draw("mordant")
    elif bath is None or (bath.begun and (course.has_worked(bath) or bath.kind != "mordant")):
        course.new_bath("mordant")
    supply(course, part, stuff)
    if course.bath is None or (course.bath.kind == "dye" and course.bath.begun and not stuff):
        if not any(one.clauses for one in found):
            return
        course.new_bath("mordant")
    work_in(course, part, course.ready(), "mordant", found)


ANNOUNCES = re.compile(r":\s*$")


DRAWS = frozenset(("soak", "boil", "simmer", "strain", "dissolve"))


def _plant_first(course: Course, part: Part) -> bool:
    """True for "Dye: madder 60 %, soaked overnight, boiled": the plant is drawn out first."""
    if course.sentence is None or course.text[part.doing.end : part.doing.end + 1] != ":":
        return False
    later = [one for one in course.sentence.parts if one.start > part.start]
    return bool(later) and later[0].doing.act in DRAWS and not course.names_fibre(later[0])


def dye(course: Course, part: Part) -> None:
    """Fibre dyed."""
    if _only_heads(course, part):
        turn_to_section(course, "dye")
        return
    stuff = stuff_of(course, part)
    found = phases_of(course, part)
    timed = any(one.clauses for one in found)
    if not stuff and course.stock.has("dye"):
        course.draw("dye")
    at_hand = course.bath is not None and course.bath.begun
    if stuff and not timed and not at_hand and not any(m.amounts for m in stuff):
        return  # "to dye brown with alder": spoken of, not done
    supply(course, part, stuff)
    if not timed and (ANNOUNCES.search(part.words) or _plant_first(course, part)):
        if any(m.thing.kind == "material" for m in stuff):
            course.focus = "material"
        return  # "dye with weld: soak it ...": the fibre goes in when the bath is ready
    if course.bath is None and not timed:
        return
    bath = course.ready()
    if bath.fibre and not timed:
        return
    if not timed and not stuff and not bath.stuff:
        return  # spoken of, not done
    work_in(course, part, bath, "dye", found)


def modify(course: Course, part: Part) -> None:
    """A colour changed in an after-bath."""
    stuff = stuff_of(course, part)
    supply(course, part, stuff)
    work_in(course, part, course.ready(), "modify" if is_modifier(course, stuff) else "")
