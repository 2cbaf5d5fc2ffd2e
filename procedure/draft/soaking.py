"""Fibre wetted or steeped, and plants soaked in a bath of their own."""

from __future__ import annotations

import re

from procedure.draft.acts_of_heat import until_cold
from procedure.draft.acts_of_stuff import wet_out, with_what_is_ready
from procedure.draft.course import Course
from procedure.draft.mordanting import BEFORE
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, is_suds, is_tannin, part_played, role_of
from procedure.draft.supplies import stuff_of, supply
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Bath
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

IT = re.compile(r"\b(?:it|them)\b", re.I)


def soak(course: Course, part: Part) -> None:
    """Fibre wetted or steeped, or stuff soaked in a bath of its own."""
    plant = with_what_is_ready(course, part)
    if plant is not None:
        course.part = part = plant  # "wash the hulls and soak them"
    named = _what_names_it(course, part)
    if named is not None and course.lots:
        _in_what_names_it(course, part, named)
        return
    stuff = stuff_of(course, part)
    materials = [m for m in stuff if m.thing.kind != "water"]
    if materials and _was_done_before(course, part):
        course.not_followed.append((course.number, part.doing.words))
        return
    fibre = _is_fibre_soaked(course, part, materials)
    bath = course.bath
    if bath is not None and bath.fibre and _is_in_there(course, part, fibre, stuff):
        _state_or_time(course, part, stuff)
        return
    if fibre and _is_wetted(course, part, materials):
        wet_out(course, part, stuff)
        return
    if course.lots and not materials and not any(m.amounts for m in stuff):  # noqa: SIM102
        if _waits_for_fibre(course, bath) or (fibre and _is_dissolved(course, part)):
            dyed = _has_been_dyed(course)
            work_in(course, part, course.ready(), "modify" if dyed else "steep")
            return
    if fibre and _steeps_in_what_waits(course, part, stuff):
        work_in(course, part, course.ready(), "" if bath and bath.kind else "steep")
        return
    if fibre:
        _soak_fibre(course, part, stuff)
        return
    _soak_stuff(course, part, stuff)


def _what_names_it(course: Course, part: Part) -> Thing | None:
    """The vinegar of "give it a vinegar soak", where nothing is measured for it."""
    sentence = course.sentence
    if sentence is None or not part.doing.words.startswith("soak"):
        return None
    for one in sentence.parts:
        for thing in one.things:
            gap = course.text[thing.end : part.doing.start]
            if thing.kind == "material" and thing.end < part.doing.start and not gap.strip(" -"):
                return thing if not any(course.of(a) == thing for a in one.amounts) else None
    return None


def _in_what_names_it(course: Course, part: Part, thing: Thing) -> None:
    """Fibre steeped in a bath of its own, of what it is named by."""
    item = Measured(thing, (), course.number)
    fibre_out(course)
    course.new_bath(role_of([item]))
    supply(course, part, [item, *stuff_of(course, part)])
    work_in(course, part, course.ready(), "modify" if _has_been_dyed(course) else "steep")


def _is_wetted(course: Course, part: Part, materials: list[Measured]) -> bool:
    """True where fibre is wetted in water of its own, with a drop of soap or without."""
    if materials:
        return _is_wetted_with_soap(course, materials)
    if WETS_IN_WATER.match(course.text, part.doing.start):
        return True
    if THROUGH_WATER.match(course.text, part.doing.start):
        return True
    return WETS.match(part.doing.words) is not None and not speaks_of_bath(part)


def _soak_stuff(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Plants soaked in a bath of their own."""
    materials = [m for m in stuff if m.thing.kind != "water"]
    bath = course.bath
    waits = bath is not None and bool(bath.stuff) and not bath.begun  # tied up in a cloth for it
    if not materials and course.stock and not waits:
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


def _is_wetted_with_soap(course: Course, materials: list[Measured]) -> bool:
    """True for "soak it in water with a drop of washing-up liquid", before it is in a bath."""
    begun = any(bath.had_fibre for bath in course.baths)
    weighed = any(one.kind in WEIGHED for item in materials for one in item.amounts)
    return not begun and not weighed and is_suds([one.thing.name for one in materials])


WEIGHED = frozenset(("mass", "share", "strength"))  # of a bath to scour in


def _soak_fibre(course: Course, part: Part, stuff: list[Measured]) -> None:
    """Fibre wetted in water alone, or steeped in what is named."""
    materials = [m for m in stuff if m.thing.kind != "water"]
    bath = course.bath
    if not materials:
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
    own = any(m.thing.kind == "water" and m.amounts for m in stuff)
    own = own or IN_FRESH_WATER.search(part.words) is not None
    if own and bath is not None and bath.begun and role_of(materials) != "dye":
        _in_a_bath_beside(course, part, stuff)
        return
    supply(course, part, stuff)
    work_in(course, part, course.ready(), "steep")


# "Soak it in water with a glass of vinegar": in no bath that is there already.
IN_FRESH_WATER = re.compile(
    r"\bin(?:to)?\s+(?:(?:some|fresh|clean|cold|cool|warm|hot|tepid|lukewarm|plain|vinegar)\s+)*water\b",
    re.I,
)


def _has_been_dyed(course: Course) -> bool:
    return any(bath.kind == "dye" and bath.had_fibre for bath in course.baths)


def _waits_for_fibre(course: Course, bath: Bath | None) -> bool:
    """True for a mordant's bath with something in it that no fibre has been in."""
    if bath is None or bath.kind != "mordant" or bath.had_fibre:
        return False
    return bath.begun or (_has_been_dyed(course) and bool(bath.stuff))


def _is_dissolved(course: Course, part: Part) -> bool:
    """True for "Dissolve the alum in 6 litres of water. Soak the cloth 1 hour": in the alum."""
    bath = course.bath
    if bath is None or bath.kind != "mordant" or bath.begun or _is_state(course, part):
        return False
    water = any(one.name == "water" and one.amounts for one in bath.stuff)
    return water and any(one.name != "water" and one.amounts for one in bath.stuff)


IS_DONE = re.compile(r"\b(?:is|are|was|were|be)\s+(?:then\s+|now\s+|\w+ly\s+)*$", re.I)


def _is_state(course: Course, part: Part) -> bool:
    """True for "put in the soaked cloth", and not for "the cloth is soaked 30 minutes"."""
    if STATE.match(part.doing.words) is None:
        return False
    before = course.text[max(part.start, part.doing.start - 24) : part.doing.start]
    done = part.doing.words.startswith("soak") and IS_DONE.search(before)
    return not (done and any(one.kind in ("time", "named wait") for one in part.amounts))


def _is_fibre_soaked(course: Course, part: Part, materials: list[Measured]) -> bool:
    """True where it is the fibre that is soaked, and no plant."""
    meant = course.focus == "fibre" and role_of(materials) == ""
    done = bool(meant and course.last_on == "lot" and course.steps)
    done = done or (meant and IT.search(part.words) is not None)
    if not course.names_fibre(part) and any(_is_soaked(course, part, one) for one in materials):
        return False
    if materials and course.lots and (role_of(materials) == "mordant" or done):
        return True  # nobody soaks alum: what is soaked in it is the fibre
    if course.names_fibre(part):
        return True
    if WETS.match(part.doing.words) and course.lots and not materials:
        return True  # "1. Wet out 1 h.": nobody wets out a plant
    plants = materials or any(t.kind == "part" for t in part.things)
    return course.focus == "fibre" and not plants


ITSELF = re.compile(r"\s+(?:all\s+)?(?:the|your|these|those)\s+(?:dried\s+|dry\s+)?", re.I)


def _is_soaked(course: Course, part: Part, item: Measured) -> bool:
    """True for the galls of "steep 20 g of galls in water": they are soaked themselves.

    So are the beans of "soak the beans overnight", whatever they are for, but no alum.
    """
    if part_played(item.thing) != "mordant" and ITSELF.fullmatch(
        course.text, part.doing.end, item.thing.start
    ):
        return True
    if not is_tannin(item.thing.name) or item.thing.start < part.doing.end:
        return False
    return (
        re.search(r"\b(?:in|into|with)\b", course.text[part.doing.end : item.thing.start]) is None
    )


def _steeps_in_what_waits(course: Course, part: Part, stuff: list[Measured]) -> bool:
    """True for "steep the silk in it", where a bath with something in it waits for the fibre."""
    bath = course.bath
    if bath is None or bath.had_fibre or not course.lots:
        return False
    steeps = part.doing.words.startswith(("steep", "lie", "lay", "lye"))
    holds = any(one.name != "water" for one in bath.stuff)
    alone = not any(m.amounts or m.thing.kind != "water" for m in stuff)
    return steeps and holds and alone


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


def _is_in_there(course: Course, part: Part, fibre: bool, stuff: list[Measured]) -> bool:
    """True where what is soaked is the fibre that the bath at hand has in it."""
    if all(one.thing.kind == "water" for one in stuff) and not course.names_fibre(part):
        return True
    return fibre and not stuff and STEEPS.match(part.doing.words) is not None


# "Wet your skein in the tub of warm water": in no bath that is made for it.
WETS_IN_WATER = re.compile(
    r"(?:pre-?)?(?:wet|soak)\s+(?:out\s+)?(?:(?:the|your|my|all)\s+(?:[\w-]+\s+){1,3}?)?in\s+"
    r"(?:(?:an?|the)\s+(?:tub|bowl|bucket|sink|basin|pail)\s+of\s+)?"
    r"(?:(?:plain|clean|warm|cool|cold|lukewarm|tepid|hot|tap|soft|hand-?warm)\s+)*(?:rain)?water\b",
    re.I,
)
# "Passed through the hot water of 40 degrees", and not "through the dye water".
THROUGH_WATER = re.compile(
    r"pass\w*\s+(?:(?:it|them)\s+)?through\s+(?:(?:the|some|a\s+\w+\s+of)\s+)?"
    r"(?:(?:plain|clean|clear|warm|cool|cold|lukewarm|tepid|hot|soft)\s+)+water\b",
    re.I,
)
WETS = re.compile(r"(?:pre-?)?wet(?:s|ted|ting)?(?: out)?$", re.I)
STEEPS = re.compile(r"steep|lie|lay|lye", re.I)
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
