"""An everyday verb as the plain one that it means here, by what it is done to and its clauses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from procedure.language import Token
from procedure.model.going import Going
from procedure.model.implied import Implied
from procedure.model.quantity import Place, Quantity
from procedure.model.types import FIELD_OF, Block, Item, Name, Procedure, Step
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary import Verb, vocabulary
from procedure.vocabulary.everyday import ANY_BATH, SAID_OF_FIBRE, Reading, readings_of
from procedure.vocabulary.thresholds import threshold

if TYPE_CHECKING:
    from typing import Any

_FIELDS = {**FIELD_OF, "onto": "into", "objects": "objects"}
_NO_KINDS = frozenset(
    (
        "dipped",
        "briefly",
        "inside",
        "heated",
        "worked",
        "part",
        "free",
        "full",
        "unsaid",
        "watered",
        "plain",
    )
)
# What hangs no longer than so many minutes is aired, and does not dry.
_BRIEF = 120
# What may say in other words how far a bath is to cool.
_MAY_SAY_HOW_FAR = ("over", "limits", "note")
_FIRE = r"(?:heat|hob|stove|plate|hotplate|ring|burner|gas|fire)"
_HEAT_OFF = (
    rf"\b(?:{_FIRE}\b.{{0,12}}\boff|off (?:the |its )?{_FIRE}|(?:switch|turn)\w* (?:it )?off)\b"
    r"|^\W*off\W*$"
)
# What is left so has no plate on beneath it.
_ALONE = frozenset(("unattended", "undisturbed"))
# Nor what is left in such a place.
_AWAY = frozenset(("outdoors", "in the shade", "in the sun"))
_SEVERAL = frozenset(("into", "with", "objects"))


def kind_of(made: Procedure, baths: set[str], lots: set[str], name: str) -> str:
    """What a name is: lot, bath, pot, bag, tool, material; empty where nobody knows yet."""
    if name in made.lots or name in lots:
        return "lot"
    pot = made.equipment.get(name)
    if pot is None and made.workshop is not None and name not in baths:
        pot = made.workshop.equipment.get(name)
    if pot is not None:
        return "bag" if pot.bag else "pot" if pot.holds else "tool"
    if name in baths or "." in name:
        return "bath"
    if name in made.materials:
        return "bath" if "bath" in made.materials[name].roles else "material"
    if name == "water" or (made.workshop is not None and name in made.workshop.materials):
        return "material"
    if name in SAID_OF_FIBRE and len(made.lots) > 1:
        return "lot"  # which of them is asked
    return "bath" if name in ANY_BATH else ""


def made_by(body: Sequence[Step | Block]) -> tuple[set[str], set[str]]:
    """The names of baths and of lots that these steps make."""
    baths: set[str] = set()
    lots: set[str] = set()
    for step in body:
        if isinstance(step, Block):
            more = made_by(step.body)
            baths |= more[0]
            lots |= more[1]
        else:
            _enter_made(step, baths, lots)
    return baths, lots


def _enter_made(step: Step, baths: set[str], lots: set[str]) -> None:
    """Enter the baths and lots that one step makes among those."""
    does = step.does
    if step.label is not None and (does.makes_bath or (does.draws_off and step.into)):
        baths.add(step.label.text)
    if step.named is not None:
        (lots if does.joins else baths).add(step.named.text)
    if does.makes_lots:
        lots |= {item.name.text for item in step.into if item.name is not None}


class Known:
    """What the names are so far, for the verbs that are read by them."""

    def __init__(self, made: Procedure) -> None:
        self.made = made
        self.baths: set[str] = set()
        self.lots: set[str] = set()
        self.dipped: set[str] = set()
        # The names that the blocks around a step have for each thing in turn.
        self.turns: frozenset[str] = frozenset()
        self.going = Going(made)
        self.implied = Implied(self.going)

    def is_lot(self, name: str) -> bool:
        """True for a lot that is declared, or parted off so far."""
        return name in self.made.lots or name in self.lots

    def note(self, step: Step) -> None:
        """Keep what a step makes."""
        self.going.note(step)
        _enter_made(step, self.baths, self.lots)
        dips = step.does.dips
        if dips or self.dipped:
            named = {item.name.text for item in step.objects if item.name is not None}
            self.dipped = self.dipped | named if dips else self.dipped - named
        if step.label is not None and step.does.puts_fibre_in:
            self.baths.add(step.label.text)

    def kind(self, item: object) -> str:
        """The kind of what an item names; ``words`` where it is in quotation marks."""
        if isinstance(item, Name):
            return kind_of(self.made, self.baths, self.lots, item.text)
        if not isinstance(item, Item):
            return ""
        if item.words is not None:
            return "words"
        name = item.name.text if item.name is not None else ""
        if not name and item.quantity is not None:
            name = item.quantity.base
        return kind_of(self.made, self.baths, self.lots, name) if name else ""

    def verb(self, token: Token, said: dict[str, object]) -> Verb | None:
        """The verb that a word means with these clauses, which are changed to that verb's own.

        None where the word is a verb only with other clauses, or of other things.
        """
        own = vocabulary().verbs.get(token.word)
        readings = readings_of(token.word)
        for reading in readings:
            if own is not None and (not reading.of or self._is_own(own, reading, said)):
                continue
            if self._fits(reading, said):
                _change(reading, said, token)
                return vocabulary().verbs[reading.verb]
        objects = said.get("objects", ())
        unknown = isinstance(objects, tuple) and not any(self.kind(item) for item in objects)
        if own is not None and unknown and not _suits(own, said):
            for reading in readings:  # keep at the simmer, which is no keeping for later
                if reading.having and self._fits(reading._replace(of=frozenset()), said):
                    return vocabulary().verbs[reading.verb]
        if own is not None or not readings:
            return own
        known = [vocabulary().verbs[reading.verb] for reading in readings]
        if objects and not any(pot.bag for pot in self.made.equipment.values()):
            fibre = [verb for verb in known if verb.does.goes_in]
            of_bags = any(verb.does.bags for verb in known)
            known = fibre if fibre and of_bags else known
        there = {self.kind(one) for one in (said.get("within"), *_several(said.get("into")))}
        if "bath" in there:  # what goes into a bath that there is makes no new one
            fibre = [verb for verb in known if verb.does.puts_fibre_in and not verb.does.makes_bath]
            known = fibre or [verb for verb in known if not verb.does.makes_bath] or known
        return next((verb for verb in reversed(known) if _may_have(verb, said)), known[-1])

    def made_of(self, said: dict[str, object]) -> None:
        """“prepare alum 5 g in pan with water 5 L”: what a bath is made of is with what it is.

        Anything else stays where it is, and is told of.
        """
        objects, using = said.get("objects", ()), said.get("using", ())
        assert isinstance(objects, tuple)
        assert isinstance(using, tuple)
        if objects and all(self.kind(item) in ("material", "bag") for item in objects):
            said["using"], said["objects"] = (*objects, *using), ()

    def _is_own(self, own: Verb, reading: Reading, said: Mapping[str, object]) -> bool:
        """True where a word is a verb of the language for just what it is done to here."""
        objects = said.get("objects", ())
        assert isinstance(objects, tuple)
        kinds = {self.kind(item) for item in objects} - {""}
        return not reading.having and bool(kinds) and kinds <= set(own.objects)

    def _fits(self, reading: Reading, said: Mapping[str, object]) -> bool:
        objects = said.get("objects", ())
        assert isinstance(objects, tuple)
        kinds = {self.kind(item) for item in objects} - {""}
        if reading.of and not (kinds and kinds <= reading.of):
            return False
        asked = {word for word in reading.having if word in _FIELDS}
        if not self._goes_with_before(reading, said):
            return False
        named = reading.having - asked - _NO_KINDS
        limited = "at" in asked and bool(said.get("limits"))  # kept below the boil
        if asked and not limited and not any(said.get(_FIELDS[clause]) for clause in asked):
            return False
        if "part" in reading.having and not self._of_a_part(said, "free" in reading.having):
            return False
        return not named or bool(named & self._kinds_named(said, asked))

    def _of_a_part(self, said: Mapping[str, object], free: bool) -> bool:
        """True where so much of one bath is said to go into a pot that is free, or into a bath."""
        objects = said.get("objects", ())
        assert isinstance(objects, tuple)
        part = objects[0].quantity if len(objects) == 1 else None
        where = next(iter(_several(said.get("into"))), None) or said.get("to")
        name = where.name if isinstance(where, Item) else None
        if part is None or name is None:
            return False
        if self.going.bath(name.text) in self.going.pot_of:
            return not free
        return free and self.kind(where) == "pot"

    def _goes_with_before(self, reading: Reading, said: Mapping[str, object]) -> bool:
        """True where what the step before did, and how long this lasts, are as it asks."""
        if "dipped" in reading.having:
            objects = said.get("objects", ())
            assert isinstance(objects, tuple)
            names = {item.name.text for item in objects if item.name is not None}
            return bool(names) and names <= self.dipped
        if "inside" in reading.having and not self._is_inside(said):
            return False
        if "worked" in reading.having and not (_stays_by_it(said) and self._works(said)):
            return False
        if "heated" in reading.having and not self._works_at_its_heat(said):
            return False
        if "watered" in reading.having:
            return self._makes_a_bath(said)
        if "plain" in reading.having:
            return _water_alone(said)
        if "unsaid" in reading.having:
            return not (_goes_so_far(said) or any(said.get(one) for one in _MAY_SAY_HOW_FAR))
        return "briefly" not in reading.having or _lasts_at_most(said, _BRIEF)

    def _works(self, said: Mapping[str, object]) -> bool:
        """True where a bath with fibre or plants in it is named."""
        baths = self._baths(said)
        return bool(baths) and all(map(self.going.works_in, baths))

    def _works_at_its_heat(self, said: Mapping[str, object]) -> bool:
        """True where a bath was just brought to a heat for the fibre or plants in it."""
        manners = said.get("manners", ())
        assert isinstance(manners, tuple)
        if any(one.text in vocabulary().heats or one.text in _ALONE for one in manners):
            return False
        return _stays_by_it(said) and self._baths(said) == {self.going.heated} and self._works(said)

    def _baths(self, said: Mapping[str, object]) -> set[str]:
        objects = said.get("objects", ())
        assert isinstance(objects, tuple)
        names = {item.name.text for item in objects if item.name is not None}
        within = said.get("within")
        if isinstance(within, Item) and within.name is not None and all(map(self.is_lot, names)):
            names = {within.name.text}  # yarn in the dye bath
        return {bath for name in names if (bath := self.going.bath(name))}

    def _makes_a_bath(self, said: Mapping[str, object]) -> bool:
        """True where water, and what is to be in it, go into a pot that holds no bath."""
        objects = said.get("objects", ())
        assert isinstance(objects, tuple)
        names = {item.name.text for item in objects if item.name is not None}
        places = (said.get("within"), *_several(said.get("into")), said.get("to"))
        where = next((one for one in places if isinstance(one, Item)), None)
        pot = where.name.text if where is not None and where.name is not None else ""
        empty = self.kind(where) == "pot" and not self.going.bath(pot)
        return "water" in names and len(names) > 1 and empty

    def _is_inside(self, said: Mapping[str, object]) -> bool:
        """True where the fibre of a step is in the bath that the step names already."""
        objects, within = said.get("objects", ()), said.get("within")
        assert isinstance(objects, tuple)
        if not isinstance(within, Item) or within.name is None:
            return False
        homes = {
            self.going.inside.get(item.name.text, "") for item in objects if item.name is not None
        }
        bath = self.going.bath(within.name.text)
        return bool(homes) and "" not in homes and (homes == {bath} or within.name.text in ANY_BATH)

    def _kinds_named(self, said: Mapping[str, object], clauses: set[str]) -> set[str]:
        found: set[str] = set()
        for clause in clauses or set(_FIELDS):
            value = said.get(_FIELDS[clause])
            several = isinstance(value, tuple) and not isinstance(value, Name | Item)
            named = list(value) if several and isinstance(value, tuple) else [value]
            found |= {self.kind(one) for one in named}
        return found


def _stays_by_it(said: Mapping[str, object]) -> bool:
    """True where a bath may be kept hot for as long as it is left.

    That is no longer than anybody is beside it, not until the next day, nor off the heat or away.
    """
    manners = said.get("manners", ())
    assert isinstance(manners, tuple)
    where = {one.text for one in manners}
    if "overnight" in where or where & _AWAY or _is_off(said.get("note")):
        return False
    return _lasts_at_most(said, float(threshold("left alone").value))


def _is_off(note: object) -> bool:
    """True for a remark such as “heat off” and “off the heat”; scum is skimmed off."""
    return pattern(_HEAT_OFF).search(str(note or "").lower()) is not None


def _water_alone(said: Mapping[str, object]) -> bool:
    """True where water is brought, and nothing is in it."""
    using = said.get("using", ())
    assert isinstance(using, tuple)
    return bool(using) and all(
        item.name is not None and item.name.text == "water" for item in using
    )


def _lasts_at_most(said: Mapping[str, object], minutes: float) -> bool:
    lasting = said.get("lasting")
    most = lasting.high if isinstance(lasting, Quantity) else None
    return most is not None and most <= minutes


def _several(value: object) -> tuple[object, ...]:
    return value if isinstance(value, tuple) and not isinstance(value, Item | Name) else (value,)


def _may_have(verb: Verb, said: Mapping[str, object]) -> bool:
    """True where a step has each clause that a verb needs, and none that means nothing with it."""
    clauses = [clause for clause, field in FIELD_OF.items() if said.get(field)]
    return _suits(verb, said) and all(clause in verb.may for clause in clauses)


def _suits(verb: Verb, said: Mapping[str, object]) -> bool:
    """True where a step has each clause that a verb needs."""
    return all(any(said.get(_FIELDS[clause]) for clause in need.split("|")) for need in verb.needs)


def _change(reading: Reading, said: dict[str, object], token: Token) -> None:
    for clause, other in reading.moves:
        value = said.get(_FIELDS[clause])
        there = said.get(_FIELDS[other]) if other else None
        both = clause == "objects" and other in _SEVERAL
        if value and there and both:  # put skins in pot with water: both go in
            value = (*_shaped(there, clause, other), *_shaped(value, clause, other))
        elif not value or there:
            continue
        del said[_FIELDS[clause]]
        if other:
            said[_FIELDS[other]] = _shaped(value, clause, other)
            if clause in _SEVERAL and other not in _SEVERAL and (others := _others(value)):
                said[_FIELDS[clause]] = others  # they stay where they are, and are told of
    place = Place(token.line, token.column, token.to)
    if reading.heat and not any(said.get(field) for field in ("at", "to", "until", "source")):
        word = vocabulary().heats[reading.heat]
        heat = Quantity("temperature", word.low, word.high, word.name, place, word=word.name)
        said["at"] = Item(None, heat, None, None, place)
    if reading.goal.startswith('"') and not said.get("to"):
        said["to"] = Item(None, None, Name(reading.goal.strip('"'), place), None, place)
    elif reading.goal and not _goes_so_far(said):
        word = vocabulary().heats[reading.goal]
        cold = Quantity("temperature", word.low, word.high, word.name, place, word=word.name)
        said["to"] = Item(None, cold, None, None, place)
    for manner in reading.manners:
        manners = said.get("manners", ())
        assert isinstance(manners, tuple)
        said["manners"] = (*manners, Name(manner, place))


def _goes_so_far(said: Mapping[str, object]) -> bool:
    """True where a step says to which heat, how long or until when."""
    if any(said.get(field) for field in ("at", "to", "until", "source", "lasting")):
        return True
    manners = said.get("manners", ())
    assert isinstance(manners, tuple)
    return any(one.text in vocabulary().heats for one in manners)


def _others(value: object) -> tuple[Any, ...]:
    """What a clause has beside the first, for which one that holds but one item has no room."""
    return value[1:] if isinstance(value, tuple) and not isinstance(value, Item) else ()


def _shaped(value: object, clause: str, other: str) -> Any:
    """The value of a clause as another clause holds it: one item, or several."""
    if isinstance(value, Name):
        value = Item(value, None, None, None, value.place)
    several = isinstance(value, tuple) and not isinstance(value, Item)
    if other in _SEVERAL:
        return value if several else (value,)
    return value[0] if several and isinstance(value, tuple) else value
