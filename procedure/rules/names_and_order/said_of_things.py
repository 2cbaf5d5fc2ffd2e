"""What is said of a thing and orders nothing (“the rinsed yarn”), held against what was done.

Which words there are is in ``said_of_things.csv``: the states that they tell of, each a
function here, and the effects of steps that make them true.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache

from procedure.facts.liquor import ancestors
from procedure.facts.study import Study
from procedure.findings import say
from procedure.model import Name
from procedure.rules.rule import Found, rule
from procedure.trace import BathState, LotState, Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import parts, rows

FAMILY = "names and order"
# In °C: what nobody calls cooled.
_HOT = 45
# The state that words for a heat tell of.
_HOT_ENOUGH = "hot enough"


def _cool(thing: LotState | BathState) -> bool:
    return thing.heat is None or thing.heat.low <= _HOT


def _as_hot(thing: LotState | BathState, word: str) -> bool:
    """True where a thing may be as hot as a word for a heat has it, at its coolest."""
    meant = vocabulary().heats.get(word)
    return (
        thing.heat is None
        or meant is None
        or (thing.heat.high is None or thing.heat.high >= meant.low)
    )


def _loose(lot: LotState) -> bool:
    """True where a lot surely carries something loose."""
    return any(not one.path for one in lot.carried.values())


_OF_LOTS: dict[str, Callable[[LotState], bool]] = {
    "wet": lambda lot: lot.possibly("dry") != "" or len(lot.wetness) > 1,
    "dry": lambda lot: lot.possibly("dry") is not None,
    "scoured": lambda lot: lot.scoured is not False,
    "mordanted": lambda lot: lot.mordanted or bool(lot.mordants),
    "tannined": lambda lot: lot.mordanted or bool(lot.mordants),
    "dyed": lambda lot: bool(lot.dyes),
    "not mordanted": lambda lot: not lot.mordanted and not lot.mordants,
    "not dyed": lambda lot: not lot.dyes,
    "not rinsed": _loose,
    "cool": _cool,
}
_OF_BATHS: dict[str, Callable[[BathState], bool]] = {
    "strained": lambda bath: not bath.solids,
    "cool": _cool,
}


@cache
def _said() -> dict[str, tuple[str, tuple[str, ...]]]:
    """The state that each word tells of, and the effects that make it true."""
    return {row["word"]: (row["state"], parts(row["effects"])) for row in rows("said_of_things")}


@rule("said-but-not-so", level="note", family=FAMILY, source="the language reference")
def said_but_not_so(study: Study) -> Iterator[Found]:
    """A word before the name of a thing that is not true of it at that step.

    “The rinsed yarn” orders nothing: whoever relies on it leaves the rinse out, and the amount,
    water and time of it are nowhere. Where the yarn was never rinsed, a step is missing or the
    word is wrong.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 40 °C for 1 h
        lift yarn from alum-bath
        discard alum-bath to "foul drain"
        hang the rinsed yarn to dry
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 40 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        hang the rinsed yarn to dry
    """
    procedure = study.procedure
    for word, thing in procedure.said_of:
        moment = _moment_of(study, word, thing)
        if moment is None or _is_so(study, moment, word.text, thing):
            continue
        yield Found(
            procedure,
            word.place,
            say(
                "“{word}” is said of {thing}, and no step above makes it so.",
                word=word.text,
                thing=thing,
            ),
            say(
                "Write the step that does it on a line above, or leave out “{word}”.",
                word=word.text,
            ),
        )


RULES = (said_but_not_so,)


def _moment_of(study: Study, word: Name, thing: str) -> Moment | None:
    """The step in whose line a word is said of a thing; None where it cannot be told."""
    own = [one for one in study.moments if not one.node.calls]
    above = [one.step.place.line for one in own if one.step.place.line <= word.place.line]
    line = max(above, default=0)
    here = [one for one in own if one.step.place.line == line and thing in _things(one)]
    return here[0] if here else None


def _things(moment: Moment) -> set[str]:
    """The names of all that a step is about."""
    step = moment.step
    items = [*step.objects, step.within, *step.into, *step.using, step.to, step.source]
    names = {item.name.text for item in items if item is not None and item.name is not None}
    return names | {*moment.node.lots, moment.node.bath}


def _is_so(study: Study, moment: Moment, word: str, thing: str) -> bool:
    """True where what is said of a thing may be so at a step; only what is surely not is told."""
    state, effects = _said().get(word.lower(), ("", ()))
    procedure = study.procedure
    if (made := procedure.materials.get(thing)) is not None:
        if word in made.words or made.state == word:
            return True
        if state == "dry":
            return made.state != "fresh"
        powder = any(one in ("powder", "ground", "extract", "chopped") for one in made.words)
        return not effects or powder or _was_done(study, moment, thing, effects)
    if (bath := moment.before.baths.get(thing)) is not None:
        if state == _HOT_ENOUGH:
            return _as_hot(bath, word.lower())
        return _OF_BATHS[state](bath) if state in _OF_BATHS else True
    lot = moment.before.lots.get(thing)
    if lot is None:
        return True
    declared = procedure.lots.get(thing)
    if declared is not None and word in " ".join(declared.words).split():
        return True
    if state == _HOT_ENOUGH:
        return _as_hot(lot, word.lower())
    if state in _OF_LOTS:
        return _OF_LOTS[state](lot)
    if state == "clear" and _loose(lot):
        return False
    return not effects or _was_done(study, moment, thing, effects)


def _was_done(study: Study, moment: Moment, thing: str, effects: tuple[str, ...]) -> bool:
    """True where a step above has one of the effects on a thing, or on what it was part of."""
    names = {thing} | ancestors(study, thing)
    return any(
        any(effect == one.node.effect for effect in effects) and not names.isdisjoint(_things(one))
        for one in study.moments
        if one.node.id < moment.node.id
    )
