"""Fibre mordanted: now, before the recipe begins, or in a list under a heading."""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.headings import turn_to_section
from procedure.draft.lexicon import meanings
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured, part_played
from procedure.draft.supplies import stuff_of, supply
from procedure.draft.things import Thing
from procedure.draft.working import fibre_out, phases_of, work_in

BEFORE = re.compile(
    r"(?:\b(?:i|we|you|they|she|he)'d|\b(?:been|had|has|have|having|previously|already|(?:which|that)\s+(?:was|were)|beforehand|first))"
    r"\s+(?:\w+ly\s+)?$",
    re.I,
)


# Mordanting that was done before the recipe begins.
DONE = re.compile(
    r"\bpre-?(?:mordanted|alumed)\b|\b(?:had|have|has)\s+(?:already\s+|been\s+)*(?:\w+ly\s+)?"
    r"(?:mordanted|alumed|galled|chromed)\b"
    r"|\balready\s+(?:\w+\s+){0,3}?(?:mordanted|alumed|galled|chromed)\b",
    re.I,
)


def mordant(course: Course, part: Part) -> None:
    """Fibre mordanted, at this place of the recipe or before it."""
    if _is_declared(course, part):
        return
    _mordant(course, part)
    said = course.text[max(part.start, part.doing.start - 30) : part.end]
    if AS_FOLLOWS.search(said):
        return  # what it is mordanted with, and how, comes behind it
    if DONE.search(said) and course.bath is not None and course.bath.kind == "mordant":
        course.on_lot("lift")
        fibre_out(course)


# "It has been mordanted as follows: alum, 6 oz; water, 5 gallons. Bring to the boil."
AS_FOLLOWS = re.compile(
    r"\b(?:mordanted|alumed)\s+(?:(?:as\s+follows|thus|like\s+this|in\s+this\s+(?:way|manner))\b|so:)",
    re.I,
)
READY_MORDANTED = re.compile(
    r"\bpre-?(?:mordanted|alumed)\b"
    r"|\b(?:already|previously|ready)[\s-]+(?:\w+[\s-]+){0,2}?(?:mordanted|alumed)\b"
    r"|\b(?:mordanted|alumed)\s+(?:already|beforehand|in\s+advance|yesterday|last\s+(?:night|week|month|year)"
    r"|in\s+(?:the\s+)?(?:spring|summer|autumn|fall|winter|new\s+year|january|february|march|april|may|june|july|august"
    r"|september|october|november|december)|on\s+(?:mon|tues|wednes|thurs|fri|satur|sun)day|(?:a|two|three)\s+\w+\s+ago"
    r"|the\s+(?:day|night|week)\s+before|during\s+the\s+week|some\s+(?:days|weeks|time)\s+ago)\b"
    r"|\b(?:that|which)\s+(?:(?:i|we|you|they|she|he|[A-Z][a-z]+)\s+)?(?:had|has|have)\s+(?:already\s+)?(?:been\s+)?(?:mordanted|alumed)\b"
    r"|\b(?:mordanted|alumed)\s+at\s+(?:home|the\s+last\s+(?:meeting|class|session))\b",
    re.I,
)


def _is_declared(course: Course, part: Part) -> bool:
    """True where the fibre was mordanted before the recipe: it is declared so, and nothing is done.

    "The yarn, already mordanted with 10 % alum", without a heat, a time or a bath of its own.
    """
    begins = course.sentence.start if course.sentence is not None else part.start
    said = course.text[max(begins, part.doing.start - 30) : part.doing.end + 18]
    if _is_only_said(course, part):
        course.of_no_bath.add((course.number, part.doing.words))
        return True
    if not (READY_MORDANTED.search(said) or _is_state_of_fibre(course, part)):
        return False
    if not _declare_mordanted(course, _clause_of(course, part, part.doing.end)):
        return False
    course.of_no_bath.add((course.number, part.doing.words))
    course.declared.add((course.number, part.doing.words))
    return True


# "Two skeins that are mordanted differently": what is to come, and no deed yet.
IN_MORE_WAYS = re.compile(
    r"\s+(?:differently|separately|in\s+(?:two|three|four|several|different|various)\s+(?:different\s+)?(?:ways|manners|baths)"
    r"|each\s+in\s+its\s+own\s+way)\b",
    re.I,
)


def _is_only_said(course: Course, part: Part) -> bool:
    """True for a mordanting in several ways, none of which is told yet."""
    if not part.doing.words.endswith("ed") or not IN_MORE_WAYS.match(course.text, part.doing.end):
        return False
    return not any(one.kind in MEASURES for one in part.amounts)


MEASURES = frozenset(("mass", "share", "spoon", "volume", "time", "temperature"))
# "Mordanted the week before and dried": that too was done before.
AND_DRIED = re.compile(r"\W*(?:\b(?:and|then)\b\W*)*(?:\w+\W*){1,2}", re.I)
ENDS_IT = frozenset(("dry", "rinse", "wash", "air", "squeeze"))


def was_done_too(course: Course, part: Part) -> bool:
    """True for what was done to fibre behind a mordanting before the recipe: "and dried"."""
    sentence = course.sentence
    if sentence is None or part.doing.act not in ENDS_IT or course.steps:
        return False
    if not part.doing.words.endswith("ed") or part.amounts or part.things:
        return False
    before = [one for one in sentence.parts if one.start < part.start and one.doing.act]
    known = {words for number, words in course.declared if number == course.number}
    if not before or before[-1].doing.words not in known or not AND_DRIED.fullmatch(part.words):
        return False
    course.declared.add((course.number, part.doing.words))
    course.of_no_bath.add((course.number, part.doing.words))
    return True


STATE_OF = re.compile(
    r"\s*(?:,\s*[\d½¼¾.,/]+\s*[a-z]+\s*)?[,(]\s*(?:(?:both|all|each|already|well)\s+)*"
    r"(?:(?:scoured|washed|degummed)\s*(?:,|and)\s*)?"
)
DEED = re.compile(r"\s+(?:it|them|the|in|for|at)\b|\s*,?\s+(?:and\s+)?(?:then|next)\b", re.I)


def _is_state_of_fibre(course: Course, part: Part) -> bool:
    """True for "400 g of wool, mordanted with alum": how it comes, where nothing is done yet."""
    before = course.sentence.parts if course.sentence is not None else ()
    fibres = [
        one.end
        for other in before
        for one in other.things
        if one.kind == "fibre" and one.end <= part.doing.start
    ]
    if not fibres or course.steps or not part.doing.words.endswith("ed"):
        return False
    gap = STATE_OF.fullmatch(course.text, max(fibres), part.doing.start)
    return gap is not None and not DEED.match(course.text, part.doing.end)


def without_what_was_before(course: Course, part: Part) -> Part:
    """The part without the alum of "50 g of premordanted wool (alum 10 %)", which is declared."""
    found = READY_MORDANTED.search(course.text, part.start, part.end)
    if found is None or part.doing.act == "mordant":
        return part
    clause = _clause_of(course, part, found.end())
    clause = clause._replace(
        things=tuple(one for one in clause.things if one.start >= found.end()),
        amounts=tuple(one for one in clause.amounts if one.start >= found.end()),
    )
    if not any(one.kind == "fibre" for one in part.things) or not _declare_mordanted(
        course, clause
    ):
        return part
    return part._replace(
        things=tuple(
            one for one in part.things if one.kind != "material" or one not in clause.things
        ),
        amounts=tuple(one for one in part.amounts if one.start not in course.used),
    )


def _declare_mordanted(course: Course, part: Part) -> bool:
    """Declare what a clause says of a mordanting before the recipe; False where it says more."""
    if course.stock.has("mordant"):
        return False
    stuff = stuff_of(course, part) or _alum_of_verb(course, part)
    salts = [one for one in stuff if one.thing.kind == "material"]
    own = any(one.clauses for one in phases_of(course, part)) or len(salts) != len(stuff)
    parts = [part_played(one.thing) for one in salts]  # tartar beside alum
    plain = all(one in ("mordant", "assistant") for one in parts) and all(
        len(one.amounts) <= 1 and all(each.kind in ("share", "mass") for each in one.amounts)
        for one in salts
    )
    if own or not plain or (salts and "mordant" not in parts):
        return False
    lot = course.lots[course.a_lot()]
    lot.mordanted += salts
    lot.is_mordanted = True
    course.used.update(each.start for one in salts for each in one.amounts)
    return True


def _clause_of(course: Course, part: Part, begins: int) -> Part:
    """What of a part says how the fibre was mordanted: what stands before the next comma."""
    opened = course.text.rfind("(", part.start, begins)
    in_brackets = opened > course.text.rfind(")", part.start, begins)
    ends = (BRACKET_ENDS if in_brackets else CLAUSE_ENDS).finditer(course.text, begins, part.end)
    open_still = (one.start() for one in ends if not _closes(course.text, begins, one))
    at = next(open_still, part.end)
    return part._replace(
        end=at,
        words=part.words[: at - part.start],
        things=tuple(one for one in part.things if one.start < at),
        amounts=tuple(one for one in part.amounts if one.start < at),
    )


def _closes(text: str, begins: int, end: re.Match[str]) -> bool:
    """True for a bracket that the clause has opened itself: "with alum (15 %) and tartar (6 %)"."""
    return end[0].startswith(")") and text.count("(", begins, end.start()) > 0


BRACKET_ENDS = re.compile(r"\)")
CLAUSE_ENDS = re.compile(r"[,;)]\s|[,;)]$")
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


def only_heads(course: Course, part: Part) -> bool:
    """True for the first word of "Mordant: dissolve the alum", whose verbs come behind it."""
    sentence = course.sentence
    if sentence is None or course.text[part.doing.end : part.doing.end + 1] != ":":
        return False
    led = sentence.text[: part.doing.start - sentence.start].strip(" -*•0123456789.()")
    first = not led or (part.amounts and led.lower() == part.amounts[0].words.lower())
    later = [one for one in sentence.parts if one.start > part.start and one.doing.act]
    bare = all(one.kind == "named heat" and one.end <= part.doing.start for one in part.amounts)
    return bool(first) and bool(later) and not part.things and bare


def _announces(course: Course, part: Part) -> bool:
    """True for "mordant your wool: dissolve the alum", whose deeds come behind it."""
    sentence = course.sentence
    said = any(one.start > part.doing.start for one in part.amounts)
    if sentence is None or said or not part.words.rstrip().endswith(":"):
        return False
    later = [one for one in sentence.parts if one.start > part.start and one.doing.act]
    behind = [one for one in part.things if one.start > part.doing.start]
    return bool(later) and all(one.kind == "fibre" for one in behind)


def _mordant(course: Course, part: Part) -> None:
    if only_heads(course, part) or _announces(course, part):
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
    follows = AS_FOLLOWS.match(course.text, part.doing.start)
    if earlier is None or follows:
        if follows and earlier is not None:
            course.begin()
            course.bath = None
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
    unsaid = [
        one
        for one in course.free(part, "mass", "share", "spoon")
        if course.of(one) is None and one.start > part.doing.start
    ]
    if not unsaid:
        return []
    thing = Thing(
        "material", meanings("material")["alum"], "alum", part.doing.start, part.doing.end
    )
    return [Measured(thing, tuple(unsaid[:1]), course.number)]


WITH_A = re.compile(r"\s+(?:(?:it|them|the\s+[\w-]+)\s+)?(?:with|in)\s+", re.I)


def _with_a_plant(course: Course, part: Part) -> bool:
    """True for "mordanted with rhubarb leaves": a plant that is no dye here."""
    found = WITH_A.match(course.text, part.doing.end)
    materials = [one for one in part.things if one.kind == "material"]
    return (
        found is not None and bool(materials) and materials[0].start - found.end() <= len("some ")
    )


def _mordant_now(course: Course, part: Part) -> None:
    stuff = stuff_of(course, part) or _alum_of_verb(course, part)
    found = phases_of(course, part)
    told = stuff or course.names_fibre(part) or any(one.clauses for one in found)
    if not told and not course.stock.has("mordant"):
        return  # spoken of, not done
    bath = course.bath
    solid = any(m.amounts and m.thing.kind != "water" for m in stuff)
    listed = not solid and course.stock.has("mordant")  # "mordant an hour in 4 litres"
    if listed or not any(m.amounts for m in stuff):
        if course.stock.has("mordant"):
            course.draw("mordant")
    elif bath is None or (bath.begun and (course.has_worked(bath) or bath.kind != "mordant")):
        course.new_bath("mordant")
    supply(course, part, stuff)
    if course.bath is None or (course.bath.kind == "dye" and course.bath.begun and not stuff):
        if not any(one.clauses for one in found):
            return
        course.new_bath("mordant")
    made = course.bath
    if made is not None and made.kind == "dye" and not made.begun and _with_a_plant(course, part):
        course.name_kind(made, "mordant")
    work_in(course, part, course.ready(), "mordant", found)
