"""What a step leaves unsaid, where only one thing can be meant: “rinse”, “simmer 1 h”, “add yarn”.

People who dye one lot do not say its name in every line, nor that of the bath that they have just
spoken of. The bath that is meant is that of the step before, else the one that the fibre is in,
else the only one there is; what is put back goes where it came from. The fibre that is meant is
the only lot, or that of the step before where no other lot is where it is. What is supplied is
told in every paper; where several may be meant nothing is supposed, and the step is asked about.
"""

from __future__ import annotations

from procedure.language import Token
from procedure.model.going import SOMEWHERE, Going
from procedure.model.quantity import Place
from procedure.model.types import FIELD_OF, Item, Lot, Name
from procedure.quantity.kept_answers import remembered
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary import Entry, Verb, vocabulary
from procedure.vocabulary.everyday import ANY_FIBRE, BATHS_BY_ROLE, readings_of, verbs_of

if TYPE_CHECKING:
    from typing import Any

_PRONOUNS = frozenset(("it", "them"))
# Fibre goes again into the bath that it came from.
_BACK = frozenset(("put back", "return", "re-enter"))
_WATER = "water"
# What was strained out of a bath last.
_PLANTS = frozenset(("plants", "plant"))
_OTHER_WORDS = frozenset((*BATHS_BY_ROLE, "both"))
_EVERYTHING = frozenset(("everything", "all"))
# The lots beside those of the step before, with how many they are; 0 where that is not said.
_COUNTS = {said: many for many, said in enumerate(("two", "three", "four", "five", "six"), start=2)}
_OTHERS = {"others": 0, "other": 1, "other one": 1} | {
    f"other {said}": many for said, many in _COUNTS.items()
}


class Implied:
    """What a step leaves unsaid, by how things are going."""

    def __init__(self, going: Going) -> None:
        self.going = going

    def the_bath(self) -> str:
        """The bath that is meant where none is named; empty where it may be one of several."""
        going = self.going
        others = going.pot_of.keys() - going.stocks
        if going.last_bath in going.pot_of:
            # The bath, or what was just dissolved for it?
            return "" if going.last_bath in going.stocks and others else going.last_bath
        if going.last_bath == SOMEWHERE:
            return ""
        around = set(going.inside.values()) - {""}
        if going.unread_bath and not around:
            return ""
        around = around or others or set(going.pot_of)
        return next(iter(around)) if len(around) == 1 and SOMEWHERE not in around else ""

    def _a_bath_for_fibre(self) -> str:
        """The bath that fibre goes into where none is named; empty where another waits for it.

        Of two that no fibre was in yet, the iron bath that was just made is not surely the one.
        """
        bath = self.the_bath()
        others = self.going.pot_of.keys() - self.going.stocks - self.going.used - {bath}
        return "" if others and bath not in self.going.used else bath

    def lots_meant(self, pronoun: bool) -> tuple[str, ...]:
        """The fibre that is meant where none is named."""
        going = self.going
        if pronoun and going.last_lots:
            return going.last_lots
        if len(going.inside) == 1:
            return tuple(going.inside)
        return going.last_lots if going.handled and not self._beside(going.last_lots) else ()

    def _beside(self, lots: tuple[str, ...]) -> bool:
        """True where another lot is, or may be, where these are, so that it may be meant too."""
        homes = {self.going.inside.get(lot, SOMEWHERE) for lot in lots}
        others = self.going.begun - set(lots)
        return SOMEWHERE in homes or any(
            self.going.inside.get(lot) in (*homes, SOMEWHERE) for lot in others
        )

    def fill(self, token: Token, said: dict[str, Any], labelled: bool = False) -> None:
        """Enter what a step is done to, where it says nothing or “it”."""
        if self.going.unknown or not self.going.inside:
            return
        self._in_other_words(token.word, said)
        if labelled and any(one.does.makes_bath for one in verbs_of(token.word)):
            return  # what has a name in front is made here, and of what is said
        objects = said.get("objects", ())
        if objects and self._where_it_goes(token.word, objects, said):
            return
        pronoun = len(objects) == 1 and objects[0].name is not None
        pronoun = pronoun and objects[0].name.text in _PRONOUNS and objects[0].quantity is None
        if objects and not pronoun:
            return
        place = objects[0].place if objects else Place(token.line, token.column, token.to)
        takes = _takes(token.word, said)
        if self.going.last_materials and (pronoun or _of_plants_too(token.word, takes)):
            if pronoun and takes & {"material", "thing", "bag"}:
                said["objects"] = _items(self.going.last_materials, place)
            return  # rinse: the plants that were just chopped, or the fibre?
        if pronoun and self.going.bagged and "bag" in takes and not self.going.last_lots:
            return  # the fibre, or the bag?
        if not pronoun and not self._may_be_left_out(token.word, takes):
            return
        meant = self._meant(token.word, takes, pronoun, said)
        if meant:
            said["objects"] = _items(meant, place)

    def _where_it_goes(self, word: str, objects: tuple[Item, ...], said: dict[str, Any]) -> bool:
        """Enter the bath of what is named: where it came from, or where it lies and is heated."""
        if _strains(word) and not said.get("source"):
            return self._of_what_is_in_it(objects, said)
        if said.get("using") or _says_where(said):
            return False
        names = tuple([item.name.text for item in objects if item.name is not None])
        if len(names) < len(objects):  # one skein: some of the fibre, which a rule asks about
            homes = {self.going.was_in.get(lot, "") for lot in self.going.last_lots} - {""}
            if word in _BACK and len(homes) == 1:
                said["within"] = _item(homes.pop(), objects[0].place)
            return False
        if word in _BACK:
            return self._back(names, objects[0].place, said)
        heats = _heats_a_bath(word)
        return self._in_its_bath(word, names, said) or (
            heats and self._of_what_is_in_it(objects, said)
        )

    def _back(self, names: tuple[str, ...], place: Place, said: dict[str, Any]) -> bool:
        """“Put yarn back”: into the bath that it came from, where that is still there."""
        things = self.going.last_lots if _PRONOUNS.issuperset(names) else names
        homes = {self.going.was_in.get(one, "") for one in things}
        if said.get("on") or len(homes) != 1 or not homes <= self.going.pot_of.keys():
            return False
        said["objects"] = _items(things, place)
        home = _item(homes.pop(), place)
        if self.going.inside.keys().isdisjoint(things):
            said["into"] = (home,)  # a bag
        else:
            said["within"] = home
        return True

    def _in_its_bath(self, word: str, names: tuple[str, ...], said: dict[str, Any]) -> bool:
        """“Simmer yarn 1 h” and “leave yarn overnight”, of fibre whose bath is not said."""
        only_there = _only_in_a_bath(word)
        if (
            not (only_there or _steeps(word))
            or not names
            or not self.going.inside.keys() >= set(names)
        ):
            return False
        homes = {self.going.inside[name] for name in names}
        bath = ""
        if only_there:
            meant = self._a_bath_for_fibre() if homes == {""} else self.the_bath()
            bath = meant if homes <= {"", meant} and meant not in self.going.stocks else ""
        elif len(homes) == 1:
            bath = next(iter(homes)).replace(SOMEWHERE, "")
        if bath:
            said["within"] = _item(bath, said_place(said))
        return bool(bath)

    def _of_what_is_in_it(self, objects: tuple[Item, ...], said: dict[str, Any]) -> bool:
        """“Cook the skins 1 h”, “hold yarn 1 h”: where they are in the bath it is the bath."""
        names = {item.name.text for item in objects if item.name is not None}
        bath = self.the_bath()
        if not bath:
            return False
        held, inside = self.going.holds.get(bath, ()), self.going.inside
        if not all(inside.get(name) == bath or name in held for name in names):
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
            return not self.going.bagged
        return not self.going.bagged and any(
            one.does.takes_out or one.does.presses or one.does.dries for one in verbs_of(word)
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
            drawn = bath and _leaves_a_bath(word) and self._draws(bath, lots, pronoun, said)
            return baths if drawn else lots
        within = said.get("within")
        placed = within is not None and within.name is not None and within.name.text != _WATER
        if own is not None and (own.does.empties or (own.does.stores and said.get("named"))):
            return ()
        if own is not None and "bath" in own.objects:
            out = self.going.handled and not any(self.going.inside.get(lot) for lot in lots)
            if lots and (placed or (out and _lies(word) and not said.get("to"))):
                return lots  # take out yarn, cool
            # Fibre that the step before has not spoken of does not stand or cool; nor is it “it”.
            return baths or (lots if _lies(word) and self.going.handled else ())
        if pronoun and own is not None and own.does.adds and self.going.handled:
            return self.going.last_lots  # squeeze yarn and add it to the bath
        where = {self.going.inside.get(lot, "") for lot in lots}
        if len(where) == 1 and (home := next(iter(where))) not in ("", SOMEWHERE):
            if not placed and _steeps(word):
                said["within"] = _item(home, said_place(said))
            return lots
        if any(one.does.empties for one in verbs_of(word)):
            # Nothing is thrown away that nobody has named: what drains is the fibre, if any.
            return self.going.last_lots if "lot" in takes else ()
        if any(one.does.takes_out for one in verbs_of(word)):
            return ()  # remove: the fibre, which is in no bath, and never so much of the bath
        return baths or lots

    def _draws(self, bath: str, lots: tuple[str, ...], pronoun: bool, said: dict[str, Any]) -> bool:
        """“Boil 4 L water, add tea, let it steep”: the bath that was just spoken of is meant.

        The fibre is meant where it is in that bath, or spoken of, or a bath of plants waits for it.
        """
        going = self.going
        if going.last_lots or bath != going.last_bath or any(said.get(one) for one in _WHERE):
            return False
        if any(going.inside.get(lot) == bath for lot in lots):
            return False
        return (pronoun or bath in going.pot_of) and going.works_in(bath)

    def complete(self, token: Token, verb: Verb, said: dict[str, Any]) -> None:
        """Enter the bath that fibre or a material goes into, where only one can be meant."""
        does = verb.does
        out = does.lifts_matter or does.throws_matter_out
        if out and "from" in verb.may and not said.get("source"):
            self._out_of_its_bath(said)
        if not (does.adds or does.puts_fibre_in) or self.going.unknown or not self.going.inside:
            return
        clause, field = ("to", "to") if does.adds else ("in", "within")
        needs = [need.split("|") for need in verb.needs]
        missing = next((need for need in needs if clause in need), [])
        where = missing or ([clause] if clause in verb.may else [])
        if not where or any(said.get(_FIELDS[one]) for one in where):
            return
        names = [item.name.text for item in said.get("objects", ()) if item.name is not None]
        bath = self._bath_for(verb, names, said) if token.word not in _BACK else ""
        if bath and (missing or any(self.going.inside.get(name) for name in names)):
            said[field] = _item(bath, said_place(said))

    def _out_of_its_bath(self, said: dict[str, Any]) -> None:
        """“Take the skins out”: of the only bath that they are in."""
        objects = said.get("objects", ())
        names = {item.name.text for item in objects if item.name is not None}
        holding = [bath for bath, held in self.going.holds.items() if names <= held]
        there = [bath for bath in holding if bath in self.going.pot_of]
        if names and len(there) == 1 and not self.going.unknown:
            said["source"] = _item(there[0], objects[0].place)

    def _bath_for(self, verb: Verb, names: list[str], said: dict[str, Any]) -> str:
        """The bath that things go into where none is named; empty where several may be meant."""
        does = verb.does
        if not names or (does.adds and any(self.going.bath(name) for name in names)):
            return ""  # a bath that is added somewhere is not added to itself
        if does.puts_fibre_in and said.get("using"):
            return ""  # what it brings makes a bath of its own, in a pot that is not said
        fibre = [name for name in names if name in self.going.inside]
        homes = {self.going.inside[name] for name in fibre} - {""}
        bath = self._a_bath_for_fibre() if fibre and not homes else self.the_bath()
        if does.unheated and not homes and not self.going.last_bath:
            return ""  # steeped in what? its bath was not spoken of
        if bath in self.going.stocks and len(self.going.pot_of) > 1:
            return ""  # what was dissolved for a bath is mostly not the bath that fibre goes into
        if not homes or does.adds:
            return "" if bath in homes else bath  # it is there: another one is meant
        if len(homes) > 1 or SOMEWHERE in homes:
            return ""
        home = next(iter(homes))
        return (
            home
            if not verb.does.goes_in or verb.does.stays_in_its_bath
            else bath
            if bath != home
            else ""
        )

    def _in_other_words(self, word: str, said: dict[str, Any]) -> None:
        """“Both” as the two lots there are; “the dye bath” as the one that has a dyestuff in it."""
        objects = said.get("objects", ())
        if len(objects) == 1 and _text(objects[0]) in _PLANTS and self.going.strained:
            said["objects"] = _items(self.going.strained, objects[0].place)
            return
        if len(objects) == 1 and (every := self._several(word, objects[0])):
            said["objects"] = _items(every, objects[0].place)
            objects = said["objects"]
        items = [*objects, *said.get("into", ())]
        items += [said[field] for field in ("within", "to", "source") if field in said]
        if not any(i.name is not None and i.name.text in _OTHER_WORDS for i in items):
            return
        if len(objects) == 1 and _text(objects[0]) == "both" and len(self.going.inside) == 2:
            said["objects"] = _items(tuple(self.going.inside), objects[0].place)
        for field in ("within", "to", "source"):
            if field in said:
                said[field] = self._by_its_role(said[field])
        for field in ("objects", "into"):
            if field in said:
                said[field] = tuple([self._by_its_role(item) for item in said[field]])

    def _several(self, word: str, item: Item) -> tuple[str, ...]:
        """The lots that are meant by “all lots”, “the other two”, or “the fibre” of several."""
        said = _text(item)
        if said in self.going.inside:
            return ()  # a lot that is called “two”
        if said.split(" ")[-1:] == ["lots"] or said in _COUNTS:  # all three, three lots
            many = next((_COUNTS[one] for one in said.split(" ") if one in _COUNTS), None)
            if many is not None:
                return tuple(self.going.inside) if len(self.going.inside) == many else ()
        if item.quantity is not None:
            return ()
        before, _, sort = said.partition("all ")
        if sort and not before:
            return self.of_a_sort(sort)
        if self.going.made.declared(said) is not None:
            return ()
        return self._others(item) or self._the_fibre(word, said)

    def of_a_sort(self, sort: str) -> tuple[str, ...]:
        """The lots that are called so: by any fibre, by their form or by what they are of.

        None where a lot may be meant or not: the skeins where there is cloth as well, the wool
        where one is of nobody knows what.
        """
        if sort in ANY_FIBRE:
            return tuple(self.going.inside)
        form, fibre = vocabulary().find(sort, "form"), vocabulary().find(sort, "fibres")
        found = []
        for lot in self.going.inside:
            of = [self.going.made.lots[one] for one in self.going.declared_of(lot)]
            if not of:
                return ()
            if fibre is not None:
                kinds = {one.name for declared in of for one in declared.fibres}
                if fibre.name in kinds and len(kinds) == 1:
                    found.append(lot)
                elif not kinds or fibre.name in kinds or _like(fibre, of):
                    return ()
            elif form is None or any(
                (own := _form(one.words)) is not None and own.name != form.name for one in of
            ):
                return ()
            else:
                found.append(lot)
        return tuple(found)

    def _the_fibre(self, word: str, sort: str) -> tuple[str, ...]:
        """“Lift the fibre”, “mordant the wool”, where that is several lots and all of them.

        They are together, and no other lots were spoken of in the step before. What comes out is
        what is in a bath. “Everything” is the fibre where a word is of fibre alone.
        """
        out = any(one.does.takes_out for one in verbs_of(word))
        inside = self.going.inside
        if sort not in _EVERYTHING:
            lots = self.of_a_sort(sort)
        elif _takes(word, {}) == {"lot"} or (out and not self._plants_about()):
            lots = tuple(inside)
        else:
            return ()
        if out:
            lots = tuple([lot for lot in lots if inside[lot]])
        homes = {inside[lot] for lot in lots}
        if len(lots) < 2 or len(homes) != 1 or SOMEWHERE in homes:
            return ()
        return lots if set(self.going.last_lots) in (set(), set(lots)) else ()

    def _plants_about(self) -> bool:
        """True where plants lie in a bath, loose or in a bag: they may be meant as well."""
        known = self.going.made.materials
        held = [known[one] for of in self.going.holds.values() for one in of if one in known]
        parts = {part for one in held for part in one.roles}
        return self.going.bagged or not parts.isdisjoint(("dyestuff", "tannin"))

    def _others(self, item: Item) -> tuple[str, ...]:
        """“The other two”: the lots beside those of the step before, where they are together."""
        going, (said, _, _) = self.going, _text(item).partition(" skein")
        halves = said == "other half"
        many = 1 if halves else _OTHERS.get(said)
        if many is None or item.quantity is not None or not going.last_lots:
            return ()
        lots = tuple([lot for lot in going.inside if lot not in going.last_lots])
        if halves:
            whole = {going.made_of.get(lot) for lot in going.last_lots}
            lots = tuple([lot for lot in lots if whole == {going.made_of.get(lot, ())}])
        elif said != _text(item):
            lots = tuple([lot for lot in lots if self._is_yarn(lot)])
            if not all(map(self._is_yarn, going.last_lots)):
                return ()  # the skein beside a cloth
        together = len({going.inside[lot] for lot in lots}) == 1
        return lots if len(lots) == many or (many == 0 and together) else ()

    def _is_yarn(self, lot: str) -> bool:
        """True for a lot that is of skeins, as far as it is declared."""
        of = [self.going.made.lots[one] for one in self.going.declared_of(lot)]
        return bool(of) and all(
            ((form := _form(one.words)) is not None and form.name == "yarn")
            or (
                one.pieces is not None
                and one.pieces.unit is not None
                and one.pieces.unit.name == "skein"
            )
            for one in of
        )

    def _by_its_role(self, item: Item) -> Item:
        name = item.name
        if name is None or name.text in self.going.pot_of or name.text in self.going.made.equipment:
            return item
        role = BATHS_BY_ROLE.get(name.text)
        if role is None or name.text in self.going.made.materials or name.text in self.going.inside:
            return item
        known = [bath for bath, roles in self.going.roles.items() if role in roles]
        coloured = role in ("dyestuff", "reducer")
        known = [one for one in known if coloured or "dyestuff" not in self.going.roles[one]]
        if not known and role == "dyestuff" and len(self.going.pot_of) == 1:
            # Of plants of which nobody says what they are; no mordant bath is a dye bath.
            known = [bath for bath in self.going.pot_of if self._holds_what_nobody_knows(bath)]
        if len(known) != 1 or known[0] not in self.going.pot_of:
            return item
        return item._replace(name=name._replace(text=known[0]))

    def _holds_what_nobody_knows(self, bath: str) -> bool:
        known = self.going.made.materials
        held = self.going.holds.get(bath, set()) - {_WATER}
        return any(one not in known or not known[one].roles for one in held)


_WHERE = ("within", "into")
_FIELDS = {"to": "to", "in": "within", "into": "into"}


def _says_where(said: dict[str, Any]) -> bool:
    """True where a clause names a bath or a pot, and not a heat."""
    to = said.get("to")
    return bool((to is not None and to.name) or any(said.get(field) for field in _WHERE))


def _like(fibre: Entry, lots: list[Lot]) -> bool:
    """True where what a lot is of is called by the fibre's name too, as merino is a wool."""
    called = [f"{one.name} {one.facts['aliases']}" for lot in lots for one in lot.fibres]
    return any(fibre.name in one.replace(";", " ").split() for one in called)


def _form(words: tuple[str, ...]) -> Entry | None:
    found = [vocabulary().find(word, "form") for word in words]
    return next((one for one in found if one is not None), None)


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


@remembered(1024)
def _only_in_a_bath(word: str) -> bool:
    """True for a word that, of fibre, says what is done to it in a bath: simmer, cook."""
    own = vocabulary().verbs.get(word)
    readings = [one for one in readings_of(word) if "lot" in one.of]
    return (
        bool(readings)
        and (own is None or "lot" not in own.objects)
        and all("in" in one.having or "inside" in one.having for one in readings)
    )


@remembered(1024)
def _heats_a_bath(word: str) -> bool:
    """True for a word that may say that a bath is heated, or kept hot."""
    verbs = [one.does for one in verbs_of(word) if "bath" in one.objects]
    return any(one.warms or one.keeps_heat for one in verbs)


def _of_plants_too(word: str, takes: set[str]) -> bool:
    """True for what is done to fibre by its word, but to plants as well: rinse, dry, squeeze."""
    if "lot" not in takes:
        return False
    done = [one.does for one in verbs_of(word) if "lot" in one.objects]
    return any(one.rinses or one.washes or one.dries or one.presses for one in done)


@remembered(1024)
def _strains(word: str) -> bool:
    """True for a word that says of a bath, and of nothing else, that its solids come out."""
    own = vocabulary().verbs.get(word)
    return own is not None and own.does.strains


@remembered(1024)
def _leaves_a_bath(word: str) -> bool:
    """True for a word that, of a bath, says that it stands or is kept hot: steep, cook."""
    known = vocabulary().verbs
    return any("bath" in one.of and not known[one.verb].does.strains for one in readings_of(word))


@remembered(1024)
def _lies(word: str) -> bool:
    """True for a word that, of fibre in no bath, says that it lies there: cool, rest."""
    return any("lot" in one.of and not one.having for one in readings_of(word))


@remembered(1024)
def _steeps(word: str) -> bool:
    """True for a word that, of fibre in a bath, says how long it is left there."""
    known = vocabulary().verbs
    left = [one.verb for one in readings_of(word) if "lot" in one.of and "in" in one.having]
    return any(not (known[verb].does.goes_in or known[verb].does.adds) for verb in left)
