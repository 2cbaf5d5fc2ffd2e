"""Safety of how free words have the work done: by mouth or nose, shut up tight, by children."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from procedure.facts.handling import (
    Handled,
    called,
    declared,
    grave,
    handled,
    plants,
    sources,
)
from procedure.facts.in_words import WordsAtStep, said
from procedure.facts.study import Study
from procedure.findings import Says, say
from procedure.model.harm import DENIED, clauses_of, undenied
from procedure.model.types import Name, Step
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.safety.audience import CHILDREN, EXPECTING, for_children
from procedure.rules.safety.food_places import KEPT_AWAY, food_in
from procedure.rules.safety.places_for_waste import ways_named
from procedure.rules.safety.protection import FAMILY
from procedure.vocabulary.data_files import kept_of_tables, parts, rows
from procedure.vocabulary.thresholds import threshold


class _Way(NamedTuple):
    """A careless way of working: words that are all in one clause, and what to do instead.

    ``when`` is ``fumes`` where it is one only beside what is bad to breathe, ``grave`` beside
    what hurts badly. ``level`` is that of a work in which nothing hurts badly; in any other it is
    an error.
    """

    words: tuple[tuple[str, ...], ...]
    when: str
    level: str
    means: str
    remedy: str
    source: str


@cache
def _ways() -> tuple[_Way, ...]:
    return tuple(
        _Way(
            tuple(parts(row[column]) for column in ("words", "beside") if row[column]),
            row["when"],
            row["level"],
            row["means"],
            row["remedy"],
            row["source"],
        )
        for row in rows("careless_ways")
    )


@kept_of_tables
def _ways_by_word() -> dict[str, tuple[int, ...]]:
    """The places of the ways by the longest word of each that they are said with."""
    found: dict[str, tuple[int, ...]] = {}
    for at, way in enumerate(_ways()):
        for _, each in _word_by_word(way.words[0]):
            longest = max(each, key=len)
            found[longest] = (*found.get(longest, ()), at)
    return found


@remembered(4096)  # a text says the same at many steps, and to many readings
def _ways_in(clause: str) -> tuple[_Way, ...]:
    """The ways that a clause in small letters says, in the order of the data."""
    places = sorted({at for word, ways in _ways_by_word().items() if word in clause for at in ways})
    ways = [_ways()[at] for at in places]
    return tuple(way for way in ways if all(_said(words, clause) for words in way.words))


# “Never boil the bath dry” forbids the way itself, whatever else it leaves there.
_FORBIDDEN = r"\b(?:never|not|don['’]t)(?: ever)? $"


def _said(words: tuple[str, ...], clause: str) -> bool:
    """Whether a clause in small letters says any of some words, and does not forbid it."""
    # Most clauses lack a word of each, and a pattern takes long to make.
    return any(
        pattern(_FORBIDDEN).search(clause, 0, found.start()) is None
        for one, each in _word_by_word(words)
        if all(map(clause.__contains__, each))
        for found in _pattern_of(one).finditer(clause)
    )


@cache
def _word_by_word(words: tuple[str, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Each with the words that a clause has to hold."""
    return tuple((one, tuple(one.replace("...", "").split())) for one in words)


@cache
def _pattern_of(words: str) -> re.Pattern[str]:
    """The pattern of words from their beginning; “...” in them stands for up to four words.

    What begins another thing is none of them: “drink tea while the bath cools”.
    """
    other = r"(?!(?:while|when|as|and|or|before|after|until|away|beside|by|near|at)\b)"
    between = "(?:" + other + r"[\w'’]+ ){0,4}"
    return pattern(r"\b" + re.escape(words).replace(r"\.\.\.\ ", between))


@rule("careless-way", level="error", family=FAMILY, source="common practice")
def careless_way(study: Study) -> Iterator[Found]:
    """Free words that have the work done by mouth or nose, shut up tight, among food, by children.

    No other rule sees how a thing is done that stands in quotation marks alone: a bath sipped or
    sucked up, a nose over ammonia, a jar that ferments with its lid screwed down, a dye kept
    in a lemonade bottle. It hurts whatever the bath is made of.

    Trips:
        do "sip a little of the bath: it should be sour"
    Cure:
        do "look at the bath: it should be clear"
    """
    met = handled(study)
    hurts = next((one for one in met if _grave(one)), None)
    for one in said(study):
        if _may_be_careless(one.text):
            yield from _done_carelessly(one, met)
            yield from _dye_among_food(study, one, met)
            yield from _by_children(study, one, met)
            yield from _by_expecting(study, one, met)
            yield from _unprotected(one, study, met)
            yield from _poured_out(study, one, hurts)
        yield from _water_onto(study, one)
    for made in study.procedures:  # a line that could not be read, such as “drink the bath”
        for words in made.unread_words:
            yield from _done_carelessly(WordsAtStep(words.text, made, words.place, (), True), met)
    yield from _put_by_unlabelled(study, met)
    yield from _in_places_of_food(study, met)


@remembered(4096)  # most texts say none of all that, and each is said at many steps
def _may_be_careless(text: str) -> bool:
    """Whether free words have anything of what is asked about them below, wherever they stand."""
    low = text.lower()
    if "expect" in low or "pregnan" in low:
        return True
    if any(map(low.__contains__, _YOUNG)) or any(map(low.__contains__, _NOT_YET)):
        return True
    return any(map(food_in, text.replace(";", ".").split("."))) or any(
        _ways_in(clause)
        or _done_without(clause) is not None
        or any(way in _OUTSIDE for way in ways_named(undenied(clause)))
        for clause in clauses_of(low)
    )


def _in_places_of_food(study: Study, met: list[Handled]) -> Iterator[Found]:
    """Steps in a place of food that nobody declares: “heat it in the microwave”.

    A name that no step may do without is told of where it is not declared.
    """
    told = {(slip.procedure.key, slip.name.place) for slip in study.slips("not declared")}
    hurts = any(map(_grave, met))
    for node in study.flow.nodes:
        step = node.step
        for name in _places(step) if isinstance(step, Step) else ():
            if name.text in node.procedure.equipment:
                continue
            word = food_in(name.text.replace("-", " "))
            if word and (node.procedure.key, name.place) not in told:
                yield at_node(
                    node,
                    say("Dye is put among food here (“{word}”).", word=word),
                    "Use vessels and places that never hold food or drink, and label them.",
                    level="error" if hurts else "warning",
                    source="Regulation (EC) No 1272/2008, Annex IV, P270; common practice",
                )


def _places(step: Step) -> Iterator[Name]:
    """Where a step is done and where it takes something to."""
    if step.on is not None:
        yield step.on
    for item in (step.within, step.to, *step.into):
        name = (item.words or item.name) if item is not None else None
        if name is not None:
            yield name


def _done_carelessly(one: WordsAtStep, met: list[Handled]) -> Iterator[Found]:
    for clause in clauses_of(one.text.lower()):
        if any(map(clause.__contains__, _NOT_YET)):
            clause = pattern(_NOT_YET_HOT).sub(" ", clause)
        # A flame under the spirit is there, though the plant under the tree is not.
        for way in _ways_in(clause) if undenied(clause) else ():
            if way.when and not any(map(_WHEN[way.when], met)):
                continue
            if _ONE_TOOL in way.means and pattern(_ANOTHER_TOOL).search(clause):
                continue
            yield _at(
                one,
                say("“{words}” {means}.", words=clause.strip(), means=Says(way.means)),
                way.remedy,
                level="error" if any(map(_grave, met)) else way.level,
                source=way.source,
            )
            return


# “Cook the soup in another pot” has two.
_ONE_TOOL = "uses one tool"
_ANOTHER_TOOL = r"\b(another|different|separate|its own|their own|(?:an)?other)\b"
_NOT_YET = ("before", "until", "while")
# “Before the bath is hot”: it is not hot then.
_NOT_YET_HOT = (
    r"\b(?:before|until) (?:[\w'’]+ ){1,3}?(?:is|are|gets?|grows?|comes? to|reach\w*|boils?)\b"
    r"(?: (?:too|very|really|the))?(?: (?:hot|boil\w*|simmer\w*|steam\w*))?"
)


def _at(
    one: WordsAtStep, says: Says, remedy: Says | str, source: str, level: str = "error"
) -> Found:
    """A finding at free words."""
    return Found(one.procedure, one.place, says, remedy, one.calls, level=level, source=source)


def _fumes(one: Handled) -> bool:
    return any(hazard.yes("air") for hazard in one.hazards)


def _grave(one: Handled) -> bool:
    return any(grave(hazard) for hazard in one.hazards)


_WHEN = {"fumes": _fumes, "grave": _grave}

# What is spoken of where a dye is put among food: the work, and no tea that is made meanwhile.
_BY_ITS_NAME = r"\b(dye\w*|mordant\w*|bath|liquor|vat|modifier|afterbath)\b"
_OF_DYEING = (
    _BY_ITS_NAME +
    # Put by without its name: “keep the rest in a milk bottle” is of what the work is done with.
    r"|\b(stor|keep|kept|put|pour|ladl|fill|decant|tip|sav|leav|stand)\w*( \w+)? "
    r"(it|them|this|rest|some|half|remainder|leftovers?)\b"
    r"|\b(wet|damp|dyed|mordanted|dripping) (yarn|wool|skeins?|cloth|fibre|silk)\b"
)


# A note that only speaks of a meal has nothing put into its dishes.
_AT_TABLE = (
    r"\b(eat|eaten|drink|drunk|lunch|supper|dinner|breakfast|meanwhile|while|snack|tea break|"
    r"hungry|thirsty|like|colour|color|shade|as|smells?)\b"
)


def _names_any(study: Study, met: list[Handled], said_low: str) -> bool:
    """True where words name a mordant, or what harms, by the name that it is declared by."""
    named = {one.thing for one in met}
    named |= {
        thing
        for thing, (made, _) in study.flow.materials.items()
        if not _METALS.isdisjoint(made.roles)
    }
    return any(re.search(r"\b" + re.escape(thing.lower()) + r"\b", said_low) for thing in named)


_METALS = frozenset(("mordant", "modifier"))


def _dye_among_food(study: Study, one: WordsAtStep, met: list[Handled]) -> Iterator[Found]:
    """A dye, a mordant or a bath in a vessel or a place of food, where no material is named.

    A kitchen's stove and table count only where something that hurts badly is in the work.
    """
    beside_work = bool(one.here) and not one.done
    for clause in one.text.replace(";", ".").split(".") if one.done or beside_work else ():
        word, said_low = food_in(clause), clause.lower()
        kept_apart = "dyeing only" in clause or "for dyeing" in clause
        if not word or kept_apart or (beside_work and pattern(_AT_TABLE).search(said_low)):
            continue
        of_dyeing = beside_work or pattern(_OF_DYEING).search(said_low)
        if not (of_dyeing or _names_any(study, met, said_low)):
            continue
        hurts = any(map(_grave, met))
        # A jar that held jam once holds marbles too; with a bath in it, it is one for food.
        held_food = "kitchen" in word or (
            word.endswith("jar") and not (beside_work or pattern(_BY_ITS_NAME).search(said_low))
        )
        if hurts or not held_food:
            yield _at(
                one,
                say("Dye is put among food here (“{word}”).", word=word),
                "Use vessels and places that never hold food or drink, and label them.",
                level="error" if hurts else "warning",
                source="Regulation (EC) No 1272/2008, Annex IV, P270; common practice",
            )
            return


_CHILDREN = r"\b(" + CHILDREN + r")\b"
# What no text lacks that names them: any other needs no pattern.
_YOUNG = tuple(
    "child kid pupil toddler baby babies youngster little scout nursery playroom".split()
)
_KEPT_OUT = DENIED + "|" + KEPT_AWAY + r"|\b(keep|kept|away)\b"
_AT_WORK = (
    r"\b(work|stir|help|dip|chop|cut|gather|pick|rins|squeez|pour|add|weigh|play|mix|crush|tear|dye|"
    r"pull|hold|fill|carr|wring|strain|wash|mash|tread|stamp|squash|press|paint|knead|pound|"
    r"grind)\w*\b"
)


# Children at the pot itself: “the toddlers may stir”, and not “stir while the children sleep” nor
# “the children gathered the skins”.
_CHILDREN_WORK = (
    r"\b(?:"
    + CHILDREN
    + r")\b (?:(?:may|can|could|might|should|will|do|also|all|take|turns|in|at|help|"
    r"helps|to|like|love|now|too) )*"
    r"(?:stir|dip|pour|lift|ladle|fish|squeeze|carry|hold|rinse|wring|press|push|poke|turn|add)"
    r"(?:s|[pr]?ing)?\b"
    r"(?=$| (?:it|them|a (?:little|bit|while)|in|with|now|here|too|gently|slowly|carefully|once|"
    r"twice|at|from|out|by turns|(?:the |some |more )?(?:yarns?|skeins?|wool|cloth|fibres?|silk|"
    r"baths?|pots?|liquor|dye|lid|bags?|nets?|paddle|spoon|skins|plants|leaves|roots|bark))\b)"
)


def _by_children(study: Study, one: WordsAtStep, met: list[Handled]) -> Iterator[Found]:
    """Children who do the work, in words alone, where something in it is nothing for them."""
    if not any(map(one.text.lower().__contains__, _YOUNG)) or for_children(one.procedure):
        return  # that is told at the audience
    for clause in clauses_of(one.text.lower()):
        if not (pattern(_CHILDREN).search(clause) and pattern(_AT_WORK).search(clause)):
            continue
        if pattern(_KEPT_OUT).search(clause):
            continue
        for each in met:
            kept_from = tuple(h for h in each.hazards if h.yes("children") or h.yes("no_children"))
            if kept_from:
                yield _at(
                    one,
                    say(
                        "“{words}”: {thing} is in the work, and it is nothing for children.",
                        words=clause.strip(),
                        thing=called(study, each.thing),
                    ),
                    "Leave the work to adults, or take a material that harms nobody.",
                    level="error" if any(grave(h) for h in kept_from) else "warning",
                    source=sources(kept_from, declared(study, each.thing)),
                )
                return
        if one.scalds and pattern(_CHILDREN_WORK).search(clause.strip()):
            yield _at(
                one,
                say("“{words}”: the bath is so hot here that it scalds.", words=clause.strip()),
                "Keep children away from what is hot; give them what is cold.",
                level="warning",
                source=threshold("scalding heat").source,
            )
            return
        nameless = pattern(_NAMELESS).search(clause) if one.done else None
        if nameless is not None and not _plays(study, nameless.group(1)):
            yield _at(
                one,
                say(
                    "“{words}”: nobody says what the {thing} is, nor whether it harms.",
                    words=clause.strip(),
                    thing=nameless.group(1),
                ),
                "Declare it as a material. Leave it to adults, or take one that harms nobody.",
                level="warning",
                source="Regulation (EC) No 1272/2008, Annex IV, P102; common practice",
            )
            return


def _by_expecting(study: Study, one: WordsAtStep, met: list[Handled]) -> Iterator[Found]:
    """Those who expect a child, who do the work in words, where a plant in it harms the child."""
    if "expect" not in one.text.lower() and "pregnan" not in one.text.lower():
        return
    for clause in clauses_of(one.text.lower()):
        if not (pattern(EXPECTING).search(clause) and pattern(_AT_WORK).search(clause)):
            continue
        if pattern(_KEPT_OUT).search(clause):
            continue
        for each in met:
            harms = [plant for plant in plants(study, each.thing) if plant.yes("expecting")]
            if harms or any(hazard.yes("expecting") for hazard in each.hazards):
                yield _at(
                    one,
                    say(
                        "“{words}”: {thing} is in the work, and it is nothing for those who expect "
                        "a child.",
                        words=clause.strip(),
                        thing=called(study, each.thing),
                    ),
                    "Leave the work to those who expect no child, or take what harms nobody.",
                    level="error",
                    source=sources(each.hazards, declared(study, each.thing)),
                )
                return


# Parts of the work that harm as often as not, where no material plays them.
_NAMELESS = r"\b(mordant|acid|alkali|bleach|lye|chemicals?|vat)\b"


def _plays(study: Study, part: str) -> bool:
    """Whether a material of the plan plays a part; a vat is of what was declared."""
    made = [made for made, _ in study.flow.materials.values()]
    return any(part in one.roles for one in made) or (part == "vat" and bool(made))


_NOT_NEEDED = r"(?:(?:is|are) not|(?:is|are)n['’]t|not) (?:needed|necessary|required|worn)"
_WITHOUT = (
    r"(?:no|without(?: a| any| the| your)?|don['’]t (?:need|wear|bother with)(?: a| any)?|"
    r"do not (?:need|wear)(?: a| any)?|no need (?:of|for|to wear)(?: a| any)?|"
    r"(?:take|took|pull)(?: off)?(?: your| the)?)"
)


class _Waived(NamedTuple):
    """Words that do without something that keeps one safe: ``gear`` by its names, or as ``said``
    otherwise. ``calls`` is the column of ``hazards.csv`` that says what calls for it, ``worn`` what
    the head says of it."""

    gear: tuple[str, ...]
    said: tuple[str, ...]
    calls: str
    worn: str
    what: str
    remedy: str


@cache
def _waived() -> tuple[_Waived, ...]:
    return tuple(
        _Waived(
            parts(row["gear"]),
            parts(row["said"]),
            row["calls"],
            row["worn"],
            row["what"],
            row["remedy"],
        )
        for row in rows("done_without")
    )


@cache
def _without(gear: tuple[str, ...]) -> re.Pattern[str]:
    """“No gloves”, “take the gloves off”, “gloves are not needed”."""
    worn = "(?:" + "|".join(sorted(gear, key=len, reverse=True)) + ")"
    without = r"(?<!\bnot )(?<!\bnever )\b" + _WITHOUT + " " + worn + "(?: off)?"
    return pattern(r"\b(?:" + without + "|" + worn + " (?:off|" + _NOT_NEEDED + r"))\b")


@cache
def _marks_of_waiving() -> tuple[str, ...]:
    """What no clause lacks that does without something: most clauses speak of none of it."""
    marks: set[str] = set()
    for way in _waived():
        marks.update(way.gear)
        marks.update(max(each, key=len) for _, each in _word_by_word(way.said))
    return tuple(sorted(one for one in marks if not any(to in one for to in marks - {one})))


@remembered(4096)
def _done_without(clause: str) -> _Waived | None:
    """The first thing that a clause in small letters does without, where it does not deny it."""
    if not any(map(clause.__contains__, _marks_of_waiving())):
        return None
    for way in _waived():
        said_so = _does_without(way, clause)
        if said_so is None:
            continue
        rest = clause[: said_so.start()] + clause[said_so.end() :]
        if not pattern(r"\b(never|don't|do not|after|last)\b").search(rest):
            return way
    return None


def _does_without(way: _Waived, clause: str) -> re.Match[str] | None:
    """The words of a clause that do without something."""
    if any(map(clause.__contains__, way.gear)) and (found := _without(way.gear).search(clause)):
        return found
    for one, each in _word_by_word(way.said):
        if all(map(clause.__contains__, each)) and (found := _pattern_of(one).search(clause)):
            return found
    return None


def _unprotected(one: WordsAtStep, study: Study, met: list[Handled]) -> Iterator[Found]:
    """Words that do without gloves, a mask, fresh air or a lid what calls for them."""
    for clause in clauses_of(one.text.lower()):
        way = _done_without(clause)
        if way is not None:
            yield from _what_calls_for(one, study, met, clause.strip(), way)
            return


def _what_calls_for(
    one: WordsAtStep, study: Study, met: list[Handled], clause: str, way: _Waived
) -> Iterator[Found]:
    """The finding on what somebody does without, where something calls for it."""
    if way.calls != "gloves" and one.here:
        met = [each for each in met if each.thing in one.here]
    callers = [(each, h) for each in met for h in each.hazards if h.yes(way.calls)]
    callers.sort(key=lambda each: not grave(each[1]))  # what hurts worst
    if callers:
        hurts, hazard = callers[0]
        yield _at(
            one,
            say(
                "“{words}” is said here, and {thing} calls for {what}.",
                words=clause,
                thing=called(study, hurts.thing),
                what=way.what,
            ),
            way.remedy,
            source=sources(hurts.hazards, declared(study, hurts.thing)),
            level="error" if grave(hazard) else "warning",
        )
    elif way.worn and not one.done and way.worn in [name.text for name in one.procedure.wearing]:
        yield _at(
            one,
            say(
                "“{words}” is said here, and the head says “wearing {worn}”.",
                words=clause,
                worn=way.worn,
            ),
            "Say one of the two. Whoever reads both wears none.",
            source="common practice",
            level="warning",
        )


_POURED = r"\b((throw|tip|pour|empt|sling|chuck|splash|water)\w*|go|goes|going|went|gone)\b"
_WASTE = r"\b(liquor|bath|dye|mordant|vat|leftovers?|remains?|rest|(dye|used|spent) water)\b"


# A bath that is called by what harms in it: “the copper water”.
_BY_ITS_POISON = (
    r"\b(copper|tin|chrome|iron|lead|acid|bleach|lye|caustic|ammonia|spirit|vitriol)"
    r"( (and|or) \w+)? (waters?|baths?|liquors?|mordants?|vats?|rinses?|slops|waste)\b"
)
_P273 = "Regulation (EC) No 1272/2008, Annex IV, P273 (not into the environment)"


def _poured_out(study: Study, one: WordsAtStep, hurts: Handled | None) -> Iterator[Found]:
    """A bath with what harms, poured by words alone where children, animals and water are.

    Where nothing declared hurts badly, only what its own name tells of, and any dye in open water.
    """
    for clause in clauses_of(one.text.lower()) if one.done else ():
        left = undenied(clause)
        ways = [way for way in ways_named(left) if way in _OUTSIDE]
        way = "open water" if "open water" in ways else next(iter(ways), None)
        if way is None or not pattern(_POURED).search(left):
            continue
        named = pattern(_BY_ITS_POISON).search(left)
        if hurts is not None and pattern(_WASTE).search(left):
            thing, source = (
                called(study, hurts.thing),
                sources(hurts.hazards, declared(study, hurts.thing)),
            )
            why = say(", and {thing} is in the work", thing=thing)
        elif named is not None or (way == "open water" and pattern(_WASTE).search(left)):
            why, source = Says(""), _P273
        else:
            continue
        yield _at(
            one,
            say("“{words}” pours it where it harms{why}.", words=clause.strip(), why=why),
            "Write it with “discard”, and to a place that may take it.",
            source=source,
            level="error" if hurts is not None or named is not None else "warning",
        )
        return


_OUTSIDE = ("open water", "ground", "compost", "septic tank", "soakaway", "fodder")
_ONTO = r"\b(water|kettle)\b.*\b(on|onto|into|in|to|over)\b"
_TOPPED = r"\btop\w* up\b"


@kept_of_tables
def _poured_on() -> dict[str, dict[str, str]]:
    """The rows of what meets water that is poured onto it, by what it is."""
    return {row["first"]: row for row in rows("meetings") if row["second"] == "water poured in"}


def _water_onto(study: Study, one: WordsAtStep) -> Iterator[Found]:
    """Water that words alone pour onto acid, lye or quicklime, by the rows of ``meetings.csv``."""
    text = undenied(one.text.lower()) if one.done else ""
    if not ("water" in text or "kettle" in text):
        return
    for thing, (made, _) in study.flow.materials.items():
        row = _poured_on().get(made.entry.name) if made.entry is not None else None
        if row is None or made.entry is None:
            continue
        names = "|".join(map(re.escape, {made.name.text.lower(), made.entry.name}))
        onto = _ONTO + r".{0,20}\b(" + names + r")\b"
        topped = _TOPPED + r".{0,20}\b(" + names + r")\b.*\bwater\b"
        if re.search(onto, text) or re.search(topped, text):
            yield _at(
                one,
                say(
                    "Water goes onto {thing}: {what}.", thing=called(study, thing), what=row["what"]
                ),
                say("{remedy}.", remedy=row["remedy"][:1].upper() + row["remedy"][1:]),
                level="error",
                source=row["source"],
            )


_PUT_BY = r"\b(stor(e|ed|ing)|keep|put (\w+ )?(by|away|aside)|save|left?|leave)\b"
_SAFELY = r"\blabel|\block"


def _put_by_unlabelled(study: Study, met: list[Handled]) -> Iterator[Found]:
    """A plant that poisons, put by in words alone that speak of no label."""
    for one in met:
        step = one.moment.step
        if step.words is None or "labelled" in step.manner:
            continue
        words = step.words.text.lower()
        poison = any(plant.facts["level"] != "harmful" for plant in plants(study, one.thing))
        if poison and pattern(_PUT_BY).search(words) and not pattern(_SAFELY).search(words):
            yield at_node(
                one.moment.node,
                say("{thing} is kept without a label.", thing=called(study, one.thing)),
                "Say that it is labelled, and where it is locked away from children and food.",
                level="error",
                source=sources(one.hazards, declared(study, one.thing)),
            )


RULES = (careless_way,)
