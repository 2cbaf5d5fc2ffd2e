"""Safety in pouring away: where a bath goes, and what may not go there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from operator import itemgetter

from procedure.facts.handling import called, declared
from procedure.facts.study import Study
from procedure.findings import LEVELS, Says, listed, plainly_said, say
from procedure.model import Name
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.rules.safety.meetings import known_meetings, worst_of
from procedure.rules.safety.places_for_waste import (
    NOT,
    OUT_OF_REACH,
    SOLIDS,
    place_said,
    ways_named,
    ways_out,
)
from procedure.rules.safety.protection import FAMILY
from procedure.trace import Content, Moment
from procedure.vocabulary import Entry, vocabulary, waste
from procedure.vocabulary.thresholds import threshold


def _entries(study: Study, thing: str) -> tuple[Entry, ...]:
    """The words of the vocabulary that a material is, or may be."""
    made = declared(study, thing)
    if made is None:
        return ()
    known = vocabulary()
    suspects = (known.material(plant.name) for plant in made.suspects)
    return tuple(one for one in (made.entry, *made.mixed, *suspects) if one is not None)


def _kinds(study: Study, thing: str) -> set[str]:
    return {kind for entry in _entries(study, thing) for kind in waste.kinds(entry)}


GRAVE_WASTE = frozenset(("restricted", "harmful metal", "water poison", "toxic plant"))


class _Refused(NamedTuple):
    """A thing that may not go a way: why, and the word of the text that names the way."""

    thing: str
    why: waste.WasteRefusal
    word: str
    level: str


# In a drain it is the thing itself that counts, not the water of its bottle.
_WITHOUT_WATER = frozenset(("oxidiser", "burning acid", "burning alkali", "acute water poison"))


def _refused(
    study: Study, moment: Moment, thing: str, content: Content, way: str, word: str
) -> _Refused | None:
    """Whether so much of a thing may not go that way; what fibre took up does not go."""
    bath = moment.bath_before
    grams = content.left if content.left is not None else content.grams
    most = grams[1] if grams is not None else None
    per_litre = None
    if most is not None and bath is not None and bath.volume is not None and bath.volume[0] > 0:
        per_litre = most / bath.volume[0]
    found: list[_Refused] = []
    for entry in _entries(study, thing):
        for why in waste.refusals(entry, way, most, per_litre):
            if why.what in _WITHOUT_WATER and way == "drain" and content.grams and content.grams[1]:
                pure = _pure(study, thing, content)
                itself = per_litre * pure / content.grams[1] if per_litre is not None else None
                if not why.holds(pure, itself):
                    continue
            # What was boiled through grows no more, if all of it was.
            boiled = why.what == "invasive plant" and _was_heated(study, moment)
            found.append(_Refused(thing, why, word, "warning" if boiled else why.level))
    return min(found, key=lambda one: LEVELS.index(one.level), default=None)


def _was_heated(study: Study, moment: Moment) -> bool:
    return any(m.node.does.warms and m.node.bath == moment.node.bath for m in study.moments)


def _discards(study: Study) -> Iterator[tuple[Moment, Mapping[str, Content]]]:
    seen: set[int] = set()
    for moment in study.moments:
        node = moment.node
        if node.does.empties and node.bath and node.id not in seen:
            seen.add(node.id)
            yield moment, moment.bath_before.contents if moment.bath_before else {}


@rule("no-disposal", level="warning", family=FAMILY, source="common practice")
def no_disposal(study: Study) -> Iterator[Found]:
    """A bath that is thrown away, and it is not said where to.

    Whoever has a garden tips it there. It is an error with a metal that harms, a
    toxic plant, or what kills water life; with those in it, a place that the program does
    not know is none. With what only harms soil it is a warning: bean rows are such a place.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard gold-bath
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard gold-bath to "foul drain"
    """
    for moment, contents in _discards(study):
        words = place_said(moment)
        bad = [thing for thing in contents if GRAVE_WASTE & _kinds(study, thing)]
        name = study.thing(moment.node.bath)
        if moment.step.to is not None:
            if words is not None and not ways_out(words.text):
                found = _of_unknown_place(study, moment, contents, words.text, bad)
                if found is not None:
                    yield found
            continue
        what = (
            say(
                ", and {bad} {are} in it",
                bad=listed(called(study, thing) for thing in bad),
                are="is" if len(bad) == 1 else "are",
            )
            if bad
            else ""
        )
        path = on_way(contents[bad[0]].path) if bad else ""
        yield at_node(
            moment.node,
            say(
                "It is not said where {name} is thrown away{what}{way}.",
                name=name,
                what=what,
                way=path,
            ),
            say(
                'Write “discard {name} to "..."”, such as the foul drain or a waste point.',
                name=name,
            ),
            level="error" if bad else "warning",
        )


def _of_unknown_place(
    study: Study, moment: Moment, contents: Mapping[str, Content], words: str, bad: list[str]
) -> Found | None:
    """What is said of a place that nobody knows, where what is poured out may do harm there."""
    harms = bad or [
        thing
        for thing, content in contents.items()
        for refused in [_refused(study, moment, thing, content, "ground", words)]
        if refused is not None and refused.level != "note"
    ]
    if not harms:
        return None
    return at_node(
        moment.node,
        say(
            "“{words}” is no way out that I know, and {bad} {are} in {name}.",
            words=words,
            bad=listed(called(study, thing) for thing in harms),
            are="is" if len(harms) == 1 else "are",
            name=study.thing(moment.node.bath),
        ),
        "Ask where such waste is taken, and name that place, such as “the hazardous waste point”."
        if bad
        else "Name a way out, such as “the foul drain”: soil and water do not bear it.",
        level="error" if bad else "warning",
    )


@rule("wrong-way-out", level="error", family=FAMILY, source="common practice")
def wrong_way_out(study: Study) -> Iterator[Found]:
    """A bath thrown away where what is in it harms: garden, stream, septic tank, drain.

    Metals stay in soil for good, acids and lye burn what lives in it, and almost
    nothing from a dye pot belongs in open water. Where no authority sets from how much on a
    house may not pour it away, the amount is this program's own judgement, and its source says so.

    Trips:
        copper-bath: prepare in kettle with water 3 L, copper 4 g
        discard copper-bath to "the garden"
    Cure:
        copper-bath: prepare in kettle with water 3 L, copper 4 g
        discard copper-bath to "the hazardous waste point"
    """
    for moment, contents in _discards(study):
        words = place_said(moment)
        if words is None:
            continue
        found = [
            refused
            for way, word in ways_out(words.text).items()
            for thing, content in contents.items()
            if (refused := _refused(study, moment, thing, content, way, word)) is not None
        ]
        found += _plants_out(study, moment, contents, words.text)
        for alike in _each_reason(found):
            worst = alike[0]
            yield at_node(
                moment.node,
                say(
                    "{bath} goes to “{word}” with {things} in it{way}: {why}.",
                    bath=study.thing(moment.node.bath),
                    word=worst.word,
                    things=listed(called(study, one.thing) for one in alike),
                    way=on_way(contents[worst.thing].path),
                    why=plainly_said(worst.why.why),
                ),
                "Ask where such waste is taken, and name that place.",
                level=worst.level,
                source=worst.why.source,
            )


def _each_reason(found: list[_Refused]) -> list[list[_Refused]]:
    """What may not go there, the things that share a reason together, the gravest first.

    Each thing counts once, for the worst of its reasons; what is only a note is left out where
    there is worse.
    """
    worst: dict[str, _Refused] = {}
    for one in sorted(found, key=lambda one: LEVELS.index(one.level)):
        worst.setdefault(one.thing, one)
    alike: dict[tuple[str, str, str], list[_Refused]] = {}
    for one in worst.values():
        alike.setdefault((one.level, one.word, one.why.why), []).append(one)
    groups = list(alike.values())
    return [group for group in groups if group[0].level != "note" or groups[0][0].level == "note"]


def _plants_out(
    study: Study,
    moment: Moment,
    contents: Mapping[str, Content],
    text: str,
    solids: bool = False,
) -> Iterator[_Refused]:
    """Plants that harm or spread, and that are strained out and thrown where they may not go."""
    plants = {
        thing: content
        for thing, content in contents.items()
        if (_HARM | {"invasive plant"}) & _kinds(study, thing)
    }
    for part in pattern(r"[;.:()]|\bbut\b").split(text.lower()) if plants else ():
        about = solids or pattern(SOLIDS).search(part) or "compost" in part
        if not about or (pattern(NOT).search(part) and not pattern(OUT_OF_REACH).search(part)):
            continue
        for way, word in ways_named(part).items():
            for thing, content in plants.items():
                refused = _refused(study, moment, thing, content, way, word)
                harms = _HARM & _kinds(study, thing)
                if refused is None or (
                    refused.why.what in _HARM - {"deadly plant"}
                    and pattern(OUT_OF_REACH).search(part)
                ):
                    continue
                yield refused._replace(level="error") if harms else refused


_HARM = frozenset(("deadly plant", "toxic plant", "harmful plant"))


@rule("plant-thrown-where-it-harms", level="error", family=FAMILY, source="common practice")
def plant_thrown_where_it_harms(study: Study) -> Iterator[Found]:
    """A spent plant that harms or spreads, emptied out where it may not go.

    What was in the bag still poisons whoever eats it: children, animals, stock. A closed
    heap or bin out of reach takes one that is only poisonous; a deadly one goes to no heap.

    Trips:
        equipment
          bag: net bag, for dyeing only
        steps
          put tansy 100 g in bag
          gold-bath: prepare in kettle with water 3 L
          put bag into gold-bath
          take bag out of gold-bath
          empty bag to "the compost"
          discard gold-bath to "foul drain"
          clean bag
    Cure:
        equipment
          bag: net bag, for dyeing only
        steps
          put tansy 100 g in bag
          gold-bath: prepare in kettle with water 3 L
          put bag into gold-bath
          take bag out of gold-bath
          empty bag to "the closed compost, out of reach of children and animals"
          discard gold-bath to "foul drain"
          clean bag
    """
    soaked: dict[str, dict[str, Content]] = {}
    clings = any(_CLINGS & _kinds(study, thing) for thing in study.flow.materials)
    for moment in study.moments:
        node, words = moment.node, place_said(moment)
        if clings:
            _soak(study, moment, soaked)
        taken_out = node.does.throws_matter_out or node.does.lifts_matter
        if not taken_out or words is None:
            continue
        bag = moment.before.pots.get(node.bag) if node.bag else None
        things = [*(bag.matter if bag is not None else ()), *(thing for thing, _ in node.moved)]
        contents = {thing: Content(None, node.id, "", solid=True) for thing in things}
        found = list(_plants_out(study, moment, contents, words.text, solids=True))
        with_metal = list(_soaked_out(study, moment, things, soaked, words.text))
        yield from with_metal
        found += () if with_metal else _fed(study, moment, contents, words.text)
        for alike in _each_reason(found):
            worst = alike[0]
            yield at_node(
                node,
                say(
                    "{things} {go} to “{word}”: {why}.",
                    things=listed(called(study, one.thing) for one in alike),
                    go="goes" if len(alike) == 1 else "go",
                    word=worst.word,
                    why=plainly_said(worst.why.why),
                ),
                "Ask where such waste is taken, and name that place.",
                level=worst.level,
                source=worst.why.source,
            )


# What stays in plants that lay in it, however little: no drop of it belongs there.
_CLINGS = frozenset(("restricted", "harmful metal"))


def _soak(study: Study, moment: Moment, soaked: dict[str, dict[str, Content]]) -> None:
    """Note what the plants in each bath lie in."""
    for bath in (moment.bath_before, moment.bath_after):
        if bath is None:
            continue
        clings = {
            other: content
            for other, content in bath.contents.items()
            if _CLINGS & _kinds(study, other)
        }
        solid = [thing for thing, content in bath.contents.items() if content.solid]
        bags = moment.after.pots.values() if clings else ()
        solid += [thing for bag in bags if bag.within == moment.node.bath for thing in bag.matter]
        for thing in solid if clings else ():
            soaked.setdefault(thing, {}).update(clings)


def _soaked_out(
    study: Study,
    moment: Moment,
    things: list[str],
    soaked: dict[str, dict[str, Content]],
    text: str,
) -> Iterator[Found]:
    """Plants that lay in what harms, thrown where that may not go: on the compost, to the hens."""
    for way, word in ways_named(text.lower()).items():
        for thing in dict.fromkeys(things):
            for other, content in soaked.get(thing, {}).items():
                refused = _refused(study, moment, other, content, way, word)
                if refused is None or refused.why.what not in _CLINGS:
                    continue
                yield at_node(
                    moment.node,
                    say(
                        "{thing} goes to “{word}” after it lay in {other}: {why}.",
                        thing=called(study, thing),
                        word=word,
                        other=called(study, other),
                        why=plainly_said(refused.why.why),
                    ),
                    "Ask where such waste is taken, and name that place.",
                    level=refused.level,
                    source=refused.why.source,
                )
                return


def _fed(
    study: Study, moment: Moment, contents: Mapping[str, Content], text: str
) -> Iterator[_Refused]:
    """Plants of the dye pot that are given to animals, whatever plants they are."""
    for word in [word for way, word in ways_named(text.lower()).items() if way == "fodder"]:
        for thing, content in contents.items():
            refused = _refused(study, moment, thing, content, "fodder", word)
            if refused is not None and not _HARM & _kinds(study, thing):
                yield refused


@rule("meet-in-the-waste", level="error", family=FAMILY, source="common practice")
def meet_in_the_waste(study: Study) -> Iterator[Found]:
    """Two baths thrown into one bucket or down one drain that give off gas or heat there.

    The second bath meets what is left of the first in the trap, the pipe or the drum. It is told
    however much is rinsed in between: what a trap and a blocked pipe hold back nobody sees, and
    no source was found for an amount of water or a time after which the two are harmless. In one
    bucket it stays an error whatever reason an ``allow`` gives.

    Trips:
        materials
          whitener: household bleach
        steps
          bright-bath: prepare in tub with water 5 L, whitener 50 mL
          sour-bath: prepare in kettle with water 5 L, vinegar 500 mL
          discard bright-bath to "foul drain"
          discard sour-bath to "foul drain"
    Cure:
        bright-bath: prepare in tub with water 5 L, soap 5 g
        sour-bath: prepare in kettle with water 5 L, vinegar 500 mL
        discard bright-bath to "foul drain"
        discard sour-bath to "foul drain"
    """
    # Many baths of a long text hold things of the same sorts and go the same way: whether anything
    # comes of two such is found out once, and what it is for each two of them where it does.
    earlier: dict[_Sorts, dict[_Poured, list[tuple[int, Moment]]]] = {}
    meet: dict[tuple[_Sorts, _Sorts], bool] = {}
    met: dict[tuple[_Poured, _Poured], list[_Met]] = {}
    for number, (moment, contents, place) in enumerate(_poured_away(study)):
        if not _can_meet(study, contents):
            continue
        here = _much(study, contents), place
        sorts = _sorts(study, here)
        found: list[tuple[int, Moment, _Met]] = []
        for others, alike in earlier.items():
            for there, befores in alike.items():
                pair = here, there
                if meet.get((sorts, others), True) and pair not in met:
                    met[pair] = list(_all_met(study, *pair))
                if not meet.setdefault((sorts, others), bool(met.get(pair))):
                    break
                found += [(at, before, one) for at, before in befores for one in met[pair]]
        for _, before, one in sorted(found, key=itemgetter(0)):
            if moment.node.bath != before.node.bath:
                yield _together(study, moment, before, one)
        earlier.setdefault(sorts, {}).setdefault(here, []).append((number, moment))


class _Place(NamedTuple):
    """Where a bath is poured: the ways that its words name, and the vessel that they mean."""

    ways: frozenset[str]
    vessel: frozenset[str]


def _poured_away(study: Study) -> Iterator[tuple[Moment, Mapping[str, Content], _Place]]:
    """Each bath or part of one that goes into a drain or a vessel and is no bath after that."""
    for moment, contents in _discards(study):
        words = place_said(moment)
        if words is not None:
            yield moment, contents, _place(study, moment, words)
    for moment in study.moments:
        node, step = moment.node, moment.step
        if not node.does.draws_off or node.makes or moment.bath_before is None:
            continue
        item = step.into[0] if step.into else step.to
        words = (item.words or item.name) if item is not None else None
        if words is not None:
            yield moment, moment.bath_before.contents, _place(study, moment, words)


def _place(study: Study, moment: Moment, words: Name) -> _Place:
    ways = frozenset(ways_out(words.text))
    pot = moment.node.names.get(words.text, "")
    if pot in study.flow.pots:
        return _Place(ways | {"one vessel"}, frozenset((pot,)))
    return _Place(ways, _vessel(words.text) if "one vessel" in ways else frozenset())


def _vessel(text: str) -> frozenset[str]:
    """The words that tell a vessel from another; none for one that each bath has for itself."""
    words = pattern(r"[\w']+").findall(text.lower())
    if _OWN_VESSEL & set(words):
        return frozenset()
    return frozenset(word.removesuffix("s") for word in words) - _NO_NAME


# “the slop bucket” and “our slop bucket” are one; “a bucket of its own” is another each time.
_NO_NAME = frozenset(
    "the a an our my your this that same in into to for of at on by with and from it".split()
)
# Any bucket for waste, where nothing else tells it from the next.
_FOR_WASTE = frozenset("waste slop spent rubbish used".split())
_OWN_VESSEL = frozenset(
    "own another other second third separate separately different new each".split()
)


def _same_way(one: _Place, other: _Place) -> Iterator[str]:
    """The ways that two baths share; a vessel where the words of one may mean the other's."""
    for way in sorted(one.ways & other.ways):
        a, b = one.vessel, other.vessel
        alike = a <= b or b <= a or a - _FOR_WASTE == b - _FOR_WASTE
        if way != "one vessel" or (a and b and alike):
            yield way


def _can_meet(study: Study, contents: Mapping[str, Content]) -> bool:
    """False for a bath with nothing in it that may not meet some other thing."""
    known = study.once(known_meetings)
    return any(
        thing in known or any(waste.together(entry) for entry in _entries(study, thing))
        for thing in contents
    )


class _Met(NamedTuple):
    """Two things of two baths, and what comes of them; ``firm`` where no rinse comes between."""

    one: str
    other: str
    what: Says
    source: str
    firm: bool


class _Much(NamedTuple):
    """The things in a bath, those of which there is enough to meet in a drain, and of these
    those that are mostly water, so that without it there is too little."""

    all: tuple[str, ...]
    drained: tuple[str, ...]
    weak: frozenset[str]


def _much(study: Study, contents: Mapping[str, Content]) -> _Much:
    least = threshold("drain meeting").value
    enough = [t for t, c in contents.items() if c.grams is None or c.grams[1] >= least]
    weak = [t for t in enough if contents[t].grams and _pure(study, t, contents[t]) < least]
    return _Much(tuple(contents), tuple(enough), frozenset(weak))


# What a bath holds when it is poured away, and where.
_Poured = tuple[_Much, _Place]


# All that tells whether one poured bath can meet another, in whatever names.
_Sorts = tuple[frozenset[tuple[object, ...]], _Place]


def _sorts(study: Study, poured: _Poured) -> _Sorts:
    """Of which sorts the things of a bath are, of which there is enough, and where it goes."""
    much, place = poured
    known = study.once(known_meetings)
    sorts: set[tuple[object, ...]] = set()
    for thing in much.all:
        made = declared(study, thing)
        entries = tuple([(one.table, one.name) for one in _entries(study, thing)])
        roles = frozenset(made.roles) if made is not None else frozenset()
        enough = (thing in much.drained, thing in much.weak)
        sorts.add((entries, roles, known.get(thing), enough))
    return frozenset(sorts), place


def _all_met(study: Study, here: _Poured, there: _Poured) -> Iterator[_Met]:
    """What comes of two baths where both are poured, the first of it for each way they share."""
    (much, place), (others, where) = here, there
    for way in _same_way(place, where):
        for pair in _pairs(much, others, way):
            one = _met(study, *pair)
            if one is not None and not _a_trace_of_acid(study, pair, much, others):
                yield one
                break


def _a_trace_of_acid(study: Study, pair: tuple[str, str, str], much: _Much, others: _Much) -> bool:
    """Whether an acid water of a few grams meets a vat's reducer in a drain: too little for gas.

    With bleach the few grams are enough.
    """
    one, other, way = pair
    roles = [set(made.roles) if (made := declared(study, t)) else set() for t in (one, other)]
    sour = (one, "acid" in roles[0], much, "reducer" in roles[1])
    turned = (other, "acid" in roles[1], others, "reducer" in roles[0])
    return way != "one vessel" and any(
        acid and reducer and thing in held.weak for thing, acid, held, reducer in (sour, turned)
    )


def _pure(study: Study, thing: str, content: Content) -> Fraction:
    """The most grams of a thing itself, without the water that it is sold in."""
    assert content.grams is not None
    made = declared(study, thing)
    strength = made.strength if made is not None else None
    if strength is None or strength.kind != "percent" or strength.high is None:
        return content.grams[1]
    return content.grams[1] * strength.high


def _pairs(here: _Much, there: _Much, way: str) -> Iterator[tuple[str, str, str]]:
    """Each thing of one bath with each of another, where there is enough of both to meet."""
    if way == "one vessel":
        yield from ((one, other, way) for one in here.all for other in there.all)
    elif way in ("drain", "septic tank", "soakaway"):
        yield from ((one, other, way) for one in here.drained for other in there.drained)


def _met(study: Study, one: str, other: str, way: str) -> _Met | None:
    """What comes of two things that go the same way, where it is bad."""
    # A pipe may be rinsed with much water between, as a reason may say; a bucket holds both.
    firm = way == "one vessel"
    for a in _entries(study, one):
        for b in _entries(study, other):
            row = waste.refused_together(a, b, way)
            if row is not None:
                return _Met(one, other, Says(row.why), row.source, firm)
    known = study.once(known_meetings)
    if one in known and other in known:
        worst = worst_of(known[one], known[other])
        if worst is not None and worst.level == "error":
            return _Met(one, other, worst.what, worst.source, firm)
    return None


def _together(study: Study, moment: Moment, before: Moment, met: _Met) -> Found:
    return at_node(
        moment.node,
        say(
            "{bath} goes the way of {other}: {one} and {two} meet there: {what}.",
            bath=study.thing(moment.node.bath),
            other=study.thing(before.node.bath),
            one=called(study, met.one),
            two=called(study, met.other),
            what=met.what,
        ),
        "Take them to different places, or on different days with much water between.",
        related=study.at(before.node.id, "The other goes there here."),
        source=met.source,
        firm=met.firm,
    )


RULES = (no_disposal, wrong_way_out, plant_thrown_where_it_harms, meet_in_the_waste)
