"""What several acts have in common: fibre into a bath, and the heats and times that follow."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.dipping_rounds import is_vat
from procedure.draft.heats_and_times import Phase, gets_cold, phases
from procedure.draft.how_it_is_done import SIGN, TIME_OF_DAY
from procedure.draft.named_lots import is_for_the_lot
from procedure.draft.sentences import Part
from procedure.draft.shares import whole
from procedure.draft.stock import trade_role
from procedure.draft.turning import bath_of
from procedure.draft.unsettled_steps import Bath, Step, allowed
from procedure.vocabulary import vocabulary

WORKS = {"mordant": "mordant", "dye": "dye"}


def phases_of(course: Course, part: Part) -> list[Phase]:
    """The heats and times of a part that no step holds yet."""
    assert course.sentence is not None
    unit = course.last_time.unit if course.last_time else ""
    own = [a.unit for a in part.amounts if a.kind == "time"]
    found = phases(course.text, course.sentence, part, course.used, unit or (own or [""])[0])
    return found if found else [_relative_time(course, part, found)]


def _relative_time(course: Course, part: Part, found: list[Phase]) -> Phase:
    """The time of a part that is said by another one: "twice as long"."""
    for amount in course.free(part, "relative") if part.doing.act else []:
        made = course.resolved(amount, None)
        if made.kind == "time":
            return Phase({"for": made})
    return Phase({})


def wait_first(course: Course, phase: Phase) -> dict[str, Amount]:
    """The clauses without the time that goes by before, which gets a step of its own."""
    clauses = dict(phase.clauses)
    first = clauses.pop("first", None)
    if first is None:
        return clauses
    bath = course.bath
    if bath is not None and bath.begun and course.last_on == "bath":
        course.on_bath("hold" if bath.fibre else "stand", {"for": first})
    else:
        clauses.setdefault("for", first)
    return clauses


def go_on(course: Course, rest: list[Phase]) -> None:
    """The heats and times that are said after those of the verb."""
    for phase in rest:
        bath_phase(course, wait_first(course, phase))


def bath_phase(course: Course, clauses: dict[str, Amount]) -> Step | None:
    """A step that keeps the bath, or brings it, as the clauses say."""
    bath = course.bath
    if bath is None or not clauses:
        return None
    if clauses.keys() == {"from"}:
        course.begins_at = course.number, clauses["from"]  # "start at 40 °C, raise to ..."
        return None
    if _goes_under(course, bath, clauses):
        return None
    lot = "for" in clauses and course.part is not None and is_for_the_lot(course, course.part)
    lot = lot or ("for" in clauses and is_of_those_left(course, bath))
    if lot or ("for" in clauses and goes_back(course, bath)):
        verb = WORKS.get(bath.kind, "enter") if lot else "modify"
        step = Step(verb, course.number, "lot", bath)
        step.clauses = clauses
        bath.fibre = True
        return course.add(step)
    if clauses.keys() & {"to", "from"} or ("over" in clauses and "at" in clauses):
        return course.on_bath("heat", clauses)
    if clauses.keys() & {"for", "over"}:
        if "over" in clauses:
            clauses = {**clauses, "for": clauses.pop("over")}
        return course.on_bath("hold", clauses)
    if "at" in clauses and gets_cold(course.text, clauses["at"]):
        return course.on_bath("cool", {"to": clauses["at"]})
    if "at" in clauses:
        return course.on_bath("heat", clauses)
    return _ceiling(course, clauses)


def is_of_those_left(course: Course, bath: Bath) -> bool:
    """True for the time of "leave the rest in for 10 minutes": of some of the fibre alone."""
    share = course.share
    if share is None or course.lot_turned != course.number or bath.kind not in WORKS:
        return False
    return bath_of(course, share) is bath and share != whole(course.all_lots())


def _goes_under(course: Course, bath: Bath, clauses: dict[str, Amount]) -> bool:
    """True for "lower it into the vat, and keep it under 3 minutes", which the dyeing takes."""
    last = course.steps[-1] if course.steps else None
    if last is None or last.on != "lot" or last.verb != "dye" or "for" in last.clauses:
        return False
    if last.sentence != course.number or clauses.keys() != {"for"} or not is_vat(bath):
        return False
    last.clauses |= clauses
    course.used.update(one.start for one in clauses.values())
    return True


def until_a_sign(course: Course, part: Part, verb: str) -> bool:
    """A step that goes on until the words say: "leave it in until you like the colour"."""
    found = SIGN.search(course.text, part.doing.end, part.end)
    bath = course.bath
    if found is None or bath is None or not bath.begun or course.sentence is None:
        return False
    if TIME_OF_DAY.search(found["sign"]):
        return False
    low, high = found.span()
    if high >= part.end < course.sentence.end:
        return False  # "until it has cooled": of which the last word is a deed
    here = [one for one in part.amounts if low <= one.start < high]
    cold = [one for one in here if one.kind == "named heat" and one.unit == "cold"]
    if any(
        one.kind not in ("odd", "figure", "loose", "verb heat") for one in here if one not in cold
    ):
        return False
    verb = "cool" if cold else verb  # "let it sit till the water is cold"
    step = course.on_bath(verb)
    step.sign = " ".join(found["sign"].split()).replace('"', "'")
    return True


def goes_back(course: Course, bath: Bath) -> bool:
    """True where a modifier has been put into a bath that the fibre had left."""
    last = course.steps[-1] if course.steps else None
    if (
        bath.fibre
        or not bath.had_fibre
        or last is None
        or last.on != "add"
        or last.bath is not bath
    ):
        return False
    if last.name.endswith("-liquor"):
        return True
    names = [one.name.replace("-", " ") for one in last.brought]
    return any(trade_role(name) in ("mordant", "assistant") for name in names if name != "water")


def _ceiling(course: Course, clauses: dict[str, Amount]) -> Step | None:
    """A heat that is never to be passed, on the last step of the bath that may say one."""
    ceiling = clauses.get("ceiling")
    if ceiling is None:
        return None
    for step in reversed(course.steps):
        heated = step.on in ("bath", "lot") and "at" in allowed(step.verb)
        heated = heated and step.verb not in ("boil", "simmer")  # which have a heat of their own
        if step.bath is course.bath and heated and not step.clauses.keys() & {"ceiling", "to"}:
            step.clauses["ceiling"] = ceiling
            course.used.add(ceiling.start)
            return step
    return None


def work_in(
    course: Course, part: Part, bath: Bath, verb: str = "", found: list[Phase] | None = None
) -> Step | None:
    """Fibre into the bath, with the heats and times said there."""
    course.bath = bath
    course.begin()
    found = phases_of(course, part) if found is None else found
    verb = verb or WORKS.get(bath.kind, "") or _plain_verb(course, bath)
    clauses = wait_first(course, found[0]) if found else {}
    step = None
    if clauses or not bath.fibre:
        may = allowed(verb)
        step = Step(verb, course.number, "lot", bath)
        course.a_lot()
        if not bath.fibre:
            wet_before(course, part.words, len(course.steps))
        step.clauses = {c: a for c, a in clauses.items() if c in may or c == "ceiling"}
        if bath.fibre and not course.names_fibre(part) and _is_announced(course, step):
            course.steps.pop()  # "Dye with weld. Enter at 40 °C": once
        course.add(step)
        rest = {c: a for c, a in clauses.items() if c not in step.clauses}
        bath.fibre = bath.had_fibre = True
        if rest:
            bath_phase(course, rest)
    bath.fibre = bath.had_fibre = True
    course.last_on, course.focus = "bath", "fibre"
    go_on(course, found[1:])
    return step


def _is_announced(course: Course, step: Step) -> bool:
    """True where the last step is this one without its heats and times."""
    last = course.steps[-1] if course.steps else None
    if last is None or last.share != course.share:
        return False
    bare = not (last.clauses or last.brought or last.repeat or last.sign or last.note[0])
    return bare and (last.verb, last.on, last.bath) == (step.verb, step.on, step.bath)


# Words for fibre that is wet when it goes in.
WETTED = re.compile(
    r"\b(?:pre-?)?(?:wet|wetted|damp|dampened|moist|moistened|soaked)\b(?!\s+(?:it|them|the|out)\b)",
    re.I,
)
WETS = frozenset(("wet out", "scour", "degum", "wash", "rinse", "soak", "steep"))


def wet_before(course: Course, said: str, at: int) -> bool:
    """Wet fibre that is called wet before the step at this place, where no step has done so.

    True where it is wet now.
    """
    if not WETTED.search(said):
        return False
    lots = [one for one in course.steps[:at] if one.on == "lot"]
    if lots and (lots[-1].verb != "dry" or any(one.verb in WETS for one in lots)):
        return True
    step = Step("wet out", course.number, "lot")
    step.vessel = course.tub()
    course.steps.insert(at, step)
    return True


def _plain_verb(course: Course, bath: Bath) -> str:
    """The verb for a bath of neither mordant nor dye: of soap it washes or scours."""
    roles = {
        role
        for one in bath.stuff
        if (entry := vocabulary().material(one.name.replace("-", " "))) is not None
        for role in entry.words("role")
    }
    if "detergent" not in roles:
        return "enter"
    worked = any(other.kind and other.had_fibre for other in course.baths)
    return "wash" if worked else "scour"


def bring_fibre(course: Course, part: Part) -> None:
    """Put the fibre into the bath where a part names it and it is not there yet."""
    bath = course.ready()
    if course.names_fibre(part) and not bath.fibre and bath.stuff:
        step = Step("enter", course.number, "lot", bath)
        course.a_lot()
        course.add(step)
        bath.fibre = bath.had_fibre = True


def fibre_out(course: Course) -> None:
    """The fibre has left its bath."""
    bath = course.bath
    if course.part is not None and not course.vessels.within(course.part):
        for other in course.in_vessel.values():
            other.fibre = False
    if bath is not None:
        bath.fibre = False
        bath.had_fibre = bath.had_fibre or (bath.kind == "mordant" and course.has_worked(bath))
        course.bath = bath.before or bath
    course.last_on, course.focus = "lot", "fibre"


def spoken(part: Part, verb: str) -> list[Amount]:
    """The heat that the verb of a part says itself."""
    return [
        a
        for a in part.amounts
        if a.kind == "verb heat" and a.unit == verb and a.start == part.doing.start
    ]


def speaks_of_bath(part: Part) -> bool:
    """True where a part names a bath: the liquor, the pot, the vat."""
    return any(t.kind in ("bath", "pot") for t in part.things) or bool(
        re.search(
            r"\b(?:in|into)\s+(?:it|this|that|there)\b|\bthere\b|\bin\s+the\s+dye\b|\b(?:there|here|where)in(?:to)?\b",
            part.words,
        )
    )
