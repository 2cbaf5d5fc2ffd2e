"""What is done to fibre over and over: dipped, aired, and that so many times."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.sentences import Part
from procedure.draft.unsettled_steps import Bath, Step
from procedure.vocabulary import vocabulary

# What may come after a dip; that it is lifted is part of a dip.
ROUND = frozenset(("dip", "lift", "air", "rest", "squeeze", "rinse", "wash"))
LEAST_ROUNDS = 2
# "For 8 minutes, out for 10, five times over", "and most people did four dips".
SO_OFTEN = re.compile(r"(?:times|dips|twice|thrice)\Z", re.I)
# "Twice more": besides the round that was told, which stays as it is.
MORE = re.compile(r"\s+more\b", re.I)
MORE_BEFORE = re.compile(r"\b(?:another|a\s+further)\s+\Z", re.I)


# "Three dips of two minutes, with ten minutes on the line in between": the airing of each round.
BETWEEN = re.compile(
    r"\s+(?:of\s+)?(?:(?:in\s+the\s+(?:open\s+|fresh\s+)?air|on\s+the\s+(?:line|rack|rail)|out\s+of\s+(?:it|the\s+\w+)|hanging(?:\s+up)?"
    r"|outside|airing)\s+)?(?:in\s+)?between\b(?!\s+\d)"
    r"|\s+(?:of\s+)?(?:in\s+the\s+(?:open\s+|fresh\s+)?air|on\s+the\s+(?:line|rack|rail)|airing)\s+after\s+each\b",
    re.I,
)
OTHERWISE = frozenset(("dry", "rest", "leave", "squeeze", "rinse", "wash", "boil", "simmer"))


def without_airing_between(course: Course, part: Part) -> tuple[Part, Amount | None]:
    """The part without the time that fibre is out between its dips, and that time."""
    if part.doing.act in OTHERWISE:
        return part, None
    for one in course.free(part, "time"):
        if BETWEEN.match(course.text, one.end):
            rest = tuple(other for other in part.amounts if other is not one)
            return part._replace(amounts=rest), one
    return part, None


def air_between(course: Course, time: Amount | None) -> None:
    """Air fibre after the dip that the sentence has told last; else the time is left."""
    if time is None:
        return
    said = [one for one in course.steps[-2:] if course.number - one.sentence <= 1]
    told = said and said[-1].verb == "air" and not said[-1].clauses  # "air it", "in the air"
    dip = said[-2:][0] if told else said[-1] if said else None
    if dip is None or dip.verb != "dip" or dip.share != course.share:
        if told:
            said[-1].clauses["for"] = time
            course.used.add(time.start)
        return  # "and the last skein four": of which no dip has been told
    if told:
        course.steps.pop()
    aired = course.on_lot("air", {"for": time})
    aired.cycle = dip.cycle = dip.repeat or dip.cycle
    dip.repeat = None


# "Each dip is two minutes; each airing, ten": of the round that was told before.
OF_EACH = re.compile(r"\W*(?:and\s+)?(?:each|every)\s+(?P<what>dip|dipping|airing)\b", re.I)


def each_lasts(course: Course, part: Part) -> bool:
    """Give the dips, or the airings between them, their time; False where it is none of them."""
    found, last = OF_EACH.match(part.words), course.steps[-1] if course.steps else None
    if found is None or last is None or last.verb not in ("dip", "air"):
        return False
    unit = course.last_time.unit if course.last_time else ""
    times = course.free(part, "time")
    if unit and not times:
        times = [one._replace(kind="time", unit=unit) for one in course.free(part, "number")]
    dip = last if last.verb == "dip" else course.steps[-2:][0]
    step = dip if found["what"].lower().startswith("dip") else last
    if len(times) != 1 or dip.verb != "dip" or ("for" in step.clauses and step is not dip):
        return False
    if step is dip and found["what"].lower() == "airing":
        air_between_all(course, dip, times[0])
    elif "for" in step.clauses:
        return False
    else:
        step.clauses["for"] = times[0]
    course.used.add(times[0].start)
    course.last_time = times[0]
    return True


def air_between_all(course: Course, dip: Step, time: Amount) -> None:
    """Air the fibre after each of the dips of a step."""
    aired = course.on_lot("air", {"for": time})
    aired.share = dip.share
    aired.cycle = dip.cycle = dip.repeat or dip.cycle
    dip.repeat = None


def again(course: Course, part: Part) -> None:
    """What the sentence has done to the fibre, done so many times; else told as not followed."""
    counts = [a for a in course.free(part, "times") if not a.bound and a.low == a.high]
    _rounds(course, counts, _round_before(course))


def repeated_round(course: Course, part: Part) -> bool:
    """True where a part says how often the dip and the airing before it are done."""
    counts = [a for a in course.free(part, "times") if not a.bound and SO_OFTEN.search(a.words)]
    here = _round_before(course)
    if course.free(part, "time", "temperature", "mass"):
        return False
    if not any(one.verb == "air" for one in here):
        return False
    return _rounds(course, counts, here)


def _rounds(course: Course, counts: list[Amount], here: list[Step]) -> bool:
    """Have a round done so many times, or so many times more."""
    if len(counts) != 1 or not _is_besides(course, counts[0]):
        return _repeat(course, counts, here)
    more = _once_more(here)
    made = _repeat(course, counts, more)
    course.steps += more if made else []
    return made


def _is_besides(course: Course, count: Amount) -> bool:
    before = course.text[max(0, count.start - 12) : count.start]
    if MORE_BEFORE.search(before) or re.search(r"\bmore\b", count.words, re.I):
        return True
    return MORE.match(course.text, count.end) is not None


def _once_more(here: list[Step]) -> list[Step]:
    """The same steps again, each amount with a place of its own beside the first."""
    made: list[Step] = []
    for one in here:
        if one.verb == "lift":
            continue
        again = Step(one.verb, one.sentence, one.on, one.bath)
        again.share, again.part, again.focus = one.share, one.part, one.focus
        again.clauses = {
            clause: amount._replace(start=amount.start + 1)
            for clause, amount in one.clauses.items()
        }
        made.append(again)
    return made


def _repeat(course: Course, counts: list[Amount], here: list[Step]) -> bool:
    """Have the steps of a round done so many times, where one count is said."""
    if len(counts) != 1 or not here or (counts[0].low or 0) < LEAST_ROUNDS:
        return False
    if any(one.on != "lot" or one.repeat or one.cycle for one in here):
        return False
    if any(one.verb not in ROUND and not _is_dip(one) for one in here):
        return False
    for one in here:
        one.verb = "dip" if one.verb == "dye" else one.verb
        one.cycle = counts[0]
    course.steps = [one for one in course.steps if one not in here or one.verb != "lift"]
    course.used.add(counts[0].start)
    return True


def _round_before(course: Course) -> list[Step]:
    """The steps from the first dip of the last sentence on that has one: "Dip. Air. Repeat."."""
    last = next((one for one in reversed(course.steps) if _is_dip(one)), None)
    if last is None or course.number - last.sentence > limits.SENTENCES_OF_A_ROUND:
        return []
    here = [one for one in course.steps if one.sentence >= last.sentence]
    return here[next(at for at, one in enumerate(here) if _is_dip(one)) :]


def _is_dip(step: Step) -> bool:
    """True for a dip, and for some minutes in a vat."""
    time = step.clauses.get("for")
    brief = time is not None and time.unit in ("min", "s")
    return step.verb == "dip" or (step.verb == "dye" and brief and is_vat(step.bath))


def is_vat(bath: Bath | None) -> bool:
    """True for a bath of a dye that needs a vat: fibre is always told to go in, and is dipped."""
    if bath is not None and bath.stands_ready:
        return True
    entries = (
        [vocabulary().material(one.name.replace("-", " ")) for one in bath.stuff] if bath else []
    )
    return any(one is not None and one.facts.get("dye_class") == "vat" for one in entries)
