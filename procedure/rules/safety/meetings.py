"""Things that must not meet: in one bath, in a pot not cleaned, in a pot of the wrong metal.

Which they are is in ``meetings.csv``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from procedure.facts.handling import (
    called,
    declared,
    in_bath,
    strength,
)
from procedure.facts.in_words import said
from procedure.facts.study import Study
from procedure.findings import LEVELS, Named, Says, plainly_said, say
from procedure.model.harm import clauses_of, named_pieces, undenied
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.rules.safety.further import own_allow
from procedure.rules.safety.protection import FAMILY
from procedure.trace import BathState, Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import kept_of_tables, rows
from procedure.wording.told import told

Key = tuple[str, str]


class Meeting(NamedTuple):
    """A row of the data file: two things, what comes of it, and what to do instead.

    ``kills`` where that is a gas that kills or an explosion.
    """

    first: Key
    second: Key
    what: Says
    level: str
    remedy: Says
    source: str
    kills: bool = False


@kept_of_tables
def _by_thing() -> dict[Key, tuple[dict[str, str], ...]]:
    """The rows of the data file by each of the two things."""
    found: dict[Key, tuple[dict[str, str], ...]] = {}
    for row in rows("meetings"):
        for key in {(row["first_kind"], row["first"]), (row["second_kind"], row["second"])}:
            found[key] = (*found.get(key, ()), row)
    return found


def _rows_about(key: Key) -> tuple[dict[str, str], ...]:
    """The rows of the data file of which one of the two things is this."""
    return _by_thing().get(key, ())


@lru_cache(maxsize=1024)
def meetings_of(key: Key) -> tuple[Meeting, ...]:
    """The meetings of one thing, which is a kind and a name; none where no row speaks of it."""
    return tuple(
        Meeting(
            (row["first_kind"], row["first"]),
            (row["second_kind"], row["second"]),
            told(row["what"]),
            row["level"],
            told(row["remedy"]),
            row["source"],
            row["kills"] == "yes",
        )
        for row in _rows_about(key)
    )


def _keys(study: Study, thing: str) -> frozenset[Key]:
    """What a material is called in the data file: its name, its parts in the work, its metal."""
    made = declared(study, thing)
    if made is None:
        return frozenset()
    found = {("role", role) for role in made.roles}
    for entry in (made.entry, *made.mixed):
        if entry is None:
            continue
        found.add(("material", entry.name))
        found |= {("role", role) for role in (*entry.words("role"), *entry.words("also"))}
        metal = entry.facts.get("metal", "")
        if metal and entry.table == "mordants":
            found.add(("mordant metal", metal))
    return frozenset(key for key in found if _rows_about(key))


class Hazardous(dict[str, frozenset[Key]]):
    """The materials of a plan that some row speaks of, with what each is called there."""

    def __init__(self, called: Iterable[tuple[str, frozenset[Key]]]) -> None:
        super().__init__(called)
        self._meets: dict[frozenset[Key], frozenset[str]] = {}

    def meets(self, thing: str) -> frozenset[str]:
        """The materials that a thing must not meet: found once, as hundreds may be one thing."""
        ones = self[thing]
        if ones not in self._meets:
            kinds = {others for others in set(self.values()) if worst_of(ones, others)}
            self._meets[ones] = frozenset(t for t, others in self.items() if others in kinds)
        return self._meets[ones]


def known_meetings(study: Study) -> Hazardous:
    """The materials of the plan that some row speaks of."""
    every = ((thing, _keys(study, thing)) for thing in study.flow.materials)
    return Hazardous((thing, keys) for thing, keys in every if keys)


def _rows_of(ones: frozenset[Key], others: frozenset[Key]) -> Iterator[Meeting]:
    for key in sorted(ones):
        for row in meetings_of(key):
            other = row.second if row.first == key else row.first
            if other in others:
                yield row


def _worst(found: list[Meeting]) -> Meeting | None:
    return min(found, key=lambda row: LEVELS.index(row.level), default=None)


@lru_cache(maxsize=4096)
def worst_of(ones: frozenset[Key], others: frozenset[Key]) -> Meeting | None:
    """The worst meeting of two things, by what each is called; None where none is known."""
    return _worst(list(_rows_of(ones, others)))


def _brought(study: Study, moment: Moment) -> dict[str, str]:
    """The materials that a step puts in, by themselves or with another bath; with their way."""
    found: dict[str, str] = {}
    if not moment.node.materials and not moment.node.moved:
        return found
    for thing, _ in (*moment.node.materials, *moment.node.moved):
        bath = moment.before.baths.get(thing)
        if bath is not None and thing in study.flow.baths:
            found.update({inside: content.path for inside, content in bath.contents.items()})
        else:
            found.setdefault(thing, "")
    return found


@rule("must-not-meet", level="error", family=FAMILY, source="common practice")
def must_not_meet(study: Study) -> Iterator[Found]:
    """Two things that give off gas, heat or fire where they meet, or eat the pot.

    Bleach and vinegar, a vat's dithionite and any acid, lye in an aluminium pot,
    water poured into strong acid. It is looked for in each bath, in what a pot has
    held since it was last cleaned, on fibre that is not rinsed, and between bath
    and pot. Some meetings only froth or scum, and are notes.

    Trips:
        materials
          whitener: household bleach, 4 %
        steps
          bright-bath: prepare in tub with water 5 L, whitener 5 mL
          add vinegar 50 mL to bright-bath
          discard bright-bath to "foul drain"
    Cure:
        materials
          whitener: household bleach, 4 %
        steps
          bright-bath: prepare in tub with water 5 L, whitener 5 mL
          discard bright-bath to "foul drain"
          clean tub
          sour-bath: prepare in tub with water 5 L, vinegar 50 mL
          discard sour-bath to "foul drain"
    """
    known = study.once(known_meetings)
    if study.slips("not declared"):
        from procedure.rules.safety.meetings_undeclared import meetings_undeclared

        yield from meetings_undeclared(study, known, worst_of)
    if not known:
        return
    yield from _in_notes(study, known)
    worst: dict[tuple[int, frozenset[Named | Says]], tuple[Moment, Met]] = {}
    for moment in study.moments:
        for met in _at(study, moment, known):
            # Two things meet where one is put in; a pot and what eats it, at every step.
            lasting = met[0].second[0] in ("pot", "fibre class")
            here = own_allow(moment.node, "must-not-meet") if lasting else moment.node.id
            key = here, frozenset((met[1], met[2]))
            if key not in worst or _graver(met, worst[key][1]):
                worst[key] = moment, met
    noted: set[frozenset[Named | Says]] = set()
    for (_, pair), (moment, met) in worst.items():
        # What only froths is told once; what harms at every step, as each is another danger.
        if met[0].level != "note" or pair not in noted:
            noted.add(pair)
            yield _told(study, moment, met)


# How a note says that something is put in: “add vinegar if it smells”, “with a splash of lemon”.
_BRINGS = r"\b(add|adding|pour|tip|splash|mix|put|stir in|sprinkle|with|plus|and|some|then)\b"


def _in_notes(study: Study, known: Hazardous) -> Iterator[Found]:
    """What the note of a step puts to what is there, where that is an error: bleach and vinegar."""
    for one in said(study):
        there = {thing: keys for thing in sorted(one.here) if (keys := known.get(thing))}
        for clause in clauses_of(one.text.lower()) if there and not one.done else ():
            if not (undenied(clause) and pattern(_BRINGS).search(clause)):
                continue
            met = _put_to(clause, there)
            if met is not None:
                row, name, thing = met
                yield Found(
                    one.procedure,
                    one.place,
                    say(
                        "“{words}” puts {name} to {thing}: {what}.",
                        words=clause.strip(),
                        name=name,
                        thing=called(study, thing),
                        what=plainly_said(row.what),
                    ),
                    say("{Remedy}.", remedy=plainly_said(row.remedy)),
                    one.calls,
                    level=row.level,
                    source=row.source,
                    firm=row.kills,
                )
                break


def _put_to(clause: str, there: dict[str, frozenset[Key]]) -> tuple[Meeting, str, str] | None:
    """The first error of something that a clause names with what is there."""
    for piece in named_pieces(clause):
        entry = vocabulary().material(piece)
        if entry is None:
            continue
        keys = frozenset(
            (("material", entry.name), *(("role", role) for role in entry.words("role")))
        )
        for thing, others in there.items():
            row = worst_of(keys, others) if ("material", entry.name) not in others else None
            if row is not None and row.level == "error":
                return row, entry.name, thing
    return None


def _graver(one: Met, other: Met) -> bool:
    return LEVELS.index(one[0].level) < LEVELS.index(other[0].level)


def _told(study: Study, moment: Moment, met: Met) -> Found:
    row, one, other, place, path, node = met
    was = say(" {place}", place=place) if place else Says("")
    return at_node(
        moment.node,
        say(
            "{one} and {other} meet{was}{way}: {what}.",
            one=one,
            other=other,
            was=was,
            way=on_way(path),
            what=plainly_said(row.what),
        ),
        say("{Remedy}.", remedy=plainly_said(row.remedy)),
        level=row.level,
        source=row.source,
        firm=row.kills and not place,  # a pot or fibre may be rinsed, as the reason says
        related=study.at(node, say("{other} comes in here.", other=other)) if node >= 0 else (),
    )


Met = tuple[Meeting, Named, Named | Says, Says | str, str, int]


def _at(study: Study, moment: Moment, known: Hazardous) -> Iterator[Met]:
    brought = {t: path for t, path in _brought(study, moment).items() if t in known}
    bath = moment.bath_after or moment.bath_before
    inside = {t: c for t, c in bath.contents.items() if t in known} if bath is not None else {}
    if not brought and not inside:
        yield from _between_lots(study, moment, known)
        return
    order = [t for t, _ in (*moment.node.materials, *moment.node.moved) if t in brought]
    put_in = set(order)
    order += [t for t in brought if t not in put_in]
    present = set(inside) | set(order)
    last = {thing: number for number, thing in enumerate(order)}
    for number, thing in enumerate(order):
        others: dict[str, None] = {}
        if not known.meets(thing).isdisjoint(present):
            others = dict.fromkeys(t for t in inside if last.get(t, -1) < number)
            others |= dict.fromkeys(order[:number])
        for other in others:
            row = worst_of(known[thing], known[other])
            if row is not None:
                path = brought[thing] or (inside[other].path if other in inside else "")
                node = inside[other].node if other in inside else -1
                node = node if node != moment.node.id else -1
                if _weak_in(study, bath, row, (thing, other)):
                    row = row._replace(level="note")
                yield row, called(study, thing), called(study, other), "", path, node
        yield from _in_residue(study, moment, thing, known, present)
        yield from _on_fibre(study, moment, thing, known)
        yield from _with_fibre(study, moment, thing, known)
    yield from _between_lots(study, moment, known)
    yield from _with_pot(study, moment, known, set(inside) | set(brought))
    yield from _with_new_fibre(study, moment, known, set(inside) - set(brought))
    if moment.entering:
        for thing in inside:
            if thing not in order:
                yield from _on_fibre(study, moment, thing, known)


# How a row ends that counts where the acid is so strong that it bears a label.
_WHERE_STRONG = "where the acid is strong"


def _weak_in(study: Study, bath: BathState | None, row: Meeting, things: tuple[str, str]) -> bool:
    """True where a meeting counts in strong acid alone, and the bath has it too thin for a label.

    Half an ounce of acid in four gallons gives off nothing with salt.
    """
    if bath is None or row.kills or not row.what.template.endswith(_WHERE_STRONG):
        return False
    acids = [
        one for one in things if (made := declared(study, one)) is not None and "acid" in made.roles
    ]
    return bool(acids) and all(
        one in bath.contents and strength(bath, one) is not None and not in_bath(study, bath, one)
        for one in acids
    )


def _pot_of(moment: Moment) -> str:
    bath = moment.bath_after or moment.bath_before
    return bath.pot if bath is not None else moment.node.pot


@lru_cache(maxsize=4096)
def _worst_error(ones: frozenset[Key], others: frozenset[Key]) -> Meeting | None:
    """The first meeting of two things that is an error."""
    return _worst([row for row in _rows_of(ones, others) if row.level == "error"])


def _in_residue(
    study: Study,
    moment: Moment,
    thing: str,
    known: Hazardous,
    now: set[str],
) -> Iterator[Met]:
    """Only what is an error in one bath is spoken of where a trace of it is left.

    How much clings to a pot is not known, so it counts in full; what unrinsed fibre brought
    into a bath is little, and is lighter by a level.
    """
    harmful = known.meets(thing)
    if not harmful:
        return
    bath = moment.bath_before
    residues = [
        (pot, residue)
        for pot in (moment.node.cleaned or (_pot_of(moment),))
        if (state := moment.before.pots.get(pot)) is not None
        for residue in state.residues.values()
    ]
    brought_in = list(bath.fouled.values()) if bath is not None else []
    for pot, residue in (*residues, *(("", one) for one in brought_in)):
        if residue.thing in now or residue.thing not in harmful:
            continue
        row = _worst_error(known[thing], known[residue.thing])
        if row is not None:
            if not pot:
                place = Says("in the bath, where unrinsed fibre brought it")
                weaker = row._replace(level="warning")
            else:
                place = say("in {pot}, which has not been cleaned since", pot=study.thing(pot))
                how = (
                    "rinse {pot} with much water first"
                    if moment.node.cleaned
                    else "clean {pot} first"
                )
                weaker = row._replace(remedy=say(how, pot=study.thing(pot)))
            yield (
                weaker,
                called(study, thing),
                called(study, residue.thing),
                place,
                residue.path,
                residue.node,
            )


_LIGHTER = {"error": "warning", "warning": "note"}


def _gives_off_gas(study: Study, thing: str) -> bool:
    """Whether acid sets a gas free from a thing, as from a sulphide, however alkaline it is."""
    made = declared(study, thing)
    entries = (made.entry, *made.mixed) if made is not None else ()
    return any("EUH03" in entry.facts.get("hazards", "") for entry in entries if entry is not None)


def _neutralises(study: Study, one: str, other: str) -> bool:
    """Whether one is an acid and the other an alkali: what fibre holds of it is little."""
    if _gives_off_gas(study, one) or _gives_off_gas(study, other):
        return False
    roles = [set(made.roles) if (made := declared(study, t)) else set() for t in (one, other)]
    return any("acid" in a and "alkali" in b for a, b in (roles, roles[::-1]))


def _on_fibre(study: Study, moment: Moment, thing: str, known: Hazardous) -> Iterator[Met]:
    """What a lot carries in loose meets what is in the bath or water that it comes into.

    So does what is put in beside a lot that lies there.
    What is no error in one bath, or has had a water since, is lighter by a level; what only
    froths is not told, nor that a little acid takes alkali out of fibre; nor what has met in the
    bath itself.
    """
    harmful = known.meets(thing)
    if not harmful:
        return
    bath = moment.bath_before
    lying = moment.node.present if moment.node.materials or moment.node.moved else ()
    for lot in dict.fromkeys((*moment.node.lots, *moment.entering, *lying)):
        state = moment.before.lots.get(lot)
        for loose in state.carried.values() if state is not None else ():
            if loose.thing == thing or loose.thing not in harmful:
                continue
            if bath is not None and {thing, loose.thing} <= bath.contents.keys():
                continue  # it came out of this bath, where the two have met and were told
            row = worst_of(known[thing], known[loose.thing])
            if row is None or row.level == "note" or _neutralises(study, thing, loose.thing):
                continue
            lighter = row.level == "warning" or bool(loose.rinses)
            row = row._replace(level=_LIGHTER[row.level] if lighter else row.level)
            place = say("on {lot}, which is not rinsed", lot=study.thing(lot))
            yield (
                row._replace(remedy=say("rinse {lot} well first", lot=study.thing(lot))),
                called(study, thing),
                called(study, loose.thing),
                place,
                loose.path,
                loose.node,
            )


def _between_lots(study: Study, moment: Moment, known: Hazardous) -> Iterator[Met]:
    """What lots carry in loose that lie together: in one tub, in one bag, joined to one."""
    lots = dict.fromkeys(moment.node.lots)
    if len(lots) < 2:
        return
    carried = [
        (lot, loose)
        for lot in lots
        if (state := moment.before.lots.get(lot)) is not None
        for loose in state.carried.values()
        if loose.thing in known
    ]
    for number, (lot, loose) in enumerate(carried):
        for other_lot, other in carried[:number]:
            if lot == other_lot or loose.thing == other.thing:
                continue
            row = worst_of(known[loose.thing], known[other.thing])
            if row is None or row.level == "note":
                continue
            if _neutralises(study, loose.thing, other.thing):
                continue
            lighter = row.level == "warning" or bool(loose.rinses and other.rinses)
            yield (
                row._replace(
                    level=_LIGHTER[row.level] if lighter else row.level,
                    remedy=say(
                        "rinse {lot} and {other} apart first",
                        lot=study.thing(lot),
                        other=study.thing(other_lot),
                    ),
                ),
                called(study, loose.thing),
                called(study, other.thing),
                say(
                    "where {lot} and {other} come together unrinsed",
                    lot=study.thing(lot),
                    other=study.thing(other_lot),
                ),
                loose.path or other.path,
                other.node,
            )


def _with_pot(study: Study, moment: Moment, known: Hazardous, things: set[str]) -> Iterator[Met]:
    if not things:
        return
    pot = moment.node.to_pot or _pot_of(moment)
    found = study.flow.pots.get(pot)
    if found is None or found[0].metal is None:
        return
    metal = ("pot", found[0].metal.name)
    if not _rows_about(metal):
        return
    for thing in sorted(things):
        row = worst_of(known[thing], frozenset((metal,)))
        if row is not None:
            yield (
                row,
                called(study, thing),
                say(
                    "the {metal} of {pot}",
                    metal=plainly_said(found[0].metal.name),
                    pot=study.thing(pot),
                ),
                (""),
                "",
                -1,
            )


def _classes(moment: Moment, lot: str) -> frozenset[Key]:
    state = moment.before.lots.get(lot)
    fibres = state.fibres if state is not None else ()
    return frozenset(("fibre class", fibre.facts["class"]) for fibre in fibres)


def _with_fibre(study: Study, moment: Moment, thing: str, known: Hazardous) -> Iterator[Met]:
    for lot in dict.fromkeys((*moment.node.lots, *moment.node.present)):
        row = worst_of(known[thing], _classes(moment, lot))
        if row is not None:
            yield row, called(study, thing), study.thing(lot), "", "", -1


def _with_new_fibre(
    study: Study, moment: Moment, known: Hazardous, inside: set[str]
) -> Iterator[Met]:
    for lot in moment.entering:
        for thing in sorted(inside):
            row = worst_of(known[thing], _classes(moment, lot))
            if row is not None:
                yield row, called(study, thing), study.thing(lot), "", "", -1


RULES = (must_not_meet,)
