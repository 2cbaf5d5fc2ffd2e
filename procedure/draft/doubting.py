"""Heats and times of which the prose does not surely say what they are for: they are asked about.

A time in a bath is for the fibre or for the bath alone, and prose often leaves that to the
reader. A line has it unless the words are of a kind after which at least one in three was meant
otherwise in the recipes of the trials; those are asked about, and the others are not.
"""

from __future__ import annotations

import re
from bisect import bisect_left

from procedure.draft.course import Course, is_still_out, is_weighed_by
from procedure.draft.dipping_rounds import is_vat
from procedure.draft.far_behind import FarBehind
from procedure.draft.named_last import NamedLast
from procedure.draft.sentences import Part
from procedure.draft.shares import FibreShare
from procedure.draft.stock import is_tannin, part_played, trade_role
from procedure.draft.things import Thing
from procedure.draft.turning import share_of
from procedure.draft.unsettled_steps import Step

INTO = frozenset(("dye", "mordant", "enter", "steep", "modify", "dip"))
# Acts whose heat or time is one of the bath that they name, whatever else is in it.
KEPT_HOT = frozenset(("boil", "simmer", "heat", "hold"))
# Acts that are done to fibre alone, whatever is named.
FIBRE_VERBS = re.compile(
    r"enter|return|put back|immers|introduce|submerg|plunge|dunk|\bdip|\bdye|over-?dye"
    r"|mordant|alum|sadden|modif|wool|yarn|skein|cotton|silk|cloth|fibre|goods",
    re.I,
)
# How a bath is kept for a time.
KEEPS = frozenset(("boil", "simmer", "hold", "stand"))
SAID = re.compile(
    r"(?m)^\W*tannin(?:ing)?[ \t]*[:-]"
    r"|\bdye(?:d|s|ing)?\b(?![ -]?(?:stuff|bath|pot))|\b(?:dye|dyeing)\)?:",
    re.I,
)
# What is done to a liquor and never to fibre in it.
LIQUOR_ALONE = re.compile(r"whisk|beat|aerat|settl|ferment", re.I)
PRONOUN = re.compile(r"\b(?:it|them|these|everything)\b", re.I)


def leave_what_is_doubtful(course: Course) -> None:
    """Take back each heat and time of which it is not sure whether it is for the fibre."""
    if not course.lots:
        return
    inside = _Inside(course)
    had: set[str] = set()
    kept: list[Step] = []
    drawn = _drawn(course.steps)
    unclear = sorted(course.unclear)
    before = _before_contradictions(course)
    far = FarBehind()
    named, strained, missed = NamedLast(course), set[str](), _Missed(course)
    for at, step in enumerate(course.steps):
        if step.on == "lot":
            missed.forget(step)
            inside.follow(step)
            if step.bath is not None:
                had.add(step.bath.name)
            sure = _lot_is_sure(step, inside.how(step))
        elif inside.has(step):
            sure = _kept_is_sure(step) and not _draws_out(step, inside.how(step), strained)
        else:
            left = step.bath is not None and step.bath.name in had
            sure = _alone_is_sure(step, left, drawn[at])
            sure = sure and not (_is_clear_and_alone(step, strained) and missed.before(step))
        if step.verb == "strain" and step.bath is not None:
            strained.add(step.bath.name)
        ripens = is_vat(step.bath) and step.bath is not None and step.bath.name not in had
        sure = sure and (ripens or not far.doubts(step, inside.has(step)))
        far.notice(step)
        sure = sure and not _lies_in_what_was_missed(course, at)
        sure = sure and at not in before and not _unclear_since(course.steps, at, unclear)
        told = step.bath is not None and step.bath.plants_alone
        if told or (sure and not named.is_elsewhere(step)):
            kept.append(step)
            continue
        course.asked_about.update(one.start for one in (*step.clauses.values(), *step.spoken))
        if step.on == "lot" and step.verb != "rest":
            step.clauses = {}
            kept.append(step)
    course.steps = kept


class _Inside:
    """The baths that fibre is in, and how it is told to have gone in."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self.side_by_side = list(course.in_vessel.values())
        self.told: dict[str, str] = {}
        self.held: dict[str, FibreShare] = {}  # what of the fibre is in each
        self.last = ""

    def follow(self, step: Step) -> None:
        """Take note of where a step on the fibre leaves it.

        It is in one bath at a time, but where the vessels are told apart some of it may be in each,
        and so may other lots of it.
        """
        bath, share = step.bath, share_of(self.course, step)
        goes_in = bath is not None and step.verb in INTO
        if not goes_in or bath not in self.side_by_side:
            left = {name: held - share for name, held in self.held.items()}
            here = bath.name if bath is not None and goes_in else ""
            self.told = {one: how for one, how in self.told.items() if left[one] or one == here}
            self.held = {one: left[one] for one in self.told}
        if bath is None or not goes_in:
            return
        self.held[bath.name] = self.held.get(bath.name, FibreShare()) | share
        if bath.name not in self.told:
            self.told[bath.name] = self.last = how_told(step)

    def has(self, step: Step) -> bool:
        """True where fibre is in the bath of a step."""
        return step.bath is not None and step.bath.name in self.told

    def how(self, step: Step) -> str:
        """How the fibre went into the bath of a step, or into the last one."""
        return self.told.get(step.bath.name, self.last) if step.bath is not None else self.last


def _before_contradictions(course: Course) -> set[int]:
    """The steps between the last one that moves fibre and words that it was elsewhere.

    Where fibre is lifted that went into the bath unsaid, the words bear that out.
    """
    found: set[int] = set()
    for number, act in course.contradicted.items():
        since: set[int] = set()
        for at in range(len(course.steps) - 1, -1, -1):
            step = course.steps[at]
            if step.sentence >= number:
                continue
            if step.on == "lot" and step.bath is not None and act == "lift":
                since = set()
            elif step.on in ("bath", "lot") and (step.clauses or step.spoken):
                since.add(at)
            if step.on in ("lot", "prepare") or step.verb == "strain":
                break
        found |= {at for at in since if course.steps[at].verb != "strain"}
    return found


def _unclear_since(steps: list[Step], at: int, unclear: list[int]) -> bool:
    """True where fibre may have been moved since the last step that says where it is."""
    step = steps[at]
    here = step.on == "bath" or step.verb == "rest"
    if not here or not (step.clauses or step.spoken) or step.verb == "strain":
        return False
    known = -1
    for one in reversed(steps[:at]):
        if one.on == "lot" or (one.bath is step.bath and one.verb == "strain"):
            known = one.sentence
            break
    return any(known < number <= step.sentence for number in unclear)


# Acts that bring fibre or stuff into a bath or out of it.
MOVES = frozenset(("enter", "put", "dye", "mordant", "lift", "soak", "dip", "modify", "dissolve"))


class _Missed:
    """What the prose says is done and no step tells of, since fibre was last worked on."""

    def __init__(self, course: Course) -> None:
        told = set(course.not_followed)
        self.places = sorted(
            part.doing.start
            for sentence in course.told
            for part in sentence.parts
            if part.doing.act in MOVES and (sentence.number, part.doing.words) in told
        )
        self.since = 0

    def forget(self, step: Step) -> None:
        """Look only behind a step on the fibre from here on."""
        if step.part is not None:
            self.since = step.part.end

    def before(self, step: Step) -> bool:
        """True where something was missed before a step that keeps its bath for a time."""
        told = (*step.clauses.values(), *step.spoken)
        at = min((one.start for one in told), default=0)
        near = bisect_left(self.places, self.since)
        return near < len(self.places) and self.places[near] < at


def _lies_in_what_was_missed(course: Course, at: int) -> bool:
    """True for fibre that is said to lie for a time, which may do so in a bath that was missed.

    "A cup of soap and warm water, left it an hour" has stuff of which no step tells; and
    nobody wets fibre to let it lie while a bath stands ready for it.
    """
    step = course.steps[at]
    if step.verb != "rest" or not step.clauses or step.part is None:
        return False
    sentence = next((one for one in course.told if one.number == step.sentence), None)
    if sentence is not None and step.part.doing.act in ("leave", "hold"):
        measured = [
            one
            for part in sentence.parts
            for one in part.amounts
            if one.end <= step.part.start and one.start not in course.used
        ]
        if any(_is_stuff(sentence.of.get(one.start)) for one in measured):
            return True
    last = course.steps[at - 1] if at else None
    if last is None or last.verb != "wet out" or last.clauses:
        return False
    if any(one.sentence and one.sentence <= step.sentence for one in course.stock.items):
        return True  # stuff that no bath has got yet
    begins = step.part.start
    waits = [one for one in course.baths if not one.had_fibre]
    return any(a.start < begins for bath in waits for one in bath.stuff for a in one.amounts)


def _is_stuff(thing: Thing | None) -> bool:
    return thing is not None and thing.kind in ("material", "water")


def _is_clear_and_alone(step: Step, strained: set[str]) -> bool:
    """True for a step on a dye bath that is strained, and has no fibre that a step put in."""
    bath = step.bath
    if bath is None or bath.kind != "dye" or bath.name not in strained:
        return False
    return step.on == "bath" and "for" in step.clauses


def how_told(step: Step) -> str:
    """How the prose tells that fibre goes in: ``named``, ``verb``, ``pronoun``, ``said``, or not.

    Empty where no words say so, and the step was worked out from what comes later.
    """
    part = step.part
    if part is None:
        return ""
    if _names_fibre(part):
        return "named"
    if FIBRE_VERBS.search(part.doing.words) or (not part.doing.act and SAID.search(part.words)):
        return "verb"
    if PRONOUN.search(part.words):
        back = part.doing.act == "enter" or re.search(r"\bback\b", part.words)
        return "verb" if back and step.focus == "fibre" else "pronoun"
    return "said"


def _names_fibre(part: Part) -> bool:
    """True where a part names fibre otherwise than as what something is weighed against."""
    spans = [(one.start, one.end) for one in part.amounts if one.kind in WEIGHED]
    for one in part.things:
        weighed = any(low <= one.start < high for low, high in spans)
        per = PER.search(part.words[: one.start - part.start])
        aside = weighed or per or is_still_out(part, one) or is_weighed_by(part, one)
        if one.kind == "fibre" and not aside:
            return True
    return False


WEIGHED = frozenset(("relative", "share", "ratio"))
PER = re.compile(r"\b(?:per|to\s+(?:the|each|every)|for\s+(?:each|every))\s+[\w ]{0,12}$", re.I)


def _plants(things: tuple[Thing, ...]) -> bool:
    """True where a plant is among things: what is drawn out before fibre goes in."""
    return any(
        one.kind == "part"
        or (one.kind == "material" and (part_played(one) == "dye" or is_tannin(one.name)))
        for one in things
    )


AIR = re.compile(r"\s*(?:out\s+)?(?:in\s+(?:the\s+)?|of\s+)?(?:open\s+)?air", re.I)


def _lot_is_sure(step: Step, entry: str) -> bool:
    """False where a step on the fibre may be one on a plant or on a bath."""
    part = step.part
    if part is None or not step.clauses:
        return True
    act = part.doing.act
    if step.bath is None:
        unnamed = act == "soak" and not part.things and not part.doing.words.startswith("wet")
        unnamed = unnamed and step.focus != "fibre"
        aired = any(AIR.match(part.words, one.end - part.start) for one in step.clauses.values())
        return not unnamed and (aired or not (act == "dip" and step.verb == "air"))
    return bool(act) or entry != "said" or _names_fibre(part) or not _plants(part.things)


def _kept_is_sure(step: Step) -> bool:
    """False where a step on a bath with fibre in it may be one that draws a plant out."""
    part = step.part
    if step.on != "bath" or part is None or _names_fibre(part):
        return True
    return part.doing.act not in ("", "boil", "simmer") or not _plants(part.things)


def _draws_out(step: Step, entry: str, strained: set[str]) -> bool:
    """True where a plant may be drawn out that was never strained off, and no fibre is in.

    How the fibre went in is said by a verb or a pronoun, and what boils may be the plant alone.
    """
    part, bath = step.part, step.bath
    if bath is None or part is None or bath.name in strained or _names_fibre(part):
        return False
    if not (step.clauses or step.spoken):
        return False
    if not bath.kind:
        return entry in ("verb", "pronoun")
    if bath.kind != "dye":
        return False
    return step.verb in DRAWING.get(entry, ())


# What a bath does in which a plant may still be drawn out, by how the fibre is told to go in.
DRAWING = {"verb": ("boil", "simmer"), "pronoun": ("boil", "simmer"), "said": ("hold",)}


def _alone_is_sure(step: Step, left: bool, drawn: bool) -> bool:
    """False where a step on a bath without fibre may be for fibre that goes in unsaid."""
    part = step.part
    if step.on != "bath" or part is None or not (step.clauses or step.spoken):
        return True
    act = part.doing.act
    if is_vat(step.bath) and not left:
        return True
    if step.bath is not None and step.bath.kind == "mordant" and step.verb in KEEPS and not drawn:
        return False  # nobody boils alum for itself: the fibre is in, or it is a plant that boils
    if step.clauses.keys() == {"until"} or (LIQUOR_ALONE.match(part.doing.words) and not left):
        return True
    if left:
        return bool(act) and step.verb != "stand"  # what is let stand may have the fibre in it
    if not left and step.verb == "stand" and _is_of_plants_alone(step):
        return True
    bath_alone = step.verb in ("cool", "strain", "discard", "heat", "top up") or act in KEPT_HOT
    return bath_alone or drawn or (act == "soak" and _plants(part.things))


def _is_of_plants_alone(step: Step) -> bool:
    """True for "put the weld in a pot, cover with water and leave overnight", of no fibre."""
    bath = step.bath
    if bath is None or bath.prepared is None or step.part is None:
        return False
    solids = [one.name.replace("-", " ") for one in bath.stuff if one.name != "water"]
    plants = bool(solids) and all(trade_role(name) == "dyestuff" for name in solids)
    fibre = any(thing.kind == "fibre" for thing in step.part.things)
    return plants and not fibre and bath.prepared.sentence == step.sentence


def _drawn(steps: list[Step]) -> list[bool]:
    """For each step, whether its bath is strained next, or the fibre is named that goes in."""
    after: dict[str, bool] = {}
    made: list[bool] = []
    for step in reversed(steps):
        name = step.bath.name if step.bath is not None else ""
        made.append(after.get(name, False) if name else False)
        if name and step.verb == "strain":
            after[name] = True
        elif name and step.on == "lot":
            after[name] = how_told(step) in ("named", "verb")
    return made[::-1]
