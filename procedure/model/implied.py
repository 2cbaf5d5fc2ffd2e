"""What a step leaves unsaid, where only one thing can be meant: “rinse”, “simmer 1 h”, “add yarn”.

People who dye one lot do not say its name in every line, nor that of the bath that they have just
spoken of. The bath that is meant is that of the step before, else the one that the fibre is in,
else the only one there is; what is put back goes where it came from. The fibre that is meant is
the only lot, or that of the step before where no other lot is where it is. What is supplied is
told in every paper; where several may be meant nothing is supposed, and the step is asked about.
"""

from __future__ import annotations

from functools import lru_cache

from procedure.language import Token
from procedure.model.quantity import Place
from procedure.model.types import FIELD_OF, Item, Name, Procedure, Step
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary import Verb, vocabulary
from procedure.vocabulary.everyday import BATHS_BY_ROLE, readings_of

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any, TypeVar

    _Read = TypeVar("_Read")

_PRONOUNS = frozenset(("it", "them"))
# Fibre goes again into the bath that it came from.
_BACK = frozenset(("put back", "return", "re-enter"))
_WATER = "water"
_OTHER_WORDS = frozenset((*BATHS_BY_ROLE, "both"))
# Where a lot is after a step that may not have been done; a bath that has no name.
_SOMEWHERE = "?"


class Going:
    """Which lots and baths there are, and what was spoken of last, as the steps so far tell it."""

    def __init__(self, made: Procedure) -> None:
        self.made = made
        self._inside: dict[str, str] | None = None
        # The pot of each bath that there is, and the parts that its materials play.
        self.pot_of: dict[str, str] = {}
        self.roles: dict[str, set[str]] = {}
        # The names of what went into each bath.
        self.holds: dict[str, set[str]] = {}
        self.last_bath = ""
        self.last_lots: tuple[str, ...] = ()
        # Whether the step before was done to those lots, and the lots that anything was done to.
        self.handled = False
        self.begun: set[str] = set()
        # The materials that the step before made ready, or the bag that it handled.
        self.last_materials: tuple[str, ...] = ()
        self.bagged = False
        # What is kept in solution for later, and the bath that each lot and each bag was in last.
        self.stocks: set[str] = set()
        self.was_in: dict[str, str] = {}
        # The baths that fibre was in, and whether a line that could not be read made another.
        self.used: set[str] = set()
        self.unread_bath = False
        # How many blocks deep that may not be done; and whether nobody knows what there is.
        self.perhaps = 0
        self.unknown = 0

    @property
    def inside(self) -> dict[str, str]:
        """The bath that each lot is in; empty for none."""
        if self._inside is None:
            self._inside = dict.fromkeys(self.made.lots, "")
            for name, material in self.made.materials.items():
                if "bath" in material.roles:
                    self.pot_of[name] = ""
                    self.roles[name] = {"bath", "dyestuff"}
        return self._inside

    # ------------------------------------------------------------ what is meant

    def bath(self, name: str) -> str:
        """The bath that a name means: its own, or that of the pot which holds it; else empty."""
        if name in self.pot_of or not name:
            return name
        held = [bath for bath, pot in self.pot_of.items() if pot == name]
        return held[0] if len(held) == 1 else ""

    def the_bath(self) -> str:
        """The bath that is meant where none is named; empty where it may be one of several."""
        others = self.pot_of.keys() - self.stocks
        if self.last_bath in self.pot_of:
            # The bath, or what was just dissolved for it?
            return "" if self.last_bath in self.stocks and others else self.last_bath
        if self.last_bath == _SOMEWHERE:
            return ""
        around = set(self.inside.values()) - {""}
        if self.unread_bath and not around:
            return ""
        around = around or others or set(self.pot_of)
        return next(iter(around)) if len(around) == 1 and _SOMEWHERE not in around else ""

    def _a_bath_for_fibre(self) -> str:
        """The bath that fibre goes into where none is named; empty where another waits for it.

        Of two that no fibre was in yet, the iron bath that was just made is not surely the one.
        """
        bath = self.the_bath()
        others = self.pot_of.keys() - self.stocks - self.used - {bath}
        return "" if others and bath not in self.used else bath

    def lots_meant(self, pronoun: bool) -> tuple[str, ...]:
        """The fibre that is meant where none is named."""
        if pronoun and self.last_lots:
            return self.last_lots
        if len(self.inside) == 1:
            return tuple(self.inside)
        return self.last_lots if self.handled and not self._beside(self.last_lots) else ()

    def _beside(self, lots: tuple[str, ...]) -> bool:
        """True where another lot is, or may be, where these are, so that it may be meant too."""
        homes = {self.inside.get(lot, _SOMEWHERE) for lot in lots}
        others = self.begun - set(lots)
        return _SOMEWHERE in homes or any(
            self.inside.get(lot) in (*homes, _SOMEWHERE) for lot in others
        )

    # ------------------------------------------------------------ filling in

    def fill(self, token: Token, said: dict[str, Any]) -> None:
        """Enter what a step is done to, where it says nothing or “it”."""
        if self.unknown or not self.inside:
            return
        self._in_other_words(said)
        objects = said.get("objects", ())
        if objects and self._where_it_goes(token.word, objects, said):
            return
        pronoun = len(objects) == 1 and objects[0].name is not None
        pronoun = pronoun and objects[0].name.text in _PRONOUNS and objects[0].quantity is None
        if objects and not pronoun:
            return
        place = objects[0].place if objects else Place(token.line, token.column, token.to)
        takes = _takes(token.word, said)
        if self.last_materials and (pronoun or _of_plants_too(token.word, takes)):
            if pronoun and takes & {"material", "thing", "bag"}:
                said["objects"] = _items(self.last_materials, place)
            return  # rinse: the plants that were just chopped, or the fibre?
        if pronoun and self.bagged and "bag" in takes and not self.last_lots:
            return  # the fibre, or the bag?
        if not pronoun and not self._may_be_left_out(token.word, takes):
            return
        meant = self._meant(token.word, takes, pronoun, said)
        if meant:
            said["objects"] = _items(meant, place)

    def _where_it_goes(self, word: str, objects: tuple[Item, ...], said: dict[str, Any]) -> bool:
        """Enter the bath of what is named: where it came from, or where it lies and is heated."""
        if said.get("using") or _says_where(said):
            return False
        names = tuple([item.name.text for item in objects if item.name is not None])
        if word in _BACK:
            return self._back(names, objects[0].place, said)
        return self._in_its_bath(word, names, said) or self._of_what_is_in_it(word, objects, said)

    def _back(self, names: tuple[str, ...], place: Place, said: dict[str, Any]) -> bool:
        """“Put yarn back”: into the bath that it came from, where that is still there."""
        things = self.last_lots if _PRONOUNS.issuperset(names) else names
        homes = {self.was_in.get(one, "") for one in things}
        if said.get("on") or len(homes) != 1 or not homes <= self.pot_of.keys():
            return False
        said["objects"] = _items(things, place)
        home = _item(homes.pop(), place)
        if self.inside.keys().isdisjoint(things):
            said["into"] = (home,)  # a bag
        else:
            said["within"] = home
        return True

    def _in_its_bath(self, word: str, names: tuple[str, ...], said: dict[str, Any]) -> bool:
        """“Simmer yarn 1 h” and “leave yarn overnight”, of fibre whose bath is not said."""
        only_there = _only_in_a_bath(word)
        if not (only_there or _steeps(word)) or not names or not self.inside.keys() >= set(names):
            return False
        homes = {self.inside[name] for name in names}
        bath = ""
        if only_there:
            meant = self._a_bath_for_fibre() if homes == {""} else self.the_bath()
            bath = meant if homes <= {"", meant} and meant not in self.stocks else ""
        elif len(homes) == 1:
            bath = next(iter(homes)).replace(_SOMEWHERE, "")
        if bath:
            said["within"] = _item(bath, said_place(said))
        return bool(bath)

    def _of_what_is_in_it(self, word: str, objects: tuple[Item, ...], said: dict[str, Any]) -> bool:
        """“Cook the skins 1 h”, “hold yarn 1 h”: where they are in the bath it is the bath."""
        if not _heats_a_bath(word):
            return False
        names = {item.name.text for item in objects if item.name is not None}
        bath = self.the_bath()
        if not bath:
            return False
        lots = {lot for lot, home in self.inside.items() if home == bath}
        if not names <= self.holds.get(bath, lots) | lots:
            return False
        if any(item.quantity is not None or item.name is None for item in objects):
            return False
        said["objects"] = _items((bath,), objects[0].place)
        return True

    def _may_be_left_out(self, word: str, takes: set[str]) -> bool:
        """True for verbs of fibre or a bath alone, and for what is only taken out or pressed."""
        if not takes & {"material", "thing", "bag"}:
            return True
        own = vocabulary().verbs.get(word)
        if own is not None and not {"material", "thing", "bag"} & set(own.objects):
            return not self.bagged
        return not self.bagged and any(
            one.does.takes_out or one.does.presses or one.does.dries for one in _verbs(word)
        )

    def _meant(
        self, word: str, takes: set[str], pronoun: bool, said: dict[str, Any]
    ) -> tuple[str, ...]:
        """What is meant, by what the verb is done to and where things are."""
        own = vocabulary().verbs.get(word)
        lots = self.lots_meant(pronoun) if "lot" in takes else ()
        bath = self.the_bath() if takes & {"bath", "pot"} else ""
        baths = (bath,) if bath else ()
        if own is not None and "lot" in own.objects:
            return lots
        within = said.get("within")
        placed = within is not None and within.name is not None and within.name.text != _WATER
        if own is not None and (own.does.empties or (own.does.stores and said.get("named"))):
            return ()
        if own is not None and "bath" in own.objects:
            if placed and lots:
                return lots
            return baths or (lots if _lies(word) else ())
        where = {self.inside.get(lot, "") for lot in lots}
        if len(where) == 1 and (home := next(iter(where))) not in ("", _SOMEWHERE):
            if not placed and _steeps(word):
                said["within"] = _item(home, said_place(said))
            return lots
        if any(one.does.empties for one in _verbs(word)):
            # Nothing is thrown away that nobody has named: what drains is the fibre, if any.
            return self.last_lots if "lot" in takes else ()
        taken_out = any(one.does.takes_out for one in _verbs(word))
        return baths or (() if taken_out else lots)

    def complete(self, token: Token, verb: Verb, said: dict[str, Any]) -> None:
        """Enter the bath that fibre or a material goes into, where only one can be meant."""
        does = verb.does
        if not (does.adds or does.puts_fibre_in) or self.unknown or not self.inside:
            return
        clause, field = ("to", "to") if does.adds else ("in", "within")
        needs = [need.split("|") for need in verb.needs]
        missing = next((need for need in needs if clause in need), [])
        where = missing or ([clause] if clause in verb.may else [])
        if not where or any(said.get(_FIELDS[one]) for one in where):
            return
        names = [item.name.text for item in said.get("objects", ()) if item.name is not None]
        bath = self._bath_for(verb, names, said) if token.word not in _BACK else ""
        if bath and (missing or any(self.inside.get(name) for name in names)):
            said[field] = _item(bath, said_place(said))

    def _bath_for(self, verb: Verb, names: list[str], said: dict[str, Any]) -> str:
        """The bath that things go into where none is named; empty where several may be meant."""
        does = verb.does
        if not names or (does.adds and any(self.bath(name) for name in names)):
            return ""  # a bath that is added somewhere is not added to itself
        if does.puts_fibre_in and said.get("using"):
            return ""  # what it brings makes a bath of its own, in a pot that is not said
        fibre = [name for name in names if name in self.inside]
        homes = {self.inside[name] for name in fibre} - {""}
        bath = self._a_bath_for_fibre() if fibre and not homes else self.the_bath()
        if does.unheated and not homes and not self.last_bath:
            return ""  # steeped in what? its bath was not spoken of
        if bath in self.stocks and len(self.pot_of) > 1:
            return ""  # what was dissolved for a bath is mostly not the bath that fibre goes into
        if not homes or does.adds:
            return "" if bath in homes else bath  # it is there: another one is meant
        if len(homes) > 1 or _SOMEWHERE in homes:
            return ""
        home = next(iter(homes))
        return home if not _goes_in(verb) else bath if bath != home else ""

    def _in_other_words(self, said: dict[str, Any]) -> None:
        """“Both” as the two lots there are; “the dye bath” as the one that has a dyestuff in it."""
        objects = said.get("objects", ())
        items = [*objects, *said.get("into", ())]
        items += [said[field] for field in ("within", "to", "source") if field in said]
        if not any(i.name is not None and i.name.text in _OTHER_WORDS for i in items):
            return
        if len(objects) == 1 and _text(objects[0]) == "both" and len(self.inside) == 2:
            said["objects"] = _items(tuple(self.inside), objects[0].place)
        for field in ("within", "to", "source"):
            if field in said:
                said[field] = self._by_its_role(said[field])
        for field in ("objects", "into"):
            if field in said:
                said[field] = tuple([self._by_its_role(item) for item in said[field]])

    def _by_its_role(self, item: Item) -> Item:
        name = item.name
        if name is None or name.text in self.pot_of or name.text in self.made.equipment:
            return item
        role = BATHS_BY_ROLE.get(name.text)
        if role is None or name.text in self.made.materials or name.text in self.inside:
            return item
        known = [bath for bath, roles in self.roles.items() if role in roles]
        known = [bath for bath in known if role == "dyestuff" or "dyestuff" not in self.roles[bath]]
        if len(known) != 1 or known[0] not in self.pot_of:
            return item
        return item._replace(name=name._replace(text=known[0]))

    # ------------------------------------------------------------ following the steps

    def forget(self, first: Token) -> None:
        """A line that could not be read was about something that nobody knows.

        One that begins as the making of a bath does may have made another.
        """
        self._agree(("", (), ()))
        made = any(verb.does.makes_bath for verb in _verbs(first.word))
        self.unread_bath = self.unread_bath or first.kind == "LABEL" or made

    def in_doubt(self, read: Callable[[], _Read], first: bool = False) -> _Read:
        """What is read of steps that may not be done; only what is so in any case stays meant.

        ``first`` is for the first of several ways of one step, of which one is done.
        """
        before = self._spoken_of()
        self.perhaps += 1
        made = read()
        self.perhaps -= 1
        if not first:
            self._agree(before)
        return made

    def _spoken_of(self) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
        return self.last_bath, self.last_lots, self.last_materials

    def _agree(self, other: tuple[str, tuple[str, ...], tuple[str, ...]]) -> None:
        """Forget what was spoken of last, where it is something else in the other case."""
        bath, lots, materials = other
        self.last_bath = bath if self.last_bath == bath else ""
        self.last_lots = lots if self.last_lots == lots else ()
        self.last_materials = materials if self.last_materials == materials else ()
        self.handled = self.handled and bool(self.last_lots)

    def note(self, step: Step) -> None:
        """Keep where things are after a step."""
        if step.verb is None:
            self.unknown += step.kind == "follow"
            return
        does = step.does
        self.bagged = self.bagged or does.bags
        names = tuple([item.name.text for item in step.objects if item.name is not None])
        lots = tuple([name for name in names if name in self.inside])
        self.last_materials = names if does.readies or does.bags else ()
        self.handled = bool(lots)
        self.begun.update(lots)
        if does.bags:
            self._bag(step, names)
        elif does.makes_bath:
            self._made(step)
        elif does.adds:
            self._added(step, names, lots)
        elif does.puts_fibre_in:
            self._put_in(step, lots)
        elif "lot" in step.verb.objects:
            self._out(step, lots)
        elif "bath" in step.verb.objects:
            self._of_a_bath(step, names)

    def _bag(self, step: Step, bags: tuple[str, ...]) -> None:
        """A bag speaks of its bath, though it comes out of it."""
        where = (step.into[0] if step.into else None) or step.within or step.source
        bath = self.bath(where.name.text) if where is not None and where.name is not None else ""
        homes = {self.was_in.get(bag, "") for bag in bags}
        bath = bath or (homes.pop() if len(homes) == 1 else "")
        if step.does.bag_in:
            self.was_in |= dict.fromkeys(bags, bath)
        if bath:
            self.last_bath = bath

    def _made(self, step: Step) -> None:
        within = step.within.name if step.within is not None else None
        pot = within.text if within is not None else ""
        bath = step.label.text if step.label is not None else pot
        if not bath:
            self.last_bath, self.last_lots = _SOMEWHERE, ()  # soaked in nobody knows what
            return
        self.pot_of[bath] = pot
        items = (*step.using, *step.objects)
        self.roles[bath] = self._parts(items)
        self.holds[bath] = {item.name.text for item in items if item.name is not None}
        self.last_bath, self.last_lots = bath, ()
        self.stocks.discard(bath)
        self.used.discard(bath)
        if step.does.prepares:
            brought = (item.name.text for item in step.using if item.name is not None)
            self.was_in |= {one: bath for one in brought if self._is_bag(one)}
        elif not {"dyestuff"} & self.roles[bath]:
            self.stocks.add(bath)

    def _is_bag(self, name: str) -> bool:
        thing = self.made.equipment.get(name)
        return thing is not None and thing.bag

    def _parts(self, items: Any) -> set[str]:
        found: set[str] = set()
        for item in items:
            name = item.name.text if item.name is not None else ""
            if name in self.made.materials:
                found |= set(self.made.materials[name].roles)
            elif name in self.roles:
                found |= self.roles[name]
        return found

    def _added(self, step: Step, names: tuple[str, ...], lots: tuple[str, ...]) -> None:
        to = step.to.name.text if step.to is not None and step.to.name is not None else ""
        bath = self.bath(to)
        if not bath and len(names) == 1 and (moved := self.bath(names[0])):
            self.pot_of[moved] = to  # a whole bath that is poured into an empty pot
            self.last_bath = moved
            return
        self.last_bath, self.last_lots = bath, lots
        if bath:
            self.roles.setdefault(bath, set()).update(self._parts(step.objects))
            self.holds.setdefault(bath, set()).update(set(names) - set(lots))
        for lot in lots:
            self._move(lot, bath)
        for item in step.objects:
            gone = self.bath(item.name.text) if item.name is not None else ""
            if gone and gone != bath and item.quantity is None:
                self._gone(gone)

    def _put_in(self, step: Step, lots: tuple[str, ...]) -> None:
        into = step.within or (step.into[0] if step.into else None) or step.to
        name = into.name.text if into is not None and into.name is not None else ""
        bath = self.bath(name)
        if name and not bath and step.using and name in self.made.equipment:
            bath = step.label.text if step.label is not None else name
            self.pot_of[bath] = name
            self.roles[bath] = self._parts(step.using)
        self.last_bath, self.last_lots = bath, lots
        if bath and lots:
            self.used.add(bath)
        for lot in lots:
            self._move(lot, "" if step.does.fibre_out_after else bath)

    def _out(self, step: Step, lots: tuple[str, ...]) -> None:
        self.last_bath, self.last_lots = "", lots
        inside = self.inside
        for lot in lots:
            if not (step.does.stays_in_its_bath and inside[lot]):
                self._move(lot, "")
        if step.does.splits:
            parts = [item.name.text for item in step.into if item.name is not None]
            self._instead(lots, parts)
        elif step.does.joins:
            joined = step.named or (step.into[0].name if step.into else None)
            self._instead(lots, [joined.text] if joined is not None else [])

    def _instead(self, gone: tuple[str, ...], made: list[str]) -> None:
        for lot in gone if not self.perhaps else ():
            self.inside.pop(lot, None)
        self.inside.update(dict.fromkeys(made, ""))
        self.last_lots = ()

    def _of_a_bath(self, step: Step, names: tuple[str, ...]) -> None:
        bath = self.bath(names[0]) if names else ""
        self.last_bath, self.last_lots = bath, ()
        whole = all(item.quantity is None for item in step.objects)
        does = step.does
        into = step.into[0].name.text if step.into and step.into[0].name is not None else ""
        if bath and (does.empties or does.stores) and whole:
            self._gone(bath)
        elif bath and does.strains and into:
            if other := self.bath(into):
                self.roles.setdefault(other, set()).update(self.roles.get(bath, ()))
                self._gone(bath)
                self.last_bath = other
            else:
                self.pot_of[bath] = into
        elif does.draws_off and step.named is not None:
            self.pot_of[step.named.text] = into
            self.roles[step.named.text] = set(self.roles.get(bath, ()))

    def _move(self, lot: str, bath: str) -> None:
        before = self.inside.get(lot, "")
        if bath:
            self.used.add(bath)
            self.was_in[lot] = bath if not self.perhaps else _SOMEWHERE
        self.inside[lot] = bath if not self.perhaps or before == bath else _SOMEWHERE

    def _gone(self, bath: str) -> None:
        self.last_bath = "" if self.last_bath == bath else self.last_bath
        if self.perhaps:
            return
        self.pot_of.pop(bath, None)
        for lot, home in self.inside.items():
            if home == bath:
                self.inside[lot] = ""


_WHERE = ("within", "into")
_FIELDS = {"to": "to", "in": "within", "into": "into"}


def _says_where(said: dict[str, Any]) -> bool:
    """True where a clause names a bath or a pot, and not a heat."""
    to = said.get("to")
    return bool((to is not None and to.name) or any(said.get(field) for field in _WHERE))


def said_place(said: dict[str, Any]) -> Place:
    """Where a step says what it is done to."""
    objects = said.get("objects", ())
    return objects[0].place if objects else Place(1, 1, 1)


def _text(item: Item | None) -> str:
    return item.name.text if item is not None and item.name is not None else ""


def _item(name: str, place: Place) -> Item:
    return Item(Name(name, place), None, None, None, place)


def _items(names: tuple[str, ...], place: Place) -> tuple[Item, ...]:
    return tuple([_item(name, place) for name in names])


def _verbs(word: str) -> list[Verb]:
    known = vocabulary().verbs
    readings = [known[one.verb] for one in readings_of(word)]
    return [known[word], *readings] if word in known else readings


def _takes(word: str, said: dict[str, Any]) -> set[str]:
    """The kinds of thing that a word, as one verb or another, is done to with these clauses."""
    known = vocabulary().verbs
    own = known.get(word)
    takes = set(own.objects) if own is not None and not own.does.makes_bath else set()
    for one in readings_of(word):
        if known[one.verb].does.makes_bath:
            continue  # a new bath is made of nothing that was there
        asked = {FIELD_OF[clause] for clause in one.having if clause in FIELD_OF}
        there = not asked or any(said.get(field) for field in asked)
        takes |= one.of if there or "material" not in one.of else frozenset()
    return takes


@lru_cache(maxsize=1024)
def _only_in_a_bath(word: str) -> bool:
    """True for a word that, of fibre, says what is done to it in a bath: simmer, cook."""
    own = vocabulary().verbs.get(word)
    readings = [one for one in readings_of(word) if "lot" in one.of]
    return (
        bool(readings)
        and (own is None or "lot" not in own.objects)
        and all("in" in one.having for one in readings)
    )


@lru_cache(maxsize=1024)
def _heats_a_bath(word: str) -> bool:
    """True for a word that may say that a bath is heated, or kept hot."""
    verbs = [one.does for one in _verbs(word) if "bath" in one.objects]
    return any(one.warms or one.keeps_heat for one in verbs)


def _of_plants_too(word: str, takes: set[str]) -> bool:
    """True for what is done to fibre by its word, but to plants as well: rinse, dry, squeeze."""
    if "lot" not in takes:
        return False
    done = [one.does for one in _verbs(word) if "lot" in one.objects]
    return any(one.rinses or one.washes or one.dries or one.presses for one in done)


@lru_cache(maxsize=1024)
def _lies(word: str) -> bool:
    """True for a word that, of fibre in no bath, says that it lies there: cool, rest."""
    return any("lot" in one.of and not one.having for one in readings_of(word))


@lru_cache(maxsize=1024)
def _steeps(word: str) -> bool:
    """True for a word that, of fibre in a bath, says how long it is left there."""
    return any("lot" in one.of and "in" in one.having for one in readings_of(word))


def _goes_in(verb: Verb) -> bool:
    """True for a verb that says no more than that fibre goes in."""
    return verb.does.puts_fibre_in and not (verb.does.says_heat or verb.does.left_standing)
